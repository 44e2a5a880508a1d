"""DXF for cutting: bases, sidewalls and knockouts, true arcs, one closed polyline a part.

Layers are named in plain words. Only outlines lie on cutting layers.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING

from export.part_rows import KNOCKOUT_WORDS
from export.sound import sound_molds
from export.stamp import Stamp
from export.stripwords import end_words, length_words
from geometry import edges as exact
from geometry.edges import Edge
from geometry.insets import in_face
from geometry.lengths import LengthStyle, written
from geometry.outline import Outline, bounding_box, centroid, contains, mirrored, moved
from geometry.panelling import clipped_to, leveled
from geometry.points import Point, along, plus
from shop.base_panels import base_panels
from shop.insets import insets_of
from shop.job import Job
from shop.mold_choices import mold_choices
from shop.molds import Mold
from shop.strips import Strip
from shop.words import length_style

if TYPE_CHECKING:
    from ezdxf.document import Drawing

INSUNITS_IN = 1
INSUNITS_MM = 4
"""$INSUNITS of the DXF reference: 1 inches, 4 millimeters."""

CUT = "cut outline"
KNOCKOUT = "knockout"
STAND = "stands here"
SET_IN = "set in"
DRILL = "drill"
WORDS = "words"

SHEET = "stock sheet"
OFFCUT = "offcut to keep"

LAYERS = {CUT: 7, KNOCKOUT: 30, STAND: 32, SET_IN: 42, DRILL: 5, WORDS: 8}
STOCK_LAYERS = {CUT: 7, SHEET: 9, OFFCUT: 3, WORDS: 8}
"""Layers and their colors in the DXF color index: of parts set out, and of parts on their stock."""

MM_PER_IN = 25.4
"""Exact by definition."""

DRILL_IN = 0.1875
"""Diameter of a drill mark; a clearance hole for a No. 8 screw (common practice, no source)."""

SPACE_IN = 4.0
ROW_IN = 97.0
"""Parts are set out in rows about this long."""


class DxfBoard:
    """A DXF drawing being filled, in inches; written in the job's unit."""

    def __init__(
        self, job: Job, stamp: Stamp, title: str, layers: Mapping[str, int] = LAYERS
    ) -> None:
        """Begin a drawing with its title and the job's stamp below the parts."""
        from ezdxf.filemanagement import new

        metric = job.display == "mm"
        self._factor = MM_PER_IN if metric else 1.0
        with _without_clock():
            self._drawing: Drawing = new("R2010", setup=False)
        self._drawing.header["$INSUNITS"] = INSUNITS_MM if metric else INSUNITS_IN
        self._drawing.header["$MEASUREMENT"] = 1 if metric else 0
        for name, color in layers.items():
            self._drawing.layers.add(name, color=color)
        self._space = self._drawing.modelspace()
        self.words(title, (0.0, -3.0), 1.5)
        self.words(stamp.line, (0.0, -5.5), 1.5)

    def outline(self, outline: Outline, layer: str) -> None:
        """Add a closed polyline with its arcs."""
        points = [
            (x * self._factor, y * self._factor, bulge)
            for (x, y), bulge in zip(outline.vertices, outline.bulges, strict=True)
        ]
        self._space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": layer})

    def drill(self, at: Point) -> None:
        """Add a drill mark."""
        self._space.add_circle(
            (at[0] * self._factor, at[1] * self._factor),
            DRILL_IN / 2.0 * self._factor,
            dxfattribs={"layer": DRILL},
        )

    def words(self, text: str, at: Point, height: float) -> None:
        """Add a line of words, harmless whatever it holds."""
        self._space.add_text(
            harmless(text), height=height * self._factor, dxfattribs={"layer": WORDS}
        ).set_placement((at[0] * self._factor, at[1] * self._factor))

    def encoded(self) -> bytes:
        """Return the drawing as a file, the same bytes for the same drawing."""
        # The library takes these from a set, in an order that changes from run to run.
        for name in sorted(self._drawing.entitydb.dxf_types_in_use()):
            self._drawing.classes.add_class(name)
        text = StringIO()
        with _without_clock():
            self._drawing.write(text)
        return self._drawing.encode(text.getvalue())


