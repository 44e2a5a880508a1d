"""Readings, marks and strings, described: how each was taken, and what it says."""

from msgspec.structs import replace

from app.asking import Fact, Question
from app.gestures.marking import MARK_KINDS
from app.reading_rows import SHORTEST, size_words, slip_words
from app.things.boxes import Described, asked_choice, asked_length, asked_on_board
from app.things.taken import value_asked
from geometry.lengths import written, written_small
from geometry.naming import Id
from geometry.points import distance
from shop import edits
from shop.job import Job, Mark
from shop.observing import left_to_right
from shop.readings import (
    AngleReading,
    FaceReading,
    PlumbReading,
    Reading,
    StationReading,
    StraightedgeReading,
    ThreeSidesReading,
    TieReading,
)
from shop.survey import deviation, room
from shop.words import capital, corner_words, length_style, reading_words, wall_words

TOOLS = (("tape", "Tape"), ("laser", "Laser"))
COUNTS = (("yes", "Yes"), ("struck", "Struck"))
MOST_TIMES = 50
LONGEST_NOTE = 400.0
LEASTS = {"station": -2000.0, "along_before": SHORTEST, "along_after": SHORTEST}
FINEST = 0.001


def reading_described(job: Job, reading_id: Id) -> Described:
    """Return a reading in words and boxes: its value, its tool, its takes, its note, its story."""
    reading = next(r for r in job.room.readings if r.id == reading_id)
    words = reading_words(job, reading)
    return Described(
        capital(words),
        (*_facts(job, reading), *_story(job, reading)),
        (
            value_asked(job, reading, "As taken", first=True),
            *_places(job, reading),
            *_tool(reading),
            _times(reading),
            _known_to(job, reading),
            _counts(reading),
            Question(
                "note",
                "Note",
                "words",
                reading.note,
                lambda a: (edits.SetReading(replace(reading, note=str(a))),),
                most=LONGEST_NOTE,
                optional=True,
            ),
        ),
    )


def _places(job: Job, reading: Reading) -> tuple[Question, ...]:
    """Return the questions for where a reading was taken."""

    def asked(key: str, label: str, value: float, *, most: float = 2000.0) -> Question:
        return asked_length(
            key,
            label,
            value,
            lambda v: (edits.SetReading(replace(reading, **{key: v})),),
            least=LEASTS.get(key, 0.0),
            most=most,
            positive=key == "height",
        )

    match reading:
        case ThreeSidesReading():
            sides = (
                ("along_before", "Mark on the wall to the left", reading.along_before),
                ("along_after", "Mark on the wall to the right", reading.along_after),
            )
            return tuple(asked(*side) for side in sides)
        case StationReading():
            return (asked("station", "Along the string", reading.station),)
        case StraightedgeReading():
            size = _size(job, reading.wall)
            to = size if reading.to_along is None else reading.to_along
            return (
                asked("along", "Along the wall", reading.along, most=size),
                asked("from_along", "Straightedge from", reading.from_along, most=size),
                asked("to_along", "Straightedge to", to, most=size),
            )
        case FaceReading():
            return (asked("along", "Along the wall", reading.along, most=_size(job, reading.wall)),)
        case PlumbReading():
            return (
                asked("along", "Along the wall", reading.along, most=_size(job, reading.wall)),
                asked("height", "Over a height of", reading.height),
            )
        case _:
            return ()


def _size(job: Job, wall: Id) -> float:
    line = room(job).wall(wall)
    return distance(line.left, line.right)


def _tool(reading: Reading) -> tuple[Question, ...]:
    if isinstance(reading, AngleReading):
        return ()

    def with_tool(tool: str) -> tuple[edits.Edit, ...]:
        taken = replace(reading, tool="laser" if tool == "laser" else "tape")
        return (edits.SetReading(taken),)

    return (asked_choice("tool", "Taken with", reading.tool, TOOLS, with_tool),)


def _times(reading: Reading) -> Question:
    return Question(
        "taken",
        "Mean of so many takes",
        "number",
        float(reading.taken),
        lambda a: (edits.SetReading(replace(reading, taken=round(float(a)))),),
        least=1.0,
        most=float(MOST_TIMES),
    )


def _known_to(job: Job, reading: Reading) -> Question:
    """Return the question for how well a single take reads; empty as the job says."""
    angle = isinstance(reading, AngleReading)
    usual = deviation(job.room, replace(reading, sd=None, taken=1))
    return Question(
        "sd",
        "One take reads to, ±",
        "angle" if angle else "length",
        "" if reading.sd is None else reading.sd,
        lambda a: (edits.SetReading(replace(reading, sd=None if a == "" else float(a))),),
        least=FINEST,
        most=20.0 if angle else 12.0,
        optional=True,
        ghost=f"{usual:g}°" if angle else written(usual, length_style(job)),
    )


def _counts(reading: Reading) -> Question:
    return asked_choice(
        "counts",
        "Counts",
        "struck" if reading.struck else "yes",
        COUNTS,
        lambda word: (edits.SetReading(replace(reading, struck=word == "struck")),),
    )


