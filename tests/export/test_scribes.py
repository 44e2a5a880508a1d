"""Scribe strips: the measured wall at full size."""

import pytest
from msgspec.structs import replace

from export.marks import Line, Words
from export.rolls import roll_pages
from export.scribes import NOTHING, STRIP_IN, scribe_plots
from export.shopfiles import SHOP_FILES
from export.stamp import stamped
from export.tiles import tile_pages
from geometry.edges import Edge, foot, length
from shop import edits
from shop.job import Job
from shop.profiles import profiles
from shop.readings import StraightedgeReading
from tests.export.jobs import EMPTY, TODAY
from tests.shop.kitchens import after, run, straight, walls


def gap(number: int, along: float, value: float, wall: str = "wall101") -> edits.AddReading:
    return edits.AddReading(StraightedgeReading(f"reading{number}", wall, along, value))


HOLLOW = after(straight(), gap(1, 50.0, 0.375), gap(2, 90.0, -0.125), gap(3, 105.0, 0.0))


def words(job: Job) -> dict[str, Words]:
    (plot,) = scribe_plots(job)
    return {mark.text: mark for mark in plot.sheet.marks if isinstance(mark, Words)}


def test_a_strips_upper_edge_is_the_measured_wall_at_full_size() -> None:
    # The wall leans on the board: the strip lies level.
    job = after(walls((0.0, 0.0), (72.0, 96.0)), edits.AddRun(run("wall101")), gap(1, 50.0, 0.375))
    (profile,), (plot,) = profiles(job), scribe_plots(job)
    upper = plot.sheet.marks[0]
    assert isinstance(upper, Line)
    assert upper.points[0] == pytest.approx((0.0, 0.0))
    assert upper.points[-1] == pytest.approx((120.0, 0.0))
    edges = list(map(Edge, upper.points, upper.points[1:], upper.bulges))
    assert sum(map(length, edges)) == pytest.approx(sum(map(length, profile.edges)))
    # Facing the wall, hollow is up, away from the room.
    assert min(foot(edge, (50.0, 0.375)).distance for edge in edges) < 1.0 / 128.0


def test_the_straight_edge_is_parallel_to_the_walls_line() -> None:
    (plot,) = scribe_plots(HOLLOW)
    chains = [mark.points for mark in plot.sheet.marks if isinstance(mark, Line)]
    assert ((0.0, 0.0), (120.0, 0.0)) in [tuple(map(_rounded, points)) for points in chains]
    rest = ((0.0, 0.0), (0.0, -STRIP_IN), (120.0, -STRIP_IN), (120.0, 0.0))
    assert rest in [tuple(map(_rounded, points)) for points in chains]
    assert plot.sheet.box == pytest.approx((0.0, -STRIP_IN, 120.0, 0.375), abs=1.0 / 64.0)


def _rounded(point: tuple[float, float]) -> tuple[float, float]:
    return (round(point[0], 9) + 0.0, round(point[1], 9) + 0.0)


def test_stations_and_ends_are_named() -> None:
    said = words(HOLLOW)
    assert said["4' 2: 3/8 hollow"].at[0] == 50.0
    assert said["7' 6: 1/8 into the room"].at[0] == 90.0
    assert said["8' 9: on the line"].at[0] == 105.0
    assert said["LEFT END, corner 1"].anchor == "left"
    assert said["RIGHT END, corner 2"].anchor == "right"
    assert said["LEFT END, corner 1"].at[0] < said["RIGHT END, corner 2"].at[0]
    assert "WALL SIDE" in said


def test_the_title_says_the_wall_its_bow_and_which_way_it_lies() -> None:
    (plot,) = scribe_plots(HOLLOW)
    assert plot.sentences[0] == "Scribe strip: wall 1 to 2"
    assert plot.sentences[1] == "Wall 1 to 2 is hollow by 3/8 at 4' 2 and bulges by 1/8 at 7' 6."
    assert "LEFT END is on your left" in plot.sentences[-1]


def test_only_measured_walls_with_a_counter_have_a_strip() -> None:
    room = walls((0.0, 0.0), (120.0, 0.0), (240.0, 0.0))
    bare = after(room, gap(1, 50.0, 0.375), gap(2, 50.0, 0.375, "wall102"))
    assert scribe_plots(bare) == ()
    job = after(bare, edits.AddRun(run("wall102")))
    assert [plot.piece for plot in scribe_plots(job)] == ["wall 2 to 3"]
    past = after(room, gap(1, 130.0, 0.375), edits.AddRun(run("wall101")))
    assert scribe_plots(past) == ()


def test_a_strip_goes_on_a_roll_and_in_tiles() -> None:
    stamp = stamped(HOLLOW, TODAY)
    plots = scribe_plots(HOLLOW)
    (page,) = roll_pages(plots, stamp, (1.0, 1.0), metric=False, nothing=NOTHING)
    assert page.width > 120.0
    pages = tile_pages(plots, stamp, (1.0, 1.0), metric=False, nothing=NOTHING)
    assert pages[0].name == "Letter wall 1 to 2 map"


def test_without_a_measured_wall_the_page_says_so() -> None:
    stamp = stamped(EMPTY, TODAY)
    for pages in (
        roll_pages((), stamp, (1.0, 1.0), metric=False, nothing=NOTHING),
        tile_pages((), stamp, (1.0, 1.0), metric=False, nothing=NOTHING),
    ):
        (page,) = pages
        said = [m.text for view in page.views for m in view.sheet.marks if isinstance(m, Words)]
        assert NOTHING in said


@pytest.mark.parametrize("display", ["in", "mm"])
@pytest.mark.parametrize("name", ["scribe-strips.pdf", "scribe-strips-tiles.pdf"])
def test_both_files_are_written(name: str, display: str) -> None:
    (file,) = (file for file in SHOP_FILES if file.name == name)
    for job in (HOLLOW, EMPTY):
        shown = replace(job, display=display)
        assert file.made(shown, stamped(shown, TODAY), (1.0, 1.0)).startswith(b"%PDF")
