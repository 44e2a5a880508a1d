"""Drawing a free shape: corner after corner, lines and arcs, closed at the first corner.

A side is aimed with the pointer or an arrow key, or typed; pulling on before the button is let go
bows the side that was just put through the pointer.
"""

from math import atan2, cos, degrees, hypot, pi, radians, sin, tan

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from export.marks import AnyMark, Line, Role, Spot
from geometry.counters import Island
from geometry.edges import Edge, arc_bulge, crossings, direction_at, overlap, rise_of_radius
from geometry.islands import FEWEST_SIDES
from geometry.lengths import written
from geometry.picking import Subject
from geometry.points import Point, along, cross, distance, dot, minus, plus, turned, unit
from geometry.snapping import Guideline, Place, snapped, to_step
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.free_shapes import drawn, fault_of
from shop.job import Job, fresh_id
from shop.words import length_style

LEVEL: Point = (1.0, 0.0)

FIRST_SIDE_IN = 48.0
"""A side aimed with an arrow key is so long until another length is typed."""

SQUARE_WITHIN_RAD = pi / 24.0
"""A side this close to square, or to 45 degrees, to the one before is eased to that."""

STEP_IN = 0.5
RISE_STEP_IN = 0.25
SHORTEST_IN = 0.25
MOST_RISE_IN = 240.0

HINT = "Click; pull to bow."
CLOSES = "Enter closes it."


def rise_through(start: Point, end: Point, point: Point) -> float:
    """Return the rise of the arc from start to end through a point, to the right of the way.

    At a point of the arc its chord is seen under pi less half the included angle; the bulge is the
    tangent of a quarter of that.
    """
    a, b = minus(start, point), minus(end, point)
    seen = abs(atan2(cross(a, b), dot(a, b)))
    side = -1.0 if cross(minus(end, start), minus(point, start)) > 0.0 else 1.0
    return side * tan((pi - seen) / 2.0) * distance(start, end) / 2.0


