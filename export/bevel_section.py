"""The section through a mitred edge in its mold: base, sidewall, bevel strip, concrete."""

from collections.abc import Iterator

from export.marks import AnyMark, Region, Role
from export.paragraphs import line_of
from geometry.lengths import LengthStyle, written
from geometry.mitres import MITRE_DEG
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline
from geometry.points import Point
from shop.strips import Strip

SECTION_HIGH_IN = 1.25
"""How high it is on paper, with the room above it."""

SLAB_IN = 0.6
BOARD_IN = 0.16
ALONG_IN = 2.0
"""On paper: how thick the slab is drawn, how thick boards are, and how much of the slab is seen."""

WORDS_IN = 0.115


def bevel_section(strip: Strip, left: float, top: float, style: LengthStyle) -> Iterator[AnyMark]:
    """Yield the section of a sidewall with a bevel strip, its left end and its top on paper."""
    bevel = strip.bevel
    if bevel is None:
        return
    west, face = left + BOARD_IN + 0.1, top - 0.2 - SLAB_IN
    under, tip, east = face + SLAB_IN, west + SLAB_IN, west + ALONG_IN
    yield _filled(
        "strip",
        (west - BOARD_IN, face - BOARD_IN),
        (west, face - BOARD_IN),
        (west, under),
        (west - BOARD_IN, under),
    )
    yield _filled(
        "board", (west, face - BOARD_IN), (east, face - BOARD_IN), (east, face), (west, face)
    )
    yield _filled("slab", (west, face), (east, face), (east, under), (tip, under))
    yield _filled("strip", (west, face), (tip, under), (west, under))
    leg = written(bevel.leg_in, style)
    room = ALONG_IN - SLAB_IN - 0.1
    yield line_of("concrete", tip + 0.1, face + SLAB_IN / 2.0, WORDS_IN, room=room)
    said = (
        f"Section at {strip.name}, face down. Against the sidewall stands {bevel.name},",
        f"{leg} high and {leg} wide, sharp edge down: {MITRE_DEG:g}\u00b0 all along.",
        f"The long point is the face, on the base; the short point, {leg} back, is the underside.",
    )
    for row, text in enumerate(said):
        yield line_of(text, east + 0.25, under - 0.1 - row * 0.19, WORDS_IN)


def _filled(role: Role, *corners: Point) -> Region:
    tag = Tag(Kind.END, EdgeRef("bevel1", "cut"))
    return Region(role, loops=(Outline(corners, (0.0,) * len(corners), (tag,) * len(corners)),))
