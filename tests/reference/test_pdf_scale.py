"""pdfplumber, an independent reader of PDF, finds every plotted outline at its true size.

The default unit of a PDF page is 1/72 in (ISO 32000).
"""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from io import BytesIO
from math import atan2, dist, pi, remainder

import pdfplumber
import pytest
from msgspec.structs import replace
from pdfplumber.page import Page as ReadPage

from export.fullsize import face_down_plots, face_up_plots
from export.pages import Page
from export.paint import pdf
from export.rolls import MARGIN_IN, roll_pages
from export.stamp import stamped
from export.tiles import FOOT_IN, fewest_tiles, tile_pages
from geometry import edges as exact
from geometry.edges import Edge
from geometry.outline import Outline, rotated
from geometry.points import Point, minus, plus
from shop import plan
from shop.job import Job
from shop.samples import sample_names
from tests.export.jobs import TODAY, metric, oddly_named, sample

UNIT = 72.0
SCALE_ERROR = 1e-5
PLACE_IN = 1e-4

JOBS: dict[str, Callable[[], Job]] = {
    **{name: partial(sample, name) for name in sample_names()},
    "metric": partial(metric, "round-island"),
    "odd names": oddly_named,
}


def opened(data: bytes) -> list[ReadPage]:
    return pdfplumber.open(BytesIO(data)).pages


def lines_of(page: ReadPage) -> list[tuple[Point, Point]]:
    """Straight lines in inches, y up."""
    return [
        (
            (line["pts"][0][0] / UNIT, -line["pts"][0][1] / UNIT),
            (line["pts"][1][0] / UNIT, -line["pts"][1][1] / UNIT),
        )
        for line in page.lines
    ]


def curves_of(page: ReadPage) -> list[list[tuple[Point, ...]]]:
    """Curves as lists of cubic parts, each four control points, in inches, y up."""
    found = []
    for curve in page.curves:
        at: Point = (0.0, 0.0)
        parts: list[tuple[Point, ...]] = []
        for step, *points in curve["path"]:
            placed = [(x / UNIT, -y / UNIT) for x, y in points]
            if step == "c":
                parts.append((at, *placed))
            if placed:
                at = placed[-1]
        found.append(parts)
    return found


def shift_of(outline: Outline, lines: list[tuple[Point, Point]]) -> Point:
    """Return how far the plot lies from the model, from the longest straight edge that shows."""
    straight = sorted(filter(exact.is_line, outline.edges), key=exact.length, reverse=True)
    return next(
        minus(a, edge.start)
        for edge in straight
        for a, b in lines
        if dist(minus(b, a), minus(edge.end, edge.start)) < SCALE_ERROR * exact.length(edge)
    )


def turn_of(outline: Outline) -> float:
    """Return the turn that lays the longest straight edge level or upright."""
    longest = max(filter(exact.is_line, outline.edges), key=exact.length)
    way = minus(longest.end, longest.start)
    return -remainder(atan2(way[1], way[0]), pi / 2.0)


def shows(outline: Outline, turn: float, pages: Sequence[ReadPage]) -> bool:
    """Tell whether the first page shows an edge of an outline that is turned so."""
    try:
        shift_of(rotated(outline, turn), lines_of(pages[0]))
    except StopIteration:
        return False
    return True


def missing(drawn: Iterable[Edge], datum: Outline, pages: Sequence[ReadPage]) -> list[Edge]:
    """Return the edges that none of the pages shows at true size in their place to the datum."""
    left = list(drawn)
    for page in pages:
        lines, curves = lines_of(page), curves_of(page)
        shift = shift_of(datum, lines)
        left = [edge for edge in left if not _is_shown(edge, shift, lines, curves)]
    return left


def _is_shown(
    edge: Edge,
    shift: Point,
    lines: list[tuple[Point, Point]],
    curves: list[list[tuple[Point, ...]]],
) -> bool:
    a, b = plus(edge.start, shift), plus(edge.end, shift)
    size = exact.length(edge)
    if not exact.is_line(edge):
        return any(_is_arc(parts, edge, a, b, shift) for parts in curves)
    return any(
        dist(a, start) < PLACE_IN
        and dist(b, end) < PLACE_IN
        and abs(dist(start, end) - size) < SCALE_ERROR * size
        for start, end in lines
    )


def _is_arc(parts: list[tuple[Point, ...]], edge: Edge, a: Point, b: Point, shift: Point) -> bool:
    if dist(parts[0][0], a) > PLACE_IN or dist(parts[-1][3], b) > PLACE_IN:
        return False
    center, radius = plus(exact.center(edge), shift), exact.radius(edge)
    return all(
        abs(dist(_on_cubic(part, t / 8.0), center) - radius) < SCALE_ERROR * radius + PLACE_IN / 2.0
        for part in parts
        for t in range(9)
    )


def _on_cubic(part: tuple[Point, ...], t: float) -> Point:
    """A point of a cubic curve, by Bernstein's polynomials."""
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return (
        sum(w * p[0] for w, p in zip(weights, part, strict=True)),
        sum(w * p[1] for w, p in zip(weights, part, strict=True)),
    )