@contextmanager
def _without_clock() -> Iterator[None]:
    """Let the library write fixed dates and ids, for as long as this lasts."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def harmless(text: str) -> str:
    """Return text for one line of a drawing: no control characters, no codes of the format."""
    plain = "".join(letter if letter.isprintable() else " " for letter in text)
    return re.sub("%(?=%)", "% ", plain).replace("\\", "/").replace("^", "")


def _placed_in_rows(sizes: Iterable[tuple[float, float]]) -> Iterator[Point]:
    """Give the lower left corner of each part, set out in rows upward."""
    x = y = tallest = 0.0
    for width, height in sizes:
        if x and x + width > ROW_IN:
            x, y, tallest = 0.0, y + tallest + SPACE_IN, 0.0
        yield (x, y)
        x += width + SPACE_IN
        tallest = max(tallest, height)


def _size(outline: Outline) -> tuple[float, float]:
    x0, y0, x1, y1 = bounding_box(outline)
    return (x1 - x0, y1 - y0)


def bases(job: Job, stamp: Stamp) -> bytes:
    """Return every base, face down, with where knockouts, sidewalls and what is set in stand on it.

    A base that is larger than a sheet comes in its panels, each by itself.
    """
    board = DxfBoard(job, stamp, "Bases, FACE DOWN: do not mirror")
    style = length_style(job)
    parts = [(mold, panel) for mold in sound_molds(job) for panel in base_panels(job, mold).panels]
    places = _placed_in_rows(_size(panel.outline) for _, panel in parts)
    for (mold, panel), place in zip(parts, places, strict=True):
        x0, y0, _, _ = bounding_box(panel.outline)
        by = (place[0] - x0, place[1] - y0)
        choices = mold_choices(job, mold.piece)
        board.outline(moved(panel.outline, by), CUT)
        if choices.construction == "sides-on-base":
            for part in clipped_to(mold.frame, panel.outline):
                board.outline(moved(part, by), STAND)
            for strip in mold.strips:
                for screw in _from_below(mold, strip, strip.thickness_in / 2.0):
                    if contains(panel.outline, screw):
                        board.drill(plus(screw, by))
        for knockout in mold.knockouts:
            if contains(panel.outline, centroid(knockout.outline)):
                board.outline(moved(knockout.outline, by), STAND)
        for found in insets_of(job, mold.piece):
            assert found.placed is not None
            lies = map(mirrored, found.placed.outlines if in_face(found.inset.shape) else ())
            for outline in (one for one in lies if contains(panel.outline, centroid(one))):
                board.outline(moved(outline, by), SET_IN)
        width, _ = _size(panel.outline)
        sides = " x ".join(written(size, style) for size in panel.size)
        board.words(f"{panel.name}  {sides}  FACE DOWN", (place[0] + 1.0, place[1] + 2.6), 1.0)
        board.words(mold.handedness, (place[0] + 1.0, place[1] + 1.0), min(0.7, width / 70.0))
    return board.encoded()


def _from_below(mold: Mold, strip: Strip, out: float) -> Iterator[Point]:
    """Give where screws come up through the base into a strip, so far outside the frame."""
    edges = [mold.frame.edges[i] for i in strip.edges]
    for screw in strip.screws:
        edge, at = _along(edges, screw)
        x, y = exact.direction_at(edge, at)
        yield along(exact.point_at(edge, at), (y, -x), out)


def _along(edges: Sequence[Edge], distance: float) -> tuple[Edge, float]:
    """Return the edge a distance along a chain, and how far along that edge, 0 to 1."""
    for edge in edges[:-1]:
        if distance <= exact.length(edge):
            return edge, distance / exact.length(edge)
        distance -= exact.length(edge)
    return edges[-1], distance / exact.length(edges[-1])


def _blank(strip: Strip) -> tuple[float, float]:
    """Return how long a strip is cut over all, and where its face starts in that length.

    A bent strip is cut to its longer side, with as much to trim at both ends.
    """
    length = strip.over_all_in
    if strip.arc_radius is not None:
        return length, (length - strip.face_length_in) / 2.0
    return length, max(strip.ends[0].back_extra_in, 0.0)


def sidewalls(job: Job, stamp: Stamp) -> bytes:
    """Return every sidewall as a flat part: its blank, drill marks, and notes on its ends."""
    board = DxfBoard(job, stamp, "Sidewalls, inside faces up, screw edge at the bottom")
    style = length_style(job)
    y = 0.0
    for mold in sound_molds(job):
        choices = mold_choices(job, mold.piece)
        outside = choices.construction == "sides-outside-base"
        for strip in mold.strips:
            if strip.insert is not None:
                y = _set_out(board, (strip.insert,), f"{strip.name}: insert, turned or cast", y)
                continue
            length, face = _blank(strip)
            tag = (strip.tag,) * 4
            corners = (
                (0.0, y),
                (length, y),
                (length, y + strip.height_in),
                (0.0, y + strip.height_in),
            )
            board.outline(Outline(corners, (0.0,) * 4, tag), CUT)
            if outside:
                start = face + strip.ends[0].face_extra_in
                for screw in strip.screws:
                    # Inside face up and screw edge down, the base edge runs from right to left.
                    board.drill((length - start - screw, y + choices.base_thickness / 2.0))
            board.words(
                _strip_note(strip, style),
                (length + 1.0, y + strip.height_in / 2.0),
                0.7,
            )
            y += strip.height_in + 1.5
            if strip.blocks:
                count = len(strip.blocks)
                y = _set_out(
                    board, strip.blocks[:1], f"{strip.name}: backing block, {count} alike", y
                )
    return board.encoded()


def _set_out(board: DxfBoard, shapes: Sequence[Outline], note: str, y: float) -> float:
    """Add shapes seen from above to the row of sidewalls; return where the next row begins."""
    for shape in shapes:
        level = leveled(shape)
        x0, y0, x1, y1 = bounding_box(level)
        board.outline(moved(level, (-x0, y - y0)), CUT)
        board.words(note, (x1 - x0 + 1.0, y + (y1 - y0) / 2.0), 0.7)
        y += y1 - y0 + 1.5
    return y


def _strip_note(strip: Strip, style: LengthStyle) -> str:
    right, left = strip.ends
    back = written(strip.back_length_in, style)
    spliced = ""
    if len(strip.pieces) > 1:
        spliced = f"; spliced from {len(strip.pieces)} of {written(strip.pieces[0], style)}"
    return (
        f"{length_words(strip, style)}; back {back}{spliced}; left end {end_words(left)};"
        f" right end {end_words(right)}"
    )


def knockouts(job: Job, stamp: Stamp) -> bytes:
    """Return every knockout, face down."""
    board = DxfBoard(job, stamp, "Knockouts, FACE DOWN: do not mirror")
    style = length_style(job)
    molds = sound_molds(job)
    parts = [(mold, knockout) for mold in molds for knockout in mold.knockouts]
    places = list(_placed_in_rows(_size(knockout.outline) for _, knockout in parts))
    for (mold, knockout), place in zip(parts, places, strict=True):
        x0, y0, _, _ = bounding_box(knockout.outline)
        board.outline(moved(knockout.outline, (place[0] - x0, place[1] - y0)), KNOCKOUT)
        width, depth = _size(knockout.outline)
        thick = written(knockout.thickness_in, style)
        made = KNOCKOUT_WORDS[knockout.made_of]
        note = f"{mold.piece} {knockout.name}, {knockout.size_words}, {thick} thick, {made}"
        board.words(note, (place[0] + 0.5, place[1] + depth / 2.0), min(0.8, width / 30.0))
    bores = [
        (f"{mold.piece} {knockout.name}, counterbore", knockout.counterbore)
        for mold, knockout in parts
        if knockout.counterbore is not None
    ]
    below = min((y for _, y in places), default=0.0) - SPACE_IN
    x = 0.0
    for name, block in bores:
        x0, y0, x1, y1 = bounding_box(block.outline)
        low = below - (y1 - y0)
        board.outline(moved(block.outline, (x - x0, low - y0)), KNOCKOUT)
        note = f"{name}, {written(block.depth_in, style)} thick"
        board.words(note, (x, low - 1.0), min(0.5, (x1 - x0) / 10.0))
        x += x1 - x0 + 2.0 * SPACE_IN
    return board.encoded()
