import re
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.alongside import Ledge
from geometry.counters import Island, OnBoard, RoundCorner
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg, CircleShape, RectangleShape
from geometry.picking import Subject
from shop import edits
from shop.applying import applied
from shop.findings import Finding, findings
from shop.job import Job
from shop.jobfile import read_job
from shop.readings import (
    AngleReading,
    DiagonalReading,
    ThreeSidesReading,
    WallReading,
)
from shop.samples import sample_names, sample_path
from tests.shop.kitchens import (
    after,
    angle,
    corner_seam,
    faucet,
    hole,
    island,
    seam,
    sink,
    straight,
)
from tests.strategies import edits_of, sample_jobs

NEVER = re.compile(r"\b(safe|safely|all clear|pass|passes|passed|ready)\b", re.IGNORECASE)

WALL = WallReading("reading1", "wall101", 120.0)
OTHER = WallReading("reading2", "wall102", 160.0)
ACROSS = DiagonalReading("reading3", "corner1", "corner3", 200.0)
CHECK = ThreeSidesReading("reading5", "corner2", 72.0, 96.0, 120.0)


def read(*readings: WallReading | DiagonalReading | AngleReading | ThreeSidesReading) -> Job:
    return after(angle(), *(edits.AddReading(reading) for reading in readings))


def of(job: Job, code: str) -> list[Finding]:
    return [finding for finding in findings(job) if finding.code == code]


def only(job: Job, code: str) -> Finding:
    (found,) = of(job, code)
    return found


def titles(found: Sequence[Finding]) -> list[str]:
    return [finding.title for finding in found]


@pytest.mark.parametrize("name", sample_names())
def test_every_finding_of_a_sample_says_where_it_is(name: str) -> None:
    for finding in findings(read_job(sample_path(name))):
        assert finding.at is not None
        assert finding.about
        assert not finding.blocking


@settings(max_examples=60, deadline=None)
@given(sample_jobs, st.data())
def test_findings_are_sentences_that_promise_nothing(job: Job, data: st.DataObject) -> None:
    for _ in range(4):
        job = applied(job, data.draw(edits_of(job)))
    found = findings(job)
    for finding in found:
        assert not NEVER.search(f"{finding.title} {finding.text}")
        assert finding.text.endswith(".")
        assert "\n" not in finding.title
    assert [f.blocking for f in found] == sorted((f.blocking for f in found), reverse=True)
    molds = [(f.code, f.about[0]) for f in found if f.title.startswith("Mold ")]
    assert len(set(molds)) == len(molds)


# --- Room (more in test_room_findings.py) -------------------------------------------------------


def test_a_room_nobody_measured_has_no_findings() -> None:
    assert not [f for f in findings(angle()) if f.about[0].kind in ("corner", "reading")]
    assert findings(Job("Test")) == ()


# --- Counters -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "code", "said"),
    [
        ({"overhang": -5.0}, "odd-overhang", "an overhang of -5 the cabinets stand out"),
        ({"overhang": 14.0}, "free-overhang", "14 beyond the cabinets, where common"),
        ({"rise": 12.5}, "free-overhang", "14 beyond the cabinets, where common"),
        ({"rise": -6.5}, "odd-overhang", "an overhang of -5 the cabinets stand out"),
        ({"depth_left": 4.0}, "odd-depth", "are 4 deep: check the number."),
    ],
)
def test_odd_depths_and_overhangs_are_said_at_the_front(
    changes: dict[str, float], code: str, said: str
) -> None:
    leg = straight().runs[0].legs[0]
    found = only(after(straight(), edits.SetLeg(replace(leg, **changes))), code)
    assert said in found.text
    assert not found.blocking
    assert found.about == (Subject("edge", "leg201", EdgeRef("leg201", "front")),)
    assert found.at is not None


# --- What cannot be made ----------------------------------------------------------------------


def test_each_fault_says_what_cannot_be_made_and_where() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    job = after(
        straight(),
        edits.AddOpening(sink(along=5.0)),
        edits.AddSeam(seam(130.0)),
        edits.ShapeCorner(corner, RoundCorner(corner, 60.0)),
        edits.AddIsland(Island("island300", 0.05, 0.05, OnBoard(9.0, 9.0))),
    )
    found = {finding.code: finding for finding in findings(job) if finding.blocking}
    assert found["opening-outside"].title == "The sink cannot be cut there"
    assert found["opening-outside"].at == pytest.approx((5.0, -12.5))
    assert found["seam-misses"].title == "A seam cannot be made there"
    assert found["seam-misses"].about == (Subject("seam", "seam500"),)
    assert found["corner-too-large"].title == "A corner or edge cannot be made like that"
    assert found["corner-too-large"].at == pytest.approx((120.0, -25.5))
    small = [f for f in found.values() if f.about[0].kind == "island"]
    assert titles(small) == ["The island cannot be made"]
    assert small[0].at == pytest.approx((9.025, 9.025))


