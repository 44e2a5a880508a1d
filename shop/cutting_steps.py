"""How a sheet is cut, step by step, in words, with the lines that each step cuts along.

Positions are those of the sheet: its length along x, its lower left corner the origin.
"""

from collections.abc import Iterator, Sequence
from math import radians

import msgspec

from geometry.boxes import Box
from geometry.lengths import LengthStyle, written
from geometry.outline import Outline, area, bounding_box, moved, rotated
from geometry.points import Point
from geometry.rectangles import size_of
from geometry.tolerances import BOX_RATIO, SAME_POINT_IN
from shop.cut_plans import CutPlan
from shop.stock.cut_tree import size
from shop.stock.parts import THINNEST_IN, Part
from shop.stock.plans import Cut, CutSheet, Leaf, Node, Piece, Placed, Rest, Ripped, Strip
from shop.words import listed

Segment = tuple[Point, Point]


class Step(msgspec.Struct, frozen=True, cache_hash=True):
    """One step: what to do, and the middle of the kerfs, if it is seen on the drawing."""

    words: str
    lines: tuple[Segment, ...] = ()


def sheet_name(cut: CutPlan, number: int) -> str:
    """Return what a sheet of a plan is: 'Sheet 2' or 'Offcut 1 in the shop', by its place."""
    kind = cut.plan.used[number].kind
    if kind:
        return f"Offcut {kind} in the shop"
    return f"Sheet {sum(used.kind == 0 for used in cut.plan.used[: number + 1])}"


def cutting_steps(cut: CutPlan, sheet: CutSheet, style: LengthStyle) -> tuple[Step, ...]:
    """Return the steps that cut a sheet, in an order in which each board is there before it is cut.

    A sheet that is cut right through is sawn by its tree of cuts; on any other, parts are cut out
    one by one and strips ripped from what is left.
    """
    telling = _Telling(cut, sheet, style)
    if sheet.tree is not None:
        return (*telling.sawn(sheet.tree), *telling.shaped())
    return tuple(telling.cut_out())


