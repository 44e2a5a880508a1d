"""Names, tab order and sizes: what keyboards, screen readers and wet gloves need."""

import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QGraphicsView,
    QLabel,
    QLineEdit,
    QScrollArea,
    QWidget,
)
from pytestqt.qtbot import QtBot

from app.canvas.fold import FoldPill
from app.look import DESK, SHOP, Scale
from app.panels.answer_box import AnswerBox
from app.panels.header import StageButton
from app.reading_order import read_through, show_whole, takes_tab
from app.stages import STAGES, Stage
from geometry.picking import Subject
from shop.plan import pieces
from tests.window.conftest import Desk, focused

FOCUSABLE = (QAbstractButton, QComboBox, QGraphicsView, QLineEdit)


def focusable(desk: Desk) -> list[QWidget]:
    return [
        widget
        for widget in desk.bench.window.findChildren(QWidget)
        if widget.isVisible()
        and widget.isEnabled()
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and isinstance(widget, FOCUSABLE)
    ]


def name_of(widget: QWidget) -> str:
    said = widget.accessibleName()
    return said or (widget.text() if isinstance(widget, QAbstractButton) else "")


@pytest.mark.parametrize("stage", STAGES)
def test_every_widget_that_takes_keys_has_a_name(corner_kitchen: Desk, stage: str) -> None:
    corner_kitchen.bench.header.tape.buttons[stage].click()  # type: ignore[index]
    corner_kitchen.session.choose(Subject("opening", corner_kitchen.job.openings[0].id))
    widgets = focusable(corner_kitchen)
    assert len(widgets) > 10
    assert [w for w in widgets if not name_of(w)] == []


def test_tab_reaches_every_widget_that_takes_keys(galley: Desk) -> None:
    galley.session.choose(Subject("opening", galley.job.openings[0].id))
    galley.bench.canvas.up.setFocus()
    wanted = {id(w) for w in focusable(galley)}
    reached = set()
    for _ in range(4 * len(wanted)):
        galley.key(Qt.Key.Key_Tab)
        reached.add(id(focused()))
    assert [name_of(w) for w in focusable(galley) if id(w) not in reached] == []


def test_the_pieces_are_listed_with_their_weights_and_can_be_chosen(corner_kitchen: Desk) -> None:
    rows = corner_kitchen.bench.pieces.rows
    assert [row.accessibleName().split(",")[0] for row in rows] == [
        f"Piece {piece.name}" for piece in pieces(corner_kitchen.job)
    ]
    rows[-1].click()
    last = pieces(corner_kitchen.job)[-1].name
    assert corner_kitchen.session.chosen == (Subject("piece", last),)
    assert corner_kitchen.bench.properties.heading.text() == f"Piece {last}"


def test_everything_can_be_chosen_by_keyboard_one_after_the_other(galley: Desk) -> None:
    seen = []
    for _ in range(60):
        galley.bench.deeds.choose_next()
        seen.append(galley.session.chosen[0])
    job = galley.job
    assert {Subject("wall", w.id) for w in job.room.walls} <= set(seen)
    assert {Subject("opening", o.id) for o in job.openings} <= set(seen)
    assert {Subject("piece", p.name) for p in pieces(job)} <= set(seen)


def test_the_fold_is_moved_with_the_arrow_keys(galley: Desk) -> None:
    pill = galley.bench.canvas.pill
    assert isinstance(pill, FoldPill)
    pill.setFocus()
    before = galley.bench.canvas.up.width()
    galley.key(Qt.Key.Key_Left)
    assert galley.bench.canvas.up.width() < before


def test_in_shop_view_targets_are_44_px_and_lengths_24(galley: Desk) -> None:
    galley.session.choose(Subject("opening", galley.job.openings[0].id))
    galley.bench.deeds.switch_shop_view()
    small = [
        (type(w).__name__, name_of(w), w.height())
        for w in focusable(galley)
        if isinstance(w, QAbstractButton | QLineEdit)
        and w.sizeHint().height() < 44
        and not isinstance(w, FoldPill | StageButton)
    ]
    box = galley.bench.entry.boxes[0]
    assert isinstance(box, AnswerBox)
    size = box.fontInfo().pixelSize()
    galley.bench.deeds.switch_shop_view()
    assert small == []
    assert size >= 24


