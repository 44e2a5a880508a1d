"""What edges and pieces say of a top between two walls."""

import pytest

from app.things import described
from geometry.counters import Leg, Run, SquareEnd, WallEnd
from geometry.naming import EdgeRef
from geometry.picking import Subject
from shop.job import Job
from tests.shop.alcove_rooms import U, alcove, loose, taped, with_run

LABEL = "Slides in between its walls"


def told(job: Job, subject: Subject) -> list[str]:
    return [fact.value for fact in described(job, subject).facts if fact.label == LABEL]


@pytest.mark.parametrize(
    "subject",
    [
        Subject("edge", "leg201", EdgeRef("leg201", "back")),
        Subject("edge", "leg201", EdgeRef("leg201", "end")),
        Subject("piece", "A"),
    ],
)
def test_a_top_between_two_walls_says_how_often_it_slides_in(subject: Subject) -> None:
    (said,) = told(alcove(), subject)
    assert " in 100" in said
    assert "; slack 1/4, known to " in said


def test_while_corners_can_still_move_that_is_said() -> None:
    (said,) = told(loose(alcove()), Subject("piece", "A"))
    assert said == "not known: corners of its walls can still move"


def test_a_top_at_one_wall_says_nothing_of_it() -> None:
    legs = (Leg("leg201", "wall102"),)
    job = with_run(taped(*U), Run("run200", legs, WallEnd(), SquareEnd(0.0, "right")))
    assert told(job, Subject("edge", "leg201", EdgeRef("leg201", "back"))) == []
