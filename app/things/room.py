"""Corners and walls, described, with the readings that a tape takes of them."""

from math import atan2, degrees, pi

from msgspec.structs import replace

from app.asking import Fact, Question
from app.reading_rows import SHORTEST
from app.things.boxes import Described, asked_choice, asked_length
from app.things.taken import taken_asked, value_asked
from geometry.lengths import written, written_small
from geometry.naming import Id
from geometry.points import cross, distance, dot, minus
from shop import edits
from shop.advice import advice, three_sides
from shop.certainty import corner_certainty
from shop.job import Job
from shop.observing import beside, left_to_right
from shop.profiles import bow_words, profile_of
from shop.readings import (
    AngleReading,
    DiagonalReading,
    FaceReading,
    PlumbReading,
    StraightedgeReading,
    ThreeSidesReading,
    WallReading,
)
from shop.survey import room
from shop.words import capital, corner_words, length_style, wall_words


def corner_described(job: Job, corner: Id) -> Described:
    """Return a corner of the room in words and boxes."""
    name = corner_words(job, corner)
    known = corner_certainty(job, corner).removeprefix(f"{name} ").removeprefix("is ")
    facts = [Fact("Place", known)]
    drawn = next(c for c in job.room.corners if c.id == corner)
    questions = (
        asked_length(
            "x",
            "Across, on the board",
            drawn.x,
            lambda v: (edits.MoveCorner(corner, v, drawn.y),),
            least=-4000.0,
            most=4000.0,
        ),
        asked_length(
            "y",
            "Up, on the board",
            drawn.y,
            lambda v: (edits.MoveCorner(corner, drawn.x, v),),
            least=-4000.0,
            most=4000.0,
        ),
    )
    diagonals = (*_diagonals(job, corner), *_corner_readings(job, corner))
    return Described(capital(name), tuple(facts), (*diagonals, *questions))


def _diagonals(job: Job, corner: Id) -> list[Question]:
    """Return the questions for distances to corners that no wall joins with this one."""
    joined = {corner}
    for wall in job.room.walls:
        if corner in (wall.start, wall.end):
            joined |= {wall.start, wall.end}
    advised = _advised(job)
    others = [other.id for other in job.room.corners if other.id not in joined]
    others.sort(key=lambda other: {corner, other} != advised)
    return [_diagonal(job, corner, other, first=number < 2) for number, other in enumerate(others)]


def _advised(job: Job) -> set[Id]:
    """Return the ends of the diagonal to tape next, if it is one."""
    found = advice(job)
    reading = found.reading if found is not None else None
    return {reading.a, reading.b} if isinstance(reading, DiagonalReading) else set()


def _corner_readings(job: Job, corner: Id) -> tuple[Question, ...]:
    """Return the questions for the angle at a corner and for its check with three sides."""
    sides = beside(job.room.walls, corner)
    if sides is None:
        return ()
    survey = room(job)
    at, before, after = (survey.corner(c).point for c in (corner, *sides))
    a, b = minus(before, at), minus(after, at)
    inside = degrees(atan2(cross(a, b), dot(a, b)) % (2.0 * pi))
    angle = next(
        (r for r in job.room.readings if isinstance(r, AngleReading) and r.corner == corner), None
    )
    check = next(
        (r for r in job.room.readings if isinstance(r, ThreeSidesReading) and r.corner == corner),
        None,
    )
    marks = check or three_sides(job, corner)
    return (
        taken_asked(job, "angle", "Angle", angle, AngleReading("", corner, inside)),
        *(() if marks is None else (_across(job, marks, check),)),
        *(() if check is None else _marks(job, check)),
    )


def _across(job: Job, asked: ThreeSidesReading, check: ThreeSidesReading | None) -> Question:
    """Return the question for what a tape reads across the marks of a three-sides check."""
    style = length_style(job)
    first, second = (written(v, style) for v in (asked.along_before, asked.along_after))
    label = f"Across, from marks at {first} and {second}"
    return taken_asked(job, "across", label, check, asked, first=True)


