"""A note pinned to a place, in words and boxes."""

from msgspec.structs import replace

from app.asking import Answer, Question
from app.things.boxes import Described, asked_on_board
from geometry.naming import Id
from shop import edits
from shop.job import Job


def pin_described(job: Job, pin_id: Id) -> Described:
    """Return a pinned note: what it says and where it is."""
    pin = next(pin for pin in job.pins if pin.id == pin_id)

    def said(answer: Answer) -> tuple[edits.Edit, ...]:
        return (edits.SetPin(replace(pin, text=str(answer))),)

    def put(x: float, y: float) -> tuple[edits.Edit, ...]:
        return (edits.SetPin(replace(pin, x=x, y=y)),)

    says = Question("text", "It says", "words", pin.text, said, first=True)
    return Described("Note", (), (says, *asked_on_board(pin.x, pin.y, put)))
