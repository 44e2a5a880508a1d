"""Legs that a run goes on with: round a corner, or out into the room as a peninsula."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import Peninsula, SquareEnd, WallEnd
from geometry.naming import EdgeRef
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.applying import applied
from shop.certainty import good_enough
from shop.findings import findings
from shop.job import Cabinet, Corner, Job, MoldChoices
from shop.jobfile import decoded, encoded
from shop.leg_lines import line_of
from shop.legs import lone_peninsula, peninsula, round_corner
from shop.plan import molds, names_of_edges, pieces, tops
from shop.profiles import face_line, gap_behind
from shop.references import legs_of
from shop.standing import at_walls
from shop.supports import under, unsupported_spans
from shop.unmade import unmade
from shop.words import edge_words, hook_words, leg_words, top_words
from tests.shop import kitchens
from tests.shop.kitchens import after


def bare(*, right: float = 120.0) -> Job:
    """Walls round three sides, and one leg along the middle one."""
    room = kitchens.walls((0.0, -120.0), (0.0, 0.0), (200.0, 0.0), (200.0, -150.0))
    run = kitchens.run("wall102", left=SquareEnd(60.0), right=SquareEnd(right))
    return after(room, edits.AddRun(run))


def with_peninsula(over: float = 10.0) -> Job:
    """The leg goes out as a peninsula: piece A."""
    job = bare()
    arm, free = peninsula(job, "wall102", Peninsula("right", 150.0, overhang=over))
    return after(job, edits.ExtendRun("run200", "right", arm, free))


ARM = "leg202"


def test_a_run_goes_on_round_the_corner_to_the_next_wall() -> None:
    job = bare()
    further = round_corner(job, job.runs[0], "right")
    assert further is not None
    longer = after(job, further)
    assert [leg.wall for leg in longer.runs[0].legs] == ["wall102", "wall103"]
    assert longer.runs[0].right == SquareEnd(0.0, "right")
    assert len(pieces(longer)) == 1
    assert round_corner(longer, longer.runs[0], "right") is None
    left = round_corner(longer, longer.runs[0], "left", 80.0)
    assert left is not None
    whole = after(longer, left)
    assert whole.runs[0].left == SquareEnd(80.0, "right", 1.0)
    assert len(pieces(whole)) == 1


def test_round_a_corner_between_walls_a_run_ends_at_the_wall_across() -> None:
    room = kitchens.walls((0.0, 0.0), (200.0, 0.0), (200.0, -150.0), (0.0, -150.0))
    job = after(room, edits.AddRun(kitchens.run("wall101", right=SquareEnd(60.0, "right"))))
    further = round_corner(job, job.runs[0], "right")
    assert further is not None
    assert further.end == WallEnd(0.125)


def test_a_peninsula_is_a_piece_with_its_counter_and_has_a_far_side() -> None:
    job = with_peninsula()
    assert [piece.name for piece in pieces(job)] == ["A"]
    assert dict(names_of_edges(job, "A")) == {
        EdgeRef("leg201", "front"): "front, wall 2 to 3",
        EdgeRef(ARM, "front"): "front, the peninsula",
        EdgeRef(ARM, "end"): "right end",
        EdgeRef(ARM, "far"): "far side",
        EdgeRef("leg201", "back"): "back",
        EdgeRef("leg201", "start"): "left end",
    }
    assert leg_words(job, ARM) == "the peninsula"
    assert edge_words(job, EdgeRef(ARM, "far")) == "far side"
    assert top_words(job, "run200") == "the top along wall 2 to 3"
    assert line_of(job, ARM).right == pytest.approx((150.0, -60.0))
    assert [hook_words(job, ARM, hook) for hook in ("left", "middle", "right")] == [
        "the wall",
        "the middle of the peninsula",
        "its free end",
    ]
    assert EdgeRef(ARM, "back") not in at_walls(job)


@pytest.mark.parametrize("construction", ["sides-outside-base", "sides-on-base"])
@given(st.floats(80.0, 100.0), st.floats(0.0, 14.0), st.floats(70.0, 110.0), st.floats(45.0, 70.0))
def test_both_kinds_of_molds_take_a_peninsula_with_a_seam(
    construction: str, angle: float, over: float, end: float, along: float
) -> None:
    job = applied(with_peninsula(), edits.SetMoldChoices(MoldChoices(construction=construction)))  # type: ignore[arg-type]
    arm = legs_of(job)[ARM]
    assert arm.peninsula is not None
    leaving = replace(arm.peninsula, angle=angle, overhang=over)
    job = applied(job, edits.SetLeg(replace(arm, peninsula=leaving)))
    job = applied(job, edits.SetRunEnd("run200", "right", SquareEnd(100.0, angle=end)))
    whole = sum(piece.area_sq_in for piece in pieces(job))
    parted = applied(job, edits.AddSeam(Seam("seam900", "run200", SeamOnLeg(ARM, along))))
    forms = molds(parted)
    assert len(forms) == len(pieces(parted)) == 2
    assert not any(notice.blocking for form in forms for notice in form.warnings)
    lost = whole - sum(piece.area_sq_in for piece in pieces(parted))
    assert 0.0 < lost < 0.0625 * 90.0
    assert decoded(encoded(parted)) == parted


def test_two_peninsulas_are_told_apart_and_a_lone_one_has_a_name() -> None:
    job = with_peninsula()
    arm, free = peninsula(job, "wall102", Peninsula("left", 30.0))
    job = after(job, edits.ExtendRun("run200", "left", arm, free))
    assert leg_words(job, arm.id) == "the left peninsula"
    assert leg_words(job, ARM) == "the right peninsula"
    assert len(pieces(job)) == 1
    lone = lone_peninsula(bare(), "wall102", Peninsula("left", 180.0, overhang=0.0), 70.0)
    job = after(bare(), edits.AddRun(lone))
    assert top_words(job, lone.id) == leg_words(job, lone.legs[0].id) == "the peninsula"
    assert len(pieces(job)) == 2
    right = lone_peninsula(bare(), "wall102", Peninsula("right", 180.0), 70.0)
    assert right.left == WallEnd(0.125)


def test_seating_that_hangs_far_out_is_said_with_what_may_hold_it() -> None:
    said = [f for f in findings(with_peninsula(14.0)) if f.code == "free-overhang"]
    assert [f.title for f in said] == ["The far side of the peninsula hangs far out"]
    assert "plan brackets, legs or a low wall" in said[0].text
    assert said[0].at is not None
    assert not [f for f in findings(with_peninsula(10.0)) if f.code == "free-overhang"]
    job = with_peninsula(14.0)
    own = replace(job, limits=replace(job.limits, cantilever=12.0))
    assert any("your limit" in f.text for f in findings(own) if f.code == "free-overhang")


def test_cabinets_before_a_peninsula_are_looked_at_up_to_its_front() -> None:
    job = with_peninsula()
    for i, along in enumerate((60.0, 90.0)):
        job = after(
            job, edits.AddCabinet(Cabinet(f"cabinet{800 + i}", "wall102", "base", along, 30.0))
        )
    # From 120 to the front of the peninsula at 124.5 nothing stands; beyond, its own cabinets do.
    assert [round(span.length, 4) for span in unsupported_spans(job)] == [4.5]
    across = after(job, edits.AddSeam(Seam("seam900", "run200", SeamOnLeg(ARM, 40.0))))
    assert under(across, "seam900") is None
    mirrored = bare(right=150.0)
    arm, free = peninsula(mirrored, "wall102", Peninsula("left", 60.0))
    mirrored = after(mirrored, edits.ExtendRun("run200", "left", arm, free))
    mirrored = after(
        mirrored, edits.AddCabinet(Cabinet("cabinet800", "wall102", "base", 90.0, 60.0))
    )
    assert [round(span.length, 4) for span in unsupported_spans(mirrored)] == [4.5]


def test_a_wall_says_nothing_of_the_far_side_of_a_peninsula() -> None:
    job = with_peninsula()
    assert gap_behind(job, ARM) is None
    assert face_line(job, ARM) is None
    assert good_enough(job).words


def test_edits_that_make_no_peninsula_change_nothing() -> None:
    job = with_peninsula()
    assert applied(job, edits.SetRunEnd("run200", "right", WallEnd())) is job
    arm, free = peninsula(job, "wall101", Peninsula("left", 30.0))
    assert applied(job, edits.ExtendRun("run200", "left", arm, free)) is job
    arm, free = peninsula(job, "wall999", Peninsula("left", 30.0))
    assert applied(job, edits.ExtendRun("run200", "left", arm, free)) is job
    # Two peninsulas alone do not meet at a wall.
    turned = replace(legs_of(job)["leg201"], peninsula=Peninsula("left", 60.0))
    assert len(applied(job, edits.SetLeg(turned)).runs) == 2


def test_a_peninsula_goes_with_its_leg_and_stands_alone_without_the_other() -> None:
    job = with_peninsula()
    shorter = after(job, edits.RemoveLeg(ARM))
    assert [leg.id for leg in shorter.runs[0].legs] == ["leg201"]
    alone = after(job, edits.RemoveLeg("leg201"))
    assert [leg.id for leg in alone.runs[0].legs] == [ARM]
    assert alone.runs[0].left == WallEnd(0.125)
    assert len(pieces(alone)) == 1
    gone = after(job, edits.RemoveWall("wall102"))
    assert gone.runs == ()


@pytest.mark.parametrize("side", ["left", "right"])
def test_an_end_that_is_lost_stands_off_the_wall(side: str) -> None:
    lone = lone_peninsula(bare(), "wall102", Peninsula(side, 100.0), 70.0)  # type: ignore[arg-type]
    both = replace(lone, left=WallEnd(), right=WallEnd())
    job = after(bare(), edits.AddRun(both))
    run = job.runs[1]
    free, kept = (run.left, run.right) if side == "left" else (run.right, run.left)
    assert free == SquareEnd(60.0, "right" if side == "left" else "left")
    assert kept == WallEnd()


@given(st.floats(90.0, 118.0) | st.floats(155.0, 198.0))
def test_a_corner_put_into_the_wall_and_taken_out_leaves_the_peninsula_where_it_is(
    at: float,
) -> None:
    for side in ("left", "right"):
        job = bare(right=150.0)
        leaving = Peninsula(side, 60.0 if side == "left" else 150.0)
        arm, free = peninsula(job, "wall102", leaving)
        job = after(job, edits.ExtendRun("run200", side, arm, free))
        before = line_of(job, ARM)
        split = applied(job, edits.SplitWall("wall102", Corner("corner900", 9, at, 0.0), "wall900"))
        line = line_of(split, ARM)
        assert (*line.left, *line.right) == pytest.approx((*before.left, *before.right))
        assert len(tops(split)) == 1
        joined = after(split, edits.RemoveCorner("corner900"))
        line = line_of(joined, ARM)
        assert (*line.left, *line.right) == pytest.approx((*before.left, *before.right))
        assert [leg.id for leg in joined.runs[0].legs] == [leg.id for leg in job.runs[0].legs]


def test_a_peninsula_that_cannot_be_made_is_drawn_where_it_would_be() -> None:
    job = with_peninsula()
    shallow = replace(legs_of(job)[ARM], depth_left=5.0, overhang=-20.0)
    lost = unmade(after(job, edits.SetLeg(shallow)))
    points = [edge.start for found in lost for edge in found.edges]
    assert (150.0, -60.0) in [(round(x, 6), round(y, 6)) for x, y in points]


def test_the_line_of_a_leg_at_a_wall_without_length_is_that_wall() -> None:
    job = after(with_peninsula(), edits.MoveCorner("corner3", 0.0, 0.0))
    assert line_of(job, ARM).id == "wall102"
