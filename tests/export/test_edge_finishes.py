"""How edges are finished shows without color: by the style of their lines, and in words."""

from typing import get_args

import pytest
from msgspec.structs import replace

from app.look import ROLE_LOOKS
from app.things.finishes import asked_finish
from export.cutlist import rows
from export.drawings import FINISH_ROLES, face_down_groups, face_up_groups
from export.facts import facts
from export.inks import INKS
from export.legend import finish_entries
from export.marks import AnyMark, Group, Line, Words
from export.mold_parts import facts_of
from export.opened import opened_mold
from geometry.naming import EdgeRef
from shop import edits, plan
from shop.finishes import FINISH_WORDS, SHORT_WORDS
from shop.job import Finish, Job
from tests.shop.kitchens import after, sink, straight

FINISHES = tuple(finish for finish in get_args(Finish) if finish != "bead")
"""Those that are not as any other edge's."""


def finished(finish: Finish, *refs: EdgeRef) -> Job:
    job = after(straight(), edits.AddOpening(replace(sink(), reveal=0.0)))
    return after(job, *(edits.FinishEdge(ref, finish) for ref in refs))


def marks(groups: tuple[Group, ...]) -> list[AnyMark]:
    return [mark for group in groups for mark in group.marks]


def test_every_finish_has_a_style_of_line_of_its_own_on_paper_and_on_the_screen() -> None:
    roles = [FINISH_ROLES[finish] for finish in FINISHES]
    on_paper = [INKS[role].dashes for role in (*roles, "front")]
    assert len(set(on_paper)) == len(on_paper)
    strokes = [ROLE_LOOKS[role].stroke for role in (*roles, "front")]
    styles = [stroke.pattern for stroke in strokes if stroke is not None]
    assert len(set(styles)) == len(roles) + 1


FRONT, END, CUT = EdgeRef("leg201", "front"), EdgeRef("leg201", "end"), EdgeRef("opening400", "cut")
FINISHED = [
    (finish, ref)
    for finish in FINISHES
    for ref in (FRONT, END, CUT)
    if (finish, ref) != ("mitred", CUT)
]
"""Each finish on an edge that may have it: no strip mitres an opening."""


@pytest.mark.parametrize(("finish", "ref"), FINISHED)
@pytest.mark.parametrize("down", [False, True])
def test_a_finish_is_drawn_and_said_on_both_sides_of_the_fold(
    finish: Finish, down: bool, ref: EdgeRef
) -> None:
    job = finished(finish, ref)
    found = marks((face_down_groups if down else face_up_groups)(job))
    lines = [m for m in found if isinstance(m, Line) and m.role == FINISH_ROLES[finish]]
    assert lines
    assert {m.subject.id for m in lines if m.subject} == {ref.owner}
    said = [m.text for m in found if isinstance(m, Words) and SHORT_WORDS[finish] in m.text]
    assert len(said) == 1


@pytest.mark.parametrize("finish", FINISHES)
def test_a_short_edge_says_its_finish_too(finish: Finish) -> None:
    job = straight()
    leg = replace(job.runs[0].legs[0], depth_left=7.0, depth_right=7.0)
    end = EdgeRef(leg.id, "end")
    job = after(job, edits.SetLeg(leg), edits.FinishEdge(end, finish))
    for groups in (face_up_groups(job), face_down_groups(job)):
        texts = [m.text for m in marks(groups) if isinstance(m, Words)]
        assert sum(SHORT_WORDS[finish] in text for text in texts) == 1


def test_an_opening_that_a_file_calls_mitred_is_left_square() -> None:
    mold = plan.mold(finished("mitred", CUT), "A")
    assert [(k.finish, k.bead_length_in) for k in mold.knockouts] == [("square", 0.0)]
    (finish,) = asked_finish(finished("square", CUT), CUT)
    assert "mitred" not in dict(finish.choices)


@pytest.mark.parametrize(("finish", "ref"), FINISHED)
def test_a_mold_s_page_draws_a_finish_explains_its_line_and_notes_it(
    finish: Finish, ref: EdgeRef
) -> None:
    job = finished(finish, ref)
    mold = plan.mold(job, "A")
    assert finish_entries([mold]) == ((FINISH_ROLES[finish], FINISH_WORDS[finish]),)
    opened = opened_mold(job, "A").marks
    assert any(isinstance(m, Line) and m.role == FINISH_ROLES[finish] for m in opened)
    (note,) = (text for called, text in facts_of(job, mold) if called == "finish")
    named = {FRONT: "front", END: "right end", CUT: "sink"}[ref]
    assert note.lower().startswith(f"{FINISH_WORDS[finish]}: {named}. ")
    made = "square, no bead" if finish == "square" else FINISH_WORDS[finish]
    assert sum(row[8].endswith(made) for row in rows(job)) == 1
    told = facts(job)["molds"][0]
    assert finish in [one["finish"] for one in (*told["edges"], *told["knockouts"])]
