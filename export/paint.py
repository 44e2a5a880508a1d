"""Pages and sheets onto paper: PDF files, printers and pictures, by way of a QPainter."""

import os
import sys
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from importlib.resources import files
from math import ceil, degrees, pi, tan
from typing import TypeAlias

from PySide6.QtCore import (
    QBuffer,
    QByteArray,
    QCoreApplication,
    QIODevice,
    QLineF,
    QMarginsF,
    QPointF,
    QRectF,
    QSizeF,
    Qt,
)
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontDatabase,
    QFontMetricsF,
    QGuiApplication,
    QImage,
    QImageWriter,
    QPageLayout,
    QPageSize,
    QPainter,
    QPainterPath,
    QPdfWriter,
    QPen,
)

from export.inks import INKS, WHITE, Ink
from export.laying_out import bounds_of, laid_out
from export.marks import AnyMark, Line, Region, Sheet, Spot, Strokes, Words
from export.pages import Page, View
from export.word_boxes import TAG_TEXT, tag_reach
from geometry import edges as exact
from geometry.edges import Edge
from geometry.points import along

PDF_DPI = 1200
FONT_PX = 200
ARC_STEP_RAD = pi / 4.0
TAG_PEN_IN = 0.011
LONGEST_IN = 200.0
"""A PDF page is at most 14,400 units of 1/72 in long (PDF 1.7 reference)."""

MOST_PIXELS = 200_000_000
"""A larger picture takes more than a gigabyte to make."""

SLACK_IN = 0.1
"""Pens reach less than this beyond the bounds of what they draw."""


def application() -> QCoreApplication:
    """Return the running application, or one made for painting without a screen."""
    return QCoreApplication.instance() or _own_application()


@cache
def _own_application() -> QCoreApplication:
    """Return an application that stays: without a reference it would be gone at once."""
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    return QGuiApplication([sys.argv[0]])


@cache
def typeface() -> str:
    """Return the family name of the program's own typeface, loaded from its package.

    Raises:
        RuntimeError: the font files cannot be loaded.
    """
    folder = files("font_source_sans_pro") / "files"
    family = ""
    for weight in ("Regular", "Semibold", "Bold", "It"):
        number = QFontDatabase.addApplicationFont(str(folder / f"SourceSansPro-{weight}.ttf"))
        if number < 0:
            raise RuntimeError(f"The typeface SourceSansPro-{weight} cannot be loaded.")
        if weight == "Regular":
            family = QFontDatabase.applicationFontFamilies(number)[0]
    return family


@cache
def _font(bold: bool) -> QFont:
    font = QFont(typeface())
    font.setPixelSize(FONT_PX)
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    # A joined pair of letters is one sign, which readers of a PDF file do not take for two.
    for feature in ("liga", "dlig"):
        font.setFeature(QFont.Tag(feature), 0)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font


def path_of(edges: Iterable[Edge], *, closed: bool) -> QPainterPath:
    """Return a Qt path of edges, y up as in the model, arcs as cubic curves.

    An arc is cut into parts of at most ARC_STEP_RAD. With control points at 4/3 tan(angle / 4)
    of the radius, such a part is off the circle by less than 5e-6 of the radius.
    """
    path = QPainterPath()
    started = False
    for edge in edges:
        if not started:
            path.moveTo(*edge.start)
            started = True
        if exact.is_line(edge):
            path.lineTo(*edge.end)
            continue
        sweep, r = exact.sweep_rad(edge), exact.radius(edge)
        count = ceil(abs(sweep) / ARC_STEP_RAD)
        reach = r * 4.0 / 3.0 * tan(abs(sweep) / count / 4.0)
        start, leaving = edge.start, exact.direction_at(edge, 0.0)
        for k in range(1, count + 1):
            end, coming = exact.point_at(edge, k / count), exact.direction_at(edge, k / count)
            path.cubicTo(*along(start, leaving, reach), *along(end, coming, -reach), *end)
            start, leaving = end, coming
    if closed:
        path.closeSubpath()
    return path


def edges_of_line(line: Line) -> Iterable[Edge]:
    """Return a line mark's edges."""
    return map(Edge, line.points, line.points[1:], line.bulges)


