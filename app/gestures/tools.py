"""Which gesture a tool begins."""

from collections.abc import Callable

from app.catalog import Catalog
from app.gestures.baselines import StretchBaseline
from app.gestures.cabinets import PlaceCabinet
from app.gestures.counters import DrawIsland, ShapeTopCorner
from app.gestures.free_shapes import DrawFreeShape
from app.gestures.gesture import Gesture
from app.gestures.marking import PutMark
from app.gestures.measuring import LayTape
from app.gestures.openings import PlaceOpening
from app.gestures.peninsulas import PlacePeninsula
from app.gestures.places import first_place
from app.gestures.seams import PlaceCornerSeam, PlaceSeam
from app.gestures.splitting import SplitWall
from app.gestures.straightedge import ReadAlongWall
from app.gestures.tracing import TraceRun
from app.gestures.walls import DrawWalls
from geometry.naming import Id
from geometry.picking import Subject
from shop.job import Job

WHEREVER: dict[str, Callable[[Job], Gesture]] = {
    "split-wall": SplitWall,
    "island": DrawIsland,
    "free-shape": DrawFreeShape,
    "tape": LayTape,
    "corner-seam": PlaceCornerSeam,
}
"""Tools that begin the same whatever is chosen."""

PLAIN = Catalog()


def tool(job: Job, name: str, chosen: Subject | None = None, catalog: Catalog = PLAIN) -> Gesture:
    """Return the gesture of a tool; what is chosen says where it begins without a pointer.

    The catalog has the shapes that openings start with.

    Raises:
        KeyError: there is no such tool.
    """
    if any(entry.id == name for entry in catalog.entries):
        return PlaceOpening(job, catalog.entry(name), first_place(job, chosen))
    if name in WHEREVER:
        return WHEREVER[name](job)
    match name:
        case "walls":
            return DrawWalls(job, _id(chosen, "corner"))
        case "cabinet":
            return PlaceCabinet(job, _id(chosen, "wall"))
        case "straightedge":
            return ReadAlongWall(job, _id(chosen, "wall"))
        case "baseline":
            return StretchBaseline(job, _id(chosen, "wall"), _id(chosen, "baseline"))
        case "mark":
            return PutMark(job, _id(chosen, "mark"))
        case "run":
            return TraceRun(job, _id(chosen, "wall"))
        case "peninsula":
            return PlacePeninsula(job, chosen)
        case "round" | "clip":
            return ShapeTopCorner(job, "round" if name == "round" else "clip")
        case "seam":
            return PlaceSeam(job, first_place(job, chosen))
        case _:
            raise KeyError(name)


def _id(chosen: Subject | None, kind: str) -> Id | None:
    """Return the id of what is chosen if it is of a kind."""
    return chosen.id if chosen is not None and chosen.kind == kind else None
