"""An independent look at cut plans: it shares no code with what makes them, only the values.

Outlines are flattened by geometry/flattening.py and judged by the polygon library.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from geometry.boxes import Box
from geometry.flattening import ring
from geometry.tolerances import KERF_KEPT_IN
from shop.stock.parts import Bars, Length, Part, Sheets, StripLength
from shop.stock.plans import (
    Cut,
    CutSheet,
    LengthPlan,
    Node,
    Piece,
    Ripped,
    SheetPlan,
    Strip,
    Used,
)


def sheet_faults(
    parts: Sequence[Part], strips: Sequence[StripLength], sheets: Sheets, plan: SheetPlan
) -> list[str]:
    """Return what is wrong with a plan: nothing when everything is cut, inside, a kerf apart."""
    faults = [*_demand_faults("part", len(parts), _parts_of(plan))]
    faults += _demand_faults("strip", len(strips), _strips_of(plan))
    faults += _kind_faults(plan.used, len(sheets.on_hand))
    if faults:
        return faults
    for number, sheet in enumerate(plan.used, start=1):
        faults += (
            f"sheet {number}: {fault}" for fault in _sheet_faults(parts, strips, sheets, sheet)
        )
    return faults


def length_faults(lengths: Sequence[Length], bars: Bars, plan: LengthPlan) -> list[str]:
    """Return what is wrong with a plan of bars: nothing when all is cut and no bar too short."""
    faults = [
        *_demand_faults("length", len(lengths), (n for bar in plan.used for n in bar.lengths))
    ]
    faults += _kind_faults(plan.used, len(bars.on_hand))
    if faults:
        return faults
    for number, bar in enumerate(plan.used, start=1):
        whole = bars.on_hand[bar.kind - 1].length_in if bar.kind else bars.new.length_in
        cut = [lengths[n].length_in for n in bar.lengths]
        if sum(cut) + bars.kerf_in * (len(cut) - 1) > whole + KERF_KEPT_IN:
            faults.append(f"bar {number} is too short")
    return faults


def _parts_of(plan: SheetPlan) -> Iterator[int]:
    return (placed.part for sheet in plan.used for placed in sheet.placed)


def _strips_of(plan: SheetPlan) -> Iterator[int]:
    for sheet in plan.used:
        for ripped in sheet.ripped:
            for strip in ripped.strips:
                yield from strip


def _demand_faults(what: str, count: int, cut: Iterable[int]) -> Iterator[str]:
    times = Counter(cut)
    for number in sorted({*range(count), *times}):
        if times[number] != (1 if 0 <= number < count else 0):
            yield f"{what} {number} is cut {times[number]} times"


def _kind_faults(used: Iterable[Used], on_hand: int) -> Iterator[str]:
    for kind, times in Counter(board.kind for board in used).items():
        if not 0 <= kind <= on_hand:
            yield f"there is no board {kind} on hand"
        elif kind and times > 1:
            yield f"board {kind} on hand is used {times} times"


def _sheet_faults(
    parts: Sequence[Part], strips: Sequence[StripLength], sheets: Sheets, sheet: CutSheet
) -> Iterator[str]:
    board = sheets.on_hand[sheet.kind - 1] if sheet.kind else sheets.new
    whole = shapely.box(0.0, 0.0, board.length_in, board.width_in)
    shapes: dict[str, BaseGeometry] = {}
    for placed in sheet.placed:
        shape = shapely.Polygon(ring(parts[placed.part].outline))
        turned = affinity.rotate(shape, placed.turn_deg, origin=(0.0, 0.0))
        shapes[f"part {placed.part}"] = affinity.translate(turned, placed.x, placed.y)
    for ripped in sheet.ripped:
        for number, box in _strip_boxes(ripped, strips, sheets.kerf_in):
            shapes[f"strip {number}"] = shapely.box(*box)
            if abs(strips[number].width_in - ripped.width_in) > KERF_KEPT_IN:
                yield f"strip {number} is ripped to another width"
            if not _holds(ripped.box, shapes[f"strip {number}"]):
                yield f"strip {number} lies outside the rectangle it is ripped from"
    offcuts = {f"offcut {i}": shapely.box(*box) for i, box in enumerate(sheet.kept, start=1)}
    yield from _place_faults(shapes | offcuts, whole.bounds, sheets.kerf_in)
    if sheet.tree is not None:
        yield from _tree_faults(sheet.tree, shapes, whole.bounds, sheets.kerf_in)


def _strip_boxes(
    ripped: Ripped, strips: Sequence[StripLength], kerf_in: float
) -> Iterator[tuple[int, Box]]:
    x0, y0, _, _ = ripped.box
    for row, numbers in enumerate(ripped.strips):
        low = row * (ripped.width_in + kerf_in)
        high, near = low + ripped.width_in, 0.0
        for number in numbers:
            far = near + strips[number].length_in
            if ripped.along == "x":
                yield number, (x0 + near, y0 + low, x0 + far, y0 + high)
            else:
                yield number, (x0 + low, y0 + near, x0 + high, y0 + far)
            near = far + kerf_in


def _holds(box: Box, shape: BaseGeometry) -> bool:
    return bool(shapely.box(*box).buffer(KERF_KEPT_IN, join_style="mitre").covers(shape))


def _place_faults(shapes: Mapping[str, BaseGeometry], whole: Box, kerf_in: float) -> Iterator[str]:
    for name, shape in shapes.items():
        if not _holds(whole, shape):
            yield f"{name} reaches over the edge"
    for (one, a), (other, b) in combinations(shapes.items(), 2):
        if a.buffer(-KERF_KEPT_IN).intersects(b.buffer(-KERF_KEPT_IN)):
            yield f"{one} and {other} overlap"
        elif a.distance(b) < kerf_in - KERF_KEPT_IN:
            yield f"{one} and {other} are closer than the kerf"


def _tree_faults(
    tree: Node, shapes: Mapping[str, BaseGeometry], whole: Box, kerf_in: float
) -> Iterator[str]:
    """Saw the sheet as the tree says, and look at what comes out."""
    found: Counter[str] = Counter()
    todo: list[tuple[Node, Box]] = [(tree, whole)]
    while todo:
        node, board = todo.pop()
        if any(abs(a - b) > KERF_KEPT_IN for a, b in zip(node.box, board, strict=True)):
            yield f"a board comes out as {board}, not as {node.box}"
        if isinstance(node, Cut):
            near, far = _sawn(node, board, kerf_in)
            todo.append((node.near, near))
            if node.far is not None:
                todo.append((node.far, far))
            elif min(far[2] - far[0], far[3] - far[1]) > KERF_KEPT_IN:
                yield f"what lies beyond the cut at {node.at_in} is forgotten"
        for name in _named(node):
            found[name] += 1
            if name not in shapes or not _holds(board, shapes[name]):
                yield f"{name} does not lie on its board"
    if found != Counter(shapes.keys()):
        yield "the cuts do not come to what lies on the sheet"


def _named(node: Node) -> list[str]:
    match node:
        case Piece():
            return [f"part {node.part}"]
        case Strip():
            return [f"strip {number}" for number in node.lengths]
        case _:
            return []


def _sawn(cut: Cut, board: Box, kerf_in: float) -> tuple[Box, Box]:
    x0, y0, x1, y1 = board
    if cut.way == "rip":
        at = y0 + cut.at_in
        return (x0, y0, x1, at), (x0, at + kerf_in, x1, y1)
    at = x0 + cut.at_in
    return (x0, y0, at, y1), (at + kerf_in, y0, x1, y1)
