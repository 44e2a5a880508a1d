"""Sides of free shapes, described: length, rise, radius, a corner put into them."""

from math import copysign

from msgspec.structs import replace

from app.asking import Answer, Question
from app.things.boxes import asked_length
from geometry.counters import Island
from geometry.edges import is_line, radius, rise_of_radius
from geometry.points import distance
from shop import edits
from shop.free_shapes import edge_of, side_of, with_corner_in, with_length, with_side

MOST_RISE_IN = 240.0

LEAST_SIDE_IN = 0.25
"""A shorter side is a slip of the keyboard."""


def free_side_questions(island: Island, name: str) -> tuple[Question, ...]:
    """Return the boxes of a side of a free shape."""
    side, edge = side_of(island, name), edge_of(island, name)
    chord = distance(edge.start, edge.end)

    def bowed(rise: float) -> tuple[edits.Edit, ...]:
        return (edits.SetIsland(with_side(island, replace(side, rise=rise))),)

    def of_radius(answer: Answer) -> tuple[edits.Edit, ...]:
        if isinstance(answer, str):
            return bowed(0.0)
        found = rise_of_radius(chord, answer)
        return () if found is None else bowed(copysign(found, side.rise or 1.0))

    def parted(answer: Answer) -> tuple[edits.Edit, ...]:
        if isinstance(answer, str):
            return ()
        return (edits.SetIsland(with_corner_in(island, name, answer)),)

    return (
        asked_length(
            "length",
            "Length, corner to corner",
            chord,
            lambda v: (edits.SetIsland(with_length(island, name, v)),),
            least=LEAST_SIDE_IN,
            first=True,
        ),
        asked_length(
            "rise",
            "Bows out at its middle",
            side.rise,
            bowed,
            least=-MOST_RISE_IN,
            most=MOST_RISE_IN,
            first=True,
        ),
        Question(
            "radius",
            "Radius, if it is an arc",
            "length",
            "" if is_line(edge) else radius(edge),
            of_radius,
            least=chord / 2.0,
            first=True,
            under="A radius reaches from corner to corner from {} on.",
            optional=True,
            ghost="straight",
        ),
        Question(
            "corner",
            "Put a corner in it, at",
            "length",
            "",
            parted,
            least=LEAST_SIDE_IN,
            most=chord - LEAST_SIDE_IN,
            optional=True,
            ghost="none",
        ),
    )
