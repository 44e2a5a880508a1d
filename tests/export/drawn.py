"""Template drawings written anew for tests, each by a writer that knows nothing of the reader."""

from collections.abc import Callable, Sequence
from io import StringIO
from math import cos, pi, radians, sin, tan
from pathlib import Path
from typing import NamedTuple

import ezdxf.filemanagement
import pyogrio.raw
import shapely
from ezdxf.document import Drawing
from ezdxf.layouts.blocklayout import BlockLayout
from ezdxf.layouts.layout import Modelspace

QUARTER = tan(pi / 8.0)
MM = 25.4
VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")
INSUNITS = {"in": 1, "ft": 2, "mm": 4, "cm": 5, "m": 6}
"""$INSUNITS of the DXF reference."""

BOWL = (
    (2.0, 0.0, 0.0),
    (28.0, 0.0, QUARTER),
    (30.0, 2.0, 0.0),
    (30.0, 14.0, QUARTER),
    (28.0, 16.0, 0.0),
    (2.0, 16.0, QUARTER),
    (0.0, 14.0, 0.0),
    (0.0, 2.0, QUARTER),
)
BOWL_AREA = 30.0 * 16.0 - (4.0 - pi) * 4.0
"""A bowl of 30 by 16 in with corners of 2 in: x, y and bulge of each corner; closed form."""


class Case(NamedTuple):
    """A file, the area of its largest outline in closed form, and how many arcs it has."""

    data: bytes
    area: float
    arcs: int
    unit: str = "in"


def encoded(drawing: Drawing) -> bytes:
    text = StringIO()
    drawing.write(text)
    return drawing.encode(text.getvalue())


def drawing(version: str = "R2010", unit: str = "in") -> tuple[Drawing, Modelspace]:
    made = ezdxf.filemanagement.new(version)
    if version != "R12":
        made.header["$INSUNITS"] = INSUNITS[unit]
    return made, made.modelspace()


def bowl_polyline(space: Modelspace | BlockLayout, old: bool, scale: float = 1.0) -> None:
    rows = [(x * scale, y * scale, bulge) for x, y, bulge in BOWL]
    if old:
        space.add_polyline2d(rows, format="xyb", close=True)
    else:
        space.add_lwpolyline(rows, format="xyb", close=True)


def bowl_pieces(space: Modelspace | BlockLayout, scale: float = 1.0) -> None:
    """The same bowl as four lines and four arcs, in no order."""
    for i in (4, 0, 6, 2):
        a, b = BOWL[i], BOWL[i + 1]
        space.add_line((a[0] * scale, a[1] * scale), (b[0] * scale, b[1] * scale))
    for (x, y), start in (((28, 14), 0), ((2, 14), 90), ((2, 2), 180), ((28, 2), 270)):
        space.add_arc((x * scale, y * scale), 2.0 * scale, start, start + 90)


def by_polyline(version: str, unit: str, factor: float) -> Case:
    made, space = drawing(version, unit)
    bowl_polyline(space, version == "R12", factor)
    return Case(encoded(made), BOWL_AREA, 4, said(version, unit))


def by_pieces(version: str, unit: str, factor: float) -> Case:
    made, space = drawing(version, unit)
    bowl_pieces(space, factor)
    return Case(encoded(made), BOWL_AREA, 4, said(version, unit))


def said(version: str, unit: str) -> str:
    """The unit that a version says; R12 says none."""
    return "" if version == "R12" else unit


def a_circle() -> Case:
    made, space = drawing()
    space.add_circle((3.0, -2.0), 8.25)
    return Case(encoded(made), pi * 8.25**2, 2)


def an_ellipse() -> Case:
    made, space = drawing()
    space.add_ellipse((1.0, 1.0), (9.0, 4.0), 0.6)
    return Case(encoded(made), pi * 97.0 * 0.6, -1)


def half_an_ellipse() -> Case:
    made, space = drawing()
    space.add_ellipse((0.0, 0.0), (10.0, 0.0), 0.7, 0.0, pi)
    space.add_line((-10.0, 0.0), (10.0, 0.0))
    return Case(encoded(made), pi * 70.0 / 2.0, -1)


