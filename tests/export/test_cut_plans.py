"""Cut plans and shopping list on paper, as CSV and as facts."""

import csv
import re
from collections.abc import Callable
from io import StringIO
from math import cos, sin

import pytest
from msgspec.structs import replace

from app.telling import tally_facts
from export.booklet import booklet_pages
from export.cut_plan_marks import cut_sheet
from export.cut_plan_pages import FOOT_IN, MARGIN_IN
from export.cut_plan_words import bar_lines, heading, plan_words
from export.facts import facts
from export.laying_out import laid_out
from export.marks import Line, Region, Spot, Words
from export.pages import Page
from export.planned import needed, planned, to_buy
from export.shopping_csv import HEADINGS, shopping_csv
from export.stamp import stamped
from export.typeface import text_width
from geometry.lengths import LengthStyle
from geometry.openings import AlongLeg, CircleShape, Opening
from geometry.outline import area, contains
from geometry.points import along
from shop import edits, plan
from shop.cut_plans import CutPlan, cut_plans
from shop.cutting_steps import cutting_steps
from shop.job import Job, MoldChoices, Reinforcement
from shop.material_needs import SheetNeed
from shop.mold_choices import slab_thickness
from shop.samples import sample_names
from shop.stock.combined import FREE, combined_plan
from shop.stock_list import BarLengths, BarOffcut, FoamSheets, Offcut, SheetGoods, Stock
from tests.export.jobs import EMPTY, TODAY, blocked, metric, oddly_named, sample
from tests.shop.kitchens import after, sink, straight
from tests.shop.stock_cases import SHEETS, rectangle

STYLE = LengthStyle()


def pages(job: Job) -> list[Page]:
    made = booklet_pages(job, stamped(job, TODAY))
    return [page for page in made if page.name.startswith(("Cut plans", "Shopping"))]


def words_of(page: Page) -> list[Words]:
    return [m for v in page.views for m in v.sheet.marks if isinstance(m, Words)]


def said(page: Page) -> str:
    return " ".join(m.text for m in words_of(page))


def stocked(stock: Stock) -> Job:
    return after(straight(84.0), edits.AddOpening(sink(along=42.0)), edits.SetStock(stock))


@pytest.mark.parametrize("name", sample_names())
def test_every_part_is_drawn_and_every_step_is_told(name: str) -> None:
    job = sample(name)
    text = " ".join(map(said, pages(job)))
    plans = planned(job)
    for cut in plans.sheets:
        assert plan_words(cut) in text
        for part in cut.need.parts:
            assert part.name in text
        for strip in cut.need.strips:
            assert strip.name in text
        drawn = [v.sheet for page in pages(job) for v in page.views]
        for number, used in enumerate(cut.plan.used):
            sheet = cut_sheet(cut, number, STYLE)
            assert sheet in drawn
            regions = [m for m in sheet.marks if isinstance(m, Region)]
            strips = sum(len(row) for ripped in used.ripped for row in ripped.strips)
            assert len(regions) == 1 + len(used.kept) + len(used.placed) + strips
            steps = cutting_steps(cut, used, STYLE)
            lines = [m for m in sheet.marks if isinstance(m, Line) and m.role == "cut"]
            assert len(lines) == sum(len(step.lines) for step in steps)
            tags = [m.text for m in sheet.marks if isinstance(m, Spot)]
            assert tags == [str(i) for i, step in enumerate(steps, start=1) if step.lines]
    assert plans.bars is not None
    for line in bar_lines(plans.bars, STYLE)[2]:
        assert line.split()[-4] in text


