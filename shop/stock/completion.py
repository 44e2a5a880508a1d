"""The last bars of a plan, searched through: which sets of lengths fill a few bars well enough.

The longest length left goes on the next bar, with every set beside it that leaves no more than may
be wasted in all (bin completion: Martello and Toth 1990, Korf 2003); the fullest bars come first.
"""

from collections.abc import Iterator, Sequence

from shop.stock.patterns import Pattern


class Completion:
    """A search that takes so many steps at most."""

    def __init__(self, sizes: Sequence[int], capacity: int, steps: int) -> None:
        """Take sizes in units, longest first."""
        self._sizes, self._capacity, self._steps = sizes, capacity, steps
        self._in_vain: set[tuple[int, ...]] = set()

    def bars(self, demands: tuple[int, ...], count: int) -> list[Pattern] | None:
        """Return patterns for so many bars at most that meet the demands; None if not found."""
        total = sum(size * demand for size, demand in zip(self._sizes, demands, strict=True))
        if not total:
            return []
        waste = count * self._capacity - total
        if waste < 0 or demands in self._in_vain:
            return None
        first = next(i for i, demand in enumerate(demands) if demand)
        others = _without(demands, _one(first, len(demands)))
        room = self._capacity - self._sizes[first]
        fills = sorted(self._fills(others, first, room, waste), reverse=True)
        for _, fill in fills:
            bar = tuple(times + (i == first) for i, times in enumerate(fill))
            after = self.bars(_without(demands, bar), count - 1)
            if after is not None:
                return [bar, *after]
        self._in_vain.add(demands)
        return None

    def _fills(
        self, demands: tuple[int, ...], at: int, room: int, waste: int
    ) -> Iterator[tuple[int, Pattern]]:
        """Yield how full and with what a room can be filled, by sizes from one on."""
        reached = self._reached(demands, at, room)
        todo: list[tuple[int, int, Pattern]] = [(at, room, ())]
        while todo and self._steps > 0:
            self._steps -= 1
            i, left, taken = todo.pop()
            if i == len(demands):
                yield room - left, (*(0,) * at, *taken)
                continue
            for times in range(min(demands[i], left // self._sizes[i]) + 1):
                rest = left - times * self._sizes[i]
                low = max(rest - waste, 0)
                if reached[i + 1] >> low & ((1 << (rest - low + 1)) - 1):
                    todo.append((i + 1, rest, (*taken, times)))

    def _reached(self, demands: tuple[int, ...], at: int, room: int) -> list[int]:
        """Return for each size the sums that it and the shorter ones can make, as bits."""
        mask = (1 << (room + 1)) - 1
        reached = [1] * (len(demands) + 1)
        for i in range(len(demands) - 1, at - 1, -1):
            sums = reached[i + 1]
            for _ in range(min(demands[i], room // self._sizes[i])):
                sums |= sums << self._sizes[i] & mask
            reached[i] = sums
        return reached


def _one(i: int, count: int) -> Pattern:
    return tuple(int(j == i) for j in range(count))


def _without(demands: tuple[int, ...], pattern: Pattern) -> tuple[int, ...]:
    return tuple(demand - times for demand, times in zip(demands, pattern, strict=True))
