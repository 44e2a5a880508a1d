"""What is set in too near an edge or too deep is moved in, or made shallower, in one press."""

import pytest

from geometry.insets import Grooves, Inlay, Insert, Inset, InsetShape, Rods
from geometry.openings import AlongLeg, InIsland
from geometry.picking import Subject
from shop import edits
from shop.applying import applied
from shop.findings import findings
from shop.job import Job
from shop.remedies import Remedy, remedies
from tests.shop.kitchens import after, island, seam, sink, straight

MIDDLE = AlongLeg("leg201", 22.0, 13.0)


def with_inset(shape: InsetShape, at: AlongLeg | InIsland = MIDDLE, job: Job | None = None) -> Job:
    kitchen = after(straight(), edits.AddOpening(sink())) if job is None else job
    return after(kitchen, edits.AddInset(Inset("inset900", "inlay", shape, at)))


def offered(job: Job, code: str) -> list[Remedy]:
    found = next(f for f in findings(job) if f.code == code)
    assert Subject("inset", "inset900") in found.about
    mends = list(remedies(job, found))
    for mend in mends:
        left = [f.code for f in findings(applied(job, mend.edit))]
        assert left.count(code) < [f.code for f in findings(job)].count(code)
    return mends


@pytest.mark.parametrize(
    ("shape", "at", "code", "label"),
    [
        (Inlay(), AlongLeg("leg201", 22.0, 3.5), "inset-near-edge", "back 1/2: leaves 1 beside"),
        (Rods(), AlongLeg("leg201", 22.0, 3.5), "inset-near-edge", "back 11/16: leaves 1 beside"),
        (Grooves(), AlongLeg("leg201", 22.0, 24.0), "inset", "forward 2 13/16"),
        (Grooves(), AlongLeg("leg201", 2.0, 13.0), "inset", "right 6"),
    ],
)
def test_it_is_moved_in_by_the_least_sixteenths_that_leave_enough(
    shape: InsetShape, at: AlongLeg, code: str, label: str
) -> None:
    assert [m.label for m in offered(with_inset(shape, at), code)] == [f"Move inlay {label}"]


def test_across_a_seam_it_goes_to_either_side_the_nearer_first() -> None:
    job = after(with_inset(Inlay()), edits.AddSeam(seam(23.0)))
    assert [m.label for m in offered(job, "inset")] == [
        "Move inlay left 3 1/16",
        "Move inlay right 5 1/16",
    ]


def test_on_an_island_it_is_moved_toward_a_side() -> None:
    job = with_inset(Inlay(), InIsland("island300", 3.5, 18.0), island())
    (mend,) = offered(job, "inset-near-edge")
    assert mend.label == "Move inlay toward side 2 1/2: leaves 1 beside"


@pytest.mark.parametrize(
    ("shape", "code", "label"),
    [
        (Inlay(thickness=1.25), "inset-deep", "Make inlay 1 thick: leaves 1"),
        (Inlay(thickness=2.5), "inset", "Make inlay 1 thick: leaves 1"),
        (Insert(height=1.25), "inset-deep", "Make inlay 1 high: leaves 1"),
        (Grooves(deep=1.25), "inset-deep", "Make inlay 1 deep: leaves 1"),
    ],
)
def test_too_deep_it_is_made_shallower(shape: InsetShape, code: str, label: str) -> None:
    assert [m.label for m in offered(with_inset(shape), code)] == [label]


def test_what_no_move_or_depth_mends_is_left() -> None:
    # Too wide a row of grooves, rods too thick, a thin slab, and a spot between two edges.
    assert offered(with_inset(Grooves(apart=0.25)), "inset") == []
    assert offered(with_inset(Rods(diameter=1.3, proud=0.0)), "inset-deep") == []
    thin = after(with_inset(Inlay(thickness=0.5)), edits.SetSlab(1.0625, 140.0))
    assert offered(thin, "inset-deep") == []
    wide = with_inset(Inlay(width=6.0, depth=24.5))
    assert offered(wide, "inset-near-edge") == []
