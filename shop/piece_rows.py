"""The naming rows of a job when tops and seams come and go."""

from functools import lru_cache
from itertools import count
from typing import Literal, cast

from msgspec.structs import replace

from geometry.naming import Id
from geometry.piece_names import Row, rows_with_seam, rows_without_seam
from geometry.splitting import Face, named
from shop import plan
from shop.job import Job, PieceName, SeamSide
from shop.lettering import letter_at
from shop.references import top_ids


def with_names(before: Job, after: Job) -> Job:
    """Return a job after an edit with its naming rows brought up to date.

    Every piece keeps its name as long as it is one; a new one takes the first free letter, and
    every face of every top has a row.
    """
    if _is_complete(before, after):
        return after
    rows: dict[Id, tuple[Row, ...]] = {top: plan.rows_of(before, top) for top in top_ids(before)}
    own: dict[Id, tuple[Row, ...]] = {}
    for top in top_ids(after):
        if top in rows:
            own[top] = _kept(before, after, top, rows)
    for top in top_ids(after):
        if top not in rows:
            own[top] = _handed_down(before, after, top, own)
    used = {name for top_rows in own.values() for name, _ in top_rows} | _of_slabs(after)
    letters = (letter for letter in map(letter_at, count()) if letter not in used)
    for top in top_ids(after):
        faces = plan.faces_of(after, top)
        bare = [f for f, name in zip(faces, named(faces, own[top]), strict=True) if name is None]
        if not own[top] and not bare:
            own[top] = ((next(letters), {}),)
        own[top] += tuple((next(letters), dict(face.sides)) for face in bare)
    new = tuple(_written(top, row) for top in top_ids(after) for row in own[top])
    return after if new == after.piece_names else replace(after, piece_names=new)


def _is_complete(before: Job, after: Job) -> bool:
    """Tell at little cost whether the rows can stay: the same tops and seams, nothing unnamed."""
    tops = top_ids(after)
    if top_ids(before) != tops or _cuts(before) != _cuts(after):
        return False
    rows: dict[Id, list[PieceName]] = {top: [] for top in tops}
    for row in after.piece_names:
        rows[row.top].append(row)
    faces = dict(plan.shapes(after).faces)
    return all(own and _all_named(faces.get(top, ()), tuple(own)) for top, own in rows.items())


def _cuts(job: Job) -> list[tuple[Id, Id]]:
    return [(seam.id, seam.top) for seam in job.seams]


@lru_cache(maxsize=1024)
def _all_named(faces: tuple[Face, ...], rows: tuple[PieceName, ...]) -> bool:
    plain = [(row.name, {side.seam: side.side for side in row.sides}) for row in rows]
    return None not in named(faces, plain)


def _of_slabs(job: Job) -> set[str]:
    """Return the letters that frozen slabs have, which no new piece gets."""
    return {slab.piece for slab in job.slabs}


def _seams_of(job: Job, top: Id) -> list[Id]:
    return [seam.id for seam in job.seams if seam.top == top]


def _kept(before: Job, after: Job, top: Id, rows: dict[Id, tuple[Row, ...]]) -> tuple[Row, ...]:
    """Return the rows of a top that was there before."""
    old, new = _seams_of(before, top), _seams_of(after, top)
    if old == new:
        return plan.rows_of(after, top)
    own = rows[top]
    faces = plan.faces_of(after, top)
    for seam in old:
        if seam not in new:
            own = rows_without_seam(own, faces, seam) if faces else _without(own, seam)
    added = next((seam for seam in new if seam not in old), None)
    if added is not None and plan.faces_of(before, top):
        others = {name for other, named_so in rows.items() if other != top for name, _ in named_so}
        others |= _of_slabs(after)
        letters = (letter for letter in map(letter_at, count()) if letter not in others)
        own = rows_with_seam(own, plan.faces_of(before, top), faces, added, letters)
    return own


def _without(rows: tuple[Row, ...], seam: Id) -> tuple[Row, ...]:
    """Return rows that forget a seam, of a top that cannot be made at the moment."""
    return tuple(
        (name, {s: side for s, side in sides.items() if s != seam}) for name, sides in rows
    )


def _handed_down(
    before: Job, after: Job, top: Id, own: dict[Id, tuple[Row, ...]]
) -> tuple[Row, ...]:
    """Return the rows of a new top: of one parted from another, those that the other one left."""
    legs = {leg.id for run in after.runs if run.id == top for leg in run.legs}
    parent = next((r.id for r in before.runs if legs & {leg.id for leg in r.legs}), None)
    if parent is None:
        return ()
    used = {name for rows in own.values() for name, _ in rows}
    seams = _seams_of(after, top)
    left = tuple(
        (name, {seam: side for seam, side in sides.items() if seam in seams})
        for name, sides in plan.rows_of(before, parent)
        if name not in used
    )
    faces = plan.faces_of(after, top)
    found = named(faces, left)
    return tuple(row for row in left if row[0] in found or not faces)


def _written(top: Id, row: Row) -> PieceName:
    name, sides = row
    return PieceName(
        name,
        top,
        tuple(
            SeamSide(seam, cast(Literal["left", "right"], side))
            for seam, side in sorted(sides.items())
        ),
    )
