"""Seam proposals against an exhaustive search that asks the plan itself what a layout is like."""

from collections.abc import Callable, Sequence
from functools import reduce
from itertools import combinations, pairwise
from math import ceil, floor
from typing import Literal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import ClippedCorner, Island, OnBoard, RoundCorner
from geometry.crossing import chord
from geometry.edges import Edge, edge_distance, foot
from geometry.frames import IslandFrame, LegFrame
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg, InIsland, Opening, RectangleShape
from geometry.outline import area, bounding_box, rotated
from geometry.seams import Seam, SeamAtCorner, SeamOnIsland, SeamOnLeg, seam_path
from geometry.splitting import short_edges
from geometry.templates import TemplateEdge, TemplateShape
from shop import edits, free_shapes, plan
from shop.applying import applied
from shop.findings import without_steel
from shop.job import Job
from shop.jobfile import read_job
from shop.samples import sample_path
from shop.seam_candidates import Candidate, candidates, leg_directions
from shop.seam_layouts import MOST, Layout, Score, Search, unlike_seams
from shop.seam_proposals import Proposal, Proposals, layout_edits, seam_proposals
from shop.seam_reasons import moved_words
from shop.seam_row import between, row_of
from shop.seam_search import NEVER, Other, best, reach
from shop.supports import under
from tests.shop.cabinetry import corner_room, row, wall_of
from tests.shop.kitchens import (
    after,
    angle,
    faucet,
    run,
    seam,
    sink,
    straight,
    walls,
)


def limited(job: Job, **limits: float) -> Job:
    """The job with other limits, or another sheet of board: sheet_length, sheet_width."""
    sheet = {key: limits.pop(f"sheet_{key}", None) for key in ("length", "width")}
    board = replace(job.stock.board, **{key: size for key, size in sheet.items() if size})
    return replace(job, limits=replace(job.limits, **limits), stock=replace(job.stock, board=board))


def split(job: Job, seams: tuple[Seam, ...], top: str = "run200") -> Job:
    return reduce(applied, layout_edits(job, top, Proposal(seams, Score(0, 0, 0, 0, 0), "")), job)


# --- An exhaustive search -----------------------------------------------------------------------


def judged(job: Job, chosen: tuple[Candidate, ...], top: str) -> Score | None:
    """The score of a layout, by the plan of a job that has it; None if it breaks a limit."""
    seams = tuple(replace(c.seam, id=f"seam{900 + k}") for k, c in enumerate(chosen))
    made = split(job, seams, top)
    faces = [piece.face for piece in plan.pieces(made) if piece.top == top]
    if plan.layout(made).faults or len(faces) != len(chosen) + 1:
        return None
    if any(short_edges(face) for face in faces):
        return None
    limits, board = job.limits, job.stock.board
    found = next(t for t in plan.tops(made) if t.top.id == top)
    shown = []
    for face in faces:
        size = area(face.raw) + sum(area(o.outline) for o in face.openings)
        pounds = ceil(round(size * job.thickness / 1728.0 * job.density_pcf, 6))
        shown.append(pounds)
        refs = {tag.ref.owner for tag in face.raw.tags if isinstance(tag.ref, EdgeRef)}
        fits = False
        for frame, way in zip(found.top.frames, leg_directions(found), strict=True):
            owner = frame.leg if isinstance(frame, LegFrame) else frame.island
            turned = rotated(face.raw, -float(np.arctan2(way[1], way[0])))
            x0, y0, x1, y1 = bounding_box(turned)
            long, short = max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)
            fits |= owner in refs and (
                long <= min(limits.piece_length, board.length) + 1e-7
                and short <= min(limits.doorway, board.width) + 1e-7
            )
        if pounds > limits.carry_lb or not fits:
            return None
    near = 0
    for one in seams:
        path = seam_path(one, found.top)
        ends = chord(found.top.outline, path.start, path.direction)
        assert ends is not None
        for opening in found.openings:
            away = min(edge_distance(Edge(*ends), edge) for edge in opening.outline.edges)
            near = max(near, 12 - floor(round(min(away, 12.0), 6)))
    belows = [under(made, one.id) for one in seams]
    return Score(
        len(chosen),
        ceil(round(8 * max(shown) / limits.carry_lb, 6)),
        near,
        sum(below is not None and not below.holds for below in belows),
        sum(len(plan.weak_bridges(made, p)) for p in plan.pieces(made) if p.top == top),
    )