def _marks(job: Job, check: ThreeSidesReading) -> tuple[Question, ...]:
    """Return the questions for where the marks of a three-sides check were made."""
    ends = {wall.id: left_to_right(wall) for wall in job.room.walls}
    before = (wall for wall, (_, right) in ends.items() if right == check.corner)
    after = (wall for wall, (left, _) in ends.items() if left == check.corner)
    first, second = wall_words(job, next(before, "")), wall_words(job, next(after, ""))
    return (
        asked_length(
            "mark-before",
            f"Its mark on {first}",
            check.along_before,
            lambda v: (edits.SetReading(replace(check, along_before=v)),),
            least=SHORTEST,
        ),
        asked_length(
            "mark-after",
            f"Its mark on {second}",
            check.along_after,
            lambda v: (edits.SetReading(replace(check, along_after=v)),),
            least=SHORTEST,
        ),
    )


def _diagonal(job: Job, corner: Id, other: Id, *, first: bool) -> Question:
    survey = room(job)
    here = distance(survey.corner(corner).point, survey.corner(other).point)
    known = next(
        (
            r
            for r in job.room.readings
            if isinstance(r, DiagonalReading) and {r.a, r.b} == {corner, other}
        ),
        None,
    )

    label = f"To corner {survey.corner(other).number}"
    fresh = DiagonalReading("", corner, other, here)
    return taken_asked(job, f"to-{other}", label, known, fresh, first=first)


def wall_described(job: Job, wall: Id) -> Described:
    """Return a wall in words and boxes."""
    survey, style = room(job), length_style(job)
    line = survey.wall(wall)
    known = next(
        (r for r in job.room.readings if isinstance(r, WallReading) and r.wall == wall), None
    )
    here = distance(line.left, line.right)
    name = wall_words(job, wall)
    facts = [Fact("Length now", written(here, style))]
    if known is not None:
        plan = next((r for r in survey.readings if r.reading.id == known.id), None)
        if plan is not None:
            facts.append(Fact("Moved by the others", written_small(plan.residual, style)))
            facts.append(
                Fact("Checked by others", "yes" if plan.standardized is not None else "no")
            )

    label = capital(name)
    fresh = WallReading("", wall, here)
    return Described(
        capital(name),
        (*facts, *_bow_facts(job, wall)),
        (
            taken_asked(job, "taped", label, known, fresh, first=True),
            *_followed(job, wall),
            *_along_wall(job, wall),
        ),
    )


def _bow_facts(job: Job, wall: Id) -> tuple[Fact, ...]:
    """Return how the wall bows and how well it is known, as far as readings say."""
    profile = profile_of(job, wall)
    return () if profile is None else (Fact("Its line", bow_words(job, profile)),)


BACKS = (("scribed", "Scribed"), ("straight", "Straight"))


def _followed(job: Job, wall: Id) -> tuple[Question, ...]:
    """Return the question whether the tops along a wall follow its bow."""
    legs = [leg for run in job.runs for leg in run.legs]
    legs = [leg for leg in legs if leg.wall == wall and leg.peninsula is None]
    if not legs:
        return ()

    def followed(word: str) -> tuple[edits.Edit, ...]:
        back = "scribed" if word == "scribed" else "straight"
        return tuple(edits.SetLeg(replace(leg, back=back)) for leg in legs)

    return (asked_choice("back", "Backs along it", legs[0].back, BACKS, followed),)


def _along_wall(job: Job, wall: Id) -> tuple[Question, ...]:
    """Return the questions for what was read along a wall: gaps, depths, plumb lines."""
    style = length_style(job)
    words = {StraightedgeReading: "Gap", FaceReading: "Depth", PlumbReading: "Plumb"}
    found = [
        r
        for r in job.room.readings
        if isinstance(r, StraightedgeReading | FaceReading | PlumbReading) and r.wall == wall
    ]
    found.sort(key=lambda r: (list(words).index(type(r)), r.along))
    return tuple(
        value_asked(job, r, f"{words[type(r)]} at {written(r.along, style)}") for r in found
    )
