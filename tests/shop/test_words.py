import pytest
from msgspec.structs import replace

from geometry.naming import EdgeRef, corner_ref
from shop import edits
from shop.job import Job
from shop.readings import (
    AngleReading,
    DiagonalReading,
    ThreeSidesReading,
    WallReading,
)
from shop.words import (
    corner_of_top_words,
    corner_words,
    corners_words,
    edge_words,
    leg_words,
    length_style,
    listed,
    opening_words,
    reading_words,
    top_words,
    wall_words,
)
from tests.shop.kitchens import after, angle, island, sink, straight


def test_words_are_listed_as_in_a_sentence() -> None:
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(["a", "b"]) == "a and b"
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_the_job_says_how_lengths_are_written() -> None:
    style = length_style(replace(Job("Test"), display="mm", fraction=32))
    assert (style.unit, style.denominator) == ("mm", 32)


def test_walls_are_named_by_their_corners_from_left_to_right() -> None:
    job = angle()
    assert wall_words(job, "wall102") == "wall 2 to 3"
    turned = after(job, edits.TurnWalls("wall101"))
    assert wall_words(turned, "wall102") == "wall 3 to 2"
    assert corner_words(job, "corner2") == "corner 2"
    assert corners_words(job, ["corner1", "corner3"]) == "corners 1 and 3"
    assert corners_words(job, ["corner1"]) == "corner 1"


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        (WallReading("reading1", "wall101", 9.0), "wall 1 to 2"),
        (DiagonalReading("reading1", "corner1", "corner3", 9.0), "diagonal 1 to 3"),
        (AngleReading("reading1", "corner2", 90.0), "angle at corner 2"),
        (ThreeSidesReading("reading1", "corner2", 3.0, 4.0, 5.0), "three-sides check at corner 2"),
    ],
)
def test_readings_are_named_by_what_they_measure(
    reading: WallReading | DiagonalReading | AngleReading | ThreeSidesReading, words: str
) -> None:
    assert reading_words(angle(), reading) == words


def test_tops_and_legs_are_named_by_their_walls_and_places() -> None:
    job = angle()
    assert top_words(job, "run200") == "the top along wall 1 to 2 and wall 2 to 3"
    assert leg_words(job, "leg202") == "leg 2"
    assert leg_words(straight(), "leg201") == "the top along wall 1 to 2"
    alone = island()
    assert top_words(alone, "island300") == "the island"
    two = after(alone, edits.AddIsland(replace(alone.islands[0], id="island301")))
    assert top_words(two, "island301") == "island 2"


def test_what_is_not_there_has_a_plain_name() -> None:
    job = Job("Test")
    assert corner_words(job, "corner9") == "a corner"
    assert wall_words(job, "wall9") == "a wall"
    assert top_words(job, "run9") == "a top"
    assert leg_words(job, "leg9") == "a leg"
    assert opening_words(job, "opening9") == "an opening"


def test_edges_are_named_by_their_side_and_told_apart_by_their_walls() -> None:
    job = after(angle(), edits.AddOpening(sink()))
    assert edge_words(job, EdgeRef("leg201", "start")) == "left end"
    assert edge_words(job, EdgeRef("leg202", "end")) == "right end"
    assert edge_words(job, EdgeRef("leg202", "back")) == "back, wall 2 to 3"
    assert edge_words(straight(), EdgeRef("leg201", "back")) == "back"
    assert edge_words(job, EdgeRef("leg9", "back")) == "back"
    assert edge_words(job, EdgeRef("island1", "2")) == "side 2"
    assert edge_words(job, EdgeRef("opening400", "cut")) == "sink"
    assert edge_words(job, EdgeRef("seam1", "left")) == "seam"
    ends = EdgeRef("leg201", "start"), EdgeRef("leg201", "front")
    assert edge_words(job, corner_ref(*ends)) == "corner"


def test_a_corner_of_a_top_is_called_by_its_two_edges() -> None:
    job = straight()
    leg = job.runs[0].legs[0].id
    ref = corner_ref(EdgeRef(leg, "front"), EdgeRef(leg, "end"))
    assert corner_of_top_words(job, ref) == "corner of front and right end"
