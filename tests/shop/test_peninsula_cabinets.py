"""Cabinets, posts and brackets along peninsulas: where they stand, and what they hold up."""

import pytest
from msgspec.structs import replace

from geometry.alongside import Ledge
from geometry.counters import Peninsula
from geometry.naming import EdgeRef, Id
from geometry.openings import AlongLeg, Opening, OverMiddle, RectangleShape
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.anchors import centers
from shop.applying import applied
from shop.cabinet_lines import cabinet_line, row_line
from shop.cabinets import (
    cabinet_plans,
    cabinet_words,
    cabinets_on,
    clashes,
    corner_taken,
    end_words,
    lined_up,
    overruns,
    spaces,
    usual_depth,
)
from shop.describing import described
from shop.far_sides import FREE, STANDS_OUT
from shop.findings import Finding, findings
from shop.job import Cabinet, Corner, Job, Room, Wall
from shop.jobfile import JobFileError, decoded, encoded
from shop.legs import lone_peninsula, peninsula
from shop.mirrored_runs import Way, has_cabinets, run_on_wall
from shop.plan import tops
from shop.references import legs_of
from shop.remedies import remedies
from shop.seam_candidates import candidates
from shop.spreading_cabinets import cabinets_spread_out
from shop.supports import under, unsupported_spans
from tests.shop.kitchens import after
from tests.shop.test_legs import ARM, bare, with_peninsula

FAR = row_line(ARM, "far")


def stand(
    number: int,
    along: float,
    width: float = 18.0,
    use: str = "base",
    side: str = "front",
    **more: object,
) -> Cabinet:
    """A cabinet along the peninsula, so far from the wall."""
    hook = "left" if side == "front" else "right"
    made = Cabinet(f"cabinet{number}", ARM, "base", along, width, hook="left")
    return replace(made, use=use, side=side, hook=hook, **more)


def standing(job: Job, *cabinets: Cabinet) -> Job:
    return after(job, *map(edits.AddCabinet, cabinets))


def said(job: Job, code: str) -> list[Finding]:
    return [found for found in findings(job) if found.code == code]


def test_both_rows_stand_back_to_back_on_the_peninsulas_line() -> None:
    job = standing(
        with_peninsula(14.0), stand(801, 24.0, 30.0), stand(802, 10.0, 12.0, side="far", depth=12.0)
    )
    near, far = cabinet_plans(job)
    # The line goes down from (150, 0); its front is toward the run, on the left.
    assert near.corners == ((126.0, -24.0), (126.0, -54.0), (150.0, -54.0), (150.0, -24.0))
    assert far.corners == ((162.0, -22.0), (162.0, -10.0), (150.0, -10.0), (150.0, -22.0))
    assert cabinet_words(job, "cabinet801") == "the 30 base on the peninsula"
    assert cabinet_words(job, "cabinet802") == "the 12 base on the far side of the peninsula"
    assert [end_words(job, ARM, hook) for hook in ("left", "right")] == ["the wall", "its free end"]
    assert [end_words(job, FAR, hook) for hook in ("left", "right")] == ["its free end", "the wall"]
    assert clashes(job) == ()


def test_a_row_goes_on_from_the_cabinets_of_the_wall_and_fits_the_top_over_it() -> None:
    job = with_peninsula(14.0)
    assert lined_up(job, ARM, "left", "base", 30.0).along == 0.0
    job = standing(job, Cabinet("cabinet800", "wall102", "base", 114.0, 36.0))
    first = lined_up(job, ARM, "left", "base", 30.0)
    assert (first.wall, first.side, first.along, first.depth) == (ARM, "front", 24.0, 24.0)
    second = lined_up(standing(job, first), ARM, "left", "base", 18.0)
    assert second.along == 54.0
    assert corner_taken(job, ARM, "right", 24.0) == 0.0
    far = lined_up(job, FAR, "right", "base", 18.0)
    assert (far.side, far.along, far.depth) == ("far", 0.0, 12.5)
    assert usual_depth(job, FAR, "bracket") == 12.0
    assert usual_depth(job, ARM, "bracket") == 23.5
    assert usual_depth(job, "wall102", "bracket") == 23.5
    assert usual_depth(with_peninsula(0.0), FAR, "base") == job.defaults.depth


def test_what_does_not_fit_along_a_peninsula_is_said() -> None:
    job = standing(with_peninsula(), stand(801, -4.0), stand(802, 16.0), stand(803, 50.0))
    assert [(o.plan.cabinet.id, o.side) for o in overruns(job)] == [("cabinet801", "left")]
    assert [space.width for space in spaces(job)] == [2.0]
    spread = after(job, *cabinets_spread_out(job, ["cabinet801", "cabinet802", "cabinet803"]))
    assert [round(p.left, 3) for p in cabinets_on(spread, ARM)] == [-4.0, 23.0, 50.0]


