"""Lengths read and written."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.lengths import (
    INCHES,
    LONGEST_IN,
    LengthError,
    LengthStyle,
    Parts,
    Unit,
    echoed,
    fitting,
    parsed,
    parts,
    written,
    written_small,
)

MM = LengthStyle("mm")
styles = st.sampled_from([INCHES, LengthStyle("in", 32), LengthStyle("in", 64), MM])
lengths = st.floats(-LONGEST_IN, LONGEST_IN) | st.integers(-128000, 128000).map(lambda n: n / 64)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("8' 4-1/2\"", 100.5),
        ("8 4 1/2", 100.5),
        ('8 4 1/2"', 100.5),
        ("8 4-1/2", 100.5),
        ("8'4", 100.0),
        ("8' 4", 100.0),
        ("8'-4\"", 100.0),
        ("8' - 4''", 100.0),
        ("8'", 96.0),
        ("0'", 0.0),
        ("8.5'", 102.0),
        ("8ft 4in", 100.0),
        ("8 ft. 4 in.", 100.0),
        ("8 feet 4 inches", 100.0),
        ("1 foot 1 inch", 13.0),
        ("8' 4.25", 100.25),
        ("6' 1/2", 72.5),
        ("12 1 3/8", 145.375),
        ("100 1/2", 100.5),
        ("100-1/2", 100.5),
        ("100 1/2 in", 100.5),
        ("100.5", 100.5),
        ('100.5"', 100.5),
        ("5.", 5.0),
        (".5", 0.5),
        ("7/8", 0.875),
        ("7 / 8", 0.875),
        ("9/8", 1.125),
        ("  25   1/4 ", 25.25),
        ("-3 1/2", -3.5),
        ("- 3 1/2", -3.5),
        ("-8' 4", -100.0),
        ("0", 0.0),
        ("-0", 0.0),
        ("2000", 2000.0),
        ("8′ 4½″", 100.5),
        ("8’ 4 1⁄2”", 100.5),
        ("8‘ 4“", 100.0),
        ("3⅜", 3.375),
        ("½", 0.5),
        ("-⅛", -0.125),
        ("8' ⅝", 96.625),
        ("2⅓", 7 / 3),
        ("−3½", -3.5),
        ("–3½", -3.5),
        ("25\u00a01/4", 25.25),
        ("254mm", 10.0),
        ("25.4 cm", 10.0),
        ("2.54 M", 100.0),
        ("-254 mm", -10.0),
    ],
)
def test_a_length_is_read_as_people_write_it(text: str, inches: float) -> None:
    assert parsed(text) == inches


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("254", 10.0),
        ("69,85 cm", 27.5),
        ("698,5", 27.5),
        ("698.5", 27.5),
        (",254 m", 10.0),
        ("2,54 m", 100.0),
        ("2,540 m", 100.0),
        ("-254", -10.0),
        ("7/8", 0.875),
        ("100 1/2", 100.5),
        ("8' 4", 100.0),
        ("8 4 1/2", 100.5),
        ('10"', 10.0),
        ("10 in", 10.0),
    ],
)
def test_a_metric_job_reads_bare_numbers_as_millimeters_and_commas_as_points(
    text: str, inches: float
) -> None:
    assert parsed(text, "mm") == inches


@pytest.mark.parametrize(
    ("text", "unit", "why"),
    [
        ("", "in", "Nothing is written"),
        (" \t ", "in", "Nothing is written"),
        ("-", "in", "no length"),
        ("wide", "in", "'wide' is no length"),
        ("nan", "in", "no length"),
        ("inf", "mm", "no length"),
        ("1e3", "in", "no length"),
        ("--5", "in", "no length"),
        ("5/4/3", "in", "no length"),
        ("8' 4'", "in", "no length"),
        ("8' 4 cm", "in", "no length"),
        ("3 m 20", "in", "no length"),
        ("9" * 5000, "in", "This text is no length"),
        ("8\x004", "in", "This text is no length"),
        ("8 4", "in", "write feet and inches like 8' 4, a fraction like 8 1/4."),
        ('8 4"', "in", "write feet and inches like 8' 4, a fraction like 8 1/4."),
        ("8 1", "in", "write feet and inches like 8' 1, a fraction like 8 1/4."),
        ("8 16", "in", "write feet and inches like 8' 4, a fraction like 8 1/16."),
        ("1 250", "mm", "write one number without a space"),
        ("1/0", "in", "divides by zero"),
        ("3 0/0", "in", "divides by zero"),
        ("3 9/8", "in", "a fraction of 1 or more"),
        ("3 8/8", "in", "a fraction of 1 or more"),
        ("8 4 9/8", "in", "a fraction of 1 or more"),
        ("8' 14", "in", "12 inches or more after the feet"),
        ("8' 12", "in", "12 inches or more after the feet"),
        ("8 12 1/2", "in", "12 inches or more after the feet"),
        ("8.5' 4", "in", "write one of the two"),
        ("100,5", "in", "has a comma"),
        ("8' 4,5", "in", "has a comma"),
        ("8,5'", "mm", "has a comma"),
        ("69,8 cm", "in", "has a comma"),
        ("1,250", "mm", "write 1250 without a comma"),
        ("1,250 mm", "in", "write 1250 without a comma"),
        ("2000.01", "in", "more than 2000 inches"),
        ("-2001", "in", "more than 2000 inches"),
        ("167'", "in", "more than 2000 inches"),
        ("51 m", "in", "more than 2000 inches"),
        ("50801", "mm", "more than 2000 inches"),
    ],
)
def test_what_is_no_length_is_refused_in_one_sentence_that_says_why(
    text: str, unit: Unit, why: str
) -> None:
    with pytest.raises(LengthError) as refused:
        parsed(text, unit)
    said = str(refused.value)
    assert why in said
    assert said.endswith(".")
    assert len(said) < 140


@given(st.text(max_size=50), st.sampled_from(["in", "mm"]))
def test_any_text_is_a_bounded_length_or_refused(text: str, unit: Unit) -> None:
    try:
        inches = parsed(text, unit)
    except LengthError:
        return
    assert abs(inches) <= LONGEST_IN


@given(st.text("0123456789 /.,-'\"½m", max_size=12), st.sampled_from(["in", "mm"]))
def test_any_text_of_digits_and_marks_is_a_bounded_length_or_refused(text: str, unit: Unit) -> None:
    try:
        inches = parsed(text, unit)
    except LengthError:
        return
    assert abs(inches) <= LONGEST_IN


@pytest.mark.parametrize(
    ("inches", "style", "text"),
    [
        (25.25, INCHES, "25 1/4"),
        (0.875, INCHES, "7/8"),
        (0.0, INCHES, "0"),
        (-0.0, INCHES, "0"),
        (-0.01, INCHES, "0"),
        (-3.5, INCHES, "-3 1/2"),
        (35.9375, INCHES, "35 15/16"),
        (35.99, INCHES, "3' 0"),
        (36.0, INCHES, "3' 0"),
        (72.0, INCHES, "6' 0"),
        (72.5, INCHES, "6' 1/2"),
        (76.25, INCHES, "6' 4 1/4"),
        (100.5, INCHES, "8' 4 1/2"),
        (-100.5, INCHES, "-8' 4 1/2"),
        (95.99, INCHES, "8' 0"),
        (10 + 3 / 64, LengthStyle("in", 64), "10 3/64"),
        (10 + 3 / 32, LengthStyle("in", 32), "10 3/32"),
        (27.5, MM, "698.5 mm"),
        (10.0, MM, "254 mm"),
        (-27.5, MM, "-698.5 mm"),
        (-0.001, MM, "0 mm"),
    ],
)
def test_a_length_is_written_as_a_tape_is_read(
    inches: float, style: LengthStyle, text: str
) -> None:
    assert written(inches, style) == text


@given(lengths, styles)
def test_what_is_written_reads_back_and_is_written_the_same(
    inches: float, style: LengthStyle
) -> None:
    text = written(inches, style)
    assert written(parsed(text, style.unit), style) == text


@given(lengths, styles)
def test_what_is_written_is_the_nearest_of_its_style(inches: float, style: LengthStyle) -> None:
    read = Fraction(parsed(written(inches, style), style.unit))
    step = Fraction(1, style.denominator) if style.unit == "in" else Fraction(1, 254)
    assert abs(read - Fraction(inches)) <= step / 2 + Fraction(1, 10**10)


inch_styles = st.sampled_from([INCHES, LengthStyle("in", 32), LengthStyle("in", 64)])


@given(st.integers(0, 30000), inch_styles, st.sampled_from([1.0, -1.0]))
def test_an_exact_tie_goes_away_from_zero(below: int, style: LengthStyle, sign: float) -> None:
    tie = (2 * below + 1) / (2 * style.denominator)
    assert parsed(written(sign * tie, style)) == sign * (below + 1) / style.denominator


@given(st.integers(0, 20000))
def test_a_tie_typed_in_hundredths_of_a_millimeter_goes_up(below: int) -> None:
    typed = f"{below // 10}.{below % 10}5"
    up = below + 1
    shown = f"{up // 10}.{up % 10}" if up % 10 else f"{up // 10}"
    assert written(parsed(typed, "mm"), MM) == f"{shown} mm"


@pytest.mark.parametrize(
    ("inches", "style", "text"),
    [
        (100.5, INCHES, "8' 4 1/2 = 100 1/2"),
        (-100.5, INCHES, "-8' 4 1/2 = -100 1/2"),
        (72.0, INCHES, "6' 0 = 72"),
        (25.25, INCHES, "25 1/4"),
        (100.03, INCHES, "8' 4 ≈ 100.03"),
        (-100.03, INCHES, "-8' 4 ≈ -100.03"),
        (7.3, INCHES, "7 5/16 ≈ 7.3"),
        (10 + 1 / 64, INCHES, "10 ≈ 10.0156"),
        (1e-9, INCHES, "0"),
        (27.5, MM, "698.5 mm"),
        (0.875, MM, "22.2 mm ≈ 22.225 mm"),
    ],
)
def test_what_was_understood_is_said_in_feet_in_inches_and_what_lies_between_in_decimals(
    inches: float, style: LengthStyle, text: str
) -> None:
    assert echoed(inches, style) == text


@given(lengths.filter(lambda x: abs(x) >= 36), inch_styles)
def test_both_sides_of_an_echo_are_the_same_length(inches: float, style: LengthStyle) -> None:
    on_grid = parsed(written(inches, style))
    feet, plain = echoed(on_grid, style).split(" = ")
    assert parsed(feet) == parsed(plain) == on_grid


@pytest.mark.parametrize(
    ("inches", "style", "expected"),
    [
        (100.5, INCHES, Parts(False, 8, 4, 1, 2)),
        (-25.25, INCHES, Parts(True, None, 25, 1, 4)),
        (72.0, INCHES, Parts(False, 6, 0, 0, 1)),
        (0.875, INCHES, Parts(False, None, 0, 7, 8)),
        (-1e-9, INCHES, Parts(False, None, 0, 0, 1)),
        (27.5, MM, Parts(False, None, 698, 5, 10)),
    ],
)
def test_parts_are_what_a_drawing_stacks(
    inches: float, style: LengthStyle, expected: Parts
) -> None:
    assert parts(inches, style) == expected


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_not_finite_is_not_written(value: float) -> None:
    for say in (parts, written, echoed):
        with pytest.raises(LengthError, match="not a number"):
            say(value, INCHES)


def test_what_fits_is_never_rounded_up() -> None:
    assert fitting(23.346) == 23.3125
    assert fitting(9.0 - 1e-9) == 9.0
    assert fitting(23.346, LengthStyle("mm")) * 25.4 == pytest.approx(592.9)


@pytest.mark.parametrize(
    ("inches", "style", "said"),
    [
        (0.0, INCHES, "0"),
        (0.125, INCHES, "1/8"),
        (1.0 / 33.0, INCHES, "1/32"),
        (-0.014, INCHES, "-1/64"),
        (0.003, INCHES, "less than 1/64"),
        (-0.003, INCHES, "less than 1/64"),
        (0.001, MM, "less than 0.1 mm"),
        (0.004, MM, "0.1 mm"),
        (0.0, MM, "0 mm"),
    ],
)
def test_a_small_difference_never_shows_as_nothing(
    inches: float, style: LengthStyle, said: str
) -> None:
    assert written_small(inches, style) == said