def a_spline() -> Case:
    """A closed chain of four cubics; the area of each by Green's theorem on its hull."""
    made, space = drawing()
    corners = [(10.0, 0.0), (0.0, 7.0), (-10.0, 0.0), (0.0, -7.0)]
    total, k = 0.0, 0.6
    for i, (x0, y0) in enumerate(corners):
        x3, y3 = corners[(i + 1) % 4]
        # Tangents are upright at the sides and level at the top and the foot.
        first = (x0, y0 + k * (y3 - y0)) if i % 2 == 0 else (x0 + k * (x3 - x0), y0)
        last = (x3 - k * (x3 - x0), y3) if i % 2 == 0 else (x3, y3 - k * (y3 - y0))
        hull = [(x0, y0), first, last, (x3, y3)]
        weights = ((0, 1, 6.0), (0, 2, 3.0), (0, 3, 1.0), (1, 2, 3.0), (1, 3, 3.0), (2, 3, 6.0))
        total += sum(
            w * (hull[a][0] * hull[b][1] - hull[b][0] * hull[a][1]) / 20.0 for a, b, w in weights
        )
        space.add_open_spline(hull, degree=3)
    return Case(encoded(made), total, -1)


def a_rational_circle() -> Case:
    """A circle as one rational spline of degree 2 (nine points), from the textbooks."""
    made, space = drawing()
    r, w = 7.5, 2.0**-0.5
    ways = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]
    knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    space.add_rational_spline(
        [(r * x, r * y) for x, y in ways], [1, w, 1, w, 1, w, 1, w, 1], degree=2, knots=knots
    )
    return Case(encoded(made), pi * r * r, -1)


def a_block() -> Case:
    """The bowl in a block in a block, turned, made larger and mirrored."""
    made, space = drawing("R2010", "mm")
    inner = made.blocks.new("INNER", base_point=(5.0, 5.0))
    bowl_pieces(inner)
    outer = made.blocks.new("OUTER")
    outer.add_blockref("INNER", (3.0, 1.0), {"rotation": 30.0, "xscale": -MM, "yscale": MM})
    space.add_blockref("OUTER", (700.0, -300.0), {"rotation": 123.0})
    return Case(encoded(made), BOWL_AREA, 4, "mm")


def a_stretched_block() -> Case:
    made, space = drawing()
    bowl_polyline(made.blocks.new("BOWL"), old=False)
    space.add_blockref("BOWL", (1.0, 2.0), {"xscale": 0.8, "yscale": 1.1, "rotation": 20.0})
    return Case(encoded(made), BOWL_AREA * 0.88, -1)


def rows_of_blocks() -> Case:
    made, space = drawing()
    made.blocks.new("HOLE").add_circle((0.0, 0.0), 2.0)
    attribs = {"row_count": 2, "column_count": 3, "row_spacing": 9.0, "column_spacing": 11.0}
    space.add_blockref("HOLE", (0.0, 0.0), attribs)
    return Case(encoded(made), pi * 4.0, 2)


def seen_from_below() -> Case:
    made, space = drawing()
    rows = [(-x, y, -bulge) for x, y, bulge in BOWL]
    below = {"extrusion": (0.0, 0.0, -1.0)}
    space.add_lwpolyline(rows, format="xyb", close=True, dxfattribs=below)
    space.add_arc((-15.0, 8.0), 1.0, 20.0, 350.0, dxfattribs=below)
    return Case(encoded(made), BOWL_AREA, 4)


def with_much_beside() -> Case:
    """The bowl among words, dimensions, a hatch, and lines that go nowhere; drawn twice."""
    made, space = drawing()
    bowl_polyline(space, old=False)
    bowl_polyline(space, old=False)
    bowl_pieces(space)
    space.add_text("CUT HERE").set_placement((3.0, 3.0))
    space.add_linear_dim(base=(0, -4), p1=(0, 0), p2=(30, 0)).render()
    space.add_hatch().paths.add_polyline_path([(0, 0), (40, 0), (40, 40)], is_closed=True)
    space.add_line((-9.0, 8.0), (39.0, 8.0))
    space.add_line((15.0, -5.0), (15.0, 21.0))
    return Case(encoded(made), BOWL_AREA, 4)


