"""Readings that no room could give: found between the readings themselves and the drawn shape."""

from collections.abc import Iterator, Mapping, Sequence
from heapq import heappop, heappush
from itertools import combinations
from math import acos, atan2, hypot, log, pi, radians, sin
from statistics import median
from typing import Literal, NamedTuple, TypeAlias

from geometry.linearizing import Network, as_ways
from geometry.observations import (
    Across,
    Along,
    Angle,
    Distance,
    Observation,
    Offset,
    check_observations,
    deviation,
)
from geometry.points import Point, cross, dot, minus
from geometry.room import CRITICAL

Code: TypeAlias = Literal[
    "no-triangle", "too-long", "too-short", "same-points-disagree", "angle-turned"
]

TURNED_RAD = radians(10.0)
"""A drawing shows an angle at least this well: closer to it, nothing is called turned."""

TURNED_SHARE = 0.25
"""A turned angle fits the drawing at least this much better the other way round."""

FOLDED_RAD = radians(5.0)
"""A corner folds where it turns at least this much one way as drawn and the other as adjusted."""


class Contradiction(NamedTuple):
    """Observations that contradict each other, the one that is most likely off first.

    value is what the first one reads, and limit what the others allow:
    no-triangle: the first of three distances is longer than the other two together (limit);
    too-long: a distance is longer than a chain of three or more others together (limit);
    too-short: a distance is shorter than the second less the rest of a chain (limit);
    same-points-disagree: two readings of one thing, limit is what the first would be by the second;
    angle-turned: the angle fits the drawing when it is taken as a full turn less it (limit).
    Inches; radians for angles and where three-sides checks are compared as angles.
    """

    code: Code
    observations: tuple[int, ...]
    value: float
    limit: float

    @property
    def by(self) -> float:
        """How far the value is from the limit."""
        return abs(self.value - self.limit)


def contradictions(
    points: Sequence[Point], observations: Sequence[Observation]
) -> tuple[Contradiction, ...]:
    """Return what contradicts itself among observations of points drawn so.

    Two readings of one thing first, then turned angles, then triangles and chains that do not
    close, at most one for each reading that is most likely off. Each is beyond 3.29 combined
    standard deviations. Whichever is farthest from the drawing, as the drawing's own scale goes, is
    the one most likely off.

    Raises:
        RoomError: an observation cannot be used by itself, or two points that it joins lie on each
            other.
    """
    check_observations(observations)
    misfits = Network(observations, len(points)).linearized(as_ways(points))[0].tolist()
    far = _far_from_drawn(points, observations, misfits)
    turned = tuple(_turned(observations, misfits))
    around = {one.observations[0] for one in turned}
    return (
        *_disagreeing(observations, far, around),
        *turned,
        *_not_closing(observations, far),
    )


def folded(
    drawn: Sequence[Point], adjusted: Sequence[Point], walls: Sequence[tuple[int, int]]
) -> tuple[tuple[int, int], ...]:
    """Return pairs of walls, by their place in the list, that fold over.

    Walls that cross and did not as drawn, and neighbors whose corner turns the other way than
    drawn. Walls are pairs of points by index.
    """
    return tuple(
        (i, j)
        for (i, one), (j, other) in combinations(enumerate(walls), 2)
        if _folds(drawn, adjusted, one, other)
    )


def _folds(
    drawn: Sequence[Point],
    adjusted: Sequence[Point],
    one: tuple[int, int],
    other: tuple[int, int],
) -> bool:
    shared = set(one) & set(other)
    if not shared:
        return _cross(adjusted, one, other) and not _cross(drawn, one, other)
    at = min(shared)
    a, b = (wall[0] if wall[1] == at else wall[1] for wall in (one, other))
    before, after = (_bend(points, at, a, b) for points in (drawn, adjusted))
    return before * after < 0.0 and min(abs(before), abs(after)) >= FOLDED_RAD


