"""Job: the immutable document. Lengths in inches, angles in degrees, weights in pounds.

Everything else (the adjusted room, tops, pieces, molds, findings) is a pure function of a Job;
shop/plan.py derives it. Edits (shop/edits.py) make a new Job from an old one.
"""

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.alongside import Alongside
from geometry.counters import CornerShape, Island, Run, SideName
from geometry.insets import Inset
from geometry.naming import (
    Coordinate,
    CornerRef,
    EdgeRef,
    Id,
    Length,
    Name,
    Signed,
    Size,
    Value,
)
from geometry.openings import Opening
from geometry.seams import Seam
from shop.readings import AngleDeviation, Deviation, Note, Reading
from shop.slabs import SlabMeasure, SlabShape
from shop.stock_list import Stock

Letter: TypeAlias = Annotated[str, Meta(pattern=r"^[A-Z]{1,3}$")]

MOST = 500
"""No list of a job is longer than this: a slip must not make a million tiles."""


class Corner(Value, frozen=True):
    """A corner of the room as drawn; readings then adjust it. Numbers are never used twice."""

    id: Id
    number: Annotated[int, Meta(ge=1, le=9999)]
    x: Coordinate
    y: Coordinate


class Wall(Value, frozen=True):
    """A straight wall from corner to corner; room_on is the side of that way where the room is.

    Facing the wall from the room, its LEFT corner is the start when the room is on the right.
    """

    id: Id
    start: Id
    end: Id
    room_on: Literal["left", "right"] = "right"


class Mark(Value, frozen=True):
    """A point of the room that readings tie to corners and walls: a window's side, an outlet."""

    id: Id
    name: Name
    x: Coordinate
    y: Coordinate
    kind: Literal["window", "drain", "supply", "outlet", "cabinet", "other"] = "other"


class Baseline(Value, frozen=True):
    """A string or a laser line along a wall, at counter height, from which offsets are taped.

    Its zero lies square off the wall's left corner ('left') or right corner ('right'), and its
    stations count from there toward the wall's other corner. away is how far from the wall it is
    drawn, into the room; readings then say where it is.
    """

    id: Id
    name: Name
    wall: Id
    away: Signed = 30.0
    hook: Literal["left", "right"] = "left"


class Room(Value, frozen=True):
    """Corners, walls, marks and baselines as drawn, and what was measured.

    The first wall is the datum. Deviations are those of one taking, unless a reading has its own.
    """

    corners: Annotated[tuple[Corner, ...], Meta(max_length=MOST)] = ()
    walls: Annotated[tuple[Wall, ...], Meta(max_length=MOST)] = ()
    marks: Annotated[tuple[Mark, ...], Meta(max_length=MOST)] = ()
    baselines: Annotated[tuple[Baseline, ...], Meta(max_length=MOST)] = ()
    readings: Annotated[tuple[Reading, ...], Meta(max_length=MOST)] = ()
    tape_sd: Deviation = 0.0625
    laser_sd: Deviation = 0.03125
    angle_sd: AngleDeviation = 0.2


class Cabinet(Value, frozen=True):
    """A cabinet, an appliance, a bracket, or an open place, along a wall, a peninsula or an island.

    wall is a wall, or the leg that is a peninsula: then the cabinet stands back to the peninsula's
    line, under its front, or with side 'far' beyond the line, under its far side. It may be an
    island, too: then the cabinet stands back to the line along island_side, facing that side, or
    with side 'far' beyond the line, facing away from it. along is from the hook, the line's left or
    right end as seen facing it, to the nearer side. depth is from the line to the face, without
    doors; door_thickness stands out before the face.
    """

    id: Id
    wall: Id
    use: Literal[
        "base",
        "sink-base",
        "dishwasher",
        "range",
        "refrigerator",
        "knee-space",
        "end-panel",
        "post",
        "bracket",
    ]
    along: Signed
    width: Size
    depth: Size = 24.0
    hook: Literal["left", "right"] = "left"
    doors: Annotated[int, Meta(ge=0, le=6)] = 0
    door_thickness: Annotated[float, Meta(ge=0.0, le=4.0)] = 0.75
    note: Note = ""
    side: Literal["front", "far"] = "front"
    island_side: SideName | None = None


class Pin(Value, frozen=True):
    """A note pinned to a place, in inches on the board, seen face up."""

    id: Id
    text: Annotated[Note, Meta(min_length=1)]
    x: Coordinate
    y: Coordinate


Finish: TypeAlias = Literal["bead", "square", "appliance", "polished", "mitred"]
"""Eased by a silicone bead; left square; square against an appliance; eased by a bead and polished
after casting; mitred for a waterfall (no bead)."""


class EdgeChoice(Value, frozen=True):
    """How an edge is finished; bead_radius is that of its own bead, None the job's."""

    edge: EdgeRef
    finish: Finish
    bead_radius: Annotated[float, Meta(gt=0.0, le=2.0)] | None = None


class SeamSide(Value, frozen=True):
    """One side of a seam."""

    seam: Id
    side: Literal["left", "right"]


