"""Molds: the mirror law on pieces without any symmetry, bead, screws, proof, turning."""

from math import cos, pi, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon

from geometry.edges import length
from geometry.flattening import ring
from geometry.naming import EdgeRef, Kind, corner_ref
from geometry.openings import PlacedOpening
from geometry.outline import Outline, area, mirrored, perimeter, rotated
from geometry.seams import SeamPath
from geometry.splitting import Face, split
from shop.beads import silicone_cu_in
from shop.job import EdgeChoice, MoldChoices, PastChoice
from shop.molds import Mold, mold
from shop.moldwords import MoldWords
from tests.shop.mold_shapes import (
    BACK,
    BACK_2,
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
    odd,
    opening,
    outline,
    tag,
)

BACK_SIDE = EdgeRef("leg1", "start")
SQUARE_FRONT = (EdgeChoice(EdgeRef("leg1", "front"), "square"),)


def _mold(piece: Face, choices: MoldChoices = CHOICES, words: MoldWords = WORDS) -> Mold:
    return mold("B", piece, 2.0, choices, words)


def _holes() -> tuple[PlacedOpening, PlacedOpening]:
    faucet = outline(((50, 20), CUT), ((51.5, 20), CUT), bulges={0: -1.0, 1: -1.0})
    return opening(box(12, 5, 40, 18)), opening(faucet, "faucet1")


@given(st.floats(0.0, 359.0))
def test_the_mold_is_the_mirror_of_the_piece_edge_by_edge(heading: float) -> None:
    shape = rotated(odd(), radians(heading))
    built = mold("B", face(shape), 2.0, CHOICES, WORDS, SQUARE_FRONT)
    plan = dict(zip(shape.tags, shape.edges, strict=True))
    for edge, of in zip(built.frame.edges, built.frame.tags, strict=True):
        # What was the end of an edge is its start face down; bulge and tag ride with the edge.
        assert edge.start == (-plan[of].end[0], plan[of].end[1])
        assert edge.end == (-plan[of].start[0], plan[of].start[1])
        assert edge.bulge == plan[of].bulge
    assert area(built.frame) == pytest.approx(area(shape))
    assert {s.tag: s.bead for s in built.strips} == {
        t: t.kind is not Kind.SEAM and t != FRONT for t in shape.tags
    }
    for strip in built.strips:
        assert strip.tag == built.frame.tags[strip.edge]
        assert strip.edge_name == WORDS.edge(strip.tag)


def test_mirrored_twice_a_mold_is_the_piece_again() -> None:
    built = _mold(face(odd(), _holes()))
    again = mirrored(built.outline)
    assert set(zip(again.edges, again.tags, strict=True)) == set(
        zip(odd().edges, odd().tags, strict=True)
    )
    for knockout, hole in zip(built.knockouts, _holes(), strict=True):
        assert set(mirrored(knockout.outline).edges) == set(hole.outline.edges)
        assert area(knockout.outline) == pytest.approx(area(hole.outline))
        assert knockout.opening == hole.id


def test_openings_keep_their_distance_to_every_edge_by_name() -> None:
    built = _mold(face(odd(), _holes()))
    for knockout, hole in zip(built.knockouts, _holes(), strict=True):
        cut, knocked = Polygon(ring(hole.outline)), Polygon(ring(knockout.outline))
        for edge, of in zip(odd().edges, odd().tags, strict=True):
            mate = built.frame.edges[built.frame.tags.index(of)]
            for there, here in ((edge.start, mate.end), (edge.end, mate.start)):
                assert cut.distance(ShapelyPoint(there)) == pytest.approx(
                    knocked.distance(ShapelyPoint(here))
                )


@given(st.integers(0, 7), st.floats(0.0, 359.0))
def test_strips_go_round_clockwise_in_the_mold(which: int, heading: float) -> None:
    shape = rotated((counter(), ell(), odd())[which % 3], radians(heading))
    built = _mold(face(shape))
    starts = [built.frame.edges[s.edge].start for s in built.strips]
    assert area(Outline(tuple(starts), (0.0,) * len(starts), (FRONT,) * len(starts))) < 0.0
    assert built.strips[0].tag.kind is Kind.BACK
    assert [s.name for s in built.strips] == [f"B{i + 1}" for i in range(len(starts))]


