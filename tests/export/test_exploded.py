"""The mold taken apart: nothing runs into anything, what is hidden is covered, all is named."""

from itertools import combinations

import pytest
from msgspec.structs import replace
from shapely import Polygon

from export.exploded import exploded, exploded_mold
from export.laying_out import laid_out
from export.marks import AnyMark, Line, Region, Words
from export.pages import fitted
from geometry.picking import Subject
from shop import edits, plan
from shop.job import Job, Reinforcement
from shop.molds import Mold
from shop.reinforcement import reinforcement
from shop.samples import sample_names
from tests.export.jobs import on_base, sample
from tests.shop.kitchens import after


def of_stock(mold: Mold, thickness: float) -> Mold:
    """The mold with strips of other stock."""
    strips = tuple(replace(strip, thickness_in=thickness) for strip in mold.strips)
    return replace(mold, strips=strips)


def marks(job: Job, piece: str) -> tuple[AnyMark, ...]:
    return exploded(job, piece).marks


def area(role: str, made: tuple[AnyMark, ...]) -> float:
    return sum(
        Polygon(mark.loops[0].vertices).area
        for mark in made
        if isinstance(mark, Region) and mark.role == role
    )


@pytest.mark.parametrize("name", sample_names())
def test_every_part_is_drawn_and_named(name: str) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        made = marks(job, mold.piece)
        said = {mark.text for mark in made if isinstance(mark, Words)}
        for strip in mold.strips:
            assert f"{strip.name} {strip.edge_name.partition(',')[0]}" in said
        assert {knockout.name for knockout in mold.knockouts} <= said
        steel = reinforcement(job, mold.piece)
        assert {panel.name for panel in steel.panels} <= said
        assert {bar.name for bar in steel.bars} <= said
        assert f"{mold.piece} base, FACE DOWN" in said
        roles = [mark.role for mark in made]
        assert roles.count("bar") >= len(steel.bars)
        assert "board" in roles
        assert "strip" in roles
        assert ("foam" in roles) is bool(mold.knockouts)


@pytest.mark.parametrize("name", sample_names())
def test_sidewalls_are_drawn_off_the_base_and_never_into_each_other(name: str) -> None:
    """Tops of sidewalls lie level at one height, so that in the picture they show their plan."""
    job = sample(name)
    for mold in plan.molds(job):
        tops: dict[Subject, list[Polygon]] = {}
        for mark in marks(job, mold.piece):
            if isinstance(mark, Region) and mark.role == "strip" and mark.subject is not None:
                tops.setdefault(mark.subject, []).append(Polygon(mark.loops[0].vertices))
        bent = len({s.tag.ref for s in mold.strips}) < len(mold.strips)
        assert len(tops) == len(mold.strips) or bent
        if bent:  # Both sidewalls of a dog-leg show the same seam.
            continue
        # Of each sidewall the last is a top; only boards are one prism.
        boards = [
            shapes[-1]
            for strip, shapes in zip(mold.strips, tops.values(), strict=True)
            if len(strip.edges) == 1 and strip.arc_radius is None
        ]
        assert not any(a.buffer(-1e-6).intersects(b) for a, b in combinations(boards, 2))


def test_layers_are_drawn_from_the_base_up() -> None:
    made = marks(sample("out-of-square"), "C")
    order = [mark.role for mark in made if isinstance(mark, Region)]
    assert order.index("strip") > max(k for k, role in enumerate(order) if role == "board")
    assert order.index("foam") > max(k for k, role in enumerate(order) if role == "strip")
    last = max(k for k, mark in enumerate(made) if isinstance(mark, Region))
    assert all(k > last for k, mark in enumerate(made) if mark.role in ("mesh", "bar"))


