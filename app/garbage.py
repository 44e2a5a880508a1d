"""Python's search for garbage: in small steps, by the window's own thread, while the hand rests.

Left to itself Python looks for garbage in whichever thread happens to make something. In the one
that keeps the job beside the window it would take Qt's things apart while the window is using
them, and that ends the program.
"""

import gc

from PySide6.QtCore import QObject, QTimer

from app.gestures.hand import Hand

LOOK_EVERY_MS = 250
MANY = (2000, 10, 200)
"""So many new things, and so many searches of the generation before, call for a search."""


class GarbageSearch(QObject):
    """Looks for garbage when there may be enough of it, but not at all while the hand works.

    Jobs and what follows from them are values without cycles and need no search: what is there at
    the start, and what a gesture leaves behind, is left out of it.
    """

    def __init__(self, hand: Hand) -> None:
        super().__init__(hand)
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self._look)
        hand.started.connect(self._timer.stop)
        hand.finished.connect(self._begin)
        hand.canceled.connect(self._begin)
        gc.disable()
        self._begin()

    def _begin(self) -> None:
        gc.freeze()
        self._timer.start()

    def _look(self) -> None:
        full = [age for age, count in enumerate(gc.get_count()) if count > MANY[age]]
        if full:
            gc.collect(max(full))
