"""What every page, label and drawing says of its job: name, revision, date, what it replaces."""

from datetime import date
from functools import lru_cache
from hashlib import blake2b
from math import atan2, cos, pi, sin
from typing import NamedTuple

import msgspec

from export.marks import AnyMark, Line, Sheet, Words
from export.pages import View
from export.typeface import text_width
from geometry.points import Point, middle, minus, plus
from shop import plan
from shop.job import Issued, IssuedMold, Job
from shop.reinforcement import reinforcement
from shop.words import listed

CHECK_IN = 4.0
"""Length of each check bar."""

CHECK_MM = 100.0
"""Length of each check bar of a metric job, millimeters."""


TICK_IN = 0.06
BESIDE_IN = 0.12
WORDS_IN = 0.12

MM_PER_IN = 25.4
"""Exact by definition."""

SAMPLE = "SAMPLE"
SAMPLE_SPAN = 0.92
"""SAMPLE takes up this part of a page."""


class Stamp(NamedTuple):
    """A job's name, its revision, the date in ISO 8601 form, and what the revision replaces."""

    job: str
    revision: int
    date: str
    replaces: str
    sample: bool

    @property
    def line(self) -> str:
        """The stamp as one line of words."""
        said = f"{self.job}, revision {self.revision}, {self.date}"
        parts = (said, self.replaces, SAMPLE if self.sample else "")
        return ", ".join(part for part in parts if part)


def digests(job: Job) -> tuple[IssuedMold, ...]:
    """Return a digest of what each mold is made of, mesh and bars included, by piece."""
    found = []
    for mold in plan.molds(job):
        whole = msgspec.json.encode((mold, reinforcement(job, mold.piece)))
        found.append(IssuedMold(mold.piece, blake2b(whole, digest_size=8).hexdigest()))
    return tuple(found)


def stamped(job: Job, today: date) -> Stamp:
    """Return the stamp of what would be written today."""
    molds = digests(job)
    last = job.issued
    if last is None:
        return Stamp(job.name, 1, today.isoformat(), "", job.sample)
    before = {mold.piece: mold.digest for mold in last.molds}
    after = {mold.piece: mold.digest for mold in molds}
    changed = sorted(
        (piece for piece in before.keys() | after.keys() if before.get(piece) != after.get(piece)),
        key=lambda piece: (len(piece), piece),
    )
    if not changed:
        return Stamp(job.name, last.revision, last.date, "", job.sample)
    what = f"mold {changed[0]}" if len(changed) == 1 else f"molds {listed(changed)}"
    return Stamp(
        job.name,
        last.revision + 1,
        today.isoformat(),
        f"replaces {last.revision}: {what} changed",
        job.sample,
    )


def issued(job: Job, today: date) -> Issued:
    """Return what to note in the job once its shop files are written today."""
    stamp = stamped(job, today)
    return Issued(stamp.revision, stamp.date, digests(job))


def check_bars(
    at: Point, *, metric: bool, scale: tuple[float, float] = (1.0, 1.0), part: float = 1.0
) -> tuple[AnyMark, ...]:
    """Return two bars at right angles with their lengths, in paper inches from their corner.

    They are corrected for the printer by the same scale as the drawing. part makes them shorter,
    for a page that has little room.
    """
    size = part * (CHECK_MM / MM_PER_IN if metric else CHECK_IN)
    words = f"check: {CHECK_MM * part:.0f} mm" if metric else f"check: {CHECK_IN * part:.0f} in"
    x, y = at
    marks: list[AnyMark] = []
    tips = ((x + size * scale[0], y), (x, y + size * scale[1]))
    for tip, across in zip(tips, ((0.0, TICK_IN), (TICK_IN, 0.0)), strict=True):
        marks.append(Line("check", points=(at, tip), bulges=(0.0,)))
        for end in (at, tip):
            tick = (minus(end, across), plus(end, across))
            marks.append(Line("check", points=tick, bulges=(0.0,)))
    for tip, angle, beside in (
        (tips[0], 0.0, (0.0, BESIDE_IN)),
        (tips[1], pi / 2.0, (BESIDE_IN, 0.0)),
    ):
        place = plus(middle(at, tip), beside)
        marks.append(Words("words", text=words, at=place, angle_rad=angle, height=WORDS_IN))
    return tuple(marks)


@lru_cache(maxsize=64)
def sample_view(wide: float, high: float) -> View:
    """Return SAMPLE in large pale words across a page, to lie behind its drawing."""
    angle = atan2(high, wide)
    c, s = cos(angle), sin(angle)
    ratio = text_width(SAMPLE, 1.0, bold=True)
    height = SAMPLE_SPAN * min(wide / (ratio * c + s), high / (ratio * s + c))
    words = Words(
        "sample",
        text=SAMPLE,
        at=(wide / 2.0, high / 2.0),
        angle_rad=angle,
        height=height,
        bold=True,
    )
    return View(Sheet(SAMPLE, (words,), (0.0, 0.0, wide, high)), (1.0, 1.0), (0.0, 0.0))
