"""Mitred ends on paper: the cut list, labels, the page of parts, the opened mold, the facts."""

from io import StringIO

import ezdxf.filemanagement
import pytest

from export.bevel_section import bevel_section
from export.cut_plan_dxf import cut_plan
from export.cut_plan_words import heading
from export.cutlist import rows
from export.drawings import face_down_groups, face_up_groups
from export.facts import facts
from export.flowing import Paper
from export.fullsize import face_down_plots, face_up_plots
from export.labels import labels
from export.marks import AnyMark, Dimension, Line, Region, Words
from export.mold_parts import parts_pages
from export.opened import opened_mold
from export.planned import planned
from export.short_points import short_points
from export.stamp import stamped
from geometry.counters import Island, OnBoard
from geometry.lengths import LengthStyle
from geometry.naming import EdgeRef
from geometry.picking import Subject
from geometry.points import distance, mirrored_point
from shop import edits, plan
from shop.applying import applied
from shop.job import Job
from tests.export.jobs import TODAY
from tests.shop.kitchens import after
from tests.shop.test_island_openings import sink
from tests.shop.test_mitred_seams import mitred
from tests.shop.test_mitres import counter

INCHES = LengthStyle("in", 16)


def hidden(marks: list[AnyMark], job: Job) -> list[Line]:
    """The lines of the mitred end that stand for its underside."""
    leg = job.runs[0].legs[0].id
    end = Subject("edge", leg, EdgeRef(leg, "end"))
    return [m for m in marks if isinstance(m, Line) and m.role == "ghost" and m.subject == end]


def texts(marks: list[AnyMark]) -> list[str]:
    return [mark.text for mark in marks if isinstance(mark, Words)]


def test_the_cut_list_has_the_bevel_strip_below_its_sidewall() -> None:
    found = list(rows(counter("end")))
    at = next(i for i, row in enumerate(found) if row[1].endswith("bevel"))
    piece, name, what, length, width, *_, left, right, _, _, note = found[at]
    assert (piece, what, length, width) == (
        "A",
        "bevel strip for the mitre, right end",
        "25 3/8",
        "2",
    )
    assert name == f"{found[at - 1][1]} bevel"
    assert found[at - 1][8] == "bevel strip, mitred for a waterfall"
    assert (left, right) == ("square", "square")
    assert note.startswith("triangle, 2 x 2, ripped at 45\u00b0, slope 2 13/16; 25 3/8 at its tip;")


def test_labels_say_which_edge_is_thin_and_how_its_strip_is_cut() -> None:
    by_name = {label.name: label for label in labels(counter("end", "front"))}
    (thin,) = [text for text in by_name["A"].sentences if text.startswith("Mitred")]
    assert "right end" in thin
    assert "front" in thin
    own = [label for name, label in by_name.items() if name.endswith("bevel")]
    assert len(own) == 2
    for label in own:
        assert "to the next bevel strip" in label.sentences[1]
        assert label.sentences[2].endswith("sharp edge down at the base.")
    assert not [text for text in labels(counter())[0].sentences if "Mitred" in text]


def test_the_page_of_parts_lists_it_and_shows_its_section() -> None:
    job = counter("end")
    (mold,) = plan.molds(job)
    pages = parts_pages(job, mold, Paper(0.5, 8.0, 10.0, 0.85))
    said = texts([mark for views in pages for view in views for mark in view.sheet.marks])
    assert "Bevel strips of the mitres, sharp edge down at the base; ends inside face up" in said
    assert "concrete" in said
    strip = next(strip for strip in mold.strips if strip.bevel is not None)
    section = list(bevel_section(strip, 0.5, 9.0, INCHES))
    regions = [mark for mark in section if isinstance(mark, Region)]
    assert [region.role for region in regions] == ["strip", "board", "slab", "strip"]
    plain = next(strip for strip in mold.strips if strip.bevel is None)
    assert list(bevel_section(plain, 0.5, 9.0, INCHES)) == []


