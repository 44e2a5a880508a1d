"""Scribe strips: the measured line of a bowed wall at full size, to lay along the wall and cut by.

A strip is drawn as seen from above by someone who faces the wall: the wall at the top, its left end
at the left. Its upper edge is the wall as it was measured, its lower edge is straight and parallel
to the wall's line from corner to corner.
"""

from collections.abc import Iterator
from math import atan2

from export.fullsize import NAME_IN, Plot
from export.marks import Anchor, AnyMark, Line, Sheet, Words
from geometry import edges as exact
from geometry.edges import Edge
from geometry.frames import wall_direction
from geometry.lengths import LengthStyle, written
from geometry.points import Point, minus, turned
from shop.job import Job
from shop.profiles import WallProfile, WallStation, bow_words, profiles
from shop.survey import left_to_right
from shop.words import capital, corner_words, length_style, wall_words

NOTHING = "No wall of this job has been measured for bow."

TRY_IT = (
    "Cut along the wall's line, lay the strip on the cabinets and push it to the wall: where it"
    " does not touch, measure again before anything is cut."
)

STRIP_IN = 5.0
"""The straight edge of a strip lies so far before the wall's line: one row of tiles shows both."""

TICK_IN = 0.75
STATION_IN = 0.25
"""Height of what is said of a station."""

ROWS_IN = (1.2, 1.7)
"""How far before the wall's line stations are written, by turns, so that neighbors have room."""

NAMED_IN = 3.0
"""How far before the wall's line the ends are named."""


def scribe_plots(job: Job) -> tuple[Plot, ...]:
    """Return a strip for each wall that was measured for bow and has a counter along it."""
    under = {leg.wall for run in job.runs for leg in run.legs}
    return tuple(
        _plot(job, profile)
        for profile in profiles(job)
        if profile.wall.id in under and profile.readings
    )


def _plot(job: Job, profile: WallProfile) -> Plot:
    edges = _level(profile)
    style = length_style(job)
    wall = next(wall for wall in job.room.walls if wall.id == profile.wall.id)
    left, right = (corner_words(job, corner) for corner in left_to_right(wall))
    marks = (
        *_outline(edges),
        *(
            mark
            for place, station in enumerate(profile.stations[1:-1])
            for mark in _station(station, ROWS_IN[place % 2], style)
        ),
        *_ends(edges[-1].end[0], f"LEFT END, {left}", f"RIGHT END, {right}"),
    )
    name = wall_words(job, profile.wall.id)
    boxes = [exact.bounds(edge) for edge in edges]
    box = (0.0, -STRIP_IN, edges[-1].end[0], max(b[3] for b in boxes))
    words = bow_words(job, profile)
    return Plot(
        name,
        Sheet(f"Scribe strip, {name}", marks, box),
        (
            f"Scribe strip: {name}",
            f"{capital(words)}.",
            TRY_IT,
            "FACE UP: facing the wall, LEFT END is on your left and the wall is at the top.",
        ),
    )


def _level(profile: WallProfile) -> tuple[Edge, ...]:
    """Return a wall's surface in a frame of its own: its left corner at 0, its line along x."""
    x, y = wall_direction(profile.wall)
    angle = -atan2(y, x)

    def placed(point: Point) -> Point:
        return turned(minus(point, profile.wall.left), angle)

    return tuple(Edge(placed(e.start), placed(e.end), e.bulge) for e in profile.edges)


def _outline(edges: tuple[Edge, ...]) -> Iterator[AnyMark]:
    """Draw the wall's measured line, the wall's straight line, and the strip's other edges."""
    (left, _), (right, _) = edges[0].start, edges[-1].end
    yield Line(
        "back",
        points=(edges[0].start, *(edge.end for edge in edges)),
        bulges=tuple(edge.bulge for edge in edges),
    )
    yield Line("ghost", points=((left, 0.0), (right, 0.0)), bulges=(0.0,))
    yield Line(
        "end",
        points=((left, 0.0), (left, -STRIP_IN), (right, -STRIP_IN), (right, 0.0)),
        bulges=(0.0,) * 3,
    )


def _station(station: WallStation, low: float, style: LengthStyle) -> Iterator[AnyMark]:
    """Mark a station: where it lies along the wall, and how far the wall stands off its line."""
    x, off = station.along, station.offset
    yield Line("dimension", points=((x, -off), (x, -TICK_IN)), bulges=(0.0,))
    size = written(abs(off), style)
    side = "into the room" if off > 0.0 else "hollow"
    said = "on the line" if size == written(0.0, style) else f"{size} {side}"
    words = f"{written(x, style)}: {said}"
    yield Words("words", text=words, at=(x, -low), height=STATION_IN)


def _ends(right: float, *names: str) -> Iterator[AnyMark]:
    """Name both ends of a strip, and its two edges between them."""
    room = right / 3.0
    ends: tuple[tuple[float, Anchor], ...] = ((NAME_IN, "left"), (right - NAME_IN, "right"))
    for text, (at, anchor) in zip(names, ends, strict=True):
        yield Words(
            "words",
            text=text,
            at=(at, -NAMED_IN),
            anchor=anchor,
            height=NAME_IN,
            bold=True,
            max_width=room,
        )
    for text, low in (("WALL SIDE", NAMED_IN), ("straight edge, toward the room", STRIP_IN - 0.7)):
        yield Words("quiet", text=text, at=(right / 2.0, -low), height=NAME_IN, max_width=room)
