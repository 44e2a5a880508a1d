from itertools import pairwise

import pytest
from msgspec.structs import replace

from geometry.counters import Island, OnBoard, RoundCorner, SquareEnd
from geometry.naming import EdgeRef, corner_ref
from shop import edits
from shop.applying import applied
from shop.describing import described, described_all
from shop.job import (
    Baseline,
    Corner,
    Defaults,
    Job,
    Limits,
    Mark,
    MoldChoices,
    Pin,
)
from shop.readings import WallReading
from shop.retaking import averaged, retaped, struck
from shop.stock_list import Stock
from tests.shop.kitchens import (
    LEFT,
    after,
    angle,
    bay,
    corner_seam,
    faucet,
    hole,
    island,
    island_seam,
    run,
    seam,
    sink,
    straight,
    walls,
)


def said(job: Job, edit: edits.Edit) -> str:
    return described(job, edit, applied(job, edit))


READING = WallReading("reading600", "wall102", 150.0)
FULL = after(
    angle(),
    edits.AddOpening(sink("leg202", 90.0)),
    edits.AddSeam(corner_seam()),
    edits.AddReading(READING),
)
FRONT = EdgeRef("leg201", "front")
TOP = "the top along wall 1 to 2 and wall 2 to 3"
CORNER = corner_ref(FRONT, EdgeRef("leg201", "start"))


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (edits.RemoveLeg("leg202"), "remove leg 2, its sink and a seam"),
        (edits.RemoveLeg("leg201"), "remove leg 1 and a seam"),
        (
            edits.RemoveRun("run200"),
            f"remove {TOP}, its sink and a seam",
        ),
        (
            edits.RemoveWall("wall102"),
            "remove wall 2 to 3, a leg, its sink, a seam and a reading",
        ),
        (edits.RemoveCorner("corner2"), "remove corner 2, a leg, a seam and a reading"),
        (edits.RemoveOpening("opening400"), "remove sink"),
        (edits.RemoveSeam("seam500"), "remove a seam"),
        (edits.RemoveReading("reading600"), "remove the reading of wall 2 to 3"),
        (
            edits.TurnWalls("wall101"),
            f"turn wall 1 to 2 round, and remove {TOP}, sink and a seam",
        ),
        (
            edits.SplitWall("wall102", Corner("corner9", 9, 75.0, 0.0), "wall9"),
            "add corner 9, keep wall 2 to 3 as diagonal 2 to 3",
        ),
        (edits.MoveCorner("corner1", 0.0, -100.0), "move corner 1"),
        (edits.MoveOpening("opening400", sink("leg202", 95.0).at), "move sink"),
        (edits.SetOpening(replace(sink("leg202", 90.0), reveal=0.25)), "change sink"),
        (edits.AddOpening(faucet("leg202", 90.0)), "add faucet"),
        (edits.AddReading(replace(READING, id="reading601")), "read wall 2 to 3"),
        (edits.SetReading(replace(READING, value=151.0)), "change wall 2 to 3"),
        (edits.SetReading(replace(READING, id="reading9")), "change wall 2 to 3"),
        (edits.SetReading(struck(READING)), "strike wall 2 to 3"),
        (edits.SetReading(retaped(READING, 151.0)), "take wall 2 to 3 again"),
        (edits.SetReading(averaged(READING, 151.0)), "average wall 2 to 3"),
        (edits.SetLeg(replace(FULL.runs[0].legs[0], overhang=1.0)), "change leg 1"),
        (edits.SetRunEnd("run200", "left", SquareEnd(5.0)), "change the left end"),
        (edits.FinishEdge(FRONT, "square"), "finish the front, wall 1 to 2"),
        (edits.ShapeCorner(CORNER, None), "shape a corner"),
        (edits.RunPast(CORNER, FRONT), "change which strip runs past"),
        (edits.TurnAbout("A", FRONT), "turn A over differently"),
        (edits.BuildMold("A", "sides-on-base"), "build mold A differently"),
        (edits.NamePiece("A", "B"), "call A B"),
        (edits.AddBaseline(Baseline("baseline900", "String", "wall102")), "stretch String"),
        (edits.AddMark(Mark("mark900", "outlet", 30.0, 0.0, "outlet")), "mark outlet"),
        (edits.RemoveMark("mark901"), "remove a mark"),
        (edits.AddPin(Pin("pin900", "a drain", 1.0, 2.0)), "pin a note"),
        (edits.RemovePin("pin900"), "remove a note"),
        (edits.SetSeam(replace(corner_seam(), gap=0.125)), "move a seam"),
        (edits.AddSeam(seam(60.0, 501)), "add a seam"),
        (edits.AddIsland(Island("island300", 9.0, 9.0, OnBoard(0.0, 0.0))), "add an island"),
        (edits.AddWalls((), ()), "draw walls"),
        (edits.SetJobName("New"), "name the job"),
        (edits.SetNote("New"), "write the note"),
        (edits.SetDisplay("mm", 16), "change the unit"),
        (edits.SetSlab(1.5, 150.0), "change the slab"),
        (edits.SetDefaults(Defaults()), "change what new things start with"),
        (edits.SetLimits(Limits()), "change the limits"),
        (edits.SetStock(Stock()), "change the stock list"),
        (edits.SetMoldChoices(MoldChoices()), "change how molds are built"),
        (edits.SetDeviations(0.1, 0.1, 0.1), "change how well the tools read"),
    ],
)
def test_an_edit_is_said_in_words_with_what_goes_along(edit: edits.Edit, words: str) -> None:
    assert said(FULL, edit) == words


