from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import Leg, RoundCorner, SquareEnd
from geometry.edges import is_line
from geometry.naming import EdgeRef, Kind, corner_ref
from geometry.openings import AlongLeg, RectangleShape
from geometry.outline import Outline, area
from geometry.points import Point, distance
from geometry.splitting import Face
from geometry.tape_corners import tape_corners
from shop import edits, plan
from shop.applying import applied
from shop.describing import described
from shop.finding import Finding
from shop.findings import findings
from shop.job import Job, MoldChoices, Slab
from shop.jobfile import JobFileError, decoded, encoded
from shop.molds import Mold
from shop.readings import StraightedgeReading, WallReading
from shop.remedies import remedies
from shop.slab_findings import differing, differs_in, standing
from shop.slab_lengths import corner_letter, slab_lengths, slab_of
from shop.slabs import SlabMeasure, SlabShape, face_of, is_sound
from shop.standing import as_cast, opening_names
from tests.shop.kitchens import (
    AGAINST,
    LEFT,
    after,
    angle,
    corner_seam,
    faucet,
    run,
    seam,
    sink,
    straight,
    walls,
)
from tests.strategies import edits_of, sample_jobs

STATES = st.sampled_from(["cut", "poured", "cast"])


def of(job: Job, code: str) -> list[Finding]:
    return [finding for finding in findings(job) if finding.code == code]


def only(job: Job, code: str) -> Finding:
    (found,) = of(job, code)
    return found


def frozen(job: Job, *names: str) -> Job:
    return after(job, *(edits.MarkPiece(name, "cut") for name in names))


def halves() -> Job:
    """A top of 120 in with a seam in the middle: A at the left, B at the right."""
    return after(straight(), edits.AddSeam(seam(60.0)))


def base(job: Job, name: str) -> Outline:
    return plan.piece(job, name).face.base_outline


def near(a: Point, b: Point) -> bool:
    return distance(a, b) < 1e-9


def seam_x(job: Job, name: str) -> list[float]:
    """Where a piece's corners at the seam lie."""
    outline = base(job, name)
    return sorted(
        end[0]
        for edge, tag in zip(outline.edges, outline.tags, strict=True)
        if tag.kind is Kind.SEAM
        for end in (edge.start, edge.end)
    )


def measured(job: Job, name: str, *changes: tuple[int, int, float]) -> Job:
    """The slab of a piece cast, and some lengths of it so much longer than drawn."""
    job = after(job, edits.MarkPiece(name, "cast"))
    at = base(job, name).vertices
    lengths = tuple(SlabMeasure(a, b, distance(at[a - 1], at[b - 1]) + by) for a, b, by in changes)
    return after(job, edits.MeasureSlab(name, lengths))


def whole_slab(job: Job, name: str) -> tuple[SlabMeasure, ...]:
    """Every side and every diagonal of a piece, as drawn."""
    at = base(job, name).vertices
    return tuple(
        SlabMeasure(a + 1, b + 1, distance(at[a], at[b]))
        for a in range(len(at))
        for b in range(a + 1, len(at))
    )


# --- Frozen -----------------------------------------------------------------------------------


def kept(job: Job) -> dict[str, tuple[Face, float, Outline, Outline]]:
    """What must not move of frozen pieces: face and area, and the mold's frame and base."""
    frozen_names = {slab.piece for slab in job.slabs}
    forms: dict[str, Mold] = {mold.piece: mold for mold in plan.molds(job)}
    return {
        piece.name: (piece.face, piece.area_sq_in, forms[piece.name].frame, forms[piece.name].base)
        for piece in plan.pieces(job)
        if piece.name in frozen_names
    }


@settings(max_examples=60, deadline=None)
@given(sample_jobs, STATES, st.data())
def test_after_any_edits_a_frozen_piece_is_the_same_bit_for_bit(
    job: Job, state: str, data: st.DataObject
) -> None:
    names = [piece.name for piece in plan.pieces(job)]
    for name in data.draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True)):
        job = applied(job, edits.MarkPiece(name, state))  # type: ignore[arg-type]
    before = kept(job)
    assert before
    for _ in range(data.draw(st.integers(1, 5), label="how many")):
        edit = data.draw(edits_of(job), label="edit")
        if isinstance(edit, edits.MarkPiece | edits.NamePiece):
            continue
        job = applied(job, edit)
        assert kept(job) == before
        assert decoded(encoded(job)) == job
        for finding in findings(job):
            assert finding.title


