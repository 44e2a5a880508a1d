"""How much room words and tags take on a drawing, and how they are turned."""

from math import atan2, cos, pi, sin

from export.boxes import Box, box_about
from export.marks import Anchor, Spot, Words
from export.typeface import text_width
from geometry.points import Point

TAG_TEXT = 1.3
"""Height of a tag's words for half its own height."""

GAP_IN = 0.04
"""Words keep so much room beside them on paper."""

STANDING_RAD = 0.01
"""Words this close to standing on end are read from the right."""

PADDING = 0.82
"""Words take up this part of their height: no letter fills it."""

HALVES: dict[Anchor, float] = {"left": 0.5, "middle": 0.0, "right": -0.5}
"""How far the middle of words lies from their anchor, for their width."""


def upright_angle(direction: Point) -> float:
    """Return the angle of words along a direction, so that they never stand on their heads."""
    angle = atan2(direction[1], direction[0])
    if angle > pi / 2 + STANDING_RAD:
        return angle - pi
    if angle <= -pi / 2 + STANDING_RAD:
        return angle + pi
    return angle


def words_box(words: Words, scale: float) -> Box:
    """Return the box round a line of words, in model inches."""
    height = words.height if words.height_model else words.height / scale
    width = text_width(words.text, height, bold=words.bold)
    if words.max_width is not None and width > words.max_width:
        height *= words.max_width / width
        width = words.max_width
    gap = GAP_IN / scale
    return set_box(words.at, words.angle_rad, words.anchor, (width, height), gap)


def set_box(at: Point, angle_rad: float, anchor: Anchor, size: Point, gap: float) -> Box:
    """Return the box round words of a width and height that are set at a point, with a gap."""
    width, height = size
    shift = HALVES[anchor] * width
    c, s = cos(angle_rad), sin(angle_rad)
    center = (at[0] + shift * c, at[1] + shift * s)
    return box_about(center, (c, s), (width / 2.0 + gap, height * PADDING / 2.0))


def tag_reach(text: str, size: float) -> float:
    """Return half the width of a tag from its words and half its height, paper inches."""
    return max(size, text_width(text, size * TAG_TEXT, bold=True) / 2.0 + size * 0.55)


def tag_box(spot: Spot, scale: float) -> Box:
    """Return the box round a tag, in model inches."""
    half = (tag_reach(spot.text, spot.size) / scale, spot.size / scale)
    return box_about(spot.at, (1.0, 0.0), half)
