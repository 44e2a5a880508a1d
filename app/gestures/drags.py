"""Dragging what is there: openings, seams, ends and fronts of runs, corners, islands."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import reduce
from math import radians
from typing import Literal

from msgspec.structs import replace

from app.gestures.cabinets import DragCabinet
from app.gestures.drag import Choose, ChooseAlso, Drag
from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import (
    STEP_IN,
    caught,
    end_marks,
    guides,
    inside_corners,
    island_of,
    leg_at,
    off_corners,
    opening_marks,
    owned,
    room_targets,
    said,
    side_marks,
    sink_base_marks,
    sink_bases_within,
    top_at,
    top_or_strip_at,
    wall_marks,
)
from app.gestures.shaping import (
    DragCornerShape,
    MoveFreeCorner,
    MoveFreeSide,
    can_bow,
    free_corner,
    taken_hold,
)
from app.gestures.strips import DragStripSide
from app.gestures.weighing import weighed
from export.marks import AnyMark, Line
from geometry.alongside import Splash
from geometry.counters import FromWalls, OnBoard, Run, RunEnd, SquareEnd, WallEnd
from geometry.edges import Edge, foot
from geometry.flattening import ring
from geometry.frames import (
    Hook,
    IslandFrame,
    LegFrame,
    WallLine,
    along_leg_at,
    along_of,
    in_island_at,
    into_room,
    island_middle,
    island_point,
    island_side,
    leg_point,
    nearest_leg,
    on_side,
    wall_direction,
    wall_mark,
)
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.openings import AlongLeg, InIsland, Place, PlacedOpening
from geometry.picking import Subject
from geometry.points import (
    Point,
    along,
    distance,
    dot,
    left_of,
    middle,
    minus,
    plus,
    turned,
    unit,
)
from geometry.seams import Seam, SeamAtCorner, SeamOnIsland, SeamOnLeg
from geometry.snapping import Guideline, Mark, Snap, Target, snapped, to_step
from shop import edits
from shop.aligning_islands import moved_place
from shop.anchors import held_words, kept, over_offers, over_place, place_by
from shop.applying import applied
from shop.clearances import clearance_sentence
from shop.drain_mends import CAUGHT_IN, run_into_sink
from shop.inset_places import kept_inset
from shop.insets import inset_plans
from shop.island_rows import in_line_with, sides_along
from shop.job import Job
from shop.leg_lines import line_of
from shop.legs import end_of, further_wall, round_corner, wall_before
from shop.plan import TopPlan, is_small, layout, pieces, tops, tops_and_strips
from shop.readings import TieReading
from shop.references import legs_of, run_of, strips_of
from shop.seam_words import seam_told
from shop.strip_seams import seam_at, seams_met
from shop.survey import drawn_place, room
from shop.top_corners import shape_of
from shop.words import hook_words, wall_words

END_GRIP, END_GRIP_IN = 3.0, 4.0
"""A front is taken by one end within so many times the pointer's reach, and at least so near."""


class DragOpening(Drag):
    """Moves an opening along its leg or in its island, or over to another top."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the opening moved; along and back are rounded or snapped."""
        placed = next(
            (o for t in tops_and_strips(self.job) for o in t.openings if o.id == self.subject.id),
            None,
        )
        if placed is None:
            return self.start()
        target = plus(placed.center, by)
        own = next(t for t in tops_and_strips(self.job) if placed in t.openings)
        top = top_or_strip_at(self.job, target) or own
        opening = next(o for o in self.job.openings if o.id == self.subject.id)
        at, words, overlay = anchored(
            self.job,
            top,
            target,
            cursor,
            but=opening.id,
            like=_hook(self.job, placed.id),
            hole=is_small(opening),
        )
        if placed.notch:
            at = at_front(at)
        anchor = kept(self.job, opening.at, at)
        edit = edits.MoveOpening(opening.id, anchor)
        behind_it = clearance_sentence(applied(self.job, edit), opening.id)
        hint = " ".join(filter(None, (words, behind_it))) or self.hint
        return Doing((edit,), overlay, hint)


def at_front(at: Place) -> Place:
    """Return the place of a cut that is open to the front: on its line, on an island on side 1."""
    return replace(at, back=0.0) if isinstance(at, AlongLeg) else replace(at, y=0.0)


