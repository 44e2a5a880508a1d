"""Lengths as people write them: feet, inches and fractions, or metric; read and written exactly.

A bare number is in the job's own unit. Inside the program every length is in inches.
"""

import re
from fractions import Fraction
from math import isfinite
from typing import Literal, NamedTuple, TypeAlias

import msgspec

Unit: TypeAlias = Literal["in", "mm"]

MM_PER_INCH = Fraction(254, 10)
"""1 in = 25.4 mm exactly (international yard and pound agreement, 1959)."""

LONGEST_IN = 2000
"""A longer length is a slip of the keyboard."""

FEET_FROM_IN = 36
"""Lengths from here on are written in feet and inches."""

_VULGAR = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}
_FOOT_MARKS = "′’‘`"
_INCH_MARKS = "″”“"


class LengthError(ValueError):
    """Text that is no length; one sentence says why and what to write instead."""


class LengthStyle(msgspec.Struct, frozen=True, cache_hash=True):
    """How lengths are written: the unit, and the finest fraction of an inch."""

    unit: Unit = "in"
    denominator: Literal[16, 32, 64] = 16


INCHES = LengthStyle()
"""Inches to the nearest 1/16."""


class Parts(NamedTuple):
    """A length as it is read off a tape: a sign, feet, inches, and a fraction (0 of 1 if none).

    For millimeters feet is None and inches holds the whole number; the fraction is tenths.
    """

    negative: bool
    feet: int | None
    whole: int
    numerator: int
    denominator: int


def _plain(text: str) -> str:
    """Return the text with plain quotes, spaces and fractions, in lower case."""
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    for mark in _FOOT_MARKS:
        text = text.replace(mark, "'")
    for mark in _INCH_MARKS:
        text = text.replace(mark, '"')
    text = text.replace("''", '"').replace("\u2044", "/").replace("\u2212", "-")
    text = re.sub(r"\s+", " ", text).strip().lower()
    return re.sub(r" ?/ ?", "/", text)


_NUMBER = r"(?:\d+(?:[.,]\d*)?|[.,]\d+)"
_METRIC = re.compile(rf"({_NUMBER}) ?(mm|cm|m)")
_FRACTION = r"\d+/\d+"
_INCHES = re.compile(
    rf"(?:(?P<mixed>\d+)[ -](?P<part>{_FRACTION})|(?P<only>{_FRACTION})|(?P<plain>{_NUMBER}))"
    r"(?: ?(?:\"|in|inch|inches))?"
)
_FEET = re.compile(rf"({_NUMBER}) ?(?:'|ft|feet|foot)(?: ?-? ?(.+))?")
_BARE = re.compile(rf"(\d+) (\d+)[ -]({_FRACTION})")
_UNCLEAR = re.compile(r"(\d+) (\d+)")


def parsed(text: str, unit: Unit = "in") -> float:
    """Return a length in inches.

    unit is what a bare number means. A decimal comma is read in a metric job only.

    Raises:
        LengthError: the text is no length, is unclear, or is absurdly large.
    """
    plain = _plain(text)
    sign = 1
    if plain.startswith("-"):
        sign, plain = -1, plain[1:].strip()
    if not plain:
        raise LengthError("Nothing is written: type a length such as 8' 4 1/2 or 698mm.")
    exact = sign * _inches(plain, text.strip(), unit)
    if abs(exact) > LONGEST_IN:
        raise LengthError(f"'{text.strip()}' is far too long for a kitchen: check the number.")
    return float(exact)


def _number(text: str, said: str, *, comma: bool) -> Fraction:
    if "," in text and not comma:
        raise LengthError(f"'{said}' has a comma: write a point or a fraction for inches.")
    return Fraction(
        text.replace(",", ".").rstrip(".") if text.endswith((".", ",")) else text.replace(",", ".")
    )


