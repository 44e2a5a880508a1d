"""A board larger than a sheet, made of panels: straight joints, away from what stands on it.

Common practice, no published source; inches.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import atan2, ceil, pi
from typing import NamedTuple

from geometry.boxes import Box
from geometry.cutting import cut_by_line
from geometry.edges import direction_at, is_line, point_at
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import (
    Outline,
    area,
    bounding_box,
    centroid,
    contains,
    interior_angle_rad,
    rotated,
)
from geometry.points import Point, distance, turned
from geometry.tolerances import PARALLEL_RAD, SAME_POINT_IN

CLEAR_IN = 3.0
"""A joint stays so far from openings, if it can."""

LEAST_IN = 6.0
"""No panel is meant to be narrower than this."""

MOST_PANELS = 24
"""A board that takes more than this is not divided: the sheet is too small for it."""

JOINT = Tag(Kind.SEAM, EdgeRef("joint1", "cut"))
"""The tag of a panel's edges along joints."""


class Panels(NamedTuple):
    """The panels of a board, from left to right, and its joints from end to end.

    A board that needs none is its only panel. One that no panels of the sheet can make is, too:
    then fits is not set.
    """

    panels: tuple[Outline, ...]
    joints: tuple[tuple[Point, Point], ...]
    fits: bool


class _Cut(NamedTuple):
    """A joint tried: what it divides the board into, the joint itself, and how it compares.

    worth is the number of panels it takes, whether it comes near a hole, its length, what the
    panels cover in rectangles, and the largest of them, negative; the least is the best.
    """

    parts: tuple[Outline, ...]
    joints: tuple[tuple[Point, Point], ...]
    worth: tuple[int, bool, float, float, float]


def headings(outline: Outline) -> tuple[float, ...]:
    """Return the directions of the straight edges in radians, 0 to a quarter turn, each once."""
    found: list[float] = []
    for edge in outline.edges:
        if is_line(edge):
            x, y = direction_at(edge, 0.0)
            heading = atan2(y, x) % (pi / 2.0)
            if all(_apart(heading, other) > PARALLEL_RAD for other in found):
                found.append(heading)
    return tuple(found) or (0.0,)


def _apart(one: float, other: float) -> float:
    off = abs(one - other)
    return min(off, pi / 2.0 - off)


def fits_sheet(outline: Outline, sheet: tuple[float, float]) -> bool:
    """Tell whether an outline lies on a sheet, one of its straight edges along the sheet's."""
    return _sheets(outline, sheet)[0] == 1


def _sheets(outline: Outline, sheet: tuple[float, float]) -> tuple[int, float]:
    """Return how many sheets side by side an outline takes, and the area of its rectangle."""
    found = []
    for heading in headings(outline):
        x0, y0, x1, y1 = bounding_box(rotated(outline, -heading))
        wide, high = x1 - x0, y1 - y0
        found += [
            (_times(wide, size) * _times(high, other), wide * high)
            for size, other in (sheet, sheet[::-1])
        ]
    return min(found)


def leveled(outline: Outline, sheet: tuple[float, float] | None = None) -> Outline:
    """Return an outline turned so that a straight edge lies level, in the smallest rectangle.

    With a sheet it is the smallest of those that the sheet holds, if there are any.
    """

    def worth(turned_so: Outline) -> tuple[bool, float]:
        x0, y0, x1, y1 = bounding_box(turned_so)
        sides = sorted((x1 - x0, y1 - y0))
        limits = sides if sheet is None else sorted(sheet)
        over = any(s > limit + SAME_POINT_IN for s, limit in zip(sides, limits, strict=True))
        return over, round(sides[0] * sides[1], 6)

    return min((rotated(outline, -heading) for heading in headings(outline)), key=worth)


def _times(size: float, of: float) -> int:
    """Return how many of a length make up another one; more than any board takes for a hair."""
    return max(ceil(min((size - SAME_POINT_IN) / of, MOST_PANELS + 1.0)), 1)


