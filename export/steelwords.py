"""Mesh and bars in words, for the pages of a mold and for the screen."""

from itertools import groupby

from geometry.lengths import LengthStyle, Unit, written
from shop.measures import KG_PER_LB
from shop.reinforcement import Bar, Steel


def light_words(pounds: float, unit: Unit) -> str:
    """Return the weight of steel to a tenth, as it is bought: 6.5 lb or 2.9 kg."""
    return f"{pounds * KG_PER_LB:.1f} kg" if unit == "mm" else f"{pounds:.1f} lb"


def lengths_words(lengths: tuple[float, ...], style: LengthStyle) -> str:
    """Return what a bar is cut as: one length, or several alike."""
    each = written(lengths[0], style)
    return each if len(lengths) == 1 else f"{len(lengths)} of {each} with laps"


def height_words(steel: Steel, style: LengthStyle) -> str:
    """Return how high mesh and bars lie above the base; nothing for a mold without."""
    said = []
    if steel.panels:
        said.append(f"mesh {written(steel.mesh_height_in, style)}")
    if steel.bars:
        said.append(_bars_up(steel.bars, style))
    text = " and ".join(said)
    return f"Above the face to the underside: {text}." if text else ""


def _bars_up(bars: tuple[Bar, ...], style: LengthStyle) -> str:
    """Return the heights of bars, lowest first, those at the same height together."""
    ranked = sorted(bars, key=lambda bar: bar.height_in)
    said = []
    for height, same in groupby(ranked, key=lambda bar: written(bar.height_in, style)):
        numbers = [bar.name.removeprefix("bar ") for bar in same]
        many = "bars" if len(numbers) > 1 else "bar"
        said.append(f"{many} {', '.join(numbers)} {height}")
    return "; ".join(said)
