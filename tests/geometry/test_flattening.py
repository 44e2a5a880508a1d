"""Chords for arcs."""

from itertools import pairwise
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry import edges as exact
from geometry.edges import Edge
from geometry.flattening import flattened, ring
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline
from geometry.points import distance, middle

TAG = Tag(Kind.OPENING, EdgeRef("sink1", "cut"))


def test_a_line_keeps_its_two_ends() -> None:
    assert flattened(Edge((1.0, 2.0), (3.0, 4.0))) == [(1.0, 2.0), (3.0, 4.0)]


@pytest.mark.parametrize(("radius", "sagitta", "count"), [(3, 0.01, 39), (3, 0.001, 122)])
def test_a_circle_takes_the_chords_that_pi_over_acos_of_one_less_sagitta_over_radius_gives(
    radius: float, sagitta: float, count: int
) -> None:
    # ceil(pi / acos(1 - t / r)), plane trigonometry; two halves may take one more.
    circle = Outline(((-radius, 0.0), (radius, 0.0)), (1.0, 1.0), (TAG, TAG))
    assert len(ring(circle, sagitta)) - count in (0, 1)


def test_an_arc_smaller_than_the_sagitta_still_has_chords() -> None:
    assert len(flattened(Edge((0.0, 0.0), (1e-5, 0.0), 1.0))) == 2


@given(
    bulge=st.floats(-3.0, 3.0).filter(lambda b: abs(b) > 1e-3),
    sagitta=st.floats(1e-4, 0.1),
    chord=st.floats(0.5, 60.0),
)
def test_no_chord_strays_from_its_arc_by_more_than_the_sagitta(
    bulge: float, sagitta: float, chord: float
) -> None:
    arc = Edge((0.0, 0.0), (chord, 0.0), bulge)
    points = flattened(arc, sagitta)
    c, r = exact.center(arc), exact.radius(arc)
    for p, q in pairwise(points):
        assert distance(p, c) == pytest.approx(r, rel=1e-9)
        assert r - distance(middle(p, q), c) <= sagitta * (1 + 1e-6) + 1e-9
    assert points[0] == arc.start
    assert points[-1] == arc.end


def test_a_ring_does_not_repeat_its_first_point() -> None:
    half = Outline(((0.0, 0.0), (2.0, 0.0)), (0.0, 1.0), (TAG, TAG))
    points = ring(half, 0.01)
    assert points[0] == (0.0, 0.0)
    assert points[-1] != points[0]
    assert all(distance(p, (1.0, 0.0)) == pytest.approx(1.0) for p in points)
    assert pi / len(points) < 0.3
