"""What tools that work along a wall have in common: a wall is clicked, or walked to with arrows."""

from abc import abstractmethod

from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture, next_of
from export.marks import AnyMark, Line
from geometry.edges import Edge, foot
from geometry.frames import WallLine, into_room
from geometry.naming import Id
from geometry.points import Point, along, distance
from shop.candidates import walked
from shop.job import Job
from shop.survey import room
from shop.words import wall_words

REACH_IN = 8.0
"""So near to a wall a press takes it, or twice the pointer's reach if that is more."""

SHOWN_OFF_IN = 2.5
"""A wall at hand is shown by a line so far before it, which hides no number of a corner."""

SPACING_IN = 12.0
"""Stations along a wall are so far apart until others are typed."""

CORNER_IN = 1.0
"""So near to a corner nothing is read along a wall: the corner itself is."""


class AlongWall(Gesture):
    """Asks for a wall first; what is then asked of it is a subclass's own."""

    hint = "Click a wall, or go to it with the arrow keys and press Enter."

    def __init__(self, job: Job, chosen: Id | None = None) -> None:
        super().__init__(job)
        self._near: Id | None = None
        self._wall: Id | None = None
        if chosen is not None:
            self._begin(chosen)

    def start(self) -> Doing:
        """Ask for a wall, or what is asked of it."""
        if self._wall is not None:
            return self.asking()
        overlay = () if self._near is None else wall_shown(self.line(self._near))
        words = "" if self._near is None else f" Enter takes {self.called(self._near)}."
        return Doing(hint=f"{self.hint}{words}", overlay=overlay)

    def move(self, cursor: Cursor) -> Doing:
        """Show the wall under the pointer."""
        if self._wall is None:
            self._near = self.near(cursor)
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Take the wall that is pressed; on the one at hand, the place along it."""
        wall = self.near(cursor)
        if wall is None:
            return self.start()
        if wall != self._wall:
            self._begin(wall)
        self.pointed(cursor.point)
        return self.asking()

    def release(self, cursor: Cursor) -> Doing:
        """Go on."""
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Go to the next wall, or to the one before."""
        if self._wall is None:
            self._near = next_of(self.lines(), self._near, way)
        return self.start()

    def enter(self) -> Doing:
        """Take the wall that was walked to, or what was typed of the one at hand."""
        if self._wall is not None:
            return self.entered()
        if self._near is None:
            return CANCELED
        self._begin(self._near)
        return self.asking()

    def back(self) -> Doing:
        """Leave the wall, or the tool."""
        if self._wall is None:
            return CANCELED
        self._near, self._wall = self._wall, None
        return self.start()

    def lines(self) -> tuple[Id, ...]:
        """Return the walls in the order in which arrow keys go round them."""
        return tuple(wall.id for wall in walked(self.job.room.walls))

    def near(self, cursor: Cursor) -> Id | None:
        """Return the wall that a cursor is at; None if none is near."""
        return wall_near(self.job, cursor)

    def called(self, wall: Id) -> str:
        """Return what a wall is called."""
        return wall_words(self.job, wall)

    def line(self, wall: Id) -> WallLine:
        """Return a wall's line."""
        return room(self.job).wall(wall)

    @property
    def wall(self) -> WallLine:
        """The line of the wall at hand."""
        assert self._wall is not None
        return self.line(self._wall)

    @property
    def size(self) -> float:
        """The length of the wall at hand."""
        return distance(self.wall.left, self.wall.right)

    def corners(self) -> tuple[int, int]:
        """Return the numbers of the corners at the left and the right of the wall at hand."""
        points = {c.point: c.number for c in room(self.job).corners}
        return points[self.wall.left], points[self.wall.right]

    def _begin(self, wall: Id) -> None:
        self._wall = wall
        self.begun()

    @abstractmethod
    def begun(self) -> None:
        """Begin with another wall."""

    @abstractmethod
    def pointed(self, point: Point) -> None:
        """Take a press on the wall at hand."""

    @abstractmethod
    def asking(self) -> Doing:
        """Ask what is asked of the wall at hand."""

    @abstractmethod
    def entered(self) -> Doing:
        """Take Enter in the boxes."""


def wall_near(job: Job, cursor: Cursor) -> Id | None:
    """Return the wall that a cursor is at; None if none is near."""
    near = [
        (foot(Edge(line.left, line.right), cursor.point).distance, line.id)
        for line in room(job).walls
        if line.left != line.right
    ]
    best = min(near, default=None)
    return None if best is None or best[0] > max(2.0 * cursor.tol_in, REACH_IN) else best[1]


def wall_shown(line: WallLine) -> tuple[AnyMark, ...]:
    """Return the marks that show a wall as the one at hand."""
    inside = tuple(along(p, into_room(line), SHOWN_OFF_IN) for p in (line.left, line.right))
    return (Line("check", points=inside, bulges=(0.0,)),)


def next_station(station: float, before: float | None, size: float) -> float | None:
    """Return the station after one, as far on as that was; None where the wall ends."""
    spacing = station - before if before is not None and station > before else SPACING_IN
    on = station + spacing
    return on if on < size - CORNER_IN else None
