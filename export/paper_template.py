"""A paper template drawn back at full size, to lay over the sink maker's own."""

from collections.abc import Sequence

from export.fullsize import Plot
from export.marks import AnyMark, Line, Sheet, Spot, Words
from export.pages import Page
from export.rolls import roll_pages
from export.stamp import Stamp
from export.tiles import tile_pages
from geometry.lengths import LengthStyle, written
from geometry.outline import bounding_box
from geometry.points import Point
from geometry.taped_outlines import Taped
from geometry.templates import sound_template

PAST_IN = 1.0
"""The boards' edges are drawn so far past the outline."""

NAME_IN = 0.35
CROSS_IN = 0.12
LAYING = (
    "Lay it over the paper template, both board edges on the boards. Where they differ, read"
    " again before anything is cut."
)


def template_plot(taped: Taped, points: Sequence[Point], name: str, style: LengthStyle) -> Plot:
    """Return the full-size drawing: the outline, the two boards' edges and the readings.

    Raises:
        GeometryError: the outline crosses itself.
    """
    _, _, right, top = bounding_box(sound_template(taped.edges))
    right, top = right + PAST_IN, top + PAST_IN
    marks: list[AnyMark] = [
        *(Line("front", points=(e.start, e.end), bulges=(e.bulge,)) for e in taped.edges),
        Line("reading", points=((0.0, top), (0.0, 0.0)), bulges=(0.0,)),
        Line("reading", points=((0.0, 0.0), (right, 0.0)), bulges=(0.0,)),
        Words("reading", text="EDGE OF THE FRONT BOARD", at=(right / 2.0, 0.4), height=NAME_IN),
        Words(
            "reading",
            text="EDGE OF THE LEFT BOARD",
            at=(0.4, top / 2.0),
            height=NAME_IN,
            angle_rad=1.5707963267948966,
        ),
        *(Spot("reading", kind="cross", at=point, size=CROSS_IN) for point in points),
    ]
    box = (0.0, 0.0, right, top)
    sentences = (
        f"{name}: as read, from above",
        LAYING,
        within_words(taped, style),
    )
    return Plot("Template", Sheet("Template", tuple(marks), box), sentences)


def within_words(taped: Taped, style: LengthStyle) -> str:
    """Return how near the readings lie to the outline, to 1/64 in."""
    finely = LengthStyle(style.unit, 64)
    within = written(taped.within, finely)
    if within == written(0.0, finely):
        return "All readings lie on the line."
    return f"No reading is further than {within} from the line."


def template_pages(
    plot: Plot, stamp: Stamp, scale: tuple[float, float], *, metric: bool, tiled: bool
) -> tuple[Page, ...]:
    """Return the drawing for a paper roll, or in tiles on Letter and on A4 with a map of them."""
    pages = tile_pages if tiled else roll_pages
    return pages((plot,), stamp, scale, metric=metric)
