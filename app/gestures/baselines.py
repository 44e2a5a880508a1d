"""The tool that stretches a string along a wall, and reads offsets from it at stations."""

from math import pi

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.along_walls import SPACING_IN, AlongWall, next_station, wall_shown
from app.gestures.gesture import CANCELED, Doing
from app.taking import retaken_by, taken
from export.marks import AnyMark, Line, Spot
from geometry.frames import into_room
from geometry.lengths import written
from geometry.naming import Id
from geometry.points import Point, along, cross, dot, minus, turned, unit
from geometry.snapping import to_step
from shop import edits
from shop.job import Baseline, Job, fresh_id
from shop.observing import left_to_right
from shop.profiles import MOST_BOW_IN
from shop.readings import StationReading
from shop.survey import BaselinePlan, room
from shop.words import length_style, wall_words

ENDS = ("left", "along", "right")
STATION = ("station", "wall", "face")
"""What is asked of a string when it is stretched, and at each station, in this order."""

BEYOND_IN = 24.0
"""A string may reach so far past the corners of its wall."""


class StretchBaseline(AlongWall):
    """Asks how far the string is off both corners, one by one, then for offsets along it."""

    hint = "Click the wall that the string runs along."

    def __init__(self, job: Job, chosen: Id | None = None, baseline: Id | None = None) -> None:
        self._baseline = baseline
        self._said: dict[str, float | None] = {}
        self._before: float | None = None
        self._at = "left"
        self._wanting = False
        line = next((b for b in job.room.baselines if b.id == baseline), None)
        super().__init__(job, chosen if line is None else line.wall)

    def begun(self) -> None:
        """Go on with the string along this wall, if there is one."""
        here = [b.id for b in self.job.room.baselines if b.wall == self._wall]
        if self._baseline not in here:
            self._baseline = here[0] if here else None
        self._said, self._before, self._at = {}, None, "left"
        if self._baseline is not None:
            self._said, self._at = {"station": SPACING_IN}, "station"

    def pointed(self, point: Point) -> None:
        """Offer the station that is pressed, on a whole inch; the tape says where it was read."""
        if self._baseline is None:
            return
        plan = self._plan()
        way = unit(minus(plan.far, plan.zero))
        self._said["station"] = to_step(dot(minus(point, plan.zero), way), 1.0)
        self._at = "station"

    def came_to(self, key: str) -> None:
        """Go on from the box that has the keys."""
        if key in (ENDS if self._baseline is None else STATION):
            self._at = key

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take what was typed."""
        self._wanting = False
        self._hows.pop(key, None)
        self._said[key] = answer if isinstance(answer, float) else None
        return self.asking()

    def entered(self) -> Doing:
        """Go on to the next box; at the last one take what was read."""
        order = ENDS if self._baseline is None else STATION
        if self._baseline is not None and self._said.get("station") is None:
            return CANCELED
        done = self._at == "along" and self._said.get("along") is None
        if self._at != order[-1] and not done:
            self._at = order[order.index(self._at) + 1]
            return self.asking()
        if self._baseline is None:
            return self._stretched()
        read = [word for word in ("wall", "face") if self._said.get(word) is not None]
        if not read:
            return CANCELED
        made = tuple(
            taken(self.job, self._station(word, ahead), self._hows.get(word))
            for ahead, word in enumerate(read)
        )
        return Doing(made, outcome="kept", title="read offsets from a string")

    def resumed(self, job: Job) -> Doing:
        """Go on to the next station."""
        self.job = job
        station = self._said.get("station")
        if self._baseline is None or station is None:
            self._baseline = job.room.baselines[-1].id
            self._said, self._before = {"station": SPACING_IN}, None
        else:
            on = next_station(station, self._before, self.size)
            self._said, self._before = {"station": on}, station
        self._at = "station"
        return self.asking()

    def rewound(self, job: Job) -> Doing:
        """Go back to the station that was read last, or to where the string is stretched."""
        self.job = job
        if self._wall is not None:
            last = self._before
            self.begun()
            if last is not None and self._baseline is not None:
                self._said["station"] = last
        return self.start()

    def back(self) -> Doing:
        """Go a box back, leave the wall, or leave the tool."""
        if self._wall is not None and self._baseline is None and self._at != ENDS[0]:
            self._at = ENDS[ENDS.index(self._at) - 1]
            return self.asking()
        return super().back()

    def _stretched(self) -> Doing:
        """Stretch the string, with the offsets to its corners as readings."""
        left, far, right = (self._said.get(key) for key in ENDS)
        if far is not None and right is None:
            self._wanting = True
            return self.asking()
        assert self._wall is not None
        wall = next(w for w in self.job.room.walls if w.id == self._wall)
        number = len(self.job.room.baselines) + 1
        id_ = fresh_id(self.job, "baseline")
        line = Baseline(id_, f"string {number}", self._wall)
        if left is not None:
            line = replace(line, away=left)
        made: list[edits.Edit] = [edits.AddBaseline(line)]
        ends = zip(left_to_right(wall), (0.0, far), (left, right), strict=True)
        for corner, station, value in ends:
            if station is not None and value is not None:
                reading = fresh_id(self.job, "reading", len(made))
                made.append(
                    edits.AddReading(StationReading(reading, id_, station, value, "corner", corner))
                )
        return Doing(tuple(made), outcome="kept", title=f"stretch string {number}")

    def _station(self, to: str, ahead: int) -> StationReading:
        station, value = self._said["station"], self._said.get(to) or 0.0
        assert self._baseline is not None
        assert station is not None
        id_ = fresh_id(self.job, "reading", ahead)
        return StationReading(
            id_, self._baseline, station, value, "face" if to == "face" else "wall"
        )

    def _to_straight_wall(self, station: float) -> float | None:
        """Return how far the wall's straight line is off the string at a station."""
        plan, wall = self._plan(), self.wall
        if plan.zero == plan.far:
            return None
        way = unit(minus(plan.far, plan.zero))
        off = turned(way, pi / 2.0)
        off = off if dot(off, into_room(wall)) < 0.0 else turned(way, -pi / 2.0)
        at, line = along(plan.zero, way, station), minus(wall.right, wall.left)
        return cross(minus(wall.left, at), line) / cross(off, line)

    def _plan(self) -> BaselinePlan:
        return next(b for b in room(self.job).baselines if b.id == self._baseline)

    def asking(self) -> Doing:
        """Ask for the offsets to the corners one by one, or for those at the next station."""
        if self._baseline is None:
            return self._asking_ends()
        style = length_style(self.job)
        beyond = f"The string ends near {written(self.size, style)}: measure from its zero."
        station = self._box("station", "Along the string")
        asked = (
            station._replace(least=-BEYOND_IN, most=self.size + BEYOND_IN, over=beyond),
            self._offset("wall", "to the wall"),
            self._offset("face", "to the cabinets"),
        )
        name = next(b.name for b in self.job.room.baselines if b.id == self._baseline)
        hint = f"Square off {name}:"
        return Doing((), self._overlay(), hint, asked, at=self._at)

    def _asking_ends(self) -> Doing:
        left, right = self.corners()
        style = length_style(self.job)
        beyond = f"The wall is {written(self.size, style)} long: measure from corner {left}."
        match self._at:
            case "left":
                name = wall_words(self.job, self.wall.id)
                hint = f"Stretch a string in front of {name}, at counter height."
                asked = self._box("left", f"Corner {left}, square to the string")
            case "along":
                hint = f"Hold the tape's zero on the string, square across from corner {left}."
                label = f"Along the string, to square across from corner {right}"
                most = self.size + BEYOND_IN
                asked = self._box("along", label)._replace(most=most, over=beyond)
                asked = asked._replace(ghost=written(self.size, style))
            case _:
                hint = f"The string runs from corner {left} to corner {right}."
                if self._wanting:
                    hint = f"How far is corner {right} off it? Esc goes back a box."
                asked = self._box("right", f"Corner {right}, square to the string")
        overlay = (*wall_shown(self.wall), *self._to_be())
        return Doing((), overlay, hint, (asked,), at=self._at)

    def _to_be(self) -> tuple[AnyMark, ...]:
        """Return the string as it would be stretched, and what is asked for of it."""
        out = into_room(self.wall)
        usual = Baseline("", "", "").away
        left = self._said.get("left")
        first = usual if left is None else left
        right = self._said.get("right")
        ends = self.wall.left, self.wall.right
        offs = first, first if right is None else right
        zero, far = (along(end, out, off) for end, off in zip(ends, offs, strict=True))
        string = Line("check", points=(zero, far), bulges=(0.0,))
        asked = {"left": (ends[0], zero), "along": (zero, far), "right": (ends[1], far)}[self._at]
        dots = (Spot("check", kind="dot", at=at) for at in asked)
        return (string, Line("dimension", points=asked, bulges=(0.0,)), *dots)

    def _offset(self, to: str, label: str) -> Question:
        """Return what asks for an offset: to a wall that bows no more than walls do, or faces."""
        asked = self._box(to, label)._replace(ghost="or none")
        station = self._said.get("station")
        if station is None:
            return asked
        straight = self._to_straight_wall(station)
        if straight is not None and to == "wall":
            far = written(MOST_BOW_IN, length_style(self.job))
            words = f"A wall off by more than {far} has a corner there: put it in, or tape again."
            least, most = straight - MOST_BOW_IN, straight + MOST_BOW_IN
            asked = asked._replace(least=least, most=most, under=words, over=words)
        elif straight is not None:
            read = self._said.get("wall")
            words = "Behind the wall. A string that runs behind the faces: type it with a minus."
            asked = asked._replace(most=straight if read is None else read, over=words)
        return asked._replace(retaken=retaken_by(self.job, self._station(to, 0)))

    def _box(self, key: str, label: str) -> Question:
        value = self._said.get(key)
        return Question(
            key,
            label,
            "length",
            "" if value is None else value,
            least=-120.0,
            most=120.0,
            optional=True,
            over="A string is at most {} off: stretch one nearer to the wall.",
        )

    def _overlay(self) -> tuple[AnyMark, ...]:
        plan = self._plan()
        string = Line("check", points=(plan.zero, plan.far), bulges=(0.0,))
        zero = Spot("check", kind="ring", at=plan.zero, size=0.08)
        station = self._said.get("station")
        if station is None or plan.zero == plan.far:
            return (string, zero)
        at = along(plan.zero, unit(minus(plan.far, plan.zero)), station)
        end = along(at, into_room(self.wall), -6.0)
        tick = Line("check", points=(at, end), bulges=(0.0,))
        return (string, zero, tick, Spot("check", kind="dot", at=at))