def _hook(job: Job, opening: Id) -> AlongLeg | None:
    at = place_by(job, opening)
    return at if isinstance(at, AlongLeg) else None


def anchored(
    job: Job,
    top: TopPlan,
    target: Point,
    cursor: Cursor,
    *,
    but: Id = "",
    like: AlongLeg | None = None,
    hole: bool = False,
) -> tuple[Place, str, tuple[AnyMark, ...]]:
    """Return the anchor of a place on a top, to what it snapped, and guide lines.

    but is an opening that is not snapped to; like gives the hook to keep on the same leg. A small
    hole is caught at the middle of a sink rather than at one of the counter, and halfway from the
    sink's rim to the back, too.
    """
    tol = cursor.tol_in
    frame = leg_at(top, target)
    if frame is None:
        island = island_of(top)
        assert island is not None
        x, y = in_island_at(island, target)
        x0, y0 = island.low
        x1, y1 = x0 + island.width, y0 + island.depth
        xs = [Mark((x0 + x1) / 2.0, "the middle of the island")]
        ys = [Mark((y0 + y1) / 2.0, "the middle of the island's depth")]
        for base, along_x in sink_bases_within(job, island):
            at = in_island_at(island, base.middle)[0 if along_x else 1]
            (xs if along_x else ys).append(Mark(at, "the middle of the sink base"))
        xs += opening_marks(job, top, lambda p: in_island_at(island, p)[0], but, spaced=True)
        ys += opening_marks(job, top, lambda p: in_island_at(island, p)[1], but)
        sx = caught(x, xs, tol, no_snap=cursor.no_snap)
        sy = caught(y, ys, tol, no_snap=cursor.no_snap)
        lines = _guides(
            (
                (
                    sx,
                    island_point(island, sx.value, y0),
                    island_point(island, sx.value, y1),
                ),
                (
                    sy,
                    island_point(island, x0, sy.value),
                    island_point(island, x1, sy.value),
                ),
            )
        )
        return InIsland(island.island, sx.value, sy.value), said(sx, sy), lines
    hook = like.hook if like is not None and like.leg == frame.leg else "left"
    run, back = along_leg_at(frame, target, hook)
    ends = [along_of(frame.wall, p, hook) for p in (frame.front.start, frame.front.end)]
    depth = along_leg_at(frame, frame.back.start, hook)[1]
    first = opening_marks(job, top, lambda p: along_leg_at(frame, p, hook)[0], but)
    runs = [Mark(sum(ends) / 2.0, middle_words(job, frame)), wall_middle(job, frame)]
    runs += over_marks(job, frame, hook)
    runs += sink_base_marks(job, frame.wall, hook)
    runs += opening_marks(job, top, lambda p: along_leg_at(frame, p, hook)[0], but, spaced=True)
    of = "height" if isinstance(strips_of(job).get(frame.leg), Splash) else "depth"
    backs = [Mark(depth / 2.0, f"the middle of the {of}")]
    backs += opening_marks(job, top, lambda p: along_leg_at(frame, p, hook)[1], but)
    if hole:
        others = (o for o in top.openings if o.id != but)
        backs += _behind_rims(job, others, (run, depth), lambda p: along_leg_at(frame, p, hook))
    sa = caught(run, first if hole else (), tol, no_snap=cursor.no_snap)
    if not sa.words:
        sa = caught(run, runs, tol, no_snap=cursor.no_snap)
    sb = caught(back, backs, tol, no_snap=cursor.no_snap)
    lines = _guides(
        (
            (sa, leg_point(frame, sa.value, 0.0, hook), leg_point(frame, sa.value, depth, hook)),
            (
                sb,
                leg_point(frame, ends[0], sb.value, hook),
                leg_point(frame, ends[1], sb.value, hook),
            ),
        )
    )
    return AlongLeg(frame.leg, sa.value, sb.value, hook), said(sa, sb), lines