@pytest.mark.parametrize("shape", [counter(), ell(), odd()])
def test_strip_faces_add_up_to_the_outline_and_what_runs_past(shape: Outline) -> None:
    built = _mold(face(shape))
    assert sum(s.edge_length_in for s in built.strips) == pytest.approx(perimeter(shape))
    for strip in built.strips:
        faces = sum(end.face_extra_in for end in strip.ends)
        assert strip.face_length_in == pytest.approx(strip.edge_length_in + faces)
        for end in strip.ends:
            assert (end.face_extra_in > 0.0) == (end.cut == "past")
            # The bevel and what the back is longer by are two sides of one right triangle.
            assert end.back_extra_in == pytest.approx(0.75 * tan(radians(end.bevel_deg)))
        if strip.arc_radius is None:
            backs = sum(end.back_extra_in for end in strip.ends)
            assert strip.back_length_in == pytest.approx(strip.face_length_in + backs)


def test_bead_runs_along_all_edges_but_seams_and_round_the_knockouts() -> None:
    sink, faucet = _holes()
    built = _mold(face(counter(), (sink, faucet)))
    assert built.bead_length_in == pytest.approx(72 + 25 + 72 + 2 * (28 + 13) + 1.5 * pi)
    assert built.uprights_length_in == pytest.approx(2 * 2.0)
    assert built.screw_count == sum(len(s.screws) for s in built.strips)


def test_the_silicone_is_the_fillets_section_times_its_length() -> None:
    """The section of a fillet in a square corner, as a polygon area (shapely)."""
    r = 0.125
    quarter = [(r - r * sin(a * pi / 2e4), r - r * cos(a * pi / 2e4)) for a in range(10001)]
    section = Polygon([(0, 0), *quarter]).area
    assert silicone_cu_in(100.0, r) == pytest.approx(100.0 * section, rel=1e-6)
    built = _mold(face(counter()))
    whole = built.bead_length_in + built.uprights_length_in
    assert built.silicone_cu_in == pytest.approx(whole * section, rel=1e-6)
    sink, faucet = _holes()
    own = (
        EdgeChoice(EdgeRef("leg1", "front"), "bead", 0.25),
        EdgeChoice(EdgeRef("sink1", "cut"), "square"),
    )
    mixed = mold("B", face(counter(), (sink, faucet)), 2.0, CHOICES, WORDS, own)
    # The front and the upright where it meets the left end are twice as large, so four times.
    standard = 25 + 72 + 2.0
    assert mixed.silicone_cu_in == pytest.approx((4.0 * (72 + 2.0) + standard) * section, rel=1e-6)


def test_a_piece_may_be_turned_about_a_chosen_edge() -> None:
    built = mold("B", face(counter()), 2.0, CHOICES, WORDS, turn=EdgeRef("leg1", "start"))
    assert built.turning is not None
    assert built.turning.edge == EdgeRef("leg1", "start")
    assert built.turning.lands == "as planned"
    assert "It lands as in the plan." in built.turning.words
    assert "the left end" in built.turning.words
    assert built.warnings == ()


def test_by_default_a_piece_turns_about_its_back_and_lands_turned() -> None:
    built = _mold(face(counter()))
    assert built.turning is not None
    assert built.turning.edge == BACK.ref
    assert built.frame.tags[built.turning.index] == BACK
    assert built.turning.lands == "turned"
    assert "turned half round from the plan" in built.turning.words


@pytest.mark.parametrize(
    ("rise", "words"),
    [
        (0.5, "It lands as in the plan."),
        (-0.5, "It lands as in the plan."),
        (3.0, "degrees from the plan."),
    ],
)
def test_a_piece_that_lands_within_two_degrees_of_the_plan_lands_as_in_the_plan(
    rise: float, words: str
) -> None:
    # An end that leans 0.5 in 25 (1.1 degrees) turns the piece by twice that; 3 in 25 by 13.7.
    lean = rise / 2.0 if abs(rise) < 1.0 else rise
    shape = outline(((0, 0), FRONT), ((72, 0), SEAM), ((72, 25), BACK), ((lean, 25), LEFT))
    built = mold("B", face(shape), 2.0, CHOICES, WORDS, turn=EdgeRef("leg1", "start"))
    assert built.turning is not None
    assert built.turning.words.endswith(words)