def _cross(points: Sequence[Point], one: tuple[int, int], other: tuple[int, int]) -> bool:
    (a, b), (c, d) = ((points[i], points[j]) for i, j in (one, other))
    sides = [cross(minus(b, a), minus(p, a)) for p in (c, d)]
    others = [cross(minus(d, c), minus(p, c)) for p in (a, b)]
    return sides[0] * sides[1] < 0.0 and others[0] * others[1] < 0.0


def _bend(points: Sequence[Point], at: int, a: int, b: int) -> float:
    """Return how far the way turns that comes from a and goes on to b, positive to the left."""
    return _wrapped(_swept(points, at, a, b) - pi)


def _swept(points: Sequence[Point], at: int, a: int, b: int) -> float:
    ways = minus(points[a], points[at]), minus(points[b], points[at])
    return atan2(cross(*ways), dot(*ways)) % (2.0 * pi)


def _wrapped(turn: float) -> float:
    """Return a turn as one from -pi to pi."""
    return (turn + pi) % (2.0 * pi) - pi


def _within(turn: float) -> float:
    """Return the smaller one of a turn and what it leaves of a full one."""
    return abs(_wrapped(turn))


def _far_from_drawn(
    points: Sequence[Point], observations: Sequence[Observation], misfits: Sequence[float]
) -> list[float]:
    """Return how far each observation is from the drawing: a measure among those of one kind.

    Distances count by their ratio, less the scale that the drawing as a whole is off by.
    """
    ratios = {
        i: log(o.value / (o.value - misfit))
        for i, (o, misfit) in enumerate(zip(observations, misfits, strict=True))
        if isinstance(o, Distance)
    }
    scale = median(ratios.values()) if ratios else 0.0
    far = []
    for i, (o, misfit) in enumerate(zip(observations, misfits, strict=True)):
        if isinstance(o, Distance):
            far.append(abs(ratios[i] - scale))
        elif isinstance(o, Across):
            far.append(abs(_corner(o) - _within(_swept(points, o.at, o.a, o.b))))
        else:
            far.append(abs(misfit))
    return far


def _corner(check: Across) -> float:
    """Return the angle that a three-sides check says, by the law of cosines."""
    a, b, c = check.along_a, check.along_b, check.value
    return acos((a * a + b * b - c * c) / (2.0 * a * b))


def _turned(
    observations: Sequence[Observation], misfits: Sequence[float]
) -> Iterator[Contradiction]:
    for i, (o, misfit) in enumerate(zip(observations, misfits, strict=True)):
        if isinstance(o, Angle) and abs(misfit) > TURNED_RAD:
            drawn, other = o.value_rad - misfit, 2.0 * pi - o.value_rad
            if abs(_wrapped(other - drawn)) < TURNED_SHARE * abs(misfit):
                yield Contradiction("angle-turned", (i,), o.value_rad, other)


class _Said(NamedTuple):
    """What an observation says of a thing that others may speak of as well.

    A three-sides check says an angle, but not on which side.
    """

    thing: tuple[type | int, ...]
    value: float
    sd: float
    sided: bool = True


def _said(o: Observation) -> _Said:
    low, high = min(o.a, o.b), max(o.a, o.b)
    backward = low != o.a
    match o:
        case Distance():
            return _Said((Distance, low, high), o.value, o.sd)
        case Angle():
            turn = 2.0 * pi - o.value_rad if backward else o.value_rad
            return _Said((Angle, o.at, low, high), turn, o.sd_rad)
        case Across():
            corner = _corner(o)
            by_turn = o.along_a * o.along_b * sin(corner) / o.value
            return _Said((Angle, o.at, low, high), corner, deviation(o) / by_turn, sided=False)
        case Offset():
            return _Said((Offset, o.point, low, high), -o.value if backward else o.value, o.sd)
        case _:
            return _Said((Along, o.point, o.a, o.b), o.value, o.sd)


