from math import pi

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QRect
from PySide6.QtGui import QPaintEvent, QRegion
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsItem,
    QGraphicsPathItem,
    QGraphicsSimpleTextItem,
)
from pytestqt.qtbot import QtBot

from app.canvas.camera import Camera
from app.canvas.mirroring import mirrored_mark
from app.canvas.scene import OVERLAY_Z, MarkScene
from app.canvas.view import BoardView
from app.look import DARK, LIGHT, ROLE_LOOKS, color
from export.marks import AnyMark, Dimension, Line, Region, Spot, Words
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, area
from geometry.picking import Subject

TAG = Tag(Kind.FRONT, EdgeRef("leg1", "front"))
ROUND = Outline(((0.0, 0.0), (10.0, 0.0), (10.0, 6.0)), (0.0, 0.5, 0.0), (TAG, TAG, TAG))
PIECE = Subject("piece", "A")
MARKS: tuple[AnyMark, ...] = (
    Region("slab", PIECE, loops=(ROUND,)),
    Line("seam", Subject("seam", "seam1"), points=((0.0, 0.0), (0.0, 9.0)), bulges=(0.25,)),
    Words("words", PIECE, text="A", at=(3.0, 2.0), anchor="left", angle_rad=0.3),
    Spot("wall", Subject("corner", "corner1"), kind="tag", at=(0.0, 0.0), text="1"),
)


def test_the_same_group_touches_nothing(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("a", MARKS),))
    assert scene.touched == len(MARKS)
    scene.show((("a", MARKS),))
    assert scene.touched == 0
    assert scene.marks == MARKS


def test_equal_marks_made_anew_touch_nothing(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("a", MARKS),))
    scene.show((("a", tuple(replace(mark) for mark in MARKS)),))
    assert scene.touched == 0


def test_one_changed_mark_touches_one_item_and_keeps_it(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("a", MARKS), ("b", MARKS[:1])))
    items = len(scene.items())
    words = MARKS[2]
    assert isinstance(words, Words)
    changed = (*MARKS[:2], replace(words, text="B"), MARKS[3])
    scene.show((("a", changed), ("b", MARKS[:1])))
    assert scene.touched == 1
    assert len(scene.items()) == items
    assert any(
        isinstance(item, QGraphicsSimpleTextItem) and item.text() == "B" for item in scene.items()
    )


def test_a_group_that_goes_takes_its_items_along(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    empty = len(scene.items())
    scene.show((("a", MARKS),))
    scene.show(())
    assert len(scene.items()) == empty
    assert scene.marks == ()


def test_marks_keep_their_order_from_back_to_front(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("a", MARKS[:2]), ("b", MARKS[2:])))
    scene.show((("b", MARKS[2:]), ("a", MARKS[:2])))
    assert scene.marks == (*MARKS[2:], *MARKS[:2])
    heights = [item.zValue() for item in scene.items() if item.parentItem() is None]
    assert len(set(heights)) == len(heights)


def test_the_number_of_a_corner_lies_above_all_that_crosses_it(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    ends = ((0.0, 0.0), (1.0, 1.0))
    later = Line("ellipse", Subject("corner", "corner1"), points=ends, bulges=(0.0,))
    scene.show((("walls", MARKS), *((f"reading {n}", (later,)) for n in range(90))))
    shown = [item for item in scene.items() if item.isVisible() and item.parentItem() is None]
    highest = max(shown, key=lambda item: item.zValue())
    assert [c.text() for c in highest.childItems() if isinstance(c, QGraphicsSimpleTextItem)] == [
        "1"
    ]
    assert highest.zValue() < OVERLAY_Z


def test_hover_and_choice_restyle_without_touching_a_shape(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("a", MARKS[1:2]),))
    (line,) = (i for i in scene.items() if isinstance(i, QGraphicsPathItem) and i.isVisible())
    path, width = line.path(), line.pen().widthF()
    scene.highlight(frozenset(), frozenset({Subject("seam", "seam1")}))
    assert line.pen().widthF() > width
    assert line.path() == path
    scene.highlight(frozenset(), frozenset())
    assert line.pen().widthF() == width


def test_another_palette_changes_the_colors(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("a", MARKS),))
    scene.restyle(DARK, 150.0)
    pens = {
        item.pen().color().name().upper()
        for item in scene.items()
        if isinstance(item, QGraphicsPathItem)
    }
    assert DARK.seam in pens
    assert LIGHT.seam not in pens


def test_the_overlay_is_no_part_of_the_drawing(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("a", MARKS),))
    scene.show_overlay(MARKS[1:2])
    assert scene.marks == MARKS
    assert scene.overlay == MARKS[1:2]
    scene.show_overlay(())
    assert scene.overlay == ()


