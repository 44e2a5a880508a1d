"""How edges are finished, asked: one edge of a top or of an opening, or several at once."""

from typing import cast

from app.asking import Question
from app.things.boxes import asked_choice, asked_length
from geometry.naming import EdgeRef
from shop import edits
from shop.finishes import BEADED, FINISH_WORDS
from shop.job import Finish, Job

LARGEST_BEAD_IN = 2.0

VARIOUS = "various"
"""The answer that stands for several edges finished differently; choosing it changes nothing."""


def asked_finish(job: Job, *refs: EdgeRef) -> tuple[Question, ...]:
    """Return the questions for the finish of edges and, where they have a bead, its radius."""
    chosen = {choice.edge: choice for choice in job.edge_choices}
    cut = any(ref.side == "cut" for ref in refs)
    found = {chosen[ref].finish if ref in chosen else "" for ref in refs}
    finish = found.pop() if len(found) == 1 else VARIOUS

    def finished(answer: str) -> tuple[edits.Edit, ...]:
        if answer == VARIOUS:
            return ()
        return tuple(edits.FinishEdge(ref, cast(Finish | None, answer or None)) for ref in refs)

    eased = asked_choice(
        "finish",
        "Finish",
        finish,
        (
            *(((VARIOUS, "various"),) if finish == VARIOUS else ()),
            ("", "job's default: eased by a bead"),
            *(pair for pair in FINISH_WORDS.items() if pair[0] != "mitred" or not cut),
        ),
        finished,
    )
    if finish == VARIOUS or (finish and finish not in BEADED):
        return (eased,)

    def with_bead(radius: float) -> tuple[edits.Edit, ...]:
        kept = finish or "bead"
        return tuple(edits.FinishEdge(ref, kept, radius) for ref in refs)

    own = chosen[refs[0]].bead_radius if refs[0] in chosen else None
    radius = asked_length(
        "bead",
        "Radius of its bead" if len(refs) == 1 else "Radius of their bead",
        job.molds.bead_radius if own is None else own,
        with_bead,
        positive=True,
        most=LARGEST_BEAD_IN,
    )
    return (eased, radius)
