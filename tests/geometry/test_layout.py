"""Runs and islands against laws of the room, closed forms and shapely."""

from math import atan2, cos, degrees, isclose, pi, radians, sin, sqrt, tan
from typing import Literal

import msgspec
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.ops import split as cut

from geometry.counters import (
    ClippedCorner,
    CornerShape,
    FromWalls,
    Island,
    Leg,
    OnBoard,
    RoundCorner,
    Run,
    RunEnd,
    SquareEnd,
    WallEnd,
)
from geometry.edges import Edge, direction_at, length
from geometry.frames import (
    LegFrame,
    Top,
    WallLine,
    along_of,
    back_direction,
    back_point,
    frame_of,
    into_room,
    wall_direction,
    wall_mark,
)
from geometry.islands import island_top
from geometry.layout import run_top
from geometry.lengths import INCHES, LengthStyle
from geometry.naming import (
    CornerRef,
    EdgeRef,
    GeometryError,
    Kind,
    Tag,
    corner_ref,
)
from geometry.outline import (
    Outline,
    area,
    bounding_box,
    interior_angle_rad,
    mirrored,
    perimeter,
)
from geometry.points import (
    Point,
    along,
    cross,
    distance,
    dot,
    minus,
    mirrored_point,
    plus,
    turned,
)
from tests.strategies import Walls, clearances, depths, room, rooms, runs, walls_through

AS_DRAWN = 1e-9


def off_line(wall: WallLine, point: Point) -> float:
    """How far a point lies from a wall's line, into the room positive."""
    return dot(minus(point, wall.left), into_room(wall))


def leg_frames(top: Top) -> list[LegFrame]:
    return [frame for frame in top.frames if isinstance(frame, LegFrame)]


def fault(run: Run, walls: Walls, *shapes: CornerShape) -> tuple[str, object]:
    with pytest.raises(GeometryError) as caught:
        run_top(run, walls, shapes)
    assert str(caught.value).endswith(".")
    return caught.value.code, caught.value.about


def island_fault(island: Island, walls: Walls, *shapes: CornerShape) -> tuple[str, object]:
    with pytest.raises(GeometryError) as caught:
        island_top(island, walls, shapes)
    assert str(caught.value).endswith(".")
    return caught.value.code, caught.value.about


def ref(owner: str, side: str) -> EdgeRef:
    return EdgeRef(owner, side)


STRAIGHT = Run(
    "run1",
    (Leg("leg1", "wall2"),),
    SquareEnd(10.0, "left", 1.0),
    SquareEnd(20.0, "right", 1.0),
)
L_RUN = Run("run1", (Leg("leg1", "wall1"), Leg("leg2", "wall2")), WallEnd(0.25), WallEnd(0.25))
U_RUN = Run(
    "run1",
    (Leg("leg1", "wall1"), Leg("leg2", "wall2"), Leg("leg3", "wall3")),
    SquareEnd(10.0),
    SquareEnd(20.0, "right"),
)


def test_a_straight_run_in_a_square_room_has_the_size_that_its_numbers_say() -> None:
    top = run_top(STRAIGHT, room(), ())
    assert bounding_box(top.outline) == pytest.approx(
        (9.0, 100.0 - 25.5, 101.0, 100.0 - 0.125), abs=AS_DRAWN
    )
    assert area(top.outline) == pytest.approx(92.0 * 25.375, rel=1e-12)


def test_an_outline_starts_at_the_left_of_the_front_and_every_side_has_its_name() -> None:
    top = run_top(U_RUN, room(), ())
    assert top.outline.tags == (
        Tag(Kind.FRONT, ref("leg1", "front")),
        Tag(Kind.FRONT, ref("leg2", "front")),
        Tag(Kind.FRONT, ref("leg3", "front")),
        Tag(Kind.END, ref("leg3", "end")),
        Tag(Kind.BACK, ref("leg3", "back")),
        Tag(Kind.BACK, ref("leg2", "back")),
        Tag(Kind.BACK, ref("leg1", "back")),
        Tag(Kind.END, ref("leg1", "start")),
    )
    assert top.outline.vertices[0] == pytest.approx((25.5, 10.0))


