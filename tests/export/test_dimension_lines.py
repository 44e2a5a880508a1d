"""Dimensions in tiers: none lies over anything, the important ones stay, none jumps about."""

from functools import cache
from itertools import combinations, pairwise
from math import cos, hypot, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from export.boxes import TEXT, Limits, Taken, box_about
from export.drawings import face_down, face_up, up_box
from export.laying_out import Arranged, Stood, arranged
from export.marks import AnyMark, Dimension, Line, Place, Sheet, Spot, Strokes, Words
from export.typeface import text_width
from export.word_boxes import tag_reach
from geometry.picking import Subject
from shop.samples import sample_names
from tests.export.jobs import sample

SIDES = (face_up, face_down)
WALL = Subject("wall", "wall1")
SCALES = st.floats(1.2, 40.0).map(lambda px: px / 116.0)
"""Paper inches for an inch of the model, from a whole kitchen in half a window to a sink."""


@cache
def drawing(name: str, down: bool) -> Sheet:
    return SIDES[down](sample(name))


def shape_of(mark: AnyMark, scale: float) -> Polygon | None:
    """The ink of words or the ring of a tag, made another way than the program makes it."""
    if isinstance(mark, Words):
        height = mark.height if mark.height_model else mark.height / scale
        width = text_width(mark.text, height, bold=mark.bold)
        if mark.max_width is not None and width > mark.max_width:
            height, width = height * mark.max_width / width, mark.max_width
        left = {"left": 0.0, "middle": -width / 2.0, "right": -width}[mark.anchor]
        c, s, (x, y), up = cos(mark.angle_rad), sin(mark.angle_rad), mark.at, height / 3.0
        corners = [(left, -up), (left + width, -up), (left + width, up), (left, up)]
        return Polygon([(x + c * u - s * v, y + s * u + c * v) for u, v in corners])
    if isinstance(mark, Spot) and mark.kind == "tag":
        wide, high = tag_reach(mark.text, mark.size) / scale, mark.size / scale
        x, y = mark.at
        return Polygon(
            [(x - wide, y - high), (x + wide, y - high), (x + wide, y + high), (x - wide, y + high)]
        )
    return None


def overlaps(made: Arranged, scale: float) -> list[tuple[str, str]]:
    """Return pairs of words of which one is a dimension's and lies over the other or over a tag."""
    shapes = [(mark, shape_of(mark, scale)) for _, mark in made.drawn]
    return [
        (getattr(one, "text", ""), getattr(other, "text", ""))
        for (one, a), (other, b) in combinations(shapes, 2)
        if a is not None and b is not None and "dimension" in (one.role, other.role)
        if a.intersection(b).area > 1e-6 * min(a.area, b.area)
    ]


@pytest.mark.parametrize("down", [False, True])
@pytest.mark.parametrize("name", sample_names())
@settings(max_examples=15)
@given(scale=SCALES)
def test_no_length_lies_over_other_words_at_any_zoom(name: str, down: bool, scale: float) -> None:
    sheet = drawing(name, down)
    made = arranged(sheet, scale, (-1e5, -1e5, 1e5, 1e5))
    assert not overlaps(made, scale)


@pytest.mark.parametrize("name", sample_names())
@settings(max_examples=15)
@given(
    scale=SCALES,
    middle=st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0)),
    size=st.tuples(st.floats(3.0, 16.0), st.floats(3.0, 9.0)),
)
def test_words_of_a_length_whose_line_is_in_sight_are_never_cut_off(
    name: str, scale: float, middle: tuple[float, float], size: tuple[float, float]
) -> None:
    x0, y0, x1, y1 = up_box(sample(name))
    cx, cy = x0 + middle[0] * (x1 - x0), y0 + middle[1] * (y1 - y0)
    wide, high = size[0] / 2.0 / scale, size[1] / 2.0 / scale
    sight: Limits = (cx - wide, cy - high, cx + wide, cy + high)
    window = box(*sight)
    made = arranged(drawing(name, False), scale, (-1e5, -1e5, 1e5, 1e5), sight=sight)
    assert not overlaps(made, scale)
    for _, mark in made.drawn:
        if isinstance(mark, Words) and mark.role == "dimension":
            ink = shape_of(mark, scale)
            assert ink is not None
            assert window.disjoint(ink) or window.contains(ink), mark.text


@pytest.mark.parametrize("down", [False, True])
@pytest.mark.parametrize("name", sample_names())
@settings(max_examples=15)
@given(scale=SCALES)
def test_no_words_stand_on_their_heads(name: str, down: bool, scale: float) -> None:
    for _, mark in arranged(drawing(name, down), scale).drawn:
        if isinstance(mark, Words):
            assert cos(mark.angle_rad) > -0.011


