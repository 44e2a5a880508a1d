"""The base of a mold: the board under it, as it is cut from sheet stock."""

from geometry.offsetting import offset_each

from geometry.outline import Outline
from shop.job import MoldChoices


def base_of(frame: Outline, choices: MoldChoices) -> Outline:
    """Return the base under a face-down frame.

    With the sides outside the base it is the frame itself; with the sides on the base it reaches
    the sidewall's thickness and the lip further out all round.
    """
    if choices.construction == "sides-outside-base":
        return frame
    return offset_each(frame, choices.sidewall_thickness + choices.lip)
