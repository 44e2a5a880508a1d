"""Words and dimensions find their places on a drawing, and keep clear of each other."""

from itertools import combinations
from math import atan2, cos, sin

import pytest
from msgspec.structs import replace
from shapely import Polygon

from export.booklet import booklet_pages
from export.dimension_lines import TEXT_IN, TIERS_IN, TIERS_OUT
from export.drawings import face_down, face_up
from export.laying_out import bounds_of, laid_out
from export.marks import AnyMark, Dimension, Line, Place, Region, Sheet, Spot, Strokes, Words
from export.opened import opened_mold
from export.stamp import stamped
from export.typeface import text_width
from export.word_boxes import tag_reach
from geometry.picking import Subject
from shop import plan
from shop.samples import sample_names
from tests.export.jobs import TODAY, sample
from tests.shapes import rectangle

BOX = (0.0, 0.0, 100.0, 100.0)


def sheet(*marks: AnyMark, margin: float = 0.0) -> Sheet:
    return Sheet("test", marks, BOX, margin)


def words_in(marks: tuple[AnyMark, ...]) -> list[Words]:
    return [mark for mark in marks if isinstance(mark, Words)]


def box_of(words: Words, scale: float) -> Polygon:
    """The rectangle of a line of words, made another way than the program makes it."""
    height = words.height if words.height_model else words.height / scale
    width = text_width(words.text, height, bold=words.bold)
    if words.max_width is not None and width > words.max_width:
        height, width = height * words.max_width / width, words.max_width
    left = {"left": 0.0, "middle": -width / 2.0, "right": -width}[words.anchor]
    c, s = cos(words.angle_rad), sin(words.angle_rad)
    x, y = words.at
    corners = [(left, -1), (left + width, -1), (left + width, 1), (left, 1)]
    return Polygon(
        [(x + c * u - s * v * height / 3, y + s * u + c * v * height / 3) for u, v in corners]
    )


def overlaps(marks: tuple[AnyMark, ...], scale: float) -> list[tuple[str, str]]:
    boxes = [(words.text, box_of(words, scale)) for words in words_in(marks)]
    return [
        (one, other)
        for (one, a), (other, b) in combinations(boxes, 2)
        if a.intersection(b).area > 0.02 * min(a.area, b.area)
    ]


@pytest.mark.parametrize("name", sample_names())
def test_no_words_lie_over_others_on_the_pages_of_a_booklet(name: str) -> None:
    job = sample(name)
    for page in booklet_pages(job, stamped(job, TODAY)):
        for view in page.views:
            marks = laid_out(view.sheet, view.scale[0], view.limits)
            assert not overlaps(marks, view.scale[0]), page.name


def test_the_same_marks_come_back_as_the_same_objects() -> None:
    job = sample("galley")
    for drawing in (face_up(job), face_down(job), opened_mold(job, "A")):
        first, second = laid_out(drawing, 0.07), laid_out(drawing, 0.07)
        assert len(first) == len(second)
        assert all(one is other for one, other in zip(first, second, strict=True))


def test_a_dimension_is_drawn_out_beside_its_length() -> None:
    mark = Dimension("dimension", a=(10.0, 10.0), b=(50.0, 10.0), offset=0.5, text="40")
    drawn = laid_out(sheet(mark), 0.1)
    (words,) = words_in(drawn)
    (lines,) = (mark for mark in drawn if isinstance(mark, Strokes))
    # Left of a -> b, half a paper inch: 5 in of the model at a tenth.
    assert ((10.0, 15.0), (50.0, 15.0)) in lines.strokes
    assert words.at[0] == pytest.approx(30.0)
    assert words.at[1] > 15.0
    assert words.height == TEXT_IN
    assert len(lines.strokes) == 5


@pytest.mark.parametrize(
    ("a", "b"), [((50, 10), (10, 10)), ((50, 50), (50, 10)), ((50, 50), (20, 10))]
)
def test_words_of_a_dimension_never_stand_on_their_heads(
    a: tuple[float, float], b: tuple[float, float]
) -> None:
    mark = Dimension("dimension", a=a, b=b, offset=0.3, text="40")
    (words,) = words_in(laid_out(sheet(mark), 0.1))
    assert cos(words.angle_rad) > -0.01


