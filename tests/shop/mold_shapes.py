"""Pieces without any symmetry, for the tests of molds."""

from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from geometry.notches import OpeningPart
from geometry.openings import PlacedOpening
from geometry.outline import Outline, centroid
from geometry.points import Point
from geometry.splitting import Face
from shop.job import MoldChoices
from shop.moldwords import MoldWords

CHOICES = MoldChoices()
QUARTER = 2.0**0.5 - 1.0


def tag(kind: str, owner: str, side: str, part: int = 0) -> Tag:
    """Return a tag."""
    return Tag(Kind(kind), EdgeRef(owner, side), part)


FRONT = tag("front", "leg1", "front")
BACK = tag("back", "leg1", "back")
LEFT = tag("end", "leg1", "start")
RIGHT = tag("end", "leg1", "end")
FRONT_2 = tag("front", "leg2", "front")
BACK_2 = tag("back", "leg2", "back")
END_2 = tag("end", "leg2", "end")
SEAM = tag("seam", "seam1", "left")
SEAM_2 = tag("seam", "seam2", "right")
CUT = tag("opening", "sink1", "cut")

WORDS = MoldWords(
    (
        (LEFT.ref, "left end"),
        (RIGHT.ref, "right end"),
        (END_2.ref, "right end"),
        (SEAM.ref, "seam to B"),
        (SEAM_2.ref, "seam to C"),
        *((EdgeRef("island1", str(n)), f"side {n}") for n in range(1, 5)),
    ),
    (("sink1", "sink"), ("faucet1", "faucet")),
)


def outline(*sides: tuple[Point, Tag], bulges: dict[int, float] | None = None) -> Outline:
    """Return an outline of its vertices, each with the tag of the edge that starts there."""
    return Outline(
        tuple(point for point, _ in sides),
        tuple((bulges or {}).get(i, 0.0) for i in range(len(sides))),
        tuple(of for _, of in sides),
    )


def box(left: float, low: float, right: float, high: float) -> Outline:
    """Return a rectangular opening, clockwise."""
    corners: list[Point] = [(left, low), (left, high), (right, high), (right, low)]
    return outline(*((corner, CUT) for corner in corners))


def opening(shape: Outline, owner: str = "sink1") -> PlacedOpening:
    """Return an opening by its outline."""
    return PlacedOpening(owner, shape, centroid(shape), 0.0)


def face(
    shape: Outline,
    openings: tuple[PlacedOpening, ...] = (),
    base: Outline | None = None,
    parts: tuple[OpeningPart, ...] = (),
) -> Face:
    """Return a face made by hand."""
    return Face(shape, base or shape, openings, parts, (), shape)


def counter(right: Tag = SEAM) -> Outline:
    """A counter 72 by 25, face up, front at the bottom: left end, and a seam at its right end."""
    return outline(((0, 0), FRONT), ((72, 0), right), ((72, 25), BACK), ((0, 25), LEFT))


def ell() -> Outline:
    """An L in a room corner: the second leg comes toward the front on the right, as installed."""
    return outline(
        ((0, 0), FRONT),
        ((70, 0), FRONT_2),
        ((70, -40), END_2),
        ((95, -40), BACK_2),
        ((95, 25), BACK),
        ((0, 25), LEFT),
    )


def odd() -> Outline:
    """A piece without any symmetry: back out of square, a rounded corner, a seam at an angle."""
    corner = corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg1", "start"))
    rounding = Tag(Kind.CORNER, corner)
    return outline(
        ((4, 0), FRONT),
        ((70, 0), SEAM),
        ((61, 25), BACK),
        ((0, 26), LEFT),
        ((0, 4), rounding),
        bulges={4: QUARTER},
    )
