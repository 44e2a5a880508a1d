"""What is chosen, described: its title, its facts, and the questions whose answers change it."""

from collections.abc import Callable
from math import atan2, ceil, degrees, pi
from typing import Literal, NamedTuple, TypeVar, cast

from msgspec.structs import replace

from app.asking import Answer, Fact, Question
from app.gestures.drags import island_of_piece
from app.gestures.openings import resized, sizes_of
from geometry import edges as exact
from geometry.counters import FromWalls, OnBoard, RoundCorner, SquareEnd, WallEnd
from geometry.frames import LegFrame, along_leg_at
from geometry.lengths import written
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.openings import AlongLeg, CircleShape, Opening, RectangleShape, SlotShape
from geometry.picking import Subject
from geometry.points import along, cross, distance, dot, minus, unit
from geometry.seams import Seam, SeamOnIsland, SeamOnLeg
from shop import edits
from shop.job import (
    AngleReading,
    DiagonalReading,
    Job,
    ThreeSidesReading,
    WallReading,
    fresh_id,
)
from shop.plan import pieces, tops
from shop.references import legs_of, run_of
from shop.survey import beside, left_to_right, room
from shop.words import corner_words, edge_words, length_style, listed, wall_words

MARKS_IN = (72.0, 96.0)
"""Where marks for a check of a corner are made along its two walls: 6 and 8 ft, square at 10."""

Number = Callable[[float], tuple[edits.Edit, ...]]
Changed = TypeVar("Changed")


class Described(NamedTuple):
    """A thing in words and boxes."""

    title: str
    facts: tuple[Fact, ...] = ()
    questions: tuple[Question, ...] = ()


def described(job: Job, subject: Subject | None) -> Described:
    """Return what is to be said and asked about a thing; about the whole job for None."""
    if subject is None:
        return _job(job)
    match subject.kind:
        case "corner":
            return _corner(job, subject.id)
        case "wall":
            return _wall(job, subject.id)
        case "opening":
            return _opening(job, subject.id)
        case "seam":
            return _seam(job, subject.id)
        case "island":
            return _island(job, subject.id)
        case "piece":
            return _piece(job, subject.id)
        case "edge":
            return _edge(job, subject)
        case _:
            return _job(job)


def _length(
    key: str,
    label: str,
    value: float,
    change: Number,
    *,
    first: bool = False,
    positive: bool = False,
    least: float = -2000.0,
    most: float = 2000.0,
) -> Question:
    return Question(
        key,
        label,
        "length",
        value,
        lambda answer: change(cast(float, answer)),
        least=least,
        most=most,
        positive=positive,
        first=first,
    )


def _choice(
    key: str,
    label: str,
    value: str,
    choices: tuple[tuple[str, str], ...],
    change: Callable[[str], tuple[edits.Edit, ...]],
) -> Question:
    return Question(key, label, "choice", value, lambda a: change(str(a)), choices)


def _job(job: Job) -> Described:
    slab = edits.SetSlab(job.thickness, job.density_pcf)
    preset, limits, molds = job.defaults, job.limits, job.molds
    questions = (
        Question("name", "Name", "words", job.name, lambda a: (edits.SetJobName(str(a)),)),
        _length(
            "thickness",
            "Slab thickness",
            job.thickness,
            lambda v: (replace(slab, thickness=v),),
            positive=True,
            most=12.0,
        ),
        Question(
            "density",
            "Concrete, lb/cu ft",
            "number",
            job.density_pcf,
            lambda a: (replace(slab, density_pcf=float(a)),),
            least=20.0,
            most=400.0,
        ),
        _length(
            "base",
            "Base board, as measured",
            molds.base_thickness,
            lambda v: (edits.SetMoldChoices(replace(molds, base_thickness=v)),),
            positive=True,
            most=4.0,
        ),
        _length(
            "sidewall",
            "Sidewall board, as measured",
            molds.sidewall_thickness,
            lambda v: (edits.SetMoldChoices(replace(molds, sidewall_thickness=v)),),
            positive=True,
            most=4.0,
        ),
        _length(
            "depth",
            "Cabinet depth to start with",
            preset.depth,
            lambda v: (edits.SetDefaults(replace(preset, depth=v)),),
            positive=True,
        ),
        _length(
            "overhang",
            "Overhang to start with",
            preset.overhang,
            lambda v: (edits.SetDefaults(replace(preset, overhang=v)),),
            least=0.0,
        ),
        _length(
            "bridge",
            "Narrowest bridge",
            limits.bridge,
            lambda v: (edits.SetLimits(replace(limits, bridge=v)),),
            least=0.0,
        ),
    )
    return Described("The whole job", (), questions)


