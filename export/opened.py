"""The opened mold: the base in the middle, its sidewalls laid down round it, inside faces up."""

from collections.abc import Iterator
from functools import lru_cache

from geometry.lengths import LengthStyle, written

from export.drawings import box_of, edge_subject, grown, upright_angle
from export.marks import AnyMark, Dimension, Line, Region, Sheet, Spot, Words
from export.stripwords import strip_words
from geometry import edges as exact
from geometry.edges import Edge
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, bounding_box
from geometry.picking import Subject
from geometry.points import Point, along, left_of, middle, scaled
from shop import plan
from shop.job import Job
from shop.molds import Mold
from shop.strips import Strip
from shop.words import length_style

APART_IN = 2.0
"""How far from the base its sidewalls are drawn."""


def _rectangle(start: Point, way: Point, length: float, height: float, tag: Tag) -> Outline:
    """Return a strip laid down: from a point along a way, its height to the right of the way."""
    out = scaled(left_of(way), -1.0)
    end = along(start, way, length)
    return Outline(
        (start, along(start, out, height), along(end, out, height), end),
        (0.0,) * 4,
        (tag,) * 4,
    )


def _laid(mold: Mold, strip: Strip) -> tuple[Point, Point]:
    """Return where a laid-down strip's screw edge starts, and its direction."""
    edges = [mold.frame.edges[i] for i in strip.edges]
    if len(edges) == 1 and not exact.is_line(edges[0]):
        arc = edges[0]
        at = exact.point_at(arc, 0.5)
        way = exact.direction_at(arc, 0.5)
        back = -strip.edge_length_in / 2.0
    else:
        at = edges[0].start
        way = exact.direction_at(Edge(edges[0].start, edges[-1].end), 0.0)
        back = 0.0
    out = scaled(left_of(way), -1.0)
    start = along(along(at, out, APART_IN), way, back - strip.ends[0].face_extra_in)
    return start, way


def _strip_marks(
    mold: Mold, strip: Strip, screw_height: float, style: LengthStyle
) -> Iterator[AnyMark]:
    subject = edge_subject(strip.tag)
    start, way = _laid(mold, strip)
    out = scaled(left_of(way), -1.0)
    face = _rectangle(start, way, strip.face_length_in, strip.height_in, strip.tag)
    yield Region("strip", subject, loops=(face,))
    for end, at, sign in (
        (strip.ends[0], start, -1.0),
        (strip.ends[1], along(start, way, strip.face_length_in), 1.0),
    ):
        if end.back_extra_in:
            foot = along(at, way, sign * end.back_extra_in)
            tip = along(foot, out, strip.height_in)
            role = "strip" if end.back_extra_in > 0.0 else "ghost"
            yield Line(role, subject, points=(at, foot, tip), bulges=(0.0, 0.0))
            yield Line(
                role,
                subject,
                points=(tip, along(at, out, strip.height_in)),
                bulges=(0.0,),
            )
    edge_start = along(start, way, strip.ends[0].face_extra_in)
    for screw in strip.screws:
        at = along(along(edge_start, way, screw), out, screw_height)
        yield Spot("screw", subject, kind="dot", at=at, size=0.035)
    center = along(along(start, way, strip.face_length_in / 2.0), out, strip.height_in * 0.62)
    yield Words(
        "seam" if strip.tag.kind is Kind.SEAM else "words",
        subject,
        text=strip_words(strip, style),
        at=center,
        angle_rad=upright_angle(way),
        height=0.15,
        bold=True,
        max_width=strip.face_length_in * 0.97,
    )


def _edge_marks(mold: Mold) -> Iterator[AnyMark]:
    beads = {i: strip.bead for strip in mold.strips for i in strip.edges}
    for i, (edge, tag) in enumerate(zip(mold.frame.edges, mold.frame.tags, strict=True)):
        yield Line(
            "seam" if tag.kind is Kind.SEAM else "bead" if beads[i] else "end",
            edge_subject(tag),
            points=(edge.start, edge.end),
            bulges=(edge.bulge,),
        )


