"""What is set into a slab, in words and boxes: where it lies, its sizes, how the mold makes it."""

from collections.abc import Callable, Iterator

from msgspec.structs import replace

from app.asking import Answer, Fact, Question
from app.gestures.insets import resized, sizes_of
from app.things.boxes import Described, asked_choice, asked_length
from geometry.insets import (
    Grooves,
    Inset,
    InsetShape,
    Rods,
    Slope,
    depth_in,
    fall_a_foot_in,
    in_face,
)
from geometry.lengths import written, written_small
from geometry.naming import Id
from geometry.openings import AlongLeg, Anchor, BesideOpening, OverMiddle, Place
from shop import edits, plan
from shop.anchors import held_words
from shop.drains import ahead, falls_to
from shop.inset_places import holders
from shop.insets import InsetPlan, inset_plans, sinks_of
from shop.job import Job
from shop.words import capital, hook_words, length_style, opening_words

MAY_BE_NOTHING = ("shallow", "proud", "radius")
MOST = 24

MOST_ASIDE_IN = 360.0
"""Nothing lies farther aside of the middle it is measured from."""


def inset_described(job: Job, inset_id: Id) -> Described:
    """Return what is set in, in words and boxes."""
    found = next(one for one in inset_plans(job) if one.inset.id == inset_id)
    inset = found.inset
    return Described(
        capital(inset.name),
        tuple(_facts(job, found)),
        (
            *_place(job, found),
            *_count(inset),
            *(_size(inset, *size) for size in sizes_of(inset.shape)),
            *_fall(found),
            Question(
                "angle",
                "Turned from along the front",
                "angle",
                inset.angle,
                lambda a: _set(inset, angle=a),
                least=-360.0,
                most=360.0,
            ),
            Question("name", "Name", "words", inset.name, lambda a: _set(inset, name=str(a))),
        ),
    )


def _facts(job: Job, found: InsetPlan) -> Iterator[Fact]:
    """Yield its piece, the concrete left under it, how it falls and where its water goes."""
    yield Fact("Piece", found.piece or "none that holds it")
    shape, style = found.inset.shape, length_style(job)
    left = max(job.thickness - depth_in(shape), 0.0)
    yield Fact(f"Concrete {'under' if in_face(shape) else 'over'} it", written(left, style))
    if not isinstance(shape, Grooves | Slope) or found.placed is None or found.piece is None:
        return
    fall = fall_a_foot_in(shape)
    yield Fact("Falls", f"{written_small(fall, style)} a foot" if fall > 0.0 else "not at all")
    if found.into is not None:
        yield Fact("Runs into", f"the {opening_words(job, found.into.id)}")
        return
    near = ahead(shape, found.placed, sinks_of(job, plan.piece(job, found.piece)))
    if near is not None and near.all_of_it:
        short = written(near.short_in, style)
        yield Fact("Stops", f"{short} short of the {opening_words(job, near.sink.id)}")


def _set(inset: Inset, **changed: Answer | InsetShape | Anchor) -> tuple[edits.Edit, ...]:
    return (edits.SetInset(replace(inset, **changed)),)


def _place(job: Job, found: InsetPlan) -> Iterator[Question]:
    """Yield where its middle lies, by what it is measured from, and what that is."""
    inset, at, place = found.inset, found.inset.at, found.place
    if isinstance(at, BesideOpening | OverMiddle):
        hand, sign = ("left", -1.0) if at.aside < 0.0 else ("right", 1.0)
        yield asked_length(
            "aside",
            f"Its middle, {hand} of {_of_what(job, at)}",
            sign * at.aside,
            lambda v: _set(inset, at=replace(at, aside=sign * v)),
            first=True,
            least=-MOST_ASIDE_IN,
            most=MOST_ASIDE_IN,
        )
    elif isinstance(at, AlongLeg):
        hook = hook_words(job, at.leg, at.hook)
        yield _asked(
            "along", f"Its middle, from {hook}", at.along, lambda v: replace(at, along=v), inset
        )
    else:
        yield _asked("x", "Its middle, from side 4", at.x, lambda v: replace(at, x=v), inset)
    if place is None:
        return
    if isinstance(place, AlongLeg):
        key, words, deep = "back", "the front", place.back
    else:
        key, words, deep = "y", "side 1", place.y
    yield _asked(key, f"Its middle, from {words}", deep, lambda v: _deeper(at, v - deep), inset)
    yield from _measured_from(job, inset, place)


def _of_what(job: Job, at: BesideOpening | OverMiddle) -> str:
    if isinstance(at, BesideOpening):
        return f"the {opening_words(job, at.opening)}'s middle"
    return f"the middle of {held_words(job, at)}"


def _deeper(at: Anchor, by: float) -> Anchor:
    """Return a place so much farther toward the back, measured from what it was measured from."""
    match at:
        case BesideOpening():
            return replace(at, behind=at.behind + by)
        case AlongLeg() | OverMiddle():
            return replace(at, back=at.back + by)
        case _:
            return replace(at, y=at.y + by)


def _asked(
    key: str, label: str, value: float, to: Callable[[float], Anchor], inset: Inset
) -> Question:
    return asked_length(key, label, value, lambda v: _set(inset, at=to(v)), first=True)


def _measured_from(job: Job, inset: Inset, place: Place) -> Iterator[Question]:
    """Yield the question for what it is measured from, where there is a choice; it stays there."""
    offers = {_key(at): at for at in (place, *holders(job, inset.shape, place), inset.at)}
    if len(offers) > 1:
        yield asked_choice(
            "from",
            "Measured from",
            _key(inset.at),
            tuple((key, held_words(job, at)) for key, at in offers.items()),
            lambda key: _set(inset, at=offers[key]),
        )


def _key(at: Anchor) -> str:
    match at:
        case OverMiddle():
            return at.of
        case BesideOpening():
            return at.opening
        case _:
            return "own"


def _count(inset: Inset) -> tuple[Question, ...]:
    shape = inset.shape
    if not isinstance(shape, Grooves | Rods):
        return ()
    return (
        Question(
            "count",
            "How many",
            "number",
            float(shape.count),
            lambda a: _set(inset, shape=replace(shape, count=round(float(a)))),
            least=1.0,
            most=MOST,
        ),
    )


def _size(inset: Inset, key: str, label: str, value: float) -> Question:
    return asked_length(
        key,
        label,
        value,
        lambda v: _set(inset, shape=resized(inset.shape, key, v)),
        positive=key not in MAY_BE_NOTHING,
        least=0.0,
    )


def _fall(found: InsetPlan) -> tuple[Question, ...]:
    """Return the question for the side that its deep end lies on, however it is turned."""
    inset, shape, place = found.inset, found.inset.shape, found.place
    if not isinstance(shape, Grooves | Slope) or place is None:
        return ()
    ways = {one: falls_to(inset, replace(shape, falls=one), place) for one in ("left", "right")}
    return (
        asked_choice(
            "falls",
            "Deep end",
            shape.falls,
            tuple((one, f"{capital(ways[one])} as installed") for one in ways),
            lambda a: _set(inset, shape=replace(shape, falls=a)),
        ),
    )
