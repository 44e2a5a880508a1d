"""Reading a maker's template: what is found, what is asked, and what is said of bad files."""

import time
from math import pi
from pathlib import Path

import pytest

from export import template_outlines
from export.template_files import (
    LARGEST_BYTES,
    TemplateError,
    Unit,
    read_template,
    template_in,
)
from export.template_outlines import MOST_OUTLINES, Candidate
from export.templates import FAUCET_IN, Found, hole_of, outlines, shape_of, unit_doubt
from geometry.edges import Edge, length
from geometry.lengths import LengthStyle
from geometry.points import Point
from tests.export.drawn import (
    arc,
    bowl_pieces,
    bowl_polyline,
    by_hand,
    drawing,
    encoded,
    line,
    polygon,
    tags,
)

STYLE = LengthStyle()
LONGEST_S = 20.0
"""A hostile file takes a second or two; this is for a machine with much else to do."""

SQUARE = polygon((0, 0), (10, 0), (10, 10), (0, 10))


def found(entities: str, unit: Unit = "in") -> Found:
    return outlines(template_in(by_hand(entities), "bowl.dxf"), unit, STYLE)


def only(entities: str) -> Candidate:
    (one,) = found(entities).candidates
    return one


def said_of(data: bytes) -> str:
    with pytest.raises(TemplateError) as caught:
        outlines(template_in(data, "bowl.dxf"), "in", STYLE)
    return str(caught.value)


# --- Outlines ---------------------------------------------------------------------------------


def test_outlines_come_largest_first_with_their_size_and_layer() -> None:
    inner = "".join(
        line(a, b, "RIM")
        for a, b in (((2, 2), (5, 2)), ((5, 2), (5, 4)), ((5, 4), (2, 4)), ((2, 4), (2, 2)))
    )
    large, small = found(inner + SQUARE).candidates
    assert (large.area_sq_in, large.size, large.layer) == (100.0, (10.0, 10.0), "0")
    assert (small.area_sq_in, small.size, small.layer) == (6.0, (3.0, 2.0), "RIM")


def test_what_is_drawn_twice_comes_once_whatever_it_is_drawn_with() -> None:
    made, space = drawing()
    bowl_polyline(space, old=False)
    bowl_pieces(space)
    space.add_circle((60.0, 0.0), 3.0)
    space.add_circle((60.0, 0.0), 3.0)
    listed = outlines(template_in(encoded(made), "x.dxf"), "in", STYLE).candidates
    assert len(listed) == 2


@pytest.mark.parametrize(
    ("unit", "inches"), [("in", 1.0), ("ft", 12.0), ("mm", 1 / 25.4), ("cm", 1 / 2.54)]
)
def test_sizes_follow_the_unit(unit: Unit, inches: float) -> None:
    (one,) = found(SQUARE, unit).candidates
    assert one.size == pytest.approx((10.0 * inches, 10.0 * inches))


@pytest.mark.parametrize(("code", "unit"), [(0, None), (1, "in"), (4, "mm"), (6, "m"), (13, None)])
def test_the_unit_is_what_the_header_says(code: int, unit: str | None) -> None:
    assert template_in(by_hand(SQUARE, code), "x.dxf").unit == unit


def test_no_more_than_the_largest_outlines_are_shown() -> None:
    many = "".join(tags(0, "CIRCLE", 8, "0", 10, 10 * i, 20, 0, 40, 1 + i / 100) for i in range(60))
    listed = found(many).candidates
    assert len(listed) == MOST_OUTLINES
    assert listed[0].size[0] == pytest.approx(2.0 * 1.59)


def test_a_layer_of_a_block_is_its_own_or_that_of_where_it_is_set() -> None:
    made, space = drawing()
    block = made.blocks.new("HOLE")
    block.add_circle((0.0, 0.0), 5.0)
    block.add_circle((20.0, 0.0), 3.0, dxfattribs={"layer": "OWN"})
    space.add_blockref("HOLE", (0.0, 0.0), {"layer": "SET"})
    listed = outlines(template_in(encoded(made), "x.dxf"), "in", STYLE).candidates
    assert [one.layer for one in listed] == ["SET", "OWN"]


