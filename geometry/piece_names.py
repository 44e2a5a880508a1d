"""Names of pieces as rows, which survive that seams come and go.

A row is a name and the sides of seams on which its face lies. The rows of a top are written when
a seam is added or removed; geometry.splitting.named gives the faces their names from them.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

from geometry.crossing import inner_point
from geometry.naming import Id
from geometry.outline import contains
from geometry.splitting import Face, named

Row: TypeAlias = tuple[str, Mapping[Id, str]]


def rows_with_seam(
    rows: Sequence[Row],
    faces_before: Sequence[Face],
    faces_after: Sequence[Face],
    seam: Id,
    letters: Iterable[str],
) -> tuple[Row, ...]:
    """Return the rows of a top once a seam is added.

    Each piece keeps its name; of one that is cut, the side nearer the top's start (the seam's
    left) keeps it. New pieces take the first of the letters that no row uses, and come last. Rows
    that name no face stay if they wait for a seam that is not placed.
    """
    placed = {s for face in faces_before for s, _ in face.sides}
    waiting = {name for name, sides in rows if not sides.keys() <= placed}
    names = named(faces_before, rows)
    used = waiting.union(name for name in names if name)
    free = (letter for letter in letters if letter not in used)
    points = [(inner_point(face.outline), face) for face in faces_after]
    sides_of: dict[str, dict[Id, str]] = {}
    new: list[Row] = []
    for name, before in zip(names, faces_before, strict=True):
        own = [face for point, face in points if contains(before.raw, point)]
        own.sort(key=lambda face: (seam, "right") in face.sides)
        for face in own:
            if name is None or name in sides_of:
                new.append((next(free), dict(face.sides)))
            else:
                sides_of[name] = dict(face.sides)
    kept: list[Row] = []
    for name, sides in rows:
        if name in sides_of:
            unplaced = {s: side for s, side in sides.items() if s not in placed}
            kept.append((name, unplaced | sides_of[name]))
        elif name in waiting:
            kept.append((name, sides))
    return (*kept, *new)


def rows_without_seam(
    rows: Sequence[Row], faces_after: Sequence[Face], seam: Id
) -> tuple[Row, ...]:
    """Return the rows of a top once a seam is removed: those still in use, without it."""
    used = set(named(faces_after, rows))
    return tuple(
        (name, {s: side for s, side in sides.items() if s != seam})
        for name, sides in rows
        if name in used
    )
