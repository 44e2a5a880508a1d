"""The opened mold: the base in the middle, its sidewalls laid down round it, inside faces up."""

from collections.abc import Iterator
from functools import lru_cache
from math import pi

from shapely import Point as ShapelyPoint
from shapely import Polygon, get_parts, union_all
from shapely.ops import polylabel

from export.drawings import box_of, edge_subject, edge_words, grown, leads, upright_angle
from export.laid_down import laid_down, polygon
from export.laying_out import tag_reach
from export.marks import AnyMark, Line, Place, Region, Role, Sheet, Spot, Words
from export.strip_marks import strip_label, strip_marks
from geometry import edges as exact
from geometry.edges import Edge
from geometry.lengths import LengthStyle, written
from geometry.naming import Kind
from geometry.outline import Outline, bounding_box
from geometry.picking import Subject
from geometry.points import Point, along, left_of, minus
from shop import plan
from shop.job import Job
from shop.knockouts import Knockout
from shop.measures import weight_words
from shop.molds import Mold
from shop.words import length_style

MARGIN_IN = 0.55
"""Room on paper round the laid-down strips, for words beside them."""

BORDER_IN = 1.0

TAGGED_IN = 8.0
"""Shorter edges of the base have no tag."""

TAG_IN = 0.095
"""Half the height of a tag."""

TAG_CLEAR_IN = 6.0
"""A tag is free when foam is farther from it than this."""

TAG_FRACTIONS = (0.5, 0.3, 0.7, 0.18, 0.82, 0.1, 0.9)

LARGE_IN = 12.0
"""Smaller knockouts are described beside them."""

WIDE_IN = 30.0
"""On narrower knockouts what is written is broken at its colons."""

FOAM_STEP_IN = 0.21
"""From line to line of what is written on a knockout, on paper."""

LETTER_IN = 0.34
LETTER_PLACES = 4
LETTER_CLEAR_IN = 4.0
"""The next place for a piece's letter is so far from the one before."""


def _edge_marks(mold: Mold) -> Iterator[AnyMark]:
    beads = {i: strip.bead for strip in mold.strips for i in strip.edges}
    for i, (edge, tag) in enumerate(zip(mold.frame.edges, mold.frame.tags, strict=True)):
        yield Line(
            "seam" if tag.kind is Kind.SEAM else "bead" if beads[i] else "end",
            edge_subject(tag),
            points=(edge.start, edge.end),
            bulges=(edge.bulge,),
        )


def _tags(mold: Mold, style: LengthStyle) -> Iterator[AnyMark]:
    """Name the sides in boxes inside their edges, and write the length of each edge beside it."""
    foam = [polygon(knockout.outline) for knockout in mold.knockouts]
    names = {i: strip.edge_name for strip in mold.strips for i in strip.edges}
    for i, (edge, tag) in enumerate(zip(mold.frame.edges, mold.frame.tags, strict=True)):
        length = exact.length(edge)
        if length < TAGGED_IN or tag.kind is Kind.CORNER:
            continue
        role: Role = "seam" if tag.kind is Kind.SEAM else "title"
        subject = edge_subject(tag)
        text = names[i].partition(",")[0].upper()
        at, inward = _tag_place(edge, foam)
        reach = tag_reach(text, TAG_IN)
        by = abs(inward[0]) * reach + abs(inward[1]) * TAG_IN + 0.06
        shift = (inward[0] * by, inward[1] * by)
        yield Spot(role, subject, kind="tag", at=at, shift=shift, text=text, size=TAG_IN)
        if exact.is_line(edge):
            yield edge_words(
                edge,
                written(length, style),
                "quiet",
                subject,
                height=0.12,
                bold=True,
                priority=5,
                optional=True,
            )


def _tag_place(edge: Edge, foam: list[Polygon]) -> tuple[Point, Point]:
    """Return where along an edge its tag is freest of foam, and the direction inward."""

    def freedom(fraction: float) -> float:
        x, y = exact.direction_at(edge, fraction)
        inside = ShapelyPoint(along(exact.point_at(edge, fraction), (-y, x), TAG_CLEAR_IN / 2.0))
        return min((min(shape.distance(inside), TAG_CLEAR_IN) for shape in foam), default=0.0)

    best = max(TAG_FRACTIONS, key=freedom)
    return exact.point_at(edge, best), left_of(exact.direction_at(edge, best))


