"""Seams of two straight parts, against laws and a polygon library."""

from math import fsum, radians
from random import Random

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn
from msgspec.structs import replace
from shapely import LineString

from geometry.crossing import chord
from geometry.edges import Edge, direction_at
from geometry.frames import IslandFrame, LegFrame, Top, WallLine
from geometry.naming import EdgeRef, GeometryError, Kind
from geometry.outline import area, checked, contains, mirrored
from geometry.points import Point, along, cross, distance, dot, left_of, minus, turned
from geometry.seams import Bend, Seam, SeamOnIsland, SeamOnLeg, SeamPath, seam_parts, seam_path
from geometry.splitting import Split, split
from tests.geometry.split_cases import (
    Case,
    ell,
    opening_lists,
    outlines,
    polygon,
    rectangle,
    seam,
    seam_paths,
    straight,
)

many = settings(
    deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)


@st.composite
def bent_cases(draw: DrawFn, most: int = 2) -> Case:
    """Tops with openings and up to so many seams, each bent somewhere on its way."""
    outline = draw(outlines())
    openings = draw(opening_lists(outline))
    paths: list[SeamPath] = []
    for number in range(1, draw(st.integers(1, most)) + 1):
        path = draw(seam_paths(outline, openings, number))
        met = chord(outline, path.start, path.direction)
        if met is not None:
            far = distance(path.start, met[1])
            knee = along(path.start, path.direction, draw(st.floats(0.1, 0.9)) * far)
            turn = draw(st.floats(6.0, 100.0)) * draw(st.sampled_from((-1.0, 1.0)))
            path = replace(path, knee=knee, onward=turned(path.direction, radians(turn)))
        paths.append(path)
    return Case(outline, openings, tuple(paths))


def attempt(case: Case) -> Split | None:
    """Split, or make sure that a refusal names one of the seams."""
    refused: GeometryError | None = None
    try:
        return split(*case)
    except GeometryError as error:
        refused = error
    assert refused.about in {path.id for path in case.paths}
    assert str(refused).endswith(".")
    return None


def before_gaps(case: Case, found: Split) -> list[float]:
    """The concrete of each face before gaps: whole openings in it are holes."""
    cut = {
        tag.ref.owner
        for face in found.faces
        for tag in face.raw.tags
        if tag.kind is Kind.OPENING and isinstance(tag.ref, EdgeRef)
    }
    whole = [opening for opening in case.openings if opening.id not in cut]
    return [
        fsum([area(face.raw), *(area(o.outline) for o in whole if contains(face.raw, o.center))])
        for face in found.faces
    ]


@given(bent_cases())
@settings(many, max_examples=120)
def test_pieces_before_gaps_make_up_the_top_without_its_openings(case: Case) -> None:
    found = attempt(case)
    if found is None:
        return
    whole = fsum([area(case.outline), *(area(o.outline) for o in case.openings)])
    assert fsum(before_gaps(case, found)) == pytest.approx(whole, rel=1e-9)
    for face in found.faces:
        for outline in (face.outline, face.base_outline, face.raw):
            assert checked(outline) is outline


@given(bent_cases(), st.randoms(use_true_random=False))
@settings(many, max_examples=100)
def test_the_order_of_seams_and_openings_changes_not_one_bit(case: Case, random: Random) -> None:
    found = attempt(case)
    paths = random.sample(case.paths, len(case.paths))
    openings = random.sample(case.openings, len(case.openings))
    assert repr(attempt(Case(case.outline, tuple(openings), tuple(paths)))) == repr(found)


