"""What stands behind a hole: the back edge, or a backsplash where one stands on the counter."""

from itertools import pairwise

import pytest
from msgspec.structs import replace

from geometry.openings import AlongLeg
from geometry.points import distance
from shop import edits
from shop.applying import applied
from shop.clearances import Behind, behind, clearance_sentence
from shop.findings import findings
from shop.job import Job
from shop.remedies import remedies
from tests.export.jobs import sample
from tests.shop.kitchens import after


def moved(along: float, back: float = 22.5) -> Job:
    """A kitchen whose backsplash stops at a window's sides, 52 and 92 in from the corner."""
    job = sample("peninsula-and-ledge")
    faucet = next(o for o in job.openings if o.use == "faucet")
    assert isinstance(faucet.at, AlongLeg)
    return applied(job, edits.MoveOpening(faucet.id, replace(faucet.at, along=along, back=back)))


def found(job: Job) -> Behind:
    faucet = next(o for o in job.openings if o.use == "faucet")
    away = behind(job, faucet.id)
    assert away is not None
    return away


def test_a_backsplash_stands_before_the_back_edge_as_far_as_it_runs() -> None:
    thick = 0.75
    assert found(moved(72.0)).splash == 0.0
    assert found(moved(72.0)).until == found(moved(72.0)).back
    for along in (40.0, 51.5, 92.5, 110.0):
        away = found(moved(along))
        assert away.splash == pytest.approx(thick, abs=1e-3)
        assert away.clear == pytest.approx(away.middle - thick, abs=1e-3)
        assert distance(away.at, away.until) == pytest.approx(away.clear)
    assert found(moved(52.5)).splash == 0.0


def test_a_handle_near_a_backsplash_is_told_and_moved_off_it() -> None:
    # Its middle is 2 7/8 from the back edge, then 2 1/4, and 1 1/2 from the backsplash.
    job = moved(40.0, 23.125)
    (one,) = (f for f in findings(job) if f.code == "faucet-near-back")
    assert "from the backsplash, where common practice is 1 3/4" in one.text
    assert "may strike it." in one.text
    assert not any(f.code == "faucet-near-back" for f in findings(moved(72.0, 23.125)))
    remedy = next(iter(remedies(job, one)))
    mended = after(job, remedy.edit, *remedy.also)
    assert found(mended).clear >= 1.75 - 1e-9


def test_the_sentence_says_what_stands_behind() -> None:
    job = moved(40.0)
    sink, faucet = (next(o.id for o in job.openings if o.use == use) for use in ("sink", "faucet"))
    assert clearance_sentence(job, faucet) == "Its middle is 2 1/8 from the backsplash."
    assert clearance_sentence(moved(72.0), faucet) == "Its middle is 2 7/8 from the back edge."
    # 25 3/8 deep, less 12, half of 15 and the reveal of 1/8.
    assert clearance_sentence(job, sink) == "It is 5 3/4 from the back edge."
    assert clearance_sentence(job, "opening99") == ""
    hole = next(o for o in job.openings if o.id == sink)
    assert isinstance(hole.at, AlongLeg)
    over = after(job, edits.MoveOpening(sink, replace(hole.at, back=hole.at.back + 7.0)))
    assert clearance_sentence(over, sink) == "It runs 1 1/4 over the back edge."


def test_it_shrinks_as_the_hole_goes_back() -> None:
    near = [found(moved(40.0, back)).clear for back in (21.0, 22.0, 23.0)]
    assert all(a - b == pytest.approx(1.0, abs=1e-2) for a, b in pairwise(near))
