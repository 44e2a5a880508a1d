"""Forms of edges along measured walls, and the limit of the gap behind them."""

from msgspec.structs import replace

from app.things.edges import edge_described
from app.things.whole_job import whole_job
from geometry.naming import EdgeRef
from geometry.picking import Subject
from shop import edits
from shop.job import Job
from shop.readings import FaceReading, StraightedgeReading
from tests.shop.kitchens import after, straight

BOWED = after(straight(), edits.AddReading(StraightedgeReading("reading1", "wall101", 50.0, 0.375)))


def facts(job: Job, side: str) -> dict[str, str]:
    subject = Subject("edge", "leg201", EdgeRef("leg201", side))
    return {fact.label: fact.value for fact in edge_described(job, subject).facts}


def test_the_form_of_a_back_says_the_gap_behind_it_and_its_whole_length() -> None:
    assert facts(BOWED, "back")["Gap to the wall"].replace("\N{NO-BREAK SPACE}", " ") == (
        "up to 1/2, at 4' 2"
    )
    scribed = after(BOWED, edits.SetLeg(replace(BOWED.runs[0].legs[0], back="scribed")))
    assert facts(scribed, "back")["Gap to the wall"].startswith("up to 1/8")
    assert facts(scribed, "back")["Length"] == facts(BOWED, "back")["Length"]
    assert "Gap to the wall" not in facts(straight(), "back")


def test_the_form_of_a_front_says_the_depths_that_its_faces_give() -> None:
    readings = (
        FaceReading("reading2", "wall101", 0.0, 24.0),
        FaceReading("reading3", "wall101", 60.0, 24.625),
        FaceReading("reading4", "wall101", 120.0, 24.5),
    )
    job = after(straight(), *map(edits.AddReading, readings))
    said = facts(job, "front")
    assert said["Faces as measured"] == "24 1/8 deep at the left, 24 5/8 at the right"
    assert said["Faces off their line"] == "up to 1/4"
    assert "Faces as measured" not in facts(straight(), "front")


def test_the_limit_of_the_gap_behind_a_straight_back_is_asked() -> None:
    (asked,) = (q for q in whole_job(BOWED).questions if q.key == "wall-gap")
    assert asked.value == 0.1875
    (edit,) = asked.edits(0.25)
    assert isinstance(edit, edits.SetLimits)
    assert edit.limits.wall_gap == 0.25
