"""The shopping list: counted by hand from the plans and molds, prices added up."""

from math import ceil

import pytest
from msgspec.structs import replace

from geometry.counters import RoundCorner
from geometry.naming import CornerRef, EdgeRef
from shop import edits, plan
from shop.base_panels import base_panels
from shop.cut_plans import quick_cut_plans
from shop.job import Job, MoldChoices
from shop.jobfile import read_job
from shop.material_needs import needs
from shop.reinforcement import reinforcement
from shop.samples import sample_path
from shop.shopping import Item, ShoppingList, money, shopping_list
from shop.stock_list import (
    BarLengths,
    FoamSheets,
    MeshSheets,
    Screws,
    SheetGoods,
    Silicone,
    Stock,
    Tape,
    TieWire,
)
from tests.shop.kitchens import after, seam, sink, straight

PRICED = Stock(
    board=SheetGoods(price=62.5),
    foam=FoamSheets(price=30.0),
    mesh=MeshSheets(price=45.0),
    bars=BarLengths(price=9.0),
    silicone=Silicone(price=7.25),
    screws=Screws(price=12.0),
    tape=Tape(price=4.25),
    wire=TieWire(price=3.5),
)


def kitchen(stock: Stock) -> Job:
    job = after(straight(), edits.AddSeam(seam(50.0)), edits.AddOpening(sink(along=75.0)))
    return replace(job, stock=stock)


def listed(job: Job) -> ShoppingList:
    names = [piece.name for piece in plan.pieces(job)]
    return shopping_list(job, names, quick_cut_plans(needs(job, names)))


def line(job: Job, name: str) -> Item:
    return next(item for item in listed(job).items if item.name == name)


def test_everything_is_counted_and_priced() -> None:
    job = kitchen(PRICED)
    found = listed(job)
    screws = sum(mold.screw_count for mold in plan.molds(job))
    assert [(item.name, item.needed, item.unit) for item in found.items] == [
        ("melamine board", 2, "sheet"),
        ("foam board", 1, "sheet"),
        ("mesh 4x4-W1.4xW1.4", 1, "sheet"),
        ("No. 3 bar", 1, "bar"),
        ("tie wire", 1, "coil"),
        ("silicone", 1, "cartridge"),
        ("tape", 1, "roll"),
        ("screws 2 long", screws, "box"),
    ]
    boxes = ceil(screws / 100)
    wanted = 2 * 62.5 + 30.0 + 45.0 + 9.0 + 3.5 + 7.25 + 4.25 + 12.0 * boxes
    assert found.total == pytest.approx(wanted)
    assert found.missing == ()
    assert found.total_words == f"Total {money(wanted)}."


def test_sizes_are_told_as_they_are_bought() -> None:
    job = kitchen(PRICED)
    assert [item.size for item in listed(job).items] == [
        "8' 1 x 4' 1 x 3/4",
        "8' 0 x 4' 0 x 2",
        "10' 0 x 5' 0",
        "20' 0",
        "330 ft, for 10 ft",
        "10.1 fl oz",
        "180 ft, for 76 ft",
        "box of 100",
    ]
    metric = replace(job, display="mm")
    assert line(metric, "silicone").size == "299 ml"
    layers = replace(PRICED, foam=FoamSheets(layers=2))
    assert line(kitchen(layers), "foam board").size.endswith(" x 1")


def test_without_a_price_the_total_is_not_whole() -> None:
    found = listed(kitchen(replace(PRICED, foam=FoamSheets(), silicone=Silicone())))
    assert found.missing == ("foam board", "silicone")
    assert found.total_words.endswith(", not whole: no price for foam board and silicone.")


def test_what_is_in_the_shop_is_not_bought_and_needs_no_price() -> None:
    stock = replace(
        PRICED,
        board=SheetGoods(on_hand=5),
        foam=FoamSheets(on_hand=1),
        screws=Screws(box_count=50, price=10.0, on_hand=20),
    )
    job = kitchen(stock)
    board = line(job, "melamine board")
    assert (board.in_shop, board.buy, board.cost) == (2, 0, 0.0)
    assert not listed(job).missing
    screws = line(job, "screws 2 long")
    assert screws.buy == ceil((screws.needed - 20) / 50)
    assert screws.cost == 10.0 * screws.buy


def test_strips_have_a_line_where_they_have_a_board_of_their_own() -> None:
    own = replace(PRICED, strip_board=SheetGoods("plywood", price=40.0))
    assert line(kitchen(own), "plywood").cost == 40.0
    thin = replace(kitchen(PRICED), molds=MoldChoices(sidewall_thickness=0.5))
    strips = line(thin, "board for strips")
    assert (strips.size, strips.cost) == ("8' 1 x 4' 1 x 1/2", None)