class DrawFreeShape(Gesture):
    """Draws a free shape; it is an island whose sides are numbered as they were drawn."""

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "island")
        self._put: list[Point] = []
        self._rises: list[float] = []
        self._pressed = False
        self._closing = False
        self._forget()

    def _forget(self) -> None:
        """Forget where the next side was aimed, and what was typed of it."""
        self._aim: Point | None = None
        self._words = ""
        self._length: float | None = None
        self._turn: float | None = None
        self._rise = 0.0
        self._arrowed = False

    def start(self) -> Doing:
        """Ask where the shape starts, or goes on to."""
        return self._doing()

    def move(self, cursor: Cursor) -> Doing:
        """Show the side to the pointer, or bow the side just put while the button is down."""
        if self._pressed:
            self._bow(cursor)
            return self._doing()
        self._aim, self._words = self._aimed(cursor)
        self._closing = self._closes(self._aim)
        self._arrowed = False
        return self._doing()

    def press(self, cursor: Cursor) -> Doing:
        """Put a corner here, unless its side would cross another."""
        self._aim, self._words = self._aimed(cursor)
        self._closing = self._closes(self._aim)
        if not self._put:
            self._put.append(self._aim)
            self._forget()
            return self._doing()
        goal = self._goal()
        if goal is None or distance(goal, self._put[-1]) <= cursor.tol_in:
            return self._doing()
        if self._fault(goal):
            return self._doing()
        self._pressed = True
        self._add(goal)
        return self._doing()

    def release(self, cursor: Cursor) -> Doing:
        """Let the side just put be as it is bowed; at the first corner the shape is done."""
        if self._pressed:
            self._bow(cursor)
            self._pressed = False
            if self._closing:
                return self._closed()
        return self._doing()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take what was typed of the side under way; an emptied box leaves it to the aim."""
        value = answer if isinstance(answer, float) else None
        match key:
            case "length":
                self._length = value
            case "turn":
                self._turn = value
            case "rise":
                self._rise = value or 0.0
            case _:
                goal = self._goal()
                if value is None or goal is None:
                    self._rise = 0.0
                else:
                    found = rise_of_radius(distance(self._put[-1], goal), abs(value))
                    self._rise = 0.0 if found is None else (found if value > 0.0 else -found)
        self._words = ""
        return self._doing()

    def arrow(self, way: Point) -> Doing:
        """Aim that way; the first one puts a corner in the middle of the board."""
        if not self._put:
            self._put.append((0.0, 0.0))
        last = self._put[-1]
        reach = FIRST_SIDE_IN if self._aim is None else distance(self._aim, last)
        self._aim, self._words, self._turn = along(last, way, reach or FIRST_SIDE_IN), "", None
        self._arrowed, self._closing = True, False
        return self._doing()

    def enter(self) -> Doing:
        """Put the corner that was typed or aimed with an arrow, or close the shape."""
        typed = self._length is not None or self._turn is not None or self._arrowed
        goal = self._goal() if typed and self._put else None
        if goal is not None:
            if self._fault(goal):
                return self._doing()
            self._add(goal)
            return self._closed() if self._closing else self._doing()
        if len(self._put) < FEWEST_SIDES:
            return CANCELED if len(self._put) < 2 else self._doing()
        if self._fault(self._put[0]):
            return self._doing()._replace(hint=self._fault(self._put[0]))
        self._add(self._put[0])
        return self._closed()

    def back(self) -> Doing:
        """Take back what was typed, else the last corner; without one, give the shape up."""
        if self._length is None and self._turn is None and not self._rise:
            if not self._put:
                return CANCELED
            self._put.pop()
            if self._rises:
                self._rises.pop()
        self._forget()
        self._closing = False
        return self._doing()

    # --- The side under way ---------------------------------------------------------------------

    def _add(self, goal: Point) -> None:
        self._closing = len(self._put) >= FEWEST_SIDES and goal == self._put[0]
        self._rises.append(self._rise)
        if not self._closing:
            self._put.append(goal)
        self._forget()

    def _closes(self, point: Point) -> bool:
        return len(self._put) >= FEWEST_SIDES and point == self._put[0]

    def _sides(self) -> list[Edge]:
        ends = [*self._put[1:], self._put[0]]
        return [_side(a, b, rise) for a, b, rise in zip(self._put, ends, self._rises, strict=False)]

    def _bow(self, cursor: Cursor) -> None:
        """Bow the last side through the pointer, if it was pulled off its chord."""
        start = self._put[-1] if self._closing else self._put[-2]
        end = self._put[0] if self._closing else self._put[-1]
        if distance(cursor.point, end) <= cursor.tol_in:
            return
        rise = rise_through(start, end, cursor.point)
        rise = rise if cursor.no_snap else to_step(rise, RISE_STEP_IN)
        kept = self._rises[-1]
        self._rises[-1] = max(-MOST_RISE_IN, min(rise, MOST_RISE_IN))
        if _crossed(self._sides()) is not None:
            self._rises[-1] = kept

    def _ahead(self) -> Point:
        """Return the way in which the side before ends, or level on the board."""
        sides = self._sides()
        return direction_at(sides[-1], 1.0) if sides else LEVEL

    def _goal(self) -> Point | None:
        """Return the end of the side under way, or None before it is aimed or typed."""
        if not self._put:
            return None
        last, ahead = self._put[-1], self._ahead()
        aimed = None if self._aim is None or self._aim == last else minus(self._aim, last)
        if self._turn is not None:
            way = turned(ahead, radians(self._turn))
        elif aimed is not None:
            way = unit(aimed)
        elif self._length is not None:
            way = ahead if len(self._put) < 2 else turned(ahead, pi / 2.0)
        else:
            return None
        if self._length is not None:
            goal = along(last, way, self._length)
        elif self._turn is None:
            return self._aim
        else:
            goal = along(last, way, FIRST_SIDE_IN if aimed is None else hypot(*aimed))
        first = self._put[0]
        near = len(self._put) >= FEWEST_SIDES and distance(goal, first) <= SHORTEST_IN
        return first if near else goal

    def _fault(self, goal: Point) -> str:
        """Return why the side under way cannot go there, in words, or nothing."""
        if distance(goal, self._put[-1]) < SHORTEST_IN:
            return "No length yet."
        sides = [*self._sides(), _side(self._put[-1], goal, self._rise)]
        number = _crossed(sides)
        if number is not None:
            return f"It would meet side {number}."
        if self._closes(goal):
            return fault_of(self._island((*self._rises, self._rise))) or ""
        return ""

    def _aimed(self, cursor: Cursor) -> tuple[Point, str]:
        """Return the place aimed at, and to what it snapped."""
        if len(self._put) >= FEWEST_SIDES:
            first = snapped(cursor.point, [Place(self._put[0], "the first corner")], cursor.tol_in)
            if first is not None:
                return first.point, first.words
        if cursor.no_snap:
            return cursor.point, ""
        if self._put:
            eased = self._eased(cursor)
            if eased is not None:
                return eased
        lines = [
            Guideline(p, plus(p, way), f"in line with corner {i}")
            for i, p in enumerate(self._put[:-1], start=1)
            for way in (LEVEL, (0.0, 1.0))
        ]
        snap = snapped(cursor.point, lines, cursor.tol_in)
        if snap is not None:
            return snap.point, snap.words
        return (to_step(cursor.point[0], STEP_IN), to_step(cursor.point[1], STEP_IN)), ""

    def _eased(self, cursor: Cursor) -> tuple[Point, str] | None:
        """Return the end of a side nearly square, or at 45 degrees, to the one before."""
        last, ahead = self._put[-1], self._ahead()
        way = minus(cursor.point, last)
        if hypot(*way) <= cursor.tol_in:
            return None
        turn = atan2(cross(ahead, way), dot(ahead, way))
        eighth = round(turn / (pi / 4.0))
        if abs(turn - eighth * pi / 4.0) > SQUARE_WITHIN_RAD:
            return None
        base = atan2(ahead[1], ahead[0]) + eighth * pi / 4.0
        onward = (cos(base), sin(base))
        reach = to_step(dot(way, onward), STEP_IN)
        words = "45\N{DEGREE SIGN}" if eighth % 2 else "straight on" if not eighth else "square"
        if len(self._put) < 2 and eighth % 2 == 0:
            words = "upright" if eighth % 4 else "level"
        levels = [
            (dot(minus(p, last), onward), f"{words}, in line with corner {i}")
            for i, p in enumerate(self._put[:-1], start=1)
        ]
        for at, said in levels:
            if at > 1.0 and abs(dot(way, onward) - at) <= cursor.tol_in:
                return along(last, onward, at), said
        return along(last, onward, reach), words

    # --- What it comes to -----------------------------------------------------------------------

    def _island(self, rises: tuple[float, ...]) -> Island:
        return drawn(self._id, self._put, rises)

    def _closed(self) -> Doing:
        island = self._island(tuple(self._rises))
        return Doing(
            (edits.AddIsland(island),),
            outcome="finished",
            chosen=(Subject("island", self._id),),
            title="draw a free shape",
        )

    def _doing(self) -> Doing:
        if not self._put:
            return Doing(hint="Click where the shape starts.")
        goal = self._goal()
        marks: list[AnyMark] = [
            Line("front", points=(edge.start, edge.end), bulges=(edge.bulge,))
            for edge in self._sides()
        ]
        marks += [Spot("wall", kind="ring", at=p, size=0.06) for p in self._put]
        if self._pressed:
            return Doing((), tuple(marks), "Pull to bow this side, or let go.")
        if goal is None or goal == self._put[-1]:
            hint = CLOSES if len(self._put) >= FEWEST_SIDES else HINT
            return Doing((), tuple(marks), hint, self._asked(goal))
        fault = self._fault(goal)
        side = _side(self._put[-1], goal, self._rise)
        role: Role = "warning" if fault else "ghost"
        marks.append(Line(role, points=(side.start, side.end), bulges=(side.bulge,)))
        closing = self._closes(goal) and not fault
        made = self._island((*self._rises, self._rise)) if closing else None
        hint = fault or (f"Snapped: {self._words}." if self._words else "")
        if not hint:
            hint = CLOSES if len(self._put) >= FEWEST_SIDES else HINT
        shown = () if made is None else (edits.AddIsland(made),)
        return Doing(shown, tuple(marks), hint, self._asked(goal))

    def _asked(self, goal: Point | None) -> tuple[Question, ...]:
        last, style = self._put[-1], length_style(self.job)
        size = 0.0 if goal is None else distance(goal, last)
        length = Question(
            "length",
            "Side",
            "length",
            "" if self._length is None else self._length,
            least=SHORTEST_IN,
            optional=True,
            ghost=written(size, style) if size else "",
        )
        by = 0.0
        if size and goal is not None:
            way, ahead = unit(minus(goal, last)), self._ahead()
            by = degrees(atan2(cross(ahead, way), dot(ahead, way)))
        turn = Question(
            "turn",
            "Turn left",
            "angle",
            "" if self._turn is None else self._turn,
            least=-180.0,
            most=180.0,
            optional=True,
            ghost=f"{by:.0f}\N{DEGREE SIGN}",
        )
        rise = Question(
            "rise",
            "Bow right",
            "length",
            self._rise or "",
            least=-MOST_RISE_IN,
            most=MOST_RISE_IN,
            optional=True,
            ghost="0",
        )
        radius = Question(
            "radius", "Radius", "length", "", optional=True, ghost="none", least=-2000.0
        )
        return (length, turn, rise, radius)


def _side(start: Point, end: Point, rise: float) -> Edge:
    return Edge(start, end, arc_bulge(distance(start, end), rise))


def _crossed(sides: list[Edge]) -> int | None:
    """Return the number of the side that the last one meets where they should not, or None."""
    last = sides[-1]
    for number, side in enumerate(sides[:-1], start=1):
        shared = {side.start, side.end} & {last.start, last.end}
        met = [c.point for c in crossings(side, last)]
        apart = [p for p in met if all(distance(p, s) > SAME_POINT_IN for s in shared)]
        if apart or overlap(side, last):
            return number
    return None
