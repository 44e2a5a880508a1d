import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.edges import Edge
from geometry.points import distance
from shop import edits
from shop.cabinets import (
    USE_WORDS,
    USUAL_WIDTH_IN,
    Use,
    along_from,
    cabinet_plans,
    cabinet_words,
    cabinets_on,
    clashes,
    corner_taken,
    depth_on,
    end_overhang,
    hook_words,
    inside_neighbor,
    lined_up,
    next_place,
    overruns,
    spaces,
    usual_depth,
    usual_doors,
)
from shop.job import Corner, Job, Wall
from tests.shop.cabinetry import (
    cabinet,
    corner_room,
    outside_corner,
    row,
    wall_of,
    with_cabinets,
)
from tests.shop.kitchens import after, walls

uses = st.sampled_from(list(USE_WORDS))


def test_a_cabinet_lies_along_its_wall_with_its_doors_before_its_face() -> None:
    made = replace(cabinet(1, along=12.0), doors=2)
    (found,) = cabinet_plans(with_cabinets(wall_of(), made))
    assert found.corners == ((12.0, -24.0), (48.0, -24.0), (48.0, 0.0), (12.0, 0.0))
    assert found.face == Edge((12.0, -24.0), (48.0, -24.0))
    assert found.doors == Edge((12.0, -24.75), (48.0, -24.75))
    assert (found.left, found.right) == (12.0, 48.0)
    assert found.middle == (30.0, -12.0)
    assert found.carries
    assert found.takes_top


def test_a_cabinet_without_doors_has_no_line_before_its_face() -> None:
    plain, flush = cabinet(1), replace(cabinet(2, along=40.0), doors=1, door_thickness=0.0)
    assert [p.doors for p in cabinet_plans(with_cabinets(wall_of(), plain, flush))] == [None, None]


def test_a_tape_that_hooks_at_the_right_corner_counts_from_there() -> None:
    made = replace(cabinet(1, along=12.0), hook="right")
    (found,) = cabinet_plans(with_cabinets(wall_of(), made))
    assert (found.left, found.right) == (72.0, 108.0)
    assert along_from(found, 70.0) == 14.0


def test_a_post_is_square_and_stands_at_the_face() -> None:
    (found,) = cabinet_plans(with_cabinets(wall_of(), cabinet(1, "post", 10.0, 3.0)))
    assert found.corners == ((10.0, -24.0), (13.0, -24.0), (13.0, -21.0), (10.0, -21.0))


@pytest.mark.parametrize("use", list(USE_WORDS))
def test_bases_panels_and_posts_carry_and_appliances_do_not(use: Use) -> None:
    (found,) = cabinet_plans(with_cabinets(wall_of(), cabinet(1, use)))
    assert found.carries == (use in ("base", "sink-base", "end-panel", "post", "bracket"))
    assert found.takes_top == (use not in ("range", "refrigerator"))


def test_cabinets_are_called_by_their_width_and_use() -> None:
    job = row(wall_of(200.0), ("base", 36.0), ("sink-base", 35.5), ("dishwasher", 24.0))
    job = row(job, ("range", 42.5), start=100.0)
    labels = [p.label for p in cabinet_plans(job)]
    assert labels == ["36 base", "35 1/2 sink base", "dishwasher", "42 1/2 range"]
    metric = after(job, edits.SetDisplay("mm", 16))
    assert cabinet_plans(metric)[0].label == "914.4 mm base"
    assert cabinet_words(job, "cabinet601") == "the 36 base on wall 1 to 2"
    assert cabinet_words(job, "cabinet1") == "a cabinet"


def test_a_cabinet_on_a_wall_without_length_lies_nowhere() -> None:
    corners = (Corner("corner1", 1, 0.0, 0.0), Corner("corner2", 2, 0.0, 0.0))
    job = after(Job("Test"), edits.AddWalls(corners, (Wall("wall101", "corner1", "corner2"),)))
    assert cabinet_plans(with_cabinets(job, cabinet(1))) == ()


def test_a_cabinet_too_small_to_see_lies_nowhere() -> None:
    thin, flat = cabinet(1, width=1e-9), replace(cabinet(2), depth=1e-300)
    job = with_cabinets(wall_of(), thin, flat, cabinet(3, along=50.0))
    assert [p.cabinet.id for p in cabinet_plans(job)] == ["cabinet3"]
    assert clashes(job) == ()


