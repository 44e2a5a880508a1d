"""The tool that puts a corner into a wall: where it is clicked, or so far along it."""

from app.asking import Answer, Question
from app.gestures.along_walls import wall_shown
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture, next_of
from export.marks import Spot
from geometry.edges import Edge, foot
from geometry.naming import Id
from geometry.picking import Subject
from geometry.points import Point, along, distance, minus, unit
from shop import edits
from shop.candidates import walked
from shop.job import Corner, Job, fresh_id
from shop.survey import room
from shop.words import wall_words


class SplitWall(Gesture):
    """Puts a corner into a wall, so that it can turn there."""

    hint = "Click where the wall turns, or go to it with the arrow keys and type how far along."

    def __init__(self, job: Job, chosen: Id | None = None) -> None:
        super().__init__(job)
        self._wall: Id | None = None
        self._along = 0.0
        if chosen is not None:
            self._begin(chosen)

    def _begin(self, wall: Id) -> None:
        line = room(self.job).wall(wall)
        self._wall, self._along = wall, distance(line.left, line.right) / 2.0

    def start(self) -> Doing:
        """Show where the corner would be, and ask how far along the wall that is."""
        if self._wall is None:
            return Doing(hint=self.hint)
        line = room(self.job).wall(self._wall)
        size = distance(line.left, line.right)
        number = next(c.number for c in room(self.job).corners if c.point == line.left)
        label = f"In {wall_words(self.job, self._wall)}, from corner {number}"
        asked = Question("along", label, "length", self._along, least=0.0, most=size, positive=True)
        ring = Spot("wall", kind="ring", at=self._point(self._wall), size=0.1)
        return Doing(overlay=(*wall_shown(line), ring), questions=(asked,))

    def _point(self, wall: Id) -> Point:
        line = room(self.job).wall(wall)
        if line.left == line.right:
            return line.left
        return along(line.left, unit(minus(line.right, line.left)), self._along)

    def move(self, cursor: Cursor) -> Doing:
        """Show where the corner would be."""
        near = self._at(cursor)
        if near is None:
            self._wall = None
        else:
            self._wall, point = near
            self._along = distance(room(self.job).wall(self._wall).left, point)
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Put the corner there."""
        self.move(cursor)
        return self.start() if self._wall is None else self.enter()

    def arrow(self, way: Point) -> Doing:
        """Go to the next wall, or to the one before."""
        wall = next_of([w.id for w in walked(self.job.room.walls)], self._wall, way)
        if wall is not None:
            self._begin(wall)
        return self.start()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take how far along the wall it turns."""
        assert isinstance(answer, float)
        self._along = answer
        return self.start()

    def enter(self) -> Doing:
        """Put the corner where it is shown."""
        if self._wall is None:
            return CANCELED
        line = room(self.job).wall(self._wall)
        if not 0.0 < self._along < distance(line.left, line.right):
            return self.start()._replace(hint="A corner lies between the ends of its wall.")
        number = max(c.number for c in self.job.room.corners) + 1
        corner = Corner(fresh_id(self.job, "corner"), number, *self._point(self._wall))
        edit = edits.SplitWall(self._wall, corner, fresh_id(self.job, "wall", 1))
        return Doing((edit,), outcome="finished", chosen=(Subject("corner", corner.id),))

    def _at(self, cursor: Cursor) -> tuple[Id, Point] | None:
        near = [
            (found.distance, wall.id, found.point)
            for wall in room(self.job).walls
            for found in (foot(Edge(wall.left, wall.right), cursor.point),)
            if 0.0 < found.fraction < 1.0
        ]
        best = min(near, default=None)
        if best is None or best[0] > max(2.0 * cursor.tol_in, 4.0):
            return None
        return best[1], best[2]
