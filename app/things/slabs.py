"""How far a piece is, described: its state, and on a cast slab what was measured."""

from typing import Literal, cast

from app.asking import Answer, Fact, Question
from app.things.boxes import asked_choice
from geometry.lengths import written
from shop import edits
from shop.job import Job, Slab
from shop.plan import Piece
from shop.slab_findings import differing, far_words, standing
from shop.slab_lengths import SlabLength, slab_lengths, slab_of
from shop.slab_misreading import misread_words
from shop.slabs import SlabMeasure
from shop.words import length_style

STATES = (("drawn", "drawn"), ("cut", "cut"), ("poured", "poured"), ("cast", "cast"))

State = Literal["drawn", "cut", "poured", "cast"]


def slab_facts(job: Job, name: str) -> tuple[Fact, ...]:
    """Return what is to be said of a frozen slab beside what its findings say."""
    facts: list[Fact] = []
    worst = max(differing(job, name), key=lambda d: abs(d.most), default=None)
    if worst is not None:
        facts.append(Fact("Today's plan", far_words(worst, length_style(job))))
    for stand in standing(job):
        wrong = misread_words(stand, length_style(job)) if stand.slab.piece == name else ""
        if wrong:
            facts.append(Fact("Does not fit", wrong))
        if stand.slab.piece == name and stand.slab.came_out and stand.cast.missing > 0:
            facts.append(Fact("Lengths that would fix its shape", f"{stand.cast.missing} more"))
    return tuple(facts)


def slab_questions(job: Job, piece: Piece) -> tuple[Question, ...]:
    """Return the choice of a piece's state and, once it is cast, boxes for what was measured."""
    state = asked_choice(
        "state",
        "How far it is",
        piece.state,
        STATES,
        lambda answer: (edits.MarkPiece(piece.name, cast(State, answer)),),
    )
    slab = slab_of(job, piece.name)
    if slab is None or slab.state != "cast":
        return (state,)
    style = length_style(job)
    lengths = (_length(slab, one, written(one.drawn, style)) for one in slab_lengths(job, slab))
    return (state, *lengths, _thickness(slab, written(slab.thickness, style)))


def _length(slab: Slab, one: SlabLength, ghost: str) -> Question:
    def measured(answer: Answer) -> tuple[edits.Edit, ...]:
        others = tuple(m for m in slab.came_out if {m.a, m.b} != {one.a, one.b})
        new = () if isinstance(answer, str) else (SlabMeasure(one.a, one.b, answer),)
        return (edits.MeasureSlab(slab.piece, (*others, *new), slab.thickness_out),)

    return Question(
        f"length-{one.a}-{one.b}",
        f"{one.words}, as it came out",
        "length",
        "" if one.measured is None else one.measured,
        measured,
        least=0.0,
        positive=True,
        optional=True,
        ghost=ghost,
    )


def _thickness(slab: Slab, ghost: str) -> Question:
    def measured(answer: Answer) -> tuple[edits.Edit, ...]:
        out = None if isinstance(answer, str) else answer
        return (edits.MeasureSlab(slab.piece, slab.came_out, out),)

    return Question(
        "thickness-out",
        "Thickness, as it came out",
        "length",
        "" if slab.thickness_out is None else slab.thickness_out,
        measured,
        most=12.0,
        positive=True,
        optional=True,
        ghost=ghost,
    )
