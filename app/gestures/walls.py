"""Tools for the walls of a room: drawing them, and putting a corner into one.

Walls are drawn click by click, or aimed with arrows and typed. A length that was typed is the
tape's and makes a reading in the same step; a click alone makes none, nor does an angle.
"""

from itertools import pairwise
from math import atan2, cos, degrees, pi, radians, sin
from typing import NamedTuple

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.gestures.places import room_targets
from export.marks import AnyMark, Line, Spot
from geometry.lengths import written
from geometry.naming import Id
from geometry.points import Point, along, cross, distance, dot, minus, plus, turned, unit
from geometry.snapping import Guideline, Mark, Place, snapped, snapped_number, to_step
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.job import Corner, Job, Wall, fresh_id
from shop.readings import WallReading
from shop.survey import room
from shop.words import length_style

SQUARE_WITHIN_RAD = pi / 15.0
"""A wall drawn this close to square to the one before is eased to square, for the eye only."""

HALF_SQUARE_WITHIN_RAD = pi / 36.0
"""A wall this close to 45 degrees to the one before is eased to that, as a bay is."""

FIRST_CORNER = "the first corner"

FIRST_WALL_IN = 96.0
"""A wall aimed with an arrow key is so long until another length is typed."""

CLOSES_WITHIN_IN = 6.0
"""A wall that Enter would end this close to a corner ends in it: taped walls close but roughly."""

SHORTEST_IN = 1.0 / 16.0
"""No tape is read shorter."""

ACROSS: Point = (1.0, 0.0)

HINT = "Click, or aim and type. Enter ends the walls."


class _Put(NamedTuple):
    """A corner put: its place, the room's corner that it is, the length taped of the wall to it."""

    point: Point
    known: Id | None = None
    taped: float | None = None


