"""Sidewalls: which edges, in which order, with which ends, bead and screws."""

from itertools import pairwise
from math import atan, cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.edges import length
from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from geometry.outline import Outline, mirrored
from shop.beads import bead_radius
from shop.job import EdgeChoice, MoldChoices, PastChoice
from shop.strips import Sidewalls, screws_along, sidewalls, spliced, strip_height
from tests.shop.mold_shapes import (
    BACK,
    BACK_2,
    CHOICES,
    FRONT,
    LEFT,
    QUARTER,
    RIGHT,
    SEAM,
    WORDS,
    counter,
    ell,
    odd,
    outline,
)

BACK_REF, FRONT_REF = EdgeRef("leg1", "back"), EdgeRef("leg1", "front")
END_REF, LEFT_REF = EdgeRef("leg1", "end"), EdgeRef("leg1", "start")


def _walls(
    shape: Outline,
    choices: MoldChoices = CHOICES,
    finishes: tuple[EdgeChoice, ...] = (),
    past: tuple[PastChoice, ...] = (),
) -> Sidewalls:
    return sidewalls("B", mirrored(shape), 2.0, choices, WORDS, finishes, past)


def test_strips_are_numbered_clockwise_from_the_back() -> None:
    walls = _walls(counter())
    assert [(s.name, s.edge_name) for s in walls.strips] == [
        ("B1", "back"),
        ("B2", "left end"),
        ("B3", "front"),
        ("B4", "seam to B"),
    ]


def test_the_first_of_several_backs_is_the_one_met_first_clockwise() -> None:
    walls = _walls(ell())
    assert [s.tag for s in walls.strips[:3]] == [BACK_2, BACK, LEFT]


def test_of_two_separate_stretches_of_back_the_longer_one_is_first() -> None:
    far = Tag(Kind.BACK, EdgeRef("leg3", "back"))
    for long, short in ((BACK, far), (far, BACK)):
        shape = outline(((0, 0), FRONT), ((60, 0), short), ((60, 20), RIGHT), ((0, 24), long))
        assert _walls(shape).strips[0].tag == long


def test_a_piece_without_a_back_begins_at_its_first_side_and_never_at_a_seam() -> None:
    sides = [Tag(Kind.FRONT, EdgeRef("island1", str(n))) for n in (2, 3)]
    shape = outline(((0, 0), SEAM), ((60, 0), sides[0]), ((60, 30), sides[1]))
    assert [s.tag for s in _walls(shape).strips] == [*sides, SEAM]


def test_a_square_counter_has_the_lengths_of_common_sense() -> None:
    back, left, front, seam = _walls(counter()).strips
    for strip in (back, front):
        assert strip.edge_length_in == 72.0
        assert strip.face_length_in == strip.back_length_in == pytest.approx(73.5)
        assert [end.cut for end in strip.ends] == ["past", "past"]
    for strip in (left, seam):
        assert strip.face_length_in == pytest.approx(25.0)
        assert strip.back_length_in == pytest.approx(25.0)
        assert [end.cut for end in strip.ends] == ["covered", "covered"]
    assert {s.height_in for s in (back, left, front, seam)} == {2.75}


def test_ends_come_in_the_direction_of_the_base_edge() -> None:
    shape = outline(((0, 0), FRONT), ((60, 0), RIGHT), ((60, 25), BACK), ((-15, 25), LEFT))
    strips = {s.tag: s for s in _walls(shape).strips}
    # Face up the left end leans out by 15 in 25: face down, walked counter-clockwise, the front
    # starts at the right end and ends at the left end, where the piece is wider than square.
    assert strips[FRONT].ends[0].cut == "past"
    assert strips[FRONT].ends[1].cut == "bevel"
    assert strips[LEFT].ends[0].cut == "bevel"
    assert strips[LEFT].ends[1].cut == "covered"
    assert strips[LEFT].ends[1].bevel_deg > 30.0


def test_a_choice_lets_the_short_side_run_past() -> None:
    past = (PastChoice(corner_ref(BACK_REF, LEFT_REF), LEFT_REF),)
    strips = {s.tag: s for s in _walls(counter(), past=past).strips}
    # Face down and counter-clockwise the left end leads from the front to the back, the back on.
    assert [e.cut for e in strips[LEFT].ends] == ["covered", "past"]
    assert [e.cut for e in strips[BACK].ends] == ["covered", "past"]


