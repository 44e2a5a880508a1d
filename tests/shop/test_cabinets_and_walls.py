import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.points import Point, distance
from shop import edits
from shop.applying import applied
from shop.cabinets import cabinet_plans
from shop.describing import described
from shop.job import Corner, Job, Wall
from shop.references import neighbor_wall
from tests.shop.cabinetry import cabinet, corner_room, row, wall_of, with_cabinets
from tests.shop.kitchens import after, walls

HALF = edits.SplitWall("wall101", Corner("corner9", 9, 60.0, 0.0), "wall109")


def boxes(job: Job) -> dict[str, tuple[Point, ...]]:
    return {p.cabinet.id: p.corners for p in cabinet_plans(job)}


def places(job: Job) -> list[tuple[str, float, str]]:
    return [(c.wall, c.along, c.hook) for c in job.cabinets]


def same_places(one: Job, other: Job) -> None:
    a, b = boxes(one), boxes(other)
    assert a.keys() == b.keys()
    for name, corners in a.items():
        for p, q in zip(corners, b[name], strict=True):
            assert distance(p, q) == pytest.approx(0.0, abs=1e-5)


def test_cabinets_of_a_wall_that_is_parted_go_along_its_parts() -> None:
    job = row(wall_of(), ("base", 36.0), ("range", 30.0), ("base", 24.0))
    job = with_cabinets(job, replace(cabinet(1, along=0.0, width=20.0), hook="right"))
    parted = after(job, HALF)
    assert [c.wall for c in parted.cabinets] == ["wall101", "wall101", "wall109", "wall109"]
    same_places(job, parted)


def test_cabinets_of_walls_that_are_joined_go_along_the_one_that_is_left() -> None:
    job = row(wall_of(), ("base", 36.0), ("range", 30.0), ("base", 24.0))
    joined = after(after(job, HALF), edits.RemoveCorner("corner9"))
    same_places(job, joined)
    assert {c.wall for c in joined.cabinets} == {"wall101"}


def test_cabinets_of_a_wall_that_goes_go_with_it_and_undo_says_so() -> None:
    job = row(row(corner_room(), ("base", 36.0), ("base", 24.0)), ("range", 30.0), wall="wall102")
    edit = edits.RemoveWall("wall101")
    gone = after(job, edit)
    assert [c.wall for c in gone.cabinets] == ["wall102"]
    assert described(job, edit, gone) == "remove wall 1 to 2 and 2 cabinets"


def test_cabinets_go_with_the_last_wall_at_a_corner() -> None:
    job = row(wall_of(), ("base", 36.0))
    assert len(after(job, edits.RemoveCorner("corner2")).cabinets) == 0


def test_other_walls_keep_their_cabinets_as_they_are() -> None:
    job = row(corner_room(), ("base", 36.0), wall="wall102", start=30.0)
    split = edits.SplitWall("wall101", Corner("corner9", 9, 0.0, -60.0), "wall109")
    assert after(job, split).cabinets == job.cabinets


def test_seen_from_the_other_side_a_cabinet_hooks_at_the_same_corner() -> None:
    job = row(corner_room(), ("base", 36.0), start=20.0)
    turned = after(job, edits.TurnWalls("wall102"))
    assert places(turned) == [("wall101", 20.0, "right")]
    same_places(job, after(turned, edits.TurnWalls("wall101")))
    alone = after(job, edits.AddWalls((_far(1), _far(2)), (_apart(),)))
    assert places(after(alone, edits.TurnWalls("wall900"))) == places(job)


def _far(number: int) -> Corner:
    return Corner(f"corner90{number}", 90 + number, 500.0, 100.0 * number)


def _apart() -> Wall:
    return Wall("wall900", "corner901", "corner902")


@given(
    st.lists(st.tuples(st.floats(0.0, 90.0), st.floats(1.0, 30.0), st.booleans()), max_size=4),
    st.floats(5.0, 115.0),
)
def test_parted_and_joined_again_every_cabinet_is_where_it_was(
    stood: list[tuple[float, float, bool]], corner: float
) -> None:
    job = walls((0.0, -80.0), (0.0, 0.0), (120.0, 0.0))
    for number, (at, width, right) in enumerate(stood):
        made = replace(cabinet(1 + number, along=at, width=width, wall="wall102"))
        job = with_cabinets(job, replace(made, hook="right" if right else "left"))
    split = edits.SplitWall("wall102", Corner("corner9", 9, corner, 0.0), "wall109")
    parted = applied(job, split)
    same_places(job, parted)
    assert neighbor_wall(parted.room.walls, "wall102", "right") == "wall109"
    same_places(job, applied(parted, edits.RemoveCorner("corner9")))
