"""The sentence on every mold that proves with a tape which way round it lies.

LEFT and RIGHT in capitals are those of a person standing at the mold. Names of edges stay as
installed: the LEFT END of a counter lies on the right in its mold.
"""

from collections.abc import Iterator
from math import cos, radians
from typing import NamedTuple

from geometry.edges import (
    Edge,
    carrier_crossings,
    direction_at,
    fraction_of,
    is_line,
    length,
    point_at,
)
from geometry.naming import Kind
from geometry.outline import Outline, area, centroid
from geometry.points import Point, dot, left_of, minus, plus, scaled
from geometry.tolerances import SAME_POINT_IN
from geometry.turning import standing_edge, to_the_right
from shop.knockouts import Knockout
from shop.moldwords import MoldWords
from shop.settings import Rule, edge_name

LEG_REACH_IN = 1.0
"""A part of a piece that comes further toward the person than this is a leg."""

TELLING_IN = 1.0
"""An opening tells left from right when its distances to both sides differ by more than this."""

BESIDE_DEG = 75.0
"""A side that looks to the left or right within this is beside the person, a slanted seam too."""


class _View(NamedTuple):
    """A mold as seen by the person who stands at one of its edges."""

    frame: Outline
    words: MoldWords
    stand: int
    right: Point

    def sideways(self, edge: Edge) -> float:
        """Return how far a side looks to the right: 1 fully, -1 to the left, 0 to or fro."""
        return -dot(left_of(direction_at(edge, 0.5)), self.right)

    def is_beside(self, edge: Edge) -> bool:
        """Tell whether a side is on the person's left or right."""
        return abs(self.sideways(edge)) >= cos(radians(BESIDE_DEG)) - SAME_POINT_IN

    def place(self, edge: Edge) -> str:
        """Return where a side is, in words."""
        if self.is_beside(edge):
            return f"on your {_side(self.sideways(edge))}"
        outward = scaled(left_of(direction_at(edge, 0.5)), -1.0)
        far = dot(outward, left_of(self.right)) > 0.0
        return "on the far side" if far else "on the side toward you"


def _side(sideways: float) -> str:
    return "RIGHT" if sideways > 0.0 else "LEFT"


def _position(view: _View) -> str:
    tag = view.frame.tags[view.stand]
    place = view.words.phrase(tag)
    if tag.kind is Kind.BACK:
        return f"Facing {place} from across"
    return f"Standing at {place}"


def _leg_reach(view: _View) -> tuple[float, float]:
    """Return how far the piece comes toward the person left and right of the front edge."""
    front = view.frame.edges[view.stand]
    if view.frame.tags[view.stand].kind is not Kind.FRONT:
        return 0.0, 0.0
    reach = [0.0, 0.0]
    for vertex in view.frame.vertices:
        way = minus(vertex, front.start)
        across, toward = dot(way, view.right), -dot(way, left_of(view.right))
        if across <= SAME_POINT_IN:
            reach[0] = max(reach[0], toward)
        elif across >= length(front) - SAME_POINT_IN:
            reach[1] = max(reach[1], toward)
    return reach[0], reach[1]


def _leg_facts(view: _View) -> Iterator[str]:
    on_left, on_right = _leg_reach(view)
    for reach, side in ((on_left, "LEFT"), (on_right, "RIGHT")):
        if reach > LEG_REACH_IN:
            yield f"a leg comes {view.words.length(reach)} toward you on your {side}"


def _seam_facts(view: _View) -> Iterator[str]:
    seams: dict[object, int] = {}
    for i, tag in enumerate(view.frame.tags):
        if tag.kind is Kind.SEAM:
            best = seams.get(tag.ref, i)
            edges = view.frame.edges
            seams[tag.ref] = i if length(edges[i]) > length(edges[best]) else best
    for i in seams.values():
        name = view.words.edge(view.frame.tags[i]) if len(seams) > 1 else "seam"
        yield f"{name} {view.place(view.frame.edges[i])}"


def _end_facts(view: _View) -> Iterator[str]:
    """Yield where one named side lies: an end where there is one."""
    others = [i for i in range(len(view.frame.edges)) if i != view.stand]
    ends = [i for i in others if view.frame.tags[i].kind is Kind.END] or others
    best = max(
        ends,
        key=lambda i: (
            round(abs(view.sideways(view.frame.edges[i])), 3),
            view.words.edge(view.frame.tags[i]) == "left end",
        ),
    )
    tag = view.frame.tags[best]
    name = view.words.edge(tag)
    called = f"{name.upper()} as installed" if tag.kind is Kind.END else name
    yield f"{called} on your {_side(view.sideways(view.frame.edges[best]))}"


