import pytest
from msgspec.structs import replace

from geometry.counters import FromWalls, Island, RoundCorner
from geometry.naming import EdgeRef, corner_ref
from geometry.picking import Subject, SubjectKind
from geometry.points import Point
from shop import edits
from shop.job import Baseline, Job, Mark, Pin
from shop.places import place_of
from shop.readings import (
    AngleReading,
    DiagonalReading,
    StationReading,
    StraightedgeReading,
    TieReading,
    WallReading,
)
from shop.survey import room
from tests.shop.cabinetry import row, wall_of
from tests.shop.kitchens import (
    after,
    angle,
    corner_seam,
    hole,
    island,
    island_seam,
    seam,
    sink,
    straight,
)

FRONT, END = EdgeRef("leg202", "front"), EdgeRef("leg202", "end")
CORNER = corner_ref(FRONT, END)

KITCHEN = after(
    angle(),
    edits.AddReading(WallReading("reading601", "wall102", 150.0)),
    edits.AddReading(DiagonalReading("reading602", "corner1", "corner3", 192.0937)),
    edits.AddReading(AngleReading("reading603", "corner2", 90.0)),
    edits.AddOpening(sink("leg202", 90.0)),
    edits.AddSeam(seam(60.0, leg="leg202")),
    edits.ShapeCorner(CORNER, RoundCorner(CORNER, 2.0)),
)
FLAT = after(
    KITCHEN,
    *(
        edits.SetLeg(replace(leg, depth_left=0.1, depth_right=0.1, overhang=0.0))
        for leg in KITCHEN.runs[0].legs
    ),
)


@pytest.mark.parametrize(
    ("kind", "of", "place"),
    [
        ("corner", "corner3", (150.0, 0.0)),
        ("wall", "wall102", (75.0, 0.0)),
        ("reading", "reading601", (75.0, 0.0)),
        ("reading", "reading602", (75.0, -60.0)),
        ("reading", "reading603", (0.0, 0.0)),
        ("leg", "leg202", (87.75, -12.8125)),
        ("run", "run200", (87.75, -12.8125)),
        ("opening", "opening400", (90.0, -12.5)),
        ("seam", "seam500", (60.0, -0.125)),
    ],
)
def test_things_are_where_they_lie(kind: SubjectKind, of: str, place: Point) -> None:
    assert place_of(KITCHEN, Subject(kind, of)) == pytest.approx(place, abs=1e-3)


def test_a_note_is_where_it_is_pinned() -> None:
    job = after(KITCHEN, edits.AddPin(Pin("pin700", "vent", 40.0, -50.0)))
    assert place_of(job, Subject("pin", "pin700")) == (40.0, -50.0)
    moved = after(job, edits.SetPin(Pin("pin700", "vent", 41.0, -50.0)))
    assert place_of(moved, Subject("pin", "pin700")) == (41.0, -50.0)
    assert after(moved, edits.RemovePin("pin700")).pins == ()


def test_a_tie_is_at_its_mark() -> None:
    job = after(
        KITCHEN,
        edits.AddMark(Mark("mark700", "window", 40.0, -50.0)),
        edits.AddReading(TieReading("reading701", "mark700", "corner2", 64.0)),
    )
    (mark,) = room(job).marks
    assert place_of(job, Subject("reading", "reading701")) == mark.point


def test_a_gap_is_at_its_place_along_the_wall() -> None:
    job = after(KITCHEN, edits.AddReading(StraightedgeReading("reading701", "wall102", 40.0, 0.25)))
    assert place_of(job, Subject("reading", "reading701")) == pytest.approx((40.0, 0.0), abs=1e-3)


def test_an_offset_is_at_its_baselines_wall() -> None:
    job = after(
        KITCHEN,
        edits.AddBaseline(Baseline("baseline700", "string", "wall102")),
        edits.AddReading(StationReading("reading701", "baseline700", 10.0, 30.0)),
    )
    assert place_of(job, Subject("reading", "reading701")) == pytest.approx((75.0, 0.0), abs=1e-3)