def _behind_rims(
    job: Job,
    openings: Iterable[PlacedOpening],
    at: tuple[float, float],
    seen: Callable[[Point], tuple[float, float]],
) -> Iterator[Mark]:
    """Yield where it is halfway from the rims of sinks to the back edge, behind them.

    at is how far along it is and how far back the back edge is; seen tells both of a point.
    """
    drawn = {opening.id: opening for opening in job.openings}
    run, depth = at
    for placed in openings:
        opening = drawn[placed.id]
        rim = [seen(point) for point in ring(placed.outline)]
        behind = max(back for _, back in rim)
        beside = not min(x for x, _ in rim) <= run <= max(x for x, _ in rim)
        if not (is_small(opening) or beside or behind >= depth):
            yield Mark((behind + depth) / 2.0, f"halfway from the {opening.name} to the back")


def _guides(lines: tuple[tuple[Mark, Point, Point], ...]) -> tuple[AnyMark, ...]:
    return tuple(
        Line("reading", points=(a, b), bulges=(0.0,)) for found, a, b in lines if found.words
    )


SQUARE_DEG = 90.0


class DragSeam(Drag):
    """Moves a seam along its leg or island side; one from corner to corner stays."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the seam moved along."""
        seam = next(s for s in self.job.seams if s.id == self.subject.id)
        top = next((t for t in tops_and_strips(self.job) if t.top.id == seam.top), None)
        start = seam.start
        bent = self._bent(seam, by)
        if bent is not None:
            return self._shown(bent, "It bends here.", cursor)
        if isinstance(start, SeamOnLeg) and top is not None:
            frame = next(
                f for f in top.top.frames if isinstance(f, LegFrame) and f.leg == start.leg
            )
            way = dot(by, wall_direction(frame.wall)) * (-1.0 if start.hook == "right" else 1.0)
            found = caught(
                start.along + way,
                seam_marks(self.job, top, frame, start.hook),
                cursor.tol_in,
                no_snap=cursor.no_snap,
            )
            if start.angle == SQUARE_DEG and start.bend is None and not cursor.no_snap:
                found = off_corners(top, frame, found.value, start.hook) or found
            moved = replace(seam, start=replace(start, along=found.value))
            return self._shown(moved, said(found), cursor)
        if isinstance(start, SeamOnIsland) and top is not None:
            island = island_of(top)
            assert island is not None
            side = island_side(island, start.side)
            assert side is not None
            way = dot(by, unit(minus(side.end, side.start)))
            found = caught(
                start.along + way,
                island_seam_marks(self.job, top, island, start.side),
                cursor.tol_in,
                no_snap=cursor.no_snap,
            )
            value = max(found.value, 0.0)
            moved = replace(seam, start=replace(start, along=value))
            return self._shown(moved, said(found), cursor)
        return Doing(hint="A seam from corner to corner stays with its corners.")

    def _bent(self, seam: Seam, by: Point) -> Seam | None:
        """Return a dog-leg with its knee moved along its first part, if it was taken there."""
        start = seam.start
        path = next((p for p in layout(self.job).paths if p.id == seam.id), None)
        if isinstance(start, SeamAtCorner) or start.bend is None:
            return None
        if path is None or path.knee is None or self.pressed.tol_in <= 0.0:
            return None
        grip = max(END_GRIP * self.pressed.tol_in, END_GRIP_IN)
        deep = distance(path.start, path.knee)
        if distance(path.knee, self.pressed.point) > min(grip, deep / 2.0):
            return None
        inward = left_of(turned(path.direction, -radians(start.angle)))
        more = dot(by, inward) * (1.0 if start.bend.taped_from == "start" else -1.0)
        at = max(to_step(start.bend.at + more, STEP_IN), STEP_IN)
        return replace(seam, start=replace(start, bend=replace(start.bend, at=at)))

    def _shown(self, moved: Seam, words: str, cursor: Cursor) -> Doing:
        """Show a moved seam with the weights it leaves, what is under it and the next opening."""
        seams = (moved if seam.id == moved.id else seam for seam in self.job.seams)
        after = replace(self.job, seams=tuple(seams))
        hint = " ".join(filter(None, (words, seam_told(after, moved.id)))) or self.hint
        overlay = weighed(after, moved.id, cursor.tol_in)
        return Doing((edits.SetSeam(moved),), overlay, hint, title="move seam")


