"""The naming rows of a job when seams come and go."""

from itertools import count
from typing import Literal, cast

from geometry.naming import Id
from geometry.piece_names import Row, rows_with_seam, rows_without_seam
from geometry.splitting import Face
from shop import plan
from shop.job import Job, PieceName, SeamSide
from shop.lettering import letter_at


def named_with_seam(before: Job, after: Job, top: Id, seam: Id) -> tuple[PieceName, ...]:
    """Return the rows of a job once a seam is added to a top."""
    taken = {row.name for row in before.piece_names if row.top != top}
    letters = (letter for letter in map(letter_at, count()) if letter not in taken)
    own = rows_with_seam(
        plan.rows_of(before, top),
        _faces(before, top),
        _faces(after, top),
        seam,
        letters,
    )
    return _joined(before, top, own)


def named_without_seam(before: Job, after: Job, top: Id, seam: Id) -> tuple[PieceName, ...]:
    """Return the rows of a job once a seam is removed from a top."""
    return _joined(
        before,
        top,
        rows_without_seam(plan.rows_of(before, top), _faces(after, top), seam),
    )


def _faces(job: Job, top: Id) -> tuple[Face, ...]:
    return tuple(piece.face for piece in plan.pieces(job) if piece.top == top)


def _joined(job: Job, top: Id, own: tuple[Row, ...]) -> tuple[PieceName, ...]:
    others = (row for row in job.piece_names if row.top != top)
    new = (
        PieceName(
            name,
            top,
            tuple(
                SeamSide(seam, cast(Literal["left", "right"], side))
                for seam, side in sorted(sides.items())
            ),
        )
        for name, sides in own
    )
    return (*others, *new)
