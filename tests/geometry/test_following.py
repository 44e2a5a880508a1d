from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.edges import Edge, center, radius, sweep_rad
from geometry.following import MadeEdge, across, followed, gap_between
from geometry.naming import EdgeRef, Kind, Tag
from geometry.notches import OpeningPart
from geometry.openings import PlacedOpening
from geometry.outline import Outline, area
from geometry.points import Point, distance
from geometry.splitting import Face

LEFT, RIGHT = EdgeRef("seam1", "left"), EdgeRef("seam1", "right")
FRONT, BACK, END = (EdgeRef("leg2", side) for side in ("front", "back", "end"))
TAGS = (
    Tag(Kind.FRONT, FRONT),
    Tag(Kind.END, END),
    Tag(Kind.BACK, BACK),
    Tag(Kind.SEAM, RIGHT),
)
SQUARE = ((0.0, 0.0), (60.0, 0.0), (60.0, 24.0), (0.0, 24.0))


def face(outline: Outline, *parts: OpeningPart, base: Outline | None = None) -> Face:
    return Face(outline, base or outline, (), parts, (("seam1", "right"),), outline)


def piece(*points: Point) -> Face:
    """A piece right of a seam that runs down its left side."""
    return face(Outline(points or SQUARE, (0.0,) * 4, TAGS))


def made(x_front: float, x_back: float, gap: float = 0.0625) -> MadeEdge:
    """The right side of a slab left of it: from the front up to the back."""
    return MadeEdge(LEFT, Edge((x_front, 0.0), (x_back, 24.0)), gap)


def moved(of: Face, *edges: MadeEdge) -> Face:
    done = followed(of, edges)
    assert done is not None
    return done


def test_the_other_side_of_a_seam_is_known_both_ways() -> None:
    assert across(LEFT) == RIGHT
    assert across(RIGHT) == LEFT


@given(st.floats(-3.0, 3.0), st.floats(-1.0, 1.0), st.floats(0.0, 1.0))
def test_the_gap_to_a_slab_is_kept_whatever_its_edge(at: float, slant: float, gap: float) -> None:
    one = made(at - 0.07, at - 0.07 + slant, gap)
    done = followed(piece(), [one])
    if done is None:
        assert abs(slant) < 1e-6
        return
    seam = done.outline.edges[3]
    found = gap_between(one.edge, seam)
    assert found is not None
    along = hypot(24.0, slant) / 24.0
    assert found.first == pytest.approx(gap, abs=1e-9)
    assert found.last == pytest.approx(gap, abs=1e-9)
    assert [p[1] for p in (seam.start, seam.end)] == pytest.approx([24.0, 0.0], abs=1e-9)
    assert seam.end[0] == pytest.approx(one.edge.start[0] + gap * along)


def test_a_piece_that_keeps_the_gap_already_is_left_alone() -> None:
    assert followed(piece(), [made(-0.0625, -0.0625)]) is None
    assert followed(piece(), []) is None


def test_an_edge_elsewhere_along_the_seam_moves_nothing() -> None:
    beyond = MadeEdge(LEFT, Edge((-1.0, -30.0), (-1.0, -2.0)), 0.0)
    assert followed(piece(), [beyond]) is None
    most = moved(
        piece(), beyond, MadeEdge(LEFT, Edge((-1.0, -2.0), (-1.0, 6.0)), 0.0), made(-2.0, -2.0, 0.0)
    )
    assert most.outline.vertices[0] == (-2.0, 0.0)
    again = moved(
        piece(), made(-2.0, -2.0, 0.0), MadeEdge(LEFT, Edge((-1.0, -2.0), (-1.0, 6.0)), 0.0)
    )
    assert again == most


def test_a_neighbor_that_goes_on_almost_straight_keeps_its_corner() -> None:
    """The back turns 3 degrees from the seam: met anew, its corner would fly 19 times as far."""
    bent = piece((0.0, 0.0), (60.0, 0.0), (1.2, 46.9), (0.0, 24.0))
    done = moved(bent, made(-0.3, -0.3, 0.0))
    assert done.outline.vertices[3] == (0.0, 24.0)
    assert done.outline.vertices[0] == (-0.3, 0.0)


@pytest.mark.parametrize("bulge", [0.2, -0.2])
def test_an_arc_beside_the_seam_goes_on_along_its_circle(bulge: float) -> None:
    """The front is an arc: the seam, 1 in further in, meets it on the same circle."""
    front = Edge((0.0, 0.0), (40.0, 10.0), bulge)
    outline = Outline(
        (front.start, front.end, (0.0, 60.0)),
        (bulge, 0.0, 0.0),
        (TAGS[0], TAGS[2], TAGS[3]),
    )
    done = moved(face(outline), MadeEdge(LEFT, Edge((1.0, -20.0), (1.0, 60.0)), 0.0)).outline
    assert done.vertices[0][0] == pytest.approx(1.0)
    assert distance(done.vertices[0], center(front)) == pytest.approx(radius(front))
    assert radius(done.edges[0]) == pytest.approx(radius(front))
    assert distance(center(done.edges[0]), center(front)) < 1e-9
    assert abs(sweep_rad(done.edges[0])) < abs(sweep_rad(front))