def island_side_direction(angle_rad: float, side: str) -> Point:
    """Return the unit direction in which an island's side runs."""
    return turned((1.0, 0.0), angle_rad + radians(90.0) * (int(side) - 1))


def seam_marks(
    job: Job, top: TopPlan, frame: LegFrame, side: Literal["left", "right"]
) -> list[Mark]:
    """Return where a seam on a leg likes to be."""
    ends = [along_of(frame.wall, p, side) for p in (frame.front.start, frame.front.end)]
    found = [Mark(sum(ends) / 2.0, middle_words(job, frame)), wall_middle(job, frame)]
    found += in_line_marks(job, frame, side)
    found += [mark for mark, _ in inside_corners(top, frame, side)]
    found += side_marks(job, frame.wall, side, carrying=True)
    return found + opening_marks(job, top, lambda p: along_of(frame.wall, p, side), "")


def middle_words(job: Job, frame: LegFrame) -> str:
    """Return what the middle of a leg or of a strip is called."""
    what = "strip" if frame.leg in strips_of(job) else "counter here"
    return f"the middle of the {what}"


def wall_middle(job: Job, frame: LegFrame) -> Mark:
    """Return where the middle is of the line that a leg or a strip is measured along."""
    return replace(wall_marks(frame.wall)[2], words=hook_words(job, frame.leg, "middle"))


def in_line_marks(job: Job, frame: LegFrame, side: Literal["left", "right"]) -> list[Mark]:
    """Return where a seam of a strip is in line with one of its counter."""
    starts = (seam_at(job, frame.leg, at) for at in seams_met(job, frame.leg))
    marks = (wall_mark(frame.wall, start.along, start.hook) for start in starts)
    words = "in line with the top's seam"
    return [Mark(along_of(frame.wall, point, side), words) for point in marks]


def over_marks(job: Job, frame: LegFrame, hook: Hook) -> list[Mark]:
    """Return where an opening of a strip is over a sink, a faucet, or a mark of the wall."""
    found: list[Mark] = []
    for anchor in over_offers(job, AlongLeg(frame.leg, 0.0, 0.0)):
        at = over_place(job, anchor)
        if isinstance(at, AlongLeg):
            value = along_of(frame.wall, wall_mark(frame.wall, at.along), hook)
            found.append(Mark(value, f"over {held_words(job, anchor)}"))
    return found


def island_seam_marks(job: Job, top: TopPlan, island: IslandFrame, side: str) -> list[Mark]:
    """Return where a seam along a side of an island likes to be, along the side's chord."""
    line = island_side(island, side)
    assert line is not None
    found = [Mark(distance(line.start, line.end) / 2.0, "the middle of the island")]
    found += [
        Mark(at, f"a side of the {cabinet.label}")
        for cabinet in in_line_with(job, island.island, line)
        if cabinet.carries
        for at in sides_along(cabinet, line)
    ]
    return found + opening_marks(job, top, lambda p: on_side(line, p), "")


LEAST_OFF_IN = 3.0
"""An end along a wall is dragged off it by more than this."""