def test_an_edge_that_cannot_be_turned_about_gives_way_to_the_default_and_is_said() -> None:
    built = mold("B", face(counter()), 2.0, CHOICES, WORDS, turn=EdgeRef("seam1", "left"))
    assert built.turning is not None
    assert built.turning.edge == BACK.ref
    assert [w.code for w in built.warnings] == ["turn-edge"]


def test_a_piece_of_seams_and_arcs_has_no_edge_to_turn_about() -> None:
    shape = outline(((0, 0), SEAM), ((60, 0), FRONT), bulges={1: 1.0})
    built = mold("B", face(shape), 2.0, CHOICES, WORDS, sharp_corner_deg=0.0)
    assert built.turning is None
    assert [w.code for w in built.warnings] == ["nothing-to-turn-about"]


def test_an_l_has_a_leg_that_hangs_free_while_it_is_turned() -> None:
    warnings = _mold(face(ell())).warnings
    assert [(w.code, w.at, w.blocking) for w in warnings] == [("free-leg", (70, 0), False)]


def test_a_sharp_corner_is_said_where_it_is_face_up() -> None:
    sharp = outline(((0, 0), FRONT), ((70, 0), SEAM), ((56, 25), BACK), ((0, 25), LEFT))
    assert _mold(face(sharp)).warnings == ()
    sharper = outline(((0, 0), FRONT), ((70, 0), SEAM), ((50, 25), BACK), ((0, 25), LEFT))
    warnings = _mold(face(sharper)).warnings
    assert [(w.code, w.at) for w in warnings] == [("sharp-corner", (70, 0))]
    assert "51 degrees" in warnings[0].text
    assert mold("B", face(sharper), 2.0, CHOICES, WORDS, sharp_corner_deg=50.0).warnings == ()


def test_sixty_degrees_is_not_sharp() -> None:
    shape = outline(((0, 0), FRONT), ((40, 0), RIGHT), ((20, 20 * 3.0**0.5), BACK))
    assert [w.code for w in _mold(face(shape)).warnings] == []


def test_sides_on_the_base_need_lower_strips_and_a_larger_base() -> None:
    built = _mold(face(counter()), MoldChoices(construction="sides-on-base"))
    assert {s.height_in for s in built.strips} == {2.0}
    assert area(built.base) > area(built.frame) == area(built.outline)
    outside = _mold(face(counter()))
    assert outside.base == outside.frame


def test_equal_pieces_have_equal_molds_that_can_be_cached() -> None:
    past = (PastChoice(corner_ref(EdgeRef("leg1", "back"), BACK_SIDE), BACK_SIDE),)
    one = mold("B", face(odd(), _holes()), 2.0, CHOICES, WORDS, SQUARE_FRONT, past)
    other = mold("B", face(odd(), _holes()), 2.0, CHOICES, WORDS, SQUARE_FRONT, past)
    assert one == other
    assert hash(one) == hash(other)


# A U with a seam through a double bowl, split by geometry/splitting.py.

_U = outline(
    ((25, -50), tag("front", "leg1", "front")),
    ((25, 0), tag("front", "leg2", "front")),
    ((110, 0), tag("front", "leg3", "front")),
    ((110, -40), tag("end", "leg3", "end")),
    ((135, -40), tag("back", "leg3", "back")),
    ((135, 26), tag("back", "leg2", "back")),
    ((0, 25), tag("back", "leg1", "back")),
    ((0, -50), tag("end", "leg1", "start")),
)
_BOWLS = outline(
    ((44, 5), CUT),
    ((44, 19), CUT),
    ((45, 20), CUT),
    ((71, 20), CUT),
    ((72, 19), CUT),
    ((72, 5), CUT),
    ((71, 4), CUT),
    ((45, 4), CUT),
    bulges={1: -QUARTER, 3: -QUARTER, 5: -QUARTER, 7: -QUARTER},
)


def _u_faces(gap: float = 0.0625) -> tuple[Face, Face]:
    start = (62.0, 25.0 + 62.0 / 135.0)
    path = SeamPath("seam1", start, (0.0, -1.0), None, None, gap, "both", "against")
    faces = split(_U, (opening(_BOWLS),), (path,)).faces
    left, right = sorted(faces, key=lambda f: f.sides)
    return left, right