def kept_apart(top: plan.TopPlan, chosen: tuple[Candidate, ...]) -> bool:
    """Two seams on one leg, or a seam and the leg's end, are at least a foot apart."""
    for frame in top.top.frames:
        own = [c for c in chosen if _on(frame, c)]
        if isinstance(frame, IslandFrame):
            starts = (c.seam.start for c in own)
            along = [start.along for start in starts if isinstance(start, SeamOnIsland)]
            lines = [(along, max(frame.width, frame.depth))]
        else:
            lines = []
            for edge, ends in (
                (frame.front, [c.front for c in own]),
                (frame.back, [c.back for c in own]),
            ):
                size = float(np.hypot(edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]))
                lines.append(([foot(edge, p).fraction * size for p in ends], size))
        for at, size in lines:
            first, last = frame is top.top.frames[0], frame is top.top.frames[-1]
            row = [*([0.0] if first else []), *sorted(at), *([size] if last else [])]
            if chosen and any(b - a < 12.0 - 1e-9 for a, b in pairwise(row)):
                return False
    return True


def _on(frame: LegFrame | IslandFrame, candidate: Candidate) -> bool:
    start = candidate.seam.start
    if isinstance(start, SeamAtCorner):
        owners = {start.corner.a.owner, start.corner.b.owner}
    else:
        owners = {start.leg if isinstance(start, SeamOnLeg) else start.island}
    return (frame.leg if isinstance(frame, LegFrame) else frame.island) in owners


def thinned(every: float) -> Callable[[Job, plan.TopPlan], tuple[Candidate, ...]]:
    """Candidates with a wider grid than an inch; the named places all stay."""

    def some(job: Job, top: plan.TopPlan) -> tuple[Candidate, ...]:
        return tuple(
            found
            for found in candidates(job, top)
            if found.why != "inch"
            or (
                not isinstance(found.seam.start, SeamAtCorner)
                and found.seam.start.along % every == 0.0
            )
        )

    return some


def is_alike(job: Job, top: plan.TopPlan, one: Sequence[Seam], other: Sequence[Seam]) -> bool:
    """Both have as many seams, and too few lie a foot from the other's, middle to middle."""

    def middles(seams: Sequence[Seam]) -> list[tuple[float, float]]:
        found = []
        for drawn in seams:
            path = seam_path(drawn, top.top)
            ends = chord(top.top.outline, path.start, path.direction)
            assert ends is not None
            found.append(((ends[0][0] + ends[1][0]) / 2.0, (ends[0][1] + ends[1][1]) / 2.0))
        return found

    pairs = list(zip(middles(one), middles(other), strict=False))
    off = sum(bool(np.hypot(a[0] - b[0], a[1] - b[1]) > 12.0 + 1e-7) for a, b in pairs)
    return len(one) == len(other) and off < unlike_seams(len(one))


def compare(job: Job, every: float, most: int, top: str = "run200") -> tuple[Proposal, ...]:
    """Hold the proposals against every layout of up to so many seams; return them."""
    found = next(t for t in plan.tops(job) if t.top.id == top)
    some = thinned(every)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("shop.seam_row.candidates", some)
        proposed = seam_proposals(job, top).best
    scored: list[tuple[Score, tuple[Seam, ...]]] = []
    for number in range(most + 1):
        for chosen in combinations(some(job, found), number):
            score = judged(job, chosen, top) if kept_apart(found, chosen) else None
            if score is not None:
                scored.append((score, tuple(c.seam for c in chosen)))
    assert scored
    taken: list[tuple[Seam, ...]] = []
    for proposal in proposed:
        left = [
            score
            for score, seams in scored
            if not any(is_alike(job, found, seams, other) for other in taken)
        ]
        if not left and proposal.score.seams > most:
            break
        assert proposal.score == min(left)
        taken.append(proposal.seams)
    assert taken
    return proposed


