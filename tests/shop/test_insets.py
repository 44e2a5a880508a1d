"""Grooves, inlays, rods and inserts in a job: where they lie, what is left round them, in words."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.insets import Grooves, Inlay, Insert, Inset, InsetShape, Rods, Slope, size_of
from geometry.lengths import written
from geometry.naming import Id
from geometry.openings import AlongLeg, InIsland
from geometry.picking import Subject
from geometry.points import distance, mirrored_point
from shop import edits
from shop.applying import applied
from shop.finding import Finding
from shop.findings import findings
from shop.inset_words import bearings, making_words
from shop.insets import clearance_in, concrete, covered, inset_plans, insets_of, set_into
from shop.job import Corner, Job
from shop.jobfile import JobFileError, decoded, encoded
from shop.places import place_of
from shop.plan import layout, pieces
from shop.reinforcement import reinforcement
from shop.words import length_style
from tests.shop.kitchens import after, island, seam, sink, straight

ID: Id = "inset900"
BESIDE = AlongLeg("leg201", 22.0, 13.0)


def with_inset(shape: InsetShape, at: AlongLeg | InIsland = BESIDE, job: Job | None = None) -> Job:
    kitchen = after(straight(), edits.AddOpening(sink())) if job is None else job
    return after(kitchen, edits.AddInset(Inset(ID, "grooves", shape, at)))


def said(job: Job) -> dict[str, Finding]:
    return {f.code: f for f in findings(job) if Subject("inset", ID) in f.about}


def test_grooves_beside_a_sink_lie_in_its_piece_and_are_where_the_tape_finds_them() -> None:
    job = with_inset(Grooves())
    (found,) = insets_of(job, "A")
    assert found.placed is not None
    assert place_of(job, Subject("inset", ID)) == found.placed.center
    left, front = bearings(job, found)
    assert (left.edge, front.edge) == ("left end", "front")
    assert front.away_in == pytest.approx(13.0 - size_of(Grooves())[1] / 2.0)
    assert left.away_in == pytest.approx(22.0 - 7.0 + job.defaults.end_overhang, abs=1.1)


def test_a_wall_split_or_moved_takes_what_is_set_in_along() -> None:
    job = with_inset(Grooves(), AlongLeg("leg201", 30.0, 13.0, "right"))
    before = place_of(job, Subject("inset", ID))
    split = after(job, edits.SplitWall("wall101", Corner("corner9", 9, 100.0, 0.0), "wall9"))
    after_it = place_of(split, Subject("inset", ID))
    assert before is not None
    assert after_it is not None
    assert distance(before, after_it) == pytest.approx(0.0, abs=1e-9)


def test_with_its_counter_it_goes_and_by_itself_it_changes_and_goes() -> None:
    job = with_inset(Grooves())
    assert after(job, edits.RemoveRun("run200")).insets == ()
    turned = replace(job.insets[0], angle=90.0)
    assert after(job, edits.SetInset(turned)).insets == (turned,)
    assert after(job, edits.RemoveInset(ID)).insets == ()
    elsewhere = replace(job.insets[0], at=InIsland("island7", 1.0, 1.0))
    assert applied(job, edits.SetInset(elsewhere)) is job
    assert decoded(encoded(job)) == job
    lost = replace(job, insets=(elsewhere,))
    with pytest.raises(JobFileError, match="Inset 'grooves' refers to island"):
        decoded(encoded(lost))


@pytest.mark.parametrize(
    ("shape", "at", "code"),
    [
        (Grooves(), AlongLeg("leg201", 62.0, 13.0), "inset"),
        (Grooves(), AlongLeg("leg201", 2.0, 13.0), "inset"),
        (Grooves(apart=0.25), BESIDE, "inset"),
        (Inlay(thickness=2.5), BESIDE, "inset"),
        (Inlay(thickness=1.25), BESIDE, "inset-deep"),
        (Insert(height=1.25), BESIDE, "inset-deep"),
        (Inlay(), AlongLeg("leg201", 22.0, 3.5), "inset-near-edge"),
        (Inlay(thickness=0.9), BESIDE, "inset-near-steel"),
    ],
)
def test_what_leaves_too_little_concrete_is_told(
    shape: InsetShape, at: AlongLeg, code: str
) -> None:
    found = said(with_inset(shape, at))
    assert code in found
    assert found[code].blocking is (code == "inset")
    assert found[code].at is not None


def test_what_leaves_enough_is_not_told() -> None:
    shallow = with_inset(Grooves(shallow=0.0, deep=0.1875))
    assert set(said(shallow)) == {"inset-stops-short"}
    assert said(with_inset(Inlay(thickness=0.125))) == {}


def test_on_a_counter_that_cannot_be_made_it_has_no_place() -> None:
    job = with_inset(Grooves())
    flat = after(job, edits.MoveCorner("corner2", 0.0, 0.0))
    (found,) = inset_plans(flat)
    assert found.placed is None
    assert bearings(flat, found) == ()
    assert clearance_in(flat, found) is None
    assert said(flat)["inset"].blocking
    assert place_of(flat, Subject("inset", "inset901")) is None
    on_island = with_inset(Grooves(), InIsland("island300", 20.0, 18.0), island())
    gone = replace(on_island, islands=(replace(on_island.islands[0], width=1e-7),))
    assert inset_plans(gone)[0].placed is None
    assert place_of(gone, Subject("inset", ID)) is not None


def test_across_a_seam_it_belongs_to_no_piece() -> None:
    job = after(with_inset(Grooves()), edits.AddSeam(seam(22.0)))
    assert inset_plans(job)[0].piece is None
    assert clearance_in(job, inset_plans(job)[0]) is None
    assert "An edge, a seam" in said(job)["inset"].text
    assert [insets_of(job, piece.name) for piece in layout(job).pieces] == [(), ()]


def test_the_nearest_steel_is_found_in_three_dimensions() -> None:
    job = with_inset(Inlay(thickness=0.5))
    steel = reinforcement(job, "A")
    near = clearance_in(job, inset_plans(job)[0])
    assert near is not None
    # Mesh lies over the inlay: what is between them is straight up.
    assert near[0] == pytest.approx(steel.mesh_height_in - 0.5)
    assert near[1].startswith("mesh")
    bare = after(job, edits.SetReinforcement(replace(job.reinforcement, mesh="none")))
    near = clearance_in(bare, inset_plans(bare)[0])
    assert near is not None
    assert near[1].startswith("bar")
    plan = inset_plans(bare)[0].placed
    assert plan is not None
    middle = mirrored_point(plan.center)
    for bar in reinforcement(bare, "A").bars:
        aside = distance(middle, bar.start)
        assert near[0] <= aside + bar.height_in
    none = after(job, edits.SetReinforcement(replace(job.reinforcement, mesh="none", bars="none")))
    assert clearance_in(none, inset_plans(none)[0]) is None


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        (Grooves(), "Stick 5 strips 14 long and 3/8 wide to the base, 1 1/2 from middle to middle"),
        (Grooves(count=1), "Stick 1 strip 14 long and 3/8 wide to the base, 1/8 high at one end"),
        (Slope(), "Stick a wedge 18 long and 12 wide to the base, its sloping side up: run out to"),
        (
            Slope(shallow=0.125),
            "Stick a wedge 18 long and 12 wide to the base, its sloping side up: 1/8",
        ),
        (Inlay(), "Stick it to the base with its face down; it is 1/4 thick."),
        (
            Rods(),
            "Rout 4 slots 9 long and 1/8 deep into the base with a round-nosed bit 3/8",
        ),
        (Insert(), "Hang it from a batten across the sidewalls: it reaches 3/4 down"),
    ],
)
def test_the_mold_says_how_each_is_made_and_where(shape: InsetShape, words: str) -> None:
    job = with_inset(shape)
    made = making_words(job, inset_plans(job)[0])
    assert made.startswith(words)
    assert made.endswith(" from the FRONT.")
    half = size_of(shape)[1] / 2.0
    assert f"front side {written(13.0 - half, length_style(job))} from the FRONT." in made


def test_mesh_that_does_not_reach_over_it_does_not_count() -> None:
    job = with_inset(Inlay(), AlongLeg("leg201", 10.0, 13.0), straight(230.0))
    panels = reinforcement(job, "A").panels
    assert len(panels) > 1
    near = clearance_in(job, inset_plans(job)[0])
    assert near is not None
    assert near[1] in {panel.name for panel in panels}


@settings(max_examples=60, deadline=None)
@given(st.floats(5.0, 100.0), st.floats(-5.0, 30.0), st.floats(20.0, 90.0))
def test_what_crosses_a_seam_lies_in_every_piece_whose_concrete_it_meets(
    along: float, back: float, at: float
) -> None:
    job = with_inset(
        Inlay(), AlongLeg("leg201", along, back), after(straight(), edits.AddSeam(seam(at, 500)))
    )
    (found,) = inset_plans(job)
    assert found.placed is not None
    for piece in pieces(job):
        meets = concrete(piece).intersects(covered(found.placed))
        assert (set_into(job, piece) == (found.placed,)) == (
            found.piece == piece.name or (found.piece is None and meets)
        )
