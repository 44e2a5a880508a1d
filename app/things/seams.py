"""Seams, described: where the top is split, and what the gap is taken from."""

from typing import Literal, cast

from msgspec.structs import replace

from app.asking import Fact, Question
from app.things.boxes import Described, asked_choice, asked_length
from geometry import edges as exact
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
from geometry.seams import Bend, Seam, SeamOnIsland, SeamOnLeg
from shop import edits
from shop.job import (
    Job,
)
from shop.measures import weight_words
from shop.plan import pieces, tops_and_strips
from shop.seam_places import place_words, places_beside
from shop.seam_words import opening_beside
from shop.standing import opening_names
from shop.strip_seams import seam_at, seams_met
from shop.supports import under
from shop.words import behind_words, front_words, hook_words, length_style, listed


def seam_described(job: Job, seam_id: Id) -> Described:
    """Return a seam in words and boxes."""
    seam = next(s for s in job.seams if s.id == seam_id)
    style = length_style(job)
    sides: dict[str, list[str]] = {"left": [], "right": []}
    size = 0.0
    for piece in pieces(job):
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if isinstance(tag.ref, EdgeRef) and tag.ref.owner == seam_id:
                sides[tag.ref.side].append(piece.name)
                if tag.ref.side == "left":
                    size += exact.length(edge)
    names = sorted({name for side in sides.values() for name in side})
    title = f"Seam between {listed(names)}" if names else "Seam"
    facts = []
    if size:
        facts.append(Fact("Length", written(size, style)))
    weights = {p.name: p.weight_lb for p in pieces(job)}
    facts += [Fact(f"Piece {name}", weight_words(weights[name], job.display)) for name in names]
    below, beside = under(job, seam_id), opening_beside(job, seam_id)
    if below is not None:
        facts.append(Fact("It lies", below.words))
    if beside:
        facts.append(Fact("Nearest opening", beside))
    facts.append(Fact("Edges", "square, no bead"))
    return Described(title, tuple(facts), _seam_questions(job, seam))


def _seam_questions(job: Job, seam: Seam) -> tuple[Question, ...]:
    start = seam.start

    def put(changed: Seam) -> tuple[edits.Edit, ...]:
        return (edits.SetSeam(changed),)

    questions: list[Question] = []
    if isinstance(start, SeamOnLeg):
        hook = hook_words(job, start.leg, start.hook)
        behind = behind_words(job, start.leg)
        questions.append(
            asked_length(
                "along",
                f"Seam, from {hook} along the {behind}",
                start.along,
                lambda v: put(replace(seam, start=replace(start, along=v))),
                first=True,
            )
        )
    elif isinstance(start, SeamOnIsland):
        questions.append(
            asked_length(
                "along",
                f"Seam, along side {start.side}",
                start.along,
                lambda v: put(replace(seam, start=replace(start, along=v))),
                first=True,
                least=0.0,
            )
        )
    if isinstance(start, SeamOnLeg | SeamOnIsland):
        questions += _put_beside(job, seam, start)
        questions.append(
            Question(
                "angle",
                f"Angle to the {_near(job, start)}",
                "angle",
                start.angle,
                lambda a: put(replace(seam, start=replace(start, angle=float(a)))),
                least=10.0,
                most=170.0,
                first=True,
            )
        )
    if isinstance(start, SeamOnLeg | SeamOnIsland):
        questions += _bends(job, seam, start)
    questions.append(
        asked_length(
            "gap",
            f"Gap, job's default {written(job.defaults.gap, length_style(job))}",
            seam.gap,
            lambda v: put(replace(seam, gap=v)),
            least=0.0,
            most=2.0,
        )
    )
    taken = (
        ("", "half each, one at inside corners"),
        ("both", "both pieces"),
        ("left", "the left piece"),
        ("right", "the right piece"),
    )

    def gap_from(answer: str) -> tuple[edits.Edit, ...]:
        side = cast(Literal["both", "left", "right"] | None, answer or None)
        return put(replace(seam, gap_from=side))

    questions.append(
        asked_choice("gap-from", "Gap is taken from", seam.gap_from or "", taken, gap_from)
    )
    return tuple(questions)


def _near(job: Job, start: SeamOnLeg | SeamOnIsland) -> str:
    """Return what the edge is called that a seam's angle is measured to."""
    return front_words(job, start.leg) if isinstance(start, SeamOnLeg) else "front"


def _bends(job: Job, seam: Seam, start: SeamOnLeg | SeamOnIsland) -> list[Question]:
    """Return the questions whether a seam bends, where, and how it goes on."""
    bend = start.bend
    on_leg = isinstance(start, SeamOnLeg)
    if isinstance(start, SeamOnIsland):
        near, far = f"side {start.side}", "the far side"
    else:
        near = f"the {behind_words(job, start.leg)}"
        far = f"the {front_words(job, start.leg)}"

    def put(changed: Bend | None) -> tuple[edits.Edit, ...]:
        return (edits.SetSeam(replace(seam, start=replace(start, bend=changed))),)

    def bent(answer: str) -> tuple[edits.Edit, ...]:
        onward = 45.0 if start.angle > 60.0 else 90.0
        return put(Bend(job.defaults.depth / 2.0, onward) if answer else None)

    ways = (("", "straight"), ("bent", "a dog-leg"))
    shape = asked_choice("shape", "It runs", "" if bend is None else "bent", ways, bent)
    if bend is None:
        return [shape]
    where = near if bend.taped_from == "start" else far

    def taped(answer: str) -> tuple[edits.Edit, ...]:
        return put(replace(bend, taped_from="start" if answer == "start" else "opposite"))

    return [
        shape,
        asked_length(
            "bend",
            f"Bends, from {where}",
            bend.at,
            lambda v: put(replace(bend, at=v)),
            first=True,
            positive=True,
        ),
        Question(
            "onward",
            f"Then at, to {far}" if on_leg else "Then at, to the side",
            "angle",
            bend.angle,
            lambda a: put(replace(bend, angle=float(a))),
            least=10.0,
            most=170.0,
            first=True,
        ),
        asked_choice(
            "taped",
            "The bend is taped from",
            bend.taped_from,
            (("start", near), ("opposite", far)),
            taped,
        ),
    ]


def _put_beside(job: Job, seam: Seam, start: SeamOnLeg | SeamOnIsland) -> list[Question]:
    """Return the question that puts a seam through the middle of an opening, or beside it."""
    top = next((found for found in tops_and_strips(job) if found.top.id == seam.top), None)
    if top is None:
        return []
    words = dict(opening_names(job))
    starts: list[SeamOnLeg | SeamOnIsland] = []
    ways = [("", "where it is")]

    def offer(place: SeamOnLeg | SeamOnIsland, said: str) -> None:
        ways.append((str(len(starts)), said))
        starts.append(place)

    met = seams_met(job, seam.top)
    for number, at in enumerate(met, 1):
        which = f"seam {number} of the top" if met[1:] else "the top's seam"
        there = seam_at(job, seam.top, at)
        if isinstance(start, SeamOnLeg):
            offer(replace(start, along=there.along, hook=there.hook), f"in line with {which}")
    for place in places_beside(job, top, start):
        said = place_words(place, words[place.opening])
        offer(replace(start, along=place.along), said)
    if not starts:
        return []

    def put(answer: str) -> tuple[edits.Edit, ...]:
        if not answer:
            return ()
        return (edits.SetSeam(replace(seam, start=starts[int(answer)])),)

    return [asked_choice("beside", "Put it", "", tuple(ways), put)]
