"""A mold's pages of parts and its list to tick say what is there, and nothing that is not."""

from msgspec.structs import replace

from export.flowing import Paper
from export.marks import Words
from export.mold_parts import facts_of, parts_pages
from export.mold_ticks import Tick, mold_ticks, own_height
from geometry.insets import Insert, Inset
from geometry.openings import AlongLeg
from shop import edits, plan
from shop.inset_words import making_words
from shop.insets import insets_of
from shop.job import Job
from shop.samples import sample_names
from shop.stock_list import SheetGoods
from tests.export.jobs import on_base, sample
from tests.shop.kitchens import after, straight


def told(job: Job, piece: str) -> dict[str, str]:
    return dict(facts_of(job, plan.mold(job, piece)))


def ticks(job: Job, piece: str) -> tuple[Tick, ...]:
    return mold_ticks(job, plan.mold(job, piece))


def about(found: tuple[Tick, ...], what: str) -> list[Tick]:
    return [tick for tick in found if tick.about == what]


def test_the_list_has_every_edge_and_diagonal_of_every_mold() -> None:
    for name in sample_names():
        job = sample(name)
        for mold in plan.molds(job):
            found = mold_ticks(job, mold)
            assert len(about(found, "Edges of the base")) == len(mold.strips)
            assert len(about(found, "Diagonals")) == len(mold.diagonals)
            assert about(found, "Sidewalls")[0].what == "above the base, all round"
            assert any(tick.what == mold.handedness for tick in found)


def test_bending_stock_of_its_own_is_told_where_strips_are_bent() -> None:
    job = sample("round-island")
    thin = replace(job, molds=replace(job.molds, bend_thickness=0.25))
    assert "1/4 where strips are bent" in told(thin, "A")["sidewall stock"]
    assert "bent" not in told(thin, "B")["sidewall stock"]
    assert "bent" not in told(job, "A")["sidewall stock"]


def test_a_base_that_sidewalls_stand_on_is_larger_and_its_edges_are_drawn_on_it() -> None:
    job = sample("galley")
    assert "cut by its edges and diagonals" in told(job, "A")["base"]
    wide = told(on_base("galley"), "A")["base"]
    assert "its edges and diagonals are drawn on it, 2 3/4 in from its own all round" in wide


def test_the_height_to_tape_is_the_slab_s() -> None:
    job = replace(sample("galley"), thickness=1.5)
    assert about(ticks(job, "A"), "Sidewalls")[0].value == "1 1/2"


def test_a_piece_that_is_made_says_that_its_mold_stays() -> None:
    job = sample("galley")
    assert "state" not in told(job, "A")
    cast = after(job, edits.MarkPiece("A", "cast"))
    assert told(cast, "A")["state"] == "Piece A is cast: its mold stays as it was."


def test_a_mold_without_bead_setting_or_turning_says_nothing_of_them() -> None:
    job = sample("galley")
    mold = plan.mold(job, "A")
    bare = replace(
        mold,
        turning=None,
        strips=tuple(replace(strip, bead_radius_in=None) for strip in mold.strips),
        uprights_length_in=0.0,
        knockouts=tuple(replace(knockout, setting=None) for knockout in mold.knockouts),
    )
    found = mold_ticks(job, bare)
    assert [tick.what for tick in about(found, "Silicone bead")] == ["around the knockouts"]
    assert about(found, "Knockout: sink")[0].what.endswith(" high")
    assert "turning over" not in dict(facts_of(job, bare))
    assert "turning over" in told(job, "A")


def test_a_base_of_panels_names_them_and_their_battens() -> None:
    job = sample("round-island")
    assert "over all; melamine face up" in told(job, "A")["base"]
    assert "batten" not in told(job, "A")["base"]
    small = replace(job, stock=replace(job.stock, board=SheetGoods(length=60.0, width=48.0)))
    assert "under each joint a batten 3 1/2 wide, " in told(small, "A")["base"]


def test_backing_blocks_of_a_bent_sidewall_are_counted() -> None:
    job = sample("round-island")
    mold = plan.mold(job, "A")
    bent = next(strip for strip in mold.strips if strip.blocks)
    (tick,) = (t for t in ticks(job, "A") if t.what == f"{bent.name}: backing blocks")
    assert tick.value == str(len(bent.blocks))


def test_a_counterbore_s_block_makes_up_the_slab_with_what_it_lies_on() -> None:
    job = sample("round-island")
    mold = plan.mold(job, "A")
    faucet = next(knockout for knockout in mold.knockouts if knockout.counterbore)
    assert faucet.counterbore is not None
    assert own_height(faucet) + faucet.counterbore.depth_in == job.thickness
    values = {t.what: t.value for t in about(ticks(job, "A"), f"Knockout: {faucet.name}")}
    assert values["pipe high"] == "1 1/2"
    assert values["block of the counterbore, on top: high"] == "1/2"


def test_finishes_other_than_a_bead_are_ticked() -> None:
    job = sample("galley")
    mold = plan.mold(job, "A")
    front = next(s for s in mold.strips if s.edge_name.startswith("front"))
    square = after(job, edits.FinishEdge(front.tag.ref, "square"))  # type: ignore[arg-type]
    (tick,) = about(ticks(square, "A"), "Finish of edges")
    assert tick.what.startswith("Left square: front")
    assert told(square, "A")["finish"] == tick.what
    assert not about(ticks(job, "A"), "Finish of edges")


def words(job: Job, piece: str) -> list[str]:
    pages = parts_pages(job, plan.mold(job, piece), Paper(0.5, 8.0, 10.0, 0.85))
    marks = [mark for views in pages for view in views for mark in view.sheet.marks]
    return [mark.text for mark in marks if isinstance(mark, Words)]


def test_a_rigid_knockout_says_how_much_wider_it_is_above() -> None:
    job = sample("galley")
    rigid = replace(job, openings=tuple(replace(o, fill="rigid") for o in job.openings))
    said = " ".join(words(rigid, "A"))
    assert "rigid, 2, wider by" in said
    assert "each side at the underside" in said.replace("  ", " ")
    assert "wider by" not in " ".join(words(job, "A"))


def test_pages_are_as_few_as_the_order_allows_and_nothing_stands_in_the_foot() -> None:
    for name in sample_names():
        job = sample(name)
        for mold in plan.molds(job):
            pages = parts_pages(job, mold, Paper(0.5, 8.0, 10.0, 0.85))
            assert len(pages) <= 3
            sheets = [view.sheet for views in pages for view in views if view.sheet.name == "parts"]
            low = [m.at[1] for s in sheets for m in s.marks if isinstance(m, Words)]
            assert min(low) >= 0.85


def test_what_is_set_in_is_ticked_as_it_is_made() -> None:
    clip = Inset("inset901", "clip", Insert(), AlongLeg("leg201", 80.0, 5.0))
    job = after(straight(), edits.AddInset(clip))
    found = {inset.inset.name: making_words(job, inset) for inset in insets_of(job, "A")}
    assert found
    ticked = [tick.what for tick in about(ticks(job, "A"), "Set in, not through")]
    assert ticked == [f"{name}: {made}" for name, made in found.items()]
    assert not about(ticks(sample("galley"), "A"), "Set in, not through")
