"""What to read next and what it buys, against the room as it then is."""

from math import inf
from time import perf_counter

import pytest
from msgspec.structs import replace

from geometry.lengths import LengthStyle
from shop import edits
from shop.job import Baseline, Job
from shop.jobfile import read_job
from shop.next_reading import Prospect, _words, best_check, next_readings, prospects, rounded_up
from shop.readings import (
    AngleReading,
    DiagonalReading,
    StationReading,
    ThreeSidesReading,
    WallReading,
)
from shop.samples import sample_path
from shop.survey import room
from tests.shop.kitchens import after, angle, walls
from tests.shop.rooms import (
    ACROSS,
    AT_LEFT,
    CHECK,
    DIAGONALS,
    ONE,
    OTHER,
    SIDES,
    closed,
    corner,
    measured,
    read,
    with_string,
)


def first(job: Job) -> str:
    return next_readings(job)[0].words


def test_walls_come_first_then_what_fixes_then_what_checks() -> None:
    assert first(angle()) == "Tape wall 1 to 2."
    assert first(corner(ONE)) == "Tape wall 2 to 3."
    assert first(corner(ONE, OTHER)) == "Tape 1 to 3. It fixes corner 3."
    # The check's sum: the smallest slip that is found 80 times in 100 in the wall checked worst.
    assert first(corner(ONE, OTHER, ACROSS)) == (
        "From corner 2 mark 6 ft on wall 1 to 2 and 8 ft on wall 2 to 3, and tape across: corners"
        " then known to 1/4 instead of 5/16; a slip of 1 3/16 in would then be caught."
    )


def test_every_way_to_fix_a_corner_is_ranked_diagonals_first() -> None:
    kinds = [type(found.reading) for found in next_readings(corner(ONE, OTHER))]
    assert kinds == [DiagonalReading, ThreeSidesReading, AngleReading]
    said = [found.words for found in next_readings(corner(ONE, OTHER))][1:]
    assert said[0].endswith("8 ft on wall 2 to 3, and tape across. It fixes corner 3.")
    assert said[1] == "Measure the angle at corner 2. It fixes corner 3."


def test_a_second_diagonal_says_what_it_makes_better() -> None:
    job = read(closed(), *SIDES, DIAGONALS[0])
    found = next_readings(job)[0]
    assert found.reading.id == f"reading{job.next_id}"
    assert found.prospect.unchecked_now == 5
    assert found.words.startswith("Tape 2 to 4: ")
    better = next_readings(measured())
    assert all(" instead of " in n.words or "a little better" in n.words for n in better)


def largest(job: Job) -> tuple[float, float]:
    """The largest deviation and the largest slip that could be missed, as the room itself says."""
    plan = room(job)
    slips = [r.smallest_slip for r in plan.readings if not isinstance(r.reading, AngleReading)]
    return (
        max(inf if c.sd_major is None else c.sd_major for c in plan.corners),
        max(inf if slip is None else slip for slip in slips),
    )


@pytest.mark.parametrize(
    "job",
    [
        corner(ONE, OTHER),
        corner(ONE, OTHER, ACROSS),
        read(closed(), *SIDES, DIAGONALS[0]),
        measured(),
        measured(CHECK),
    ],
)
def test_what_a_reading_buys_is_what_then_happens(job: Job) -> None:
    for found in next_readings(job):
        then = read(job, found.reading)
        after_sd, after_slip = largest(then)
        if found.prospect.sd_after is not None:
            assert found.prospect.sd_after == pytest.approx(after_sd, rel=1e-6)
        if found.prospect.slip_after is not None:
            assert found.prospect.slip_after == pytest.approx(after_slip, rel=1e-6)
        left = {c.id for c in room(then).corners if c.undetermined}
        assert set(found.prospect.fixes) == set(room(job).undetermined) - left


def test_a_baseline_is_tied_before_anything_is_checked() -> None:
    job = with_string(measured())
    assert first(job) == (
        "Tape from String square to corner 2. It helps to tie String to the room."
    )
    tied = read(job, *(n.reading for n in next_readings(job)[:1]))
    assert "square to corner 3. It helps" in first(tied)
    both = read(tied, next_readings(tied)[0].reading)
    assert room(both).baselines[0].fixed
    assert not any(n.prospect.ties for n in next_readings(both))


def test_offsets_of_a_tied_baseline_check_as_well() -> None:
    """Offsets to corners 2 and 4 fix what four walls leave open; one to corner 3 checks it."""
    far = StationReading("reading23", "baseline600", 160.0, -90.0, "corner", "corner4")
    job = read(with_string(read(closed(), *SIDES)), AT_LEFT, far)
    assert room(job).undetermined == ()
    said = [n.words for n in next_readings(job) if isinstance(n.reading, StationReading)]
    assert said
    assert said[0].startswith("Tape from String square to corner 3: ")