def test_what_is_frozen_is_what_was_drawn_and_reads_back() -> None:
    openings = edits.AddOpening(sink(along=30.0)), edits.AddOpening(faucet(along=60.0))
    drawn = after(halves(), *openings)
    job = frozen(drawn, "A", "B")
    for name in ("A", "B"):
        assert plan.piece(job, name).face == plan.piece(drawn, name).face
        assert plan.piece(job, name).state == "cut"
        assert plan.mold(job, name) == plan.mold(drawn, name)
    assert plan.piece(job, "A").face.parts
    assert decoded(encoded(job)) == job
    assert opening_names(job) == (("opening400", "sink"), ("opening401", "faucet"))


def test_a_frozen_piece_keeps_its_thickness_and_how_its_mold_is_built() -> None:
    front = EdgeRef("leg201", "front")
    past = corner_ref(front, EdgeRef("leg201", "end"))
    drawn = after(straight(), edits.FinishEdge(front, "square"), edits.RunPast(past, front))
    job = after(
        frozen(drawn, "A"),
        edits.SetSlab(1.5, 140.0),
        edits.SetMoldChoices(MoldChoices(base_thickness=0.5)),
        edits.FinishEdge(front, None),
        edits.RunPast(past, None),
    )
    assert plan.mold(job, "A").strips == plan.mold(drawn, "A").strips
    assert plan.piece(job, "A").volume_cu_ft == plan.piece(drawn, "A").volume_cu_ft
    assert "it would be 1 1/2 thick instead of 2" in only(job, "slab-differs").text


def test_marking_goes_on_and_back_and_says_so() -> None:
    job = frozen(straight(), "A")
    poured = after(job, edits.MarkPiece("A", "poured"))
    assert poured.slabs[0].state == "poured"
    assert poured.slabs[0].shape == job.slabs[0].shape
    assert described(job, edits.MarkPiece("A", "poured"), poured) == "mark A as poured"
    assert after(poured, edits.MarkPiece("A", "drawn")).slabs == ()
    moved = after(poured, edits.SetRunEnd("run200", "right", SquareEnd(6.0, "right")))
    freed = after(moved, edits.MarkPiece("A", "drawn"))
    assert plan.piece(freed, "A").state == "drawn"
    assert base(freed, "A") != base(moved, "A")


@pytest.mark.parametrize(
    "edit",
    [
        edits.MarkPiece("Q", "cut"),
        edits.MarkPiece("A", "drawn"),
        edits.MeasureSlab("A", ()),
        edits.MeasureSlab("A", (SlabMeasure(1, 2, 9.0),)),
    ],
)
def test_nothing_is_marked_or_measured_that_is_not_there(edit: edits.Edit) -> None:
    job = straight()
    assert applied(job, edit) is job


def test_a_piece_that_no_file_could_hold_is_not_frozen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shop.freezing.is_sound", lambda _: False)
    job = straight()
    assert applied(job, edits.MarkPiece("A", "cut")) is job


def test_only_a_cast_slab_is_measured_between_its_own_corners() -> None:
    cut = frozen(straight(), "A")
    assert applied(cut, edits.MeasureSlab("A", (SlabMeasure(1, 2, 9.0),))) is cut
    cast = after(cut, edits.MarkPiece("A", "cast"))
    for wrong in ((1, 5), (2, 2)):
        assert applied(cast, edits.MeasureSlab("A", (SlabMeasure(*wrong, 9.0),))) is cast
    twice = (SlabMeasure(1, 2, 120.0), SlabMeasure(2, 1, 120.0))
    assert applied(cast, edits.MeasureSlab("A", twice)) is cast
    done = after(cast, edits.MeasureSlab("A", twice[:1], 2.25))
    assert described(cast, edits.MeasureSlab("A", twice[:1]), done) == "measure slab A"
    again = after(done, edits.MarkPiece("A", "poured"))
    assert (again.slabs[0].came_out, again.slabs[0].thickness_out) == ((), None)
    assert after(done, edits.SetJobName("Other")).slabs == done.slabs


