"""What is said of walls that bow, and what makes it go."""

import pytest
from msgspec.structs import replace

from shop import edits
from shop.applying import applied
from shop.finding import Finding
from shop.findings import findings
from shop.job import Baseline, Job
from shop.readings import StationReading, StraightedgeReading
from shop.remedies import remedies
from tests.shop.kitchens import after, straight


def gap(number: int, along: float, value: float) -> StraightedgeReading:
    return StraightedgeReading(f"reading{number}", "wall101", along, value)


def read(*readings: StraightedgeReading) -> Job:
    return after(straight(), *(edits.AddReading(reading) for reading in readings))


def of_code(job: Job, code: str) -> tuple[Finding, ...]:
    return tuple(finding for finding in findings(job) if finding.code == code)


def test_a_gap_wider_than_common_practice_is_said_with_its_place_and_the_bow() -> None:
    job = read(gap(1, 50.0, 0.375))
    (finding,) = of_code(job, "wall-gap")
    assert not finding.blocking
    assert finding.title == "A gap behind the top along wall 1 to 2"
    assert finding.text == (
        "Wall 1 to 2 is hollow by 3/8 at 4' 2. Behind the straight back the gap is up to 1/2, at"
        " 4' 2 along the wall, where common practice is 3/16: scribe the back, or plan to cover"
        " the gap."
    )
    assert finding.at == pytest.approx((50.0, 0.0), abs=1.0)


def test_a_gap_within_the_limit_needs_no_word() -> None:
    assert of_code(read(gap(1, 50.0, 0.05)), "wall-gap") == ()
    job = read(gap(1, 50.0, 0.375))
    wider = after(job, edits.SetLimits(replace(job.limits, wall_gap=0.625)))
    assert of_code(wider, "wall-gap") == ()
    own = after(job, edits.SetLimits(replace(job.limits, wall_gap=0.25)))
    assert "where your limit is 1/4" in of_code(own, "wall-gap")[0].text


def test_scribing_the_back_makes_the_gap_go() -> None:
    job = read(gap(1, 50.0, 0.375))
    (finding,) = of_code(job, "wall-gap")
    (remedy,) = remedies(job, finding)
    assert remedy.label == "Scribe the back to the wall"
    mended = applied(job, remedy.edit)
    assert mended.runs[0].legs[0].back == "scribed"
    assert of_code(mended, "wall-gap") == ()


def test_readings_of_one_spot_that_disagree_are_named() -> None:
    job = read(gap(1, 50.0, 0.25), gap(2, 50.0, 0.75))
    (finding,) = of_code(job, "bow-misread")
    assert finding.title == "A reading of the bow of wall 1 to 2 is off"
    assert finding.text.count("gap to the straightedge on wall 1 to 2 at 4' 2") == 2
    assert [subject.id for subject in finding.about] == ["reading1", "reading2"]
    assert finding.at == pytest.approx((50.0, 0.0))


def test_a_reading_past_the_walls_end_is_named() -> None:
    (finding,) = of_code(read(gap(1, 50.0, 0.25), gap(2, 130.0, 0.25)), "bow-off-wall")
    assert finding.title == "A reading does not lie on wall 1 to 2"
    assert "gap to the straightedge on wall 1 to 2 at 10' 10" in finding.text


def test_a_wall_read_without_a_slip_has_no_finding() -> None:
    job = read(gap(1, 50.0, 0.05), gap(2, 50.0, 0.06))
    assert not [finding for finding in findings(job) if finding.code.startswith("bow")]


def stationed(*readings: StationReading) -> Job:
    """A string 26 in before a wall, tied to both of its corners, with more read from it."""
    job = straight()
    wall = job.room.walls[0]
    ends = (
        StationReading("reading1", "baseline9", 0.0, 26.0, "corner", wall.start),
        StationReading("reading2", "baseline9", 120.0, 26.0, "corner", wall.end),
    )
    string = edits.AddBaseline(Baseline("baseline9", "string 1", wall.id, 26.0))
    return after(job, string, *(edits.AddReading(r) for r in (*ends, *readings)))


@pytest.mark.parametrize(
    ("offset", "said"),
    [
        (90.0, "it would be hollow by 5' 4 at 4' 2"),
        (2.0, "it would bulge by 24 at 4' 2"),
    ],
)
def test_a_wall_off_by_more_than_walls_bow_is_named_with_its_reading(
    offset: float, said: str
) -> None:
    job = stationed(StationReading("reading3", "baseline9", 50.0, offset, "wall"))
    (finding,) = of_code(job, "bow-too-deep")
    assert finding.title == "Wall 1 to 2 bows by more than walls do"
    assert said in finding.text
    assert finding.text.endswith("a wall off by more than 12 has a corner there.")
    assert [subject.id for subject in finding.about] == ["reading3"]
    assert of_code(stationed(), "bow-too-deep") == ()


def test_faces_behind_their_wall_are_named_and_how_to_type_them() -> None:
    wrong = StationReading("reading3", "baseline9", 50.0, 30.0, "face")
    (finding,) = of_code(stationed(wrong), "face-behind-wall")
    assert "the cabinets' faces would be 4 behind the wall" in finding.text
    assert "with a minus" in finding.text
    right = replace(wrong, value=2.0)
    assert of_code(stationed(right), "face-behind-wall") == ()