class DragRunEnd(Drag):
    """Moves an end of a run along its wall, round the corner, or back over its last leg."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the end moved; it snaps to the wall's corners, and runs along a wall there.

        Where the pointer is nearer to the wall round the corner a leg is added; where it is nearer
        to the wall of the leg before, the last leg goes.
        """
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        run = run_of(self.job, ref.owner)
        if run is None:
            return self.start()
        left = ref.side == "start"
        end, leg = (run.left, run.legs[0]) if left else (run.right, run.legs[-1])
        side: Literal["left", "right"] = "left" if left else "right"
        stretched = _stretched(self.job, run, side, cursor) if cursor.tol_in > 0.0 else None
        if stretched is not None:
            return stretched
        wall = line_of(self.job, leg.id)
        if not isinstance(end, SquareEnd):
            at = to_step(dot(by, wall_direction(wall)) * (1.0 if left else -1.0), STEP_IN)
            if leg.peninsula is not None or at <= max(cursor.tol_in, LEAST_OFF_IN):
                return Doing(hint="It runs along the wall: drag it off, or on round the corner.")
            free = SquareEnd(at, side, self.job.defaults.end_overhang)
            return Doing((edits.SetRunEnd(run.id, side, free),), (), self.hint, title="move end")
        way = dot(by, wall_direction(wall)) * (-1.0 if end.hook == "right" else 1.0)
        back = end.overhang if end.hook != side else -end.overhang
        found = caught(
            end.along + way,
            (*wall_marks(wall), *end_marks(self.job, wall, end.hook, run.id, back_in=back))
            if leg.peninsula is None
            else (),
            cursor.tol_in,
            no_snap=cursor.no_snap,
        )
        moved: RunEnd = replace(end, along=found.value)
        own = 0.0 if end.hook == side else distance(wall.left, wall.right)
        if found.words and found.value == own and wall_before(self.job, leg, side):
            moved = WallEnd(self.job.defaults.clearance)
        edit = edits.SetRunEnd(run.id, side, moved)
        return Doing((edit,), (), said(found) or self.hint, title="move end")

    def release(self, cursor: Cursor) -> Doing:
        """Leave the end where it is and choose it, on whichever leg it now is."""
        done, ref = super().release(cursor), self.subject.edge
        assert isinstance(ref, EdgeRef)
        after = reduce(applied, done.edits, self.job)
        run = run_of(self.job, ref.owner)
        now = next((one for one in after.runs if run is not None and one.id == run.id), run)
        if now is None:
            return done
        leg = now.legs[0 if ref.side == "start" else -1].id
        return done._replace(chosen=(Subject("edge", leg, EdgeRef(leg, ref.side)),))


NEARER_IN = 6.0
"""An end goes round a corner where the pointer is so much nearer to the other wall."""


def _stretched(job: Job, run: Run, side: Literal["left", "right"], cursor: Cursor) -> Doing | None:
    """Return the run with a leg more or less where the pointer is at another wall, or None."""
    _, leg = end_of(run, side)
    if leg.peninsula is not None:
        return None
    survey, point = room(job), cursor.point
    own = _away(survey.wall(leg.wall), point)
    ahead = further_wall(job, run, side)
    if ahead is not None and _away(survey.wall(ahead), point) + NEARER_IN < own:
        line = survey.wall(ahead)
        hook: Literal["left", "right"] = "right" if side == "left" else "left"
        reach = to_step(along_of(line, point, hook), STEP_IN)
        edit = round_corner(job, run, side, reach)
        if edit is not None and reach > max(leg.depth_left, leg.depth_right):
            return Doing((edit,), (), "It goes on round the corner.", title="add a leg")
        return None
    if len(run.legs) == 1:
        return None
    before = run.legs[1 if side == "left" else -2]
    line = survey.wall(before.wall)
    if before.peninsula is not None or _away(line, point) + NEARER_IN >= own:
        return None
    value = to_step(along_of(line, point, "left"), STEP_IN)
    overhang = job.defaults.end_overhang
    fewer = (
        edits.RemoveLeg(leg.id),
        edits.SetRunEnd(run.id, side, SquareEnd(value, "left", overhang)),
    )
    return Doing(fewer, (), "The leg round the corner goes.", title="remove a leg")


def _away(wall: WallLine, point: Point) -> float:
    return foot(Edge(wall.left, wall.right), point).distance


class DragFront(Drag):
    """Moves a front edge: the depth of its leg follows."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the leg deeper or less deep."""
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        leg = legs_of(self.job)[ref.owner]
        line = line_of(self.job, leg.id)
        deeper = to_step(dot(by, into_room(line)), STEP_IN)
        only = self._at_end()
        left = leg.depth_left + (0.0 if only == "right" else deeper)
        right = leg.depth_right + (0.0 if only == "left" else deeper)
        if min(left, right) <= 0.0:
            return Doing(hint="A counter needs some depth.")
        edit = edits.SetLeg(replace(leg, depth_left=left, depth_right=right))
        hint = f"Its {only} end alone. Take it farther in to move all of it." if only else ""
        return Doing((edit,), (), hint or self.hint, title="move front")

    def _at_end(self) -> Literal["left", "right"] | None:
        """Return the end of the front that was pressed, or None for its middle."""
        ref, pressed = self.subject.edge, self.pressed
        assert isinstance(ref, EdgeRef)
        frames = (f for top in tops(self.job) for f in top.top.frames if isinstance(f, LegFrame))
        front = next((f.front for f in frames if f.leg == ref.owner), None)
        if front is None or pressed.tol_in <= 0.0:
            return None
        grip = min(max(END_GRIP * pressed.tol_in, END_GRIP_IN), distance(*front[:2]) / 4.0)
        if distance(front.start, pressed.point) <= grip:
            return "left"
        return "right" if distance(front.end, pressed.point) <= grip else None


