"""Drawings as they come from elsewhere: what is mended is shown first, what is hidden stays out.

Areas are closed forms; scipy judges the spline.
"""

from collections.abc import Callable
from contextlib import suppress
from math import cos, pi, radians, sin

import numpy as np
import pytest
from ezdxf.document import Drawing
from ezdxf.layouts.layout import Modelspace
from scipy.interpolate import BSpline

from export.template_files import TemplateError, Unit, template_in
from export.template_outlines import Candidate
from export.templates import Found, first_unit, likely_unit, outlines, read_units, unit_doubt
from geometry.edges import Edge, is_line
from geometry.lengths import LengthStyle
from geometry.naming import EdgeRef, Kind, Tag
from geometry.offsetting import offset
from geometry.outline import bounding_box, outline_of
from tests.export.drawn import (
    BOWL,
    BOWL_AREA,
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
MADE = tuple[Drawing, Modelspace]


def found(made: Drawing, unit: Unit = "in") -> Found:
    return outlines(template_in(encoded(made), "bowl.dxf"), unit, STYLE)


def only(made: Drawing) -> Candidate:
    (one,) = found(made).candidates
    return one


def said_of(data: bytes, unit: Unit = "in") -> str:
    with pytest.raises(TemplateError) as caught:
        outlines(template_in(data, "bowl.dxf"), unit, STYLE)
    return str(caught.value)


def lines_in(space: Modelspace, *pairs: tuple[tuple[float, float], tuple[float, float]]) -> None:
    for a, b in pairs:
        space.add_line(a, b)


# --- Lines that cross, overlap, end on each other ---------------------------------------------


def test_lines_that_run_past_their_corners_are_trimmed_and_shown() -> None:
    made, space = drawing()
    lines_in(
        space,
        ((-0.1, 0), (30.1, 0)),
        ((30, -0.1), (30, 16.1)),
        ((30.1, 16), (-0.1, 16)),
        ((0, 16.1), (0, -0.1)),
    )
    one = only(made)
    assert one.area_sq_in == pytest.approx(480.0)
    assert one.mended
    assert len(one.trimmed) == 8
    assert not one.gaps


def test_lines_along_each_other_count_once() -> None:
    made, space = drawing()
    lines_in(space, ((0, 0), (18, 0)), ((12, 0), (30, 0)), ((30, 0), (30, 16)))
    lines_in(space, ((30, 16), (0, 16)), ((0, 16), (0, 0)))
    one = only(made)
    assert (round(one.area_sq_in, 9), one.mended, one.trimmed) == (480.0, True, ())


def test_a_wall_between_two_bowls_gives_each_of_them_too() -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, 0), (30, 0), (30, 16), (0, 16)], close=True)
    space.add_line((12, 0), (12, 16))
    listed = found(made).candidates
    assert [(round(c.area_sq_in), c.mended) for c in listed] == [
        (480, False),
        (288, True),
        (192, True),
    ]


def test_an_outline_that_crosses_itself_gives_its_two_parts() -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, 0), (30, 0), (10, 16), (20, 16)], close=True)
    # The sides cross where the triangles on 30 and on 10 meet: at three quarters of the height.
    assert [c.area_sq_in for c in found(made).candidates] == pytest.approx([180.0, 20.0])


def test_a_spike_is_left_out() -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, 0), (30, 0), (30, 16), (15, 16), (15, 20), (15, 16), (0, 16)])
    space.add_line((0, 16), (0, 0))
    assert only(made).area_sq_in == pytest.approx(480.0)


