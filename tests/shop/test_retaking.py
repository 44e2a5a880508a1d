"""Readings taken again, and their story."""

import pytest
from msgspec.structs import replace

from shop import edits
from shop.applying import applied
from shop.readings import Earlier, WallReading
from shop.retaking import averaged, retaped, struck, suggested
from shop.survey import deviation
from tests.shop.kitchens import after, straight

ONCE = WallReading("reading1", "wall101", 120.0)


def test_a_reading_taped_anew_counts_alone_and_keeps_what_it_was() -> None:
    again = retaped(replace(ONCE, struck=True), 121.0)
    assert (again.value, again.taken, again.struck) == (121.0, 1, False)
    assert again.earlier == (Earlier(120.0, "replaced", 1),)


def test_every_take_counts_the_same_in_the_mean() -> None:
    twice = averaged(ONCE, 120.25)
    assert (twice.value, twice.taken) == (120.125, 2)
    thrice = averaged(twice, 120.5)
    assert thrice.value == pytest.approx((120.0 + 120.25 + 120.5) / 3.0)
    assert thrice.taken == 3
    assert thrice.earlier == (Earlier(120.0, "averaged", 1), Earlier(120.125, "averaged", 2))
    # The deviation of a mean of n falls with the square root of n.
    room = straight().room
    assert deviation(room, thrice) == pytest.approx(deviation(room, ONCE) / 3.0**0.5)


def test_a_struck_reading_is_the_same_but_for_that() -> None:
    assert struck(ONCE).struck
    assert replace(struck(ONCE), struck=False) == ONCE


def test_two_good_takes_average_and_a_slip_is_replaced() -> None:
    """At 1/16 in, 3.29 sqrt 2 of it are 0.291 in: 1/4 is chance, 5/16 is not."""
    assert suggested(ONCE, 120.25, 0.0625) == "average"
    assert suggested(ONCE, 120.3125, 0.0625) == "replace"
    assert suggested(ONCE, 119.6875, 0.0625) == "replace"


def test_a_long_story_forgets_its_beginning_and_is_still_stored() -> None:
    reading = ONCE
    for take in range(60):
        reading = averaged(reading, 120.0 + take % 2)
    job = after(straight(), edits.AddReading(ONCE))
    assert reading.taken == len(reading.earlier) == 50
    assert applied(job, edits.SetReading(reading)).room.readings == (reading,)
