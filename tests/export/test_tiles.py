"""Tiles cover a plot, agree where they overlap, and tell how they go together."""

import pytest
from msgspec.structs import replace

from export.fullsize import Plot, face_down_plots
from export.marks import Line, Spot, Words
from export.pages import A4, LETTER, Page
from export.rolls import MARGIN_IN, OVERLAP_IN
from export.stamp import Stamp
from export.tiles import fewest_tiles, tile_pages, tiles
from geometry.edges import Edge, length, point_at
from tests.export.jobs import sample
from tests.export.test_rolls import plot

STAMP = Stamp("Job", 1, "2026-03-02", "", sample=False)


def texts(page: Page) -> list[str]:
    return [m.text for view in page.views for m in view.sheet.marks if isinstance(m, Words)]


def plots() -> tuple[Plot, ...]:
    return face_down_plots(sample("round-island"))


def square_pages() -> dict[str, Page]:
    made = tile_pages((plot(60.0, 60.0),), STAMP, (1.0, 1.0), metric=False)
    return {page.name: page for page in made}


@pytest.mark.parametrize("size", [LETTER, A4])
def test_every_line_of_a_plot_is_on_some_tile(size: tuple[float, float]) -> None:
    for shown in plots():
        parts = [tile.part for tile in tiles(shown, size)]
        for mark in shown.sheet.marks:
            if isinstance(mark, Line):
                edge = Edge(mark.points[0], mark.points[1], mark.bulges[0])
                steps = int(length(edge) * 7) + 2
                for k in range(steps + 1):
                    x, y = point_at(edge, k / steps)
                    assert any(p[0] <= x <= p[2] and p[1] <= y <= p[3] for p in parts)


def test_a_long_strip_lies_along_the_long_side_of_the_paper() -> None:
    strip = plot(96.0, 6.0)
    size, parts = fewest_tiles(strip, LETTER)
    assert size == LETTER[::-1]
    # 10 in of paper show 9 1/2 in more of the strip and its border each time.
    assert len(parts) == 11 < len(tiles(strip, LETTER))
    made = tile_pages((strip,), STAMP, (1.0, 1.0), metric=False)
    drawn = [page for page in made if "Letter" in page.name and not page.name.endswith("map")]
    assert {(page.width, page.height) for page in drawn} == {LETTER[::-1]}
    tall, upright = plot(6.0, 90.0), plot(7.0, 9.0)
    assert fewest_tiles(tall, LETTER)[0] == fewest_tiles(upright, LETTER)[0] == LETTER


def test_tiles_without_a_line_are_left_out() -> None:
    names = {tile.name for tile in tiles(plot(100.0, 60.0), LETTER)}
    assert "A1" in names
    assert "C5" not in names
    assert len(names) < 7 * 14


def test_neighbors_overlap_by_half_an_inch() -> None:
    found = {(tile.row, tile.column): tile.part for tile in tiles(plot(60.0, 60.0), LETTER)}
    assert found[0, 0][2] - found[0, 1][0] == pytest.approx(OVERLAP_IN)
    assert found[0, 0][1] - found[1, 0][3] == pytest.approx(-OVERLAP_IN)


def test_crosses_of_neighbors_lie_at_the_same_places_of_the_piece() -> None:
    pages = {
        page.name: page for page in tile_pages((plot(60.0, 60.0),), STAMP, (1, 1), metric=False)
    }
    crosses = [
        {
            (round(mark.at[0], 6), round(mark.at[1], 6))
            for view in pages[f"Letter A {name}"].views
            for mark in view.sheet.marks
            if isinstance(mark, Spot) and mark.kind == "cross"
        }
        for name in ("A1", "A2", "B1")
    ]
    assert len(crosses[0] & crosses[1]) == 2
    assert len(crosses[0] & crosses[2]) == 2


def test_each_plot_has_a_map_that_names_every_tile() -> None:
    pages = tile_pages(plots(), STAMP, (1.0, 1.0), metric=False)
    for paper, size in (("Letter", LETTER), ("A4", A4)):
        for shown in plots():
            (page,) = (p for p in pages if p.name == f"{paper} {shown.piece} map")
            names = [tile.name for tile in fewest_tiles(shown, size)[1]]
            assert set(names) <= set(texts(page))
            said = " ".join(texts(page))
            assert f"how its {len(names)} tiles go together" in said
            assert "row A is at the top" in said
            assert shown.sentences[-1].split()[-1] in said


def test_a_tile_names_its_neighbors() -> None:
    pages = {
        page.name: page for page in tile_pages((plot(60.0, 60.0),), STAMP, (1, 1), metric=False)
    }
    assert "right A2, below B1" in texts(pages["Letter A A1"])
    assert "left A1, right A3" in texts(pages["Letter A A2"])


def test_a_drawing_on_a_tile_starts_at_its_margin() -> None:
    for page in tile_pages(plots()[:1], STAMP, (1.0, 1.0), metric=False):
        if not page.name.endswith("map"):
            view = page.views[0]
            assert view.window is not None
            assert view.window[0] == MARGIN_IN
            assert view.window[2] <= page.width - MARGIN_IN + 1e-9
            assert view.window[3] <= page.height - MARGIN_IN + 1e-9


def test_a_printer_s_correction_leaves_less_of_the_piece_on_a_tile() -> None:
    true = tiles(plot(60.0, 60.0), LETTER)[0].part
    larger = tiles(plot(60.0, 60.0), LETTER, (1.1, 1.2))[0].part
    assert (larger[2] - larger[0]) * 1.1 == pytest.approx(true[2] - true[0])
    assert (larger[3] - larger[1]) * 1.2 == pytest.approx(true[3] - true[1])


def test_sample_stands_behind_every_tile_and_map_of_a_sample() -> None:
    stamp = STAMP._replace(sample=True)
    for page in tile_pages((plot(20.0, 20.0),), stamp, (1.0, 1.0), metric=True):
        assert texts(page)[0] == "SAMPLE"
        assert sum(text.startswith("check: ") for text in texts(page)) == 2


def test_without_pieces_there_is_a_page_with_the_title_only() -> None:
    (page,) = tile_pages((), STAMP, (1.0, 1.0), metric=False)
    assert "Nothing to plot yet" in texts(page)


def test_a_plot_s_sheet_may_hold_more_than_lines() -> None:
    (shown,) = face_down_plots(replace(sample("galley"), note="x"))
    kinds = {type(mark) for mark in shown.sheet.marks}
    assert kinds == {Line, Spot, Words}
