"""GDAL (by pyogrio), an independent reader of DXF, sees what was meant; ezdxf finds no fault.

GDAL turns arcs into chords; the step is set so small that areas agree to 1e-6.
"""

import os

# Read once, when the library is loaded.
os.environ["OGR_ARC_STEPSIZE"] = "0.05"

from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from io import StringIO
from itertools import combinations
from math import pi, radians
from pathlib import Path
from typing import NamedTuple

import pyogrio
import pytest
import shapely
from ezdxf.entities.circle import Circle
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read, readfile
from ezdxf.math import Vec2
from shapely.geometry.base import BaseGeometry

from export.cut_plan_dxf import cut_plan
from export.dxf import DRILL_IN, bases, harmless, knockouts, sidewalls
from export.planned import planned
from export.stamp import Stamp, stamped
from geometry.edges import is_line, length, radius
from geometry.outline import Outline, area
from shop import plan
from shop.base_panels import base_panels
from shop.job import Job
from shop.samples import sample_names
from tests.export.jobs import EMPTY, TODAY, metric, oddly_named, on_base, sample

MM = 25.4
"""An inch in millimeters, exact by definition (international yard and pound agreement, 1959)."""

WRITERS = {"bases": bases, "sidewalls": sidewalls, "knockouts": knockouts, "cut plan": cut_plan}
JOBS: dict[str, Callable[[], Job]] = {
    **{name: partial(sample, name) for name in sample_names()},
    "metric": lambda: metric("corner-with-range"),
    "sides on the base": lambda: on_base("round-island"),
    "odd names": oddly_named,
    "empty": lambda: EMPTY,
}


SMALL = ("galley", "metric", "sides on the base", "odd names", "empty")
"""Few enough screws for GDAL to turn each into thousands of chords quickly."""


class Seen(NamedTuple):
    """A feature as GDAL reads it."""

    layer: str
    shape: BaseGeometry
    text: str


def seen(data: bytes, folder: Path) -> list[Seen]:
    path = folder / "drawing.dxf"
    path.write_bytes(data)
    meta, _, shapes, fields = pyogrio.raw.read(path)
    names = list(meta["fields"])
    layers, texts = fields[names.index("Layer")], fields[names.index("Text")]
    return [
        Seen(str(layer), shape, str(text or ""))
        for layer, shape, text in zip(layers, shapely.from_wkb(shapes), texts, strict=True)
    ]


def edges_of(line: LWPolyline) -> Iterator[tuple[Vec2, ...]]:
    """Edges by their ends, in either order, and their middle (bulges: see test_bulges)."""
    points = [(Vec2(x, y), bulge) for x, y, bulge in line.get_points("xyb")]
    for (a, bulge), (b, _) in zip(points, [*points[1:], points[0]], strict=True):
        middle = (a + b) / 2.0 - (b - a).orthogonal() * (bulge / 2.0)
        yield (*sorted((a.round(6), b.round(6))), middle.round(6))


def stamp_of(job: Job) -> Stamp:
    return stamped(job, TODAY)


def areas(features: list[Seen], layer: str) -> list[float]:
    return sorted(shapely.Polygon(f.shape.coords).area for f in features if f.layer == layer)


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("file", WRITERS)
def test_audit_finds_nothing_and_mends_nothing(file: str, job: str, tmp_path: Path) -> None:
    made = JOBS[job]()
    path = tmp_path / "audited.dxf"
    path.write_bytes(WRITERS[file](made, stamp_of(made)))
    drawing = readfile(path)
    audit = drawing.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    # $INSUNITS of the DXF reference: 1 inches, 4 millimeters.
    assert drawing.header["$INSUNITS"] == (4 if made.display == "mm" else 1)


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("file", WRITERS)
def test_every_line_is_closed_and_nothing_is_drawn_twice(file: str, job: str) -> None:
    made = JOBS[job]()
    drawing = read(StringIO(WRITERS[file](made, stamp_of(made)).decode()))
    drawn: Counter[object] = Counter()
    for entity in drawing.modelspace():
        match entity:
            case LWPolyline():
                assert entity.closed
                drawn.update((entity.dxf.layer, *edge) for edge in edges_of(entity))
            case Circle():
                drawn[entity.dxf.layer, *entity.dxf.center.round(6)] += 1
            case _:
                assert entity.dxftype() == "TEXT"
    assert not [what for what, count in drawn.items() if count > 1]


