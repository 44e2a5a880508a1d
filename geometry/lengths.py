"""Lengths as people write them: feet, inches and fractions, or metric; read and written exactly.

A bare number is in the job's own unit; a fraction is always of an inch. Inside the program every
length is in inches.
"""

import re
import unicodedata
from fractions import Fraction
from math import floor, gcd, isfinite
from typing import Literal, NamedTuple, TypeAlias

import msgspec

from geometry.tolerances import SAME_POINT_IN

Unit: TypeAlias = Literal["in", "mm"]

MM_PER_INCH = Fraction(254, 10)
"""1 in = 25.4 mm exactly (international yard and pound agreement, 1959)."""

LONGEST_IN = 2000
"""A longer length is a slip of the keyboard."""

FEET_FROM_IN = 36
"""Lengths from here on are written in feet and inches."""

LONGEST_TEXT = 40
"""A longer text is no length."""

_FRACTION_SIGNS = re.compile("[¼-¾⅐-⅞↉]")
_SAME_MARKS = str.maketrans(
    {
        **dict.fromkeys("′’‘´`", "'"),
        **dict.fromkeys("″”“", '"'),
        **dict.fromkeys("\u2212\u2012\u2013", "-"),  # minus sign, figure dash, en dash
        "\u2044": "/",  # fraction slash
    }
)


class LengthError(ValueError):
    """Text that is no length; one sentence says why and what to write instead."""


class LengthStyle(msgspec.Struct, frozen=True, cache_hash=True):
    """How lengths are written: the unit, and the finest fraction of an inch."""

    unit: Unit = "in"
    denominator: Literal[16, 32, 64] = 16

    @property
    def step_in(self) -> float:
        """The finest length that is written, in inches: a fraction, or a millimeter."""
        return 1.0 / self.denominator if self.unit == "in" else float(1 / MM_PER_INCH)


INCHES = LengthStyle()
"""Inches to the nearest 1/16."""


class Parts(NamedTuple):
    """A length as it is read off a tape: a sign, feet, inches, and a fraction (0 of 1 if none).

    For millimeters feet is None, whole holds the millimeters, and the fraction is tenths.
    """

    negative: bool
    feet: int | None
    whole: int
    numerator: int
    denominator: int


def _plain(text: str) -> str:
    """Return the text with plain quotes, spaces and fractions, in lower case."""
    text = _FRACTION_SIGNS.sub(lambda sign: f" {unicodedata.normalize('NFKC', sign[0])}", text)
    text = text.translate(_SAME_MARKS).replace("''", '"')
    return re.sub(r"\s*/\s*", "/", " ".join(text.lower().split()))


_NUMBER = r"(?:\d+(?:[.,]\d*)?|[.,]\d+)"
_FRACTION = r"\d+/\d+"
_INCH_WORD = r"(?: ?(?:\"|inches|inch|in\.?))?"
_METRIC = re.compile(rf"({_NUMBER}) ?(mm|cm|m)")
_INCHES = re.compile(
    rf"(?:(?P<mixed>\d+)[ -](?P<part>{_FRACTION})|(?P<only>{_FRACTION})|(?P<plain>{_NUMBER}))"
    + _INCH_WORD
)
_FEET = re.compile(rf"({_NUMBER}) ?(?:'|ft\.?|feet|foot)(?: ?-? ?(.+))?")
_BARE = re.compile(rf"(\d+) (\d+)[ -]({_FRACTION}){_INCH_WORD}")
_UNCLEAR = re.compile(rf"(\d+) (\d+){_INCH_WORD}")
_THOUSANDS = re.compile(r"\d+,\d{3}")


