"""The lengths that set a knockout, built anew as with a tape and a square on the base."""

from math import atan2, cos, degrees, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon
from shapely.affinity import rotate

from geometry.edges import direction_at, length
from geometry.flattening import ring
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, mirrored, rotated
from shop import plan
from shop.settings import Rule, Setting, edge_name, farthest, setting
from tests.export.jobs import sample
from tests.shop.mold_shapes import (
    BACK,
    CUT,
    END_2,
    FRONT,
    FRONT_2,
    LEFT,
    QUARTER,
    RIGHT,
    SEAM,
    WORDS,
    box,
    counter,
    ell,
    outline,
)

CIRCLE = outline(((30, 20), CUT), ((32, 20), CUT), bulges={0: -1.0, 1: -1.0})


def _set(shape: Outline, hole: Outline, *, partial: bool = False) -> Setting:
    made = setting(mirrored(shape), mirrored(hole), WORDS, partial=partial)
    assert made is not None
    return made


def test_a_parallel_sink_has_one_length_from_the_front_and_one_along_it() -> None:
    made = _set(counter(RIGHT), box(20, 5, 50, 20))
    # As installed 20 from the left end, which lies on the right in the mold.
    assert made.words == (
        f"{WORDS.length(5)} from the front; its nearer side {WORDS.length(20)} from the RIGHT"
        " sidewall, along the front"
    )
    ((foot, point),) = made.squares
    assert (foot, point) == ((-35.0, 0.0), (-35.0, 5.0))
    assert made.level == ((0.0, 0.0), (-20.0, 0.0))


def _rounded(width: float, depth: float, radius: float) -> Outline:
    w, d, r = width / 2.0, depth / 2.0, radius
    points = [(-w, r - d), (-w, d - r), (r - w, d), (w - r, d)]
    points += [(w, d - r), (w, r - d), (w - r, -d), (r - w, -d)]
    bulges = {1: -QUARTER, 3: -QUARTER, 5: -QUARTER, 7: -QUARTER}
    return outline(*((p, CUT) for p in points), bulges=bulges)


@given(st.floats(-30.0, 30.0), st.floats(0.0, 359.0), st.floats(0.5, 3.0))
def test_a_tilted_sink_is_where_tape_and_square_put_it(
    tilt: float, heading: float, radius: float
) -> None:
    """Rebuilt from the lengths alone, on a base whose ends are slanted, it lies where it should."""
    shape = outline(((0, 0), FRONT), ((90, 0), RIGHT), ((95, 40), BACK), ((-12, 40), LEFT))
    hole = _rounded(20, 10, radius)
    c, s = cos(radians(tilt)), sin(radians(tilt))
    moved = tuple((32 + c * x - s * y, 20 + s * x + c * y) for x, y in hole.vertices)
    hole = Outline(moved, hole.bulges, hole.tags)
    turn = radians(heading)
    frame, foam = mirrored(rotated(shape, turn)), mirrored(rotated(hole, turn))
    made = setting(frame, foam, WORDS, partial=False)
    assert made is not None
    assert frame.tags[made.edge] == FRONT
    edge = frame.edges[made.edge]
    base = LineString([edge.start, edge.end])
    solid = Polygon(ring(foam, 1e-4))
    for foot, point in made.squares:
        assert Point(foot).distance(base) < 1e-6
        assert Point(point).distance(base) == pytest.approx(Point(foot).distance(Point(point)))
        assert Point(point).distance(solid.exterior) < 1e-3
    assert made.level is not None
    corner, foot = made.level
    assert min(Point(corner).distance(Point(p)) for p in base.coords) < 1e-9
    # A square slid along the front from the corner first touches the foam over that foot.
    wide = 2.0 * length(edge)
    x, y = direction_at(edge, 0.5)
    reach = LineString([foot, (foot[0] - y * wide, foot[1] + x * wide)])
    assert reach.distance(solid) < 1e-3
    for back in (0.05, 5.0):
        to = [
            p + (q - p) * back / Point(foot).distance(Point(corner))
            for p, q in zip(foot, corner, strict=True)
        ]
        before = LineString([to, (to[0] - y * wide, to[1] + x * wide)])
        assert before.distance(solid) > 0.0
    if len(made.squares) == 2:
        (_, one), (_, other) = made.squares
        side = degrees(direction_between(one, other))
        level = rotate(solid, -side, origin=(0, 0))
        x0, y0, x1, y1 = level.bounds
        assert (x1 - x0, y1 - y0) == pytest.approx((20.0, 10.0), abs=1e-3)
        assert made.words.startswith(
            " and ".join(WORDS.length(Point(p).distance(base)) for _, p in made.squares)
        )


def direction_between(one: tuple[float, float], other: tuple[float, float]) -> float:
    return atan2(other[1] - one[1], other[0] - one[0])


