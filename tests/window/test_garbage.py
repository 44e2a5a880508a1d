"""Python's search for garbage: no drag waits for it, and no other thread does it."""

import gc
import threading
import weakref
from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QGraphicsPathItem
from pytestqt.qtbot import QtBot

from app.garbage import MANY, GarbageSearch
from app.gestures.hand import Hand
from app.gestures.tools import tool
from app.session import Session
from shop.job import Job

SOON_MS = 3000


@pytest.fixture
def hand() -> Iterator[Hand]:
    session = Session(Job(name="A"), saved=True)
    hand = Hand(session, lambda *_: None)
    GarbageSearch(hand)
    yield hand
    gc.unfreeze()
    gc.enable()


class _Ring:
    """Something of Qt's in a cycle, such as a form leaves behind."""

    def __init__(self) -> None:
        self.item = QGraphicsPathItem()
        self.ring = self


def _left_behind() -> tuple[weakref.ref[_Ring], list[list[int]]]:
    """Make garbage, and enough else that a search for it is called for."""
    return weakref.ref(_Ring()), [[] for _ in range(MANY[0] + 1)]


@pytest.mark.usefixtures("hand")
def test_another_thread_never_takes_apart_what_the_window_left_behind(qtbot: QtBot) -> None:
    ring, _much = _left_behind()
    kept: list[list[int]] = []
    thread = threading.Thread(target=lambda: kept.extend([] for _ in range(20 * MANY[0])))
    thread.start()
    thread.join()
    assert ring() is not None
    qtbot.waitUntil(lambda: ring() is None, timeout=SOON_MS)


@pytest.mark.parametrize("outcome", ["finished", "canceled"])
def test_garbage_is_looked_for_once_the_hand_rests_and_not_before(
    hand: Hand, qtbot: QtBot, outcome: str
) -> None:
    hand.begin(tool(Job(name="A"), "island"))
    during, _much = _left_behind()
    qtbot.wait(400)
    assert during() is not None
    getattr(hand, outcome).emit()
    after, _more = _left_behind()
    qtbot.waitUntil(lambda: after() is None, timeout=SOON_MS)


def test_what_a_gesture_leaves_behind_is_not_gone_through(hand: Hand) -> None:
    hand.begin(tool(Job(name="A"), "island"))
    left: list[list[int]] = [[] for _ in range(5000)]
    hand.cancel()
    assert not any(one is left[0] for one in gc.get_objects())


@pytest.mark.usefixtures("hand")
def test_without_much_that_is_new_nothing_is_looked_for(qtbot: QtBot) -> None:
    gc.collect()
    ring = weakref.ref(_Ring())
    qtbot.wait(400)
    assert ring() is not None
