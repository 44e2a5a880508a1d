"""Mesh and bars of a mold: heights, cover in three dimensions, laps, ties, weights."""

from math import ceil

import pytest
from msgspec.structs import replace

from shop import edits
from shop.job import Reinforcement
from shop.reinforcement import Steel, reinforcement
from tests.shop.kitchens import after, angle, sink, straight
from tests.shop.mold_shapes import (
    BACK,
    FRONT,
    LEFT,
    RIGHT,
    box,
    counter,
    ell,
    outline,
)
from tests.shop.steel_cases import SINK, steel_of


def said(found: Steel) -> dict[str, str]:
    return {notice.code: notice.text for notice in found.notices}


def test_a_bar_lies_in_the_middle_of_the_slab_and_mesh_on_top_of_it() -> None:
    _, found = steel_of(counter(RIGHT), SINK)
    # (2 - 3/8) / 2 = 13/16 below and above; the mesh on it at 1 3/16, two wires of 0.1335 thick.
    assert {bar.height_in for bar in found.bars} == {0.8125}
    assert {bar.cover_in for bar in found.bars} == {0.8125}
    assert found.mesh_height_in == 1.1875
    assert found.mesh_over_in == pytest.approx(2.0 - 1.1875 - 2 * 0.13351, abs=1e-4)
    assert said(found) == {}


def test_mesh_without_bars_lies_as_high_as_chosen() -> None:
    _, found = steel_of(counter(RIGHT))
    assert found.mesh_height_in == 1.0
    _, found = steel_of(counter(RIGHT), choices=Reinforcement(mesh_height=1.25))
    assert found.mesh_height_in == 1.25


def test_a_no_3_bar_in_the_middle_of_1_1_2_leaves_9_16_and_that_is_said() -> None:
    _, found = steel_of(counter(RIGHT), SINK, thickness=1.5)
    assert {bar.cover_in for bar in found.bars} == {0.5625}
    assert said(found)["bar-cover"] == (
        "A No. 3 bar in the middle of 1 1/2 leaves 9/16 of concrete below and above; your cover is"
        " 3/4. Choose a thicker slab or no bars. This is common practice: structural questions are"
        " for a licensed person."
    )
    assert "mesh-cover" in said(found)


def test_bars_that_cross_in_2_leave_5_8_each_side_and_that_is_said() -> None:
    made, found = steel_of(counter(RIGHT), box(8, 6, 30, 18), box(32.5, 6, 54, 18))
    assert {bar.cover_in for bar in found.bars} == {0.625}
    assert sorted({bar.height_in for bar in found.bars}) == [0.625, 1.0]
    one = next(bar for bar in found.bars if bar.set_by == "halfway between them")
    assert one.crosses == ("bar 1", "bar 2")
    assert said(found)["crossing-bars"] == (
        "Where bar 1, bar 2 and bar 3 cross, a slab of 2 leaves 5/8 of concrete below and above;"
        " your cover is 3/4. Leave one of them out. This is common practice: structural questions"
        " are for a licensed person."
    )
    assert "bar-cover" not in said(found)
    assert made.piece == found.piece


def test_no_bar_lies_in_another() -> None:
    _, found = steel_of(counter(RIGHT), box(8, 6, 30, 18), box(32.5, 6, 54, 18))
    for bar in found.bars:
        for other in found.bars:
            if other.name in bar.crosses:
                assert abs(bar.height_in - other.height_in) >= 0.375


def test_a_slab_thinner_than_a_bar_leaves_nothing() -> None:
    _, found = steel_of(counter(RIGHT), SINK, thickness=0.25)
    assert "leaves 0 of concrete" in said(found)["bar-cover"]
    assert "leaves 0 of concrete" in said(found)["mesh-cover"]


def test_a_cover_a_little_too_small_is_not_said_to_be_what_is_asked_for() -> None:
    _, found = steel_of(counter(RIGHT), SINK, choices=Reinforcement(cover=0.83))
    assert "leaves a little less than 13/16 of" in said(found)["bar-cover"]


def test_mesh_close_to_the_face_and_close_to_the_underside_are_said() -> None:
    _, found = steel_of(counter(RIGHT), choices=Reinforcement(mesh_height=0.75))
    assert said(found) == {
        "mesh-near-face": "The mesh hangs 3/4 above the face: closer than 1 it may show through."
    }
    _, found = steel_of(counter(RIGHT), choices=Reinforcement(mesh_height=1.5))
    # 2 - 1 1/2 - 0.267 = 0.233.
    assert said(found)["mesh-cover"].startswith(
        "The mesh lies 1 1/2 above the face, which leaves 1/4 of concrete over it; 3/8 is"
    )


