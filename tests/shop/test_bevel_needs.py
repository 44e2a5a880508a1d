"""Bevel strips of mitres on the foam: as wide as the slab is thick, in lengths that it has."""

import pytest
from msgspec.structs import replace

from geometry.counters import FreeSide
from geometry.naming import EdgeRef
from shop import edits
from shop.applying import applied
from shop.job import Job
from shop.material_needs import SheetNeed, needs
from shop.plan import pieces
from tests.shop.test_island_cabinets import ISLE
from tests.shop.test_mitred_seams import mitred


def foam(job: Job) -> SheetNeed | None:
    found = needs(job, {piece.name for piece in pieces(job)})
    return next((need for need in found.sheets if need.material == "foam"), None)


def ripped(job: Job) -> list[tuple[str, float, float]]:
    need = foam(job)
    return [] if need is None else [(s.name, s.length_in, s.width_in) for s in need.strips]


def test_bevel_strips_are_ripped_from_foam_as_wide_as_the_slab_is_thick() -> None:
    assert ripped(mitred()) == []
    assert ripped(mitred("1", "2")) == [("A1 bevel", 96.0, 2.0), ("A2 bevel", 48.0, 2.0)]


def test_a_long_one_is_in_lengths_and_a_stack_of_sheets_in_layers() -> None:
    job = mitred("1")
    short = replace(job.stock, foam=replace(job.stock.foam, length=60.0, layers=2))
    assert ripped(applied(job, edits.SetStock(short))) == [
        (f"A1 bevel, layer {layer} ({n} of 2)", 48.0, 2.0) for layer in (1, 2) for n in (1, 2)
    ]


def test_one_that_is_longer_at_its_tip_is_as_long_as_that() -> None:
    job = mitred("1")
    corners = ((0.0, 0.0), (90.0, 0.0), (100.0, 40.0), (0.0, 40.0))
    sides = tuple(FreeSide(n, x, y) for n, (x, y) in enumerate(corners, 1))
    skew = applied(job, edits.SetIsland(replace(job.islands[0], free=sides)))
    ((_, size, _),) = ripped(skew)
    # Side 2 leans out by 10 in 40: 2 within side 1 the slab reaches 1/2 further.
    assert size == pytest.approx(90.5)


def test_from_thinner_foam_or_along_an_arc_none_is_made() -> None:
    job = mitred("1", "2")
    thin = applied(job, edits.SetMoldChoices(replace(job.molds, foam_thickness=1.5)))
    assert ripped(thin) == []
    thick = applied(job, edits.SetMoldChoices(replace(job.molds, foam_thickness=2.0)))
    assert len(ripped(thick)) == 2
    round_end = applied(job, edits.SetIsland(replace(job.islands[0], round_sides=("2",))))
    assert [name for name, _, _ in ripped(round_end)] == ["A1 bevel"]
    assert EdgeRef(ISLE, "2") in {choice.edge for choice in round_end.edge_choices}
