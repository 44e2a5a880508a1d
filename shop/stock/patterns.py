"""What to cut from one bar so that it is worth the most: a bounded knapsack on whole units."""

from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

Numbers: TypeAlias = NDArray[np.float64]
Pattern: TypeAlias = tuple[int, ...]
"""How many of each size are cut from one bar."""

WORTHLESS = 1e-9
"""Worth this little counts as nothing."""


class _Layer(NamedTuple):
    item: int
    times: int
    size: int
    worth: float


class Knapsack:
    """The best patterns at every capacity up to a greatest one, by one table.

    sizes are whole units above zero, most how many of each there may be at most. Copies of one
    size are taken in bundles of 1, 2, 4 and so on.
    """

    def __init__(
        self, sizes: Sequence[int], worths: Sequence[float], most: Sequence[int], capacity: int
    ) -> None:
        """Fill the table."""
        self._count = len(sizes)
        self._layers: list[_Layer] = []
        for item, (size, worth, count) in enumerate(zip(sizes, worths, most, strict=True)):
            left, bundle = min(count, capacity // size), 1
            while left > 0 and worth > WORTHLESS:
                times = min(bundle, left)
                self._layers.append(_Layer(item, times, times * size, times * worth))
                left, bundle = left - times, 2 * bundle
        self._table: Numbers = np.zeros((len(self._layers) + 1, capacity + 1))
        for i, layer in enumerate(self._layers):
            before, after = self._table[i], self._table[i + 1]
            after[: layer.size] = before[: layer.size]
            np.maximum(
                before[layer.size :],
                before[: capacity + 1 - layer.size] + layer.worth,
                out=after[layer.size :],
            )

    def worth(self, capacity: int) -> float:
        """Return what the best pattern for a capacity is worth."""
        return float(self._table[-1, capacity])

    def pattern(self, capacity: int) -> Pattern:
        """Return the best pattern for a capacity."""
        return self._traced(len(self._layers), capacity, [0] * self._count)

    def patterns(self, capacity: int, above: float, at_most: int) -> list[Pattern]:
        """Return some patterns for a capacity worth more than so much, best first.

        They differ in the last bundle they take.
        """
        last = [
            (self._table[i, capacity - layer.size] + layer.worth, i)
            for i, layer in enumerate(self._layers)
            if layer.size <= capacity
        ]
        found = []
        for worth, i in sorted(last, reverse=True)[:at_most]:
            if worth > above:
                layer, counts = self._layers[i], [0] * self._count
                counts[layer.item] += layer.times
                found.append(self._traced(i, capacity - layer.size, counts))
        return found

    def _traced(self, layers: int, capacity: int, counts: list[int]) -> Pattern:
        for i in range(layers - 1, -1, -1):
            if self._table[i + 1, capacity] != self._table[i, capacity]:
                layer = self._layers[i]
                counts[layer.item] += layer.times
                capacity -= layer.size
        return tuple(counts)
