"""Arcs of a mold: a strip bent along them with blocks behind it, or an insert in its place.

Common practice, no published source.
"""

from collections.abc import Iterator, Sequence
from typing import Literal, TypeAlias

from geometry.backing import backing_blocks
from geometry.edges import Edge, radius
from geometry.fitting import is_flat, overlapping
from geometry.naming import Tag
from geometry.outline import Outline
from geometry.points import Point
from geometry.tolerances import SAME_POINT_IN
from shop.job import MoldChoices
from shop.moldwords import MoldWords, Notice

Way: TypeAlias = Literal["straight", "bent", "insert"]


def way_of(edge: Edge, choices: MoldChoices) -> Way:
    """Return how an edge is walled: by a straight strip, a bent one, or by an insert."""
    if is_flat(edge):
        return "straight"
    limit = choices.insert_radius
    if limit is None:
        tight = radius(edge) < choices.bend_radius - SAME_POINT_IN
    else:
        tight = radius(edge) <= limit + SAME_POINT_IN
    return "insert" if tight else "bent"


def strip_thickness(edge: Edge, choices: MoldChoices) -> float:
    """Return how thick the strip along an edge is; a bent one may be of thinner stock."""
    if choices.bend_thickness is not None and way_of(edge, choices) == "bent":
        return choices.bend_thickness
    return choices.sidewall_thickness


def outline_of_plan(plan: Sequence[Edge], tag: Tag) -> Outline:
    """Return what a strip covers, seen from above, counter-clockwise.

    A plan runs along the face first, counter-clockwise round the piece, so clockwise round itself.
    """
    back = [(edge.end, -edge.bulge) for edge in reversed(plan)]
    return Outline(
        tuple(point for point, _ in back), tuple(bulge for _, bulge in back), (tag,) * len(back)
    )


def blocks_of(edge: Edge, choices: MoldChoices, tag: Tag) -> tuple[Outline, ...]:
    """Return the backing blocks behind a bent strip, none behind another."""
    if way_of(edge, choices) != "bent":
        return ()
    return backing_blocks(edge, strip_thickness(edge, choices), choices.block_spacing, tag)


def bend_notices(
    name: str, edge: Edge, choices: MoldChoices, words: MoldWords, tag: Tag, at: Point
) -> Iterator[Notice]:
    """Yield what is to be said of a sidewall along an arc: an insert, or what nothing can make.

    name is the sidewall's with its edge in words, at its place face up.
    """
    way, bend = way_of(edge, choices), choices.bend_radius
    if way == "straight":
        return
    said = f"Sidewall {name}: a radius of {words.length(radius(edge))}"
    if way == "insert":
        limit = choices.insert_radius
        why = (
            f"is tighter than a strip bends ({words.length(bend)})"
            if limit is None
            else f"takes an insert (up to {words.length(limit)})"
        )
        yield Notice("turned-insert", f"{said} {why}. Turn or cast an insert for it.", tag, at)
    elif radius(edge) < bend - SAME_POINT_IN:
        limit_words = words.length(choices.insert_radius or 0.0)
        yield Notice(
            "radius-too-tight",
            f"{said} is tighter than a strip bends ({words.length(bend)}) and larger than corner"
            f" inserts are made ({limit_words}). Round it by more or by less, take a strip that"
            " bends further, or make larger inserts.",
            tag,
            at,
            blocking=True,
        )


def crowded(
    blocks: Sequence[Sequence[Outline]], plans: Sequence[Sequence[Edge]]
) -> tuple[tuple[int, int], ...]:
    """Return the pairs of a strip whose blocks have no room and the strip that stands there."""
    return tuple(
        (i, j)
        for i, own in enumerate(blocks)
        for j, plan in enumerate(plans)
        if i != j and any(overlapping(block.edges, plan) for block in own)
    )
