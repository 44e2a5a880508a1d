"""Findings about what stands under islands, and their remedies.

How far a slab may hang over or span, and on what steel, is for a licensed person.
"""

from collections.abc import Iterator
from math import ceil
from typing import Literal

from msgspec.structs import replace

from geometry.counters import BackLine
from geometry.edges import length, point_at
from geometry.frames import along_of, into_room
from geometry.lengths import written
from geometry.naming import Id
from geometry.outline import contains, nearest
from geometry.picking import Subject
from geometry.points import Point, distance, dot, minus
from geometry.seams import Seam, seam_parts
from geometry.snapping import to_step
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.cabinet_lines import Row, cabinet_line, row_facing, row_line, side_within, standing_along
from shop.cabinets import (
    SHORT_OF_EDGE_IN,
    USUAL_WIDTH_IN,
    CabinetPlan,
    along_from,
    cabinet_words,
    cabinets_on,
    depth_of,
)
from shop.far_sides import FREE, STANDS_OUT, STEP_IN, stations
from shop.finding import Finding
from shop.island_overhangs import Bare, Hanging, hanging
from shop.island_rows import under_island
from shop.job import Cabinet, Job, fresh_id
from shop.supports import under
from shop.words import capital, length_style, limit_words, top_words

SPANS = "open-span"
"""The code of the finding about a side with nothing under it between what holds it up."""

BETWEEN: tuple[tuple[Literal["post", "end-panel"], str], ...] = (
    ("post", "post"),
    ("end-panel", "panel"),
)
"""What is set between cabinets to hold a top up, and what it is called there."""

FROM_FACE_IN = 2.0 * SHORT_OF_EDGE_IN
"""A bracket whose face is no farther from a seam's end than this is one beside it."""

FOR_WHOM = "Brackets, steel and how far a slab may span are for a licensed person."


def of_islands(job: Job) -> Iterator[Finding]:
    """Yield what hangs over too far around the cabinets of islands, and what stands out."""
    for found in hanging(job):
        yield _finding(job, found)
    for made in plan.tops(job):
        for cabinet in under_island(job, made.top.id):
            out = [
                (nearest(made.top.outline, corner)[1].distance, corner)
                for corner in cabinet.corners
                if not contains(made.top.outline, corner)
            ]
            by, at = max(out, default=(0.0, cabinet.middle))
            if by > SAME_POINT_IN:
                yield _standing_out(job, cabinet, by, at)


def _finding(job: Job, found: Hanging) -> Finding:
    style, worst = length_style(job), found.worst
    name = f"side {found.ref.side} of {top_words(job, found.island)}"
    size = written(worst.length, style)
    whose = limit_words(job, "span" if worst.between else "cantilever")
    about = (Subject("edge", found.island, found.ref),)
    if worst.over is None:
        title = f"{capital(name)} spans a gap: {size}"
        text = f"Between what holds it up {whose}: plan a post, a panel or brackets. {FOR_WHOM}"
        return Finding(SPANS, False, title, text, about, found.at)
    over = written(worst.over, style)
    text = f"{over} over what stands under it, where {whose}"
    if worst.held_left or worst.held_right:
        lies = "between what holds it up" if worst.between else "beyond what holds it up"
        text = f"It hangs {over} over what stands under it, {size} of it {lies}, where {whose}"
    return Finding(
        FREE,
        False,
        f"{capital(name)} hangs far out",
        f"{text}: plan brackets, legs or a panel below it. {FOR_WHOM}",
        about,
        found.at,
    )


def _standing_out(job: Job, found: CabinetPlan, by: float, at: Point) -> Finding:
    name = cabinet_words(job, found.cabinet.id)
    return Finding(
        STANDS_OUT,
        False,
        f"{capital(name)} stands out",
        f"It reaches {written(by, length_style(job))} further than the top over it: look at its"
        " depth and its place, and at where its row's backs stand.",
        (Subject("cabinet", found.cabinet.id),),
        at,
    )


# --- Remedies ---------------------------------------------------------------------------------


def island_mends(job: Job, finding: Finding) -> Iterator[tuple[str, tuple[edits.Edit, ...]]]:
    """Yield what may make a finding of an island go, in words, with its edits."""
    if finding.code == STANDS_OUT:
        yield from _further_in(job, finding)
        return
    ref = finding.about[0].edge
    found = next(one for one in hanging(job) if one.ref == ref)
    if found.edge.bulge != 0.0:
        return
    if len(found.bare) == 1:
        yield from _stood_under(job, found, found.worst)
    made = _brackets(job, found)
    if made:
        count = sum(isinstance(edit, edits.AddCabinet) for edit in made)
        yield f"Set {'a bracket' if count == 1 else f'{count} brackets'} under it", made


