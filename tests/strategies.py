"""Hypothesis strategies, and the rooms that several tests share."""

from itertools import pairwise
from math import pi
from typing import Any, Literal, get_args

from hypothesis import strategies as st
from msgspec import inspect
from msgspec.structs import replace

from geometry.counters import Leg, RoundCorner, Run, RunEnd, SquareEnd, WallEnd
from geometry.frames import WallLine
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg, InIsland, Opening, RectangleShape
from geometry.points import Point, turned
from geometry.seams import Seam, SeamOnIsland, SeamOnLeg
from shop import edits
from shop.edits import Edit
from shop.job import Job, fresh_id
from shop.jobfile import read_job
from shop.references import ids_of, sides_of
from shop.samples import sample_names, sample_path

Walls = dict[str, WallLine]


def walls_through(points: list[Point]) -> Walls:
    """Walls wall1, wall2, ... from point to point, each from left to right as seen facing it."""
    return {
        f"wall{i}": WallLine(f"wall{i}", a, b) for i, (a, b) in enumerate(pairwise(points), start=1)
    }


def room(w: float = 120.0, h: float = 100.0) -> Walls:
    """A room square: wall1 at the left, wall2 at the top, wall3 at the right, wall4 at the foot."""
    return walls_through([(0.0, 0.0), (0.0, h), (w, h), (w, 0.0), (0.0, 0.0)])


off_square = st.tuples(*[st.floats(-9.0, 9.0)] * 8)


@st.composite
def rooms(draw: st.DrawFn) -> Walls:
    """Four walls out of square, some 150 to 250 inches long, turned anyhow."""
    w, h = draw(st.floats(150.0, 250.0)), draw(st.floats(150.0, 250.0))
    off = draw(off_square)
    turn = draw(st.floats(-pi, pi))
    drawn = [(0.0, 0.0), (0.0, h), (w, h), (w, 0.0)]
    corners = [turned((x + off[2 * i], y + off[2 * i + 1]), turn) for i, (x, y) in enumerate(drawn)]
    return walls_through([*corners, corners[0]])


depths = st.floats(18.0, 34.0)
clearances = st.floats(0.0, 1.0)


@st.composite
def ends(draw: st.DrawFn) -> RunEnd:
    if draw(st.booleans()):
        return WallEnd(draw(clearances))
    # Near its corner: a leg stays longer than its neighbor is deep.
    return SquareEnd(draw(st.floats(-5.0, 30.0)), overhang=draw(st.floats(0.0, 2.0)))


@st.composite
def runs(draw: st.DrawFn, most: int = 3) -> Run:
    """A run of one to three legs along wall1 and the walls that follow it."""
    legs = tuple(
        Leg(
            f"leg{i}",
            f"wall{i}",
            draw(depths),
            draw(depths),
            draw(st.floats(0.0, 2.0)),
            draw(clearances),
        )
        for i in range(1, draw(st.integers(1, most)) + 1)
    )
    left, right = draw(ends()), draw(ends())
    if isinstance(right, SquareEnd):
        right = SquareEnd(right.along, "right", right.overhang)
    return Run("run1", legs, left, right)


# --- Jobs and edits ---------------------------------------------------------------------------

NICE = (0.0, 0.125, 0.5, 1.0, 1.5, 2.0, 3.0, 6.0, 12.0, 24.0, 25.5, 36.0, 60.0, 90.0, 96.0, 120.0)
NONSENSE = ("wall999", "leg999", "zzz1", "a999999999")


def _floats(kind: inspect.FloatType) -> st.SearchStrategy[float]:
    """Numbers within the bounds of the document, often such as people type."""
    low = kind.ge if kind.ge is not None else kind.gt
    high = kind.le if kind.le is not None else kind.lt
    assert low is not None
    assert high is not None
    nice = [
        v
        for v in NICE
        if (low < v if kind.ge is None else low <= v)
        and (v < high if kind.le is None else v <= high)
    ]
    wide = st.floats(
        low, high, exclude_min=kind.ge is None, exclude_max=kind.le is None, allow_nan=False
    )
    return st.sampled_from(nice) | st.sampled_from(nice) | wide


def _ids(job: Job, owner: type, field: str) -> st.SearchStrategy[str]:
    """Ids for a field: mostly those that fit, sometimes any other, now and then nonsense."""
    every = ids_of(job)
    word = {
        "a": "corner",
        "b": "corner",
        "start": "corner",
        "end": "corner",
        "wall_a": "wall",
        "wall_b": "wall",
        "top": "run",
        "stops_at": "seam",
    }.get(field, field)
    if owner is SeamOnIsland or owner is InIsland:
        word = "island"
    if field in ("id", "new_wall"):
        word = owner.__name__.lower()
    fresh = st.integers(0, 3).map(lambda ahead: fresh_id(job, word, ahead))
    if field in ("id", "new_wall"):
        return fresh | fresh | fresh | fresh | st.sampled_from([*every, "corner1"])
    fitting = [used for used in every if used.startswith(word)] or [*every, "corner1"]
    return (
        st.sampled_from(fitting)
        | st.sampled_from(fitting)
        | st.sampled_from([*every, *NONSENSE])
        | fresh
    )


def _edge_refs(job: Job) -> st.SearchStrategy[EdgeRef]:
    known = sorted(EdgeRef(owner, side) for owner, sides in sides_of(job).items() for side in sides)
    any_side = st.sampled_from(["back", "front", "start", "end", "1", "4", "left", "cut", "top"])
    wrong = st.builds(EdgeRef, st.sampled_from([*ids_of(job), *NONSENSE]), any_side)
    return st.sampled_from(known) | wrong if known else wrong


