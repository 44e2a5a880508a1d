"""Templates about their anchor: exact, against closed forms and Steiner's formula."""

from math import pi, tan

import pytest

from geometry.edges import Edge, is_line, radius
from geometry.naming import GeometryError
from geometry.openings import extent
from geometry.outline import area, outline_of, perimeter
from geometry.templates import (
    _TAG,
    TemplateEdge,
    TemplateShape,
    sound_template,
    template_box,
    template_edges,
    template_loop,
    template_of,
)

QUARTER = tan(pi / 8.0)
LOOP = (
    Edge((1.0, 0.0), (9.0, 0.0)),
    Edge((9.0, 0.0), (10.0, 1.0), QUARTER),
    Edge((10.0, 1.0), (10.0, 6.0)),
    Edge((10.0, 6.0), (0.0, 6.0), 0.25),
    Edge((0.0, 6.0), (0.0, 1.0)),
    Edge((0.0, 1.0), (1.0, 0.0), QUARTER),
)


def clockwise(edges: tuple[Edge, ...]) -> float:
    return -area(outline_of((edge, _TAG) for edge in edges))


def test_edges_are_kept_about_the_anchor_to_the_last_bit() -> None:
    shape = template_of(LOOP, (5.0, 3.0), 0, "bowl.dxf")
    assert shape.edges[1] == TemplateEdge(4.0, -3.0, QUARTER)
    assert [e.bulge for e in template_edges(shape)] == [e.bulge for e in LOOP]


@pytest.mark.parametrize("quarters", range(5))
def test_quarter_turns_are_exact(quarters: int) -> None:
    shape = template_of(LOOP, (0.0, 0.0), quarters, "bowl.dxf")
    corner = {0: (9.0, 0.0), 1: (0.0, 9.0), 2: (-9.0, 0.0), 3: (0.0, -9.0)}[quarters % 4]
    assert (shape.edges[1].x, shape.edges[1].y) == corner
    assert clockwise(template_loop(shape, 0.0)) == pytest.approx(clockwise(LOOP) * -1.0)


def test_a_hole_is_clockwise_whichever_way_the_template_runs() -> None:
    back = tuple(Edge(e.end, e.start, -e.bulge) for e in reversed(LOOP))
    for loop in (LOOP, back):
        assert clockwise(template_loop(template_of(loop, (0, 0), 0, "x"), 0.0)) > 0.0


def test_a_reveal_moves_every_edge_and_keeps_arcs_as_arcs() -> None:
    shape = template_of(LOOP, (0.0, 0.0), 0, "bowl.dxf")
    grown = template_loop(shape, 0.25)
    assert [round(radius(e), 9) for e in grown if not is_line(e)][:1] == [1.25]
    assert len(grown) == len(LOOP)


def test_a_reveal_adds_what_steiner_s_formula_says() -> None:
    flat = tuple(edge._replace(bulge=0.0) if edge.bulge == 0.25 else edge for edge in LOOP)
    outline = outline_of((edge, _TAG) for edge in flat)
    grown = template_loop(template_of(flat, (0.0, 0.0), 0, "bowl.dxf"), 0.25)
    # Two quarter sectors of the reveal, and two squares at the sharp corners.
    corners = 0.25**2 * (pi / 2.0 + 2.0)
    expected = area(outline) + 0.25 * perimeter(outline) + corners
    assert clockwise(grown) == pytest.approx(expected, rel=1e-12)


def test_a_circle_of_two_arcs_grows_to_a_circle() -> None:
    halves = (Edge((1.0, 0.0), (-1.0, 0.0), 1.0), Edge((-1.0, 0.0), (1.0, 0.0), 1.0))
    grown = template_loop(template_of(halves, (0.0, 0.0), 0, "x"), 0.5)
    assert clockwise(grown) == pytest.approx(pi * 1.5**2, rel=1e-12)


def test_an_outline_that_crosses_itself_is_refused() -> None:
    bow = (TemplateEdge(0, 0), TemplateEdge(2, 2), TemplateEdge(2, 0), TemplateEdge(0, 2))
    with pytest.raises(GeometryError) as caught:
        template_loop(TemplateShape(bow, "x"), 0.0)
    assert caught.value.code == "crosses-itself"
    with pytest.raises(GeometryError):
        sound_template([Edge((0.0, 0.0), (0.0, 0.0)), Edge((0.0, 0.0), (0.0, 0.0))])


def test_the_extent_holds_the_arcs_too() -> None:
    shape = template_of(LOOP, (5.0, 3.0), 0, "bowl.dxf")
    # The arc over 10 rises by a quarter of half its chord.
    assert template_box(shape) == pytest.approx((-5.0, -3.0, 5.0, 3.0 + 0.25 * 5.0))
    assert extent(shape) == template_box(shape)


def test_the_extent_of_an_edge_without_length_is_its_point() -> None:
    twice = (TemplateEdge(1.0, 2.0, 1.0), TemplateEdge(1.0, 2.0, 0.5))
    assert template_box(TemplateShape(twice, "x")) == (1.0, 2.0, 1.0, 2.0)