def test_a_space_beside_a_bracket_wants_no_filler() -> None:
    job = standing(with_peninsula(14.0), stand(801, 20.0, side="far"))
    beside = standing(job, stand(802, 14.0, 2.0, "bracket", "far", depth=12.0))
    assert spaces(beside) == ()


def test_the_peninsulas_end_carries_what_is_measured_from_it() -> None:
    job = standing(with_peninsula(), stand(801, 0.0), replace(stand(802, 0.0), hook="right"))
    assert [round(p.left, 3) for p in cabinets_on(job, ARM)] == [0.0, 42.0]
    end = replace(job.runs[0].right, along=80.0)
    longer = after(job, edits.SetRunEnd(job.runs[0].id, "right", end))
    assert [round(p.left, 3) for p in cabinets_on(longer, ARM)] == [0.0, 62.0]


def test_cabinets_go_with_their_peninsula_and_say_so() -> None:
    job = standing(with_peninsula(), stand(801, 24.0), stand(802, 20.0, side="far"))
    edit = edits.RemoveLeg(ARM)
    gone = after(job, edit)
    assert gone.cabinets == ()
    assert "2 cabinets" in described(job, edit, gone)
    assert decoded(encoded(job)) == job
    back = replace(legs_of(job)[ARM], peninsula=None)
    assert after(job, edits.SetLeg(back)) is job or not after(job, edits.SetLeg(back)).cabinets


@pytest.mark.parametrize(
    ("cabinet", "missing"),
    [
        (Cabinet("cabinet801", "leg201", "base", 0.0, 20.0), "wall 'leg201'"),
        (Cabinet("cabinet801", "wall102", "base", 0.0, 20.0, side="far"), "peninsula 'wall102'"),
    ],
)
def test_only_peninsulas_have_rows_of_their_own(cabinet: Cabinet, missing: str) -> None:
    job = with_peninsula()
    assert applied(job, edits.AddCabinet(cabinet)) is job
    with pytest.raises(JobFileError, match=missing):
        decoded(encoded(replace(job, cabinets=(cabinet,))))


def test_openings_are_centered_over_the_cabinets_of_a_peninsula() -> None:
    job = standing(with_peninsula(), stand(801, 24.0, 30.0, "sink-base"))
    hole = Opening(
        "opening700", "sink", RectangleShape(20.0, 14.0), AlongLeg(ARM, 30.0, 10.0), "sink"
    )
    job = after(job, edits.AddOpening(hole))
    over = centers(job, "opening700")[0]
    assert over == OverMiddle(ARM, "cabinet801", 10.0)
    centered = after(job, edits.MoveOpening("opening700", over))
    (placed,) = tops(centered)[0].openings
    assert placed.center[1] == pytest.approx(-39.0)


@pytest.mark.parametrize("side", ["left", "right"])
def test_seams_are_proposed_at_their_sides_and_judged_by_what_is_under_them(side: str) -> None:
    job = with_peninsula()
    hook = "left"
    if side == "left":
        job, hook = bare(right=150.0), "right"
        arm, free = peninsula(job, "wall102", Peninsula("left", 60.0))
        job = after(job, edits.ExtendRun("run200", "left", arm, free))
    one = Cabinet("cabinet801", ARM, "base", 24.0, 18.0, hook=hook)  # type: ignore[arg-type]
    job = standing(job, one)
    places = [c.seam.start for c in candidates(job, tops(job)[0]) if c.why == "cabinet side"]
    # The side at 24 lies within the inside corner: no seam goes there.
    at = [60.0 - 42.0] if side == "left" else [42.0]
    assert [getattr(p, "along", None) for p in places] == pytest.approx(at)
    for along, words in ((42.0, "on a cabinet side"), (50.0, "over a gap: nothing under it")):
        seam = Seam("seam900", "run200", SeamOnLeg(ARM, along, hook))  # type: ignore[arg-type]
        found = under(after(job, edits.AddSeam(seam)), "seam900")
        assert found is not None
        assert found.words == words


def test_at_the_back_a_seam_may_lie_on_what_stands_under_the_far_side() -> None:
    job = standing(
        with_peninsula(14.0),
        stand(801, 24.0),
        stand(802, 41.0, 2.0, "bracket", "far", depth=12.0),
    )
    held = after(job, edits.AddSeam(Seam("seam900", "run200", SeamOnLeg(ARM, 42.0))))
    found = under(held, "seam900")
    assert found is not None
    assert found.words == "at the back on a bracket, in front on a cabinet side"
    assert found.on_sides


