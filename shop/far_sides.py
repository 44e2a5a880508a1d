"""What hangs over beyond the backs of cabinets: far sides of peninsulas, and ledges.

Cabinets, posts and brackets beyond a peninsula's line hold up its far side, and the ledge along it.
Limits are common practice, no source, editable; brackets and steel are for a licensed person.
"""

from collections.abc import Iterable, Iterator
from math import ceil
from typing import NamedTuple

from msgspec.structs import replace

from geometry.alongside import Ledge
from geometry.counters import Leg
from geometry.frames import LegFrame, WallLine, along_of
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
from geometry.picking import Subject
from geometry.points import Point
from geometry.snapping import to_step
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.cabinet_lines import cabinet_line, row_line
from shop.cabinets import (
    SHORT_OF_EDGE_IN,
    USUAL_WIDTH_IN,
    CabinetPlan,
    cabinet_words,
    cabinets_on,
)
from shop.finding import Finding
from shop.job import Cabinet, Job, Limits, fresh_id
from shop.moldwords import FAR_SIDE
from shop.places import place_of
from shop.references import legs_of
from shop.words import capital, leg_words, length_style, limit_words, top_words

FREE = "free-overhang"
"""The code of the finding about what hangs far out."""

STANDS_OUT = "odd-overhang"
"""The code of the finding about what stands out before its top."""

STEP_IN = 1.0 / 16.0
"""New brackets stand at places of a tape."""

FIRST_IN = 6.0
"""The first new bracket is at least so far from a free end; common practice, no source."""

PONY_WALL = "its pony wall"


class Strip(NamedTuple):
    """Concrete along the far side of a peninsula's line, from left to right as seen facing it.

    It reaches from inner, where it is held, to outer, both measured from the line; past is what
    holds it there, in words.
    """

    leg: Id
    about: Subject
    name: str
    inner: float
    outer: float
    left: float
    right: float
    past: str


class Bare(NamedTuple):
    """A stretch of a strip under which nothing reaches far enough; whether its ends are held."""

    left: float
    right: float
    held_left: bool
    held_right: bool

    @property
    def length(self) -> float:
        """How long it is."""
        return self.right - self.left


def of_far_sides(job: Job) -> Iterator[Finding]:
    """Yield what hangs too far out beyond cabinets and pony walls, and what stands out there."""
    for strip in strips(job):
        yield from _hanging(job, strip)
    for leg in legs_of(job).values():
        if leg.peninsula is not None:
            yield from _standing_out(job, leg, leg.peninsula.overhang)
    for ledge in job.alongside:
        if isinstance(ledge, Ledge) and ledge.edge.side != "far" and plan.faces_of(job, ledge.id):
            over = ledge.width - ledge.wall_thickness
            if over > job.limits.cantilever:
                name = top_words(job, ledge.id)
                yield _finding(job, _outer_side(ledge), name, over, PONY_WALL, None)


def _outer_side(ledge: Ledge) -> Subject:
    return Subject("edge", ledge.id, EdgeRef(ledge.id, "outer"))


def strips(job: Job) -> tuple[Strip, ...]:
    """Return the far sides of peninsulas and the ledges along them, of tops that can be made."""
    return tuple(
        strip
        for made in plan.tops(job)
        for frame in made.top.frames
        if isinstance(frame, LegFrame) and frame.leg in legs_of(job)
        for strip in _beyond(job, frame, legs_of(job)[frame.leg])
    )


def _beyond(job: Job, frame: LegFrame, leg: Leg) -> Iterator[Strip]:
    """Yield the far side of a leg that is a peninsula, and the ledges along it."""
    if leg.peninsula is None:
        return
    far, over = _far(leg), leg.peninsula.overhang
    line = cabinet_line(job, row_line(leg.id, "far"))
    ends = _ends(line, (frame.back.start, frame.back.end))
    name = f"the {FAR_SIDE} of {leg_words(job, leg.id)}"
    about = Subject("edge", leg.id, far)
    yield Strip(leg.id, about, name, 0.0, over, *ends, "the cabinets' backs")
    for ledge in job.alongside:
        if isinstance(ledge, Ledge) and ledge.edge == far:
            points = [p for f in plan.faces_of(job, ledge.id) for p in f.outline.vertices]
            if points:
                begins = over + ledge.away
                yield Strip(
                    leg.id,
                    _outer_side(ledge),
                    top_words(job, ledge.id),
                    begins + ledge.wall_thickness,
                    begins + ledge.width,
                    *_ends(line, points),
                    PONY_WALL,
                )


def _ends(line: WallLine, points: Iterable[Point]) -> tuple[float, float]:
    places = [along_of(line, point) for point in points]
    return min(places), max(places)


def bare_stretches(job: Job, strip: Strip) -> tuple[Bare, ...]:
    """Return the stretches of a strip that hang over too far, from left to right.

    What stands under it holds where the strip reaches no further beyond it than is usual.
    """
    limits = job.limits
    if strip.outer - strip.inner <= limits.cantilever + SAME_POINT_IN:
        return ()
    row = cabinets_on(job, row_line(strip.leg, "far"))
    holds = [p for p in row if p.carries and _reaches(strip, p, limits)]
    holds = [p for p in holds if p.right > strip.left and p.left < strip.right]
    if not holds:
        return (Bare(strip.left, strip.right, held_left=False, held_right=False),)
    found: list[Bare] = []
    at, held = strip.left, False
    for plan_ in holds:
        found.append(Bare(at, plan_.left, held, held_right=True))
        at, held = max(at, plan_.right), True
    found.append(Bare(at, strip.right, held, held_right=False))
    return tuple(bare for bare in found if bare.length > _most(bare, limits) + SAME_POINT_IN)