def kitchen() -> Job:
    """A row of cabinets with a sink and a dishwasher."""
    job = row(wall_of(), ("base", 24.0), ("sink-base", 36.0), ("dishwasher", 24.0), ("base", 36.0))
    return after(
        job,
        edits.AddRun(run("wall101")),
        edits.AddOpening(sink(along=42.0)),
        edits.AddOpening(faucet(along=42.0)),
    )


@pytest.mark.parametrize("carry", [550.0, 330.0, 250.0, 200.0])
def test_no_layout_of_a_straight_top_is_better(carry: float) -> None:
    compare(limited(kitchen(), carry_lb=carry), 6.0, 2)


@pytest.mark.parametrize(
    ("limits", "most"),
    [({"carry_lb": 700.0}, 2), ({"carry_lb": 500.0, "doorway": 30.0}, 2), ({"carry_lb": 420.0}, 2)],
)
def test_no_layout_round_an_inside_corner_is_better(limits: dict[str, float], most: int) -> None:
    job = after(angle(), edits.AddOpening(sink("leg202", 80.0)))
    compare(
        limited(job, piece_length=160.0, sheet_length=200.0, sheet_width=130.0, **limits),
        16.0,
        most,
    )


def test_no_layout_round_an_outside_corner_is_better() -> None:
    room = walls((0.0, 0.0), (100.0, 0.0), (100.0, 80.0))
    job = after(room, edits.AddRun(run("wall101", "wall102")))
    compare(limited(job, carry_lb=400.0, piece_length=120.0, sheet_length=150.0), 16.0, 2)


@pytest.mark.parametrize(("width", "depth"), [(96.0, 30.0), (30.0, 96.0)])
def test_no_layout_of_an_island_is_better(width: float, depth: float) -> None:
    made = Island("island300", width, depth, OnBoard(0.0, 0.0), angle=20.0)
    cut = RectangleShape(12.0, 12.0, 1.0)
    bowl = Opening("opening402", "sink", cut, InIsland("island300", 15.0, 15.0), "sink")
    job = after(Job("Test"), edits.AddIsland(made), edits.AddOpening(bowl))
    compare(limited(job, carry_lb=260.0), 4.0, 2, "island300")


@pytest.mark.parametrize("radius", [0.0, 3.0])
def test_no_layout_of_a_free_shape_with_an_inside_corner_is_better(radius: float) -> None:
    points = [(0.0, 0.0), (96.0, 0.0), (96.0, 30.0), (50.25, 30.0), (50.25, 70.0), (0.0, 70.0)]
    job = after(Job("T"), edits.AddIsland(free_shapes.drawn("island300", points, [0.0] * 6)))
    corner = corner_ref(EdgeRef("island300", "3"), EdgeRef("island300", "4"))
    if radius:
        job = after(job, edits.ShapeCorner(corner, RoundCorner(corner, radius)))
    found = compare(limited(job, carry_lb=550.0), 4.0, 2, "island300")
    assert "one in a corner" in found[0].words
    places = candidates(job, plan.tops(job)[0])
    starts = [c.seam.start for c in places if c.why == "corner"]
    (start,) = starts
    assert isinstance(start, SeamOnIsland)
    # The middle of the arc lies so far from its sharp corner, along both of its sides.
    assert start.along == pytest.approx(50.25 + radius * (1.0 - 0.5**0.5))
    near = [c for c in places if 0.0 < abs(c.front[0] - start.along) < 6.0 - 1e-9]
    assert near == []