def test_a_leg_that_cannot_be_made_is_named() -> None:
    job = angle()
    thin = replace(job.runs[0].legs[1], depth_left=0.1, depth_right=0.1, overhang=0.0)
    found = only(after(job, edits.SetLeg(thin)), "no-depth")
    assert found.title == "Leg 2 cannot be made"
    assert found.at == pytest.approx((75.0, 0.0))


def test_a_strip_that_cannot_be_made_is_told_of_at_its_counter() -> None:
    job = read_job(sample_path("bay-and-breast"))
    thin = Ledge("ledge101", EdgeRef("leg90", "back"), 0.125, 0.125, wall_thickness=0.0)
    found = only(after(job, edits.AddAlongside(thin)), "sliver")
    assert found.title == "The ledge cannot be made"
    assert found.at is not None


def test_a_thin_top_is_named_by_its_wall() -> None:
    leg = replace(straight().runs[0].legs[0], depth_left=0.2, depth_right=0.2, overhang=0.0)
    found = only(after(straight(), edits.SetLeg(leg)), "sliver")
    assert found.title == "The top along wall 1 to 2 cannot be made"
    assert found.at is not None


def test_a_reveal_that_leaves_sharp_corners_is_said() -> None:
    shape = RectangleShape(30.0, 16.0)
    job = after(straight(), edits.AddOpening(replace(sink(), shape=shape, reveal=-0.25)))
    found = only(job, "reveal-over-radius")
    assert found.title == "The sink has sharp corners"
    assert found.at == pytest.approx((60.0, -12.5))


# --- Pieces -----------------------------------------------------------------------------------


def test_a_bridge_in_front_of_the_sink_is_said_with_its_width_and_the_usual_one() -> None:
    job = after(straight(), edits.AddOpening(sink(back=10.625)))
    found = only(job, "narrow-bridge")
    assert found.title == "Bridge in front of the sink"
    assert found.text == "2 5/8 wide; common practice is 3."
    assert found.about == (Subject("opening", "opening400"), Subject("piece", "A"))
    assert found.at == pytest.approx((found.at[0] if found.at else 0.0, -25.5 + 1.3125))


def test_a_limit_of_the_maker_is_not_called_common_practice() -> None:
    job = after(
        straight(),
        edits.AddOpening(sink()),
        edits.SetLimits(replace(straight().limits, bridge=6.0)),
    )
    assert [finding.text.partition(" Front")[0] for finding in of(job, "narrow-bridge")] == [
        "4 3/8 wide; your limit is 6.",
        "5 wide; your limit is 6.",
    ]


@pytest.mark.parametrize(
    ("job", "title"),
    [
        (after(straight(), edits.AddOpening(sink(back=15.0))), "Bridge behind the sink"),
        (
            after(straight(), edits.AddOpening(sink(along=17.0))),
            "Bridge between the sink and the left end",
        ),
        (
            after(straight(), edits.AddOpening(sink(along=42.0)), edits.AddSeam(seam(25.0))),
            "Bridge between the sink and the seam to A",
        ),
        (
            after(straight(), edits.AddOpening(sink()), edits.AddOpening(faucet(back=22.0))),
            "Bridge between the sink and the faucet",
        ),
        (
            after(island(), edits.AddOpening(hole(8.0))),
            "Bridge between the bar sink and the side 4",
        ),
        (
            after(island(), edits.AddOpening(hole(20.0, 8.0))),
            "Bridge between the bar sink and the side 1",
        ),
    ],
)
def test_bridges_are_named_by_what_they_lie_between(job: Job, title: str) -> None:
    assert titles(of(job, "narrow-bridge")) == [title]


def test_a_bridge_at_the_inside_corner_of_two_legs_is_named() -> None:
    at = AlongLeg("leg202", 21.0, 4.5)
    drum = replace(sink(), name="pot well", shape=CircleShape(10.0), at=at)
    found = of(after(angle(), edits.AddOpening(drum)), "narrow-bridge")
    assert titles(found) == ["Bridge between the pot well and the inside corner"]
    # From (21, -21) to the corner at (25 1/2, -25 1/2) less the radius: 6.364 - 5.
    assert found[0].text == "1 3/8 wide; common practice is 3."