def _inches(plain: str, said: str, unit: Unit) -> Fraction:
    metric = _METRIC.fullmatch(plain)
    if metric:
        size = {"mm": 1, "cm": 10, "m": 1000}[metric[2]]
        return _number(metric[1], said, comma=True) * size / MM_PER_INCH
    if unit == "mm" and re.fullmatch(_NUMBER, plain):
        return _number(plain, said, comma=True) / MM_PER_INCH
    bare = _BARE.fullmatch(plain)
    if bare:
        return _feet(Fraction(bare[1]), f"{bare[2]} {bare[3]}", said)
    unclear = _UNCLEAR.fullmatch(plain)
    if unclear:
        a, b = unclear[1], unclear[2]
        raise LengthError(
            f"'{said}' is unclear: write {a}' {b} for feet and inches, or a fraction such as"
            f" {a} 1/{b if int(b) > 1 else 2}."
        )
    feet = _FEET.fullmatch(plain)
    if feet:
        return _feet(_number(feet[1], said, comma=False), feet[2] or "0", said)
    return _whole_inches(plain, said)


def _feet(feet: Fraction, rest: str, said: str) -> Fraction:
    inches = _whole_inches(rest, said)
    if inches >= 12:
        raise LengthError(f"'{said}' has 12 inches or more after the feet: check the number.")
    return feet * 12 + inches


def _whole_inches(plain: str, said: str) -> Fraction:
    found = _INCHES.fullmatch(plain)
    if not found:
        raise LengthError(f"'{said}' is no length: write it like 8' 4 1/2, 100.5 or 698mm.")
    if found["plain"]:
        return _number(found["plain"], said, comma=False)
    top, bottom = map(int, (found["part"] or found["only"]).split("/"))
    if bottom == 0:
        raise LengthError(f"'{said}' divides by zero: check the fraction.")
    if found["mixed"] and top >= bottom:
        raise LengthError(f"'{said}' has a fraction of 1 or more: check it.")
    return int(found["mixed"] or 0) + Fraction(top, bottom)


def _rounded(value: Fraction, steps: int) -> int:
    """Return the nearest whole number of steps; exact ties go up."""
    return int((value * steps * 2 + 1) // 2)


def parts(inches: float, style: LengthStyle) -> Parts:
    """Return a length rounded to the style's fraction, as it is read off a tape.

    Exact ties are rounded away from zero.

    Raises:
        LengthError: the length is not a finite number.
    """
    if not isfinite(inches):
        raise LengthError("A length is not a number.")
    exact = abs(Fraction(inches))
    negative = inches < 0
    if style.unit == "mm":
        tenths = _rounded(exact * MM_PER_INCH, 10)
        return Parts(negative and tenths > 0, None, tenths // 10, tenths % 10, 10)
    steps = _rounded(exact, style.denominator)
    feet: int | None = None
    if steps >= FEET_FROM_IN * style.denominator:
        feet, steps = divmod(steps, 12 * style.denominator)
    whole, rest = divmod(steps, style.denominator)
    fraction = Fraction(rest, style.denominator)
    some = bool(feet or whole or rest)
    return Parts(negative and some, feet, whole, fraction.numerator, fraction.denominator)


def written(inches: float, style: LengthStyle = INCHES) -> str:
    """Return a length as a maker reads it: 25 1/4, 8' 4 1/2, 6' 0, or 698.5 mm."""
    said = parts(inches, style)
    sign = "-" if said.negative else ""
    if style.unit == "mm":
        return f"{sign}{said.whole}{f'.{said.numerator}' if said.numerator else ''} mm"
    fraction = f"{said.numerator}/{said.denominator}" if said.numerator else ""
    small = " ".join(
        word for word in (str(said.whole) if said.whole or not fraction else "", fraction) if word
    )
    return f"{sign}{said.feet}' {small}" if said.feet is not None else f"{sign}{small}"


def echoed(inches: float, style: LengthStyle = INCHES) -> str:
    """Return what was understood, in feet and in plain inches where both help."""
    said = written(inches, style)
    if parts(inches, style).feet is None:
        return said
    whole, rest = divmod(_rounded(abs(Fraction(inches)), style.denominator), style.denominator)
    fraction = Fraction(rest, style.denominator)
    plain = f"{'-' if inches < 0 else ''}{whole}{f' {fraction}' if rest else ''}"
    return f"{said} = {plain}"