class DragFarSide(Drag):
    """Moves the far side of a peninsula: its overhang follows."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the peninsula with more or less overhang."""
        leg = legs_of(self.job)[self.subject.id]
        assert leg.peninsula is not None
        more = -to_step(dot(by, into_room(line_of(self.job, leg.id))), STEP_IN)
        over = leg.peninsula.overhang + more
        if over + min(leg.depth_left, leg.depth_right) + leg.overhang <= 0.0:
            return Doing(hint="A counter needs some depth.")
        moved = replace(leg, peninsula=replace(leg.peninsula, overhang=over))
        return Doing((edits.SetLeg(moved),), title="move far side")


class DragCorner(Drag):
    """Moves a corner of the room; readings still say where it comes to lie.

    Where readings have moved the room, the drawing is taken along first, so that the corner
    follows the pointer from where it is seen.
    """

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the corner moved, in line with others when near."""
        seen = {c.id: c.point for c in room(self.job).corners}
        lines: list[Target] = []
        taken_along: list[edits.CornerPlace] = []
        for c in self.job.room.corners:
            if c.id == self.subject.id:
                continue
            x, y = seen[c.id]
            lines.append(
                Guideline((x, y), (x, y + 1.0), f"in line up the board with corner {c.number}")
            )
            lines.append(
                Guideline((x, y), (x + 1.0, y), f"in line across the board with corner {c.number}")
            )
            if (c.x, c.y) != (x, y):
                taken_along.append(edits.CornerPlace(c.id, x, y))
        to = plus(seen[self.subject.id], by)
        snap = None if cursor.no_snap else snapped(to, lines, cursor.tol_in)
        x, y = snap.point if snap is not None else (to_step(v, STEP_IN) for v in to)
        held = "The readings hold this corner." if self.job.room.readings else self.hint
        words = said(snap) if snap is not None else ""
        edit = edits.MoveCorner(self.subject.id, x, y, tuple(taken_along))
        return Doing((edit,), guides(snap), words or held)


class DragMark(Drag):
    """Moves a mark as drawn; its ties still say where it comes to lie."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the mark moved, at a corner or in line with a wall when near."""
        mark = next(m for m in self.job.room.marks if m.id == self.subject.id)
        seen = next(m.point for m in room(self.job).marks if m.id == mark.id)
        to = plus(seen, by)
        snap = None if cursor.no_snap else snapped(to, room_targets(self.job), cursor.tol_in)
        x, y = snap.point if snap is not None else (to_step(v, STEP_IN) for v in to)
        tied = any(isinstance(r, TieReading) and r.mark == mark.id for r in self.job.room.readings)
        held = "The tapes that tie it hold this mark." if tied else self.hint
        words = said(snap) if snap is not None else ""
        drawn_x, drawn_y = drawn_place(self.job, (x, y))
        edit = edits.SetMark(replace(mark, x=drawn_x, y=drawn_y))
        return Doing((edit,), guides(snap), words or held, title=f"move {mark.name}")


class DragInset(Drag):
    """Moves what is set in along its counter, or over to another one."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return it moved; along and back are rounded or snapped."""
        found = next(one for one in inset_plans(self.job) if one.inset.id == self.subject.id)
        if found.placed is None:
            return self.start()
        target = plus(found.placed.center, by)
        top = top_at(self.job, target)
        if top is None:
            return Doing(hint="It stays on a top.")
        like = found.inset.at if isinstance(found.inset.at, AlongLeg) else None
        at, words, overlay = anchored(self.job, top, target, cursor, like=like)
        inset = replace(found.inset, at=kept_inset(self.job, found.inset, at))
        near = None if cursor.no_snap else run_into_sink(self.job, inset)
        if near is not None and near.short_in <= CAUGHT_IN:
            inset, words = near.inset, f"Snapped: runs into the {near.sink}."
        edit = edits.SetInset(inset)
        return Doing((edit,), overlay, words or self.hint, title=f"move {found.inset.name}")