def _corner(job: Job, corner: Id) -> Described:
    plan = room(job).corner(corner)
    style = length_style(job)
    facts = []
    if plan.sd_major is not None:
        facts.append(Fact("Known within", f"± {written(max(plan.sd_major, 0.0), style)}"))
    elif job.room.readings:
        facts.append(Fact("Position", "not fixed by readings"))
    drawn = next(c for c in job.room.corners if c.id == corner)
    questions = (
        _length(
            "x",
            "Across, on the board",
            drawn.x,
            lambda v: (edits.MoveCorner(corner, v, drawn.y),),
            least=-4000.0,
            most=4000.0,
        ),
        _length(
            "y",
            "Up, on the board",
            drawn.y,
            lambda v: (edits.MoveCorner(corner, drawn.x, v),),
            least=-4000.0,
            most=4000.0,
        ),
    )
    diagonals = (*_diagonals(job, corner), *_corner_readings(job, corner))
    name = corner_words(job, corner)
    return Described(name[0].upper() + name[1:], tuple(facts), (*diagonals, *questions))


def _diagonals(job: Job, corner: Id) -> list[Question]:
    """Return the questions for distances to corners that no wall joins with this one."""
    joined = {corner}
    for wall in job.room.walls:
        if corner in (wall.start, wall.end):
            joined |= {wall.start, wall.end}
    found: list[Question] = []
    for other in job.room.corners:
        if other.id not in joined:
            found.append(_diagonal(job, corner, other.id, first=len(found) < 2))
    return found


def _corner_readings(job: Job, corner: Id) -> tuple[Question, ...]:
    """Return the questions for the angle at a corner and for its check with three sides."""
    sides = beside(job.room.walls, corner)
    if sides is None:
        return ()
    survey = room(job)
    at, before, after = (survey.corner(c).point for c in (corner, *sides))
    a, b = minus(before, at), minus(after, at)
    inside = degrees(atan2(cross(a, b), dot(a, b)) % (2.0 * pi))
    angle = next(
        (r for r in job.room.readings if isinstance(r, AngleReading) and r.corner == corner), None
    )
    check = next(
        (r for r in job.room.readings if isinstance(r, ThreeSidesReading) and r.corner == corner),
        None,
    )
    asked = ThreeSidesReading(
        fresh_id(job, "reading"),
        corner,
        *MARKS_IN,
        distance(
            along(at, unit(minus(before, at)), MARKS_IN[0]),
            along(at, unit(minus(after, at)), MARKS_IN[1]),
        ),
    )
    style = length_style(job)
    marks = check or asked
    first, second = (written(v, style) for v in (marks.along_before, marks.along_after))

    def read_angle(answer: Answer) -> tuple[edits.Edit, ...]:
        if angle is not None:
            return (edits.SetReading(replace(angle, value=float(answer))),)
        fresh = AngleReading(fresh_id(job, "reading"), corner, float(answer))
        return (edits.AddReading(fresh),)

    def read_check(value: float) -> tuple[edits.Edit, ...]:
        if check is not None:
            return (edits.SetReading(replace(check, value=value)),)
        return (edits.AddReading(replace(asked, value=value)),)

    return (
        Question(
            "angle",
            f"Angle, {'as measured' if angle else 'not measured'}",
            "angle",
            round(inside, 2) if angle is None else angle.value,
            read_angle,
            least=0.0,
            most=359.0,
            positive=True,
        ),
        _length(
            "across",
            f"Across, from marks at {first} and {second}",
            marks.value,
            read_check,
            positive=True,
            first=True,
        ),
    )