def test_a_choice_of_an_edge_that_is_not_at_the_corner_changes_nothing() -> None:
    past = (PastChoice(corner_ref(BACK_REF, LEFT_REF), FRONT_REF),)
    assert _walls(counter(), past=past) == _walls(counter())


def test_sides_equally_long_are_settled_by_name() -> None:
    square = outline(((0, 0), FRONT), ((25, 0), RIGHT), ((25, 25), BACK), ((0, 25), LEFT))
    noisy = outline(((0, 0), FRONT), ((25 + 1e-10, 0), RIGHT), ((25, 25), BACK), ((0, 25), LEFT))
    ends = [[e.cut for e in s.ends] for s in _walls(square).strips]
    assert ends == [[e.cut for e in s.ends] for s in _walls(noisy).strips]
    assert sorted(cut for pair in ends for cut in pair) == ["covered"] * 4 + ["past"] * 4


def test_a_straight_strip_runs_past_a_bent_one() -> None:
    half = outline(((0, 0), FRONT), ((20, 0), RIGHT), bulges={1: 1.0})
    strips = {s.tag: s for s in _walls(half).strips}
    assert [e.cut for e in strips[FRONT].ends] == ["past", "past"]
    assert [e.cut for e in strips[RIGHT].ends] == ["covered", "covered"]


def test_only_seams_and_edges_chosen_square_have_no_bead() -> None:
    square = (EdgeChoice(BACK_REF, "square"), EdgeChoice(FRONT_REF, "bead"))
    strips = {s.tag: s.bead for s in _walls(counter(), finishes=square).strips}
    assert strips == {BACK: False, LEFT: True, FRONT: True, SEAM: False}
    seam_beaded = (EdgeChoice(EdgeRef("seam1", "left"), "bead"),)
    assert bead_radius(SEAM, seam_beaded, 0.0) is None


def test_a_corner_shape_is_square_only_between_two_square_edges() -> None:
    corner = Tag(Kind.CORNER, corner_ref(FRONT_REF, LEFT_REF))
    one = (EdgeChoice(FRONT_REF, "square"),)
    assert bead_radius(corner, one, 0.0) is not None
    assert bead_radius(corner, (*one, EdgeChoice(LEFT_REF, "square")), 0.0) is None


def test_an_edge_has_its_own_bead_and_a_corner_the_larger_of_its_edges() -> None:
    large = (EdgeChoice(FRONT_REF, "bead", 0.375),)
    strips = {s.tag: s.bead_radius_in for s in _walls(counter(), finishes=large).strips}
    assert strips == {BACK: 0.125, LEFT: 0.125, FRONT: 0.375, SEAM: None}
    corner = Tag(Kind.CORNER, corner_ref(FRONT_REF, LEFT_REF))
    assert bead_radius(corner, large, 0.125) == 0.375
    assert bead_radius(corner, (*large, EdgeChoice(LEFT_REF, "square")), 0.125) == 0.375
    small = (EdgeChoice(FRONT_REF, "bead", 0.0625),)
    assert bead_radius(corner, small, 0.125) == 0.125
    assert sorted(_walls(counter(), finishes=large).uprights) == [0.125, 0.375]


def test_no_bead_goes_up_a_corner_beside_a_seam() -> None:
    assert _walls(counter(right=RIGHT)).uprights == (0.125,) * 4
    assert _walls(counter()).uprights == (0.125,) * 2


def test_a_rounded_corner_has_no_upright_of_its_own() -> None:
    assert _walls(odd()).uprights == (0.125,)


@pytest.mark.parametrize(
    ("edge", "pitch", "places"),
    [
        (72.0, 8.0, 10),
        (20.0, 8.0, 3),
        (20.0001, 8.0, 4),
        (6.0, 8.0, 2),
        (5.0, 8.0, 2),
        (12.0, 4.0, 3),
    ],
)
def test_screws_keep_the_rule(edge: float, pitch: float, places: int) -> None:
    found = screws_along(edge, pitch)
    assert len(found) == places
    gaps = [b - a for a, b in pairwise(found)]
    assert gaps == pytest.approx([gaps[0]] * len(gaps))
    assert found[0] + found[-1] == pytest.approx(edge)
    assert found[0] == (2.0 if edge >= 6.0 else edge / 4.0)


