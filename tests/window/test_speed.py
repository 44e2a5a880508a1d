"""How fast a drag reaches both views, for the benchmark run."""

from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QApplication
from pytest_benchmark.fixture import BenchmarkFixture

from app.gestures.gesture import Cursor
from app.gestures.places import picked
from geometry.counters import Island, OnBoard
from geometry.openings import InIsland, Opening, RectangleShape
from shop.applying import applied
from shop.edits import AddIsland, AddOpening
from shop.job import Job, fresh_id
from shop.plan import pieces, tops
from tests.window.conftest import Desk, desk_on, gone, sample


def sixty() -> Job:
    """The 12-piece sample with islands, each with a bowl, up to 60 pieces."""
    job = replace(sample("twelve-pieces"), sample=False)
    number = 0
    while len(pieces(job)) < 60:
        at = OnBoard(-300.0 + (number % 8) * 80.0, -200.0 - (number // 8) * 50.0)
        island = Island(fresh_id(job, "island"), 60.0, 30.0, at)
        job = applied(job, AddIsland(island))
        bowl = Opening(
            fresh_id(job, "opening"),
            f"bowl {number}",
            RectangleShape(14.0, 12.0, 1.0),
            InIsland(island.id, 20.0, 15.0),
        )
        job = applied(job, AddOpening(bowl))
        number += 1
    return job


def drag_of(desk: Desk) -> Callable[[], None]:
    """Press on the first opening and return what moves it one frame on, both views repainted."""
    opening = next(o for t in tops(desk.job) for o in t.openings)
    x, y = opening.center
    cursor = Cursor((x, y), 2.0, picked(desk.job, (x, y), 2.0), no_snap=True)
    desk.bench.hand.press(cursor)
    frame = 0

    def move() -> None:
        nonlocal frame
        frame += 1
        point = (x + (frame % 64) / 16.0 + 1.0, y + (frame % 7) / 16.0)
        desk.bench.hand.move(cursor._replace(point=point, picks=()))
        QApplication.processEvents()

    return move


@pytest.mark.bench
@pytest.mark.parametrize("count", [12, 60])
def test_a_dragged_opening_reaches_both_views_within_a_frame(
    dressed: QApplication, tmp_path: Path, benchmark: BenchmarkFixture, count: int
) -> None:
    desk = desk_on(sample("twelve-pieces") if count == 12 else sixty(), tmp_path)
    assert len(pieces(desk.job)) >= count - 1
    move = drag_of(desk)
    move()
    shown = desk.session.shown_job
    benchmark(move)
    assert desk.session.shown_job is not shown
    desk.bench.hand.cancel()
    gone(desk)


def test_a_drag_touches_a_few_items_only(dressed: QApplication, tmp_path: Path) -> None:
    desk = desk_on(sample("twelve-pieces"), tmp_path)
    move = drag_of(desk)
    for _ in range(3):
        move()
    for view in (desk.bench.canvas.up, desk.bench.canvas.down):
        assert 0 < view.drawing.touched < len(view.drawing.marks) / 5
    desk.bench.hand.cancel()
    gone(desk)
