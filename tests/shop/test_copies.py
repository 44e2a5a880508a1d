"""Copies of things, made where their originals are, with what goes along."""

import pytest
from msgspec.structs import replace

from geometry.alongside import Ledge, Splash
from geometry.counters import RoundCorner
from geometry.insets import Inlay, Inset, Slope
from geometry.naming import EdgeRef, Id, corner_ref
from geometry.openings import BesideOpening, InIsland, OverMiddle
from geometry.picking import Subject
from shop import edits
from shop.applying import applied_all
from shop.copies import copied, island_at, leg_of
from shop.job import Cabinet, EdgeChoice, Job, Mark, MoldChoice, PastChoice, Pin, TurnChoice
from shop.plan import pieces
from shop.words import LONGEST_STEM, numbered
from tests.shop.kitchens import after, faucet, hole, island, island_seam, seam, sink, straight


def laden() -> Job:
    """An island with something of everything on it."""
    corner = corner_ref(EdgeRef("island300", "1"), EdgeRef("island300", "2"))
    return after(
        island(),
        edits.AddOpening(hole()),
        edits.ShapeCorner(corner, RoundCorner(corner, 4.0)),
        edits.FinishEdge(EdgeRef("island300", "3"), "polished"),
        edits.FinishEdge(EdgeRef("opening402", "cut"), "square"),
        edits.AddInset(Inset("inset403", "inlay", Inlay(), InIsland("island300", 60.0, 18.0))),
        edits.AddSeam(island_seam(40.0)),
        edits.AddAlongside(Ledge("ledge600", EdgeRef("island300", "4"), right=1.0)),
        edits.RunPast(corner, EdgeRef("island300", "2")),
    )


def test_an_island_goes_with_all_that_hangs_on_it() -> None:
    job = laden()
    made = copied(job, Subject("island", "island300"))
    done = after(job, *made.edits)
    new = made.subject.id
    corner = corner_ref(EdgeRef(new, "1"), EdgeRef(new, "2"))
    assert done.islands[1] == replace(job.islands[0], id=new)
    assert done.openings[1].at == InIsland(new, 20.0, 18.0)
    assert done.corner_shapes[1] == RoundCorner(corner, 4.0)
    assert done.edge_choices[2:] == (
        EdgeChoice(EdgeRef(new, "3"), "polished"),
        EdgeChoice(EdgeRef(done.openings[1].id, "cut"), "square"),
    )
    assert done.past_choices[1] == PastChoice(corner, EdgeRef(new, "2"))
    assert (done.insets[1].name, done.insets[1].at) == ("inlay 2", InIsland(new, 60.0, 18.0))
    assert done.alongside[1].edge == EdgeRef(new, "4")
    areas = {
        top: [p.area_sq_in for p in pieces(done) if p.top == top] for top in ("island300", new)
    }
    assert areas[new] == pytest.approx(areas["island300"])
    assert len({p.name for p in pieces(done)}) == len(pieces(done)) == 6


def test_an_island_s_copy_is_built_and_turned_over_as_it_is() -> None:
    job = laden()
    own = [p.name for p in pieces(job) if p.top == "island300"]
    job = after(
        job,
        edits.BuildMold(own[0], "sides-on-base"),
        edits.TurnAbout(own[1], EdgeRef("island300", "3")),
    )
    made = copied(job, Subject("island", "island300"))
    done = after(job, *made.edits)
    there = [p.name for p in pieces(done) if p.top == made.subject.id]
    assert done.mold_choices[1:] == (MoldChoice(there[0], "sides-on-base"),)
    assert done.turn_choices[1:] == (TurnChoice(there[1], EdgeRef(made.subject.id, "3")),)


def test_a_strip_on_a_side_that_its_corners_leave_no_length_is_copied_as_it_is_set() -> None:
    refs = [corner_ref(EdgeRef("island300", "2"), EdgeRef("island300", s)) for s in "13"]
    strip = Splash("splash600", EdgeRef("island300", "2"), left=1.0, right_at="mark601")
    job = after(
        island(),
        *(edits.ShapeCorner(ref, RoundCorner(ref, 18.0)) for ref in refs),
        edits.AddMark(Mark("mark601", "post", 0.0, 0.0)),
        edits.AddAlongside(strip),
    )
    made = copied(job, Subject("island", "island300")).edits
    strips = [edit.piece for edit in made if isinstance(edit, edits.AddAlongside)]
    assert [(one.left, one.right) for one in strips] == [(1.0, 0.0)]