@given(st.floats(0.3, 400.0))
def test_screws_are_never_further_apart_than_allowed_nor_needlessly_many(edge: float) -> None:
    found = screws_along(edge, 8.0)
    widest = max(b - a for a, b in pairwise(found))
    assert widest <= 8.0 + 1e-6
    assert len(found) == 2 or (edge - 4.0) / (len(found) - 2) > 8.0 - 1e-6


def test_arcs_get_screws_every_four_inches() -> None:
    island = outline(
        ((0, 0), FRONT), ((60, 0), RIGHT), ((60, 30), BACK), ((0, 30), LEFT), bulges={1: 1.0}
    )
    strip = next(s for s in _walls(island).strips if s.tag == RIGHT)
    assert strip.edge_length_in == pytest.approx(15.0 * pi)
    assert len(strip.screws) == 12
    assert strip.arc_radius == pytest.approx(15.0)
    assert not strip.turned_insert
    assert strip.back_length_in == pytest.approx(15.75 * pi)


@given(st.floats(1.0, 900.0), st.floats(24.0, 200.0))
def test_spliced_lengths_add_up_fit_the_stock_and_are_long_enough(
    whole: float, stock: float
) -> None:
    pieces = spliced(whole, stock)
    assert sum(pieces) == pytest.approx(whole)
    assert max(pieces) <= stock + 1e-6
    assert len(pieces) == 1 or min(pieces) >= 12.0 - 1e-6
    assert (len(pieces) - 1) * stock < whole


def test_sides_on_the_base_are_as_high_as_the_slab() -> None:
    assert strip_height(CHOICES, 2.0) == 2.75
    assert strip_height(MoldChoices(construction="sides-on-base"), 2.0) == 2.0


def test_one_strip_is_sprung_along_edges_that_are_nearly_straight_on() -> None:
    other = Tag(Kind.BACK, EdgeRef("leg2", "back"))
    shape = outline(
        ((0, 0), FRONT), ((80, 0), RIGHT), ((80, 25), BACK), ((40, 25.5), other), ((0, 25), LEFT)
    )
    walls = _walls(shape)
    assert len(walls.strips) == 4
    sprung = walls.strips[0]
    assert len(sprung.edges) == 2
    assert sprung.edge == sprung.edges[0]
    each = length(shape.edges[2])
    assert sprung.edge_length_in == pytest.approx(2.0 * each)
    assert sprung.screws[:6] == pytest.approx(screws_along(each, 8.0))
    assert sprung.screws[6:] == pytest.approx([each + at for at in sprung.screws[:6]])
    assert len(walls.uprights) == 4


def _bowed(bulge: float) -> Outline:
    """A counter whose back is three arcs of one circle, smooth from one to the next."""
    third = 4.0 * atan(bulge)
    r = 20.0 / sin(third / 2.0)
    middle = (60.0, 25.0 - r * cos(1.5 * third))
    ring = [
        (middle[0] + r * sin(a), middle[1] + r * cos(a))
        for a in (1.5 * third, 0.5 * third, -0.5 * third, -1.5 * third)
    ]
    parts = [Tag(Kind.BACK, BACK_REF, part) for part in (2, 1, 0)]
    (x, _), (left, _) = ring[0], ring[-1]
    points = ((left, 0.0), (x, 0.0), *ring)
    return Outline(points, (0.0, 0.0, *(bulge,) * 3, 0.0), (FRONT, RIGHT, *parts, LEFT))


def test_one_straight_strip_is_sprung_along_the_flat_arcs_of_a_scribed_back() -> None:
    shape = _bowed(0.005)
    walls = _walls(shape)
    assert len(walls.strips) == 4
    sprung = walls.strips[0]
    assert len(sprung.edges) == 3
    arcs = sum(length(edge) for edge in shape.edges[2:5])
    assert sprung.edge_length_in == pytest.approx(arcs)
    # It runs past both ends, and is as long as its arcs besides.
    assert sprung.face_length_in == pytest.approx(arcs + 1.5, abs=1e-3)
    assert sprung.arc_radius is None
    assert sprung.screws == pytest.approx(screws_along(arcs, 4.0))


