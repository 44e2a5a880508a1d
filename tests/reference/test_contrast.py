"""Contrast of every color pair the window draws, by the formula of WCAG 2.2.

Relative luminance and contrast ratio: https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio. The
example values are from the same formula worked out by hand and published widely (black on white
21, #767676 on white 4.54, #949494 3.03, red on blue 2.15).
"""

import pytest

from app.look import DARK, LIGHT, ROLE_LOOKS, Palette, color


def luminance(name: str) -> float:
    channels = [int(name[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#FFFFFF", 21.0),
        ("#767676", "#FFFFFF", 4.5422),
        ("#777777", "#FFFFFF", 4.4781),
        ("#949494", "#FFFFFF", 3.0335),
        ("#0000FF", "#FFFFFF", 8.5925),
        ("#FF0000", "#FFFFFF", 3.9985),
        ("#FF0000", "#0000FF", 2.1489),
    ],
)
def test_the_formula_gives_published_ratios(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=5e-5)


TEXT = ["ink", "quiet", "wall", "mold", "seam", "bead", "warning", "good"]
DRAWN_ON = ["paper", "slab", "slab_chosen", "foam", "strip", "base", "warning_fill"]
CHROME = ["board", "header", "card", "field"]


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda p: p.name)
@pytest.mark.parametrize("text", TEXT)
@pytest.mark.parametrize("ground", [*DRAWN_ON, *CHROME])
def test_words_hold_against_everything_they_lie_on(
    palette: Palette, text: str, ground: str
) -> None:
    assert contrast(color(palette, text), color(palette, ground)) >= 4.5


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda p: p.name)
def test_buttons_that_stand_out_can_be_read(palette: Palette) -> None:
    assert contrast(palette.on_strong, palette.strong) >= 4.5


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda p: p.name)
@pytest.mark.parametrize("ground", ["field", "card", "paper", "board"])
def test_borders_of_boxes_can_be_seen(palette: Palette, ground: str) -> None:
    assert contrast(palette.border, color(palette, ground)) >= 3.0


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda p: p.name)
def test_lines_that_matter_can_be_seen_on_paper_and_slab(palette: Palette) -> None:
    for look in ROLE_LOOKS.values():
        if look.stroke is not None:
            for ground in ("paper", "slab"):
                assert contrast(color(palette, look.stroke.color), color(palette, ground)) >= 3.0