def test_what_leans_out_of_the_plane_and_blocks_that_are_not_there_are_left_out() -> None:
    leaning = tags(0, "CIRCLE", 8, "0", 10, 0, 20, 0, 40, 9, 210, 1.0, 220, 0, 230, 0)
    missing = tags(0, "INSERT", 8, "0", 2, "NOWHERE", 10, 0, 20, 0)
    assert only(leaning + missing + SQUARE).area_sq_in == 100.0


def test_numbers_without_sense_are_left_out() -> None:
    far = line((0, 0), (1e300, 0)) + tags(0, "CIRCLE", 8, "0", 10, 0, 20, 0, 40, "1e308")
    flat = tags(0, "CIRCLE", 8, "0", 10, 5, 20, 5, 40, 0)
    assert only(far + flat + SQUARE).area_sq_in == 100.0


def test_a_polyline_that_ends_where_it_starts_is_closed() -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, 0), (8, 0), (8, 0), (8, 5), (0, 0)])
    space.add_polyline3d([(20, 0, 1), (28, 0, 2), (28, 3, 3)], close=True)
    space.add_polymesh((3, 3))
    listed = outlines(template_in(encoded(made), "x.dxf"), "in", STYLE).candidates
    assert [one.area_sq_in for one in listed] == [20.0, 12.0]


def test_a_spline_with_a_kink_and_points_on_each_other_is_followed() -> None:
    made, space = drawing()
    # Cubics from corner to corner of a square whose points lie on each other: straight sides.
    corners = [(0, 0), (0, 0), (9, 0), (9, 0), (9, 0), (9, 9), (9, 9), (9, 9), (0, 9), (0, 9)]
    corners += [(0, 9), (0, 0), (0, 0)]
    knots = [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4, 4]
    spline = space.add_spline(degree=3)
    spline.control_points = [(x, y, 0) for x, y in corners]
    spline.knots = knots
    (one,) = outlines(template_in(encoded(made), "x.dxf"), "in", STYLE).candidates
    assert one.area_sq_in == pytest.approx(81.0, rel=1e-6)


def test_a_spline_of_one_point_is_left_out() -> None:
    made, space = drawing()
    space.add_open_spline([(3.0, 3.0)] * 5)
    space.add_circle((0.0, 0.0), 8.0)
    (one,) = outlines(template_in(encoded(made), "x.dxf"), "in", STYLE).candidates
    assert one.marks == ()


def test_a_spline_through_points_closes_with_a_line() -> None:
    made, space = drawing()
    space.add_spline([(0, 0), (5, 6), (10, 0)])
    space.add_line((10, 0), (0, 0))
    (one,) = outlines(template_in(encoded(made), "x.dxf"), "in", STYLE).candidates
    assert 30.0 < one.area_sq_in < 45.0


# --- Center marks -----------------------------------------------------------------------------


def near(one: Candidate) -> list[Point]:
    return [(round(x, 9), round(y, 9)) for x, y in one.marks]


def test_points_small_circles_and_crossing_lines_mark_centers_nearest_first() -> None:
    marks = tags(0, "POINT", 8, "0", 10, 2, 20, 2)
    marks += tags(0, "CIRCLE", 8, "0", 10, 5, 20, 7, 40, 0.25)
    marks += line((4, 5), (6, 5)) + line((5, 4.5), (5, 5.5))
    marks += tags(0, "POINT", 8, "0", 10, 50, 20, 2)
    assert near(found(SQUARE + marks).candidates[0]) == [(5.0, 5.0), (5.0, 7.0), (2.0, 2.0)]


def test_center_lines_may_run_past_the_outline() -> None:
    assert near(only(SQUARE + line((-2, 4), (12, 4)) + line((3, -2), (3, 12)))) == [(3.0, 4.0)]