def test_a_u_with_a_seam_through_its_bowl_gets_one_seam_board_and_a_part_of_foam_each() -> None:
    for part, name in zip(_u_faces(), ("left", "right"), strict=True):
        built = _mold(part)
        seam = [s for s in built.strips if s.tag.kind is Kind.SEAM]
        (board,) = seam
        assert board.tag.ref == EdgeRef("seam1", name)
        assert not board.bead
        assert board.edge_length_in == pytest.approx(25.46, abs=0.01)
        assert not any(s.tag.kind is Kind.OPENING for s in built.strips)
        (foam,) = built.knockouts
        assert foam.partial
        assert foam.opening == "sink1"


def test_the_foam_at_a_seam_stands_on_the_base_flush_with_the_seam_board() -> None:
    for part in _u_faces():
        built = _mold(part)
        base, foam = Polygon(ring(built.base)), Polygon(ring(built.knockouts[0].outline))
        concrete = Polygon(ring(built.outline))
        assert base.buffer(1e-6).contains(foam)
        assert concrete.intersection(foam).area == pytest.approx(0.0, abs=1e-6)
        assert concrete.area + foam.area == pytest.approx(base.area)
        flush = [
            edge
            for edge, of in zip(
                built.knockouts[0].outline.edges, built.knockouts[0].outline.tags, strict=True
            )
            if of.kind is Kind.SEAM
        ]
        (closing,) = flush
        board = next(s for s in built.strips if s.tag.kind is Kind.SEAM)
        sides = [built.frame.edges[i] for i in board.edges]
        at = {edge.start[0] for edge in sides} | {edge.end[0] for edge in sides}
        assert {closing.start[0], closing.end[0]} <= at


def test_the_parts_of_a_bowl_and_the_gap_make_up_the_bowl() -> None:
    parts = [_mold(part).knockouts[0] for part in _u_faces()]
    bowl = abs(area(_BOWLS))
    assert sum(abs(area(p.outline)) for p in parts) + 16.0 * 0.0625 == pytest.approx(bowl)
    beads = sum(p.bead_length_in for p in parts)
    assert beads + 2 * 0.0625 == pytest.approx(perimeter(_BOWLS))


def test_no_bead_goes_up_beside_the_seam_of_a_u() -> None:
    for part in _u_faces():
        built = _mold(part)
        corners = sum(
            not (built.frame.tags[i].kind is Kind.SEAM or built.frame.tags[i - 1].kind is Kind.SEAM)
            for i in range(len(built.frame.vertices))
        )
        assert built.uprights_length_in == pytest.approx(2.0 * corners)


def test_both_halves_of_a_u_read_the_right_way_round() -> None:
    left, right = (_mold(part).handedness for part in _u_faces())
    # As installed, at the front of the long leg along the left wall, the other leg with the seam
    # comes toward one on the right; at the front of the back leg the seam lies on the left.
    assert "toward you on your LEFT, seam on the side toward you" in left
    assert "toward you on your LEFT, seam on your RIGHT" in right


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(25.0, 60.0), min_size=5, max_size=9), st.integers(0, 8))
def test_any_shape_can_be_built(reaches: list[float], seam: int) -> None:
    n = len(reaches)
    kinds = [FRONT, BACK, LEFT, RIGHT, FRONT_2, BACK_2, END_2]
    sides = [
        ((r * cos(2 * pi * i / n), r * sin(2 * pi * i / n)), kinds[i % len(kinds)])
        for i, r in enumerate(reaches)
    ]
    sides[seam % n] = (sides[seam % n][0], SEAM)
    shape = outline(*sides)
    built = _mold(face(shape))
    assert sorted(i for s in built.strips for i in s.edges) == list(range(n))
    for strip in built.strips:
        assert strip.bead == (strip.tag.kind is not Kind.SEAM)
        if len(strip.edges) == 1:
            mate = [e for e, t in zip(shape.edges, shape.tags, strict=True) if t == strip.tag]
            assert any(length(e) == pytest.approx(strip.edge_length_in) for e in mate)
    assert built.handedness.startswith("Face down. ")
