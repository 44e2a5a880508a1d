"""Panels of mesh: inset, cutouts, sheets and laps."""

from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box, union_all
from shapely.affinity import rotate

from shop.mesh import Panel, Sheet, lap_lengths, panels
from shop.steel import stock_lengths

SHEET = Sheet("4x4-W1.4xW1.4", 120.0, 60.0)


def shape(panel: Panel) -> Polygon:
    return Polygon(panel.rings[0], panel.rings[1:])


def test_a_panel_is_the_slab_less_its_inset_and_its_openings() -> None:
    slab = box(0, 0, 72, 25).difference(box(20, 5, 50, 20))
    (panel,) = panels(slab, 0.0, 1.0, SHEET)
    assert panel.size == pytest.approx((70.0, 23.0))
    # 70 x 23 less the opening grown by 1 in all round, 32 x 17.
    assert panel.area_sq_in == pytest.approx(70.0 * 23.0 - 32.0 * 17.0)
    assert panel.weight_lb == pytest.approx((70.0 * 23.0 - 32.0 * 17.0) / 14400.0 * 31.0)
    assert shape(panel).boundary.distance(slab.boundary) == pytest.approx(1.0)


def test_the_wires_run_in_the_direction_asked_for() -> None:
    tilted = rotate(box(0, 0, 72, 25), 30.0, (0.0, 0.0))
    (panel,) = panels(tilted, radians(30.0), 1.0, SHEET)
    assert panel.size == pytest.approx((70.0, 23.0))
    assert shape(panel).symmetric_difference(tilted.buffer(-1.0, join_style="mitre")).area < 1e-6


def test_a_slab_longer_than_a_sheet_has_panels_that_lap_by_a_spacing_and_two_inches() -> None:
    found = panels(box(0, 0, 152, 25), 0.0, 1.0, SHEET)
    assert [panel.name for panel in found] == ["mesh 1", "mesh 2"]
    # 150 + 6 of lap, in two.
    assert [panel.size[0] for panel in found] == pytest.approx([78.0, 78.0])
    one, other = map(shape, found)
    assert one.intersection(other).bounds == pytest.approx((73.0, 1.0, 79.0, 24.0))
    assert lap_lengths(found) == pytest.approx((23.0,))


def test_a_sheet_is_laid_the_way_that_takes_fewer_panels() -> None:
    assert len(panels(box(0, 0, 60, 100), 0.0, 1.0, SHEET)) == 1
    assert len(panels(box(0, 0, 100, 60), 0.0, 1.0, SHEET)) == 1


def test_a_scrap_narrower_than_from_wire_to_wire_is_left_out() -> None:
    assert panels(box(0, 0, 72, 5.9), 0.0, 1.0, SHEET) == ()
    assert len(panels(box(0, 0, 72, 6.1), 0.0, 1.0, SHEET)) == 1


def test_a_slab_without_room_for_mesh_has_none() -> None:
    assert panels(box(0, 0, 40, 1.5), 0.0, 1.0, SHEET) == ()


def test_what_another_panel_covers_is_no_panel() -> None:
    # Two panels, 0 to 78 and 72 to 150: the end of the upper arm lies all in their lap.
    clip = union_all([box(0, 0, 150, 25), box(0, 0, 20, 55), box(0, 35, 77, 55)])
    found = panels(clip, 0.0, 0.0, SHEET)
    assert [panel.size for panel in found] == [(78.0, 55.0), (78.0, 25.0)]
    assert union_all([shape(panel) for panel in found]).area == pytest.approx(clip.area)


@given(
    st.floats(30.0, 400.0),
    st.floats(12.0, 130.0),
    st.sampled_from((0.0, 0.5, 1.0, 3.0)),
    st.integers(0, 359),
)
def test_panels_cover_the_inset_slab_and_each_is_cut_from_a_sheet(
    wide: float, high: float, inset: float, angle: int
) -> None:
    leg = union_all([box(0, 0, wide, high), box(0, 0, high, wide)])
    slab = rotate(leg, angle, (0.0, 0.0))
    found = panels(slab, radians(angle), inset, SHEET)
    covered = union_all([shape(panel) for panel in found])
    room = slab.buffer(-inset, join_style="mitre")
    assert covered.area == pytest.approx(room.area)
    assert room.buffer(1e-6).contains(covered)
    for panel in found:
        assert min(panel.size) <= 60.0 + 1e-6
        assert max(panel.size) <= 120.0 + 1e-6


@given(st.floats(1.0, 2000.0), st.floats(36.0, 300.0), st.floats(0.0, 20.0))
def test_stock_makes_up_a_length_with_its_laps(length: float, stock: float, lap: float) -> None:
    cut = stock_lengths(length, stock, lap)
    assert sum(cut) - (len(cut) - 1) * lap == pytest.approx(length)
    assert max(cut) <= stock + 1e-3
    fewer = len(cut) - 1
    assert fewer == 0 or fewer * stock - (fewer - 1) * lap < length


def test_a_length_just_as_long_as_its_stock_is_one() -> None:
    assert stock_lengths(240.0, 240.0, 21.0) == (240.0,)
