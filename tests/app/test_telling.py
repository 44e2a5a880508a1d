"""What is told of pieces is what a tape reads along their own sides."""

from app.telling import piece_rows
from tests.export.jobs import sample


def test_a_piece_that_lies_askew_in_the_room_is_as_large_as_its_own_sides() -> None:
    rows = dict(piece_rows(sample("corner-with-range")))
    assert rows["C"] == "75 lb, 25 3/8 × 17"
    assert rows["B"].endswith("25 3/8 × 10' 1 5/16")