def test_a_mark_that_is_made_of_several_things_counts_once() -> None:
    marks = tags(0, "POINT", 8, "0", 10, 5, 20, 5) + line((4, 5), (6, 5)) + line((5, 4), (5, 6))
    assert near(only(SQUARE + marks)) == [(5.0, 5.0)]


def test_no_more_than_some_marks_are_kept() -> None:
    many = "".join(tags(0, "POINT", 8, "0", 10, 1 + i / 20, 20, 5) for i in range(99))
    assert len(only(SQUARE + many).marks) == template_outlines.MOST_MARKS


def test_marks_beside_an_outline_are_holes_as_wide_as_drawn_or_for_a_faucet() -> None:
    marks = tags(0, "CIRCLE", 8, "0", 10, 5, 20, 13, 40, 0.625)
    marks += tags(0, "CIRCLE", 8, "0", 10, 2, 20, 13, 40, 0.125)
    marks += tags(0, "POINT", 8, "0", 10, 5, 20, 13) + tags(0, "POINT", 8, "0", 10, 9, 20, 13)
    marks += tags(0, "POINT", 8, "0", 10, 50, 20, 2)
    one = found(SQUARE + marks).candidates[0]
    assert one.marks == ()
    holes = [hole_of(mark, one, None, 0) for mark in one.around]
    assert [hole.middle for hole in holes] == [(0.0, 8.0), (-3.0, 8.0), (4.0, 8.0)]
    assert [hole.diameter for hole in holes] == [1.25, FAUCET_IN, FAUCET_IN]
    # About a mark of its own, turned left: what lay toward the back lies toward the left.
    assert hole_of(one.around[0], one, (5.0, 10.0), 1).middle == (-3.0, 0.0)


def test_a_shape_lies_about_its_mark_or_its_middle() -> None:
    one = only(SQUARE + tags(0, "POINT", 8, "0", 10, 2, 20, 3))
    assert shape_of(one, None, 0, "a.dxf").edges[0].x in {-5.0, 5.0}
    assert {edge.x for edge in shape_of(one, (2.0, 3.0), 0, "a.dxf").edges} == {-2.0, 8.0}
    assert {edge.x for edge in shape_of(one, (2.0, 3.0), 1, "a.dxf").edges} == {-7.0, 3.0}


@pytest.mark.parametrize(("name", "kept"), [("a\nb\x7f.dxf", "a_b_.dxf"), ("x" * 99, "x" * 80)])
def test_a_file_s_name_is_kept_harmless(name: str, kept: str) -> None:
    assert shape_of(only(SQUARE), None, 0, name).file == kept


# --- Units that make no sense -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "unit", "guess"),
    [
        (800.0, "in", "mm"),
        (800.0, "mm", None),
        (30.0, "in", None),
        (30.0, "mm", "in"),
        (80.0, "in", None),
        (30.0, "ft", "in"),
        (40000.0, "in", None),
    ],
)
def test_a_size_without_sense_is_asked_about(size: float, unit: Unit, guess: Unit | None) -> None:
    square = polygon((0, 0), (size, 0), (size, size / 2), (0, size / 2))
    doubt = unit_doubt(found(square, unit).candidates[0], unit, STYLE)
    assert (doubt[1] if doubt else None) == guess


def test_an_outline_of_800_in_asks_for_millimeters() -> None:
    one = only(polygon((0, 0), (800, 0), (800, 400), (0, 400)))
    assert unit_doubt(one, "in", STYLE) == (
        "The largest outline is 66' 8 across: are these millimeters?",
        "mm",
    )


# --- Files that are not what they should be ---------------------------------------------------


def test_a_small_gap_is_closed_by_a_line_that_is_shown() -> None:
    one = only(line((0, 0), (10, 0)) + line((10, 0), (10, 10)) + line((10, 10), (0, 0.2)))
    (gap,) = one.gaps
    assert length(gap) == pytest.approx(0.2)
    assert isinstance(gap, Edge)


