"""What a full-size plot of a piece shows, face down as it lies in its mold or face up."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from math import atan2, cos, pi, remainder, sin
from typing import NamedTuple

from msgspec.structs import replace

from export.drawings import edge_subject, holes, kind_role
from export.inset_marks import plot_marks
from export.laying_out import bounds_of
from export.marks import AnyMark, Line, Role, Sheet, Spot, Words
from export.sound import sound_molds, sound_pieces
from export.word_boxes import upright_angle
from geometry import edges as exact
from geometry.edges import Edge
from geometry.naming import CornerRef, EdgeRef, Kind
from geometry.outline import Outline, bounding_box
from geometry.points import Point, distance
from geometry.points import turned as rotated_point
from shop import plan
from shop.job import Job
from shop.mitres import MITRE_WORDS
from shop.molds import Mold
from shop.words import opening_words

NAME_IN = 0.4
"""Height of names on a full-size plot."""

NAMED_IN = 4.0
"""Shorter edges and smaller openings have no name."""

INSIDE_IN = 0.7
"""Names stand so far inside their edges."""


class Plot(NamedTuple):
    """One piece at full size: its letter, drawing with its exact box, and the sentences it bears.

    The first sentence is the title.
    """

    piece: str
    sheet: Sheet
    sentences: tuple[str, ...]


class _Hole(NamedTuple):
    outline: Outline
    name: str


def _edge_marks(outline: Outline, names: Sequence[str]) -> Iterator[AnyMark]:
    named = _named(outline)
    for i, (edge, tag, name) in enumerate(zip(outline.edges, outline.tags, names, strict=True)):
        role = kind_role(tag.kind)
        subject = edge_subject(tag)
        # A line to cut by has no gaps: a seam is told by its name.
        solid: Role = "end" if tag.kind is Kind.SEAM else role
        yield Line(solid, subject, points=(edge.start, edge.end), bulges=(edge.bulge,))
        if i in named and exact.length(edge) > NAMED_IN:
            at = exact.point_at(edge, 0.5)
            x, y = exact.direction_at(edge, 0.5)
            yield Words(
                role,
                subject,
                text=name.upper(),
                at=(at[0] - y * INSIDE_IN, at[1] + x * INSIDE_IN),
                height=NAME_IN,
                bold=True,
                angle_rad=upright_angle((x, y)),
                max_width=exact.length(edge) * 0.9,
            )


def _named(outline: Outline) -> set[int]:
    """Return the edges to name: all but an opening's, and of a scribed back the longest part."""
    longest: dict[object, int] = {}
    for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        key = tag.ref if tag.kind is Kind.BACK else i
        best = longest.get(key, i)
        if tag.kind is not Kind.OPENING:
            longest[key] = i if exact.length(edge) > exact.length(outline.edges[best]) else best
    return set(longest.values())


def _hole_marks(hole: _Hole) -> Iterator[AnyMark]:
    """Draw an opening; where a seam runs through it, its edges are in the piece's outline."""
    partial = any(tag.kind is not Kind.OPENING for tag in hole.outline.tags)
    for edge, tag in zip(hole.outline.edges, hole.outline.tags, strict=True):
        if not partial:
            yield Line("opening", points=(edge.start, edge.end), bulges=(edge.bulge,))
        elif tag.kind is not Kind.OPENING:
            yield Line("ghost", points=(edge.start, edge.end), bulges=(edge.bulge,))
    x0, y0, x1, y1 = bounding_box(hole.outline)
    center = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    yield Spot("opening", kind="cross", at=center, size=min(0.75, (x1 - x0) / 3.0))
    if x1 - x0 > NAMED_IN:
        yield Words(
            "words",
            text=hole.name,
            at=(center[0], center[1] + 1.2),
            height=NAME_IN,
            max_width=x1 - x0 - 1.0,
        )


def _letter(piece: str, outline: Outline, openings: Sequence[_Hole]) -> Iterator[AnyMark]:
    """Give the piece's letter a little inside its first edge, away from openings."""
    edge = max(outline.edges, key=exact.length)
    boxes = [bounding_box(hole.outline) for hole in openings]
    x, y = exact.direction_at(edge, 0.5)

    def inside(fraction: float) -> Point:
        at = exact.point_at(edge, fraction)
        return (at[0] - y * LETTER_INSIDE_IN, at[1] + x * LETTER_INSIDE_IN)

    def is_free(at: Point) -> bool:
        return not any(
            b[0] - LETTER_IN < at[0] < b[2] + LETTER_IN
            and b[1] - LETTER_IN < at[1] < b[3] + LETTER_IN
            for b in boxes
        )

    free = [at for at in map(inside, LETTER_FRACTIONS) if is_free(at)]
    if free:
        yield Words("words", text=piece, at=free[0], height=LETTER_IN, bold=True)