def test_an_l_covers_both_legs_less_the_square_that_they_share() -> None:
    top = run_top(L_RUN, room(), ())
    w, h = 120.0 - 0.125 - 0.25, 100.0 - 0.125 - 0.25
    assert area(top.outline) == pytest.approx(25.375 * (w + h) - 25.375**2, rel=1e-12)


def test_a_galley_is_two_runs_that_keep_the_aisle_between_them() -> None:
    walls = room(110.0, 90.0)
    one = Run("run1", (Leg("leg1", "wall1"),), WallEnd(), WallEnd())
    other = Run("run2", (Leg("leg2", "wall3"),), WallEnd(), WallEnd())
    a = bounding_box(run_top(one, walls, ()).outline)
    b = bounding_box(run_top(other, walls, ()).outline)
    assert b[0] - a[2] == pytest.approx(110.0 - 2 * 25.5)


@given(runs(), rooms())
def test_clearances_pieces_and_free_ends_add_up_to_every_wall(run: Run, walls: Walls) -> None:
    """On a line c from a wall, a neighbor's line moved by e leaves c cot(a) + e / sin(a)."""
    top = run_top(run, walls, ())
    for i, (leg, frame) in enumerate(zip(run.legs, leg_frames(top), strict=True)):
        wall = walls[leg.wall]
        total = length(frame.back)
        sides: tuple[tuple[RunEnd | Leg, str, bool], ...] = (
            (run.left if i == 0 else run.legs[i - 1], f"wall{(i - 1) % 4 + 1}", True),
            (
                run.right if leg is run.legs[-1] else run.legs[i + 1],
                f"wall{(i + 1) % 4 + 1}",
                False,
            ),
        )
        for beside, neighbor, is_left in sides:
            if isinstance(beside, SquareEnd):
                total += beside.along - beside.overhang
                continue
            one, two = wall_direction(walls[neighbor]), wall_direction(wall)
            turn = atan2(cross(one, two), dot(one, two))
            angle = pi + (turn if is_left else -turn)
            total += leg.clearance / tan(angle) + beside.clearance / sin(angle)
        assert total == pytest.approx(distance(wall.left, wall.right), abs=AS_DRAWN)


@given(runs(), rooms())
def test_backs_keep_their_clearance_and_fronts_their_depth_at_the_stretchs_ends(
    run: Run, walls: Walls
) -> None:
    top = run_top(run, walls, ())
    for leg, frame in zip(run.legs, leg_frames(top), strict=True):
        wall = walls[leg.wall]
        for point in (frame.back.start, frame.back.end):
            assert off_line(wall, point) == pytest.approx(leg.clearance, abs=AS_DRAWN)
        left, right = wall.left, wall.right
        if leg is run.legs[0] and isinstance(run.left, SquareEnd):
            left = wall_mark(wall, run.left.along)
        if leg is run.legs[-1] and isinstance(run.right, SquareEnd):
            right = wall_mark(wall, run.right.along, "right")
        way = direction_at(frame.front, 0.0)
        for mark, depth in ((left, leg.depth_left), (right, leg.depth_right)):
            on_front = along(mark, into_room(wall), depth + leg.overhang)
            assert cross(minus(on_front, frame.front.start), way) == pytest.approx(
                0.0, abs=AS_DRAWN
            )


@given(runs(), rooms())
def test_ends_are_square_to_the_front_or_keep_their_clearance_from_the_wall(
    run: Run, walls: Walls
) -> None:
    top = run_top(run, walls, ())
    first, last = leg_frames(top)[0], leg_frames(top)[-1]
    neighbors = (walls["wall4"], walls[f"wall{len(run.legs) + 1}"])
    for end, frame, back, front, wall, hook in (
        (run.left, first, first.back.start, first.front.start, neighbors[0], "left"),
        (run.right, last, last.back.end, last.front.end, neighbors[1], "right"),
    ):
        if isinstance(end, WallEnd):
            for point in (back, front):
                assert off_line(wall, point) == pytest.approx(end.clearance, abs=AS_DRAWN)
        else:
            way = minus(back, front)
            assert dot(way, direction_at(frame.front, 0.0)) == pytest.approx(0.0, abs=AS_DRAWN)
            assert hook in ("left", "right")
            measured = along_of(frame.wall, back, "left" if hook == "left" else "right")
            assert measured == pytest.approx(end.along - end.overhang, abs=AS_DRAWN)


