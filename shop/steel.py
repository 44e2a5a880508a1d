"""Bars and welded mesh as the standards tabulate them, and how far they reach and lap.

Sources: ASTM A615 (bars) and ASTM A1064 (mesh) as printed in trade tables; ACI 318-19 for lengths,
from memory. The numbers say what steel is and weighs, and nothing of what a slab carries.
"""

from math import ceil, pi, sqrt
from typing import NamedTuple

from geometry.tolerances import WHOLE
from shop.job import MeshStyle

SQUARE_INCHES_PER_100_SQUARE_FEET = 14400.0

BAR_PSI = 60_000.0
MESH_PSI = 65_000.0
CONCRETE_PSI = 3000.0
"""Grade 60 bars, plain wire, and concrete that is weak for a counter, so that lengths come out
long (common practice)."""

LEAST_REACH_IN = 12.0
"""No bar is taken to hold in less (ACI 318-19, 25.4.2.1, from memory)."""

LEAST_LAP_IN = 6.0
BEYOND_SPACING_IN = 2.0
"""Sheets of plain mesh lap by a spacing and 2 in, or by 6 in (ACI 318-19, 25.5.4, from memory)."""


class BarSize(NamedTuple):
    """A deformed bar of ASTM A615: diameter in inches, area in square inches, pounds per foot."""

    diameter: float
    area: float
    lb_per_ft: float


NO_3 = BarSize(0.375, 0.11, 0.376)


class Mesh(NamedTuple):
    """Plain welded mesh of ASTM A1064, alike both ways.

    spacing of its wires in inches, area of a wire in square inches, pounds per 100 square feet.
    """

    spacing: float
    wire_area: float
    lb_per_100_sq_ft: float

    @property
    def wire(self) -> float:
        """The diameter of its wires in inches: of a circle of their area."""
        return 2.0 * sqrt(self.wire_area / pi)

    @property
    def thickness(self) -> float:
        """How thick it is where its wires cross."""
        return 2.0 * self.wire


MESHES: dict[MeshStyle, Mesh] = {
    "6x6-W1.4xW1.4": Mesh(6.0, 0.014, 21.0),
    "6x6-W2.0xW2.0": Mesh(6.0, 0.020, 29.0),
    "6x6-W2.9xW2.9": Mesh(6.0, 0.029, 42.0),
    "6x6-W4.0xW4.0": Mesh(6.0, 0.040, 58.0),
    "6x6-W5.5xW5.5": Mesh(6.0, 0.055, 80.0),
    "4x4-W1.4xW1.4": Mesh(4.0, 0.014, 31.0),
    "4x4-W2.0xW2.0": Mesh(4.0, 0.020, 43.0),
    "4x4-W2.9xW2.9": Mesh(4.0, 0.029, 62.0),
    "4x4-W4.0xW4.0": Mesh(4.0, 0.040, 85.0),
}


def development_in(bar: BarSize, concrete_psi: float = CONCRETE_PSI) -> float:
    """Return how far a straight bar runs on past where it is needed: fy / (25 sqrt(f'c)) db.

    ACI 318-19, 25.4.2.3, for bars up to No. 6 in normal concrete, from memory.
    """
    reach = BAR_PSI / (25.0 * sqrt(concrete_psi)) * bar.diameter
    return max(reach, LEAST_REACH_IN)


def bar_lap_in(bar: BarSize) -> float:
    """Return how far two bars lap: 1.3 times what one runs on (ACI 318-19, 25.5.2.1, memory)."""
    return 1.3 * development_in(bar)


def mesh_lap_in(mesh: Mesh, concrete_psi: float = CONCRETE_PSI) -> float:
    """Return how far two sheets lap: the most of a spacing and 2 in, 1.5 ld, and 6 in.

    ld = 0.27 (Ab / s) fy / sqrt(f'c). ACI 318-19, 25.5.4.1 and 25.4.7.2, from memory.
    """
    ld = 0.27 * mesh.wire_area / mesh.spacing * MESH_PSI / sqrt(concrete_psi)
    return max(mesh.spacing + BEYOND_SPACING_IN, 1.5 * ld, LEAST_LAP_IN)


def stock_lengths(length: float, stock: float, lap: float) -> tuple[float, ...]:
    """Return the equal lengths that make up a length with laps, each no longer than the stock.

    The lap must be shorter than the stock. Inches.
    """
    count = max(1, ceil((length - lap) / (stock - lap) - WHOLE))
    return ((length + (count - 1) * lap) / count,) * count