def _diagonal(job: Job, corner: Id, other: Id, *, first: bool) -> Question:
    survey = room(job)
    here = distance(survey.corner(corner).point, survey.corner(other).point)
    known = next(
        (
            r
            for r in job.room.readings
            if isinstance(r, DiagonalReading) and {r.a, r.b} == {corner, other}
        ),
        None,
    )

    def taped(value: float) -> tuple[edits.Edit, ...]:
        if known is not None:
            return (edits.SetReading(replace(known, value=value)),)
        fresh = DiagonalReading(fresh_id(job, "reading"), corner, other, value)
        return (edits.AddReading(fresh),)

    label = f"To corner {survey.corner(other).number}, {'as taped' if known else 'not taped'}"
    value = known.value if known is not None else here
    return _length(f"to-{other}", label, value, taped, positive=True, first=first)


def _wall(job: Job, wall: Id) -> Described:
    survey, style = room(job), length_style(job)
    line = survey.wall(wall)
    known = next(
        (r for r in job.room.readings if isinstance(r, WallReading) and r.wall == wall), None
    )
    here = distance(line.left, line.right)
    name = wall_words(job, wall)
    facts = [Fact("Length now", written(here, style))]
    if known is not None:
        plan = next((r for r in survey.readings if r.reading.id == known.id), None)
        if plan is not None:
            facts.append(Fact("Moved by the other readings", written(plan.residual, style)))
            facts.append(
                Fact("Checked by others", "yes" if plan.standardized is not None else "no")
            )

    def taped(value: float) -> tuple[edits.Edit, ...]:
        if known is not None:
            return (edits.SetReading(replace(known, value=value)),)
        return (edits.AddReading(WallReading(fresh_id(job, "reading"), wall, value)),)

    label = f"{name[0].upper()}{name[1:]}, {'as taped' if known else 'not taped yet'}"
    value = known.value if known is not None else here
    return Described(
        name[0].upper() + name[1:],
        tuple(facts),
        (_length("taped", label, value, taped, first=True, positive=True),),
    )


def _opening(job: Job, opening_id: Id) -> Described:
    opening = next(o for o in job.openings if o.id == opening_id)
    style = length_style(job)
    at = opening.at
    half = _half_depth(opening)
    move = edits.MoveOpening
    questions: list[Question] = []
    facts: list[Fact] = []
    if isinstance(at, AlongLeg):
        questions.append(
            _length(
                "front",
                "From the front edge to the opening",
                at.back - half,
                lambda v: (move(opening_id, replace(at, back=v + half)),),
                first=True,
            )
        )
        leg = legs_of(job)[at.leg]
        left, right = left_to_right(next(w for w in job.room.walls if w.id == leg.wall))
        start = {"left": left, "right": right}.get(at.hook)
        where = f"from {corner_words(job, start)}" if start else "from the middle of the wall"
        questions.append(
            _length(
                "along",
                f"Its middle, {where}",
                at.along,
                lambda v: (move(opening_id, replace(at, along=v)),),
                first=True,
            )
        )
        frame = next(
            (
                f
                for t in tops(job)
                for f in t.top.frames
                if isinstance(f, LegFrame) and f.leg == at.leg
            ),
            None,
        )
        if frame is not None:
            depth = along_leg_at(frame, frame.back.start)[1]
            facts.append(Fact("From the back edge", written(depth - at.back - half, style)))
    else:
        questions += [
            _length(
                "x",
                "Its middle, from side 4",
                at.x,
                lambda v: (move(opening_id, replace(at, x=v)),),
                first=True,
            ),
            _length(
                "y",
                "Its middle, from side 1",
                at.y,
                lambda v: (move(opening_id, replace(at, y=v)),),
                first=True,
            ),
        ]
    questions += [
        _length(key, label, value, _resizing(opening, key), positive=True)
        for key, label, value in sizes_of(opening.shape)
    ]
    if isinstance(opening.shape, RectangleShape):
        questions.append(
            _length(
                "radius",
                "Corner radius",
                opening.shape.radius,
                _resizing(opening, "radius"),
                least=0.0,
            )
        )
    questions += [
        _length(
            "reveal",
            "Reveal, outside the bowl +",
            opening.reveal,
            lambda v: (edits.SetOpening(replace(opening, reveal=v)),),
            least=-6.0,
            most=6.0,
        ),
        Question(
            "name",
            "Name",
            "words",
            opening.name,
            lambda a: (edits.SetOpening(replace(opening, name=str(a))),),
        ),
    ]
    return Described(opening.name[0].upper() + opening.name[1:], tuple(facts), tuple(questions))


