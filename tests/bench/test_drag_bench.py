"""Dragging: from a move of the pointer to both sides of the fold painted."""

from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QGraphicsPathItem

from geometry.picking import Subject
from geometry.points import Point, along
from shop.job import Job
from shop.jobfile import read_job
from shop.plan import layout
from shop.samples import sample_path
from tests.bench.board import Board
from tests.bench.conftest import JOBS, Note, Repeat
from tests.bench.figures import Timed, stopwatch, timed
from tests.bench.handles import ADDED, OWN, furnished

FRAMES = 150
STEP_IN = 1.0 / 16.0
"""Every frame shows the thing at a place where it has not been: nothing is remembered."""

TARGET = "median 8, 95 % 16"


KITCHENS = {"3 pieces": lambda: read_job(sample_path("corner-with-range"))} | JOBS
"""A kitchen as most are, and two that are large."""


@pytest.fixture
def job(size: str, thing: str) -> Job:
    return furnished(KITCHENS[size]()) if thing in ADDED else KITCHENS[size]()


@pytest.fixture
def board(qapp: QApplication, job: Job, tmp_path: Path) -> Iterator[Board]:
    board = Board(qapp, job, tmp_path)
    yield board
    board.give_up()
    board.close()


THINGS = OWN | ADDED

LACKING = {
    ("3 pieces", "seam"),
    ("3 pieces", "island"),
    ("3 pieces", "corner of a free shape"),
    ("60 pieces", "island"),
}
"""What a job does not have, or lies under a length."""

CASES = [(size, thing) for size in KITCHENS for thing in THINGS if (size, thing) not in LACKING]


@pytest.mark.parametrize(("size", "thing"), CASES)
def test_a_move_of_the_pointer_is_seen_on_both_sides_at_once(
    board: Board, job: Job, size: str, thing: str, repeat: Repeat, note: Note
) -> None:
    start, way, gesture, chosen, stage, first = THINGS[thing](job, board.reach())
    board.turn_to(stage, *chosen)
    board.press(start)
    assert isinstance(board.bench.hand._gesture, gesture)
    places = (along(start, way, first + k * STEP_IN) for k in count())
    board.move(along(start, way, -board.reach() - FRAMES * STEP_IN))  # so far begins a drag
    seen: list[Job] = []
    watch = stopwatch(lambda: board.move(next(places)))
    before = board.painted()

    repeat(watch, FRAMES, lambda: seen.append(board.shown))

    frames = len(watch.timed.clock)
    assert all(b - a >= frames for a, b in zip(before, board.painted(), strict=True))
    assert len({*seen[1:], board.shown}) == frames, "a frame showed nothing new"
    board.give_up()
    note(
        f"drag the {thing}, {size}",
        watch.timed,
        "a plain item moved",
        plain_moves(board, start),
        TARGET,
    )


def plain_moves(board: Board, point: Point) -> Timed:
    """Return how long it takes to move one shape of both pictures, with nothing computed."""
    piece = nearest_piece(board, point)
    items = [
        item.graphics
        for view in board.views
        for item in view.drawing._all_items()
        if item.mark.role == "slab" and item.mark.subject == piece
    ]
    assert len(items) == len(board.views)
    assert all(isinstance(item, QGraphicsPathItem) for item in items)
    steps = count(1)

    def move() -> None:
        by = next(steps) * STEP_IN
        for item in items:
            item.setPos(by, 0.0)
        board.draw()

    before = board.painted()
    found = timed(move, FRAMES)
    assert all(b - a >= FRAMES for a, b in zip(before, board.painted(), strict=True))
    return found


def nearest_piece(board: Board, point: Point) -> Subject:
    """Return the piece whose middle is nearest to a point."""
    pieces = layout(board.bench.session.job).pieces
    nearest = min(
        pieces,
        key=lambda p: (p.centroid[0] - point[0]) ** 2 + (p.centroid[1] - point[1]) ** 2,
    )
    return Subject("piece", nearest.name)