def paint_page(painter: QPainter, page: Page, dots: tuple[float, float]) -> None:
    """Paint a page; dots are the device's dots for a paper inch along x and y."""
    for view in page.views:
        painter.save()
        painter.scale(dots[0], -dots[1])
        painter.translate(0.0, -page.height)
        if view.window is not None:
            left, bottom, right, top = view.window
            painter.setClipRect(QRectF(left, bottom, right - left, top - bottom))
        painter.translate(*view.origin)
        painter.scale(*view.scale)
        for mark in _in_sight(view):
            _paint(painter, mark, view.scale)
        painter.restore()


Bounds: TypeAlias = tuple[float, float, float, float]


def _in_sight(view: View) -> Sequence[AnyMark]:
    """Return the marks of a view laid out, without those that cannot show in its window."""
    scale, window = view.scale[0], view.window
    if window is None:
        return laid_out(view.sheet, scale, view.limits)
    bounded = _bounded(view.sheet, scale, view.limits)
    return [mark for mark, bounds in bounded if _is_seen(bounds, view, window)]


@lru_cache(maxsize=32)
def _bounded(
    sheet: Sheet, scale: float, limits: Bounds | None
) -> tuple[tuple[AnyMark, Bounds], ...]:
    """Return a sheet's marks laid out, each with its bounds: many pages show parts of one sheet."""
    return tuple((mark, bounds_of(mark, scale)) for mark in laid_out(sheet, scale, limits))


def _is_seen(bounds: Bounds, view: View, window: Bounds) -> bool:
    """Tell whether something may show in a view's window, as far as its bounds tell."""
    (sx, sy), (x, y) = view.scale, view.origin
    left, bottom, right, top = bounds
    return (
        left * sx + x <= window[2] + SLACK_IN
        and right * sx + x >= window[0] - SLACK_IN
        and bottom * sy + y <= window[3] + SLACK_IN
        and top * sy + y >= window[1] - SLACK_IN
    )


@cache
def _pen(ink: Ink, scale: float) -> QPen:
    pen = QPen(QColor(ink.line), ink.width / scale)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if ink.dashes:
        pen.setDashPattern([dash / ink.width for dash in ink.dashes])
    return pen


def _paint(painter: QPainter, mark: AnyMark, scale: tuple[float, float]) -> None:
    ink = INKS[mark.role]
    if isinstance(mark, Region):
        path = QPainterPath()
        for loop in mark.loops:
            path.addPath(path_of(loop.edges, closed=True))
        if ink.fill is not None:
            painter.fillPath(path, QBrush(QColor(ink.fill)))
        if mark.outlined:
            painter.strokePath(path, _pen(ink, scale[0]))
    elif isinstance(mark, Line):
        painter.strokePath(path_of(edges_of_line(mark), closed=False), _pen(ink, scale[0]))
    elif isinstance(mark, Strokes):
        painter.setPen(_pen(ink, scale[0]))
        painter.drawLines([QLineF(*a, *b) for a, b in mark.strokes])
    elif isinstance(mark, Words):
        _paint_words(painter, mark, scale)
    elif isinstance(mark, Spot):
        _paint_spot(painter, mark, scale)


@lru_cache(maxsize=4096)
def _measured(text: str, bold: bool) -> tuple[float, float]:
    """Return how wide a text is, and how high a capital, at the size it is set."""
    metrics = QFontMetricsF(_font(bold))
    return metrics.horizontalAdvance(text), metrics.capHeight()


def _paint_words(painter: QPainter, mark: Words, scale: tuple[float, float]) -> None:
    font = _font(mark.bold)
    width, capital = _measured(mark.text, mark.bold)
    painter.save()
    painter.translate(*mark.at)
    painter.rotate(degrees(mark.angle_rad))
    size = mark.height if mark.height_model else mark.height / scale[0]
    factor = size / FONT_PX
    if mark.max_width is not None and width * factor > mark.max_width:
        factor = mark.max_width / width
    painter.scale(factor, -factor)
    shift = {"left": 0.0, "middle": -0.5, "right": -1.0}[mark.anchor] * width
    painter.setFont(font)
    painter.setPen(QColor(INKS[mark.role].line))
    painter.drawText(QPointF(shift, capital / 2.0), mark.text)
    painter.restore()


