"""Boxes for readings in forms: taken ones can be taken again, others show what stands."""

from msgspec.structs import replace

from app.asking import Answer, Question
from app.reading_rows import SHORTEST
from app.taking import retaken
from geometry.lengths import written
from shop import edits
from shop.job import Job, fresh_id
from shop.readings import (
    AngleReading,
    PlumbReading,
    Reading,
    StationReading,
    StraightedgeReading,
    TieReading,
)
from shop.retaking import retaped
from shop.words import length_style

MOST_DEG = 359.0
MOST_IN = 2000.0


def value_asked(job: Job, reading: Reading, label: str, *, first: bool = False) -> Question:
    """Return the question for a reading's value; another take replaces it or averages."""
    return _asked(f"value-{reading.id}", label, reading, first=first)._replace(
        value=reading.value,
        edits=lambda answer: (edits.SetReading(retaped(reading, float(answer))),),
        retaken=retaken(job, reading),
    )


def taken_asked(
    job: Job, key: str, label: str, known: Reading | None, fresh: Reading, *, first: bool = False
) -> Question:
    """Return the question for a reading that may have been taken.

    fresh is it as it would be taken first; its value is what stands without it, inches or degrees.
    """
    angle = isinstance(fresh, AngleReading)
    word = "measured" if angle else "taped"
    if known is not None:
        return value_asked(job, known, f"{label}, as {word}", first=first)._replace(key=key)
    style = length_style(job)
    stands = f"{fresh.value:.1f}°" if angle else written(fresh.value, style)

    def took(answer: Answer) -> tuple[edits.Edit, ...]:
        if isinstance(answer, str):
            return ()
        return (edits.AddReading(replace(fresh, id=fresh_id(job, "reading"), value=answer)),)

    return _asked(key, f"{label}, not {word} (gray: as it stands)", fresh, first=first)._replace(
        value="", edits=took, optional=True, ghost=stands
    )


def _asked(key: str, label: str, reading: Reading, *, first: bool) -> Question:
    angle = isinstance(reading, AngleReading)
    signed = isinstance(reading, StraightedgeReading | StationReading | TieReading | PlumbReading)
    return Question(
        key,
        label,
        "angle" if angle else "length",
        "",
        least=-MOST_IN if signed else SHORTEST,
        most=MOST_DEG if angle else MOST_IN,
        first=first,
    )
