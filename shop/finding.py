"""What a finding is: something to look at, in words."""

import msgspec

from geometry.picking import Subject
from geometry.points import Point


class Finding(msgspec.Struct, frozen=True, cache_hash=True):
    """Something to look at: a short code, a title, a sentence, what it is about, and where."""

    code: str
    blocking: bool
    title: str
    text: str
    about: tuple[Subject, ...] = ()
    at: Point | None = None