# --- GDAL -------------------------------------------------------------------------------------


def by_gdal(shapes: Sequence[shapely.Geometry], folder: Path) -> bytes:
    """A file by GDAL's own writer of DXF; its header says inches."""
    path = folder / "gdal.dxf"
    pyogrio.raw.write(
        str(path),
        shapely.to_wkb(shapes),
        [],
        [],
        driver="DXF",
        geometry_type="LineString",
        crs='LOCAL_CS["board"]',
    )
    data = path.read_bytes()
    path.unlink()
    return data


def gdal_case(name: str, folder: Path) -> Case:
    corners = [(0.0, 0.0), (30.0, 0.0), (30.0, 12.0), (24.0, 16.0), (0.0, 16.0)]
    area = shapely.Polygon(corners).area
    match name:
        case "closed":
            shapes = [shapely.LineString([*corners, corners[0]])]
        case "sides":
            ends = zip(corners, [*corners[1:], corners[0]], strict=True)
            shapes = [shapely.LineString(side) for side in ends]
        case "round":
            ring = shapely.Point(5.0, 5.0).buffer(9.0, quad_segs=24).exterior
            shapes, area = [shapely.LineString(ring)], shapely.Polygon(ring).area
        case "two":
            ring = shapely.box(4.0, 4.0, 10.0, 9.0).exterior
            shapes = [shapely.LineString([*corners, corners[0]]), shapely.LineString(ring)]
        case "in halves":
            shapes = [shapely.LineString(corners[:3]), shapely.LineString([*corners[2:], (0, 0)])]
        case _:
            turned = [(y * 10.0, -x * 10.0) for x, y in corners]
            shapes = [shapely.LineString([*turned, turned[0]])]
            area *= 100.0
    return Case(by_gdal(shapes, folder), area, 0)


GDAL = ("closed", "sides", "round", "two", "in halves", "turned")


# --- By hand ----------------------------------------------------------------------------------


def tags(*rows: object) -> str:
    return "".join(f"{row}\n" for row in rows)


def by_hand(entities: str, units: int | None = 1) -> bytes:
    """A file of header and entities only, as a page of text: the least that is a DXF."""
    header = tags(0, "SECTION", 2, "HEADER", 9, "$INSUNITS", 70, units, 0, "ENDSEC")
    body = tags(0, "SECTION", 2, "ENTITIES") + entities + tags(0, "ENDSEC", 0, "EOF")
    return ((header if units is not None else "") + body).encode()


def line(a: tuple[float, float], b: tuple[float, float], layer: str = "0") -> str:
    return tags(0, "LINE", 8, layer, 10, repr(a[0]), 20, repr(a[1]), 11, repr(b[0]), 21, repr(b[1]))


def arc(center: tuple[float, float], radius: float, start: float, end: float) -> str:
    return tags(
        0, "ARC", 8, "0", 10, center[0], 20, center[1], 40, radius, 50, repr(start), 51, repr(end)
    )


def polygon(*points: tuple[float, float]) -> str:
    return "".join(line(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True))


def hand_slot() -> Case:
    text = line((0, 0), (10, 0)) + line((10, 4), (0, 4))
    text += arc((10, 2), 2.0, 270.0, 90.0) + arc((0, 2), 2.0, 90.0, 270.0)
    return Case(by_hand(text), 40.0 + pi * 4.0, 2)


def hand_hexagon() -> Case:
    corners = [(8.0 * cos(radians(60.0 * i)), 8.0 * sin(radians(60.0 * i))) for i in range(6)]
    return Case(by_hand(polygon(*corners)), 6.0 * 64.0 * 3.0**0.5 / 4.0, 0)


