"""Findings about the room: what its readings leave open, do not check, or contradict."""

from collections.abc import Iterator

from geometry.naming import Id
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.contradicting import Contradicting, contradicting
from shop.finding import Finding
from shop.job import Job
from shop.misreading import Misread, misread
from shop.next_reading import next_readings
from shop.places import place_of
from shop.readings import TieReading
from shop.retaking import struck
from shop.survey import room
from shop.words import capital, corners_words, listed, reading_words

CONTRADICTS, MISREADING, UNCHECKED = "room-contradicts", "misreading", "room-unchecked"

MOST_STRUCK = 3
"""No more remedies than this are offered for one finding."""


def of_room(job: Job) -> Iterator[Finding]:
    """Yield what is to look at in the room; contradictions block only where no room fits them."""
    survey = room(job)
    against = contradicting(job)
    blocking = survey.problem is not None
    for one in against:
        yield _contradiction(job, one, blocking=blocking)
    if survey.problem is not None:
        if not against:
            yield _unfit(job, survey.problem, survey.blamed)
        return
    yield from _untied(job)
    if not survey.readings:
        return
    if survey.undetermined:
        yield _loose(job, survey.undetermined)
    found = misread(job)
    if found is not None:
        said = {reading for one in against for reading in one.readings}
        if not {suspect.reading.id for suspect in found.suspects} <= said:
            yield _misreading(job, found)
    elif not survey.undetermined:
        yield from _unchecked(job)


def strikings(job: Job, finding: Finding) -> Iterator[tuple[str, edits.Edit]]:
    """Give the readings of a finding struck, each by itself, in words and as an edit.

    None where nothing tells which reading is off: the one that is struck might be a good one.
    """
    unsure = misread(job) if finding.code == MISREADING else None
    if unsure is not None and not unsure.locatable:
        return
    readings = {reading.id: reading for reading in job.room.readings}
    for subject in finding.about[:MOST_STRUCK] if finding.about[0].kind == "reading" else ():
        reading = readings[subject.id]
        yield f"Strike {reading_words(job, reading)}", edits.SetReading(struck(reading))


def _about_readings(job: Job, readings: tuple[Id, ...]) -> tuple[tuple[Subject, ...], Point | None]:
    """Return readings as subjects, and where the first of them is.

    Where no reading is to blame, it is the wall from which the room is measured.
    """
    about = tuple(Subject("reading", reading) for reading in readings)
    about = about or (Subject("wall", job.room.walls[0].id),)
    return about, place_of(job, about[0])


def _contradiction(job: Job, one: Contradicting, *, blocking: bool) -> Finding:
    title = "The readings contradict " + ("the room" if blocking else "each other")
    return Finding(CONTRADICTS, blocking, title, one.words, *_about_readings(job, one.readings))


def _unfit(job: Job, problem: str, blamed: tuple[Id, ...]) -> Finding:
    names = listed(reading_words(job, r) for r in job.room.readings if r.id in blamed)
    text = f"{problem} It is about {names}." if names else problem
    title = "The readings contradict the room"
    return Finding(CONTRADICTS, True, title, text, *_about_readings(job, blamed))


def _loose(job: Job, corners: tuple[Id, ...]) -> Finding:
    names = corners_words(job, corners)
    its = "it keeps its" if len(corners) == 1 else "they keep their"
    fixing = (found.words for found in next_readings(job) if found.prospect.fixes)
    do = next(fixing, "Tape a diagonal or make a three-sides check.")
    return Finding(
        "corner-not-fixed",
        False,
        f"{capital(names)} can still move",
        f"The readings do not fix {names}, so {its} drawn place. {do}",
        tuple(Subject("corner", corner) for corner in corners),
        place_of(job, Subject("corner", corners[0])),
    )


def _misreading(job: Job, found: Misread) -> Finding:
    about = _about_readings(job, tuple(suspect.reading.id for suspect in found.suspects))
    return Finding(MISREADING, False, "A reading seems off", found.words, *about)


def _unchecked(job: Job) -> Iterator[Finding]:
    """Yield what no other reading checks, unless it was taken twice or only ties a mark."""
    plans = [r for r in room(job).readings if not isinstance(r.reading, TieReading)]
    bare = [p.reading for p in plans if p.standardized is None and p.reading.taken == 1]
    if not bare:
        return
    whole = len(bare) == len(plans)
    names = "the room" if whole else listed(reading_words(job, reading) for reading in bare)
    checking = next(iter(next_readings(job)), None)
    do = "Take that a second time." if checking is None else checking.words
    yield Finding(
        UNCHECKED,
        False,
        f"Nothing checks {names}",
        f"A slip of the tape there would not show. {do}",
        *_about_readings(job, tuple(reading.id for reading in bare)),
    )


def _untied(job: Job) -> Iterator[Finding]:
    """Yield the baselines that no two corners place."""
    for baseline, plan in zip(job.room.baselines, room(job).baselines, strict=True):
        if not plan.fixed:
            tying = (n.words for n in next_readings(job) if n.prospect.ties == baseline.id)
            do = next(tying, "")
            yield Finding(
                "baseline-not-tied",
                False,
                f"{baseline.name} is not tied to the room",
                "Offsets to two corners say where it is; until then it lies as drawn."
                + (f" {do}" if do else ""),
                (Subject("baseline", baseline.id),),
                place_of(job, Subject("baseline", baseline.id)),
            )