def test_letters_of_slabs_are_swapped_with_their_pieces() -> None:
    job = after(frozen(halves(), "A"), edits.NamePiece("A", "B"))
    assert [slab.piece for slab in job.slabs] == ["B"]
    assert plan.piece(job, "B").state == "cut"
    assert plan.piece(job, "A").state == "drawn"


def test_a_slab_outlives_its_seam_its_opening_and_its_run() -> None:
    job = frozen(after(halves(), edits.AddOpening(sink(along=90.0))), "B")
    before = plan.piece(job, "B").face
    for edit in (
        edits.RemoveOpening("opening400"),
        edits.RemoveSeam("seam500"),
        edits.RemoveRun("run200"),
        edits.RemoveWall("wall101"),
    ):
        job = after(job, edit)
        assert plan.piece(job, "B").face == before
        assert decoded(encoded(job)) == job
        assert opening_names(job)[-1] == ("opening400", "sink")
        assert plan.mold(job, "B").knockouts
    gone = only(job, "slab-gone")
    assert "no longer in the plan" in gone.title
    assert gone.at is not None
    (remedy,) = remedies(job, gone)
    assert remedy.label == "Mark B as drawn"
    assert applied(job, remedy.edit).slabs == ()
    assert differs_in(job, "B") is None
    assert differing(job, "B") == ()


def test_no_new_piece_takes_the_letter_of_a_slab() -> None:
    alone = after(frozen(halves(), "B"), edits.RemoveSeam("seam500"))
    assert [piece.name for piece in plan.pieces(alone)] == ["A", "B"]
    again = after(alone, edits.AddSeam(seam(40.0, number=501)))
    assert [piece.name for piece in plan.pieces(again)] == ["A", "B", "C"]
    other = replace(run("wall101"), id="run700", legs=(Leg("leg701", "wall101"),))
    more = after(again, edits.AddRun(other))
    assert sorted(piece.name for piece in plan.pieces(more)) == ["A", "B", "C", "D"]


def test_a_slab_in_a_job_without_names_keeps_its_letter() -> None:
    job = frozen(halves(), "B")
    bare = replace(job, piece_names=())
    assert [piece.name for piece in plan.pieces(bare)] == ["A", "B", "C"]


def test_no_new_thing_takes_an_id_that_a_slab_holds() -> None:
    job = after(frozen(straight(), "A"), edits.RemoveRun("run200"))
    lagging = encoded(job).replace(b'"next_id": 202', b'"next_id": 9')
    assert decoded(lagging).next_id == job.next_id == 202


# --- From a file ------------------------------------------------------------------------------


def broken(job: Job, slabs: Sequence[Slab]) -> str:
    with pytest.raises(JobFileError) as caught:
        encoded(replace(job, slabs=tuple(slabs)))
    return str(caught.value)


def test_a_slab_that_makes_no_sense_is_refused_in_one_sentence() -> None:
    job = frozen(straight(), "A")
    (slab,) = job.slabs
    chain = slab.shape.outline
    assert "frozen twice" in broken(job, (slab, slab))
    crossed = replace(slab.shape, outline=(chain[0], chain[2], chain[1], chain[3]))
    assert not is_sound(crossed)
    assert "In slab A: an outline crosses itself" in broken(job, (replace(slab, shape=crossed),))
    backward = replace(slab.shape, outline=chain[::-1])
    assert "the wrong way round" in broken(job, (replace(slab, shape=backward),))
    wrong = replace(slab, came_out=(SlabMeasure(1, 9, 4.0),))
    assert "In slab A: a length runs from no corner" in broken(job, (wrong,))


# --- What differs -----------------------------------------------------------------------------


