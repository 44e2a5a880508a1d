"""The closed outlines that a drawing's lines make, and the center marks in them."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from export.template_lines import Lines, Stroke
from geometry.chaining import LINK, OpenChain, chains, closed_up, signed_area
from geometry.edges import Edge, crossings, foot, is_line, length, point_at
from geometry.naming import GeometryError
from geometry.noding import noded, touched
from geometry.outline import Outline, area, bounding_box, contains
from geometry.points import Point, distance, middle
from geometry.templates import MOST_EDGES, sound_template
from geometry.tolerances import TEMPLATE_JOINED_IN, TEMPLATE_LEAST_SQ_IN

MOST_OUTLINES = 40
"""So many outlines are shown, the largest."""

MOST_MARKS = 60
MOST_CROSSING = 200
"""So many center marks are kept; crossing ones are sought among so many loose lines."""

SMALL_MARK_IN = 1.5
"""A circle no wider than this marks its center, too."""

AROUND_IN = 12.0
"""A mark farther off an outline has nothing to do with it."""


MOST_MENDED = 2_000
"""So many lines are parted where they meet, to look for outlines in them."""


LEAST_MENDED_SQ_IN = 0.05
"""What lines enclose where they run past each other is no outline unless it is larger."""


class Mark(NamedTuple):
    """A center mark of a drawing: a point, a cross, or a small circle with its diameter."""

    point: Point
    diameter: float | None = None


class Candidate(NamedTuple):
    """A closed outline, counter-clockwise, in inches where it lies in its drawing.

    marks are the center marks inside it, nearest to its middle first; around are those beside it,
    where a faucet may stand. gaps are the straight lines that bridge it where its drawing leaves it
    open. mended tells that it is made of parts of lines that cross or end on each other; trimmed
    are their other parts.
    """

    outline: Outline
    area_sq_in: float
    size: tuple[float, float]
    layer: str
    marks: tuple[Point, ...]
    gaps: tuple[Edge, ...]
    mended: bool = False
    trimmed: tuple[Edge, ...] = ()
    around: tuple[Mark, ...] = ()


class _Shape(NamedTuple):
    """A closed chain before it is looked at."""

    edges: Sequence[Edge]
    layer: str
    gaps: tuple[Edge, ...] = ()
    mended: bool = False
    trimmed: tuple[Edge, ...] = ()


class Left(NamedTuple):
    """What gave no outline: chains that stay open, how many cross themselves or have many edges."""

    open_chains: tuple[OpenChain, ...]
    crossing: int
    toothed: int


def found_in(lines: Lines) -> tuple[tuple[Candidate, ...], Left]:
    """Return the outlines that lines make, largest first, and what gives none."""
    loops = [_Shape(stroke.edges, stroke.layer) for stroke in lines.strokes if stroke.closed]
    loose = [(e, s.layer) for s in lines.strokes if not s.closed for e in s.edges]
    made = chains([edge for edge, _ in loose])
    for loop in made.loops:
        edges, gaps = closed_up(loop)
        layer = next(loose[s][1] for s in loop.sources if s != LINK)
        loops.append(_Shape(edges, layer, gaps))
    unjoined = [loose[i] for i in made.loose]
    marks = _marks(lines, [edge for edge, _ in unjoined])
    candidates, crossed, toothed = _sound(loops, marks)
    crossing = len(crossed)
    mended = _mended(unjoined, crossed, [c for c in candidates if not c.gaps])
    if mended:
        more, _, teeth = _sound(mended, marks)
        toothed += teeth
        candidates = _each_once((*candidates, *more))
        if more:
            crossing = 0
    if any(one.mended for one in candidates):
        open_chains: tuple[OpenChain, ...] = ()
    else:
        open_chains = made.open_chains
    return candidates, Left(open_chains, crossing, toothed)


def _sound(
    shapes: Iterable[_Shape], marks: Sequence[Mark]
) -> tuple[tuple[Candidate, ...], list[_Shape], int]:
    """Return the outlines that can be cut, those that cross themselves; how many are toothed."""
    found: list[Candidate] = []
    crossed: list[_Shape] = []
    toothed = 0
    ranked = sorted(
        ((abs(signed_area(shape.edges)), shape) for shape in shapes),
        key=lambda row: (-row[0], len(row[1].gaps)),
    )
    for size, shape in ranked:
        # One that crosses itself may enclose as much on the one side as on the other.
        if (size <= TEMPLATE_LEAST_SQ_IN and len(shape.edges) < 4) or len(found) == MOST_OUTLINES:
            continue
        if len(shape.edges) > MOST_EDGES:
            toothed += 1
            continue
        try:
            outline = sound_template(shape.edges)
        except GeometryError:
            crossed.append(shape)
            continue
        if size > TEMPLATE_LEAST_SQ_IN:
            found.append(_candidate(outline, shape, marks))
    return _each_once(found), crossed, toothed


def _each_once(found: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """Return outlines largest first, each once, and no more than are shown."""
    kept: list[Candidate] = []
    for one in sorted(found, key=lambda c: (-c.area_sq_in, c.mended, len(c.gaps))):
        if len(kept) < MOST_OUTLINES and not any(_same(one, other) for other in kept):
            kept.append(one)
    return tuple(kept)


def _mended(
    unjoined: Sequence[tuple[Edge, str]], crossed: Sequence[_Shape], sound: Sequence[Candidate]
) -> list[_Shape]:
    """Return what is enclosed when lines are parted where they cross or end on each other."""
    edges = [
        *unjoined,
        *(
            (edge, shape.layer)
            for shape in crossed
            for edge in shape.edges
            if edge not in shape.gaps
        ),
    ]
    if not edges or len(edges) > MOST_MENDED:
        return []
    for one in sound:
        if touched([edge for edge, _ in unjoined], one.outline.edges):
            edges += [(edge, one.layer) for edge in one.outline.edges]
    parts = noded([edge for edge, _ in edges])
    if len(parts) > MOST_MENDED:
        return []
    made = chains([part for part, _ in parts])
    large = [loop for loop in made.loops if abs(signed_area(loop.edges)) > LEAST_MENDED_SQ_IN]
    past = {*made.loose, *(s for loop in made.loops if loop not in large for s in loop.sources)}
    shapes: list[_Shape] = []
    for loop in large:
        closed, gaps = closed_up(loop)
        own = {parts[s][1] for s in loop.sources if s != LINK}
        trimmed = tuple(
            part for i, (part, source) in enumerate(parts) if source in own and i in past
        )
        shapes.append(_Shape(closed, edges[min(own)][1], gaps, mended=True, trimmed=trimmed))
    return shapes


def _candidate(outline: Outline, shape: _Shape, marks: Sequence[Mark]) -> Candidate:
    x0, y0, x1, y1 = bounding_box(outline)
    center = middle((x0, y0), (x1, y1))
    near = [
        mark
        for mark in marks
        if x0 - AROUND_IN < mark.point[0] < x1 + AROUND_IN
        and y0 - AROUND_IN < mark.point[1] < y1 + AROUND_IN
    ]
    inside = [mark.point for mark in near if contains(outline, mark.point)]
    return Candidate(
        outline,
        area(outline),
        (x1 - x0, y1 - y0),
        shape.layer,
        tuple(sorted(inside, key=lambda point: distance(point, center))),
        shape.gaps,
        shape.mended,
        shape.trimmed,
        tuple(mark for mark in near if mark.point not in inside),
    )


def _same(one: Candidate, other: Candidate) -> bool:
    """Tell whether two outlines are the same line, drawn twice."""
    boxes = zip(bounding_box(one.outline), bounding_box(other.outline), strict=True)
    if any(abs(a - b) > TEMPLATE_JOINED_IN for a, b in boxes):
        return False
    if abs(one.area_sq_in - other.area_sq_in) > TEMPLATE_JOINED_IN * sum(one.size):
        return False
    # Curves drawn twice are parted in other places, and followed to a tolerance.
    near = 2.0 * TEMPLATE_JOINED_IN
    return all(
        min(foot(edge, point_at(own, 0.5)).distance for edge in other.outline.edges) <= near
        for own in one.outline.edges
    )


def _marks(lines: Lines, loose: Sequence[Edge]) -> list[Mark]:
    """Return where centers are marked: small circles, points, loose lines that cross, each once."""
    found: list[Mark] = []
    drawn = (Mark(point) for point in (*lines.points, *_crosses(loose)))
    for mark in (*_small_circles(lines.strokes), *drawn):
        if all(distance(mark.point, other.point) > TEMPLATE_JOINED_IN for other in found):
            found.append(mark)
        if len(found) == MOST_MARKS:
            break
    return found


def _small_circles(strokes: Sequence[Stroke]) -> Iterator[Mark]:
    for stroke in strokes:
        first = stroke.edges[0]
        if (
            stroke.closed
            and len(stroke.edges) == 2
            and abs(abs(first.bulge) - 1.0) <= TEMPLATE_JOINED_IN
            and distance(first.start, first.end) <= SMALL_MARK_IN
        ):
            yield Mark(middle(first.start, first.end), distance(first.start, first.end))


def _crosses(loose: Sequence[Edge]) -> Iterator[Point]:
    """Yield where loose lines cross."""
    straight = sorted((edge for edge in loose if is_line(edge)), key=length)[:MOST_CROSSING]
    for one, other in combinations(straight, 2):
        yield from (
            met.point
            for met in crossings(one, other)
            if 0.0 < met.on_first < 1.0 and 0.0 < met.on_second < 1.0
        )