@given(runs(), rooms())
def test_shapely_finds_the_same_area_when_it_cuts_the_room(run: Run, walls: Walls) -> None:
    """Shapely as the oracle: the outline is valid, and lies in the room by its signed area."""
    top = run_top(run, walls, ())
    polygon = Polygon(top.outline.vertices)
    assert polygon.is_valid
    assert area(top.outline) == pytest.approx(polygon.area, rel=1e-12)
    if isinstance(run.left, WallEnd) and isinstance(run.right, WallEnd):
        whole = Polygon([wall.left for wall in walls.values()])
        assert whole.buffer(1e-6).contains(polygon)


@given(rooms(), depths, depths, clearances)
def test_a_leg_from_wall_to_wall_is_what_its_lines_cut_from_the_room(
    walls: Walls, left: float, right: float, clearance: float
) -> None:
    """Shapely's own splitting of the room by four lines, none of which comes from the layout."""
    assume(clearance == 0.0 or clearance > 1e-3)
    run = Run(
        "run1",
        (Leg("leg1", "wall2", left, right, 0.0, clearance),),
        WallEnd(clearance),
        WallEnd(clearance),
    )
    whole = Polygon([wall.left for wall in walls.values()])
    inner = whole.buffer(-clearance, join_style="mitre") if clearance else whole
    wall = walls["wall2"]
    ends = [
        along(wall.left, into_room(wall), left),
        along(wall.right, into_room(wall), right),
    ]
    way = minus(ends[1], ends[0])
    line = LineString([plus(ends[0], (-way[0], -way[1])), plus(ends[1], way)])
    middle = along(wall_mark(wall, 0.0, "middle"), into_room(wall), 10.0)
    parts = list(cut(inner, line).geoms)
    near = min(parts, key=lambda part: distance((part.centroid.x, part.centroid.y), middle))
    assert area(run_top(run, walls, ()).outline) == pytest.approx(near.area, rel=1e-7)


def mirrored_walls(walls: Walls) -> Walls:
    return {
        name: WallLine(name, mirrored_point(wall.right), mirrored_point(wall.left))
        for name, wall in walls.items()
    }


def mirrored_end(end: RunEnd) -> RunEnd:
    if isinstance(end, WallEnd):
        return end
    return SquareEnd(end.along, "right" if end.hook == "left" else "left", end.overhang)


def mirrored_run(run: Run) -> Run:
    legs = tuple(
        Leg(
            leg.id,
            leg.wall,
            leg.depth_right,
            leg.depth_left,
            leg.overhang,
            leg.clearance,
        )
        for leg in reversed(run.legs)
    )
    return Run(run.id, legs, mirrored_end(run.right), mirrored_end(run.left))


def other_hand(one: EdgeRef) -> EdgeRef:
    side = {"start": "end", "end": "start"}.get(one.side, one.side)
    return EdgeRef(one.owner, side)


def other_hand_tag(tag: Tag) -> Tag:
    if isinstance(tag.ref, CornerRef):
        return Tag(tag.kind, corner_ref(other_hand(tag.ref.a), other_hand(tag.ref.b)), tag.part)
    return Tag(tag.kind, other_hand(tag.ref), tag.part)


