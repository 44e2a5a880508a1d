"""Openings, described: where they lie, and their sizes."""

from collections.abc import Callable, Iterator
from functools import partial

from msgspec.structs import replace

from app.asking import Answer, Fact, Question
from app.catalog import CatalogEntry
from app.gestures.openings import asked_turn, resized, sizes_of
from app.things.boxes import Described, Number, asked_choice, asked_length
from app.things.fillings import asked_filling
from app.things.finishes import asked_finish
from geometry.alongside import Splash
from geometry.lengths import LengthStyle, written
from geometry.naming import EdgeRef, Id
from geometry.openings import (
    Anchor,
    ApronShape,
    BesideOpening,
    CircleShape,
    InIsland,
    Opening,
    OverMiddle,
    RectangleShape,
    Shape,
    SlotShape,
    extent,
)
from geometry.templates import TemplateShape
from shop import edits
from shop.anchors import center_words, centers, held_words, host_of, place_by
from shop.clearances import Behind, behind
from shop.job import Job
from shop.references import strips_of
from shop.words import capital, front_words, length_style, opening_words

LEAST_IN = 0.25
"""A smaller hole is a slip of the keyboard."""

MOST_ASIDE_IN = 360.0
"""Nothing lies farther aside of the middle it is measured from."""


def opening_described(job: Job, opening_id: Id) -> Described:
    """Return an opening in words and boxes."""
    opening = next(o for o in job.openings if o.id == opening_id)
    style = length_style(job)
    questions = [*_place(job, opening), *_measured_from(job, opening)]
    facts = list(_clearances(job, opening))
    facts += shape_facts(opening.shape, opening.reveal, opening.use, style)
    upright = isinstance(strips_of(job).get(host_of(job, opening)), Splash)
    for asked in shape_asked(opening.shape, opening.reveal, opening.use, upright=upright):
        questions.append(asked._replace(edits=_changing(opening, asked.key)))
    questions += asked_finish(job, EdgeRef(opening_id, "cut"))
    questions += asked_filling(opening)
    questions.append(
        Question(
            "name",
            "Name",
            "words",
            opening.name,
            lambda a: (edits.SetOpening(replace(opening, name=str(a))),),
        )
    )
    return Described(capital(opening.name), tuple(facts), tuple(questions))


def _place(job: Job, opening: Opening) -> list[Question]:
    """Return the questions for where an opening lies, by what it is measured from."""
    at, move = opening.at, partial(_moving, opening.id)
    half = _reach(opening)[0]
    match at:
        case BesideOpening():
            name = opening_words(job, at.opening)
            return [
                _length("behind", f"Behind the {name}'s rim", at.behind, move(at, "behind")),
                _aside(f"Right of the {name}'s middle", at.aside, move(at, "aside")),
            ]
        case InIsland():
            return [
                _length("x", "Its middle, from side 4", at.x, move(at, "x")),
                _length("y", "Its middle, from side 1", at.y, move(at, "y")),
            ]
        case OverMiddle() if any(island.id == at.leg for island in job.islands):
            label = f"Right of the middle of {held_words(job, at)}"
            return [
                _aside(label, at.aside, move(at, "aside")),
                _length("back", "Its middle, from the cabinet's back", at.back, move(at, "back")),
            ]
        case _:
            away = move(at, "back")
            near = front_words(job, at.leg)
            front = _length(
                "front",
                f"From the {near}{' edge' if near == 'front' else ''} to the opening",
                at.back - half,
                lambda v: away(v + half),
            )
            ask = [] if isinstance(opening.shape, ApronShape) else [front]
            if isinstance(at, OverMiddle):
                label = f"Right of the middle of {held_words(job, at)}"
                ask.append(_aside(label, at.aside, move(at, "aside")))
            else:
                label = f"Its middle, from {held_words(job, at)}"
                ask.append(_length("along", label, at.along, move(at, "along")))
            back = behind(job, opening.id) if opening.use in ("faucet", "dispenser") else None
            if back is not None:
                ask.append(_clear(back, lambda v: away(at.back + back.clear - v)))
            return ask


def _clear(back: Behind, change: Number) -> Question:
    """Return the question for how far what stands behind a hole is from its middle."""
    what = "backsplash" if back.splash else "back edge"
    return asked_length("clear", f"Its middle from the {what}", back.clear, change)


def _length(key: str, label: str, value: float, change: Number) -> Question:
    return asked_length(key, label, value, change, first=True)


def _aside(label: str, value: float, change: Number) -> Question:
    """Return the question for how far right of a middle: less than nothing is left of it."""
    return asked_length(
        "aside", label, value, change, first=True, least=-MOST_ASIDE_IN, most=MOST_ASIDE_IN
    )


def _moving(opening: Id, at: Anchor, field: str) -> Number:
    """Return what moves an opening by another value of a field of its anchor."""
    return lambda value: (edits.MoveOpening(opening, replace(at, **{field: value})),)


