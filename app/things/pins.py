"""A note pinned to a place, in words and boxes."""

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import Described, asked_length
from geometry.naming import Id
from shop import edits
from shop.job import Job

FARTHEST_IN = 4000.0


def pin_described(job: Job, pin_id: Id) -> Described:
    """Return a pinned note: what it says and where it is."""
    pin = next(pin for pin in job.pins if pin.id == pin_id)

    def said(text: str) -> tuple[edits.Edit, ...]:
        return (edits.SetPin(replace(pin, text=text)),)

    return Described(
        "Note",
        (),
        (
            Question("text", "It says", "words", pin.text, lambda a: said(str(a)), first=True),
            asked_length(
                "x",
                "Across, on the board",
                pin.x,
                lambda v: (edits.SetPin(replace(pin, x=v)),),
                least=-FARTHEST_IN,
                most=FARTHEST_IN,
            ),
            asked_length(
                "y",
                "Up, on the board",
                pin.y,
                lambda v: (edits.SetPin(replace(pin, y=v)),),
                least=-FARTHEST_IN,
                most=FARTHEST_IN,
            ),
        ),
    )