def test_a_copied_opening_takes_the_holes_measured_from_it_along() -> None:
    tap = replace(faucet(), at=BesideOpening("opening400", 3.0, 2.0))
    job = after(straight(), edits.AddOpening(sink()), edits.AddOpening(tap))
    done = after(job, *copied(job, Subject("opening", "opening400")).edits)
    made, beside = done.openings[2:]
    assert (made.name, beside.name) == ("sink 2", "faucet 2")
    assert made.at == job.openings[0].at
    assert beside.at == BesideOpening(made.id, 3.0, 2.0)
    alone = copied(job, Subject("opening", "opening400"), along_with=False)
    assert len(alone.edits) == 1
    (again,) = copied(job, Subject("opening", "opening401")).edits
    assert isinstance(again, edits.AddOpening)
    assert again.opening.at == tap.at


def test_one_over_a_cabinet_gets_a_place_of_its_own_and_keeps_one_that_is_nowhere() -> None:
    base = Cabinet("cabinet600", "wall101", "sink-base", 42.0, 36.0)
    over = replace(sink(), at=OverMiddle("leg201", "cabinet600", 12.0))
    job = after(straight(), edits.AddCabinet(base), edits.AddOpening(over))
    (made,) = copied(job, Subject("opening", "opening400")).edits
    assert isinstance(made, edits.AddOpening)
    assert made.opening.at == replace(sink(along=60.0, back=12.0).at)
    flat = replace(job, cabinets=(replace(base, width=1e-7),))
    (made,) = copied(flat, Subject("opening", "opening400")).edits
    assert isinstance(made, edits.AddOpening)
    assert made.opening.at == over.at


def test_cabinets_notes_and_what_is_set_in_are_copied() -> None:
    base = Cabinet("cabinet600", "wall101", "base", 42.0, 36.0, note="left door sticks")
    job = after(laden(), edits.AddPin(Pin("pin700", "vent", 1.0, 2.0)))
    (made,) = copied(job, Subject("pin", "pin700")).edits
    assert made == edits.AddPin(Pin("pin701", "vent", 1.0, 2.0))
    (set_in,) = copied(job, Subject("inset", "inset403")).edits
    assert isinstance(set_in, edits.AddInset)
    assert set_in.inset.name == "inlay 2"
    kitchen = after(straight(), edits.AddCabinet(base))
    (stood,) = copied(kitchen, Subject("cabinet", "cabinet600")).edits
    assert stood == edits.AddCabinet(replace(base, id="cabinet601"))


def chosen(job: Job, of_top: Id) -> Subject:
    return Subject("piece", next(p.name for p in pieces(job) if p.top == of_top))


def test_what_is_chosen_says_which_island_or_leg_is_meant() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)), *map(edits.AddIsland, island().islands))
    side = Subject("edge", "island300", EdgeRef("island300", "2"))
    front = Subject("edge", "leg201", EdgeRef("leg201", "front"))
    for subject in (side, chosen(job, "island300"), Subject("island", "island300")):
        assert island_at(job, subject) == "island300"
        assert leg_of(job, subject) is None
    for subject in (front, chosen(job, "run200")):
        assert leg_of(job, subject) == "leg201"
        assert island_at(job, subject) is None
    gone = Subject("piece", "Q")
    assert (island_at(job, gone), leg_of(job, gone)) == (None, None)
    assert (island_at(job, None), leg_of(job, None)) == (None, None)


def test_names_get_the_next_number_that_is_free() -> None:
    assert numbered("sink", {"faucet"}) == "sink"
    assert numbered("sink", {"sink", "sink 2"}) == "sink 3"
    assert numbered("sink 2", {"sink", "sink 2", "sink 4"}) == "sink 3"
    assert numbered("33", {"33"}) == "33 2"
    long = "x" * 80
    assert numbered(long, {long}) == f"{'x' * LONGEST_STEM} 2"


def test_edits_all_at_once_come_to_the_same_as_one_by_one() -> None:
    job = laden()
    made = copied(job, Subject("island", "island300")).edits
    assert applied_all(job, made) == after(job, *made)
    assert applied_all(job, made) is applied_all(job, made)
    assert applied_all(job, ()) is job


def test_with_a_sink_goes_what_drains_into_it_where_asked() -> None:
    at = BesideOpening("opening400", 23.5, -8.0)
    slope = Inset("inset900", "drain slope", Slope(18.0, 10.0, falls="left"), at)
    job = after(straight(240.0), edits.AddOpening(sink()), edits.AddOpening(faucet()))
    held = replace(job.openings[1], at=BesideOpening("opening400", 0.0, 2.0))
    job = after(job, edits.SetOpening(held), edits.AddInset(slope))
    alone = copied(job, Subject("opening", "opening400"), along_with=False)
    assert len(alone.edits) == 1
    made = copied(job, Subject("opening", "opening400"))
    done = after(job, *made.edits)
    new = done.insets[-1]
    assert new.name == "drain slope 2"
    assert new.at == replace(at, opening=made.subject.id)
    assert [o.name for o in done.openings] == ["sink", "faucet", "sink 2", "faucet 2"]