def test_a_seam_that_would_miss_its_neighbor_moves_nothing() -> None:
    """The front is an arc of radius 6.25 about x = 5: a seam at -20 lies beyond its circle."""
    outline = Outline(
        ((0.0, 0.0), (10.0, 0.0), (10.0, 24.0), (0.0, 24.0)), (0.5, 0.0, 0.0, 0.0), TAGS
    )
    assert followed(face(outline), [made(-20.0, -20.0)]) is None


@pytest.mark.parametrize("x", [9.0, 11.0, 15.0])
def test_a_seam_never_moves_onto_an_opening(x: float) -> None:
    hole = Outline(
        ((10.0, 10.0), (10.0, 14.0), (14.0, 14.0), (14.0, 10.0)),
        (0.0,) * 4,
        tuple(Tag(Kind.OPENING, EdgeRef("opening3", "cut"), part) for part in range(4)),
    )
    holed = replace(piece(), openings=(PlacedOpening("opening3", hole, (12.0, 12.0), 0.0),))
    assert (followed(holed, [made(x, x)]) is None) == (x > 10.0)


def test_a_seam_never_moves_across_another_edge() -> None:
    """A notch from the right end reaches to 5 in from the seam."""
    points = (
        (0.0, 0.0), (60.0, 0.0), (60.0, 11.0), (5.0, 11.0),
        (5.0, 13.0), (60.0, 13.0), (60.0, 24.0), (0.0, 24.0),
    )  # fmt: skip
    tags = (TAGS[0], *(Tag(Kind.END, END, part) for part in range(5)), TAGS[2], TAGS[3])
    notched = face(Outline(points, (0.0,) * 8, tags))
    assert followed(notched, [made(4.0, 4.0)]) is not None
    assert followed(notched, [made(8.0, 8.0)]) is None


def test_a_piece_of_which_too_little_is_left_stays() -> None:
    assert followed(piece(), [made(59.9, 59.9, 0.0)]) is None
    assert followed(piece(), [made(50.0, 70.0, 0.0)]) is None


def test_the_part_of_an_opening_stays_flush_with_the_seam() -> None:
    """A notch of 4 by 6 at the seam: the base closes it, the part fills it."""
    cut = EdgeRef("opening3", "cut")
    notch = (
        (0.0, 0.0), (60.0, 0.0), (60.0, 24.0), (0.0, 24.0),
        (0.0, 15.0), (4.0, 15.0), (4.0, 9.0), (0.0, 9.0),
    )  # fmt: skip
    cuts = tuple(Tag(Kind.OPENING, cut, part) for part in range(3))
    tags = (*TAGS, *cuts, Tag(Kind.SEAM, RIGHT, 1))
    part = Outline(
        ((0.0, 15.0), (4.0, 15.0), (4.0, 9.0), (0.0, 9.0)),
        (0.0,) * 4,
        (*cuts, TAGS[3]),
    )
    one = face(
        Outline(notch, (0.0,) * 8, tags),
        OpeningPart("opening3", part),
        base=Outline(SQUARE, (0.0,) * 4, TAGS),
    )
    done = moved(one, made(-0.5, -0.5, 0.25))
    assert area(done.base_outline) == pytest.approx(60.25 * 24.0)
    assert area(done.outline) == pytest.approx(60.25 * 24.0 - 4.25 * 6.0)
    assert area(done.parts[0].outline) == pytest.approx(-4.25 * 6.0)
    assert followed(one, [made(4.5, 4.5, 0.0)]) is None


def test_gaps_are_measured_square_to_the_slab() -> None:
    lower = Edge((0.0, 30.0), (0.0, 6.0))
    wedge = gap_between(Edge((-0.1, 0.0), (-0.3, 24.0)), lower)
    assert wedge is not None
    assert (wedge.first, wedge.last) == pytest.approx((0.15, 0.3), abs=1e-4)
    assert wedge.at[1] == pytest.approx(15.0, abs=0.01)
    assert gap_between(Edge((-1.0, 0.0), (-1.0, 6.0)), lower) is None
    across_it = Edge((0.0, 3.0), (5.0, 3.0 + 1e-9))
    assert gap_between(Edge((-1.0, 0.0), (-1.0, 6.0)), across_it) is None
