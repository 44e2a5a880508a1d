"""A sheet of a cut plan as a drawing: parts and strips where they lie, offcuts, numbered cuts."""

from collections.abc import Iterator
from functools import lru_cache
from math import pi

from shapely import Polygon

from export.marks import AnyMark, Dimension, Line, Place, Region, Role, Sheet, Spot, Words
from export.typeface import text_width
from geometry.boxes import Box
from geometry.flattening import ring
from geometry.lengths import LengthStyle, written
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, bounding_box
from geometry.points import Point
from geometry.rectangles import inner_rectangles
from shop.cut_plans import CutPlan
from shop.cutting_steps import cutting_steps, sheet_name, strip_boxes, where_it_lies
from shop.stock.cut_tree import size

TAG = Tag(Kind.END, EdgeRef("sheet1", "cut"))
"""The edges of stock belong to nothing of the job."""

ROLES: dict[str, Role] = {"board": "board", "strip board": "board", "foam": "foam"}

LINES_A_LENGTH = 42.0
"""Words are as high as the sheet's length by this, or as there is room."""

SHARE = 0.68
"""Words are no higher than this part of the narrower side of what they are in."""

LENGTH_SHARE = 0.92
"""Words are no longer than this part of what they are in."""

ROUND_SAGITTA_IN = 0.25
"""Chords that stand for a round part lie no farther within it."""

SMALL = 1.2
"""What is narrower than so many lines of words is named beside it."""

ASIDE_IN = (0.25, 0.45, 0.7, 1.0)
"""How far such words stand off, on paper, the farther the more of them there are."""

TALL = 1.3
"""What is so many times as high as wide has its words upright."""

TAG_FRACTIONS = (0.06, 0.94, 0.25, 0.75, 0.5, 0.15, 0.85)
TAG_IN = 0.07
"""Half the height of a step's number, and where along its cut it may stand."""

DIMENSION_IN = 0.22
MARGIN_IN = 0.42
BORDER_IN = 0.5


def box_outline(box: Box) -> Outline:
    """Return a box as an outline, counter-clockwise."""
    x0, y0, x1, y1 = box
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return Outline(corners, (0.0,) * 4, (TAG,) * 4)


def cut_sheet(cut: CutPlan, number: int, style: LengthStyle) -> Sheet:
    """Return the drawing of one sheet of a plan, by its place in the plan."""
    used = cut.plan.used[number]
    board = cut.need.sheets.board(used.kind)
    whole = (0.0, 0.0, board.length_in, board.width_in)
    high = board.length_in / LINES_A_LENGTH
    marks: list[AnyMark] = [Region("slab", loops=(box_outline(whole),))]
    for kept in used.kept:
        marks.append(Region("opening", loops=(box_outline(kept),)))
        marks.append(_inside(kept, f"keep {_by(kept, style)}", high, "quiet"))
    for placed in used.placed:
        part = cut.need.parts[placed.part]
        shape = where_it_lies(part, placed)
        marks.append(Region(ROLES.get(cut.need.material, "opening"), loops=(shape,)))
        marks += _named(shape, part.name, style, high)
    for strip, box in strip_boxes(cut, used):
        marks.append(Region("strip", loops=(box_outline(box),)))
        each = cut.need.strips[strip]
        marks.append(_inside(box, f"{each.name}  {written(each.length_in, style)}", high, "words"))
    for step, done in enumerate(cutting_steps(cut, used, style), start=1):
        for line in done.lines:
            marks.append(Line("cut", points=line, bulges=(0.0,)))
        if done.lines:
            marks.append(_tag(done.lines[0], str(step)))
    marks += _sides(whole, style)
    x0, y0, x1, y1 = whole
    box = (x0 - BORDER_IN, y0 - BORDER_IN, x1 + BORDER_IN, y1 + BORDER_IN)
    return Sheet(f"{cut.need.material}, {sheet_name(cut, number)}", tuple(marks), box, MARGIN_IN)


def _by(box: Box, style: LengthStyle) -> str:
    length, width = size(box)
    return f"{written(max(length, width), style)} x {written(min(length, width), style)}"


def _middle(box: Box) -> Point:
    return ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)


def _inside(box: Box, text: str, high: float, role: Role, *, bold: bool = False) -> Words:
    """Return words in the middle of a box, along its longer side, as large as there is room."""
    length, width = size(box)
    upright = width > TALL * length
    room = LENGTH_SHARE * (max(length, width) if upright else length)
    return Words(
        role,
        text=text,
        at=_middle(box),
        angle_rad=pi / 2.0 if upright else 0.0,
        height=min(high, SHARE * min(length, width), room / text_width(text, 1.0, bold=bold)),
        height_model=True,
        bold=bold,
    )


@lru_cache(maxsize=512)
def _room(shape: Outline) -> Box:
    """Return the largest upright box in a part, arcs seen as their chords, round parts as many."""
    points = shape.vertices if len(shape.vertices) > 2 else ring(shape, ROUND_SAGITTA_IN)
    inner = inner_rectangles(Polygon(points), most=1)
    return inner[0] if inner else bounding_box(shape)


def _named(shape: Outline, name: str, style: LengthStyle, high: float) -> Iterator[AnyMark]:
    """Yield a part's name and size: inside, or beside what is too small for them."""
    text = _by(bounding_box(shape), style)
    box = _room(shape)
    length, width = size(box)
    if min(length, width) < SMALL * high:
        x, y = _middle(box)
        sides = ((1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (-1.0, 0.0))
        places = tuple(
            Place(
                (x + dx * length / 2.0, y + dy * width / 2.0),
                "left" if dx > 0.0 else "right" if dx < 0.0 else "middle",
                0.0,
                (dx * aside, dy * aside + lift * abs(dx) * aside),
                led=True,
            )
            for aside in ASIDE_IN
            for dx, dy in sides
            for lift in ((0.0, 1.0, -1.0) if dx else (0.0,))
        )
        said = f"{name}  {text}"
        yield Words("words", text=said, at=(x, y), height=0.09, bold=True, places=places)
        return
    if width > TALL * length:
        yield _inside(box, f"{name}  {text}", high, "words", bold=True)
        return
    x0, y0, x1, y1 = box
    middle = (y0 + y1) / 2.0
    yield _inside((x0, middle, x1, y1), name, 1.4 * high, "words", bold=True)
    yield _inside((x0, y0, x1, middle), text, high, "words")


def _tag(line: tuple[Point, Point], text: str) -> Spot:
    (ax, ay), (bx, by) = line
    places = tuple((ax + (bx - ax) * f, ay + (by - ay) * f) for f in TAG_FRACTIONS)
    return Spot("title", kind="tag", at=places[0], text=text, size=TAG_IN, places=places)


def _sides(whole: Box, style: LengthStyle) -> Iterator[AnyMark]:
    """Yield the length and the width of the sheet outside it."""
    x0, y0, x1, y1 = whole
    for a, b, length in (((x1, y0), (x0, y0), x1 - x0), ((x0, y0), (x0, y1), y1 - y0)):
        text = written(length, style)
        yield Dimension("dimension", a=a, b=b, offset=DIMENSION_IN, text=text, priority=9)