def _reaches(strip: Strip, found: CabinetPlan, limits: Limits) -> bool:
    return strip.outer - found.cabinet.depth <= limits.cantilever + SAME_POINT_IN


def _most(bare: Bare, limits: Limits) -> float:
    return limits.span if bare.held_left and bare.held_right else limits.cantilever


def _hanging(job: Job, strip: Strip) -> Iterator[Finding]:
    bare = max(bare_stretches(job, strip), key=lambda one: one.length, default=None)
    if bare is not None:
        over = strip.outer - strip.inner
        yield _finding(job, strip.about, strip.name, over, strip.past, bare)


def _finding(
    job: Job, about: Subject, name: str, over: float, past: str, bare: Bare | None
) -> Finding:
    style, limit = length_style(job), "cantilever"
    text = f"{written(over, style)} beyond {past}, where"
    if bare is not None and (bare.held_left or bare.held_right):
        both = bare.held_left and bare.held_right
        limit = "span" if both else limit
        lies = "between what holds it up" if both else "beyond what holds it up"
        text = (
            f"It hangs {written(over, style)} over {past}, {written(bare.length, style)} of it"
            f" {lies}, where"
        )
    return Finding(
        FREE,
        False,
        f"{capital(name)} hangs far out",
        f"{text} {limit_words(job, limit)}: plan brackets, legs or a low wall below it. Brackets"
        " and steel are for a licensed person.",
        (about,),
        place_of(job, about),
    )


def _standing_out(job: Job, leg: Leg, over: float) -> Iterator[Finding]:
    """Yield what stands out before a far side and the ledge along it."""
    reach = max([over, *(strip.outer for strip in strips(job) if strip.leg == leg.id)])
    for found in cabinets_on(job, row_line(leg.id, "far")):
        by = found.cabinet.depth - reach
        if by > SAME_POINT_IN:
            name, style = cabinet_words(job, found.cabinet.id), length_style(job)
            yield Finding(
                STANDS_OUT,
                False,
                f"{capital(name)} stands out",
                f"It reaches {written(by, style)} further than the top over it: look at its depth,"
                " or let the far side hang over more.",
                (Subject("cabinet", found.cabinet.id), Subject("edge", leg.id, _far(leg))),
                found.middle,
            )


def _far(leg: Leg) -> EdgeRef:
    return EdgeRef(leg.id, "far")


# --- Remedies ---------------------------------------------------------------------------------


def brackets_under(job: Job, finding: Finding) -> tuple[str, tuple[edits.Edit, ...]] | None:
    """Return the edits that set brackets under what hangs far out, and what they do in words.

    None where it does not lie along a peninsula, or nothing is to be set.
    """
    strip = next((s for s in strips(job) if s.about in finding.about), None)
    if strip is None:
        return None
    places = [
        at
        for bare in bare_stretches(job, strip)
        for at in stations(bare.left, bare.right, bare.held_left, bare.held_right, job.limits)
    ]
    width = USUAL_WIDTH_IN["bracket"]
    made = tuple(
        edits.AddCabinet(
            Cabinet(
                fresh_id(job, "cabinet", number),
                strip.leg,
                "bracket",
                to_step(at - width / 2.0, STEP_IN),
                width,
                strip.outer - SHORT_OF_EDGE_IN,
                side="far",
            )
        )
        for number, at in enumerate(places)
    )
    words = "a bracket" if len(made) == 1 else f"{len(made)} brackets"
    return (f"Set {words} under it", made) if made else None


def stations(
    left: float, right: float, held_left: bool, held_right: bool, limits: Limits
) -> Iterator[float]:
    """Yield where brackets hold up a bare stretch, evenly and no further apart than is usual."""
    ends, size = (not held_left) + (not held_right), right - left
    free, span = min(limits.cantilever, size / 2.0), max(limits.span, FIRST_IN)
    parts = max(ceil((size - ends * free) / span - SAME_POINT_IN), 1)
    inset = min(max((size - parts * span) / max(ends, 1), FIRST_IN), free)
    low = left + (0.0 if held_left else inset)
    high = right - (0.0 if held_right else inset)
    for i in range(int(held_left), parts + (0 if held_right else 1)):
        yield low + (high - low) * i / parts


def room_for(job: Job, finding: Finding) -> tuple[str, tuple[edits.Edit, ...]] | None:
    """Return the edit that lets a far side hang over what stands out before it, with words."""
    leg = legs_of(job).get(finding.about[-1].id)
    deep = (c.depth for c in job.cabinets if c.id == finding.about[0].id)
    depth = next(deep, None)
    if depth is None or leg is None or leg.peninsula is None:
        return None
    over = depth + max(leg.overhang, 0.0)
    wider = edits.SetLeg(replace(leg, peninsula=replace(leg.peninsula, overhang=over)))
    return f"Let the far side hang over {written(over, length_style(job))}", (wider,)