class PieceName(Value, frozen=True):
    """A row that names a face of a top by the sides of seams it lies on.

    A face takes the first row of its top that no placed seam contradicts.
    """

    name: Letter
    top: Id
    sides: Annotated[tuple[SeamSide, ...], Meta(max_length=MOST)] = ()


class TurnChoice(Value, frozen=True):
    """The edge about which a piece is turned over."""

    piece: Letter
    edge: EdgeRef


class PastChoice(Value, frozen=True):
    """The edge whose strip runs past at a corner of a mold."""

    corner: CornerRef
    edge: EdgeRef


Construction: TypeAlias = Literal["sides-outside-base", "sides-on-base"]


class MoldChoice(Value, frozen=True):
    """How the mold of one piece is built; the others are built as the job's."""

    piece: Letter
    construction: Construction


class MoldChoices(Value, frozen=True):
    """How molds are built. Thicknesses are as measured, each on its own.

    foam_thickness is that of a whole knockout, None where it is as thick as the slab. strip_stock
    is the longest strip in one length: a longer one is spliced. bend_radius is the smallest that a
    strip bends to. Corners rounded by up to insert_radius take an insert, turned or cast; None is
    whatever is tighter than a strip bends. Backing blocks behind a bent strip are at most
    block_spacing apart, middle to middle along its back. bend_thickness is that of the stock that
    is bent, None where it is the sidewalls' own.
    """

    construction: Construction = "sides-outside-base"
    base_thickness: Annotated[float, Meta(gt=0.0, le=4.0)] = 0.75
    sidewall_thickness: Annotated[float, Meta(gt=0.0, le=4.0)] = 0.75
    lip: Annotated[float, Meta(ge=0.0, le=24.0)] = 2.0
    foam_thickness: Annotated[float, Meta(gt=0.0, le=12.0)] | None = None
    bead_radius: Annotated[float, Meta(ge=0.0, le=2.0)] = 0.125
    strip_stock: Annotated[float, Meta(ge=12.0, le=2000.0)] = 96.0
    bend_radius: Size = 6.0
    insert_radius: Size | None = None
    block_spacing: Annotated[float, Meta(ge=2.0, le=48.0)] = 6.0
    bend_thickness: Annotated[float, Meta(gt=0.0, le=4.0)] | None = None


MeshStyle: TypeAlias = Literal[
    "6x6-W1.4xW1.4",
    "6x6-W2.0xW2.0",
    "6x6-W2.9xW2.9",
    "6x6-W4.0xW4.0",
    "6x6-W5.5xW5.5",
    "4x4-W1.4xW1.4",
    "4x4-W2.0xW2.0",
    "4x4-W2.9xW2.9",
    "4x4-W4.0xW4.0",
]
"""Welded wire mesh by its designation in ASTM A1064: spacing of the wires in inches, and their
areas in hundredths of a square inch, both ways."""


class Reinforcement(Value, frozen=True):
    """Mesh and bars in every slab; common practice, no source, all editable.

    mesh_inset is from edges and openings to the mesh, mesh_height from the face (the base of the
    mold) to the mesh's underside; bars may lift it. sheet_length and sheet_width are those of the
    mesh as bought, bar_length is that of a bar. cover is the concrete asked for around a bar.
    """

    mesh: MeshStyle | Literal["none"] = "4x4-W1.4xW1.4"
    mesh_inset: Annotated[float, Meta(ge=0.0, le=24.0)] = 1.0
    mesh_height: Annotated[float, Meta(ge=0.0, le=12.0)] = 1.0
    sheet_length: Annotated[float, Meta(ge=36.0, le=2000.0)] = 120.0
    sheet_width: Annotated[float, Meta(ge=36.0, le=2000.0)] = 60.0
    bars: Literal["No. 3", "none"] = "No. 3"
    bar_length: Annotated[float, Meta(ge=36.0, le=2000.0)] = 240.0
    cover: Annotated[float, Meta(ge=0.0, le=6.0)] = 0.75


class Defaults(Value, frozen=True):
    """What new things start with; common practice, all editable."""

    clearance: Length = 0.125
    depth: Size = 24.0
    overhang: Length = 1.5
    end_overhang: Length = 1.0
    gap: Annotated[float, Meta(ge=0.0, le=2.0)] = 0.0625


class Limits(Value, frozen=True):
    """Limits of the findings; common practice, no source, all editable.

    hole_bridge is the bridge's limit beside small round holes, such as a faucet's. inset_margin is
    from a groove, an inlay or anything else set in to edges and openings, inset_under the concrete
    under it, drain_fall the least that grooves and slopes fall on a foot. span is the
    longest stretch of a top between supports, cantilever the longest beyond one, sink_margin what
    a sink base is wider than its sink. slab_sd is how true slabs come out: the standard deviation
    of a slab's length. wall_gap is the largest gap behind a straight back that needs no word.
    inside_radius is the least radius of inside corners and of openings' corners: cracks start in
    sharper ones. handle_room is from a faucet's middle to the back edge, dishwasher_room from an
    opening to a dishwasher's side. carry_lb is what one carry takes. Seams are proposed so that
    besides no piece is longer than piece_length, its narrower extent passes upright under a doorway
    so high, and every base fits a sheet of the stock list.
    """

    bridge: Length = 3.0
    hole_bridge: Length = 1.0
    inset_margin: Length = 1.0
    inset_under: Length = 1.0
    drain_fall: Length = 0.125
    carry_lb: Annotated[float, Meta(gt=0.0, le=20000.0)] = 200.0
    sharp_corner_deg: Annotated[float, Meta(ge=0.0, le=90.0)] = 60.0
    span: Length = 24.0
    cantilever: Length = 10.0
    sink_margin: Length = 3.0
    slab_sd: Deviation = 0.03125
    wall_gap: Length = 0.1875
    inside_radius: Length = 0.375
    handle_room: Length = 1.75
    dishwasher_room: Length = 1.0
    piece_length: Size = 96.0
    doorway: Size = 78.0


