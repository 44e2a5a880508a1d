"""Outlines that take the same room, and lines that run through one."""

from math import pi

import pytest

from geometry.outline import moved
from geometry.overlaps import shared, through
from tests.shapes import DISC, L_TOP, rectangle


def test_what_two_rectangles_share_is_measured() -> None:
    one = rectangle(30.0, 20.0)
    found = shared(one, moved(one, (20.0, 15.0)))
    assert found is not None
    assert found[0] == pytest.approx(50.0)
    assert 20.0 < found[1][0] < 30.0
    assert 15.0 < found[1][1] < 20.0


def test_outlines_that_touch_or_lie_apart_share_nothing() -> None:
    one = rectangle(30.0, 20.0)
    assert shared(one, moved(one, (30.0, 0.0))) is None
    assert shared(one, moved(one, (90.0, 0.0))) is None
    assert shared(L_TOP, moved(rectangle(40.0, 40.0), (60.0, 50.0))) is None


def test_arcs_count() -> None:
    found = shared(DISC, moved(rectangle(2.0, 2.0), (-1.0, 0.0)))
    assert found is not None
    assert found[0] == pytest.approx(pi / 2.0, rel=1e-2)


def test_a_line_runs_through_an_outline_but_not_along_its_edge() -> None:
    one = rectangle(30.0, 20.0)
    found = through(one, (10.0, -5.0), (10.0, 15.0), 1.0)
    assert found is not None
    assert found[0] == pytest.approx(14.0)
    assert found[1] == pytest.approx((10.0, 8.0))
    assert through(one, (0.5, -5.0), (0.5, 30.0), 1.0) is None
    assert through(one, (40.0, -5.0), (40.0, 30.0), 1.0) is None
