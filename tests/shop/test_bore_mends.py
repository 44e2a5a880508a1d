"""Holes whose counterbores leave little concrete beside them are moved off it in one step."""

from functools import reduce

from msgspec.structs import replace

from shop import edits
from shop.applying import applied
from shop.bore_mends import bores_moved
from shop.findings import Finding, findings
from shop.job import Job
from shop.remedies import remedies
from tests.export.jobs import sample
from tests.shop.kitchens import after, faucet, straight


def thin(job: Job) -> Finding:
    return next(found for found in findings(job) if found.code == "counterbore-thin")


def test_both_holes_of_a_mold_are_moved_in_one_step() -> None:
    job = sample("corner-with-range")
    (mend,) = remedies(job, thin(job))
    assert mend.label == (
        "Move 2 holes: faucet forward 5/16 and soap forward 1/4; leaves 1/2 beside each of their"
        " counterbores"
    )
    done = reduce(applied, (mend.edit, *mend.also), job)
    assert "counterbore-thin" not in {found.code for found in findings(done)}


def test_one_hole_moves_alone() -> None:
    job = sample("twelve-pieces")
    (mend,) = remedies(job, thin(job))
    assert mend.label == "Move prep faucet back 1/16: leaves 1/2 beside the counterbore"
    assert mend.also == ()


def test_no_move_is_offered_where_a_hole_would_come_too_near_to_a_sink() -> None:
    job = sample("double-bowl")
    assert list(bores_moved(job, thin(job)))
    assert remedies(job, thin(job)) == ()


def test_a_stem_too_short_for_its_slab_is_not_mended_by_a_move() -> None:
    job = after(straight(), edits.AddOpening(replace(faucet(back=13.0), stem=0.5)))
    assert list(bores_moved(job, thin(job))) == []
    assert remedies(job, thin(job)) == ()


def test_only_the_hole_that_is_near_is_moved() -> None:
    near = replace(faucet(back=24.0), stem=1.5)
    far = replace(faucet(along=30.0, back=13.0), id="opening402", name="soap", stem=1.5)
    job = after(straight(), edits.AddOpening(near), edits.AddOpening(far))
    assert [mend.label.partition(":")[0] for mend in remedies(job, thin(job))] == [
        "Move faucet forward 7/16"
    ]


def test_a_hole_of_a_piece_that_is_cut_stays() -> None:
    job = after(straight(), edits.AddOpening(replace(faucet(back=24.0), stem=1.5)))
    cut = after(job, edits.MarkPiece("A", "cut"), edits.RemoveOpening("opening401"))
    assert list(bores_moved(cut, thin(cut))) == []
    assert remedies(cut, thin(cut)) == ()
