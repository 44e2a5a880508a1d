"""What is to look at in a room, and the readings that one press strikes."""

import pytest
from msgspec.structs import replace

from geometry.picking import Subject
from shop import edits
from shop.applying import applied
from shop.findings import Finding, findings
from shop.job import Job
from shop.jobfile import read_job
from shop.places import place_of
from shop.readings import StationReading, TieReading
from shop.remedies import remedies
from shop.retaking import averaged, struck
from shop.samples import sample_path
from tests.shop.kitchens import after, angle, straight, walls
from tests.shop.rooms import (
    ACROSS,
    AT_LEFT,
    AT_RIGHT,
    CHECK,
    ONE,
    OTHER,
    SQUARE,
    WINDOW,
    corner,
    measured,
    read,
    with_string,
)


def of(job: Job, code: str) -> list[Finding]:
    return [finding for finding in findings(job) if finding.code == code]


def only(job: Job, code: str) -> Finding:
    (found,) = of(job, code)
    return found


def test_corners_that_can_still_move_are_named_with_the_tape_that_fixes_them() -> None:
    found = only(corner(ONE, OTHER), "corner-not-fixed")
    assert found.title == "Corner 3 can still move"
    assert found.text == (
        "The readings do not fix corner 3, so it keeps its drawn place."
        " Tape 1 to 3. It fixes corner 3."
    )
    assert found.about == (Subject("corner", "corner3"),)
    assert found.at == pytest.approx((160.0, 0.0), abs=1e-5)
    assert of(angle(), "corner-not-fixed") == []
    both = only(corner(ACROSS), "corner-not-fixed")
    assert both.title == "Corners 2 and 3 can still move"
    assert "they keep their drawn place" in both.text


def test_corners_that_nothing_can_fix_are_named_too() -> None:
    job = read(walls((0.0, 0.0), (100.0, 0.0)), replace(ONE, wall="wall101"))
    apart = walls((0.0, 50.0), (100.0, 50.0)).room
    far = tuple(replace(c, id=f"corner4{c.number}", number=40 + c.number) for c in apart.corners)
    wall = replace(apart.walls[0], id="wall140", start=far[0].id, end=far[1].id)
    job = after(job, edits.AddWalls(far, (wall,)))
    job = read(job, replace(OTHER, wall="wall140"))
    found = only(job, "corner-not-fixed")
    assert found.title == "Corners 41 and 42 can still move"


def test_readings_that_nothing_checks_are_named_with_what_would() -> None:
    whole = only(corner(ONE, OTHER, ACROSS), "room-unchecked")
    assert whole.title == "Nothing checks the room"
    assert "From corner 2 mark 6 ft" in whole.text
    some = only(corner(ONE, OTHER, CHECK, SQUARE), "room-unchecked")
    assert some.title == "Nothing checks wall 1 to 2 and wall 2 to 3"
    assert some.at == pytest.approx((0.0, -60.0), abs=0.1)
    assert of(corner(ONE, OTHER, ACROSS, CHECK), "room-unchecked") == []


def test_a_reading_that_nothing_can_check_is_taken_twice() -> None:
    job = read(straight(), replace(ONE, wall="wall101"))
    assert only(job, "room-unchecked").text.endswith("Take that a second time.")
    twice = after(job, edits.SetReading(averaged(job.room.readings[0], 120.0)))
    assert of(twice, "room-unchecked") == []


def test_ties_of_marks_need_no_check() -> None:
    job = after(measured(), edits.AddMark(WINDOW))
    ties = (
        TieReading("reading41", "mark700", "wall102", 40.0, "along"),
        TieReading("reading42", "mark700", "wall102", 1.0, "square"),
    )
    assert findings(read(job, *ties)) == ()


def test_a_slip_names_the_readings_to_take_again() -> None:
    off = replace(ACROSS, value=203.0)
    unsure = only(corner(ONE, OTHER, off, CHECK), "misreading")
    assert "nothing tells which" in unsure.text
    assert remedies(corner(ONE, OTHER, off, CHECK), unsure) == ()
    assert len(unsure.about) == 4
    assert not unsure.blocking
    third = replace(SQUARE, value=95.0)
    sure = of(corner(ONE, OTHER, ACROSS, CHECK, third), "room-contradicts")
    assert len(sure) == 1


def test_a_suspect_is_struck_in_one_press_if_that_mends_it() -> None:
    slip = replace(CHECK, value=117.5)
    job = measured(slip)
    found = only(job, "misreading")
    assert found.text.startswith("Three-sides check at corner 2 seems")
    first = remedies(job, found)[0]
    assert first.label == "Strike three-sides check at corner 2"
    mended = applied(job, first.edit)
    assert of(mended, "misreading") == []
    assert [r.id for r in mended.room.readings if r.struck] == ["reading4"]


