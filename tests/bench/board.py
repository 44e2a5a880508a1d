"""A window on a job with a pointer over it: each frame is drawn out in full before it counts."""

from collections import Counter
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from app.files import Files
from app.garbage import GarbageSearch
from app.look import DESK, LIGHT
from app.session import Session
from app.stages import Stage
from app.style import dress, load_fonts
from app.window import Window
from app.workbench import Workbench
from geometry.picking import Subject
from geometry.points import Point
from shop.job import Job

NONE, LEFT = Qt.MouseButton.NoButton, Qt.MouseButton.LeftButton
UNSNAPPED = Qt.KeyboardModifier.AltModifier


class Paints(QObject):
    """Counts how often each widget it watches was painted."""

    def __init__(self) -> None:
        super().__init__()
        self.count: Counter[QObject] = Counter()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802  (Qt's name)
        """Count."""
        if event.type() == QEvent.Type.Paint:
            self.count[watched] += 1
        return False


class Board:
    """The window; places are given in inches, face up."""

    def __init__(self, app: QApplication, job: Job, folder: Path) -> None:
        load_fonts()
        dress(app, LIGHT, DESK)
        self.app = app
        self.window = Window(LIGHT)
        self.window.resize(1280, 800)
        self.window.show()
        session = Session(job, saved=True)
        files = Files(session, folder / "settings", folder / "state")
        self.bench = Workbench(self.window, session, files, LIGHT)
        GarbageSearch(self.bench.hand)
        self.views = (self.bench.canvas.up, self.bench.canvas.down)
        self.paints = Paints()
        for view in self.views:
            view.viewport().installEventFilter(self.paints)
        for _ in range(5):
            self.draw()

    def draw(self) -> None:
        """Do what is waiting, and paint what has changed now instead of at the next tick."""
        self.app.processEvents()
        self.app.sendEvent(self.window, QEvent(QEvent.Type.UpdateRequest))

    def painted(self) -> tuple[int, ...]:
        """Return how often each side was painted so far."""
        return tuple(self.paints.count[view.viewport()] for view in self.views)

    @property
    def shown(self) -> Job:
        """The job on screen."""
        return self.bench.session.shown_job

    def reach(self) -> float:
        """Return how far a press reaches, in inches."""
        return self.views[0].reach_px / self.bench.canvas.camera.scale

    def turn_to(self, stage: Stage, *chosen: Subject) -> None:
        """Go to a stage and choose things there."""
        self.bench.session.go_to(stage)
        self.bench.session.choose(*chosen)
        self.draw()

    def press(self, point: Point) -> None:
        """Press at a place."""
        self._send(QEvent.Type.MouseMove, point, NONE, NONE)
        self._send(QEvent.Type.MouseButtonPress, point, LEFT, LEFT)
        self.draw()

    def move(self, point: Point) -> None:
        """Move there with the button down, and draw what comes of it."""
        self._send(QEvent.Type.MouseMove, point, NONE, LEFT)
        self.draw()

    def give_up(self) -> None:
        """Put everything back where it was."""
        self.bench.hand.cancel()
        self.draw()

    def close(self) -> None:
        """Take the window away."""
        self.window.close()
        self.window.deleteLater()
        self.app.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)

    def _send(
        self, kind: QEvent.Type, point: Point, button: Qt.MouseButton, held: Qt.MouseButton
    ) -> None:
        viewport = self.views[0].viewport()
        at = self.views[0].place_of(point)
        on_screen = QPointF(viewport.mapToGlobal(at))
        self.app.sendEvent(viewport, QMouseEvent(kind, at, on_screen, button, held, UNSNAPPED))
