"""Boards of panels: each fits its sheet, together they are the board, joints keep off openings."""

from math import hypot, pi

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon, union_all

from geometry.flattening import ring
from geometry.outline import Outline, area, bounding_box, moved, rotated
from geometry.panelling import (
    CLEAR_IN,
    JOINT,
    Panels,
    clipped_to,
    fits_sheet,
    headings,
    leveled,
    panelled,
)
from tests.shop.mold_shapes import BACK, FRONT, FRONT_2, LEFT, RIGHT, box, outline

SHEET = (97.0, 49.0)


def ell(across: float = 60.0, deep: float = 60.0, leg: float = 25.5) -> Outline:
    return outline(
        ((0, 0), FRONT),
        ((across, 0), RIGHT),
        ((across, leg), FRONT_2),
        ((leg, leg), FRONT),
        ((leg, deep), LEFT),
        ((0, deep), BACK),
    )


def run(length: float, deep: float = 25.5) -> Outline:
    return outline(((0, 0), FRONT), ((length, 0), RIGHT), ((length, deep), BACK), ((0, deep), LEFT))


def true(made: Panels, board: Outline) -> None:
    """Tell by shapely whether the panels make up the board, each on a sheet, none over another."""
    assert made.fits
    shapes = [Polygon(ring(panel, 1e-6)) for panel in made.panels]
    whole = Polygon(ring(board, 1e-6))
    assert union_all(shapes).symmetric_difference(whole).area == pytest.approx(0.0, abs=1e-3)
    assert sum(shape.area for shape in shapes) == pytest.approx(whole.area)
    assert sum(map(area, made.panels)) == pytest.approx(area(board), rel=1e-9)
    assert all(fits_sheet(panel, SHEET) for panel in made.panels)
    joints = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in made.joints)
    edges = sum(
        hypot(e.end[0] - e.start[0], e.end[1] - e.start[1])
        for panel in made.panels
        for e, tag in zip(panel.edges, panel.tags, strict=True)
        if tag == JOINT
    )
    # Each joint has a panel on both sides.
    assert edges == pytest.approx(2.0 * joints)


@given(st.floats(-pi, pi))
def test_an_l_of_60_by_60_takes_two_panels_wherever_it_points(heading: float) -> None:
    board = rotated(ell(), heading)
    assert not fits_sheet(board, SHEET)
    made = panelled(board, (), SHEET)
    true(made, board)
    assert len(made.panels) == 2
    assert sum(LineString(joint).length for joint in made.joints) == pytest.approx(25.5)


def test_a_board_that_fits_is_its_only_panel() -> None:
    assert panelled(run(96.0), (), SHEET) == Panels((run(96.0),), (), fits=True)
    assert panelled(run(97.0, 49.0), (), SHEET).joints == ()


@given(
    st.floats(98.0, 190.0),
    st.floats(20.0, 48.0),
    st.floats(0.0, 1.0),
    st.floats(-pi, pi),
)
def test_joints_keep_off_openings(length: float, deep: float, where: float, turn: float) -> None:
    left = 6.0 + where * (length - 45.0)
    # Somewhere in reach of both ends a joint is clear of it.
    assume(left - CLEAR_IN >= length - 97.0 or left + 33.0 + CLEAR_IN <= 97.0)
    hole = box(left, 4.0, left + 33.0, deep - 4.0)
    board, sink = rotated(run(length, deep), turn), rotated(hole, turn)
    made = panelled(board, (sink,), SHEET)
    true(made, board)
    assert len(made.panels) == 2
    for joint in made.joints:
        assert LineString(joint).distance(Polygon(ring(sink))) >= CLEAR_IN - 1e-6


def test_a_joint_crosses_an_opening_where_nothing_else_makes_so_few_panels() -> None:
    board, hole = run(190.0), box(91.0, 4.0, 99.0, 20.0)
    made = panelled(board, (hole,), SHEET)
    true(made, board)
    assert len(made.panels) == 2


def test_a_round_board_and_a_board_larger_both_ways_take_what_they_need() -> None:
    circle = outline(((-30, 0), FRONT), ((30, 0), FRONT), bulges={0: 1.0, 1: 1.0})
    assert headings(circle) == (0.0,)
    made = panelled(circle, (), SHEET)
    true(made, circle)
    assert len(made.panels) == 2
    large = run(130.0, 60.0)
    made = panelled(large, (box(80, 5, 110, 20),), SHEET)
    true(made, large)
    assert len(made.panels) == 3


@given(st.floats(50.0, 200.0), st.floats(50.0, 200.0), st.floats(10.0, 48.0))
def test_any_l_is_made_of_panels(across: float, deep: float, leg: float) -> None:
    board = ell(across, deep, leg)
    made = panelled(board, (), SHEET)
    true(made, board)
    x0, y0, x1, y1 = bounding_box(board)
    assert len(made.panels) >= (1 if min(x1 - x0, y1 - y0) <= 49.0 else 2)


@given(st.floats(-pi, pi))
def test_a_board_is_laid_level_for_the_saw(turn: float) -> None:
    for board in (run(90.0), ell()):
        x0, y0, x1, y1 = bounding_box(leveled(rotated(board, turn)))
        assert sorted((x1 - x0, y1 - y0)) == pytest.approx(
            sorted((bounding_box(board)[2], bounding_box(board)[3]))
        )


def test_a_sheet_too_small_makes_no_panels() -> None:
    assert not panelled(ell(), (), (8.0, 8.0)).fits
    assert not panelled(ell(), (), (5.0, 5.0)).fits


def test_a_sheet_as_wide_as_a_hair_makes_no_panels_either() -> None:
    assert not panelled(run(60.0), (), (0.125, 2.2250738585e-313)).fits


@given(st.floats(-pi, pi))
def test_what_stands_on_a_board_in_panels_is_parted_among_them(turn: float) -> None:
    board, frame = rotated(ell(64.0, 64.0, 31.0), turn), rotated(moved(ell(), (2.0, 2.0)), turn)
    made = panelled(board, (), SHEET)
    parts = [part for panel in made.panels for part in clipped_to(frame, panel)]
    assert sum(map(area, parts)) == pytest.approx(area(frame))
    for panel in made.panels:
        whole = Polygon(ring(panel)).buffer(1e-6)
        assert all(whole.covers(Polygon(ring(part))) for part in clipped_to(frame, panel))