@pytest.mark.parametrize("job", [lambda: sample("twelve-pieces"), lambda: metric("galley")])
def test_nothing_runs_off_a_page_or_into_its_foot(job: Callable[[], Job]) -> None:
    made = pages(job())
    assert made[-1].name == "Shopping list"
    assert made[1].name == "Cut plans (continued)" or len(made) < 3
    for page in made:
        for view in page.views:
            if view.window is not None:
                left, low, right, high = view.window
                assert left >= MARGIN_IN - 1e-9
                assert low >= FOOT_IN - 0.2
                assert right <= page.width - MARGIN_IN + 1e-9
                assert high <= page.height
            elif view.sheet.name == "words":
                for word in (m for m in view.sheet.marks if isinstance(m, Words)):
                    wide = text_width(word.text, word.height, bold=word.bold)
                    ends = {"left": (0.0, wide), "right": (-wide, 0.0)}
                    a, b = ends.get(word.anchor, (-wide / 2.0, wide / 2.0))
                    assert word.at[0] + a >= 0.0
                    assert word.at[0] + b <= page.width - 0.3


def test_two_short_plans_share_a_page() -> None:
    drawings = [[v for v in page.views if v.window is not None] for page in pages(sample("galley"))]
    assert max(map(len, drawings)) >= 2


def test_words_lie_inside_what_they_name() -> None:
    cut = planned(sample("corner-with-range")).of("board")
    assert cut is not None
    # An offcut in the shop comes first, whole sheets last.
    last = len(cut.plan.used) - 1
    sheet = cut_sheet(cut, last, STYLE)
    names = {m.text.partition("  ")[0] for m in sheet.marks if isinstance(m, Words)}
    assert {cut.need.parts[p.part].name for p in cut.plan.used[last].placed} <= names
    laid = [m.text for m in laid_out(sheet, 0.07) if isinstance(m, Words)]
    assert any("8' 1" in text for text in laid)


def test_a_small_knockout_is_named_beside_it() -> None:
    parts = (rectangle("A faucet", 1.375, 1.375), rectangle("A sink", 30.0, 16.0))
    need = SheetNeed("foam", parts, (), SHEETS, FREE)
    cut = CutPlan(need, combined_plan(parts, (), SHEETS), ())
    marks = cut_sheet(cut, 0, STYLE).marks
    (faucet,) = (m for m in marks if isinstance(m, Words) and m.text.startswith("A faucet"))
    assert faucet.places
    assert all(place.led for place in faucet.places)


def test_a_tall_part_has_its_name_upright() -> None:
    stock = Stock(board=SheetGoods(length=97.0, width=90.0), cutting="quarter-turns")
    job = stocked(stock)
    cuts = planned(job).sheets
    upright = [
        m
        for cut in cuts
        for n in range(len(cut.plan.used))
        for m in cut_sheet(cut, n, STYLE).marks
        if isinstance(m, Words) and m.angle_rad
    ]
    assert upright


def test_what_no_sheet_holds_is_told_on_the_page() -> None:
    text = " ".join(map(said, pages(sample("galley"))))
    base = next(f for f in (planned(sample("galley")).of("board"),))
    assert base is not None
    for trouble in base.troubles:
        assert trouble.split(":")[0].split()[-1] in text
    tiny = stocked(Stock(foam=FoamSheets(length=10.0, width=10.0)))
    text = " ".join(map(said, pages(tiny)))
    assert "'A sink' fits on no sheet" in text
    foam = planned(tiny).of("foam")
    assert foam is not None
    assert plan_words(foam) == "Nothing of it can be cut."


def test_where_nothing_is_to_be_built_there_are_no_pages() -> None:
    assert pages(EMPTY) == []
    poured = after(straight(84.0), edits.MarkPiece("A", "poured"))
    assert pages(poured) == []
    bare = Reinforcement(mesh="none", bars="none")
    cut = after(straight(84.0), edits.SetReinforcement(bare), edits.MarkPiece("A", "cut"))
    assert [page.name for page in pages(cut)] == ["Shopping list"]


def test_bars_longer_than_the_stock_has_now_are_told() -> None:
    job = after(straight(84.0), edits.AddOpening(sink(along=42.0)), edits.MarkPiece("A", "cut"))
    short = after(job, edits.SetReinforcement(Reinforcement(bar_length=36.0)))
    bars = planned(short).bars
    assert bars is not None
    assert bar_lines(bars, STYLE)[1] == "Nothing of it can be cut."
    assert "'A bar 1' is longer than 'the bar'" in " ".join(map(said, pages(short)))


