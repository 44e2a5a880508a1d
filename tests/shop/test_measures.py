"""Measures in words, against factors from NIST SP 811, appendix B.8 (rounded, from memory)."""

import pytest

from shop.measures import (
    KG_PER_CU_M_PER_PCF,
    LITERS_PER_CU_FT,
    SQ_M_PER_SQ_FT,
    area_words,
    density_words,
    distance_words,
    volume_words,
    weight_words,
)


def test_factors_are_those_of_the_published_table() -> None:
    assert pytest.approx(9.290304e-02, rel=1e-9) == SQ_M_PER_SQ_FT
    assert pytest.approx(28.31685, rel=1e-6) == LITERS_PER_CU_FT
    assert pytest.approx(16.01846, rel=1e-6) == KG_PER_CU_M_PER_PCF


def test_weights_are_rounded_up_in_either_unit() -> None:
    assert weight_words(2000.2, "in") == "2,001 lb"
    assert weight_words(100.0, "mm") == "46 kg"


def test_each_measure_is_said_in_the_jobs_own_unit() -> None:
    assert (area_words(10.0, "in"), area_words(10.0, "mm")) == ("10.0 sq ft", "0.93 sq m")
    assert (volume_words(1.0, "in"), volume_words(1.0, "mm")) == ("1.00 cu ft", "28.3 liters")
    assert (distance_words(48.0, "in"), distance_words(48.0, "mm")) == ("48 ft", "14.6 m")
    said = (density_words(150.0, "in"), density_words(150.0, "mm"))
    assert said == ("150 lb/cu ft", "2403 kg/cu m")