def _apart(one: _Said, other: _Said) -> tuple[float, float]:
    """Return what two observations say of one thing, so that it can be compared."""
    if one.thing[0] is not Angle:
        return one.value, other.value
    if one.sided and other.sided:
        return one.value, one.value + _wrapped(other.value - one.value)
    return _within(one.value), _within(other.value)


def _disagreeing(
    observations: Sequence[Observation], far: Sequence[float], without: set[int]
) -> Iterator[Contradiction]:
    said: dict[tuple[type | int, ...], list[tuple[int, _Said]]] = {}
    for i, o in enumerate(observations):
        if i not in without:
            one = _said(o)
            said.setdefault(one.thing, []).append((i, one))
    for same in said.values():
        for pair in combinations(same, 2):
            (i, one), (j, other) = sorted(pair, key=lambda each: -far[each[0]])
            value, limit = _apart(one, other)
            if abs(value - limit) > CRITICAL * hypot(one.sd, other.sd):
                yield Contradiction("same-points-disagree", (i, j), value, limit)


class _Way(NamedTuple):
    """A chain of distances from one point to another: how long it is, and which they are."""

    size: float
    chain: tuple[int, ...]


class _Step(NamedTuple):
    """A distance from a point: to where, how long, and which."""

    end: int
    value: float
    distance: int


def _not_closing(observations: Sequence[Observation], far: Sequence[float]) -> list[Contradiction]:
    """Return triangles and chains that do not close, one for each distance most likely off."""
    tapes = {i: o for i, o in enumerate(observations) if isinstance(o, Distance)}
    steps = _steps(tapes)
    found: dict[int, Contradiction] = {}
    for i, tape in tapes.items():
        for most in (2, len(tapes)):
            way = _shortest_way(steps, tape, most)
            if way is not None and _is_longer(tapes, i, way):
                one = _blamed(tapes, i, way, far)
                first = one.observations[0]
                found[first] = min(one, found.get(first, one), key=_plainness)
                break
    return [found[i] for i in sorted(found)]


def _is_longer(tapes: Mapping[int, Distance], i: int, way: _Way) -> bool:
    unsure = hypot(*(tapes[k].sd for k in (i, *way.chain)))
    return tapes[i].value > way.size + CRITICAL * unsure


def _plainness(one: Contradiction) -> tuple[int, float]:
    return (len(one.observations), -one.by)


def _blamed(
    tapes: Mapping[int, Distance], long: int, way: _Way, far: Sequence[float]
) -> Contradiction:
    first = max((long, *way.chain), key=lambda k: far[k])
    value = tapes[first].value
    if first == long:
        code: Code = "no-triangle" if len(way.chain) == 2 else "too-long"
        return Contradiction(code, (long, *way.chain), value, way.size)
    rest = tuple(k for k in way.chain if k != first)
    limit = tapes[long].value - (way.size - value)
    return Contradiction("too-short", (first, long, *rest), value, limit)


def _steps(tapes: Mapping[int, Distance]) -> dict[int, list[_Step]]:
    """Return the steps that can be taken from each point."""
    steps: dict[int, list[_Step]] = {}
    for k, (a, b, value, _) in tapes.items():
        steps.setdefault(a, []).append(_Step(b, value, k))
        steps.setdefault(b, []).append(_Step(a, value, k))
    return steps


def _shortest_way(steps: Mapping[int, Sequence[_Step]], past: Distance, most: int) -> _Way | None:
    """Return the shortest chain of at most so many distances round one; None if none is shorter.

    Distances between the same two points as that one are left out.
    """
    queue: list[tuple[float, tuple[int, ...], int]] = [(0.0, (), past.a)]
    reached: dict[int, int] = {}
    while queue:
        size, chain, at = heappop(queue)
        if at == past.b:
            return _Way(size, chain)
        if reached.get(at, most) <= len(chain) or size >= past.value:
            continue
        reached[at] = len(chain)
        for end, value, k in steps[at]:
            if end != past.b or at != past.a:
                heappush(queue, (size + value, (*chain, k), end))
    return None
