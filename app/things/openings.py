"""Openings, described: where they lie, and their sizes."""

from msgspec.structs import replace

from app.asking import Fact, Question
from app.gestures.openings import resized, sizes_of
from app.things.boxes import Described, Number, asked_length
from app.things.finishes import asked_finish
from geometry.frames import LegFrame, along_leg_at
from geometry.lengths import LengthStyle, written
from geometry.naming import EdgeRef, Id
from geometry.openings import AlongLeg, Opening, RectangleShape, extent
from geometry.templates import TemplateShape
from shop import edits
from shop.job import (
    Job,
)
from shop.plan import tops
from shop.words import hook_words, length_style

LEAST_IN = 0.25
"""A smaller hole is a slip of the keyboard."""


def opening_described(job: Job, opening_id: Id) -> Described:
    """Return an opening in words and boxes."""
    opening = next(o for o in job.openings if o.id == opening_id)
    style = length_style(job)
    at = opening.at
    half, behind = _reach(opening)
    move = edits.MoveOpening
    questions: list[Question] = []
    facts: list[Fact] = []
    if isinstance(at, AlongLeg):
        questions.append(
            asked_length(
                "front",
                "From the front edge to the opening",
                at.back - half,
                lambda v: (move(opening_id, replace(at, back=v + half)),),
                first=True,
            )
        )
        where = f"from {hook_words(job, at.leg, at.hook)}"
        questions.append(
            asked_length(
                "along",
                f"Its middle, {where}",
                at.along,
                lambda v: (move(opening_id, replace(at, along=v)),),
                first=True,
            )
        )
        frame = next(
            (
                f
                for t in tops(job)
                for f in t.top.frames
                if isinstance(f, LegFrame) and f.leg == at.leg
            ),
            None,
        )
        if frame is not None:
            depth = along_leg_at(frame, frame.back.start)[1]
            facts.append(Fact("From the back edge", written(depth - at.back - behind, style)))
    else:
        questions += [
            asked_length(
                "x",
                "Its middle, from side 4",
                at.x,
                lambda v: (move(opening_id, replace(at, x=v)),),
                first=True,
            ),
            asked_length(
                "y",
                "Its middle, from side 1",
                at.y,
                lambda v: (move(opening_id, replace(at, y=v)),),
                first=True,
            ),
        ]
    shape = opening.shape
    if isinstance(shape, RectangleShape):
        questions += _rectangle_sizes(opening, shape)
    elif isinstance(shape, TemplateShape):
        facts += _template_facts(shape, style)
        questions.append(_reveal(opening))
    else:
        questions += [
            asked_length(key, label, value, _resizing(opening, key), least=LEAST_IN)
            for key, label, value in sizes_of(shape)
        ]
    questions += asked_finish(job, EdgeRef(opening_id, "cut"))
    questions.append(
        Question(
            "name",
            "Name",
            "words",
            opening.name,
            lambda a: (edits.SetOpening(replace(opening, name=str(a))),),
        )
    )
    return Described(opening.name[0].upper() + opening.name[1:], tuple(facts), tuple(questions))


def _rectangle_sizes(opening: Opening, shape: RectangleShape) -> list[Question]:
    """Return the questions for a bowl's or cooktop's hole; its radius never changes unasked."""
    least = max(LEAST_IN, 2.0 * shape.radius)
    under = "Its corners' radius needs at least {}." if shape.radius else ""
    return [
        *(
            asked_length(key, label, value, _resizing(opening, key), least=least, under=under)
            for key, label, value in sizes_of(shape)
        ),
        asked_length(
            "radius",
            "Corner radius",
            shape.radius,
            _resizing(opening, "radius"),
            least=0.0,
            most=min(shape.width, shape.depth) / 2.0,
            over="The largest radius that fits here is {}.",
        ),
        _reveal(opening),
    ]


def _reveal(opening: Opening) -> Question:
    return asked_length(
        "reveal",
        "Reveal: cut larger than the bowl by",
        opening.reveal,
        lambda v: (edits.SetOpening(replace(opening, reveal=v)),),
        least=-6.0,
        most=6.0,
    )


def _template_facts(shape: TemplateShape, style: LengthStyle) -> tuple[Fact, ...]:
    """Return where a template came from and its size: its outline stays as it was drawn."""
    x0, y0, x1, y1 = extent(shape)
    return (
        Fact("Template", shape.file),
        Fact("Size", f"{written(x1 - x0, style)} x {written(y1 - y0, style)}"),
    )


def _resizing(opening: Opening, key: str) -> Number:
    """Return what gives an opening another size."""

    def resizing(value: float) -> tuple[edits.Edit, ...]:
        return (edits.SetOpening(replace(opening, shape=resized(opening.shape, key, value))),)

    return resizing


def _reach(opening: Opening) -> tuple[float, float]:
    """Return how far a hole reaches from its middle to the front and to the back."""
    _, y0, _, y1 = extent(opening.shape)
    return opening.reveal - y0, opening.reveal + y1
