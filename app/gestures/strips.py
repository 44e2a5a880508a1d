"""The tools that set a strip along an edge of a counter: a backsplash, or a ledge to eat at."""

from collections.abc import Iterator

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.drag import Drag
from app.gestures.gesture import Cursor, Doing, Gesture, next_of
from app.gestures.places import STEP_IN
from geometry.alongside import Alongside, Splash
from geometry.edges import Edge, direction_at, foot
from geometry.naming import EdgeRef
from geometry.picking import Subject
from geometry.points import Point, dot, left_of
from geometry.snapping import to_step
from shop import edits
from shop.job import Job
from shop.plan import layout, pieces, tops
from shop.strip_places import Kind, new_strip, takes
from shop.words import edge_words

REACH_IN = 12.0
"""A strip is set along the edge nearest to the pointer, if it is no farther than this."""

LEAST_IN = 1.0
"""A strip is not dragged lower, or narrower, than this."""

HINTS: dict[Kind, str] = {
    "splash": "Click a back edge, or an end at a wall; arrow keys go from one to the next.",
    "ledge": "Click a back edge, or a peninsula's far side; arrow keys go from one to the next.",
}


def size_of(strip: Alongside) -> float:
    """Return how high a backsplash is, or how wide a ledge."""
    return strip.height if isinstance(strip, Splash) else strip.width


def with_size(strip: Alongside, size: float) -> Alongside:
    """Return a strip of another height or width; one that slants keeps its slant."""
    if isinstance(strip, Splash):
        right = strip.height_right
        if right is not None:
            right = max(right + size - strip.height, LEAST_IN)
        return replace(strip, height=size, height_right=right)
    return replace(strip, width=size)


class SetStrip(Gesture):
    """Sets a backsplash or a ledge along the edge under the pointer."""

    def __init__(self, job: Job, kind: Kind, chosen: Subject | None = None) -> None:
        super().__init__(job)
        self._kind = kind
        self._strip: Alongside | None = None
        self._size: float | None = None
        self._thick: float | None = None
        ref = None if chosen is None else chosen.edge
        if isinstance(ref, EdgeRef) and takes(job, ref, kind):
            self._strip = new_strip(job, ref, kind)

    def start(self) -> Doing:
        """Ask for an edge."""
        return self._doing()

    def move(self, cursor: Cursor) -> Doing:
        """Show the strip along the nearest edge that takes one."""
        ref = self._near(cursor.point)
        self._strip = None if ref is None else new_strip(self.job, ref, self._kind)
        return self._doing()

    def arrow(self, way: Point) -> Doing:
        """Show the strip along the next edge that takes one, or along the one before."""
        # Backs come first: an end at a wall seldom has a strip alone.
        refs = dict.fromkeys(ref for _, ref in self._takers())
        takers = sorted(refs, key=lambda ref: ref.side != "back")
        ref = next_of(takers, None if self._strip is None else self._strip.edge, way)
        if ref is not None:
            self._strip = new_strip(self.job, ref, self._kind)
        return self._doing()

    def press(self, cursor: Cursor) -> Doing:
        """Set the strip there."""
        self.move(cursor)
        return self.enter()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take its height or width, or its thickness, as typed."""
        assert isinstance(answer, float)
        if key == "size":
            self._size = answer
        else:
            self._thick = answer
        return self._doing()

    def enter(self) -> Doing:
        """Leave the strip as it is shown."""
        doing, strip = self._doing(), self._standing() or self._strip
        if strip is None:
            return doing
        outer = "top" if self._kind == "splash" else "outer"
        edge = Subject("edge", strip.id, EdgeRef(strip.id, outer))
        return doing._replace(outcome="finished", chosen=(edge,), questions=())

    def _standing(self) -> Alongside | None:
        """Return the strip of this kind that takes the whole edge already, if there is one."""
        if self._strip is None:
            return None
        edge, kind = self._strip.edge, type(self._strip)
        standing = (s for s in self.job.alongside if s.edge == edge and type(s) is kind)
        return next((s for s in standing if _is_whole(s)), None)

    def _doing(self) -> Doing:
        if self._strip is None:
            return Doing(hint=HINTS[self._kind])
        if self._standing() is not None:
            word = "backsplash" if self._kind == "splash" else "ledge"
            return Doing(hint=f"A {word} stands there already. Enter or a click chooses it.")
        strip = self._strip
        if self._size is not None:
            strip = with_size(strip, self._size)
        if self._thick is not None:
            strip = replace(strip, thickness=self._thick)
        word = "High" if self._kind == "splash" else "Wide"
        asked = (
            Question("size", word, "length", size_of(strip), least=0.0, positive=True),
            Question(
                "thick", "Thick", "length", strip.thickness, least=0.0, most=12.0, positive=True
            ),
        )
        where = edge_words(self.job, strip.edge)
        hint = f"Along the {where}: Enter or a click sets it, arrow keys go to the next."
        return Doing((edits.AddAlongside(strip),), (), hint, asked)

    def _takers(self) -> Iterator[tuple[Edge, EdgeRef]]:
        """Yield the edges of tops that take such a strip."""
        for top in tops(self.job):
            outline = top.top.outline
            for edge, tag in zip(outline.edges, outline.tags, strict=True):
                if isinstance(tag.ref, EdgeRef) and takes(self.job, tag.ref, self._kind):
                    yield edge, tag.ref

    def _near(self, point: Point) -> EdgeRef | None:
        near = [(foot(edge, point).distance, ref) for edge, ref in self._takers()]
        away, ref = min(near, key=lambda one: one[0], default=(REACH_IN + 1.0, None))
        return ref if away <= REACH_IN else None


def _is_whole(strip: Alongside) -> bool:
    """Tell whether a strip goes from end to end of its edge."""
    marks = (strip.left_at, strip.right_at) if isinstance(strip, Splash) else ()
    return max(strip.left, strip.right) <= 0.0 and not any(marks)


def _lowest(strip: Alongside) -> float:
    """Return how high a strip stays at least: it steps down at an end to less."""
    steps = (strip.step_left, strip.step_right) if isinstance(strip, Splash) else ()
    return max((step.height + STEP_IN for step in steps if step is not None), default=0.0)


class DragStripSide(Drag):
    """Moves the far side of a strip: its height or width follows."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the strip higher or less high, wider or narrower."""
        strip = next(piece for piece in self.job.alongside if piece.id == self.subject.id)
        for own in layout(self.job).strips:
            for edge, tag in zip(own.top.outline.edges, own.top.outline.tags, strict=True):
                if tag.ref == self.subject.edge:
                    out = left_of(direction_at(edge, 0.5))
                    size = size_of(strip) - to_step(dot(by, out), STEP_IN)
                    if size >= max(LEAST_IN, _lowest(strip)):
                        edit = edits.SetAlongside(with_size(strip, size))
                        return Doing((edit,), title="size strip")
        return Doing(hint="A strip needs some size.")


def strip_of_piece(job: Job, name: str) -> Alongside | None:
    """Return the strip that a piece is, or None for a piece of a counter."""
    top = next((piece.top for piece in pieces(job) if piece.name == name), None)
    return next((strip for strip in job.alongside if strip.id == top), None)
