"""A sink maker's template from a DXF file: the closed outlines in it, and its center marks."""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from io import BytesIO, StringIO
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias, get_args

from export.template_lines import Lines, Stroke, lines_of
from geometry.chaining import LINK, OpenChain, chains, signed_area
from geometry.edges import Edge, crossings, is_line, length
from geometry.lengths import LengthStyle, written
from geometry.naming import GeometryError
from geometry.outline import Outline, area, bounding_box, contains
from geometry.points import Point, distance, middle
from geometry.templates import MOST_EDGES, TemplateShape, sound_template, template_of
from geometry.tolerances import TEMPLATE_GAP_IN, TEMPLATE_JOINED_IN

if TYPE_CHECKING:
    from ezdxf.document import Drawing

Unit: TypeAlias = Literal["in", "ft", "mm", "cm", "m"]
UNITS: tuple[Unit, ...] = get_args(Unit)
UNIT_NAMES: dict[Unit, str] = {
    "in": "inches",
    "ft": "feet",
    "mm": "millimeters",
    "cm": "centimeters",
    "m": "meters",
}
UNIT_IN: dict[Unit, float] = {
    "in": 1.0,
    "ft": 12.0,
    "mm": 1.0 / 25.4,
    "cm": 1.0 / 2.54,
    "m": 1.0 / 0.0254,
}
"""Inches to a unit; an inch is 25.4 mm by definition."""

INSUNITS: dict[int, Unit] = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""$INSUNITS of the DXF reference; 0 says nothing, and others are no shop's units."""

LARGEST_BYTES = 4_000_000
MOST_OUTLINES = 40
"""So many outlines are shown, the largest."""

MOST_MARKS = 60
MOST_CROSSING = 200
"""So many center marks are kept; crossing ones are sought among so many loose lines."""

LARGEST_IN, SMALLEST_IN = 120.0, 2.0
"""Outlines larger or smaller than this are asked about: their unit may be another one."""

LEAST_AREA_SQ_IN = 1e-4
SMALL_MARK_IN = 1.5
"""A circle no wider than this marks its center, too."""


class TemplateError(Exception):
    """A file that gives no template; one sentence says why and what to do."""


class TemplateFile(NamedTuple):
    """A drawing that was read: its file's name, what it holds, and its unit if it says one."""

    name: str
    drawing: "Drawing"
    unit: Unit | None


class Candidate(NamedTuple):
    """A closed outline, counter-clockwise, in inches where it lies in its drawing.

    marks are the center marks inside it, nearest to its middle first. gaps are the straight lines
    that close it where its drawing leaves it open.
    """

    outline: Outline
    area_sq_in: float
    size: tuple[float, float]
    layer: str
    marks: tuple[Point, ...]
    gaps: tuple[Edge, ...]


class Found(NamedTuple):
    """The outlines of a drawing, largest first, and in plain sentences what else there is."""

    candidates: tuple[Candidate, ...]
    notes: tuple[str, ...]


def read_template(path: Path) -> TemplateFile:
    """Return the drawing in a DXF file.

    Raises:
        TemplateError: it cannot be read, is far too large, is no DXF, or is damaged.
    """
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise TemplateError(
                f"{path.name} is too large for a template ({size / 1e6:.1f} MB, at most "
                f"{LARGEST_BYTES / 1e6:.0f}): save the sink's outline alone in a file of its own."
            )
        data = path.read_bytes()
    except (OSError, ValueError) as error:
        raise TemplateError(f"{path.name} cannot be read: open it from another place.") from error
    return template_in(data, path.name)


def template_in(data: bytes, name: str) -> TemplateFile:
    """Return the drawing in the bytes of a DXF file.

    Raises:
        TemplateError: it is no DXF, or it is damaged.
    """
    if data[:2] == b"AC" and data[2:6].isdigit():
        raise TemplateError(f"{name} is a DWG drawing under another name: save it as DXF.")
    if b"Binary DXF" in data[:32]:
        raise TemplateError(f"{name} is a binary DXF: save it as a DXF in text (ASCII).")
    if b"SECTION" not in data:
        raise TemplateError(f"{name} is no DXF drawing: ask the sink's maker for one.")
    drawing = _opened(data)
    if drawing is None:
        raise TemplateError(f"{name} is damaged and cannot be read: ask for it once more.")
    # Where a file says none, the library puts meters.
    code = drawing.header.get("$INSUNITS", 0) if b"$INSUNITS" in data else 0
    return TemplateFile(name, drawing, INSUNITS.get(code) if isinstance(code, int) else None)


