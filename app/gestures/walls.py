"""Tools for the room: drawing walls click by click, and putting a corner into a wall."""

from itertools import pairwise
from math import atan2, cos, pi, sin

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.gestures.places import room_targets
from export.marks import AnyMark, Line, Spot
from geometry.edges import Edge, foot
from geometry.picking import Subject
from geometry.points import Point, along, cross, distance, dot, minus, plus, unit
from geometry.snapping import Guideline, Mark, Place, snapped, snapped_number, to_step
from shop import edits
from shop.job import Corner, Job, Wall, fresh_id
from shop.survey import room

SQUARE_WITHIN_RAD = pi / 15.0
"""A wall drawn this close to square to the one before is eased to square, for the eye only."""


FIRST_CORNER = "the first corner"

FIRST_WALL_IN = 96.0
"""A wall aimed with an arrow key is so long until another length is typed."""


class DrawWalls(Gesture):
    """Draws walls from corner to corner; Enter or a click on the last corner ends them."""

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._points: list[Point] = []
        self._known: list[str | None] = []
        self._aim: Point | None = None
        self._words = ""

    def start(self) -> Doing:
        """Ask where a wall starts, or goes on to."""
        if not self._points:
            return Doing(hint="Click where a wall starts.")
        return self._doing()

    def move(self, cursor: Cursor) -> Doing:
        """Show the wall to the pointer."""
        self._aim, self._words, _ = self._aimed(cursor)
        return self._doing()

    def press(self, cursor: Cursor) -> Doing:
        """Put a corner here; on the last or first corner the walls end."""
        point, _, known = self._aimed(cursor)
        if self._points and distance(point, self._points[-1]) <= cursor.tol_in:
            return self.enter()
        closing = len(self._points) > 2 and point == self._points[0]
        self._points.append(point)
        self._known.append(known)
        self._aim = None
        if closing or (known is not None and len(self._points) > 1):
            return self.enter()
        return self._doing()

    def release(self, cursor: Cursor) -> Doing:
        """Go on: corners are put by presses."""
        return self._doing()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Aim so far along the way that the pointer shows."""
        if self._aim is not None and self._points:
            assert isinstance(answer, float)
            last = self._points[-1]
            if self._aim != last:
                self._aim = along(last, unit(minus(self._aim, last)), answer)
                self._words = ""
        return self._doing(typed=True)

    def arrow(self, way: Point) -> Doing:
        """Aim that way, as far as before; the first arrow puts a corner on the board."""
        if not self._points:
            self._points.append((0.0, 0.0))
            self._known.append(None)
        last = self._points[-1]
        reach = FIRST_WALL_IN if self._aim is None else distance(self._aim, last)
        self._aim, self._words = along(last, way, reach or FIRST_WALL_IN), ""
        return self._doing(typed=True)

    def enter(self) -> Doing:
        """End the walls, or take the typed length and go on."""
        if self._typed and self._aim is not None and self._points:
            self._points.append(self._aim)
            self._known.append(None)
            self._aim = None
            return self._doing()
        if len(self._points) < 2:
            return CANCELED
        return Doing(self._edits(None), outcome="finished", chosen=(), title="draw walls")

    def back(self) -> Doing:
        """Take the last corner back; without one, give the walls up."""
        if not self._points:
            return CANCELED
        self._points.pop()
        self._known.pop()
        self._aim, self._words = None, ""
        return self.start()

    _typed = False

    def _aimed(self, cursor: Cursor) -> tuple[Point, str, str | None]:
        """Return the place, to what it snapped, and the corner that is already there."""
        first = [Place(self._points[0], FIRST_CORNER)] if len(self._points) > 2 else []
        targets = room_targets(self.job)
        ids = {c.point: c.id for c in room(self.job).corners}
        places = [*first, *(t for t in targets if isinstance(t, Place) and t.point in ids)]
        at_corner = snapped(cursor.point, places, cursor.tol_in)
        if at_corner is not None:
            known = None if at_corner.words == FIRST_CORNER else ids[at_corner.point]
            return at_corner.point, at_corner.words, known
        if cursor.no_snap:
            return _whole(cursor.point), "", None
        if self._points:
            last = self._points[-1]
            if distance(cursor.point, last) <= cursor.tol_in:
                return last, "", None
            eased = self._eased(cursor)
            if eased is not None:
                return (*eased, None)
            targets += self._drawn()
        snap = snapped(cursor.point, targets, cursor.tol_in)
        return (_whole(cursor.point), "", None) if snap is None else (snap.point, snap.words, None)

    def _drawn(self) -> list[Guideline]:
        """Return the lines through the corners just drawn, square to the board."""
        number = max((c.number for c in self.job.room.corners), default=0)
        return [
            Guideline(p, plus(p, way), f"in line with corner {number + i}")
            for i, p in enumerate(self._points[:-1], 1)
            for way in ((1.0, 0.0), (0.0, 1.0))
        ]

    def _eased(self, cursor: Cursor) -> tuple[Point, str] | None:
        """Return the end of a wall nearly square to the one before, squared, and the words."""
        last = self._points[-1]
        way = minus(cursor.point, last)
        before = minus(last, self._points[-2]) if len(self._points) > 1 else (1.0, 0.0)
        base = atan2(before[1], before[0])
        turn = atan2(way[1], way[0]) - base
        quarter = round(turn / (pi / 2.0)) * (pi / 2.0)
        if abs(turn - quarter) >= SQUARE_WITHIN_RAD:
            return None
        ahead = (cos(base + quarter), sin(base + quarter))
        number = max((c.number for c in self.job.room.corners), default=0)
        marks = [
            Mark(dot(minus(p, last), ahead), f"in line with corner {number + i}")
            for i, p in enumerate(self._points[:-1], 1)
        ]
        reach = dot(way, ahead)
        level = snapped_number(reach, (m for m in marks if m.value > 1.0), cursor.tol_in)
        to = "square to the wall before" if len(self._points) > 1 else "level on the board"
        if level is None:
            return along(last, ahead, float(round(reach))), to
        return along(last, ahead, level.value), f"{to}, {level.words}"

    def _edits(self, aim: Point | None) -> tuple[edits.Edit, ...]:
        points = [*self._points, *([aim] if aim is not None else [])]
        known = [*self._known, *([None] if aim is not None else [])]
        if len(points) < 2:
            return ()
        closed = len(points) > 3 and points[-1] == points[0]
        number = max((c.number for c in self.job.room.corners), default=0)
        ahead = 0
        ids: list[str] = []
        corners: list[Corner] = []
        for point, id_ in zip(points, known, strict=True):
            if closed and len(ids) == len(points) - 1:
                ids.append(ids[0])
            elif id_ is not None:
                ids.append(id_)
            else:
                number += 1
                corners.append(
                    Corner(fresh_id(self.job, "corner", ahead), number, point[0], point[1])
                )
                ids.append(corners[-1].id)
                ahead += 1
        side = "right" if _turning(points) <= 0.0 else "left"
        walls = tuple(
            Wall(
                fresh_id(self.job, "wall", ahead + i), a, b, "right" if side == "right" else "left"
            )
            for i, (a, b) in enumerate(pairwise(ids))
            if a != b
        )
        return (edits.AddWalls(tuple(corners), walls),) if walls else ()

    def _doing(self, *, typed: bool = False) -> Doing:
        self._typed = typed
        overlay: tuple[AnyMark, ...] = ()
        if len(self._points) == 1:
            overlay = (Spot("wall", kind="ring", at=self._points[0], size=0.08),)
        aim = self._aim
        if not self._points:
            hint = "Click where a wall starts."
            if self._words:
                hint = f"{hint} Snapped: {self._words}."
        elif self._words:
            hint = f"Snapped: {self._words}."
        else:
            hint = "Click where the wall ends; Enter when the walls are done."
        if aim is None or not self._points or aim == self._points[-1]:
            return Doing(self._edits(None), overlay, hint)
        aimed = Line("ghost", points=(self._points[-1], aim), bulges=(0.0,))
        size = distance(aim, self._points[-1])
        length = Question("length", "Wall, as drawn", "length", size, least=0.0, positive=True)
        return Doing(self._edits(aim), (*overlay, aimed), hint, (length,))


def _whole(point: Point) -> Point:
    """Return a point on whole inches."""
    return to_step(point[0], 1.0), to_step(point[1], 1.0)


def _turning(points: list[Point]) -> float:
    """Return how far a chain turns to the left in all; less than nothing is to the right."""
    ways = [minus(b, a) for a, b in pairwise(points)]
    return sum(cross(a, b) for a, b in pairwise(ways))


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