def _values(job: Job, kind: inspect.Type, owner: type, field: str) -> st.SearchStrategy[Any]:
    """Any value of a type of the document, from its own description."""
    match kind:
        case inspect.FloatType():
            return _floats(kind)
        case inspect.IntType():
            assert kind.ge is not None
            assert kind.le is not None
            return st.integers(kind.ge, min(kind.le, kind.ge + 40))
        case inspect.BoolType():
            return st.booleans()
        case inspect.LiteralType():
            return st.sampled_from(kind.values)
        case inspect.NoneType():
            return st.none()
        case inspect.UnionType():
            return st.one_of([_values(job, one, owner, field) for one in kind.types])
        case inspect.VarTupleType():
            least = kind.min_length or 0
            each = _values(job, kind.item_type, owner, field)
            most = max(least, min(3, kind.max_length or 3))
            return st.lists(each, min_size=least, max_size=most).map(tuple)
        case inspect.StructType(cls=cls) if cls is EdgeRef:
            return _edge_refs(job)
        case inspect.StructType():
            return structs(job, kind.cls)
        case inspect.StrType(pattern=r"^[a-z]+[0-9]{1,9}$"):
            return _ids(job, owner, field)
        case inspect.StrType(pattern=r"^[A-Z]{1,3}$"):
            return st.sampled_from(["A", "B", "C", "D", "Q", "ZZZ"])
        case inspect.StrType(pattern=r"^[0-9a-f]{16}$"):
            return st.just("0123456789abcdef")
        case inspect.StrType(pattern=r"^\d{4}-\d{2}-\d{2}$"):
            return st.just("2024-02-29")
        case inspect.StrType():
            return st.sampled_from(["x", 'the sink\'s "top" = 1, ½', "é" * 80])
        case _:
            raise TypeError(kind)


def structs(job: Job, cls: type) -> st.SearchStrategy[Any]:
    """Any value of a class of the document, with ids from a job and ids of nothing."""
    description = inspect.type_info(cls)
    assert isinstance(description, inspect.StructType)
    return st.builds(
        cls,
        **{field.name: _values(job, field.type, cls, field.name) for field in description.fields},
    )


def _sets(job: Job) -> list[tuple[type[Edit], Any]]:
    """The edits that replace something of a job, with what they replace."""
    return [
        *((edits.SetOpening, opening) for opening in job.openings),
        *((edits.SetSeam, seam) for seam in job.seams),
        *((edits.SetLeg, leg) for run in job.runs for leg in run.legs),
        *((edits.SetIsland, island) for island in job.islands),
        *((edits.SetReading, reading) for reading in job.room.readings),
    ]


@st.composite
def _tweaks(draw: st.DrawFn, job: Job) -> Edit:
    """An edit that changes one field of one thing."""
    kind, value = draw(st.sampled_from(_sets(job)))
    description = inspect.type_info(type(value))
    assert isinstance(description, inspect.StructType)
    field = draw(st.sampled_from([field for field in description.fields if field.name != "id"]))
    new = draw(_values(job, field.type, type(value), field.name))
    edit: Edit = kind(replace(value, **{field.name: new}))
    return edit


_hooks: st.SearchStrategy[Literal["left", "right"]] = st.sampled_from(["left", "right"])


@st.composite
def _cuts(draw: st.DrawFn, job: Job) -> Edit:
    """A seam or an opening somewhere on a top."""
    run = draw(st.sampled_from(job.runs))
    leg = draw(st.sampled_from(run.legs)).id
    along, hook = draw(st.floats(0.0, 150.0)), draw(_hooks)
    if draw(st.booleans()):
        angle = draw(st.sampled_from([90.0, 60.0, 45.0, 100.0]))
        start = SeamOnLeg(leg, along, hook, angle)
        return edits.AddSeam(Seam(fresh_id(job, "seam"), run.id, start))
    at = AlongLeg(leg, along, draw(st.floats(2.0, 22.0)), hook)
    shape = RectangleShape(draw(st.floats(1.0, 30.0)), draw(st.floats(1.0, 16.0)), 0.5)
    return edits.AddOpening(Opening(fresh_id(job, "opening"), "bowl", shape, at))


@st.composite
def _shapes(draw: st.DrawFn, job: Job) -> Edit:
    """A corner's shape, or which strip runs past there."""
    refs = _edge_refs(job)
    corner = corner_ref(draw(refs), draw(refs))
    if draw(st.booleans()):
        return edits.RunPast(corner, draw(st.sampled_from([corner.a, corner.b, None])))
    radius = draw(st.floats(0.1, 30.0))
    return edits.ShapeCorner(corner, draw(st.sampled_from([RoundCorner(corner, radius), None])))


def edits_of(job: Job) -> st.SearchStrategy[Edit]:
    """Any edit, of things of a job mostly."""
    every = st.sampled_from(get_args(Edit)).flatmap(lambda cls: structs(job, cls))
    ways = [every, every, _shapes(job)]
    if _sets(job):
        ways.append(_tweaks(job))
    if job.runs:
        ways.append(_cuts(job))
    return st.one_of(ways)


SAMPLES = tuple(read_job(sample_path(name)) for name in sample_names())
sample_jobs = st.sampled_from(SAMPLES)
