"""Full-size plots of each piece: on a roll, face down or face up, and face down in tiles."""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from export.drawings import edge_subject, grown, kind_role, upright_angle
from export.marks import AnyMark, Line, Sheet, Spot, Words
from export.pages import Page, View
from export.stamp import CHECK_IN, CHECK_MM, Stamp, check_bars
from geometry import edges as exact
from geometry.outline import Outline, bounding_box
from geometry.points import Point
from shop import plan
from shop.job import Job
from shop.molds import Mold
from shop.words import opening_words

ROLL_IN = 36.0
"""Width of the paper roll."""

LONGEST_IN = 190.0
"""No page is longer: a PDF page ends at 200 in (14,400 units of 1/72 in)."""

MARGIN_IN = 0.5
OVERLAP_IN = 0.5
FOOT_IN = 5.4
"""Height of the strip under a roll's drawing, with the title and the check bars."""

NAME_IN = 0.4
"""Height of names on a full-size plot."""

Box = tuple[float, float, float, float]


class Plot(NamedTuple):
    """One piece at full size: its letter, drawing, box, and the sentences of its title."""

    piece: str
    sheet: Sheet
    sentences: tuple[str, ...]


class _Hole(NamedTuple):
    outline: Outline
    center: Point
    name: str


def _edge_marks(outline: Outline, names: Sequence[str]) -> Iterator[AnyMark]:
    for edge, tag, name in zip(outline.edges, outline.tags, names, strict=True):
        role = kind_role(tag.kind)
        subject = edge_subject(tag)
        yield Line(role, subject, points=(edge.start, edge.end), bulges=(edge.bulge,))
        if exact.length(edge) > 4.0:
            at = exact.point_at(edge, 0.5)
            x, y = exact.direction_at(edge, 0.5)
            yield Words(
                role,
                subject,
                text=name.upper(),
                at=(at[0] - y * 0.7, at[1] + x * 0.7),
                height=NAME_IN,
                bold=True,
                angle_rad=upright_angle((x, y)),
                max_width=exact.length(edge) * 0.9,
            )


def _hole_marks(hole: _Hole) -> Iterator[AnyMark]:
    for edge in hole.outline.edges:
        yield Line("opening", points=(edge.start, edge.end), bulges=(edge.bulge,))
    yield Spot("opening", kind="cross", at=hole.center, size=0.75)
    x0, _, x1, _ = bounding_box(hole.outline)
    if x1 - x0 > 4.0:
        yield Words(
            "words",
            text=hole.name,
            at=(hole.center[0], hole.center[1] + 1.2),
            height=NAME_IN,
            max_width=x1 - x0 - 1.0,
        )


def _plot(
    piece: str,
    outline: Outline,
    holes: Sequence[_Hole],
    names: Sequence[str],
    sentences: tuple[str, ...],
) -> Plot:
    marks = [
        *_edge_marks(outline, names),
        *(mark for hole in holes for mark in _hole_marks(hole)),
    ]
    return Plot(piece, Sheet(f"Piece {piece}", tuple(marks), bounding_box(outline)), sentences)


def _middle(outline: Outline) -> Point:
    x0, y0, x1, y1 = bounding_box(outline)
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)


def face_down_plots(job: Job) -> tuple[Plot, ...]:
    """Return every piece as it lies in its mold."""
    found = []
    for mold in plan.molds(job):
        names = dict(plan.names_of_edges(job, mold.piece))
        found.append(
            _plot(
                mold.piece,
                mold.outline,
                [_Hole(k.outline, _middle(k.outline), k.name) for k in mold.knockouts],
                [names[tag.ref] for tag in mold.outline.tags],
                (f"Mold {mold.piece}: FACE DOWN", _back_words(mold), mold.handedness),
            )
        )
    return tuple(found)


def _back_words(mold: Mold) -> str:
    return "The edge marked BACK is the back; names of ends stay as installed."


def face_up_plots(job: Job) -> tuple[Plot, ...]:
    """Return every piece as it sits in the kitchen, for a dry fit on the cabinets."""
    found = []
    for piece in plan.pieces(job):
        names = dict(plan.names_of_edges(job, piece.name))
        holes = [_Hole(o.outline, o.center, opening_words(job, o.id)) for o in piece.face.openings]
        found.append(
            _plot(
                piece.name,
                piece.face.outline,
                holes,
                [names[tag.ref] for tag in piece.face.outline.tags],
                (
                    f"Piece {piece.name}: FACE UP",
                    "For a dry fit on the cabinets, not for a mold.",
                ),
            )
        )
    return tuple(found)


def panels(box: Box, width: float, height: float) -> tuple[int, int]:
    """Return how many columns and rows of panels, with overlaps, cover a box."""
    across = max(1, ceil((box[2] - box[0] - OVERLAP_IN) / (width - OVERLAP_IN)))
    up = max(1, ceil((box[3] - box[1] - OVERLAP_IN) / (height - OVERLAP_IN)))
    return across, up


def roll_pages(
    plots: Sequence[Plot], stamp: Stamp, scale: tuple[float, float], metric: bool
) -> tuple[Page, ...]:
    """Return the pages for a paper roll; a piece too large for one page takes several.

    scale corrects a printer: paper inches for a model inch along x and y, (1, 1) when true.
    """
    return tuple(page for plot in plots for page in _roll_pages(plot, stamp, scale, metric)) or (
        empty_page(stamp, metric),
    )


