from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from geometry.outline import Outline, moved, rotated
from geometry.placing import Difference, Placement, differences, laid, moved_point, placement_of
from geometry.points import Point, distance

SIDES = tuple(EdgeRef("leg1", side) for side in ("front", "end", "back", "start"))
KINDS = (Kind.FRONT, Kind.END, Kind.BACK, Kind.END)
TAGS = tuple(map(Tag, KINDS, SIDES))
FRONT, END, BACK, START = SIDES
BOX = ((0.0, 0.0), (80.0, 0.0), (80.0, 25.0), (0.0, 25.0))


def box(*points: Point, bulges: tuple[float, ...] = (0.0,) * 4) -> Outline:
    return Outline(points or BOX, bulges, TAGS)


def wide(left: float, right: float, deep: float = 25.0) -> Outline:
    return box((left, 0.0), (right, 0.0), (right, deep), (left, deep))


@given(st.floats(-3.0, 3.0), st.floats(-90.0, 90.0), st.floats(-90.0, 90.0))
def test_a_slab_that_only_lies_elsewhere_is_laid_exactly(turn: float, x: float, y: float) -> None:
    there = moved(rotated(box(), turn), (x, y))
    placed = laid(box(), placement_of(box(), there, frozenset({BACK})))
    assert max(map(distance, placed.vertices, there.vertices)) < 1e-7
    assert all(abs(d.most) < 1e-7 for d in differences(placed, there))


def test_a_slab_in_its_place_stays_the_same_object() -> None:
    same = box()
    assert laid(same, placement_of(same, box())) is same


def test_what_has_no_edge_in_common_stays_where_it_lies() -> None:
    other = Outline(
        BOX,
        (0.0,) * 4,
        tuple(Tag(k, EdgeRef("leg2", r.side)) for k, r in zip(KINDS, SIDES, strict=True)),
    )
    assert placement_of(box(), moved(other, (5.0, 0.0))) == Placement()
    assert differences(box(), other) == ()


def test_walls_hold_a_slab_before_free_ends_do_and_these_before_seams() -> None:
    plan = wide(1.0, 84.0)
    held = placement_of(box(), plan, frozenset({BACK, START}))
    assert held.shift == pytest.approx((1.0, 0.0), abs=1e-4)
    free = placement_of(box(), plan, frozenset({BACK}))
    assert free.shift == pytest.approx((2.5, 0.0), abs=1e-9)
    tags = (TAGS[0], Tag(Kind.SEAM, EdgeRef("seam1", "left")), *TAGS[2:])
    seam = [Outline(one.vertices, one.bulges, tags) for one in (box(), plan)]
    assert placement_of(*seam, frozenset({BACK})).shift == pytest.approx((1.0, 0.0), abs=1e-4)


def test_the_longer_wall_turns_a_slab_most() -> None:
    """Back and left end turn apart by 0.01: weighted by 80 and 25, the slab turns by -25/105."""
    plan = box((0.0, 0.0), (80.0, 0.0), (80.0, 25.0), (-0.25, 25.0))
    turn = placement_of(box(), plan, frozenset({START, BACK})).turn_rad
    assert turn == pytest.approx(0.01 * 25.0 / 105.0, rel=1e-2)


def test_edges_tell_how_far_out_they_would_lie_at_both_ends() -> None:
    plan = box((0.0, -0.25), (80.0, -0.5), (80.0, 25.0), (0.0, 25.0))
    found = {d.tag.ref: d for d in differences(box(), plan)}
    assert found[FRONT][2:] == pytest.approx((0.25, 0.5), abs=1e-4)
    assert found[FRONT].most == pytest.approx(0.5, abs=1e-4)
    assert found[END][2:] == pytest.approx((0.0, 0.0))
    inward = {d.tag.ref: d for d in differences(box(), wide(0.0, 79.0))}
    assert inward[END].most == pytest.approx(-1.0)
    assert Difference(0, TAGS[0], 0.5, -1.0).most == -1.0


def test_arcs_and_edges_in_several_parts_are_compared_with_the_nearest() -> None:
    round_end = box(bulges=(0.0, 1.0, 0.0, 0.0))
    longer = box((0.0, 0.0), (81.0, 0.0), (81.0, 25.0), (0.0, 25.0), bulges=(0.0, 1.0, 0.0, 0.0))
    arcs = {d.tag.ref: d for d in differences(round_end, longer)}
    assert arcs[END].at_start == pytest.approx(0.0, abs=1e-9)
    ell = corner_ref(FRONT, END)
    twice = Outline(
        ((0.0, 0.0), (40.0, 0.0), (80.0, -1.0), (80.0, 25.0), (0.0, 25.0)),
        (0.0,) * 5,
        (TAGS[0], TAGS[0], *TAGS[1:]),
    )
    assert ell.a == END
    split = [d for d in differences(twice, wide(0.0, 80.0)) if d.tag.ref == FRONT]
    assert [d.edge for d in split] == [0, 1]
    assert split[1].at_end == pytest.approx(-1.0, abs=1e-3)


def test_openings_do_not_hold_a_slab() -> None:
    cut = (Tag(Kind.OPENING, EdgeRef("opening1", "cut")),) * 1
    tags = (*cut, *TAGS[1:])
    slab, plan = Outline(BOX, (0.0,) * 4, tags), Outline(wide(0.0, 80.0).vertices, (0.0,) * 4, tags)
    assert placement_of(slab, moved(plan, (0.0, 0.5)), frozenset({BACK})).shift == pytest.approx(
        (0.0, 0.5)
    )


def test_points_are_moved_with_their_slab() -> None:
    assert moved_point((1.0, 0.0), Placement(pi / 2.0, (3.0, 4.0))) == pytest.approx((3.0, 5.0))
