"""What openings and inside corners are told, and what mends them."""

import pytest
from msgspec.structs import replace

from geometry.counters import RoundCorner
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import (
    AlongLeg,
    ApronShape,
    BesideOpening,
    InIsland,
    Opening,
    OverMiddle,
    RectangleShape,
)
from geometry.templates import TemplateEdge, TemplateShape
from shop import edits
from shop.applying import applied
from shop.findings import Finding, findings
from shop.job import Job
from shop.opening_findings import NEAR_BACK, OVER_DISHWASHER, SHARP_INSIDE, SHARP_OPENING
from shop.remedies import remedies
from tests.shop.cabinetry import row, wall_of
from tests.shop.kitchens import (
    after,
    angle,
    corner_seam,
    faucet,
    hole,
    island,
    run,
    sink,
    straight,
)

INSIDE = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg202", "front"))


def of(job: Job, code: str) -> list[Finding]:
    return [finding for finding in findings(job) if finding.code == code]


def labels(job: Job, code: str) -> list[str]:
    return [remedy.label for finding in of(job, code) for remedy in remedies(job, finding)]


def cured(job: Job, code: str) -> Job:
    (finding,) = of(job, code)
    return applied(job, remedies(job, finding)[0].edit)


# --- Corners of openings ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("radius", "reveal", "told"),
    [(0.0, 0.0, "are left square"), (0.25, 0.0, "radius of 1/4"), (0.5, -0.25, "radius of 1/4")],
)
def test_a_sink_with_corners_sharper_than_three_eighths_is_told(
    radius: float, reveal: float, told: str
) -> None:
    shape = RectangleShape(30.0, 16.0, radius)
    job = after(straight(), edits.AddOpening(replace(sink(), shape=shape, reveal=reveal)))
    (finding,) = of(job, SHARP_OPENING)
    assert told in finding.text
    assert "common practice is a radius of 3/8 or more" in finding.text
    assert not of(cured(job, SHARP_OPENING), SHARP_OPENING)


def test_the_radius_that_mends_it_makes_up_for_the_reveal() -> None:
    shape = RectangleShape(30.0, 16.0, 0.25)
    job = after(straight(), edits.AddOpening(replace(sink(), shape=shape, reveal=-0.125)))
    assert labels(job, SHARP_OPENING) == ["Use a corner radius of 1/2"]
    own = after(job, edits.SetLimits(replace(job.limits, inside_radius=0.125)))
    assert of(own, SHARP_OPENING) == []
    mine = after(job, edits.SetLimits(replace(job.limits, inside_radius=0.5)))
    assert "your limit is a radius of 1/2" in of(mine, SHARP_OPENING)[0].text


def test_the_open_side_of_an_apron_cut_has_no_corners_in_the_concrete() -> None:
    cut = replace(sink(), shape=ApronShape(30.0, 19.0, 0.5), at=AlongLeg("leg201", 60.0, 0.0))
    job = after(straight(), edits.AddOpening(cut))
    assert of(job, SHARP_OPENING) == []
    sharp = after(job, edits.SetOpening(replace(cut, shape=ApronShape(30.0, 19.0, 0.25))))
    assert labels(sharp, SHARP_OPENING) == ["Use a corner radius of 3/8"]


def test_a_template_is_told_but_stays_as_it_was_drawn() -> None:
    points = ((-15.0, -8.0), (15.0, -8.0), (15.0, 8.0), (-15.0, 8.0))
    drawn = TemplateShape(tuple(TemplateEdge(*point) for point in points), "bowl.dxf")
    job = after(straight(), edits.AddOpening(replace(sink(), shape=drawn)))
    assert "are square" in of(job, SHARP_OPENING)[0].text
    assert labels(job, SHARP_OPENING) == []
    first = TemplateEdge(-15.0, -7.75)
    bevel = (first, TemplateEdge(-14.75, -8.0), TemplateEdge(15.0, -8.0), TemplateEdge(15.0, 8.0))
    round_ = TemplateShape((*bevel, TemplateEdge(-15.0, 8.0)), "bowl.dxf")
    edges = (replace(first, bulge=0.4142135623730951), *round_.edges[1:])
    soft = after(job, edits.SetOpening(replace(sink(), shape=replace(round_, edges=edges))))
    assert "are square" in of(soft, SHARP_OPENING)[0].text
    oval = TemplateShape((TemplateEdge(-0.25, 0.0, 1.0), TemplateEdge(0.25, 0.0, 1.0)), "o.dxf")
    small = after(job, edits.SetOpening(replace(sink(), shape=oval)))
    assert "have a radius of 1/4 or less" in of(small, SHARP_OPENING)[0].text


# --- Inside corners of pieces -------------------------------------------------------------------


def test_an_inside_corner_left_square_is_told_and_rounded_where_sidewalls_have_room() -> None:
    job = angle()
    (finding,) = of(job, SHARP_INSIDE)
    assert finding.about[0].edge == INSIDE
    assert "is left square" in finding.text
    # Sidewalls of 3/4 stand in the corner's open side: a smaller radius hardly leaves them room.
    assert labels(job, SHARP_INSIDE) == ["Round it with radius 1: takes a turned insert"]
    assert of(cured(job, SHARP_INSIDE), SHARP_INSIDE) == []
    thin = after(job, edits.SetMoldChoices(replace(job.molds, sidewall_thickness=0.25)))
    assert labels(thin, SHARP_INSIDE) == ["Round it with radius 3/8: takes a turned insert"]


