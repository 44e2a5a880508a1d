"""What is set into slabs, on the drawings and in the files."""

import csv
from datetime import date
from io import StringIO

import pytest
from ezdxf.filemanagement import read
from msgspec.structs import replace
from shapely import Point, affinity

from export.cutlist import cut_list
from export.drawings import face_down_groups, face_up_groups
from export.dxf import bases
from export.facts import facts
from export.fullsize import face_down_plots, face_up_plots
from export.inset_marks import inset_groups
from export.laying_out import laid_out
from export.letters import label_places
from export.marks import Line, Spot, Words
from export.opened import opened_mold
from export.stamp import stamped
from export.word_boxes import tag_reach
from geometry.insets import Grooves, Inlay, Insert, Inset, InsetShape, Rods
from geometry.openings import AlongLeg
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.insets import covered, set_into
from shop.job import Job
from shop.plan import pieces
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
    # From 1/8 to 3/8 on 14 in: 3/14 a foot, a 16th of which it is nearest is 3.
    assert names == ["grooves, falls 3/16 a foot", "clip, in the underside"]


@pytest.mark.parametrize("along", [14.0, 40.0, 60.0, 82.0])
@pytest.mark.parametrize(
    "shape", [Grooves(), Rods(), Inlay(width=20.0, depth=12.0), Insert(width=12.0, depth=8.0)]
)
def test_a_piece_s_letter_lies_clear_of_what_is_set_in(along: float, shape: InsetShape) -> None:
    inset = Inset("inset900", "it", shape, AlongLeg("leg201", along, 13.0))
    job = after(straight(), edits.AddInset(inset))
    (piece,) = pieces(job)
    (found,) = set_into(job, piece)
    hull = covered(found).convex_hull
    for groups, down in ((face_up_groups(job), False), (face_down_groups(job), True)):
        lies = affinity.scale(hull, -1.0, 1.0, origin=(0.0, 0.0)) if down else hull
        marks = next(group.marks for group in groups if group.key == "piece A")
        letter = next(m for m in marks if isinstance(m, Words) and m.text == "A")
        room = next(p.high for p in letter.places if p.high is not None) / 1.5
        assert lies.distance(Point(letter.at)) >= room - 1e-6


def test_a_letter_lies_on_what_covers_all_of_its_piece_and_clear_of_what_lies_in_two() -> None:
    wide = Inset("inset900", "mat", Inlay(118.0, 24.0), AlongLeg("leg201", 60.0, 12.8))
    job = after(straight(), edits.AddInset(wide))
    (piece,) = pieces(job)
    assert label_places(piece.face, set_into(job, piece)) == label_places(piece.face)
    across = replace(wide, shape=Inlay(30.0, 12.0))
    seam = Seam("seam900", "run200", SeamOnLeg("leg201", 60.0))
    job = after(straight(), edits.AddInset(across), edits.AddSeam(seam))
    found = {p.name: set_into(job, p) for p in pieces(job)}
    assert [len(one) for one in found.values()] == [1, 1]


def test_the_opened_mold_shows_them_where_they_lie_face_down(job: Job) -> None:
    lines = [m for m in opened_mold(job, "A").marks if m.role == "inset" and isinstance(m, Line)]
    # Three grooves, the two lines of an arrow, the insert.
    assert len(lines) == 6
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


def test_at_full_size_each_is_drawn_where_it_lies_with_its_middle_and_its_name(job: Job) -> None:
    (down,), (up,) = face_down_plots(job), face_up_plots(job)
    for plot, sign in ((down, -1.0), (up, 1.0)):
        drawn = [m for m in plot.sheet.marks if m.role == "inset"]
        assert sum(isinstance(m, Line) for m in drawn) == 6
        crosses = [m.at for m in drawn if isinstance(m, Spot)]
        # Middles 22 and 80 along the wall, which runs to the right from the origin.
        assert [sign * x for x, _ in crosses] == pytest.approx([22.0, 80.0])
        names = {m.text for m in plot.sheet.marks if isinstance(m, Words)}
        assert {"grooves, falls 3/16 a foot", "clip, in the underside"} <= names


def test_bases_show_what_lies_on_them_and_not_what_hangs_over_them(job: Job) -> None:
    data = bases(job, stamped(job, date(2026, 11, 29)))
    drawing = read(StringIO(data.decode()))
    outlines = [e for e in drawing.modelspace() if e.dxf.layer == "set in"]
    assert len(outlines) == 3
    assert all(e.dxftype() == "LWPOLYLINE" for e in outlines)


def test_what_rises_says_nothing_of_a_fall(job: Job) -> None:
    flat = replace(job.insets[0], shape=Grooves(count=3, shallow=0.25, deep=0.25))
    groups = inset_groups(after(job, edits.SetInset(flat)), down=False)
    words = [m.text for m in groups[0].marks if isinstance(m, Words)]
    assert words == ["grooves"]
