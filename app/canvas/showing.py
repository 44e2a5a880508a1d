"""What of a drawing is shown on the screen at a scale, element by element.

At rest all elements are laid out together, so that their words and dimensions keep clear of each
other. While something is being dragged only the elements that changed are laid out, clear of the
others, which stay as they are.
"""

from collections.abc import Sequence
from typing import TypeAlias

from msgspec.structs import replace

from export.boxes import Limits, Taken
from export.dimension_lines import Choice
from export.laying_out import Arranged, Key, Taking, arranged
from export.marks import AnyMark, Role, Sheet, Words
from export.typeface import text_width
from geometry.picking import Subject

SMALLEST_IN = 0.085
"""Words that would have to be smaller than this to fit are left out."""

Shown = tuple[str, tuple[AnyMark, ...]]
"""The marks of one element from back to front, under a key that tells it from the others."""

_Made: TypeAlias = tuple[tuple[AnyMark, ...], tuple[AnyMark, ...]]
"""The marks of an element, and those that are shown for them."""

EVERYWHERE: Limits = (-1e5, -1e5, 1e5, 1e5)


class Showing:
    """The marks last shown of each element, what they were made of, and where lengths stood."""

    def __init__(self) -> None:
        self._made: dict[str, _Made] = {}
        self._scale = 0.0
        self._choices: dict[Key, Choice | None] = {}
        self._stood: dict[tuple[Subject | None, Role, float], int | None] = {}
        self._at_rest: dict[str, _Made] = {}
        self._takings: dict[str, list[Taking]] = {}
        self._ground: Taken | None = None

    def settled(
        self,
        groups: Sequence[Shown],
        scale: float,
        limits: Limits = EVERYWHERE,
        sight: Limits | None = None,
    ) -> tuple[Shown, ...]:
        """Return all elements laid out together; one that looks as before is the same tuple.

        limits are the part of the model that words may take, sight is what is seen of it.
        """
        self._ground = None
        self._takings = {key: [] for key, _ in groups}
        keys = [key for key, marks in groups for _ in marks]
        made = self._arranged(groups, scale, limits, sight, None, hasty=False)
        for taking in made.taken:
            self._takings[keys[taking[0]]].append(taking)
        self._at_rest = {}
        shown = self._kept(groups, groups, scale, _parts(groups, made, scale))
        self._at_rest = self._made
        return shown

    def in_passing(
        self,
        groups: Sequence[Shown],
        scale: float,
        limits: Limits = EVERYWHERE,
        sight: Limits | None = None,
        *,
        hasty: bool = True,
    ) -> tuple[Shown, ...]:
        """Return the elements that changed laid out clear of the others, which stay as they are.

        In haste words and dimensions stay where they were if they can, and none comes that had no
        room.
        """
        if scale != self._scale:
            return self.settled(groups, scale, limits, sight)
        rest = self._at_rest
        moving = [(k, marks) for k, marks in groups if k not in rest or rest[k][0] is not marks]
        gone = rest.keys() - {key for key, _ in groups}
        self._ground = self._ground or self._taken(scale)
        ground = Taken(scale, self._ground, frozenset({*gone, *(key for key, _ in moving)}))
        made = self._arranged(moving, scale, limits, sight, ground, hasty=hasty)
        return self._kept(groups, moving, scale, _parts(moving, made, scale))

    def _arranged(
        self,
        groups: Sequence[Shown],
        scale: float,
        limits: Limits,
        sight: Limits | None,
        ground: Taken | None,
        *,
        hasty: bool,
    ) -> Arranged:
        marks = tuple(mark for _, marks in groups for mark in marks)
        made = arranged(
            _sheet(marks),
            scale,
            limits,
            sight=sight,
            ground=ground,
            before=self._choices,
            stood=self._stood if hasty else None,
        )
        if ground is None:
            self._choices.clear()
            self._stood.clear()
        self._choices.update(made.choices)
        self._stood.update(made.stood)
        return made

    def _taken(self, scale: float) -> Taken:
        """Return what the elements took at rest."""
        taken = Taken(scale)
        for key, takings in self._takings.items():
            for _, box, what, subject in takings:
                taken.add(box, what, subject, key)
        return taken

    def _kept(
        self,
        groups: Sequence[Shown],
        moving: Sequence[Shown],
        scale: float,
        parts: dict[str, tuple[AnyMark, ...]],
    ) -> tuple[Shown, ...]:
        """Return the elements, of which some move; one that looks as before is the same tuple."""
        before, self._made, self._scale = self._made, dict(self._at_rest), scale
        for key, marks in moving:
            made, known = parts[key], before.get(key)
            if known is not None and known[1] == made:
                made = known[1]
            self._made[key] = (marks, made)
        return tuple([(key, self._made[key][1]) for key, _ in groups])


def _parts(groups: Sequence[Shown], made: Arranged, scale: float) -> dict[str, tuple[AnyMark, ...]]:
    """Return what was laid out, element by element."""
    keys = [key for key, marks in groups for _ in marks]
    parts: dict[str, list[AnyMark]] = {key: [] for key, _ in groups}
    for place, mark in made.drawn:
        parts[keys[place]].append(mark)
    return {key: _fitting(marks, scale) for key, marks in parts.items()}


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