@given(bent_cases(most=1))
@settings(many, max_examples=120)
def test_a_gap_is_as_wide_along_both_parts_and_nothing_else_is_taken(case: Case) -> None:
    found = attempt(case)
    path = case.paths[0]
    if found is None or path.knee is None or path.gap == 0.0:
        return
    lines = seam_parts(case.outline, path)
    assert len(lines) == 2
    bent = LineString([lines[0].start, lines[0].end, lines[1].end])
    # The outer corner of the gap reaches beyond it, and so do ends at a slant to the edge.
    near = bent.buffer(path.gap * 12.0 + 1e-6)
    for face in found.faces:
        gone = shapely.difference(polygon(face.raw), polygon(face.outline), grid_size=1e-7)
        assert shapely.difference(gone, near, grid_size=1e-7).area < 1e-2
    for line in lines:
        way = direction_at(line, 0.0)
        offsets: dict[str, list[float]] = {"left": [], "right": []}
        for face in found.faces:
            for edge, tag in zip(face.outline.edges, face.outline.tags, strict=True):
                parallel = abs(cross(direction_at(edge, 0.0), way)) < 1e-9
                if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef) and parallel:
                    off = dot(minus(edge.start, line.start), left_of(way))
                    offsets[tag.ref.side].append(off)
        for left in offsets["left"]:
            for right in offsets["right"]:
                assert abs(left - right) == pytest.approx(path.gap, abs=1e-7)


@given(bent_cases(most=1))
@settings(many, max_examples=100)
def test_the_mirror_image_of_a_split_is_the_split_of_the_mirror_image(case: Case) -> None:
    found = attempt(case)
    path = case.paths[0]
    if found is None or path.knee is None or path.onward is None:
        return

    def other(point: Point) -> Point:
        return (-point[0], point[1])

    turned_round = replace(
        path,
        start=other(path.start),
        direction=other(path.direction),
        knee=other(path.knee),
        onward=other(path.onward),
        facing="against" if path.facing == "along" else "along",
    )
    image = split(mirrored(case.outline), (), (turned_round,))
    plain = split(case.outline, (), (path,))
    ours = sorted(area(face.outline) for face in plain.faces)
    assert sorted(area(face.outline) for face in image.faces) == pytest.approx(ours)


def test_a_dogleg_has_two_numbered_edges_on_either_side_and_an_exact_corner() -> None:
    path = replace(
        seam("seam1", (40.0, 25.0), (40.0, 0.0), facing="against", gap=0.125),
        knee=(40.0, 15.0),
        onward=turned((0.0, -1.0), radians(45.0)),
    )
    found = split(straight(), (), (path,))
    assert [face.sides for face in found.faces] == [(("seam1", "left"),), (("seam1", "right"),)]
    tags = [
        [
            (tag.ref.side, tag.part)
            for tag in face.outline.tags
            if isinstance(tag.ref, EdgeRef) and tag.kind is Kind.SEAM
        ]
        for face in found.faces
    ]
    assert tags == [[("left", 1), ("left", 0)], [("right", 0), ("right", 1)]]
    assert fsum(area(face.outline) for face in found.faces) == pytest.approx(
        96.0 * 25.0 - 0.125 * (10.0 + 15.0 * 2.0**0.5)
    )
    # A point on both pieces' corners at the knee: half the gap off both lines.
    knee = found.faces[0].outline.vertices[2]
    assert knee == pytest.approx((40.0 - 0.0625, 15.0 - 0.0625 * (2.0**0.5 - 1.0)))


def test_a_dogleg_may_bend_inside_a_sink() -> None:
    sink = rectangle("opening1", (40.0, 12.0), 20.0, 12.0)
    path = replace(
        seam("seam1", (40.0, 25.0), (40.0, 0.0), facing="against"),
        knee=(40.0, 12.0),
        onward=turned((0.0, -1.0), radians(30.0)),
    )
    found = split(straight(), (sink,), (path,))
    assert len(found.faces) == 2
    assert all(len(face.parts) == 1 for face in found.faces)


def test_a_dogleg_that_comes_back_through_a_sink_is_refused() -> None:
    sink = rectangle("opening1", (12.0, -40.0), 6.0, 6.0)
    path = replace(
        seam("seam1", (0.0, -40.0), (25.0, -40.0)),
        knee=(20.0, -40.0),
        onward=turned((-1.0, 0.0), 0.1),
    )
    with pytest.raises(GeometryError) as error:
        split(ell(), (sink,), (path,))
    assert error.value.code == "opening-crossed-twice"


