"""Tools that place openings: the hole follows the pointer and says where it sits."""

from app.asking import Answer, Question
from app.catalog import CatalogEntry
from app.gestures.drags import anchored, at_front
from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import ARROW_IN, top_or_strip_at
from geometry.alongside import Splash
from geometry.openings import (
    ApronShape,
    BesideOpening,
    CircleShape,
    Opening,
    RectangleShape,
    Shape,
    SlotShape,
    extent,
)
from geometry.picking import Subject
from geometry.points import Point, along
from geometry.templates import DrilledHole, TemplateShape
from shop import edits
from shop.anchors import held
from shop.applying import applied
from shop.clearances import clearance_sentence
from shop.job import Job, fresh_id
from shop.plan import is_hole
from shop.references import strips_of
from shop.words import numbered


class PlaceOpening(Gesture):
    """Places an opening that starts like one of the catalog, or like a maker's template.

    With a template come the faucet holes that it marks; they go where the sink goes.
    """

    def __init__(
        self,
        job: Job,
        entry: CatalogEntry,
        begin: Point | None = None,
        holes: tuple[DrilledHole, ...] = (),
    ) -> None:
        super().__init__(job)
        self._holes = holes
        self._name = numbered(entry.called, {o.name for o in job.openings})
        self._entry = entry
        self._id = fresh_id(job, "opening")
        self._shape = entry.shape
        self._upright = False
        self._last = None if begin is None else Cursor(begin, 0.0)

    def start(self) -> Doing:
        """Show the opening where it begins, and offer the sizes."""
        return self._asking() if self._last is None else self.move(self._last)

    def _asking(self) -> Doing:
        return Doing(hint=self._hint(), questions=self._questions())

    def _hint(self) -> str:
        if self._last is None:
            return f"Click where the {self._name} goes."
        return (
            f"Click where the {self._name} goes, or move it with the arrow keys; Enter leaves it."
        )

    def _questions(self) -> tuple[Question, ...]:
        sizes = tuple(
            Question(key, label, "length", value, least=0.0, positive=True)
            for key, label, value in sizes_of(self._shape, upright=self._upright)
        )
        return (*sizes, *asked_turn(self._shape))

    def move(self, cursor: Cursor) -> Doing:
        """Show the opening at the pointer."""
        self._last = cursor
        top = top_or_strip_at(self.job, cursor.point)
        if top is None:
            return self._asking()
        self._upright = isinstance(strips_of(self.job).get(top.top.id), Splash)
        hole = is_hole(self._shape, self._entry.use)
        at, words, overlay = anchored(self.job, top, cursor.point, cursor, hole=hole)
        if isinstance(self._shape, ApronShape):
            at = at_front(at)
        opening = Opening(
            id=self._id,
            name=self._name,
            shape=self._shape,
            at=held(self.job, self._entry.use, at),
            use=self._entry.use,
            reveal=self._entry.reveal,
        )
        edit = edits.AddOpening(opening)
        behind_it = clearance_sentence(applied(self.job, edit), self._id)
        said = words or self._hint()
        hint = " ".join(filter(None, (said, behind_it)))
        return Doing((edit, *self._drilled(opening)), overlay, hint, self._questions())

    def _drilled(self, host: Opening) -> tuple[edits.Edit, ...]:
        """Return what places the holes beside their sink."""
        job, made = self.job, list[edits.Edit]()
        job = applied(job, edits.AddOpening(host))
        for hole in self._holes:
            x, y = hole.middle
            drilled = Opening(
                id=fresh_id(job, "opening"),
                name=numbered("faucet", {o.name for o in job.openings}),
                shape=CircleShape(hole.diameter),
                at=BesideOpening(host.id, x, y - extent(host.shape)[3] - host.reveal),
                use="faucet",
            )
            edit = edits.AddOpening(drilled)
            job = applied(job, edit)
            made.append(edit)
        return tuple(made)

    def press(self, cursor: Cursor) -> Doing:
        """Leave the opening here."""
        doing = self.move(cursor)
        if not doing.edits:
            return doing._replace(hint="Click on a top.")
        return doing._replace(outcome="finished", chosen=(Subject("opening", self._id),))

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take another size."""
        assert isinstance(answer, float)
        self._shape = resized(self._shape, key, answer)
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Move it, as long as it stays on a top."""
        if self._last is not None:
            there = along(self._last.point, way, ARROW_IN)
            if top_or_strip_at(self.job, there) is not None:
                self._last = Cursor(there, 0.0)
        return self.start()

    def enter(self) -> Doing:
        """Leave the opening where the pointer last was."""
        return self._asking() if self._last is None else self.press(self._last)


def sizes_of(shape: Shape, *, upright: bool = False) -> tuple[tuple[str, str, float], ...]:
    """Return the key, label and value of each size of a shape that may not be nothing.

    upright is for one in a backsplash, which stands.
    """
    match shape:
        case RectangleShape() if upright:
            return (("width", "Wide", shape.width), ("depth", "High", shape.depth))
        case RectangleShape():
            return (
                ("width", "Width along the front", shape.width),
                ("depth", "Depth", shape.depth),
            )
        case ApronShape():
            return (
                ("width", "Width along the front", shape.width),
                ("depth", "Depth from the front edge", shape.depth),
            )
        case CircleShape():
            return (("diameter", "Diameter", shape.diameter),)
        case SlotShape():
            return (("length", "Length", shape.length), ("width", "Width", shape.width))
        case TemplateShape():
            return ()


def asked_turn(shape: Shape) -> tuple[Question, ...]:
    """Return the question for how a shape is turned, if it can be turned at all."""
    if not isinstance(shape, SlotShape):
        return ()
    label = "Turned from along the front"
    return (Question("angle", label, "angle", shape.angle, least=-360.0, most=360.0),)


def resized(shape: Shape, key: str, value: float) -> Shape:
    """Return the shape with another size or turn; a template has none to change."""
    match shape:
        case RectangleShape():
            width, depth, radius = shape.width, shape.depth, shape.radius
            if key == "width":
                width = value
            elif key == "depth":
                depth = value
            else:
                radius = value
            return RectangleShape(width, depth, min(radius, width / 2.0, depth / 2.0))
        case ApronShape():
            size = {"width": shape.width, "depth": shape.depth, "radius": shape.radius, key: value}
            most = min(size["width"] / 2.0, size["depth"])
            return ApronShape(size["width"], size["depth"], min(size["radius"], most))
        case CircleShape():
            return CircleShape(value)
        case SlotShape():
            size = {"length": shape.length, "width": shape.width, "angle": shape.angle, key: value}
            return SlotShape(size["length"], size["width"], size["angle"])
        case TemplateShape():
            return shape
