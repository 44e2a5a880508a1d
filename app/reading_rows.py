"""The rows of the readings card, in words: what was read, what is to be, what the others say."""

from typing import Literal, NamedTuple, TypeAlias

from app.asking import Question
from app.taking import measure, retaken
from geometry.lengths import LengthStyle, written, written_small
from geometry.naming import Id
from shop.certainty import good_enough
from shop.job import Job
from shop.misreading import fits_at_all
from shop.next_reading import LARGEST_TOLD_IN, Next, marked, rounded_up
from shop.profiles import profiles
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
from shop.slips import slips
from shop.survey import ReadingPlan, RoomPlan, room
from shop.walking_order import KINDS, walking_order
from shop.words import capital, corner_words, corners_words, length_style, reading_words, wall_words

State: TypeAlias = Literal["to-take", "checked", "open", "doubtful", "struck"]

SHORTEST = 1.0 / 16.0
"""No tape is read shorter, no angle narrower; inches, degrees."""

MOST_IN = 2000.0
MOST_DEG = 359.0


class ReadingRow(NamedTuple):
    """One reading, taken or to be taken: its box, and what the other readings make of it.

    along asks where along the string a corner lies that has not been read yet.
    """

    key: str
    reading: Reading
    known: bool
    question: Question
    along: Question | None
    state: State
    words: str


def key_of(reading: Reading) -> str:
    """Return the key of a row: the same before a reading is taken and after."""
    if isinstance(reading, ThreeSidesReading):
        return f"three-sides {reading.corner}"
    if isinstance(reading, StationReading) and reading.to == "corner":
        return f"station {reading.baseline} {reading.corner}"
    return " ".join(
        "-".join(sorted(map(str, part))) if isinstance(part, frozenset) else str(part)
        for part in measure(reading)
    )


def reading_rows(job: Job, wanted: Reading | None = None) -> tuple[ReadingRow, ...]:
    """Return the rows of a job in the order of a walk; wanted is one more that is to be taken."""
    plan = room(job)
    plans = {one.reading.id: one for one in plan.readings} | _of_surfaces(job)
    asked = [(one.reading, one.known) for one in walking_order(job)]
    if wanted is not None:
        _add(asked, wanted)
    rows: list[ReadingRow] = []
    seen: dict[str, int] = {}
    for reading, known in asked:
        key = key_of(reading)
        seen[key] = seen.get(key, 0) + 1
        if seen[key] > 1:
            key = f"{key} #{seen[key]}"
        rows.append(_row(job, key, reading, plans.get(reading.id) if known else None, plan, known))
    return tuple(rows)


def _of_surfaces(job: Job) -> dict[Id, ReadingPlan]:
    """Return what is known of the readings that say how walls bow, by their id."""
    readings = {reading.id: reading for reading in job.room.readings}
    return {
        one.reading: ReadingPlan(
            readings[one.reading],
            readings[one.reading].value + one.residual,
            one.residual,
            one.standardized,
            one.redundancy,
            one.suspect,
        )
        for profile in profiles(job)
        for one in profile.readings
        if one.reading in readings
    }


def _add(asked: list[tuple[Reading, bool]], wanted: Reading) -> None:
    """Put a reading among those asked: in place of one of the same, else after its kind."""
    key = key_of(wanted)
    for at, (reading, known) in enumerate(asked):
        if key_of(reading) == key:
            if not known:
                asked[at] = (wanted, False)
            return
    kind = KINDS.index(type(wanted))
    after = (at for at, (r, _) in enumerate(asked) if KINDS.index(type(r)) > kind)
    asked.insert(next(after, len(asked)), (wanted, False))


