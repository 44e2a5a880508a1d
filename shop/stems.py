"""Stems shorter than the slab is thick: what is to be known of them.

Common practice, no source; inches.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from geometry.edges import center
from geometry.outline import Outline, nearest
from geometry.points import mirrored_point
from geometry.tolerances import SAME_POINT_IN
from shop.counterbores import Counterbore
from shop.knockouts import Knockout
from shop.moldwords import MoldWords, Notice
from shop.words import listed

LEAST_LEFT_IN = 0.75
"""Less concrete than this over a counterbore cracks easily."""

CLEAR_IN = 0.5
"""A counterbore stays so far from edges and other openings."""


def stem_notices(outline: Outline, fill: Sequence[Knockout], words: MoldWords) -> Iterator[Notice]:
    """Yield what is to be known of stems shorter than the slab is thick, face-down outline given.

    That is the counterbore they need, and where it has no room; what is the same for several holes
    is said of all of them in one sentence, which the notice of each of them has.
    """
    bored = [(knockout, block) for knockout in fill if (block := knockout.counterbore) is not None]
    sizes = {k.opening: _needed(k.thickness_in, block, words) for k, block in bored}
    rooms = {k.opening: _left(outline, fill, k, block, words) for k, block in bored}
    for said, code in ((sizes, "short-stem"), (rooms, "counterbore-thin")):
        for knockout, _ in bored:
            what = said[knockout.opening]
            if what is None:
                continue
            names = [other.name for other, _ in bored if said[other.opening] == what]
            yield Notice(
                code,
                what.text(names),
                knockout.outline.tags[0],
                mirrored_point(center(knockout.outline.edges[0])),
            )


class _Said(NamedTuple):
    """A sentence of one hole, and of several: {} is their names, {count} how many they are."""

    of_one: str
    of_many: str

    def text(self, names: Sequence[str]) -> str:
        """Return the sentence of holes with these names."""
        if len(names) == 1:
            return self.of_one.format(names[0])
        return self.of_many.format(listed(names), count=len(names))


def _needed(thickness: float, block: Counterbore, words: MoldWords) -> _Said:
    """Return what is said of the block that a short stem needs."""
    left, slab = words.length(block.left_in), words.length(thickness)
    size = f"{words.length(block.diameter_in)} across, {words.length(block.depth_in)} thick"
    return _Said(
        f"The {{}} clamps {left} at most, and the slab is {slab}: its mold gets a round block"
        f" {size}, on top of the pipe, for a counterbore from below. Measure the stem that you"
        " have.",
        f"{{count}} holes ({{}}) clamp {left} at most, and the slab is {slab}: the mold gets"
        f" {{count}} round blocks {size}, on top of the pipes, for counterbores from below."
        " Measure the stems that you have.",
    )


def _left(
    outline: Outline, fill: Sequence[Knockout], of: Knockout, block: Counterbore, words: MoldWords
) -> _Said | None:
    """Return what is said of little concrete left above a block and beside it; None of enough."""
    others = [other.outline for other in fill if other is not of]
    middle = center(of.outline.edges[0])
    away = min(nearest(other, middle)[1].distance for other in (outline, *others))
    room = max(away - block.diameter_in / 2.0, 0.0)
    if room >= CLEAR_IN - SAME_POINT_IN and block.left_in >= LEAST_LEFT_IN - SAME_POINT_IN:
        return None
    left = (
        f" {words.length(block.left_in)} of concrete above {{it}} and {words.length(room)} beside"
        f" {{it}}; common practice is {words.length(LEAST_LEFT_IN)} and {words.length(CLEAR_IN)}."
    )
    mend = "a thinner slab, or move the hole"
    return _Said(
        f"The counterbore of the {{}} leaves{left.format(it='it')} Take a longer stem, {mend}.",
        f"{{count}} counterbores ({{}}) each leave{left.format(it='it')} Take longer stems,"
        f" {mend}s.",
    )
