"""A copy of a cabinet, put along its wall or another one."""

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.cabinets import cabinet_marks, line_near
from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import ARROW_IN, STEP_IN, caught, said
from geometry.frames import along_of
from geometry.picking import Subject
from geometry.points import Point, distance, dot, minus
from shop import edits
from shop.applying import applied
from shop.cabinet_lines import cabinet_line, line_under, standing_along
from shop.cabinets import along_from, cabinet_plans, hook_words, next_place
from shop.copies import copied
from shop.job import Job


class CopyCabinet(Gesture):
    """Puts a copy of a cabinet along its wall or another one."""

    def __init__(self, job: Job, subject: Subject) -> None:
        super().__init__(job)
        self.copy = copied(job, subject)
        (first,) = self.copy.edits
        assert isinstance(first, edits.AddCabinet)
        own = first.cabinet
        self.cabinet = replace(own, along=next_place(job, line_under(own), own.hook, own.depth))
        self._words = ""

    def start(self) -> Doing:
        """Show it where it is now, and ask how far from the corner."""
        made = self.cabinet
        asked = (Question("along", f"From {hook_words(self.job, made)}", "length", made.along),)
        hint = self._words or "Click a wall, or type how far along it."
        return Doing((edits.AddCabinet(made),), (), hint, asked, title="copy a cabinet")

    def move(self, cursor: Cursor) -> Doing:
        """Follow the pointer along the nearest wall; its sides catch at its neighbors'."""
        wall = line_near(self.job, cursor, float("inf"))
        if wall is None:
            return self.start()
        row = standing_along(wall.id)
        there = replace(self.cabinet, wall=row.wall, side=row.side, island_side=row.island_side)
        with_it = applied(self.job, edits.AddCabinet(there))
        plan = next((p for p in cabinet_plans(with_it) if p.cabinet.id == there.id), None)
        if plan is None:
            return self.start()
        left = along_of(wall, cursor.point) - there.width / 2.0
        tol = max(cursor.tol_in, 1.0)
        marks = cabinet_marks(with_it, plan)
        found = caught(along_from(plan, left), marks, tol, no_snap=cursor.no_snap)
        self.cabinet, self._words = replace(there, along=found.value), said(found)
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Put it here."""
        self.move(cursor)
        return self.enter()

    def release(self, cursor: Cursor) -> Doing:
        """Go on."""
        return self.start()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take how far it is from the corner."""
        assert isinstance(answer, float)
        self.cabinet, self._words = replace(self.cabinet, along=answer), ""
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Move it along its wall by an inch."""
        line = cabinet_line(self.job, line_under(self.cabinet))
        by = dot(way, minus(line.right, line.left)) / max(distance(line.left, line.right), STEP_IN)
        sign = -1.0 if self.cabinet.hook == "right" else 1.0
        return self.answer("along", self.cabinet.along + sign * by * ARROW_IN)

    def enter(self) -> Doing:
        """Leave it as it is shown."""
        return self.start()._replace(outcome="finished", questions=(), chosen=(self.copy.subject,))
