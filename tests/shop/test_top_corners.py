"""Corners of tops: where they are, and what shape goes through a point."""

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.counters import ClippedCorner, Island, OnBoard, RoundCorner
from geometry.edges import point_at
from geometry.naming import CornerRef, EdgeRef, corner_ref
from geometry.points import distance
from shop import edits, plan
from shop.applying import applied
from shop.job import Job
from shop.jobfile import read_job
from shop.samples import sample_names, sample_path
from shop.top_corners import (
    corner_of,
    largest_size,
    middle_of_shape,
    shape_of,
    size_of,
    size_through,
    sized,
    top_corners,
)

ISLAND = Island("island1", 60.0, 40.0, OnBoard(0.0, 0.0))
JOB = applied(Job("Test"), edits.AddIsland(ISLAND))


def corner(a: str, b: str) -> CornerRef:
    return corner_ref(EdgeRef("island1", a), EdgeRef("island1", b))


def test_a_rectangle_has_four_square_corners() -> None:
    found = top_corners(JOB)
    assert [c.vertex for c in found] == [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
    assert all(c.half_rad == pytest.approx(pi / 4.0) for c in found)
    assert found[0].inward == pytest.approx((sqrt(0.5), sqrt(0.5)))


def test_a_corner_is_found_where_it_was_before_it_was_shaped() -> None:
    ref = corner("1", "2")
    job = applied(JOB, edits.ShapeCorner(ref, RoundCorner(ref, 5.0)))
    found = corner_of(job, ref)
    assert found is not None
    assert found.vertex == (60.0, 0.0)
    assert corner_of(job, corner("1", "3")) is None


@pytest.mark.parametrize("shape", [RoundCorner, ClippedCorner])
def test_the_middle_of_a_shape_lies_on_the_outline(
    shape: type[RoundCorner] | type[ClippedCorner],
) -> None:
    ref = corner("1", "2")
    made = shape(ref, 5.0)
    job = applied(JOB, edits.ShapeCorner(ref, made))
    found = corner_of(job, ref)
    assert found is not None
    outline = plan.tops(job)[0].top.outline
    edge = outline.edges[[tag.ref for tag in outline.tags].index(ref)]
    middle = middle_of_shape(found, shape_of(job, ref))
    assert distance(middle, point_at(edge, 0.5)) < 1e-9
    assert size_through(found, made, middle) == pytest.approx(5.0)
    assert middle_of_shape(found, None) == found.vertex
    assert size_of(sized(made, 7.0)) == 7.0


@pytest.mark.parametrize("shape", [RoundCorner, ClippedCorner])
def test_the_largest_shape_takes_all_of_the_shorter_side(
    shape: type[RoundCorner] | type[ClippedCorner],
) -> None:
    ref = corner("1", "2")
    found = corner_of(JOB, ref)
    assert found is not None
    most = largest_size(found, shape(ref, 1.0))
    assert most == pytest.approx(found.shorter_in)
    for size, faults in ((most, 0), (most + 0.1, 1)):
        job = applied(JOB, edits.ShapeCorner(ref, shape(ref, size)))
        assert len(plan.layout(job).faults) == faults


@given(st.floats(0.1, 19.0), st.booleans())
def test_a_shape_through_its_own_middle_has_its_own_size(size: float, clip: bool) -> None:
    ref = corner("3", "4")
    found = corner_of(JOB, ref)
    assert found is not None
    made = ClippedCorner(ref, size) if clip else RoundCorner(ref, size)
    assert size_through(found, made, middle_of_shape(found, made)) == pytest.approx(size)
    assert size_through(found, made, (-50.0, 90.0)) == 0.0


@pytest.mark.parametrize("name", sample_names())
def test_every_corner_shape_of_a_sample_is_at_a_corner(name: str) -> None:
    job = read_job(sample_path(name))
    known = {c.ref for c in top_corners(job)}
    assert {shape.corner for shape in job.corner_shapes} <= known