def test_readings_that_contradict_the_room_are_blocking_and_named() -> None:
    job = corner(ONE, OTHER, replace(ACROSS, value=900.0))
    found = only(job, "room-contradicts")
    assert found.blocking
    assert found.title == "The readings contradict the room"
    assert found.text.startswith("Diagonal 1 to 3 (75' 0) is longer than")
    assert found.at is not None
    assert remedies(job, found) == ()


def test_readings_that_contradict_each_other_in_a_room_that_was_found_do_not_block() -> None:
    job = measured(replace(ACROSS, id="reading30", value=203.0))
    found = only(job, "room-contradicts")
    assert not found.blocking
    assert found.title == "The readings contradict each other"
    assert of(job, "misreading") == []
    labels = [remedy.label for remedy in remedies(job, found)]
    assert labels == ["Strike diagonal 1 to 3"]


def test_a_problem_that_no_reading_contradicts_is_said_as_it_is() -> None:
    """The first wall has no length, and no reading is about it."""
    bare = after(corner(OTHER), edits.MoveCorner("corner2", 0.0, -120.0))
    found = only(bare, "room-contradicts")
    assert found.blocking
    assert found.about == (Subject("wall", "wall101"),)
    assert found.at == (0.0, -120.0)
    assert remedies(bare, found) == ()
    named = after(corner(ONE, OTHER, SQUARE), edits.MoveCorner("corner2", 0.0, -120.0))
    assert only(named, "room-contradicts").blocking


def test_walls_that_fold_over_where_no_reading_counts_are_about_the_first_wall() -> None:
    job = read_job(sample_path("double-bowl"))
    diagonal = next(r for r in job.room.readings if r.id == "reading12")
    folded = after(job, edits.MoveCorner("corner1", 0.125, 0.0), edits.SetReading(struck(diagonal)))
    found = only(folded, "room-contradicts")
    assert "turn the other way at corner 2 than drawn: check the drawing." in found.text
    assert found.about == (Subject("wall", job.room.walls[0].id),)


def test_a_problem_names_the_readings_it_is_about() -> None:
    """The far wall has no length, and its tape cannot be used."""
    flat = after(corner(ONE, OTHER), edits.MoveCorner("corner3", 0.0, 0.0))
    found = only(flat, "room-contradicts")
    assert "It is about wall 2 to 3" in found.text
    assert found.about == (Subject("reading", "reading2"),)


def test_a_baseline_that_is_not_tied_is_named_with_what_ties_it() -> None:
    job = with_string(measured())
    found = only(job, "baseline-not-tied")
    assert found.title == "String is not tied to the room"
    assert found.text.endswith(
        "Tape from String square to corner 2. It helps to tie String to the room."
    )
    assert found.about == (Subject("baseline", "baseline600"),)
    assert found.at == pytest.approx((80.0, 90.0), abs=1e-6)
    tied = read(job, AT_LEFT, AT_RIGHT)
    assert of(tied, "baseline-not-tied") == []
    # Two offsets at one station do not place it, and no corner of its wall is left to tape to.
    at_one = read(job, AT_LEFT, replace(AT_RIGHT, station=0.0))
    assert only(at_one, "baseline-not-tied").text.endswith("it lies as drawn.")


def test_marks_and_baselines_are_shown_where_they_are() -> None:
    job = after(with_string(measured()), edits.AddMark(WINDOW))
    assert place_of(job, Subject("mark", "mark700")) == pytest.approx((40.0, 119.0))
    assert place_of(job, Subject("mark", "mark999")) is None
    tie = TieReading("reading41", "mark700", "wall102", 50.0, "along")
    tied = read(job, tie, replace(tie, id="reading42", value=2.0, way="square"), AT_LEFT)
    assert place_of(tied, Subject("reading", "reading41")) == pytest.approx((50.0, 118.0))
    assert place_of(tied, Subject("reading", "reading21")) == pytest.approx((80.0, 120.0))
    assert place_of(job, Subject("baseline", "baseline999")) is None


def test_an_offset_that_is_off_is_named_first() -> None:
    third = StationReading("reading23", "baseline600", 160.0, -95.0, "corner", "corner4")
    job = read(with_string(measured()), AT_LEFT, AT_RIGHT, third)
    assert only(job, "misreading").about[0] == Subject("reading", "reading23")
