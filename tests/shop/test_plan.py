from itertools import pairwise, product
from math import ceil, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import (
    FromWalls,
    Island,
    Leg,
    OnBoard,
    RoundCorner,
    Run,
    SquareEnd,
    WallEnd,
)
from geometry.edges import Edge, foot, point_at
from geometry.frames import LegFrame, WallLine, wall_direction
from geometry.naming import EdgeRef, Kind, corner_ref
from geometry.openings import CircleShape
from geometry.outline import bounding_box
from geometry.points import dot, minus
from shop import edits, plan, survey
from shop.applying import applied
from shop.findings import findings
from shop.job import Job
from shop.jobfile import read_job
from shop.profiles import profile_of
from shop.readings import AngleReading, WallReading
from shop.samples import sample_names, sample_path
from shop.stock_list import Silicone, Stock
from tests.bench.big_job import big_job
from tests.shop.kitchens import (
    after,
    angle,
    bay,
    corner_seam,
    faucet,
    island,
    island_seam,
    run,
    seam,
    sink,
    straight,
    walls,
)

SAMPLES = [read_job(sample_path(name)) for name in sample_names()]


# --- What it says -----------------------------------------------------------------------------


def test_a_piece_has_the_area_volume_and_weight_of_its_concrete() -> None:
    job = after(straight(), edits.AddOpening(replace(sink(), shape=CircleShape(16.0))))
    (piece,) = plan.pieces(job)
    # 120 by 25 3/8 in (24 and 1 1/2, less 1/8 of clearance), less a circle of 16.
    assert piece.area_sq_in == pytest.approx(120.0 * 25.375 - pi * 64.0, rel=1e-9)
    assert piece.volume_cu_ft == pytest.approx(piece.area_sq_in * 2.0 / 1728.0, rel=1e-12)
    assert piece.weight_lb == pytest.approx(piece.volume_cu_ft * 150.0, rel=1e-12)
    # The circle's middle lies 60 along and 13 behind the front.
    hole, whole = pi * 64.0, 120.0 * 25.375
    low = -(25.5 + 0.125) / 2.0
    assert piece.centroid == pytest.approx(
        (60.0, (whole * low - hole * (-25.5 + 13.0)) / (whole - hole)), abs=1e-9
    )


def test_the_tally_adds_up_pieces_and_molds() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)))
    total = plan.tally(job)
    assert total.pieces == 2
    assert total.face_sq_ft == pytest.approx((120.0 - 0.0625) * 25.375 / 144.0)
    assert total.concrete_cu_ft == pytest.approx(total.face_sq_ft / 6.0)
    assert total.weight_lb == pytest.approx(total.concrete_cu_ft * 150.0)
    molds = plan.molds(job)
    assert total.bead_ft * 12.0 == pytest.approx(
        sum(m.bead_length_in + m.uprights_length_in for m in molds)
    )
    assert total.strip_ft > 2.0 * (120.0 + 25.375 * 2.0) / 12.0 - 1.0
    # 10.1 fl oz are 298.7 ml, a cubic inch is 16.387 ml (NIST Handbook 44, app. C).
    silicone_ml = sum(m.silicone_cu_in for m in molds) * 16.387064
    assert total.cartridges == ceil(silicone_ml / 298.7) == 1
    small = after(job, edits.SetStock(Stock(silicone=Silicone(fl_oz=0.5))))
    assert plan.tally(small).cartridges == ceil(silicone_ml / (298.7 * 0.5 / 10.1)) > 1


def test_pieces_and_molds_are_asked_for_by_letter() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)))
    assert plan.piece(job, "B").top == "run200"
    assert plan.mold(job, "B").piece == "B"
    assert len(plan.tops(job)) == 1
    for ask in (plan.piece, plan.mold, plan.names_of_edges):
        with pytest.raises(KeyError):
            ask(job, "Z")
    assert plan.faces_of(job, "run9") == ()


def test_edges_of_a_piece_are_named_by_what_lies_beyond() -> None:
    job = after(bay(), edits.AddSeam(corner_seam()))
    names = dict(plan.names_of_edges(job, "B"))
    assert names[EdgeRef("seam500", "right")] == "seam to A"
    assert names[EdgeRef("leg202", "back")] == "back, wall 2 to 3"
    alone = dict(plan.names_of_edges(job, "A"))
    assert alone[EdgeRef("leg201", "back")] == "back"