def test_a_dimension_too_short_for_its_words_has_them_beyond_its_end() -> None:
    mark = Dimension("dimension", a=(10.0, 10.0), b=(12.0, 10.0), offset=0.3, text="12' 3 1/16")
    (words,) = words_in(laid_out(sheet(mark), 0.1))
    assert words.at[0] > 12.0


def test_a_dimension_of_no_length_is_not_drawn() -> None:
    mark = Dimension("dimension", a=(10.0, 10.0), b=(10.0, 10.0), offset=0.3, text="0")
    assert laid_out(sheet(mark), 0.1) == ()


def test_of_two_dimensions_in_one_place_the_less_important_moves_out() -> None:
    high = Dimension(
        "dimension", a=(10.0, 10.0), b=(50.0, 10.0), offset=0.3, text="first", priority=2
    )
    low = Dimension("dimension", a=(10.0, 10.0), b=(50.0, 10.0), offset=0.3, text="second")
    first, second = words_in(laid_out(sheet(low, high), 0.1))
    assert (first.text, second.text) == ("first", "second")
    assert second.at[1] > first.at[1]


def test_a_dimension_goes_where_there_is_no_room_left() -> None:
    crowd = [
        Dimension("dimension", a=(10.0, 10.0), b=(50.0, 10.0), offset=0.3, text=str(i))
        for i in range(9)
    ]
    above = [words.at[1] > 10.0 for words in words_in(laid_out(sheet(*crowd), 0.1))]
    # Outside first, then on the other side of what they measure.
    assert above == [True] * TIERS_OUT + [False] * TIERS_IN


def test_a_dimension_stays_on_the_sheet_and_its_margin() -> None:
    mark = Dimension("dimension", a=(10.0, 98.0), b=(50.0, 98.0), offset=0.3, text="40")

    def high(drawn: tuple[AnyMark, ...]) -> bool:
        (words,) = words_in(drawn)
        return words.at[1] > 98.0

    assert not high(laid_out(sheet(mark), 0.1))
    assert high(laid_out(sheet(mark, margin=0.6), 0.1))
    assert high(laid_out(sheet(mark), 0.1, (0.0, 0.0, 200.0, 200.0)))
    assert not laid_out(sheet(mark), 0.1, (0.0, 0.0, 5.0, 200.0))


def test_a_shift_is_in_paper_inches_along_the_words_and_up_from_them() -> None:
    plain = Words("words", text="x", at=(10.0, 10.0), shift=(1.0, 0.5))
    turned = Words("words", text="y", at=(50.0, 50.0), shift=(1.0, 0.5), angle_rad=atan2(1, 0))
    spot = Spot("title", kind="tag", text="TAG", at=(80.0, 80.0), shift=(0.0, -1.0))
    first, second, third = laid_out(sheet(plain, turned, spot), 0.5)
    assert isinstance(first, Words)
    assert isinstance(second, Words)
    assert isinstance(third, Spot)
    assert first.at == pytest.approx((12.0, 11.0))
    assert second.at == pytest.approx((49.0, 52.0))
    assert third.at == pytest.approx((80.0, 78.0))


def choosing(*places: Place, optional: bool = False, subject: Subject | None = None) -> Words:
    return Words("words", subject, text="choose", at=(5.0, 5.0), places=places, optional=optional)


def test_words_take_the_first_place_with_room() -> None:
    narrow, low = Place((10.0, 10.0), wide=0.5), Place((20.0, 20.0), high=0.1)
    (words,) = words_in(laid_out(sheet(choosing(narrow, low, Place((30.0, 30.0)))), 0.1))
    assert words.at == (30.0, 30.0)


def test_words_keep_clear_of_words_and_tags_that_are_there() -> None:
    there = Words("words", text="there", at=(10.0, 10.0))
    tag = Spot("title", kind="tag", text="TAG", at=(30.0, 30.0))
    places = (Place((10.0, 10.0)), Place((30.0, 30.0)), Place((60.0, 60.0)))
    drawn = laid_out(sheet(there, tag, choosing(*places)), 0.1)
    assert words_in(drawn)[-1].at == (60.0, 60.0)


