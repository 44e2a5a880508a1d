"""Lengths of a cast slab that cannot be: which to measure again first, in one sentence."""

from geometry.contradictions import Contradiction
from geometry.lengths import LengthStyle, written
from shop.slab_lengths import corner_letter
from shop.slabs import SlabMeasure
from shop.standing import AsCast, Stand, off_mold
from shop.words import capital, listed


def misread_words(stand: Stand, style: LengthStyle) -> str:
    """Return what is wrong with the lengths of a slab, and what to measure again; else nothing.

    What contradicts itself comes first, then what is farther from the mold than any mold gives,
    then what least squares suspect.
    """
    cast, came_out = stand.cast, stand.slab.came_out
    if cast.against:
        return " ".join(_contradicting(one, came_out, style) for one in cast.against)
    if cast.folded:
        first = _name(cast.far[0])
        return f"No slab has all these lengths. Measure {first} again first."
    if cast.far:
        return " ".join(_far(stand, one, style) for one in cast.far)
    return _suspected(cast)


def _contradicting(
    one: Contradiction, came_out: tuple[SlabMeasure, ...], style: LengthStyle
) -> str:
    first, *others = (_name(came_out[i]) for i in one.observations)
    rest = listed(others)
    value, limit = written(one.value, style), written(one.limit, style)
    title = capital(first)
    if one.code == "too-short":
        words = f"{title} ({value}) is too short for {rest}: they ask for at least {limit}"
    else:
        words = f"{title} ({value}) is longer than {rest} together ({limit})"
    return f"{words}. Measure {first} again first."


def _far(stand: Stand, measure: SlabMeasure, style: LengthStyle) -> str:
    off = off_mold(stand.face.base_outline, measure)
    name, by = _name(measure), written(abs(off), style)
    title = capital(name)
    return (
        f"{title} is {by} {'longer' if off > 0.0 else 'shorter'} than its mold: measure it again."
    )


def _suspected(cast: AsCast) -> str:
    if not cast.suspects:
        return ""
    if cast.located:
        return f"The lengths do not fit together: measure {_listed(cast.suspects)} again first."
    first, others = cast.suspects[0], cast.suspects[1:]
    return (
        f"One of the lengths is off, and nothing tells which: measure {_name(first)} again first,"
        f" it is the farthest from its mold, then {_listed(others)}."
    )


def _name(measure: SlabMeasure) -> str:
    return f"{corner_letter(measure.a)} to {corner_letter(measure.b)}"


def _listed(measures: tuple[SlabMeasure, ...]) -> str:
    return listed(map(_name, measures))