def hand_pie() -> Case:
    end = (9.0 * cos(radians(250.0)), 9.0 * sin(radians(250.0)))
    text = line((0, 0), (9, 0)) + arc((0, 0), 9.0, 0.0, 250.0) + line(end, (0, 0))
    return Case(by_hand(text), 81.0 * radians(250.0) / 2.0, 2)


def hand_circle() -> Case:
    text = tags(0, "CIRCLE", 8, "0", 10, 1.5, 20, 2.5, 40, 6.0)
    return Case(by_hand(text), pi * 36.0, 2)


def hand_whole_arc() -> Case:
    return Case(by_hand(arc((0, 0), 5.0, 45.0, 405.0)), pi * 25.0, 2)


def hand_old_polyline() -> Case:
    """Vertices with bulges, closed by a flag, with the flagged point of a frame between."""
    text = tags(0, "POLYLINE", 8, "0", 66, 1, 70, 1)
    rows = ((0, 0, 0, 0), (3, 9, 0, 16), (8, 0, 1.0, 0), (8, 6, 0, 0), (0, 6, 0, 0))
    for x, y, bulge, flag in rows:
        text += tags(0, "VERTEX", 8, "0", 10, x, 20, y, 42, bulge, 70, flag)
    return Case(by_hand(text + tags(0, "SEQEND", 8, "0")), 48.0 + pi * 4.5, 1)


def hand_rounded_numbers() -> Case:
    """Corners to six places, off by as much where they meet."""
    text = line((0.000002, 0), (10.000002, 0)) + line((10, 0), (10, 5.000001))
    text += line((10, 5), (0, 5)) + line((0, 5), (0, 0.000002))
    return Case(by_hand(text), 50.0, 0)


def hand_no_unit() -> Case:
    return Case(by_hand(polygon((0, 0), (12, 0), (12, 7), (0, 7)), None), 84.0, 0, "")


def hand_carriage_returns() -> Case:
    data = by_hand(polygon((0, 0), (12, 0), (12, 7), (0, 7)))
    return Case(data.replace(b"\n", b"\r\n"), 84.0, 0)


def hand_spaced_codes() -> Case:
    rows = by_hand(polygon((0, 0), (5, 0), (5, 5))).decode().splitlines()
    spaced = "".join(
        f"{row:>3}\n" if place % 2 == 0 else f"{row}\n" for place, row in enumerate(rows)
    )
    return Case(spaced.encode(), 12.5, 0)


def hand_centimeters() -> Case:
    return Case(by_hand(polygon((0, 0), (76.2, 0), (76.2, 40.64), (0, 40.64)), 5), 480.0, 0, "cm")


HAND: tuple[Callable[[], Case], ...] = (
    hand_slot,
    hand_hexagon,
    hand_pie,
    hand_circle,
    hand_whole_arc,
    hand_old_polyline,
    hand_rounded_numbers,
    hand_no_unit,
    hand_carriage_returns,
    hand_spaced_codes,
    hand_centimeters,
)
EZDXF: tuple[Callable[[], Case], ...] = (
    a_circle,
    an_ellipse,
    half_an_ellipse,
    a_spline,
    a_rational_circle,
    a_block,
    a_stretched_block,
    rows_of_blocks,
    seen_from_below,
    with_much_beside,
)


def corpus(folder: Path) -> dict[str, Case]:
    """Return every drawing by its writer's name and its own."""
    cases: dict[str, Case] = {}
    for number, version in enumerate(VERSIONS):
        unit, factor = (("in", 1.0), ("mm", MM))[number % 2]
        cases[f"ezdxf {version} polyline"] = by_polyline(version, unit, factor)
        cases[f"ezdxf {version} pieces"] = by_pieces(version, unit, factor)
    cases |= {f"ezdxf {make.__name__}": make() for make in EZDXF}
    cases |= {f"gdal {name}": gdal_case(name, folder) for name in GDAL}
    cases |= {f"hand {make.__name__}": make() for make in HAND}
    return cases