def _paint_spot(painter: QPainter, mark: Spot, scale: tuple[float, float]) -> None:
    ink = INKS[mark.role]
    r = mark.size / scale[0]
    painter.save()
    painter.translate(*mark.at)
    painter.rotate(degrees(mark.angle_rad))
    painter.setPen(_pen(ink, scale[0]))
    painter.setBrush(QColor(ink.line) if mark.kind == "dot" else Qt.BrushStyle.NoBrush)
    if mark.kind in ("dot", "ring"):
        painter.drawEllipse(QPointF(0.0, 0.0), r, r)
    elif mark.kind == "cross":
        painter.drawLine(QPointF(-r, 0.0), QPointF(r, 0.0))
        painter.drawLine(QPointF(0.0, -r), QPointF(0.0, r))
    elif mark.kind == "arrow":
        painter.drawLine(QPointF(-2 * r, 0.0), QPointF(2 * r, 0.0))
        painter.drawLine(QPointF(2 * r, 0.0), QPointF(r, r * 0.6))
        painter.drawLine(QPointF(2 * r, 0.0), QPointF(r, -r * 0.6))
    painter.restore()
    if mark.kind == "tag":
        wide = tag_reach(mark.text, mark.size) / scale[0]
        painter.save()
        painter.setPen(_pen(ink._replace(width=TAG_PEN_IN, dashes=()), scale[0]))
        painter.setBrush(QColor(WHITE))
        box = QRectF(mark.at[0] - wide, mark.at[1] - r, 2.0 * wide, 2.0 * r)
        painter.drawRoundedRect(box, r, r)
        painter.restore()
        height = mark.size * TAG_TEXT
        label = Words(mark.role, text=mark.text, at=mark.at, height=height, bold=True)
        _paint_words(painter, label, scale)


class PaintError(Exception):
    """Pages that cannot be made into a file; one sentence says why."""


def page_layout(page: Page) -> QPageLayout:
    """Return a page's exact layout for a PDF or a printer: no margins."""
    size = QPageSize(
        QSizeF(page.width, page.height),
        QPageSize.Unit.Inch,
        "",
        QPageSize.SizeMatchPolicy.ExactMatch,
    )
    return QPageLayout(
        size,
        QPageLayout.Orientation.Portrait,
        QMarginsF(0, 0, 0, 0),
        QPageLayout.Unit.Inch,
    )


def pdf(pages: Sequence[Page], title: str) -> bytes:
    """Return pages as a PDF file at true scale.

    Raises:
        PaintError: a page is longer than a page of a PDF file may be.
    """
    for page in pages:
        if not 0.0 < min(page.width, page.height) <= max(page.width, page.height) <= LONGEST_IN:
            raise PaintError(f"No PDF page can be {page.width:.1f} x {page.height:.1f} in large.")
    application()
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setCreator("Facedown")
    writer.setTitle(title)
    writer.setResolution(PDF_DPI)
    painter = QPainter()
    before = None
    for page in pages:
        size = (page.width, page.height)
        if size != before:
            writer.setPageLayout(page_layout(page))
        if before is None:
            painter.begin(writer)
        else:
            writer.newPage()
        before = size
        paint_page(painter, page, (PDF_DPI, PDF_DPI))
    painter.end()
    return bytes(data.data())


def png(page: Page, width_px: int) -> bytes:
    """Return a picture of a page as PNG, so many pixels wide.

    Raises:
        PaintError: the picture would be too large.
    """
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"PNG")).write(picture(page, width_px))
    return bytes(data.data())


def picture(page: Page, width_px: int) -> QImage:
    """Return a picture of a page, so many pixels wide.

    Raises:
        PaintError: the picture would be too large.
    """
    application()
    dots = width_px / page.width
    high = max(1, round(page.height * dots))
    if width_px * high > MOST_PIXELS:
        raise PaintError(
            f"A picture of {width_px} x {high} pixels is too large: take a smaller width."
        )
    image = QImage(width_px, high, QImage.Format.Format_ARGB32)
    image.fill(QColor("#FDFCF8"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_page(painter, page, (dots, dots))
    painter.end()
    return image