def test_an_unchanged_plan_differs_in_nothing() -> None:
    job = frozen(halves(), "A", "B")
    assert [f.code for f in findings(job) if f.code.startswith("slab")] == []
    assert differing(job, "A") == ()
    assert differing(job, "Q") == ()
    assert differs_in(job, "A") == 0.0
    assert differs_in(job, "Q") is None


def test_a_later_reading_shows_the_difference_at_the_end_it_moves() -> None:
    """The wall grows by 3/16 at its right end; the slab sits by its back, ends split it."""
    room = after(walls((0.0, 0.0), (120.0, 0.0)), edits.AddRun(run("wall101", left=LEFT)))
    job = after(
        frozen(room, "A"),
        edits.AddReading(WallReading("reading300", "wall101", 120.0 + 3.0 / 16.0)),
    )
    found = only(job, "slab-differs")
    assert not found.blocking
    assert found.text.count("3/32") == 0
    ends = {d.tag.ref.side: d.most for d in differing(job, "A") if isinstance(d.tag.ref, EdgeRef)}
    assert ends == pytest.approx({"start": 3.0 / 32.0, "end": 3.0 / 32.0}, abs=1e-9)
    assert differs_in(job, "A") == pytest.approx(3.0 / 32.0)


def test_an_end_at_a_wall_holds_the_slab_and_the_other_end_shows_it_all() -> None:
    room = walls((0.0, -100.0), (0.0, 0.0), (120.0, 0.0))
    job = after(room, edits.AddRun(run("wall102", left=AGAINST)))
    grown = after(frozen(job, "A"), edits.SetRunEnd("run200", "right", SquareEnd(-0.1875, "right")))
    text = only(grown, "slab-differs").text
    assert "its right end would lie 3/16 farther out" in text
    assert text.count("would lie") == 1
    assert only(grown, "slab-differs").at == pytest.approx((120.0, -12.8125), abs=1.0)


def test_a_slanting_difference_is_told_from_its_least_to_its_most() -> None:
    job = frozen(straight(), "A")
    leg = Leg("leg201", "wall101", depth_left=24.25, depth_right=24.5)
    assert (
        "its front would lie 1/4 to 1/2 farther out"
        in only(after(job, edits.SetLeg(leg)), "slab-differs").text
    )
    leg = Leg("leg201", "wall101", depth_left=24.25, depth_right=24.25)
    assert (
        "its front would lie 1/4 farther out"
        in only(after(job, edits.SetLeg(leg)), "slab-differs").text
    )
    leg = Leg("leg201", "wall101", depth_left=24.0, depth_right=23.5)
    assert (
        "its front would lie up to 1/2 farther in"
        in only(after(job, edits.SetLeg(leg)), "slab-differs").text
    )


def test_a_slab_that_would_reach_the_wall_blocks_but_stays_in_the_shop_files() -> None:
    room = walls((0.0, -100.0), (0.0, 0.0), (120.0, 0.0), (120.0, -100.0))
    job = after(room, edits.AddRun(run("wall102", left=AGAINST, right=AGAINST)))
    tight = after(frozen(job, "A"), edits.MoveCorner("corner3", 119.75, 0.0))
    assert not only(tight, "slab-differs").blocking
    tighter = after(frozen(job, "A"), edits.MoveCorner("corner3", 119.25, 0.0))
    found = only(tighter, "slab-differs")
    assert found.blocking
    assert "It would not go in: its" in found.text
    assert "the clearance to the wall is 1/4" in found.text
    assert all(subject.kind != "piece" for subject in found.about)


def test_openings_that_move_change_come_or_go_are_told() -> None:
    two = after(straight(), edits.AddOpening(sink()), edits.AddOpening(faucet(along=20.0)))
    job = frozen(two, "A")
    moved = after(job, edits.MoveOpening("opening400", AlongLeg("leg201", 60.5, 13.0)))
    assert "the sink would lie 1/2 elsewhere" in only(moved, "slab-differs").text
    large = after(job, edits.SetOpening(replace(sink(), shape=RectangleShape(31.0, 16.0, 3.0))))
    assert "the sink would have another size" in only(large, "slab-differs").text
    less = after(job, edits.RemoveOpening("opening401"))
    assert "the faucet would be gone" in only(less, "slab-differs").text
    assert differing(less, "A") == ()
    more = after(frozen(straight(), "A"), edits.AddOpening(sink()))
    assert "it would have another opening" in only(more, "slab-differs").text