def test_the_cabinets_of_a_wall_come_from_left_to_right() -> None:
    job = with_cabinets(
        corner_room(),
        cabinet(1, along=80.0, width=20.0),
        cabinet(2, along=0.0, width=30.0),
        cabinet(3, wall="wall102", along=24.0),
    )
    assert [p.cabinet.id for p in cabinets_on(job, "wall101")] == ["cabinet2", "cabinet1"]


def test_a_cabinet_says_from_which_corner_it_is_measured() -> None:
    job = wall_of()
    assert hook_words(job, cabinet(1)) == "corner 1"
    assert hook_words(job, replace(cabinet(1), hook="right")) == "corner 2"


# --- Where the next one goes ------------------------------------------------------------------


def test_the_first_cabinet_goes_into_the_corner_and_the_next_right_after_it() -> None:
    job = wall_of()
    assert next_place(job, "wall101", "left", 24.0) == 0.0
    assert next_place(row(job, ("base", 36.0), ("range", 30.0)), "wall101", "left", 24.0) == 66.0
    assert next_place(row(job, ("base", 36.0)), "wall101", "right", 24.0) == 0.0


def test_the_first_cabinet_keeps_clear_of_what_stands_in_the_corner() -> None:
    job = row(corner_room(), ("base", 30.0), start=90.0)
    assert next_place(job, "wall102", "left", 24.0) == pytest.approx(24.0)
    other = row(corner_room(), ("base", 30.0), wall="wall102")
    assert next_place(other, "wall101", "right", 24.0) == pytest.approx(24.0)


def test_a_cabinet_off_the_corner_leaves_it_free() -> None:
    job = row(corner_room(), ("base", 30.0), start=60.0)
    assert corner_taken(job, "wall102", "left", 24.0) == 0.0
    job = row(corner_room(), ("base", 30.0), start=66.0)
    assert corner_taken(job, "wall102", "left", 24.0) == 0.0


def test_a_post_near_the_corner_takes_it_as_far_as_it_reaches() -> None:
    job = row(corner_room(), ("post", 3.0), start=110.0)
    assert corner_taken(job, "wall102", "left", 24.0) == pytest.approx(24.0)


def test_no_cabinet_stands_in_an_outside_corner() -> None:
    job = row(outside_corner(), ("base", 40.0), start=60.0)
    assert inside_neighbor(job, "wall102", "left") is None
    assert inside_neighbor(job, "wall101", "left") is None
    assert corner_taken(job, "wall102", "left", 24.0) == 0.0


@pytest.mark.parametrize("slant", [60.0, 45.0, 120.0])
def test_in_a_slanted_corner_the_next_cabinet_touches_the_last_one(slant: float) -> None:
    from math import cos, radians, sin

    end = (100.0 * cos(radians(slant - 90.0)), -100.0 * sin(radians(slant - 90.0)))
    job = walls((0.0, -120.0), (0.0, 0.0), end)
    job = row(job, ("base", 40.0), start=80.0)
    free = after(job, edits.AddCabinet(lined_up(job, "wall102", "left", "base", 24.0)))
    assert clashes(free) == ()
    tight = free.cabinets[-1]
    closer = after(free, edits.SetCabinet(replace(tight, along=tight.along - 0.1)))
    assert clashes(closer)


@given(st.lists(st.tuples(uses, st.floats(3.0, 40.0)), max_size=6), st.sampled_from("lr"))
def test_cabinets_that_line_up_never_overlap(typed: list[tuple[Use, float]], side: str) -> None:
    job = row(corner_room(), ("base", 36.0), start=84.0)
    for use, width in typed:
        made = lined_up(job, "wall102", "left" if side == "l" else "right", use, width)
        job = after(job, edits.AddCabinet(made))
    limit = 150.0 - 24.0
    if side == "l" or sum(width for _, width in typed) <= limit:
        assert clashes(job) == ()