def _opened(data: bytes) -> "Drawing | None":
    """Return the drawing, mended as far as the library can; None if it cannot."""
    from ezdxf import recover
    from ezdxf.filemanagement import read

    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    # On values that are not what they should be the library raises whatever comes.
    with suppress(Exception):
        return read(StringIO("\n".join(text.splitlines()) + "\n"))
    with suppress(Exception):
        return recover.read(BytesIO(data))[0]
    return None


def outlines(file: TemplateFile, unit: Unit, style: LengthStyle) -> Found:
    """Return the closed outlines of a drawing in a unit; style is how its notes say lengths.

    Raises:
        TemplateError: it holds no closed outline, or too much.
    """
    lines: Lines | None = None
    with suppress(Exception):
        lines = lines_of(file.drawing, UNIT_IN[unit])
    if lines is None:
        raise TemplateError(f"{file.name} is damaged and cannot be read: ask for it once more.")
    if lines.too_much:
        raise TemplateError(
            f"{file.name} is no template, {lines.too_much}: save the sink's outline in a file of "
            "its own."
        )
    return _found(file.name, lines, style)


def _found(name: str, lines: Lines, style: LengthStyle) -> Found:
    loops = [(stroke.edges, stroke.layer, ()) for stroke in lines.strokes if stroke.closed]
    loose = [(e, s.layer) for s in lines.strokes if not s.closed for e in s.edges]
    made = chains([edge for edge, _ in loose])
    shapes: list[tuple[Sequence[Edge], str, tuple[Edge, ...]]] = [*loops]
    for loop in made.loops:
        gaps = tuple(e for e, s in zip(loop.edges, loop.sources, strict=True) if s == LINK)
        layer = next(loose[s][1] for s in loop.sources if s != LINK)
        shapes.append((loop.edges, layer, gaps))
    marks = _marks(lines, [loose[i][0] for i in made.loose])
    candidates: list[Candidate] = []
    crossing = toothed = 0
    ranked = sorted(
        ((abs(signed_area(edges)), edges, layer, gaps) for edges, layer, gaps in shapes),
        key=lambda row: (-row[0], len(row[3])),
    )
    for size, edges, layer, gaps in ranked:
        if size <= LEAST_AREA_SQ_IN or len(candidates) == MOST_OUTLINES:
            continue
        if len(edges) > MOST_EDGES:
            toothed += 1
            continue
        try:
            outline = sound_template(edges)
        except GeometryError:
            crossing += 1
            continue
        made_of = _candidate(outline, layer, gaps, marks)
        if not any(_same(made_of, other) for other in candidates):
            candidates.append(made_of)
    if not candidates:
        raise TemplateError(_nothing(name, lines, made.open_chains, crossing, toothed, style))
    return Found(tuple(candidates), tuple(_notes(made.open_chains, crossing, toothed, style)))


def _candidate(
    outline: Outline, layer: str, gaps: tuple[Edge, ...], marks: Sequence[Point]
) -> Candidate:
    x0, y0, x1, y1 = bounding_box(outline)
    center = middle((x0, y0), (x1, y1))
    inside = (
        mark
        for mark in marks
        if x0 < mark[0] < x1 and y0 < mark[1] < y1 and contains(outline, mark)
    )
    nearest = sorted(inside, key=lambda mark: distance(mark, center))
    return Candidate(outline, area(outline), (x1 - x0, y1 - y0), layer, tuple(nearest), gaps)


def _same(one: Candidate, other: Candidate) -> bool:
    """Tell whether two outlines are the same line, drawn twice."""
    return all(
        abs(a - b) <= TEMPLATE_JOINED_IN
        for a, b in zip(bounding_box(one.outline), bounding_box(other.outline), strict=True)
    ) and abs(one.area_sq_in - other.area_sq_in) <= TEMPLATE_JOINED_IN * sum(one.size)


