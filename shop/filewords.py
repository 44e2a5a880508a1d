"""What is wrong in a job file, and where, in words."""

import re
from typing import Any, TypeAlias

Way: TypeAlias = tuple[str | int, ...]
"""Keys and numbers of list items, from the job down."""

LONGEST_NAME = 40


def place_in_words(way: Way, raw: Any) -> str:
    """Return where something is in a decoded job, such as: opening 'sink', shape, width."""
    words: list[str] = []
    here = raw
    for step in way:
        if isinstance(step, str):
            here = here.get(step) if isinstance(here, dict) else None
            words.append(step.replace("_", " "))
        else:
            here = here[step] if isinstance(here, list) and step < len(here) else None
            word = words.pop().removesuffix("s") if words else "item"
            words.append(f"{word} {_name_of(here, step)}")
    return ", ".join(words) or "the job"


def _name_of(item: Any, number: int) -> str:
    """Return the name of a list's item, or else its id or its number from 1."""
    if isinstance(item, dict):
        for key in ("name", "id"):
            name = item.get(key)
            if isinstance(name, str) and name.isprintable() and 0 < len(name) <= LONGEST_NAME:
                return f"'{name}'"
    return str(number + 1)


_KINDS = {
    "float": "a number",
    "int": "a whole number",
    "str": "text",
    "array": "a list",
    "object": "a group in braces",
    "bool": "true or false",
    "null": "nothing",
    "NoneType": "nothing",
}

_SAID: tuple[tuple[str, str], ...] = (
    (r"Object missing required field `(\w+)`", "'{0}' is missing"),
    (r"Object contains unknown field `(.*)`", "'{0}' does not belong there"),
    (r"Invalid (?:enum )?value (.*)", "{0} is none of the choices"),
    (r"Expected `(?:float|int)` >= (\S+)", "the number must be {0} or more"),
    (r"Expected `(?:float|int)` <= (\S+)", "the number must be {0} or less"),
    (r"Expected `(?:float|int)` > (\S+)", "the number must be more than {0}"),
    (r"Expected `(?:float|int)` < (\S+)", "the number must be less than {0}"),
    (r"Expected `array` of length <= (\d+)", "the list may not be longer than {0}"),
    (r"Expected `array` of length >= (\d+)", "the list must have {0} or more"),
    (r"Expected `str` of length <= (\d+)", "the text may not be longer than {0} characters"),
    (r"Expected `str` of length >= (\d+)", "the text may not be empty"),
    (r"Expected `str` matching regex .*", "the text has a form that is not allowed there"),
)


def fault_in_words(message: str, raw: Any) -> str:
    """Return the decoder's message as a sentence that says where and what."""
    said, _, path = message.partition(" - at `$")
    steps = re.findall(r"\.(\w+)|\[(\d+)\]", path)
    way: Way = tuple(key or int(number) for key, number in steps)
    return f"In {place_in_words(way, raw)}: {_said(said)}."


def _said(message: str) -> str:
    for pattern, words in _SAID:
        found = re.fullmatch(pattern, message, re.DOTALL)
        if found:
            return words.format(*(group.removesuffix(".0") for group in found.groups()))
    kinds = re.findall(r"`([^`]*)`", message)
    wanted = " or ".join(_KINDS.get(kind, kind) for kind in kinds[0].split(" | ")) if kinds else ""
    got = _KINDS.get(kinds[-1], kinds[-1]) if kinds else message
    return f"{wanted} is needed, not {got}" if len(kinds) == 2 else got