@settings(max_examples=12, deadline=None)
@given(
    along=st.floats(20.0, 90.0),
    back=st.floats(10.5, 14.5),
    carry=st.floats(240.0, 520.0),
    length=st.floats(50.0, 120.0),
)
def test_no_layout_of_any_small_job_is_better(
    along: float, back: float, carry: float, length: float
) -> None:
    job = after(straight(), edits.AddOpening(sink(along=along, back=back)))
    compare(limited(job, carry_lb=carry, piece_length=length), 12.0, 2)


# --- Shortest paths ------------------------------------------------------------------------------


@st.composite
def rows_of_costs(draw: st.DrawFn) -> list[list[int]]:
    """Costs between the places of a short row, some of which cannot be."""
    count = draw(st.integers(2, 7))
    cost = st.one_of(st.just(NEVER), st.integers(0, 9))
    return [[draw(cost) if i < j else NEVER for i in range(count)] for j in range(count)]


@given(rows_of_costs(), st.integers(0, 4), st.data())
def test_the_cheapest_chain_is_the_cheapest_of_all(
    costs: list[list[int]], seams: int, data: st.DataObject
) -> None:
    count = len(costs)
    table = np.array(costs, dtype=np.int64)
    flags = st.lists(st.booleans(), min_size=count * seams, max_size=count * seams)
    drawn = data.draw(st.lists(flags, max_size=2))
    alike = [np.array(own, dtype=bool).reshape(count, seams) for own in drawn]
    unlike = [data.draw(st.integers(1, 3)) for _ in alike]
    others = [Other(own, number) for own, number in zip(alike, unlike, strict=True)]
    known = reach(table < NEVER)
    ways: tuple[tuple[Literal["most", "sum"], Callable[[list[int]], int]], ...] = (
        ("most", max),
        ("sum", sum),
    )
    for how, joined in ways:
        every = []
        for inner in combinations(range(1, count - 1), seams):
            places = (0, *inner, count - 1)
            steps = [costs[j][i] for i, j in pairwise(places)]
            like = any(
                sum(not own[p, k] for k, p in enumerate(inner)) < number
                for own, number in zip(alike, unlike, strict=True)
            )
            if max(steps) < NEVER and not like:
                every.append(joined(steps))
        found = best(table, known, seams, how, others)
        assert (found.cost if found else None) == min(every, default=None)
        if found is not None:
            steps = [costs[j][i] for i, j in pairwise(found.places)]
            assert joined(steps) == found.cost
            assert len(found.places) == seams + 2


# --- What a proposal is -------------------------------------------------------------------------


def test_taking_a_layout_gives_the_pieces_that_were_promised() -> None:
    job = limited(kitchen(), carry_lb=250.0)
    for proposal in seam_proposals(job, "run200").best:
        made = split(job, proposal.seams)
        assert not plan.layout(made).faults
        assert len(plan.pieces(made)) == proposal.score.seams + 1
        assert all(piece.weight_lb <= 250.0 for piece in plan.pieces(made))
        assert f"heaviest piece {ceil(max(p.weight_lb for p in plan.pieces(made)))} lb" in (
            proposal.words
        )


def test_a_layout_takes_the_place_of_the_seams_that_a_top_has() -> None:
    job = after(limited(kitchen(), carry_lb=330.0), edits.AddSeam(seam(50.0)))
    found = seam_proposals(job, "run200").best[0]
    assert found == seam_proposals(after(job, edits.RemoveSeam("seam500")), "run200").best[
        0
    ]._replace(seams=found.seams)
    assert split(job, found.seams).seams == found.seams


