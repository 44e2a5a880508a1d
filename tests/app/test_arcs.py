"""Radii and rises of the drawing typed over: what moves, and that the arc is then as typed."""

from typing import Literal

import pytest
from msgspec.structs import replace

from app.asking import AnswerError, understood
from app.things.arcs import OF_OTHERS, arc_mover, radius_off, rise_off
from app.things.lengths import asked
from app.things.movers import edge_of
from export.drawings import face_down_groups, face_up_groups, lengths_down
from export.marks import Words
from geometry import edges as exact
from geometry.counters import RoundCorner
from geometry.lengths import LengthStyle, written
from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from geometry.picking import Subject
from shop import edits
from shop.applying import applied_all
from shop.job import Job
from shop.words import length_style
from tests.export.jobs import sample
from tests.shop.kitchens import after, island, seam, straight

STYLE = LengthStyle()


def arcs(job: Job) -> dict[tuple[Subject, str], Words]:
    """Return the words for arcs on a job's drawing, by what they ask."""
    marks = (mark for group in face_up_groups(job) for mark in group.marks)
    found = (m for m in marks if isinstance(m, Words) and m.asks in ("radius", "rise"))
    return {(m.subject, m.asks): m for m in found if m.subject is not None}


def bowed(rise: float = 3.0) -> Job:
    job = straight()
    (leg,) = job.runs[0].legs
    return after(job, edits.SetLeg(replace(leg, rise=rise)))


def rounded(radius: float = 4.0) -> Job:
    job = straight()
    leg = job.runs[0].legs[0].id
    corner = corner_ref(EdgeRef(leg, "front"), EdgeRef(leg, "end"))
    return after(job, edits.ShapeCorner(corner, RoundCorner(corner, radius)))


def ended(*sides: Literal["1", "2", "4"], wide: float = 72.0, deep: float = 36.0) -> Job:
    job = island()
    (one,) = job.islands
    return after(job, edits.SetIsland(replace(one, width=wide, depth=deep, round_sides=sides)))


JOBS = {
    "bow": bowed(),
    "hollow": bowed(-3.0),
    "parted bow": after(bowed(), edits.AddSeam(seam(50.0))),
    "corner": rounded(),
    "round end": ended("2"),
    "round ends": ended("2", "4"),
    "round sides": ended("1", wide=36.0, deep=72.0),
    "half circle": ended("1", deep=36.0),
    "circle": ended("2", "4", wide=36.0),
    "free": sample("bowed-and-free"),
}


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("share", [0.8, 0.95])
def test_an_arc_is_as_its_radius_or_rise_was_typed(name: str, share: float) -> None:
    job = JOBS[name]
    found = arcs(job)
    assert found
    for (subject, asks), words in found.items():
        one = asked(job, subject, asks)
        assert one.question is not None, one.words
        assert one.moves
        value = one.question.value
        assert isinstance(value, float)
        assert words.text in (f"R {written(value, STYLE)}", f"rise {written(value, STYLE)}")
        wanted = value * share
        try:
            understood(one.question, f"{wanted:.4f}", length_style(job))
        except AnswerError:
            assert wanted < one.question.least
            continue
        edge = edge_of(applied_all(job, one.question.edits(wanted)), subject)
        assert edge is not None
        drawn = exact.radius(edge) if asks == "radius" else abs(exact.rise(edge))
        before = edge_of(job, subject)
        assert before is not None
        assert drawn == pytest.approx(wanted, abs=1e-3)
        assert (edge.bulge > 0.0) == (before.bulge > 0.0)


def test_a_bow_typed_as_no_rise_is_straight() -> None:
    job = bowed()
    subject = Subject("edge", "leg201", EdgeRef("leg201", "front"))
    question = asked(job, subject, "rise").question
    assert question is not None
    (leg,) = applied_all(job, question.edits(0.0)).runs[0].legs
    assert leg.rise == pytest.approx(0.0, abs=1e-5)


def test_a_radius_that_does_not_reach_from_end_to_end_is_refused() -> None:
    job = bowed()
    subject = Subject("edge", "leg201", EdgeRef("leg201", "front"))
    question = asked(job, subject, "radius").question
    assert question is not None
    with pytest.raises(AnswerError, match="reaches from end to end"):
        understood(question, "30", length_style(job))


def test_each_arc_names_what_moves() -> None:
    moved = {
        name: {asked(job, subject, asks).words for subject, asks in arcs(job)}
        for name, job in JOBS.items()
        if name != "free"
    }
    assert moved["bow"] == moved["hollow"] == {"Moves the middle of the front"}
    assert moved["corner"] == {"Moves the corner's rounding"}
    assert moved["round end"] == moved["round ends"] == {"Moves side 3"}
    assert moved["round sides"] == {"Moves side 2"}
    assert moved["half circle"] == {"Moves side 1"}
    assert moved["circle"] == {"Moves the whole round"}


def test_both_sides_of_the_fold_have_the_same_words_and_none_stands_on_its_head() -> None:
    job = sample("bowed-and-free")
    down = [m for group in lengths_down(job) for m in group.marks if isinstance(m, Words)]
    told = {(m.subject, m.asks): m.text for m in down if m.asks in ("radius", "rise")}
    assert told == {key: words.text for key, words in arcs(job).items()}
    for words in (*down, *arcs(job).values()):
        if words.asks in ("radius", "rise"):
            assert {place.angle_rad for place in words.places} == {0.0}
    assert face_down_groups(job)


def test_an_arc_that_something_else_makes_says_so() -> None:
    job = bowed()
    gone = Subject("edge", "leg201", EdgeRef("leg201", "end"), 7)
    assert asked(job, gone, "radius").question is None
    end = EdgeRef("leg201", "end")
    assert arc_mover(job, Tag(Kind.END, end, 0)) == OF_OTHERS
    corner = corner_ref(EdgeRef("leg201", "front"), end)
    assert arc_mover(job, Tag(Kind.CORNER, corner, 0)) == OF_OTHERS


def test_what_an_arc_is_off_by_is_unknown_once_it_is_gone() -> None:
    subject = Subject("edge", "leg201", EdgeRef("leg201", "front"))
    drawn = edge_of(bowed(), subject)
    assert drawn is not None
    assert radius_off(subject, drawn, 30.0)(island()) is None
    assert rise_off(subject, drawn, 3.0)(island()) is None
    flat = radius_off(subject, drawn, 30.0)(straight())
    assert flat == 30.0, "a straight line is off by all of it"
