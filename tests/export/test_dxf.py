"""What the readers of tests/reference cannot tell of a DXF: where screws go along bent chains."""

import pytest
from msgspec.structs import replace

from export.dxf import _along, _blank, _placed_in_rows
from geometry.edges import Edge, point_at
from shop import plan
from tests.export.jobs import sample

CHAIN = (
    Edge((0.0, 0.0), (10.0, 0.0)),
    Edge((10.0, 0.0), (20.0, 0.2)),
    Edge((20.0, 0.2), (30.0, 0.0)),
)


@pytest.mark.parametrize(
    ("distance", "point"),
    [(0.0, (0.0, 0.0)), (4.0, (4.0, 0.0)), (10.0, (10.0, 0.0)), (15.001, (15.0, 0.1))],
)
def test_a_distance_along_a_chain_is_found_on_its_edge(
    distance: float, point: tuple[float, float]
) -> None:
    edge, at = _along(CHAIN, distance)
    assert point_at(edge, at) == pytest.approx(point, abs=1e-3)


def test_a_distance_near_the_end_is_on_the_last_edge() -> None:
    edge, at = _along(CHAIN, 29.0)
    assert edge is CHAIN[-1]
    assert 0.8 < at < 1.0


def test_parts_are_set_out_in_rows_and_never_over_each_other() -> None:
    sizes = [(60.0, 20.0), (60.0, 10.0), (30.0, 5.0), (200.0, 8.0), (10.0, 3.0)]
    places = list(_placed_in_rows(sizes))
    boxes = [(x, y, x + w, y + h) for (x, y), (w, h) in zip(places, sizes, strict=True)]
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]
    assert places[0] == (0.0, 0.0)


def test_a_bent_strip_is_cut_to_its_longer_side_with_as_much_to_trim_at_both_ends() -> None:
    job = replace(sample("round-island"), note="x")
    bent = next(strip for strip in plan.mold(job, "A").strips if strip.arc_radius is not None)
    length, start = _blank(bent)
    assert length == max(bent.face_length_in, bent.back_length_in)
    assert start == pytest.approx((length - bent.face_length_in) / 2.0)
