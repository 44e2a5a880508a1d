"""Letters of pieces: data of the job, written by the edits that make pieces."""

from collections.abc import Iterable
from itertools import count
from string import ascii_uppercase

from shop.job import PieceName


def letter_at(place: int) -> str:
    """Return the letter at a place: A, B, ... Z, AA, AB and so on, from 0."""
    name = ""
    while place >= 0:
        place, digit = divmod(place, 26)
        name = ascii_uppercase[digit] + name
        place -= 1
    return name


def free_letter(rows: Iterable[PieceName], also: Iterable[str] = ()) -> str:
    """Return the first letter that neither a row nor another list uses."""
    used = {row.name for row in rows} | set(also)
    return next(letter for letter in map(letter_at, count()) if letter not in used)
