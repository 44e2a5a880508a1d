"""Drawings, plots and lists of tops along walls that bow."""

import csv
from io import StringIO

import pytest
from msgspec.structs import replace

from export.cutlist import cut_list
from export.drawings import face_up_groups
from export.dxf import bases
from export.fullsize import face_down_plots, face_up_plots
from export.marks import Dimension, Line, Spot, Words
from export.opened import opened_mold
from export.stamp import stamped
from geometry.naming import EdgeRef
from shop import edits
from shop.job import Job
from shop.profiles import profiles
from shop.readings import StraightedgeReading
from tests.export.jobs import TODAY
from tests.shop.kitchens import after, straight

READINGS = ((1, 30.0, 0.375), (2, 60.0, 0.25), (3, 90.0, -0.125))
BOWED = after(
    straight(),
    *(
        edits.AddReading(StraightedgeReading(f"reading{n}", "wall101", along, value))
        for n, along, value in READINGS
    ),
)
SCRIBED = after(BOWED, edits.SetLeg(replace(BOWED.runs[0].legs[0], back="scribed")))


def test_a_measured_wall_is_drawn_as_it_bows() -> None:
    (profile,) = profiles(BOWED)
    walls = [
        mark
        for group in face_up_groups(BOWED)
        for mark in group.marks
        if mark.role == "wall" and isinstance(mark, Line)
    ]
    (wall,) = walls
    assert wall.points == (profile.wall.left, *(edge.end for edge in profile.edges))
    assert wall.bulges == tuple(edge.bulge for edge in profile.edges)


def test_a_scribed_back_is_measured_once_from_end_to_end() -> None:
    lengths = [
        (mark.text, mark.subject.edge)
        for group in face_up_groups(SCRIBED)
        for mark in group.marks
        if isinstance(mark, Dimension) and mark.subject is not None and mark.subject.kind == "edge"
    ]
    # The front is as long, and so it is not said again.
    back = EdgeRef(SCRIBED.runs[0].legs[0].id, "back")
    assert [edge for text, edge in lengths if text == "10' 0"] == [back]


def test_a_scribed_back_is_named_once_at_full_size_and_on_its_opened_mold() -> None:
    for plots in (face_down_plots(SCRIBED), face_up_plots(SCRIBED)):
        (plot,) = plots
        names = [mark.text for mark in plot.sheet.marks if isinstance(mark, Words)]
        assert names.count("BACK") == 1
    marks = opened_mold(SCRIBED, "A").marks
    assert [mark.text for mark in marks if isinstance(mark, Spot)].count("BACK") == 1


def test_the_cut_list_says_that_the_strip_of_a_scribed_back_is_sprung() -> None:
    text = cut_list(SCRIBED, stamped(SCRIBED, TODAY)).decode("utf-8-sig")
    rows = [row for row in csv.reader(StringIO(text)) if "sidewall, back" in row]
    (row,) = rows
    assert any("one strip, sprung along the base" in cell for cell in row)


@pytest.mark.parametrize("job", [BOWED, SCRIBED], ids=["straight", "scribed"])
def test_bases_of_tops_along_bowed_walls_are_written(job: Job) -> None:
    assert b"cut outline" in bases(job, stamped(job, TODAY))