def test_a_seam_across_a_slab_leaves_the_slab_whole_and_blocks_the_new_piece() -> None:
    job = after(frozen(straight(), "A"), edits.AddSeam(seam(60.0)))
    assert plan.piece(job, "A").face.outline == plan.piece(straight(), "A").face.outline
    found = only(job, "slab-overlaid")
    assert found.blocking
    assert found.title == "Piece B lies on piece A"
    assert "it would have other edges" in only(job, "slab-differs").text
    gone = after(frozen(halves(), "A"), edits.RemoveSeam("seam500"))
    assert "its seam would be gone" in only(gone, "slab-differs").text


# --- The piece beside it ----------------------------------------------------------------------


def test_a_drawn_piece_keeps_the_gap_to_a_frozen_one_when_the_seam_moves() -> None:
    job = after(frozen(halves(), "A"), edits.SetSeam(seam(58.0)))
    assert seam_x(job, "A") == pytest.approx([59.96875, 59.96875])
    assert seam_x(job, "B") == pytest.approx([60.03125, 60.03125])
    assert of(job, "slab-gap") == []


def test_two_frozen_pieces_stay_and_the_gap_between_them_is_told() -> None:
    ends = after(
        walls((0.0, -90.0), (0.0, 0.0), (120.0, 0.0), (120.0, -90.0)),
        edits.AddRun(run("wall102", left=AGAINST, right=AGAINST)),
        edits.AddSeam(seam(60.0)),
    )
    job = after(frozen(ends, "A", "B"), edits.MoveCorner("corner3", 120.125, 0.0))
    found = only(job, "slab-gap")
    assert found.text.startswith("The gap will be 3/16")
    assert found.text.endswith("not 1/16.")
    assert found.at is not None


def test_the_piece_beside_a_measured_slab_follows_its_edge() -> None:
    """A comes out 1/8 longer along the front than along the back: B's end slants by as much."""
    job = after(halves(), edits.MarkPiece("A", "cast"))
    corners = base(job, "A").vertices
    lengths = whole_slab(job, "A")
    front = next(k for k, tag in enumerate(base(job, "A").tags) if tag.kind is Kind.FRONT) + 1
    grown = list(corners)
    grown[front % 4] = (corners[front % 4][0] + 0.125, corners[front % 4][1])
    lengths = tuple(
        SlabMeasure(m.a, m.b, distance(grown[m.a - 1], grown[m.b - 1])) for m in lengths
    )
    done = after(job, edits.MeasureSlab("A", lengths))
    assert plan.piece(done, "A").face == plan.piece(job, "A").face
    cast = standing(done)[0].cast
    assert cast.missing == 0
    meant = Outline(tuple(grown), (0.0,) * 4, base(job, "A").tags)
    assert area(cast.outline) == pytest.approx(area(meant))
    beyond = seam_x(done, "B")
    assert beyond[1] - beyond[0] == pytest.approx(0.125, abs=2e-3)
    assert of(done, "slab-gap") == of(done, "slab-misread") == []
    assert applied(done, edits.MarkPiece("A", "poured")) is not done


def test_what_no_length_fixes_stays_as_it_was() -> None:
    job = measured(straight(), "A", (1, 2, 0.0))
    cast = standing(job)[0].cast
    assert cast.missing == 4
    assert all(map(near, cast.outline.vertices, base(job, "A").vertices))


def test_a_slip_on_a_slab_is_named_by_its_corners() -> None:
    job = measured(straight(), "A", *((m.a, m.b, 0.0) for m in whole_slab(straight(), "A")[:5]))
    assert of(job, "slab-misread") == []
    pairs = [(a, b) for a in (1, 2, 3) for b in (2, 3, 4) if a < b]
    off = measured(straight(), "A", *((*pair, 1.0 if pair == (1, 3) else 0.0) for pair in pairs))
    found = only(off, "slab-misread")
    assert found.text.startswith(
        "One of the lengths is off, and nothing tells which: measure a to c again first, it is the"
        " farthest from its mold, then "
    )
    assert not found.blocking