def _marks(lines: Lines, loose: Sequence[Edge]) -> list[Point]:
    """Return where centers are marked: points, small circles, loose lines that cross, each once."""
    found: list[Point] = []
    for point in (*lines.points, *_small_circles(lines.strokes), *_crosses(loose)):
        if all(distance(point, other) > TEMPLATE_JOINED_IN for other in found):
            found.append(point)
        if len(found) == MOST_MARKS:
            break
    return found


def _small_circles(strokes: Sequence[Stroke]) -> Iterator[Point]:
    for stroke in strokes:
        first = stroke.edges[0]
        if (
            stroke.closed
            and len(stroke.edges) == 2
            and abs(abs(first.bulge) - 1.0) <= TEMPLATE_JOINED_IN
            and distance(first.start, first.end) <= SMALL_MARK_IN
        ):
            yield middle(first.start, first.end)


def _crosses(loose: Sequence[Edge]) -> Iterator[Point]:
    """Yield where loose lines cross."""
    straight = sorted((edge for edge in loose if is_line(edge)), key=length)[:MOST_CROSSING]
    for one, other in combinations(straight, 2):
        yield from (
            met.point
            for met in crossings(one, other)
            if 0.0 < met.on_first < 1.0 and 0.0 < met.on_second < 1.0
        )


def _open_words(open_chains: Sequence[OpenChain], style: LengthStyle) -> str:
    gap = written(open_chains[0].gap, style)
    return f"the longest line is {gap} open"


def _nothing(
    name: str,
    lines: Lines,
    open_chains: Sequence[OpenChain],
    crossing: int,
    toothed: int,
    style: LengthStyle,
) -> str:
    """Return why a drawing gives no outline, and what to do."""
    if crossing:
        return f"The outlines in {name} cross or touch themselves: mend them in the drawing."
    if toothed:
        return f"The outlines in {name} have more than {MOST_EDGES} edges: save them as arcs."
    if open_chains:
        most = written(TEMPLATE_GAP_IN, style)
        return (
            f"No outline in {name} is closed, {_open_words(open_chains, style)} (up to {most} can "
            "be closed here): close it in the drawing."
        )
    if lines.strokes:
        return f"No outline in {name} is closed: close it in the drawing."
    return f"{name} holds no lines, arcs or polylines: ask for the outline as those."


def _notes(
    open_chains: Sequence[OpenChain], crossing: int, toothed: int, style: LengthStyle
) -> Iterator[str]:
    if crossing:
        yield f"Left out, since they cross or touch themselves: {crossing}."
    if toothed:
        yield f"Left out, since they have more than {MOST_EDGES} edges: {toothed}."
    if open_chains and open_chains[0].gap > TEMPLATE_GAP_IN:
        longest = _open_words(open_chains, style)
        yield f"Some lines are left out, since they do not close: {longest}."


def unit_doubt(candidate: Candidate, unit: Unit, style: LengthStyle) -> tuple[str, Unit] | None:
    """Return a question and the unit it proposes, where an outline's size makes no sense."""
    size = max(candidate.size)
    guesses: tuple[Unit, ...] = ("mm", "in", "cm")
    for other in guesses:
        would = size / UNIT_IN[unit] * UNIT_IN[other]
        doubtful = (size > LARGEST_IN and would < size) or (size < SMALLEST_IN and would > size)
        if doubtful and SMALLEST_IN <= would <= LARGEST_IN:
            said = written(size, style)
            return f"The largest outline is {said} across: are these {UNIT_NAMES[other]}?", other
    return None


def shape_of(candidate: Candidate, anchor: Point | None, quarters: int, file: str) -> TemplateShape:
    """Return an outline as an opening's shape about a center mark, or its middle without one."""
    x0, y0, x1, y1 = bounding_box(candidate.outline)
    name = "".join(letter if letter.isprintable() else "_" for letter in file)[-80:]
    return template_of(
        candidate.outline.edges, anchor or middle((x0, y0), (x1, y1)), quarters, name or "drawing"
    )