def test_both_sides_of_the_fold_show_where_the_underside_begins() -> None:
    job = counter("end")
    up = [mark for group in face_up_groups(job) for mark in group.marks]
    down = [mark for group in face_down_groups(job) for mark in group.marks]
    (one,), (other,) = hidden(up, job), hidden(down, job)
    assert sorted(map(mirrored_point, other.points)) == sorted(one.points)
    assert {round(x, 6) for x, _ in one.points} == {118.0}
    assert "end, mitred 45\u00b0, 2 back" in texts(up)
    assert "RIGHT END, mitred 45\u00b0, 2 back" in texts(down)
    opened = list(opened_mold(job, "A").marks)
    assert len([line for line in hidden(opened, job) if line.points == other.points]) == 1
    assert hidden([m for g in face_up_groups(counter()) for m in g.marks], counter()) == []


def test_a_mitre_that_leaves_nothing_of_the_underside_has_no_line_there() -> None:
    block = Island("island900", 40.0, 20.0, OnBoard(0.0, 0.0))
    job = after(Job("Test"), edits.AddIsland(block), edits.SetSlab(12.0, 150.0))
    sides = [EdgeRef("island900", side) for side in "123"]
    job = after(job, *(edits.FinishEdge(side, "mitred") for side in sides))
    assert [bevel.back is None for bevel in plan.pieces(job)[0].bevels] == [False, True, False]
    for groups in (face_up_groups(job), face_down_groups(job)):
        marks = [mark for group in groups for mark in group.marks]
        ghosts = [m.subject.edge for m in marks if m.role == "ghost" and m.subject is not None]
        assert sorted(map(str, ghosts)) == sorted(map(str, (sides[0], sides[2])))
    assert opened_mold(job, "A").marks
    assert short_points(job, Subject("edge", "island900", sides[1])) == ()


def test_facts_have_the_bevel_strip() -> None:
    (mold,) = facts(counter("end"))["molds"]
    found = [wall["bevel"] for wall in mold["sidewalls"] if wall["bevel"] is not None]
    assert [(one["leg_in"], one["long_in"]) for one in found] == [(2.0, 25.375)]


def test_a_chosen_mitred_edge_and_its_neighbors_are_measured_at_the_underside() -> None:
    job = counter("end")
    leg = job.runs[0].legs[0].id

    def told(side: str) -> list[Dimension]:
        return list(short_points(job, Subject("edge", leg, EdgeRef(leg, side))))

    (back,) = told("end")
    assert back.text == "2 back"
    assert distance(back.a, back.b) == pytest.approx(2.0)
    for side in ("front", "back"):
        (short,) = told(side)
        assert short.text == "4' 10 short point"
        assert distance(short.a, short.b) == pytest.approx(58.0)
    assert told("start") == []
    assert short_points(job, Subject("piece", "A")) == ()
    assert short_points(counter(), Subject("edge", leg, EdgeRef(leg, "end"))) == ()


def test_plots_at_full_size_have_the_line_of_the_underside_and_say_mitred() -> None:
    job = counter("end")
    for plots, name in ((face_down_plots(job), "RIGHT END"), (face_up_plots(job), "RIGHT END")):
        (plot,) = plots
        lines = [m for m in plot.sheet.marks if isinstance(m, Line) and m.role == "ghost"]
        assert len(lines) == 1
        said = [text.upper() for text in texts(list(plot.sheet.marks))]
        assert f"{name}, MITRED 45\u00b0" in said


def test_bevel_strips_are_in_the_cut_plan_and_its_dxf_on_the_foam() -> None:
    job = mitred("1", "2")
    foam = planned(job).of("foam")
    assert foam is not None
    title, words = heading(job, foam, INCHES)
    assert title == "Bevel strips: foam board, 2 thick"
    assert "sheet" in words
    drawing = ezdxf.filemanagement.read(StringIO(cut_plan(job, stamped(job, TODAY)).decode()))
    named = [entity.dxf.text for entity in drawing.modelspace().query("TEXT")]
    assert any(text.startswith("A1 bevel 8' 0 x 2") for text in named)
    assert any(text.startswith("bevel strips: Sheet 1") for text in named)
    # With a knockout both are cut from it.
    sunk = applied(job, edits.AddOpening(sink()))
    found = planned(sunk).of("foam")
    assert found is not None
    assert heading(sunk, found, INCHES)[0].startswith("Knockouts and bevel strips: foam")