def _row(
    job: Job,
    key: str,
    reading: Reading,
    plan: ReadingPlan | None,
    survey: RoomPlan,
    known: bool,
) -> ReadingRow:
    style = length_style(job)
    angle = isinstance(reading, AngleReading)
    words = short_words(job, reading)
    question = Question(
        key,
        capital(words),
        "angle" if angle else "length",
        reading.value if known else "",
        least=-MOST_IN if _may_be_negative(reading) else SHORTEST,
        most=MOST_DEG if angle else MOST_IN,
        optional=not known,
        ghost="" if known else _ghost(reading, style),
        retaken=retaken(job, reading) if known else None,
    )
    along = None
    if not known and isinstance(reading, StationReading):
        along = question._replace(
            key=f"{key} along",
            label=f"{question.label}, along the string",
            least=-MOST_IN,
            ghost=written(reading.station, style),
        )
    state = _state(reading, plan, survey) if known else "to-take"
    return ReadingRow(
        key,
        reading,
        known,
        question,
        along,
        state,
        _said(job, reading, plan, state, survey),
    )


def _ghost(reading: Reading, style: LengthStyle) -> str:
    if isinstance(reading, AngleReading):
        return f"{reading.value:.0f}°"
    return written(reading.value, LengthStyle(style.unit, 16))


def _may_be_negative(reading: Reading) -> bool:
    return isinstance(
        reading, StraightedgeReading | StationReading | TieReading | PlumbReading
    ) and not (isinstance(reading, TieReading) and reading.way == "straight")


def _state(reading: Reading, plan: ReadingPlan | None, survey: RoomPlan) -> State:
    if reading.struck:
        return "struck"
    if reading.id in survey.blamed or (plan is not None and plan.suspect):
        return "doubtful"
    if plan is None or plan.standardized is None or _hardly_checked(reading, plan):
        return "open"
    return "checked"


def _hardly_checked(reading: Reading, plan: ReadingPlan) -> bool:
    """Tell whether a slip would have to be larger than any that is made to show."""
    slip = plan.smallest_slip
    return slip is not None and slip > LARGEST_TOLD_IN and not isinstance(reading, AngleReading)


def _open_words(reading: Reading, plan: ReadingPlan, survey: RoomPlan) -> str:
    """Return that nothing checks a reading, unless that goes for the whole room or for its kind."""
    if _hardly_checked(reading, plan):
        return "Hardly checked: take it twice."
    if not survey.degrees_of_freedom or _of_surface(reading):
        return ""
    return "Nothing checks it yet."


def _of_surface(reading: Reading) -> bool:
    """Tell whether a reading says how a wall or its faces run: only a second take checks it."""
    station = isinstance(reading, StationReading) and reading.to != "corner"
    return station or isinstance(reading, StraightedgeReading | FaceReading | PlumbReading)


def _said(
    job: Job, reading: Reading, plan: ReadingPlan | None, state: State, survey: RoomPlan
) -> str:
    """Return what the other readings make of one, and its story, in a line or two."""
    style = length_style(job)
    story = story_words(reading, style)
    if state == "to-take":
        return ""
    if state == "struck":
        return f"Struck: counts for nothing. {story}".strip()
    if state == "doubtful":
        return f"{doubt_words(reading, plan, style)} {story}".strip()
    if plan is None:
        return story
    if state == "open":
        return f"{_open_words(reading, plan, survey)} {story}".strip()
    words = "Others agree"
    if abs(plan.residual) >= _told_from(reading, style):
        words = f"Others differ by {size_words(reading, abs(plan.residual), style)}"
    if plan.smallest_slip is not None:
        words = f"{words}; {slip_words(reading, plan.smallest_slip, style)} off would show"
    return f"{words}. {story}".strip()


def _told_from(reading: Reading, style: LengthStyle) -> float:
    """Return from what on a difference is told: half of what the job writes, or of 0.1 degree."""
    if isinstance(reading, AngleReading):
        return 0.05
    return 0.5 / 25.4 if style.unit == "mm" else 0.5 / style.denominator


def doubt_words(reading: Reading, plan: ReadingPlan | None, style: LengthStyle) -> str:
    """Return how a doubtful reading seems off."""
    if plan is None or plan.seems_off is None:
        return "It does not fit the others: read it again."
    if not fits_at_all(reading, plan.seems_off):
        return "Does not fit at all: read it again."
    size = slip_words(reading, abs(plan.seems_off), style)
    if isinstance(reading, AngleReading):
        much = "wide" if plan.seems_off > 0.0 else "narrow"
    else:
        much = "long" if plan.seems_off > 0.0 else "short"
    what = " (how far along)" if plan.part == "station" else ""
    again = "though taken twice." if reading.taken == 2 else "read it again."
    if reading.taken > 2:
        again = f"though taken {reading.taken} times."
    return f"Seems {size} too {much}{what}{',' if reading.taken > 1 else ':'} {again}"


