"""The best chain of seams across a top: every piece lies between two of them, or an end.

Places are numbered from left to right: 0 is the top's left end, the last one its right end, and
those between are seams that may be chosen. What a chain costs is known for each two neighbors in
it, so that the best one is found place by place (a shortest path through a row), never by trying
all. Costs are whole numbers.
"""

from collections.abc import Sequence
from math import prod
from typing import Literal, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

Costs: TypeAlias = NDArray[np.int64]
Flags: TypeAlias = NDArray[np.bool_]

NEVER = 1 << 60
"""What cannot be costs so much."""


class Chain(NamedTuple):
    """What the best chain costs, and its places from the left end to the right end."""

    cost: int
    places: tuple[int, ...]


class Reach(NamedTuple):
    """Over how many pieces each place is reached at the least, from the left and the right end."""

    left: Costs
    right: Costs

    @property
    def fewest(self) -> int | None:
        """With how few seams one gets from end to end, None if not at all."""
        return None if self.left[-1] >= NEVER else int(self.left[-1]) - 1


class Other(NamedTuple):
    """A chain that is to be differed from.

    alike tells which place is like its k-th seam, by [place, k]; a chain is like it that is unlike
    it in fewer than unlike seams.
    """

    alike: Flags
    unlike: int


def reach(allowed: Flags) -> Reach:
    """Return how places are reached; allowed[j, i] leads from place i to place j."""
    return Reach(_steps(allowed), _steps(allowed.T[::-1, ::-1])[::-1])


def _steps(allowed: Flags) -> Costs:
    steps = np.full(len(allowed), NEVER, dtype=np.int64)
    steps[0] = 0
    for j in range(1, len(allowed)):
        before = steps[:j][allowed[j, :j]]
        steps[j] = min(NEVER, int(before.min(initial=NEVER)) + 1)
    return steps


def best(
    costs: Costs,
    known: Reach,
    seams: int,
    how: Literal["most", "sum"],
    others: Sequence[Other] = (),
) -> Chain | None:
    """Return the cheapest chain of so many seams that is like none of the others, or None.

    costs[j, i] is the cost of going from place i to place j, at least NEVER where that cannot be;
    known is how places are reached if no more than that cannot be. A chain costs the most or the
    sum of its costs.
    """
    # What ends at a place is told apart by how many seams are still to be unlike each other chain.
    lacking = tuple(other.unlike + 1 for other in others)
    count, kinds = len(costs), prod(lacking)
    layers = seams + 2
    found = np.full((count, layers, kinds), NEVER, dtype=np.int64)
    came = np.zeros((count, layers, kinds, 2), dtype=np.int64)
    found[0, 0, kinds - 1] = 0
    for j in np.flatnonzero(known.left + known.right < layers)[1:]:
        first, last = int(known.left[j]), layers - int(known.right[j])
        open_ones = np.flatnonzero(costs[j, :j] < NEVER)
        if not open_ones.size:
            continue
        low = int(open_ones[0])
        step = costs[j, low:j, None, None]
        before = found[low:j, first - 1 : last - 1]
        whole = np.maximum(before, step) if how == "most" else before + step
        source = whole.argmin(axis=0)
        found[j, first:last] = np.minimum(whole.min(axis=0), NEVER)
        came[j, first:last, :, 0] = source + low
        came[j, first:last, :, 1] = np.arange(kinds)
        if j < count - 1:
            own = [other.alike[j, first - 1 : last - 1] for other in others]
            _told_apart(found[j, first:last], came[j, first:last], own, lacking)
    cost = int(found[-1, -1, 0])
    return None if cost >= NEVER else Chain(cost, _places(came, layers - 1))


def _told_apart(
    found: Costs, came: Costs, alike: Sequence[Flags], lacking: tuple[int, ...]
) -> None:
    """Let what ends at a place unlike another chain's seam lack one seam less of that chain."""
    step = 1
    for own, size in zip(reversed(alike), reversed(lacking), strict=True):
        for k in np.flatnonzero(~own):
            for kind in range(found.shape[1]):
                if kind // step % size:
                    fewer = kind - step
                    if found[k, kind] < found[k, fewer]:
                        found[k, fewer] = found[k, kind]
                        came[k, fewer] = came[k, kind]
                    found[k, kind] = NEVER
        step *= size


def _places(came: Costs, layer: int) -> tuple[int, ...]:
    """Return the places of the cheapest chain, found back from the right end."""
    place, kind = len(came) - 1, 0
    places = [place]
    while layer > 0:
        place, kind = (int(v) for v in came[place, layer, kind])
        layer -= 1
        places.append(place)
    return tuple(reversed(places))
