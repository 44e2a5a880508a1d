"""Python's search for garbage, which no drag waits for."""

import gc
from collections.abc import Iterator

import pytest

from app.gestures.hand import Hand
from app.gestures.tools import tool
from app.opening import steady_memory
from app.session import Session
from shop.job import Job


@pytest.fixture
def thresholds() -> Iterator[None]:
    before = gc.get_threshold()
    yield
    gc.set_threshold(*before)
    gc.unfreeze()
    gc.enable()


@pytest.mark.usefixtures("thresholds")
@pytest.mark.parametrize("outcome", ["finished", "canceled"])
def test_garbage_is_looked_for_whenever_the_hand_does_not_work(outcome: str) -> None:
    session = Session(Job(name="A"), saved=True)
    hand = Hand(session, lambda *_: None)
    steady_memory(hand)
    assert gc.isenabled()
    hand.begin(tool(session.job, "island"))
    assert not gc.isenabled()
    getattr(hand, outcome).emit()
    assert gc.isenabled()
    assert gc.get_freeze_count() > 0


@pytest.mark.usefixtures("thresholds")
def test_what_a_gesture_leaves_behind_is_not_gone_through() -> None:
    session = Session(Job(name="A"), saved=True)
    hand = Hand(session, lambda *_: None)
    steady_memory(hand)
    hand.begin(tool(session.job, "island"))
    left: list[list[int]] = [[] for _ in range(5000)]
    hand.cancel()
    assert gc.isenabled()
    assert not any(one is left[0] for one in gc.get_objects())