def _to_sidewall(view: _View, start: Point, direction: Point) -> float:
    """Return how far a sidewall is from a point inside, straight in a direction."""
    ray = Edge(start, plus(start, direction))
    return min(
        dot(minus(point, start), direction)
        for edge in view.frame.edges
        for point in carrier_crossings(ray, edge)
        if fraction_of(edge, point) is not None and dot(minus(point, start), direction) > 0.0
    )


def _opening_facts(
    view: _View, knockouts: tuple[Knockout, ...], *, with_legs: bool
) -> Iterator[str]:
    """Yield where the largest opening lies that tells left from right.

    It is taped along the edge where one stands, between the sidewalls at both its ends; where that
    cannot be done, straight through the opening's middle and parallel to the edge.
    """
    whole = [k for k in knockouts if not k.partial]
    for knockout in sorted(whole, key=lambda k: area(k.outline)):
        middle = centroid(knockout.outline)
        beside = _along_the_edge(view, middle)
        on_left, on_right = beside or (
            _to_sidewall(view, middle, scaled(view.right, -1.0)),
            _to_sidewall(view, middle, view.right),
        )
        if abs(on_left - on_right) > TELLING_IN:
            near = min(on_left, on_right)
            side = "LEFT" if on_left < on_right else "RIGHT"
            wall = f"sidewall to its {side}" if with_legs else f"{side} sidewall"
            how = "along" if beside else "parallel to"
            # After a name with a number its distance would read as part of that number.
            named = f"{knockout.name}," if knockout.name[-1].isdigit() else knockout.name
            yield (
                f"middle of the {named} {view.words.length(near)} from the {wall},"
                f" {how} {edge_name(view.frame, view.stand, view.words)}"
            )
            return


def _along_the_edge(view: _View, point: Point) -> tuple[float, float] | None:
    """Return how far a point's foot on the edge where one stands is from its left and right end.

    None where the foot is not on the edge, or a sidewall does not stand across both ends.
    """
    rule = Rule(view.frame, view.stand)
    if not (is_line(rule.edge) and rule.holds(point) and all(map(rule.meets_sidewall, (0, 1)))):
        return None
    from_start = rule.reading(point)
    both = (from_start, length(rule.edge) - from_start)
    return both if dot(rule.way, view.right) > 0.0 else both[::-1]


def _length_facts(view: _View) -> Iterator[str]:
    """Yield how the straight sides on the left and right differ."""
    beside = [e for e in view.frame.edges if is_line(e) and view.is_beside(e)]
    on_left = [length(e) for e in beside if view.sideways(e) < 0.0]
    on_right = [length(e) for e in beside if view.sideways(e) > 0.0]
    if on_left and on_right:
        left, right = view.words.length(max(on_left)), view.words.length(max(on_right))
        if left != right:
            yield f"the longest straight side on your LEFT is {left}, on your RIGHT {right}"


def _rounding_facts(view: _View) -> Iterator[str]:
    """Yield on which side the roundings are, when they all are on one."""
    middle = centroid(view.frame)
    sides = {
        _side(dot(minus(point_at(edge, 0.5), middle), view.right))
        for edge in view.frame.edges
        if not is_line(edge)
    }
    if len(sides) == 1:
        yield f"rounding on your {sides.pop()}"


def handedness(frame: Outline, knockouts: tuple[Knockout, ...], words: MoldWords) -> str:
    """Return the sentence that proves which way round a face-down mold lies.

    It is true for a person who stands at the mold's longest front edge and looks across it. It
    names what can be seen or taped there: legs, seams (or an end, as installed), and the middle of
    an opening from the nearer sidewall; without an opening and a leg, how the sides differ.
    """
    stand = standing_edge(frame)
    view = _View(frame, words, stand, to_the_right(frame, stand))
    legs = list(_leg_facts(view))
    openings = list(_opening_facts(view, knockouts, with_legs=bool(legs)))
    facts = [*legs, *(list(_seam_facts(view)) or _end_facts(view)), *openings]
    if not legs and not openings:
        facts += [*_length_facts(view), *_rounding_facts(view)]
    return f"Face down. {_position(view)}: {', '.join(facts)}."