@pytest.mark.parametrize("job", JOBS)
def test_a_roll_plot_shows_every_mold_at_true_size(job: str) -> None:
    made = JOBS[job]()
    plots, stamp = face_down_plots(made), stamped(made, TODAY)
    pages = roll_pages(plots, stamp, (1.0, 1.0), metric=made.display == "mm")
    read = opened(pdf(pages, "plot"))
    assert len(read) == len(pages)
    for mold in plan.molds(made):
        shown = _of_piece(mold.piece, pages, read)
        # A piece may lie turned on its paper, where it takes fewer sheets.
        turn = min((0.0, turn_of(mold.outline)), key=lambda t: not shows(mold.outline, t, shown))
        outline = rotated(mold.outline, turn)
        whole = [k.outline for k in mold.knockouts if not k.partial]
        edges = [edge for hole in whole for edge in rotated(hole, turn).edges]
        assert not missing([*outline.edges, *edges], outline, shown)


def _of_piece(name: str, pages: Sequence[Page], read: Sequence[ReadPage]) -> list[ReadPage]:
    both = zip(pages, read, strict=True)
    return [shown for page, shown in both if page.name.partition(",")[0] == name]


def test_a_face_up_plot_shows_every_piece_at_true_size() -> None:
    job = sample("out-of-square")
    pages = roll_pages(face_up_plots(job), stamped(job, TODAY), (1.0, 1.0), metric=False)
    read = opened(pdf(pages, "plot"))
    assert all("FACE UP" in shown.extract_text() for shown in read)
    for piece in plan.pieces(job):
        shown = _of_piece(piece.name, pages, read)
        turns = (0.0, turn_of(piece.face.outline))
        outlines = [rotated(piece.face.outline, turn) for turn in turns]
        outline = next(o for o in outlines if shows(o, 0.0, shown))
        assert not missing(outline.edges, outline, shown)


def test_every_tile_shows_its_part_in_its_place_at_true_size() -> None:
    job = sample("galley")
    (plot,) = face_down_plots(job)
    outline = plan.mold(job, "A").outline
    pages = tile_pages((plot,), stamped(job, TODAY), (1.0, 1.0), metric=False)
    read = opened(pdf(pages, "tiles"))
    assert len(read) == len(pages)
    letters = {tile.name: tile for tile in fewest_tiles(plot, (8.5, 11.0))[1]}
    a4 = {tile.name: tile for tile in fewest_tiles(plot, (210 / 25.4, 297 / 25.4))[1]}
    seen = 0
    for page, shown in zip(pages, read, strict=True):
        paper, _, name = page.name.split()
        if name == "map":
            continue
        tile = (letters if paper == "Letter" else a4)[name]
        # What lies outside the window is left out: at least one line of the outline is inside.
        lines = lines_of(shown)
        size = float(shown.height) / UNIT
        left, low = MARGIN_IN - tile.part[0], MARGIN_IN + FOOT_IN - tile.part[1]
        # A page box is rounded to whole points, so the foot of the page is known to 1/144 in.
        expected = [
            ((a[0] + left, a[1] + low - size), (b[0] + left, b[1] + low - size))
            for a, b in ((e.start, e.end) for e in outline.edges if exact.is_line(e))
        ]
        found = [
            (a, b)
            for a, b in expected
            for c, d in lines
            if dist(a, c) < 1 / 100
            and dist(b, d) < 1 / 100
            and abs(dist(c, d) - dist(a, b)) < SCALE_ERROR * dist(a, b)
        ]
        seen += bool(found)
    assert seen > 0.7 * (len(letters) + len(a4))


def test_a_correction_for_the_printer_scales_each_axis_by_itself() -> None:
    job = sample("galley")
    plots = face_down_plots(job)
    wrong = (1.01, 0.99)
    pages = roll_pages(plots, stamped(job, TODAY), wrong, metric=False)
    (shown,) = opened(pdf(pages, "plot"))
    outline = plan.mold(job, "A").outline
    stretched = Outline(
        tuple((x * wrong[0], y * wrong[1]) for x, y in outline.vertices),
        outline.bulges,
        outline.tags,
    )
    lines = lines_of(shown)
    shift = shift_of(stretched, lines)
    for edge in filter(exact.is_line, stretched.edges):
        a, b = plus(edge.start, shift), plus(edge.end, shift)
        assert any(dist(a, c) < PLACE_IN and dist(b, d) < PLACE_IN for c, d in lines)
    bars = {round(dist(a, b), 4) for a, b in lines if a[0] == b[0] or a[1] == b[1]}
    assert {4.04, 3.96} <= bars


@pytest.mark.parametrize(("display", "size"), [("in", 4.0), ("mm", 100.0 / 25.4)])
def test_two_check_bars_stand_at_right_angles_on_every_plot(display: str, size: float) -> None:
    job = replace(sample("double-bowl"), display=display)
    pages = roll_pages(
        face_down_plots(job), stamped(job, TODAY), (1.0, 1.0), metric=display == "mm"
    )
    for shown in opened(pdf(pages, "plot")):
        lines = lines_of(shown)
        level = [a for a, b in lines if a[1] == b[1] and abs(b[0] - a[0] - size) < SCALE_ERROR]
        upright = [a for a, b in lines if a[0] == b[0] and abs(b[1] - a[1] - size) < SCALE_ERROR]
        assert set(level) & set(upright)
        words = "check: 100 mm" if display == "mm" else "check: 4 in"
        assert words in shown.extract_text()
