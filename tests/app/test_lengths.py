"""Lengths of the drawing typed over: the drawing then says what was typed, and one thing moved."""

from functools import reduce

import pytest
from msgspec.structs import replace

from app.things import lengths
from app.things.lengths import Asked, asked
from export.drawings import edge_subject, face_up_groups, measured_edges
from export.marks import Dimension
from geometry import edges as exact
from geometry.counters import ClippedCorner, FreeSide, RoundCorner, SquareEnd, WallEnd
from geometry.naming import CornerRef, EdgeRef
from geometry.picking import Subject
from shop import edits
from shop.applying import applied
from shop.job import Job
from shop.plan import pieces
from shop.readings import WallReading
from shop.samples import sample_names
from tests.export.jobs import sample
from tests.shop.kitchens import after, run, seam, straight, walls


def drawn(job: Job) -> list[tuple[Subject | None, str]]:
    return [
        (mark.subject, mark.asks)
        for group in face_up_groups(job)
        for mark in group.marks
        if isinstance(mark, Dimension)
    ]


def length_of(job: Job, subject: Subject) -> float:
    sizes = [
        (edge_subject(tag), exact.length(edge))
        for piece in pieces(job)
        for edge, tag in measured_edges(piece.face.base_outline)
        if tag.ref == subject.edge
    ]
    # A scribed back has more or fewer parts when it is longer or shorter.
    return sizes[0][1] if len(sizes) == 1 else dict(sizes)[subject]


def typed(job: Job, one: Asked, value: float) -> Job:
    assert one.question is not None
    return reduce(applied, one.question.edits(value), job)


@pytest.mark.parametrize("name", sample_names())
def test_every_length_on_a_drawing_can_be_set_or_says_why_not(name: str) -> None:
    job = sample(name)
    listed = drawn(job)
    assert listed
    for subject, asks in listed:
        if not asks:
            # How much is left behind a hole follows from where it is.
            assert subject is not None
            assert subject.kind == "opening"
            continue
        one = asked(job, subject, asks)
        assert one.words != lengths.GONE
        if one.question is None:
            assert one.words.endswith(".")
        else:
            assert one.moves
            assert one.question.edits(one.question.value) is not None


@pytest.mark.parametrize("name", sample_names())
def test_an_edge_is_as_long_as_was_typed(name: str) -> None:
    job = sample(name)
    for subject, asks in drawn(job):
        if subject is None or asks != "length":
            continue
        one = asked(job, subject, asks)
        if one.question is None:
            continue
        for by in (-0.75, 0.5):
            value = length_of(job, subject) + by
            assert length_of(typed(job, one, value), subject) == pytest.approx(value, abs=1e-5)


def front(job: Job, leg: int = 0) -> Subject:
    owner = job.runs[0].legs[leg].id
    return Subject("edge", owner, EdgeRef(owner, "front"))


def end(job: Job, side: str) -> Subject:
    owner = job.runs[0].legs[0].id
    return Subject("edge", owner, EdgeRef(owner, side))


def between_walls() -> Job:
    """A straight counter of 120 between two walls."""
    room = walls((0.0, -120.0), (0.0, 0.0), (120.0, 0.0), (120.0, -120.0))
    return after(room, edits.AddRun(run("wall102", left=WallEnd(), right=WallEnd())))


def free(**changes: float) -> Job:
    """A straight counter from a wall to a free end, 24 deep unless said otherwise."""
    job = between_walls()
    leg = replace(job.runs[0].legs[0], **changes)
    return replace(job, runs=(replace(job.runs[0], legs=(leg,), right=SquareEnd(96.0)),))


def test_the_length_of_a_leg_moves_its_free_end() -> None:
    job = free()
    one = asked(job, front(job), "length")
    assert one.words == "Moves the right end"
    assert one.moves == (end(job, "end"),)
    assert one.question is not None
    (edit,) = one.question.edits(90.0)
    assert isinstance(edit, edits.SetRunEnd)
    assert length_of(applied(job, edit), front(job)) == pytest.approx(90.0)


def test_the_length_of_an_end_moves_the_front_and_all_of_it_if_it_is_as_deep_everywhere() -> None:
    job = free()
    one = asked(job, end(job, "end"), "length")
    assert one.words == "Moves the front"
    assert one.moves == (front(job),)
    made = typed(job, one, 30.0).runs[0].legs[0]
    assert made.depth_left == made.depth_right
    assert made.depth_right + made.overhang - made.clearance == pytest.approx(30.0)


def test_the_front_of_a_tapered_leg_moves_at_the_end_that_was_typed() -> None:
    job = free(depth_left=30.0, depth_right=20.0)
    one = asked(job, end(job, "end"), "length")
    assert one.words == "Moves the front's right end"
    made = typed(job, one, 25.0)
    assert made.runs[0].legs[0].depth_left == 30.0
    assert length_of(made, end(job, "end")) == pytest.approx(25.0)
    one = asked(job, end(job, "start"), "length")
    assert one.words == "Moves the front's left end"
    assert typed(job, one, 25.0).runs[0].legs[0].depth_right == 20.0


