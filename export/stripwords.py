"""How a sidewall is described: its lengths, its two ends, its bead."""

from geometry.lengths import LengthStyle, written

from shop.strips import Strip, StripEnd


def end_words(end: StripEnd) -> str:
    """Return how one end is cut; a bevel says which face keeps the long point."""
    if end.cut in ("square", "past"):
        return "square" if end.cut == "square" else "square, runs past"
    side = "back" if end.bevel_deg > 0.0 else "face"
    if end.cut == "covered":
        if abs(end.bevel_deg) < 0.05:
            return "square, covered"
        return f"cut {abs(end.bevel_deg):.1f}\u00b0, covered, long point on the {side}"
    return f"bevel {abs(end.bevel_deg):.1f}\u00b0, long point on the {side}"


def _short(end: StripEnd) -> str:
    if end.cut == "past":
        return "runs past"
    if end.cut == "square" or abs(end.bevel_deg) < 0.05:
        return "square"
    return f"bevel {abs(end.bevel_deg):.1f}\u00b0"


def strip_words(strip: Strip, style: LengthStyle) -> str:
    """Return a strip's label: its name, its edge, its length and its ends, left end first.

    Left and right are as the strip lies inside face up, screw edge toward the base, seen from
    the base.
    """
    length = written(strip.face_length_in, style)
    right, left = (_short(end) for end in strip.ends)
    ends = f"{left} both ends" if left == right else f"{left} left, {right} right"
    if ends == "square both ends":
        ends = "square ends"
    if ends.startswith("runs past both"):
        ends = "runs past both ends"
    bent = ", bent" if strip.arc_radius is not None else ""
    return f"{strip.name} {strip.edge_name}: {length}{bent}, {ends}"
