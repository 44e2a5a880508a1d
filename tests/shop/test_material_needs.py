"""What molds are cut from, held against the molds themselves; shapes by shapely's areas."""

import pytest
import shapely
from msgspec.structs import replace

from geometry.counters import RoundCorner
from geometry.flattening import ring
from geometry.naming import CornerRef, EdgeRef
from geometry.outline import bounding_box
from shop import edits, plan
from shop.base_panels import base_panels
from shop.job import Job, MoldChoices, Reinforcement
from shop.jobfile import read_job
from shop.material_needs import Needs, needs, shares_board, strip_goods
from shop.reinforcement import reinforcement
from shop.samples import sample_names, sample_path
from shop.stock_list import (
    BarLengths,
    BarOffcut,
    FoamSheets,
    MeshSheets,
    Offcut,
    SheetGoods,
    Stock,
)
from tests.shop.kitchens import after, faucet, seam, sink, straight


def needed(job: Job) -> Needs:
    return needs(job, [piece.name for piece in plan.pieces(job)])


def kitchen(*more: edits.Edit) -> Job:
    return after(straight(), edits.AddSeam(seam(60.0)), edits.AddOpening(sink()), *more)


@pytest.mark.parametrize("name", sample_names())
def test_every_base_strip_knockout_panel_and_bar_of_a_sample_is_needed_once(name: str) -> None:
    job = read_job(sample_path(name))
    found = needed(job)
    parts = {part.name: part for need in found.sheets for part in need.parts}
    assert len(parts) == sum(len(need.parts) for need in found.sheets)
    strips = [s for need in found.sheets if need.material != "foam" for s in need.strips]
    bevels = [s for need in found.sheets if need.material == "foam" for s in need.strips]
    assert [s.name for s in bevels] == [
        strip.bevel.name for mold in plan.molds(job) for strip in mold.strips if strip.bevel
    ]
    for mold in plan.molds(job):
        panels = [panel.name for panel in base_panels(job, mold).panels]
        base = sum(shapely.Polygon(ring(parts[panel].outline)).area for panel in panels)
        assert base == pytest.approx(shapely.Polygon(ring(mold.base)).area)
        for knockout in mold.knockouts:
            assert (f"{mold.piece} {knockout.name}" in parts) == (knockout.made_of == "foam")
        for strip in mold.strips:
            own = [s for s in strips if s.name.partition(" ")[0] == strip.name]
            straight_one = strip.arc_radius is None
            assert sum(s.length_in for s in own) == pytest.approx(
                strip.over_all_in if straight_one else 0.0
            )
            assert all(s.width_in == strip.height_in for s in own)
            assert all(s.length_in <= job.molds.strip_stock for s in own)
    steel = [reinforcement(job, piece.name) for piece in plan.pieces(job)]
    panels = [f"{each.piece} {panel.name}" for each in steel for panel in each.panels]
    assert [name for name in parts if "mesh" in name] == panels
    cut = 0.0 if found.bars is None else sum(each.length_in for each in found.bars.lengths)
    assert cut == pytest.approx(sum(sum(bar.lengths) for each in steel for bar in each.bars))


def test_parts_lie_at_the_origin_and_run_counter_clockwise() -> None:
    for need in needed(kitchen(edits.AddOpening(faucet()))).sheets:
        for part in need.parts:
            shape = shapely.Polygon(ring(part.outline))
            assert shape.exterior.is_ccw
            assert shape.bounds[:2] == pytest.approx((0.0, 0.0), abs=1e-9)


def test_needs_know_no_price_and_no_whole_sheets_in_the_shop() -> None:
    job = kitchen()
    board = SheetGoods(price=60.0, on_hand=3)
    foam, mesh = FoamSheets(price=20.0), MeshSheets(price=9.0, on_hand=1)
    priced = Stock(board=board, foam=foam, mesh=mesh, bars=BarLengths(price=8.0))
    assert needed(after(job, edits.SetStock(priced))) == needed(job)


def test_offcuts_in_the_shop_are_boards_to_cut_from() -> None:
    stock = Stock(
        board=SheetGoods(offcuts=(Offcut(20.0, 40.0),)),
        bars=BarLengths(offcuts=(BarOffcut(70.0),)),
    )
    found = needed(after(kitchen(), edits.SetStock(stock)))
    (board,) = (need for need in found.sheets if need.material == "board")
    (offcut,) = board.sheets.on_hand
    assert (offcut.length_in, offcut.width_in) == (40.0, 20.0)
    assert found.bars is not None
    assert [bar.length_in for bar in found.bars.bars.on_hand] == [70.0]