def test_a_bridge_between_two_legs_is_at_the_inside_corner() -> None:
    job = angle()
    one, other = job.runs[0].legs
    tight = after(
        job,
        edits.SetLeg(replace(one, depth_right=2.0, depth_left=2.0, overhang=0.0)),
        edits.SetLeg(replace(other, depth_left=2.0, depth_right=2.0, overhang=0.0)),
    )
    assert titles(of(tight, "narrow-bridge"))[0].endswith(" of piece A")


def test_heavy_pieces_are_said_in_whole_pounds_rounded_up() -> None:
    found = only(straight(), "heavy-piece")
    # 120 x 25.375 x 2 / 1728 x 150 = 528.6 lb
    assert found.text == (
        "529 lb: plan a cart, a lifter or more hands, or see which seams are suggested."
    )
    lighter = after(straight(), edits.SetLimits(replace(straight().limits, carry_lb=300.0)))
    assert only(lighter, "heavy-piece").text == "529 lb: plan a cart, a lifter or more hands."
    assert found.at == pytest.approx((60.0, -12.8125))


def test_a_stub_beside_a_seam_is_blocking_and_names_the_seam() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    job = after(
        straight(),
        edits.ShapeCorner(corner, RoundCorner(corner, 3.0)),
        edits.AddSeam(seam(116.8)),
    )
    found = only(job, "short-edge")
    assert found.blocking
    assert found.about == (Subject("seam", "seam500"), Subject("piece", "B"))
    assert found.at is not None


# --- Molds ------------------------------------------------------------------------------------


def test_turned_inserts_of_a_mold_are_one_finding_that_names_the_strips() -> None:
    corners = [
        corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", s)) for s in ("start", "end")
    ]
    job = after(straight(), *(edits.ShapeCorner(c, RoundCorner(c, 2.0)) for c in corners))
    found = only(job, "turned-insert")
    assert found.title == "Mold A: turned inserts for A3 and A5"
    assert found.text.startswith("Their radius is tighter than a strip bends (6).")
    assert found.about[0] == Subject("piece", "A")
    one = only(after(job, edits.ShapeCorner(corners[0], None)), "turned-insert")
    assert re.fullmatch(r"Mold A: turned insert for A\d", one.title)
    chosen = after(job, edits.SetMoldChoices(replace(job.molds, insert_radius=3.0)))
    assert only(chosen, "turned-insert").text.startswith(
        "Their radius takes an insert (up to 3). Turn or cast an insert for each."
    )


def test_sidewalls_that_collide_are_blocking() -> None:
    shape = RectangleShape(1.0, 12.0)
    notch = replace(sink(), shape=shape, at=AlongLeg("leg201", 60.0, 13.0))
    thick = edits.SetMoldChoices(replace(straight().molds, sidewall_thickness=1.5))
    job = after(straight(), edits.AddOpening(notch), edits.AddSeam(seam(60.0)), thick)
    assert of(job, "sidewalls-collide") == []
    narrow = after(
        angle(),
        edits.SetLeg(replace(angle().runs[0].legs[1], depth_left=118.0, depth_right=118.0)),
        thick,
    )
    assert all(f.blocking for f in of(narrow, "sidewalls-collide"))


def test_a_corner_seam_makes_sharp_corners_on_both_pieces() -> None:
    job = after(angle(), edits.AddSeam(corner_seam()))
    assert titles(of(job, "sharp-corner")) == [
        "Mold A: a corner breaks off easily",
        "Mold B: a corner breaks off easily",
    ]
    assert all(f.at == pytest.approx((0.125, -0.125), abs=0.2) for f in of(job, "sharp-corner"))


def test_a_round_piece_has_nothing_to_turn_it_over_about() -> None:
    disk = Island("island300", 40.0, 40.0, OnBoard(0.0, 0.0), round_sides=("1", "3"))
    found = only(after(Job("Test"), edits.AddIsland(disk)), "nothing-to-turn-about")
    assert found.title == "Mold A: nothing to turn it over about"
    assert found.at == pytest.approx((20.0, 20.0))


def test_a_turning_edge_that_is_not_straight_is_said() -> None:
    shape = Island("island300", 80.0, 40.0, OnBoard(0.0, 0.0), round_sides=("2",))
    job = after(
        Job("Test"), edits.AddIsland(shape), edits.TurnAbout("A", EdgeRef("island300", "2"))
    )
    assert "Mold A: the edge it is turned over about" in titles(findings(job))


def test_holes_of_a_faucet_are_no_matter_when_they_are_far_from_everything() -> None:
    job = after(straight(), edits.AddOpening(faucet(back=23.0)))
    assert of(job, "narrow-bridge") == []
    near = after(job, edits.SetOpening(replace(faucet(back=24.25), shape=CircleShape(1.375))))
    assert only(near, "narrow-bridge").text == "7/16 wide; common practice is 1."