@pytest.mark.parametrize("name", sample_names())
def test_the_important_lengths_stay_where_there_is_little_room(name: str) -> None:
    sheet = drawing(name, False)
    for px in (2.0, 3.0, 5.0):
        made = arranged(sheet, px / 116.0, (-1e5, -1e5, 1e5, 1e5))
        told = [mark for mark in sheet.marks if isinstance(mark, Dimension) and mark.asks]
        gone = [mark for mark in told if made.choices[mark.subject, mark.asks] is None]
        shown = [mark for mark in told if mark not in gone]
        walls = [m for m in sheet.marks if isinstance(m, Dimension) and m.asks == "taped"]
        longest = sorted(walls, key=lambda m: hypot(m.a[0] - m.b[0], m.a[1] - m.b[1]))[-2:]
        assert all(mark in shown for mark in longest)
        assert max((m.priority for m in gone), default=0) <= max(m.priority for m in shown)


def across(y: float, text: str, *, priority: int = 0, asks: str = "") -> Dimension:
    return Dimension(
        "dimension",
        WALL,
        a=(10.0, y),
        b=(50.0, y),
        offset=0.3,
        text=text,
        priority=priority,
        asks=asks,
    )


def board(*marks: AnyMark) -> Sheet:
    return Sheet("test", marks, (0.0, 0.0, 100.0, 100.0))


def test_of_two_in_one_place_the_chosen_one_has_it() -> None:
    plain, chosen = across(10.0, "plain", priority=5), across(10.0, "chosen", priority=8)
    made = arranged(board(plain, chosen), 0.1)
    high = {m.text: m.at[1] for _, m in made.drawn if isinstance(m, Words)}
    assert high["chosen"] < high["plain"]


def test_a_length_stays_where_it_was_until_a_nearer_place_is_clearly_free() -> None:
    length = across(10.0, "40", asks="length")
    half = text_width("40", 0.13, bold=True) / 2.0 / 0.1

    def beside(gap: float) -> Words:
        """Words above the line that end so far, on paper, left of where its words would begin."""
        x = 30.0 - half - (gap + 0.08) / 0.1
        return Words("words", text="in the way", at=(x, 14.3), anchor="right")

    first = arranged(board(beside(-0.1), length), 0.1)
    there = first.choices[WALL, "length"]
    assert there is not None
    assert there.place != 0
    barely = arranged(board(beside(0.02), length), 0.1, before=first.choices)
    assert barely.choices == first.choices
    fresh = arranged(board(beside(0.02), length), 0.1)
    assert fresh.choices[WALL, "length"] != there
    clearly = arranged(board(beside(0.2), length), 0.1, before=first.choices)
    assert clearly.choices == fresh.choices
    # And back: it stays at its best place until something lies there.
    assert (
        arranged(board(beside(0.02), length), 0.1, before=clearly.choices).choices
        == clearly.choices
    )


def test_a_length_that_had_no_room_comes_back_when_there_is_room_to_spare() -> None:
    length = across(10.0, "40", asks="length")
    made = arranged(board(length), 0.1, (0.0, 0.0, 5.0, 100.0))
    assert made.choices == {(WALL, "length"): None}
    back = arranged(board(length), 0.1, before=made.choices)
    assert back.choices[WALL, "length"] is not None


@settings(max_examples=8)
@given(steps=st.lists(st.floats(0.985, 1.015), min_size=3, max_size=12), start=st.floats(2.0, 8.0))
def test_lengths_do_not_jump_to_and_fro_while_the_drawing_trembles(
    steps: list[float], start: float
) -> None:
    sheet = drawing("twelve-pieces", False)
    scale = start / 116.0
    made = arranged(sheet, scale)
    told = [made.choices]
    for step in (*steps, *(1.0 for _ in steps)):
        made = arranged(sheet, scale * step, before=made.choices)
        told.append(made.choices)
    # Once it is still nothing moves any more.
    assert told[-1] == told[-2]
    changes = [sum(a[key] != b[key] for key in a) for a, b in pairwise(told)]
    assert max(changes) <= len(made.choices) // 2


def test_a_lead_is_broken_where_words_lie_on_it() -> None:
    label = Words("words", text="name", at=(10.0, 30.0))
    far = Dimension("dimension", WALL, a=(10.0, 10.0), b=(90.0, 10.0), offset=4.0, text="80")
    made = arranged(board(label, far), 0.1)
    (lines,) = (mark for _, mark in made.drawn if isinstance(mark, Strokes))
    upright = [(a, b) for a, b in lines.strokes if a[0] == b[0] == 10.0]
    assert len(upright) == 2
    ink = shape_of(label, 0.1)
    assert ink is not None
    _, low, _, high = ink.bounds
    assert all(b[1] <= low or a[1] >= high for a, b in upright)