def test_a_round_hole_is_set_by_its_middle_from_the_nearer_edge() -> None:
    made = _set(counter(RIGHT), CIRCLE)
    assert made.words == (
        f"middle {WORDS.length(5)} from the back; {WORDS.length(31)} from the RIGHT sidewall,"
        " along the back"
    )


def test_a_part_of_an_opening_stands_flush_with_its_seam() -> None:
    part = outline(((60, 5), CUT), ((60, 20), CUT), ((72, 20), SEAM), ((72, 5), CUT))
    made = _set(counter(), part, partial=True)
    assert made.words == f"{WORDS.length(5)} from the front; flush with the seam's sidewall"
    assert made.level is None


def test_a_shape_without_a_side_along_the_front_is_taped_at_its_nearest_point() -> None:
    slot = outline(
        ((30, 8), CUT), ((30, 16), CUT), ((33, 16), CUT), ((33, 8), CUT), bulges={1: -1.0, 3: -1.0}
    )
    ((_, point),) = _set(counter(), slot).squares
    assert point == pytest.approx((-31.5, 6.5))


def test_a_part_whose_near_side_is_cut_away_is_taped_at_its_nearest_point() -> None:
    part = outline(((30, 5), SEAM), ((30, 12), CUT), ((36, 12), CUT))
    ((_, point),) = _set(counter(), part, partial=True).squares
    assert point == (-30.0, 5.0)


def test_where_a_corner_is_rounded_it_is_taped_from_the_other_end_or_says_so() -> None:
    rounding = Tag(Kind.CORNER, EdgeRef("leg1", "start"))
    one = outline(
        ((4, 0), FRONT), ((70, 0), RIGHT), ((70, 25), BACK), ((0, 25), LEFT), ((0, 4), rounding),
        bulges={4: QUARTER},
    )  # fmt: skip
    hole = box(10, 5, 30, 20)
    assert f"{WORDS.length(40)} from the LEFT sidewall" in _set(one, hole).words
    both = outline(
        ((4, 0), FRONT), ((66, 0), rounding), ((70, 4), RIGHT), ((70, 25), BACK), ((0, 25), LEFT),
        ((0, 4), rounding), bulges={1: QUARTER, 5: QUARTER},
    )  # fmt: skip
    said = _set(both, hole).words
    assert f"{WORDS.length(6)} from the end of its straight part on your RIGHT" in said


def test_an_opening_in_the_leg_of_an_l_is_taped_from_the_front_of_the_leg() -> None:
    said = _set(ell(), box(76, -30, 90, -10)).words
    assert said == (
        f"{WORDS.length(6)} from the front; its nearer side {WORDS.length(10)} from the right end"
        " sidewall, along the front"
    )


def test_between_an_inside_corner_and_a_rounding_the_inside_corner_is_named() -> None:
    clip = Tag(Kind.CORNER, EdgeRef("leg2", "end"))
    shape = outline(
        ((4, 0), FRONT), ((70, 0), FRONT_2), ((70, -36), clip), ((74, -40), END_2),
        ((95, -40), BACK), ((95, 25), BACK), ((0, 25), LEFT), ((0, 4), clip),
    )  # fmt: skip
    said = _set(shape, box(40, 5, 60, 20)).words
    assert f"{WORDS.length(10)} from the inside corner on your LEFT" in said
    said = _set(shape, box(76, -20, 90, -10)).words
    assert f"{WORDS.length(10)} from the inside corner at the front" in said


def test_without_an_edge_all_along_it_there_is_no_setting() -> None:
    disk = outline(((-20, 0), FRONT), ((20, 0), FRONT), bulges={0: 1.0, 1: 1.0})
    assert setting(disk, mirrored(box(-3, -3, 3, 3)), WORDS, partial=False) is None


def test_an_island_s_side_is_called_by_its_number() -> None:
    side = Tag(Kind.FRONT, EdgeRef("island1", "1"))
    shape = outline(((0, 0), side), ((9, 0), BACK), ((9, 9), LEFT))
    assert edge_name(shape, 0, WORDS) == "side 1"
    assert edge_name(shape, 2, WORDS) == "the left end"


def test_the_farthest_point_may_lie_on_an_arc() -> None:
    assert farthest(CIRCLE, (0.0, 1.0)) == pytest.approx((31.0, 21.0))
    assert Rule(counter(), 0).holds((5.0, 1.0))
    assert not Rule(counter(), 0).holds((5.0, -1.0))


def test_where_a_rounding_ends_a_side_no_inside_corner_is_named() -> None:
    (sink, *_) = plan.mold(sample("round-island"), "A").knockouts
    assert sink.setting is not None
    assert "from the end of its straight part on your RIGHT" in sink.setting.words
