"""Tools for counters: an island, rounding and clipping corners."""

from collections.abc import Sequence
from math import copysign
from typing import Literal, TypeAlias

from app.asking import Answer, Question
from app.gestures.gesture import Cursor, Doing, Gesture, next_of
from app.gestures.places import STEP_IN
from app.gestures.shaping import new_fault
from export.marks import AnyMark, Spot
from geometry.counters import (
    ClippedCorner,
    CornerShape,
    Island,
    OnBoard,
    RoundCorner,
)
from geometry.naming import CornerRef, EdgeRef, corner_ref
from geometry.picking import Subject
from geometry.points import Point, along, distance
from geometry.snapping import to_step
from shop import edits
from shop.job import Job, fresh_id
from shop.survey import room
from shop.top_corners import (
    TopCorner,
    corner_of,
    largest_size,
    middle_of_shape,
    size_through,
    top_corners,
)
from shop.words import capital, corner_of_top_words, top_words

Form: TypeAlias = Literal["rectangle", "round", "d-end", "both ends", "clipped", "rounded"]

FORMS: tuple[tuple[Form, str], ...] = (
    ("rectangle", "rectangle"),
    ("round", "round"),
    ("d-end", "one round end"),
    ("both ends", "two round ends"),
    ("clipped", "clipped corners"),
    ("rounded", "rounded corners"),
)


ISLAND_ARROW_IN = 6.0
"""An arrow key moves an island that is not left yet so far."""

ARROWS = "The arrow keys move it, Enter leaves it there."


class DrawIsland(Gesture):
    """Draws an island from corner to corner, in one of a few forms."""

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "island")
        self._from: Point | None = None
        self._size = (72.0, 36.0)
        self._typed = False
        self._form: Form = "rectangle"
        self._cut = 6.0

    def start(self) -> Doing:
        """Ask for a place, or go on from the first corner."""
        if self._from is not None:
            return self._doing()
        hint = "Drag from one corner to the other, or press Enter and type the sizes."
        return Doing(hint=hint, questions=(self._asked_form(),))

    def move(self, cursor: Cursor) -> Doing:
        """Show the island to the pointer."""
        if self._from is None:
            return self.start()
        if not self._typed:
            x, y = cursor.point
            self._size = (to_step(x - self._from[0], 0.5), to_step(y - self._from[1], 0.5))
            self._even_out(max(map(abs, self._size)))
        return self._doing()

    def press(self, cursor: Cursor) -> Doing:
        """Put the first corner, or the second."""
        if self._from is None:
            self._from = (to_step(cursor.point[0], STEP_IN), to_step(cursor.point[1], STEP_IN))
            self._size = (0.0, 0.0)
            return self._doing()
        self.move(cursor)
        return self.enter()

    def release(self, cursor: Cursor) -> Doing:
        """End the island if it was drawn by dragging; else go on."""
        doing = self.move(cursor)
        return self.enter() if self._big_enough() else doing

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take the form, or a size as typed, toward where the pointer was."""
        if key == "form":
            self._form = next(form for form, _ in FORMS if form == answer)
            self._even_out(abs(self._size[0]))
            return self.start()
        assert isinstance(answer, float)
        if key == "cut":
            self._cut = answer
            return self._doing()
        self._typed = True
        width, depth = (v or 1.0 for v in self._size)
        if key == "width":
            width = answer if width > 0.0 else -answer
        else:
            depth = answer if depth > 0.0 else -answer
        self._size = (width, depth)
        self._even_out(abs(width))
        return self._doing()

    def _even_out(self, across: float) -> None:
        """Make a round island as wide as deep."""
        if self._form == "round":
            self._size = (copysign(across, self._size[0]), copysign(across, self._size[1]))

    def arrow(self, way: Point) -> Doing:
        """Move it, once it is shown."""
        if self._from is not None and self._typed:
            self._from = along(self._from, way, ISLAND_ARROW_IN)
        return self.start()

    def enter(self) -> Doing:
        """Leave the island as it is shown; without a pointer it begins in the room's middle."""
        if self._from is None:
            self._from, self._typed = self._in_the_middle(), True
            return self._doing()
        if not self._big_enough():
            return self._doing()._replace(hint="An island needs some size.")
        done = self._doing()
        return done._replace(
            outcome="finished",
            questions=(),
            chosen=(Subject("island", self._id),),
            title="add an island",
        )

    def _in_the_middle(self) -> Point:
        """Return the corner that puts the island into the middle of the room, if there is one."""
        points = [corner.point for corner in room(self.job).corners]
        if not points:
            return (0.0, 0.0)
        x, y = (
            (min(p[i] for p in points) + max(p[i] for p in points) - self._size[i]) / 2.0
            for i in (0, 1)
        )
        return to_step(x, 0.5), to_step(y, 0.5)

    def _big_enough(self) -> bool:
        return min(abs(v) for v in self._size) >= 3.0

    def _doing(self) -> Doing:
        assert self._from is not None
        width, depth = self._size
        asked = self._asked(abs(width), abs(depth))
        if min(abs(width), abs(depth)) < 1.0:
            return Doing(hint="Drag to the other corner, or type the sizes.", questions=asked)
        hint = ARROWS if self._typed else "Drag to the other corner."
        return Doing(self._edits(width, depth), (), hint, asked)

    def _asked(self, width: float, depth: float) -> tuple[Question, ...]:
        across = "Across" if self._form == "round" else "Width"
        sizes = [Question("width", across, "length", width, least=0.0, positive=True)]
        if self._form != "round":
            sizes.append(Question("depth", "Depth", "length", depth, least=0.0, positive=True))
        if self._form in ("clipped", "rounded"):
            label = "Back from corners" if self._form == "clipped" else "Radius of corners"
            sizes.append(Question("cut", label, "length", self._cut, least=0.0, positive=True))
        return (*sizes, self._asked_form())

    def _asked_form(self) -> Question:
        return Question("form", "Form", "choice", self._form, choices=FORMS)

    def _edits(self, width: float, depth: float) -> tuple[edits.Edit, ...]:
        """Return what makes the island: itself, and the shapes of its corners."""
        assert self._from is not None
        x, y = self._from
        at = OnBoard(min(x, x + width), min(y, y + depth))
        w, d = abs(width), abs(depth)
        rounds: dict[Form, tuple[Literal["1", "2", "3", "4"], ...]] = {
            "round": ("2", "4"),
            "d-end": ("2",) if w >= d else ("3",),
            "both ends": ("2", "4") if w >= d else ("1", "3"),
        }
        made = edits.AddIsland(Island(self._id, w, d, at, round_sides=rounds.get(self._form, ())))
        if self._form not in ("clipped", "rounded"):
            return (made,)
        shape = ClippedCorner if self._form == "clipped" else RoundCorner
        sides = [EdgeRef(self._id, name) for name in "1234"]
        corners = [corner_ref(a, b) for a, b in zip(sides, (*sides[1:], sides[0]), strict=True)]
        cut = min(self._cut, min(w, d) / 2.0 - 1.0)
        return (made, *(edits.ShapeCorner(ref, shape(ref, cut)) for ref in corners))


