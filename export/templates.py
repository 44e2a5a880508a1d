"""A sink maker's template from a DXF file: the closed outlines in it, and its center marks."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from math import log
from typing import NamedTuple

from export.template_files import UNIT_IN, UNIT_NAMES, UNITS, TemplateError, TemplateFile, Unit
from export.template_lines import Lines, lines_of, on_sheets
from export.template_outlines import Candidate, Left, Mark, found_in
from geometry.chaining import OpenChain
from geometry.lengths import LengthStyle, written
from geometry.outline import bounding_box
from geometry.points import Point, middle, minus
from geometry.templates import MOST_EDGES, DrilledHole, TemplateShape, template_of
from geometry.tolerances import TEMPLATE_COARSE_IN, TEMPLATE_CURVE_IN, TEMPLATE_GAP_IN

LARGEST_IN, SMALLEST_IN = 120.0, 2.0
"""Outlines larger or smaller than this are asked about: their unit may be another one."""

LIKELY_IN = 28.0
SENSIBLE_IN = 600.0
LEAST_IN = 0.25
"""Lines that reach no farther are of another unit."""

FAUCET_IN = 1.375
LEAST_HOLE_IN = 0.75
"""A marked circle at least this wide is drilled as drawn; a smaller one only marks its center."""


class TooMuchTemplateError(TemplateError):
    """A drawing that holds too much, in any unit, or is damaged."""


class Found(NamedTuple):
    """The outlines of a drawing, largest first, and in plain sentences what else there is."""

    candidates: tuple[Candidate, ...]
    notes: tuple[str, ...]


class Read(NamedTuple):
    """What a file holds: its unit if it says one, and what was found in each unit."""

    name: str
    unit: Unit | None
    found: dict[Unit, Found]


def read_units(
    file: TemplateFile, style: LengthStyle, tell: Callable[[float], object] = lambda _: None
) -> Read:
    """Return what a drawing holds in every unit, its own first; tell hears how far that is, 0 to 1.

    Raises:
        TemplateError: it holds no closed outline in any unit, or too much.
    """
    found: dict[Unit, Found] = {}
    said: dict[Unit, str] = {}
    order = sorted(UNITS, key=lambda unit: unit != file.unit)
    for number, unit in enumerate(order):
        tell(number / len(order))
        if found and not _makes_sense(found, unit):
            said[unit] = f"In {UNIT_NAMES[unit]} nothing in {file.name} has the size of a template."
            continue
        try:
            found[unit] = outlines(file, unit, style)
        except TooMuchTemplateError:
            raise
        except TemplateError as error:
            said[unit] = str(error)
    if not found:
        raise TemplateError(said[order[0]])
    return Read(file.name, file.unit, found | {u: Found((), (said[u],)) for u in said})


def _makes_sense(found: dict[Unit, Found], unit: Unit) -> bool:
    """Tell whether a drawing's largest outline, known in another unit, is worth a look in one."""
    other, known = next(iter(found.items()))
    size = max(known.candidates[0].size) / UNIT_IN[other] * UNIT_IN[unit]
    return LEAST_IN <= size <= SENSIBLE_IN


def outlines(file: TemplateFile, unit: Unit, style: LengthStyle) -> Found:
    """Return the closed outlines of a drawing in a unit; style is how its notes say lengths.

    Raises:
        TemplateError: it holds no closed outline, or too much.
    """
    lines = _lines(file, unit, TEMPLATE_CURVE_IN)
    within = TEMPLATE_CURVE_IN
    candidates, left = found_in(lines)
    if left.toothed and lines.curved:
        within = TEMPLATE_COARSE_IN
        lines = _lines(file, unit, within)
        candidates, left = found_in(lines)
    notes = list(_notes(lines, left, style))
    if not candidates and lines.hidden:
        hidden = lines.hidden
        lines = _lines(file, unit, within, hidden=True)
        candidates, left = found_in(lines)
        notes = [f"They lie on layers that are off or frozen: {', '.join(hidden)}."]
    if not candidates:
        raise TemplateError(_nothing(file, lines, left, style))
    if lines.curved:
        notes.append(f"Ellipses and splines are followed by arcs {_within_words(within, style)}.")
    if not file.whole:
        notes.append("The file breaks off before its end: something may be missing.")
    return Found(candidates, tuple(notes))


def _within_words(within: float, style: LengthStyle) -> str:
    if style.unit == "mm":
        return f"to {within * 25.4:.2g} mm"
    return "to " + f"{within:.5f}".rstrip("0") + " in"


def _lines(file: TemplateFile, unit: Unit, within: float, *, hidden: bool = False) -> Lines:
    lines: Lines | None = None
    # On values that are not what they should be the library raises whatever comes.
    with suppress(Exception):
        lines = lines_of(file.drawing, UNIT_IN[unit], within, hidden=hidden)
    if lines is None:
        raise TooMuchTemplateError(
            f"{file.name} is damaged and cannot be read: ask for it once more."
        )
    if lines.too_much:
        raise TooMuchTemplateError(
            f"{file.name} is no template, {lines.too_much}: save the sink's outline in a file of "
            "its own."
        )
    return lines


