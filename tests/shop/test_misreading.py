"""Slips put into rooms that are known exactly: who is suspected, how far, and what to do."""

import pytest
from msgspec.structs import replace

from shop import edits
from shop.job import Job
from shop.misreading import Suspect, _located, misread
from shop.readings import AngleReading, Reading, StationReading, WallReading
from shop.retaking import averaged
from shop.survey import room
from tests.shop.kitchens import after, straight
from tests.shop.rooms import (
    ACROSS,
    AT_LEFT,
    AT_RIGHT,
    CHECK,
    DIAGONALS,
    ONE,
    OTHER,
    SIDES,
    SQUARE,
    closed,
    corner,
    measured,
    read,
    with_string,
)


def words(job: Job) -> str:
    found = misread(job)
    assert found is not None
    return found.words


def test_a_room_whose_readings_agree_has_no_suspects() -> None:
    assert misread(measured()) is None
    assert misread(corner(ONE)) is None


def test_with_one_check_a_slip_is_seen_and_not_located_and_a_reading_would_tell() -> None:
    job = corner(ONE, OTHER, replace(ACROSS, value=203.0), CHECK)
    assert words(job) == (
        "One of the readings of three-sides check at corner 2, diagonal 1 to 3, wall 2 to 3 and"
        " wall 1 to 2 is off, and nothing tells which. Measure the angle at corner 2 as well: then"
        " it can be told."
    )
    found = misread(job)
    assert found is not None
    assert not found.locatable
    assert isinstance(found.ask, AngleReading)
    # Taken as it would be without the slip, it does tell.
    told = misread(read(job, replace(SQUARE, value=90.0)))
    assert told is not None
    suspects = {suspect.reading.id for suspect in told.suspects}
    assert "reading3" in suspects
    assert not suspects & {"reading4", "reading5"}


def test_where_nothing_more_can_be_read_all_are_taken_again() -> None:
    job = straight()
    (wall,) = job.room.walls
    twice = (WallReading("reading1", wall.id, 120.0), WallReading("reading2", wall.id, 121.0))
    assert words(read(job, *twice)) == (
        "One of the readings of wall 1 to 2 is off, and nothing tells which. Take them again."
    )


def test_a_slip_among_many_readings_is_named_with_its_amount() -> None:
    diagonal = replace(DIAGONALS[0], value=200.5)
    more = (CHECK, SQUARE)
    job = read(closed(), *SIDES, diagonal, DIAGONALS[1], *more)
    found = misread(job)
    assert found is not None
    assert found.locatable
    first = found.suspects[0]
    assert first.reading == diagonal
    assert first.words == "diagonal 1 to 3 seems 1/2 too long"
    assert found.words.startswith("Diagonal 1 to 3 seems 1/2 too long")


@pytest.mark.parametrize(
    ("slip", "said"),
    [
        (replace(SQUARE, value=95.0), "angle at corner 2 seems 5.0° too wide"),
        (replace(SQUARE, value=86.0), "angle at corner 2 seems 4.0° too narrow"),
        (replace(CHECK, value=117.5), "three-sides check at corner 2 seems"),
    ],
)
def test_each_kind_says_how_it_is_off(slip: Reading, said: str) -> None:
    others = [r for r in (CHECK, SQUARE) if r.id != slip.id]
    found = misread(measured(*others, slip))
    assert found is not None
    assert found.suspects[0].words.startswith(said)


@pytest.mark.parametrize(
    ("slip", "said"),
    [
        ({"value": -87.0}, "offset from String to corner 4 at 13' 4 seems"),
        ({"value": -93.0}, "offset from String to corner 4 at 13' 4 seems"),
        ({"station": 163.0}, "the station of offset from String to corner 4 at 13' 7 seems"),
        ({"station": 157.0}, "the station of offset from String to corner 4 at 13' 1 seems"),
    ],
)
def test_an_offset_is_off_across_or_along(slip: dict[str, float], said: str) -> None:
    """Measured from every corner, so that one of them can be told."""
    lowest = StationReading("reading24", "baseline600", 0.0, -90.0, "corner", "corner1")
    off = StationReading("reading23", "baseline600", 160.0, -90.0, "corner", "corner4")
    job = read(with_string(measured()), AT_LEFT, AT_RIGHT, lowest, replace(off, **slip))
    found = misread(job)
    assert found is not None
    assert found.suspects[0].words.startswith(said)
    ends = {-87.0: "far", -93.0: "little", 163.0: "far along", 157.0: "near the zero"}
    (number,) = slip.values()
    assert found.suspects[0].words.endswith(f"too {ends[number]}")


def test_the_suspects_come_in_the_order_to_take_them_again() -> None:
    job = measured(replace(CHECK, id="reading9", value=119.0))
    plan = room(job)
    found = misread(job)
    assert found is not None
    chances = [suspect.chance for suspect in found.suspects]
    assert chances == sorted(chances, reverse=True)
    assert sum(chances) == pytest.approx(1.0)
    assert {s.reading.id for s in found.suspects} == {
        r.reading.id for r in plan.readings if r.suspect
    }


def test_what_was_taken_twice_and_came_out_the_same_is_taken_again_last() -> None:
    job = read(closed(), *SIDES, DIAGONALS[0], replace(DIAGONALS[1], value=202.0))
    found = misread(job)
    assert found is not None
    first = found.suspects[0]
    again = after(job, edits.SetReading(averaged(first.reading, first.reading.value)))
    then = misread(again)
    assert then is not None
    assert then.suspects[0].reading.id != first.reading.id
    assert then.suspects[-1].reading.id == first.reading.id
    assert sum(suspect.chance for suspect in then.suspects) == pytest.approx(1.0)


def test_what_settles_it_depends_on_how_many_there_are() -> None:
    a, b, c = (
        Suspect(r, f"{n} seems 1/2 too long", 0.5) for r, n in zip(SIDES, "abc", strict=False)
    )
    assert _located((a,)) == "A seems 1/2 too long. Take it again."
    assert _located((a, b)).endswith("Either one taken again settles it.")
    assert _located((a, b, c)) == (
        "A seems 1/2 too long, or b seems 1/2 too long, or c seems 1/2 too long. Take them again"
        " in this order until one comes out different."
    )
    many = _located((a, b, c, a, b, c, a))
    assert many.startswith("A seems 1/2 too long, or b seems 1/2 too long, or c seems 1/2 too")
    assert "or it is one of 4 more. Take them again in this order" in many
    sure = replace(a, chance=0.95)
    assert _located((sure, b)) == (
        "A seems 1/2 too long. Take it again first; if it stays, b seems 1/2 too long."
    )


@pytest.mark.parametrize(
    "slip",
    [
        replace(SIDES[0], value=SIDES[0].value / 2.0),
        replace(SIDES[0], value=SIDES[0].value + 30.0),
        replace(DIAGONALS[0], value=DIAGONALS[0].value - 60.0),
        replace(SQUARE, value=130.0),
    ],
)
def test_a_slip_larger_than_slips_are_is_no_size_to_go_by(slip: Reading) -> None:
    others = [r for r in (*SIDES, *DIAGONALS, CHECK, SQUARE) if r.id != slip.id]
    found = misread(read(closed(), *others, slip))
    assert found is not None
    assert found.suspects[0].reading == slip
    assert found.suspects[0].words.endswith(" does not fit at all")
    assert "does not fit at all. Take it again" in found.words
