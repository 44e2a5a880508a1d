"""What is set into a slab, in words and boxes: where it lies, its sizes, how the mold makes it."""

from msgspec.structs import replace

from app.asking import Answer, Fact, Question
from app.gestures.insets import resized, sizes_of
from app.things.boxes import Described, asked_choice, asked_length
from geometry.insets import Grooves, Inset, InsetShape, Rods
from geometry.naming import Id
from geometry.openings import AlongLeg, Place
from shop import edits
from shop.insets import inset_plans
from shop.job import Job
from shop.words import capital, hook_words

MAY_BE_NOTHING = ("shallow", "proud", "radius")
MOST = 24


def inset_described(job: Job, inset_id: Id) -> Described:
    """Return what is set in, in words and boxes."""
    found = next(one for one in inset_plans(job) if one.inset.id == inset_id)
    inset = found.inset
    return Described(
        capital(inset.name),
        (Fact("Piece", found.piece or "none that holds it"),),
        (
            *_place(job, inset),
            *_count(inset),
            *(_size(inset, *size) for size in sizes_of(inset.shape)),
            *_fall(inset),
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


def _set(inset: Inset, **changed: Answer | InsetShape | Place) -> tuple[edits.Edit, ...]:
    return (edits.SetInset(replace(inset, **changed)),)


def _place(job: Job, inset: Inset) -> tuple[Question, ...]:
    at = inset.at
    if isinstance(at, AlongLeg):
        hook = hook_words(job, at.leg, at.hook)
        return (
            _place_asked(inset, "along", f"Its middle, from {hook}", at.along),
            _place_asked(inset, "back", "Its middle, from the front", at.back),
        )
    return (
        _place_asked(inset, "x", "Its middle, from side 4", at.x),
        _place_asked(inset, "y", "Its middle, from side 1", at.y),
    )


def _place_asked(inset: Inset, key: str, label: str, value: float) -> Question:
    return asked_length(
        key, label, value, lambda v: _set(inset, at=replace(inset.at, **{key: v})), first=True
    )


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


def _fall(inset: Inset) -> tuple[Question, ...]:
    shape = inset.shape
    if not isinstance(shape, Grooves):
        return ()
    return (
        asked_choice(
            "falls",
            "Deep end",
            shape.falls,
            (("left", "Left as installed"), ("right", "Right as installed")),
            lambda a: _set(inset, shape=replace(shape, falls=a)),
        ),
    )
