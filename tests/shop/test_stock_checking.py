"""The checker finds what is wrong with a plan: plans are spoilt by hand, one way after another."""

import pytest
from msgspec.structs import replace

from shop.stock.parts import Bar, Bars, Board, Length, Part, Sheets, StripLength
from shop.stock.plans import (
    Cut,
    CutBar,
    CutSheet,
    LengthPlan,
    Node,
    Piece,
    Placed,
    Rest,
    Ripped,
    SheetPlan,
    Strip,
)
from tests.shapes import DISC
from tests.shop.stock_cases import SHEET, rectangle
from tests.shop.stock_checking import length_faults, sheet_faults

PARTS = [rectangle("A", 40.0, 20.0), rectangle("B", 40.0, 20.0)]
STRIPS = [StripLength("A1", 30.0, 3.0), StripLength("A2", 20.0, 3.0), StripLength("A3", 20.0, 3.0)]
SHEETS = Sheets(SHEET, (Board("offcut", 50.0, 30.0),))

A, B = Placed(0, 0.0, 0.0, 0.0), Placed(1, 0.0, 40.125, 0.0)
BOX = (0.0, 21.0, 60.0, 28.0)
RIPPED = Ripped(BOX, "x", 3.0, ((0, 1), (2,)))


def plan(*placed: Placed, ripped: Ripped = RIPPED, kind: int = 0) -> SheetPlan:
    return SheetPlan((CutSheet(kind, placed, (ripped,)),), 1)


def faults(spoilt: SheetPlan, sheets: Sheets = SHEETS) -> list[str]:
    return sheet_faults(PARTS, STRIPS, sheets, spoilt)


def test_nothing_is_wrong_with_a_right_plan() -> None:
    assert faults(plan(A, B)) == []


@pytest.mark.parametrize(
    ("spoilt", "said"),
    [
        (plan(A), ["part 1 is cut 0 times"]),
        (plan(A, B, B), ["part 1 is cut 2 times"]),
        (plan(A, replace(B, x=40.1)), ["sheet 1: part 0 and part 1 are closer than the kerf"]),
        (plan(A, replace(B, x=39.0)), ["sheet 1: part 0 and part 1 overlap"]),
        (plan(A, replace(B, x=58.0)), ["sheet 1: part 1 reaches over the edge"]),
        (plan(A, replace(B, x=-0.01, y=29.0)), ["sheet 1: part 1 reaches over the edge"]),
        (
            plan(A, replace(B, turn_deg=90.0)),
            [
                "sheet 1: part 0 and part 1 overlap",
                "sheet 1: part 1 and strip 0 overlap",
                "sheet 1: part 1 and strip 1 overlap",
            ],
        ),
        (plan(A, B, ripped=replace(RIPPED, strips=((0, 1),))), ["strip 2 is cut 0 times"]),
        (
            plan(A, B, ripped=replace(RIPPED, strips=((0, 1, 2),))),
            ["sheet 1: strip 2 lies outside the rectangle it is ripped from"],
        ),
        (
            plan(A, B, ripped=replace(RIPPED, width_in=2.5)),
            [f"sheet 1: strip {i} is ripped to another width" for i in range(3)],
        ),
        (
            plan(A, B, ripped=replace(RIPPED, box=(0.0, 20.0, 60.0, 28.0))),
            [
                f"sheet 1: {one} and strip {i} are closer than the kerf"
                for one, numbers in (("part 0", (0, 1)), ("part 1", (1,)))
                for i in numbers
            ],
        ),
    ],
)
def test_what_is_wrong_is_said(spoilt: SheetPlan, said: list[str]) -> None:
    assert faults(spoilt) == said


def test_parts_that_are_not_there_and_boards_that_are_not_there_are_told() -> None:
    (sheet,) = plan(A, B).used
    twice = SheetPlan((replace(sheet, kind=1), CutSheet(1)), 0)
    assert "board 1 on hand is used 2 times" in faults(twice)
    assert "there is no board 3 on hand" in length_faults(
        [], Bars(Bar("new", 9.0)), LengthPlan((CutBar(3, ()),), 0)
    )
    strange = length_faults([], Bars(Bar("new", 9.0)), LengthPlan((), 0))
    assert strange == []


