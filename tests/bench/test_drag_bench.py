"""Dragging: from a move of the pointer to both sides of the fold painted."""

from collections import Counter
from collections.abc import Iterator
from itertools import count
from math import cos, sin
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QGraphicsPathItem

from app.gestures import drags
from app.gestures.gesture import Gesture
from app.gestures.places import picked
from geometry import edges as exact
from geometry.naming import EdgeRef
from geometry.outline import area, bounding_box
from geometry.picking import Subject
from geometry.points import Point, along, left_of
from geometry.seams import SeamOnLeg
from shop.job import Job
from shop.plan import layout
from shop.survey import room
from tests.bench.board import Board
from tests.bench.conftest import JOBS, Note, Repeat
from tests.bench.figures import Timed, stopwatch, timed

FRAMES = 150
STEP_IN = 1.0 / 16.0
"""Every frame shows the thing at a place where it has not been: nothing is remembered."""

GRID = 24
"""Places along each side of an island's piece that are tried for a press."""

TARGET = "median 8, 95 % 16"


@pytest.fixture
def board(qapp: QApplication, job: Job, tmp_path: Path) -> Iterator[Board]:
    board = Board(qapp, job, tmp_path)
    yield board
    board.give_up()
    board.close()


def sink_of(job: Job, _reach: float) -> tuple[Point, Point, type[Gesture]]:
    """Return the middle of the largest opening and the way along its front."""
    every = [opening for top in layout(job).tops for opening in top.openings]
    largest = min(every, key=lambda opening: area(opening.outline))
    way = (cos(largest.angle_rad), sin(largest.angle_rad))
    return largest.center, way, drags.DragOpening


def seam_of(job: Job, _reach: float) -> tuple[Point, Point, type[Gesture]]:
    """Return the middle of a leg's longest seam edge and the way across it."""
    movable = {seam.id for seam in job.seams if isinstance(seam.start, SeamOnLeg)}
    found = [
        edge
        for piece in layout(job).pieces
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True)
        if isinstance(tag.ref, EdgeRef) and tag.ref.owner in movable
    ]
    longest = max(found, key=exact.length)
    return exact.point_at(longest, 0.5), left_of(exact.direction_at(longest, 0.5)), drags.DragSeam


def island_of(job: Job, reach: float) -> tuple[Point, Point, type[Gesture]]:
    """Return the middle of an island's largest piece, and a way."""
    islands = {island.id for island in job.islands}
    faces = [piece.face for piece in layout(job).pieces if piece.top in islands]
    places = [
        (x0 + (x1 - x0) * i / GRID, y0 + (y1 - y0) * j / GRID)
        for x0, y0, x1, y1 in (bounding_box(face.outline) for face in faces)
        for i in range(GRID)
        for j in range(GRID)
    ]
    free = next(p for p in places if _first_kind(job, p, reach) == "piece")
    return free, (1.0, 0.0), drags.DragIsland


def front_of(job: Job, reach: float) -> tuple[Point, Point, type[Gesture]]:
    """Return a place on the longest front that is free of other things, and the way into it."""
    return *_on_edge(job, reach, "front"), drags.DragFront


def end_of(job: Job, reach: float) -> tuple[Point, Point, type[Gesture]]:
    """Return a place on the longest end, and the way across it."""
    return *_on_edge(job, reach, "end"), drags.DragRunEnd


def corner_of(job: Job, reach: float) -> tuple[Point, Point, type[Gesture]]:
    """Return the corner of the room that most walls with tops meet at, and a way."""
    with_tops = {leg.wall for run in job.runs for leg in run.legs}
    meeting = Counter(
        corner
        for wall in job.room.walls
        if wall.id in with_tops
        for corner in (wall.start, wall.end)
    )
    free = (
        (corner.point, (1.0, 0.0))
        for corner in sorted(room(job).corners, key=lambda c: -meeting[c.id])
        if _first_kind(job, corner.point, reach) == "corner"
    )
    return *next(free), drags.DragCorner


def _on_edge(job: Job, reach: float, side: str) -> tuple[Point, Point]:
    edges = [
        edge
        for piece in layout(job).pieces
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True)
        if isinstance(tag.ref, EdgeRef) and tag.ref.side == side
    ]
    return next(
        (exact.point_at(edge, part), left_of(exact.direction_at(edge, part)))
        for edge in sorted(edges, key=exact.length, reverse=True)
        for part in sorted((i / GRID for i in range(1, GRID)), key=lambda part: abs(part - 0.5))
        if _first_is_edge(job, exact.point_at(edge, part), reach)
    )


def _first_is_edge(job: Job, point: Point, reach: float) -> bool:
    """Tell whether an edge, not a corner, is what is taken at a point."""
    first = next(iter(picked(job, point, reach)), None)
    return first is not None and isinstance(first.subject.edge, EdgeRef)


def _first_kind(job: Job, point: Point, reach: float) -> str:
    return next((pick.subject.kind for pick in picked(job, point, reach)), "")


THINGS = {
    "sink": sink_of,
    "seam": seam_of,
    "island": island_of,
    "front": front_of,
    "end": end_of,
    "corner of the room": corner_of,
}

CASES = [
    (size, thing) for size in JOBS for thing in THINGS if (size, thing) != ("60 pieces", "island")
]


@pytest.mark.parametrize(("size", "thing"), CASES)
def test_a_move_of_the_pointer_is_seen_on_both_sides_at_once(
    board: Board, job: Job, size: str, thing: str, repeat: Repeat, note: Note
) -> None:
    start, way, gesture = THINGS[thing](job, board.reach())
    board.press(start)
    assert isinstance(board.bench.hand._gesture, gesture)
    places = (along(start, way, (k - FRAMES / 2.0) * STEP_IN) for k in count())
    board.move(along(start, way, board.reach()))  # so far begins a drag
    seen: list[Job] = []
    watch = stopwatch(lambda: board.move(next(places)))
    before = board.painted()

    repeat(watch, FRAMES, lambda: seen.append(board.shown))

    frames = len(watch.timed.clock)
    assert all(b - a >= frames for a, b in zip(before, board.painted(), strict=True))
    assert len(set(seen)) == frames, "a frame showed nothing new"
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
