"""Which gesture a tool begins."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import TypeAlias

from app.catalog import Catalog
from app.gestures.baselines import StretchBaseline
from app.gestures.cabinets import PlaceCabinet, row_chosen
from app.gestures.counters import DrawIsland, ShapeTopCorner
from app.gestures.doglegs import PlaceDogleg
from app.gestures.free_shapes import DrawFreeShape
from app.gestures.gesture import Gesture
from app.gestures.insets import STARTS, SetIn
from app.gestures.marking import PutMark
from app.gestures.measuring import LayTape
from app.gestures.openings import PlaceOpening
from app.gestures.peninsulas import PlacePeninsula
from app.gestures.pinning import PinNote
from app.gestures.places import clear_place, first_place, first_place_of
from app.gestures.seams import PlaceCornerSeam, PlaceSeam
from app.gestures.splitting import SplitWall
from app.gestures.straightedge import ReadAlongWall
from app.gestures.strips import SetStrip
from app.gestures.tracing import TraceRun
from app.gestures.walls import DrawWalls
from geometry.naming import Id
from geometry.picking import Subject
from shop.job import Job

Begun: TypeAlias = Callable[[Job, Subject | None], Gesture]

PLAIN = Catalog()


def tool(
    job: Job, name: str, all_chosen: Sequence[Subject] = (), catalog: Catalog = PLAIN
) -> Gesture:
    """Return the gesture of a tool; what is chosen says where it begins without a pointer.

    Corners are shaped all at once, all else begins by what was chosen last. The catalog has the
    shapes that openings start with.

    Raises:
        KeyError: there is no such tool.
    """
    chosen = all_chosen[-1] if all_chosen else None
    if name in ("round", "clip"):
        return ShapeTopCorner(job, "round" if name == "round" else "clip", all_chosen)
    if any(entry.id == name for entry in catalog.entries):
        entry = catalog.entry(name)
        return PlaceOpening(job, entry, first_place_of(job, chosen, entry.id, entry.use))
    return _TOOLS[name](job, chosen)


def _id(chosen: Subject | None, kind: str) -> Id | None:
    """Return the id of what is chosen if it is of a kind."""
    return chosen.id if chosen is not None and chosen.kind == kind else None


def _set_in(kind: str, job: Job, chosen: Subject | None) -> Gesture:
    return SetIn(job, kind, clear_place(job, chosen))


_TOOLS: dict[str, Begun] = {
    "walls": lambda job, chosen: DrawWalls(job, _id(chosen, "corner")),
    "cabinet": lambda job, chosen: PlaceCabinet(job, row_chosen(job, chosen)),
    "split-wall": lambda job, chosen: SplitWall(job, _id(chosen, "wall")),
    "straightedge": lambda job, chosen: ReadAlongWall(job, _id(chosen, "wall")),
    "baseline": lambda job, chosen: StretchBaseline(
        job, _id(chosen, "wall"), _id(chosen, "baseline")
    ),
    "mark": lambda job, chosen: PutMark(job, _id(chosen, "mark")),
    "run": lambda job, chosen: TraceRun(job, _id(chosen, "wall")),
    "island": lambda job, _: DrawIsland(job),
    "free-shape": lambda job, _: DrawFreeShape(job),
    "seam": lambda job, chosen: PlaceSeam(job, first_place(job, chosen)),
    "dogleg": lambda job, chosen: PlaceDogleg(job, first_place(job, chosen)),
    "corner-seam": lambda job, _: PlaceCornerSeam(job),
    "tape": lambda job, _: LayTape(job),
    "peninsula": PlacePeninsula,
    "splash": lambda job, chosen: SetStrip(job, "splash", chosen),
    "ledge": lambda job, chosen: SetStrip(job, "ledge", chosen),
    "note": PinNote,
    **{kind: partial(_set_in, kind) for kind in STARTS},
}