def test_foam_is_as_thick_as_it_was_measured() -> None:
    job = replace(kitchen(PRICED), molds=MoldChoices(foam_thickness=1.875))
    assert line(job, "foam board").size.endswith(" x 1 7/8")


def test_bent_strips_and_turned_inserts_are_told_besides() -> None:
    leg = straight().runs[0].legs[0]
    corner = CornerRef(EdgeRef(leg.id, "front"), EdgeRef(leg.id, "end"))
    for radius, words in ((8.0, "a strip that bends to"), (2.0, "an insert turned to")):
        job = after(straight(), edits.ShapeCorner(corner, RoundCorner(corner, radius)))
        assert any(words in said for said in listed(job).besides)


def test_tape_and_wire_are_bought_by_their_lengths() -> None:
    stock = replace(PRICED, tape=Tape(roll_length=60.0), wire=TieWire(coil_length=50.0))
    job = kitchen(stock)
    molds = plan.molds(job)
    taped = sum(mold.tape_length_in for mold in molds)
    taped += sum(knockout.wrap_length_in for mold in molds for knockout in mold.knockouts)
    tape, wire = line(job, "tape"), line(job, "tie wire")
    assert tape.needed == ceil(taped / 60.0)
    assert tape.size == f"5 ft, for {ceil(taped / 12.0)} ft"
    ties = sum(reinforcement(job, mold.piece).ties for mold in molds)
    assert wire.needed == ceil(10.0 * ties / 50.0)


def test_battens_are_ripped_from_the_board_of_the_bases_and_have_screws_of_their_own() -> None:
    job = replace(straight(120.0), stock=PRICED)
    (mold,) = plan.molds(job)
    battens = base_panels(job, mold).battens
    assert len(battens) == 1
    names = ("A",)
    (board, *_) = needs(job, names).sheets
    (batten,) = [strip for strip in board.strips if "batten" in strip.name]
    assert batten.length_in == pytest.approx(battens[0])
    assert batten.width_in == 3.5
    # At 8 in and 2 in from the ends, in two rows.
    screws = 2 * (1 + ceil((battens[0] - 4.0) / 8.0))
    assert line(job, "screws 1 1/4 long").needed == screws
    own = replace(PRICED, strip_board=SheetGoods("plywood"))
    (bases, ripped, *_) = needs(replace(job, stock=own), names).sheets
    assert [strip.name for strip in bases.strips] == ["A batten"]
    assert "A batten" not in [strip.name for strip in ripped.strips]
    on_base = replace(job, molds=MoldChoices(construction="sides-on-base", base_thickness=1.0))
    assert line(on_base, "screws 2 1/4 long").needed == plan.molds(on_base)[0].screw_count


def test_blocks_and_pipes_are_told_besides_with_their_parts() -> None:
    said = listed(read_job(sample_path("corner-with-range"))).besides
    assert any(line.startswith("B faucet: a round block 2 5/8 across, 1/2 high") for line in said)
    assert any(line.startswith("B faucet: pipe or pipe insulation 1 3/8 across") for line in said)
    bent = listed(read_job(sample_path("bowed-and-free"))).besides
    assert any(line.startswith("B2, B4, B6 and B8: an insert turned") for line in bent)
    assert any(line.startswith("A4: 12 backing blocks ") for line in bent)
    assert listed(straight(84.0)).besides == ()


def test_a_rigid_knockout_is_told_besides() -> None:
    job = after(straight(), edits.AddOpening(replace(sink(), fill="rigid")))
    assert any("sink: a rigid block" in line for line in listed(job).besides)


def test_bent_strips_are_of_their_own_stock_where_it_is_given() -> None:
    job = read_job(sample_path("round-island"))
    thin = replace(job, molds=replace(job.molds, bend_thickness=0.25))
    assert any(" x 1/4" in line for line in listed(thin).besides)


def test_without_any_price_there_is_no_total() -> None:
    found = listed(straight(84.0))
    assert found.total_words.startswith("No total: nothing has a price yet.")


def test_nothing_is_bought_for_what_is_poured() -> None:
    job = straight(84.0)
    poured = after(job, edits.MarkPiece("A", "poured"))
    assert listed(poured) == ShoppingList((), ())
    cut = listed(after(job, edits.MarkPiece("A", "cut")))
    assert "melamine board" not in [item.name for item in cut.items]
    assert "silicone" in [item.name for item in cut.items]
