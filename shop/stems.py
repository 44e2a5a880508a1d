"""Stems shorter than the slab is thick: what is to be known of them.

Common practice, no source; inches.
"""

from collections.abc import Iterator, Sequence

from geometry.edges import center
from geometry.outline import Outline, nearest
from geometry.points import mirrored_point
from geometry.tolerances import SAME_POINT_IN
from shop.knockouts import Knockout
from shop.moldwords import MoldWords, Notice

LEAST_LEFT_IN = 0.75
"""Less concrete than this over a counterbore cracks easily."""

CLEAR_IN = 0.5
"""A counterbore stays so far from edges and other openings."""


def stem_notices(outline: Outline, fill: Sequence[Knockout], words: MoldWords) -> Iterator[Notice]:
    """Yield what is to be known of stems shorter than the slab is thick, face-down outline given.

    That is the counterbore they need, and where it has no room.
    """
    for knockout in fill:
        block = knockout.counterbore
        if block is None:
            continue
        tag, at = knockout.outline.tags[0], mirrored_point(center(knockout.outline.edges[0]))
        yield Notice(
            "short-stem",
            f"The {knockout.name} clamps {words.length(block.left_in)} at most, and the slab is"
            f" {words.length(knockout.thickness_in)}: its mold gets a round block"
            f" {words.length(block.diameter_in)} across, {words.length(block.depth_in)} thick, on"
            " top of the pipe, for a counterbore from below. Measure the stem that you have.",
            tag,
            at,
        )
        others = [other.outline for other in fill if other is not knockout]
        middle = center(knockout.outline.edges[0])
        away = min(nearest(other, middle)[1].distance for other in (outline, *others))
        room = max(away - block.diameter_in / 2.0, 0.0)
        if room < CLEAR_IN - SAME_POINT_IN or block.left_in < LEAST_LEFT_IN - SAME_POINT_IN:
            yield Notice(
                "counterbore-thin",
                f"The counterbore of the {knockout.name} leaves"
                f" {words.length(block.left_in)} of concrete above it and"
                f" {words.length(room)} beside it; common practice is"
                f" {words.length(LEAST_LEFT_IN)} and {words.length(CLEAR_IN)}. Take a longer"
                " stem, a thinner slab, or move the hole.",
                tag,
                at,
            )
