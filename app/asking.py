"""What is asked and told: questions with boxes, and facts with words.

The entry line and the property form are made of these; so are the boxes of a gesture.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

from geometry.lengths import LengthError, LengthStyle, echoed, fitting, parsed, written
from geometry.tolerances import SAME_POINT_IN

if TYPE_CHECKING:
    from app.taking import Retaken
    from shop.edits import Edit

Answer: TypeAlias = float | str
AnswerKind: TypeAlias = Literal["length", "angle", "number", "words", "choice"]


UNBOUND = -2000.0
"""The least of a question that has no bound below of its own, inches or degrees."""

FEW_LETTERS = 8
"""Words of no more letters have a small box."""


class Question(NamedTuple):
    """One box. value is what stands in it; edits makes the edits of another answer.

    Lengths are in inches, angles in degrees. least and most bound numbers, both included unless
    positive is set, which asks for more than nothing. choices are (answer, word) pairs.
    """

    key: str
    label: str
    kind: AnswerKind
    value: Answer
    edits: "Callable[[Answer], tuple[Edit, ...]]" = lambda _: ()
    choices: tuple[tuple[str, str], ...] = ()
    least: float = UNBOUND
    most: float = 2000.0
    positive: bool = False
    first: bool = False
    """Whether the entry line shows it, too."""
    under: str = ""
    over: str = ""
    """What is said of an answer below least or above most, with {} for that bound."""
    optional: bool = False
    """Whether an empty box is an answer, too: the empty word."""
    ghost: str = ""
    """What an empty box shows in quiet letters."""
    refused: Callable[[str], str] = lambda _: ""
    """What is wrong with words that were typed, in one sentence, or nothing."""
    retaken: "Retaken | None" = None
    """What may become of the reading that stands in the box when another value is typed."""

    @property
    def signed(self) -> bool:
        """Whether less than nothing is an answer as good as more: a bound of its own is below 0."""
        numeric = self.kind in ("length", "angle", "number")
        return numeric and not self.positive and UNBOUND < self.least < 0.0


class Fact(NamedTuple):
    """One line that is only read."""

    label: str
    value: str


class AnswerError(Exception):
    """What was typed is no answer; one sentence says why."""


def shown_answer(question: Question, answer: Answer, style: LengthStyle) -> str:
    """Return an answer as it stands in a box."""
    if isinstance(answer, str):
        return answer
    if question.kind == "length":
        return written(answer, style)
    return f"{answer:.4f}".rstrip("0").rstrip(".")


def read_back(question: Question, answer: Answer, style: LengthStyle) -> str:
    """Return how an answer was understood, both ways of saying a length."""
    if isinstance(answer, str):
        return ""
    if question.kind == "angle":
        return f"{shown_answer(question, answer, style)}°"
    if question.kind != "length":
        return ""
    return echoed(answer, style)


def understood(question: Question, text: str, style: LengthStyle) -> Answer:
    """Return the answer in a box's text.

    Raises:
        AnswerError: it cannot be understood or lies out of bounds.
    """
    text = text.strip()
    if not text and question.optional:
        return ""
    if question.kind in ("words", "choice"):
        if not text:
            raise AnswerError(f"{question.label}: type a word or more.")
        if refusal := question.refused(text):
            raise AnswerError(refusal)
        return text
    if not text:
        raise AnswerError(f"{question.label}: type a number.")
    value = _number(question, text, style)
    if question.positive and value <= 0.0:
        raise AnswerError(f"{question.label}: more than 0.")
    if value < question.least - SAME_POINT_IN:
        # Negated, a length is rounded up: what is named must do.
        least = _bound(question, -question.least, style, -1.0)
        raise AnswerError((question.under or f"{question.label}: at least {{}}.").format(least))
    if value > question.most + SAME_POINT_IN:
        most = _bound(question, question.most, style, 1.0)
        raise AnswerError((question.over or f"{question.label}: at most {{}}.").format(most))
    return value


def _bound(question: Question, value: float, style: LengthStyle, sign: float) -> str:
    """Return a bound as words; a length is rounded to what can be typed and still does."""
    if question.kind == "length":
        value = fitting(value, style)
    return shown_answer(question, sign * value, style)


def _number(question: Question, text: str, style: LengthStyle) -> float:
    if question.kind == "length":
        try:
            return parsed(text, style.unit)
        except LengthError as error:
            raise AnswerError(str(error)) from error
    if question.kind == "angle" and text.lower() == "square":
        return 90.0
    try:
        return float(text.replace(",", ".").rstrip("°"))
    except ValueError as error:
        raise AnswerError(f"{question.label}: '{text}' is not a number.") from error
