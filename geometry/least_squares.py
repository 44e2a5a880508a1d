"""Linear least squares of observations that weigh differently, and how sure what comes out is.

The design has a row for each observation and a column for each unknown; rows and misfits (observed
minus computed) are divided by the observations' standard deviations. What no observation sees takes
the shortest step.
"""

from typing import NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

from geometry.tolerances import RANK_RATIO

Array: TypeAlias = npt.NDArray[np.float64]


class Cofactors(NamedTuple):
    """What observations say of the unknowns and of each other, before any of them is read.

    redundancy is the diagonal of Q_vv P: the share of each observation that the others check.
    The covariance of the unknowns is root times its transpose. blind has a column for each
    direction that no observation sees, orthonormal.
    """

    rank: int
    redundancy: Array
    root: Array
    blind: Array


def shortest_step(design: Array, misfit: Array) -> tuple[Array, int]:
    """Return the shortest step that fits the weighted misfit best, and the rank of the design."""
    step, _, rank, _ = np.linalg.lstsq(design, misfit, rcond=RANK_RATIO)
    return np.asarray(step, dtype=np.float64), int(rank)


def cofactors(design: Array) -> Cofactors:
    """Return the cofactors of a weighted design, by its singular values."""
    rows, columns = design.shape
    left, sizes, right = np.linalg.svd(design, full_matrices=rows < columns)
    rank = int((sizes > RANK_RATIO * sizes.max(initial=0.0)).sum())
    redundancy = 1.0 - np.square(left[:, :rank]).sum(axis=1)
    return Cofactors(
        rank,
        np.clip(redundancy, 0.0, 1.0),
        right[:rank].T / sizes[:rank],
        right[rank:].T,
    )
