"""Where bars run: beside openings, along bridges, across inside corners; shapely is the judge."""

from math import dist, radians, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from geometry.notches import OpeningPart
from geometry.outline import Outline, rotated
from shop.bar_lines import concrete_of, inside_corners, main_way
from shop.job import Reinforcement
from shop.molds import Mold, mold
from shop.reinforcement import Steel, steel
from tests.shop.mold_shapes import (
    BACK,
    CHOICES,
    CUT,
    END_2,
    FRONT,
    FRONT_2,
    LEFT,
    QUARTER,
    RIGHT,
    SEAM,
    WORDS,
    box,
    counter,
    ell,
    face,
    opening,
    outline,
)
from tests.shop.steel_cases import SINK, bars_of, steel_around, steel_of

NEED = 0.75 + 0.375 / 2.0
"""From the middle of a No. 3 bar to the nearest edge, with 3/4 in of cover."""


def codes(found: Steel) -> list[str]:
    return [notice.code for notice in found.notices]


def covers(made: Mold, found: Steel) -> list[float]:
    """How far the middle of each bar lies from the nearest edge or opening (shapely)."""
    concrete = concrete_of(made)
    for bar in found.bars:
        assert concrete.contains(LineString((bar.start, bar.end)))
    return [concrete.boundary.distance(LineString((b.start, b.end))) for b in found.bars]


def test_an_opening_has_a_bar_beside_each_long_side_that_runs_on_past_its_corners() -> None:
    made, found = steel_of(counter(RIGHT), SINK)
    assert [bar.where for bar in found.bars] == [
        "between the sink and the back",
        "between the sink and the front",
    ]
    # 30 in and 16.43 in past each corner.
    for bar in found.bars:
        assert bar.length_in == pytest.approx(30.0 + 2.0 * 16.43, abs=0.01)
    back, front = found.bars
    assert back.start[1] == back.end[1] == pytest.approx(21.5)
    assert front.start[1] == front.end[1] == pytest.approx(3.5)
    assert front.set_by == "its middle 1 1/2 from the sink"
    assert min(covers(made, found)) == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("front", "fits", "middle"),
    [(1.875, True, 0.9375), (1.865, False, 0), (2.5, True, 1.25)],
)
def test_a_bar_needs_a_bridge_of_1_7_8_and_lies_in_its_middle(
    front: float, fits: bool, middle: float
) -> None:
    _, found = steel_of(counter(RIGHT), box(20, front, 50, 17))
    bars = [bar for bar in found.bars if bar.where.endswith("the front")]
    assert bool(bars) is fits
    assert ("bar-no-room" in codes(found)) is not fits
    for bar in bars:
        assert bar.start[1] == pytest.approx(middle, abs=0.005)


def test_what_is_missing_is_told_with_the_concrete_that_is_left() -> None:
    _, found = steel_of(counter(RIGHT), box(20, 1.5, 50, 17))
    (notice,) = found.notices
    assert notice.text == (
        "No bar fits between the sink and the front: at the narrowest 1 1/2 of concrete is left"
        " there, where a No. 3 bar with its cover takes 1 7/8."
    )
    assert notice.at == pytest.approx((35.0, 1.5))


def test_a_bar_goes_round_a_hole_where_there_is_room_behind_it() -> None:
    near = box(34, 15.5, 35, 16.5)
    made, found = steel_around(
        counter(RIGHT), (opening(box(20, 4, 50, 14)), opening(near, "faucet1"))
    )
    (back,) = (bar for bar in found.bars if bar.where.endswith("the back"))
    # The hole ends 2.5 in behind the sink: 0.9375 of cover, then half an inch on.
    assert back.start[1] == pytest.approx(14.0 + 2.5 + 0.9375 + (1.5 - 0.9375), abs=0.01)
    assert min(covers(made, found)) >= NEED - 0.003


