"""Edits: every change a job can go through, as data with absolute targets.

shop/applying.py applies one. An Add holds the whole new value with an id made by fresh_id; a Set
replaces the value that has the same id.
"""

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.alongside import Alongside
from geometry.counters import CornerShape, Island, Leg, Run, RunEnd
from geometry.insets import Inset
from geometry.naming import Coordinate, CornerRef, EdgeRef, Id, Name, Value
from geometry.openings import Anchor, Opening
from geometry.seams import Seam
from shop.job import (
    MOST,
    Baseline,
    Cabinet,
    Construction,
    Corner,
    Defaults,
    Finish,
    Letter,
    Limits,
    Mark,
    MoldChoices,
    Pin,
    Reinforcement,
    Wall,
)
from shop.readings import AngleDeviation, Deviation, Note, Reading
from shop.slabs import SlabMeasure
from shop.stock_list import Stock


class SetJobName(Value, frozen=True, tag=True):
    """Give the job another name."""

    name: Name


class SetNote(Value, frozen=True, tag=True):
    """Write the job's note."""

    note: Note


class SetDisplay(Value, frozen=True, tag=True):
    """Show lengths in inches or millimeters, to this fraction of an inch."""

    display: Literal["in", "mm"]
    fraction: Literal[16, 32, 64]


class SetSlab(Value, frozen=True, tag=True):
    """Set the slab's thickness (inches) and density (lb/cu ft)."""

    thickness: Annotated[float, Meta(gt=0.0, le=12.0)]
    density_pcf: Annotated[float, Meta(ge=20.0, le=400.0)]


class SetDefaults(Value, frozen=True, tag=True):
    """Set what new things start with."""

    defaults: Defaults


class SetLimits(Value, frozen=True, tag=True):
    """Set the limits of the findings."""

    limits: Limits


class SetMoldChoices(Value, frozen=True, tag=True):
    """Set how molds are built."""

    molds: MoldChoices


class SetReinforcement(Value, frozen=True, tag=True):
    """Set mesh and bars."""

    reinforcement: Reinforcement


class SetStock(Value, frozen=True, tag=True):
    """Set the stock list and how it is cut."""

    stock: Stock


class AddWalls(Value, frozen=True, tag=True):
    """Add corners and the walls that join them (and existing corners)."""

    corners: Annotated[tuple[Corner, ...], Meta(max_length=MOST)]
    walls: Annotated[tuple[Wall, ...], Meta(max_length=MOST)]


class CornerPlace(Value, frozen=True):
    """Where a corner is drawn."""

    corner: Id
    x: Coordinate
    y: Coordinate


class MoveCorner(Value, frozen=True, tag=True):
    """Put a corner elsewhere on the drawing; along are others that are drawn anew with it."""

    corner: Id
    x: Coordinate
    y: Coordinate
    along: Annotated[tuple[CornerPlace, ...], Meta(max_length=MOST)] = ()


class SplitWall(Value, frozen=True, tag=True):
    """Put a new corner into a wall: the wall keeps its start, the new wall gets its end."""

    wall: Id
    corner: Corner
    new_wall: Id


class RemoveCorner(Value, frozen=True, tag=True):
    """Remove a corner; two walls that met there become one, keeping the first one's id."""

    corner: Id


class RemoveWall(Value, frozen=True, tag=True):
    """Remove a wall, the legs along it, and corners that no wall needs."""

    wall: Id


class TurnWalls(Value, frozen=True, tag=True):
    """Put the room on the other side of all walls that hang together with this one."""

    wall: Id


class AddReading(Value, frozen=True, tag=True):
    """Add a reading."""

    reading: Reading


class SetReading(Value, frozen=True, tag=True):
    """Replace a reading."""

    reading: Reading


class RemoveReading(Value, frozen=True, tag=True):
    """Strike a reading."""

    reading: Id


class SetDeviations(Value, frozen=True, tag=True):
    """Set the standard deviations of tape and laser (inches) and of the angle finder (degrees)."""

    tape_sd: Deviation
    laser_sd: Deviation
    angle_sd: AngleDeviation


class AddMark(Value, frozen=True, tag=True):
    """Add a mark."""

    mark: Mark


class SetMark(Value, frozen=True, tag=True):
    """Replace a mark."""

    mark: Mark


class RemoveMark(Value, frozen=True, tag=True):
    """Remove a mark and what ties it."""

    mark: Id


class AddBaseline(Value, frozen=True, tag=True):
    """Add a baseline."""

    baseline: Baseline


class SetBaseline(Value, frozen=True, tag=True):
    """Replace a baseline."""

    baseline: Baseline


class RemoveBaseline(Value, frozen=True, tag=True):
    """Remove a baseline and its stations."""

    baseline: Id


class AddCabinet(Value, frozen=True, tag=True):
    """Add a cabinet or an appliance."""

    cabinet: Cabinet


class SetCabinet(Value, frozen=True, tag=True):
    """Replace a cabinet or an appliance."""

    cabinet: Cabinet


class RemoveCabinet(Value, frozen=True, tag=True):
    """Remove a cabinet or an appliance."""

    cabinet: Id


class AddPin(Value, frozen=True, tag=True):
    """Pin a note to a place."""

    pin: Pin


class SetPin(Value, frozen=True, tag=True):
    """Change a pinned note, or pin it elsewhere."""

    pin: Pin


class RemovePin(Value, frozen=True, tag=True):
    """Take a pinned note away."""

    pin: Id


class AddRun(Value, frozen=True, tag=True):
    """Add a run."""

    run: Run


class SetLeg(Value, frozen=True, tag=True):
    """Replace a leg of a run."""

    leg: Leg