@given(runs(), rooms(), st.floats(0.5, 4.0), st.floats(0.5, 4.0))
def test_a_mirrored_room_gives_the_mirrored_top(
    run: Run, walls: Walls, radius: float, setback: float
) -> None:
    first, last = run.legs[0].id, run.legs[-1].id
    corners = (
        corner_ref(ref(first, "front"), ref(first, "start")),
        corner_ref(ref(last, "front"), ref(last, "end")),
    )
    top = run_top(
        run,
        walls,
        (RoundCorner(corners[0], radius), ClippedCorner(corners[1], setback)),
    )
    swapped = [corner_ref(other_hand(corner.a), other_hand(corner.b)) for corner in corners]
    other = run_top(
        mirrored_run(run),
        mirrored_walls(walls),
        (RoundCorner(swapped[0], radius), ClippedCorner(swapped[1], setback)),
    )
    expected = mirrored(top.outline)
    tags = [other_hand_tag(tag) for tag in expected.tags]
    assert sorted(map(repr, tags)) == sorted(map(repr, other.outline.tags))
    for i, tag in enumerate(other.outline.tags):
        j = tags.index(tag)
        assert distance(other.outline.vertices[i], expected.vertices[j]) < 1e-8
        assert isclose(other.outline.bulges[i], expected.bulges[j], abs_tol=1e-9)


def bent(turn_deg: float, reach: float = 200.0) -> Walls:
    """Two walls that share a corner; the second turns by so much, to the right when negative."""
    way = turned((1.0, 0.0), radians(turn_deg))
    return walls_through([(-reach, 0.0), (0.0, 0.0), (way[0] * reach, way[1] * reach)])


def two_legs(**changed: float) -> Run:
    second = msgspec.structs.replace(Leg("leg2", "wall2"), **changed)
    return Run(
        "run1",
        (Leg("leg1", "wall1"), second),
        SquareEnd(20.0),
        SquareEnd(20.0, "right"),
    )


@given(st.floats(-130.0, 130.0), depths, clearances)
def test_legs_meet_at_the_depth_of_both_at_inside_outside_and_straight_corners(
    turn: float, depth: float, clearance: float
) -> None:
    assume(abs(turn) > 5.0 or clearance < 0.25)
    run = Run(
        "run1",
        (
            Leg("leg1", "wall1", depth, depth),
            Leg("leg2", "wall2", depth, depth, clearance=0.125),
        ),
        SquareEnd(20.0),
        SquareEnd(20.0, "right"),
    )
    walls = bent(turn)
    one, other = leg_frames(run_top(run, walls, ()))
    for wall in walls.values():
        assert off_line(wall, one.front.end) == pytest.approx(depth + 1.5, abs=1e-6)
        assert off_line(wall, one.back.end) == pytest.approx(0.125, abs=1e-6)
    assert (one.front.end, one.back.end) == (other.front.start, other.back.start)


def test_the_fronts_of_an_outside_corner_meet_beyond_the_backs() -> None:
    top = run_top(two_legs(), bent(90.0), ())
    one, _ = leg_frames(top)
    assert one.back.end == pytest.approx((0.125, -0.125))
    assert one.front.end == pytest.approx((25.5, -25.5))
    assert sorted(round(degrees(interior_angle_rad(top.outline, i))) for i in range(6)) == [
        90,
        90,
        90,
        90,
        90,
        270,
    ]


def test_legs_in_line_join_straight_at_the_walls_corner() -> None:
    top = run_top(two_legs(), bent(0.0), ())
    assert len(top.outline.vertices) == 6
    assert area(top.outline) == pytest.approx(360.0 * 25.375, rel=1e-12)
    assert leg_frames(top)[0].front.end == pytest.approx((0.0, -25.5))


@pytest.mark.parametrize("turn", [0.0, 1.0, -1.0])
@pytest.mark.parametrize("changed", [{"depth_left": 30.0}, {"clearance": 2.0}])
def test_a_step_between_legs_in_line_is_refused(turn: float, changed: dict[str, float]) -> None:
    assert fault(two_legs(**changed), bent(turn)) == ("legs-in-line", "leg2")


def test_a_leg_that_folds_back_onto_the_one_before_is_refused() -> None:
    assert fault(two_legs(), bent(180.0)) == ("legs-in-line", "leg2")


def test_a_deeper_leg_around_a_real_corner_meets_its_neighbor_there() -> None:
    one, _ = leg_frames(run_top(two_legs(depth_left=30.0, depth_right=30.0), bent(-90.0), ()))
    assert one.front.end == pytest.approx((-31.5, -25.5))


