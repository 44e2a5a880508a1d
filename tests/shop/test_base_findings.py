"""Bases larger than a sheet: panels, what is said of them, and seams that take their place."""

from math import radians

import pytest
from msgspec.structs import replace

from geometry.counters import Island, OnBoard
from geometry.naming import EdgeRef
from geometry.outline import area
from geometry.picking import Subject
from geometry.points import distance
from shop import edits, plan
from shop.base_findings import JOINT, TOO_SMALL, seams_instead
from shop.base_panels import base_panels, sheet_of, takes_panels
from shop.finding import Finding
from shop.findings import findings
from shop.job import Job
from shop.jobfile import read_job
from shop.remedies import remedies
from shop.samples import sample_names, sample_path
from shop.stock_list import SheetGoods, Stock
from shop.strip_places import new_strip
from tests.shop.kitchens import after, angle, island, run, sink, straight, walls


def of(job: Job, code: str = JOINT) -> Finding:
    return next(found for found in findings(job) if found.code == code)


def ell() -> Job:
    """Two legs of 60 in round a corner: an L that no sheet of 97 by 49 holds."""
    room = walls((0.0, -60.0), (0.0, 0.0), (60.0, 0.0))
    return after(room, edits.AddRun(run("wall101", "wall102")))


def test_a_base_that_fits_is_cut_in_one_and_nothing_is_said() -> None:
    job = straight(90.0)
    mold = plan.mold(job, "A")
    made = base_panels(job, mold)
    assert [(panel.name, panel.outline) for panel in made.panels] == [("A base", mold.base)]
    assert (made.joints, made.battens) == ((), ())
    assert not takes_panels(job, mold)
    assert all(found.code != JOINT for found in findings(job))


@pytest.mark.parametrize("size", [(97.0, 49.0), (49.0, 20.0), (20.0, 49.0), (60.0, 30.0)])
@pytest.mark.parametrize("name", sample_names())
def test_every_panel_lies_on_its_sheet_as_it_is_cut(name: str, size: tuple[float, float]) -> None:
    job = read_job(sample_path(name))
    small = replace(job, stock=Stock(board=SheetGoods("board", *size)))
    for mold in plan.molds(small):
        made = base_panels(small, mold)
        for panel in made.panels if made.fits else ():
            assert all(
                side <= limit + 1e-3
                for side, limit in zip(sorted(panel.size), sorted(size), strict=True)
            )
            assert area(panel.lying) == pytest.approx(area(panel.outline))


def test_an_l_of_60_is_two_panels_whose_joint_prints() -> None:
    job = ell()
    mold = plan.mold(job, "A")
    made = base_panels(job, mold)
    assert [panel.name for panel in made.panels] == ["A base 1", "A base 2"]
    assert sum(area(panel.outline) for panel in made.panels) == pytest.approx(area(mold.base))
    assert made.battens == pytest.approx([distance(*joint) for joint in made.joints])
    found = of(job)
    assert not found.blocking
    assert found.title == "Mold A: its base takes 2 panels"
    assert "is larger than a sheet (8' 1 x 4' 1): it is cut as 2 panels over battens" in found.text
    assert "their joint prints through the face" in found.text
    assert found.at is not None


def test_a_seam_in_its_place_is_one_step_that_brings_nothing_new() -> None:
    job = ell()
    offered = remedies(job, of(job))
    assert offered
    for remedy in offered:
        assert remedy.label.startswith("Put a seam ")
        assert remedy.also == ()
        done = after(job, remedy.edit)
        assert len(plan.pieces(done)) == 2
        before = sorted(found.code for found in findings(job))
        now = sorted(found.code for found in findings(done))
        for code in now:
            assert code in before
            before.remove(code)
        assert JOINT not in now


def test_a_seam_that_would_bring_another_finding_is_not_offered() -> None:
    # Any seam across the sink's top would leave narrow bridges, or a piece too heavy to carry.
    job = after(straight(100.0), edits.AddOpening(sink(along=50.0)))
    wide = after(job, edits.SetLimits(replace(job.limits, bridge=40.0)))
    labels = [remedy.label for remedy in remedies(wide, of(wide))]
    tried = [label for label, _ in seams_instead(wide, of(wide))]
    assert tried
    assert set(labels) < set(tried)


def test_seams_are_said_by_where_they_start() -> None:
    job = angle()
    words = [label for label, _ in seams_instead(job, of(job))]
    assert "Put a seam into the corner" in words
    assert any(" from corner 1" in word for word in words)
    large = after(Job("Test"), edits.AddIsland(Island("island300", 120.0, 40.0, OnBoard(0.0, 0.0))))
    (first, *_) = seams_instead(large, of(large))
    assert first[0].endswith(" along side 1")


def test_a_room_seen_from_the_other_side_counts_from_the_other_corner() -> None:
    room = walls((0.0, 0.0), (-130.0, 0.0), right=False)
    job = after(room, edits.AddRun(run("wall101")))
    (first, *_) = seams_instead(job, of(job))
    assert " from corner 2" in first[0]


def test_a_tilted_base_has_panels_too() -> None:
    tilted = Island("island300", 120.0, 40.0, OnBoard(0.0, 0.0), angle=30.0)
    job = after(Job("Test"), edits.AddIsland(tilted))
    mold = plan.mold(job, "A")
    made = base_panels(job, mold)
    assert len(made.panels) == 2
    assert sum(area(p.outline) for p in made.panels) == pytest.approx(area(mold.base))
    assert radians(30.0)


def test_a_sheet_far_too_small_is_one_sentence() -> None:
    job = after(island(), edits.SetStock(Stock(board=SheetGoods(length=8.0, width=5.0))))
    assert sheet_of(job) == (8.0, 5.0)
    made = base_panels(job, plan.mold(job, "A"))
    assert not made.fits
    assert [panel.name for panel in made.panels] == ["A base"]
    found = of(job, TOO_SMALL)
    assert found.text == "No panels of 8 x 5 make it in a sensible number: check the sheet's size."
    assert found.at == pytest.approx((36.0, 18.0))


def test_several_joints_are_told_as_such() -> None:
    job = straight(250.0)
    assert "their joints print through" in of(job).text


def test_a_long_backsplash_takes_a_seam_of_its_own_in_place_of_its_joint() -> None:
    job = straight(110.0)
    back = EdgeRef(job.runs[0].legs[0].id, "back")
    job = after(job, edits.AddAlongside(new_strip(job, back, "splash")))
    splash = Subject("piece", plan.pieces(job)[-1].name)
    found = next(f for f in findings(job) if f.code == JOINT and f.about == (splash,))
    label, edit = next(iter(seams_instead(job, found)))
    assert label.endswith("from corner 1")
    split = after(job, edit)
    assert [p.name for p in plan.pieces(split)] == ["A", "B", "C"]
    assert not any(f.code == JOINT and f.about == (splash,) for f in findings(split))


def test_a_slab_whose_counter_cannot_be_made_takes_no_seam() -> None:
    job = after(straight(110.0), edits.MarkPiece("A", "cut"))
    found = next(f for f in findings(job) if f.code == JOINT)
    lost = after(job, edits.MoveCorner("corner2", 0.0, 0.0))
    assert list(seams_instead(lost, found)) == []