@pytest.mark.parametrize(
    ("kind", "of"),
    [("leg", "leg202"), ("run", "run200"), ("opening", "opening400"), ("seam", "seam500")],
)
def test_what_cannot_be_made_is_at_its_wall(kind: SubjectKind, of: str) -> None:
    assert place_of(FLAT, Subject(kind, of)) == pytest.approx((75.0, 0.0), abs=1e-3)
    assert place_of(FLAT, Subject("edge", "leg202", FRONT)) == pytest.approx((75.0, 0.0), abs=1e-3)


def test_what_is_not_there_is_nowhere() -> None:
    kinds: tuple[SubjectKind, ...] = (
        "corner",
        "wall",
        "reading",
        "run",
        "leg",
        "island",
        "opening",
        "seam",
        "piece",
        "edge",
    )
    assert [place_of(Job("Test"), Subject(kind, "thing9")) for kind in kinds] == [None] * 10
    assert place_of(Job("Test"), Subject("edge", "leg9", EdgeRef("leg9", "front"))) is None


def test_a_piece_is_at_its_center() -> None:
    assert place_of(straight(), Subject("piece", "A")) == pytest.approx((60.0, -12.8125))


def test_edges_and_corners_are_where_they_lie_or_would_lie() -> None:
    assert place_of(straight(), Subject("edge", "leg201", EdgeRef("leg201", "back"))) == (
        pytest.approx((60.0, -0.125))
    )
    shaped = place_of(KITCHEN, Subject("edge", "leg202", CORNER))
    assert shaped == pytest.approx((150.0, -25.5), abs=1.0)
    square = after(KITCHEN, edits.ShapeCorner(CORNER, None))
    assert place_of(square, Subject("edge", "leg202", CORNER)) == pytest.approx(
        (150.0, -25.5), abs=1e-3
    )
    side = EdgeRef("seam500", "left")
    assert place_of(KITCHEN, Subject("edge", "seam500", side)) == pytest.approx(
        (59.97, -12.81), abs=0.01
    )


def test_things_of_an_island_are_on_it() -> None:
    job = after(island(), edits.AddOpening(hole()), edits.AddSeam(island_seam(40.0)))
    assert place_of(job, Subject("island", "island300")) == pytest.approx((36.0, 18.0))
    assert place_of(job, Subject("opening", "opening402")) == pytest.approx((20.0, 18.0))
    assert place_of(job, Subject("seam", "seam500")) == pytest.approx((40.0, 0.0))
    bad = after(job, edits.SetIsland(replace(job.islands[0], round_sides=("1", "2"))))
    for kind, of in (("island", "island300"), ("opening", "opening402"), ("seam", "seam500")):
        assert place_of(bad, Subject(kind, of)) == (0.0, 0.0)  # type: ignore[arg-type]


def test_an_island_that_cannot_be_placed_is_at_its_wall() -> None:
    at = FromWalls("wall101", 10.0, "wall101", 20.0)
    job = after(angle(), edits.AddIsland(Island("island300", 40.0, 30.0, at)))
    assert place_of(job, Subject("island", "island300")) == (0.0, -60.0)


def test_openings_and_seams_that_cannot_be_made_are_where_they_were_put() -> None:
    job = after(
        straight(),
        edits.AddOpening(replace(sink(), shape=replace(sink().shape, radius=20.0))),
        edits.AddSeam(seam(130.0)),
    )
    assert place_of(job, Subject("opening", "opening400")) == pytest.approx((60.0, -12.5))
    assert place_of(job, Subject("seam", "seam500")) == pytest.approx((130.0, -0.125))
    lost = after(angle(), edits.AddSeam(corner_seam()), edits.AddSeam(corner_seam(number=501)))
    assert place_of(lost, Subject("seam", "seam501")) == pytest.approx((25.5, -25.5), abs=0.2)
    far = after(island(), edits.AddSeam(island_seam(90.0)))
    assert place_of(far, Subject("seam", "seam500")) == pytest.approx((36.0, 18.0))


def test_a_cabinet_is_at_the_middle_of_its_box() -> None:
    job = row(wall_of(), ("base", 36.0), ("range", 30.0))
    assert place_of(job, Subject("cabinet", "cabinet602")) == (51.0, -12.0)
    assert place_of(job, Subject("cabinet", "cabinet1")) is None
