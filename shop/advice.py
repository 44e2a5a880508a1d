"""What to read next, in one sentence: the best of shop/next_reading.py, or why there is none."""

import msgspec

from shop.candidates import three_sides
from shop.certainty import good_enough
from shop.job import Job
from shop.next_reading import next_readings
from shop.readings import Reading, TieReading
from shop.survey import room
from shop.words import listed, reading_words

__all__ = ["Advice", "advice", "three_sides"]


class Advice(msgspec.Struct, frozen=True, cache_hash=True):
    """What to read next in words, and the reading that it would be, with its present length."""

    words: str
    reading: Reading | None = None


def advice(job: Job) -> Advice | None:
    """Return what to read next; None without walls, and while readings contradict each other."""
    plan = room(job)
    if not job.room.walls or plan.problem is not None or plan.misreading:
        return None
    ranked = next_readings(job)
    if ranked:
        return Advice(ranked[0].words, ranked[0].reading)
    if plan.undetermined:
        return Advice("Some corners can still move: tape a diagonal or make a three-sides check.")
    bare = [r.reading for r in plan.readings if r.standardized is None]
    once = [r for r in bare if r.taken == 1 and not isinstance(r, TieReading)]
    if once:
        names, them = (
            listed(reading_words(job, r) for r in once),
            "it" if len(once) == 1 else "them",
        )
        return Advice(
            f"Every corner is fixed. Take {names} twice: no other reading can check {them}."
        )
    if not good_enough(job).enough:
        what = "these counters" if job.runs else "counters"
        return Advice(
            f"Every corner is fixed and checked, but not well enough for {what}: take lengths"
            " twice, or with a laser."
        )
    return Advice("Every corner is fixed and checked.")