def test_legs_on_walls_that_share_no_corner_are_refused() -> None:
    run = Run(
        "run1",
        (Leg("leg1", "wall1"), Leg("leg2", "wall3")),
        SquareEnd(10.0),
        SquareEnd(10.0, "right"),
    )
    assert fault(run, room()) == ("walls-apart", "leg2")


def test_a_leg_on_a_wall_that_is_not_there_is_refused() -> None:
    run = Run("run1", (Leg("leg1", "wall9"),), WallEnd(), WallEnd())
    assert fault(run, room()) == ("missing-wall", "leg1")


def test_a_leg_on_a_wall_without_length_is_refused() -> None:
    walls = {"wall2": WallLine("wall2", (1.0, 1.0), (1.0, 1.0))}
    assert fault(STRAIGHT, walls) == ("no-length", "leg1")


def test_ends_that_pass_each_other_are_refused() -> None:
    run = Run("run1", (Leg("leg1", "wall2"),), SquareEnd(80.0), SquareEnd(40.0, "right"))
    assert fault(run, room()) == ("end-misses", "leg1")


@pytest.mark.parametrize(
    "leg",
    [
        Leg("leg1", "wall2", 24.0, 1.0, -1.0),
        Leg("leg1", "wall2", 1.0, 24.0, -1.0),
        Leg("leg1", "wall2", 1.0, 1.0, 0.0, 1.0),
    ],
)
def test_a_front_on_or_behind_its_back_is_refused(leg: Leg) -> None:
    run = Run("run1", (leg,), SquareEnd(10.0), SquareEnd(10.0, "right"))
    assert fault(run, room()) == ("no-depth", "leg1")


def test_an_end_past_the_neighbors_front_is_refused() -> None:
    run = Run(
        "run1",
        (Leg("leg1", "wall1"), Leg("leg2", "wall2")),
        SquareEnd(80.0),
        SquareEnd(10.0, "right"),
    )
    assert fault(run, room()) == ("crosses-itself", "leg1")


def test_a_u_with_no_room_between_its_sides_is_refused() -> None:
    assert fault(U_RUN, room(50.0)) == ("crosses-itself", "leg2")


def test_legs_that_run_into_each_other_farther_on_are_refused() -> None:
    walls = walls_through([(0.0, 0.0), (0.0, 100.0), (70.0, 100.0), (10.0, -80.0)])
    run = Run(
        "run1",
        (Leg("leg1", "wall1"), Leg("leg2", "wall2"), Leg("leg3", "wall3")),
        SquareEnd(-40.0),
        SquareEnd(0.0, "right"),
    )
    assert fault(run, walls) == ("crosses-itself", "leg1")


@pytest.mark.parametrize("turn", [0.0, 60.0])
def test_an_end_at_a_wall_needs_one_that_stands_across_it(turn: float) -> None:
    run = Run("run1", (Leg("leg1", "wall1"),), SquareEnd(20.0), WallEnd())
    assert fault(run, bent(turn)) == ("missing-wall", "leg1")
    left = Run("run1", (Leg("leg1", "wall2"),), WallEnd(), SquareEnd(20.0, "right"))
    assert fault(left, bent(turn)) == ("missing-wall", "leg1")


def test_an_end_at_a_wall_that_the_front_never_meets_is_refused() -> None:
    run = Run(
        "run1",
        (Leg("leg1", "wall1", 10.0, 110.0, 0.0),),
        SquareEnd(100.0),
        WallEnd(),
    )
    assert fault(run, bent(-45.0)) == ("end-misses", "leg1")


def test_an_end_may_lie_past_a_wall_that_stops_short() -> None:
    run = Run("run1", (Leg("leg1", "wall2"),), SquareEnd(-12.0), SquareEnd(-6.0, "right", 1.0))
    box = bounding_box(run_top(run, room(), ()).outline)
    assert (box[0], box[2]) == pytest.approx((-12.0, 127.0))


def test_an_end_can_hook_the_tape_at_the_far_corner() -> None:
    run = Run("run1", (Leg("leg1", "wall2"),), SquareEnd(90.0, "right"), SquareEnd(80.0))
    box = bounding_box(run_top(run, room(), ()).outline)
    assert (box[0], box[2]) == pytest.approx((30.0, 80.0))


