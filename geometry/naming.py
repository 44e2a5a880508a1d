"""Names of edges that do not depend on geometry: whose edge, which side, which part of it."""

from enum import StrEnum
from typing import Annotated, TypeAlias

import msgspec
from msgspec.structs import force_setattr

from geometry.lengths import LengthStyle, fitting, written

Id: TypeAlias = Annotated[str, msgspec.Meta(pattern=r"^[a-z]+[0-9]{1,9}$", max_length=24)]
"""An id from the job's counter, such as 'leg3' or 'sink4'; never used twice in a job."""

Coordinate: TypeAlias = Annotated[float, msgspec.Meta(ge=-4000.0, le=4000.0)]
Length: TypeAlias = Annotated[float, msgspec.Meta(ge=0.0, le=2000.0)]
Size: TypeAlias = Annotated[float, msgspec.Meta(gt=0.0, le=2000.0)]
Signed: TypeAlias = Annotated[float, msgspec.Meta(ge=-2000.0, le=2000.0)]
Name: TypeAlias = Annotated[
    str, msgspec.Meta(min_length=1, max_length=80, pattern=r"^[^\x00-\x1f\x7f]+$")
]


class Value(
    msgspec.Struct,
    frozen=True,
    cache_hash=True,
    forbid_unknown_fields=True,
    omit_defaults=True,
):
    """What every value of the job's document is: immutable, hashed once, compared by value."""


class Kind(StrEnum):
    """What an edge of an outline is."""

    BACK = "back"
    FRONT = "front"
    END = "end"
    CORNER = "corner"
    SEAM = "seam"
    OPENING = "opening"


class EdgeRef(msgspec.Struct, frozen=True, cache_hash=True, order=True, forbid_unknown_fields=True):
    """One edge of an owner.

    The sides are: back, front, start and end of a leg; 1 to n of an island; left and right of a
    seam, as installed (geometry/seams.py); cut of an opening.
    """

    owner: Id
    side: Annotated[str, msgspec.Meta(pattern=r"^[a-z0-9]+$", max_length=12)]


class CornerRef(Value, frozen=True, order=True):
    """The corner where two edges meet, the same whichever is named first."""

    a: EdgeRef
    b: EdgeRef

    def __post_init__(self) -> None:
        """Put the two in order, from a file as well."""
        if self.b < self.a:
            one, other = self.a, self.b
            force_setattr(self, "a", other)
            force_setattr(self, "b", one)


def corner_ref(one: EdgeRef, other: EdgeRef) -> CornerRef:
    """Return the corner of two edges, the same whichever is named first."""
    return CornerRef(one, other)


class Tag(Value, frozen=True):
    """What an edge of an outline is, where it came from, and which part of it (0, 1, ...).

    Openings and seams can cut one named edge into several parts; they are numbered in the order
    of the named edge's own direction.
    """

    kind: Kind
    ref: EdgeRef | CornerRef
    part: int = 0


class GeometryError(Exception):
    """A shape that cannot be made; says what is wrong in words and which edge or owner it is about.

    Attributes:
        code: a short name of the fault, in kebab-case, for findings.
        about: the edge, the corner or the owner's id that is at fault, or None.
        most_in: the largest size that can be made, in inches, which ends the words, or None.
    """

    def __init__(
        self,
        code: str,
        text: str,
        about: EdgeRef | CornerRef | str | None = None,
        most_in: float | None = None,
    ) -> None:
        super().__init__(text)
        self.code = code
        self.about = about
        self.most_in = most_in

    def said(self, style: LengthStyle) -> str:
        """Return what is wrong; the largest size, if there is one, ends the words."""
        if self.most_in is None:
            return str(self)
        return f"{self} {written(fitting(self.most_in, style), style)}."
