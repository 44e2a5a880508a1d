"""What leaves an opening in a mold, asked: foam, pipe or a rigid block, and a stem's length."""

from typing import cast

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import asked_choice, asked_length
from geometry.openings import CircleShape, Opening
from shop import edits
from shop.fillings import MadeOf, stem_of

WORDS: dict[MadeOf, str] = {
    "foam": "foam",
    "pipe": "pipe or pipe insulation",
    "rigid": "a rigid block, tapered",
}


def asked_filling(opening: Opening) -> tuple[Question, ...]:
    """Return the questions for an opening's knockout, and for the stem that a round hole takes."""

    def filled(answer: str) -> tuple[edits.Edit, ...]:
        return (edits.SetOpening(replace(opening, fill=cast(MadeOf | None, answer or None))),)

    choices = (("", "what fits its shape"), *WORDS.items())
    knockout = asked_choice("fill", "Knockout", opening.fill or "", choices, filled)
    stem = stem_of(opening)
    if stem is None or not isinstance(opening.shape, CircleShape):
        return (knockout,)
    clamped = asked_length(
        "stem",
        "Its stem clamps, at most",
        stem,
        lambda v: (edits.SetOpening(replace(opening, stem=v)),),
        positive=True,
        most=12.0,
    )
    return (knockout, clamped)