def test_a_seam_that_ends_inside_a_piece_has_that_piece_on_both_sides() -> None:
    job = after(straight(), edits.AddOpening(sink()), edits.AddSeam(seam(60.0)))
    for piece in plan.pieces(job):
        assert {name for _, name in plan.names_of_edges(job, piece.name)} >= {"sink", "back"}
        assert piece.face.parts


def test_choices_reach_the_molds_they_are_about() -> None:
    front, end = EdgeRef("leg201", "front"), EdgeRef("leg201", "end")
    corner = corner_ref(front, end)
    job = after(
        straight(),
        edits.ShapeCorner(corner, RoundCorner(corner, 8.0)),
        edits.FinishEdge(front, "square"),
        edits.FinishEdge(end, "square"),
        edits.TurnAbout("A", front),
        edits.RunPast(corner_ref(front, EdgeRef("leg201", "start")), EdgeRef("leg201", "start")),
    )
    (mold,) = plan.molds(job)
    assert {strip.tag.kind: strip.bead for strip in mold.strips}[Kind.CORNER] is False
    assert mold.turning is not None
    assert mold.turning.edge == front


# --- What cannot be made ----------------------------------------------------------------------


def codes(job: Job) -> list[tuple[str, object]]:
    return [(fault.code, fault.about) for fault in plan.layout(job).faults]


def test_a_top_that_cannot_be_made_is_left_out_and_the_rest_stays() -> None:
    job = after(straight(), edits.AddIsland(Island("island300", 72.0, 36.0, OnBoard(0.0, -90.0))))
    flat = after(
        job,
        edits.SetLeg(replace(job.runs[0].legs[0], depth_left=0.1, depth_right=0.1, overhang=0.0)),
    )
    assert codes(flat) == [("no-depth", "leg201")]
    assert [p.name for p in plan.pieces(flat)] == ["B"]


def test_an_island_that_cannot_be_made_is_left_out() -> None:
    rounds = replace(island().islands[0], round_sides=("1", "2"))
    job = after(island(), edits.SetIsland(rounds))
    assert codes(job) == [("rounds-meet", "island300")]
    assert plan.pieces(job) == ()


def test_a_top_too_thin_to_cast_has_no_pieces() -> None:
    leg = replace(straight().runs[0].legs[0], depth_left=0.2, depth_right=0.2, overhang=0.0)
    assert codes(after(straight(), edits.SetLeg(leg))) == [("sliver", None)]


def test_a_corner_that_cannot_be_made_is_left_square() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    job = after(straight(), edits.ShapeCorner(corner, RoundCorner(corner, 60.0)))
    assert codes(job) == [("corner-too-large", corner)]
    assert len(plan.pieces(job)) == 1


def test_an_opening_or_seam_that_cannot_be_made_is_left_out() -> None:
    job = after(
        straight(),
        edits.AddOpening(sink(along=5.0)),
        edits.AddOpening(
            replace(sink(), id="opening403", shape=replace(sink().shape, radius=20.0))
        ),
        edits.AddSeam(seam(130.0)),
        edits.AddSeam(seam(60.0, 501)),
        edits.AddSeam(seam(60.05, 502)),
    )
    assert ("seam-misses", "seam500") in codes(job)
    assert ("opening-outside", "opening400") in codes(job)
    assert ("radius-too-large", "opening403") in codes(job)
    assert any(about == "seam502" for _, about in codes(job))
    assert [p.name for p in plan.pieces(job)] == ["A", "B"]


def test_an_island_is_measured_from_walls() -> None:
    at = FromWalls("wall101", 60.0, "wall102", 50.0)
    job = after(
        angle(),
        edits.AddIsland(Island("island300", 40.0, 30.0, at)),
        edits.AddSeam(island_seam(20.0)),
    )
    box = bounding_box(plan.tops(job)[1].top.outline)
    assert box == pytest.approx((60.0, -50.0, 100.0, -20.0))
    assert [p.name for p in plan.pieces(job) if p.top == "island300"] == ["B", "C"]


# --- Bridges ----------------------------------------------------------------------------------