def test_where_holes_leave_no_gap_all_along_there_is_no_bar() -> None:
    row = tuple(opening(box(21 + 4 * i, 15 + i, 24 + 4 * i, 18 + i), "faucet1") for i in range(7))
    _, found = steel_around(counter(RIGHT), (opening(box(20, 4, 50, 14)), *row))
    assert "between the sink and the back" not in [bar.where for bar in found.bars]
    assert "bar-no-room" in codes(found)


def test_holes_under_6_in_have_no_bars() -> None:
    assert bars_of(box(20, 10, 25.9, 12)) == ()
    assert len(bars_of(box(20, 10, 26, 12))) == 2


def test_the_long_sides_are_those_of_a_deep_opening_too() -> None:
    bars = bars_of(box(30, 6, 38, 20))
    assert [bar.where for bar in bars] == [
        "between the sink and the left end",
        "between the sink and the right end",
    ] or [bar.where for bar in bars] == [
        "between the sink and the right end",
        "between the sink and the left end",
    ]
    assert all(bar.start[0] == pytest.approx(bar.end[0]) for bar in bars)


def test_a_round_opening_has_bars_along_the_slab() -> None:
    circle = Outline(((30, 12), (42, 12)), (-1.0, -1.0), (CUT, CUT))
    bars = bars_of(circle)
    assert len(bars) == 2
    assert all(bar.start[1] == pytest.approx(bar.end[1]) for bar in bars)


def test_a_hole_like_a_pin_prick_is_in_nobody_s_way() -> None:
    prick = Outline(((30, 12), (30.003, 12)), (-1.0, -1.0), (CUT, CUT))
    made, found = steel_of(counter(RIGHT), prick)
    assert concrete_of(made).area == pytest.approx(72.0 * 25.0)
    assert found.bars == ()


def test_a_slab_without_a_straight_edge_runs_level() -> None:
    side = Tag(Kind.END, EdgeRef("island1", "1"))
    assert main_way(Outline(((-20, 0), (20, 0)), (1.0, 1.0), (side, side))) == (1.0, 0.0)
    assert abs(main_way(counter())[0]) == pytest.approx(1.0)


def test_a_part_of_an_opening_has_bars_square_to_its_seam_with_cover_at_their_ends() -> None:
    whole = counter(SEAM)
    part = outline(((52, 5), CUT), ((52, 20), CUT), ((72, 20), SEAM), ((72, 5), CUT))
    notched = outline(
        ((0, 0), FRONT), ((72, 0), SEAM), ((72, 5), CUT), ((52, 5), CUT), ((52, 20), CUT),
        ((72, 20), SEAM), ((72, 25), BACK), ((0, 25), LEFT),
    )  # fmt: skip
    piece = face(notched, base=whole, parts=(OpeningPart("sink1", part, 0.0),))
    made = mold("A", piece, 2.0, CHOICES, WORDS)
    found = steel(made, (), 2.0, Reinforcement(), WORDS)
    assert {bar.where for bar in found.bars} == {
        "between the sink and the back",
        "between the sink and the front",
    }
    for bar in found.bars:
        # The seam lies at x = -72 in the mold.
        assert min(bar.start[0], bar.end[0]) == pytest.approx(-72.0 + NEED, abs=0.003)
    assert min(covers(made, found)) >= NEED - 0.003


def test_a_part_at_a_slanted_seam_has_bars_along_its_sides_that_end_there() -> None:
    whole = outline(((0, 0), FRONT), ((60, 0), SEAM), ((85, 25), BACK), ((0, 25), LEFT))
    part = outline(((45, 5), CUT), ((45, 20), CUT), ((80, 20), SEAM), ((65, 5), CUT))
    notched = outline(
        ((0, 0), FRONT), ((60, 0), SEAM), ((65, 5), CUT), ((45, 5), CUT), ((45, 20), CUT),
        ((80, 20), SEAM), ((85, 25), BACK), ((0, 25), LEFT),
    )  # fmt: skip
    piece = face(notched, base=whole, parts=(OpeningPart("sink1", part, 0.0),))
    made = mold("A", piece, 2.0, CHOICES, WORDS)
    found = steel(made, (), 2.0, Reinforcement(), WORDS)
    assert min(covers(made, found)) >= NEED - 0.003
    assert {bar.where for bar in found.bars} == {
        "between the sink and the back",
        "between the sink and the front",
    }
    for bar in found.bars:
        assert bar.start[1] == pytest.approx(bar.end[1])