def test_another_seam_may_stop_at_either_part_and_a_dogleg_at_another_seam() -> None:
    bent = replace(
        seam("seam1", (40.0, 25.0), (40.0, 0.0), facing="against"),
        knee=(40.0, 12.0),
        onward=turned((0.0, -1.0), radians(45.0)),
    )
    for y in (20.0, 4.0):
        tee = seam("seam2", (0.0, y), (40.0, y), stops_at="seam1")
        found = split(straight(), (), (bent, tee))
        assert len(found.faces) == 3
    cross_seam = seam("seam3", (0.0, 6.0), (96.0, 6.0))
    stopped = replace(bent, stops_at="seam3")
    assert len(split(straight(), (), (cross_seam, stopped)).faces) == 3
    early = seam("seam3", (0.0, 18.0), (96.0, 18.0))
    assert len(split(straight(), (), (early, stopped)).faces) == 3


@pytest.mark.parametrize("knee", [(40.0, -5.0), (40.0, 25.0)])
def test_a_knee_outside_the_top_is_refused(knee: Point) -> None:
    path = replace(
        seam("seam1", (40.0, 25.0), (40.0, 0.0)), knee=knee, onward=turned((0.0, -1.0), 0.5)
    )
    with pytest.raises(GeometryError, match="bends outside the top"):
        split(straight(), (), (path,))


# --- As drawn -----------------------------------------------------------------------------------

WALL = WallLine("wall1", (0.0, 25.0), (96.0, 25.0))
LEG = LegFrame("leg1", WALL, Edge((0.0, 25.0), (96.0, 25.0)), Edge((0.0, 0.0), (96.0, 0.0)))
TOP = Top("run1", straight(), (LEG,))
ISLAND = Top("island1", straight(), (IslandFrame("island1", (0.0, 0.0), 0.0, 96.0, 25.0),))


def drawn(bend: Bend, angle: float = 90.0) -> Seam:
    return Seam("seam1", "run1", SeamOnLeg("leg1", 40.0, "left", angle, bend))


def test_a_dogleg_is_typed_from_the_back_or_from_the_front() -> None:
    from_back = seam_path(drawn(Bend(10.0, 45.0)), TOP)
    assert from_back.knee == pytest.approx((40.0, 15.0))
    assert from_back.onward == pytest.approx(turned((1.0, 0.0), radians(225.0)))
    assert seam_path(drawn(Bend(15.0, 45.0, "opposite")), TOP).knee == pytest.approx((40.0, 15.0))
    slanted = seam_path(drawn(Bend(10.0, 90.0), 60.0), TOP)
    assert slanted.knee is not None
    assert slanted.knee[1] == pytest.approx(15.0)
    first, second = seam_parts(TOP.outline, from_back)
    assert (*first.end, *second.end) == pytest.approx((40.0, 15.0, 25.0, 0.0))


def test_a_dogleg_of_an_island_goes_inward_from_its_side() -> None:
    start = SeamOnIsland("island1", "1", 40.0, 90.0, Bend(10.0, 60.0))
    path = seam_path(Seam("seam1", "island1", start), ISLAND)
    assert path.knee == pytest.approx((40.0, 10.0))
    assert path.onward == pytest.approx(turned((1.0, 0.0), radians(60.0)))
    far = replace(start, bend=Bend(5.0, 60.0, "opposite"))
    assert seam_path(Seam("seam1", "island1", far), ISLAND).knee == pytest.approx((40.0, 20.0))


def test_a_seam_that_hardly_bends_or_bends_outside_is_refused() -> None:
    with pytest.raises(GeometryError, match="nearly straight"):
        seam_path(drawn(Bend(10.0, 88.0)), TOP)
    with pytest.raises(GeometryError, match="bends outside the top"):
        seam_path(drawn(Bend(30.0, 45.0)), TOP)


def test_parts_of_a_seam_that_misses_are_none() -> None:
    off = seam("seam1", (400.0, 25.0), (400.0, 0.0))
    assert seam_parts(TOP.outline, off) == ()
    assert seam_parts(TOP.outline, replace(off, knee=(400.0, 5.0), onward=(0.0, -1.0))) == ()
