"""The tool for what is read along a wall: gaps to a straightedge, depths, a plumb line."""

from typing import Literal, TypeAlias

from app.asking import Answer, Question
from app.gestures.along_walls import SPACING_IN, AlongWall, next_station, wall_shown
from app.gestures.gesture import CANCELED, Doing
from app.taking import retaken_by, taken
from export.marks import AnyMark, Line, Spot
from geometry.frames import along_of, into_room, wall_mark
from geometry.lengths import written
from geometry.naming import Id
from geometry.points import Point, along
from geometry.snapping import to_step
from shop.job import Job, fresh_id
from shop.profiles import MOST_BOW_IN
from shop.readings import FaceReading, PlumbReading, Reading, StraightedgeReading
from shop.words import capital, length_style, wall_words

What: TypeAlias = Literal["gap", "short", "face", "plumb"]

CHOICES: tuple[tuple[What, str], ...] = (
    ("gap", "Gap"),
    ("short", "Gap, short edge"),
    ("face", "Depth to faces"),
    ("plumb", "Plumb line"),
)

SHORTEST_IN = 1.0 / 16.0
"""No tape is read shorter."""

HEIGHT_IN = 18.0
"""From a counter to a wall cabinet, usually: common practice, no source."""

FOLLOWING = {"from": "to", "to": "along", "along": "value", "value": ""}
"""Which box Enter goes on to from each."""

TITLES: dict[What, str] = {
    "gap": "read a gap",
    "short": "read a gap",
    "face": "read a depth",
    "plumb": "read a plumb line",
}


class ReadAlongWall(AlongWall):
    """Asks how far along a wall, then what is read there; one reading after the other."""

    def __init__(self, job: Job, chosen: Id | None = None) -> None:
        self._what: What = "gap"
        self._along: float | None = None
        self._before: float | None = None
        self._value: float | None = None
        self._from, self._to = 0.0, 0.0
        self._height = HEIGHT_IN
        self._at = "along"
        super().__init__(job, chosen)

    def begun(self) -> None:
        """Begin at the first foot of the wall."""
        self._along = SPACING_IN if self.size > SPACING_IN else to_step(self.size / 2.0, 1.0)
        self._before, self._value, self._at = None, None, "along"
        self._hows = {}
        self._from, self._to = 0.0, min(72.0, self.size)

    def pointed(self, point: Point) -> None:
        """Offer the place that is pressed, on a whole inch; the tape says where it was read."""
        reach = min(max(along_of(self.wall, point), 0.0), self.size)
        self._along, self._at = min(to_step(reach, 1.0), self.size), "along"

    def came_to(self, key: str) -> None:
        """Go on from the box that has the keys."""
        if key in FOLLOWING:
            self._at = key

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take what was typed or chosen."""
        value = answer if isinstance(answer, float) else None
        self._hows = {}
        match key:
            case "what":
                self._what = next(what for what, _ in CHOICES if what == answer)
                self._value, self._at = None, "from" if self._what == "short" else "along"
            case "along":
                self._along = value
            case "value":
                self._value = value
            case "height" if value is not None:
                self._height = value
            case "from" if value is not None:
                self._from = value
            case "to" if value is not None:
                self._to = value
        return self.asking()

    def entered(self) -> Doing:
        """Go on to the next box, or take the reading and go on to the next place."""
        if self._along is None:
            return CANCELED
        if self._value is None:
            if not FOLLOWING[self._at]:
                return CANCELED
            self._at = FOLLOWING[self._at]
            return self.asking()
        made = taken(self.job, self._reading(self._value), self._hows.get("value"))
        return Doing((made,), outcome="kept", title=TITLES[self._what])

    def resumed(self, job: Job) -> Doing:
        """Go on to the next place along the wall."""
        self.job = job
        assert self._along is not None
        on = next_station(self._along, self._before, self.size)
        self._before, self._along = self._along, on
        self._value, self._hows, self._at = None, {}, "along"
        return self.asking()

    def rewound(self, job: Job) -> Doing:
        """Go back to the place that was read last."""
        self.job = job
        before, on = self._before, self._along
        if before is not None:
            self._along, self._before = before, None if on is None else 2.0 * before - on
        self._value, self._hows, self._at = None, {}, "along"
        return self.start()

    def _reading(self, value: float) -> Reading:
        assert self._wall is not None
        assert self._along is not None
        id_, wall, place = fresh_id(self.job, "reading"), self._wall, self._along
        if self._what == "face":
            return FaceReading(id_, wall, place, value)
        if self._what == "plumb":
            return PlumbReading(id_, wall, place, value, self._height)
        if self._what == "short":
            return StraightedgeReading(id_, wall, place, value, self._from, self._to)
        return StraightedgeReading(id_, wall, place, value)

    def asking(self) -> Doing:
        """Ask for the place, and for what is read there."""
        left, _ = self.corners()
        size = written(self.size, length_style(self.job))
        name = wall_words(self.job, self.wall.id)
        beyond = f"{capital(name)} ends at {size}: measure from corner {left}."
        what = Question("what", "Read", "choice", self._what, choices=CHOICES)
        place = Question(
            "along",
            f"From corner {left}, along the wall",
            "length",
            "" if self._along is None else self._along,
            least=self._from if self._what == "short" else 0.0,
            most=min(self._to, self.size) if self._what == "short" else self.size,
            optional=True,
            over=beyond,
        )
        if self._what == "short":
            place = place._replace(label="Along", over="", under="")
        asked = (what, *self._touching(beyond), place, self._value_asked())
        if self._what == "plumb":
            asked = (*asked, self._height_asked())
        return Doing((), self._overlay(), "", asked, at=self._at)

    def _touching(self, beyond: str) -> tuple[Question, ...]:
        if self._what != "short":
            return ()
        left, _ = self.corners()
        first = Question("from", f"Touches, from corner {left}", "length", self._from, least=0.0)
        last = Question("to", "to", "length", self._to, least=0.0)
        return (
            first._replace(most=self.size, over=beyond),
            last._replace(least=self._from + 1.0, most=self.size, over=beyond),
        )

    def _value_asked(self) -> Question:
        asked = Question(
            "value",
            "Gap, minus for a bulge",
            "length",
            "" if self._value is None else self._value,
            least=-MOST_BOW_IN,
            most=MOST_BOW_IN,
            optional=True,
            retaken=None
            if self._along is None
            else retaken_by(self.job, self._reading(self._value or 0.0)),
        )
        if self._what == "face":
            return asked._replace(label="Wall to faces", least=SHORTEST_IN, most=120.0)
        far = "A gap of more than {} is no bow: put a corner into the wall there."
        if self._what == "plumb":
            return asked._replace(label="Leans into the room by")
        return asked._replace(over=far, under=far)

    def _height_asked(self) -> Question:
        return Question("height", "over a height of", "length", self._height, positive=True)

    def _overlay(self) -> tuple[AnyMark, ...]:
        wall = self.wall
        shown = wall_shown(wall)
        if self._what == "short":
            ends = (wall_mark(wall, self._from), wall_mark(wall, self._to))
            shown = (Line("dimension", points=ends, bulges=(0.0,)),)
        if self._along is None:
            return shown
        at = wall_mark(wall, self._along)
        out = along(at, into_room(wall), 10.0)
        return (
            *shown,
            Line("check", points=(at, out), bulges=(0.0,)),
            Spot("check", kind="dot", at=at),
        )