def panelled(outline: Outline, holes: Sequence[Outline], sheet: tuple[float, float]) -> Panels:
    """Return the panels that a board is made of, each from one sheet.

    Few panels come first, then joints clear of the holes, then short ones, then a whole sheet.
    """
    done: list[Outline] = []
    joints: list[tuple[Point, Point]] = []
    left = [outline]
    while left:
        part = left.pop()
        if fits_sheet(part, sheet):
            done.append(part)
            continue
        best = min(_cuts(part, holes, sheet), key=lambda cut: cut.worth, default=None)
        if best is None or len(done) + len(left) + best.worth[0] > MOST_PANELS:
            return Panels((outline,), (), fits=False)
        left.extend(best.parts)
        joints.extend(best.joints)
    return Panels(tuple(sorted(done, key=centroid)), tuple(joints), fits=True)


def clipped_to(outline: Outline, panel: Outline) -> tuple[Outline, ...]:
    """Return the parts of an outline inside a board that lie on one of its panels."""
    parts: tuple[Outline, ...] = (outline,)
    for edge, tag in zip(panel.edges, panel.tags, strict=True):
        if tag == JOINT:
            # A panel lies on the left of its edges, and wholly on that side of its joints.
            way = direction_at(edge, 0.0)
            parts = tuple(p for part in parts for p in cut_by_line(part, edge.start, way, JOINT)[0])
    return tuple(part for part in parts if contains(panel, point_at(part.edges[0], 0.5)))


def _cuts(part: Outline, holes: Sequence[Outline], sheet: tuple[float, float]) -> Iterator[_Cut]:
    """Yield the joints worth trying, square to or along each straight edge."""
    for heading in headings(part):
        level = rotated(part, -heading)
        boxes = [bounding_box(rotated(hole, -heading)) for hole in holes]
        inner = [
            vertex
            for i, vertex in enumerate(level.vertices)
            if interior_angle_rad(level, i) > pi + PARALLEL_RAD
        ]
        for axis in (0, 1):
            way = turned((0.0, 1.0) if axis == 0 else (1.0, 0.0), heading)
            for at in _places(level, axis, boxes, [v[axis] for v in inner], sheet):
                point = turned((at, 0.0) if axis == 0 else (0.0, at), heading)
                left, right = cut_by_line(part, point, way, JOINT)
                joints = tuple(_along_line(left, heading, axis, at))
                near = any(_is_near(joint, heading, boxes) for joint in joints)
                yield _Cut((*left, *right), joints, _worth((*left, *right), joints, sheet, near))


def _along_line(
    parts: Iterable[Outline], heading: float, axis: int, at: float
) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of parts that lie along a joint."""
    for part in parts:
        for edge, tag in zip(part.edges, part.tags, strict=True):
            ends = (turned(edge.start, -heading), turned(edge.end, -heading))
            if tag == JOINT and all(abs(end[axis] - at) <= SAME_POINT_IN for end in ends):
                yield edge.start, edge.end


def _places(
    level: Outline,
    axis: int,
    boxes: Sequence[Box],
    inner: Sequence[float],
    sheet: tuple[float, float],
) -> list[float]:
    """Return where along an axis a joint may lie, leaving no narrow panel at the ends."""
    box = bounding_box(level)
    low, high = box[axis], box[axis + 2]
    found = [low + size for size in sheet] + [high - size for size in sheet]
    found += [*inner, (low + high) / 2.0]
    for hole in boxes:
        found += [hole[axis] - CLEAR_IN, hole[axis + 2] + CLEAR_IN]
    return sorted({at for at in found if low + LEAST_IN <= at <= high - LEAST_IN})


def _is_near(joint: tuple[Point, Point], heading: float, boxes: Sequence[Box]) -> bool:
    """Tell whether a joint comes nearer to a hole's box than it should."""
    (ax, ay), (bx, by) = (turned(end, -heading) for end in joint)
    close = CLEAR_IN - SAME_POINT_IN
    return any(
        max(ax, bx) > x0 - close
        and min(ax, bx) < x1 + close
        and max(ay, by) > y0 - close
        and min(ay, by) < y1 + close
        for x0, y0, x1, y1 in boxes
    )


def _worth(
    parts: Sequence[Outline],
    joints: Iterable[tuple[Point, Point]],
    sheet: tuple[float, float],
    near: bool,
) -> tuple[int, bool, float, float, float]:
    sizes = [_sheets(part, sheet) for part in parts]
    # What differs in the last digits only does not decide.
    return (
        sum(count for count, _ in sizes),
        near,
        round(sum(distance(*joint) for joint in joints), 3),
        round(sum(covered for _, covered in sizes), 3),
        -round(max(map(area, parts)), 3),
    )
