"""The fold: the job face up on the left, its reflection face down on the right, one camera.

The handle between them can be dragged; one side can take the whole width.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Literal, TypeAlias

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QWidget

from app.canvas.camera import MARGIN_PX, Box, Camera, fitted, shifted, zoomed
from app.canvas.items import PATTERNS
from app.canvas.mirroring import mirrored_mark
from app.canvas.scene import MarkScene
from app.canvas.showing import EVERYWHERE, Showing, Shown
from app.canvas.view import REACH_PX, BoardView, Pointer, Side
from app.look import Palette, Scale
from app.style import font
from export.boxes import TEXT, Limits, Taken
from export.laying_out import Key, arranged
from export.marks import AnyMark, Sheet, Spot, Words
from export.word_boxes import words_box
from geometry.picking import Subject
from geometry.points import Point, mirrored_point

Sides: TypeAlias = Literal["both", "up", "down"]

LEAST_SHARE = 0.2
HANDLE_PX = 22
HEADING_PX = 40
RING_PX = 2.0
KEY_STEP_PX = 20.0
LINE_IN = 0.4
"""Lengths that lie so near each other's height, in inches of paper, are read as one line."""
REST_MS = 60
"""Words of lengths find their places so long after the paper, or what is dragged, was moved."""

MUCH = 0.1
"""A view nobody has moved is fitted anew once its size has changed by this share."""

FACE_UP = "Face up, as it sits in the kitchen"
FACE_DOWN = "Face down, as it lies in the mold"