def test_small_holes_have_their_own_smaller_limit() -> None:
    job = after(
        straight(),
        edits.AddOpening(faucet(back=23.0)),
        edits.AddOpening(sink(along=20.0, back=10.0)),
    )
    (piece,) = plan.pieces(job)
    # 25 3/8 deep: the hole of 1 3/8 leaves 1 11/16 behind; the bowl leaves 2 in front.
    assert [b.width for b in piece.bridges] == pytest.approx([1.6875, 2.0])
    assert [b.width for b in plan.weak_bridges(job, piece)] == pytest.approx([2.0])
    assert [plan.bridge_limit(job, b) for b in piece.bridges] == [1.0, 3.0]
    ((zone, *_),) = plan.shading(piece, plan.bridge_limits(job))
    left, front, right, _ = bounding_box(piece.face.outline)
    assert all(left <= x <= right and front <= y <= front + 3.0 for x, y in zone)
    strict = after(job, edits.SetLimits(replace(job.limits, hole_bridge=2.0)))
    assert len(plan.weak_bridges(strict, plan.piece(strict, "A"))) == 2
    wide = after(
        job, edits.SetOpening(replace(faucet(back=23.0), use="other", shape=CircleShape(2.5)))
    )
    assert len(plan.weak_bridges(wide, plan.piece(wide, "A"))) == 2


# --- Law: along every wall, clearances + pieces + gaps = the adjusted wall ----------------------


def covered(job: Job, leg: LegFrame) -> float:
    """What pieces, seams' gaps and clearances take up of a wall, along its leg's back.

    In the middle of each of the back's edges, the wall's surface is the clearance away, or more
    behind a straight back along a bowed wall.
    """
    way = wall_direction(leg.wall)
    profile = profile_of(job, leg.wall.id)
    scribed = {own.id for run in job.runs for own in run.legs if own.back == "scribed"}
    surface = profile.edges if profile else (Edge(leg.wall.left, leg.wall.right),)
    spans = []
    for piece in plan.pieces(job):
        tags = piece.face.base_outline.tags
        for edge, tag in zip(piece.face.base_outline.edges, tags, strict=True):
            if tag.ref == EdgeRef(leg.leg, "back"):
                ends = [dot(minus(p, leg.wall.left), way) for p in (edge.start, edge.end)]
                spans.append((min(ends), max(ends)))
                middle = point_at(edge, 0.5)
                clear = min(foot(own, middle).distance for own in surface)
                assert clear > 0.125 - 1e-6
                if profile is None or leg.leg in scribed:
                    assert clear == pytest.approx(0.125, abs=1e-6)
    spans.sort()
    pieces = sum(b - a for a, b in spans)
    gaps = sum(b[0] - a[1] for a, b in pairwise(spans))
    wall = minus(leg.wall.right, leg.wall.left)
    before, behind = spans[0][0], dot(wall, way) - spans[-1][1]
    return before + pieces + gaps + behind