class _Telling:
    """The steps of one sheet in the words of its material."""

    def __init__(self, cut: CutPlan, sheet: CutSheet, style: LengthStyle) -> None:
        self._need, self._sheet, self._style = cut.need, sheet, style
        sawn = cut.need.material in ("board", "strip board")
        self._blank = "board" if sawn else "blank"
        self._verbs = {
            "rip": "Rip" if sawn else "Cut along",
            "cross-cut": "Cross-cut" if sawn else "Cut across",
        }

    def _length(self, inches: float) -> str:
        return written(inches, self._style)

    def _by(self, box: Box) -> str:
        length, width = size(box)
        return f"{self._length(max(length, width))} x {self._length(min(length, width))}"

    # --- Cut right through ---

    def sawn(self, tree: Node) -> Iterator[Step]:
        """Yield the steps of a tree of cuts; boards on the way are numbered."""
        todo: list[tuple[Node, str]] = [(tree, "the sheet")]
        self._boards = 0
        while todo:
            node, name = todo.pop()
            if not isinstance(node, Cut):
                yield from self._whole(node, name)
                continue
            strips, lines, rest = self._strips(node)
            if strips:
                left, after = self._called(rest)
                tail = f"; {left} is left" if left else ""
                wide = f"{self._length(node.at_in)} wide"
                many = f"a strip {wide}" if len(strips) == 1 else f"{len(strips)} strips, {wide}"
                yield Step(f"{self._verbs[node.way]} {many}, off {name}{tail}.", tuple(lines))
                yield self._to_length([strip.lengths for strip in strips])
                todo += after
                continue
            near, first = self._called(node.near)
            far, then = self._called(node.far)
            yield Step(
                f"{self._verbs[node.way]} {name} at {self._length(node.at_in)}: {near}"
                + (f"; beyond it {far}." if far else "."),
                (self._line(node),),
            )
            todo += [*then, *first]

    def _whole(self, node: Leaf, name: str) -> Iterator[Step]:
        """Yield what is still to be done to a board that no cut goes through."""
        if isinstance(node, Strip):
            yield self._to_length([node.lengths])
        else:
            # A sheet that nothing is cut from is in no plan.
            assert isinstance(node, Piece)
            yield Step(f"{self._need.parts[node.part].name} is all of {name}.")

    def _strips(self, cut: Cut) -> tuple[list[Strip], list[Segment], Node | None]:
        """Return the strips of one width that come off a board one after another, and the rest."""
        strips: list[Strip] = []
        lines: list[Segment] = []
        node: Node | None = cut
        while (
            isinstance(node, Cut)
            and isinstance(node.near, Strip)
            and (node.way, node.at_in) == (cut.way, cut.at_in)
        ):
            strips.append(node.near)
            lines.append(self._line(node))
            node = node.far
        if strips and isinstance(node, Strip):
            strips.append(node)
            node = None
        return strips, lines, node

    def _line(self, cut: Cut) -> Segment:
        """Return the middle of a cut's kerf, as far as the board goes."""
        x0, y0, x1, y1 = cut.box
        half = self._need.sheets.kerf_in / 2.0
        if cut.way == "rip":
            y = min(y0 + cut.at_in + half, y1)
            return ((x0, y), (x1, y))
        x = min(x0 + cut.at_in + half, x1)
        return ((x, y0), (x, y1))

    def _called(self, node: Node | None) -> tuple[str, list[tuple[Node, str]]]:
        """Return what a side of a cut is, and what is still to be done to it."""
        match node:
            case Piece():
                return self._need.parts[node.part].name, []
            case Rest() if min(size(node.box)) < THINNEST_IN:
                return "", []
            case Rest():
                kept = node.box in self._sheet.kept
                return f"{'an offcut' if kept else 'scrap,'} {self._by(node.box)}", []
            case Strip():
                return f"a strip {self._by(node.box)}", [(node, "")]
            case Cut():
                self._boards += 1
                name = f"{self._blank} {self._boards}"
                return f"{name}, {self._by(node.box)}", [(node, name)]
            case _:
                return "", []

    def _to_length(self, strips: Sequence[Sequence[int]]) -> Step:
        """Return the step that cuts strips to length, one after another."""
        said = []
        for number, lengths in enumerate(strips, start=1):
            each = [self._need.strips[n] for n in lengths]
            cut = ", ".join(f"{one.name} {self._length(one.length_in)}" for one in each)
            said.append(f"strip {number}: {cut}" if len(strips) > 1 else cut)
        return Step(f"Cut to length, from the left or lower end: {'; '.join(said)}.")

    def shaped(self) -> Iterator[Step]:
        """Yield the step that cuts parts to their outlines which are no rectangles."""
        names = [
            self._need.parts[placed.part].name
            for placed in self._sheet.placed
            if not _is_box(self._need.parts[placed.part])
        ]
        if names:
            yield Step(f"Then cut to their outlines: {listed(names)}.")

    # --- Cut out one by one ---

    def cut_out(self) -> Iterator[Step]:
        """Yield the steps of a sheet that parts are cut out of, from its left end on."""
        boxes = {placed.part: self._lies(placed.part) for placed in self._sheet.placed}
        for part in sorted(boxes, key=lambda part: boxes[part][:2]):
            x, y = boxes[part][:2]
            turned = next(p.turn_deg for p in self._sheet.placed if p.part == part)
            turn = f", {_turn_words(turned)}" if turned else ""
            yield Step(
                f"Cut out {self._need.parts[part].name}, {self._by(boxes[part])}: its lower left"
                f" corner {self._length(x)} from the left end and {self._length(y)} from the lower"
                f" edge{turn}."
            )
        for ripped in self._sheet.ripped:
            yield self._ripped(ripped)
            yield self._to_length(ripped.strips)

    def _lies(self, number: int) -> Box:
        """Return the box of a part where it lies."""
        placed = next(each for each in self._sheet.placed if each.part == number)
        return bounding_box(where_it_lies(self._need.parts[number], placed))

    def _ripped(self, ripped: Ripped) -> Step:
        x0, y0, x1, y1 = ripped.box
        step, kerf = ripped.width_in + self._need.sheets.kerf_in, self._need.sheets.kerf_in
        lines: list[Segment] = []
        along_x = ripped.along == "x"
        for row in range(1, len(ripped.strips) + 1):
            at = row * step - kerf / 2.0
            if along_x and y0 + at < y1 - SAME_POINT_IN:
                lines.append(((x0, y0 + at), (x1, y0 + at)))
            elif not along_x and x0 + at < x1 - SAME_POINT_IN:
                lines.append(((x0 + at, y0), (x0 + at, y1)))
        many, wide = len(ripped.strips), self._length(ripped.width_in)
        strips = f"a strip, {wide} wide," if many == 1 else f"{many} strips, {wide} wide,"
        where = (
            "the sheet"
            if not self._sheet.placed and len(self._sheet.ripped) == 1
            else f"the {self._by(ripped.box)} at {self._length(x0)} from the left end and"
            f" {self._length(y0)} from the lower edge"
        )
        return Step(f"Rip {strips} off {where}.", tuple(lines))


def _turn_words(turn_deg: float) -> str:
    left = turn_deg % 360.0
    hand, by = ("left", left) if left <= 180.0 else ("right", 360.0 - left)
    return f"turned {round(by, 1):g} degrees to the {hand}"


def where_it_lies(part: Part, placed: Placed) -> Outline:
    """Return the outline of a part where it lies on its sheet."""
    turned = rotated(part.outline, radians(placed.turn_deg)) if placed.turn_deg else part.outline
    return moved(turned, (placed.x, placed.y))


def strip_boxes(cut: CutPlan, sheet: CutSheet) -> Iterator[tuple[int, Box]]:
    """Yield the numbers of the strips on a sheet, each with the box it is cut to."""
    kerf = cut.need.sheets.kerf_in
    for ripped in sheet.ripped:
        x0, y0 = ripped.box[:2]
        for row, numbers in enumerate(ripped.strips):
            low, near = row * (ripped.width_in + kerf), 0.0
            for number in numbers:
                far, high = near + cut.need.strips[number].length_in, low + ripped.width_in
                box = (near, low, far, high) if ripped.along == "x" else (low, near, high, far)
                yield number, (x0 + box[0], y0 + box[1], x0 + box[2], y0 + box[3])
                near = far + kerf


def _is_box(part: Part) -> bool:
    box = size_of(bounding_box(part.outline))
    return abs(area(part.outline) - box) <= BOX_RATIO * box
