"""What every description is made of: a title, facts and questions, and short ways to ask."""

from collections.abc import Callable
from typing import NamedTuple, TypeVar, cast

from msgspec import Struct
from msgspec.structs import replace

from app.asking import UNBOUND, Fact, Question
from shop import edits

NARROWEST_IN = 3.0
"""A narrower top is a slip of the keyboard."""

BOARD_IN = 4000.0
"""Nothing lies farther from the middle of the board."""

FARTHEST_IN = 60.0
"""A larger overhang or clearance is a slip of the keyboard."""


Number = Callable[[float], tuple[edits.Edit, ...]]


class Described(NamedTuple):
    """A thing in words and boxes."""

    title: str
    facts: tuple[Fact, ...] = ()
    questions: tuple[Question, ...] = ()


def asked_length(
    key: str,
    label: str,
    value: float,
    change: Number,
    *,
    first: bool = False,
    positive: bool = False,
    least: float = UNBOUND,
    most: float = 2000.0,
    under: str = "",
    over: str = "",
) -> Question:
    """Return a question for a length in inches; under and over say what is out of bounds."""
    return Question(
        key,
        label,
        "length",
        value,
        lambda answer: change(cast(float, answer)),
        least=least,
        most=most,
        positive=positive,
        first=first,
        under=under,
        over=over,
    )


class LengthField(NamedTuple):
    """A field of a value that is asked as a length, with its bounds in inches."""

    key: str
    label: str
    field: str
    least: float = 0.0
    most: float = 2000.0


Whole = TypeVar("Whole", bound=Struct)


def asked_fields(
    whole: Whole, change: Callable[[Whole], edits.Edit], *fields: LengthField
) -> tuple[Question, ...]:
    """Return the questions for fields of a value; change makes the edit that sets the value."""

    def with_(field: str) -> Number:
        return lambda v: (change(replace(whole, **{field: v})),)

    return tuple(
        asked_length(key, label, getattr(whole, field), with_(field), least=least, most=most)
        for key, label, field, least, most in fields
    )


def asked_on_board(
    x: float, y: float, put: Callable[[float, float], tuple[edits.Edit, ...]]
) -> tuple[Question, Question]:
    """Return the questions for a place on the board, in inches."""
    return (
        asked_length(
            "x", "Across, on the board", x, lambda v: put(v, y), least=-BOARD_IN, most=BOARD_IN
        ),
        asked_length(
            "y", "Up, on the board", y, lambda v: put(x, v), least=-BOARD_IN, most=BOARD_IN
        ),
    )


def asked_choice(
    key: str,
    label: str,
    value: str,
    choices: tuple[tuple[str, str], ...],
    change: Callable[[str], tuple[edits.Edit, ...]],
) -> Question:
    """Return a question with a few answers to choose from."""
    return Question(key, label, "choice", value, lambda a: change(str(a)), choices)
