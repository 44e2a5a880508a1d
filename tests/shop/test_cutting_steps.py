"""The order of cutting: every part comes off once, no board is cut before it is there."""

import re
from collections import Counter

import pytest
from msgspec.structs import replace

from geometry.lengths import LengthStyle
from shop import edits, plan
from shop.cut_plans import CutPlan, CutPlans, cut_plans, quick_cut_plans
from shop.cutting_steps import cutting_steps, sheet_name, strip_boxes, where_it_lies
from shop.job import Job
from shop.jobfile import read_job
from shop.material_needs import SheetNeed, needs
from shop.samples import sample_names, sample_path
from shop.stock.combined import FREE, Wishes, combined_plan
from shop.stock.parts import Board, Part, Sheets, StripLength
from shop.stock_list import Offcut, SheetGoods, Stock
from tests.shop.kitchens import after, seam, sink, straight
from tests.shop.stock_cases import SHEETS, rectangle

STYLE = LengthStyle()


def planned(job: Job) -> CutPlans:
    return quick_cut_plans(needs(job, [piece.name for piece in plan.pieces(job)]))


def cut(
    parts: list[Part],
    strips: list[StripLength],
    wishes: Wishes = Wishes(through_cuts=True),  # noqa: B008
    sheets: Sheets = SHEETS,
) -> CutPlan:
    need = SheetNeed("board", tuple(parts), tuple(strips), sheets, wishes)
    return CutPlan(need, combined_plan(parts, strips, sheets, wishes), ())


def said(made: CutPlan) -> list[str]:
    return [step.words for sheet in made.plan.used for step in cutting_steps(made, sheet, STYLE)]


@pytest.mark.parametrize("mode", ["through-cuts", "quarter-turns"])
@pytest.mark.parametrize("sample", sample_names())
def test_the_steps_of_a_sample_come_to_all_its_parts(sample: str, mode: str) -> None:
    job = read_job(sample_path(sample))
    for made in planned(replace(job, stock=replace(job.stock, cutting=mode))).sheets:
        words = " ".join(w for w in said(made) if not w.startswith("Then cut to their"))
        names = [part.name for part in made.need.parts]
        for name in (*names, *(strip.name for strip in made.need.strips)):
            times = re.findall(rf"\b{re.escape(name)}(?![\w(])(?! \(\d)", words)
            assert len(times) == 1, name
        for sheet in made.plan.used:
            board = made.need.sheets.board(sheet.kind)
            for step in cutting_steps(made, sheet, STYLE):
                for line in step.lines:
                    for x, y in line:
                        assert -1e-9 <= x <= board.length_in + 1e-9
                        assert -1e-9 <= y <= board.width_in + 1e-9


@pytest.mark.parametrize("name", sample_names())
def test_no_board_is_cut_before_it_is_there_and_each_is_cut_once(name: str) -> None:
    for made in planned(read_job(sample_path(name))).sheets:
        for sheet in made.plan.used:
            there: set[str] = set()
            cut_up: Counter[str] = Counter()
            for step in cutting_steps(made, sheet, STYLE):
                source = re.match(r"(?:Rip|Cross-cut|Cut along|Cut across) (.*?) at ", step.words)
                strips = re.search(r", off (.*?)[.;]", step.words)
                found = source or strips
                if found:
                    cut_up[found[1]] += 1
                    assert found[1] == "the sheet" or found[1] in there
                there |= set(re.findall(r"((?:board|blank) \d+), ", step.words))
            assert set(cut_up) <= there | {"the sheet"}
            assert there <= set(cut_up)
            assert set(cut_up.values()) <= {1}


def test_a_base_and_its_strips_are_sawn_in_words() -> None:
    strips = [StripLength(f"A{i}", 90.0, 2.75) for i in (1, 2)]
    assert said(cut([rectangle("A base", 90.0, 25.0)], strips)) == [
        "Rip the sheet at 25: board 1, 8' 1 x 25; beyond it board 2, 8' 1 x 23 7/8.",
        "Cross-cut board 1 at 7' 6: A base; beyond it an offcut 25 x 6 7/8.",
        "Rip 2 strips, 2 3/4 wide, off board 2; an offcut 8' 1 x 18 1/8 is left.",
        "Cut to length, from the left or lower end: strip 1: A1 7' 6; strip 2: A2 7' 6.",
    ]


def test_strips_that_use_up_a_board_leave_nothing() -> None:
    sheets = Sheets(Board("board", 97.0, 8.5))
    strips = [StripLength(f"A{i}", 90.0, 2.75) for i in (1, 2, 3)]
    first, second = said(cut([], strips, sheets=sheets))
    assert first == "Rip 3 strips, 2 3/4 wide, off the sheet."
    assert second.count("strip ") == 3
    one = Sheets(Board("board", 97.0, 2.75))
    assert said(cut([], strips[:1], sheets=one)) == [
        "Cut to length, from the left or lower end: A1 7' 6."
    ]