def test_a_slab_without_room_for_mesh_is_told() -> None:
    thin = outline(((0, 0), FRONT), ((40, 0), RIGHT), ((40, 4), BACK), ((0, 4), LEFT))
    _, found = steel_of(thin)
    assert found.panels == ()
    assert said(found) == {
        "mesh-no-room": "No mesh fits: inside its inset less is left than from wire to wire."
    }


def test_nothing_is_wanted_and_nothing_is_there() -> None:
    _, found = steel_of(ell(), SINK, choices=Reinforcement(mesh="none", bars="none"))
    assert (found.panels, found.bars, found.ties, found.weight_lb) == ((), (), 0, 0.0)
    assert found.notices == ()


def test_the_weight_is_that_of_panels_and_bars_by_the_tables() -> None:
    _, found = steel_of(counter(RIGHT), SINK)
    mesh = (70.0 * 23.0 - 32.0 * 17.0) / 14400.0 * 31.0
    bars = sum(bar.length_in for bar in found.bars) / 12.0 * 0.376
    assert found.weight_lb == pytest.approx(mesh + bars)


def test_bars_are_tied_to_mesh_and_panels_to_each_other() -> None:
    _, found = steel_of(counter(RIGHT), SINK)
    assert found.ties == sum(ceil(bar.length_in / 12.0) + 1 for bar in found.bars)
    _, without = steel_of(counter(RIGHT), SINK, choices=Reinforcement(mesh="none"))
    assert without.ties == 0
    small = Reinforcement(sheet_length=40.0, sheet_width=36.0)
    _, lapped = steel_of(counter(RIGHT), choices=small)
    # Two panels 38 long that lap 6 over 23 in: three ties.
    assert [panel.size[0] for panel in lapped.panels] == pytest.approx([38.0, 38.0])
    assert (lapped.lap_in, lapped.ties) == (6.0, 3)


def test_a_bar_longer_than_its_stock_is_cut_as_several_that_lap() -> None:
    long = outline(((0, 0), FRONT), ((400, 0), RIGHT), ((400, 25), BACK), ((0, 25), LEFT))
    _, found = steel_of(long, box(20, 5, 350, 20))
    (bar, _) = found.bars
    lap = 1.3 * 60_000.0 / 25.0 / 3000.0**0.5 * 0.375
    assert len(bar.lengths) == 2
    assert sum(bar.lengths) == pytest.approx(bar.length_in + lap)
    assert bar.weight_lb == pytest.approx(sum(bar.lengths) / 12.0 * 0.376)


def test_an_l_has_its_mesh_and_a_bar_across_its_corner() -> None:
    _, found = steel_of(ell(), choices=Reinforcement(sheet_width=72.0))
    (panel,) = found.panels
    # 95 x 65 less 1 in all round is 93 x 63; the corner of 70 x 40 takes as much off.
    assert panel.area_sq_in == pytest.approx(93.0 * 63.0 - 70.0 * 40.0)
    assert len(found.bars) == 1


# --- Of a job -----------------------------------------------------------------------------------


def test_a_job_s_reinforcement_follows_what_is_chosen() -> None:
    job = after(straight(), edits.AddOpening(sink()))
    assert len(reinforcement(job, "A").bars) == 2
    other = after(job, edits.SetReinforcement(Reinforcement(bars="none")))
    assert reinforcement(other, "A").bars == ()


def test_a_job_that_differs_elsewhere_has_the_same_reinforcement() -> None:
    job = after(straight(), edits.AddOpening(sink()))
    assert reinforcement(replace(job, note="x"), "A") is reinforcement(job, "A")


def test_there_is_none_of_a_piece_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        reinforcement(straight(), "Z")


def test_a_made_slab_keeps_the_reinforcement_and_the_thickness_it_was_made_with() -> None:
    job = after(straight(), edits.AddOpening(sink()), edits.MarkPiece("A", "cut"))
    later = after(
        job, edits.SetReinforcement(Reinforcement(bars="none")), edits.SetSlab(3.0, 150.0)
    )
    assert reinforcement(later, "A") == reinforcement(job, "A")
    assert len(reinforcement(later, "A").bars) == 2


def test_an_opening_is_called_by_its_name_and_edges_by_theirs() -> None:
    job = after(angle(), edits.AddOpening(sink(leg="leg202", along=80.0)))
    where = {bar.where for bar in reinforcement(job, "A").bars}
    assert "across the inside corner" in where
    assert any(words.startswith("between the sink and the ") for words in where)


def test_lengths_are_written_in_the_job_s_unit() -> None:
    job = after(straight(), edits.AddOpening(sink()), edits.SetSlab(1.5, 150.0))
    metric = replace(job, display="mm")
    # 1 1/2 in is 38.1 mm, 9/16 in 14.3 mm, 3/4 in 19.05 mm.
    assert said(reinforcement(metric, "A"))["bar-cover"].startswith(
        "A No. 3 bar in the middle of 38.1 mm leaves 14.3 mm of concrete below and above; your"
        " cover is 19.1 mm."
    )