def _measured_from(job: Job, opening: Opening) -> list[Question]:
    """Return the question for what an opening is measured from; another answer centers it there."""
    own = place_by(job, opening.id)
    if own is None:
        return []
    offers = {_key(anchor): anchor for anchor in (own, *centers(job, opening.id))}
    offers[_key(opening.at)] = opening.at
    if len(offers) == 1:
        return []
    choices = tuple((key, center_words(job, anchor)) for key, anchor in offers.items())
    return [
        asked_choice(
            "from",
            "Measured from",
            _key(opening.at),
            choices,
            lambda key: (edits.MoveOpening(opening.id, offers[key]),),
        )
    ]


def _key(anchor: Anchor) -> str:
    match anchor:
        case OverMiddle():
            return anchor.of
        case BesideOpening():
            return anchor.opening
        case _:
            return "own"


def _clearances(job: Job, opening: Opening) -> Iterator[Fact]:
    """Yield how much is left behind an opening; behind a hole also from its middle."""
    found = behind(job, opening.id)
    if found is None:
        return
    style = length_style(job)
    yield Fact("From the back edge", written(found.edge, style))
    if opening.use not in ("faucet", "dispenser"):
        return
    beside = isinstance(opening.at, BesideOpening)
    if beside or found.splash:
        yield Fact("Its middle from the back edge", written(found.middle, style))
    if beside and found.splash:
        yield Fact("Its middle from the backsplash", written(found.clear, style))


def reveal_words(reveal: float, style: LengthStyle) -> str:
    """Return what a reveal is called, and what of the bowl is seen."""
    if written(abs(reveal), style) == written(0.0, style):
        return "flush with the bowl"
    if reveal > 0.0:
        return f"positive: {written(reveal, style)} of the bowl's rim shows"
    return f"negative: the counter stands {written(-reveal, style)} over the bowl"


def shape_asked(
    shape: Shape, reveal: float, use: str, *, upright: bool = False
) -> tuple[Question, ...]:
    """Return the questions for a shape's sizes and its reveal; a radius never changes unasked.

    upright is for one in a backsplash.
    """
    radius = shape.radius if isinstance(shape, RectangleShape | ApronShape) else 0.0
    least = max(LEAST_IN, 2.0 * radius)
    under = "Its corners' radius needs at least {}." if radius else ""
    asked = [
        asked_length(key, label, value, _nothing, least=least, under=under)
        for key, label, value in sizes_of(shape, upright=upright)
    ]
    asked += asked_turn(shape)
    if isinstance(shape, RectangleShape | ApronShape):
        deep = shape.depth if isinstance(shape, ApronShape) else shape.depth / 2.0
        asked.append(
            asked_length(
                "radius",
                "Corner radius",
                radius,
                _nothing,
                least=0.0,
                most=min(shape.width / 2.0, deep),
                over="The largest radius that fits here is {}.",
            )
        )
    if not isinstance(shape, CircleShape | SlotShape) or use in ("sink", "cooktop"):
        label = "Cut larger all round by" if upright else "Reveal: cut larger than the bowl by"
        asked.append(asked_length("reveal", label, reveal, _nothing, least=-6.0, most=6.0))
    return tuple(asked)


def _nothing(_: float) -> tuple[edits.Edit, ...]:
    return ()


def shape_facts(shape: Shape, reveal: float, use: str, style: LengthStyle) -> tuple[Fact, ...]:
    """Return what is to be read of a shape: a template's size, and the reveal in words."""
    own = _template_facts(shape, style) if isinstance(shape, TemplateShape) else ()
    if use == "sink" or reveal:
        return (*own, Fact("Reveal", reveal_words(reveal, style)))
    return own


def _changing(opening: Opening, key: str) -> Callable[[Answer], tuple[edits.Edit, ...]]:
    """Return what gives an opening another size, turn or reveal."""

    def changed(answer: Answer) -> tuple[edits.Edit, ...]:
        value = float(answer)
        if key == "reveal":
            return (edits.SetOpening(replace(opening, reveal=value)),)
        return (edits.SetOpening(replace(opening, shape=resized(opening.shape, key, value))),)

    return changed


def entry_answered(entry: CatalogEntry, key: str, answer: Answer) -> CatalogEntry:
    """Return a shape of the catalog with another name, reveal, size or turn."""
    if key == "name":
        return replace(entry, name=str(answer), called=str(answer)[0].lower() + str(answer)[1:])
    if key == "reveal":
        return replace(entry, reveal=float(answer))
    return replace(entry, shape=resized(entry.shape, key, float(answer)))


def _template_facts(shape: TemplateShape, style: LengthStyle) -> tuple[Fact, ...]:
    """Return where a template came from and its size: its outline stays as it was drawn."""
    x0, y0, x1, y1 = extent(shape)
    return (
        Fact("Template", shape.file),
        Fact("Size", f"{written(x1 - x0, style)} x {written(y1 - y0, style)}"),
    )


def _reach(opening: Opening) -> tuple[float, float]:
    """Return how far a hole reaches from its middle to the front and to the back."""
    _, y0, _, y1 = extent(opening.shape)
    return opening.reveal - y0, opening.reveal + y1
