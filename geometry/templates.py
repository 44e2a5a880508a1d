"""A sink maker's template: an outline kept exactly as it was drawn, about its anchor."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Annotated, NamedTuple

from msgspec import Meta

from geometry import edges as exact
from geometry.boxes import Box
from geometry.chaining import oriented
from geometry.edges import Edge, reversed_edge
from geometry.naming import EdgeRef, Kind, Name, Signed, Tag, Value
from geometry.offsetting import offset
from geometry.outline import Outline, checked, outline_of
from geometry.points import Point, minus

MOST_EDGES = 500
STEEPEST = 20000.0

_TAG = Tag(Kind.OPENING, EdgeRef("opening1", "cut"))


class TemplateEdge(Value, frozen=True):
    """An edge from x, y to where the next one starts; bulge as in DXF, 0 for a straight one."""

    x: Signed
    y: Signed
    bulge: Annotated[float, Meta(ge=-STEEPEST, le=STEEPEST)] = 0.0


class TemplateShape(Value, frozen=True, tag="template", tag_field="type"):
    """The closed chain of a template's edges about its anchor: x along the front, y to the back.

    file is the name of the drawing that it came from, without its folder.
    """

    edges: Annotated[tuple[TemplateEdge, ...], Meta(min_length=2, max_length=MOST_EDGES)]
    file: Name


class DrilledHole(NamedTuple):
    """A round hole that a template marks beside it: its middle about the anchor, its diameter."""

    middle: Point
    diameter: float


def template_of(loop: Sequence[Edge], anchor: Point, quarters: int, file: str) -> TemplateShape:
    """Return the shape of a closed chain about an anchor, turned left so many quarter turns."""
    edges: list[TemplateEdge] = []
    for edge in loop:
        x, y = minus(edge.start, anchor)
        for _ in range(quarters % 4):
            x, y = -y, x
        edges.append(TemplateEdge(x, y, edge.bulge))
    return TemplateShape(tuple(edges), file)


def template_edges(shape: TemplateShape) -> tuple[Edge, ...]:
    """Return the edges of a shape about its anchor, as they are kept."""
    listed = shape.edges
    return tuple(
        Edge((a.x, a.y), (b.x, b.y), a.bulge)
        for a, b in zip(listed, (*listed[1:], listed[0]), strict=True)
    )


@lru_cache(maxsize=256)
def template_loop(shape: TemplateShape, grown: float) -> tuple[Edge, ...]:
    """Return the clockwise hole of a template about its anchor, grown by a distance.

    Raises:
        GeometryError: the outline crosses itself or an edge has no length (crosses-itself,
            no-length), or it cannot be grown so far (edge-vanishes, edge-flips, crosses-itself).
    """
    outline = sound_template(template_edges(shape))
    if grown:
        outline = offset(outline, grown)
    return tuple(reversed_edge(edge) for edge in reversed(outline.edges))


def sound_template(loop: Sequence[Edge]) -> Outline:
    """Return the counter-clockwise outline of a closed chain that can be cut.

    Raises:
        GeometryError: it crosses or touches itself, or an edge has no length.
    """
    outline = checked(outline_of((edge, _TAG) for edge in loop))
    return outline_of((edge, _TAG) for edge in oriented(outline.edges))


def template_box(shape: TemplateShape) -> Box:
    """Return the least x, least y, greatest x and greatest y of a template about its anchor."""
    boxes = [
        exact.bounds(edge if edge.start != edge.end else edge._replace(bulge=0.0))
        for edge in template_edges(shape)
    ]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )
