"""A view of one drawing that is looked at by itself: fitted, zoomed and shifted on its own."""

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent

from app.canvas.camera import MARGIN_PX, Camera, fitted, shifted, zoomed
from app.canvas.scene import MarkScene
from app.canvas.showing import Showing
from app.canvas.view import BoardView
from app.look import Palette
from export.marks import Sheet
from geometry.points import Point

OTHER_SIZE = 1.2
"""A drawing that is so many times wider, higher, narrower or lower than before is fitted anew."""


class OneSheet(BoardView):
    """One sheet of marks; room is left beside and above it for its words, in inches of paper."""

    def __init__(self, palette: Palette, dots: float, room_in: tuple[float, float]) -> None:
        super().__init__(MarkScene(palette, dots), "up")
        self._dots, self._room = dots, room_in
        self.sheet: Sheet | None = None
        self._through = Camera()
        self._showing = Showing()
        self.zoom_asked.connect(self._zoom)
        self.shift_asked.connect(self._shift)
        self.resized.connect(self.fit)

    def dress(self, palette: Palette, dots: float) -> None:
        """Use other colors and sizes."""
        self._dots = dots
        self.drawing.restyle(palette, dots)
        self._render()
        QTimer.singleShot(0, self, self.fit)

    def show_sheet(self, sheet: Sheet | None) -> None:
        """Show a drawing, fitted if it is another one or of another size; None shows nothing."""
        anew = sheet is None or self.sheet is None or _is_another(sheet, self.sheet)
        self.sheet = sheet
        self._render()
        if anew:
            self.fit()

    def fit(self) -> None:
        """Show all of the drawing."""
        if self.sheet is not None and self.isVisible():
            room = self.viewport().size()
            side, above = (inches * self._dots for inches in self._room)
            self._look(
                fitted(
                    self.sheet.box,
                    room.width(),
                    room.width() + 2.0 * (MARGIN_PX - side),
                    room.height() + 2.0 * (MARGIN_PX - above),
                )
            )

    def _look(self, camera: Camera) -> None:
        self._through = camera
        self.look_through(camera, 0.0)
        self._render()

    def _zoom(self, about: Point, factor: float) -> None:
        self._look(zoomed(self._through, about, factor))

    def _shift(self, right_px: float, down_px: float) -> None:
        self._look(shifted(self._through, right_px, down_px))

    def _render(self) -> None:
        groups = () if self.sheet is None else ((self.sheet.name, self.sheet.marks),)
        seen = self.sceneRect()
        sight = (seen.left(), seen.top(), seen.right(), seen.bottom())
        self.drawing.show(self._showing.settled(groups, self._through.scale / self._dots, sight))

    def showEvent(self, event: QShowEvent) -> None:
        """Fit the drawing when it comes up."""
        super().showEvent(event)
        self.fit()


def _is_another(sheet: Sheet, before: Sheet) -> bool:
    """Tell whether a drawing is of another thing, or of one that has grown or shrunk by much."""
    (x0, y0, x1, y1), (u0, v0, u1, v1) = sheet.box, before.box
    sizes = ((x1 - x0, u1 - u0), (y1 - y0, v1 - v0))
    return sheet.name != before.name or any(
        max(now, then) > OTHER_SIZE * min(now, then) for now, then in sizes
    )