def _knockout_marks(knockout: Knockout, style: LengthStyle) -> Iterator[AnyMark]:
    subject = Subject("opening", knockout.opening)
    yield Region("foam", subject, loops=(knockout.outline,))
    for edge, tag in zip(knockout.outline.edges, knockout.outline.tags, strict=True):
        edge_role: Role = "bead" if tag.kind is Kind.OPENING else "seam"
        yield Line(edge_role, subject, points=(edge.start, edge.end), bulges=(edge.bulge,))
    x0, y0, x1, y1 = bounding_box(knockout.outline)
    wide, high = x1 - x0, y1 - y0
    center = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    name = f"part of the {knockout.name}" if knockout.partial else knockout.name
    if min(wide, high) < LARGE_IN:
        yield Words(
            "words",
            subject,
            text=f"{name}: {_size_words(knockout.outline, style)}, floats with"
            f" {weight_words(knockout.uplift_lb, style.unit)}",
            at=center,
            height=0.12,
            priority=6,
            places=(
                Place(center, wide=wide * 0.94, high=high),
                Place(center, angle_rad=pi / 2.0, wide=high * 0.94, high=wide),
                *leads(center, (wide / 2.0, high / 2.0), (0.12, 0.3, 0.5, 0.75, 1.1)),
            ),
        )
        return
    lines = _foam_lines(knockout, name, wide, style)
    for k, (text, role, bold) in enumerate(lines):
        yield Words(
            role,
            subject,
            text=text,
            at=center,
            shift=(0.0, FOAM_STEP_IN * ((len(lines) - 1) / 2.0 - k)),
            height=0.14,
            bold=bold,
            max_width=wide * 0.94,
        )


def _foam_lines(
    knockout: Knockout, name: str, wide: float, style: LengthStyle
) -> list[tuple[str, Role, bool]]:
    """Return what is written on a large knockout, in shorter lines on a narrow one."""
    lift = weight_words(knockout.uplift_lb, style.unit)
    lines: list[tuple[str, Role, bool]] = [
        (name, "words", True),
        (f"foam, {written(knockout.thickness_in, style)} thick", "words", False),
        (f"hold it down: floats with {lift}", "words", False),
    ]
    if knockout.fit:
        lines.append((knockout.fit.rstrip("."), "warning", True))
    if wide >= WIDE_IN:
        return lines
    return [
        (part.strip(), role, bold)
        for text, role, bold in lines
        for part in text.replace(": ", ":\n").split("\n")
    ]


def _size_words(outline: Outline, style: LengthStyle) -> str:
    x0, y0, x1, y1 = bounding_box(outline)
    wide, high = written(x1 - x0, style), written(y1 - y0, style)
    round_ = not any(exact.is_line(edge) for edge in outline.edges)
    return f"{wide} across" if round_ and wide == high else f"{wide} x {high}"


def _proof(mold: Mold, style: LengthStyle) -> Iterator[AnyMark]:
    """Give the diagonals that prove the base, each with its length where no foam is."""
    foam = [polygon(knockout.outline) for knockout in mold.knockouts]
    for a, b, length in mold.diagonals:
        yield Line("ghost", None, points=(a, b), bulges=(0.0,))
        way = minus(b, a)
        angle = upright_angle(way)
        spots = [
            (a[0] + way[0] * at, a[1] + way[1] * at) for at in (0.22, 0.78, 0.3, 0.7, 0.14, 0.86)
        ]
        clear = [p for p in spots if not any(f.distance(ShapelyPoint(p)) < 3.0 for f in foam)]
        places = tuple(Place(p, "middle", angle, (0.0, 0.085)) for p in clear or spots)
        yield Words(
            "quiet", text=written(length, style), at=a, height=0.11, priority=2, places=places
        )


def _letter(mold: Mold) -> Words:
    """Return the piece's letter, in the widest free place of the base or in the next."""
    free = polygon(mold.frame).difference(
        union_all([polygon(knockout.outline) for knockout in mold.knockouts])
    )
    places: list[Place] = []
    for _ in range(LETTER_PLACES):
        parts = [part for part in get_parts(free) if isinstance(part, Polygon)]
        point = polylabel(max(parts, key=lambda part: part.area), tolerance=0.5)
        places.append(Place((point.x, point.y)))
        free = free.difference(point.buffer(LETTER_CLEAR_IN))
    return Words(
        "title",
        Subject("piece", mold.piece),
        text=mold.piece,
        at=places[0].at,
        height=LETTER_IN,
        bold=True,
        priority=1,
        places=tuple(places),
    )


@lru_cache(maxsize=256)
def mold_sheet(mold: Mold, screw_height: float, style: LengthStyle) -> Sheet:
    """Return the opened mold; screw_height is from a strip's screw edge to its screws."""
    strips = tuple(zip(mold.strips, laid_down(mold), strict=True))
    marks: list[AnyMark] = [
        Region("board", Subject("piece", mold.piece), loops=(mold.base,)),
        *_proof(mold, style),
    ]
    for knockout in mold.knockouts:
        marks.extend(_knockout_marks(knockout, style))
    marks.extend(_edge_marks(mold))
    for strip, laid in strips:
        marks.extend(strip_marks(strip, laid, screw_height))
    for strip, laid in strips:
        marks.extend(strip_label(strip, laid, screw_height, style))
    marks.extend(_tags(mold, style))
    marks.append(_letter(mold))
    regions = [mark.loops[0] for mark in marks if isinstance(mark, Region)]
    return Sheet(f"Mold {mold.piece}", tuple(marks), grown(box_of(regions), BORDER_IN), MARGIN_IN)


def opened_mold(job: Job, piece: str) -> Sheet:
    """Return the opened mold of one piece of a job.

    Raises:
        KeyError: there is no such piece.
    """
    choices = job.molds
    outside = choices.construction == "sides-outside-base"
    height = choices.base_thickness / 2.0 if outside else 0.0
    return mold_sheet(plan.mold(job, piece), height, length_style(job))