def test_a_slip_that_can_be_located_is_named_alone() -> None:
    """A five-cornered slab with every length taken has three to spare."""
    job = after(angle(), edits.AddSeam(corner_seam()))
    name, count = "A", len(base(job, "A").vertices)
    assert count == 4
    ell = after(angle(), edits.MarkPiece("A", "cast"))
    lengths = whole_slab(ell, "A")
    wrong = replace(lengths[3], length=lengths[3].length + 1.0)
    off = after(ell, edits.MeasureSlab(name, (*lengths[:3], wrong, *lengths[4:])))
    text = only(off, "slab-misread").text
    assert f"measure {corner_letter(wrong.a)} to {corner_letter(wrong.b)} again first" in text


def test_lengths_that_make_no_slab_are_refused_and_the_slab_stays() -> None:
    job = after(straight(), edits.MarkPiece("A", "cast"))
    shape = job.slabs[0].shape
    apart = (SlabMeasure(1, 2, 10.0), SlabMeasure(2, 3, 10.0), SlabMeasure(1, 3, 900.0))
    assert as_cast(shape, apart, 0.0625).outline == base(job, "A")
    done = after(job, edits.MeasureSlab("A", apart))
    assert only(done, "slab-misread").text == (
        "A to c (75' 0) is longer than a to b and b to c together (20). Measure a to c again first."
    )
    assert standing(done)[0].made == base(done, "A")


def test_a_length_too_short_for_two_others_is_named_with_what_they_ask_for() -> None:
    job = straight()
    off = [(1, 2, 0.0), (2, 3, 0.0), (1, 3, -30.0)]
    text = only(measured(job, "A", *off), "slab-misread").text
    assert text.startswith("A to c (")
    assert "is too short for a to b and b to c: they ask for at least" in text
    assert text.endswith("Measure a to c again first.")


@pytest.mark.parametrize(("by", "said"), [(24.0, "24 longer"), (-2.0, "2 shorter")])
def test_a_length_that_no_mold_gives_is_named_by_how_far_it_is_off(by: float, said: str) -> None:
    """Nothing else is measured that could contradict it: its mold does."""
    off = measured(straight(), "A", (1, 2, by))
    found = only(off, "slab-misread")
    assert found.text == f"A to b is {said} than its mold: measure it again."
    assert standing(off)[0].made == base(off, "A")


def test_a_slab_that_came_out_thicker_is_told() -> None:
    job = after(straight(), edits.MarkPiece("A", "cast"))
    assert of(after(job, edits.MeasureSlab("A", (), 2.01)), "slab-thickness") == []
    found = only(after(job, edits.MeasureSlab("A", (), 2.125)), "slab-thickness")
    assert found.title == "Slab A came out 2 1/8 thick"


def test_lengths_that_fold_a_slab_over_are_refused() -> None:
    """A sliver whose long side, a little too long, bends in past its other side."""
    job = after(straight(), edits.MarkPiece("A", "cast"))
    sliver = ((0.0, 0.0), (20.0, 0.125), (40.0, 0.0), (20.0, 1.0))
    edges = zip(job.slabs[0].shape.outline, sliver, strict=True)
    shape = SlabShape(tuple(replace(edge, x=x, y=y) for edge, (x, y) in edges))
    lengths = (SlabMeasure(1, 2, 20.75), SlabMeasure(2, 3, 20.875), SlabMeasure(1, 3, 40.0))
    cast = as_cast(shape, lengths, 0.0625)
    assert cast.folded
    assert cast.outline == face_of(shape).base_outline
    slab = replace(job.slabs[0], shape=shape, came_out=lengths)
    found = only(replace(job, slabs=(slab,)), "slab-misread")
    assert found.text == "No slab has all these lengths. Measure b to c again first."