FRONT_LEFT = corner_ref(ref("leg1", "front"), ref("leg1", "start"))
FRONT_RIGHT = corner_ref(ref("leg1", "front"), ref("leg1", "end"))
BACK_LEFT = corner_ref(ref("leg1", "back"), ref("leg1", "start"))
INSIDE = corner_ref(ref("leg1", "front"), ref("leg2", "front"))


@given(st.floats(0.01, 12.0), st.floats(-120.0, 120.0))
def test_a_round_corner_takes_or_adds_exactly_what_its_arc_leaves(
    radius: float, turn: float
) -> None:
    """Between an arc of radius r and its tangents that turn by a lies r^2 (tan(a/2) - a/2)."""
    assume(abs(turn) > 6.0)
    walls, run = bent(turn), two_legs()
    plain = run_top(run, walls, ()).outline
    made = run_top(run, walls, (RoundCorner(INSIDE, radius),)).outline
    sweep = radians(abs(turn))
    between = radius**2 * (tan(sweep / 2.0) - sweep / 2.0)
    sign = 1.0 if turn < 0.0 else -1.0
    assert area(made) - area(plain) == pytest.approx(sign * between, abs=1e-8)
    around = radius * (sweep - 2.0 * tan(sweep / 2.0))
    assert perimeter(made) - perimeter(plain) == pytest.approx(around, abs=1e-8)
    assert made.tags[1] == Tag(Kind.CORNER, INSIDE)
    before, arc, after = made.edges[0], made.edges[1], made.edges[2]
    assert direction_at(before, 1.0) == pytest.approx(direction_at(arc, 0.0), abs=1e-9)
    assert direction_at(arc, 1.0) == pytest.approx(direction_at(after, 0.0), abs=1e-9)


def test_a_clipped_corner_loses_a_triangle() -> None:
    plain = run_top(STRAIGHT, room(), ()).outline
    made = run_top(STRAIGHT, room(), (ClippedCorner(FRONT_RIGHT, 3.0),)).outline
    assert area(plain) - area(made) == pytest.approx(4.5)
    assert length(made.edges[1]) == pytest.approx(3.0 * sqrt(2.0))
    assert made.tags[1] == Tag(Kind.CORNER, FRONT_RIGHT)


def test_a_shape_finds_its_corner_whichever_edge_is_named_first() -> None:
    backward = CornerRef(FRONT_LEFT.b, FRONT_LEFT.a)
    made = run_top(STRAIGHT, room(), (RoundCorner(backward, 2.0),)).outline
    assert Tag(Kind.CORNER, FRONT_LEFT) in made.tags


def test_shapes_of_corners_that_a_run_does_not_have_are_left_out() -> None:
    elsewhere = RoundCorner(corner_ref(ref("leg7", "front"), ref("leg7", "end")), 2.0)
    assert run_top(STRAIGHT, room(), (elsewhere,)) == run_top(STRAIGHT, room(), ())


def test_a_corner_too_large_is_told_the_largest_that_fits() -> None:
    shape = RoundCorner(FRONT_LEFT, 30.0)
    with pytest.raises(GeometryError, match="too large") as caught:
        run_top(STRAIGHT, room(), (shape,))
    words = "The corner is too large for its edges. The largest radius that fits here is"
    assert caught.value.said(INCHES) == f"{words} 25 3/8."
    assert caught.value.said(LengthStyle("mm")) == f"{words} 644.5 mm."
    assert (caught.value.code, caught.value.about) == ("corner-too-large", FRONT_LEFT)
    run_top(STRAIGHT, room(), (RoundCorner(FRONT_LEFT, 25.375),))


def test_a_clip_too_large_beside_the_one_before_it_is_the_one_refused() -> None:
    before, after = RoundCorner(FRONT_LEFT, 10.0), ClippedCorner(BACK_LEFT, 16.0)
    with pytest.raises(GeometryError, match="The largest setback") as caught:
        run_top(STRAIGHT, room(), (before, after))
    assert caught.value.most_in == pytest.approx(15.375)
    assert caught.value.about == BACK_LEFT