def test_seams_go_to_cabinet_sides_where_it_costs_nothing() -> None:
    job = row(wall_of(), ("base", 40.0), ("base", 40.0), ("base", 40.0))
    job = limited(after(job, edits.AddRun(run("wall101"))), carry_lb=240.0)
    found = seam_proposals(job, "run200").best[0]
    assert [s.start for s in found.seams] == [SeamOnLeg("leg201", 40.0), SeamOnLeg("leg201", 80.0)]
    assert found.words == "two seams, both on cabinet sides; heaviest piece 177 lb, lightest 176 lb"


def worded(job: Job, top: str = "run200") -> list[str]:
    return [made.words for made in seam_proposals(job, top).best]


def test_the_words_say_what_is_under_seams_and_what_is_near() -> None:
    job = limited(kitchen(), carry_lb=550.0)
    assert worded(job) == [
        "one seam, with nothing under an end; heaviest piece 225 lb, lightest 222 lb",
        "one seam, on a cabinet side; heaviest piece 288 lb, lightest 159 lb",
        (
            "one seam, on a cabinet side; heaviest piece 341 lb, lightest 106 lb;"
            " 3 from a seam to the sink; one narrow bridge"
        ),
    ]
    metric = worded(replace(job, display="mm"))
    assert metric[2].endswith("lightest 48 kg; 76.2 mm from a seam to the sink; one narrow bridge")


def test_the_words_count_seams_at_sinks_in_corners_and_within_cabinets() -> None:
    room = row(corner_room(), ("base", 60.0), ("base", 60.0))
    room = row(room, ("base", 50.0), ("sink-base", 36.0), ("base", 64.0), wall="wall102")
    job = after(
        room, edits.AddRun(run("wall101", "wall102")), edits.AddOpening(sink("leg202", 68.0))
    )
    said = " / ".join(
        word
        for carry in (200.0, 215.0, 260.0, 340.0, 460.0)
        for word in worded(limited(job, carry_lb=carry))
    )
    for words in (
        "in a corner",
        "within a cabinet",
        "in the middle of the sink",
        "on a cabinet side",
    ):
        assert words in said


def test_a_top_that_can_be_carried_needs_no_seam() -> None:
    found = seam_proposals(limited(straight(40.0)), "run200").best
    assert found[0] == Proposal((), Score(0, 8, 0, 0, 0), "no seam: one piece of 177 lb")
    assert [made.score.seams for made in found] == [0, 1, 2]


def test_layouts_that_sound_alike_say_which_seams_differ() -> None:
    bowed = read_job(sample_path("bowed-and-free"))
    said = worded(bowed, "run13")
    assert said[2] == f"{said[1]}; the seam elsewhere than in layout 2"
    job = straight()
    search = Search(row_of(job, plan.tops(job)[0]))
    score = Score(4, 1, 0, 0, 0)
    first, second, third = (
        Layout((0, *places, 121), score, ())
        for places in ((20, 40, 60, 80), (20, 55, 75, 80), (33, 55, 75, 99))
    )
    assert moved_words(search, second, first) == "seams 2 and 3 from the left"
    assert moved_words(search, third, second) == "seams 1 and 4 from the left"
    assert moved_words(search, third, first) == "four seams"


def test_layouts_of_many_seams_differ_in_more_than_one_of_them() -> None:
    assert [unlike_seams(number) for number in (0, 1, 4, 5, 8, 9, 40)] == [1, 1, 1, 2, 2, 3, 3]
    job = read_job(sample_path("twelve-pieces"))
    top = next(found for found in plan.tops(job) if found.top.id == "run14")
    best = seam_proposals(job, "run14").best
    assert len(best) == MOST
    for one, other in combinations(best, 2):
        assert not is_alike(job, top, one.seams, other.seams)


def test_a_seam_whose_gap_would_cut_into_an_opening_is_not_proposed() -> None:
    job = after(straight(), edits.AddOpening(sink(along=60.5)))
    wide = limited(replace(job, defaults=replace(job.defaults, gap=2.0)), carry_lb=249.0)
    found = seam_proposals(wide, "run200").best
    starts = {s.start.along for made in found for s in made.seams if isinstance(s.start, SeamOnLeg)}
    assert 60.5 in starts
    assert not starts & {45.0, 76.0}
    narrow = seam_proposals(limited(job, carry_lb=249.0), "run200").best
    assert {s.start.along for s in narrow[1].seams if isinstance(s.start, SeamOnLeg)} == {45.0}


