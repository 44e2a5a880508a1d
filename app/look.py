"""Colors by role, light and dark, and how every kind of mark looks on the screen.

Plain numbers, no toolkit: app/style.py makes fonts and style sheets of them, app/canvas the pens.
"""

from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

if TYPE_CHECKING:
    from export.marks import Role

Color: TypeAlias = str
"""A color as #RRGGBB."""


class Palette(NamedTuple):
    """The colors of one appearance: grounds and fills to lie on, accents for text and lines."""

    name: Literal["light", "dark"]
    board: Color
    header: Color
    card: Color
    paper: Color
    field: Color
    hairline: Color
    border: Color
    ink: Color
    quiet: Color
    strong: Color
    on_strong: Color
    wall: Color
    mold: Color
    seam: Color
    bead: Color
    warning: Color
    good: Color
    slab: Color
    slab_chosen: Color
    foam: Color
    strip: Color
    base: Color
    warning_fill: Color


LIGHT = Palette(
    name="light",
    board="#F5F2EA",
    header="#EBE6DA",
    card="#EBE6DA",
    paper="#FDFCF8",
    field="#FFFFFF",
    hairline="#D6CFBF",
    border="#857E6D",
    ink="#22282B",
    quiet="#565247",
    strong="#22282B",
    on_strong="#FDFCF8",
    wall="#46657A",
    mold="#83551A",
    seam="#6E3562",
    bead="#2C6A70",
    warning="#9C3818",
    good="#2B6138",
    slab="#DDDFD9",
    slab_chosen="#E6E1EC",
    foam="#F0E0BE",
    strip="#F1E3C6",
    base="#F7F3E6",
    warning_fill="#FBE3DA",
)

DARK = Palette(
    name="dark",
    board="#1B1E1F",
    header="#25292B",
    card="#272B2D",
    paper="#131617",
    field="#191C1D",
    hairline="#3B4143",
    border="#858B8B",
    ink="#EFEBE1",
    quiet="#BAB5A8",
    strong="#EFEBE1",
    on_strong="#1B1E1F",
    wall="#9CC3DC",
    mold="#E3BB7B",
    seam="#E0AAD4",
    bead="#86CDD3",
    warning="#F4A68F",
    good="#9AD3A6",
    slab="#353B3B",
    slab_chosen="#443A47",
    foam="#443821",
    strip="#3C3322",
    base="#23241F",
    warning_fill="#4A261B",
)


class Stroke(NamedTuple):
    """A line as drawn on the screen: color role, width in pixels and pattern."""

    color: str
    width_px: float
    pattern: Literal["solid", "dashed", "dotted", "fold", "long", "twice"] = "solid"


class RoleLook(NamedTuple):
    """How marks of a role look: line, fill (a palette name or none) and color of words."""

    stroke: Stroke | None
    fill: str | None = None
    words: str = "ink"


ROLE_LOOKS: "dict[Role, RoleLook]" = {
    "paper": RoleLook(None, "paper"),
    "wall": RoleLook(Stroke("wall", 5.0), None, "wall"),
    "ghost": RoleLook(Stroke("quiet", 1.0, "dotted"), None, "quiet"),
    "cabinet": RoleLook(Stroke("quiet", 1.2), None, "quiet"),
    "baseline": RoleLook(Stroke("wall", 1.4, "fold"), None, "wall"),
    "ellipse": RoleLook(Stroke("bead", 1.4), None, "bead"),
    "slab": RoleLook(Stroke("ink", 1.4), "slab"),
    "back": RoleLook(Stroke("ink", 1.4)),
    "front": RoleLook(Stroke("ink", 2.4)),
    "end": RoleLook(Stroke("ink", 1.8)),
    "corner": RoleLook(Stroke("ink", 1.4), None, "wall"),
    "seam": RoleLook(Stroke("seam", 2.0, "dashed"), None, "seam"),
    "bead": RoleLook(Stroke("bead", 3.0), None, "bead"),
    "square": RoleLook(Stroke("ink", 2.2, "dotted")),
    "appliance": RoleLook(Stroke("wall", 2.4, "dashed"), None, "wall"),
    "polished": RoleLook(Stroke("bead", 3.2, "long"), None, "bead"),
    "mitred": RoleLook(Stroke("mold", 2.6, "twice"), None, "mold"),
    "opening": RoleLook(Stroke("ink", 1.4), "paper"),
    "foam": RoleLook(Stroke("mold", 1.6), "foam", "mold"),
    "board": RoleLook(Stroke("mold", 3.0), "base", "mold"),
    "strip": RoleLook(Stroke("mold", 1.2), "strip"),
    "screw": RoleLook(Stroke("ink", 1.0), "ink"),
    "mesh": RoleLook(Stroke("wall", 1.0, "dashed"), None, "wall"),
    "bar": RoleLook(Stroke("wall", 3.0, "fold"), None, "wall"),
    "inset": RoleLook(Stroke("mold", 1.4, "dashed"), None, "mold"),
    "cut": RoleLook(Stroke("bead", 1.6, "dashed"), None, "bead"),
    "bridge": RoleLook(Stroke("warning", 1.2), "warning_fill", "warning"),
    "dimension": RoleLook(Stroke("ink", 1.0)),
    "reading": RoleLook(Stroke("wall", 1.2, "dotted"), None, "wall"),
    "words": RoleLook(Stroke("ink", 1.0)),
    "quiet": RoleLook(Stroke("quiet", 1.0), None, "quiet"),
    "title": RoleLook(Stroke("ink", 1.0)),
    "warning": RoleLook(Stroke("warning", 2.0), "warning_fill", "warning"),
    "frame": RoleLook(Stroke("quiet", 1.0)),
    "check": RoleLook(Stroke("good", 1.2), None, "good"),
    "sample": RoleLook(None, None, "hairline"),
}


class Scale(NamedTuple):
    """Sizes of controls and words in pixels, for the desk and for the shop."""

    text: int
    small: int
    heading: int
    number: int
    target: int
    gap: int
    column: int


DESK = Scale(text=15, small=13, heading=17, number=17, target=32, gap=10, column=286)
SHOP = Scale(text=19, small=17, heading=22, number=24, target=46, gap=12, column=340)
"""Shop view: every length at least 24 px, every target at least 44 px."""


def color(palette: Palette, role: str) -> Color:
    """Return a color of the palette by its name.

    Raises:
        AttributeError: the palette has no such color.
    """
    return str(getattr(palette, role))