def _resizing(opening: Opening, key: str) -> Number:
    """Return what gives an opening another size."""

    def resizing(value: float) -> tuple[edits.Edit, ...]:
        return (edits.SetOpening(replace(opening, shape=resized(opening.shape, key, value))),)

    return resizing


def _half_depth(opening: Opening) -> float:
    match opening.shape:
        case RectangleShape():
            size = opening.shape.depth
        case CircleShape():
            size = opening.shape.diameter
        case SlotShape():
            size = opening.shape.width
    return size / 2.0 + opening.reveal


def _seam(job: Job, seam_id: Id) -> Described:
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
    facts += [Fact(f"Piece {name}", f"{ceil(weights[name])} lb") for name in names]
    facts.append(Fact("Edges", "square, no bead"))
    return Described(title, tuple(facts), _seam_questions(job, seam))


def _seam_questions(job: Job, seam: Seam) -> tuple[Question, ...]:
    start = seam.start

    def put(changed: Seam) -> tuple[edits.Edit, ...]:
        return (edits.SetSeam(changed),)

    questions: list[Question] = []
    if isinstance(start, SeamOnLeg):
        leg = legs_of(job)[start.leg]
        ends = left_to_right(next(w for w in job.room.walls if w.id == leg.wall))
        hook = corner_words(job, ends[0] if start.hook == "left" else ends[1])
        questions.append(
            _length(
                "along",
                f"Seam, from {hook} along the back",
                start.along,
                lambda v: put(replace(seam, start=replace(start, along=v))),
                first=True,
            )
        )
    elif isinstance(start, SeamOnIsland):
        questions.append(
            _length(
                "along",
                f"Seam, along side {start.side}",
                start.along,
                lambda v: put(replace(seam, start=replace(start, along=v))),
                first=True,
                least=0.0,
            )
        )
    if isinstance(start, SeamOnLeg | SeamOnIsland):
        questions.append(
            Question(
                "angle",
                "Angle to the front",
                "angle",
                start.angle,
                lambda a: put(replace(seam, start=replace(start, angle=float(a)))),
                least=10.0,
                most=170.0,
                first=True,
            )
        )
    questions.append(
        _length("gap", "Gap", seam.gap, lambda v: put(replace(seam, gap=v)), least=0.0, most=2.0)
    )
    taken = (
        ("", "by the rule"),
        ("both", "both pieces"),
        ("left", "the left piece"),
        ("right", "the right piece"),
    )

    def gap_from(answer: str) -> tuple[edits.Edit, ...]:
        side = cast(Literal["both", "left", "right"] | None, answer or None)
        return put(replace(seam, gap_from=side))

    questions.append(_choice("gap-from", "Gap is taken from", seam.gap_from or "", taken, gap_from))
    return tuple(questions)


def _island(job: Job, island_id: Id) -> Described:
    island = next(i for i in job.islands if i.id == island_id)
    questions = [
        _length(
            "width",
            "Side 1, width",
            island.width,
            lambda v: (edits.SetIsland(replace(island, width=v)),),
            positive=True,
            first=True,
        ),
        _length(
            "depth",
            "Side 2, depth",
            island.depth,
            lambda v: (edits.SetIsland(replace(island, depth=v)),),
            positive=True,
            first=True,
        ),
    ]
    at = island.at
    if isinstance(at, FromWalls):
        questions += [
            _length(
                "distance-a",
                f"From {wall_words(job, at.wall_a)}",
                at.distance_a,
                lambda v: (edits.SetIsland(replace(island, at=replace(at, distance_a=v))),),
            ),
            _length(
                "distance-b",
                f"From {wall_words(job, at.wall_b)}",
                at.distance_b,
                lambda v: (edits.SetIsland(replace(island, at=replace(at, distance_b=v))),),
            ),
        ]
    else:
        questions += _board_place(at, lambda place: (edits.SetIsland(replace(island, at=place)),))
    questions.append(
        Question(
            "angle",
            "Turned by, degrees",
            "angle",
            island.angle,
            lambda a: (edits.SetIsland(replace(island, angle=float(a))),),
            least=-360.0,
            most=360.0,
        )
    )
    rounds = ",".join(island.round_sides)
    choices: tuple[tuple[str, str], ...] = (
        ("", "none"),
        ("2", "side 2"),
        ("4", "side 4"),
        ("2,4", "sides 2 and 4"),
    )
    if rounds not in dict(choices):
        choices = (*choices, (rounds, f"sides {listed(island.round_sides)}"))

    def ends(answer: str) -> tuple[edits.Edit, ...]:
        sides = cast(
            tuple[Literal["1", "2", "3", "4"], ...], tuple(answer.split(",")) if answer else ()
        )
        return (edits.SetIsland(replace(island, round_sides=sides)),)

    questions.append(_choice("rounds", "Round ends", rounds, choices, ends))
    return Described("Island", _top_facts(job, island_id), tuple(questions))


