"""Which gesture a tool begins."""

from app.gestures.counters import DrawIsland, ShapeTopCorner, TraceRun
from app.gestures.gesture import Gesture
from app.gestures.openings import TEMPLATES, PlaceOpening
from app.gestures.seams import PlaceCornerSeam, PlaceSeam
from app.gestures.walls import DrawWalls, SplitWall
from shop.job import Job


def tool(job: Job, name: str) -> Gesture:
    """Return the gesture of a tool.

    Raises:
        KeyError: there is no such tool.
    """
    if name in TEMPLATES:
        return PlaceOpening(job, name)
    match name:
        case "walls":
            return DrawWalls(job)
        case "split-wall":
            return SplitWall(job)
        case "run":
            return TraceRun(job)
        case "island":
            return DrawIsland(job)
        case "round":
            return ShapeTopCorner(job, "round")
        case "clip":
            return ShapeTopCorner(job, "clip")
        case "seam":
            return PlaceSeam(job)
        case "corner-seam":
            return PlaceCornerSeam(job)
        case _:
            raise KeyError(name)
