"""Shapes of openings turned by quarters and mirrored, about their own anchors."""

from msgspec.structs import replace

from geometry.openings import RectangleShape, Shape
from geometry.templates import TemplateEdge, TemplateShape, template_edges, template_of


def turned_shape(shape: Shape) -> Shape:
    """Return a shape turned a quarter to the left, as seen from above; some stay as they are.

    A cut that is open to the front stays open there, and a slot keeps to the front.
    """
    if isinstance(shape, RectangleShape):
        return replace(shape, width=shape.depth, depth=shape.width)
    if isinstance(shape, TemplateShape):
        return template_of(template_edges(shape), (0.0, 0.0), 1, shape.file)
    return shape


def mirrored_shape(shape: Shape) -> Shape:
    """Return a shape mirrored left to right; only a template's outline can become another one."""
    if not isinstance(shape, TemplateShape):
        return shape
    # The chain runs the other way round, so that each bulge is on the same side of its way.
    edges = tuple(
        TemplateEdge(-edge.end[0], edge.end[1], edge.bulge)
        for edge in reversed(template_edges(shape))
    )
    return replace(shape, edges=edges)
