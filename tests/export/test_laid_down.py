"""Sidewalls of an opened mold lie beside their edges, none over another."""

from itertools import combinations
from math import dist

import pytest
from msgspec.structs import replace
from shapely import Polygon

from export.laid_down import APART_IN, CLEAR_IN, corners, laid_down, polygon
from geometry import edges as exact
from shop import plan
from shop.job import Job
from shop.samples import sample_names
from tests.export.jobs import on_base, sample

JOBS = {
    **{name: sample(name) for name in sample_names()},
    "sides on the base": on_base("out-of-square"),
}


@pytest.mark.parametrize("job", JOBS)
def test_no_sidewall_lies_over_another_or_over_the_base(job: str) -> None:
    for mold in plan.molds(JOBS[job]):
        strips = zip(mold.strips, laid_down(mold), strict=True)
        shapes = [Polygon(corners(laid, strip)) for strip, laid in strips]
        base = polygon(mold.base)
        assert all(shape.distance(base) >= CLEAR_IN - 1e-9 for shape in shapes)
        for one, other in combinations(shapes, 2):
            assert one.distance(other) >= CLEAR_IN - 1e-9


@pytest.mark.parametrize("job", JOBS)
def test_a_sidewall_has_its_length_and_height_and_runs_as_its_edge_does(job: str) -> None:
    for mold in plan.molds(JOBS[job]):
        for strip, laid in zip(mold.strips, laid_down(mold), strict=True):
            a, b, _, d = corners(laid, strip)
            beyond = sum(max(end.back_extra_in, 0.0) for end in strip.ends)
            assert dist(a, d) == pytest.approx(strip.face_length_in + beyond)
            assert dist(a, b) == pytest.approx(strip.height_in)
            edge = mold.frame.edges[strip.edge]
            if exact.is_line(edge) and len(strip.edges) == 1:
                assert laid.way == pytest.approx(exact.direction_at(edge, 0.0))
            # Outside is at the right of a counter-clockwise edge: its height runs away from it.
            x, y = laid.way
            assert (b[0] - a[0]) * y - (b[1] - a[1]) * x == pytest.approx(strip.height_in)


def test_where_nothing_is_in_the_way_a_sidewall_lies_right_beside_its_edge() -> None:
    (mold,) = plan.molds(sample("galley"))
    for strip, laid in zip(mold.strips, laid_down(mold), strict=True):
        a, b = laid.edge
        foot = (
            laid.start[0] + laid.way[0] * strip.ends[0].face_extra_in,
            laid.start[1] + laid.way[1] * strip.ends[0].face_extra_in,
        )
        if strip.arc_radius is None:
            assert dist(a, foot) == pytest.approx(APART_IN)
        assert dist(a, b) <= strip.edge_length_in + 1e-9


def test_sidewalls_of_an_inside_corner_slide_apart_by_little() -> None:
    mold = next(mold for mold in plan.molds(sample("twelve-pieces")) if mold.piece == "F")
    moved = []
    for strip, laid in zip(mold.strips, laid_down(mold), strict=True):
        a, _ = laid.edge
        along = (laid.start[0] - a[0]) * laid.way[0] + (laid.start[1] - a[1]) * laid.way[1]
        moved.append(abs(along + strip.ends[0].face_extra_in))
    # One keeps clear of the base's other edge, the other of the first one.
    assert sum(shift > 0.1 for shift in moved) == 2
    assert max(moved) < 10.0


def narrow_notch() -> Job:
    """The notched sample with strips as high as there is hardly room for."""
    job = sample("out-of-square")
    return replace(job, thickness=11.0)


def test_where_there_is_no_room_at_all_sidewalls_still_have_a_place() -> None:
    for mold in plan.molds(narrow_notch()):
        assert len(laid_down(mold)) == len(mold.strips)
