"""Where seams run: each seam's course through its top, from the outer boundary to its end."""

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import atan2, radians, tau
from typing import NamedTuple, Protocol

from geometry.boxes import Box, apart
from geometry.crossing import Meeting, inner_point, meetings, ray
from geometry.edges import Edge, bounds, crossings, direction_at, overlap
from geometry.naming import GeometryError, Id
from geometry.outline import Outline, bounding_box, contains, nearest
from geometry.points import Point, cross, distance, dot, rounded, scaled
from geometry.seams import SeamPath, left_side, right_side
from geometry.tolerances import CROSSING_IN, GRAZING_RAD, NEARLY_PARALLEL_DEG, SAME_POINT_IN


class Hole(Protocol):
    """What splitting needs of an opening: its id and its clockwise outline."""

    @property
    def id(self) -> Id:
        """The opening's id."""

    @property
    def outline(self) -> Outline:
        """The hole, clockwise."""


class BoxedHole(NamedTuple):
    """An opening's id and clockwise outline with its bounding box and a point in its middle."""

    id: Id
    outline: Outline
    box: Box
    inside: Point


@lru_cache(maxsize=4096)
def boxed(opening: Hole) -> BoxedHole:
    """Return an opening with what makes it quick to find out that it is elsewhere."""
    outline = opening.outline
    return BoxedHole(
        opening.id, outline, bounding_box(outline), inner_point(outline, clockwise=True)
    )


class Course(NamedTuple):
    """A straight part of a seam. end_at is None where it stops at another seam or at its knee.

    start_at is None where it goes on from the knee. left_gap and right_gap are what it takes from
    the pieces on the left and right of its own direction.
    """

    path: SeamPath
    line: Edge
    start_at: Meeting | None
    end_at: Meeting | None
    left_gap: float
    right_gap: float


def by_id(path: SeamPath) -> tuple[int, Id]:
    """Return the key that puts seams in the order in which they were made."""
    return (len(path.id), path.id)


def courses(
    outline: Outline, openings: Sequence[BoxedHole], paths: Iterable[SeamPath]
) -> tuple[Course, ...]:
    """Return the courses of seams in the order of their ids, both parts of a dog-leg in its own.

    Raises:
        GeometryError: about a seam's id. seam-misses: it starts off the boundary or leaves at
            once, or never reaches what it should end at. seam-along-edge. seams-meet-twice: two
            seams run along each other. opening-touched, opening-crossed-twice.
    """
    ordered = sorted(paths, key=by_id)
    wanted = {path.id: path for path in ordered}
    found: dict[Id, tuple[Course, ...]] = {}
    under_way: list[Id] = []

    def course_of(path: SeamPath) -> tuple[Course, ...]:
        if path.id in found:
            return found[path.id]
        under_way.append(path.id)
        whole, end = _through(outline, path)
        if path.stops_at is not None:
            other = wanted.get(path.stops_at)
            if other is None or other.id in under_way:
                raise _misses(path, "The seam cannot stop at the other seam: let it run on.")
            whole = _stopped(whole, course_of(other))
        else:
            _check_end(outline, path, end)
        under_way.pop()
        found[path.id] = _with_gaps(outline, whole)
        return found[path.id]

    listed = tuple(course for path in ordered for course in course_of(path))
    passages: Counter[tuple[Id, Id]] = Counter()
    for i, course in enumerate(listed):
        for earlier in listed[:i]:
            if overlap(earlier.line, course.line):
                raise GeometryError(
                    "seams-meet-twice",
                    "Two seams run along each other: move or remove one of them.",
                    course.path.id,
                )
        box = bounds(course.line)
        for opening in openings:
            if not apart(box, opening.box):
                passages[course.path.id, opening.id] += _passage(course, opening)
    for (seam, _), met in passages.items():
        if met > 2:
            raise GeometryError(
                "opening-crossed-twice",
                "The seam crosses an opening more than once: move the seam or the opening.",
                seam,
            )
    return listed


def _misses(path: SeamPath, text: str) -> GeometryError:
    return GeometryError("seam-misses", text, path.id)


def _angle_rad(first: Point, second: Point) -> float:
    """Return the turn from the first direction to the second, -pi to pi, left positive."""
    return atan2(cross(first, second), dot(first, second))


def sides_at(outline: Outline, at: Meeting) -> tuple[Point, Point]:
    """Return the directions of the outline before and after a place on it."""
    after = outline.edges[at.edge]
    if at.fraction == 0.0:
        return direction_at(outline.edges[at.edge - 1], 1.0), direction_at(after, 0.0)
    direction = direction_at(after, at.fraction)
    return direction, direction


