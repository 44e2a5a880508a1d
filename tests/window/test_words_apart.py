"""On the screen no words lie over others, at any stage and zoom, on both sides of the fold."""

from collections.abc import Iterator
from itertools import product
from math import cos

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from shapely import STRtree, box

from app.canvas.fold import REST_MS
from app.stages import Stage
from app.things.lengths import asked
from app.workbench import DESK_DOTS
from export.marks import Spot, Words
from geometry.naming import EdgeRef
from geometry.outline import bounding_box
from geometry.picking import Subject
from shop.applying import applied_all
from shop.plan import pieces
from shop.samples import sample_names
from tests.export.test_dimension_lines import shape_of
from tests.window.conftest import Desk, desk_on, gone, sample

STAGES: tuple[Stage, ...] = ("Room", "Counters", "Openings")
"""Those that draw the plan each in its own way; at Seams it is drawn as at Openings."""

ZOOMS = (1.0, 0.55, 2.4)
MOST_CHOSEN = 4
"""So many things of a job are chosen, one after the other."""

LEAST_SHARE = 0.02
"""Words whose boxes share less than this of the smaller one's do not touch: letters are smaller."""

pytestmark = pytest.mark.no_cover
"""Counting lines doubles the time; other tests reach them."""


@pytest.fixture(scope="module")
def desk(
    dressed: QApplication, request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Desk]:
    """A window on a sample for all of these tests: they change nothing of the job."""
    made = desk_on(sample(request.param), tmp_path_factory.mktemp(request.param))
    yield made
    gone(made)


def over_each_other(desk: Desk) -> Iterator[tuple[str, str]]:
    """Yield the words and tags of both sides that lie over each other."""
    canvas = desk.bench.canvas
    scale = canvas.camera.scale / DESK_DOTS
    for view in (canvas.up, canvas.down):
        found = [(mark, shape_of(mark, scale)) for mark in view.drawing.marks]
        known = [(mark, shape) for mark, shape in found if shape is not None]
        shapes = [shape for _, shape in known]
        for one, other in STRtree(shapes).query(shapes, "intersects").T:
            a, b = shapes[one], shapes[other]
            if one < other and a.intersection(b).area > LEAST_SHARE * min(a.area, b.area):
                yield getattr(known[one][0], "text", ""), getattr(known[other][0], "text", "")


def check(desk: Desk) -> None:
    """Look at both sides once words have found their places after the paper was moved."""
    QTest.qWait(REST_MS + 10)
    assert not list(over_each_other(desk))
    canvas = desk.bench.canvas
    for view in (canvas.up, canvas.down):
        seen = view.sceneRect()
        window = box(seen.left(), seen.top(), seen.right(), seen.bottom())
        for mark in view.drawing.marks:
            if isinstance(mark, Words):
                assert cos(mark.angle_rad) > -0.011, f"{mark.text} stands on its head"
            if isinstance(mark, Words) and mark.asks:
                ink = shape_of(mark, canvas.camera.scale / DESK_DOTS)
                assert ink is not None
                assert window.disjoint(ink) or window.contains(ink), f"{mark.text} is cut off"


@pytest.mark.parametrize("desk", sample_names(), indirect=True)
def test_no_words_lie_over_others_at_any_stage_and_zoom(desk: Desk) -> None:
    for stage, zoom in product(STAGES, ZOOMS):
        desk.session.go_to(stage)
        desk.bench.deeds.fit()
        desk.bench.canvas.zoom_middle(zoom)
        check(desk)


@pytest.mark.parametrize("desk", ["peninsula-and-ledge"], indirect=True)
def test_a_window_of_another_height_cuts_no_length_off(desk: Desk) -> None:
    desk.session.go_to("Counters")
    desk.bench.deeds.fit()
    for height in range(760, 660, -10):
        desk.bench.window.resize(1280, height)
        QTest.qWait(110)
        check(desk)


@pytest.mark.parametrize("desk", sample_names(), indirect=True)
def test_the_lengths_of_what_is_chosen_keep_clear_too_and_say_what_they_move(desk: Desk) -> None:
    things: list[tuple[Stage, Subject]] = [
        ("Openings", Subject("opening", o.id)) for o in desk.job.openings
    ]
    things += [("Seams", Subject("seam", s.id)) for s in desk.job.seams]
    things += [
        ("Counters", Subject("edge", leg.id, EdgeRef(leg.id, "front")))
        for run in desk.job.runs
        for leg in run.legs
    ]
    for stage, subject in things[:: len(things) // MOST_CHOSEN + 1]:
        desk.session.go_to(stage)
        desk.bench.deeds.fit()
        desk.session.choose(subject)
        check(desk)
        for view in (desk.bench.canvas.up, desk.bench.canvas.down):
            for words in view.drawing.lengths:
                one = asked(desk.job, words.subject, words.asks)
                assert one.words
                assert (one.question is None) == (not one.moves)
                if one.question is not None and isinstance(one.question.value, float):
                    changed = one.question.edits(one.question.value + 0.25)
                    assert applied_all(desk.job, changed) != desk.job, (words.text, one.words)


@pytest.mark.parametrize("desk", ["double-bowl", "galley"], indirect=True)
@pytest.mark.parametrize("share", [0.3, 0.5, 0.62])
def test_the_weights_beside_a_seam_keep_off_the_lengths(desk: Desk, share: float) -> None:
    desk.session.go_to("Seams")
    x0, y0, x1, y1 = bounding_box(pieces(desk.job)[0].face.outline)
    desk.bench.deeds.start_tool("seam")
    for step in range(4):
        desk.move((x0 + share * (x1 - x0) + step, (y0 + y1) / 2.0))
    scale = desk.bench.canvas.camera.scale / DESK_DOTS
    for view in (desk.bench.canvas.up, desk.bench.canvas.down):
        tags = [m for m in view.drawing.overlay if isinstance(m, Spot) and m.kind == "tag"]
        assert len(tags) == 2
        for tag in tags:
            shape = shape_of(tag, scale)
            assert shape is not None
            for words in view.drawing.lengths:
                ink = shape_of(words, scale)
                assert ink is not None
                assert shape.intersection(ink).area <= LEAST_SHARE * ink.area, words.text
    desk.bench.hand.cancel()