class SetRunEnd(Value, frozen=True, tag=True):
    """Set the left or right end of a run."""

    run: Id
    side: Literal["left", "right"]
    end: RunEnd


class ExtendRun(Value, frozen=True, tag=True):
    """Add a leg before the first ('left') or after the last ('right') leg, with the new end."""

    run: Id
    side: Literal["left", "right"]
    leg: Leg
    end: RunEnd


class RemoveLeg(Value, frozen=True, tag=True):
    """Remove a leg; a run that falls apart becomes two runs, one without legs goes."""

    leg: Id


class RemoveRun(Value, frozen=True, tag=True):
    """Remove a run and all that hangs on it."""

    run: Id


class AddIsland(Value, frozen=True, tag=True):
    """Add an island."""

    island: Island


class SetIsland(Value, frozen=True, tag=True):
    """Replace an island."""

    island: Island


class RemoveIsland(Value, frozen=True, tag=True):
    """Remove an island and all that hangs on it."""

    island: Id


class AddAlongside(Value, frozen=True, tag=True):
    """Add a backsplash strip or a ledge along an edge of a counter."""

    piece: Alongside


class SetAlongside(Value, frozen=True, tag=True):
    """Replace a backsplash strip or a ledge."""

    piece: Alongside


class RemoveAlongside(Value, frozen=True, tag=True):
    """Remove a backsplash strip or a ledge."""

    piece: Id


class ShapeCorner(Value, frozen=True, tag=True):
    """Give a corner its shape; None makes it square."""

    corner: CornerRef
    shape: CornerShape | None


class FinishEdge(Value, frozen=True, tag=True):
    """Choose an edge's finish; None goes back to the default.

    bead_radius is that of its own bead, None for the job's.
    """

    edge: EdgeRef
    finish: Finish | None
    bead_radius: Annotated[float, Meta(gt=0.0, le=2.0)] | None = None


class AddOpening(Value, frozen=True, tag=True):
    """Add an opening."""

    opening: Opening


class SetOpening(Value, frozen=True, tag=True):
    """Replace an opening."""

    opening: Opening


class MoveOpening(Value, frozen=True, tag=True):
    """Put an opening elsewhere."""

    opening: Id
    at: Anchor


class RemoveOpening(Value, frozen=True, tag=True):
    """Remove an opening."""

    opening: Id


class AddInset(Value, frozen=True, tag=True):
    """Set something into a slab that does not go through."""

    inset: Inset


class SetInset(Value, frozen=True, tag=True):
    """Change it, or set it elsewhere."""

    inset: Inset


class RemoveInset(Value, frozen=True, tag=True):
    """Leave it out."""

    inset: Id


class AddSeam(Value, frozen=True, tag=True):
    """Add a seam; pieces get their names."""

    seam: Seam


class SetSeam(Value, frozen=True, tag=True):
    """Replace a seam; its pieces keep their names."""

    seam: Seam


class RemoveSeam(Value, frozen=True, tag=True):
    """Remove a seam; seams that stop at it run on."""

    seam: Id


class NamePiece(Value, frozen=True, tag=True):
    """Give a piece another letter; if another piece has it, the two change letters."""

    piece: Letter
    name: Letter


class MarkPiece(Value, frozen=True, tag=True):
    """Mark how far a piece is. From cut on it is frozen as it is at that moment; drawn frees it."""

    piece: Letter
    state: Literal["drawn", "cut", "poured", "cast"]


class MeasureSlab(Value, frozen=True, tag=True):
    """Set what was measured on a cast slab: lengths between its corners, and how thick it is."""

    piece: Letter
    came_out: Annotated[tuple[SlabMeasure, ...], Meta(max_length=MOST)]
    thickness_out: Annotated[float, Meta(gt=0.0, le=12.0)] | None = None


class TurnAbout(Value, frozen=True, tag=True):
    """Choose the edge a piece is turned over about; None goes back to the default."""

    piece: Letter
    edge: EdgeRef | None


class BuildMold(Value, frozen=True, tag=True):
    """Choose how the mold of a piece is built; None goes back to the job's."""

    piece: Letter
    construction: Construction | None


class RunPast(Value, frozen=True, tag=True):
    """Choose whose strip runs past at a corner; None goes back to the default."""

    corner: CornerRef
    edge: EdgeRef | None


Edit: TypeAlias = (
    SetJobName
    | SetNote
    | SetDisplay
    | SetSlab
    | SetDefaults
    | SetLimits
    | SetMoldChoices
    | SetReinforcement
    | SetStock
    | AddWalls
    | MoveCorner
    | SplitWall
    | RemoveCorner
    | RemoveWall
    | TurnWalls
    | AddReading
    | SetReading
    | RemoveReading
    | SetDeviations
    | AddMark
    | SetMark
    | RemoveMark
    | AddBaseline
    | SetBaseline
    | RemoveBaseline
    | AddCabinet
    | SetCabinet
    | RemoveCabinet
    | AddPin
    | SetPin
    | RemovePin
    | AddRun
    | SetLeg
    | SetRunEnd
    | ExtendRun
    | RemoveLeg
    | RemoveRun
    | AddIsland
    | SetIsland
    | RemoveIsland
    | AddAlongside
    | SetAlongside
    | RemoveAlongside
    | ShapeCorner
    | FinishEdge
    | AddOpening
    | SetOpening
    | MoveOpening
    | RemoveOpening
    | AddInset
    | SetInset
    | RemoveInset
    | AddSeam
    | SetSeam
    | RemoveSeam
    | NamePiece
    | MarkPiece
    | MeasureSlab
    | TurnAbout
    | BuildMold
    | RunPast
)
