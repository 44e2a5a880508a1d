"""Turning a cast piece over: about which edge, where one stands, and how it lands.

Everything here is about a piece's face-down outline (counter-clockwise, notches closed).
"""

from math import atan2, degrees

from geometry.edges import direction_at, length
from geometry.fitting import is_flat
from geometry.naming import EdgeRef, GeometryError, Kind
from geometry.outline import Outline
from geometry.points import Point, cross, dot, scaled
from geometry.tolerances import SAME_POINT_IN

_TURNABLE = (Kind.BACK, Kind.FRONT, Kind.END)


def turnable_edges(frame: Outline) -> tuple[int, ...]:
    """Return the edges a piece can be turned over about: straight ones, never a seam or a clip.

    Arcs of a back scribed to a wall count where they are nearly straight: a padded batten takes
    that.
    """
    return tuple(
        i
        for i, (edge, tag) in enumerate(zip(frame.edges, frame.tags, strict=True))
        if tag.kind in _TURNABLE and is_flat(edge)
    )


def longest(frame: Outline, candidates: tuple[int, ...]) -> int | None:
    """Return the longest of some edges, or None of none.

    Of edges equally long within the tolerance it is the one whose name comes first, so that a
    rounding error never decides.
    """
    if not candidates:
        return None
    most = max(length(frame.edges[i]) for i in candidates)
    level = [i for i in candidates if length(frame.edges[i]) >= most - SAME_POINT_IN]
    return min(level, key=lambda i: (str(frame.tags[i].ref), frame.tags[i].part))


def turning_edge(frame: Outline, chosen: EdgeRef | None = None) -> int | None:
    """Return the edge a piece is turned over about, or None when it has none to turn about.

    Without a choice it is the longest straight back edge, so that a chip lands against the wall;
    of a piece without one (an island) the longest straight side. It is never a seam.

    Raises:
        GeometryError: the chosen edge is not a straight edge of this piece, or is a seam.
    """
    candidates = turnable_edges(frame)
    if chosen is not None:
        mine = tuple(i for i in candidates if frame.tags[i].ref == chosen)
        if not mine:
            raise GeometryError(
                "turn-edge",
                "The edge chosen to turn the piece over about is not a straight edge of it, or is"
                " a seam. Choose another.",
                chosen,
            )
        return longest(frame, mine)
    backs = tuple(i for i in candidates if frame.tags[i].kind is Kind.BACK)
    return longest(frame, backs or candidates)


def standing_edge(frame: Outline) -> int:
    """Return the edge where one stands to look at a mold.

    It is the longest straight front edge; without one, the longest straight back edge (one faces
    it from across); without that, the first edge.
    """
    candidates = turnable_edges(frame)
    for kind in (Kind.FRONT, Kind.BACK):
        found = longest(frame, tuple(i for i in candidates if frame.tags[i].kind is kind))
        if found is not None:
            return found
    return 0


def to_the_right(frame: Outline, stand: int) -> Point:
    """Return the unit direction to the right of a person standing at a mold.

    At a front edge one looks into the mold, which lies on the left of that edge's own direction; a
    back edge is faced from across.
    """
    way = direction_at(frame.edges[stand], 0.5)
    return scaled(way, -1.0) if frame.tags[stand].kind is Kind.BACK else way


def landing_deg(axis: Point, right: Point) -> float:
    """Return how far a turned piece is rotated from the plan, in degrees, 0 to under 360.

    The plan is what one sees standing at the same edge in the kitchen; the mold is the plan with
    left and right exchanged. Turning about an axis at an angle u to the right-hand direction is a
    reflection about it, and both together are a rotation by 180 + 2 u: half a turn about the front
    or the back, none about an end.
    """
    angle = degrees(atan2(cross(right, axis), dot(right, axis)))
    return (180.0 + 2.0 * angle) % 360.0