def test_a_new_cabinet_has_the_usual_depth_and_doors() -> None:
    job = wall_of()
    made = lined_up(job, "wall101", "left", "refrigerator", 36.0)
    assert (made.depth, made.doors) == (30.0, 0)
    assert [usual_doors("base", w) for w in (18.0, 21.0, 24.0)] == [1, 1, 2]
    assert usual_doors("sink-base", 18.0) == 2
    assert usual_doors("dishwasher", 24.0) == 1
    assert usual_depth(job, "wall101", "base") == job.defaults.depth
    assert set(USUAL_WIDTH_IN) == set(USE_WORDS)


# --- What does not fit ------------------------------------------------------------------------


def test_cabinets_that_take_the_same_room_clash() -> None:
    job = with_cabinets(wall_of(), cabinet(1), cabinet(2, along=34.0), cabinet(3, along=70.0))
    (found,) = clashes(job)
    assert (found.one.cabinet.id, found.other.cabinet.id) == ("cabinet1", "cabinet2")
    assert found.by == pytest.approx(2.0)


def test_cabinets_in_one_corner_clash_across_it() -> None:
    job = row(row(corner_room(), ("base", 30.0), start=90.0), ("base", 30.0), wall="wall102")
    (found,) = clashes(job)
    assert found.by == pytest.approx(24.0)


def test_a_narrow_space_between_neighbors_is_one() -> None:
    job = with_cabinets(
        wall_of(),
        cabinet(1, width=30.0),
        cabinet(2, along=31.5, width=30.0),
        cabinet(3, along=75.0, width=30.0),
    )
    (found,) = spaces(job)
    assert (found.left.cabinet.id, found.right.cabinet.id) == ("cabinet1", "cabinet2")
    assert found.width == 1.5


def test_a_cabinet_does_not_reach_past_an_inside_corner() -> None:
    job = with_cabinets(
        corner_room(), cabinet(1, along=90.0), cabinet(2, along=-2.0, wall="wall102")
    )
    assert [(o.plan.cabinet.id, o.side, o.by) for o in overruns(job)] == [
        ("cabinet1", "right", 6.0),
        ("cabinet2", "left", 2.0),
    ]


def test_a_cabinet_may_stand_past_a_wall_that_just_ends() -> None:
    job = with_cabinets(wall_of(), cabinet(1, along=100.0), cabinet(2, along=-10.0))
    assert overruns(job) == ()


# --- What tops take from them -----------------------------------------------------------------


def test_a_new_top_is_as_deep_as_the_bases_it_runs_over() -> None:
    job = wall_of()
    assert depth_on(job, "wall101") == job.defaults.depth
    shallow = with_cabinets(job, replace(cabinet(1), depth=21.0))
    fridge = replace(cabinet(2, "refrigerator", 40.0), depth=30.0)
    panel = replace(cabinet(3, "end-panel", 80.0, 0.75), depth=25.0)
    assert depth_on(with_cabinets(shallow, fridge, panel), "wall101") == 21.0
    assert depth_on(with_cabinets(job, panel), "wall101") == 25.0
    assert depth_on(with_cabinets(job, fridge), "wall101") == job.defaults.depth


def test_a_top_beside_a_range_ends_flush_and_hangs_over_elsewhere() -> None:
    job = row(wall_of(), ("base", 36.0), ("range", 30.0), ("base", 36.0))
    usual = job.defaults.end_overhang
    assert end_overhang(job, "wall101", 36.0, "right") == 0.0
    assert end_overhang(job, "wall101", 66.125, "left") == 0.0
    assert end_overhang(job, "wall101", 36.0, "left") == usual
    assert end_overhang(job, "wall101", 102.0, "right") == usual


@given(st.floats(1.0, 100.0), st.floats(1.0, 60.0), st.sampled_from(["left", "right"]))
def test_a_cabinet_is_as_wide_as_its_width_from_either_hook(
    along: float, width: float, hook: str
) -> None:
    made = replace(cabinet(1, along=along, width=width), hook=hook)
    (found,) = cabinet_plans(with_cabinets(wall_of(), made))
    a, b, c, d = found.corners
    assert distance(a, b) == pytest.approx(width)
    assert distance(b, c) == distance(a, d) == pytest.approx(24.0)
    assert along_from(found, found.left) == pytest.approx(along)
