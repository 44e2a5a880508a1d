"""What every page, label and drawing says of its job: name, revision, date, what it replaces."""

from datetime import date
from hashlib import blake2b
from typing import NamedTuple

import msgspec

from export.marks import AnyMark, Line, Words
from geometry.points import Point
from shop import plan
from shop.job import Issued, IssuedMold, Job
from shop.words import listed

CHECK_IN = 4.0
"""Length of each check bar."""

CHECK_MM = 100.0
"""Length of each check bar of a metric job, millimeters."""


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
        said = f"{self.job}   revision {self.revision}   {self.date}"
        return f"{said}   {self.replaces}" if self.replaces else said


def digests(job: Job) -> tuple[IssuedMold, ...]:
    """Return a digest of what each mold is made of, by piece."""
    found = []
    for mold in plan.molds(job):
        whole = msgspec.json.encode(mold)
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
    at: Point, metric: bool, scale: tuple[float, float] = (1.0, 1.0), part: float = 1.0
) -> tuple[AnyMark, ...]:
    """Return two bars at right angles with their lengths, in paper inches from their corner.

    They are corrected for the printer by the same scale as the drawing. part makes them shorter,
    for a page that has little room.
    """
    size = part * (CHECK_MM / 25.4 if metric else CHECK_IN)
    words = f"{CHECK_MM * part:.0f} mm" if metric else f"{CHECK_IN * part:.0f} in"
    x, y = at
    tick = 0.06
    marks: list[AnyMark] = []
    tips = ((x + size * scale[0], y), (x, y + size * scale[1]))
    for tip, across in zip(tips, ((0.0, tick), (tick, 0.0)), strict=True):
        marks.append(Line("check", points=(at, tip), bulges=(0.0,)))
        for end in (at, tip):
            marks.append(
                Line(
                    "check",
                    points=(
                        (end[0] - across[0], end[1] - across[1]),
                        (end[0] + across[0], end[1] + across[1]),
                    ),
                    bulges=(0.0,),
                )
            )
    marks.append(Words("words", text=f"check: {words}", at=(x + size / 2, y + 0.12), height=0.12))
    marks.append(
        Words(
            "words",
            text=f"check: {words}",
            at=(x + 0.12, y + size / 2),
            angle_rad=1.5707963267948966,
            height=0.12,
        )
    )
    return tuple(marks)
