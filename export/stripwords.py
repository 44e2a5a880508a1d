"""How a sidewall is described: its lengths, its two ends, its bead."""

from geometry.lengths import LengthStyle, written
from shop.finishes import FINISH_WORDS
from shop.job import Finish
from shop.strips import Strip, StripEnd

LEAST_DEG = 0.05
"""A bevel that is written as 0.0 degrees is square."""


def end_words(end: StripEnd) -> str:
    """Return how one end is cut; a bevel says which face keeps the long point."""
    if end.cut in ("square", "past"):
        return "square" if end.cut == "square" else "square, runs past"
    side = "back" if end.bevel_deg > 0.0 else "face"
    if end.cut == "covered":
        if abs(end.bevel_deg) < LEAST_DEG:
            return "square, covered"
        return f"cut {abs(end.bevel_deg):.1f}\u00b0, covered, long point on the {side}"
    return f"bevel {abs(end.bevel_deg):.1f}\u00b0, long point on the {side}"


def short_end(end: StripEnd) -> str:
    """Return how one end is cut, in few words."""
    if end.cut == "past":
        return "runs past"
    if abs(end.bevel_deg) < LEAST_DEG:
        return "square"
    return (
        f"bevel {abs(end.bevel_deg):.1f}\u00b0, {'back' if end.bevel_deg > 0.0 else 'face'} longer"
    )


def length_words(strip: Strip, style: LengthStyle) -> str:
    """Return a strip's name, edge and length along its face, and along its back if that differs."""
    length, back = (written(size, style) for size in (strip.face_length_in, strip.back_length_in))
    if back != length:
        length = f"face {length}, back {back}"
    bent = ""
    if strip.arc_radius is not None:
        bent = ", insert" if strip.turned_insert else ", bent"
    if strip.bevel is not None:
        bent += ", bevel strip"
    return f"{strip.name} {strip.edge_name.partition(',')[0]}: {length}{bent}"


def edge_finish(strip: Strip) -> str:
    """Return how the concrete's edge is made along a strip."""
    if strip.bevel is not None:
        return f"bevel strip, {FINISH_WORDS['mitred']}"
    return made_words(strip.finish, bead=strip.bead)


def made_words(finish: Finish | None, *, bead: bool) -> str:
    """Return how an edge of the concrete is made, with or without a bead, and its finish."""
    made = "bead" if bead else "square, no bead"
    if finish in (None, "bead", "square"):
        return made
    return f"{made}, {FINISH_WORDS[finish]}"


def both_ends(strip: Strip) -> str | None:
    """Return how both ends are cut when they are cut alike."""
    one, other = (short_end(end) for end in strip.ends)
    if one != other:
        return None
    return "square ends" if one == "square" else f"{one}, both ends"