def _board_place(at: OnBoard, put: Callable[[OnBoard], tuple[edits.Edit, ...]]) -> list[Question]:
    return [
        _length(
            "x",
            "Across, on the board",
            at.x,
            lambda v: put(replace(at, x=v)),
            least=-4000,
            most=4000,
        ),
        _length(
            "y", "Up, on the board", at.y, lambda v: put(replace(at, y=v)), least=-4000, most=4000
        ),
    ]


def _top_facts(job: Job, top: Id) -> tuple[Fact, ...]:
    own = [p for p in pieces(job) if p.top == top]
    if not own:
        return ()
    weight = sum(ceil(p.weight_lb) for p in own)
    return (
        Fact("Pieces", listed(p.name for p in own)),
        Fact("Weight", f"{weight} lb"),
    )


def _piece(job: Job, name: str) -> Described:
    piece = next(p for p in pieces(job) if p.name == name)
    island = island_of_piece(job, name)
    facts: tuple[Fact, ...] = (
        Fact("Weight", f"{ceil(piece.weight_lb)} lb"),
        Fact("Face", f"{piece.area_sq_in / 144.0:.1f} sq ft"),
        Fact("Concrete", f"{piece.volume_cu_ft:.2f} cu ft"),
    )
    if len(piece.face.openings):
        names = {o.id: o.name for o in job.openings}
        facts = (*facts, Fact("Openings", listed(names[o.id] for o in piece.face.openings)))
    letter = Question(
        "letter",
        "Letter",
        "words",
        name,
        lambda a: (edits.NamePiece(name, str(a).upper()),),
    )
    asked: tuple[Question, ...] = (letter,)
    if island is not None:
        asked = (letter, *_island(job, island).questions)
    return Described(f"Piece {name}", facts, asked)


def _edge(job: Job, subject: Subject) -> Described:
    ref = subject.edge
    if isinstance(ref, CornerRef):
        return _shaped_corner(job, ref)
    assert ref is not None
    words = edge_words(job, ref)
    title = words[0].upper() + words[1:]
    finish = next((c.finish for c in job.edge_choices if c.edge == ref), None)

    def finished(answer: str) -> tuple[edits.Edit, ...]:
        return (edits.FinishEdge(ref, cast(Literal["bead", "square"] | None, answer or None)),)

    eased = _choice(
        "finish",
        "Edge",
        finish or "",
        (("", "as usual"), ("bead", "eased by a bead"), ("square", "left square")),
        finished,
    )
    facts = tuple(_edge_length(job, subject))
    if any(i.id == ref.owner for i in job.islands):
        return Described(title, facts, (*_island(job, ref.owner).questions[:2], eased))
    return Described(title, facts, (*_leg_questions(job, ref), eased))


def _edge_length(job: Job, subject: Subject) -> list[Fact]:
    style = length_style(job)
    for piece in pieces(job):
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if tag.ref == subject.edge and tag.part == subject.part:
                return [
                    Fact("Length", written(exact.length(edge), style)),
                    Fact("Piece", piece.name),
                ]
    return []


