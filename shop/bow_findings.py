"""Findings about walls that bow: gaps behind straight backs, and readings of bows that disagree."""

from collections.abc import Iterator

from msgspec.structs import replace

from geometry.frames import wall_mark
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
from geometry.picking import Subject
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.finding import Finding
from shop.job import Job
from shop.profiles import (
    MOST_BOW_IN,
    WallProfile,
    bow_words,
    faces,
    gap_behind,
    profile_of,
    profiles,
)
from shop.references import legs_of
from shop.words import (
    capital,
    leg_words,
    length_style,
    limit_words,
    listed,
    reading_words,
    wall_words,
)

GAP = "wall-gap"


def of_bows(job: Job) -> Iterator[Finding]:
    """Yield where straight backs leave wide gaps, and what is odd about readings of bows."""
    yield from _gaps(job)
    yield from _behind(job)
    for profile in profiles(job):
        yield from _too_deep(job, profile)
        yield from _misread(job, profile)
        yield from _left_out(job, profile)


def _gaps(job: Job) -> Iterator[Finding]:
    style, limit = length_style(job), job.limits.wall_gap
    for leg in legs_of(job).values():
        gap, profile = gap_behind(job, leg.id), profile_of(job, leg.wall)
        if gap is None or profile is None or leg.back == "scribed":
            continue
        if gap.depth <= limit + SAME_POINT_IN:
            continue
        words = bow_words(job, profile)
        yield Finding(
            GAP,
            False,
            f"A gap behind {leg_words(job, leg.id)}",
            f"{capital(words)}. Behind the straight back the gap is up to"
            f" {written(gap.depth, style)}, at {written(max(gap.along, 0.0), style)} along the"
            f" wall, where {limit_words(job, 'wall_gap')}: scribe the back, or plan to cover the"
            " gap.",
            (Subject("edge", leg.id, EdgeRef(leg.id, "back")),),
            wall_mark(profile.wall, gap.along),
        )


def scribing(job: Job, finding: Finding) -> tuple[str, edits.Edit]:
    """Return what makes a finding about a gap go: the leg's back is scribed."""
    leg = legs_of(job)[finding.about[0].id]
    return "Scribe the back to the wall", edits.SetLeg(replace(leg, back="scribed"))


def _readings(job: Job, ids: tuple[Id, ...]) -> str:
    named = {reading.id: reading for reading in job.room.readings}
    return listed(reading_words(job, named[reading]) for reading in ids)


def _misread(job: Job, profile: WallProfile) -> Iterator[Finding]:
    if profile.misread:
        words = _readings(job, profile.misread)
        yield Finding(
            "bow-misread",
            False,
            f"A reading of the bow of {wall_words(job, profile.wall.id)} is off",
            f"Readings of the same places disagree by more than tapes do. Suspect: {words}. Take"
            " them again.",
            tuple(Subject("reading", reading) for reading in profile.misread),
            wall_mark(profile.wall, _place(profile, profile.misread[0])),
        )


def _too_deep(job: Job, profile: WallProfile) -> Iterator[Finding]:
    """Yield that a wall would stand off its line by more than walls bow."""
    deepest = max(profile.stations, key=lambda station: abs(station.offset))
    if abs(deepest.offset) <= MOST_BOW_IN + SAME_POINT_IN or not deepest.readings:
        return
    style, name = length_style(job), wall_words(job, profile.wall.id)
    how = "bulge" if deepest.offset > 0.0 else "be hollow"
    yield Finding(
        "bow-too-deep",
        False,
        f"{capital(name)} bows by more than walls do",
        f"By {_readings(job, deepest.readings)} it would {how} by"
        f" {written(abs(deepest.offset), style)} at {written(deepest.along, style)}. Take that"
        f" again; a wall off by more than {written(MOST_BOW_IN, style)} has a corner there.",
        tuple(Subject("reading", reading) for reading in deepest.readings),
        wall_mark(profile.wall, deepest.along),
    )


def _behind(job: Job) -> Iterator[Finding]:
    """Yield the faces of cabinets that would lie behind their wall."""
    for face in faces(job):
        if face.surface_depth > SAME_POINT_IN:
            continue
        words = _readings(job, (face.reading,))
        behind = written(-face.surface_depth, length_style(job))
        yield Finding(
            "face-behind-wall",
            False,
            f"The faces lie behind {wall_words(job, face.wall)}",
            f"By {words} the cabinets' faces would be {behind} behind the wall. Where the string"
            " runs behind the faces, type the offset to them with a minus; else take it again.",
            (Subject("reading", face.reading),),
            face.point,
        )


def _place(profile: WallProfile, reading: Id) -> float:
    return next(s.along for s in profile.stations if reading in s.readings)


def _left_out(job: Job, profile: WallProfile) -> Iterator[Finding]:
    if profile.left_out:
        words = _readings(job, profile.left_out)
        yield Finding(
            "bow-off-wall",
            False,
            f"A reading does not lie on {wall_words(job, profile.wall.id)}",
            f"Left out: {words}. It lies past the wall's end, or its straightedge touches the wall"
            " in one place only: check its places along the wall.",
            tuple(Subject("reading", reading) for reading in profile.left_out),
            wall_mark(profile.wall, 0.0),
        )
