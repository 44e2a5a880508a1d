"""Free shapes of islands, changed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import FreeSide, Island, OnBoard
from geometry.edges import length, radius
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import CircleShape, InIsland, Opening
from geometry.outline import area
from geometry.seams import Seam, SeamOnIsland
from shop import edits, plan
from shop.applying import applied
from shop.free_shapes import (
    drawn,
    edge_of,
    fault_of,
    freed,
    side_of,
    start_side,
    with_corner_at,
    with_corner_in,
    with_length,
    with_side,
    without_corner,
)
from shop.job import EdgeChoice, Job
from shop.unmade import unmade

SQUARE = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)]


def made(island: Island) -> Job:
    return applied(Job("Test", next_id=2), edits.AddIsland(island))


def size(island: Island) -> float:
    return area(plan.tops(made(island))[0].top.outline)


@given(st.permutations([0.0, 2.0, -1.0, 3.0]))
def test_a_shape_drawn_clockwise_is_the_one_drawn_the_other_way(bows: list[float]) -> None:
    one = drawn("island1", SQUARE, bows)
    # The same sides from the first corner back: what bowed to the right bows to the left.
    back = [SQUARE[0], *reversed(SQUARE[1:])]
    other = drawn("island1", back, [-bow for bow in reversed(bows)])
    assert size(one) == pytest.approx(size(other))
    assert one.at == other.at
    assert [s.number for s in other.free] == [1, 2, 3, 4]
    # The first side drawn is side 1 either way.
    first = {(s.x, s.y) for s in other.free[:2]}
    assert first == {(0.0, 0.0), (0.0, 30.0)}


def test_what_is_drawn_starts_at_its_own_lower_left() -> None:
    island = drawn("island1", [(x + 7.0, y - 9.0) for x, y in SQUARE], [0.0] * 4)
    assert (island.at, island.width, island.depth) == (OnBoard(7.0, -9.0), 40.0, 30.0)


def test_a_corner_is_moved_by_the_side_that_starts_there() -> None:
    island = drawn("island1", SQUARE, [0.0] * 4)
    corner = corner_ref(EdgeRef("island1", "4"), EdgeRef("island1", "1"))
    side = start_side(island, corner)
    assert side is not None
    moved = with_corner_at(island, side, (5.0, 5.0))
    assert size(moved) == pytest.approx(1200.0 - 2.5 * 40.0 - 2.5 * 30.0)
    other = corner_ref(EdgeRef("island1", "1"), EdgeRef("island1", "3"))
    assert start_side(island, other) is None


@given(st.floats(0.5, 39.5))
def test_a_corner_put_into_an_arc_leaves_the_shape_as_it_was(at: float) -> None:
    island = drawn("island1", SQUARE, [8.0, 0.0, 0.0, 0.0])
    split = with_corner_in(island, "1", at)
    assert [s.number for s in split.free] == [1, 5, 2, 3, 4]
    arc = radius(edge_of(island, "1"))
    assert size(split) == pytest.approx(size(island), rel=1e-6)
    parts = [edge_of(split, name) for name in ("1", "5")]
    if all(abs(side_of(split, name).rise) > 0.1 for name in ("1", "5")):
        assert [radius(part) for part in parts] == pytest.approx([arc, arc])
    assert sum(map(length, parts)) == pytest.approx(length(edge_of(island, "1")), rel=1e-3)


def test_a_corner_taken_away_leaves_the_side_before_it() -> None:
    island = drawn("island1", SQUARE, [0.0] * 4)
    fewer = without_corner(island, island.free[2])
    assert fewer is not None
    assert [s.number for s in fewer.free] == [1, 2, 4]
    assert size(fewer) == pytest.approx(600.0)
    assert without_corner(fewer, fewer.free[0]) is None


def test_a_side_made_longer_moves_its_far_corner() -> None:
    island = with_length(drawn("island1", SQUARE, [0.0] * 4), "1", 50.0)
    assert (island.free[1].x, island.free[1].y) == (50.0, 0.0)
    last = with_length(island, "4", 20.0)
    assert (last.free[0].x, last.free[0].y) == (0.0, 10.0)


def test_a_rectangle_becomes_the_same_free_shape() -> None:
    rectangle = Island("island1", 60.0, 30.0, OnBoard(3.0, 4.0), 20.0, ("2",))
    top = plan.sharp_top(made(rectangle), rectangle)
    assert top is not None
    free = freed(rectangle, top)
    assert free is not None
    assert [s.number for s in free.free] == [1, 2, 3, 4]
    assert size(free) == pytest.approx(size(rectangle))


def test_a_disk_has_too_few_sides_to_be_free() -> None:
    disk = Island("island1", 40.0, 40.0, OnBoard(0.0, 0.0), 0.0, ("2", "4"))
    top = plan.sharp_top(made(disk), disk)
    assert top is not None
    assert freed(disk, top) is None


def test_what_cannot_be_made_says_why() -> None:
    island = drawn("island1", SQUARE, [0.0] * 4)
    assert fault_of(island) is None
    crossed = with_side(island, replace(side_of(island, "3"), x=40.0, y=-10.0))
    assert fault_of(crossed) is not None


# --- What hangs on a free shape ------------------------------------------------------------------


def test_what_hangs_on_a_side_goes_with_it() -> None:
    island = drawn("island1", SQUARE, [0.0] * 4)
    job = made(island)
    job = applied(job, edits.FinishEdge(EdgeRef("island1", "3"), "polished"))
    job = applied(job, edits.FinishEdge(EdgeRef("island1", "1"), "square"))
    job = applied(job, edits.AddSeam(Seam("seam2", "island1", SeamOnIsland("island1", "3", 20.0))))
    assert [p.name for p in plan.pieces(job)] == ["A", "B"]
    fewer = without_corner(island, island.free[2])
    assert fewer is not None
    after = applied(job, edits.SetIsland(fewer))
    assert after.edge_choices == (EdgeChoice(EdgeRef("island1", "1"), "square"),)
    assert after.seams == ()


def test_a_seam_cannot_hang_on_an_island_that_is_not_its_top() -> None:
    job = made(drawn("island1", SQUARE, [0.0] * 4))
    wrong = Seam("seam2", "island9", SeamOnIsland("island1", "3", 20.0))
    assert applied(job, edits.AddSeam(wrong)) is job


def test_openings_lie_in_a_free_shape_as_in_a_rectangle() -> None:
    job = made(drawn("island1", [(x + 10.0, y) for x, y in SQUARE], [0.0] * 4))
    hole = Opening("opening2", "post", CircleShape(2.0), InIsland("island1", 20.0, 15.0))
    job = applied(job, edits.AddOpening(hole))
    (top,) = plan.tops(job)
    assert top.openings[0].center == pytest.approx((30.0, 15.0))


def test_a_free_shape_that_cannot_be_made_is_drawn_as_it_was_asked_for() -> None:
    sides = (
        FreeSide(1, 0.0, 0.0),
        FreeSide(2, 40.0, 30.0, 2.0),
        FreeSide(3, 50.0, 0.0),
        FreeSide(4, 0.0, 30.0),
    )
    lost = Island("island1", 50.0, 30.0, OnBoard(5.0, 0.0), free=sides)
    (found,) = unmade(made(lost))
    assert len(found.edges) == 4
    assert found.edges[0].start == (5.0, 0.0)
    assert found.edges[1].bulge > 0.0
    doubled = replace(lost, free=(sides[0], replace(sides[0], number=5), *sides[1:]))
    (found,) = unmade(made(doubled))
    assert len(found.edges) == 4