def test_two_rounds_that_use_up_an_end_leave_a_half_circle_without_it() -> None:
    radius = 25.375 / 2.0
    made = run_top(
        STRAIGHT,
        room(),
        (RoundCorner(FRONT_LEFT, radius), RoundCorner(BACK_LEFT, radius)),
    ).outline
    assert Tag(Kind.END, ref("leg1", "start")) not in made.tags
    assert len(made.vertices) == 5
    assert area(made) == pytest.approx(92.0 * 25.375 - (4.0 - pi) * radius**2 / 2.0, rel=1e-12)


@pytest.mark.parametrize("shape", [RoundCorner(INSIDE, 2.0), ClippedCorner(INSIDE, 2.0)])
def test_a_corner_where_legs_run_straight_on_cannot_be_shaped(
    shape: CornerShape,
) -> None:
    assert fault(two_legs(), bent(0.0), shape) == ("no-corner", INSIDE)


def test_a_shape_of_an_inside_corner_that_would_run_into_another_leg_is_refused() -> None:
    back = (300.0 - 250.0 * cos(pi / 6.0), 200.0 - 250.0 * sin(pi / 6.0))
    walls = walls_through([(0.0, 0.0), (0.0, 200.0), (300.0, 200.0), back])
    run = Run("run1", U_RUN.legs, SquareEnd(20.0), SquareEnd(45.0, "right"))
    small = RoundCorner(FRONT_LEFT, 1.0)
    large = ClippedCorner(INSIDE, 150.0)
    assert len(run_top(run, walls, (small,)).outline.vertices) == 9
    assert fault(run, walls, small, large) == ("crosses-itself", INSIDE)


ISLAND = Island("island1", 72.0, 36.0, OnBoard(10.0, 20.0))


@given(
    st.floats(1.0, 200.0),
    st.floats(1.0, 200.0),
    st.floats(-360.0, 360.0),
    st.floats(-500.0, 500.0),
)
def test_an_island_has_its_size_at_any_angle_and_starts_at_its_place(
    width: float, depth: float, angle: float, x: float
) -> None:
    top = island_top(Island("island1", width, depth, OnBoard(x, -x), angle), {}, ())
    assert area(top.outline) == pytest.approx(width * depth, rel=1e-9)
    assert top.outline.vertices[0] == (x, -x)
    assert direction_at(top.outline.edges[0], 0.0) == pytest.approx(
        (cos(radians(angle)), sin(radians(angle))), abs=1e-9
    )
    assert [tag.ref for tag in top.outline.tags] == [ref("island1", side) for side in "1234"]
    assert {tag.kind for tag in top.outline.tags} == {Kind.FRONT}


@given(rooms(), st.floats(-20.0, 90.0), st.floats(-20.0, 90.0))
def test_an_island_from_walls_lies_so_far_from_both(walls: Walls, a: float, b: float) -> None:
    island = Island("island1", 60.0, 30.0, FromWalls("wall1", a, "wall2", b))
    corner = island_top(island, walls, ()).outline.vertices[0]
    assert off_line(walls["wall1"], corner) == pytest.approx(a, abs=AS_DRAWN)
    assert off_line(walls["wall2"], corner) == pytest.approx(b, abs=AS_DRAWN)


def test_an_island_from_parallel_walls_is_refused() -> None:
    island = Island("island1", 60.0, 30.0, FromWalls("wall1", 9.0, "wall3", 9.0))
    assert island_fault(island, room()) == ("parallel-walls", "island1")


def test_an_island_from_a_wall_that_is_not_there_is_refused() -> None:
    island = Island("island1", 60.0, 30.0, FromWalls("wall1", 9.0, "wall8", 9.0))
    assert island_fault(island, room()) == ("missing-wall", "island1")


def test_an_island_without_size_is_refused() -> None:
    island = Island("island1", 1e-9, 30.0, OnBoard(0.0, 0.0))
    assert island_fault(island, {}) == ("no-length", "island1")


