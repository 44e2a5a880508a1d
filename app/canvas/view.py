"""One side of the fold: shows its scene through the shared camera, reports the pointer."""

from typing import Literal, NamedTuple, TypeAlias

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsView, QWidget

from app.canvas.camera import Camera
from app.canvas.scene import MarkScene
from geometry.points import Point, mirrored_point

Side: TypeAlias = Literal["up", "down"]

REACH_PX = 9.0
"""So near to a thing a press takes it."""

ZOOM_STEP = 1.2


class Pointer(NamedTuple):
    """Where the pointer is, always as seen face up, whichever side it is on."""

    point: Point
    tol_in: float
    side: Side
    no_snap: bool = False
    adding: bool = False


class BoardView(QGraphicsView):
    """A view of one side; drawing is its scene, which Qt does not keep alive.

    The face-down side reflects the pointer before it reports it.
    """

    pressed = Signal(object)
    moved = Signal(object)
    released = Signal(object)
    opened = Signal(object)
    departed = Signal()
    zoom_asked = Signal(object, float)
    shift_asked = Signal(float, float)
    resized = Signal()
    keys_came = Signal()

    def __init__(self, scene: MarkScene, side: Side, parent: QWidget | None = None) -> None:
        super().__init__(scene, parent)
        self.drawing = scene
        self.side = side
        self.reach_px = REACH_PX
        self._camera = Camera()
        self._fold_gap_px = 0.0
        self._shifting: QPointF | None = None
        self._space = False
        self.ringed = False
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setOptimizationFlag(QGraphicsView.OptimizationFlag.DontSavePainterState)
        # The scene's paper covers it all: what lies behind it is not painted at every move.
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMouseTracking(True)
        self.setMinimumSize(120, 120)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def look_through(self, camera: Camera, fold_gap_px: float) -> None:
        """Show what the camera sees; the fold lies the gap beyond this view's inner edge."""
        self._camera, self._fold_gap_px = camera, fold_gap_px
        width, height = float(self.viewport().width()), float(self.viewport().height())
        s = camera.scale
        gap = fold_gap_px / s
        up = self.side == "up"
        left = camera.fold_x - gap - width / s if up else gap - camera.fold_x
        bottom = camera.middle_y - height / 2.0 / s
        # A pixel less than the viewport: a rounding error must not bring up scroll ranges.
        self.setSceneRect(QRectF(left, bottom + 1.0 / s, (width - 1.0) / s, (height - 1.0) / s))
        self.setTransform(QTransform.fromScale(s, -s))
        self.viewport().update()

    def place_of(self, point: Point) -> QPointF:
        """Return where a point of the model, given face up, is on this view in pixels."""
        x, y = point if self.side == "up" else mirrored_point(point)
        return self.viewportTransform().map(QPointF(x, y))

    def seen_at(self, point: Point) -> QPointF:
        """Return where a point of this side's own drawing is on this view in pixels."""
        return self.viewportTransform().map(QPointF(*point))

    def point_at(self, place: QPointF) -> Point:
        """Return the point of the model, face up, at a place on this view in pixels."""
        inverse, _ = self.viewportTransform().inverted()
        at = inverse.map(place)
        point = (at.x(), at.y())
        return point if self.side == "up" else mirrored_point(point)

    def _pointer(self, event: QMouseEvent) -> Pointer:
        held = event.modifiers()
        return Pointer(
            self.point_at(event.position()),
            self.reach_px / self._camera.scale,
            self.side,
            bool(held & Qt.KeyboardModifier.AltModifier),
            bool(held & Qt.KeyboardModifier.ShiftModifier),
        )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Report a press, or begin to shift the paper."""
        if self.ringed:
            self.ringed = False
            self.keys_came.emit()
        left = event.button() == Qt.MouseButton.LeftButton
        if event.button() == Qt.MouseButton.MiddleButton or (left and self._space):
            self._shifting = event.position()
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        elif left:
            self.pressed.emit(self._pointer(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Report where the pointer is, or shift the paper with it."""
        if self._shifting is None:
            self.moved.emit(self._pointer(event))
            return
        by = event.position() - self._shifting
        self._shifting = event.position()
        self.shift_asked.emit(by.x() if self.side == "up" else -by.x(), by.y())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Report a release, or stop shifting the paper."""
        if self._shifting is not None:
            self._shifting = None
            self.viewport().unsetCursor()
        elif event.button() == Qt.MouseButton.LeftButton:
            self.released.emit(self._pointer(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Report a double press as a press and as an opening."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.pressed.emit(self._pointer(event))
            self.opened.emit(self._pointer(event))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Go closer or farther about the cursor."""
        steps = event.angleDelta().y() / 120.0
        self.zoom_asked.emit(self.point_at(event.position()), ZOOM_STEP**steps)
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:
        """Go closer or farther by a pinch on a touchpad; leave nothing painted that is gone."""
        if event.type() == QEvent.Type.Paint and self.drawing.unsettled:
            self.viewport().update()
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom_asked.emit(self.point_at(event.position()), 1.0 + event.value())
            return True
        return super().viewportEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hold the paper while the space bar is down; other keys belong to the canvas."""
        if event.key() == Qt.Key.Key_Space:
            if not event.isAutoRepeat():
                self._space = True
                self.viewport().setCursor(Qt.CursorShape.OpenHandCursor)
        else:
            event.ignore()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of the paper."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self.viewport().unsetCursor()
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Say that the keys came, and whether it was by keys: then a ring shows where they are."""
        super().focusInEvent(event)
        if event.reason() not in (
            Qt.FocusReason.ActiveWindowFocusReason,
            Qt.FocusReason.PopupFocusReason,
        ):
            self.ringed = event.reason() != Qt.FocusReason.MouseFocusReason
        self.keys_came.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Say that they went."""
        super().focusOutEvent(event)
        self.keys_came.emit()

    def leaveEvent(self, event: QEvent) -> None:
        """Say that the pointer is gone."""
        self.departed.emit()
        super().leaveEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the camera on its place."""
        super().resizeEvent(event)
        self.look_through(self._camera, self._fold_gap_px)
        self.resized.emit()

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        """Do nothing: the camera alone says what is shown."""