def test_a_stretch_of_a_peninsula_without_cabinets_is_said() -> None:
    job = standing(
        with_peninsula(), Cabinet("cabinet800", "wall102", "base", 60.0, 90.0), stand(801, 24.0)
    )
    (span,) = unsupported_spans(job)
    # From the base at 42 to the end of the top, an inch beyond 60.
    assert (span.leg, round(span.length, 3), span.held) == (ARM, 19.0, 1)
    assert [f.title for f in said(job, "open-span")] == ["The peninsula reaches over a gap: 19"]
    (mend,) = remedies(job, said(job, "open-span")[0])
    assert mend.label == "Set an end panel under its end"
    held = after(job, mend.edit)
    assert (held.cabinets[-1].wall, held.cabinets[-1].use) == (ARM, "end-panel")
    assert said(held, "open-span") == []
    knees = standing(
        job, stand(802, 42.0, 17.25, "knee-space"), stand(803, 59.25, 0.75, "end-panel")
    )
    assert [round(s.length, 3) for s in unsupported_spans(knees)] == [17.25, 1.0]
    assert said(knees, "open-span") == []


def test_a_corner_that_neither_row_fills_counts_once_up_to_the_line() -> None:
    job = standing(
        with_peninsula(), Cabinet("cabinet800", "wall102", "base", 60.0, 50.0), stand(801, 40.0)
    )
    corner, end = unsupported_spans(job)
    assert (corner.left, corner.right, corner.over) == (
        110.0,
        150.0,
        "a corner that no cabinet fills",
    )
    assert end.leg == ARM
    left = bare(right=150.0)
    arm, free = peninsula(left, "wall102", Peninsula("left", 60.0))
    left = after(left, edits.ExtendRun("run200", "left", arm, free))
    left = standing(
        left,
        Cabinet("cabinet800", "wall102", "base", 100.0, 50.0),
        Cabinet("cabinet801", ARM, "base", 36.0, 24.0, hook="right"),
    )
    beyond, corner = unsupported_spans(left)
    assert (beyond.leg, corner.leg) == (ARM, ARM)
    assert corner.over == "a corner that no cabinet fills"


def test_brackets_under_a_slab_that_hangs_on_the_wall_alone_are_enough_of_a_row() -> None:
    bare_wall = bare()
    brackets = tuple(
        Cabinet(f"cabinet{i}", "wall102", "bracket", along, 2.0, 20.0)
        for i, along in ((801, 60.0), (802, 88.0), (803, 118.0))
    )
    spans = unsupported_spans(standing(bare_wall, *brackets))
    assert [round(span.length, 2) for span in spans] == [26.0, 28.0]


# --- The far side, and ledges -----------------------------------------------------------------


def test_one_press_sets_brackets_under_seating() -> None:
    job = standing(with_peninsula(14.0), stand(801, 24.0, 36.0))
    (found,) = said(job, FREE)
    assert "plan brackets, legs or a low wall" in found.text
    mend = next(iter(remedies(job, found)))
    assert mend.label == "Set 3 brackets under it"
    held = after(job, mend.edit, *mend.also)
    assert said(held, FREE) == []
    assert [(c.side, c.depth) for c in held.cabinets[1:]] == [("far", 12.0)] * 3


def test_what_hangs_free_between_and_beyond_what_holds_is_said() -> None:
    posts = (
        stand(801, 2.0, 3.0, "post", "far", depth=13.0),
        stand(802, 55.0, 3.0, "post", "far", depth=13.0),
    )
    job = standing(with_peninsula(14.0), *posts)
    (found,) = said(job, FREE)
    assert "of it between what holds it up, where common practice is 24" in found.text
    mend = next(iter(remedies(job, found)))
    assert said(after(job, mend.edit, *mend.also), FREE) == []
    job = standing(with_peninsula(14.0), posts[0])
    (found,) = said(job, FREE)
    assert "beyond what holds it up, where common practice is 10:" in found.text
    # A shelf that does not reach far enough is no support.
    shallow = standing(with_peninsula(14.0), stand(801, 0.0, 60.0, side="far", depth=3.0))
    assert len(said(shallow, FREE)) == 1
    deep = standing(with_peninsula(14.0), stand(801, 0.0, 60.0, side="far", depth=12.0))
    assert said(deep, FREE) == []