def size_words(reading: Reading, size: float, style: LengthStyle) -> str:
    """Return a difference in the reading's own unit."""
    if isinstance(reading, AngleReading):
        return f"{size:.1f}°" if size >= 0.05 or size == 0.0 else "less than 0.1°"
    return written_small(size, style)


def slip_words(reading: Reading, size: float, style: LengthStyle) -> str:
    """Return a slip in the reading's own unit, rounded up."""
    return f"{size:.1f}°" if isinstance(reading, AngleReading) else rounded_up(size, style)


def story_words(reading: Reading, style: LengthStyle) -> str:
    """Return what became of a reading before: 'mean of 2' or 'was 8' 4, replaced'."""
    last = reading.earlier[-1] if reading.earlier else None
    if last is not None and last.then == "replaced":
        angle = isinstance(reading, AngleReading)
        was = f"{last.value:g}°" if angle else written(last.value, style)
        mean = f" Mean of {reading.taken}." if reading.taken > 1 else ""
        return f"Was {was}, replaced.{mean}"
    return f"Mean of {reading.taken}." if reading.taken > 1 else ""


def short_words(job: Job, reading: Reading) -> str:
    """Return what a reading measures, short enough for a narrow column."""
    style = length_style(job)
    match reading:
        case ThreeSidesReading():
            marks = (marked(v, style) for v in (reading.along_before, reading.along_after))
            return f"across {corner_words(job, reading.corner)}, {' and '.join(marks)}"
        case StraightedgeReading():
            return f"gap, {wall_words(job, reading.wall)} at {written(reading.along, style)}"
        case FaceReading():
            return f"depth, {wall_words(job, reading.wall)} at {written(reading.along, style)}"
        case PlumbReading():
            return f"plumb, {wall_words(job, reading.wall)} at {written(reading.along, style)}"
        case StationReading():
            name = _baseline_name(job, reading.baseline)
            if reading.to == "corner":
                return f"{name} to {corner_words(job, reading.corner or '')}"
            to = "wall" if reading.to == "wall" else "faces"
            return f"{name} to {to} at {written(reading.station, style)}"
        case _:
            return reading_words(job, reading)


def _baseline_name(job: Job, baseline: Id) -> str:
    return next((line.name for line in job.room.baselines if line.id == baseline), "string")


class NextTold(NamedTuple):
    """One of the readings to take next: its name, what it buys, and all of it in a sentence."""

    reading: Reading
    title: str
    gain: str
    words: str


def nexts_told(job: Job, found: tuple[Next, ...], most: int) -> tuple[NextTold, ...]:
    """Return what to read next; of walls that are not taped only the first, since they come all."""
    told = []
    for one in found:
        title = short_words(job, one.reading)
        for mark in (". It ", ": "):
            _, _, gain = one.words.partition(mark)
            if gain:
                gain = f"It {gain}" if mark == ". It " else capital(gain)
                break
        told.append(NextTold(one.reading, capital(title), gain, one.words))
        if not gain or len(told) == most:
            break
    return tuple(told)


def standing_told(job: Job) -> tuple[str, bool]:
    """Return how well the room is known, or what is wrong with its readings, and which it is."""
    plan = room(job)
    if plan.problem is not None:
        return plan.problem, True
    if not plan.readings:
        return "", False
    if plan.undetermined:
        return f"Not fixed yet: {corners_words(job, plan.undetermined)}.", False
    if not plan.degrees_of_freedom:
        return f"Nothing is checked yet. {good_enough(job).words}", plan.misreading
    seen = slips(job)
    shows = f"\n{seen.words}" if seen is not None else ""
    return good_enough(job).words + shows, plan.misreading
