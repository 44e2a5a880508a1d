"""Which gesture a tool begins."""

from app.gestures.counters import DrawIsland, ShapeTopCorner, TraceRun
from app.gestures.gesture import Gesture
from app.gestures.openings import TEMPLATES, PlaceOpening
from app.gestures.places import first_place
from app.gestures.seams import PlaceCornerSeam, PlaceSeam
from app.gestures.walls import DrawWalls, SplitWall
from geometry.picking import Subject
from shop.job import Job


def tool(job: Job, name: str, chosen: Subject | None = None) -> Gesture:
    """Return the gesture of a tool; what is chosen says where it begins without a pointer.

    Raises:
        KeyError: there is no such tool.
    """
    if name in TEMPLATES:
        return PlaceOpening(job, name, first_place(job, chosen))
    match name:
        case "walls":
            corner = chosen.id if chosen is not None and chosen.kind == "corner" else None
            return DrawWalls(job, corner)
        case "split-wall":
            return SplitWall(job)
        case "run":
            return TraceRun(
                job, chosen.id if chosen is not None and chosen.kind == "wall" else None
            )
        case "island":
            return DrawIsland(job)
        case "round":
            return ShapeTopCorner(job, "round")
        case "clip":
            return ShapeTopCorner(job, "clip")
        case "seam":
            return PlaceSeam(job, first_place(job, chosen))
        case "corner-seam":
            return PlaceCornerSeam(job)
        case _:
            raise KeyError(name)