def test_arcs_too_tight_for_a_straight_strip_have_bent_ones_of_their_own() -> None:
    strips = _walls(_bowed(0.05)).strips
    assert len(strips) == 6
    assert [s.arc_radius for s in strips[:3]] == pytest.approx([40.0 / 4.0 * 20.05] * 3)


def test_edges_that_differ_in_kind_or_bead_keep_their_own_strips() -> None:
    shape = outline(
        ((0, 0), FRONT), ((40, 0), SEAM), ((80, 0), RIGHT), ((80, 25), BACK), ((0, 25), LEFT)
    )
    strips = {s.tag: s for s in _walls(shape).strips}
    assert len(strips) == 5
    # Face down and counter-clockwise the seam comes first and the front goes on from it.
    assert strips[SEAM].ends[1].cut == strips[FRONT].ends[0].cut == "square"
    split = outline(
        ((0, 0), FRONT),
        ((40, 0), Tag(Kind.FRONT, EdgeRef("leg2", "front"))),
        ((80, 0), RIGHT),
        ((80, 25), BACK),
        ((0, 25), LEFT),
    )
    finishes = (EdgeChoice(EdgeRef("leg2", "front"), "square"),)
    assert len(_walls(split).strips) == 4
    assert len(_walls(split, finishes=finishes).strips) == 5


def test_a_ring_without_a_corner_is_still_one_strip() -> None:
    n = 130
    ring = outline(
        *(((60 * cos(2 * pi * i / n), 60 * sin(2 * pi * i / n)), FRONT) for i in range(n))
    )
    (strip,) = _walls(ring).strips
    assert sorted(strip.edges) == list(range(n))


def test_every_edge_has_exactly_one_strip() -> None:
    for shape in (counter(), ell(), odd()):
        covered = [i for strip in _walls(shape).strips for i in strip.edges]
        assert sorted(covered) == list(range(len(shape.vertices)))


def test_a_tight_rounding_is_a_turned_insert_and_said() -> None:
    walls = _walls(odd())
    insert = next(s for s in walls.strips if s.tag.kind is Kind.CORNER)
    assert insert.turned_insert
    (notice,) = walls.notices
    assert notice.code == "turned-insert"
    assert notice.tag == insert.tag
    assert notice.at is not None
    assert notice.at[0] < 4.0


def test_an_inside_rounding_has_a_negative_radius() -> None:
    shape = outline(
        ((0, 0), FRONT),
        ((60, 0), FRONT),
        ((70, -10), FRONT),
        ((70, -40), RIGHT),
        ((95, -40), BACK),
        ((95, 25), BACK),
        ((0, 25), LEFT),
        bulges={1: -QUARTER},
    )
    bent = next(s for s in _walls(shape).strips if s.arc_radius is not None)
    assert bent.arc_radius == pytest.approx(-10.0)
    assert bent.back_length_in == pytest.approx((10.0 - 0.75) * pi / 2)


def test_an_end_too_steep_for_a_saw_asks_for_a_jig() -> None:
    sharp = outline(((0, 0), FRONT), ((60, 0), RIGHT), ((60, 40), BACK), ((35, 40), LEFT))
    codes = [n.code for n in _walls(sharp).notices]
    assert codes == []
    sharper = outline(((0, 0), FRONT), ((60, 0), RIGHT), ((60, 30), LEFT))
    notices = [n for n in _walls(sharper).notices if n.code == "needs-jig"]
    assert notices
    assert "63.4 degrees" in notices[0].text


def test_sidewalls_that_need_the_same_room_are_a_blocking_notice() -> None:
    notch = outline(
        ((0, 0), FRONT),
        ((60, 0), RIGHT),
        ((60, 25), BACK),
        ((31, 25), BACK),
        ((31, 10), BACK),
        ((30, 10), BACK),
        ((30, 25), BACK),
        ((0, 25), LEFT),
    )
    found = [n for n in _walls(notch).notices if n.code == "sidewalls-collide"]
    assert found
    assert all(n.blocking for n in found)
