"""Places of a seam by an opening."""

from msgspec.structs import replace

from geometry.seams import SeamOnIsland, SeamOnLeg
from shop import edits
from shop.plan import tops
from shop.seam_places import place_words, places_beside
from tests.shop import kitchens
from tests.shop.kitchens import after


def test_a_seam_goes_through_the_middle_of_a_sink_or_beside_it_as_seen_from_its_hook() -> None:
    job = after(kitchens.straight(), edits.AddOpening(kitchens.sink()))
    places = places_beside(job, tops(job)[0], SeamOnLeg("leg201", 10.0))
    assert [(p.how, round(p.along, 6)) for p in places] == [
        ("middle", 60.0),
        ("left", 42.0),
        ("right", 78.0),
    ]
    assert [place_words(p, "sink") for p in places] == [
        "through the middle of the sink",
        "left of the sink",
        "right of the sink",
    ]
    from_right = places_beside(job, tops(job)[0], SeamOnLeg("leg201", 10.0, "right"))
    assert [(p.how, round(p.along, 6)) for p in from_right] == [
        ("middle", 60.0),
        ("right", 42.0),
        ("left", 78.0),
    ]


def test_a_wider_bridge_keeps_the_seam_farther_off_and_no_seam_starts_beyond_the_end() -> None:
    job = after(kitchens.straight(), edits.AddOpening(kitchens.sink(along=20.0)))
    job = replace(job, limits=replace(job.limits, bridge=6.0))
    places = places_beside(job, tops(job)[0], SeamOnLeg("leg201", 10.0))
    assert [(p.how, round(p.along, 6)) for p in places] == [("middle", 20.0), ("right", 41.0)]


def test_openings_of_another_leg_are_left_out() -> None:
    job = after(kitchens.angle(), edits.AddOpening(kitchens.sink("leg202", 80.0)))
    assert places_beside(job, tops(job)[0], SeamOnLeg("leg201", 10.0)) == ()
    assert len(places_beside(job, tops(job)[0], SeamOnLeg("leg202", 10.0))) == 3


def test_places_on_an_island_are_along_the_side_that_the_seam_starts_on() -> None:
    job = after(kitchens.island(), edits.AddOpening(kitchens.hole(36.0, 18.0)))
    places = places_beside(job, tops(job)[0], SeamOnIsland("island300", "1", 10.0))
    assert [(p.how, round(p.along, 6)) for p in places] == [
        ("middle", 36.0),
        ("left", 27.0),
        ("right", 45.0),
    ]
    assert places_beside(job, tops(job)[0], SeamOnIsland("island300", "9", 10.0)) == ()
