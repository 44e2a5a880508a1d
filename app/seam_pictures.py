"""A small picture of a top and its seams, for whoever chooses among layouts."""

from collections.abc import Callable
from functools import reduce
from typing import NamedTuple

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, Qt
from PySide6.QtGui import QBrush, QColor, QImage, QImageWriter, QPainter, QPen

from app.look import DARK, LIGHT, Palette
from export.paint import path_of
from geometry.naming import Id, Kind
from geometry.outline import bounding_box
from shop.applying import applied
from shop.job import Job
from shop.plan import pieces
from shop.seam_proposals import Proposals, layout_edits, seam_proposals


class LayoutPicture(NamedTuple):
    """A picture of a layout as PNG, by the name of the appearance that it is for."""

    light: bytes
    dark: bytes


class Suggested(NamedTuple):
    """What was found for a top, with a picture of each layout."""

    proposals: Proposals
    pictures: tuple[LayoutPicture, ...]


PICTURE_PX = (220, 64)
"""Greatest width and height on a plain screen; it is made twice as fine."""

LEAST_PX = 34
"""No picture is lower: that a layout is taken stands over it."""

FINER = 2
EDGE_PX = 4.0
"""What is left free round the top."""


def suggested(job: Job, top: Id, told: Callable[[int], None]) -> Suggested:
    """Return the best layouts of a top's seams with pictures; told hears how many are found."""
    proposals = seam_proposals(job, top, told)
    jobs = [reduce(applied, layout_edits(job, top, made), job) for made in proposals.best]
    drawn = (LayoutPicture(*(layout_picture(j, top, p) for p in (LIGHT, DARK))) for j in jobs)
    return Suggested(proposals, tuple(drawn))


def layout_picture(job: Job, top: Id, palette: Palette) -> bytes:
    """Return a picture of a top's pieces as PNG, on nothing."""
    own = [piece.face for piece in pieces(job) if piece.top == top]
    boxes = [bounding_box(face.outline) for face in own]
    x0, y0 = (min(box[k] for box in boxes) for k in (0, 1))
    x1, y1 = (max(box[k] for box in boxes) for k in (2, 3))
    room = 2.0 * EDGE_PX
    scale = min((PICTURE_PX[0] - room) / (x1 - x0), (PICTURE_PX[1] - room) / (y1 - y0))
    high = max(round((y1 - y0) * scale + room), LEAST_PX)
    image = QImage(PICTURE_PX[0] * FINER, high * FINER, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(FINER, FINER)
    painter.translate(PICTURE_PX[0] / 2.0, high / 2.0)
    painter.scale(scale, -scale)
    painter.translate(-(x0 + x1) / 2.0, -(y0 + y1) / 2.0)
    for face in own:
        slab = path_of(face.outline.edges, closed=True)
        for hole in face.openings:
            slab.addPath(path_of(hole.outline.edges, closed=True))
        painter.fillPath(slab, QBrush(QColor(palette.slab)))
    for face in own:
        for outline in (face.outline, *(hole.outline for hole in face.openings)):
            for edge, tag in zip(outline.edges, outline.tags, strict=True):
                seam = tag.kind is Kind.SEAM
                pen = QPen(QColor(palette.seam if seam else palette.ink), 2.0 if seam else 1.4)
                pen.setCosmetic(True)
                painter.strokePath(path_of((edge,), closed=False), pen)
    painter.end()
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"PNG")).write(image)
    return bytes(data.data())
