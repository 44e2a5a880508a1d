"""Corners of tops, described: their shape and its size, for one corner or several at once."""

from math import degrees

from app.asking import Fact, Question
from app.things.boxes import Described, asked_choice, asked_length
from geometry.counters import ClippedCorner, CornerShape, RoundCorner
from geometry.naming import CornerRef
from shop import edits
from shop.free_shapes import start_side, with_corner_at
from shop.job import Job
from shop.top_corners import corner_of, shape_of, size_of, sized
from shop.words import capital, corner_of_top_words

ROUND_IN = 3.0
CLIP_IN = 2.0
"""The sizes of a shape that was just chosen."""

VARIOUS = "various"
"""The answer that stands for corners of different shapes; choosing it changes nothing."""


def corners_described(job: Job, refs: tuple[CornerRef, ...]) -> Described:
    """Return corners of tops in words and boxes; what is answered goes for all of them."""
    if len(refs) > 1:
        return Described(f"{len(refs)} corners", (), _shape_questions(job, refs))
    ref = refs[0]
    corner = corner_of(job, ref)
    facts: tuple[Fact, ...] = ()
    if corner is not None:
        facts = (Fact("Angle", f"{degrees(2.0 * corner.half_rad):.1f}\N{DEGREE SIGN}"),)
    words = corner_of_top_words(job, ref)
    title = capital(words)
    return Described(title, facts, (*_shape_questions(job, refs), *_place_questions(job, ref)))


def _shape_questions(job: Job, refs: tuple[CornerRef, ...]) -> tuple[Question, ...]:
    shapes = [shape_of(job, ref) for ref in refs]
    kinds = {_kind(shape) for shape in shapes}
    kind = kinds.pop() if len(kinds) == 1 else VARIOUS

    def shaped(answer: str) -> tuple[edits.Edit, ...]:
        if answer == VARIOUS:
            return ()
        return tuple(edits.ShapeCorner(ref, _new(ref, answer)) for ref in refs)

    asked = asked_choice(
        "shape",
        "Shape" if len(refs) == 1 else "Shape of all",
        kind,
        (
            *(((VARIOUS, "various"),) if kind == VARIOUS else ()),
            ("square", "square"),
            ("round", "round"),
            ("clipped", "clipped"),
        ),
        shaped,
    )
    known = [shape for shape in shapes if shape is not None]
    if kind not in ("round", "clipped"):
        return (asked,)

    def resized(value: float) -> tuple[edits.Edit, ...]:
        return tuple(edits.ShapeCorner(shape.corner, sized(shape, value)) for shape in known)

    size = asked_length(
        "size",
        "Radius" if kind == "round" else "Back from the corner",
        size_of(known[0]),
        resized,
        positive=True,
        first=True,
    )
    return (asked, size)


def _kind(shape: CornerShape | None) -> str:
    if shape is None:
        return "square"
    return "round" if isinstance(shape, RoundCorner) else "clipped"


def _new(ref: CornerRef, kind: str) -> CornerShape | None:
    if kind == "square":
        return None
    return RoundCorner(ref, ROUND_IN) if kind == "round" else ClippedCorner(ref, CLIP_IN)


def _place_questions(job: Job, ref: CornerRef) -> tuple[Question, ...]:
    """Return where a corner of a free shape lies, or nothing."""
    island = next((i for i in job.islands if i.id == ref.a.owner), None)
    start = None if island is None else start_side(island, ref)
    if island is None or start is None:
        return ()
    return (
        asked_length(
            "x",
            "Along the width",
            start.x,
            lambda v: (edits.SetIsland(with_corner_at(island, start, (v, start.y))),),
            first=True,
        ),
        asked_length(
            "y",
            "Along the depth",
            start.y,
            lambda v: (edits.SetIsland(with_corner_at(island, start, (start.x, v))),),
            first=True,
        ),
    )
