"""The tool that puts a corner into a wall."""

from app.gestures.gesture import Cursor, Doing, Gesture
from export.marks import Spot
from geometry.edges import Edge, foot
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.job import Corner, fresh_id
from shop.survey import room


class SplitWall(Gesture):
    """Puts a corner into a wall, so that it can turn there."""

    hint = "Click where the wall turns."

    def start(self) -> Doing:
        """Ask for a place."""
        return Doing(hint=self.hint)

    def move(self, cursor: Cursor) -> Doing:
        """Show where the corner would be."""
        at = self._at(cursor)
        overlay = () if at is None else (Spot("wall", kind="ring", at=at[1], size=0.1),)
        return Doing(overlay=overlay, hint=self.hint)

    def press(self, cursor: Cursor) -> Doing:
        """Put the corner there."""
        at = self._at(cursor)
        if at is None:
            return self.start()
        wall, point = at
        number = max(c.number for c in self.job.room.corners) + 1
        corner = Corner(fresh_id(self.job, "corner"), number, *point)
        edit = edits.SplitWall(wall, corner, fresh_id(self.job, "wall", 1))
        return Doing((edit,), outcome="finished", chosen=(Subject("corner", corner.id),))

    def _at(self, cursor: Cursor) -> tuple[str, Point] | None:
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