def test_a_radius_that_is_too_small_is_told_and_a_seam_there_takes_the_corner_away() -> None:
    tight = after(angle(), edits.ShapeCorner(INSIDE, RoundCorner(INSIDE, 0.25)))
    (finding,) = of(tight, SHARP_INSIDE)
    assert "has a radius of 1/4" in finding.text
    assert of(after(angle(), edits.AddSeam(corner_seam())), SHARP_INSIDE) == []
    poured = after(angle(), edits.MarkPiece("A", "poured"))
    assert of(poured, SHARP_INSIDE) == []
    off = after(angle(), edits.SetLimits(replace(angle().limits, inside_radius=0.0)))
    assert of(off, SHARP_INSIDE) == []


def test_where_no_rounding_has_room_none_is_offered() -> None:
    job = angle()
    wide = after(job, edits.SetLimits(replace(job.limits, inside_radius=300.0)))
    assert of(wide, SHARP_INSIDE)
    assert labels(wide, SHARP_INSIDE) == []


# --- Faucets ------------------------------------------------------------------------------------


def test_a_faucet_too_near_the_back_moves_forward_by_the_least_that_will_do() -> None:
    job = after(straight(), edits.AddOpening(faucet(back=24.0)))
    (finding,) = of(job, NEAR_BACK)
    assert "1 3/8 from the back edge, where common practice is 1 3/4" in finding.text
    assert [label.partition(":")[0] for label in labels(job, NEAR_BACK)] == [
        "Move faucet forward 3/8"
    ]
    assert of(cured(job, NEAR_BACK), NEAR_BACK) == []
    mine = after(job, edits.SetLimits(replace(job.limits, handle_room=1.0)))
    assert of(mine, NEAR_BACK) == []
    more = after(job, edits.SetLimits(replace(job.limits, handle_room=3.0)))
    assert "your limit is 3" in of(more, NEAR_BACK)[0].text


def test_one_measured_from_a_sink_comes_nearer_to_its_rim() -> None:
    tap = replace(faucet(), at=BesideOpening("opening400", 0.0, 2.75))
    low = replace(sink(), shape=RectangleShape(30.0, 15.0, 3.0), at=AlongLeg("leg201", 60.0, 13.5))
    job = after(straight(), edits.AddOpening(low), edits.AddOpening(tap))
    mended = cured(job, NEAR_BACK)
    at = mended.openings[1].at
    assert isinstance(at, BesideOpening)
    assert at.behind == pytest.approx(2.625)


def test_on_an_island_there_is_no_back() -> None:
    tap = replace(faucet(), at=InIsland("island300", 36.0, 35.0))
    assert of(after(island(), edits.AddOpening(tap)), NEAR_BACK) == []


# --- Dishwashers --------------------------------------------------------------------------------


def washed(opening: Opening) -> Job:
    job = row(wall_of(), ("base", 36.0), ("dishwasher", 24.0), ("base", 60.0))
    return after(job, edits.AddRun(run("wall101")), edits.AddOpening(opening))


def cooktop(along: float) -> Opening:
    shape = RectangleShape(28.0, 19.0, 0.5)
    return Opening("opening403", "cooktop", shape, AlongLeg("leg201", along, 12.75), "cooktop")


def test_a_cut_over_a_dishwasher_or_at_its_side_moves_off_it() -> None:
    over = washed(cooktop(72.0))
    (finding,) = of(over, OVER_DISHWASHER)
    assert "It reaches 2 over the dishwasher" in finding.text
    assert [label.partition(":")[0] for label in labels(over, OVER_DISHWASHER)] == [
        "Move cooktop right 3"
    ]
    near = washed(cooktop(74.5))
    assert "It ends 1/2 from the dishwasher's side" in of(near, OVER_DISHWASHER)[0].text
    assert of(cured(near, OVER_DISHWASHER), OVER_DISHWASHER) == []
    assert of(washed(cooktop(75.0)), OVER_DISHWASHER) == []
    mine = after(near, edits.SetLimits(replace(near.limits, dishwasher_room=2.0)))
    assert "your limit is 2" in of(mine, OVER_DISHWASHER)[0].text


def test_one_over_the_middle_of_a_cabinet_moves_aside_from_it() -> None:
    over = replace(cooktop(0.0), at=OverMiddle("leg201", "cabinet601", 12.75, 10.0))
    mended = cured(washed(over), OVER_DISHWASHER)
    at = mended.openings[0].at
    assert isinstance(at, OverMiddle)
    assert at.aside < 10.0


def test_a_hole_for_a_faucet_may_lie_there_and_a_sink_off_its_base_is_told_once() -> None:
    assert of(washed(faucet(along=48.0)), OVER_DISHWASHER) == []
    job = row(wall_of(), ("sink-base", 36.0), ("dishwasher", 24.0), ("base", 60.0))
    job = after(job, edits.AddRun(run("wall101")), edits.AddOpening(sink(along=40.0)))
    assert of(job, "sink-off-base")
    assert of(job, OVER_DISHWASHER) == []
    assert of(after(island(), edits.AddOpening(hole())), OVER_DISHWASHER) == []