def test_a_strip_as_wide_as_its_board_needs_no_rip() -> None:
    sheets = Sheets(Board("board", 97.0, 27.875))
    words = said(
        cut([rectangle("A base", 97.0, 25.0)], [StripLength("A1", 90.0, 2.75)], sheets=sheets)
    )
    assert words == [
        "Rip the sheet at 25: A base; beyond it a strip 8' 1 x 2 3/4.",
        "Cut to length, from the left or lower end: A1 7' 6.",
    ]


def test_a_cut_that_takes_the_rest_has_nothing_beyond() -> None:
    sheets = Sheets(Board("board", 97.0, 25.1))
    (words,) = said(cut([rectangle("A base", 97.0, 25.0)], [], sheets=sheets))
    assert words == "Rip the sheet at 25: A base."


def test_a_part_may_be_the_whole_sheet() -> None:
    (words,) = said(cut([rectangle("A base", 97.0, 49.0)], []))
    assert words == "A base is all of the sheet."


def test_free_parts_are_cut_out_one_by_one() -> None:
    strips = [StripLength("A1", 90.0, 2.75), StripLength("A2", 20.0, 2.75)]
    words = said(cut([rectangle("A base", 25.0, 90.0)], strips, FREE))
    assert words[0] == (
        "Cut out A base, 7' 6 x 25: its lower left corner 0 from the left end and 0 from the lower"
        " edge, turned 90 degrees to the left."
    )
    assert words[1].startswith("Rip ")
    assert "from the left end and" in words[1]
    assert words[2].startswith("Cut to length")


def test_free_strips_of_a_whole_sheet_are_ripped_off_the_sheet() -> None:
    made = cut([], [StripLength(f"A{i}", 90.0, 2.75) for i in range(4)], FREE)
    sheet = replace(made.plan.used[0], tree=None)
    (rip, _) = cutting_steps(made, sheet, STYLE)
    assert rip.words == "Rip 4 strips, 2 3/4 wide, off the sheet."
    assert [line[0][1] for line in rip.lines] == pytest.approx([2.8125, 5.6875, 8.5625, 11.4375])


def test_free_strips_across_a_sheet_are_lined_upright() -> None:
    sheets = Sheets(Board("board", 97.0, 25.0), (Board("offcut", 2.75, 20.0),))
    made = cut([], [StripLength("A1", 20.0, 2.75)], FREE, sheets)
    (sheet,) = (replace(each, tree=None) for each in made.plan.used)
    assert sheet.ripped[0].along == "y"
    assert not cutting_steps(made, sheet, STYLE)[0].lines
    wider = Sheets(sheets.new, (Board("offcut", 6.0, 20.0),))
    made = cut([], [StripLength("A1", 20.0, 2.75)], FREE, wider)
    (sheet,) = (replace(each, tree=None) for each in made.plan.used)
    ((a, b),) = cutting_steps(made, sheet, STYLE)[0].lines
    assert (a, b) == ((2.8125, 0.0), (2.8125, 20.0))


def test_sheets_are_counted_and_offcuts_called_by_their_place_in_the_list() -> None:
    stock = Stock(board=SheetGoods(offcuts=(Offcut(20.0, 8.0), Offcut(97.0, 28.0))))
    job = after(straight(), edits.AddSeam(seam(60.0)), edits.AddOpening(sink()))
    made = planned(after(job, edits.SetStock(stock))).of("board")
    assert made is not None
    names = [sheet_name(made, i) for i in range(len(made.plan.used))]
    assert "Sheet 1" in names
    assert "Offcut 2 in the shop" in names


def test_parts_and_strips_lie_where_the_steps_cut_them() -> None:
    made = cut([rectangle("A base", 25.0, 90.0)], [StripLength("A1", 90.0, 2.75)])
    (sheet,) = made.plan.used
    (placed,) = sheet.placed
    xs = [x for x, _ in where_it_lies(made.need.parts[0], placed).vertices]
    assert max(xs) - min(xs) == pytest.approx(90.0)
    ((number, box),) = strip_boxes(made, sheet)
    assert number == 0
    assert box[2] - box[0] == pytest.approx(90.0)


def test_strips_that_run_across_lie_upright() -> None:
    sheets = Sheets(Board("board", 97.0, 25.0), (Board("offcut", 2.75, 20.0),))
    made = cut([], [StripLength("A1", 20.0, 2.75)], FREE, sheets)
    ((_, box),) = strip_boxes(made, made.plan.used[0])
    assert box == pytest.approx((0.0, 0.0, 2.75, 20.0))


def test_other_materials_are_cut_and_not_sawn() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)), edits.AddOpening(sink()))
    made = cut_plans(needs(job, ["A", "B"])).of("mesh")
    assert made is not None
    assert not [words for words in said(made) if "Rip" in words or "Cross-cut" in words]


def test_what_is_left_thinner_than_a_hair_is_no_scrap() -> None:
    made = cut([rectangle("A base", SHEETS.new.length_in - SHEETS.kerf_in - 0.05, 40.0)], [])
    words = " ".join(said(made))
    assert "A base" in words
    assert "scrap, 0" not in words
