"""Marks and sheets: what a drawing is, free of any toolkit.

Positions are inches of the model, y up, unless a name says paper. Sizes of words and pens are
inches on paper (at scale 1), so a full-size plot and a small picture can share a sheet.
"""

from collections.abc import Sequence
from typing import Literal, NamedTuple, TypeAlias

import msgspec

from geometry.outline import Outline
from geometry.picking import Subject
from geometry.points import Point

Role: TypeAlias = Literal[
    "paper",
    "wall",
    "ghost",
    "cabinet",
    "baseline",
    "ellipse",
    "slab",
    "back",
    "front",
    "end",
    "corner",
    "seam",
    "bead",
    "square",
    "appliance",
    "polished",
    "mitred",
    "opening",
    "foam",
    "board",
    "strip",
    "screw",
    "mesh",
    "bar",
    "inset",
    "cut",
    "bridge",
    "dimension",
    "reading",
    "words",
    "quiet",
    "title",
    "warning",
    "frame",
    "check",
    "sample",
]
"""What a mark stands for. Palettes, pens and DXF layers are tables from roles, one per output."""

Anchor: TypeAlias = Literal["left", "middle", "right"]


class Mark(msgspec.Struct, frozen=True, cache_hash=True):
    """What every mark has: its role, and the thing of the job it shows, or none."""

    role: Role
    subject: Subject | None = None


class Region(Mark, frozen=True, cache_hash=True, kw_only=True):
    """A filled shape with holes: outlines with bulges."""

    loops: tuple[Outline, ...]
    outlined: bool = True


class Line(Mark, frozen=True, cache_hash=True, kw_only=True):
    """An open chain: points, and one bulge fewer than points."""

    points: tuple[Point, ...]
    bulges: tuple[float, ...]


class Strokes(Mark, frozen=True, cache_hash=True, kw_only=True):
    """Straight strokes of one pen, each from a point to another, that come and go together.

    asks is the key of the question that the dimension they belong to answers, if it is one's.
    """

    strokes: tuple[tuple[Point, Point], ...]
    asks: str = ""


class Place(msgspec.Struct, frozen=True, cache_hash=True):
    """Where a line of text may stand: as Words say it, and the room there in model inches.

    It is too small for words wider or higher than that. A line leads from a led place to the
    point that the words are about. text stands there instead, where the words are too long.
    """

    at: Point
    anchor: Anchor = "middle"
    angle_rad: float = 0.0
    shift: Point = (0.0, 0.0)
    wide: float | None = None
    high: float | None = None
    led: bool = False
    text: str = ""


def leads(at: Point, reach: Point, far: Sequence[float]) -> tuple[Place, ...]:
    """Return places round a small thing, half as wide and high as its reach, each led to it."""
    dx, dy = reach
    return tuple(
        place
        for by in far
        for place in (
            Place((at[0] + dx, at[1]), "left", shift=(by, by / 2.0), led=True),
            Place((at[0] - dx, at[1]), "right", shift=(-by, by / 2.0), led=True),
            Place((at[0], at[1] - dy), shift=(0.0, -by), led=True),
            Place((at[0], at[1] + dy), shift=(0.0, by), led=True),
            Place((at[0] + dx, at[1]), "left", shift=(by, -by), led=True),
            Place((at[0] - dx, at[1]), "right", shift=(-by, -by), led=True),
        )
    )


class Words(Mark, frozen=True, cache_hash=True, kw_only=True):
    """One line of text; at is the middle of its height. max_width is in model inches, or none.

    With height_model the height is in inches of the model and grows with the drawing. shift moves
    it by paper inches, along the text and up from it. Words with places stand at the first of
    them that has room and is free, those of greater priority first, and at is what they are
    about; where none is free they stand at the last, or go if they are optional. Words with places
    and a max_width may be written smaller to fit the width of a place. asks is the key of the
    question about their subject that the length they write answers, if they write one.
    """

    text: str
    at: Point
    anchor: Anchor = "middle"
    angle_rad: float = 0.0
    height: float = 0.12
    height_model: bool = False
    bold: bool = False
    max_width: float | None = None
    shift: Point = (0.0, 0.0)
    places: tuple[Place, ...] = ()
    priority: int = 0
    optional: bool = False
    asks: str = ""


class Dimension(Mark, frozen=True, cache_hash=True, kw_only=True):
    """A length between two points, its line moved left of a -> b by an offset in paper inches.

    The more important one (greater priority) stays where two would overlap; the other moves
    further out or is left out. The lines that lead to it start at the two points, or at the feet.
    asks is the key of the question about its subject that it answers, if it is asked at all.
    """

    a: Point
    b: Point
    offset: float
    text: str
    priority: int = 0
    feet: tuple[Point, Point] | None = None
    asks: str = ""


class Spot(Mark, frozen=True, cache_hash=True, kw_only=True):
    """A small symbol of constant size on paper; a tag is its text in a rounded box.

    size is half its height, shift moves it by paper inches along x and y. A tag with places stands
    at the first of them that is free, and goes where none is; one that is firm lies on lines and
    shapes as on anything.
    """

    kind: Literal["dot", "ring", "cross", "arrow", "tag"]
    at: Point
    shift: Point = (0.0, 0.0)
    text: str = ""
    angle_rad: float = 0.0
    size: float = 0.06
    places: tuple[Point, ...] = ()
    firm: bool = False


AnyMark: TypeAlias = Region | Line | Strokes | Words | Dimension | Spot


class Group(NamedTuple):
    """The marks of one element, back to front, and a key that tells it from the others."""

    key: str
    marks: tuple[AnyMark, ...]


class Sheet(msgspec.Struct, frozen=True, cache_hash=True):
    """A drawing: its name, its marks from back to front, and the box of the model it shows.

    margin is the room round the box, in paper inches, that its dimensions and words may take.
    """

    name: str
    marks: tuple[AnyMark, ...]
    box: tuple[float, float, float, float]
    margin: float = 0.0