@pytest.mark.parametrize("gap", [0.0005, 0.002, 0.005, 0.01, 0.02])
def test_small_gaps_are_closed_so_that_the_outline_can_be_grown(gap: float) -> None:
    made, space = drawing()
    for i in (4, 0, 6, 2):
        (x0, y0, _), (x1, y1, _) = BOWL[i], BOWL[i + 1]
        size = abs(x1 - x0) + abs(y1 - y0)
        back = ((x1 - x0) * gap / size, (y1 - y0) * gap / size)
        space.add_line((x0, y0), (x1 - back[0], y1 - back[1]))
    for (x, y), start in (((28, 14), 0), ((2, 14), 90), ((2, 2), 180), ((28, 2), 270)):
        space.add_arc((x, y), 2.0, start, start + 90)
    one = only(made)
    assert len(one.outline.edges) == 8
    assert one.area_sq_in == pytest.approx(BOWL_AREA, abs=4.0 * gap)
    assert len(one.gaps) == (0 if gap < 0.001 else 4)
    for by in (0.125, -0.25):
        offset(one.outline, by)


def test_the_left_and_the_right_hand_of_a_bowl_are_two() -> None:
    made, space = drawing()
    left = [(0, 0), (20, 0), (20, 6), (12, 6), (12, 12), (0, 12)]
    space.add_lwpolyline(left, close=True)
    space.add_lwpolyline([(20 - x, y) for x, y in left], close=True)
    assert len(found(made).candidates) == 2


