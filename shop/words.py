"""What things of a job are called, in the trade's words. What is not there is 'a wall' or such."""

from collections.abc import Collection, Iterable
from itertools import count

from geometry.alongside import Splash
from geometry.frames import Hook
from geometry.lengths import LengthStyle, written
from geometry.naming import CornerRef, EdgeRef, Id
from shop.job import Job, Limits
from shop.moldwords import FAR_SIDE
from shop.readings import (
    AngleReading,
    DiagonalReading,
    FaceReading,
    Reading,
    StationReading,
    StraightedgeReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from shop.references import legs_of, run_of, strips_of, wall_behind
from shop.survey import left_to_right

BESIDE_WORDS = {
    "far": FAR_SIDE,
    "inner": "inner side",
    "outer": "outer side",
    "bottom": "bottom",
    "top": "top",
    "leftstep": "left step",
    "lefttop": "low top at the left",
    "rightstep": "right step",
    "righttop": "low top at the right",
}
"""What the sides of peninsulas, ledges and backsplashes are called that others do not have."""

LONGEST_STEM = 74
"""A name that gets a number keeps so many letters, so that a file can hold both."""

PENINSULA = "the peninsula"
"""What a leg that leaves its wall is called."""


def length_style(job: Job) -> LengthStyle:
    """Return how the job writes its lengths."""
    return LengthStyle(job.display, job.fraction)


def limit_words(job: Job, limit: str) -> str:
    """Return a limit of the job, by its field, with whose it is: 'common practice is 10'."""
    value = getattr(job.limits, limit)
    whose = "common practice" if value == getattr(Limits(), limit) else "your limit"
    return f"{whose} is {written(value, length_style(job))}"


def listed(words: Iterable[str]) -> str:
    """Return words as a list in a sentence: a, b and c."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


def numbered(name: str, used: Collection[str]) -> str:
    """Return a name that is not used yet: the name itself, or with a number from 2 on after it."""
    if name not in used:
        return name
    plain = (name.rstrip("0123456789").rstrip() or name)[:LONGEST_STEM]
    return next(f"{plain} {i}" for i in count(2) if f"{plain} {i}" not in used)


def corner_words(job: Job, corner: Id) -> str:
    """Return a corner's name, such as 'corner 2'."""
    number = _number(job, corner)
    return "a corner" if number is None else f"corner {number}"


def corners_words(job: Job, corners: Iterable[Id]) -> str:
    """Return the name of several corners, such as 'corners 2 and 3'."""
    numbers = [str(_number(job, corner)) for corner in corners]
    return f"corner{'' if len(numbers) == 1 else 's'} {listed(numbers)}"


def _number(job: Job, corner: Id) -> int | None:
    return next((c.number for c in job.room.corners if c.id == corner), None)


def _numbers(job: Job, *corners: Id) -> list[int | None]:
    return sorted((_number(job, corner) for corner in corners), key=lambda number: number or 0)


def capital(words: str) -> str:
    """Return words that begin a sentence."""
    return f"{words[0].upper()}{words[1:]}"


def wall_words(job: Job, wall: Id) -> str:
    """Return a wall's name by its corners, such as 'wall 1 to 2', left to right."""
    found = next((w for w in job.room.walls if w.id == wall), None)
    if found is None:
        return "a wall"
    left, right = (_number(job, corner) for corner in left_to_right(found))
    return f"wall {left} to {right}"


def reading_words(job: Job, reading: Reading) -> str:
    """Return what a reading measures, such as 'diagonal 1 to 3'."""
    match reading:
        case WallReading():
            return wall_words(job, reading.wall)
        case DiagonalReading():
            return f"diagonal {' to '.join(map(str, _numbers(job, reading.a, reading.b)))}"
        case AngleReading():
            return f"angle at {corner_words(job, reading.corner)}"
        case ThreeSidesReading():
            return f"three-sides check at {corner_words(job, reading.corner)}"
        case StraightedgeReading():
            return f"gap to the straightedge on {_spot(job, reading.wall, reading.along)}"
        case StationReading():
            named = (b.name for b in job.room.baselines if b.id == reading.baseline)
            line = next(named, "a baseline")
            station = written(reading.station, length_style(job))
            ends = {"wall": "the wall", "face": "the cabinets", "corner": ""}[reading.to]
            ends = ends or corner_words(job, reading.corner or "")
            return f"offset from {line} to {ends} at {station}"
        case FaceReading():
            return f"depth to the cabinets at {_spot(job, reading.wall, reading.along)}"
        case TieReading():
            named = (m.name for m in job.room.marks if m.id == reading.mark)
            mark = next(named, "a mark")
            straight = reading.way == "straight"
            to = corner_words(job, reading.to) if straight else wall_words(job, reading.to)
            how = {"straight": "from", "square": "square from", "along": "along"}[reading.way]
            return f"{mark} {how} {to}"
        case _:
            return f"plumb line on {_spot(job, reading.wall, reading.along)}"


def _spot(job: Job, wall: Id, along_in: float) -> str:
    return f"{wall_words(job, wall)} at {written(along_in, length_style(job))}"


def top_words(job: Job, top: Id) -> str:
    """Return what a top is called: by its walls, or as an island."""
    run = next((r for r in job.runs if r.id == top), None)
    if run is not None:
        walls = listed(wall_words(job, leg.wall) for leg in run.legs if leg.peninsula is None)
        return f"the top along {walls}" if walls else PENINSULA
    strip = next((piece for piece in job.alongside if piece.id == top), None)
    if strip is not None:
        alike = [piece.id for piece in job.alongside if type(piece) is type(strip)]
        word = "backsplash" if isinstance(strip, Splash) else "ledge"
        return f"the {word}" if len(alike) == 1 else f"{word} {alike.index(top) + 1}"
    ids = [island.id for island in job.islands]
    if top not in ids:
        return "a top"
    return "the island" if len(ids) == 1 else f"island {ids.index(top) + 1}"


def behind_words(job: Job, leg: Id) -> str:
    """Return what the far edge of a leg or a strip is called, along which seams are measured."""
    strip = strips_of(job).get(leg)
    if strip is not None:
        return "top" if isinstance(strip, Splash) else "outer side"
    return "back" if legs_of(job)[leg].peninsula is None else FAR_SIDE


def front_words(job: Job, leg: Id) -> str:
    """Return what the near edge of a leg or a strip is called, that angles are measured to."""
    strip = strips_of(job).get(leg)
    if strip is not None:
        return "bottom" if isinstance(strip, Splash) else "inner side"
    return "front"


def leg_words(job: Job, leg: Id) -> str:
    """Return what a leg is called: by its place in its run from the left, or as the whole top."""
    run = run_of(job, leg)
    if run is None:
        return "a leg"
    if len(run.legs) == 1:
        return top_words(job, run.id)
    if legs_of(job)[leg].peninsula is not None:
        if any(part.peninsula is not None for part in run.legs if part.id != leg):
            return f"the {'left' if run.legs[0].id == leg else 'right'} peninsula"
        return PENINSULA
    return f"leg {[part.id for part in run.legs].index(leg) + 1}"


def hook_words(job: Job, leg: Id, hook: Hook) -> str:
    """Return where the tape hooks that measures along a leg: 'corner 2', 'the wall'."""
    strip = strips_of(job).get(leg)
    if strip is not None:
        wall = wall_behind(job, strip)
        if strip.edge.side not in ("start", "end"):
            return hook_words(job, strip.edge.owner, hook)
        if wall is None:
            return "the wall" if (hook == "left") == (strip.edge.side == "end") else "the room"
        return _hook_on(job, wall, hook)
    own = legs_of(job)[leg]
    leaving = own.peninsula
    if leaving is not None:
        if hook == "middle":
            return "the middle of the peninsula"
        return "its free end" if hook == leaving.side else "the wall"
    return _hook_on(job, own.wall, hook)


def _hook_on(job: Job, wall: Id, hook: Hook) -> str:
    if hook == "middle":
        return "the middle of the wall"
    left, right = left_to_right(next(w for w in job.room.walls if w.id == wall))
    return corner_words(job, left if hook == "left" else right)


def opening_words(job: Job, opening: Id) -> str:
    """Return an opening's name."""
    return next((o.name for o in job.openings if o.id == opening), "an opening")


def corner_of_top_words(job: Job, ref: CornerRef) -> str:
    """Return a corner of a top by its two edges, such as 'corner of front and right end'."""
    return f"corner of {listed(sorted(edge_words(job, edge) for edge in (ref.a, ref.b)))}"


def edge_words(job: Job, ref: EdgeRef | CornerRef) -> str:
    """Return an edge's name apart from any piece: 'back', 'left end', 'side 2', 'corner'.

    In a run of several legs, backs and fronts are told apart by their wall.
    """
    if isinstance(ref, EdgeRef) and ref.side == "cut":
        return opening_words(job, ref.owner)
    return side_words(ref, leg_place(job, ref.owner) if isinstance(ref, EdgeRef) else "")


def leg_place(job: Job, leg: Id) -> str:
    """Return what tells a leg's back and front from those of others: its wall; '' if it is alone.

    '' for what is no leg, too.
    """
    run = run_of(job, leg)
    if run is None or len(run.legs) == 1:
        return ""
    own = legs_of(job)[leg]
    return wall_words(job, own.wall) if own.peninsula is None else PENINSULA


def side_words(ref: EdgeRef | CornerRef, place: str) -> str:
    """Return the name of an edge of a top that is at a place, as leg_place tells it."""
    if isinstance(ref, CornerRef):
        return "corner"
    ends = {"start": "left end", "end": "right end"}
    if ref.side in ends:
        return ends[ref.side]
    if ref.side.isdigit():
        return f"side {ref.side}"
    if ref.side in BESIDE_WORDS:
        return BESIDE_WORDS[ref.side]
    if ref.side in ("left", "right"):
        return "seam"
    return f"{ref.side}, {place}" if place else ref.side