def test_a_string_that_nothing_checks_hides_nothing_that_checks() -> None:
    """A string near its wall is tied by offsets in which only a slip of many feet shows."""
    bare = read(closed(), *SIDES, *DIAGONALS[:1], CHECK)
    near = after(bare, edits.AddBaseline(Baseline("baseline600", "String", "wall102", 2.0)))
    tied = read(
        near,
        StationReading("reading21", "baseline600", 0.0, 2.0, "corner", "corner2"),
        StationReading("reading22", "baseline600", 160.0, 2.0, "corner", "corner3"),
    )
    slips = [p.smallest_slip for p in room(tied).readings if isinstance(p.reading, StationReading)]
    assert min(slip or inf for slip in slips) > 12.0
    before, after_ = (next_readings(job)[0] for job in (bare, tied))
    assert isinstance(before.reading, DiagonalReading)
    assert isinstance(after_.reading, DiagonalReading)
    assert before.reading.id != after_.reading.id
    assert after_.prospect.slip_after == pytest.approx(before.prospect.slip_after, abs=0.2)


def test_nothing_is_asked_without_walls_or_against_a_slip() -> None:
    assert next_readings(Job("Test")) == ()
    off = replace(ACROSS, value=203.0)
    assert next_readings(corner(ONE, OTHER, off, CHECK)) == ()
    ask = best_check(corner(ONE, OTHER, off, CHECK).room, metric=False)
    assert ask is not None
    assert isinstance(ask.reading, AngleReading)
    assert prospects(corner(ONE, OTHER, replace(ACROSS, value=900.0)).room, metric=False) == ()


def test_readings_that_buy_little_are_not_asked_for() -> None:
    job = closed()
    for _ in range(40):
        ranked = next_readings(job)
        if not ranked:
            break
        job = read(job, ranked[0].reading)
    assert len(job.room.readings) < 14
    assert not isinstance(job.room.readings[-1], WallReading)


def test_some_checks_leave_others_unchecked() -> None:
    """A zigzag with two loose ends: a check at one turn says nothing of the other."""
    job = walls((0.0, 0.0), (0.0, 100.0), (100.0, 100.0), (100.0, 200.0), (200.0, 200.0))
    lengths = [WallReading(f"reading{i}", f"wall10{i}", 100.0) for i in range(1, 5)]
    angles = [
        AngleReading(f"reading1{i}", f"corner{i}", a) for i, a in ((2, 90), (3, 270), (4, 90))
    ]
    said = [n.words for n in next_readings(read(job, *lengths, *angles))]
    assert any("that nothing does" in words for words in said)


def test_small_lengths_are_rounded_up() -> None:
    inches, metric = LengthStyle(), LengthStyle("mm")
    assert rounded_up(0.11, inches) == "1/8"
    assert rounded_up(0.26, inches) == "5/16"
    assert rounded_up(0.125, inches) == "1/8"
    assert rounded_up(2.2 / 25.4, metric) == "2.5 mm"
    assert rounded_up(9.2 / 25.4, metric) == "10 mm"


def test_a_metric_job_says_it_in_millimeters() -> None:
    job = after(corner(ONE, OTHER, ACROSS), edits.SetDisplay("mm", 16))
    assert first(job).startswith(
        "From corner 2 mark 1800 mm on wall 1 to 2 and 2400 mm on wall 2 to 3, and tape across: "
    )
    assert " mm would then be caught." in first(job)


def test_a_room_of_twelve_corners_is_looked_over_quickly() -> None:
    """Looked over anew; the bound is loose, for a machine that does much else."""
    job = read_job(sample_path("bay-and-breast"))
    few = replace(job, room=replace(job.room, readings=job.room.readings[:20], tape_sd=0.07))
    start = perf_counter()
    ranked = next_readings(few)
    assert perf_counter() - start < 0.5
    assert len(ranked) > 10


def test_what_no_fraction_shows_is_said_in_words() -> None:
    prospect = Prospect(DIAGONALS[1], sd_now=0.1, sd_after=0.0999, slip_now=0.5, slip_after=0.4999)
    assert _words(measured(), prospect) == "Tape 2 to 4: corners then known a little better."
    finer = replace(prospect, sd_after=0.05, slip_now=1.75, slip_after=0.875)
    assert _words(measured(), finer) == (
        "Tape 2 to 4: corners then known to 1/8 instead of 1/4; a slip of 7/8 in would be caught"
        " instead of 1 3/4."
    )


def test_a_check_that_only_a_gross_slip_would_fail_says_so() -> None:
    """In a niche a check of a short corner says next to nothing of the walls' lengths."""
    checks = Prospect(DIAGONALS[1], slip_after=2475.7, unchecked_now=5)
    assert _words(measured(), checks) == (
        "Tape 2 to 4: every reading is then checked, though only a gross slip would show."
    )
    smaller = Prospect(DIAGONALS[1], slip_now=2475.7, slip_after=13.0)
    assert _words(measured(), smaller) == "Tape 2 to 4: corners then known a little better."