@pytest.mark.parametrize("job", SMALL)
@pytest.mark.parametrize("file", WRITERS)
def test_words_lie_on_their_own_layer_and_nothing_else_does(
    file: str, job: str, tmp_path: Path
) -> None:
    made = JOBS[job]()
    for feature in seen(WRITERS[file](made, stamp_of(made)), tmp_path):
        assert feature.text or feature.shape.is_closed
        assert (feature.layer == "words") == bool(feature.text)
        assert (feature.layer == "words") == (feature.shape.geom_type == "Point")


def unseen(outline: Outline) -> float:
    """The most that chords one step long leave out of an outline's area.

    A chord of angle a leaves r^2 (a - sin a) / 2 out, an arc of length s hence at most
    s r a^2 / 12: next to nothing but for a scribed back, whose circles are hundreds of feet across.
    """
    arcs = [edge for edge in outline.edges if not is_line(edge)]
    return (
        sum(length(arc) * radius(arc) for arc in arcs)
        * radians(float(os.environ["OGR_ARC_STEPSIZE"])) ** 2
        / 12.0
    )


@pytest.mark.parametrize("job", JOBS)
def test_areas_of_bases_and_knockouts_agree(job: str, tmp_path: Path) -> None:
    made = JOBS[job]()
    factor = MM**2 if made.display == "mm" else 1.0
    molds = plan.molds(made)
    features = seen(bases(made, stamp_of(made)), tmp_path)
    panels = [panel.outline for mold in molds for panel in base_panels(made, mold).panels]
    bases_of = sorted((area(panel), unseen(panel)) for panel in panels)
    assert sum(map(area, panels)) == pytest.approx(sum(area(mold.base) for mold in molds))
    for found, (true, lost) in zip(areas(features, "cut outline"), bases_of, strict=True):
        assert found == pytest.approx(true * factor, rel=1e-6, abs=lost * factor)
    blocks = [k for mold in molds for k in mold.knockouts]
    shapes = [k.outline for k in blocks] + [k.counterbore.outline for k in blocks if k.counterbore]
    expected = sorted(abs(area(shape)) * factor for shape in shapes)
    features = seen(knockouts(made, stamp_of(made)), tmp_path)
    assert areas(features, "knockout") == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("job", JOBS)
def test_areas_on_the_cut_plan_are_those_of_the_parts_and_sheets(job: str, tmp_path: Path) -> None:
    made = JOBS[job]()
    factor = MM**2 if made.display == "mm" else 1.0
    plans = planned(made).sheets
    features = seen(cut_plan(made, stamp_of(made)), tmp_path)
    parts = [(area(p.outline), unseen(p.outline)) for cut in plans for p in cut.need.parts]
    parts += [(s.length_in * s.width_in, 0.0) for cut in plans for s in cut.need.strips]
    for found, (true, lost) in zip(areas(features, "cut outline"), sorted(parts), strict=True):
        assert found == pytest.approx(true * factor, rel=1e-6, abs=lost * factor)
    boards = [cut.need.sheets.board(used.kind) for cut in plans for used in cut.plan.used]
    sheets = sorted(board.length_in * board.width_in * factor for board in boards)
    assert areas(features, "stock sheet") == pytest.approx(sheets)


@pytest.mark.parametrize("job", SMALL)
def test_every_part_of_the_cut_plan_lies_on_its_sheet_clear_of_the_others(
    job: str, tmp_path: Path
) -> None:
    made = JOBS[job]()
    features = seen(cut_plan(made, stamp_of(made)), tmp_path)
    by_layer = {
        layer: [shapely.Polygon(f.shape.coords) for f in features if f.layer == layer]
        for layer in ("stock sheet", "cut outline", "offcut to keep")
    }
    cut = [*by_layer["cut outline"], *by_layer["offcut to keep"]]
    for shape in cut:
        assert sum(sheet.buffer(1e-4).contains(shape) for sheet in by_layer["stock sheet"]) == 1
    for one, other in combinations(cut, 2):
        assert one.intersection(other).area < 1e-6


