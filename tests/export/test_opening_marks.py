"""What is drawn of openings: the bowl's own rim, and how far a hole lies from its sink."""

import pytest
from msgspec.structs import replace

from export.drawings import face_down_groups, face_up_groups, without_dimensions
from export.marks import Dimension, Group, Line
from geometry.edges import Edge, length
from geometry.openings import AlongLeg, ApronShape, BesideOpening, Opening
from geometry.outline import bounding_box
from geometry.picking import Subject
from shop import edits
from shop.job import Job
from shop.plan import pieces
from tests.shop.kitchens import after, faucet, hole, island, seam, sink, straight

SINK = Subject("opening", "opening400")


def tapped(aside: float = 0.0, behind: float = 2.5) -> Job:
    low = replace(sink(), at=AlongLeg("leg201", 60.0, 12.5))
    tap = replace(faucet(), at=BesideOpening("opening400", aside, behind))
    return after(straight(), edits.AddOpening(low), edits.AddOpening(tap))


def dimensions(job: Job) -> list[tuple[str, str]]:
    groups = [group for group in face_up_groups(job) if group.key.startswith("hole ")]
    marks = [mark for group in groups for mark in group.marks if isinstance(mark, Dimension)]
    return [(mark.text, mark.asks) for mark in marks]


def rims(groups: tuple[Group, ...]) -> list[Line]:
    marks = [mark for group in groups for mark in group.marks]
    return [m for m in marks if isinstance(m, Line) and m.role == "ghost" and m.subject == SINK]


def test_a_hole_is_dimensioned_from_the_rim_to_the_back_and_from_the_middle() -> None:
    assert dimensions(tapped()) == [("2 1/2", "behind"), ("2 3/8", "")]
    assert dimensions(tapped(4.0)) == [("2 1/2", "behind"), ("2 3/8", ""), ("4", "aside")]
    # A length that is typed over is never less than nothing.
    assert dimensions(tapped(-4.0))[-1] == ("4", "")
    assert dimensions(tapped(0.0, 0.0)) == [("4 7/8", "")]


def test_its_dimensions_stay_where_nothing_changes_and_go_with_the_rooms() -> None:
    job = tapped()
    group = next(g for g in face_up_groups(job) if g.key == "hole opening401")
    other = after(job, edits.SetJobName("Another"))
    assert next(g for g in face_up_groups(other) if g.key == "hole opening401") is group
    assert without_dimensions(group).marks == ()


def test_on_an_island_there_is_no_length_to_the_back() -> None:
    tap = replace(faucet(), at=BesideOpening("opening402", 0.0, 2.0))
    job = after(island(), edits.AddOpening(hole()), edits.AddOpening(tap))
    assert dimensions(job) == [("2", "behind")]


def test_one_whose_sink_cannot_be_made_has_none() -> None:
    job = tapped()
    gone = replace(
        job, openings=(job.openings[1], replace(sink(), shape=sink().shape, reveal=-6.0))
    )
    assert dimensions(gone) == []


def test_the_rim_of_a_bowl_is_drawn_dashed_on_both_sides_of_the_fold() -> None:
    flush = after(straight(), edits.AddOpening(sink()))
    assert rims(face_up_groups(flush)) == []
    shown = after(flush, edits.SetOpening(replace(sink(), reveal=0.25)))
    up, down = rims(face_up_groups(shown)), rims(face_down_groups(shown))
    assert len(up) == len(down) == 8
    xs = [x for line in up for x, _ in line.points]
    assert max(xs) - min(xs) == pytest.approx(30.0)
    assert [x for line in down for x, _ in line.points] == pytest.approx([-x for x in xs])


def test_the_rim_of_an_open_cut_and_of_one_that_a_seam_crosses_is_drawn_too() -> None:
    cut = Opening(
        "opening400",
        "sink",
        ApronShape(30.0, 19.0, 1.0),
        AlongLeg("leg201", 60.0, 0.0),
        "sink",
        0.5,
    )
    job = after(straight(), edits.AddOpening(cut))
    assert len(rims(face_up_groups(job))) == 5
    parted = after(job, edits.AddSeam(seam(60.0)))
    # The back of the rim is parted, and one half is drawn by each piece.
    assert len(rims(face_up_groups(parted))) == 6


@pytest.mark.parametrize("reveal", [0.25, -0.25])
@pytest.mark.parametrize("along", [50.0, 60.0, 74.5])
def test_each_piece_draws_its_own_part_of_a_rim_that_a_seam_crosses(
    reveal: float, along: float
) -> None:
    bowl = replace(sink(), reveal=reveal)
    job = after(straight(), edits.AddOpening(bowl))
    whole = sum(length(edge) for edge in rim_edges(face_up_groups(job)))
    parted = after(job, edits.AddSeam(seam(along)))
    assert len(pieces(parted)) == 2
    gap = parted.seams[0].gap
    for groups, sign in ((face_up_groups(parted), 1.0), (face_down_groups(parted), -1.0)):
        drawn = 0.0
        for piece in pieces(parted):
            own = tuple(group for group in groups if group.key == f"piece {piece.name}")
            edges_of = rim_edges(own)
            drawn += sum(map(length, edges_of))
            ends = [x * sign for edge in edges_of for x, _ in (edge.start, edge.end)]
            x0, _, x1, _ = bounding_box(piece.face.base_outline)
            assert x0 - 1e-6 <= min(ends) <= max(ends) <= x1 + 1e-6
        # The gap takes twice its width, or more of an arc.
        assert 2.0 * gap - 1e-6 <= whole - drawn <= 4.0 * gap


def rim_edges(groups: tuple[Group, ...]) -> list[Edge]:
    return [Edge(m.points[0], m.points[1], m.bulges[0]) for m in rims(groups)]
