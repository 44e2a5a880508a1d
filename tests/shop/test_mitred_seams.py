"""What seams leave of tops with mitred edges weighs what the pieces then weigh."""

import pytest
from msgspec.structs import replace

from geometry.naming import EdgeRef
from shop import edits
from shop.applying import applied, applied_all
from shop.findings import findings
from shop.job import Job
from shop.plan import pieces, tops
from shop.remedies import remedies
from shop.seam_proposals import seam_proposals
from shop.seam_row import mitred_sq_in, row_of, weights
from shop.weights import weight_shown
from tests.shop.test_island_cabinets import ISLE, island


def mitred(*sides: str) -> Job:
    """An island of 8 ft by 4 ft with sides mitred, its seams without gaps."""
    job = island()
    job = replace(job, defaults=replace(job.defaults, gap=0.0))
    return applied_all(
        job, tuple(edits.FinishEdge(EdgeRef(ISLE, s), "mitred", None) for s in sides)
    )


@pytest.mark.parametrize("sides", [("1",), ("2",), ("1", "2"), ("1", "2", "3", "4")])
def test_pieces_between_two_places_weigh_what_they_weigh_once_they_are_made(
    sides: tuple[str, ...],
) -> None:
    job = mitred(*sides)
    (top,) = tops(job)
    row = row_of(job, top)
    table = weights(row)
    left, right = 25, 60
    made = applied_all(
        job,
        tuple(
            edits.AddSeam(replace(row.seams[place - 1].seam, id=f"seam{900 + place}"))
            for place in (left, right)
        ),
    )
    found = sorted(piece.weight_lb for piece in pieces(made))
    last = row.places - 1
    expected = sorted((table[left, 0], table[right, left], table[last, right]))
    assert found == pytest.approx(expected)
    # A mitre of 45 degrees takes half a square of the thickness off each inch, less at its ends.
    plain = weights(row_of(mitred(), tops(mitred())[0]))[last, 0]
    assert plain - table[last, 0] > 0.0


def test_a_whole_mitred_edge_takes_off_a_prism() -> None:
    job = mitred("1")
    (top,) = tops(job)
    # 2 thick and 96 long: 96 x 2 x 2 / 2 of concrete, as much as 96 sq in of the slab.
    assert mitred_sq_in(job, ISLE, top.top.outline) == pytest.approx(96.0)


def test_what_a_suggestion_says_of_weights_is_what_its_pieces_weigh() -> None:
    job = mitred("1", "2", "3")
    best = seam_proposals(job, ISLE).best[0]
    made = applied_all(job, tuple(edits.AddSeam(seam) for seam in best.seams))
    heaviest = max(weight_shown(piece.weight_lb) for piece in pieces(made))
    assert f"heaviest piece {heaviest} lb" in best.words


def test_a_seam_offered_for_a_heavy_piece_counts_the_mitres() -> None:
    job = mitred("1", "2", "3", "4")
    whole = pieces(job)[0].weight_lb
    # Without what mitres take off half of it would be too heavy by a little.
    job = applied(job, edits.SetLimits(replace(job.limits, carry_lb=float(int(whole / 2.0) + 2))))
    (heavy,) = [f for f in findings(job) if f.code == "heavy-piece"]
    offered = [r for r in remedies(job, heavy) if r.label.startswith("Put a seam")]
    assert offered