def test_a_larger_gap_is_measured() -> None:
    text = line((0, 0), (10, 0)) + line((10, 0), (10, 10)) + line((10, 10), (0, 0.75))
    assert said_of(by_hand(text)) == (
        "No outline in bowl.dxf is closed, the longest line is 3/4 open (up to 1/4 can be closed "
        "here): close it in the drawing."
    )
    assert found(SQUARE + line((20, 0), (30, 0)) + line((30, 0), (30, 9))).notes == (
        "Some lines are left out, since they do not close: the longest line is 13 7/16 open.",
    )


def test_outlines_that_cross_themselves_and_enclose_nothing_are_left_out_and_said() -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, 0), (0.2, 0.2), (0.2, 0), (0, 0.2)], close=True)
    space.add_line((5, 0), (9, 0))
    assert said_of(encoded(made)).startswith("The outlines in bowl.dxf cross or touch themselves:")
    space.add_circle((50.0, 0.0), 8.0)
    (note,) = outlines(template_in(encoded(made), "bowl.dxf"), "in", STYLE).notes
    assert note == "Left out, since they cross or touch themselves: 1."


def test_outlines_of_very_many_edges_are_left_out_and_said() -> None:
    made, space = drawing()
    teeth = [(i / 10.0, 5.0 * (i % 2)) for i in range(600)]
    space.add_lwpolyline([*teeth, (60.0, -5.0), (0.0, -5.0)], close=True)
    assert said_of(encoded(made)).startswith("The outlines in bowl.dxf have more than 500 edges:")
    space.add_circle((50.0, 50.0), 8.0)
    file = template_in(encoded(made), "bowl.dxf")
    assert outlines(file, "in", STYLE).notes == (
        "Left out, since they have more than 500 edges: 1.",
    )


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b" \n", "bowl.dxf is empty: ask for it once more."),
        (b"\x89PNG\r\n", "bowl.dxf is no DXF drawing: ask the sink's maker for one."),
        (b"\xff\xfeh\x00a", "bowl.dxf is no DXF drawing: ask the sink's maker for one."),
        (b"%PDF-1.7", "bowl.dxf is no DXF drawing: ask the sink's maker for one."),
        (b"AC1032\0\0", "bowl.dxf is a DWG drawing under another name: save it as DXF."),
        (
            b"AutoCAD Binary DXF\r\n\x1a\0 SECTION",
            "bowl.dxf is damaged and cannot be read: ask for it once more.",
        ),
        (
            b"0\nSECTION\n2\nENTITIES\n0\nLI",
            "bowl.dxf breaks off before its end: ask for it once more.",
        ),
        (
            b"hello\nSECTION\n",
            "bowl.dxf is damaged and cannot be read: ask for it once more.",
        ),
        (
            by_hand(""),
            "bowl.dxf holds no lines, arcs or polylines: ask for the outline as those.",
        ),
        (
            by_hand(line((0, 0), (5, 0))),
            "No outline in bowl.dxf is closed: close it in the drawing.",
        ),
    ],
)
def test_other_files_get_one_clear_sentence(data: bytes, said: str) -> None:
    assert said_of(data) == said


def test_words_in_another_code_page_do_not_stop_the_reading() -> None:
    text = SQUARE + tags(0, "TEXT", 8, "0", 10, 0, 20, 0, 40, 1, 1, "spüle")
    file = template_in(by_hand(text).decode().encode("cp1252"), "x.dxf")
    assert outlines(file, "in", STYLE).candidates[0].area_sq_in == 100.0


def test_a_value_that_is_none_is_said() -> None:
    broken = tags(0, "SPLINE", 8, "0", 70, 8, 71, 3, 72, 2, 73, 1, 40, 0, 40, 1, 10, 0, 20, 0)
    assert said_of(by_hand(broken)).startswith("bowl.dxf is damaged")


