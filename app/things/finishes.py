"""How an edge is finished, asked: an edge of a top, or that of an opening."""

from typing import Literal, TypeAlias, cast

from app.asking import Question
from app.things.boxes import asked_choice, asked_length
from geometry.naming import EdgeRef
from shop import edits
from shop.job import Job

Finish: TypeAlias = Literal["bead", "square"]

LARGEST_BEAD_IN = 2.0


def asked_finish(job: Job, ref: EdgeRef) -> tuple[Question, ...]:
    """Return the questions for an edge's finish and, where it has a bead, the bead's radius."""
    chosen = next((choice for choice in job.edge_choices if choice.edge == ref), None)
    finish = "" if chosen is None else chosen.finish
    own = None if chosen is None else chosen.bead_radius

    def finished(answer: str) -> tuple[edits.Edit, ...]:
        return (edits.FinishEdge(ref, cast(Finish | None, answer or None)),)

    eased = asked_choice(
        "finish",
        "Edge",
        finish,
        (
            ("", "job's default: eased by a bead"),
            ("bead", "eased by a bead"),
            ("square", "left square"),
        ),
        finished,
    )
    if finish == "square":
        return (eased,)
    radius = asked_length(
        "bead",
        "Radius of its bead",
        job.molds.bead_radius if own is None else own,
        lambda v: (edits.FinishEdge(ref, "bead", v),),
        positive=True,
        most=LARGEST_BEAD_IN,
    )
    return (eased, radius)
