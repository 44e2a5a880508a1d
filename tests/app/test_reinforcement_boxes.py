"""Mesh and bars are set for the whole job."""

import pytest

from app.things.whole_job import whole_job
from shop import edits
from shop.job import Job, Reinforcement

EMPTY = Job("Test")


@pytest.mark.parametrize(
    ("key", "answer", "wanted"),
    [
        ("mesh", "6x6-W2.9xW2.9", Reinforcement(mesh="6x6-W2.9xW2.9")),
        ("mesh", "none", Reinforcement(mesh="none")),
        ("mesh-inset", 1.5, Reinforcement(mesh_inset=1.5)),
        ("mesh-height", 1.25, Reinforcement(mesh_height=1.25)),
        ("mesh-length", 96.0, Reinforcement(sheet_length=96.0)),
        ("mesh-width", 48.0, Reinforcement(sheet_width=48.0)),
        ("bars", "none", Reinforcement(bars="none")),
        ("bar-length", 120.0, Reinforcement(bar_length=120.0)),
        ("cover", 0.5, Reinforcement(cover=0.5)),
    ],
)
def test_a_box_sets_one_part_of_the_reinforcement(
    key: str, answer: float | str, wanted: Reinforcement
) -> None:
    (asked,) = (question for question in whole_job(EMPTY).questions if question.key == key)
    assert asked.edits(answer) == (edits.SetReinforcement(wanted),)
    if asked.choices:
        assert answer in dict(asked.choices)
        assert asked.value in dict(asked.choices)