class DragPin(Drag):
    """Moves a pinned note."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the note pinned elsewhere."""
        pin = next(p for p in self.job.pins if p.id == self.subject.id)
        x, y = (to_step(v, STEP_IN) for v in plus((pin.x, pin.y), by))
        return Doing((edits.SetPin(replace(pin, x=x, y=y)),), title="move a note")


class DragBaseline(Drag):
    """Moves a string nearer to its wall or farther from it, as drawn."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the string moved square to its wall."""
        line = next(b for b in self.job.room.baselines if b.id == self.subject.id)
        wall = room(self.job).wall(line.wall)
        away = to_step(line.away + dot(by, into_room(wall)), STEP_IN)
        fixed = next(b.fixed for b in room(self.job).baselines if b.id == line.id)
        held = "The offsets to its corners hold this string." if fixed else self.hint
        return Doing((edits.SetBaseline(replace(line, away=away)),), (), held)


class DragIsland(Drag):
    """Moves an island."""

    def __init__(self, job: Job, subject: Subject, pressed: Cursor, island: Id) -> None:
        super().__init__(job, subject, pressed)
        self.island = island

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the island moved; its distances from walls are rounded."""
        island = next(i for i in self.job.islands if i.id == self.island)
        by, snap = self._caught(by, cursor)
        at = island.at
        if isinstance(at, OnBoard):
            x, y = plus((at.x, at.y), by)
            if snap is None:
                x, y = to_step(x, STEP_IN), to_step(y, STEP_IN)
            place: OnBoard | FromWalls = OnBoard(x, y)
        else:
            survey = room(self.job)
            a, b = (into_room(survey.wall(w)) for w in (at.wall_a, at.wall_b))
            place = replace(
                at,
                distance_a=to_step(at.distance_a + dot(by, a), STEP_IN),
                distance_b=to_step(at.distance_b + dot(by, b), STEP_IN),
            )
        return Doing(
            (edits.SetIsland(replace(island, at=place)),),
            guides(snap),
            (said(snap) if snap is not None else "") or self.hint,
            title="move island",
        )

    def _caught(self, by: Point, cursor: Cursor) -> tuple[Point, Snap | None]:
        """Return the move after the island's middle was caught, and by what."""
        frame = next(
            (f for top in tops(self.job) if (f := island_of(top)) and f.island == self.island), None
        )
        if frame is None or cursor.no_snap:
            return by, None
        center = island_middle(frame)
        snap = snapped(plus(center, by), self._lines(), cursor.tol_in)
        return (by, None) if snap is None else (minus(snap.point, center), snap)

    def _lines(self) -> list[Target]:
        """Return the lines that an island's middle likes to be on."""
        lines: list[Target] = []
        for wall in room(self.job).walls:
            if wall.left != wall.right:
                at, way = middle(wall.left, wall.right), into_room(wall)
                words = f"in line with the middle of {wall_words(self.job, wall.id)}"
                lines.append(Guideline(at, plus(at, way), words))
        names = {o.id: o.name for o in self.job.openings}
        for top in tops(self.job):
            frames = [f for f in top.top.frames if isinstance(f, LegFrame)]
            for hole in top.openings if frames else ():
                leg = nearest_leg(frames, hole.center)
                end = plus(hole.center, into_room(leg.wall))
                words = f"in line with {owned(names[hole.id])} middle"
                lines.append(Guideline(hole.center, end, words))
        return lines


class DragIslandSide(Drag):
    """Moves a side of an island: its size changes, the opposite side stays."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the island wider, narrower, deeper or less deep."""
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        island = next(i for i in self.job.islands if i.id == ref.owner)
        inward = left_of(island_side_direction(radians(island.angle), ref.side))
        grown = to_step(-dot(by, inward), STEP_IN)
        wide = ref.side in ("2", "4")
        size = (island.width if wide else island.depth) + grown
        if size <= 0.0:
            return Doing(hint="An island needs some size.")
        changed = replace(island, width=size) if wide else replace(island, depth=size)
        if ref.side in ("1", "4"):
            place = moved_place(self.job, island.at, along((0.0, 0.0), inward, -grown))
            changed = replace(changed, at=place)
        return Doing((edits.SetIsland(changed),), title="size island")


