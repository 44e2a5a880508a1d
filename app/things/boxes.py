"""What every description is made of: a title, facts and questions, and short ways to ask."""

from collections.abc import Callable
from typing import NamedTuple, cast

from app.asking import Fact, Question
from shop import edits

NARROWEST_IN = 3.0
"""A narrower top is a slip of the keyboard."""

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
    least: float = -2000.0,
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


def asked_choice(
    key: str,
    label: str,
    value: str,
    choices: tuple[tuple[str, str], ...],
    change: Callable[[str], tuple[edits.Edit, ...]],
) -> Question:
    """Return a question with a few answers to choose from."""
    return Question(key, label, "choice", value, lambda a: change(str(a)), choices)
