"""What is read on the site, between points known by their index.

A point may be a corner or a mark that is only tied to corners. Values are inches, angles radians.
"""

from collections.abc import Sequence
from math import isfinite, sqrt
from typing import NamedTuple, TypeAlias


class Distance(NamedTuple):
    """The distance of points a and b, in inches."""

    a: int
    b: int
    value: float
    sd: float


class Angle(NamedTuple):
    """The angle at a point, swept counter-clockwise from a to b, 0 to 2 pi."""

    at: int
    a: int
    b: int
    value_rad: float
    sd_rad: float


class Across(NamedTuple):
    """A three-sides check: marks so far from a point toward a and b, and the tape across them.

    Each of the three tapes has the deviation sd.
    """

    at: int
    a: int
    b: int
    along_a: float
    along_b: float
    value: float
    sd: float


class Offset(NamedTuple):
    """How far a point lies from the line a to b, in inches.

    Positive to the left of the way from a to b.
    """

    point: int
    a: int
    b: int
    value: float
    sd: float


class Along(NamedTuple):
    """How far from a, on the way toward b, the foot of a point lies, in inches.

    Negative behind a.
    """

    point: int
    a: int
    b: int
    value: float
    sd: float


Observation: TypeAlias = Distance | Angle | Across | Offset | Along


class RoomError(Exception):
    """Readings that cannot be used; says why, and names the observations by index."""

    def __init__(self, text: str, observations: tuple[int, ...] = ()) -> None:
        super().__init__(text)
        self.observations = observations


def across_deviation(a: float, b: float, c: float, sd: float) -> float:
    """Return how far the side across an angle may be off what the angle makes it.

    a and b are the sides along the walls, c is the side across; all three are taped with the
    deviation sd. By the law of cosines c changes with a by the cosine of the angle between them.
    """
    by_a = (a * a + c * c - b * b) / (2.0 * a * c)
    by_b = (b * b + c * c - a * a) / (2.0 * b * c)
    return sd * sqrt(1.0 + by_a * by_a + by_b * by_b)


def deviation(observation: Observation) -> float:
    """Return the standard deviation that an observation is weighed by, in its unit.

    That of a three-sides check is the deviation of all its three tapes together.
    """
    if isinstance(observation, Angle):
        return observation.sd_rad
    if isinstance(observation, Across):
        _, _, _, along_a, along_b, value, sd = observation
        return across_deviation(along_a, along_b, value, sd)
    return observation.sd


def check_observations(observations: Sequence[Observation]) -> None:
    """See that every observation can be used by itself.

    Raises:
        RoomError: a number cannot be used; it names the observation.
    """
    for i, o in enumerate(observations):
        if not all(map(isfinite, o)):
            raise RoomError("A reading is not a number.", (i,))
        sd = o.sd_rad if isinstance(o, Angle) else o.sd
        if sd <= 0.0:
            raise RoomError("The deviation of a reading is not more than 0.", (i,))
        if isinstance(o, Distance) and o.value <= 0.0:
            raise RoomError("A taped length is not more than 0: tape it again.", (i,))
        if isinstance(o, Across) and not (
            abs(o.along_a - o.along_b) < o.value < o.along_a + o.along_b
        ):
            raise RoomError("A three-sides check is no triangle: tape its three sides again.", (i,))