def test_lengths_that_make_a_slab_cross_itself_are_refused() -> None:
    """As the sliver before, but its other side has a corner that stays beyond the bend."""
    frozen_edges = after(straight(), edits.MarkPiece("A", "cast")).slabs[0].shape.outline
    places = ((0.0, 0.0), (20.0, 0.125), (40.0, 0.0), (30.0, 4.0), (10.0, 1.0))
    own = zip((*frozen_edges, frozen_edges[0]), places, strict=True)
    shape = SlabShape(tuple(replace(e, x=x, y=y, part=i) for i, (e, (x, y)) in enumerate(own)))
    lengths = (SlabMeasure(1, 2, 20.75), SlabMeasure(2, 3, 20.875), SlabMeasure(1, 3, 40.0))
    assert as_cast(shape, lengths, 0.0625).folded


# --- What to tape -----------------------------------------------------------------------------


def test_a_slab_is_taped_along_its_sides_and_across() -> None:
    job = measured(halves(), "A", (1, 2, 0.25))
    slab = slab_of(job, "A")
    assert slab is not None
    found = slab_lengths(job, slab)
    assert [one.words.partition(",")[0] for one in found].count("Diagonal") == 2
    assert {one.words.partition(",")[0] for one in found} == {
        "Front",
        "Back",
        "Left end",
        "Seam to B",
        "Diagonal",
    }
    first = next(one for one in found if (one.a, one.b) == (1, 2))
    assert first.measured == pytest.approx(first.drawn + 0.25)
    assert all(one.measured is None for one in found if one is not first)
    assert slab_of(job, "B") is None


def test_rounded_corners_are_not_taped() -> None:
    ref = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    job = after(straight(), edits.ShapeCorner(ref, RoundCorner(ref, 3.0)))
    assert len(tape_corners(base(job, "A"))) == 3
    cast = after(job, edits.MarkPiece("A", "cast"))
    words = [one.words for one in slab_lengths(cast, cast.slabs[0])]
    assert sum(word.startswith("Diagonal") for word in words) == 1


def test_corners_have_small_letters() -> None:
    assert [corner_letter(n) for n in (1, 2, 26, 27)] == ["a", "b", "z", "aa"]


def scribed() -> Job:
    """A top along a wall that is hollow, most in its middle; its back follows that; it is cast."""
    gaps = ((30.0, 0.0625), (60.0, 0.375), (90.0, 0.125))
    job = straight()
    for number, (along, gap) in enumerate(gaps, start=900):
        reading = StraightedgeReading(f"reading{number}", "wall101", along, gap)
        job = after(job, edits.AddReading(reading))
    leg = job.runs[0].legs[0]
    return after(job, edits.SetLeg(replace(leg, back="scribed")), edits.MarkPiece("A", "cast"))


def test_a_scribed_slab_is_taped_at_its_ends_and_across_its_back() -> None:
    job = scribed()
    assert len(base(job, "A").vertices) > 4
    found = slab_lengths(job, job.slabs[0])
    words = [one.words.partition(",")[0] for one in found]
    assert sorted(words) == ["Back", "Diagonal", "Diagonal", "Front", "Left end", "Right end"]


def test_a_scribed_back_goes_along_with_the_corners_that_were_measured() -> None:
    job = scribed()
    lengths = slab_lengths(job, job.slabs[0])
    longer = tuple(
        SlabMeasure(one.a, one.b, one.drawn + (0.125 if "end" in one.words else 0.0))
        for one in lengths
        if "Diagonal" not in one.words
    )
    cast = as_cast(job.slabs[0].shape, longer, 0.0625)
    frozen = base(job, "A")
    assert cast.missing == 1
    assert cast.outline.bulges == frozen.bulges
    for before, now in zip(frozen.edges, cast.outline.edges, strict=True):
        if not is_line(before):
            assert distance(now.start, now.end) == pytest.approx(
                distance(before.start, before.end), rel=2e-3
            )
    depths = [
        max(y for _, y in o.vertices) - min(y for _, y in o.vertices)
        for o in (frozen, cast.outline)
    ]
    assert depths[1] - depths[0] == pytest.approx(0.125, abs=0.01)