@pytest.mark.parametrize("job", SAMPLES, ids=sample_names())
def test_along_every_wall_of_a_sample_clearances_pieces_and_gaps_add_up(job: Job) -> None:
    legs = [f for top in plan.tops(job) for f in top.top.frames if isinstance(f, LegFrame)]
    assert legs or job.islands
    for leg in (leg for leg in legs if leg.wall.id != leg.leg):
        whole = dot(minus(leg.wall.right, leg.wall.left), wall_direction(leg.wall))
        assert covered(job, leg) == pytest.approx(whole, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(
    wall=st.floats(60.0, 300.0),
    taped=st.floats(-2.0, 2.0),
    clearances=st.tuples(st.floats(0.0, 2.0), st.floats(0.0, 2.0)),
    places=st.lists(st.floats(0.1, 0.9), max_size=3),
    gap=st.floats(0.0, 0.5),
)
def test_between_two_walls_clearances_pieces_and_gaps_make_the_adjusted_wall(
    wall: float, taped: float, clearances: tuple[float, float], places: list[float], gap: float
) -> None:
    room = walls((0.0, -80.0), (0.0, 0.0), (wall, 0.0), (wall, -80.0))
    ends = WallEnd(clearances[0]), WallEnd(clearances[1])
    spaced = [
        p for p, q in zip(sorted(places), [0.0, *sorted(places)], strict=False) if p - q > 0.09
    ]
    job = after(
        room,
        edits.AddReading(WallReading("reading900", "wall102", wall + taped)),
        edits.AddReading(AngleReading("reading901", "corner2", 90.0)),
        edits.AddReading(AngleReading("reading902", "corner3", 90.0)),
        edits.AddRun(run("wall102", left=ends[0], right=ends[1])),
        *(edits.AddSeam(replace(seam(p * wall, 500 + i), gap=gap)) for i, p in enumerate(spaced)),
    )
    adjusted = survey.room(job).wall("wall102")
    size = adjusted.right[0] - adjusted.left[0]
    assert size == pytest.approx(wall + taped, abs=1e-9)
    boxes = sorted(bounding_box(piece.face.outline) for piece in plan.pieces(job))
    assert len(boxes) == len(spaced) + 1
    pieces = sum(right - left for left, _, right, _ in boxes)
    between = [b[0] - a[2] for a, b in pairwise(boxes)]
    assert between == pytest.approx([gap] * len(spaced), abs=1e-9)
    total = clearances[0] + pieces + gap * len(spaced) + clearances[1]
    assert total == pytest.approx(wall + taped, abs=1e-9)


# --- Cached by element ------------------------------------------------------------------------


def misses() -> dict[str, int]:
    parts = {
        "room": survey.room_plan,
        "run": plan._run_top,
        "island": plan._island_top,
        "opening": plan._placed,
        "path": plan._seam_path,
        "inside": plan._inside,
        "split": plan._split,
        "bridges": plan._bridges,
        "measured": plan._measured,
        "mold": plan._mold,
    }
    return {name: part.cache_info().misses for name, part in parts.items()}


def redone(job: Job, edit: edits.Edit) -> dict[str, int]:
    """What a change made the plan work out anew."""
    plan.molds(job)
    findings(job)
    before = misses()
    changed = applied(job, edit)
    assert changed is not job
    plan.molds(changed)
    findings(changed)
    plan.tally(changed)
    return {name: now - before[name] for name, now in misses().items() if now > before[name]}


def big() -> Job:
    return big_job(16)


def test_moving_a_seam_redoes_its_top_and_the_two_pieces_beside_it() -> None:
    job = big()
    moved = job.seams[1]
    start = replace(moved.start, along=moved.start.along + 0.25)  # type: ignore[union-attr]
    done = redone(job, edits.SetSeam(replace(moved, start=start)))
    assert done == {"path": 1, "split": 1, "bridges": 2, "measured": 2, "mold": 2}


def test_moving_an_opening_redoes_its_own_piece() -> None:
    job = big()
    opening = job.openings[0]
    at = replace(opening.at, back=12.25)
    done = redone(job, edits.MoveOpening(opening.id, at))
    assert done == {"opening": 1, "inside": 1, "split": 1, "bridges": 1, "measured": 1, "mold": 1}


def test_a_name_redoes_no_geometry() -> None:
    assert redone(big(), edits.SetJobName("Another name")) == {}
    assert redone(big(), edits.SetNote("Cast on Monday.")) == {}
    assert redone(big(), edits.NamePiece("A", "ZZ")).keys() <= {"mold"}


def test_a_reading_redoes_the_room_and_only_the_tops_that_moved() -> None:
    job = big()
    reading = job.room.readings[1]
    done = redone(job, edits.SetReading(replace(reading, value=reading.value + 0.5)))
    assert done["room"] == 1
    assert done["run"] == 1
    assert done["split"] == 1


lattice = st.tuples(st.integers(0, 2), st.integers(0, 2), st.sampled_from([0.0, 9e-8, 3e-7]))


@given(st.lists(st.tuples(lattice, lattice), min_size=1, max_size=8), st.data())
def test_a_run_hangs_on_its_walls_and_those_that_meet_them(
    ends: list[tuple[tuple[int, int, float], tuple[int, int, float]]], data: st.DataObject
) -> None:
    points = [[(x + off, y - off) for x, y, off in pair] for pair in ends]
    walls = tuple(WallLine(f"wall{i}", a, b) for i, (a, b) in enumerate(points))
    own = data.draw(st.lists(st.sampled_from(walls), min_size=1, max_size=3, unique=True))
    run = Run(
        "run1", tuple(Leg(f"leg{w.id[4:]}", w.id) for w in own), SquareEnd(0.0), SquareEnd(0.0)
    )
    met = tuple(w for w in walls if w in own or any(meet(w, o) for o in own))
    assert plan._walls_for_run(run, walls) == met


def meet(wall: WallLine, other: WallLine) -> bool:
    ends = product((wall.left, wall.right), (other.left, other.right))
    return any(abs(x - p) <= 1e-7 and abs(y - q) <= 1e-7 for (x, y), (p, q) in ends)


def test_a_thickness_redoes_molds_only() -> None:
    assert redone(big(), edits.SetSlab(1.75, 150.0)) == {"mold": 16}


def test_a_large_job_has_as_many_pieces_as_asked() -> None:
    job = big_job(30)
    assert len(plan.pieces(job)) == 30
    assert plan.layout(job).faults == ()
    assert len({piece.name for piece in plan.pieces(job)}) == 30