def test_words_keep_clear_of_lines_arcs_and_openings_but_not_of_their_own() -> None:
    own = Subject("opening", "opening1")
    line = Line("wall", points=((0.0, 10.0), (90.0, 10.0)), bulges=(0.0,))
    arc = Line("bead", points=((40.0, 50.0), (60.0, 50.0)), bulges=(1.0,))
    hole = Region("opening", own, loops=(rectangle(20.0, 20.0),))
    drawn = (line, arc, hole)
    places = (
        Place((50.0, 10.0)),  # on the line
        Place((50.0, 40.0)),  # at the bottom of the arc
        Place((8.0, 15.0)),  # in the opening
        Place((80.0, 80.0)),
    )
    (words,) = words_in(laid_out(sheet(*drawn, choosing(*places)), 0.1))
    assert words.at == (80.0, 80.0)
    (words,) = words_in(laid_out(sheet(*drawn, choosing(*places, subject=own)), 0.1))
    assert words.at == (8.0, 15.0)


def test_words_may_lie_on_a_slab_and_over_lines_that_are_no_obstacle() -> None:
    slab = Region("slab", loops=(rectangle(90.0, 90.0),))
    board = Region("board", loops=(rectangle(90.0, 90.0),))
    ghost = Line("ghost", points=((0.0, 50.0), (90.0, 50.0)), bulges=(0.0,))
    (words,) = words_in(laid_out(sheet(slab, board, ghost, choosing(Place((50.0, 50.0)))), 0.1))
    assert words.at == (50.0, 50.0)


def test_a_line_without_length_is_no_obstacle_elsewhere() -> None:
    dot = Line("wall", points=((50.0, 50.0), (50.0, 50.0)), bulges=(0.0,))
    (words,) = words_in(laid_out(sheet(dot, choosing(Place((20.0, 20.0)))), 0.1))
    assert words.at == (20.0, 20.0)


def test_words_without_a_free_place_stand_at_the_last_or_go_if_they_may() -> None:
    there = Words("words", text="there", at=(10.0, 10.0))
    taken = Place((10.0, 10.0))
    assert len(words_in(laid_out(sheet(there, choosing(taken)), 0.1))) == 2
    assert len(words_in(laid_out(sheet(there, choosing(taken, optional=True)), 0.1))) == 1


def test_quiet_words_with_room_only_beyond_the_border_go_with_what_leads_to_them() -> None:
    far = Words("quiet", text="far", at=(0.0, 0.0), places=(Place((50.0, 0.0), led=True),))
    sheet = Sheet("plan", (far,), (0.0, 0.0, 10.0, 10.0))
    assert laid_out(sheet, 1.0) == ()
    assert len(laid_out(sheet, 1.0, (0.0, -10.0, 100.0, 10.0))) == 2


def test_a_line_leads_to_a_led_place() -> None:
    drawn = laid_out(sheet(choosing(Place((30.0, 5.0), "left", led=True))), 0.1)
    (leader,) = (mark for mark in drawn if isinstance(mark, Line))
    assert leader.points[0] == (5.0, 5.0)
    # It ends at the words' left end, less the little room around them.
    assert leader.points[1] == pytest.approx((30.0, 5.0), abs=0.5)


def test_many_words_still_keep_clear_of_each_other() -> None:
    places = tuple(Place((10.0 + 12.0 * i, 3.0 + 2.0 * k)) for k in range(48) for i in range(8))
    crowd = [Words("words", text=f"no {n}", at=(0.0, 0.0), places=places) for n in range(90)]
    assert not overlaps(laid_out(sheet(*crowd), 0.1), 0.1)


def test_words_that_grow_with_the_drawing_take_room_by_their_size_in_the_model() -> None:
    large = Words("words", text="large", at=(10.0, 50.0), height=20.0, height_model=True)
    drawn = laid_out(sheet(large, choosing(Place((20.0, 50.0)), Place((80.0, 90.0)))), 0.1)
    assert words_in(drawn)[-1].at == (80.0, 90.0)


