"""Outlines grown and shrunk, every edge square to itself."""

from math import atan, cos, pi, radians, tan

import pytest
from hypothesis import assume, given, reject, settings
from hypothesis import strategies as st

from geometry.edges import center, is_line, point_at, radius
from geometry.naming import EdgeRef, GeometryError
from geometry.offsetting import offset, offset_each
from geometry.outline import (
    Outline,
    area,
    backward,
    interior_angle_rad,
    mirrored,
    perimeter,
)
from geometry.points import cross, distance, minus
from tests.shapes import (
    DISC,
    L_TOP,
    ROUNDED,
    SLOT,
    U_TOP,
    bowed_outlines,
    named,
    outlines,
    polygon,
    rectangle,
    rounded,
    smooth_outlines,
)

amounts = st.floats(-3.0, 3.0)


def grown(outline: Outline, by_in: float) -> Outline:
    """The offset, where there is one."""
    try:
        return offset(outline, by_in)
    except GeometryError:
        reject()


def same(one: Outline, other: Outline, within: float = 1e-7) -> bool:
    return (
        one.tags == other.tags
        and all(distance(a, b) < within for a, b in zip(one.vertices, other.vertices, strict=True))
        and one.bulges == pytest.approx(other.bulges, abs=within)
    )


@given(outlines, amounts)
def test_there_and_back_is_where_it_was(outline: Outline, by_in: float) -> None:
    assert same(offset(grown(outline, by_in), -by_in), outline)


@given(outlines)
def test_moving_by_nothing_changes_nothing(outline: Outline) -> None:
    assert same(offset(outline, 0.0), outline, 1e-9)


@given(outlines, amounts, amounts)
def test_two_steps_are_one(outline: Outline, first: float, second: float) -> None:
    whole = grown(outline, first + second)
    assert same(grown(grown(outline, first), second), whole, 1e-6)


@given(outlines, amounts)
def test_face_down_it_grows_alike(outline: Outline, by_in: float) -> None:
    assert same(mirrored(grown(outline, by_in)), offset(mirrored(outline), by_in))


@given(outlines, amounts)
def test_every_edge_lies_its_distance_beside_the_old_one(outline: Outline, by_in: float) -> None:
    for old, new in zip(outline.edges, grown(outline, by_in).edges, strict=True):
        if is_line(old):
            for p in (new.start, new.end):
                off = cross(minus(old.end, old.start), minus(p, old.start))
                assert off / distance(old.start, old.end) == pytest.approx(-by_in, abs=1e-8)
        else:
            sense = 1.0 if old.bulge > 0.0 else -1.0
            assert radius(new) == pytest.approx(radius(old) + sense * by_in, abs=1e-7)
            assert distance(center(new), center(old)) < 1e-6


@given(smooth_outlines, amounts)
def test_a_smooth_outline_grows_by_steiners_formula_with_mitres(
    outline: Outline, by_in: float
) -> None:
    # A + P d + d^2 (sum tan(exterior angle / 2) at corners + sum of half the turns of arcs).
    new = grown(outline, by_in)
    corners = sum(
        tan((pi - interior_angle_rad(outline, i)) / 2.0) for i in range(len(outline.edges))
    )
    arcs = sum(2.0 * atan(bulge) for bulge in outline.bulges)
    expected = area(outline) + perimeter(outline) * by_in + by_in**2 * (corners + arcs)
    assert area(new) == pytest.approx(expected, rel=1e-9)


@settings(deadline=None, max_examples=60)
@given(
    st.one_of(st.tuples(smooth_outlines, amounts), st.tuples(bowed_outlines, st.floats(-3.0, 0.0)))
)
def test_the_polygon_library_grows_it_alike_within_its_chords(case: tuple[Outline, float]) -> None:
    # Arcs that end in a corner are only shrunk: grown, they go on round and the chords do not.
    outline, by_in = case
    new = grown(outline, by_in)
    # Where an arc's radius grows many times over, so does the error of its chords.
    assume(
        all(
            radius(b) < 3.0 * radius(a)
            for a, b in zip(outline.edges, new.edges, strict=True)
            if not is_line(a)
        )
    )
    other = polygon(outline, 1e-4).buffer(by_in, join_style="mitre", mitre_limit=100.0)
    apart = other.symmetric_difference(polygon(new, 1e-5)).area
    assert apart < 3e-3 * perimeter(new)
    assert other.area == pytest.approx(area(new), abs=1.5e-3 * perimeter(new))


@given(outlines, st.floats(0.01, 3.0))
def test_a_clockwise_outline_shrinks_when_moved_to_its_right(
    outline: Outline, by_in: float
) -> None:
    inner = grown(outline, -by_in)
    assert same(backward(offset(backward(outline), by_in)), inner)


def test_each_edge_of_a_rectangle_can_go_its_own_way() -> None:
    wider = offset_each(rectangle(10.0, 5.0), (1.0, 0.0, 2.0, -0.5))
    expected = ((0.5, -1.0), (10.0, -1.0), (10.0, 7.0), (0.5, 7.0))
    assert list(wider.vertices) == [pytest.approx(p) for p in expected]


def test_one_distance_is_wanted_for_each_edge() -> None:
    with pytest.raises(ValueError, match="zip"):
        offset_each(L_TOP, (1.0, 2.0))


