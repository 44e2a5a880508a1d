"""The tool that pins a note to a place."""

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.gestures.places import ARROW_IN, first_place
from export.marks import Spot
from geometry.picking import Subject
from geometry.points import Point, along
from geometry.snapping import to_step
from shop import edits
from shop.job import Job, Pin, fresh_id


class PinNote(Gesture):
    """Pins one note: a place, then what it says."""

    hint = "Click where the note goes, or move it there with the arrow keys and press Enter."

    def __init__(self, job: Job, chosen: Subject | None = None) -> None:
        super().__init__(job)
        self._place: Point = first_place(job, chosen) or (0.0, 0.0)
        self._put = False
        self._text = ""

    def start(self) -> Doing:
        """Ask for a place, then for what the note says."""
        cross = (Spot("check", kind="cross", at=self._place, size=0.1),)
        if not self._put:
            return Doing(overlay=cross, hint=self.hint)
        asked = Question("text", "Note", "words", self._text)
        made: tuple[edits.Edit, ...] = ()
        if self._text:
            x, y = self._place
            made = (edits.AddPin(Pin(fresh_id(self.job, "pin"), self._text, x, y)),)
        return Doing(made, cross, "", (asked,), title="pin a note", at="text")

    def move(self, cursor: Cursor) -> Doing:
        """Show where the note would go."""
        if not self._put:
            self._place = to_step(cursor.point[0], ARROW_IN), to_step(cursor.point[1], ARROW_IN)
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Put it here."""
        self._put = False
        self.move(cursor)
        self._put = True
        return self.start()

    def release(self, cursor: Cursor) -> Doing:
        """Go on."""
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Move the place."""
        self._place = along(self._place, way, ARROW_IN)
        return self.start()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take what it says."""
        self._text = str(answer)
        return self.start()

    def enter(self) -> Doing:
        """Put it here, or pin it with its words."""
        if not self._put:
            self._put = True
            return self.start()
        doing = self.start()
        if not doing.edits:
            return CANCELED
        made = Subject("pin", fresh_id(self.job, "pin"))
        return doing._replace(outcome="finished", chosen=(made,))

    def back(self) -> Doing:
        """Take the place back, or leave the tool."""
        if not self._put:
            return CANCELED
        self._put = False
        return self.start()