@pytest.mark.parametrize("side", ["1", "2", "3", "4"])
def test_a_round_side_is_a_half_circle_within_the_size(
    side: Literal["1", "2", "3", "4"],
) -> None:
    island = Island("island1", 50.0, 36.0, OnBoard(0.0, 0.0), 0.0, (side,))
    made = island_top(island, {}, ()).outline
    across, reach = (50.0, 36.0) if side in "13" else (36.0, 50.0)
    radius = across / 2.0
    assert area(made) == pytest.approx(across * (reach - radius) + pi * radius**2 / 2.0, rel=1e-12)
    assert bounding_box(made) == pytest.approx((0.0, 0.0, 50.0, 36.0), abs=AS_DRAWN)
    assert made.bulges[int(side) - 1] == 1.0


def test_two_round_sides_opposite_each_other_make_a_slot() -> None:
    made = island_top(
        Island("island1", 72.0, 36.0, OnBoard(0.0, 0.0), 30.0, ("4", "2")), {}, ()
    ).outline
    assert made.bulges == (0.0, 1.0, 0.0, 1.0)
    assert area(made) == pytest.approx(36.0 * 36.0 + pi * 18.0**2, rel=1e-12)


def test_a_slot_as_wide_as_long_is_a_circle_of_two_edges() -> None:
    made = island_top(
        Island("island1", 40.0, 40.0, OnBoard(0.0, 0.0), 0.0, ("1", "3")), {}, ()
    ).outline
    assert made.bulges == (1.0, 1.0)
    assert area(made) == pytest.approx(pi * 400.0, rel=1e-12)


def test_round_sides_next_to_each_other_are_refused() -> None:
    for sides in (("1", "2"), ("4", "1")):
        island = Island("island1", 72.0, 36.0, OnBoard(0.0, 0.0), 0.0, sides)
        assert island_fault(island, {}) == ("rounds-meet", "island1")


def test_round_sides_that_do_not_fit_are_refused() -> None:
    one = Island("island1", 17.0, 36.0, OnBoard(0.0, 0.0), 0.0, ("2",))
    two = Island("island1", 35.0, 36.0, OnBoard(0.0, 0.0), 0.0, ("2", "4"))
    assert island_fault(one, {}) == ("round-too-large", "island1")
    assert island_fault(two, {}) == ("round-too-large", "island1")


def test_an_islands_corners_are_shaped_like_a_runs() -> None:
    corner = corner_ref(ref("island1", "4"), ref("island1", "1"))
    made = island_top(ISLAND, {}, (RoundCorner(corner, 5.0),)).outline
    assert area(made) == pytest.approx(72.0 * 36.0 - (1.0 - pi / 4.0) * 25.0)
    assert made.tags[0] == Tag(Kind.CORNER, corner)


def test_a_corner_that_runs_smoothly_into_a_round_side_is_none() -> None:
    corner = corner_ref(ref("island1", "1"), ref("island1", "2"))
    island = Island("island1", 72.0, 36.0, OnBoard(0.0, 0.0), 0.0, ("2",))
    assert island_fault(island, {}, RoundCorner(corner, 2.0)) == (
        "no-corner",
        corner,
    )


@given(runs(), rooms())
def test_frames_are_the_outline_before_its_corners_are_shaped(run: Run, walls: Walls) -> None:
    top = run_top(run, walls, ())
    edges = dict(zip((tag.ref for tag in top.outline.tags), top.outline.edges, strict=True))
    for leg in run.legs:
        frame = frame_of(top, leg.id)
        assert edges[ref(leg.id, "front")] == frame.front
        back = edges[ref(leg.id, "back")]
        assert Edge(back.end, back.start) == frame.back
        assert dot(back_direction(frame), into_room(frame.wall)) < 0.0
        mark = back_point(frame, 40.0)
        assert off_line(frame.wall, mark) == pytest.approx(leg.clearance, abs=AS_DRAWN)


def test_the_outline_of_a_run_turns_counter_clockwise() -> None:
    for run in (STRAIGHT, L_RUN, U_RUN):
        outline: Outline = run_top(run, room(), ()).outline
        assert area(outline) > 0.0
