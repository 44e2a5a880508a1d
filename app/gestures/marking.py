"""The tool that puts a mark into the room and ties it to a wall and a corner."""

from typing import Literal, TypeAlias

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.gestures.places import room_targets, said
from app.taking import retaken_by, taken
from export.marks import AnyMark, Line, Spot
from geometry.edges import Edge, foot
from geometry.frames import WallLine
from geometry.naming import Id
from geometry.points import Point, along, distance
from geometry.snapping import snapped, to_step
from shop import edits
from shop.job import Job, Mark, fresh_id
from shop.readings import TieReading
from shop.survey import CornerPlan, drawn_place, room
from shop.words import wall_words

MarkKind: TypeAlias = Literal["window", "drain", "supply", "outlet", "cabinet", "other"]

MARK_KINDS: tuple[tuple[MarkKind, str], ...] = (
    ("window", "Window"),
    ("drain", "Drain"),
    ("supply", "Supply"),
    ("outlet", "Outlet"),
    ("cabinet", "Cabinet side"),
    ("other", "Other"),
)

STEP_IN = 6.0
"""An arrow key moves a mark so far before it is put."""


ORDER = ("along", "square", "straight")
"""The ties of a mark in the order in which they are asked."""


class PutMark(Gesture):
    """Puts a mark, asks what it is, then for the tapes that tie it; one mark after the other."""

    hint = "Click where the mark is, or move it there with the arrow keys and press Enter."

    def __init__(self, job: Job, chosen: Id | None = None) -> None:
        super().__init__(job)
        self._place: Point | None = None
        self._words = ""
        self._kind: MarkKind = "window"
        self._named = ""
        self._put = False
        self._mark = chosen
        self._ties: dict[str, float | None] = {}
        self._at = ""
        if chosen is not None:
            self._place = next(m.point for m in room(job).marks if m.id == chosen)
            self._at = "along"

    def start(self) -> Doing:
        """Ask for a place, what is there, or what ties it."""
        if self._mark is not None:
            return self._tying()
        shown: tuple[AnyMark, ...] = ()
        if self._place is not None:
            shown = (Spot("check", kind="cross", at=self._place, size=0.1),)
        if not self._put:
            return Doing(hint=self._words or self.hint, overlay=shown)
        kind = Question("kind", "What it is", "choice", self._kind, choices=MARK_KINDS)
        name = Question("name", "called", "words", self._name())
        return Doing((edits.AddMark(self._made()),), shown, "", (kind, name), at="name")

    def move(self, cursor: Cursor) -> Doing:
        """Show where the mark would be."""
        if not self._put and self._mark is None:
            self._place, self._words = self._caught(cursor)
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Put the mark here, or the one that is being named elsewhere."""
        if self._mark is None:
            self._place, self._words = self._caught(cursor)
            self._put = True
        return self.start()

    def release(self, cursor: Cursor) -> Doing:
        """Go on."""
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Move the place of the mark."""
        if self._mark is None and not self._put:
            at = self._place or self._middle()
            self._place = along(at, way, STEP_IN) if self._place is not None else at
            self._words = ""
        return self.start()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take what was typed or chosen."""
        if key == "kind":
            self._kind = next(kind for kind, _ in MARK_KINDS if kind == answer)
        elif key == "name":
            self._named = str(answer)
        else:
            self._ties[key] = answer if isinstance(answer, float) else None
            self._hows.pop(key, None)
            self._at = key
        return self.start()

    def enter(self) -> Doing:
        """Put the mark, take its name, or go from tie to tie and take them."""
        if self._mark is None:
            if self._place is None:
                return CANCELED
            if not self._put:
                self._put = True
                return self.start()
            made = self._made()
            return Doing((edits.AddMark(made),), outcome="kept", title=f"mark {made.name}")
        if self._at != ORDER[-1]:
            self._at = ORDER[ORDER.index(self._at) + 1]
            return self.start()
        return self._tied() or CANCELED

    def resumed(self, job: Job) -> Doing:
        """Ask for the ties of a mark just put, or for the next mark."""
        self.job = job
        if self._mark is not None:
            return self._anew()
        self._mark, self._at, self._ties = job.room.marks[-1].id, "along", {}
        self._place = room(job).marks[-1].point
        return self.start()

    def rewound(self, job: Job) -> Doing:
        """Ask for a mark's place."""
        self.job = job
        return self._anew()

    def back(self) -> Doing:
        """Leave the ties, take the mark back, or leave the tool; ties that are typed are taken."""
        tied = self._tied()
        if tied is not None:
            return tied
        if self._mark is None and not self._put:
            return CANCELED
        return self._anew()

    def _anew(self) -> Doing:
        self._mark, self._put, self._named, self._place = None, False, "", None
        self._words, self._at, self._ties = "", "", {}
        return self.start()

    def _tied(self) -> Doing | None:
        """Take what ties the mark; None if nothing does."""
        read = tuple(key for key in ORDER if self._ties.get(key) is not None)
        if self._mark is None or not read:
            return None
        made = tuple(
            taken(self.job, self._tie(key, i), self._hows.get(key)) for i, key in enumerate(read)
        )
        return Doing(made, outcome="kept", title="tie a mark")

    def _caught(self, cursor: Cursor) -> tuple[Point, str]:
        snap = (
            None if cursor.no_snap else snapped(cursor.point, room_targets(self.job), cursor.tol_in)
        )
        if snap is None:
            return (to_step(cursor.point[0], 1.0), to_step(cursor.point[1], 1.0)), ""
        return snap.point, said(snap)

    def _middle(self) -> Point:
        points = [c.point for c in room(self.job).corners]
        count = max(len(points), 1)
        x, y = (sum(p[i] for p in points) / count for i in (0, 1))
        return (to_step(x, 1.0), to_step(y, 1.0))

    def _name(self) -> str:
        if self._named:
            return self._named
        word = dict(MARK_KINDS)[self._kind].lower() if self._kind != "other" else "mark"
        taken_names = {mark.name for mark in self.job.room.marks}
        number = 1
        while f"{word} {number}" in taken_names:
            number += 1
        return f"{word} {number}"

    def _made(self) -> Mark:
        assert self._place is not None
        x, y = drawn_place(self.job, self._place)
        return Mark(fresh_id(self.job, "mark"), self._name(), x, y, self._kind)

    # --- Ties ----------------------------------------------------------------------------------

    def _tying(self) -> Doing:
        wall, corner = self._nearest()
        assert self._place is not None
        here = next(m.point for m in room(self.job).marks if m.id == self._mark)
        shown: list[AnyMark] = [Spot("check", kind="cross", at=here, size=0.1)]
        asked: list[Question] = []
        numbers = {c.point: c.number for c in room(self.job).corners}
        if wall is not None:
            name = wall_words(self.job, wall.id)
            asked.append(self._box("along", f"From corner {numbers[wall.left]}, along {name}"))
            asked.append(self._box("square", f"Square out from {name}"))
            square = foot(Edge(wall.left, wall.right), here).point
            shown.append(Line("check", points=(here, square), bulges=(0.0,)))
        if corner is not None:
            asked.append(self._box("straight", f"Straight to corner {corner.number}"))
            shown.append(Line("reading", points=(here, corner.point), bulges=(0.0,)))
        return Doing((), tuple(shown), "", tuple(asked), at=self._at)

    def _box(self, key: str, label: str) -> Question:
        value = self._ties.get(key)
        return Question(
            key,
            label,
            "length",
            "" if value is None else value,
            least=-600.0,
            optional=True,
            retaken=retaken_by(self.job, self._tie(key, 0)),
        )

    def _nearest(self) -> tuple[WallLine | None, CornerPlan | None]:
        """Return the wall and the corner nearest to the mark."""
        plan = room(self.job)
        here = next(m.point for m in plan.marks if m.id == self._mark)
        walls = [w for w in plan.walls if w.left != w.right]
        wall = min(walls, key=lambda w: foot(Edge(w.left, w.right), here).distance, default=None)
        corners = [c for c in plan.corners if wall is None or c.point != wall.left]
        corner = min(corners, key=lambda c: distance(c.point, here), default=None)
        return wall, corner

    def _tie(self, key: str, ahead: int) -> TieReading:
        wall, corner = self._nearest()
        assert self._mark is not None
        value = self._ties.get(key) or 0.0
        id_ = fresh_id(self.job, "reading", ahead)
        if key == "straight":
            assert corner is not None
            return TieReading(id_, self._mark, corner.id, value)
        assert wall is not None
        return TieReading(id_, self._mark, wall.id, value, "square" if key == "square" else "along")