def test_pieces_that_cannot_be_built_are_not_planned() -> None:
    job = blocked()
    names = [part.name for need in needed(job).sheets for part in need.parts]
    assert len(names) < len(plan.pieces(job)) + 1 or "A base" not in names


def test_materials_are_told_as_they_are_cut() -> None:
    job = stocked(Stock(strip_board=SheetGoods("plywood")))
    titles = [heading(job, cut, STYLE)[0] for cut in planned(job).sheets]
    assert titles == [
        "Bases: melamine board, 3/4 thick",
        "Sidewall strips: plywood, 3/4 thick",
        "Knockouts: foam board, 2 thick",
        "Mesh: 4x4-W1.4xW1.4",
    ]
    shared = stocked(Stock(foam=FoamSheets(layers=2)))
    thin = replace(shared, molds=MoldChoices(foam_thickness=1.5))
    titles = [heading(thin, cut, STYLE)[0] for cut in planned(thin).sheets]
    assert titles[0] == "Bases and sidewall strips: melamine board, 3/4 thick"
    assert titles[1] == "Knockouts: foam board, 3/4 thick"


def test_strips_of_slabs_of_several_thicknesses_are_ripped_to_their_own_heights() -> None:
    job = sample("peninsula-and-ledge")
    base = job.molds.base_thickness
    for mold in plan.molds(job):
        assert {s.height_in for s in mold.strips} == {slab_thickness(job, mold.piece) + base}
    board = planned(job).of("board")
    assert board is not None
    title, words = heading(job, board, STYLE)
    assert title.startswith("Bases and sidewall strips: ")
    assert words.endswith(" Rip to 2 3/4 (A, B, C, D, E), 2 1/4 (J) and 1 1/2 (F, G, H, I).")
    (ripped,) = [fact.value for fact in tally_facts(job) if fact.label == "Ripped to"]
    assert ripped == "2 3/4, 2 1/4, 1 1/2"
    assert "of sidewall, ripped to 2 3/4, 2 1/4 and 1 1/2; " in all_said(job)


def test_words_of_a_part_lie_inside_it_where_it_has_a_notch() -> None:
    board = planned(sample("peninsula-and-ledge")).of("board")
    assert board is not None
    sheets = [cut_sheet(board, n, STYLE) for n in range(len(board.plan.used))]
    for sheet in sheets:
        shapes = [m.loops[0] for m in sheet.marks if isinstance(m, Region) and m.role == "board"]
        for m in (m for m in sheet.marks if isinstance(m, Words) and not m.places):
            half = text_width(m.text, m.height, bold=m.bold) / 2.0
            ends = [along(m.at, (cos(m.angle_rad), sin(m.angle_rad)), by) for by in (-half, half)]
            for shape in shapes:
                inside = [contains(shape, end) for end in ends]
                assert all(inside) or not any(inside), m.text


def test_battens_are_told_with_what_they_are_cut_from() -> None:
    job = straight(120.0)
    board = planned(job).of("board")
    assert board is not None
    title, words = heading(job, board, STYLE)
    assert title.startswith("Bases, sidewall strips and battens: ")
    assert words.endswith(" Rip to 2 3/4 for sidewalls and 3 1/2 for battens.")


def all_said(job: Job) -> str:
    return " ".join(map(said, booklet_pages(job, stamped(job, TODAY))))


def test_offcuts_are_counted_beside_sheets() -> None:
    stock = Stock(
        board=SheetGoods(offcuts=(Offcut(95.0, 27.0),)),
        bars=BarLengths(offcuts=(BarOffcut(70.0),)),
    )
    job = stocked(stock)
    cut = planned(job).of("board")
    assert cut is not None
    assert plan_words(cut).startswith("1 sheet and 1 offcut of those in the shop. ")
    bars = planned(job).bars
    assert bars is not None
    assert any(
        line.startswith("Offcut 1 in the shop, 5' 10: A bar 1 ")
        for line in bar_lines(bars, STYLE)[2]
    )


