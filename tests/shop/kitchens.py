"""Small jobs that several tests share, made by edits as the window makes them."""

from functools import reduce

from geometry.counters import Island, Leg, OnBoard, Run, RunEnd, SquareEnd, WallEnd
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg, CircleShape, InIsland, Opening, RectangleShape
from geometry.points import Point
from geometry.seams import Seam, SeamAtCorner, SeamOnIsland, SeamOnLeg
from shop import edits
from shop.applying import applied
from shop.job import Corner, Job, Wall

LEFT = SquareEnd(0.0, "left")
RIGHT = SquareEnd(0.0, "right")


def after(job: Job, *changes: edits.Edit) -> Job:
    """The job after edits, each of which must change it."""

    def changed(before: Job, edit: edits.Edit) -> Job:
        done = applied(before, edit)
        assert done is not before, edit
        return done

    return reduce(changed, changes, job)


def walls(*points: Point, right: bool = True) -> Job:
    """Walls wall101, wall102, ... from corner to corner (corner1, corner2, ...)."""
    corners = tuple(Corner(f"corner{i}", i, *p) for i, p in enumerate(points, start=1))
    sides = tuple(
        Wall(f"wall{100 + i}", f"corner{i}", f"corner{i + 1}", "right" if right else "left")
        for i in range(1, len(points))
    )
    return after(Job("Test"), edits.AddWalls(corners, sides))


def run(*on: str, left: RunEnd = LEFT, right: RunEnd = RIGHT) -> Run:
    """A run with leg201, leg202, ... on these walls."""
    legs = tuple(Leg(f"leg{201 + i}", wall) for i, wall in enumerate(on))
    return Run("run200", legs, left, right)


def straight(length: float = 120.0) -> Job:
    """One leg along one wall at the top of the board, square at both ends: piece A."""
    return after(walls((0.0, 0.0), (length, 0.0)), edits.AddRun(run("wall101")))


def angle() -> Job:
    """Two legs round an inside corner: up the left wall, then along the top one."""
    room = walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0))
    return after(room, edits.AddRun(run("wall101", "wall102")))


def bay() -> Job:
    """Three legs round two inside corners."""
    room = walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0), (150.0, -120.0))
    return after(room, edits.AddRun(run("wall101", "wall102", "wall103")))


def island() -> Job:
    """One island and no walls."""
    return after(Job("Test"), edits.AddIsland(Island("island300", 72.0, 36.0, OnBoard(0.0, 0.0))))


def sink(leg: str = "leg201", along: float = 60.0, back: float = 13.0) -> Opening:
    """A bowl of 30 by 16 in."""
    shape = RectangleShape(30.0, 16.0, 3.0)
    return Opening("opening400", "sink", shape, AlongLeg(leg, along, back), "sink")


def faucet(leg: str = "leg201", along: float = 60.0, back: float = 23.0) -> Opening:
    """A hole behind the sink."""
    return Opening("opening401", "faucet", CircleShape(1.375), AlongLeg(leg, along, back), "faucet")


def hole(x: float = 20.0, y: float = 18.0) -> Opening:
    """A small sink in the island."""
    shape = RectangleShape(12.0, 12.0, 1.0)
    return Opening("opening402", "bar sink", shape, InIsland("island300", x, y))


def seam(along: float, number: int = 500, leg: str = "leg201", top: str = "run200") -> Seam:
    """A seam square to the front."""
    return Seam(f"seam{number}", top, SeamOnLeg(leg, along))


def corner_seam(one: str = "leg201", other: str = "leg202", number: int = 500) -> Seam:
    """A seam from the inside corner of two legs to the corner of their walls."""
    ref = corner_ref(EdgeRef(one, "front"), EdgeRef(other, "front"))
    return Seam(f"seam{number}", "run200", SeamAtCorner(ref))


def island_seam(along: float, number: int = 500) -> Seam:
    """A seam across the island."""
    return Seam(f"seam{number}", "island300", SeamOnIsland("island300", "1", along))


AGAINST = WallEnd(0.25)
