"""What lies under the cursor, and why."""

from typing import Literal, TypeAlias

import msgspec

from geometry.naming import CornerRef, EdgeRef

SubjectKind: TypeAlias = Literal[
    "corner",
    "wall",
    "reading",
    "run",
    "leg",
    "island",
    "opening",
    "seam",
    "piece",
    "edge",
]


class Subject(msgspec.Struct, frozen=True, cache_hash=True, order=True):
    """A thing of the job that can be pointed at: its kind, its id (a piece's is its letter).

    edge is set for the kind 'edge', and part tells which part of it.
    """

    kind: SubjectKind
    id: str
    edge: EdgeRef | CornerRef | None = None
    part: int = 0