def _brackets(job: Job, found: Hanging) -> tuple[edits.Edit, ...]:
    """Return the edits that set brackets under all that hangs over too far along a side.

    They hang on the backs of the row along it, or on what stands nearer to the side.
    """
    line = row_facing(job, found.island, found.ref.side)
    near = [bare.near for bare in found.bare if bare.near is not None]
    if line is None or len(near) < len(found.bare):
        return ()
    row, within = standing_along(line), side_within(job, line)
    assert within is not None
    before: tuple[edits.Edit, ...] = ()
    reach = within.away if row.side == "front" else within.deep - within.away
    if abs(min(near) - reach) > SAME_POINT_IN:
        line, reach = row_line(found.island, "front", found.ref.side), min(near)
        if cabinets_on(job, line):
            return ()
        row = standing_along(line)
        before = (_backs_at(job, found.island, found.ref.side, reach),)
    along_line = cabinet_line(job, line)
    half, size = USUAL_WIDTH_IN["bracket"] / 2.0, length(found.edge)
    places = [
        along_of(along_line, point_at(found.edge, at / size))
        for bare in found.bare
        for at in stations(bare.left, bare.right, bare.held_left, bare.held_right, job.limits)
    ]
    deep = reach - SHORT_OF_EDGE_IN
    stood = (
        _stood(job, row, "bracket", to_step(at - half, STEP_IN), deep, number)
        for number, at in enumerate(places)
    )
    return (*before, *stood)


def brackets_under_seam(job: Job, seam: Seam) -> tuple[edits.Edit, ...]:
    """Return the edits that set brackets under the ends of a seam that nothing holds up.

    They are as those beside it are; where there are none, none are set.
    """
    found = under(job, seam.id)
    top = next(one.top for one in plan.tops(job) if one.top.id == seam.top)
    path = next(one for one in plan.shapes(job).paths if one.id == seam.id)
    if found is None:
        return ()
    parts = seam_parts(top.outline, path)
    ends = ((parts[0].start, found.back), (parts[-1].end, found.front))
    made: list[edits.Edit] = []
    for point, support in ends:
        beside = [
            one
            for one in under_island(job, seam.top)
            if one.cabinet.use == "bracket"
            and abs(dot(minus(point, one.corners[0]), into_room(one.wall))) <= FROM_FACE_IN
        ]
        if beside and not support.holds:
            like = min(beside, key=lambda one: distance(one.middle, point))
            left = along_of(like.wall, point) - like.cabinet.width / 2.0
            where = along_from(like, to_step(left, STEP_IN))
            new = replace(
                like.cabinet, id=fresh_id(job, "cabinet", len(made)), along=where, note=""
            )
            made.append(edits.AddCabinet(new))
    return tuple(made)


def _stood_under(
    job: Job, found: Hanging, bare: Bare
) -> Iterator[tuple[str, tuple[edits.Edit, ...]]]:
    """Yield posts or panels under a stretch, or a panel at its free end, in line with its row."""
    line = row_facing(job, found.island, found.ref.side)
    depth = None if line is None else depth_of(cabinets_on(job, line))
    if line is None or depth is None or not (bare.held_left or bare.held_right):
        return
    size, row, along_line = length(found.edge), standing_along(line), cabinet_line(job, line)
    low, high = (
        along_of(along_line, point_at(found.edge, at / size)) for at in (bare.left, bare.right)
    )
    if not bare.between:
        width, beyond = (
            USUAL_WIDTH_IN["end-panel"],
            bare.left if bare.held_right else size - bare.right,
        )
        over = max(job.defaults.end_overhang - beyond, 0.0)
        left = low + over if bare.held_right else high - over - width
        made = _stood(job, row, "end-panel", left, depth, 0)
        yield "Set an end panel under its end", (made,)
        return
    for use, word in BETWEEN:
        width, span = USUAL_WIDTH_IN[use], job.limits.span
        count = max(ceil((high - low - span) / (span + width) - SAME_POINT_IN), 1)
        free = (high - low - count * width) / (count + 1)
        words = f"a {word} under its middle" if count == 1 else f"{count} {word}s under it"
        yield (
            f"Set {words}",
            tuple(
                _stood(job, row, use, low + free + i * (free + width), depth, i)
                for i in range(count)
            ),
        )


def _stood(
    job: Job,
    row: Row,
    use: Literal["post", "end-panel", "bracket"],
    left: float,
    depth: float,
    number: int,
) -> edits.AddCabinet:
    """Return the edit that adds one to a row, its left side there."""
    return edits.AddCabinet(
        Cabinet(
            fresh_id(job, "cabinet", number),
            row.wall,
            use,
            left,
            USUAL_WIDTH_IN[use],
            depth,
            side=row.side,
            island_side=row.island_side,
        )
    )


def _further_in(job: Job, finding: Finding) -> Iterator[tuple[str, tuple[edits.Edit, ...]]]:
    """Yield the line of a row further within its side, so that a face is under the top."""
    (found,) = [
        one
        for one in under_island(job, _island_under(job, finding))
        if one.cabinet.id == finding.about[0].id
    ]
    within = side_within(job, found.wall.id)
    assert within is not None
    over = job.defaults.overhang
    away = found.cabinet.depth + over
    if found.cabinet.side == "far":
        away = within.deep - away
    if away <= SAME_POINT_IN:
        return
    moved = _backs_at(job, found.cabinet.wall, within.side, away)
    size = written(away, length_style(job))
    yield f"Set the backs of its row {size} within side {within.side}", (moved,)


def _backs_at(job: Job, island: Id, side: str, away: float) -> edits.SetIsland:
    """Return the edit that puts the line of cabinets' backs along a side so far within it."""
    found = next(one for one in job.islands if one.id == island)
    others = tuple(line for line in found.backs if line.side != side)
    return edits.SetIsland(replace(found, backs=(*others, BackLine(side, away))))


def _island_under(job: Job, finding: Finding) -> Id:
    return next(c.wall for c in job.cabinets if c.id == finding.about[0].id)