def _roll_pages(
    plot: Plot, stamp: Stamp, scale: tuple[float, float], metric: bool
) -> Iterator[Page]:
    box = grown(plot.sheet.box, 0.75)
    across, up = panels(box, LONGEST_IN - 2 * MARGIN_IN, ROLL_IN - FOOT_IN - 2 * MARGIN_IN)
    if up > 1 and (box[2] - box[0]) <= ROLL_IN - 2 * MARGIN_IN:
        across, up = panels(box, ROLL_IN, LONGEST_IN - FOOT_IN - 2 * MARGIN_IN)
    step_x = (box[2] - box[0] - OVERLAP_IN) / across
    step_y = (box[3] - box[1] - OVERLAP_IN) / up
    number, count = 0, across * up
    for row in range(up):
        for column in range(across):
            number += 1
            part = (
                box[0] + column * step_x,
                box[1] + row * step_y,
                box[0] + (column + 1) * step_x + OVERLAP_IN,
                box[1] + (row + 1) * step_y + OVERLAP_IN,
            )
            of = f"sheet {number} of {count}" if count > 1 else ""
            yield _roll_page(plot, part, stamp, scale, metric, of)


def _roll_page(
    plot: Plot,
    part: Box,
    stamp: Stamp,
    scale: tuple[float, float],
    metric: bool,
    of: str,
) -> Page:
    wide, high = (part[2] - part[0]) * scale[0], (part[3] - part[1]) * scale[1]
    width = max(wide, 20.0) + 2 * MARGIN_IN
    height = high + FOOT_IN + 2 * MARGIN_IN
    left, bottom = MARGIN_IN, MARGIN_IN + FOOT_IN
    window = (left, bottom, left + wide, bottom + high)
    drawing = View(
        plot.sheet,
        scale,
        (left - part[0] * scale[0], bottom - part[1] * scale[1]),
        window,
    )
    name = f"{plot.piece} {of}".strip()
    parts = [drawing]
    if of:
        parts.append(_register(part, plot.sheet.box, scale, (left, bottom)))
    parts.append(_foot(plot, stamp, scale, metric, of, width))
    return Page(name, width, height, tuple(parts))


def _register(part: Box, whole: Box, scale: tuple[float, float], at: Point) -> View:
    """Return marks in the overlaps, at the same places of the piece on both sheets."""
    marks = [
        Spot("check", kind="cross", at=(x, y), size=0.2)
        for x in (part[0] + OVERLAP_IN / 2, part[2] - OVERLAP_IN / 2)
        for y in (part[1] + OVERLAP_IN / 2, part[3] - OVERLAP_IN / 2)
    ]
    frame = Line(
        "frame",
        points=(
            (part[0], part[1]),
            (part[2], part[1]),
            (part[2], part[3]),
            (part[0], part[3]),
            (part[0], part[1]),
        ),
        bulges=(0.0,) * 4,
    )
    sheet = Sheet("register marks", (*marks, frame), part)
    return View(sheet, scale, (at[0] - part[0] * scale[0], at[1] - part[1] * scale[1]))


def line_of(
    text: str,
    x: float,
    y: float,
    height: float,
    *,
    bold: bool = False,
    room: float | None = None,
) -> Words:
    """Return a line of a page's words, from its left end, no wider than its room."""
    return Words(
        "words",
        text=text,
        at=(x, y),
        anchor="left",
        height=height,
        bold=bold,
        max_width=room,
    )


def _foot(
    plot: Plot,
    stamp: Stamp,
    scale: tuple[float, float],
    metric: bool,
    of: str,
    width: float,
) -> View:
    size = CHECK_MM / 25.4 if metric else CHECK_IN
    x = MARGIN_IN + size + 0.9
    title = plot.sentences[0] + (f", {of}" if of else "")
    marks: list[AnyMark] = [
        *check_bars((MARGIN_IN + 0.2, MARGIN_IN + 0.3), metric=metric, scale=scale),
        line_of(title, x, 4.7, 0.6, bold=True),
        line_of(stamp.line, x, 4.0, 0.24),
    ]
    room = width - x - MARGIN_IN
    for i, sentence in enumerate(plot.sentences[1:]):
        marks.append(line_of(sentence, x, 3.4 - i * 0.42, 0.26, room=room))
    marks.append(line_of("Printed true when both check bars measure what they say.", x, 2.3, 0.2))
    if stamp.sample:
        marks.append(line_of("SAMPLE", x, 1.3, 0.9, bold=True))
    return View(Sheet("title", tuple(marks), (0, 0, width, FOOT_IN)), (1.0, 1.0), (0.0, 0.0))


def empty_page(stamp: Stamp, metric: bool) -> Page:
    """Return the page of a job without pieces: its title and the check bars."""
    nothing = Plot("", Sheet("", (), (0, 0, 1, 1)), ("Nothing to plot yet",))
    return Page("empty", 20.0, 7.0, (_foot(nothing, stamp, (1.0, 1.0), metric, "", 20.0),))
