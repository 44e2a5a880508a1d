"""Inks: how each role is drawn on paper, free of any toolkit. Widths are inches on paper."""

from typing import NamedTuple

from export.marks import Role

GRAPHITE = "#22282B"
QUIET = "#565247"
WALL = "#46657A"
MOLD = "#83551A"
SEAM = "#6E3562"
BEAD = "#2C6A70"
BRICK = "#9C3818"
SLAB = "#D3D5D0"
FOAM = "#E8D3A8"
BOARD = "#F5F0E1"
STRIP = "#E9D8B4"
WHITE = "#FFFFFF"


class Ink(NamedTuple):
    """A line's color, width and dashes (inches on and off), and a fill color or none."""

    line: str
    width: float
    dashes: tuple[float, ...] = ()
    fill: str | None = None


INKS: dict[Role, Ink] = {
    "paper": Ink(GRAPHITE, 0.0, fill=WHITE),
    "wall": Ink(WALL, 0.05),
    "ghost": Ink(QUIET, 0.008, (0.06, 0.05)),
    "cabinet": Ink(QUIET, 0.01),
    "baseline": Ink(WALL, 0.012, (0.16, 0.05, 0.02, 0.05)),
    "ellipse": Ink(BEAD, 0.012),
    "slab": Ink(GRAPHITE, 0.014, fill=SLAB),
    "back": Ink(GRAPHITE, 0.014),
    "front": Ink(GRAPHITE, 0.028),
    "end": Ink(GRAPHITE, 0.02),
    "corner": Ink(GRAPHITE, 0.02),
    "seam": Ink(SEAM, 0.022, (0.14, 0.07)),
    "bead": Ink(BEAD, 0.03),
    "square": Ink(GRAPHITE, 0.022, (0.03, 0.04)),
    "appliance": Ink(WALL, 0.026, (0.09, 0.05)),
    "polished": Ink(BEAD, 0.036, (0.2, 0.05)),
    "mitred": Ink(MOLD, 0.03, (0.16, 0.05, 0.03, 0.05, 0.03, 0.05)),
    "opening": Ink(GRAPHITE, 0.014, fill=WHITE),
    "foam": Ink(MOLD, 0.014, fill=FOAM),
    "board": Ink(MOLD, 0.014, fill=BOARD),
    "strip": Ink(MOLD, 0.014, fill=STRIP),
    "screw": Ink(GRAPHITE, 0.01, fill=GRAPHITE),
    "mesh": Ink(WALL, 0.008, (0.1, 0.04)),
    "bar": Ink(WALL, 0.03, (0.2, 0.06, 0.05, 0.06)),
    "inset": Ink(MOLD, 0.014, (0.05, 0.03)),
    "cut": Ink(BEAD, 0.016, (0.1, 0.05)),
    "bridge": Ink(BRICK, 0.014, fill="#F3BCA8"),
    "dimension": Ink(GRAPHITE, 0.008),
    "reading": Ink(WALL, 0.01, (0.1, 0.06)),
    "words": Ink(GRAPHITE, 0.01),
    "quiet": Ink(QUIET, 0.008),
    "title": Ink(GRAPHITE, 0.01),
    "warning": Ink(BRICK, 0.014),
    "frame": Ink(QUIET, 0.006),
    "check": Ink(GRAPHITE, 0.012),
    "sample": Ink("#E6E3DA", 0.01),
}