@pytest.mark.parametrize("job", SMALL)
def test_every_sidewall_is_a_rectangle_of_its_blank_with_its_screws(
    job: str, tmp_path: Path
) -> None:
    made = JOBS[job]()
    factor = MM if made.display == "mm" else 1.0
    features = seen(sidewalls(made, stamp_of(made)), tmp_path)
    strips = [strip for mold in plan.molds(made) for strip in mold.strips]
    blanks = [f for f in features if f.layer == "cut outline"]
    # Of each bent strip's backing blocks one is drawn; an insert is no strip.
    order = [s for strip in strips for s in (strip, *((None,) if strip.blocks else ()))]
    assert len(blanks) == len(order)
    for blank, strip in zip(blanks, order, strict=True):
        if strip is None or strip.insert is not None:
            continue
        x0, y0, x1, y1 = (v / factor for v in blank.shape.bounds)
        longest = max(strip.face_length_in, strip.back_length_in)
        assert x1 - x0 >= longest - 1e-9
        assert y1 - y0 == pytest.approx(strip.height_in, abs=1e-9)
    drills = areas(features, "drill")
    outside = made.molds.construction == "sides-outside-base"
    screwed = [strip for strip in strips if strip.insert is None]
    assert len(drills) == (sum(len(strip.screws) for strip in screwed) if outside else 0)
    hole = pi * (DRILL_IN * factor / 2.0) ** 2
    assert drills == pytest.approx([hole] * len(drills), rel=1e-5)


def test_inserts_and_backing_blocks_are_cut_as_they_stand(tmp_path: Path) -> None:
    job = sample("round-island")
    features = seen(sidewalls(job, stamp_of(job)), tmp_path)
    found = areas(features, "cut outline")
    strips = plan.mold(job, "A").strips
    (bent,) = [strip for strip in strips if strip.blocks]
    inserts = [strip.insert for strip in strips if strip.insert is not None]
    assert len(inserts) == 1
    for shape in (bent.blocks[0], *inserts):
        assert any(a == pytest.approx(area(shape), rel=1e-6) for a in found)


def test_screws_from_below_go_into_the_middle_of_the_sidewalls(tmp_path: Path) -> None:
    job = on_base("round-island")
    features = seen(bases(job, stamp_of(job)), tmp_path)
    stands = [shapely.Polygon(f.shape.coords) for f in features if f.layer == "stands here"]
    drills = [f.shape.centroid for f in features if f.layer == "drill"]
    assert len(drills) == sum(mold.screw_count for mold in plan.molds(job))
    for drill in drills:
        nearest = min(shape.exterior.distance(drill) for shape in stands)
        assert nearest == pytest.approx(job.molds.sidewall_thickness / 2.0, abs=1e-3)
        assert not any(shape.contains(drill) for shape in stands)


def test_an_empty_job_leaves_only_the_title(tmp_path: Path) -> None:
    for writer in WRITERS.values():
        features = seen(writer(EMPTY, stamp_of(EMPTY)), tmp_path)
        assert len(features) == 2
        assert features[1].text == "Nothing yet, revision 1, 2026-03-02"


def test_every_drawing_says_its_job_revision_date_and_that_it_is_a_sample(tmp_path: Path) -> None:
    job = sample("galley")
    for writer in WRITERS.values():
        texts = [f.text for f in seen(writer(job, stamp_of(job)), tmp_path)]
        assert f"{job.name}, revision 1, 2026-03-02, SAMPLE" in texts


def test_each_base_says_face_down_and_how_it_lies(tmp_path: Path) -> None:
    job = sample("corner-with-range")
    texts = [f.text for f in seen(bases(job, stamp_of(job)), tmp_path)]
    for mold in plan.molds(job):
        assert mold.handedness in texts
        assert any(text.startswith(f"{mold.piece} ") and "FACE DOWN" in text for text in texts)


def test_the_same_drawing_gives_the_same_bytes() -> None:
    job = sample("round-island")
    for writer in WRITERS.values():
        assert writer(job, stamp_of(job)) == writer(job, stamp_of(job))


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("a\nb\tc", "a b c"),
        ("%%u %%%", "% %u % % %"),
        ("\\Pback^J", "/PbackJ"),
        ('="x"', '="x"'),
    ],
)
def test_codes_of_the_format_in_names_are_harmless(said: str, written: str) -> None:
    assert harmless(said) == written


def test_a_name_of_codes_comes_back_in_words() -> None:
    job = oddly_named()
    drawing = read(StringIO(bases(job, stamp_of(job)).decode()))
    texts = [text.dxf.text for text in drawing.modelspace().query("TEXT")]
    assert any("quoted" in text and "½°" in text for text in texts)
    assert not any("%%" in text or "\\" in text or "^" in text for text in texts)
