"""Seams placed and taken by hand: at corners, through openings, with their weights beside them."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.canvas.mirroring import mirrored_mark
from app.gestures.places import picked
from app.gestures.weighing import weighed
from export.marks import Spot
from geometry.outline import contains
from geometry.picking import Subject
from geometry.points import Point, mirrored_point
from geometry.seams import SeamOnLeg
from shop import edits
from shop.plan import pieces, tops
from tests.shop import kitchens
from tests.shop.kitchens import after
from tests.window.conftest import Desk, desk_on, gone


@pytest.fixture
def corner(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(kitchens.angle(), tmp_path)
    desk.session.go_to("Seams")
    yield desk
    gone(desk)


@pytest.fixture
def through(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    job = after(
        kitchens.straight(), edits.AddOpening(kitchens.sink()), edits.AddSeam(kitchens.seam(60.0))
    )
    desk = desk_on(job, tmp_path)
    yield desk
    gone(desk)


def inside_corner(desk: Desk) -> Point:
    left, _ = tops(desk.job)[0].top.frames
    return left.front.end  # type: ignore[union-attr]


def start(desk: Desk) -> SeamOnLeg:
    (seam,) = desk.session.shown_job.seams
    assert isinstance(seam.start, SeamOnLeg)
    return seam.start


def nearest_to_room_corner(desk: Desk) -> Point:
    left, _ = tops(desk.job)[0].top.frames
    (x, y), (cx, cy) = inside_corner(desk), left.back.end  # type: ignore[union-attr]
    return ((x + 3.0 * cx) / 4.0, (y + 3.0 * cy) / 4.0)


def test_a_seam_at_a_corner_stays_off_the_other_leg(corner: Desk) -> None:
    desk = corner
    desk.bench.deeds.start_tool("seam")
    desk.move(nearest_to_room_corner(desk))
    assert "Snapped: in line with the corner of the fronts." in desk.bench.entry.hint.text()
    assert len(pieces(desk.session.shown_job)) == 2
    # The piece at the corner is as long as its leg: no strip is cut off along the other one.
    by_corner = start(desk).along
    desk.click(nearest_to_room_corner(desk))
    assert start(desk).along == by_corner


def test_a_dragged_seam_stops_at_the_corner_and_alt_lets_it_go_on(corner: Desk) -> None:
    desk = corner
    frame = tops(desk.job)[0].top.frames[0]
    leg = frame.leg  # type: ignore[union-attr]
    desk.session.apply(edits.AddSeam(kitchens.seam(40.0, leg=leg)))
    (edge,) = {
        edge
        for piece in pieces(desk.job)[:1]
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True)
        if getattr(tag.ref, "owner", "") == "seam500"
    }
    at = ((edge.start[0] + edge.end[0]) / 2.0, (edge.start[1] + edge.end[1]) / 2.0)
    far = nearest_to_room_corner(desk)
    desk.session.choose(Subject("seam", "seam500"))
    desk.drag(at, far)
    stopped = start(desk).along
    assert stopped > 40.0
    corner_at = inside_corner(desk)
    assert any(
        abs(p[0] - corner_at[0]) + abs(p[1] - corner_at[1]) < 0.1
        for piece in pieces(desk.job)
        for p in piece.face.raw.vertices
    )


def test_the_weights_of_a_seam_lie_on_no_other_leg(corner: Desk) -> None:
    desk = corner
    x, y = inside_corner(desk)
    desk.bench.deeds.start_tool("seam")
    outlines = [top.top.outline for top in tops(desk.job)]
    for off in (2.0, 4.0, 8.0):
        for spot in ((x - off, y + 2.0), (x - 2.0, y - off), (x + 2.0, y - off)):
            if not any(contains(outline, spot) for outline in outlines):
                continue
            desk.move(spot)
            tags = [m for m in desk.bench.hand.overlay if isinstance(m, Spot)]
            assert {tag.text.split(" ")[0] for tag in tags} == {
                piece.name for piece in pieces(desk.session.shown_job)
            }
            for tag in tags:
                assert not any(contains(outline, tag.at) for outline in outlines)
    desk.bench.hand.cancel()


def test_both_weights_of_an_islands_seam_stand_at_one_end() -> None:
    job = after(kitchens.island(), edits.AddSeam(kitchens.island_seam(36.0)))
    tags = [mark for mark in weighed(job, "seam500", 1.0) if isinstance(mark, Spot)]
    assert len(tags) == 2
    assert abs(tags[0].at[1] - tags[1].at[1]) < 1.0


def test_a_length_that_was_pointed_at_is_let_go_when_a_tool_begins(through: Desk) -> None:
    desk = through
    desk.session.go_to("Seams")
    QTest.qWait(150)
    words = next(w for w in desk.bench.canvas.up.drawing.lengths if w.subject is not None)
    desk.bench.over.key = (words.subject, words.asks)
    desk.bench.deeds.start_tool("seam")
    assert desk.bench.over.key is None


def test_weights_stand_at_the_same_places_face_down(corner: Desk) -> None:
    job = after(corner.job, edits.AddSeam(kitchens.seam(60.0)))
    for mark in weighed(job, "seam500", 1.0):
        if isinstance(mark, Spot):
            down = mirrored_mark(mark)
            assert isinstance(down, Spot)
            assert down.places == tuple(mirrored_point(place) for place in mark.places)
            assert down.at == down.places[0]


def test_a_seam_is_taken_along_its_line_through_a_sink_and_the_sink_beside_it(
    through: Desk,
) -> None:
    desk = through
    hole = tops(desk.job)[0].openings[0].center
    beside = (hole[0] + 8.0, hole[1])
    desk.session.go_to("Seams")
    desk.click(hole)
    assert desk.session.chosen == (Subject("seam", "seam500"),)
    desk.click(beside)
    assert desk.session.chosen == (Subject("opening", "opening400"),)
    desk.session.choose()
    desk.session.go_to("Openings")
    desk.click(hole)
    assert desk.session.chosen == (Subject("opening", "opening400"),)


def test_a_seam_is_dragged_out_of_a_sink_by_its_line(through: Desk) -> None:
    desk = through
    hole = tops(desk.job)[0].openings[0].center
    desk.session.go_to("Seams")
    desk.drag(hole, (hole[0] + 30.0, hole[1]))
    assert start(desk).along == pytest.approx(90.0, abs=1.0)
    QTest.keyClick(desk.bench.window, Qt.Key.Key_Escape)


def test_a_seam_of_a_top_that_cannot_be_made_is_nowhere(through: Desk) -> None:
    hole = tops(through.job)[0].openings[0].center
    flat = after(through.job, edits.MoveCorner("corner2", 0.0, 0.0))
    assert tops(flat) == ()
    assert picked(flat, hole, 2.0, in_seams=True) == picked(flat, hole, 2.0)
