"""Mitred edges of pieces: weights, bevel strips in molds, mesh and bars clear of the slope."""

import pytest
from msgspec.structs import replace

from geometry.counters import SquareEnd
from geometry.lengths import LengthStyle
from geometry.naming import EdgeRef
from shop import edits, plan
from shop.bar_lines import concrete_at, concrete_of
from shop.job import Job
from shop.mitres import BevelStrip, bevel_end_words, ripped_words
from shop.reinforcement import reinforcement
from tests.shop import kitchens
from tests.shop.kitchens import after

INCHES = LengthStyle("in", 16)


def counter(*mitred: str, angle: float = 90.0) -> Job:
    """A counter 60 in long whose sides are mitred: front, start, end."""
    room = kitchens.walls((0.0, 0.0), (200.0, 0.0))
    run = kitchens.run("wall101", left=SquareEnd(60.0), right=SquareEnd(120.0, angle=angle))
    job = after(room, edits.AddRun(run))
    leg = job.runs[0].legs[0].id
    return after(job, *(edits.FinishEdge(EdgeRef(leg, side), "mitred") for side in mitred))


def strips(job: Job) -> dict[str, BevelStrip]:
    (mold,) = plan.molds(job)
    return {
        s.tag.ref.side: s.bevel for s in mold.strips if s.bevel and isinstance(s.tag.ref, EdgeRef)
    }


def test_a_piece_weighs_less_by_the_wedge_of_its_mitre() -> None:
    (plain,), (mitred,) = plan.pieces(counter()), plan.pieces(counter("end"))
    wedge = 25.375 * 2.0 * 2.0 / 2.0
    assert mitred.area_sq_in == plain.area_sq_in
    assert (plain.volume_cu_ft - mitred.volume_cu_ft) * 1728.0 == pytest.approx(wedge)
    assert plain.weight_lb - mitred.weight_lb == pytest.approx(wedge / 1728.0 * 150.0)
    assert plan.tally(counter("end")).weight_lb == pytest.approx(mitred.weight_lb)


def test_a_bevel_strip_is_as_long_as_its_edge_and_ends_as_its_neighbors_ask() -> None:
    alone = strips(counter("end"))["end"]
    assert (alone.leg_in, alone.long_in, alone.short_in) == pytest.approx((2.0, 25.375, 25.375))
    assert [bevel_end_words(end, INCHES) for end in alone.ends] == ["square", "square"]
    assert ripped_words(alone, INCHES) == "2 x 2, ripped at 45\u00b0, slope 2 13/16"
    both = strips(counter("end", "front"))
    words = "cut 45.0\u00b0, to the next bevel strip, tip 2 shorter"
    assert sorted(bevel_end_words(end, INCHES) for end in both["end"].ends) == [words, "square"]
    assert both["end"].short_in == pytest.approx(23.375)
    assert both["front"].short_in == pytest.approx(58.0)
    slanted = strips(counter("end", angle=70.0))["end"]
    assert sorted(bevel_end_words(end, INCHES) for end in slanted.ends) == [
        "cut 20.0\u00b0, tip 3/4 longer",
        "cut 20.0\u00b0, tip 3/4 shorter",
    ]


def test_a_slab_that_is_cut_keeps_its_mitres_and_its_weight() -> None:
    job = counter("end")
    (before,) = plan.pieces(job)
    cut = after(job, edits.MarkPiece(before.name, "cut"))
    leg = cut.runs[0].legs[0].id
    plainly = after(cut, edits.FinishEdge(EdgeRef(leg, "end"), None))
    (kept,) = plan.pieces(plainly)
    assert kept.weight_lb == pytest.approx(before.weight_lb)
    assert strips(plainly)["end"].long_in == pytest.approx(25.375)


def test_mesh_and_bars_keep_off_the_slope() -> None:
    plain, mitred = counter(), counter("end")
    (mold,) = plan.molds(mitred)
    whole = concrete_of(mold).area
    assert concrete_at(mold, 0.0).area == pytest.approx(whole)
    assert concrete_at(mold, 1.0).area == pytest.approx(whole - 25.375)
    assert concrete_at(mold, 9.0).area == pytest.approx(whole - 2.0 * 25.375)
    (one,), (other,) = (reinforcement(job, "A").panels for job in (plain, mitred))
    up = reinforcement(mitred, "A").mesh_height_in
    assert max(one.size) - max(other.size) == pytest.approx(up + 2.0 * 0.135, abs=0.05)


def test_a_mitre_elsewhere_leaves_a_piece_the_very_same() -> None:
    island = replace(kitchens.island().islands[0], id="island900")
    job = after(counter(), edits.AddIsland(island))
    before = {piece.top: piece for piece in plan.pieces(job)}
    job = after(job, edits.FinishEdge(EdgeRef("island900", "1"), "mitred"))
    now = {piece.top: piece for piece in plan.pieces(job)}
    run = job.runs[0].id
    assert now[run] is before[run]
    assert now["island900"] != before["island900"]
