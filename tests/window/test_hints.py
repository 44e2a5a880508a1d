"""What the tools say is never cut: it stands beside the boxes, or at the foot of the drawing."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QRect, Qt
from PySide6.QtWidgets import QApplication, QLabel

from app.actions import ACTIONS
from geometry.outline import bounding_box
from shop.plan import pieces
from tests.window.conftest import Desk, desk_on, gone, sample

TOOL_ROW = {action.id for action in ACTIONS if action.callback == "start_tool"}


@pytest.fixture(scope="module")
def desk(dressed: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    made = desk_on(sample("double-bowl"), Path(tmp_path_factory.mktemp("hints")))
    yield made
    gone(made)


def cut(label: QLabel) -> bool:
    """Tell whether a label's words have less room than they take."""
    inside = label.contentsRect().width()
    wraps = Qt.TextFlag.TextWordWrap if label.wordWrap() else Qt.TextFlag.TextSingleLine
    taken = label.fontMetrics().boundingRect(QRect(0, 0, inside, 1000), wraps, label.text())
    return taken.width() > inside or taken.height() > label.contentsRect().height()


def check(desk: Desk) -> None:
    for _ in range(3):
        QApplication.processEvents()
    bench = desk.bench
    said, shown = bench.entry.hint.accessibleName(), (bench.entry.hint, bench.long_hint)
    assert [label.text() for label in shown if label.isVisible()] == ([said] if said else [])
    for label in shown:
        parent = label.parentWidget()
        assert parent is not None
        if label.isVisible():
            assert not cut(label), said
            assert parent.rect().contains(label.geometry())
    for box in bench.entry.boxes:
        parent = box.parentWidget()
        assert parent is not None
        assert parent.rect().contains(box.geometry()), said


@pytest.mark.parametrize("stage", ["Room", "Counters", "Openings", "Seams", "Molds", "Pour"])
def test_what_a_stage_says_is_whole(desk: Desk, stage: str) -> None:
    desk.session.go_to(stage)  # type: ignore[arg-type]
    check(desk)


@pytest.mark.parametrize("tool", sorted(TOOL_ROW))
def test_what_a_tool_says_is_whole_at_every_step(desk: Desk, tool: str) -> None:
    desk.session.go_to("Counters")
    x0, y0, x1, y1 = bounding_box(pieces(desk.job)[0].face.outline)
    across, up = x1 - x0, y1 - y0
    desk.bench.deeds.start_tool(tool)
    check(desk)
    for share in (0.3, 0.4, 0.5):
        point = (x0 + share * across, y1 - (share - 0.29) * 4.0 * up)
        desk.move(point)
        check(desk)
        if not desk.bench.hand.working:
            break
        desk.click(point)
        check(desk)
    desk.bench.hand.cancel()
    while desk.session.history.past:
        desk.session.undo()


def test_a_hint_said_apart_goes_with_the_tool_and_stays_at_the_foot(desk: Desk) -> None:
    desk.session.go_to("Seams")
    x0, y0, x1, y1 = bounding_box(pieces(desk.job)[0].face.outline)
    desk.bench.deeds.start_tool("dogleg")
    for share in (0.1, 0.5):
        desk.move(((x0 + x1) / 2.0 + 5.0, y1 - share * (y1 - y0)))
        desk.click(((x0 + x1) / 2.0 + 5.0, y1 - share * (y1 - y0)))
    label, canvas = desk.bench.long_hint, desk.bench.canvas
    assert label.isVisible()
    assert label.text().startswith("Click where it comes out")
    foot = canvas.height() - label.geometry().bottom()
    desk.bench.window.resize(1280, 700)
    QApplication.processEvents()
    assert canvas.height() - label.geometry().bottom() == foot
    desk.bench.window.resize(1280, 720)
    desk.bench.hand.cancel()
    QApplication.processEvents()
    assert not label.isVisible()


def test_another_hint_in_the_room_of_one_has_nothing_laid_out_anew(desk: Desk) -> None:
    desk.session.choose()
    desk.session.go_to("Counters")
    check(desk)
    entry, asked = desk.bench.entry, Layouts()
    entry.installEventFilter(asked)
    entry.ask("Radius 3 1/2.", ())
    check(desk)
    assert entry.hint.text() == "Radius 3 1/2."
    assert asked.count == 0
    entry.ask("It lies on a cabinet side. " * 12, ())
    check(desk)
    assert asked.count > 0
    desk.bench.typing.ask()
    check(desk)


class Layouts(QObject):
    """Counts how often what it watches is asked to lay itself out."""

    count = 0

    def eventFilter(self, _: QObject, event: QEvent) -> bool:  # noqa: N802  (Qt's name)
        """Count."""
        self.count += event.type() == QEvent.Type.LayoutRequest
        return False