def test_a_sink_that_a_seam_would_cut_twice_is_not_split_in_its_middle() -> None:
    corners = ((-9.0, -6.0), (9.0, -6.0), (9.0, 6.0), (-9.0, 6.0), (-9.0, 3.0), (6.0, 3.0))
    notch = (*corners, (6.0, -3.0), (-9.0, -3.0))
    shape = TemplateShape(tuple(TemplateEdge(x, y) for x, y in notch), "bowl.dxf")
    bowl = Opening("opening400", "sink", shape, AlongLeg("leg201", 60.0, 13.0), "sink")
    job = limited(after(straight(), edits.AddOpening(bowl)), carry_lb=320.0)
    found = seam_proposals(job, "run200").best
    assert found
    assert all("middle of the sink" not in made.words for made in found)


def test_an_island_with_round_ends_is_split_across() -> None:
    made = Island("island300", 90.0, 30.0, OnBoard(0.0, 0.0), round_sides=("2", "4"))
    job = limited(after(Job("Test"), edits.AddIsland(made)), carry_lb=300.0)
    found = seam_proposals(job, "island300").best
    assert found[0].seams[0].start == SeamOnIsland("island300", "1", 45.0)
    assert found[0].words == "one seam; heaviest piece 218 lb, lightest 218 lb"


def test_progress_is_told_from_none_found_to_all() -> None:
    told: list[int] = []
    seam_proposals(limited(kitchen(), carry_lb=250.0), "run200", told.append)
    assert told == [0, 1, 2, 3]


def test_a_seam_that_would_leave_a_stub_of_an_edge_is_not_proposed() -> None:
    corner = corner_ref(EdgeRef("leg201", "start"), EdgeRef("leg201", "front"))
    room = row(wall_of(32.0), ("base", 18.0), ("base", 14.0))
    plain = after(room, edits.AddRun(run("wall101")))
    clipped = after(plain, edits.ShapeCorner(corner, ClippedCorner(corner, 17.9)))
    first = [
        seam_proposals(limited(job, carry_lb=carry), "run200").best[0].seams[0].start
        for job, carry in ((plain, 81.0), (clipped, 64.0))
    ]
    assert first == [SeamOnLeg("leg201", 18.0), SeamOnLeg("leg201", 19.0)]


def test_a_piece_between_places_is_none_where_it_cannot_be_made() -> None:
    job = straight(60.0)
    places = row_of(job, plan.tops(job)[0])
    assert places.seams[0].seam.start == SeamOnLeg("leg201", 0.0)
    assert between(places, 1, 30) is None
    made = between(places, 20, 40)
    assert made is not None
    assert made.bridges == 0


# --- Why there is none --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("limits", "kept", "over"),
    [
        (
            {"carry_lb": 30.0},
            "every piece at 30 lb or less",
            "23 lb over what one carry takes",
        ),
        (
            {"doorway": 11.0},
            "every piece low enough for a doorway of 11",
            "1 too high for the doorway",
        ),
        (
            {"piece_length": 20.0},
            "every piece at 20 long or less",
            "5 3/8 over the longest piece",
        ),
        (
            {"sheet_width": 11.0},
            "every base on a sheet of 8' 1 by 11",
            "a base 1 too large for a sheet",
        ),
        (
            {"carry_lb": 30.0, "piece_length": 20.0},
            "the limits of weight, doorway, length and sheet together",
            "23 lb over what one carry takes and 5 3/8 over the longest piece",
        ),
    ],
)
def test_where_no_layout_keeps_a_limit_the_nearest_is_offered_and_by_how_much(
    limits: dict[str, float], kept: str, over: str
) -> None:
    found = seam_proposals(limited(straight(), **limits), "run200")
    assert found.none.startswith(f"No layout of seams keeps {kept}. The nearest: {over}. Change")
    assert found.best[0].words.startswith(f"{over}; ")
    assert split(straight(), found.best[0].seams).seams == found.best[0].seams