def test_a_small_part_beside_a_slanted_seam_names_the_edge_nearest_to_it() -> None:
    # The middle of its side toward the seam lies beyond the seam.
    whole = outline(((0, 0), FRONT), ((60, 0), SEAM), ((85, 25), BACK), ((0, 25), LEFT))
    part = outline(((62, 12), CUT), ((62, 22), CUT), ((82, 22), SEAM), ((72, 12), CUT))
    turned = outline(((60, 2), CUT), ((62, 8), CUT), ((68, 8), SEAM), ((62, 2), CUT))
    for cut in (part, turned):
        made = mold("A", face(whole, parts=(OpeningPart("sink1", cut, 0.0),)), 2.0, CHOICES, WORDS)
        found = steel(made, (), 2.0, Reinforcement(), WORDS)
        said = [bar.where for bar in found.bars] + [notice.text for notice in found.notices]
        assert all("between the sink and " in words for words in said)


def test_bars_of_two_openings_that_run_on_beside_each_other_are_one() -> None:
    bars = bars_of(box(8, 4, 28, 19), box(40, 4.25, 60, 19))
    assert len(bars) == 2
    (front,) = (bar for bar in bars if "front" in bar.where)
    assert front.where.count("between the sink and the front") == 1
    assert front.length_in > 28.0 + 24.0


def test_bars_that_a_hole_keeps_from_being_one_stay_two() -> None:
    # A small hole lies where the bar of the first opening would go on to that of the second.
    openings = (
        opening(box(8, 4, 24, 19)),
        opening(box(48, 4.7, 64, 19)),
        opening(box(56, 1.2, 57, 1.6), "faucet1"),
    )
    made, found = steel_around(counter(RIGHT), openings)
    front = [bar for bar in found.bars if bar.where.endswith("sink and the front")]
    assert [bar.start[1] for bar in front] == pytest.approx([2.5, 3.2])
    assert min(covers(made, found)) >= NEED - 0.003


def test_a_narrow_bridge_between_two_openings_has_a_bar_along_it() -> None:
    made, found = steel_of(counter(RIGHT), box(8, 6, 30, 18), box(32.5, 6, 54, 18))
    (bar,) = (bar for bar in found.bars if bar.set_by == "halfway between them")
    assert bar.where == "between the sink and the sink"
    assert bar.start[0] == pytest.approx(-31.25)
    assert dist(bar.start, bar.end) == pytest.approx(25.0 - 2.0 * NEED, abs=0.01)
    assert min(covers(made, found)) >= NEED - 0.003


def test_a_bridge_too_narrow_for_a_bar_has_none() -> None:
    _, found = steel_of(counter(RIGHT), box(8, 6, 30, 18), box(31.5, 6, 54, 18))
    assert not [bar for bar in found.bars if bar.set_by == "halfway between them"]


def test_a_bridge_beside_an_edge_is_named_by_it() -> None:
    _, found = steel_of(counter(RIGHT), box(2.5, 10, 6.5, 14.5))
    assert [bar.where for bar in found.bars] == ["between the left end and the sink"]


def test_a_bridge_where_only_a_stub_fits_has_no_bar() -> None:
    # Two holes 2 in apart in a slab so small that a bar would be shorter than 6 in.
    tiny = outline(((0, 0), FRONT), ((20, 0), RIGHT), ((20, 7), BACK), ((0, 7), LEFT))
    _, found = steel_of(tiny, box(4, 3, 9, 4), box(11, 3, 16, 4))
    assert found.bars == ()


