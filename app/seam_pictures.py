"""A small picture of a top and its seams, for whoever chooses among layouts."""

from collections.abc import Callable
from functools import reduce
from typing import NamedTuple

from export.marks import AnyMark, Line, Region, Role, Sheet
from export.pages import Page, fitted
from export.paint import png
from geometry.edges import Edge
from geometry.naming import Id, Kind
from geometry.outline import bounding_box
from shop.applying import applied
from shop.job import Job
from shop.plan import pieces
from shop.seam_proposals import Proposals, layout_edits, seam_proposals


class Suggested(NamedTuple):
    """What was found for a top, with a picture of each layout as PNG."""

    proposals: Proposals
    pictures: tuple[bytes, ...]


PICTURE_PX = (240, 80)
"""Greatest width and height on a plain screen; it is made twice as fine."""

DOTS = 100.0
EDGE_IN = 0.06
"""The paper that it is drawn on as if: pixels for an inch, and what is left free round the top."""


def suggested(job: Job, top: Id, told: Callable[[int], None]) -> Suggested:
    """Return the best layouts of a top's seams with pictures; told hears how many are found."""
    proposals = seam_proposals(job, top, told)
    jobs = (reduce(applied, layout_edits(job, top, made), job) for made in proposals.best)
    return Suggested(proposals, tuple(layout_picture(split, top) for split in jobs))


def layout_picture(job: Job, top: Id) -> bytes:
    """Return a picture of a top's pieces as PNG."""
    own = [piece.face for piece in pieces(job) if piece.top == top]
    marks: list[AnyMark] = []
    for face in own:
        holes = tuple(opening.outline for opening in face.openings)
        marks.append(Region("slab", loops=(face.outline, *holes)))
    for face in own:
        outlines = (face.outline, *(opening.outline for opening in face.openings))
        for outline in outlines:
            for edge, tag in zip(outline.edges, outline.tags, strict=True):
                marks.append(_line(edge, tag.kind))
    boxes = [bounding_box(face.outline) for face in own]
    x0, y0 = (min(box[k] for box in boxes) for k in (0, 1))
    x1, y1 = (max(box[k] for box in boxes) for k in (2, 3))
    wide, high = (px / DOTS for px in PICTURE_PX)
    room = 2.0 * EDGE_IN
    scale = min((wide - room) / (x1 - x0), (high - room) / (y1 - y0))
    high = (y1 - y0) * scale + room
    sheet = Sheet("layout", tuple(marks), (x0, y0, x1, y1), margin=0.0)
    view = fitted(sheet, (EDGE_IN, EDGE_IN, wide - EDGE_IN, high - EDGE_IN))
    return png(Page("layout", wide, high, (view,)), 2 * PICTURE_PX[0])


def _line(edge: Edge, kind: Kind) -> Line:
    role: Role = "seam" if kind is Kind.SEAM else "opening" if kind is Kind.OPENING else "front"
    return Line(role, points=(edge.start, edge.end), bulges=(edge.bulge,))
