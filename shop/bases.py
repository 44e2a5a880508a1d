"""The base of a mold: the board under it, as it is cut from sheet stock."""

from geometry.edges import Edge, carrier_crossings, is_line, point_at, radius
from geometry.naming import GeometryError
from geometry.offsetting import offset
from geometry.outline import Outline, bounding_box, nearest, outline_of
from geometry.points import Point, distance
from shop.job import MoldChoices


def base_of(frame: Outline, choices: MoldChoices) -> Outline:
    """Return the base under a face-down frame.

    With the sides outside the base it is the frame itself. With the sides on the base it reaches
    the sidewall's thickness and the lip further out all round; an inside rounding too tight for
    that becomes a corner, and a shape that cannot grow so far stands on a plain rectangle.
    """
    if choices.construction == "sides-outside-base":
        return frame
    reach = choices.sidewall_thickness + choices.lip
    try:
        return offset(_without_tight_fillets(frame, reach), reach)
    except GeometryError:
        return _rectangle(frame, reach)


def _sharp(frame: Outline, index: int, reach: float) -> Point | None:
    """Return the corner behind an inside rounding that is too tight to be moved, or None."""
    count = len(frame.edges)
    before, arc, after = (frame.edges[(index + k) % count] for k in (-1, 0, 1))
    if arc.bulge >= 0.0 or is_line(arc) or radius(arc) > reach:
        return None
    middle = point_at(arc, 0.5)
    return min(
        carrier_crossings(before, after),
        key=lambda point: distance(point, middle),
        default=None,
    )


def _without_tight_fillets(frame: Outline, reach: float) -> Outline:
    sharp = [_sharp(frame, i, reach) for i in range(len(frame.edges))]
    ends = [*sharp[1:], sharp[0]]
    parts = []
    for i, (edge, tag) in enumerate(zip(frame.edges, frame.tags, strict=True)):
        if sharp[i] is None:
            start, end = sharp[i - 1] or edge.start, ends[i] or edge.end
            parts.append((Edge(start, end, edge.bulge), tag))
    return outline_of(parts)


def _rectangle(frame: Outline, reach: float) -> Outline:
    """Return a rectangle around the frame, each side tagged as the edge nearest to its middle."""
    left, low, right, high = bounding_box(frame)
    corners = (
        (left - reach, low - reach),
        (right + reach, low - reach),
        (right + reach, high + reach),
        (left - reach, high + reach),
    )
    sides = [Edge(corners[i], corners[(i + 1) % 4]) for i in range(4)]
    return outline_of((side, frame.tags[nearest(frame, point_at(side, 0.5))[0]]) for side in sides)