def test_the_window_fits_an_old_laptop(galley: Desk) -> None:
    window = galley.bench.window
    window.resize(1280, 720)
    assert window.size() == QSize(1280, 720)
    assert window.minimumSizeHint().width() <= 1280
    assert window.minimumSizeHint().height() <= 720
    assert galley.bench.canvas.height() > 400


def test_a_stage_says_when_something_in_it_wants_attention(corner_kitchen: Desk) -> None:
    buttons = corner_kitchen.bench.header.tape.buttons.values()
    marked = [button for button in buttons if button.attention]
    assert marked
    assert all("to look at" in button.accessibleName() for button in marked)


def test_no_words_in_the_window_are_cut_to_nothing(galley: Desk) -> None:
    for label in galley.bench.window.findChildren(QLabel):
        if label.isVisible() and label.text() and label is not galley.bench.entry.echo:
            assert label.width() > 0
            assert label.height() >= label.fontMetrics().height() - 2, label.text()


LARGER = [Scale(*(round(times * size) for size in DESK)) for times in (1.25, 1.5)]


@pytest.mark.parametrize("stage", ["Room", "Counters", "Molds", "Sheets"])
@pytest.mark.parametrize("scale", [*LARGER, SHOP])
def test_with_larger_letters_nothing_is_cut_off_that_cannot_be_scrolled_to(
    corner_kitchen: Desk, stage: Stage, scale: Scale, qtbot: QtBot
) -> None:
    bench = corner_kitchen.bench
    bench.scale = scale
    bench.dress()
    corner_kitchen.session.go_to(stage)
    corner_kitchen.session.choose(Subject("opening", corner_kitchen.job.openings[0].id))
    bench.show_consequences()
    qtbot.waitUntil(lambda: not bench._unsought, timeout=20_000)
    QApplication.processEvents()
    bench.window.resize(1280, 720)
    QApplication.processEvents()
    assert bench.window.size() == QSize(1280, 720)
    aside = bench.window.whole.horizontalScrollBar()
    qtbot.waitUntil(lambda: not aside.isVisible(), timeout=10_000)
    cut = out_of_reach(corner_kitchen)
    bench.scale = DESK
    bench.dress()
    assert cut == []


@pytest.mark.parametrize("stage", ["Counters", "Molds", "Sheets"])
def test_a_small_window_scrolls_to_all_that_takes_keys(
    corner_kitchen: Desk, stage: Stage, qtbot: QtBot
) -> None:
    bench = corner_kitchen.bench
    corner_kitchen.session.go_to(stage)
    corner_kitchen.session.choose(Subject("opening", corner_kitchen.job.openings[0].id))
    bench.show_consequences()
    qtbot.waitUntil(lambda: not bench._unsought, timeout=20_000)
    bench.window.resize(853, 480)
    QApplication.processEvents()
    assert bench.window.size() == QSize(853, 480)
    assert bench.window.whole.horizontalScrollBar().isVisible()
    assert out_of_reach(corner_kitchen) == []


def out_of_reach(desk: Desk) -> list[tuple[str, QSize, QSize]]:
    """Return what takes the keys and does not show whole even when it is scrolled to."""
    window = desk.bench.window
    cut = []
    for widget in [one for one in read_through(window) if takes_tab(one)]:
        show_whole(widget)
        box = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())
        seen = widget.visibleRegion().boundingRect().size()
        if isinstance(widget, QGraphicsView | QScrollArea):
            seen, box = widget.size(), box.intersected(window.rect())
        whole = seen.height() >= widget.height() - 2 and seen.width() >= widget.width() - 2
        if not (whole and window.rect().contains(box)):
            cut.append((name_of(widget), widget.size(), seen))
    return cut
