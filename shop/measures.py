"""Areas, volumes, weights and distances in words, in feet and pounds or in meters and kilograms.

The factors are exact by definition (NIST SP 811, appendix B, from memory): 1 in = 25.4 mm,
1 lb = 0.45359237 kg.
"""

from geometry.lengths import Unit
from shop.weights import weight_shown

KG_PER_LB = 0.45359237
M_PER_FT = 0.3048
SQ_M_PER_SQ_FT = M_PER_FT**2
LITERS_PER_CU_FT = 1000.0 * M_PER_FT**3
KG_PER_CU_M_PER_PCF = KG_PER_LB / M_PER_FT**3
"""One pound per cubic foot in kilograms per cubic meter."""
CU_IN_PER_FL_OZ = 231.0 / 128.0
"""A US gallon is 231 cubic inches and 128 fluid ounces (NIST Handbook 44, appendix C)."""
ML_PER_FL_OZ = CU_IN_PER_FL_OZ * 2.54**3


def weight_words(pounds: float, unit: Unit) -> str:
    """Return a weight for whoever lifts it: whole pounds or kilograms, rounded up."""
    if unit == "mm":
        return f"{weight_shown(pounds * KG_PER_LB):,} kg"
    return f"{weight_shown(pounds):,} lb"


def area_words(sq_ft: float, unit: Unit) -> str:
    """Return an area given in square feet: 31.5 sq ft or 2.93 sq m."""
    return f"{sq_ft * SQ_M_PER_SQ_FT:.2f} sq m" if unit == "mm" else f"{sq_ft:.1f} sq ft"


def volume_words(cu_ft: float, unit: Unit) -> str:
    """Return a volume given in cubic feet: 5.25 cu ft or 148.7 liters."""
    return f"{cu_ft * LITERS_PER_CU_FT:.1f} liters" if unit == "mm" else f"{cu_ft:.2f} cu ft"


def distance_words(feet: float, unit: Unit) -> str:
    """Return a long way given in feet, such as all sidewalls: 48 ft or 14.6 m."""
    return f"{feet * M_PER_FT:.1f} m" if unit == "mm" else f"{feet:.0f} ft"


def density_words(pcf: float, unit: Unit) -> str:
    """Return a density given in pounds per cubic foot: 150 lb/cu ft or 2403 kg/cu m."""
    if unit == "mm":
        return f"{pcf * KG_PER_CU_M_PER_PCF:.0f} kg/cu m"
    return f"{pcf:g} lb/cu ft"