def test_kept_offcuts_must_not_lie_on_anything() -> None:
    (sheet,) = plan(A, B).used
    spoilt = SheetPlan((replace(sheet, kept=((90.0, 0.0, 97.0, 49.0), (70.0, 0.0, 80.0, 9.0))),), 1)
    assert faults(spoilt) == ["sheet 1: part 1 and offcut 2 overlap"]


def test_strips_along_y_are_looked_at_too() -> None:
    across = Ripped((90.0, 0.0, 97.0, 49.0), "y", 3.0, ((0,), (1, 2)))
    assert faults(plan(A, B, ripped=across)) == []
    assert faults(plan(A, B, ripped=replace(across, box=(91.0, 0.0, 98.0, 49.0)))) == [
        "sheet 1: strip 1 reaches over the edge",
        "sheet 1: strip 2 reaches over the edge",
    ]


def test_without_a_kerf_parts_may_touch_but_not_overlap() -> None:
    sheets = Sheets(SHEET, kerf_in=0.0)
    discs = [Part("A", DISC), Part("B", DISC)]
    for x, said in ((3.0, []), (2.9, ["sheet 1: part 0 and part 1 overlap"])):
        lie = (Placed(0, 0.0, 1.0, 1.0), Placed(1, 45.0, x, 1.0))
        assert sheet_faults(discs, [], sheets, SheetPlan((CutSheet(0, lie),), 1)) == said


WHOLE = (0.0, 0.0, 97.0, 49.0)
LEFT, RIGHT = (0.0, 0.0, 40.0, 49.0), (40.125, 0.0, 97.0, 49.0)
PIECE = Piece(0, turned=False, box=(0.0, 0.0, 40.0, 20.0))
ABOVE = (0.0, 20.125, 40.0, 49.0)
RIP = Cut("rip", 20.0, LEFT, PIECE, Rest(ABOVE))
TREE = Cut("cross-cut", 40.0, WHOLE, RIP, Rest(RIGHT))


def sawn(tree: Node, *ripped: Ripped) -> list[str]:
    sheet = CutSheet(0, (A,), ripped, tree=tree)
    return sheet_faults(PARTS[:1], STRIPS[:1] if ripped else [], SHEETS, SheetPlan((sheet,), 1))


def test_cuts_that_come_to_what_lies_on_the_sheet_are_right() -> None:
    assert sawn(TREE) == []


def test_strips_come_out_of_the_cuts_too() -> None:
    ripped = Ripped(ABOVE, "x", 3.0, ((0,),))
    strip = Cut(
        "rip", 3.0, ABOVE, Strip((0,), (0.0, 20.125, 40.0, 23.125)), Rest((0.0, 23.25, 40.0, 49.0))
    )
    assert sawn(replace(TREE, near=replace(RIP, far=strip)), ripped) == []
    assert sawn(TREE, ripped) == ["sheet 1: the cuts do not come to what lies on the sheet"]


def test_a_cut_that_goes_wrong_is_told() -> None:
    short = replace(TREE, at_in=39.0)
    assert any("comes out as" in fault for fault in sawn(short))
    assert any("does not lie on its board" in fault for fault in sawn(short))
    forgotten = replace(TREE, far=None)
    assert sawn(forgotten) == ["sheet 1: what lies beyond the cut at 40.0 is forgotten"]
    other = replace(TREE, near=replace(RIP, near=replace(PIECE, part=1)))
    assert sawn(other) == [
        "sheet 1: part 1 does not lie on its board",
        "sheet 1: the cuts do not come to what lies on the sheet",
    ]
    assert sawn(Rest(WHOLE)) == ["sheet 1: the cuts do not come to what lies on the sheet"]


def test_bars_must_be_long_enough_for_what_is_cut_from_them() -> None:
    lengths = [Length("a", 4.0), Length("b", 4.9)]
    bars = Bars(Bar("new", 9.0), (Bar("long", 20.0),), kerf_in=0.125)
    assert length_faults(lengths, bars, LengthPlan((CutBar(1, (0, 1)),), 0)) == []
    assert length_faults(lengths, bars, LengthPlan((CutBar(0, (0, 1)),), 0)) == [
        "bar 1 is too short"
    ]
    assert length_faults(lengths, bars, LengthPlan((CutBar(0, (0,)),), 0)) == [
        "length 1 is cut 0 times"
    ]