class IssuedMold(Value, frozen=True):
    """A mold as it was last written, by a digest of what it is made of."""

    piece: Letter
    digest: Annotated[str, Meta(pattern=r"^[0-9a-f]{16}$")]


class Issued(Value, frozen=True):
    """The revision that was last written as shop files."""

    revision: Annotated[int, Meta(ge=1, le=9999)]
    date: Annotated[str, Meta(pattern=r"^\d{4}-\d{2}-\d{2}$")]
    molds: Annotated[tuple[IssuedMold, ...], Meta(max_length=MOST)] = ()


class Slab(Value, frozen=True):
    """A piece that is cut, poured or cast, with its shape and its mold as they were then.

    No later reading or edit moves it; a piece without one is drawn. thickness, molds, edge_choices,
    past_choices and reinforcement are those its mold was made with. came_out and thickness_out are
    what was measured on the cast slab.
    """

    piece: Letter
    state: Literal["cut", "poured", "cast"]
    top: Id
    thickness: Annotated[float, Meta(gt=0.0, le=12.0)]
    shape: SlabShape
    sides: Annotated[tuple[SeamSide, ...], Meta(max_length=MOST)] = ()
    molds: MoldChoices = MoldChoices()
    edge_choices: Annotated[tuple[EdgeChoice, ...], Meta(max_length=MOST)] = ()
    past_choices: Annotated[tuple[PastChoice, ...], Meta(max_length=MOST)] = ()
    came_out: Annotated[tuple[SlabMeasure, ...], Meta(max_length=MOST)] = ()
    thickness_out: Annotated[float, Meta(gt=0.0, le=12.0)] | None = None
    reinforcement: Reinforcement = Reinforcement()


class Job(Value, frozen=True):
    """One kitchen, whole. next_id is the counter that new ids are made from."""

    name: Name
    next_id: Annotated[int, Meta(ge=1, le=10**9)] = 1
    sample: bool = False
    note: Note = ""
    display: Literal["in", "mm"] = "in"
    fraction: Literal[16, 32, 64] = 16
    thickness: Annotated[float, Meta(gt=0.0, le=12.0)] = 2.0
    density_pcf: Annotated[float, Meta(ge=20.0, le=400.0)] = 150.0
    room: Room = Room()
    cabinets: Annotated[tuple[Cabinet, ...], Meta(max_length=MOST)] = ()
    runs: Annotated[tuple[Run, ...], Meta(max_length=MOST)] = ()
    islands: Annotated[tuple[Island, ...], Meta(max_length=MOST)] = ()
    alongside: Annotated[tuple[Alongside, ...], Meta(max_length=MOST)] = ()
    corner_shapes: Annotated[tuple[CornerShape, ...], Meta(max_length=MOST)] = ()
    edge_choices: Annotated[tuple[EdgeChoice, ...], Meta(max_length=MOST)] = ()
    openings: Annotated[tuple[Opening, ...], Meta(max_length=MOST)] = ()
    insets: Annotated[tuple[Inset, ...], Meta(max_length=MOST)] = ()
    seams: Annotated[tuple[Seam, ...], Meta(max_length=MOST)] = ()
    piece_names: Annotated[tuple[PieceName, ...], Meta(max_length=MOST)] = ()
    slabs: Annotated[tuple[Slab, ...], Meta(max_length=MOST)] = ()
    pins: Annotated[tuple[Pin, ...], Meta(max_length=MOST)] = ()
    turn_choices: Annotated[tuple[TurnChoice, ...], Meta(max_length=MOST)] = ()
    past_choices: Annotated[tuple[PastChoice, ...], Meta(max_length=MOST)] = ()
    molds: MoldChoices = MoldChoices()
    mold_choices: Annotated[tuple[MoldChoice, ...], Meta(max_length=MOST)] = ()
    reinforcement: Reinforcement = Reinforcement()
    defaults: Defaults = Defaults()
    limits: Limits = Limits()
    stock: Stock = Stock()
    issued: Issued | None = None


def fresh_id(job: Job, word: str, ahead: int = 0) -> Id:
    """Return an id for a new thing, 'word' and the counter, which the edit that adds it moves.

    ahead is for edits that add several things at once.
    """
    return f"{word}{job.next_id + ahead}"
