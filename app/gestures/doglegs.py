"""The tool that splits a top along two straight parts: a dog-leg."""

from math import atan2, degrees, radians

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.gesture import Cursor, Doing
from app.gestures.places import STEP_IN
from app.gestures.seams import PlaceSeam
from geometry.naming import GeometryError
from geometry.picking import Subject
from geometry.points import Point, along, cross, dot, left_of, minus, turned
from geometry.seams import Bend, Seam, SeamOnIsland, SeamOnLeg, seam_line
from geometry.snapping import to_step
from shop.job import Job

USUAL_DEG, WITHIN_DEG = 15.0, 4.0
"""The second part is caught at whole multiples of the first number, within the second."""

LEAST_DEG, MOST_DEG = 10.0, 170.0

HINTS = (
    "Click where the seam starts at the back.",
    "Click where it bends, or type how far from the back.",
    "Click where it comes out, or type its angle to the front.",
)


class PlaceDogleg(PlaceSeam):
    """Splits a top by three clicks: where the seam starts, where it bends, where it comes out."""

    hint = HINTS[0]

    def __init__(self, job: Job, begin: Point | None = None) -> None:
        super().__init__(job, begin)
        self._clicked = 0
        self._bend = Bend(job.defaults.depth / 2.0, 45.0)

    def move(self, cursor: Cursor) -> Doing:
        """Show the start, the bend or the way out at the pointer."""
        if self._clicked == 0:
            return super().move(cursor)
        self._last = cursor
        if self._start is not None and self._top is not None:
            self._aim_bend(self._start, cursor)
        return self._doing()

    def _aim_bend(self, start: SeamOnLeg | SeamOnIsland, cursor: Cursor) -> None:
        """Let the bend lie, or the second part point, where the pointer is."""
        assert self._top is not None
        try:
            plain = Seam(self._id, self._top.top.id, replace(start, bend=None))
            begin, direction = seam_line(plain, self._top.top)
        except GeometryError:
            return
        level = turned(direction, -radians(start.angle))
        inward = left_of(level)
        if self._clicked == 1:
            deep = to_step(dot(minus(cursor.point, begin), inward), STEP_IN)
            self._bend = replace(self._bend, at=max(deep, 1.0))
            return
        knee = along(begin, direction, self._bend.at / dot(direction, inward))
        way = minus(cursor.point, knee)
        angle = degrees(atan2(cross(level, way), dot(level, way)))
        usual = USUAL_DEG * round(angle / USUAL_DEG)
        caught = abs(angle - usual) <= WITHIN_DEG and not cursor.no_snap
        angle = usual if caught else round(angle, 1)
        self._bend = replace(self._bend, angle=min(max(angle, LEAST_DEG), MOST_DEG))

    def _placed(self, start: SeamOnLeg | SeamOnIsland) -> SeamOnLeg | SeamOnIsland:
        return replace(start, bend=self._bend)

    def _further(self) -> tuple[Question, ...]:
        return (
            Question("bend", "Bends, from the back", "length", self._bend.at, positive=True),
            Question(
                "onward",
                "Then at",
                "angle",
                self._bend.angle,
                least=LEAST_DEG,
                most=MOST_DEG,
            ),
        )

    def _doing(self) -> Doing:
        doing = super()._doing()
        if not doing.edits:
            return doing
        hint = f"{HINTS[self._clicked]} {doing.hint}" if self._clicked else doing.hint
        return doing._replace(hint=hint, at=("along", "bend", "onward")[self._clicked])

    def press(self, cursor: Cursor) -> Doing:
        """Leave the start, the bend, then the seam."""
        doing = self.move(cursor)
        if not doing.edits:
            return doing._replace(hint="Click on a top.")
        if self._clicked < len(HINTS) - 1:
            self._clicked += 1
            return self._doing()
        return self._finished(doing)

    def _finished(self, doing: Doing) -> Doing:
        chosen = (Subject("seam", self._id),)
        return doing._replace(outcome="finished", chosen=chosen, overlay=(), questions=())

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take where it bends and how it goes on as typed, besides what any seam asks."""
        assert isinstance(answer, float)
        if key == "bend":
            self._bend, self._clicked = replace(self._bend, at=answer), 2
        elif key == "onward":
            self._bend, self._clicked = replace(self._bend, angle=answer), 2
        else:
            return super().answer(key, answer)
        return self._doing()

    def enter(self) -> Doing:
        """Leave the seam as it is shown."""
        if self._start is None:
            self.start()
        doing = self._doing()
        return self._finished(doing) if doing.edits else doing

    def back(self) -> Doing:
        """Take the last click back, or give the seam up."""
        if self._clicked == 0:
            return super().back()
        self._clicked -= 1
        return self._doing()