LEAST_LEFT_IN = 0.5
"""A pull that would leave less of a corner's shorter side takes all of it."""


class ShapeTopCorner(Gesture):
    """Rounds or clips corners of tops: a click with the size asked for, or a pull inward.

    Several that were chosen get one shape, by Enter as by a click on one of them.
    """

    def __init__(
        self, job: Job, kind: Literal["round", "clip"], chosen: Sequence[Subject] = ()
    ) -> None:
        super().__init__(job)
        self._kind = kind
        self._size = 3.0 if kind == "round" else 2.0
        refs = (s.edge for s in chosen if isinstance(s.edge, CornerRef))
        known = tuple(ref for ref in refs if corner_of(job, ref) is not None)
        self._several = known if len(known) > 1 else ()
        self._walked = known[-1] if known else None
        self._last: Cursor | None = None
        self._pressed: tuple[CornerRef, Cursor] | None = None

    def start(self) -> Doing:
        """Ask for a corner, or show the shape at those chosen or at the one walked to."""
        if self._several:
            count = len(self._several)
            return self._shown(self._several, f"{count} corners. Enter shapes them all.")
        if self._walked is None:
            hint = "Click a corner of a top or pull it inward, or walk there with the arrow keys."
            return Doing(hint=hint, questions=(self._question(),))
        owner = next((c.top for c in top_corners(self.job) if c.ref == self._walked), "")
        where = f"{corner_of_top_words(self.job, self._walked)}, {top_words(self.job, owner)}"
        return self._shown((self._walked,), f"{capital(where)}. Enter shapes it.")

    def _shown(self, refs: tuple[CornerRef, ...], hint: str) -> Doing:
        """Return corners with the shape, or square as before with what is wrong with it."""
        shaped = tuple(edits.ShapeCorner(ref, self._shape(ref, self._size)) for ref in refs)
        wrong = new_fault(self.job, shaped, *refs)
        rings = tuple(ring for ref in refs for ring in self._ring(ref))
        return Doing(() if wrong else shaped, rings, wrong or hint, (self._question(),))

    def _ring(self, ref: CornerRef) -> tuple[AnyMark, ...]:
        place = corner_of(self.job, ref)
        return () if place is None else (Spot("check", kind="ring", at=place.vertex, size=0.12),)

    def _all_with(self, ref: CornerRef) -> tuple[CornerRef, ...]:
        """Return the corners that are shaped with one: those chosen, if it is one of them."""
        return self._several if ref in self._several else (ref,)

    def arrow(self, way: Point) -> Doing:
        """Go to the next corner alone, or to the one before."""
        corners = [corner.ref for corner in top_corners(self.job)]
        if corners:
            self._walked, self._last = next_of(corners, self._walked, way), None
            self._several = ()
        return self.start()

    def _question(self) -> Question:
        label = "Radius" if self._kind == "round" else "Back from the corner"
        return Question("size", label, "length", self._size, least=0.0, positive=True)

    def _shape(self, corner: CornerRef, size: float) -> CornerShape:
        made = RoundCorner if self._kind == "round" else ClippedCorner
        return made(corner, size)

    def move(self, cursor: Cursor) -> Doing:
        """Show the shape at the corner nearest to the pointer, or as far as it is pulled."""
        self._last, self._walked = cursor, None
        if self._pressed is not None:
            corner, pressed = self._pressed
            place = corner_of(self.job, corner)
            if place is not None and distance(pressed.point, cursor.point) > cursor.tol_in:
                pulled = size_through(place, self._shape(corner, 1.0), cursor.point)
                largest = largest_size(place, self._shape(corner, 1.0))
                # No stub of a side is left beside the largest.
                whole = pulled >= largest - LEAST_LEFT_IN
                self._size = largest if whole else max(to_step(pulled, STEP_IN), STEP_IN)
        else:
            found = corner_at(self.job, cursor)
            if found is None:
                return self.start()
            corner = found
        refs = self._all_with(corner)
        click = "" if len(refs) == 1 else f"All {len(refs)} corners get this shape."
        return self._shown(refs, click or "Click to shape this corner, or pull it inward.")

    def press(self, cursor: Cursor) -> Doing:
        """Take hold of the corner."""
        corner = corner_at(self.job, cursor)
        self._pressed = None if corner is None else (corner, cursor)
        return self.move(cursor)

    def release(self, cursor: Cursor) -> Doing:
        """Shape the corner, and those chosen with it."""
        doing = self.move(cursor)
        if self._pressed is None:
            return doing
        corner, _ = self._pressed
        self._pressed = None
        return self._finished(doing, self._all_with(corner))

    def _finished(self, doing: Doing, corners: tuple[CornerRef, ...]) -> Doing:
        """Return the corners shaped and chosen; one that cannot be is asked again."""
        if not doing.edits:
            return doing
        chosen = tuple(Subject("edge", corner.a.owner, corner) for corner in corners)
        what = "a corner" if len(corners) == 1 else f"{len(corners)} corners"
        title = f"{self._kind} {what}"
        return doing._replace(outcome="finished", overlay=(), chosen=chosen, title=title)

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take another size."""
        assert isinstance(answer, float)
        self._size = answer
        return self.start() if self._last is None else self.move(self._last)

    def enter(self) -> Doing:
        """Shape the corners shown."""
        at = None if self._last is None else corner_at(self.job, self._last)
        if self._last is not None and at is not None:
            return self._finished(self.move(self._last), self._all_with(at))
        shown = self._several or (() if self._walked is None else (self._walked,))
        return self._finished(self.start(), shown)


def corner_at(job: Job, cursor: Cursor) -> CornerRef | None:
    """Return the corner of a top nearest to the pointer, within reach, whatever its shape."""
    known = {shape.corner: shape for shape in job.corner_shapes}

    def away(corner: TopCorner) -> float:
        middle = middle_of_shape(corner, known.get(corner.ref))
        return min(distance(place, cursor.point) for place in (corner.vertex, middle))

    near = min(top_corners(job), key=away, default=None)
    reach = max(3.0 * cursor.tol_in, 5.0)
    return near.ref if near is not None and away(near) <= reach else None