def test_between_a_wall_and_a_seam_the_seam_moves_and_between_two_that_at_the_right() -> None:
    job = between_walls()
    leg = job.runs[0].legs[0]
    job = after(job, edits.AddSeam(seam(40.0, 501)), edits.AddSeam(seam(80.0, 502)))
    parts = [Subject("edge", leg.id, EdgeRef(leg.id, "front"), part) for part in range(3)]
    moved = [asked(job, part, "length").moves for part in parts]
    assert moved == [
        (Subject("seam", "seam501"),),
        (Subject("seam", "seam502"),),
        (Subject("seam", "seam502"),),
    ]
    one = asked(job, parts[1], "length")
    assert one.words == "Moves the seam"
    made = typed(job, one, 50.0)
    assert length_of(made, parts[1]) == pytest.approx(50.0)
    assert length_of(made, parts[0]) == length_of(job, parts[0])
    assert asked(job, Subject("seam", "seam501"), "length") == Asked(lengths.OF_SEAM)


def test_a_counter_from_wall_to_wall_says_that_it_follows_them() -> None:
    job = between_walls()
    assert asked(job, front(job), "length") == Asked(lengths.OF_WALLS)


def test_a_wall_takes_what_is_typed_as_a_reading_of_the_tape() -> None:
    job = straight()
    wall = job.room.walls[0].id
    one = asked(job, Subject("wall", wall), "taped")
    made = typed(job, one, 130.5)
    (reading,) = (r for r in made.room.readings if isinstance(r, WallReading) and r.wall == wall)
    assert reading.value == 130.5
    assert one.moves == (Subject("wall", wall),)


def test_the_sides_of_an_island_move_side_2_and_side_3() -> None:
    job = sample("round-island")
    island = replace(job.islands[0], round_sides=(), angle=20.0)
    job = after(job, edits.SetIsland(island), *(edits.RemoveSeam(s.id) for s in job.seams))
    job = replace(job, corner_shapes=())
    for side, moves, size in (("1", "2", "width"), ("2", "3", "depth"), ("3", "2", "width")):
        ref = EdgeRef(island.id, side)
        one = asked(job, Subject("edge", island.id, ref), "length")
        assert one.words == f"Moves side {moves}"
        made = typed(job, one, 31.5)
        assert getattr(made.islands[0], size) == pytest.approx(31.5)


def test_over_all_a_round_island_is_asked_its_width() -> None:
    job = sample("round-island")
    island = job.islands[0]
    one = asked(job, Subject("island", island.id), "width")
    assert typed(job, one, 50.0).islands[0].width == 50.0
    assert {subject.edge for subject in one.moves} == {EdgeRef(island.id, "2")}


def test_a_side_of_a_free_shape_moves_the_corner_at_its_end() -> None:
    job = sample("round-island")
    corners = ((0.0, 0.0), (60.0, 0.0), (60.0, 30.0), (0.0, 40.0))
    sides = tuple(FreeSide(n, x, y) for n, (x, y) in enumerate(corners, 1))
    island = replace(job.islands[0], round_sides=(), free=sides)
    job = after(job, edits.SetIsland(island), *(edits.RemoveSeam(s.id) for s in job.seams))
    first = Subject("edge", island.id, EdgeRef(island.id, "1"))
    one = asked(job, first, "length")
    assert one.words == "Moves the corner to side 2"
    made = typed(job, one, 50.0)
    assert length_of(made, first) == pytest.approx(50.0)
    assert made.islands[0].free[2] == sides[2]


def test_the_cut_of_a_clipped_corner_is_as_long_as_was_typed() -> None:
    job = free()
    leg = job.runs[0].legs[0].id
    corner = CornerRef(EdgeRef(leg, "front"), EdgeRef(leg, "end"))
    job = applied(job, edits.ShapeCorner(corner, ClippedCorner(corner, 4.0)))
    cut = Subject("edge", corner.a.owner, corner)
    made = typed(job, asked(job, cut, "length"), 8.0)
    assert length_of(made, cut) == pytest.approx(8.0)
    # The front is asked past the cut, and so is the end.
    assert asked(job, front(job), "length").moves == (end(job, "end"),)
    rounded = applied(job, edits.ShapeCorner(corner, RoundCorner(corner, 4.0)))
    assert asked(rounded, cut, "length") == Asked(lengths.OF_CORNER)


def test_a_slab_that_is_made_keeps_its_lengths() -> None:
    job = free()
    name = pieces(job)[0].name
    job = applied(job, edits.MarkPiece(name, "cast"))
    words = asked(job, front(job), "length").words
    assert words == f"Piece {name} is cast: its lengths are those of the slab."


def test_what_is_gone_says_so() -> None:
    job = free()
    assert asked(job, None, "length") == Asked(lengths.GONE)
    nobody = Subject("edge", "leg999", EdgeRef("leg999", "front"))
    assert asked(job, nobody, "length") == Asked(lengths.GONE)
    assert asked(job, Subject("wall", job.room.walls[0].id), "nothing") == Asked(lengths.GONE)
