"""Parts, sheets and random kitchens that the tests and benchmarks of cut plans share."""

import random
from collections.abc import Callable, Sequence

from geometry.points import Point
from shop.stock.parts import Bar, Bars, Board, Length, Part, Sheets, StripLength
from shop.stock.plans import LengthPlan, SheetPlan
from tests.shapes import named
from tests.shop.stock_checking import length_faults, sheet_faults

SHEET = Board("melamine", 97.0, 49.0)
SHEETS = Sheets(SHEET)
KITCHENS = range(20)


def part(name: str, corners: Sequence[Point], bulges: Sequence[float] = ()) -> Part:
    return Part(name, named(corners, bulges))


def rectangle(name: str, length: float, width: float) -> Part:
    return part(name, ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)))


def rectangles(*sizes: tuple[float, float]) -> list[Part]:
    return [rectangle(f"part {i}", *size) for i, size in enumerate(sizes)]


def l_shape(name: str, length: float, depth: float, arm: float = 25.5) -> Part:
    corners = ((0, 0), (length, 0), (length, arm), (arm, arm), (arm, depth), (0, depth))
    return part(name, [(float(x), float(y)) for x, y in corners])


def kitchen(seed: int) -> list[Part]:
    """4 to 8 bases: rectangles 20 to 96 x 16 to 30, one L of 60, and one with an angled end."""
    chance = random.Random(seed)

    def size(low: float, high: float) -> float:
        return chance.randint(round(16 * low), round(16 * high)) / 16.0

    count = chance.randint(4, 8)
    bases = [rectangle(f"base {i}", size(20, 96), size(16, 30)) for i in range(count - 2)]
    bases.append(l_shape("L", 60.0, size(36, 48.5)))
    length, width, cut = size(30, 96), size(16, 30), size(4, 12)
    corners = ((0.0, 0.0), (length, 0.0), (length - cut, width), (0.0, width))
    return [*bases, part("angled", corners)]


def strips(count: int, seed: int) -> list[Length]:
    """Lengths of sidewalls: 3 to 96 in, by 1/16."""
    chance = random.Random(1000 * count + seed)
    sizes = (chance.randint(48, 1536) / 16.0 for _ in range(count))
    return [Length(f"strip {i}", size) for i, size in enumerate(sizes)]


def ripped_strips(count: int, seed: int, *widths: float) -> list[StripLength]:
    """Lengths of 6 to 96 in of strips ripped to widths in turn."""
    chance = random.Random(seed)
    sizes = [chance.randint(96, 1536) / 16.0 for _ in range(count)]
    return [
        StripLength(f"strip {i}", size, widths[i % len(widths)]) for i, size in enumerate(sizes)
    ]


BARS = Bars(Bar("strip of a new sheet", 97.0))


def right(parts: Sequence[Part], sheets: Sheets, plan: SheetPlan) -> SheetPlan:
    """The plan, after the independent checker found nothing wrong with it."""
    assert sheet_faults(parts, [], sheets, plan) == []
    return plan


def right_lengths(lengths: Sequence[Length], bars: Bars, plan: LengthPlan) -> LengthPlan:
    assert length_faults(lengths, bars, plan) == []
    return plan


def times(count: int) -> Callable[[], bool]:
    """Go on so many times, then stop."""
    left = iter(range(count))
    return lambda: next(left, None) is not None
