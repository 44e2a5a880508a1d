"""What to tick before a mold is poured: every edge, diagonal and height with the number to tape."""

from collections.abc import Iterator
from typing import NamedTuple

from geometry.edges import point_at
from geometry.lengths import LengthStyle, written
from geometry.naming import Kind
from geometry.points import distance, middle
from shop.finishes import finish_notes
from shop.inset_words import making_words
from shop.insets import insets_of
from shop.job import Job
from shop.knockouts import Knockout
from shop.measures import weight_words
from shop.mold_choices import slab_thickness
from shop.mold_corners import lettered_diagonals, straight_sides, strip_places
from shop.molds import Mold
from shop.reinforcement import Steel, reinforcement
from shop.strips import Strip
from shop.words import length_style, listed

ARCS = "Straight across, beside arcs"
"""What is taped from corner to corner where an arc comes between."""


class Tick(NamedTuple):
    """Something to look at before pouring: what it belongs to, what it is, what the tape says."""

    about: str
    what: str
    value: str = ""


def mold_ticks(job: Job, mold: Mold) -> tuple[Tick, ...]:
    """Return what to tick before a mold is poured, in the order of the work."""
    style = length_style(job)
    return (
        *_shape(mold, style),
        *_sides(mold, slab_thickness(job, mold.piece), style),
        *_beads(mold, style),
        *_finishes(mold),
        *_foam(mold, style),
        *_set_in(job, mold),
        *_steel(reinforcement(job, mold.piece), style),
        *_last(mold),
    )


def _shape(mold: Mold, style: LengthStyle) -> Iterator[Tick]:
    for strip in mold.strips:
        left, right = strip_places(mold, strip)
        where = left if left == right else f"{left} to {right}"
        name = f"{strip.name} {strip.edge_name.partition(',')[0]}, {where}"
        if strip.arc_radius is not None:
            name += f", radius {written(abs(strip.arc_radius), style)}"
        yield Tick("Edges of the base", name, written(strip.edge_length_in, style))
    for strip in mold.strips:
        if strip.arc_radius is not None and not strip.turned_insert:
            yield from _bow(mold, strip, style)
    for side in straight_sides(mold):
        yield Tick(ARCS, side.words, written(side.length, style))
    for diagonal in lettered_diagonals(mold):
        yield Tick("Diagonals", diagonal.words, written(diagonal.length, style))


def _bow(mold: Mold, strip: Strip, style: LengthStyle) -> Iterator[Tick]:
    """Yield what a bent edge is drawn by: straight across between its ends, and how far it bows."""
    first, last = mold.frame.edges[strip.edges[0]], mold.frame.edges[strip.edges[-1]]
    across = distance(first.start, last.end)
    yield Tick(ARCS, f"{strip.name}, end to end", written(across, style))
    if len(strip.edges) == 1:
        rise = distance(point_at(first, 0.5), middle(first.start, first.end))
        yield Tick(ARCS, f"{strip.name} bows at its middle by", written(rise, style))


def _sides(mold: Mold, thickness: float, style: LengthStyle) -> Iterator[Tick]:
    yield Tick("Sidewalls", "above the base, all round", written(thickness, style))
    yield Tick("Sidewalls", "screws, all in", str(mold.screw_count))
    for strip in mold.strips:
        if strip.blocks:
            yield Tick("Sidewalls", f"{strip.name}: backing blocks", str(len(strip.blocks)))
    for strip in mold.strips:
        if strip.bevel is not None:
            what = f"{strip.bevel.name}, sharp edge down"
            yield Tick("Sidewalls", what, written(strip.bevel.long_in, style))
    for strip in mold.strips:
        if strip.tag.kind is Kind.SEAM:
            what = f"{strip.name} {strip.edge_name}: try a square; no bead, sealed from outside"
            yield Tick("Seam side", what)


def _beads(mold: Mold, style: LengthStyle) -> Iterator[Tick]:
    by_radius: dict[str, list[str]] = {}
    for strip in mold.strips:
        if strip.bead_radius_in is not None:
            size = written(strip.bead_radius_in, style)
            by_radius.setdefault(size, []).append(strip.name)
    for size, names in by_radius.items():
        yield Tick("Silicone bead", f"along {listed(names)}: radius", size)
    if mold.uprights_length_in:
        yield Tick("Silicone bead", "up the corners where both sides have one")
    if mold.knockouts:
        yield Tick("Silicone bead", "around the knockouts")
    if by_radius:
        whole = written(mold.bead_length_in + mold.uprights_length_in, style)
        yield Tick("Silicone bead", "in all", whole)


def _finishes(mold: Mold) -> Iterator[Tick]:
    for note in finish_notes(mold.strips):
        yield Tick("Finish of edges", note)


def own_height(knockout: Knockout) -> float:
    """Return how high a knockout is in inches, without the block of a counterbore on it."""
    if knockout.counterbore is None:
        return knockout.thickness_in
    return knockout.counterbore.left_in


def _foam(mold: Mold, style: LengthStyle) -> Iterator[Tick]:
    for knockout in mold.knockouts:
        about = f"Knockout: {knockout.name}"
        if knockout.setting is not None:
            yield Tick(about, knockout.setting.words)
        yield Tick(about, f"{knockout.made_of} high", written(own_height(knockout), style))
        if knockout.counterbore is not None:
            depth = written(knockout.counterbore.depth_in, style)
            yield Tick(about, "block of the counterbore, on top: high", depth)
        lift = weight_words(knockout.uplift_lb, style.unit)
        yield Tick(about, "held down: floats with", lift)


def _set_in(job: Job, mold: Mold) -> Iterator[Tick]:
    for found in insets_of(job, mold.piece):
        what = f"{found.inset.name}: {making_words(job, found)}"
        yield Tick("Set in, not through", what)


def _steel(steel: Steel, style: LengthStyle) -> Iterator[Tick]:
    about = "Steel, above the face"
    if steel.panels:
        yield Tick(about, "mesh", written(steel.mesh_height_in, style))
    for bar in steel.bars:
        yield Tick(about, f"{bar.name}, {bar.set_by}", written(bar.height_in, style))


def _last(mold: Mold) -> Iterator[Tick]:
    about = "Which way round, and the base"
    yield Tick(about, mold.handedness)
    yield Tick(about, "base level and flat, held up all over, joints tight, wiped clean")