def test_a_line_seen_in_part_has_its_words_in_that_part() -> None:
    length = across(10.0, "40", asks="length")
    made = arranged(board(length), 0.2, (-1e5, -1e5, 1e5, 1e5), sight=(35.0, 0.0, 80.0, 50.0))
    (words,) = (mark for _, mark in made.drawn if isinstance(mark, Words))
    assert 35.0 < words.at[0] < 50.0
    # Upright lines, too; and one that lies wholly out of sight has its words in its middle.
    upright = Dimension("dimension", WALL, a=(10.0, 90.0), b=(10.0, 10.0), offset=0.3, text="80")
    made = arranged(board(upright), 0.2, (-1e5, -1e5, 1e5, 1e5), sight=(0.0, 0.0, 40.0, 40.0))
    (words,) = (mark for _, mark in made.drawn if isinstance(mark, Words))
    assert 10.0 < words.at[1] < 40.0
    made = arranged(board(upright), 0.2, (-1e5, -1e5, 1e5, 1e5), sight=(60.0, 0.0, 90.0, 40.0))
    (words,) = (mark for _, mark in made.drawn if isinstance(mark, Words))
    assert words.at[1] == pytest.approx(50.0)


def test_what_lies_on_the_ground_is_taken_too() -> None:
    ground = Taken(0.1)
    ground.add(box_about((30.0, 14.2), (1.0, 0.0), (12.0, 1.0)), TEXT)
    length = across(10.0, "40", asks="length")
    free = arranged(board(length), 0.1)
    (clear,) = (mark for _, mark in free.drawn if isinstance(mark, Words))
    made = arranged(board(length), 0.1, ground=ground)
    (words,) = (mark for _, mark in made.drawn if isinstance(mark, Words))
    assert clear.at == pytest.approx((30.0, 14.2), abs=0.1)
    assert words.at != clear.at


def test_what_is_left_out_of_the_ground_is_free() -> None:
    ground = Taken(0.1)
    there = box_about((30.0, 14.2), (1.0, 0.0), (12.0, 1.0))
    ground.add(there, TEXT, part="moving")
    assert Taken(0.1, ground).hit(there, TEXT)
    assert Taken(0.1, ground, frozenset({"still"})).hit(there, TEXT)
    assert not Taken(0.1, ground, frozenset({"moving"})).hit(there, TEXT)


def test_in_haste_a_length_stays_where_it_was_if_it_can() -> None:
    length = across(10.0, "40", asks="length")
    in_the_way = Words("words", text="in the way", at=(30.0, 14.3))
    before = arranged(board(in_the_way, length), 0.1)
    free = arranged(board(length), 0.1, before=before.choices)
    assert free.choices != before.choices
    hasty = arranged(board(length), 0.1, before=before.choices, stood={})
    assert hasty.choices == before.choices
    # Where it was is taken now: in haste, too, it goes elsewhere.
    moved = arranged(board(in_the_way, length), 0.1, before=free.choices, stood={})
    assert moved.choices == before.choices


def test_in_haste_a_length_that_had_no_room_is_not_sought_a_place_for() -> None:
    length = across(10.0, "40", asks="length")
    made = arranged(board(length), 0.1, (0.0, 0.0, 5.0, 100.0))
    hasty = arranged(board(length), 0.1, before=made.choices, stood={})
    assert hasty.choices == {(WALL, "length"): None}
    assert hasty.drawn == ()


def test_in_haste_words_stay_at_their_place_if_they_can_and_none_come_back() -> None:
    places = tuple(Place((x, 30.0)) for x in (20.0, 50.0, 80.0))
    name = Words("quiet", WALL, text="name", at=(50.0, 30.0), places=places, optional=True)
    in_the_way = [Words("words", text="in the way", at=place.at) for place in places]

    def stands(*marks: AnyMark, stood: Stood | None) -> tuple[list[float], Stood]:
        made = arranged(board(*marks, name), 0.1, stood=stood)
        drawn = [mark for _, mark in made.drawn if isinstance(mark, Words)]
        return [words.at[0] for words in drawn if words.text == "name"], made.stood

    at, stood = stands(in_the_way[0], stood=None)
    assert at == [50.0]
    assert stands(stood=None)[0] == [20.0]
    assert stands(stood=stood) == ([50.0], stood)
    assert stands(in_the_way[1], stood=stood)[0] == [20.0]
    at, gone = stands(*in_the_way, stood=stood)
    assert at == []
    assert stands(stood=gone) == ([], gone)
    assert stands(stood=None)[0] == [20.0]


def test_boxes_of_the_same_thing_may_lie_over_each_other() -> None:
    taken = Taken(0.1)
    there = box_about((30.0, 30.0), (cos(pi / 4), sin(pi / 4)), (5.0, 1.0))
    assert not taken.hit(there, TEXT)
    taken.add(there, TEXT, WALL)
    assert taken.hit(there, TEXT)
    assert not taken.hit(there, TEXT, WALL)
    beside = box_about((33.0, 27.0), (cos(pi / 4), sin(pi / 4)), (5.0, 1.0))
    assert not taken.hit(beside, TEXT)


def test_a_lane_that_lies_beyond_another_top_is_not_taken() -> None:
    side = Line("front", points=((0.0, 15.5), (60.0, 15.5)), bulges=(0.0,))
    made = arranged(board(side, across(10.0, "40")), 0.1)
    (words,) = (mark for _, mark in made.drawn if isinstance(mark, Words))
    assert words.at[1] < 15.5
