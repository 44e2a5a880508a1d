"""What a mold's words are made of: names of edges and openings, and how lengths are written."""

from typing import NamedTuple

import msgspec

from geometry.lengths import LengthStyle, written
from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.points import Point

FAR_SIDE = "far side"
"""What the edge of a peninsula opposite its front is called."""


class MoldWords(msgspec.Struct, frozen=True, cache_hash=True):
    """Names by edge and by opening, as pairs, so that a mold can be cached by value.

    reveals are how much larger than their bowls openings are cut, where that is not 0.
    """

    edges: tuple[tuple[EdgeRef | CornerRef, str], ...] = ()
    openings: tuple[tuple[Id, str], ...] = ()
    style: LengthStyle = LengthStyle()
    reveals: tuple[tuple[Id, float], ...] = ()

    def edge(self, tag: Tag) -> str:
        """Return an edge's name; one without a name is called by its kind."""
        return dict(self.edges).get(tag.ref, tag.kind.value)

    def phrase(self, tag: Tag) -> str:
        """Return an edge's name in a sentence, such as 'the back edge along wall 1 to 2'."""
        name, _, where = self.edge(tag).partition(", ")
        if tag.kind not in (Kind.BACK, Kind.FRONT):
            return f"the {name}"
        if name not in ("back", "front", "bottom", "top"):
            return name if name.startswith("side ") else f"the {name}"
        return f"the {name} edge along {where}" if where else f"the {name} edge"

    def opening(self, opening: Id) -> str:
        """Return an opening's name; one without a name is called an opening."""
        return dict(self.openings).get(opening, "opening")

    def reveal(self, opening: Id) -> str:
        """Return how an opening differs from its bowl; nothing where it is cut like it."""
        reveal = dict(self.reveals).get(opening, 0.0)
        by = self.length(abs(reveal))
        if by == self.length(0.0):
            return ""
        return f"{by} {'larger' if reveal > 0.0 else 'smaller'} than the bowl on every side"

    def length(self, inches: float) -> str:
        """Return a length as it is read off a tape."""
        return written(inches, self.style)


class Notice(NamedTuple):
    """Something about a mold to look at: a code, a sentence, the edge and the place (face up).

    It is blocking when the mold cannot be built as it stands.
    """

    code: str
    text: str
    tag: Tag | None = None
    at: Point | None = None
    blocking: bool = False