class DrawWalls(Gesture):
    """Draws walls from corner to corner; Enter or a click on the last corner ends them."""

    def __init__(self, job: Job, chosen: Id | None = None) -> None:
        super().__init__(job)
        at = next((c.point for c in room(job).corners if c.id == chosen), None)
        self._put: list[_Put] = [] if at is None else [_Put(at, chosen)]
        self._taken_back: list[_Put] = []
        self._forget()

    def _forget(self) -> None:
        """Forget where the next wall was aimed, and what was typed of it."""
        self._aim: Point | None = None
        self._words = ""
        self._way: Point | None = None
        self._length: float | None = None
        self._turn: float | None = None

    def start(self) -> Doing:
        """Ask where a wall starts, or goes on to."""
        return self._doing()

    def move(self, cursor: Cursor) -> Doing:
        """Show the wall to the pointer; what was typed of it holds."""
        self._aim, self._words, _ = self._aimed(cursor)
        self._way = None
        return self._doing()

    def press(self, cursor: Cursor) -> Doing:
        """Put a corner here; on the last or first corner the walls end."""
        point, _, known = self._aimed(cursor)
        closing = len(self._put) > 2 and point == self._put[0].point
        if not self._put:
            return self._add(_Put(point, known))
        if closing or known is not None:
            return self._ended(_Put(point, known, self._length))
        self._aim = point
        goal = self._goal()
        if goal is None or distance(goal, self._put[-1].point) <= cursor.tol_in:
            return self.enter()
        return self._add(_Put(goal, None, self._length))

    def release(self, cursor: Cursor) -> Doing:
        """Go on: corners are put by presses."""
        return self._doing()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take the length or the turn that was typed; an emptied box leaves it to the aim."""
        value = answer if isinstance(answer, float) else None
        if key == "length":
            self._length = value
        else:
            self._turn = value
        self._words = ""
        return self._doing()

    def arrow(self, way: Point) -> Doing:
        """Aim that way, half way from an arrow square to it; the first one puts a corner."""
        if not self._put:
            self._put.append(_Put((0.0, 0.0)))
        before, self._turn, self._words = self._way, None, ""
        half = before is not None and before[0] * before[1] == dot(before, way) == 0.0
        self._way = unit(plus(before, way)) if half and before is not None else way
        last = self._put[-1].point
        reach = FIRST_WALL_IN if self._aim is None else distance(self._aim, last)
        self._aim = along(last, self._way, reach or FIRST_WALL_IN)
        return self._doing()

    def enter(self) -> Doing:
        """Put the corner that was typed or aimed with an arrow and go on, or end the walls.

        On an empty board the first corner is put: a room can be drawn by keys alone.
        """
        if not self._put and not self.job.room.corners:
            return self._add(_Put((0.0, 0.0)))
        typed = self._length is not None or self._turn is not None or self._way is not None
        goal = self._goal() if typed else None
        if goal is None:
            return self._done() if len(self._put) > 1 else CANCELED
        near = self._closing(goal)
        if near is not None:
            return self._ended(near._replace(taped=self._length))
        return self._add(_Put(goal, None, self._length))

    def back(self) -> Doing:
        """Take back what was typed, else the last corner; without one, give the walls up."""
        if self._length is None and self._turn is None:
            if not self._put:
                return CANCELED
            self._put.pop()
        self._forget()
        return self._doing()

    def undo(self) -> Doing:
        """Take back the last corner; without one, give the walls up."""
        if not self._put:
            return CANCELED
        self._taken_back.append(self._put.pop())
        self._forget()
        return self._doing()

    def redo(self) -> Doing:
        """Put the corner again that was taken back last."""
        if self._taken_back:
            self._put.append(self._taken_back.pop())
        self._forget()
        return self._doing()

    def _add(self, put: _Put) -> Doing:
        self._put.append(put)
        self._taken_back = []
        self._forget()
        return self._doing()

    def _ended(self, put: _Put) -> Doing:
        self._put.append(put)
        return self._done()

    def _done(self) -> Doing:
        made = self._edits(None)
        return Doing(made, outcome="finished", chosen=(), title="draw walls")

    # --- Where the wall under way goes ---------------------------------------------------------

    def _ahead(self) -> Point:
        """Return the way of the wall before, or straight across the board."""
        if len(self._put) < 2 or self._put[-1].point == self._put[-2].point:
            return ACROSS
        return unit(minus(self._put[-1].point, self._put[-2].point))

    def _goal(self) -> Point | None:
        """Return the end of the wall under way, or None before it is aimed or typed."""
        if not self._put:
            return None
        last, ahead = self._put[-1].point, self._ahead()
        aimed = None if self._aim is None or self._aim == last else minus(self._aim, last)
        if self._turn is not None:
            left = aimed is not None and cross(ahead, aimed) > SAME_POINT_IN
            way = turned(ahead, radians(self._turn if left else -self._turn))
        elif aimed is not None:
            way = unit(aimed)
        elif self._length is not None:
            way = ahead if len(self._put) < 2 else turned(ahead, -pi / 2.0)
        else:
            return None
        if self._length is not None:
            return along(last, way, self._length)
        if self._turn is None or aimed is None:
            return along(last, way, FIRST_WALL_IN) if aimed is None else self._aim
        return along(last, way, max(float(round(dot(aimed, way))), 1.0))

    def _closing(self, goal: Point) -> _Put | None:
        """Return the corner that a wall to a goal would end in: the first one, or the room's."""
        spots = [_Put(c.point, c.id) for c in room(self.job).corners]
        if len(self._put) > 2:
            spots.insert(0, _Put(self._put[0].point))
        taken = {put.point for put in self._put[1:]} | {self._put[-1].point}
        near = [s for s in spots if s.point not in taken]
        best = min(near, key=lambda s: distance(s.point, goal), default=None)
        if best is None or distance(best.point, goal) > CLOSES_WITHIN_IN:
            return None
        return best

    def _aimed(self, cursor: Cursor) -> tuple[Point, str, Id | None]:
        """Return the place, to what it snapped, and the corner that is already there."""
        first = [Place(self._put[0].point, FIRST_CORNER)] if len(self._put) > 2 else []
        targets = room_targets(self.job)
        ids = {c.point: c.id for c in room(self.job).corners}
        places = [*first, *(t for t in targets if isinstance(t, Place) and t.point in ids)]
        at_corner = snapped(cursor.point, places, cursor.tol_in)
        if at_corner is not None:
            known = None if at_corner.words == FIRST_CORNER else ids[at_corner.point]
            return at_corner.point, at_corner.words, known
        if cursor.no_snap:
            return _whole(cursor.point), "", None
        if self._put:
            last = self._put[-1].point
            if distance(cursor.point, last) <= cursor.tol_in:
                return last, "", None
            eased = self._eased(cursor)
            if eased is not None:
                return (*eased, None)
            targets += self._drawn()
        snap = snapped(cursor.point, targets, cursor.tol_in)
        return (_whole(cursor.point), "", None) if snap is None else (snap.point, snap.words, None)

    def _numbered(self) -> list[tuple[Point, str]]:
        """Return the corners put so far without the last, and what is in line with each."""
        number = max((c.number for c in self.job.room.corners), default=0)
        points = [put.point for put in self._put[:-1]]
        return [(p, f"in line with corner {number + i}") for i, p in enumerate(points, 1)]

    def _drawn(self) -> list[Guideline]:
        """Return the lines through the corners just drawn, square to the board."""
        return [
            Guideline(p, plus(p, way), words)
            for p, words in self._numbered()
            for way in (ACROSS, (0.0, 1.0))
        ]

    def _eased(self, cursor: Cursor) -> tuple[Point, str] | None:
        """Return the end of a wall nearly square, or nearly at 45 degrees, to the one before."""
        last, ahead = self._put[-1].point, self._ahead()
        way = minus(cursor.point, last)
        turn = atan2(cross(ahead, way), dot(ahead, way))
        eighth = round(turn / (pi / 4.0))
        half = eighth % 2 == 1
        quarter = round(turn / (pi / 2.0)) * (pi / 2.0)
        if abs(turn - quarter) < SQUARE_WITHIN_RAD:
            eased = quarter
        elif half and abs(turn - eighth * (pi / 4.0)) < HALF_SQUARE_WITHIN_RAD:
            eased = eighth * (pi / 4.0)
        else:
            return None
        to = "square" if eased == quarter else "45°"
        before = len(self._put) > 1
        words = f"{to} to the wall before" if before else f"{to} on the board"
        if not before and eased == quarter:
            upright = round(turn / (pi / 2.0)) % 2 == 1
            words = "straight up the board" if upright else "straight across the board"
        base = atan2(ahead[1], ahead[0])
        onward = (cos(base + eased), sin(base + eased))
        marks = [Mark(dot(minus(p, last), onward), said) for p, said in self._numbered()]
        reach = dot(way, onward)
        level = snapped_number(reach, (m for m in marks if m.value > 1.0), cursor.tol_in)
        if level is None:
            return along(last, onward, float(round(reach))), words
        return along(last, onward, level.value), f"{words}, {level.words}"

    # --- What it comes to ----------------------------------------------------------------------

    def _edits(self, goal: Point | None) -> tuple[edits.Edit, ...]:
        put = [*self._put, *([] if goal is None else [_Put(goal, None, self._length)])]
        if len(put) < 2:
            return ()
        points = [p.point for p in put]
        closed = len(points) > 3 and points[-1] == points[0]
        number = max((c.number for c in self.job.room.corners), default=0)
        ahead = 0
        ids: list[Id] = []
        corners: list[Corner] = []
        for point, known, _ in put:
            if closed and len(ids) == len(points) - 1:
                ids.append(ids[0])
            elif known is not None:
                ids.append(known)
            else:
                number += 1
                corners.append(
                    Corner(fresh_id(self.job, "corner", ahead), number, point[0], point[1])
                )
                ids.append(corners[-1].id)
                ahead += 1
        right = _turning(points) <= 0.0
        walls: list[Wall] = []
        taped: list[tuple[Id, float]] = []
        for (a, b), (_, _, length) in zip(pairwise(ids), put[1:], strict=True):
            if a == b:
                continue
            wall = fresh_id(self.job, "wall", ahead)
            walls.append(Wall(wall, a, b, "right" if right else "left"))
            ahead += 1
            if length is not None:
                taped.append((wall, length))
        readings = (
            edits.AddReading(WallReading(fresh_id(self.job, "reading", ahead + i), wall, length))
            for i, (wall, length) in enumerate(taped)
        )
        return (edits.AddWalls(tuple(corners), tuple(walls)), *readings) if walls else ()

    def _doing(self) -> Doing:
        if not self._put:
            caught = f" Snapped: {self._words}." if self._words else ""
            keys = "" if self.job.room.corners else ", or press Enter"
            hint = f"Click where a wall starts{keys}.{caught}"
            return Doing(hint=hint, redo=self._redo_title())
        goal = self._goal()
        overlay: tuple[AnyMark, ...] = ()
        if len(self._put) == 1 and goal is None:
            overlay = (Spot("wall", kind="ring", at=self._put[0].point, size=0.08),)
        if goal is not None:
            line = Line("ghost", points=(self._put[-1].point, goal), bulges=(0.0,))
            overlay = (*overlay, line)
        return Doing(
            self._edits(goal),
            overlay,
            self._hint(goal),
            self._asked(goal),
            undo="put a corner",
            redo=self._redo_title(),
        )

    def _redo_title(self) -> str:
        return "put a corner" if self._taken_back else ""

    def _hint(self, goal: Point | None) -> str:
        if self._words:
            return f"Snapped: {self._words}."
        if self._length is not None and goal is not None and self._closing(goal) is not None:
            return "Enter closes the walls at the corner there."
        return HINT

    def _asked(self, goal: Point | None) -> tuple[Question, ...]:
        last, style = self._put[-1].point, length_style(self.job)
        size = "" if goal is None else written(distance(goal, last), style)
        length = Question(
            "length",
            "Wall, as taped (leave empty: as drawn)",
            "length",
            "" if self._length is None else self._length,
            least=SHORTEST_IN,
            optional=True,
            ghost=size,
        )
        if len(self._put) < 2:
            return (length,)
        aimed = self._ahead() if goal is None or goal == last else unit(minus(goal, last))
        ahead = self._ahead()
        by = degrees(atan2(cross(ahead, aimed), dot(ahead, aimed)))
        side = "" if round(by) == 0 else " left" if by > 0.0 else " right"
        turn = Question(
            "turn",
            "Turn, minus the other way",
            "angle",
            "" if self._turn is None else self._turn,
            least=-180.0,
            most=180.0,
            optional=True,
            ghost=f"{abs(by):.0f}°{side}" if goal is not None else "90° right",
        )
        return (length, turn)


def _whole(point: Point) -> Point:
    """Return a point on whole inches."""
    return to_step(point[0], 1.0), to_step(point[1], 1.0)


def _turning(points: list[Point]) -> float:
    """Return how far a chain turns to the left in all; less than nothing is to the right."""
    ways = [minus(b, a) for a, b in pairwise(points)]
    return sum(cross(a, b) for a, b in pairwise(ways))