def test_a_ledge_hangs_over_its_pony_wall_and_brackets_hold_it() -> None:
    job = with_peninsula(0.0)
    ledge = Ledge("ledge900", EdgeRef(ARM, "far"), 12.0)
    job = after(job, edits.AddAlongside(ledge))
    assert said(job, FREE) == []
    wide = after(job, edits.SetAlongside(replace(ledge, width=16.0)))
    (found,) = said(wide, FREE)
    assert found.title == "The ledge hangs far out"
    assert "11 1/2 beyond its pony wall" in found.text
    mend = next(iter(remedies(wide, found)))
    held = after(wide, mend.edit, *mend.also)
    assert said(held, FREE) == said(held, STANDS_OUT) == []
    thick = after(wide, edits.SetAlongside(replace(ledge, width=16.0, wall_thickness=6.0)))
    assert said(thick, FREE) == []
    assert decoded(encoded(thick)) == thick


def test_a_ledge_on_the_wall_of_a_run_is_looked_at_too() -> None:
    job = after(bare(), edits.AddAlongside(Ledge("ledge900", EdgeRef("leg201", "back"), 18.0)))
    (found,) = said(job, FREE)
    assert found.title == "The ledge hangs far out"
    assert remedies(job, found) == ()


def test_a_ledge_that_cannot_be_made_or_hangs_over_little_is_not_said() -> None:
    on_wall = Ledge("ledge900", EdgeRef("leg201", "back"), 12.0)
    assert said(after(bare(), edits.AddAlongside(on_wall)), FREE) == []
    gone = Ledge("ledge900", EdgeRef(ARM, "far"), 18.0, left=500.0)
    assert said(after(with_peninsula(0.0), edits.AddAlongside(gone)), FREE) == []


def test_what_stands_out_before_the_far_side_is_said_and_the_top_can_follow() -> None:
    short = standing(with_peninsula(10.0), stand(801, 10.0, side="far", depth=12.0))
    (found,) = said(short, STANDS_OUT)
    assert found.title == "The 18 base on the far side of the peninsula stands out"
    # What the top would then hang over beside it is a finding of its own: it is not offered.
    assert remedies(short, found) == ()
    job = standing(with_peninsula(10.0), stand(801, 0.0, 60.0, side="far", depth=12.0))
    (found,) = said(job, STANDS_OUT)
    mend = next(iter(remedies(job, found)))
    assert mend.label == "Let the far side hang over 13 1/2"
    assert said(after(job, mend.edit), STANDS_OUT) == []
    legs = tuple(replace(leg, overhang=-1.0) for leg in job.runs[0].legs)
    behind = replace(job, runs=(replace(job.runs[0], legs=legs),))
    fronts = [f for f in said(behind, STANDS_OUT) if f.about[0].kind == "edge"]
    assert fronts
    offered = [mend.label for front in fronts for mend in remedies(behind, front)]
    assert not [label for label in offered if label.startswith("Let the far side")]


# --- Copies, and walls without length ---------------------------------------------------------


@pytest.mark.parametrize("mirrored", [True, False])
def test_a_run_that_is_made_again_takes_what_stands_along_its_peninsula(mirrored: bool) -> None:
    job = standing(with_peninsula(14.0), stand(801, 24.0), stand(802, 20.0, side="far", depth=10.0))
    assert has_cabinets(job, "leg201")
    way = Way(mirrored=mirrored, cabinets=True)
    made = after(job, *run_on_wall(job, "leg201", "wall102", way))
    arm = next(leg.id for leg in made.runs[1].legs if leg.peninsula is not None)
    new = [c for c in made.cabinets if c.wall == arm]
    assert [(c.along, c.side) for c in new] == [(24.0, "front"), (20.0, "far")]
    hooks = ["right", "left"] if mirrored else ["left", "right"]
    assert [c.hook for c in new] == hooks


def test_a_wall_without_length_has_no_rows_and_nothing_breaks() -> None:
    corners = (Corner("corner1", 1, 0.0, 0.0), Corner("corner2", 2, 0.0, 0.0))
    flat = Job("Test", room=Room(corners, (Wall("wall11", "corner1", "corner2"),)))
    lone = lone_peninsula(bare(), "wall102", Peninsula("left", 60.0), 70.0)
    legs = tuple(replace(leg, wall="wall11") for leg in lone.legs)
    job = replace(flat, runs=(replace(lone, legs=legs),))
    arm: Id = legs[0].id
    job = replace(job, cabinets=(Cabinet("cabinet801", arm, "base", 0.0, 20.0),))
    assert cabinet_plans(job) == ()
    along = replace(lone, legs=tuple(replace(leg, peninsula=None) for leg in legs))
    assert not has_cabinets(replace(job, runs=(along,)), arm)
    assert cabinet_line(job, row_line(arm, "far")).id == "wall11"
    assert cabinet_words(job, "cabinet801") == "the 20 base on the peninsula"
    assert said(job, FREE) == []