@settings(max_examples=12, deadline=None)
@given(carry=st.floats(30.0, 50.0), doorway=st.floats(10.0, 30.0), length=st.floats(10.0, 24.0))
def test_no_layout_is_over_the_limits_by_less_than_the_nearest(
    carry: float, doorway: float, length: float
) -> None:
    job = straight(44.0)
    found = next(t for t in plan.tops(job) if t.top.id == "run200")
    tight = limited(job, carry_lb=carry, doorway=doorway, piece_length=length)

    def shares(seams: tuple[Seam, ...]) -> list[float]:
        made = split(job, seams)
        faces = [piece.face for piece in plan.pieces(made)]
        most = [0.0, 0.0, 0.0]
        for face in faces:
            x0, y0, x1, y1 = bounding_box(face.raw)
            pounds = ceil(round(area(face.raw) * job.thickness / 1728.0 * job.density_pcf, 6))
            sizes = (pounds, min(x1 - x0, y1 - y0), max(x1 - x0, y1 - y0))
            over = [
                size / limit - 1.0
                for size, limit in zip(sizes, (carry, doorway, length), strict=True)
            ]
            most = [max(pair) for pair in zip(most, over, strict=True)]
        return most

    every = [
        shares(tuple(replace(c.seam, id=f"seam{900 + k}") for k, c in enumerate(chosen)))
        for number in range(4)
        for chosen in combinations(thinned(4.0)(job, found), number)
        if kept_apart(found, chosen)
    ]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("shop.seam_row.candidates", thinned(4.0))
        proposed = seam_proposals(tight, "run200")
    over_one = [most for most in every if sum(share > 1e-9 for share in most) <= 1]
    least = min(max(most) for most in over_one or every)
    own = shares(proposed.best[0].seams)
    if least <= 1e-9:
        assert proposed.none == ""
        assert max(own) <= 1e-9
    else:
        assert "The nearest" in proposed.none
        assert max(own) == pytest.approx(least, abs=1e-6)


def test_a_top_that_no_seam_can_split_whatever_the_limits_says_so() -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("shop.seam_layouts.between", lambda *_: None)
        found = seam_proposals(limited(straight()), "run200")
    assert found == Proposals("run200", (), "No seam can be made in this top: look at its shape.")


def test_a_corner_that_a_seam_leaves_too_tight_is_rounded_in_the_same_step() -> None:
    job = read_job(sample_path("peninsula-and-ledge"))
    for made in seam_proposals(job, "run15").best:
        done = reduce(applied, layout_edits(job, "run15", made), job)
        assert not any(finding.blocking for finding in without_steel(done))
        rounder = done.corner_shapes != job.corner_shapes
        assert rounder == ("rounds the corner to 1 as well" in made.words)
    assert seam_proposals(job, "run15").best[0].also
    # What cannot be built in another top is no matter.
    far = Island("island900", 30.0, 30.0, OnBoard(-300.0, 300.0))
    tight = Opening(
        "opening901", "sink", RectangleShape(40.0, 12.0), InIsland("island900", 0.0, 0.0)
    )
    job = after(job, edits.AddIsland(far), edits.AddOpening(tight))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("shop.remedies.ROOMY_RADII_IN", ())
        first = seam_proposals(job, "run15").best[0]
    assert first.words.endswith("leaves the corner square as well, for its sidewalls")
    done = reduce(applied, layout_edits(job, "run15", first), job)
    blocked = [finding.about[0].id for finding in without_steel(done) if finding.blocking]
    assert blocked == ["opening901"]


