"""Tools that set grooves, slopes, inlays, rods and inserts into slabs."""

from typing import Literal

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.drags import anchored
from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import ARROW_IN, top_at
from geometry.insets import Grooves, Inlay, Insert, Inset, InsetShape, Rods, Slope
from geometry.openings import BesideOpening
from geometry.picking import Subject
from geometry.points import Point, along
from shop import edits
from shop.drain_mends import CAUGHT_IN, run_into_sink
from shop.inset_places import held_inset
from shop.job import Job, fresh_id
from shop.words import numbered, opening_words

STARTS: dict[str, tuple[str, InsetShape]] = {
    "grooves": ("drain grooves", Grooves()),
    "slope": ("drain slope", Slope()),
    "inlay": ("inlay", Inlay()),
    "rods": ("trivet rods", Rods()),
    "insert": ("insert", Insert()),
}
"""What each tool starts with; sizes are common practice, no source, all editable."""


class SetIn(Gesture):
    """Sets one thing in: it follows the pointer and says where it lies."""

    def __init__(self, job: Job, kind: str, begin: Point | None = None) -> None:
        super().__init__(job)
        self._called, self._shape = STARTS[kind]
        self._name = numbered(self._called, {one.name for one in job.insets})
        self._id = fresh_id(job, "inset")
        self._last = None if begin is None else Cursor(begin, 0.0)

    def start(self) -> Doing:
        """Show it where it begins, and ask for a place."""
        if self._last is not None:
            return self.move(self._last)
        return Doing(hint=self._hint(), questions=self._questions())

    def move(self, cursor: Cursor) -> Doing:
        """Show it at the pointer."""
        self._last = cursor
        top = top_at(self.job, cursor.point)
        if top is None:
            self._last = None
            return self.start()
        at, words, overlay = anchored(self.job, top, cursor.point, cursor)
        inset = Inset(self._id, self._name, self._shape, at)
        inset = replace(inset, at=held_inset(self.job, self._shape, at))
        inset, caught = drained(self.job, inset, no_snap=cursor.no_snap)
        doing = (edits.AddInset(inset),)
        return Doing(doing, overlay, caught or words or self._hint(), self._questions())

    def press(self, cursor: Cursor) -> Doing:
        """Leave it here."""
        doing = self.move(cursor)
        if not doing.edits:
            return doing._replace(hint="Click on a top.")
        return doing._replace(outcome="finished", chosen=(Subject("inset", self._id),))

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take another size."""
        if isinstance(answer, float):
            self._shape = resized(self._shape, key, answer)
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Move it, as long as it stays on a top."""
        if self._last is not None:
            there = along(self._last.point, way, ARROW_IN)
            if top_at(self.job, there) is not None:
                self._last = Cursor(there, 0.0)
        return self.start()

    def enter(self) -> Doing:
        """Leave it where the pointer last was."""
        return self.start() if self._last is None else self.press(self._last)

    def _hint(self) -> str:
        return f"Set in {self._called}: click where."

    def _questions(self) -> tuple[Question, ...]:
        return tuple(
            Question(key, label, "length", value, least=0.0, positive=True)
            for key, label, value in sizes_of(self._shape)[:2]
        )


def drained(job: Job, inset: Inset, *, no_snap: bool = False) -> tuple[Inset, str]:
    """Return grooves or a slope falling toward their sink, run into it where that is near."""
    shape, at = inset.shape, inset.at
    if not isinstance(shape, Grooves | Slope) or not isinstance(at, BesideOpening):
        return inset, ""
    toward: Literal["left", "right"] = "left" if at.aside > 0.0 else "right"
    inset = replace(inset, shape=replace(shape, falls=toward))
    name = opening_words(job, at.opening)
    near = None if no_snap else run_into_sink(job, inset)
    if near is None or near.short_in > CAUGHT_IN:
        return inset, f"Falls toward the {name}."
    return near.inset, f"Snapped: runs into the {name}."


Size = tuple[str, str, float]


def sizes_of(shape: InsetShape) -> tuple[Size, ...]:
    """Return the key, label and value of each length of a shape, the two main ones first."""
    match shape:
        case Grooves():
            return (
                ("length", "Length", shape.length),
                ("apart", "From middle to middle", shape.apart),
                ("width", "Width of each", shape.width),
                ("shallow", "Depth at the shallow end", shape.shallow),
                ("deep", "Depth at the deep end", shape.deep),
            )
        case Slope():
            return (
                ("length", "Length", shape.length),
                ("width", "Width across the fall", shape.width),
                ("shallow", "Depth at the shallow end", shape.shallow),
                ("deep", "Depth at the deep end", shape.deep),
            )
        case Rods():
            return (
                ("length", "Length", shape.length),
                ("apart", "From middle to middle", shape.apart),
                ("diameter", "Diameter", shape.diameter),
                ("proud", "Proud of the face", shape.proud),
            )
        case Inlay():
            return (
                ("width", "Width", shape.width),
                ("depth", "Depth", shape.depth),
                ("radius", "Corner radius", shape.radius),
                ("thickness", "Thickness", shape.thickness),
            )
        case _:
            return (
                ("width", "Width", shape.width),
                ("depth", "Depth", shape.depth),
                ("height", "Height in the concrete", shape.height),
            )


def resized(shape: InsetShape, key: str, value: float) -> InsetShape:
    """Return a shape with another length."""
    return replace(shape, **{key: value})
