"""A job as large as one likes, for measuring: galleys with a sink, a faucet and seams."""

from functools import reduce

from geometry.counters import Leg, RoundCorner, Run, SquareEnd
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg, CircleShape, Opening, RectangleShape
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.applying import applied
from shop.job import Corner, Job, Wall
from shop.readings import WallReading

PIECES_A_WALL = 4
WALL_IN = 240.0
AISLE_IN = 90.0


def _galley(row: int, pieces: int) -> list[edits.Edit]:
    """The edits that add one wall with a run of so many pieces; ids are the row's own."""
    n = 100 * (row + 1)
    y = -AISLE_IN * row
    left, right = (Corner(f"corner{n + i}", 2 * row + i, i * WALL_IN - WALL_IN, y) for i in (1, 2))
    wall, leg, run = f"wall{n + 3}", f"leg{n + 4}", f"run{n + 5}"
    front, end = EdgeRef(leg, "front"), EdgeRef(leg, "end")
    corner = corner_ref(front, end)
    made: list[edits.Edit] = [
        edits.AddWalls((left, right), (Wall(wall, left.id, right.id),)),
        edits.AddReading(WallReading(f"reading{n + 6}", wall, WALL_IN + row / 16.0)),
        edits.AddRun(
            Run(run, (Leg(leg, wall),), SquareEnd(0.0), SquareEnd(0.0, "right", overhang=1.0))
        ),
        edits.ShapeCorner(corner, RoundCorner(corner, 2.0)),
    ]
    for i in range(1, pieces):
        start = SeamOnLeg(leg, WALL_IN * i / pieces)
        made.append(edits.AddSeam(Seam(f"seam{n + 10 + i}", run, start)))
    for i in range(pieces):
        at = WALL_IN * (i + 0.5) / pieces
        sink = RectangleShape(24.0, 15.0, 2.0)
        bowl = Opening(f"opening{n + 30 + i}", "sink", sink, AlongLeg(leg, at, 12.0), "sink")
        hole = AlongLeg(leg, at, 22.5)
        made += [
            edits.AddOpening(bowl),
            edits.AddOpening(
                Opening(f"opening{n + 50 + i}", "faucet", CircleShape(1.375), hole, "faucet")
            ),
        ]
    return made


def big_job(pieces: int = 60) -> Job:
    """A job of so many pieces, four on a wall, each with a sink and a faucet hole."""
    rows = -(-pieces // PIECES_A_WALL)
    changes = [
        edit
        for row in range(rows)
        for edit in _galley(row, min(PIECES_A_WALL, pieces - PIECES_A_WALL * row))
    ]
    return reduce(applied, changes, Job(f"{pieces} pieces"))