def _leg_questions(job: Job, ref: EdgeRef) -> tuple[Question, ...]:
    leg = legs_of(job)[ref.owner]
    run = run_of(job, ref.owner)
    assert run is not None

    def put(**changes: float) -> tuple[edits.Edit, ...]:
        return (edits.SetLeg(replace(leg, **changes)),)

    if ref.side == "back":
        return (
            _length(
                "clearance",
                "Clearance to the wall",
                leg.clearance,
                lambda v: put(clearance=v),
                least=0.0,
                first=True,
            ),
        )
    if ref.side == "front":
        return (
            _length(
                "left",
                "Cabinets at the left",
                leg.depth_left,
                lambda v: put(depth_left=v),
                positive=True,
                first=True,
            ),
            _length(
                "right",
                "Cabinets at the right",
                leg.depth_right,
                lambda v: put(depth_right=v),
                positive=True,
                first=True,
            ),
            _length("overhang", "Overhang", leg.overhang, lambda v: put(overhang=v), first=True),
        )
    side: Literal["left", "right"] = "left" if ref.side == "start" else "right"
    end = run.left if side == "left" else run.right
    if isinstance(end, WallEnd):
        return (
            _length(
                "clearance",
                "Clearance to the wall",
                end.clearance,
                lambda v: (edits.SetRunEnd(run.id, side, WallEnd(v)),),
                least=0.0,
                first=True,
            ),
        )
    return _square_end(job, run.id, side, end, leg.wall)


def _square_end(
    job: Job, run: Id, side: Literal["left", "right"], end: SquareEnd, wall: Id
) -> tuple[Question, ...]:
    corners = left_to_right(next(w for w in job.room.walls if w.id == wall))
    hook = corner_words(job, corners[0] if end.hook == "left" else corners[1])
    return (
        _length(
            "along",
            f"Cabinets end, from {hook}",
            end.along,
            lambda v: (edits.SetRunEnd(run, side, replace(end, along=v)),),
            first=True,
        ),
        _length(
            "overhang",
            "Overhang at this end",
            end.overhang,
            lambda v: (edits.SetRunEnd(run, side, replace(end, overhang=v)),),
            first=True,
        ),
    )


def _shaped_corner(job: Job, corner: CornerRef) -> Described:
    shape = next((s for s in job.corner_shapes if s.corner == corner), None)
    if shape is None:
        return Described("Corner of the top")
    if isinstance(shape, RoundCorner):
        asked = _length(
            "size",
            "Radius",
            shape.radius,
            lambda v: (edits.ShapeCorner(corner, replace(shape, radius=v)),),
            positive=True,
            first=True,
        )
        return Described("Rounded corner", (), (asked,))
    asked = _length(
        "size",
        "Back from the corner",
        shape.setback,
        lambda v: (edits.ShapeCorner(corner, replace(shape, setback=v)),),
        positive=True,
        first=True,
    )
    return Described("Clipped corner", (), (asked,))


def removal(job: Job, subject: Subject) -> tuple[edits.Edit, ...]:
    """Return the edits that remove a thing; a piece goes with its whole top."""
    match subject.kind:
        case "corner":
            return (edits.RemoveCorner(subject.id),)
        case "wall":
            return (edits.RemoveWall(subject.id),)
        case "opening":
            return (edits.RemoveOpening(subject.id),)
        case "seam":
            return (edits.RemoveSeam(subject.id),)
        case "island":
            return (edits.RemoveIsland(subject.id),)
        case "piece":
            island = island_of_piece(job, subject.id)
            if island is not None:
                return (edits.RemoveIsland(island),)
            top = next(p.top for p in pieces(job) if p.name == subject.id)
            return (edits.RemoveRun(top),)
        case "edge" if isinstance(subject.edge, CornerRef):
            return (edits.ShapeCorner(subject.edge, None),)
        case _:
            return ()


def listed_subjects(job: Job) -> tuple[Subject, ...]:
    """Return everything that can be chosen, in the order of a person walking through the job."""
    return (
        *(Subject("corner", c.id) for c in job.room.corners),
        *(Subject("wall", w.id) for w in job.room.walls),
        *(Subject("piece", p.name) for p in pieces(job)),
        *(Subject("opening", o.id) for o in job.openings),
        *(Subject("seam", s.id) for s in job.seams),
    )