def test_strips_come_from_the_board_of_the_bases_if_that_is_as_thick() -> None:
    job = kitchen()
    assert shares_board(job)
    assert [need.material for need in needed(job).sheets] == ["board", "foam", "mesh"]
    thin = after(job, edits.SetMoldChoices(MoldChoices(sidewall_thickness=0.5)))
    assert not shares_board(thin)
    assert strip_goods(thin) == SheetGoods("board for strips")
    own = SheetGoods("plywood", 120.0, 60.0)
    listed = after(job, edits.SetStock(Stock(strip_board=own)))
    assert strip_goods(listed) == own
    for each in (thin, listed):
        base, strips = needed(each).sheets[:2]
        assert (base.material, strips.material) == ("board", "strip board")
        assert not base.strips
        assert not strips.parts
    assert needed(listed).sheets[1].sheets.new.length_in == 120.0


def test_nothing_is_cut_for_what_is_cut_or_poured_already() -> None:
    job = kitchen()
    cut = needed(after(job, edits.MarkPiece("A", "cut")))
    names = [part.name for need in cut.sheets for part in need.parts]
    assert not [s for need in cut.sheets for s in need.strips if s.name.startswith("A")]
    assert "B base" in names
    assert "A base" not in names
    assert "A mesh 1" in names
    poured = needed(after(job, edits.MarkPiece("A", "poured")))
    assert not [p for need in poured.sheets for p in need.parts if p.name.startswith("A ")]


def test_foam_is_stacked_in_layers() -> None:
    stock = Stock(foam=FoamSheets(layers=2))
    found = needed(after(straight(), edits.AddOpening(sink()), edits.SetStock(stock)))
    (foam,) = (need for need in found.sheets if need.material == "foam")
    assert [part.name for part in foam.parts] == ["A sink, layer 1", "A sink, layer 2"]
    assert foam.parts[0].outline == foam.parts[1].outline


def test_a_blank_is_as_large_as_the_list_of_parts_says_however_it_is_turned() -> None:
    job = read_job(sample_path("corner-with-range"))
    (knockout, *_) = plan.mold(job, "B").knockouts
    (foam,) = (need for need in needed(job).sheets if need.material == "foam")
    x0, y0, x1, y1 = bounding_box(foam.parts[0].outline)
    assert sorted((x1 - x0, y1 - y0)) == pytest.approx(sorted(knockout.size))


def test_a_long_strip_is_cut_in_its_spliced_lengths() -> None:
    (need, *_) = needed(straight(120.0)).sheets
    spliced = [strip for strip in need.strips if "of 2" in strip.name]
    assert [strip.name for strip in spliced[:2]] == ["A1 (1 of 2)", "A1 (2 of 2)"]


def test_a_job_without_pieces_or_reinforcement_needs_nothing_of_it() -> None:
    assert needed(Job("Test")) == Needs((), None)
    bare = after(straight(), edits.SetReinforcement(Reinforcement(mesh="none", bars="none")))
    found = needed(bare)
    assert [need.material for need in found.sheets] == ["board"]
    assert found.bars is None


def test_bent_strips_are_no_board() -> None:
    leg = straight().runs[0].legs[0]
    corner = CornerRef(EdgeRef(leg.id, "front"), EdgeRef(leg.id, "end"))
    shaped = after(straight(), edits.ShapeCorner(corner, RoundCorner(corner, 8.0)))
    bent = {s.name for s in plan.mold(shaped, "A").strips if s.arc_radius is not None}
    assert bent
    assert not bent & {strip.name for strip in needed(shaped).sheets[0].strips}


def test_the_way_of_cutting_is_what_the_stock_list_says() -> None:
    for cutting, through, free in (
        ("through-cuts", True, False),
        ("quarter-turns", False, False),
        ("any-angle", False, True),
    ):
        stock = replace(Stock(), cutting=cutting, kept_width=3.0, kept_length=12.0)
        for need in needed(after(kitchen(), edits.SetStock(stock))).sheets:
            if need.material != "mesh":
                assert need.wishes == (through, free, (3.0, 12.0))
