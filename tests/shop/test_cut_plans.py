"""Cut plans of whole jobs: each goes through the independent checker."""

import pytest
from msgspec.structs import replace

from shop import edits, plan
from shop.cut_plans import CutPlans, cut_plans, need_errors, proof_words, quick_cut_plans
from shop.job import Job, MoldChoices, Reinforcement
from shop.jobfile import read_job
from shop.material_needs import Needs, needs
from shop.samples import sample_names, sample_path
from shop.stock.plans import CutBar, CutSheet, Plan
from shop.stock_list import BarLengths, BarOffcut, Offcut, SheetGoods, Stock
from tests.shop.kitchens import after, island, seam, sink, straight
from tests.shop.stock_checking import length_faults, sheet_faults

MODES = ("through-cuts", "quarter-turns", "any-angle")


def needed(job: Job) -> Needs:
    return needs(job, [piece.name for piece in plan.pieces(job)])


def checked(made: CutPlans) -> None:
    for each in made.sheets:
        need = each.need
        assert sheet_faults(need.parts, need.strips, need.sheets, each.plan) == []
    if made.bars is not None:
        assert length_faults(made.bars.need.lengths, made.bars.need.bars, made.bars.plan) == []


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("name", sample_names())
def test_every_plan_of_a_sample_is_right(name: str, mode: str) -> None:
    job = read_job(sample_path(name))
    asked = needed(replace(job, stock=replace(job.stock, cutting=mode)))
    made = quick_cut_plans(asked)
    checked(made)
    assert made is quick_cut_plans(asked)
    out = {error.about for error in need_errors(asked)}
    planned = [part.name for each in made.sheets for part in each.need.parts]
    assert planned == [p.name for n in asked.sheets for p in n.parts if p.name not in out]


def test_better_plans_are_told_one_after_the_other() -> None:
    told: list[CutPlans] = []
    job = after(straight(), edits.AddSeam(seam(60.0)), edits.AddOpening(sink()))
    made = cut_plans(needed(job), found=told.append)
    assert told[-1] == made
    assert [each.need.material for each in told[0].sheets] == ["board"]
    for each in told[len(told) // 2 :]:
        assert each.bars == made.bars


def test_a_quick_plan_stops_after_so_many_steps_not_seconds(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = needed(read_job(sample_path("twelve-pieces")))
    whole = cut_plans(asked)
    assert quick_cut_plans.__wrapped__(asked) == whole
    monkeypatch.setattr("shop.cut_plans.MOST_STEPS", 0)
    stopped = quick_cut_plans.__wrapped__(asked)
    assert [each.plan.new for each in stopped.sheets] > [each.plan.new for each in whole.sheets]


def test_a_stopped_search_gives_what_there_is() -> None:
    made = cut_plans(needed(read_job(sample_path("twelve-pieces"))), go_on=lambda: False)
    checked(made)


def test_what_cannot_be_cut_is_left_out_and_told() -> None:
    narrow = Stock(board=SheetGoods(width=4.0))
    job = after(straight(120.0), edits.AddOpening(sink()), edits.SetStock(narrow))
    asked = needed(job)
    (board, *_) = cut_plans(asked).sheets
    assert board.need.parts == ()
    assert board.need.strips
    (said,) = board.troubles
    assert said.startswith("'A base' fits on no sheet")
    assert [error.about for error in need_errors(asked)] == ["A base"]


def test_a_bar_longer_than_the_stock_is_left_out_and_told() -> None:
    job = after(straight(), edits.AddOpening(sink()))
    asked = needed(job)
    assert asked.bars is not None
    short = replace(
        asked.bars, bars=replace(asked.bars.bars, new=replace(asked.bars.bars.new, length_in=20.0))
    )
    made = cut_plans(Needs((), short))
    assert made.bars is not None
    assert made.bars.need.lengths == ()
    assert "is longer than 'the bar'" in made.bars.troubles[0]
    assert need_errors(Needs((), short))[0].code == "too-long"


def test_offcuts_in_the_shop_save_sheets() -> None:
    job = after(straight(84.0), edits.AddOpening(sink(along=42.0)))
    stock = Stock(
        board=SheetGoods(offcuts=(Offcut(97.0, 40.0),)),
        bars=BarLengths(offcuts=(BarOffcut(200.0),)),
    )
    made = cut_plans(needed(after(job, edits.SetStock(stock))))
    checked(made)
    board = made.of("board")
    assert board is not None
    assert board.plan.new == 0
    assert proof_words(board.plan, "sheet") == "All of it comes out of what is in the shop."
    assert made.bars is not None
    assert made.bars.plan.new == 0
    assert made.of("strip board") is None


@pytest.mark.parametrize(
    ("plan_", "through", "words"),
    [
        (Plan((CutSheet(0),), 1), False, "It cannot be done with fewer."),
        (Plan((CutSheet(0),), 1), True, "With cuts right through, it cannot be done with fewer."),
        (Plan((CutSheet(0),) * 2, 1), True, "It may be off by at most one sheet."),
        (Plan((CutSheet(0),) * 3, 1), False, "It may be off by at most 2 sheets."),
    ],
)
def test_how_good_a_plan_is_is_said(plan_: Plan[CutSheet], through: bool, words: str) -> None:
    assert proof_words(plan_, "sheet", through_cuts=through) == words


def test_bars_are_called_bars() -> None:
    assert proof_words(Plan((CutBar(0, ()),) * 2, 1), "bar").endswith("at most one bar.")


def test_molds_with_sides_on_the_base_and_without_steel_are_planned() -> None:
    job = after(
        island(),
        edits.SetMoldChoices(MoldChoices(construction="sides-on-base")),
        edits.SetReinforcement(Reinforcement(mesh="none", bars="none")),
    )
    made = cut_plans(needed(job))
    checked(made)
    assert made.bars is None
    assert made.of("mesh") is None