@pytest.mark.parametrize(("smaller", "larger"), [(0.2, 1.7), (-1.7, 0.6)])
def test_an_arc_and_a_line_that_meet_at_an_angle_go_their_own_ways(
    smaller: float, larger: float
) -> None:
    # A half circle of radius 5 on its diameter: the circle grows about its center, the line moves
    # parallel; they meet where a right triangle says.
    half = named(((-5.0, 0.0), (5.0, 0.0)), (0.0, 1.0))
    new = offset_each(half, (smaller, larger))
    reach = ((5.0 + larger) ** 2 - smaller**2) ** 0.5
    assert new.vertices[0] == pytest.approx((-reach, -smaller))
    assert new.vertices[1] == pytest.approx((reach, -smaller))
    assert point_at(new.edges[1], 0.5) == pytest.approx((0.0, 5.0 + larger))


def test_two_arcs_meet_again_on_the_same_side() -> None:
    # A lens of two arcs of radius 5 about (0, 3) and (0, -3): its points lie at x = 4.
    lens = named(((-4.0, 0.0), (4.0, 0.0)), (0.5, 0.5))
    reach = (6.5**2 - 3.0**2) ** 0.5
    new = offset(lens, 1.5)
    assert new.vertices[0] == pytest.approx((-reach, 0.0))
    assert new.vertices[1] == pytest.approx((reach, 0.0))


def test_a_stretch_cut_in_two_goes_on_straight() -> None:
    parts = named(((0.0, 0.0), (4.0, 0.0), (9.0, 0.0), (9.0, 5.0), (0.0, 5.0)))
    assert offset(parts, 1.0).vertices[1] == pytest.approx((4.0, -1.0))


def bent(turn_deg: float) -> Outline:
    """A slab whose front turns by so much in its middle."""
    drop = 50.0 * tan(radians(turn_deg / 2.0))
    return named(((0.0, 0.0), (50.0, -drop), (100.0, 0.0), (100.0, 25.0), (0.0, 25.0)))


@pytest.mark.parametrize("turn_deg", [0.0, 1e-5, 0.1, 1.0, 4.9])
def test_almost_straight_neighbors_meet_close_to_their_corner(turn_deg: float) -> None:
    # The mitre reaches d / cos(half the turn) from the corner.
    x, y = bent(turn_deg).vertices[1]
    reach = 1.0 / cos(radians(turn_deg / 2.0))
    assert offset(bent(turn_deg), 1.0).vertices[1] == pytest.approx((x, y - reach), abs=1e-8)


@pytest.mark.parametrize("turn_deg", [0.0, 1e-5, 0.1, 1.0, 4.9])
def test_almost_straight_neighbors_cannot_go_their_own_ways(turn_deg: float) -> None:
    with pytest.raises(GeometryError, match="almost straight") as caught:
        offset_each(bent(turn_deg), (1.0, 0.5, 1.0, 1.0, 1.0))
    assert caught.value.code == "no-corner"
    assert caught.value.about == EdgeRef("island1", "1")


def test_neighbors_bent_by_more_than_that_go_their_own_ways() -> None:
    new = offset_each(bent(6.0), (1.0, 0.5, 1.0, 1.0, 1.0))
    for i, off in ((0, 1.0), (1, 0.5)):
        a, b = bent(6.0).edges[i][:2]
        for p in new.edges[i][:2]:
            square = cross(minus(b, a), minus(p, a)) / distance(a, b)
            assert square == pytest.approx(-off, abs=1e-9)


@pytest.mark.parametrize(
    ("outline", "by_in", "code", "side"),
    [
        (ROUNDED, -3.0, "edge-vanishes", "0"),
        (DISC, -1.5, "edge-vanishes", "0"),
        (SLOT, -2.0, "edge-vanishes", "1"),
        (rectangle(10.0, 4.0), -2.0, "edge-vanishes", "1"),
        (rectangle(10.0, 4.0), -2.5, "edge-flips", "1"),
        # The inside round of an L grown past its radius.
        (
            rounded(L_TOP.vertices, (0.0, 0.0, 0.0, 2.0, 0.0, 0.0)),
            2.5,
            "edge-vanishes",
            "3",
        ),
        # A segment shrunk past its rise: the circle no longer reaches the line.
        (named(((-3.0, -4.0), (3.0, -4.0)), (0.0, 1.0 / 3.0)), -0.6, "edge-vanishes", "0"),
        (named(((-3.0, 4.0), (3.0, 4.0)), (0.0, 3.0)), -4.6, "edge-vanishes", "0"),
    ],
)
def test_what_vanishes_or_turns_round_is_named(
    outline: Outline, by_in: float, code: str, side: str
) -> None:
    with pytest.raises(GeometryError) as caught:
        offset(outline, by_in)
    assert (caught.value.code, caught.value.about) == (code, EdgeRef("island1", side))


def test_arms_that_grow_into_each_other_are_refused() -> None:
    with pytest.raises(GeometryError) as caught:
        offset(U_TOP, 21.0)
    assert caught.value.code == "edge-vanishes"
    narrow = named(
        (
            (0.0, 0.0),
            (20.0, 0.0),
            (20.0, 9.0),
            (12.0, 1.0),
            (11.0, 9.0),
            (9.0, 9.0),
            (8.0, 1.0),
            (0.0, 9.0),
        )
    )
    with pytest.raises(GeometryError) as caught:
        offset(narrow, -0.7)
    assert caught.value.code == "crosses-itself"