def parsed(text: str, unit: Unit = "in") -> float:
    """Return a length in inches.

    unit is the job's: it is what a bare number means. A decimal comma is read in a metric job
    only. Feet, inches and a fraction may go without marks (8 4 1/2); feet and inches alone may not,
    since 8 4 could as well be 8 1/4.

    Raises:
        LengthError: the text is no length, is unclear, or is absurdly large.
    """
    said = " ".join(text.split())
    if not said:
        raise LengthError("Nothing is written: type a length such as 8' 4 1/2 or 698mm.")
    if len(said) > LONGEST_TEXT or not said.isprintable():
        raise LengthError("This text is no length: write it like 8' 4 1/2, 100.5 or 698mm.")
    plain = _plain(said)
    negative = plain.startswith("-")
    exact = _inches(plain[1:].strip() if negative else plain, said, unit)
    if exact > LONGEST_IN:
        raise LengthError(f"'{said}' is more than {LONGEST_IN} inches: check the number.")
    return float(-exact if negative else exact)


def _number(text: str, said: str, *, comma: bool = False) -> Fraction:
    if "," in text and not comma:
        raise LengthError(f"'{said}' has a comma: write a decimal point, or a fraction of an inch.")
    return Fraction(text.replace(",", "."))


def _inches(plain: str, said: str, unit: Unit) -> Fraction:
    metric = _METRIC.fullmatch(plain)
    if metric is None and unit == "mm":
        metric = _METRIC.fullmatch(f"{plain}mm")
    if metric:
        number, named = metric.groups()
        if named == "mm" and _THOUSANDS.fullmatch(number):
            whole = number.replace(",", "")
            raise LengthError(f"'{said}' is unclear: write {whole} without a comma, or a point.")
        size = {"mm": 1, "cm": 10, "m": 1000}[named]
        return _number(number, said, comma=unit == "mm") * size / MM_PER_INCH
    bare = _BARE.fullmatch(plain)
    if bare:
        return _feet_and(bare[1], f"{bare[2]} {bare[3]}", said)
    unclear = _UNCLEAR.fullmatch(plain)
    if unclear:
        raise LengthError(_unclear(said, unclear[1], int(unclear[2]), unit))
    feet = _FEET.fullmatch(plain)
    if feet:
        return _feet_and(feet[1], feet[2], said)
    return _whole_inches(plain, said)


def _unclear(said: str, first: str, second: int, unit: Unit) -> str:
    """Return what to write instead of two numbers that may be one, or feet, or a fraction."""
    feet = f"{first}' {second}" if second < 12 else "8' 4"
    if unit == "mm":
        return f"'{said}' is unclear: write one number without a space, or feet like {feet}."
    fraction = f"{first} 1/{second}" if second > 1 else f"{first} 1/4"
    return f"'{said}' is unclear: write feet and inches like {feet}, a fraction like {fraction}."


def _feet_and(feet: str, rest: str | None, said: str) -> Fraction:
    whole = _number(feet, said)
    if rest is None:
        return whole * 12
    if whole.denominator != 1:
        raise LengthError(f"'{said}' has inches after a part of a foot: write one of the two.")
    inches = _whole_inches(rest, said)
    if inches >= 12:
        raise LengthError(f"'{said}' has 12 inches or more after the feet: check the number.")
    return whole * 12 + inches


def _whole_inches(plain: str, said: str) -> Fraction:
    found = _INCHES.fullmatch(plain)
    if not found:
        raise LengthError(f"'{said}' is no length: write it like 8' 4 1/2, 100.5 or 698mm.")
    if found["plain"]:
        return _number(found["plain"], said)
    top, bottom = map(int, (found["part"] or found["only"]).split("/"))
    if bottom == 0:
        raise LengthError(f"'{said}' divides by zero: check the fraction.")
    if found["mixed"] and top >= bottom:
        raise LengthError(f"'{said}' has a fraction of 1 or more after the inches: check it.")
    return int(found["mixed"] or 0) + Fraction(top, bottom)


def _rounded(numerator: int, denominator: int, steps: int) -> int:
    """Return the nearest whole number of steps of a fraction; exact ties go up."""
    return (2 * numerator * steps + denominator) // (2 * denominator)


def _millimeters(inches: Fraction) -> Fraction:
    """Return millimeters free of the binary noise that would make a tie of none."""
    return round(inches * MM_PER_INCH, 9)


