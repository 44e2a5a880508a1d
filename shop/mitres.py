"""Mitred edges of pieces, and the bevel strips that make them in the mold.

A bevel strip lies in the mold against the sidewall of a mitred edge: a triangle as high and as wide
as the slab is thick, its sharp edge down at the base, its right angle up, level with the slab's
underside. Common practice, no source. A slab's weight counts the mitre as a plane, or along an arc
as a cone; beads are not taken off.
"""

from collections.abc import Iterable
from functools import lru_cache
from math import atan, degrees

import msgspec

from geometry.lengths import LengthStyle, written
from geometry.mitres import MITRE_DEG, Bevel, bevels
from geometry.outline import Outline
from shop.finishes import finish_of
from shop.job import EdgeChoice
from shop.weights import CUBIC_INCHES_PER_CUBIC_FOOT

MITRE_WORDS = f"mitred {MITRE_DEG:g}\u00b0"


class BevelEnd(msgspec.Struct, frozen=True, cache_hash=True):
    """An end of a bevel strip: how far from square it is cut, and whether it meets another one.

    shorter_in is how much shorter it is at its tip, along the slab's underside, than at its
    sidewall; negative where it is longer.
    """

    cut_deg: float
    shorter_in: float
    meets_another: bool


class BevelStrip(msgspec.Struct, frozen=True, cache_hash=True):
    """The strip that makes a mitre, by its legs, which are as long as the slab is thick.

    long_in is how long it is along its sidewall, short_in at its tip, along the slab's underside.
    ends are in the order of its sidewall's.
    """

    name: str
    leg_in: float
    slope_in: float
    long_in: float
    short_in: float
    ends: tuple[BevelEnd, BevelEnd]


def mitred_edges(outline: Outline, finishes: Iterable[EdgeChoice]) -> tuple[bool, ...]:
    """Tell which edges of an outline are mitred, in its order."""
    chosen = tuple(finishes)
    return tuple(finish_of(tag, chosen) == "mitred" for tag in outline.tags)


@lru_cache(maxsize=1024)
def bevels_of(
    outline: Outline, finishes: tuple[EdgeChoice, ...], thickness_in: float
) -> tuple[Bevel, ...]:
    """Return the mitred edges of a counter-clockwise outline of a slab, in its order."""
    return bevels(outline, mitred_edges(outline, finishes), thickness_in)


def mitres_chosen(finishes: Iterable[EdgeChoice]) -> tuple[EdgeChoice, ...]:
    """Return those of choices that mitre an edge."""
    return tuple(choice for choice in finishes if choice.finish == "mitred")


def removed_cu_ft(cut: Iterable[Bevel]) -> float:
    """Return the concrete that mitres take off a slab, in cubic feet."""
    return sum(bevel.removed_cu_in for bevel in cut) / CUBIC_INCHES_PER_CUBIC_FOOT


def bevel_strip(
    sidewall: str, frame: Outline, edges: tuple[int, ...], cut: tuple[Bevel, ...]
) -> BevelStrip | None:
    """Return the bevel strip inside a sidewall along edges of a mold's frame; None without one.

    cut are the mitred edges of the frame.
    """
    by_edge = {bevel.edge: bevel for bevel in cut}
    own = [by_edge[edge] for edge in edges if edge in by_edge]
    if not own:
        return None
    count = len(frame.edges)
    beside = ((edges[0] - 1) % count, (edges[-1] + 1) % count)
    shorter = (own[0].ends_in[0], own[-1].ends_in[1])
    leg = own[0].depth_in
    one, other = (
        BevelEnd(degrees(atan(less / leg)), less, neighbor in by_edge)
        for less, neighbor in zip(shorter, beside, strict=True)
    )
    return BevelStrip(
        f"{sidewall} bevel",
        leg,
        own[0].slope_in,
        sum(bevel.long_in for bevel in own),
        sum(bevel.short_in for bevel in own),
        (one, other),
    )


# --- In words ---------------------------------------------------------------------------------


def bevel_end_words(end: BevelEnd, style: LengthStyle) -> str:
    """Return how an end of a bevel strip is cut."""
    less = written(abs(end.shorter_in), style)
    if less == written(0.0, style):
        return "square"
    longer = "shorter" if end.shorter_in > 0.0 else "longer"
    to_next = ", to the next bevel strip" if end.meets_another else ""
    return f"cut {abs(end.cut_deg):.1f}\u00b0{to_next}, tip {less} {longer}"


def ripped_words(strip: BevelStrip, style: LengthStyle) -> str:
    """Return what a bevel strip is ripped to."""
    leg, slope = written(strip.leg_in, style), written(strip.slope_in, style)
    return f"{leg} x {leg}, ripped at {MITRE_DEG:g}\u00b0, slope {slope}"
