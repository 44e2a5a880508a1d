"""Islands lined up by their sides and middles, and spread out."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.counters import FromWalls, Island, OnBoard
from geometry.frames import IslandFrame, island_middle
from geometry.naming import EdgeRef, Id
from geometry.openings import InIsland
from geometry.picking import Subject
from geometry.points import Point, distance
from shop import edits
from shop.aligning import AligningError, one_behind_another
from shop.aligning_islands import islands_spread_out, middles_lined_up, sides_lined_up
from shop.anchors import place_by
from shop.job import Cabinet, Job
from shop.plan import tops
from shop.spreading_cabinets import cabinets_spread_out
from tests.shop.kitchens import after, angle, hole, straight, walls
from tests.shop.test_aligning import holed, hooked, ids


def side(owner: Id, name: str = "1") -> Subject:
    return Subject("edge", owner, EdgeRef(owner, name))


def islands(*places: Point, angle_deg: float = 0.0) -> list[edits.AddIsland]:
    return [
        edits.AddIsland(Island(f"island{300 + i}", 40.0, 20.0 + i, OnBoard(*at), angle_deg))
        for i, at in enumerate(places)
    ]


def corner(job: Job, island: Id) -> Point:
    at = next(one.at for one in job.islands if one.id == island)
    assert isinstance(at, OnBoard)
    return at.x, at.y


def middle(job: Job, island: Id) -> Point:
    frames = (f for top in tops(job) for f in top.top.frames if isinstance(f, IslandFrame))
    return next(island_middle(f) for f in frames if f.island == island)


def test_sides_of_islands_come_in_line_with_the_first_one() -> None:
    job = after(Job("Test"), *islands((0.0, 0.0), (60.0, 7.0), (120.0, -9.0)))
    made = sides_lined_up(job, (side("island300"), side("island301"), side("island302", "3")))
    done = after(job, *made)
    assert corner(done, "island300") == (0.0, 0.0)
    assert corner(done, "island301") == pytest.approx((60.0, 0.0))
    assert corner(done, "island302") == pytest.approx((120.0, -22.0))
    assert sides_lined_up(done, (side("island300"), side("island301"))) == ()


def test_an_island_chosen_by_a_piece_is_taken_by_its_first_side() -> None:
    job = after(Job("Test"), *islands((0.0, 0.0), (60.0, 7.0)))
    done = after(job, *sides_lined_up(job, (Subject("piece", "A"), Subject("piece", "B"))))
    assert corner(done, "island301") == pytest.approx((60.0, 0.0))


def test_a_side_comes_in_line_with_the_front_or_the_end_of_a_run_or_with_a_wall() -> None:
    job = after(straight(), *islands((30.0, -80.0)))
    down = {"front": -25.5, "back": -0.125}
    for name, y in down.items():
        done = after(job, *sides_lined_up(job, (side("leg201", name), side("island300"))))
        assert corner(done, "island300") == pytest.approx((30.0, y))
    done = after(job, *sides_lined_up(job, (side("leg201", "end"), side("island300", "2"))))
    assert corner(done, "island300") == pytest.approx((80.0, -80.0))
    done = after(job, *sides_lined_up(job, (Subject("wall", "wall101"), side("island300", "3"))))
    assert corner(done, "island300") == pytest.approx((30.0, -20.0))


def test_an_island_measured_from_walls_stays_so() -> None:
    at = FromWalls("wall101", 50.0, "wall102", 60.0)
    job = after(angle(), edits.AddIsland(Island("island300", 40.0, 20.0, at)))
    job = after(job, edits.AddIsland(OTHER))
    done = after(job, *sides_lined_up(job, (side("island301"), side("island300"))))
    assert done.islands[0].at == FromWalls("wall101", 50.0, "wall102", 90.0)


OTHER = Island("island301", 30.0, 20.0, OnBoard(100.0, -90.0))


def test_islands_come_before_the_middle_of_the_first_edge() -> None:
    job = after(straight(), *islands((30.0, -80.0), (10.0, -120.0)))
    chosen = (side("leg201", "front"), side("island300", "2"), side("island301"))
    done = after(job, *middles_lined_up(job, chosen))
    assert corner(done, "island300") == pytest.approx((40.0, -80.0))
    assert corner(done, "island301") == pytest.approx((40.0, -120.0))


@given(st.lists(st.integers(0, 400), min_size=3, max_size=6, unique=True), st.floats(-0.5, 0.5))
def test_spaces_from_middle_to_middle_are_equal(xs: list[int], slope: float) -> None:
    places = [(float(x), slope * x) for x in xs]
    job = after(Job("Test"), *(edits.AddIsland(_same(i, at)) for i, at in enumerate(places)))
    chosen = [side(island.id) for island in job.islands]
    done = job
    for edit in islands_spread_out(job, chosen):
        done = after(done, edit)
    middles = sorted(middle(done, island.id) for island in done.islands)
    spaces = [distance(a, b) for a, b in pairwise(middles)]
    assert max(spaces) - min(spaces) < 1e-6
    assert middles[0] == pytest.approx(min(middle(job, i.id) for i in job.islands))
    assert middles[-1] == pytest.approx(max(middle(job, i.id) for i in job.islands))


def _same(number: int, at: Point) -> Island:
    return Island(f"island{300 + number}", 30.0, 20.0, OnBoard(*at))


def test_what_cannot_be_lined_up_says_why() -> None:
    job = after(straight(), *islands((30.0, -80.0), (30.0, -80.0), (30.0, -80.0)))
    only = (side("island300"),)
    for chosen in ((), only, (*only, *only), (*only, side("leg201", "front")), (*only, side("x"))):
        with pytest.raises(AligningError, match="Choose an edge or a wall first"):
            sides_lined_up(job, chosen)
    with pytest.raises(AligningError, match="first, then with Shift"):
        middles_lined_up(job, (Subject("piece", "A"), *only))
    gone = Job("Test", islands=(Island("island300", 1e-8, 1e-8, OnBoard(0.0, 0.0)),))
    with pytest.raises(AligningError, match="Choose an edge or a wall first"):
        sides_lined_up(gone, (*only, *only))
    with pytest.raises(AligningError, match="within 5°"):
        sides_lined_up(job, (side("leg201", "front"), side("island300", "2")))
    with pytest.raises(AligningError, match="three islands or more"):
        islands_spread_out(job, (*only, side("island301")))
    same = after(Job("Test"), *(edits.AddIsland(_same(i, (0.0, 0.0))) for i in range(3)))
    with pytest.raises(AligningError, match="lie on one another"):
        islands_spread_out(same, [side(island.id) for island in same.islands])
    none = Job("Test", room=walls((0.0, 0.0), (1e-9, 0.0)).room, islands=job.islands)
    with pytest.raises(AligningError, match="Choose an edge or a wall first"):
        sides_lined_up(none, (Subject("wall", "wall101"), *only))
    free = (side("island300", "9"), side("island301"))
    with pytest.raises(AligningError, match="Choose an edge or a wall first"):
        sides_lined_up(job, free)


def test_openings_come_one_behind_the_other() -> None:
    job = holed(straight(), hooked(60.0, 0, 6.0), hooked(30.0, 1, 12.0), hooked(90.0, 2, 18.0))
    done = after(job, *one_behind_another(job, ids(3)))
    places = [place_by(done, one) for one in ids(3)]
    assert places == [hooked(60.0, 0, 6.0), hooked(60.0, 1, 12.0), hooked(60.0, 2, 18.0)]
    with pytest.raises(AligningError, match="two openings or more"):
        one_behind_another(job, ids(1))
    own = after(Job("Test"), *islands((0.0, 0.0)))
    own = after(own, edits.AddOpening(hole(10.0, 6.0)))
    other = hole(30.0, 14.0)
    own = after(own, edits.AddOpening(type(other)("opening403", "x", other.shape, other.at)))
    done = after(own, *one_behind_another(own, ["opening402", "opening403"]))
    assert done.openings[1].at == InIsland("island300", 10.0, 14.0)


def row(*lefts: float, wall: Id = "wall101") -> list[edits.AddCabinet]:
    return [
        edits.AddCabinet(
            Cabinet(
                f"cabinet{600 + i}",
                wall,
                "base",
                left if i % 2 == 0 else 120.0 - left - 12.0,
                12.0,
                hook="left" if i % 2 == 0 else "right",
            )
        )
        for i, left in enumerate(lefts)
    ]


CHOSEN = ("cabinet600", "cabinet601", "cabinet602", "cabinet603")


def test_cabinets_are_spread_out_with_equal_spaces() -> None:
    job = after(straight(), *row(0.0, 13.0, 90.0, 30.0))
    done = after(job, *cabinets_spread_out(job, CHOSEN))
    assert [one.along for one in done.cabinets] == [0.0, 78.0, 90.0, 48.0]
    assert cabinets_spread_out(done, CHOSEN) == ()


def test_cabinets_that_cannot_be_spread_out_say_why() -> None:
    job = after(straight(), *row(0.0, 13.0, 30.0, 18.0))
    with pytest.raises(AligningError, match="three cabinets or more"):
        cabinets_spread_out(job, CHOSEN[:2])
    with pytest.raises(AligningError, match="no room for them"):
        cabinets_spread_out(job, CHOSEN)
    others = Cabinet("cabinet650", "wall102", "base", 30.0, 12.0)
    both = after(angle(), *row(0.0, 13.0, 60.0), edits.AddCabinet(others))
    with pytest.raises(AligningError, match="not along one wall"):
        cabinets_spread_out(both, (*CHOSEN[:3], "cabinet650"))
