"""Volume and weight of concrete from area, thickness and density."""

from math import ceil

CUBIC_INCHES_PER_CUBIC_FOOT = 1728.0
"""12 x 12 x 12."""

FRESH_CONCRETE_PCF = 145.0
"""What fresh concrete weighs, in pounds per cubic foot, for the lift on knockouts; common practice,
no source."""


def volume_cu_ft(area_sq_in: float, thickness_in: float) -> float:
    """Return the volume of a slab in cubic feet."""
    return area_sq_in * thickness_in / CUBIC_INCHES_PER_CUBIC_FOOT


def weight_lb(volume: float, density_pcf: float) -> float:
    """Return the weight in pounds of a volume in cubic feet."""
    return volume * density_pcf


def weight_shown(weight: float) -> int:
    """Return a weight as it is said: whole pounds, rounded up, for whoever lifts it.

    A weight that is whole but for rounding in the last binary digits stays as it is.
    """
    return ceil(round(weight, 6))
