"""Slabs and openings for the tests of widths and bridges, and a sampled account of their widths."""

from collections.abc import Sequence
from math import pi, tan
from random import Random

import numpy as np
import shapely

from geometry.edges import length, point_at
from geometry.flattening import ring
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, moved, rotated
from geometry.points import Point

QUARTER = tan(pi / 8)


def tag(kind: Kind, owner: str, side: str, part: int = 0) -> Tag:
    return Tag(kind, EdgeRef(owner, side), part)


BACK = tag(Kind.BACK, "leg1", "back")
FRONT = tag(Kind.FRONT, "leg1", "front")
START = tag(Kind.END, "leg1", "start")
END = tag(Kind.END, "leg1", "end")
AROUND = (FRONT, END, BACK, START)


def polygon(points: Sequence[Point], tags: Sequence[Tag]) -> Outline:
    return Outline(tuple(points), (0.0,) * len(points), tuple(tags))


def slab(width: float, depth: float) -> Outline:
    """A rectangle with its front along the x axis, its left end at x = 0."""
    return polygon([(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)], AROUND)


def corner_slab(long: float, other: float, depth: float) -> Outline:
    """An L: back edges along y = 0 and x = 0, its inside corner at (depth, depth)."""
    points = [
        (0.0, 0.0),
        (long, 0.0),
        (long, depth),
        (depth, depth),
        (depth, other),
        (0.0, other),
    ]
    fronts = (FRONT, tag(Kind.FRONT, "leg2", "front"))
    return polygon(points, (BACK, END, *fronts, tag(Kind.END, "leg2", "end"), START))


def _cut(name: str, count: int) -> tuple[Tag, ...]:
    return tuple(tag(Kind.OPENING, name, "cut", i) for i in range(count))


def bowl(name: str, x: float, y: float, width: float, depth: float, radius: float = 0.0) -> Outline:
    """A rectangular hole about a point, clockwise, its corners rounded."""
    w, d, r = width / 2.0, depth / 2.0, radius
    if r == 0.0:
        corners = ((x - w, y - d), (x - w, y + d), (x + w, y + d), (x + w, y - d))
        return Outline(corners, (0.0,) * 4, _cut(name, 4))
    points = (
        (x - w, y - d + r),
        (x - w, y + d - r),
        (x - w + r, y + d),
        (x + w - r, y + d),
        (x + w, y + d - r),
        (x + w, y - d + r),
        (x + w - r, y - d),
        (x - w + r, y - d),
    )
    return Outline(points, (0.0, -QUARTER) * 4, _cut(name, 8))


def hole(name: str, x: float, y: float, radius: float) -> Outline:
    """A round hole, clockwise."""
    return Outline(((x - radius, y), (x + radius, y)), (-1.0, -1.0), _cut(name, 2))


def rounded_slab(width: float, depth: float, radius: float) -> Outline:
    """A rectangle with rounded corners, counter-clockwise."""
    inner = bowl("sink9", width / 2.0, depth / 2.0, width, depth, radius)
    tags = (START, BACK, BACK, END, END, FRONT, FRONT, START)
    return Outline(
        inner.vertices[::-1],
        tuple(-b for b in (*inner.bulges[-2::-1], inner.bulges[-1])),
        (*tags[-2::-1], tags[-1]),
    )


def concrete(outline: Outline, openings: Sequence[Outline], sagitta: float) -> shapely.Polygon:
    return shapely.Polygon(ring(outline, sagitta), [ring(opening, sagitta) for opening in openings])


def random_piece(random: Random) -> tuple[Outline, tuple[Outline, ...]]:
    """A slab of some shape, turned anyhow, with up to four holes that do not meet."""
    depth = random.uniform(18.0, 30.0)
    width = random.uniform(30.0, 60.0)
    outline = random.choice(
        [
            slab(width, depth),
            rounded_slab(width, depth, random.choice([0.5, 3.0, 8.0])),
            corner_slab(width, random.uniform(35.0, 60.0), depth),
            polygon(
                [(0.0, 0.0), (width, random.uniform(-2.0, 2.0)), (width, depth), (0.0, depth)],
                AROUND,
            ),
        ]
    )
    openings: list[Outline] = []
    for number in range(1, random.randint(1, 4) + 1):
        name = f"hole{number}"
        spot = (random.uniform(2.0, width), random.uniform(2.0, depth + 8.0))
        shape = random.choice(
            [
                hole(name, 0.0, 0.0, random.choice([0.7, 2.0, 6.0])),
                bowl(name, 0.0, 0.0, random.uniform(3.0, 20.0), random.uniform(2.0, 15.0)),
                bowl(name, 0.0, 0.0, random.uniform(8.0, 20.0), random.uniform(8.0, 15.0), 3.0),
            ]
        )
        turn = random.choice([0.0, 0.0, 0.3, random.uniform(-pi, pi)])
        placed = moved(rotated(shape, turn), spot)
        cut = shapely.Polygon(ring(placed, 1e-3))
        if concrete(outline, openings, 1e-3).buffer(-0.05).contains(cut):
            openings.append(placed)
    turn, shift = random.uniform(-pi, pi), (random.uniform(-50, 50), 10.0)
    return (
        moved(rotated(outline, turn), shift),
        tuple(moved(rotated(o, turn), shift) for o in openings),
    )


def sampled_minima(
    outline: Outline, openings: Sequence[Outline], step: float, limit: float
) -> list[tuple[float, Point, Point]]:
    """Widths of a slab by brute force, from boundary points so many inches apart.

    A pair of points counts when no neighboring pair is nearer and they see each other through
    concrete.
    """
    points: list[Point] = []
    before: list[int] = []
    after: list[int] = []
    for loop in (outline, *openings):
        base = len(points)
        for edge in loop.edges:
            count = max(2, round(length(edge) / step))
            points += [point_at(edge, i / count) for i in range(count)]
        count = len(points) - base
        before += [base + (i - 1) % count for i in range(count)]
        after += [base + (i + 1) % count for i in range(count)]
    xy = np.array(points)
    gaps = np.hypot(xy[:, None, 0] - xy[None, :, 0], xy[:, None, 1] - xy[None, :, 1])
    least = gaps < limit
    for i in (before, range(len(points)), after):
        for j in (before, range(len(points)), after):
            least &= gaps <= gaps[np.array(i)][:, np.array(j)] + 1e-12
    body = concrete(outline, openings, 1e-4).buffer(2e-4)
    inner = concrete(outline, openings, 1e-4).buffer(-1e-3)
    found = []
    for i, j in zip(*np.nonzero(np.triu(least, 1)), strict=True):
        line = shapely.LineString((points[i], points[j]))
        if gaps[i, j] > step and body.covers(line) and inner.intersects(line):
            found.append((float(gaps[i, j]), points[i], points[j]))
    return found
