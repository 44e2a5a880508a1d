"""Notes pinned to places, as marks on both sides of the fold."""

from functools import lru_cache

from export.marks import Group, Spot, Words, leads
from geometry.picking import Subject
from geometry.points import mirrored_point
from shop.job import Job, Pin

HIGH_IN = 0.11
SHOWN = 40
"""A longer note is cut short on the drawing; the booklet has all of it."""


def pin_groups(job: Job, *, down: bool) -> tuple[Group, ...]:
    """Return the pinned notes of a job, a group each."""
    return tuple(_pin_group(pin, down) for pin in job.pins)


def cut_short(text: str) -> str:
    """Return a note as it stands on the drawing."""
    line = " ".join(text.split())
    return line if len(line) <= SHOWN else f"{line[: SHOWN - 1].rstrip()}\N{HORIZONTAL ELLIPSIS}"


@lru_cache(maxsize=512)
def _pin_group(pin: Pin, down: bool) -> Group:
    at = (pin.x, pin.y)
    at = mirrored_point(at) if down else at
    subject = Subject("pin", pin.id)
    words = Words(
        "reading",
        subject,
        text=cut_short(pin.text),
        at=at,
        height=HIGH_IN,
        priority=7,
        places=leads(at, (0.0, 0.0), (0.14, 0.3, 0.5)),
    )
    return Group(f"pin {pin.id}", (Spot("reading", subject, kind="dot", at=at, size=0.05), words))