def test_a_reading_that_is_brought_back_and_a_wall_that_is_whole_again_are_said() -> None:
    job = after(FULL, edits.SetReading(struck(READING)))
    assert said(job, edits.SetReading(READING)) == "bring back wall 2 to 3"
    parted = after(FULL, edits.SplitWall("wall102", Corner("corner9", 9, 75.0, 0.0), "wall9"))
    assert said(parted, edits.RemoveCorner("corner9")).startswith(
        "remove corner 9, keep diagonal 2 to 3 as wall 2 to 3"
    )


def test_counters_are_said_by_their_walls() -> None:
    room = walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0))
    assert said(room, edits.AddRun(run("wall101"))) == "add the top along wall 1 to 2"
    one = after(room, edits.AddRun(run("wall101")))
    longer = edits.ExtendRun(
        "run200", "right", replace(one.runs[0].legs[0], id="leg202", wall="wall102"), LEFT
    )
    assert said(one, longer) == "add leg 2"


def test_islands_are_said_with_what_lies_in_them() -> None:
    job = after(island(), edits.AddOpening(hole()), edits.AddSeam(island_seam(40.0)))
    assert (
        said(job, edits.RemoveIsland("island300")) == "remove the island, its bar sink and a seam"
    )
    wider = edits.SetIsland(replace(job.islands[0], width=80.0))
    assert said(job, wider) == "change the island"


def test_a_whole_top_that_goes_with_its_wall_is_said_by_name() -> None:
    job = after(straight(), edits.AddSeam(seam(40.0)), edits.AddSeam(seam(80.0, 501)))
    assert (
        said(job, edits.RemoveWall("wall101"))
        == "remove wall 1 to 2, the top along wall 1 to 2 and 2 seams"
    )
    assert said(job, edits.RemoveLeg("leg201")) == "remove the top along wall 1 to 2 and 2 seams"


def test_several_legs_are_counted() -> None:
    job = bay()
    assert said(job, edits.RemoveCorner("corner4")) == "remove corner 4 and a leg"
    longer = after(
        walls((0.0, 0.0), (50.0, 0.0), (50.0, -90.0), (90.0, -90.0)),
        edits.AddRun(run("wall101", "wall102", "wall103")),
    )
    assert said(longer, edits.TurnWalls("wall101")).startswith(
        "turn wall 1 to 2 round, and remove the top"
    )


def test_an_island_that_cannot_stay_is_said() -> None:
    job = after(island(), edits.SetNote("x"))
    gone = replace(job, islands=())
    assert described(job, edits.SetNote("y"), gone) == "write the note, and remove the island"


def test_what_is_no_edit_is_refused() -> None:
    with pytest.raises(TypeError):
        described(FULL, "cut it", FULL)  # type: ignore[arg-type]


def test_several_shapes_and_finishes_in_one_step_are_counted() -> None:
    job = after(Job("Test"), edits.AddIsland(Island("island1", 60.0, 40.0, OnBoard(0.0, 0.0))))
    sides = [EdgeRef("island1", name) for name in "123"]
    corners = [corner_ref(a, b) for a, b in pairwise(sides)]
    shapes = [edits.ShapeCorner(ref, RoundCorner(ref, 3.0)) for ref in corners]
    finishes = [edits.FinishEdge(ref, "polished") for ref in sides]
    assert described_all(job, shapes, job) == "shape 2 corners"
    assert described_all(job, finishes, job) == "finish 3 edges"
    assert described_all(job, shapes[:1], job) == "shape a corner"
    assert described_all(job, [*shapes, *finishes], job) == "shape a corner"
