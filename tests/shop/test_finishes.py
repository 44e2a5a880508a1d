"""Finishes of edges: which have a bead, what is said of each, what a corner between two has."""

from typing import get_args

import pytest

from geometry.counters import SquareEnd
from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from shop import edits, plan
from shop.applying import applied
from shop.beads import bead_radius
from shop.finishes import (
    BEADED,
    FINISH_WORDS,
    NOTES,
    SHORT_WORDS,
    finish_notes,
    finish_of,
    finishes_on,
    finishing,
)
from shop.job import EdgeChoice, Finish, Job
from shop.jobfile import read_job
from shop.samples import sample_path

FRONT, END = EdgeRef("leg1", "front"), EdgeRef("leg1", "end")
FINISHES: tuple[Finish, ...] = get_args(Finish)


def test_every_finish_has_its_words() -> None:
    assert set(FINISH_WORDS) == set(SHORT_WORDS) == set(FINISHES)
    assert set(NOTES) == set(FINISHES) - {"bead"}


@pytest.mark.parametrize("finish", FINISHES)
def test_a_bead_runs_along_eased_and_polished_edges_only(finish: Finish) -> None:
    found = bead_radius(Tag(Kind.FRONT, FRONT), (EdgeChoice(FRONT, finish, 0.25),), 0.125)
    assert found == (0.25 if finish in ("bead", "polished") else None)
    assert (found is not None) == (finish in BEADED)


def test_a_seam_has_no_finish_whatever_is_chosen_for_it() -> None:
    seam = EdgeRef("seam1", "left")
    assert finish_of(Tag(Kind.SEAM, seam), (EdgeChoice(seam, "polished"),)) is None


def test_a_corner_has_the_finish_that_both_its_edges_have() -> None:
    corner = Tag(Kind.CORNER, corner_ref(FRONT, END))
    one = (EdgeChoice(FRONT, "polished"),)
    assert finish_of(corner, one) is None
    assert finish_of(corner, (*one, EdgeChoice(END, "polished"))) == "polished"
    assert finish_of(corner, (*one, EdgeChoice(END, "square"))) is None


def finished(job: Job, *chosen: tuple[EdgeRef, Finish]) -> Job:
    for edge, finish in chosen:
        job = applied(job, edits.FinishEdge(edge, finish))
    return job


@pytest.fixture(scope="module")
def vanity() -> Job:
    return read_job(sample_path("out-of-square"))


def test_a_mold_follows_the_finish_and_says_what_it_means(vanity: Job) -> None:
    leg = vanity.runs[0].legs[0].id
    end = EdgeRef(leg, "start" if isinstance(vanity.runs[0].left, SquareEnd) else "end")
    job = finished(vanity, (EdgeRef(leg, "front"), "polished"), (end, "mitred"))
    before = {s.tag.ref: s.bead for m in plan.molds(vanity) for s in m.strips}
    strips = [s for m in plan.molds(job) for s in m.strips]
    for strip in strips:
        if strip.tag.ref == EdgeRef(leg, "front"):
            assert (strip.finish, strip.bead) == ("polished", True)
        elif strip.tag.ref == end:
            assert (strip.finish, strip.bead) == ("mitred", False)
        else:
            assert (strip.finish, strip.bead) == (None, before[strip.tag.ref])
    (polished, mitred) = finish_notes([s for s in strips if s.finish])
    assert {polished.partition(":")[0], mitred.partition(":")[0]} == {
        "Polished",
        "Mitred for a waterfall",
    }
    assert finish_notes(s for s in strips if s.finish is None) == ()


def test_a_frozen_piece_keeps_the_finishes_it_was_made_with(vanity: Job) -> None:
    leg = vanity.runs[0].legs[0].id
    front = EdgeRef(leg, "front")
    name = plan.pieces(vanity)[0].name
    job = finished(vanity, (front, "polished"))
    job = applied(job, edits.MarkPiece(name, "cut"))
    job = finished(job, (front, "square"))
    outline = plan.piece(job, name).face.base_outline
    kept = {c.edge: c.finish for c in finishes_on(name, outline, finishing(job))}
    assert kept[front] == "polished"
    assert finishes_on("Z", outline, finishing(job)) == (EdgeChoice(front, "square"),)