def _open_words(open_chains: Sequence[OpenChain], style: LengthStyle) -> str:
    gap = written(open_chains[0].gap, style)
    return f"the longest line is {gap} open"


def _nothing(file: TemplateFile, lines: Lines, left: Left, style: LengthStyle) -> str:
    """Return why a drawing gives no outline, and what to do."""
    name = file.name
    if not file.whole:
        return f"{name} breaks off before its end: ask for it once more."
    if left.crossing:
        return f"The outlines in {name} cross or touch themselves: mend them in the drawing."
    if left.toothed:
        return f"The outlines in {name} have more than {MOST_EDGES} edges: save them as arcs."
    if left.open_chains and file.unit is not None:
        most = written(TEMPLATE_GAP_IN, style)
        return (
            f"No outline in {name} is closed, {_open_words(left.open_chains, style)} (up to {most} "
            "can be closed here): close it in the drawing."
        )
    if lines.odd:
        return f"The lines in {name} have sizes that are no numbers: ask for it once more."
    if lines.strokes and _extent(lines) < LEAST_IN:
        return f"The lines of {name} are smaller than any template: look at its unit."
    if lines.strokes:
        return f"No outline in {name} is closed: close it in the drawing."
    if lines.far:
        return f"The lines of {name} are larger than any template: look at its unit."
    if on_sheets(file.drawing):
        return f"The lines of {name} lie on its printing sheets: ask for them in its model."
    return f"{name} holds no lines, arcs or polylines: ask for the outline as those."


def _extent(lines: Lines) -> float:
    """Return how far the lines of a drawing reach."""
    points = [point for s in lines.strokes for e in s.edges for point in (e.start, e.end)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _notes(lines: Lines, left: Left, style: LengthStyle) -> Iterator[str]:
    if lines.hidden:
        yield f"Left out, since their layers are off or frozen: {', '.join(lines.hidden)}."
    if lines.odd:
        yield "Some lines are left out: their sizes are no numbers."
    if left.crossing:
        yield f"Left out, since they cross or touch themselves: {left.crossing}."
    if left.toothed:
        yield f"Left out, since they have more than {MOST_EDGES} edges: {left.toothed}."
    if left.open_chains and left.open_chains[0].gap > TEMPLATE_GAP_IN:
        longest = _open_words(left.open_chains, style)
        yield f"Some lines are left out, since they do not close: {longest}."


def unit_doubt(candidate: Candidate, unit: Unit, style: LengthStyle) -> tuple[str, Unit] | None:
    """Return a question and the unit it proposes, where an outline's size makes no sense."""
    size = max(candidate.size)
    guesses: tuple[Unit, ...] = ("mm", "in", "cm", "m", "ft")
    for other in guesses:
        would = size / UNIT_IN[unit] * UNIT_IN[other]
        doubtful = (size > LARGEST_IN and would < size) or (size < SMALLEST_IN and would > size)
        if doubtful and SMALLEST_IN <= would <= LARGEST_IN:
            said = written_finely(size, style)
            return f"The largest outline is {said} across: are these {UNIT_NAMES[other]}?", other
    return None


def first_unit(read: Read) -> Unit:
    """Return the first unit in which a drawing that says none has outlines."""
    return next(unit for unit in UNITS if read.found[unit].candidates)


def likely_unit(largest: Candidate, unit: Unit) -> Unit:
    """Return the unit in which the largest outline of a drawing, read in a unit, is most sink-like.

    Most sinks are near LIKELY_IN across: common practice, no source.
    """
    size = max(largest.size) / UNIT_IN[unit]
    return min(UNITS, key=lambda other: abs(log(size * UNIT_IN[other] / LIKELY_IN)))


def written_finely(size: float, style: LengthStyle) -> str:
    """Return a small length to 1/64, or that it is less."""
    fine = LengthStyle(style.unit, 64)
    words = written(size, fine)
    return words if words != written(0.0, fine) else f"less than {written(1.0 / 64.0, fine)}"


def shape_of(candidate: Candidate, anchor: Point | None, quarters: int, file: str) -> TemplateShape:
    """Return an outline as an opening's shape about a center mark, or its middle without one."""
    name = "".join(letter if letter.isprintable() else "_" for letter in file)[-80:]
    anchor = anchor or middle_of(candidate)
    return template_of(candidate.outline.edges, anchor, quarters, name or "drawing")


def hole_of(mark: Mark, candidate: Candidate, anchor: Point | None, quarters: int) -> DrilledHole:
    """Return the hole at a mark beside an outline, about what the outline lies about, turned."""
    x, y = minus(mark.point, anchor or middle_of(candidate))
    for _ in range(quarters % 4):
        x, y = -y, x
    return DrilledHole((x, y), hole_diameter(mark))


def hole_diameter(mark: Mark) -> float:
    """Return how wide a hole at a mark is: as drawn, or a faucet's where only its center is."""
    drawn = mark.diameter or 0.0
    return drawn if drawn >= LEAST_HOLE_IN else FAUCET_IN


def middle_of(candidate: Candidate) -> Point:
    """Return the middle of an outline's box."""
    x0, y0, x1, y1 = bounding_box(candidate.outline)
    return middle((x0, y0), (x1, y1))