@pytest.mark.parametrize(
    ("mark", "bounds"),
    [
        (Line("wall", points=((0.0, 0.0), (2.0, 0.0)), bulges=(1.0,)), (0.0, -1.0, 2.0, 0.0)),
        (Region("slab", loops=(rectangle(3.0, 2.0),)), (0.0, 0.0, 3.0, 2.0)),
        (Dimension("dimension", a=(1.0, 2.0), b=(3.0, 0.0), offset=1, text=""), (1, 0, 3, 2)),
        (Spot("check", kind="cross", at=(1.0, 1.0), size=0.5), (-9.0, -9.0, 11.0, 11.0)),
    ],
)
def test_bounds_hold_the_whole_mark(mark: AnyMark, bounds: tuple[float, ...]) -> None:
    assert bounds_of(mark, 0.1) == pytest.approx(bounds)


def test_bounds_of_words_hold_their_letters() -> None:
    words = Words("words", text="words", at=(0.0, 0.0), height=1.0)
    x0, y0, x1, y1 = bounds_of(words, 1.0)
    half = text_width("words", 1.0) / 2.0
    assert x0 <= -half
    assert x1 >= half
    assert y0 < -0.33 < 0.33 < y1


def test_a_tag_is_as_wide_as_its_words_and_never_narrower_than_high() -> None:
    assert tag_reach("1", 0.5) == 0.5
    assert tag_reach("RIGHT END", 0.1) > text_width("RIGHT END", 0.13, bold=True) / 2.0


def test_every_piece_s_letter_is_on_both_plans() -> None:
    job = sample("twelve-pieces")
    letters = {piece.name for piece in plan.pieces(job)}
    for drawing in (face_up(job), face_down(job)):
        texts = {words.text for words in words_in(laid_out(drawing, 0.05))}
        assert letters <= texts


def test_a_dimension_that_would_cross_a_side_runs_on_the_other_side_of_what_it_measures() -> None:
    side = Line("front", points=((0.0, 13.0), (60.0, 13.0)), bulges=(0.0,))
    mark = Dimension("dimension", a=(10.0, 10.0), b=(50.0, 10.0), offset=0.3, text="40")
    (words,) = words_in(laid_out(sheet(side, mark), 0.1))
    assert words.at[1] < 10.0


def test_a_tag_takes_the_first_of_its_places_that_is_free_and_goes_where_none_is() -> None:
    def tag(text: str) -> Spot:
        places = ((20.0, 20.0), (60.0, 20.0))
        return Spot("title", kind="tag", at=places[0], text=text, size=0.1, places=places)

    drawn = laid_out(sheet(tag("ONE"), tag("TWO"), tag("THREE")), 0.1)
    assert [(m.text, m.at) for m in drawn if isinstance(m, Spot)] == [
        ("ONE", (20.0, 20.0)),
        ("TWO", (60.0, 20.0)),
    ]


def test_a_firm_tag_steps_aside_for_words_alone() -> None:
    wall = Line("wall", points=((0.0, 50.0), (100.0, 50.0)), bulges=(0.0,))
    firm = Spot(
        "wall",
        kind="tag",
        at=(50.0, 50.0),
        text="1",
        places=((50.0, 50.0), (50.0, 80.0)),
        firm=True,
    )
    spots = [m for m in laid_out(sheet(wall, firm), 0.1) if isinstance(m, Spot)]
    assert [spot.at for spot in spots] == [(50.0, 50.0)]
    letter = Words("words", text="here", at=(50.0, 50.0), places=(Place((50.0, 50.0)),), priority=9)
    spots = [m for m in laid_out(sheet(wall, firm, letter), 0.1) if isinstance(m, Spot)]
    assert [spot.at for spot in spots] == [(50.0, 80.0)]


def test_a_tag_lies_on_lines_only_where_it_must() -> None:
    line = Line("front", points=((0.0, 20.0), (40.0, 20.0)), bulges=(0.0,))
    places = ((20.0, 20.0), (60.0, 20.0))
    tag = Spot("title", kind="tag", at=places[0], text="ONE", size=0.1, places=places)
    (spot,) = (m for m in laid_out(sheet(line, tag), 0.1) if isinstance(m, Spot))
    assert spot.at == places[1]
    alone = replace(tag, places=places[:1])
    (spot,) = (m for m in laid_out(sheet(line, alone), 0.1) if isinstance(m, Spot))
    assert spot.at == places[0]