# --- The shopping list as CSV -----------------------------------------------------------------


def rows(job: Job) -> list[list[str]]:
    data = shopping_csv(job, stamped(job, TODAY))
    return list(csv.reader(StringIO(data.decode("utf-8-sig"), newline="")))


def test_the_shopping_list_adds_up() -> None:
    job = stocked(Stock(board=SheetGoods("=1+2", price=62.5), foam=FoamSheets(price=30.0)))
    stamp, heads, *lines = rows(job)
    assert "revision 1" in stamp[0]
    assert heads == list(HEADINGS)
    found = to_buy(job, planned(job))
    told = lines[: len(found.items)]
    assert told[0][0] == "'=1+2"
    assert [int(line[5]) for line in told] == [item.buy for item in found.items]
    costs = sum(float(line[7]) for line in told if line[7])
    total = lines[len(found.items)]
    assert float(total[7]) == pytest.approx(costs) == pytest.approx(found.total)
    assert total[0].startswith("total without mesh")
    assert len(lines) == len(found.items) + 1 + len(found.besides)


def test_a_whole_total_says_no_more() -> None:
    assert rows(EMPTY)[-1][0] == "total"


@pytest.mark.parametrize("name", sample_names())
def test_the_facts_tell_the_plan_and_the_list(name: str) -> None:
    job = sample(name)
    stock = facts(job)["stock"]
    plans = planned(job)
    for told, cut in zip(stock["sheets"], plans.sheets, strict=True):
        assert (told["new"], told["at_least"]) == (cut.plan.new, cut.plan.at_least)
        names = [part["name"] for used in told["used"] for part in used["parts"]]
        assert sorted(names) == sorted(part.name for part in cut.need.parts)
        strips = [strip["name"] for used in told["used"] for strip in used["strips"]]
        assert sorted(strips) == sorted(strip.name for strip in cut.need.strips)
    cut_bars = [e["name"] for used in stock["bars"]["used"] for e in used["lengths"]]
    assert plans.bars is not None
    assert sorted(cut_bars) == sorted(each.name for each in plans.bars.need.lengths)
    assert stock["total"] == to_buy(job, plans).total


def test_odd_names_go_through_everything() -> None:
    job = oddly_named()
    assert pages(job)
    assert re.search("quoted", " ".join(cell for row in rows(job) for cell in row) + job.name)


def test_an_area_on_the_drawing_is_that_of_the_part() -> None:
    (cut, *_) = cut_plans(needed(sample("round-island"))).sheets
    for number, used in enumerate(cut.plan.used):
        drawn = [
            area(m.loops[0])
            for m in cut_sheet(cut, number, STYLE).marks
            if isinstance(m, Region) and m.role == "board"
        ]
        wanted = [area(cut.need.parts[placed.part].outline) for placed in used.placed]
        assert drawn == pytest.approx(wanted)


@pytest.mark.parametrize("shape", [CircleShape(16.0), CircleShape(9.0)])
def test_a_round_knockout_is_drawn_and_named_on_its_sheet(shape: CircleShape) -> None:
    job = straight(100.0)
    hole = Opening("opening90", "hole", shape, AlongLeg(job.runs[0].legs[0].id, 50.0, 12.5))
    cut = planned(after(job, edits.AddOpening(hole))).of("foam")
    assert cut is not None
    marks = cut_sheet(cut, 0, STYLE).marks
    (words,) = (m for m in marks if isinstance(m, Words) and "hole" in m.text)
    round_ones = [
        m.loops[0] for m in marks if isinstance(m, Region) and len(m.loops[0].vertices) < 3
    ]
    assert len(round_ones) == 1
    assert bool(words.places) or contains(round_ones[0], words.at)
