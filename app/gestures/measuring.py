"""The tool that lays a tape between two places of the drawing and leaves nothing behind."""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.gestures.places import owned
from export.marks import AnyMark, Line, Spot
from geometry.edges import Edge, bounds, foot
from geometry.lengths import written
from geometry.naming import Tag
from geometry.points import distance, middle
from geometry.snapping import Place, snapped
from geometry.tolerances import SAME_POINT_IN
from shop.job import Job
from shop.plan import pieces, tops_and_strips
from shop.survey import room
from shop.words import edge_words, length_style, wall_words

TAG_IN = 0.11
"""Half the height of the length that is written on the tape, on paper."""


class NamedEdge(NamedTuple):
    """An edge of the drawing, the box around it, and what it is called."""

    edge: Edge
    box: tuple[float, float, float, float]
    words: str


class LayTape(Gesture):
    """Tapes from one place to another, as often as one likes."""

    hint = "Click where the tape is hooked, or press Enter and choose both places."

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._ends: list[Place] = []
        self._near: Place | None = None

    def start(self) -> Doing:
        """Say what is taped so far, and ask for the places, by click or by name."""
        named = places(self.job)
        choices = (("", "a place clicked"), *((str(i), p.words) for i, p in enumerate(named)))
        asked = tuple(
            Question(key, label, "choice", self._chosen(named, i), choices=choices)
            for i, (key, label) in enumerate((("from", "From"), ("to", "To")))
        )
        return Doing((), self._drawn(), self._said(), asked)

    def move(self, cursor: Cursor) -> Doing:
        """Show the tape from the first place to the pointer."""
        if len(self._ends) < 2:
            self._near = self._caught(cursor)
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Hook the tape here, or read it here; a third press begins anew."""
        if len(self._ends) == 2:
            self._ends = []
        self._ends.append(self._caught(cursor))
        self._near = None
        return self.start()

    def release(self, cursor: Cursor) -> Doing:
        """Go on."""
        return self.start()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take a place by its name."""
        if isinstance(answer, str) and answer:
            place = places(self.job)[int(answer)]
            self._ends[:] = [place] if key == "from" or not self._ends else [self._ends[0], place]
            self._near = None
        return self.start()

    def enter(self) -> Doing:
        """Go on: both places are chosen by their names."""
        return self.start()

    def back(self) -> Doing:
        """Take the last place back, or leave the tool."""
        if not self._ends:
            return CANCELED
        self._ends.pop()
        return self.start()

    def _chosen(self, named: tuple[Place, ...], end: int) -> str:
        if end < len(self._ends) and self._ends[end] in named:
            return str(named.index(self._ends[end]))
        return ""

    def _tape(self) -> tuple[Place, Place] | None:
        """Return the two places of the tape, the second perhaps under the pointer still."""
        ends = [*self._ends, *([self._near] if self._near else [])]
        return (ends[0], ends[1]) if len(ends) > 1 else None

    def _said(self) -> str:
        tape = self._tape()
        if tape is None:
            at = self._near.words if self._near else ""
            return f"{self.hint} Here: {at}." if at else self.hint
        a, b = tape
        style = length_style(self.job)
        length = written(distance(a.point, b.point), style)
        if self._near and b.words:
            return f"{length} to {b.words}."
        across, up = (written(abs(b.point[i] - a.point[i]), style) for i in (0, 1))
        return f"{length}: {across} across, {up} up."

    def _drawn(self) -> tuple[AnyMark, ...]:
        shown = [*self._ends, *([self._near] if self._near else [])]
        spots = tuple(Spot("check", kind="cross", at=place.point, size=0.08) for place in shown)
        tape = self._tape()
        if tape is None or distance(tape[0].point, tape[1].point) <= SAME_POINT_IN:
            return spots
        a, b = tape[0].point, tape[1].point
        text = written(distance(a, b), length_style(self.job))
        line = Line("dimension", points=(a, b), bulges=(0.0,))
        at = middle(a, b)
        return (line, *spots, Spot("dimension", kind="tag", at=at, text=text, size=TAG_IN))

    def _caught(self, cursor: Cursor) -> Place:
        """Return the place at the pointer: a named one, square across to an edge, or on it."""
        if cursor.no_snap:
            return Place(cursor.point, "")
        named = snapped(cursor.point, places(self.job), cursor.tol_in)
        if named is not None:
            return Place(named.point, named.words)
        found: list[tuple[float, Place]] = []
        hooked = self._ends[0].point if len(self._ends) == 1 else None
        for edge, (x0, y0, x1, y1), words in named_edges(self.job):
            (x, y), tol = cursor.point, cursor.tol_in
            if not (x0 - tol <= x <= x1 + tol and y0 - tol <= y <= y1 + tol):
                continue
            here = foot(edge, cursor.point)
            if here.distance > tol:
                continue
            found.append((here.distance, Place(here.point, words)))
            square = None if hooked is None else foot(edge, hooked).point
            if square is not None and distance(square, cursor.point) <= tol:
                return Place(square, f"square to {words}")
        nearest = min(found, key=lambda pair: pair[0], default=None)
        return nearest[1] if nearest else Place(cursor.point, "")


@lru_cache(maxsize=4)
def places(job: Job) -> tuple[Place, ...]:
    """Return the places of a drawing that have a name: corners, marks, middles of openings."""
    survey, names = room(job), {mark.id: mark.name for mark in job.room.marks}
    found = [Place(c.point, f"corner {c.number}") for c in survey.corners]
    found += [Place(mark.point, names[mark.id]) for mark in survey.marks]
    openings = {opening.id: opening.name for opening in job.openings}
    found += [
        Place(opening.center, f"{owned(openings[opening.id])} middle")
        for top in tops_and_strips(job)
        for opening in top.openings
    ]
    for piece in pieces(job):
        tags = piece.face.outline.tags
        for i, point in enumerate(piece.face.outline.vertices):
            before, after = _side(job, tags[i - 1]), _side(job, tags[i])
            found.append(Place(point, f"{piece.name}, {before} and {after}"))
    return tuple(found)


@lru_cache(maxsize=4)
def named_edges(job: Job) -> tuple[NamedEdge, ...]:
    """Return the edges that a tape can be read at."""
    return tuple(_edges(job))


def _edges(job: Job) -> Iterator[NamedEdge]:
    for piece in pieces(job):
        outline = piece.face.outline
        for edge, box, tag in zip(outline.edges, outline.boxes, outline.tags, strict=True):
            yield NamedEdge(edge, box, f"{piece.name}, {_side(job, tag)}")
    names = {opening.id: opening.name for opening in job.openings}
    for top in tops_and_strips(job):
        for opening in top.openings:
            outline = opening.outline
            for edge, box in zip(outline.edges, outline.boxes, strict=True):
                yield NamedEdge(edge, box, names[opening.id])
    for wall in room(job).walls:
        if wall.left != wall.right:
            line = Edge(wall.left, wall.right)
            yield NamedEdge(line, bounds(line), wall_words(job, wall.id))


def _side(job: Job, tag: Tag) -> str:
    return edge_words(job, tag.ref)
