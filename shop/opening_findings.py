"""Findings about openings and inside corners. Limits are common practice, no source, editable."""

from collections.abc import Iterator
from math import degrees, pi

from geometry.edges import direction_at, is_line, point_at, radius
from geometry.frames import LegFrame, along_of, into_room
from geometry.lengths import written
from geometry.naming import CornerRef, EdgeRef, Id, Kind, corner_ref
from geometry.openings import ApronShape, Opening, PlacedOpening, RectangleShape
from geometry.outline import interior_angle_rad
from geometry.picking import Subject
from geometry.points import Point, cross, dot, minus
from geometry.templates import TemplateShape
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.anchors import host_of
from shop.cabinets import CabinetPlan, cabinets_on
from shop.clearances import behind
from shop.finding import Finding
from shop.island_rows import under_island
from shop.job import Job, Limits
from shop.knockouts import reveal_notices
from shop.moldwords import MoldWords
from shop.places import place_of
from shop.words import length_style, limit_words, listed

SHARP_OPENING, SHARP_INSIDE = "sharp-opening", "sharp-inside-corner"
NEAR_BACK, OVER_DISHWASHER = "faucet-near-back", "opening-over-dishwasher"

SLIGHT_DEG = 30.0
"""An inside corner that turns less than this starts no crack; common practice, no source."""


def of_openings(job: Job) -> Iterator[Finding]:
    """Yield what is odd about openings: their corners, their reveals, and what lies near them."""
    words = MoldWords(style=length_style(job))
    holes = {hole.id: hole for found in plan.tops_and_strips(job) for hole in found.openings}
    for opening in job.openings:
        subject = Subject("opening", opening.id)
        notices = list(reveal_notices(opening, words))
        for notice in notices:
            title = f"The {opening.name} has sharp corners"
            at = place_of(job, subject)
            yield Finding(notice.code, notice.blocking, title, notice.text, (subject,), at)
        hole = holes.get(opening.id)
        if hole is not None:
            if not notices:
                yield from _sharp_opening(job, opening, hole)
            yield from _near_back(job, opening, hole)


def of_inside_corners(job: Job) -> Iterator[Finding]:
    """Yield the inside corners of pieces that are still drawn and have no radius, or too little."""
    style, limit = length_style(job), job.limits.inside_radius
    for piece in plan.pieces(job):
        if piece.state != "drawn" or not limit:
            continue
        names = dict(plan.names_of_edges(job, piece.name))
        for ref, at, found in _inside_corners(piece, limit):
            sides = [names.get(side, "edge").partition(",")[0] for side in (ref.a, ref.b)]
            where = f"of {listed(dict.fromkeys(sides))}"
            has = f"has a radius of {written(found, style)}" if found else "is left square"
            yield Finding(
                SHARP_INSIDE,
                False,
                f"Piece {piece.name}: a sharp inside corner",
                f"The inside corner {where} {has}. Cracks start there: {_usual(job)} a radius of"
                f" {written(limit, style)} or more.",
                (Subject("edge", ref.a.owner, ref), Subject("piece", piece.name)),
                at,
            )


def _usual(job: Job) -> str:
    usual = job.limits.inside_radius == Limits().inside_radius
    return "common practice is" if usual else "your limit is"


def _inside_corners(piece: plan.Piece, limit: float) -> Iterator[tuple[CornerRef, Point, float]]:
    """Yield corners that turn into the concrete, where they are, and their radius."""
    outline = piece.face.outline
    for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        before = outline.tags[i - 1]
        sharp = degrees(interior_angle_rad(outline, i) - pi) > SLIGHT_DEG
        own = not {before.kind, tag.kind} & {Kind.SEAM, Kind.OPENING} and before.ref != tag.ref
        if sharp and own and isinstance(before.ref, EdgeRef) and isinstance(tag.ref, EdgeRef):
            yield corner_ref(before.ref, tag.ref), edge.start, 0.0
        tight = edge.bulge < 0.0 and radius(edge) < limit - SAME_POINT_IN
        if tight and isinstance(tag.ref, CornerRef):
            yield tag.ref, point_at(edge, 0.5), radius(edge)


# --- Openings -----------------------------------------------------------------------------------


