from typing import Literal, TypeAlias

import pytest
from shapely import LineString, Polygon, box
from shapely.affinity import rotate, translate

from export.drawings import face_down, face_down_groups, face_up, face_up_groups
from export.facts import facts
from export.laying_out import laid_out
from export.marks import AnyMark, Line, Sheet, Words
from export.slab_marks import hatch
from export.typeface import text_width
from geometry.counters import SquareEnd
from geometry.flattening import ring
from geometry.points import distance, mirrored_point
from geometry.tolerances import SHADING_IN
from shop import edits, plan
from shop.job import Job
from tests.shop.kitchens import after, angle, seam, sink, straight

State: TypeAlias = Literal["cut", "poured", "cast"]


def frozen(state: State = "cut") -> Job:
    job = after(straight(), edits.AddSeam(seam(60.0)), edits.AddOpening(sink(along=30.0)))
    return after(job, edits.MarkPiece("A", state))


def grown(job: Job) -> Job:
    """The counter ends 3/16 farther left: half of it is A's to show."""
    return after(job, edits.SetRunEnd("run200", "left", SquareEnd(-0.1875, "left")))


def words(sheet: Sheet) -> list[str]:
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


def dashed(marks: tuple[AnyMark, ...]) -> list[Line]:
    return [mark for mark in marks if isinstance(mark, Line) and mark.role == "ghost"]


@pytest.mark.parametrize("state", ["cut", "poured", "cast"])
def test_a_made_slab_says_its_state_on_both_sides(state: State) -> None:
    for sheet in (face_up(frozen(state)), face_down(frozen(state))):
        assert words(sheet).count(state.upper()) == 1
    assert not set(words(face_up(straight()))) & {"DRAWN", "CUT", "POURED", "CAST"}


def test_a_hatch_stays_on_the_concrete_and_is_mirrored() -> None:
    face = plan.piece(frozen(), "A").face
    up, down = hatch(face, down=False), hatch(face, down=True)
    assert len(up) == len(down) > 10
    ends = {tuple(sorted(mark.points)) for mark in up if isinstance(mark, Line)}
    back = {
        tuple(sorted(map(mirrored_point, mark.points))) for mark in down if isinstance(mark, Line)
    }
    assert all(any(distance(a[0], b[0]) + distance(a[1], b[1]) < 1e-6 for b in back) for a in ends)
    hole = face.openings[0]
    middles = [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in ends]
    assert not [
        m for m in middles if abs(m[0] - hole.center[0]) < 14.0 and abs(m[1] - hole.center[1]) < 7.0
    ]


def test_only_a_cast_slab_has_letters_at_its_corners() -> None:
    letters = {"a", "b", "c", "d"}
    for sheet in (face_up, face_down):
        assert letters <= set(words(sheet(frozen("cast"))))
        assert not letters & set(words(sheet(frozen("cut"))))


def test_corner_letters_stand_inside_an_inside_corner_too() -> None:
    job = after(angle(), edits.MarkPiece("A", "cast"))
    assert {"a", "b", "c", "d", "e", "f"} <= set(words(face_up(job)))


def test_todays_plan_is_dashed_where_it_differs_and_says_by_how_much() -> None:
    assert dashed(face_up(frozen()).marks) == []
    job = grown(frozen())
    live = next(one.face for one in plan.live_pieces(job) if one.name == "A")
    up = dashed(face_up(job).marks)
    assert {mark.points[0] for mark in up} >= set(live.outline.vertices)
    assert len(up) == len(live.outline.vertices) + len(live.openings[0].outline.vertices)
    assert "today's plan: 3/16 farther out" in words(face_up(job))
    assert "today's plan: 3/16 farther out" in words(face_down(job))


@pytest.mark.parametrize("scale", [0.03, 0.05, 0.1])
def test_words_of_made_slabs_lie_on_the_slab_and_on_no_dimension(scale: float) -> None:
    job = grown(frozen())
    shape = Polygon(ring(plan.piece(job, "A").face.outline, SHADING_IN)).buffer(0.25)
    made = laid_out(face_up(job), scale)
    texts = [m for m in made if isinstance(m, Words)]
    own = [m for m in texts if m.text == "CUT" or m.text.startswith("today's plan")]
    assert "CUT" in [m.text for m in own]
    for mark in own:
        box = word_box(mark, scale)
        assert shape.contains(box)
        others = [word_box(m, scale) for m in texts if m is not mark]
        lines = [LineString(m.points) for m in made if isinstance(m, Line) and m.role != "frame"]
        assert not any(box.intersects(other) for other in others)
        assert not any(box.intersects(line) for line in lines if line.length > 30.0)


def word_box(mark: Words, scale: float) -> Polygon:
    """The box of the letters, which fill some two thirds of a line's height."""
    wide = text_width(mark.text, mark.height / scale, bold=mark.bold)
    high = mark.height / scale * 0.66
    west = {"left": 0.0, "middle": -wide / 2.0, "right": -wide}[mark.anchor]
    flat = box(west, -high / 2.0, west + wide, high / 2.0)
    return translate(rotate(flat, mark.angle_rad, (0.0, 0.0), use_radians=True), *mark.at)


def test_a_plan_with_another_opening_is_dashed_without_a_length() -> None:
    job = after(frozen(), edits.RemoveOpening("opening400"))
    assert dashed(face_up(job).marks)
    assert not [text for text in words(face_up(job)) if text.startswith("today's plan")]
    assert "sink" in words(face_up(job))


def test_what_did_not_change_comes_back_as_the_same_object() -> None:
    job = grown(frozen())
    renamed = after(job, edits.SetJobName("Other"))
    for groups in (face_up_groups, face_down_groups):
        before = {group.key: group for group in groups(job)}
        for group in groups(renamed):
            if group.key.startswith(("piece", "today")):
                assert group is before[group.key]


def test_facts_tell_the_state_and_the_difference() -> None:
    told = {piece["name"]: piece for piece in facts(grown(frozen()))["pieces"]}
    assert (told["A"]["state"], told["B"]["state"]) == ("cut", "drawn")
    assert told["A"]["differs_in"] == pytest.approx(0.1875, abs=1e-3)
    assert told["B"]["differs_in"] is None
    gone = after(frozen(), edits.RemoveRun("run200"))
    (piece,) = facts(gone)["pieces"]
    assert piece["state"] == "cut"
    assert piece["differs_in"] is None
    assert piece["edges"][0]["ref"]
