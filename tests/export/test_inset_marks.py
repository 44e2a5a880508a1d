"""What is set into slabs, on the drawings and in the files."""

import csv
from datetime import date
from io import StringIO

import pytest

from export.cutlist import cut_list
from export.drawings import face_down_groups, face_up_groups
from export.facts import facts
from export.inset_marks import inset_groups
from export.laying_out import laid_out
from export.marks import Line, Spot, Words
from export.opened import opened_mold
from export.stamp import stamped
from export.word_boxes import tag_reach
from geometry.insets import Grooves, Insert, Inset
from geometry.openings import AlongLeg
from shop import edits
from shop.job import Job
from tests.shop.kitchens import after, straight


@pytest.fixture
def job() -> Job:
    return after(
        straight(),
        edits.AddInset(
            Inset("inset900", "grooves", Grooves(count=3), AlongLeg("leg201", 22.0, 13.0))
        ),
        edits.AddInset(Inset("inset901", "clip", Insert(), AlongLeg("leg201", 80.0, 5.0))),
    )


def test_on_both_sides_of_the_fold_each_lies_mirrored_and_is_named(job: Job) -> None:
    up, down = inset_groups(job, down=False), inset_groups(job, down=True)
    assert set(up) <= set(face_up_groups(job))
    assert set(down) <= set(face_down_groups(job))
    for one, other in zip(up, down, strict=True):
        points = {p for m in one.marks if isinstance(m, Line) for p in m.points}
        assert {(-x, y) for x, y in points} == {
            p for m in other.marks if isinstance(m, Line) for p in m.points
        }
    names = [mark.text for group in down for mark in group.marks if isinstance(mark, Words)]
    assert names == ["grooves", "clip, in the underside"]


def test_the_opened_mold_shows_them_where_they_lie_face_down(job: Job) -> None:
    lines = [m for m in opened_mold(job, "A").marks if m.role == "inset" and isinstance(m, Line)]
    assert len(lines) == 4
    assert all(x < 0.0 for line in lines for x, _ in line.points)


def test_tags_of_sides_do_not_lie_on_what_is_set_in(job: Job) -> None:
    scale = 0.09
    laid = laid_out(opened_mold(job, "A"), scale)
    points = [p for m in laid if m.role == "inset" and isinstance(m, Line) for p in m.points]
    tags = [m for m in laid if isinstance(m, Spot) and m.kind == "tag"]
    assert len(tags) == 4
    for tag in tags:
        wide, high = tag_reach(tag.text, tag.size) / scale, tag.size / scale
        x, y = (at + by / scale for at, by in zip(tag.at, tag.shift, strict=True))
        assert not any(abs(p[0] - x) < wide and abs(p[1] - y) < high for p in points)


def test_cut_list_and_facts_say_how_each_is_made(job: Job) -> None:
    rows = list(csv.reader(StringIO(cut_list(job, stamped(job, date(2026, 11, 29))).decode())))
    own = [row for row in rows if "set in" in row]
    assert [row[1] for row in own] == ["A grooves", "A clip"]
    assert own[0][-1].startswith("Stick 3 strips 14 long")
    assert len({len(row) for row in own}) == 1
    insets = facts(job)["molds"][0]["insets"]
    assert [(one["kind"], one["in_face"], one["depth_in"]) for one in insets] == [
        ("grooves", True, 0.375),
        ("insert", False, 0.75),
    ]
    assert len(insets[0]["outlines"]) == 3
    assert insets[0]["middle"][0] < 0.0
