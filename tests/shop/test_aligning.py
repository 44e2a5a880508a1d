"""Openings lined up and spread out."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.naming import Id
from geometry.openings import (
    AlongLeg,
    Anchor,
    BesideOpening,
    CircleShape,
    InIsland,
    Opening,
    OverMiddle,
)
from shop import edits
from shop.aligning import AligningError, lined_up, spread_out
from shop.anchors import place_by
from shop.job import Cabinet, Job
from tests.shop.kitchens import after, island, straight

LENGTH_IN = 120.0
HOLE = CircleShape(1.375)
HOOKED = ("left", "right", "middle")


def holed(job: Job, *places: Anchor) -> Job:
    named = enumerate(places, 900)
    made = (Opening(f"opening{i}", f"hole {i}", HOLE, at) for i, at in named)
    return after(job, *map(edits.AddOpening, made))


def ids(count: int) -> list[Id]:
    return [f"opening{900 + i}" for i in range(count)]


def from_left(job: Job, opening: Id) -> float:
    at = place_by(job, opening)
    assert isinstance(at, AlongLeg)
    return {
        "left": at.along,
        "right": LENGTH_IN - at.along,
        "middle": LENGTH_IN / 2.0 + at.along,
    }[at.hook]


def hooked(from_left_in: float, number: int, back: float = 12.0) -> AlongLeg:
    """Return a place so far from the left corner, taped from left, right and middle in turn."""
    along = (from_left_in, LENGTH_IN - from_left_in, from_left_in - LENGTH_IN / 2.0)
    return AlongLeg("leg201", along[number % 3], back, HOOKED[number % 3])  # type: ignore[arg-type]


def test_openings_come_as_far_back_as_the_first_of_them() -> None:
    job = holed(straight(), hooked(60.0, 0), hooked(30.0, 1, 9.0), hooked(90.0, 2))
    made = lined_up(job, ids(3))
    assert [edit.opening for edit in made] == ["opening901"]
    assert place_by(after(job, *made), "opening901") == hooked(30.0, 1)
    assert lined_up(after(job, *made), ids(3)) == ()


@given(st.lists(st.integers(20, 100), min_size=3, max_size=6, unique=True))
def test_spaces_are_equal_to_a_sixteenth_and_the_outer_two_stay(alongs: list[int]) -> None:
    count = len(alongs)
    job = holed(straight(LENGTH_IN), *(hooked(float(x), i) for i, x in enumerate(alongs)))
    spread = after(job, *spread_out(job, ids(count)))
    now = sorted(from_left(spread, one) for one in ids(count))
    assert (now[0], now[-1]) == (min(alongs), max(alongs))
    spaces = [b - a for a, b in pairwise(now)]
    assert max(spaces) - min(spaces) <= 1.0 / 16.0 + 1e-9
    assert spread_out(spread, ids(count)) == ()


def test_what_goes_with_another_one_is_not_moved_twice() -> None:
    beside = BesideOpening("opening901", 10.0, 2.0)
    job = holed(straight(), hooked(20.0, 0), hooked(30.0, 0), beside, hooked(100.0, 0))
    spread = after(job, *spread_out(job, ids(4)))
    found = [from_left(spread, one) for one in ids(4)]
    assert found == pytest.approx([20.0, 46.6875, 73.3125, 100.0])
    assert isinstance(spread.openings[2].at, BesideOpening)


def test_on_an_island_they_are_lined_up_along_its_first_side() -> None:
    places = (InIsland("island300", 10.0, 8.0), InIsland("island300", 30.0, 9.0))
    job = holed(island(), *places)
    assert place_by(after(job, *lined_up(job, ids(2))), "opening901") == InIsland(
        "island300", 30.0, 8.0
    )


def test_it_takes_two_to_line_up_and_three_to_spread_out() -> None:
    job = holed(straight(), hooked(20.0, 0), hooked(40.0, 0))
    with pytest.raises(AligningError, match="Choose two openings or more"):
        lined_up(job, ["opening900", "opening900", "nothing"])
    with pytest.raises(AligningError, match="Choose three openings or more"):
        spread_out(job, ids(2))


def test_openings_of_two_counters_are_not_lined_up() -> None:
    both = after(straight(), *(edits.AddIsland(one) for one in island().islands))
    job = holed(both, hooked(20.0, 0), InIsland("island300", 10.0, 8.0))
    with pytest.raises(AligningError, match="not on one straight stretch"):
        lined_up(job, ids(2))


def test_one_without_a_place_is_named() -> None:
    base = Cabinet("cabinet600", "wall101", "sink-base", 42.0, 36.0)
    over = OverMiddle("leg201", "cabinet600", 12.0)
    job = holed(after(straight(), edits.AddCabinet(base)), over, hooked(20.0, 0))
    flat = replace(job, cabinets=(replace(base, width=0.0000001),))
    with pytest.raises(AligningError, match="The hole 900 has no place yet"):
        lined_up(flat, ids(2))