LETTER_IN = 2.0
LETTER_INSIDE_IN = 3.5
LETTER_FRACTIONS = (0.25, 0.75, 0.15, 0.85, 0.5)


def _plot(
    piece: str,
    outline: Outline,
    openings: Sequence[_Hole],
    names: Sequence[str],
    sentences: tuple[str, ...],
    under: Sequence[Edge] = (),
    set_in: Iterable[AnyMark] = (),
) -> Plot:
    """Return a plot; under are the lines of mitred edges at the slab's underside."""
    marks = [
        *_edge_marks(outline, names),
        *(Line("ghost", points=(e.start, e.end), bulges=(e.bulge,)) for e in under),
        *(mark for hole in openings for mark in _hole_marks(hole)),
        *set_in,
        *_letter(piece, outline, openings),
    ]
    return Plot(piece, Sheet(f"Piece {piece}", tuple(marks), bounding_box(outline)), sentences)


def turned(plot: Plot, angle_rad: float) -> Plot:
    """Return a plot turned counter-clockwise on its paper; nothing is mirrored."""
    marks: list[AnyMark] = []
    for mark in plot.sheet.marks:
        match mark:
            case Line():
                points = tuple(rotated_point(point, angle_rad) for point in mark.points)
                marks.append(replace(mark, points=points))
            case Words():
                way = (cos(mark.angle_rad + angle_rad), sin(mark.angle_rad + angle_rad))
                at = rotated_point(mark.at, angle_rad)
                marks.append(replace(mark, at=at, angle_rad=upright_angle(way)))
            case Spot():
                marks.append(replace(mark, at=rotated_point(mark.at, angle_rad)))
    boxes = [bounds_of(mark, 1.0) for mark in marks if isinstance(mark, Line)]
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    box = (min(x0), min(y0), max(x1), max(y1))
    return plot._replace(sheet=Sheet(plot.sheet.name, tuple(marks), box))


def tilt_rad(plot: Plot) -> float:
    """Return how far a plot's longest straight line is from level or upright, at most pi / 4."""
    lines = [mark.points for mark in plot.sheet.marks if isinstance(mark, Line)]
    a, b = max(lines, key=lambda points: distance(points[0], points[1]))
    return remainder(atan2(b[1] - a[1], b[0] - a[0]), pi / 2.0)


def face_down_plots(job: Job) -> tuple[Plot, ...]:
    """Return every piece as it lies in its mold."""
    found = []
    for mold in sound_molds(job):
        names = dict(plan.names_of_edges(job, mold.piece))
        found.append(
            _plot(
                mold.piece,
                mold.outline,
                [_Hole(knockout.outline, knockout.name) for knockout in mold.knockouts],
                _names(mold.outline, names, {mold.frame.tags[b.edge].ref for b in mold.bevels}),
                (f"Mold {mold.piece}: FACE DOWN", back_words(mold), mold.handedness),
                [bevel.back for bevel in mold.bevels if bevel.back is not None],
                plot_marks(job, mold.piece, down=True),
            )
        )
    return tuple(found)


def _names(
    outline: Outline, names: Mapping[EdgeRef | CornerRef, str], mitred: Collection[object]
) -> list[str]:
    """Return what the edges of an outline are called, and that some are mitred."""
    return [
        f"{names[tag.ref]}, {MITRE_WORDS}" if tag.ref in mitred else names[tag.ref]
        for tag in outline.tags
    ]


def back_words(mold: Mold) -> str:
    """Return which edge of a face-down drawing is the back, and what its names mean."""
    if any(tag.kind is Kind.BACK for tag in mold.frame.tags):
        return "The edge marked BACK is the back. Names of ends stay as installed."
    return "This piece has no back. Its sides keep the numbers they have as installed."


def face_up_plots(job: Job) -> tuple[Plot, ...]:
    """Return every piece as it sits in the kitchen, for a dry fit on the cabinets."""
    found = []
    for piece in sound_pieces(job):
        names, outline = dict(plan.names_of_edges(job, piece.name)), piece.face.outline
        found.append(
            _plot(
                piece.name,
                outline,
                [_Hole(o.outline, opening_words(job, o.id)) for o in holes(piece.face)],
                _names(outline, names, {outline.tags[bevel.edge].ref for bevel in piece.bevels}),
                (
                    f"Piece {piece.name}: FACE UP",
                    "For a dry fit on the cabinets, not for a mold.",
                ),
                [bevel.back for bevel in piece.bevels if bevel.back is not None],
                plot_marks(job, piece.name, down=False),
            )
        )
    return tuple(found)