@lru_cache(maxsize=1024)
def _through(outline: Outline, path: SeamPath) -> tuple[tuple[Course, ...], Meeting]:
    """Return the course to the first way out of the top, and that place.

    A dog-leg has one to its knee and one from there.
    """
    index, foot = nearest(outline, path.start)
    if foot.distance > SAME_POINT_IN:
        raise _misses(path, "The seam does not start on the edge of the top: move its start.")
    start = Meeting(0.0, index, foot.fraction, path.start)
    for corner, vertex in enumerate(outline.vertices):
        if distance(vertex, path.start) <= SAME_POINT_IN:
            start = Meeting(0.0, corner, 0.0, vertex)
    line = ray(outline, start.point, path.direction)
    ahead = [m for m in meetings(outline, line) if distance(m.point, start.point) > SAME_POINT_IN]
    _check_graze(outline, path, start, path.direction)
    if not ahead or not _leads_in(outline, start, path.direction):
        raise _misses(path, "The seam leaves the top where it starts: turn or move it.")
    end = _rounded(ahead[0])
    if path.knee is None or path.onward is None:
        return (Course(path, Edge(start.point, end.point), start, end, 0.0, 0.0),), end
    to_knee = distance(start.point, path.knee)
    if not SAME_POINT_IN < to_knee < distance(start.point, end.point) - SAME_POINT_IN:
        raise _misses(path, "The seam bends outside the top: let it bend elsewhere.")
    beyond = meetings(outline, ray(outline, path.knee, path.onward))
    end = _rounded(next(m for m in beyond if distance(m.point, path.knee) > SAME_POINT_IN))
    first = Course(path, Edge(start.point, path.knee), start, None, 0.0, 0.0)
    return (first, Course(path, Edge(path.knee, end.point), None, end, 0.0, 0.0)), end


def _rounded(at: Meeting) -> Meeting:
    """Return a meeting with its point rounded, unless it is a vertex of the outline."""
    if at.fraction == 0.0:
        return at
    return at._replace(point=rounded(at.point, CROSSING_IN))


def _check_graze(outline: Outline, path: SeamPath, at: Meeting, inward: Point) -> None:
    before, after = sides_at(outline, at)
    for along_edge in (after, scaled(before, -1.0)):
        if abs(_angle_rad(along_edge, inward)) < GRAZING_RAD:
            raise GeometryError(
                "seam-along-edge",
                "The seam runs along an edge of the top or only grazes it: turn or move it.",
                path.id,
            )


def _leads_in(outline: Outline, at: Meeting, direction: Point) -> bool:
    """Tell whether a direction leads from a place on the outline into it."""
    before, after = sides_at(outline, at)
    turn = _angle_rad(after, direction) % tau
    return turn < _angle_rad(after, scaled(before, -1.0)) % tau


def _check_end(outline: Outline, path: SeamPath, end: Meeting) -> None:
    if path.end is not None and distance(path.end, end.point) > SAME_POINT_IN:
        raise _misses(path, "The seam leaves the top before it reaches the corner: move it.")
    _check_graze(outline, path, end, scaled(path.onward or path.direction, -1.0))


def _stopped(whole: tuple[Course, ...], other: tuple[Course, ...]) -> tuple[Course, ...]:
    """Return the parts of a seam up to where it first meets another one."""
    for k, part in enumerate(whole):
        start = part.line.start
        met = [c for theirs in other for c in crossings(part.line, theirs.line)]
        ahead = [c for c in met if distance(c.point, start) > SAME_POINT_IN]
        if ahead:
            first = min(ahead, key=lambda crossing: crossing.on_first)
            return (*whole[:k], part._replace(line=Edge(start, first.point), end_at=None))
    raise _misses(
        whole[0].path,
        "The seam does not reach the seam it stops at: move it or let it run on.",
    )


@lru_cache(maxsize=1024)
def _with_gaps(outline: Outline, parts: tuple[Course, ...]) -> tuple[Course, ...]:
    """Return the parts of a seam with what it takes from each side.

    Half from both, unless gap_from says otherwise, or an end is a re-entrant corner of the outline
    and the seam continues one of its edges within NEARLY_PARALLEL_DEG: then all of it comes from
    the piece that does not own that edge. Where the two ends disagree it is half from both.
    """
    path = parts[0].path
    gives = path.gap_from
    if gives is None:
        owners = set[str]()
        for part in parts:
            way = direction_at(part.line, 0.0)
            if part.start_at is not None:
                owners |= _owners(outline, part.start_at, way)
            if part.end_at is not None:
                flipped = {"left": "right", "right": "left"}
                back = scaled(way, -1.0)
                owners |= {flipped[side] for side in _owners(outline, part.end_at, back)}
        gives = "both"
        if len(owners) == 1:
            gives = right_side(path) if "left" in owners else left_side(path)
    left = right = path.gap / 2.0
    if gives != "both":
        left, right = (path.gap, 0.0) if gives == left_side(path) else (0.0, path.gap)
    return tuple(part._replace(left_gap=left, right_gap=right) for part in parts)


def _owners(outline: Outline, at: Meeting, inward: Point) -> set[str]:
    """Return on which side, looking inward, lie the owners of the edges that the seam continues."""
    before, after = sides_at(outline, at)
    owners: set[str] = set()
    if _angle_rad(before, after) < -GRAZING_RAD:
        limit = radians(NEARLY_PARALLEL_DEG)
        if abs(_angle_rad(after, scaled(inward, -1.0))) <= limit:
            owners.add("right")
        if abs(_angle_rad(before, inward)) <= limit:
            owners.add("left")
    return owners


@lru_cache(maxsize=1024)
def _passage(course: Course, opening: BoxedHole) -> int:
    """Return how often a part of a seam meets the edge of an opening that it may run through."""
    line = course.line
    for edge in opening.outline.edges:
        if overlap(edge, line):
            raise GeometryError(
                "seam-along-edge",
                "The seam runs along an edge of an opening: move the seam or the opening.",
                course.path.id,
            )
    met = len(meetings(opening.outline, line))
    if met == 1 and not any(contains(opening.outline, end) for end in (line.start, line.end)):
        raise GeometryError(
            "opening-touched",
            "The seam touches an opening without going through it: move the seam or the opening.",
            course.path.id,
        )
    return met
