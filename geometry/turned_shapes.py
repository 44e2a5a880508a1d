"""Shapes of openings turned by quarters and mirrored, about their own anchors."""

from msgspec.structs import replace

from geometry.openings import RectangleShape, Shape, SlotShape
from geometry.templates import TemplateEdge, TemplateShape, template_edges, template_of


def turned_shape(shape: Shape) -> Shape:
    """Return a shape turned a quarter to the left, as seen from above; some stay as they are.

    A cut that is open to the front stays open there.
    """
    if isinstance(shape, RectangleShape):
        return replace(shape, width=shape.depth, depth=shape.width)
    if isinstance(shape, SlotShape):
        return replace(shape, angle=shape.angle + (90.0 if shape.angle <= 90.0 else -270.0))
    if isinstance(shape, TemplateShape):
        return template_of(template_edges(shape), (0.0, 0.0), 1, shape.file)
    return shape


def mirrored_shape(shape: Shape) -> Shape:
    """Return a shape mirrored left to right; only a slot's or a template's can become another."""
    if isinstance(shape, SlotShape):
        return replace(shape, angle=0.0 - shape.angle)
    if not isinstance(shape, TemplateShape):
        return shape
    # The chain runs the other way round, so that each bulge is on the same side of its way.
    edges = tuple(
        TemplateEdge(-edge.end[0], edge.end[1], edge.bulge)
        for edge in reversed(template_edges(shape))
    )
    return replace(shape, edges=edges)