def test_a_layout_taken_after_one_that_rounded_a_corner_puts_it_back() -> None:
    job = read_job(sample_path("peninsula-and-ledge"))
    best = seam_proposals(job, "run15").best
    alone = [reduce(applied, layout_edits(job, "run15", made), job) for made in best]
    assert len({done.corner_shapes for done in alone}) > 1
    for first in alone:
        for made, own in zip(best, alone, strict=True):
            then = reduce(applied, layout_edits(first, "run15", made), first)
            assert set(then.corner_shapes) == set(own.corner_shapes)


def test_what_cannot_be_built_and_has_no_remedy_is_said() -> None:
    job = read_job(sample_path("peninsula-and-ledge"))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("shop.seam_proposals.remedies", lambda *_: ())
        first = seam_proposals(job, "run15").best[0]
    assert first.also == ()
    assert "then to look at: Mold" in first.words


def test_a_base_with_a_lip_needs_a_larger_sheet() -> None:
    job = limited(straight(), carry_lb=600.0, sheet_width=17.0)
    assert seam_proposals(job, "run200").best
    on_base = replace(job, molds=replace(job.molds, construction="sides-on-base"))
    assert "sheet" in seam_proposals(on_base, "run200").none


def test_a_top_that_cannot_be_made_is_not_split() -> None:
    assert "cannot be made" in seam_proposals(straight(), "run999").none


def test_the_seams_of_frozen_pieces_stay() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)))
    one = after(job, edits.MarkPiece("A", "cut"))
    assert seam_proposals(one, "run200") == Proposals(
        "run200", (), "Piece A of this top is cut already, so its seams stay where they are."
    )
    both = after(one, edits.MarkPiece("B", "cut"))
    assert seam_proposals(both, "run200").none.startswith("Pieces A and B of this top are cut")


def test_an_opening_that_cannot_be_cut_comes_first() -> None:
    job = after(straight(), edits.AddOpening(sink(along=5.0)))
    assert seam_proposals(job, "run200").none == (
        "The sink cannot be cut there: move it first, then ask again."
    )


# --- The sample of twelve pieces ----------------------------------------------------------------


def test_layouts_of_the_twelve_piece_sample_keep_every_limit() -> None:
    job = read_job(sample_path("twelve-pieces"))
    for top in ("run14", "island35"):
        for proposal in seam_proposals(job, top).best:
            made = split(job, proposal.seams, top)
            assert not plan.layout(made).faults
            own = [piece for piece in plan.pieces(made) if piece.top == top]
            assert len(own) == len(proposal.seams) + 1
            assert all(piece.weight_lb <= 200.0 for piece in own)
            bridges = sum(len(plan.weak_bridges(made, piece)) for piece in own)
            assert bridges == proposal.score.bridges
    said = [made.words for made in seam_proposals(job, "run14").best]
    assert len(set(said)) == MOST
    assert said[0].startswith("15 seams")


def test_seams_are_proposed_across_a_bowed_front_and_across_a_free_shape() -> None:
    job = straight()
    leg = job.runs[0].legs[0]
    straight_on = candidates(job, plan.tops(job)[0])
    job = after(job, edits.SetLeg(replace(leg, rise=4.0)))
    bowed = candidates(job, plan.tops(job)[0])
    assert [c.seam.start for c in bowed] == [c.seam.start for c in straight_on]
    assert max(c.front[1] for c in bowed) <= max(c.front[1] for c in straight_on)
    island = free_shapes.drawn(
        "island300", [(0.0, 0.0), (90.0, 0.0), (70.0, 40.0), (0.0, 40.0)], [0.0] * 4
    )
    job = after(Job("Test"), edits.AddIsland(island))
    found = candidates(job, plan.tops(job)[0])
    sides = {c.seam.start.side for c in found if isinstance(c.seam.start, SeamOnIsland)}
    assert sides == {"1"}
    assert len(found) > 60