def test_lines_in_no_order_and_far_too_many_end_without_a_fault() -> None:
    strewn = "".join(
        line((i % 14, i // 14), (i % 14 + 1, i // 14) if i % 2 else (i % 14, i // 14 + 1))
        for i in range(190)
    )
    for unit in ("in", "mm", "cm"):
        file = template_in(by_hand(strewn), "x.dxf")
        with suppress(TemplateError):
            assert outlines(file, unit, STYLE).candidates


def test_very_many_lines_that_cross_are_left_as_they_are() -> None:
    # 60 by 60 lines cross in 3600 places.
    mesh = "".join(
        line((i / 2, -1), (i / 2, 31)) + line((-1, i / 2), (31, i / 2)) for i in range(60)
    )
    assert said_of(by_hand(mesh)) == "No outline in bowl.dxf is closed: close it in the drawing."


# --- Blocks, layers, sheets -------------------------------------------------------------------


def test_blocks_fifty_deep_are_followed() -> None:
    made, space = drawing()
    bowl_polyline(made.blocks.new("B0"), old=False)
    for level in range(1, 51):
        made.blocks.new(f"B{level}").add_blockref(f"B{level - 1}", (1.0, 0.0))
    space.add_blockref("B50", (0.0, 0.0), {"xscale": -1.0, "rotation": 30.0})
    assert only(made).area_sq_in == pytest.approx(BOWL_AREA, rel=1e-12)
    for level in range(51, 80):
        made.blocks.new(f"B{level}").add_blockref(f"B{level - 1}", (1.0, 0.0))
    space.add_blockref("B79", (0.0, 0.0))
    assert "more than 64 deep" in said_of(encoded(made))


def test_a_block_that_is_mirrored_turned_and_scaled_lands_where_it_is_set() -> None:
    made, space = drawing()
    bowl_polyline(made.blocks.new("B", base_point=(3, 4)), old=False)
    space.add_blockref("B", (100, 50), {"xscale": -1.0, "rotation": 30.0})
    c, s = cos(radians(30.0)), sin(radians(30.0))
    # The middles of the two corner arcs' circles at the front, by hand.
    spots = [(100 - c * (x - 3) - s * (y - 4), 50 - s * (x - 3) + c * (y - 4)) for x, y in
             ((2, 2), (28, 2), (28, 14), (2, 14))]  # fmt: skip
    x0, y0, x1, y1 = bounding_box(only(made).outline)
    assert (x0, x1) == pytest.approx((min(p[0] for p in spots) - 2, max(p[0] for p in spots) + 2))
    assert (y0, y1) == pytest.approx((min(p[1] for p in spots) - 2, max(p[1] for p in spots) + 2))


def test_layers_that_are_off_or_frozen_are_left_out_and_named() -> None:
    made, space = drawing()
    made.layers.add("OFF").off()
    made.layers.add("ICE").freeze()
    bowl_polyline(space, old=False)
    space.add_circle((0, 0), 30.0, dxfattribs={"layer": "OFF"})
    space.add_circle((0, 0), 20.0, dxfattribs={"layer": "0", "invisible": 1})
    made.blocks.new("B").add_circle((0.0, 0.0), 25.0)
    space.add_blockref("B", (0, 0), {"layer": "ICE"})
    read = found(made)
    assert [round(c.area_sq_in, 3) for c in read.candidates] == [round(BOWL_AREA, 3)]
    assert read.notes == ("Left out, since their layers are off or frozen: OFF, ICE.",)


def test_where_all_is_hidden_it_is_shown_and_said() -> None:
    made, space = drawing()
    made.layers.add("CUT").off()
    space.add_circle((0, 0), 9.0, dxfattribs={"layer": "CUT"})
    read = found(made)
    assert read.candidates[0].layer == "CUT"
    assert read.notes == ("They lie on layers that are off or frozen: CUT.",)


def test_lines_on_printing_sheets_alone_are_said() -> None:
    made, _ = drawing()
    made.layout("Layout1").add_circle((3, 3), 2)
    assert said_of(encoded(made)) == (
        "The lines of bowl.dxf lie on its printing sheets: ask for them in its model."
    )


def test_words_hatches_and_dimensions_are_not_lines() -> None:
    made, space = drawing()
    bowl_pieces(space)
    space.add_mtext("cut line")
    space.add_hatch().paths.add_polyline_path([(0, 0), (50, 0), (50, 50)])
    space.add_linear_dim(base=(0, -3), p1=(0, 0), p2=(30, 0)).render()
    assert only(made).area_sq_in == pytest.approx(BOWL_AREA)


def test_what_is_seen_from_below_is_mirrored() -> None:
    below = {"extrusion": (0, 0, -1)}
    made, space = drawing()
    space.add_lwpolyline(BOWL, format="xyb", close=True, dxfattribs=below)
    assert bounding_box(only(made).outline) == pytest.approx((-30.0, 0.0, 0.0, 16.0))
    made, space = drawing()
    for i in (4, 0, 6, 2):
        space.add_line(BOWL[i][:2], BOWL[i + 1][:2])
    for (x, y), start in (((28, 14), 0), ((2, 14), 90), ((2, 2), 180), ((28, 2), 270)):
        space.add_arc((-x, y), 2.0, 90 - start, 180 - start, dxfattribs=below)
    assert only(made).area_sq_in == pytest.approx(BOWL_AREA, rel=1e-9)


# --- Sizes ------------------------------------------------------------------------------------


@pytest.mark.parametrize("at", [(1e6, -2e6), (3e7, 3e7), (4.5e9, 5e8)])
def test_what_lies_far_from_the_origin_keeps_its_area(at: tuple[float, float]) -> None:
    made, space = drawing()
    space.add_lwpolyline([(x + at[0], y + at[1], b) for x, y, b in BOWL], format="xyb", close=True)
    space.add_point((at[0] + 15, at[1] + 8))
    one = only(made)
    assert one.area_sq_in == pytest.approx(BOWL_AREA, rel=1e-6)
    assert len(one.marks) == 1


@pytest.mark.parametrize(("factor", "said"), [(1e-5, "smaller"), (1e12, "larger")])
def test_sizes_beyond_all_measure_are_said(factor: float, said: str) -> None:
    made, space = drawing()
    bowl_polyline(space, old=False, scale=factor)
    assert said_of(encoded(made)) == (
        f"The lines of bowl.dxf are {said} than any template: look at its unit."
    )


def test_a_line_far_from_all_others_is_left_out() -> None:
    made, space = drawing()
    bowl_polyline(space, old=False)
    space.add_circle((1e8, 0), 9.0)
    assert only(made).area_sq_in == pytest.approx(BOWL_AREA)


@pytest.mark.parametrize("value", ["nan", "inf", "1e999"])
def test_sizes_that_are_no_numbers_are_said(value: str) -> None:
    odd = tags(0, "CIRCLE", 8, "0", 10, 5, 20, 5, 40, value)
    straight = tags(0, "LINE", 8, "0", 10, 5, 20, 5, 11, value, 21, 0)
    for entity in (odd, straight):
        assert "no numbers" in said_of(by_hand(entity))
    assert said_of(by_hand(odd)) == (
        "The lines in bowl.dxf have sizes that are no numbers: ask for it once more."
    )
    file = template_in(by_hand(odd + polygon((0, 0), (9, 0), (9, 9))), "bowl.dxf")
    assert outlines(file, "in", STYLE).notes == (
        "Some lines are left out: their sizes are no numbers.",
    )


@pytest.mark.parametrize(
    ("factor", "unit", "guess"), [(0.0254, "in", "m"), (0.0254, "mm", "m"), (1 / 12, "in", None)]
)
def test_meters_are_guessed_too(factor: float, unit: Unit, guess: Unit | None) -> None:
    made, space = drawing()
    bowl_polyline(space, old=False, scale=factor)
    doubt = unit_doubt(found(made, unit).candidates[0], unit, STYLE)
    assert (doubt[1] if doubt else None) == guess


@pytest.mark.parametrize(
    ("factor", "unit"), [(1.0, "in"), (25.4, "mm"), (2.54, "cm"), (0.0254, "m")]
)
def test_a_drawing_without_a_unit_is_read_in_those_that_make_sense(
    factor: float, unit: Unit
) -> None:
    made, space = drawing()
    bowl_polyline(space, old=False, scale=factor)
    made.header["$INSUNITS"] = 0
    shares: list[float] = []
    read = read_units(template_in(encoded(made), "bowl.dxf"), STYLE, shares.append)
    assert shares == sorted(shares)
    assert read.unit is None
    first = first_unit(read)
    assert likely_unit(read.found[first].candidates[0], first) == unit
    assert read.found[unit].candidates[0].area_sq_in == pytest.approx(BOWL_AREA)
    unlike: Unit = "mm" if unit == "m" else "m"
    assert "nothing in bowl.dxf" in read.found[unlike].notes[0]


def test_what_is_closed_in_no_unit_is_said_without_a_length() -> None:
    with pytest.raises(TemplateError, match=r"^No outline in x is closed: close it"):
        read_units(template_in(by_hand(line((0, 0), (900, 0)), None), "x"), STYLE)
    with pytest.raises(TemplateError, match="more than 20,000 lines"):
        read_units(template_in(by_hand(line((0, 0), (9, 0)) * 20_001, None), "x"), STYLE)


# --- Files ------------------------------------------------------------------------------------


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_a_binary_file_is_read(version: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    made, space = drawing(version)
    bowl_polyline(space, version == "R12")
    path = tmp_path_factory.mktemp("binary") / "bowl.dxf"
    made.saveas(path, fmt="bin")
    (one,) = outlines(template_in(path.read_bytes(), "bowl.dxf"), "in", STYLE).candidates
    assert one.area_sq_in == pytest.approx(BOWL_AREA)
    with pytest.raises(TemplateError, match="damaged"):
        template_in(path.read_bytes()[:700] + b"SECTION\xff\xff", "bowl.dxf")


def test_a_file_that_breaks_off_after_its_outline_says_so() -> None:
    data = by_hand(polygon((0, 0), (9, 0), (9, 9)) + line((0, 0), (3, 3)))
    file = template_in(data[: data.rindex(b"0\nEOF")], "bowl.dxf")
    assert not file.whole
    assert outlines(file, "in", STYLE).notes == (
        "The file breaks off before its end: something may be missing.",
    )


CODED: tuple[tuple[str, Callable[[str], bytes]], ...] = (
    ("Größe", lambda text: text.encode("utf-16")),
    ("Größe", lambda text: text.encode("cp1252")),
    ("Вырез", lambda text: text.replace("ANSI_1252", "ANSI_1251").encode("cp1251")),
    ("Größe", lambda text: text.replace("ANSI_1252", "WHAT").encode("cp1252")),
)


@pytest.mark.parametrize(("name", "code"), CODED)
def test_layers_keep_their_names_in_other_codes(name: str, code: Callable[[str], bytes]) -> None:
    header = tags(9, "$DWGCODEPAGE", 3, "ANSI_1252")
    circle = tags(0, "CIRCLE", 8, name, 10, 5, 20, 5, 40, 9)
    text = by_hand(circle).decode()
    data = code(text.replace("HEADER\n", "HEADER\n" + header))
    (one,) = outlines(template_in(data, "bowl.dxf"), "in", STYLE).candidates
    assert one.layer == name


# --- Curves -----------------------------------------------------------------------------------


def spline_area(spline: BSpline, low: float, high: float) -> float:
    """Green's theorem over a spline, by scipy: half the integral of x y' - y x'."""
    t = np.linspace(low, high, 200_001)
    x, y = spline(t).T
    dx, dy = spline.derivative()(t).T
    return float(abs(np.trapezoid(x * dy - y * dx, t)) / 2.0)


def test_a_closed_spline_encloses_what_scipy_says() -> None:
    points = [(0, 0), (20, -2), (30, 6), (24, 14), (10, 16), (-2, 9)]
    made, space = drawing()
    spline = space.add_spline(degree=3)
    spline.set_closed([(x, y, 0) for x, y in points], degree=3)
    around = np.array([*points, *points[:3]], dtype=float)
    judge = BSpline(np.arange(len(around) + 4, dtype=float), around, 3)
    read = found(made)
    area = spline_area(judge, 3.0, float(len(around)))
    assert read.candidates[0].area_sq_in == pytest.approx(area, rel=1e-6)
    assert read.notes == ("Ellipses and splines are followed by arcs to 0.00005 in.",)


def test_curves_without_end_are_given_up_while_they_are_followed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("export.template_lines.MOST_LINES", 100)
    made, space = drawing()
    # All of it would take some 400 arcs; it stops at the first that are too many.
    space.add_open_spline([(float(i), float(7 * i % 5), 0.0) for i in range(60)])
    assert "it holds more than" in said_of(encoded(made))


def test_a_curve_of_too_many_arcs_is_followed_less_closely_and_said() -> None:
    # A circle of 30 in with 40 waves.
    made, space = drawing()
    waves = [
        ((12 + 0.4 * (k % 2)) * cos(pi * k / 40), (12 + 0.4 * (k % 2)) * sin(pi * k / 40), 0.0)
        for k in range(80)
    ]
    space.add_spline(degree=3).set_closed(waves, degree=3)
    metric = LengthStyle("mm")
    read = outlines(template_in(encoded(made), "bowl.dxf"), "in", metric)
    assert 250 < len(read.candidates[0].outline.edges) <= 500
    assert read.notes == ("Ellipses and splines are followed by arcs to 0.025 mm.",)


def test_a_stretched_block_turns_arcs_into_ellipses() -> None:
    made, space = drawing()
    bowl_polyline(made.blocks.new("B"), old=False)
    space.add_blockref("B", (0, 0), {"xscale": 1.2, "yscale": 0.8})
    assert only(made).area_sq_in == pytest.approx(BOWL_AREA * 0.96, rel=1e-6)


def test_a_smooth_outline_of_arcs_can_be_grown() -> None:
    made, space = drawing()
    space.add_ellipse((5, 5), (12, 3), 0.6)
    one = only(made)
    assert not any(map(is_line, one.outline.edges))
    for by in (0.25, -0.25):
        assert len(offset(one.outline, by).edges) == len(one.outline.edges)


def test_edges_are_what_they_were() -> None:
    """The outline of one polyline comes back bit for bit."""
    made, space = drawing()
    bowl_polyline(space, old=False)
    tag = Tag(Kind.OPENING, EdgeRef("opening1", "cut"))
    rows = zip(BOWL, (*BOWL[1:], BOWL[0]), strict=True)
    edges = [(Edge(a[:2], b[:2], a[2]), tag) for a, b in rows]
    assert set(only(made).outline.edges) == set(outline_of(edges).edges)