_BY_KIND: dict[str, type[Drag]] = {
    "opening": DragOpening,
    "seam": DragSeam,
    "corner": DragCorner,
    "mark": DragMark,
    "pin": DragPin,
    "inset": DragInset,
    "cabinet": DragCabinet,
}


def drag_of(job: Job, subject: Subject, cursor: Cursor) -> Gesture:
    """Return the gesture that drags a thing, or only chooses it."""
    ref = subject.edge
    if subject.kind in _BY_KIND:
        return _BY_KIND[subject.kind](job, subject, cursor)
    match subject.kind:
        case "baseline" if _has_length(job, subject.id):
            return DragBaseline(job, subject, cursor)
        case "piece":
            island = island_of_piece(job, subject.id)
            if island is not None:
                return DragIsland(job, subject, cursor, island)
        case "island":
            return DragIsland(job, subject, cursor, subject.id)
        case "edge" if ref is not None:
            return _drag_of_edge(job, subject, cursor)
        case _:
            pass
    return Choose(job, subject, cursor)


def _drag_of_edge(job: Job, subject: Subject, cursor: Cursor) -> Gesture:
    """Return the gesture that drags an edge or a corner of a top, or only chooses it."""
    ref = subject.edge
    if isinstance(ref, CornerRef):
        free = free_corner(job, ref) is not None and shape_of(job, ref) is None
        return (MoveFreeCorner if free else DragCornerShape)(job, subject, cursor)
    if ref is None or ref.side == "back":
        return Choose(job, subject, cursor)
    if any(strip.id == ref.owner for strip in job.alongside):
        far = ref.side in ("top", "outer")
        return (DragStripSide if far else Choose)(job, subject, cursor)
    if ref.side in ("start", "end"):
        return DragRunEnd(job, subject, cursor)
    if ref.side == "far":
        return DragFarSide(job, subject, cursor)
    if ref.side == "front":
        return DragFront(job, subject, cursor)
    return (MoveFreeSide if can_bow(job, ref) else DragIslandSide)(job, subject, cursor)


def _has_length(job: Job, baseline: Id) -> bool:
    """Tell whether a string's wall runs anywhere, so that square to it means something."""
    line = next(b for b in job.room.baselines if b.id == baseline)
    wall = room(job).wall(line.wall)
    return wall.left != wall.right


def island_of_piece(job: Job, name: str) -> Id | None:
    """Return the island that a piece is of, or None for a piece of a run."""
    islands = {island.id for island in job.islands}
    return next((p.top for p in pieces(job) if p.name == name and p.top in islands), None)


def chosen_by(job: Job, cursor: Cursor, chosen: Sequence[Subject] = ()) -> Gesture | None:
    """Return what a press without a tool begins, handles of what is chosen before all else.

    With adding an edge, a corner, an opening or a cabinet is chosen besides the others, or no
    longer.
    """
    first = cursor.picks[0].subject if cursor.picks else None
    if cursor.adding and first is not None and first.kind in ("edge", "opening", "cabinet"):
        return ChooseAlso(job, first, cursor, chosen)
    held = taken_hold(job, chosen, cursor)
    if held is not None or first is None:
        return held
    return drag_of(job, first, cursor)


def nudge(
    job: Job, subject: Subject, by: Point, together: Sequence[Subject] = ()
) -> tuple[tuple[edits.Edit, ...], str]:
    """Return the edits that move a thing by so much, without snapping, and their title.

    Corners that are chosen together get the same shape.
    """
    start = Cursor((0.0, 0.0), 0.0, no_snap=True)
    drag = drag_of(job, subject, start)
    if isinstance(drag, DragCornerShape):
        drag = DragCornerShape(job, subject, start, together)
    doing = drag.move(Cursor(by, 0.0, no_snap=True))
    return doing.edits, doing.title
