"""Unit conversions, against the definition of the inch.

Source: NIST Special Publication 811, Appendix B, and NIST Handbook 44, Appendix C, after the
international yard and pound agreement of 1959 (from memory; exact by definition).
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.lengths import MM_PER_INCH, LengthStyle, parsed, written


def test_an_inch_is_exactly_25_4_millimeters() -> None:
    assert Fraction("25.4") == MM_PER_INCH


@pytest.mark.parametrize(
    ("said", "same"),
    [
        ("25.4 mm", "1"),
        ("0.3048 m", "1'"),
        ("0.9144 m", "3'"),
        ("30.48 cm", "12"),
        ("3.175 mm", "1/8"),
        ("1.5875 mm", "1/16"),
        ("0.79375 mm", "1/32"),
        ("0.396875 mm", "1/64"),
    ],
)
def test_exact_metric_equivalents_read_as_the_same_length(said: str, same: str) -> None:
    assert parsed(said) == parsed(same)


@given(st.integers(1, 128000))
def test_sixty_fourths_survive_the_way_through_millimeters(count: int) -> None:
    inches = count / 64
    millimeters = Fraction(inches) * Fraction("25.4")
    text = f"{float(millimeters):.6f} mm"
    assert parsed(text) == pytest.approx(inches, abs=1e-12)


@pytest.mark.parametrize(("inches", "text"), [(8.5, "215.9 mm"), (11.0, "279.4 mm")])
def test_letter_paper_is_written_in_millimeters_as_usual(inches: float, text: str) -> None:
    """Letter is 8.5 x 11 in = 215.9 x 279.4 mm (ANSI/ASME Y14.1, from memory)."""
    assert written(inches, LengthStyle("mm")) == text