def parts(inches: float, style: LengthStyle) -> Parts:
    """Return a length rounded to the style's fraction, as it is read off a tape.

    Exact ties are rounded away from zero.

    Raises:
        LengthError: the length is not a finite number.
    """
    if not isfinite(inches):
        raise LengthError("A length is not a number.")
    negative = inches < 0
    if style.unit == "mm":
        tenths = _rounded(*_millimeters(abs(Fraction(inches))).as_integer_ratio(), 10)
        return Parts(negative and tenths > 0, None, tenths // 10, tenths % 10, 10)
    steps = _rounded(*abs(inches).as_integer_ratio(), style.denominator)
    feet: int | None = None
    if steps >= FEET_FROM_IN * style.denominator:
        feet, steps = divmod(steps, 12 * style.denominator)
    whole, rest = divmod(steps, style.denominator)
    common = gcd(rest, style.denominator)
    return Parts(
        negative and bool(feet or whole or rest),
        feet,
        whole,
        rest // common,
        style.denominator // common,
    )


def fitting(inches: float, style: LengthStyle = INCHES) -> float:
    """Return the longest length in whole steps of the style that is no longer than one, inches.

    One that lies within the tolerance below a step counts as that step.
    """
    steps = MM_PER_INCH * 10 if style.unit == "mm" else Fraction(style.denominator)
    return float(floor(Fraction(inches + SAME_POINT_IN) * steps) / steps)


def written(inches: float, style: LengthStyle = INCHES) -> str:
    """Return a length as a maker reads it: 25 1/4, 8' 4 1/2, 6' 0, or 698.5 mm.

    Raises:
        LengthError: the length is not a finite number.
    """
    said = parts(inches, style)
    if style.unit == "in":
        return _inch_words(said)
    tenths = f".{said.numerator}" if said.numerator else ""
    return f"{'-' if said.negative else ''}{said.whole}{tenths} mm"


def written_small(inches: float, style: LengthStyle = INCHES) -> str:
    """Return a small difference, finer than the style says where it would show as 0: 1/32, 1/64.

    What is smaller still is 'less than 1/64', or 'less than 0.1 mm'; 0 is nothing at all.

    Raises:
        LengthError: the length is not a finite number.
    """
    finer = (style, LengthStyle(style.unit, 32), LengthStyle(style.unit, 64))
    shown = [written(inches, each) for each in finer]
    nothing = written(0.0, style)
    if abs(inches) <= SAME_POINT_IN:
        return nothing
    least = "0.1 mm" if style.unit == "mm" else "1/64"
    return next((words for words in shown if words != nothing), f"less than {least}")


def _inch_words(said: Parts) -> str:
    feet = "" if said.feet is None else f"{said.feet}' "
    fraction = f"{said.numerator}/{said.denominator}" if said.numerator else ""
    whole = str(said.whole) if said.whole or not fraction else ""
    small = f"{whole} {fraction}" if whole and fraction else whole or fraction
    return f"{'-' if said.negative else ''}{feet}{small}"


def echoed(inches: float, style: LengthStyle = INCHES) -> str:
    """Return what was understood: 8' 4 1/2 = 100 1/2.

    Feet are also said in plain inches; what lies off the style's fraction is said in decimals.

    Raises:
        LengthError: the length is not a finite number.
    """
    said = parts(inches, style)
    words = written(inches, style)
    metric = style.unit == "mm"
    scale = float(MM_PER_INCH) if metric else 1.0
    shown = 12 * (said.feet or 0) + said.whole + said.numerator / said.denominator
    if round(abs(inches) * scale, 4) != round(shown, 4):
        exact = f"{inches * scale:.4f}".rstrip("0").rstrip(".")
        return f"{words} ≈ {exact}{' mm' if metric else ''}"
    if said.feet is None:
        return words
    plain = said._replace(feet=None, whole=12 * said.feet + said.whole)
    return f"{words} = {_inch_words(plain)}"