def _tags(mold: Mold) -> Iterator[AnyMark]:
    """Give BACK, FRONT, SEAM and the ends' names just inside their edges, once for each name."""
    names = {
        Kind.BACK: "BACK",
        Kind.FRONT: "FRONT",
        Kind.SEAM: "SEAM",
    }
    for edge, tag in zip(mold.frame.edges, mold.frame.tags, strict=True):
        if exact.length(edge) < 8.0 or tag.kind in (Kind.CORNER, Kind.OPENING):
            continue
        text = names.get(tag.kind, "")
        if tag.kind is Kind.END and isinstance(tag.ref, EdgeRef):
            text = "LEFT END" if tag.ref.side == "start" else "RIGHT END"
        if isinstance(tag.ref, EdgeRef) and tag.ref.side.isdigit():
            text = f"SIDE {tag.ref.side}"
        x, y = exact.direction_at(edge, 0.5)
        at = along(exact.point_at(edge, 0.5), (-y, x), 1.6)
        yield Words(
            "seam" if tag.kind is Kind.SEAM else "title",
            edge_subject(tag),
            text=text,
            at=at,
            angle_rad=upright_angle((x, y)),
            height=0.14,
            bold=True,
            max_width=exact.length(edge) * 0.4,
        )


def _knockout_marks(mold: Mold, style: LengthStyle) -> Iterator[AnyMark]:
    for knockout in mold.knockouts:
        subject = Subject("opening", knockout.opening)
        yield Region("foam", subject, loops=(knockout.outline,))
        for edge, tag in zip(knockout.outline.edges, knockout.outline.tags, strict=True):
            if tag.kind is Kind.OPENING:
                yield Line("bead", subject, points=(edge.start, edge.end), bulges=(edge.bulge,))
        x0, y0, x1, y1 = bounding_box(knockout.outline)
        if x1 - x0 < 6.0:
            continue
        center = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
        lines = [
            (
                f"{knockout.name}: foam, {written(knockout.thickness_in, style)} thick",
                True,
            ),
            (
                knockout.hold_down.split(":")[0] + f": floats with {knockout.uplift_lb:.0f} lb",
                False,
            ),
        ]
        if knockout.fit:
            lines.append((knockout.fit, False))
        step = min((y1 - y0) / (len(lines) + 1.0), 3.2)
        for k, (text, bold) in enumerate(lines):
            yield Words(
                "warning" if k == 2 else "words",
                subject,
                text=text,
                at=(center[0], center[1] + step * ((len(lines) - 1) / 2.0 - k)),
                height=0.15,
                bold=bold,
                max_width=(x1 - x0) * 0.94,
            )


def _dimensions(mold: Mold, style: LengthStyle) -> Iterator[AnyMark]:
    """Give the lengths of the base's edges, inside it, and the diagonals that prove it."""
    for a, b, length in mold.diagonals:
        yield Line("ghost", None, points=(a, b), bulges=(0.0,))
        yield Words(
            "quiet",
            None,
            text=written(length, style),
            at=along(
                middle(a, b),
                scaled((b[0] - a[0], b[1] - a[1]), 0.3 / length),
                length * 0.2,
            ),
            angle_rad=upright_angle((b[0] - a[0], b[1] - a[1])),
            height=0.11,
        )
    for edge, tag in zip(mold.frame.edges, mold.frame.tags, strict=True):
        if exact.is_line(edge) and exact.length(edge) > 4.0:
            yield Dimension(
                "dimension",
                edge_subject(tag),
                a=edge.start,
                b=edge.end,
                offset=0.34,
                text=written(exact.length(edge), style),
                priority=2,
            )


@lru_cache(maxsize=256)
def mold_sheet(mold: Mold, screw_height: float, weight: str, style: LengthStyle) -> Sheet:
    """Return the opened mold; screw_height is from a strip's screw edge to its screws."""
    marks: list[AnyMark] = [
        Region("board", Subject("piece", mold.piece), loops=(mold.base,)),
        *_edge_marks(mold),
    ]
    for strip in mold.strips:
        marks.extend(_strip_marks(mold, strip, screw_height, style))
    marks.extend(_dimensions(mold, style))
    marks.extend(_knockout_marks(mold, style))
    marks.extend(_tags(mold))
    regions = [mark.loops[0] for mark in marks if isinstance(mark, Region)]
    return Sheet(f"Mold {mold.piece}", tuple(marks), grown(box_of(regions), 1.0))


def opened_mold(job: Job, piece: str) -> Sheet:
    """Return the opened mold of one piece of a job.

    Raises:
        KeyError: there is no such piece.
    """
    choices = job.molds
    outside = choices.construction == "sides-outside-base"
    height = choices.base_thickness / 2.0 if outside else 0.0
    found = plan.piece(job, piece)
    return mold_sheet(plan.mold(job, piece), height, f"{found.weight_lb:.0f}", length_style(job))
