"""Readings as observations, on a room whose true shape is known."""

import pytest
from msgspec.structs import replace

from geometry.frames import WallLine
from geometry.observations import Along, Offset
from shop import edits
from shop.job import Room
from shop.observing import (
    ReadingsError,
    carried,
    moves_points,
    nearest,
    network,
    observed,
    readings_of,
    stretched,
)
from shop.readings import (
    AngleReading,
    FaceReading,
    StationReading,
    StraightedgeReading,
    TieReading,
)
from tests.shop.kitchens import after, straight
from tests.shop.rooms import AT_LEFT, AT_RIGHT, STRING, WINDOW, closed, measured, read, with_string


def test_only_readings_of_corners_marks_and_baselines_are_observations() -> None:
    to_wall = StationReading("reading31", "baseline600", 80.0, 30.25)
    gap = StraightedgeReading("reading32", "wall101", 40.0, 0.25)
    face = FaceReading("reading33", "wall101", 40.0, 24.0)
    struck = replace(AT_RIGHT, struck=True)
    job = read(with_string(measured()), AT_LEFT, struck, to_wall, gap, face)
    net = network(job.room)
    assert [r.id for r in net.readings] == [*(f"reading{i}" for i in range(11, 17)), "reading21"]
    assert [moves_points(r) for r in (AT_LEFT, to_wall, gap, face)] == [True, False, False, False]
    assert list(observed(job.room, net.places, gap)) == []


def test_the_far_end_of_a_baseline_is_nobody_s_reading() -> None:
    net = network(read(with_string(measured()), AT_LEFT).room)
    gauge = net.parts.index(None)
    assert readings_of(net, (gauge, gauge + 1, gauge + 2)) == ("reading11", "reading12")
    every = tuple(range(len(net.parts)))
    assert readings_of(net, every)[-1] == "reading21"
    # A baseline that no corner ties is no part of the network.
    assert None not in network(with_string(measured()).room).parts


@pytest.mark.parametrize("hook", ["left", "right"])
def test_offsets_are_positive_toward_the_wall_from_either_hook(hook: str) -> None:
    job = read(with_string(closed(), hook), replace(AT_LEFT, value=31.0, station=2.0))
    net = network(job.room)
    across, along = (o for o, p in zip(net.observations, net.parts, strict=True) if p is not None)
    assert isinstance(across, Offset)
    assert across.value == (31.0 if hook == "left" else -31.0)
    assert isinstance(along, Along)
    assert along.value == 2.0
    zero, far = net.points[across.a], net.points[across.b]
    ends = ((0.0, 90.0), (160.0, 90.0))
    assert (zero, far) == (ends if hook == "left" else ends[::-1])


def test_a_baseline_before_a_wall_without_a_length_runs_to_the_right() -> None:
    bare = WallLine("wall102", (5.0, 5.0), (5.0, 5.0))
    assert stretched(STRING, bare) == ((5.0, -25.0), (6.0, -25.0))


def test_a_mark_drawn_on_its_corner_starts_beside_it() -> None:
    on_corner = replace(WINDOW, x=0.0, y=120.0)
    tie = TieReading("reading41", "mark700", "corner2", 12.0)
    net = network(read(after(closed(), edits.AddMark(on_corner)), tie).room)
    assert net.points[net.places["mark700"]] == (1.0, 121.0)


def test_an_angle_without_two_walls_cannot_be_used() -> None:
    loose = Room(
        straight().room.corners,
        straight().room.walls,
        readings=(AngleReading("reading1", "corner1", 90.0),),
    )
    with pytest.raises(ReadingsError, match="no two walls meet") as caught:
        network(loose)
    assert caught.value.readings == ("reading1",)


def test_what_is_drawn_beside_a_wall_is_carried_with_it() -> None:
    drawn = (
        WallLine("wall1", (0.0, 0.0), (100.0, 0.0)),
        WallLine("wall2", (0.0, 99.0), (0.0, 0.0)),
    )
    turned = (WallLine("wall1", (0.0, 0.0), (0.0, -120.0)), drawn[1])
    # 10 from the left corner, or 10 from the right one; 5 into the room, which is to the right.
    assert carried((10.0, -5.0), drawn, turned) == pytest.approx((-5.0, -10.0))
    assert carried((90.0, -5.0), drawn, turned) == pytest.approx((-5.0, -110.0))
    # Between the corners the wall is stretched, and back again.
    for along in (20.0, 40.0, 50.0, 61.0, 99.0, 104.0):
        there = carried((along, -5.0), drawn, turned)
        assert carried(there, turned, drawn) == pytest.approx((along, -5.0))
    assert carried((50.0, -5.0), drawn, turned) == pytest.approx((-5.0, -60.0))
    gone = (WallLine("wall1", (0.0, 0.0), (0.0, 0.0)), drawn[1])
    assert carried((90.0, -5.0), drawn, gone) == (90.0, -5.0)
    assert carried((1.0, 2.0), gone[:1], gone[:1]) == (1.0, 2.0)
    assert nearest((1.0, 2.0), ()) is None