def test_files_that_are_not_there_or_far_too_large_are_said(tmp_path: Path) -> None:
    path = tmp_path / "sink.dxf"
    with pytest.raises(TemplateError, match=r"sink\.dxf cannot be read"):
        read_template(path)
    with path.open("wb") as file:
        file.truncate(LARGEST_BYTES + 1)
    with pytest.raises(TemplateError, match=r"too large for a template \(16\.0 MB, at most 16\)"):
        read_template(path)
    path.write_bytes(by_hand(SQUARE))
    assert read_template(path).name == "sink.dxf"


# --- Hostile files ----------------------------------------------------------------------------


def quickly(data: bytes) -> str:
    """What is said of a file, or nothing; it may not take long."""
    start = time.perf_counter()
    try:
        outlines(template_in(data, "bowl.dxf"), "in", STYLE)
        said = ""
    except TemplateError as error:
        said = str(error)
    assert time.perf_counter() - start < LONGEST_S
    return said


def test_more_lines_than_a_template_has_are_refused_quickly() -> None:
    many = "".join(line((i, 0), (i + 1, 1)) for i in range(20_001))
    assert "more than 20,000 lines" in quickly(by_hand(many))


def test_rows_of_blocks_without_end_are_refused_quickly() -> None:
    made, space = drawing()
    made.blocks.new("HOLE").add_circle((0.0, 0.0), 1.0)
    rows = {"row_count": 32767, "column_count": 32767, "row_spacing": 3.0, "column_spacing": 3.0}
    space.add_blockref("HOLE", (0.0, 0.0), rows)
    assert "more than 20,000 lines" in quickly(encoded(made))


def test_empty_blocks_without_end_are_refused_quickly() -> None:
    made, space = drawing()
    made.blocks.new("NOTHING")
    space.add_blockref("NOTHING", (0, 0), {"row_count": 32767, "column_count": 32767})
    assert "more than 20,000 lines" in quickly(encoded(made))


def test_blocks_that_hold_each_other_are_refused_quickly() -> None:
    made, space = drawing()
    for name, other in (("ONE", "OTHER"), ("OTHER", "ONE")):
        made.blocks.new(name).add_blockref(other, (1.0, 0.0))
    space.add_blockref("ONE", (0.0, 0.0))
    assert quickly(encoded(made)) == (
        "bowl.dxf is no template, one of its blocks lies in itself: save the sink's outline in a "
        "file of its own."
    )


def test_blocks_that_double_again_and_again_are_refused_quickly() -> None:
    made, space = drawing()
    made.blocks.new("B0").add_circle((0.0, 0.0), 1.0)
    for level in range(1, 8):
        block = made.blocks.new(f"B{level}")
        for place in range(20):
            block.add_blockref(f"B{level - 1}", (place * 3.0, 0.0))
    space.add_blockref("B7", (0.0, 0.0))
    assert "more than 20,000 lines" in quickly(encoded(made))


def test_splines_without_end_are_refused() -> None:
    made, space = drawing()
    space.add_open_spline([(i, i % 7) for i in range(3000)])
    assert "one of its splines is too long" in quickly(encoded(made))


def test_very_many_arcs_between_the_same_points_are_read_quickly() -> None:
    made, space = drawing()
    for i in range(3000):
        space.add_lwpolyline([(0.0, 0.0, 0.1 + i / 1000.0), (10.0, 0.0, 0.0)], format="xyb")
    assert quickly(encoded(made)) == ""


def test_loose_ends_close_to_each_other_are_read_quickly() -> None:
    starts = [(i % 100 / 500.0, i // 100 / 500.0) for i in range(6000)]
    dust = "".join(line((x, y), (x, 9.0 + i)) for i, (x, y) in enumerate(starts))
    assert "closed" in quickly(by_hand(dust))


def test_the_largest_circle_of_a_rim_is_pi_r_squared() -> None:
    assert only(arc((0, 0), 9, 0, 360)).area_sq_in == pytest.approx(81.0 * pi, rel=1e-14)