def smallest_radius(hole: PlacedOpening) -> tuple[float, Point] | None:
    """Return the smallest radius of a hole's corners and where it is, 0 for one without; or None.

    A corner is where the hole, clockwise, turns to the right.
    """
    found: list[tuple[float, Point]] = []
    edges = hole.outline.edges
    for i, edge in enumerate(edges):
        one, other = direction_at(edges[i - 1], 1.0), direction_at(edge, 0.0)
        # The corners of a cut's open side lie past the front, not in the concrete.
        outside = hole.notch and i in (0, len(edges) - 1)
        if cross(one, other) < -_SLIGHT and not outside:
            found.append((0.0, edge.start))
        if not is_line(edge) and edge.bulge < 0.0:
            found.append((radius(edge), point_at(edge, 0.5)))
    return min(found, default=None)


_SLIGHT = 0.5
"""The sine of SLIGHT_DEG."""


def _sharp_opening(job: Job, opening: Opening, hole: PlacedOpening) -> Iterator[Finding]:
    if not isinstance(opening.shape, RectangleShape | ApronShape | TemplateShape):
        return
    limit, style = job.limits.inside_radius, length_style(job)
    found = smallest_radius(hole)
    if found is None or found[0] >= limit - SAME_POINT_IN:
        return
    has = f"have a radius of {written(found[0], style)}" if found[0] else "are left square"
    if isinstance(opening.shape, TemplateShape):
        has = f"have a radius of {written(found[0], style)} or less" if found[0] else "are square"
    yield Finding(
        SHARP_OPENING,
        False,
        f"Sharp corners in the {opening.name}",
        f"Corners of this cut {has}. Cracks start there: {_usual(job)} a radius of"
        f" {written(limit, style)} or more.",
        (Subject("opening", opening.id),),
        found[1],
    )


def _near_back(job: Job, opening: Opening, hole: PlacedOpening) -> Iterator[Finding]:
    """Yield a finding about a faucet with too little room behind it for its handle."""
    found = behind(job, opening.id) if opening.use == "faucet" else None
    limit, style = job.limits.handle_room, length_style(job)
    if found is None or found.clear >= limit - SAME_POINT_IN:
        return
    struck = "it" if found.splash else "the wall, a splash or a sill"
    yield Finding(
        NEAR_BACK,
        False,
        f"Little room behind the {opening.name}",
        f"Its middle is {written(found.clear, style)} from the"
        f" {'backsplash' if found.splash else 'back edge'}, where"
        f" {limit_words(job, 'handle_room')}: its handle may strike {struck}.",
        (Subject("opening", opening.id),),
        hole.center,
    )


def of_dishwashers(job: Job) -> Iterator[Finding]:
    """Yield the openings that lie over a dishwasher or close to its side."""
    names = {opening.id: opening for opening in job.openings}
    limit, style = job.limits.dishwasher_room, length_style(job)
    for top in plan.tops(job):
        frames = {f.leg: f for f in top.top.frames if isinstance(f, LegFrame)}
        for hole in top.openings:
            opening = names[hole.id]
            if plan.is_small(opening):
                continue
            host = host_of(job, opening)
            row = cabinets_on(job, frames[host].wall.id) if host in frames else ()
            for found in row or _below(job, host, hole):
                sides = [along_of(found.wall, point) for point in hole.outline.vertices]
                off = max(found.left - max(sides), min(sides) - found.right)
                if found.cabinet.use != "dishwasher" or off >= limit - SAME_POINT_IN:
                    continue
                how = (
                    f"It reaches {written(-off, style)} over the dishwasher"
                    if off < -SAME_POINT_IN
                    else f"It ends {written(max(off, 0.0), style)} from the dishwasher's side"
                )
                yield Finding(
                    OVER_DISHWASHER,
                    False,
                    f"The {opening.name} and the dishwasher",
                    f"{how}, where nothing holds the top up:"
                    f" {limit_words(job, 'dishwasher_room')} beside it.",
                    (Subject("opening", opening.id), Subject("cabinet", found.cabinet.id)),
                    hole.center,
                )


def _below(job: Job, island: Id, hole: PlacedOpening) -> Iterator[CabinetPlan]:
    """Yield the cabinets under an island that stand as far back as a hole lies."""
    for found in under_island(job, island):
        out = into_room(found.wall)
        away = [dot(minus(point, found.wall.left), out) for point in hole.outline.vertices]
        if min(away) < found.cabinet.depth and max(away) > 0.0:
            yield found
