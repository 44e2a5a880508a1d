"""Bars and mesh against the printed tables of their standards.

ASTM A615 (bars) and ASTM A1064 (mesh) are not free to read; the numbers are those that trade tables
print from them. How far bars run on is from memory of ACI 318-19, worked out here again.
"""

from math import pi

import pytest

from shop.job import MeshStyle
from shop.steel import MESHES, NO_3, bar_lap_in, development_in, mesh_lap_in

STEEL_PCF = 490.0
"""What steel weighs in pounds per cubic foot: the value that tables of bars are made with."""


def test_a_no_3_bar_is_as_astm_a615_has_it() -> None:
    # "Rebar size and weights", Concrete Construction: No. 3, 0.375 in, 0.11 sq in, 0.376 lb/ft.
    assert (NO_3.diameter, NO_3.area, NO_3.lb_per_ft) == (0.375, 0.11, 0.376)
    exact = pi * NO_3.diameter**2 / 4.0
    assert exact == pytest.approx(NO_3.area, abs=0.005)
    assert exact / 144.0 * STEEL_PCF == pytest.approx(NO_3.lb_per_ft, abs=0.0005)


@pytest.mark.parametrize(
    ("style", "area_per_ft", "pounds"),
    [
        # "New welded wire fabric numbering system explained": style, sq in per ft each way, lb per
        # 100 sq ft.
        ("6x6-W1.4xW1.4", 0.028, 21),
        ("6x6-W2.0xW2.0", 0.040, 29),
        ("6x6-W2.9xW2.9", 0.058, 42),
        ("6x6-W4.0xW4.0", 0.080, 58),
        ("6x6-W5.5xW5.5", 0.110, 80),
        ("4x4-W1.4xW1.4", 0.042, 31),
        ("4x4-W2.0xW2.0", 0.060, 43),
        ("4x4-W2.9xW2.9", 0.087, 62),
        ("4x4-W4.0xW4.0", 0.120, 85),
    ],
)
def test_mesh_is_as_astm_a1064_has_it(style: MeshStyle, area_per_ft: float, pounds: int) -> None:
    mesh = MESHES[style]
    assert 12.0 * mesh.wire_area / mesh.spacing == pytest.approx(area_per_ft, abs=1e-9)
    assert mesh.lb_per_100_sq_ft == pounds
    # Both ways, without what sheets stand out beyond their last wires: up to a tenth less.
    bare = 2.0 * 100.0 * area_per_ft / 144.0 * STEEL_PCF
    assert 0.88 * pounds < bare < pounds


def test_every_mesh_of_the_table_can_be_chosen_and_no_other() -> None:
    assert len(MESHES) == 9
    for style, mesh in MESHES.items():
        assert style.startswith(
            f"{mesh.spacing:.0f}x{mesh.spacing:.0f}-W{mesh.wire_area * 100:.1f}"
        )


@pytest.mark.parametrize(("style", "diameter"), [
    # Derived: 2 sqrt(A / pi); "10 gauge" is printed as 0.135.
    ("4x4-W1.4xW1.4", 0.13351), ("4x4-W2.0xW2.0", 0.15958), ("6x6-W5.5xW5.5", 0.26463),
])  # fmt: skip
def test_a_wire_is_as_thick_as_its_area_says(style: MeshStyle, diameter: float) -> None:
    assert MESHES[style].wire == pytest.approx(diameter, abs=5e-6)


@pytest.mark.parametrize(
    ("psi", "inches"), [(3000.0, 16.43), (4000.0, 14.23), (5000.0, 12.73), (9000.0, 12.0)]
)
def test_a_bar_runs_on_as_aci_318_has_it(psi: float, inches: float) -> None:
    # ACI 318-19, 25.4.2.3 and 25.4.2.1(b), from memory; numbers worked out by hand.
    assert development_in(NO_3, psi) == pytest.approx(inches, abs=0.005)
    assert bar_lap_in(NO_3) == pytest.approx(1.3 * 16.43, abs=0.01)


def test_mesh_laps_by_a_spacing_and_two_inches() -> None:
    # ACI 318-19, 25.5.4.1, from memory; 1.5 ld of such thin wires is less, for the heaviest
    # ld = 0.27 (Ab / s) fy / sqrt(f'c) = 0.27 (.040 / 4) 65,000 / sqrt(3000) = 3.2 in.
    for mesh in MESHES.values():
        assert mesh_lap_in(mesh) == mesh.spacing + 2.0
    # In very weak concrete it would govern: 1.5 x 0.27 x .01 x 65,000 / 20 = 13.16 in.
    assert mesh_lap_in(MESHES["4x4-W4.0xW4.0"], 400.0) == pytest.approx(13.16, abs=0.005)
