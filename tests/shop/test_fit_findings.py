"""A top that may not slide in is a finding with a remedy of one step."""

from functools import reduce

import pytest
from msgspec.structs import replace

from geometry.counters import WallEnd
from geometry.picking import Subject
from shop.applying import applied
from shop.finding import Finding
from shop.findings import findings
from shop.fit_findings import TIGHT, more_room, of_alcoves
from shop.job import Job
from shop.readings import PlumbReading
from shop.remedies import remedies
from tests.shop.alcove_rooms import alcove, bare, loose, u_shaped, with_readings


def tight(job: Job) -> Finding:
    (found,) = of_alcoves(job)
    return found


def test_a_tight_top_is_advice_and_says_how_often_and_what_would_help() -> None:
    found = tight(alcove(0.0625))
    assert (found.code, found.blocking) == (TIGHT, False)
    assert found.title == "The top along wall 2 to 3 may not slide in"
    assert found.about == (Subject("leg", "leg201"),)
    assert found.at is not None
    assert found.text.startswith("It slides in only ")
    assert "between its walls the slack is 1/8, known to 3/16." in found.text
    assert found.text.endswith("at both ends would let it in 99 times in 100.")
    assert found in findings(alcove(0.0625))


def test_a_roomy_top_is_none_and_so_is_one_whose_corners_are_not_fixed() -> None:
    for job in (alcove(), loose(alcove(0.0)), bare(alcove(0.0))):
        assert not list(of_alcoves(job))


def test_walls_that_come_in_are_told() -> None:
    job = with_readings(alcove(), PlumbReading("reading700", "wall103", 12.0, 0.3125))
    found = tight(job)
    assert "it is 1/16 too long" in found.text
    assert "and the walls come in by 5/16 over it" in found.text


@pytest.mark.parametrize("job", [alcove(0.0625), u_shaped(0.0625)], ids=["alcove", "u"])
def test_its_remedy_gives_both_ends_the_same_clearance_in_one_step(job: Job) -> None:
    found = tight(job)
    (remedy,) = remedies(job, found)
    assert remedy.label == "Give it 1/8 clearance at both ends"
    assert len(remedy.also) == 1
    after = reduce(applied, (remedy.edit, *remedy.also), job)
    assert not list(of_alcoves(after))
    run = after.runs[0]
    ends = [run.left, run.right] if len(run.legs) == 1 else [run.legs[0], run.legs[2]]
    assert all(getattr(end, "clearance", None) == 0.125 for end in ends)


def test_its_remedy_is_in_whole_millimeters_in_a_metric_job() -> None:
    job = replace(alcove(0.0625), display="mm")
    label, edits = more_room(job, tight(job))
    assert label == "Give it 2 mm clearance at both ends"
    assert len(edits) == 2


def test_one_wide_end_does_not_keep_the_other_from_its_clearance() -> None:
    job = alcove(0.0625)
    uneven = replace(job.runs[0], left=WallEnd(0.0), right=WallEnd(0.125))
    uneven_job = replace(job, runs=(uneven,))
    assert more_room(uneven_job, tight(uneven_job)).label == more_room(job, tight(job)).label


def test_no_remedy_is_offered_that_brings_another_finding() -> None:
    # With a bulge of 3 in nothing but a clearance that leaves the cabinets bare would do.
    job = with_readings(alcove(), PlumbReading("reading700", "wall103", 12.0, 100.0))
    assert not remedies(job, tight(job))