def test_the_overlay_follows_a_gesture_in_the_colors_of_the_window(dressed: QApplication) -> None:
    scene = MarkScene(LIGHT, 100.0)
    start, end = (0.0, 0.0), (9.0, 0.0)
    guide = Line("dimension", points=(start, end), bulges=(0.0,))
    words = Words("words", text="9", at=(4.0, 1.0))
    scene.show_overlay((guide, words, *MARKS[3:]))
    moved = replace(guide, points=(start, (0.0, 9.0)))
    scene.show_overlay((moved, replace(words, text="12")))
    (line,) = (item for item in overlaid(scene) if isinstance(item, QGraphicsPathItem))
    (text,) = (item for item in overlaid(scene) if isinstance(item, QGraphicsSimpleTextItem))
    assert line.path().boundingRect().height() == 9.0
    assert text.text() == "12"

    scene.restyle(DARK, 100.0)
    assert not overlaid(scene)
    scene.show_overlay((moved,))
    (line,) = (item for item in overlaid(scene) if isinstance(item, QGraphicsPathItem))
    stroke = ROLE_LOOKS["dimension"].stroke
    assert stroke is not None
    assert line.pen().color().name() == color(DARK, stroke.color).lower()


def test_a_number_in_its_ring_is_moved_with_its_place_and_made_anew_with_its_words(
    dressed: QApplication,
) -> None:
    scene = MarkScene(LIGHT, 100.0)
    tag, arrow = MARKS[3], Spot("seam", kind="arrow", at=(0.0, 0.0))
    scene.show((("a", (tag, arrow)),))
    scene.show_overlay((tag,))
    own, turned, over = (item.graphics for item in (*scene._all_items(), *scene._overlay))
    there = (5.0, 6.0)
    scene.show((("a", (replace(tag, at=there), replace(arrow, at=there, angle_rad=pi / 2.0))),))
    scene.show_overlay((replace(tag, at=there),))
    assert [i.graphics for i in (*scene._all_items(), *scene._overlay)] == [own, turned, over]
    assert all(item.pos().toTuple() == there for item in (own, turned, over))
    assert turned.rotation() == -90.0
    scene.show((("a", (replace(tag, text="2"), arrow)),))
    scene.show_overlay((replace(tag, text="2"),))
    fresh, _, above = (item.graphics for item in (*scene._all_items(), *scene._overlay))
    assert fresh is not own
    assert above is not over
    texts = [i.text() for i in scene.items() if isinstance(i, QGraphicsSimpleTextItem)]
    assert texts == ["2", "2"]


def overlaid(scene: MarkScene) -> list[QGraphicsItem]:
    return [item for item in scene.items() if OVERLAY_Z <= item.zValue() < 2.0 * OVERLAY_Z]


def test_a_mark_mirrored_twice_is_itself() -> None:
    dimension = Dimension("dimension", a=(0.0, 0.0), b=(5.0, 0.0), offset=0.3, text="5")
    for mark in (*MARKS[1:], dimension):
        assert mirrored_mark(mirrored_mark(mark)) == mark


def test_a_mirrored_shape_keeps_its_area_and_its_words_stay_readable() -> None:
    region = mirrored_mark(MARKS[0])
    assert isinstance(region, Region)
    assert area(region.loops[0]) == area(ROUND)
    words = mirrored_mark(MARKS[2])
    assert isinstance(words, Words)
    assert (words.text, words.at, words.anchor) == ("A", (-3.0, 2.0), "right")


def noting(painted: list[QRegion]) -> type[BoardView]:
    """Return a view that notes what of it is painted."""

    def viewport_event(view: BoardView, event: QEvent) -> bool:
        if isinstance(event, QPaintEvent):
            painted.append(event.region())
        return BoardView.viewportEvent(view, event)

    return type("Noting", (BoardView,), {"viewportEvent": viewport_event})


def test_no_word_stays_on_the_screen_where_it_was_when_a_corner_is_painted_meanwhile(
    dressed: QApplication, qtbot: QtBot
) -> None:
    scene = MarkScene(LIGHT, 100.0)
    painted: list[QRegion] = []
    view = noting(painted)(scene, "up")
    qtbot.addWidget(view)
    view.resize(600, 400)
    words = Words("words", None, text="2 15/16 bridge", at=(1.0, 1.0), anchor="middle")
    scene.show((("a", (words,)),))
    view.show()
    view.look_through(Camera(scale=50.0, fold_x=6.0), 0.0)
    qtbot.waitExposed(view)
    for _ in range(5):
        QApplication.processEvents()
    before = view.seen_at(words.at).toPoint()
    painted.clear()
    scene.show((("a", (replace(words, at=(9.0, -2.0)),)),))
    view.viewport().repaint(QRect(0, 0, 4, 4))
    for _ in range(5):
        QApplication.processEvents()
    assert any(region.contains(before) for region in painted)
    assert not scene.unsettled
