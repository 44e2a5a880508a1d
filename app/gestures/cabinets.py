"""Cabinets along the walls: placed one after the other, and dragged along their wall."""

from collections.abc import Iterator
from typing import Literal, cast

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.along_walls import REACH_IN, AlongWall, wall_shown
from app.gestures.drag import Drag
from app.gestures.gesture import Cursor, Doing
from app.gestures.places import caught, said
from geometry.edges import Edge, foot
from geometry.frames import WallLine, along_of, into_room, wall_direction
from geometry.naming import EdgeRef, Id
from geometry.picking import Subject
from geometry.points import Point, along, dot, minus
from geometry.snapping import Mark
from shop import edits
from shop.cabinet_lines import (
    cabinet_line,
    lines_offered,
    row_facing,
    row_line,
    side_within,
    standing_along,
    wall_end,
)
from shop.cabinets import (
    USE_WORDS,
    USUAL_WIDTH_IN,
    CabinetPlan,
    Use,
    along_from,
    cabinet_label,
    cabinet_plans,
    cabinets_on,
    corner_taken,
    end_words,
    line_words,
    lined_up,
)
from shop.job import Cabinet, Job
from shop.references import legs_of
from shop.words import capital, length_style

NARROWEST_IN, WIDTHS_IN = 9.0, 3.0
"""Base cabinets come so narrow, and in such steps; common practice, no source."""

USES: tuple[tuple[str, str], ...] = tuple((use, capital(words)) for use, words in USE_WORDS.items())
"""What a cabinet or an appliance can be, to choose from."""


class PlaceCabinet(AlongWall):
    """Lines cabinets up along a wall, a peninsula, an island: it is clicked, widths are typed."""

    hint = (
        "Click a wall, or a side of a peninsula or an island, at the end where the cabinets begin."
    )

    def __init__(self, job: Job, chosen: Id | None = None) -> None:
        self._use: Use = "base"
        self._width: float | None = None
        self._hook: Literal["left", "right"] = "left"
        self._along: float | None = None
        self._depth: float | None = None
        super().__init__(job, chosen)

    def lines(self) -> tuple[Id, ...]:
        """Return the walls, then both sides of peninsulas and the straight sides of islands."""
        walls = super().lines()
        return (*walls, *(x.id for x in lines_offered(self.job) if x.id not in walls))

    def near(self, cursor: Cursor) -> Id | None:
        """Return the wall, or the side of a peninsula or an island, that a cursor is at."""
        found = line_near(self.job, cursor, max(2.0 * cursor.tol_in, REACH_IN))
        return None if found is None else found.id

    def called(self, wall: Id) -> str:
        """Return what a wall, or a side of a peninsula or an island, is called."""
        return line_words(self.job, wall)

    def line(self, wall: Id) -> WallLine:
        """Return the line that cabinets stand along there."""
        return cabinet_line(self.job, wall)

    def begun(self) -> None:
        """Begin at the wall's left corner, or where a peninsula leaves its wall."""
        self._hook, self._along = wall_end(self.job, self.wall.id) or "left", None
        self._depth = None

    def pointed(self, point: Point) -> None:
        """Begin at the nearer corner of the wall."""
        nearer_left = along_of(self.wall, point) <= self.size / 2.0
        self._hook, self._along = "left" if nearer_left else "right", None

    def arrow(self, way: Point) -> Doing:
        """Go to another wall; with a wall at hand, to another use."""
        if self._wall is None:
            return super().arrow(way)
        uses = list(USE_WORDS)
        by = 1 if way[0] - way[1] > 0.0 else -1
        return self.answer("use", uses[(uses.index(self._use) + by) % len(uses)])

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take what the cabinet is, its width, its place or how deep it is."""
        if self._wall is None:
            return self.start()
        if key == "use":
            self._use, self._width = cast(Use, answer), None
        elif key == "width":
            self._width = float(answer)
        elif key == "depth":
            self._depth = float(answer)
        else:
            self._along = float(answer)
        return self.asking()

    def asking(self) -> Doing:
        """Show the cabinet where it would stand, and ask what it is and how wide.

        Under an island rows are of many depths: how deep it is is asked, too.
        """
        made = self._made()
        begins = end_words(self.job, self.wall.id, self._hook)
        asked: tuple[Question, ...] = (
            Question("use", "Next", "choice", self._use, choices=USES),
            Question("width", "Width", "length", made.width, positive=True, most=240.0),
            Question("along", f"From {begins}", "length", made.along),
        )
        if made.island_side is not None:
            deep = Question("depth", "Depth", "length", made.depth, positive=True, most=240.0)
            asked = (*asked, deep)
        shown = wall_shown(self.wall)
        return Doing((edits.AddCabinet(made),), shown, "", asked, at="width")

    def entered(self) -> Doing:
        """Place the cabinet and ask for the next one."""
        made = self._made()
        title = f"place {cabinet_label(made, length_style(self.job))}"
        return Doing((edits.AddCabinet(made),), outcome="kept", title=title)

    def resumed(self, job: Job) -> Doing:
        """Ask for the cabinet after the one just placed; after an appliance comes a base."""
        self.job, self._along, self._depth = job, None, None
        if self._use != "base":
            self._use, self._width = "base", None
        made, wall = self._made(), self.wall.id
        left_over = self.size - made.along
        if made.width <= left_over or wall not in super().lines():
            return self.start()
        if left_over >= NARROWEST_IN:
            self._width = left_over // WIDTHS_IN * WIDTHS_IN
            return self.start()
        self._near = self._wall = None
        words = f"The row reaches the end of {self.called(wall)}."
        return self.start()._replace(hint=f"{words} {self.hint}")

    def _made(self) -> Cabinet:
        width = USUAL_WIDTH_IN[self._use] if self._width is None else self._width
        made = lined_up(self.job, self.wall.id, self._hook, self._use, width)
        along = made.along if self._along is None else self._along
        return replace(made, along=along, depth=self._depth or made.depth)


class DragCabinet(Drag):
    """Moves a cabinet along its wall; its sides catch at its neighbors' and in the corners."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the cabinet moved along."""
        found = next((p for p in cabinet_plans(self.job) if p.cabinet.id == self.subject.id), None)
        if found is None:
            return self.start()
        cabinet = found.cabinet
        way = dot(by, wall_direction(found.wall)) * (-1.0 if cabinet.hook == "right" else 1.0)
        place = caught(
            cabinet.along + way,
            cabinet_marks(self.job, found),
            max(cursor.tol_in, 1.0),
            no_snap=cursor.no_snap,
        )
        edit = edits.SetCabinet(replace(cabinet, along=place.value))
        title = f"move {found.label}"
        return Doing((edit,), (), said(place) or self.hint, title=title)