def _facts(job: Job, reading: Reading) -> tuple[Fact, ...]:
    style = length_style(job)
    plan = next((p for p in room(job).readings if p.reading.id == reading.id), None)
    if plan is None:
        return ()
    if plan.smallest_slip is None:
        return (Fact("Checked by others", "no"),)
    half = "1/2 in" if style.unit == "in" else "13 mm"
    if isinstance(reading, AngleReading):
        half = "half a degree"
    return (
        Fact("The others differ by", size_words(reading, abs(plan.residual), style)),
        Fact("Smallest slip that would show", slip_words(reading, plan.smallest_slip, style)),
        Fact(f"A slip of {half} would show", f"{100.0 * plan.chance_found:.0f} in 100"),
    )


def _story(job: Job, reading: Reading) -> tuple[Fact, ...]:
    style = length_style(job)
    angle = isinstance(reading, AngleReading)
    return tuple(
        Fact("Before", f"{f'{was.value:g}°' if angle else written(was.value, style)}, {was.then}")
        for was in reversed(reading.earlier)
    )


# --- Marks and strings --------------------------------------------------------------------------


def mark_described(job: Job, mark_id: Id) -> Described:
    """Return a mark in words and boxes: its name, its kind, its ties."""
    mark = next(m for m in job.room.marks if m.id == mark_id)
    plan = next(m for m in room(job).marks if m.id == mark_id)
    style = length_style(job)
    known = "not tied by readings"
    if plan.sd_major is not None:
        known = f"± {written_small(plan.sd_major, style)}"
    ties = [r for r in job.room.readings if isinstance(r, TieReading) and r.mark == mark_id]
    asked = tuple(
        value_asked(job, tie, _tie_words(job, tie), first=number == 0)
        for number, tie in enumerate(ties)
    )
    return Described(
        capital(mark.name),
        (Fact("Place", known),),
        (
            *asked,
            Question(
                "name",
                "Name",
                "words",
                mark.name,
                lambda a: (edits.SetMark(replace(mark, name=str(a))),),
            ),
            asked_choice("kind", "What it is", mark.kind, MARK_KINDS, lambda k: _kinded(mark, k)),
            *_drawn(mark),
        ),
    )


def _kinded(mark: Mark, kind: str) -> tuple[edits.Edit, ...]:
    chosen = next(known for known, _ in MARK_KINDS if known == kind)
    return (edits.SetMark(replace(mark, kind=chosen)),)


def _tie_words(job: Job, tie: TieReading) -> str:
    if tie.way == "straight":
        return f"To {corner_words(job, tie.to)}"
    wall = wall_words(job, tie.to)
    return f"Along {wall}" if tie.way == "along" else f"Out from {wall}"


def _drawn(mark: Mark) -> tuple[Question, Question]:
    def put(x: float, y: float) -> tuple[edits.Edit, ...]:
        return (edits.SetMark(replace(mark, x=x, y=y)),)

    return asked_on_board(mark.x, mark.y, put)


def baseline_described(job: Job, baseline_id: Id) -> Described:
    """Return a string in words and boxes: its name, where it is drawn, its stations."""
    line = next(b for b in job.room.baselines if b.id == baseline_id)
    plan = next(b for b in room(job).baselines if b.id == baseline_id)
    wall = next(w for w in job.room.walls if w.id == line.wall)
    left, right = (corner_words(job, c) for c in left_to_right(wall))
    stations = [
        r for r in job.room.readings if isinstance(r, StationReading) and r.baseline == line.id
    ]
    stations.sort(key=lambda r: r.station)
    asked = tuple(
        value_asked(job, r, _station_words(job, r), first=number == 0)
        for number, r in enumerate(stations)
    )
    lies = "fixed by its corners" if plan.fixed else "as drawn: tape it to two corners"
    return Described(
        capital(line.name),
        (Fact("Along", wall_words(job, line.wall)), Fact("Lies", lies)),
        (
            *asked,
            Question(
                "name",
                "Name",
                "words",
                line.name,
                lambda a: (edits.SetBaseline(replace(line, name=str(a))),),
            ),
            asked_length(
                "away",
                "Drawn off the wall by",
                line.away,
                lambda v: (edits.SetBaseline(replace(line, away=v)),),
                least=-240.0,
                most=240.0,
            ),
            asked_choice(
                "hook",
                "Its zero is at",
                line.hook,
                (("left", left), ("right", right)),
                lambda h: (
                    edits.SetBaseline(replace(line, hook="left" if h == "left" else "right")),
                ),
            ),
        ),
    )


def _station_words(job: Job, reading: StationReading) -> str:
    at = written(reading.station, length_style(job))
    if reading.to == "corner":
        return f"At {at}, to {corner_words(job, reading.corner or '')}"
    return f"At {at}, to the {'wall' if reading.to == 'wall' else 'faces'}"
