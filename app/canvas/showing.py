"""What of a drawing is shown on the screen at a scale, element by element.

At rest all elements are laid out together, so that their words and dimensions keep clear of each
other. While something is being dragged only the elements that changed are laid out, each on its
own; the others stay as they are.
"""

from collections.abc import Sequence

from msgspec.structs import replace

from export.laying_out import Limits, laid_out, traced
from export.marks import AnyMark, Sheet, Words
from export.typeface import text_width

SMALLEST_IN = 0.085
"""Words that would have to be smaller than this to fit are left out."""

Shown = tuple[str, tuple[AnyMark, ...]]
"""The marks of one element from back to front, under a key that tells it from the others."""

EVERYWHERE: Limits = (-1e5, -1e5, 1e5, 1e5)


class Showing:
    """The marks last shown of each element, and what they were made of."""

    def __init__(self) -> None:
        self._made: dict[str, tuple[tuple[AnyMark, ...], tuple[AnyMark, ...]]] = {}
        self._scale = 0.0

    def settled(
        self, groups: Sequence[Shown], scale: float, limits: Limits = EVERYWHERE
    ) -> tuple[Shown, ...]:
        """Return all elements laid out together; one that looks as before is the same tuple.

        limits are the part of the model that words may take.
        """
        keys = [key for key, marks in groups for _ in marks]
        marks = tuple(mark for _, marks in groups for mark in marks)
        parts: dict[str, list[AnyMark]] = {key: [] for key, _ in groups}
        for place, mark in traced(_sheet(marks), scale, limits):
            parts[keys[place]].append(mark)
        return self._kept(groups, scale, {k: _fitting(v, scale) for k, v in parts.items()})

    def in_passing(
        self, groups: Sequence[Shown], scale: float, limits: Limits = EVERYWHERE
    ) -> tuple[Shown, ...]:
        """Return the elements that changed laid out on their own, the others as they are."""
        if scale != self._scale:
            return self.settled(groups, scale, limits)
        parts: dict[str, tuple[AnyMark, ...]] = {}
        for key, marks in groups:
            before = self._made.get(key)
            if before is None or before[0] is not marks:
                parts[key] = _fitting(laid_out(_sheet(marks), scale, limits), scale)
        return self._kept(groups, scale, parts)

    def _kept(
        self, groups: Sequence[Shown], scale: float, parts: dict[str, tuple[AnyMark, ...]]
    ) -> tuple[Shown, ...]:
        """Return the elements, those without new parts as they were."""
        before, self._made, self._scale = self._made, {}, scale
        for key, marks in groups:
            made, known = parts.get(key), before.get(key)
            if made is None:
                self._made[key] = before[key]
            elif known is not None and known[1] == made:
                self._made[key] = (marks, known[1])
            else:
                self._made[key] = (marks, made)
        return tuple((key, self._made[key][1]) for key, _ in groups)


def _sheet(marks: tuple[AnyMark, ...]) -> Sheet:
    return Sheet("screen", marks, (0.0, 0.0, 0.0, 0.0))


def _fitting(marks: Sequence[AnyMark], scale: float) -> tuple[AnyMark, ...]:
    """Return the marks with words that fit their room; those that cannot are left out."""
    kept: list[AnyMark] = []
    for mark in marks:
        if not isinstance(mark, Words) or mark.max_width is None or mark.height_model:
            kept.append(mark)
            continue
        width, room = text_width(mark.text, mark.height, bold=mark.bold), mark.max_width * scale
        if width <= room:
            kept.append(mark)
        elif mark.height * room / width >= SMALLEST_IN:
            kept.append(replace(mark, height=mark.height * room / width))
    return tuple(kept)