def test_what_a_far_sidewall_shows_is_not_drawn_over_a_near_one() -> None:
    job = sample("galley")
    mold = plan.mold(job, "A")
    seen = [
        mark.subject
        for mark in marks(job, "A")
        if isinstance(mark, Region) and mark.role == "strip"
    ]
    names = {strip.tag.ref: strip.edge_name.partition(",")[0] for strip in mold.strips}
    order = [names[subject.edge] for subject in seen if subject is not None and subject.edge]
    assert max(k for k, name in enumerate(order) if name == "back") < order.index("front")


def test_a_bent_sidewall_is_drawn_bent() -> None:
    job = sample("round-island")
    mold = plan.mold(job, "A")
    bent = next(strip for strip in mold.strips if strip.arc_radius and not strip.turned_insert)
    faces = [
        mark
        for mark in marks(job, "A")
        if isinstance(mark, Region)
        and mark.role == "strip"
        and mark.subject is not None
        and mark.subject.edge == bent.tag.ref
    ]
    assert len(faces) > 20


def test_sidewalls_round_a_narrow_notch_move_away_from_the_middle() -> None:
    job = sample("bay-and-breast")
    mold = plan.mold(job, "C")
    thick = exploded_mold(of_stock(mold, 14.0), reinforcement(job, "C"), 0.75)
    thin = exploded_mold(mold, reinforcement(job, "C"), 0.75)
    assert area("strip", thick.marks) > area("strip", thin.marks)
    assert thick.box != thin.box
    sprung = exploded_mold(of_stock(plan.mold(job, "A"), 60.0), reinforcement(job, "A"), 0.75)
    assert area("strip", sprung.marks) > 0.0


def test_a_strip_without_a_back_is_drawn_as_far_as_its_hub() -> None:
    job = sample("round-island")
    mold = plan.mold(job, "A")
    inside = replace(
        mold.frame, bulges=tuple(-0.4 if bulge else 0.0 for bulge in mold.frame.bulges)
    )
    hollow = replace(mold, frame=inside, base=inside)
    drawn = exploded_mold(of_stock(hollow, 40.0), reinforcement(job, "A"), 0.75)
    assert area("strip", drawn.marks) > 0.0


def test_joints_of_the_base_blocks_and_counterbores_are_drawn() -> None:
    job = sample("round-island")
    mold = plan.mold(job, "A")
    whole, cut = (
        exploded_mold(mold, reinforcement(job, "A"), 0.75, joints)
        for joints in ((), (((0.0, 0.0), (30.0, 0.0)),))
    )
    assert len(cut.marks) == len(whole.marks) + 1
    blocks = [
        mark
        for mark in whole.marks
        if isinstance(mark, Region) and mark.role == "board" and mark.subject is not None
    ]
    kinds = {mark.subject.kind for mark in blocks if mark.subject is not None}
    assert {"piece", "opening"} <= kinds


def test_it_is_drawn_for_sides_on_the_base_and_without_steel() -> None:
    for job in (
        on_base("galley"),
        replace(sample("galley"), reinforcement=Reinforcement(mesh="none", bars="none")),
    ):
        roles = {mark.role for mark in marks(job, "A")}
        assert {"board", "strip", "foam"} <= roles
    assert "mesh" not in roles


def test_its_words_have_room_on_a_page() -> None:
    for name in sample_names():
        job = sample(name)
        for mold in plan.molds(job):
            view = fitted(exploded(job, mold.piece), (0.5, 6.0, 8.0, 9.5))
            made = laid_out(view.sheet, view.scale[0], view.limits)
            words = [mark for mark in made if isinstance(mark, Words)]
            at = [(round(w.at[0], 3), round(w.at[1], 3)) for w in words]
            assert len(set(at)) == len(at)


def test_it_comes_back_as_the_same_object_as_long_as_its_mold_is_the_same() -> None:
    job = sample("galley")
    renamed = after(job, edits.SetJobName("Other"))
    assert exploded(job, "A") is exploded(renamed, "A")
    assert any(isinstance(mark, Line) and mark.role == "ghost" for mark in marks(job, "A"))
    with pytest.raises(KeyError):
        exploded(job, "Z")
