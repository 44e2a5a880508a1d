import math

import pytest
from msgspec.structs import replace

from export.cabinet_marks import cabinets_below, cabinets_through, pony_walls
from export.drawings import face_up, up_box
from export.laying_out import laid_out
from export.marks import Line, Words
from geometry.alongside import Ledge
from geometry.picking import Subject
from shop.cabinets import USE_WORDS, Use
from shop.job import Job
from tests.export.jobs import sample
from tests.shop.cabinetry import cabinet, row, wall_of, with_cabinets


def doored(use: Use, doors: int, thick: float = 0.75, width: float = 36.0) -> Job:
    made = replace(cabinet(1, use, width=width), doors=doors, door_thickness=thick)
    return with_cabinets(wall_of(), made)


def lines(job: Job) -> list[Line]:
    (group,) = cabinets_below(job)
    assert all(mark.subject == Subject("cabinet", "cabinet1") for mark in group.marks)
    return [mark for mark in group.marks if isinstance(mark, Line)]


def test_a_cabinet_is_drawn_by_its_sides_and_face_and_its_doors_before_it() -> None:
    box, *doors = lines(doored("base", 2))
    assert box.points == ((0.0, 0.0), (0.0, -24.0), (36.0, -24.0), (36.0, 0.0))
    spans = [x for door in doors for x, _ in door.points]
    assert spans == pytest.approx([0.125, 17.875, 18.125, 35.875])
    assert {y for door in doors for _, y in door.points} == {-24.75}


def test_many_doors_on_little_width_do_not_turn_round() -> None:
    _, *doors = lines(doored("base", 6, width=0.5))
    assert all(a[0] < b[0] for a, b in (door.points for door in doors))


@pytest.mark.parametrize("job", [doored("base", 0), doored("base", 2, 0.0)])
def test_without_doors_that_stand_out_there_is_no_line_for_them(job: Job) -> None:
    assert len(lines(job)) == 1


def test_a_post_is_drawn_all_round() -> None:
    (box,) = lines(doored("post", 0, width=3.0))
    assert box.points[0] == box.points[-1]


def test_an_open_place_is_dotted_where_cabinets_have_full_lines() -> None:
    assert {mark.role for mark in lines(doored("knee-space", 0))} == {"ghost"}
    assert {mark.role for mark in lines(doored("dishwasher", 1))} == {"cabinet"}


@pytest.mark.parametrize("use", list(USE_WORDS))
def test_cabinets_show_through_tops_with_their_names_or_without(use: Use) -> None:
    job = doored(use, 0)
    (named,) = cabinets_through(job, words=True)
    (thin,) = cabinets_through(job, words=False)
    assert {mark.role for mark in thin.marks} == {"ghost"}
    (words,) = [mark for mark in named.marks if isinstance(mark, Words)]
    assert words.text.endswith(USE_WORDS[use])
    assert named.marks[:-1] == thin.marks


def test_names_stand_inside_their_cabinets_or_not_at_all() -> None:
    job = row(wall_of(), ("base", 36.0), ("dishwasher", 12.0), ("end-panel", 0.75), ("range", 30.0))
    texts = {mark.text for mark in laid_out(face_up(job), 0.1) if isinstance(mark, Words)}
    assert {"36 base", "dishwasher", "30 range"} <= texts
    assert "end panel" not in texts


def test_the_plan_shows_the_cabinets_whole() -> None:
    x0, y0, x1, _ = up_box(row(wall_of(30.0), ("base", 60.0)))
    assert x0 < 0.0
    assert y0 < -24.0
    assert x1 > 60.0


def test_one_that_did_not_change_comes_back_as_the_same_marks() -> None:
    job = row(wall_of(), ("base", 36.0), ("range", 30.0))
    more = row(job, ("base", 24.0), start=66.0)
    assert cabinets_below(job)[0].marks is cabinets_below(more)[0].marks
    assert cabinets_through(job, words=True)[1].marks is (
        cabinets_through(more, words=True)[1].marks
    )


@pytest.mark.parametrize(
    ("use", "short"),
    [("dishwasher", "DW"), ("refrigerator", "REF"), ("sink-base", "sink"), ("base", "24")],
)
def test_a_cabinet_too_small_for_its_name_has_a_short_one(use: Use, short: str) -> None:
    job = row(wall_of(), (use, 24.0))
    texts = {mark.text for mark in laid_out(face_up(job), 0.012) if isinstance(mark, Words)}
    assert short in texts
    assert USE_WORDS[use] not in texts


def test_the_pony_wall_under_a_ledge_is_dotted_as_thick_as_it_is() -> None:
    job = sample("peninsula-and-ledge")
    (wall,) = pony_walls(job)
    (line,) = wall.marks
    assert isinstance(line, Line)
    assert math.dist(line.points[0], line.points[1]) == pytest.approx(4.5)
    (ledge,) = (strip for strip in job.alongside if isinstance(strip, Ledge))
    assert wall in cabinets_through(job, words=False)
    none = replace(job, alongside=tuple(s for s in job.alongside if s is not ledge))
    assert pony_walls(none) == ()