def row_chosen(job: Job, chosen: Subject | None) -> Id | None:
    """Return the line that cabinets begin along, of a chosen wall or edge out in the room."""
    if chosen is None or chosen.kind == "wall":
        return None if chosen is None else chosen.id
    ref = chosen.edge
    if isinstance(ref, EdgeRef) and any(one.id == ref.owner for one in job.islands):
        return row_facing(job, ref.owner, ref.side)
    leg = legs_of(job).get(ref.owner) if isinstance(ref, EdgeRef) else None
    if leg is None or leg.peninsula is None or not isinstance(ref, EdgeRef):
        return None
    return row_line(leg.id, "far" if ref.side == "far" else "front")


def line_near(job: Job, cursor: Cursor, reach_in: float) -> WallLine | None:
    """Return the line of cabinets that a cursor is at, within a reach; None if none is near.

    Of a peninsula's two lines it is the one on whose side the cursor is, and anywhere above the
    counter is near. Of an island's it is the one of the nearest side, as near as that.
    """
    near: list[tuple[float, Id, WallLine]] = []
    for line in lines_offered(job):
        if line.left == line.right:
            continue
        away = foot(Edge(line.left, line.right), cursor.point).distance
        own, side, _ = standing_along(line.id)
        within = side_within(job, line.id)
        if within is not None:
            reach = within.away if side == "front" else within.deep - within.away
            left, right = (along(p, into_room(line), reach) for p in (line.left, line.right))
            away = foot(Edge(left, right), cursor.point).distance
        leg = legs_of(job).get(own)
        reach = reach_in if within is None else max(reach_in, within.deep / 2.0)
        if leg is not None and leg.peninsula is not None:
            if dot(minus(cursor.point, line.left), into_room(line)) < 0.0:
                continue
            deep = min(leg.depth_left, leg.depth_right)
            reach = max(reach, leg.peninsula.overhang if side == "far" else deep)
        if away <= reach:
            near.append((away, line.id, line))
    return min(near)[2] if near else None


def cabinet_marks(job: Job, found: CabinetPlan) -> list[Mark]:
    """Return where a cabinet likes to start: against its neighbors and in the corners."""
    wall, own = found.wall, found.cabinet
    size = along_of(wall, wall.right)
    if own.island_side is None:
        lefts = [(corner_taken(job, wall.id, "left", own.depth), "the corner")]
        rights = [(size - corner_taken(job, wall.id, "right", own.depth), "the corner")]
    else:
        over = job.defaults.end_overhang
        lefts, rights = [(over, "the end")], [(size - over, "the end")]
        across = row_line(own.wall, "far" if own.side == "front" else "front", own.island_side)
        for behind in cabinets_on(job, across):
            lefts.append((size - behind.right, f"the {behind.label} behind it"))
            rights.append((size - behind.left, f"the {behind.label} behind it"))
    for other in cabinets_on(job, wall.id):
        if other.cabinet.id != own.id:
            lefts.append((other.right, f"the {other.label}"))
            rights.append((other.left, f"the {other.label}"))
    for low, high, words in _standing_across(job, wall, own):
        rights.append((low, words))
        lefts.append((high, words))
    places = [*lefts, *((at - own.width, words) for at, words in rights)]
    return [Mark(along_from(found, at), words) for at, words in places]


def _standing_across(job: Job, wall: WallLine, own: Cabinet) -> Iterator[tuple[float, float, str]]:
    """Yield the stretches of a wall that cabinets of its peninsulas take, and what those are."""
    legs = legs_of(job)
    for other in cabinet_plans(job):
        leg = legs.get(other.cabinet.wall)
        if leg is None or leg.wall != wall.id:
            continue
        off = [dot(minus(corner, wall.left), into_room(wall)) for corner in other.corners]
        if min(off) < own.depth:
            places = [along_of(wall, corner) for corner in other.corners]
            yield min(places), max(places), f"the {other.label}"