def test_an_inside_corner_has_a_bar_across_it() -> None:
    made, found = steel_of(ell())
    (bar,) = found.bars
    assert bar.where == "across the inside corner"
    assert bar.set_by == "its middle 1 1/2 from the corner"
    corner = (-70.0, 0.0)
    assert dist(bar.start, corner) == pytest.approx(dist(bar.end, corner))
    assert abs(bar.end[0] - bar.start[0]) == pytest.approx(abs(bar.end[1] - bar.start[1]))
    assert covers(made, found) == [pytest.approx(1.5)]


def test_a_leg_too_narrow_for_a_bar_across_its_corner_is_told() -> None:
    thin = outline(
        ((0, 0), FRONT), ((70, 0), FRONT_2), ((70, -40), END_2), ((71.5, -40), END_2),
        ((71.5, 1.5), BACK), ((0, 1.5), LEFT),
    )  # fmt: skip
    _, found = steel_of(thin, choices=Reinforcement(mesh="none"))
    assert found.bars == ()
    (notice,) = found.notices
    assert notice.text == "No bar fits across the inside corner with its cover."
    assert notice.at == pytest.approx((70.0, 0.0))


ROUNDING = Tag(Kind.CORNER, corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg2", "front")))


@pytest.mark.parametrize("bulge", [-QUARTER, 0.0])
def test_a_rounded_or_clipped_inside_corner_counts_once_at_its_middle(bulge: float) -> None:
    shape = outline(
        ((0, 0), FRONT), ((66, 0), ROUNDING), ((70, -4), FRONT_2), ((70, -40), END_2),
        ((95, -40), BACK), ((95, 25), BACK), ((0, 25), LEFT), bulges={1: bulge},
    )  # fmt: skip
    ((corner, into),) = inside_corners(shape)
    assert into == pytest.approx((sqrt(0.5), sqrt(0.5)))
    # The arc's middle lies 4 (sqrt 2 - 1) before the corner, the clip's at half of it.
    off = 4.0 * (1.0 - sqrt(0.5)) if bulge else 2.0
    assert corner == pytest.approx((70.0 - off, -off))


def test_outside_corners_and_those_of_openings_do_not_count() -> None:
    clipped = Tag(Kind.CORNER, corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg1", "start")))
    shape = outline(
        ((4, 0), FRONT), ((72, 0), SEAM), ((72, 5), CUT), ((52, 5), CUT), ((52, 20), CUT),
        ((72, 20), SEAM), ((72, 25), BACK), ((0, 25), LEFT), ((0, 4), clipped),
    )  # fmt: skip
    assert list(inside_corners(shape)) == []


@settings(deadline=None, max_examples=60)
@given(
    st.floats(1.0, 8.0), st.floats(1.0, 8.0), st.floats(8.0, 40.0), st.floats(10.0, 30.0),
    st.floats(0.0, 1.5), st.integers(0, 359),
)  # fmt: skip
def test_every_bar_keeps_its_cover_wherever_it_runs(
    front: float, back: float, left: float, wide: float, cover: float, angle: int
) -> None:
    shape = rotated(ell(), radians(angle))
    hole = rotated(box(left, front, left + wide, 25.0 - back), radians(angle))
    made, found = steel_of(shape, hole, choices=Reinforcement(cover=cover))
    for away in covers(made, found):
        assert away >= cover + 0.1875 - 0.003
    for bar in found.bars:
        assert bar.length_in >= 6.0
    assert len(found.bars) + len([c for c in codes(found) if c == "bar-no-room"]) >= 3


def test_no_bars_are_wanted() -> None:
    _, found = steel_of(ell(), SINK, choices=Reinforcement(bars="none"))
    assert found.bars == ()
    assert codes(found) == []