class FoldCanvas(QFrame):
    """Both sides of the fold. Pointer signals come from either side, always as seen face up.

    While steady is set the drawing stays where it is, whatever happens round it.
    """

    pressed = Signal(object)
    moved = Signal(object)
    released = Signal(object)
    opened = Signal(object)
    departed = Signal()
    camera_changed = Signal()

    def __init__(self, palette: Palette, scale: Scale, dots: float) -> None:
        super().__init__()
        self.setProperty("look", "paper")
        self.setAccessibleName("Drawing, both sides of the fold")
        self._palette, self._scale, self._dots = palette, scale, dots
        self._share = 0.5
        self._sides: Sides = "both"
        self._groups: tuple[Sequence[Shown], Sequence[Shown]] = ((), ())
        self._box: Callable[[], Box] | None = None
        self._showing = (Showing(), Showing())
        self._passing = False
        self._overlay: tuple[AnyMark, ...] = ()
        self._fit_pending = True
        self._moved_by_hand = False
        self._fitted_px = (0, 0)
        self.steady = False
        self._resting = QTimer(self)
        self._resting.setSingleShot(True)
        self._resting.setInterval(REST_MS)
        self._resting.timeout.connect(self._render)
        self.camera = Camera()
        self.up = BoardView(MarkScene(palette, dots), "up", self)
        self.down = BoardView(MarkScene(palette, dots), "down", self)
        for view, name in ((self.up, FACE_UP), (self.down, FACE_DOWN)):
            view.setAccessibleName(name)
            view.viewport().setAccessibleName(name)
        self.fold_line = FoldLine(palette, self)
        self.pill = FoldPill(self)
        self._headings = (QLabel(FACE_UP, self), QLabel(FACE_DOWN, self))
        self.empty_words = QLabel("", self)
        self.empty_words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty_words.setWordWrap(True)
        self.empty_words.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        for view in (self.up, self.down):
            view.pressed.connect(self.pressed)
            view.moved.connect(self._on_moved)
            view.released.connect(self.released)
            view.opened.connect(self.opened)
            view.departed.connect(self._on_departed)
            view.keys_came.connect(self.update)
            view.zoom_asked.connect(self.zoom)
            view.shift_asked.connect(self.shift)
        self.fold_line.dragged.connect(self._on_fold_dragged)
        self.pill.dragged.connect(self._on_fold_dragged)
        self._dress_headings()

    @property
    def sides(self) -> Sides:
        """Which sides are shown."""
        return self._sides

    @property
    def _shown_views(self) -> tuple[BoardView, ...]:
        views = {"both": (self.up, self.down), "up": (self.up,), "down": (self.down,)}
        return views[self._sides]

    def take_keys(self) -> None:
        """Let the keys come to the side that is shown."""
        self._shown_views[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def show_sides(self, sides: Sides) -> None:
        """Show both sides of the fold, or one at the whole width."""
        self._sides = sides
        self._arrange()
        self._render()
        self.fit()

    def show_groups(
        self,
        up: Sequence[Shown],
        down: Sequence[Shown],
        box: Callable[[], Box],
        *,
        passing: bool,
        hasty: bool,
    ) -> None:
        """Show the drawing of each side; box tells what part of the model it takes, face up.

        passing says that the job is not taken yet; hasty, that it is one of many while the hand
        moves, so that words need not find their best places.
        """
        self._groups, self._box, self._passing = (up, down), box, passing
        self._render(hasty=hasty)
        if hasty:
            self._resting.start()
        if self._fit_pending or not (
            passing or self.steady or self._moved_by_hand or self._whole()
        ):
            self.fit()

    def show_overlay(self, marks: Iterable[AnyMark]) -> None:
        """Show what a gesture draws, given face up, on both sides."""
        new = tuple(marks)
        if new or self._overlay:
            self._overlay = new
            self._render_overlay()

    def highlight(
        self,
        hovered: frozenset[Subject],
        chosen: frozenset[Subject],
        length: Key | None = None,
        moving: frozenset[Subject] = frozenset(),
    ) -> None:
        """Restyle what is hovered and chosen, a length at hand, what moves with it, both sides."""
        for view in (self.up, self.down):
            view.drawing.highlight(hovered, chosen, length, moving)

    def view_of(self, side: Side) -> BoardView:
        """Return the view of a side."""
        return self.up if side == "up" else self.down

    def length_at(self, pointer: Pointer) -> Words | None:
        """Return the length whose words lie under the pointer, if any do."""
        view = self.view_of(pointer.side)
        point = pointer.point if pointer.side == "up" else mirrored_point(pointer.point)
        return view.drawing.length_at(point, pointer.tol_in / 2.0)

    def lengths(self, side: Side) -> list[Words]:
        """Return the lengths in sight on a side, as one reads: line by line from the left."""
        view = self.view_of(side)
        line_px = LINE_IN * self._dots
        seen = view.viewport().rect()
        placed = [(view.seen_at(words.at), words) for words in view.drawing.lengths]
        found = [(at, words) for at, words in placed if seen.contains(at.toPoint())]
        found.sort(key=lambda one: (one[0].y() // line_px, one[0].x()))
        return [words for _, words in found]

    def dress(self, palette: Palette, scale: Scale, dots: float) -> None:
        """Use other colors and sizes."""
        self._palette, self._scale, self._dots = palette, scale, dots
        for view in (self.up, self.down):
            view.drawing.restyle(palette, dots)
            view.reach_px = REACH_PX if scale.target < 44 else 22.0
        self.fold_line.dress(palette)
        self._dress_headings()
        self._arrange()
        self._render()
        self._render_overlay()

    def fit(self) -> None:
        """Show all of the drawing."""
        if self._box is None or not self.isVisible():
            self._fit_pending = True
            return
        self._fit_pending = self._moved_by_hand = False
        self._fitted_px = (self.width(), self.height())
        self._fit_to(self._box())

    def _whole(self) -> bool:
        """Whether all of the drawing is in sight, with room for the lengths round it."""
        if self._box is None or not self.isVisible():
            return True
        x0, y0, x1, y1 = self._box()
        room = int(MARGIN_PX / 2.0)
        return all(
            view.viewport()
            .rect()
            .adjusted(room, room, -room, -room)
            .contains(view.place_of(corner).toPoint())
            for view in self._shown_views
            for corner in ((x0, y0), (x1, y1))
        )

    def show_place(self, box: Box) -> None:
        """Bring a part of the model, given face up, before the eyes, closer if it is small."""
        left, bottom, right, top = box
        wide = max(right - left, top - bottom, 30.0) * 0.6
        cx, cy = (left + right) / 2.0, (bottom + top) / 2.0
        self._moved_by_hand = True
        self._fit_to((cx - wide, cy - wide, cx + wide, cy + wide))

    def _fit_to(self, box: Box) -> None:
        main = self._shown_views[0]
        narrow = min(view.width() for view in self._shown_views)
        # The fold lies to the right of the middle face up, to the left of it face down; seen face
        # up both are a greater x.
        self._look(fitted(box, main.width() + 2.0 * self._gap_px, narrow, main.height()))

    def zoom(self, about: Point, factor: float) -> None:
        """Go closer by a factor; this point of the model, face up, stays where it is."""
        self._moved_by_hand = True
        self._look(zoomed(self.camera, about, factor))

    def zoom_middle(self, factor: float) -> None:
        """Go closer by a factor about the middle of the view."""
        view = self._shown_views[0]
        self.zoom(view.point_at(QPointF(view.viewport().rect().center())), factor)

    def shift(self, right_px: float, down_px: float) -> None:
        """Move the paper, as seen face up; once it rests, lengths come back into sight."""
        self._moved_by_hand = True
        self._look(shifted(self.camera, right_px, down_px))
        self._resting.start()

    @property
    def _gap_px(self) -> float:
        return HANDLE_PX / 2.0 if self._sides == "both" else 0.0

    def _look(self, camera: Camera) -> None:
        rescaled = camera.scale != self.camera.scale
        self.camera = camera
        for view in (self.up, self.down):
            view.look_through(camera, self._gap_px)
        if rescaled:
            self._render()
            self._render_overlay()
        self.camera_changed.emit()

    def _render(self, *, hasty: bool = False) -> None:
        scale = self.camera.scale / self._dots
        sides = zip((self.up, self.down), self._showing, self._groups, strict=True)
        for view, showing, groups in sides:
            if view in self._shown_views:
                limits, sight = self._limits(view), _sight(view)
                if self._passing:
                    shown = showing.in_passing(groups, scale, limits, sight, hasty=hasty)
                else:
                    shown = showing.settled(groups, scale, limits, sight)
                view.drawing.show(shown, scale)

    def _limits(self, view: BoardView) -> Limits:
        """Return where words may be: in sight, as long as all of the drawing is."""
        sight = _sight(view)
        if self._box is None:
            return sight
        x0, y0, x1, y1 = self._box()
        if view.side == "down":
            x0, x1 = -x1, -x0
        inside = sight[0] <= x0 and sight[1] <= y0 and sight[2] >= x1 and sight[3] >= y1
        return sight if inside else EVERYWHERE

    def _render_overlay(self) -> None:
        scale = self.camera.scale / self._dots
        turned = tuple(mirrored_mark(mark) for mark in self._overlay)
        for view, marks in ((self.up, self._overlay), (self.down, turned)):
            sheet = Sheet("overlay", marks, (0.0, 0.0, 0.0, 0.0))
            ground = Taken(scale)
            if any(isinstance(mark, Spot) and mark.places for mark in marks):
                for words in view.drawing.lengths:
                    ground.add(words_box(words, scale), TEXT)
            drawn = arranged(sheet, scale, ground=ground).drawn if marks else ()
            view.drawing.show_overlay(mark for _, mark in drawn)

    def _set_cross(self, point: Point | None) -> None:
        for view in (self.up, self.down):
            turned = None if point is None or view is self.up else mirrored_point(point)
            view.drawing.set_cross(point if view is self.up else turned)

    def hide_cross(self) -> None:
        """Take the crosshair away until the pointer moves on."""
        self._set_cross(None)

    def _on_moved(self, pointer: Pointer) -> None:
        self._set_cross(pointer.point)
        self.moved.emit(pointer)

    def _on_departed(self) -> None:
        self._set_cross(None)
        self.departed.emit()

    def _on_fold_dragged(self, x: float) -> None:
        width = max(self.width(), 1)
        self._share = min(max(x / width, LEAST_SHARE), 1.0 - LEAST_SHARE)
        if self._moved_by_hand:
            self._arrange_about_middle()
        else:
            self._arrange()
            self.fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the two sides out anew; what was in the middle stays there, as large as it was.

        A view that nobody has moved is fitted again, unless a gesture is under way. Once it rests,
        lengths come back into sight.
        """
        super().resizeEvent(event)
        self._arrange_about_middle()
        self._resting.start()
        if self._moved_by_hand or self.steady:
            return
        if self._resized_much() or not self._whole():
            self.fit()

    def _resized_much(self) -> bool:
        sizes = zip((self.width(), self.height()), self._fitted_px, strict=True)
        return any(abs(now - then) > MUCH * then for now, then in sizes)

    def _arrange_about_middle(self) -> None:
        view = self._shown_views[0]
        before = view.point_at(QPointF(view.width() / 2.0, view.height() / 2.0))
        self._arrange()
        after = view.point_at(QPointF(view.width() / 2.0, view.height() / 2.0))
        by = (before[0] - after[0], before[1] - after[1])
        camera = self.camera
        self._look(camera._replace(fold_x=camera.fold_x + by[0], middle_y=camera.middle_y + by[1]))

    def showEvent(self, event: QShowEvent) -> None:
        """Fit the drawing once there is room for it."""
        super().showEvent(event)
        self._arrange()
        if self._fit_pending:
            self.fit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw a ring round the side that the keys came to by keys."""
        super().paintEvent(event)
        for view in self._shown_views:
            if view.hasFocus() and view.ringed:
                painter = QPainter(self)
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                painter.setPen(QPen(QColor(self._palette.wall), RING_PX))
                box = QRectF(view.geometry()).adjusted(-1.0, -1.0, 1.0, 1.0)
                painter.drawRoundedRect(box, 3.0, 3.0)

    def _arrange(self) -> None:
        self.update()
        inner = self.contentsRect().adjusted(4, 4, -4, -4)
        top = inner.top() + HEADING_PX
        height = max(inner.height() - HEADING_PX, 10)
        both = self._sides == "both"
        left_width = round(inner.width() * self._share) - HANDLE_PX // 2 if both else inner.width()
        self.up.setVisible(self._sides != "down")
        self.down.setVisible(self._sides != "up")
        self.fold_line.setVisible(both)
        self.pill.setVisible(both)
        for label, side in zip(self._headings, ("up", "down"), strict=True):
            label.setVisible(self._sides in ("both", side))
        self.up.setGeometry(inner.left(), top, left_width, height)
        fold = inner.left() + left_width
        right = fold + HANDLE_PX if both else inner.left()
        self.down.setGeometry(right, top, inner.right() + 1 - right, height)
        self.fold_line.setGeometry(fold, inner.top(), HANDLE_PX, inner.height())
        pill = self.pill.sizeHint()
        self.pill.setGeometry(
            fold + (HANDLE_PX - pill.width()) // 2, inner.top() + 4, pill.width(), pill.height()
        )
        self.pill.raise_()
        up, down = self._headings
        half = pill.width() // 2 if both else 0
        up.setGeometry(inner.left() + 14, inner.top(), max(left_width - half - 8, 0), HEADING_PX)
        start = right + half
        down.setGeometry(start, inner.top(), max(inner.right() - start - 12, 0), HEADING_PX)
        self.empty_words.setGeometry(self.up.geometry() if both else inner)
        self.empty_words.raise_()

    def _dress_headings(self) -> None:
        up, down = self._headings
        down.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        for label, name in ((up, self._palette.ink), (down, self._palette.mold)):
            label.setFont(font(self._scale.text, bold=True))
            label.setStyleSheet(
                f"color: {name}; font-weight: 600; font-size: {self._scale.text}px;"
            )
        self.empty_words.setStyleSheet(
            f"color: {self._palette.quiet}; font-size: {self._scale.heading}px;"
        )


def _sight(view: BoardView) -> Limits:
    """Return what is seen of the model on a view."""
    seen = view.sceneRect()
    return (seen.left(), seen.top(), seen.right(), seen.bottom())


class FoldLine(QWidget):
    """The dash-dot line that the two sides are reflected about; it can be dragged."""

    dragged = Signal(float)

    def __init__(self, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self._palette = palette
        self.setCursor(Qt.CursorShape.SplitHCursor)

    def dress(self, palette: Palette) -> None:
        """Use other colors."""
        self._palette = palette
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the line."""
        painter = QPainter(self)
        pen = QPen(QColor(self._palette.mold), 1.6)
        pen.setDashPattern(PATTERNS["fold"])
        painter.setPen(pen)
        middle = self.width() / 2.0
        painter.drawLine(QPointF(middle, 0.0), QPointF(middle, float(self.height())))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the fold with the pointer."""
        self.dragged.emit(self.mapToParent(event.position()).x())


class FoldPill(QPushButton):
    """The fold's handle: dragged with the mouse, moved with the arrow keys."""

    dragged = Signal(float)

    def __init__(self, parent: QWidget) -> None:
        super().__init__("fold line", parent)
        self.setProperty("look", "fold")
        self.setAccessibleName("Fold line, the left and right arrow keys move it")
        self.setToolTip("Drag it, or move it with the left and right arrow keys")
        self.setCursor(Qt.CursorShape.SplitHCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the fold with the pointer."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self.dragged.emit(self.mapToParent(event.position()).x())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the fold a little with the arrow keys."""
        step = {Qt.Key.Key_Left: -KEY_STEP_PX, Qt.Key.Key_Right: KEY_STEP_PX}.get(
            Qt.Key(event.key())
        )
        if step is None:
            super().keyPressEvent(event)
        else:
            self.dragged.emit(self.geometry().center().x() + step)
