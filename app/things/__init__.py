"""What is chosen, described: its title, its facts, and the questions whose answers change it."""

from collections.abc import Callable, Sequence

from app.gestures.drags import island_of_piece
from app.gestures.strips import strip_of_piece
from app.things.around import top_of, walk
from app.things.boxes import Described
from app.things.cabinets import cabinet_described
from app.things.corners import corners_described
from app.things.counters import island_described, piece_described
from app.things.edges import edge_described, edges_described
from app.things.insets import inset_described
from app.things.openings import opening_described
from app.things.pins import pin_described
from app.things.readings import baseline_described, mark_described, reading_described
from app.things.room import corner_described, wall_described
from app.things.seams import seam_described
from app.things.whole_job import whole_job
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.picking import Subject
from shop import edits
from shop.free_shapes import start_side, without_corner
from shop.job import Job
from shop.plan import pieces, tops
from shop.references import run_of
from shop.top_corners import shape_of
from shop.words import top_words


def described(job: Job, subject: Subject | None) -> Described:
    """Return what is to be said and asked about a thing; about the whole job for None."""
    if subject is None:
        return whole_job(job)
    match subject.kind:
        case "corner":
            return corner_described(job, subject.id)
        case "wall":
            return wall_described(job, subject.id)
        case "reading":
            return reading_described(job, subject.id)
        case "mark":
            return mark_described(job, subject.id)
        case "inset":
            return inset_described(job, subject.id)
        case "pin":
            return pin_described(job, subject.id)
        case "baseline":
            return baseline_described(job, subject.id)
        case "cabinet":
            return cabinet_described(job, subject.id)
        case "opening":
            return opening_described(job, subject.id)
        case "seam":
            return seam_described(job, subject.id)
        case "island":
            return island_described(job, subject.id)
        case "piece":
            return piece_described(job, subject.id)
        case "edge":
            return edge_described(job, subject)
        case _:
            return whole_job(job)


def described_all(job: Job, chosen: Sequence[Subject]) -> Described:
    """Return what is chosen: several corners or several edges together, else the last thing."""
    refs = [subject.edge for subject in chosen if subject.kind == "edge"]
    if len(chosen) > 1 and len(refs) == len(chosen):
        corners = tuple(dict.fromkeys(ref for ref in refs if isinstance(ref, CornerRef)))
        edges = tuple(dict.fromkeys(ref for ref in refs if isinstance(ref, EdgeRef)))
        if len(corners) > 1 and not edges:
            return corners_described(job, corners)
        if len(edges) > 1 and not corners:
            return edges_described(job, edges)
    return described(job, chosen[-1] if chosen else None)


def called(job: Job, subject: Subject) -> str:
    """Return what a thing is called, told apart from all others of the job."""
    title = described(job, subject).title
    if subject.kind == "reading":
        return f"{title}, its reading"
    if subject.kind == "cabinet":
        every = [Subject("cabinet", one.id) for one in job.cabinets]
        alike = [one for one in every if described(job, one).title == title]
        place = alike.index(subject) + 1 if subject in alike else 1
        return title if len(alike) < 2 else f"{title}, {place} of {len(alike)}"
    top = top_of(job, subject) if subject.kind == "edge" else None
    several = len(job.runs) + len(job.islands) > 1
    named = any(strip.id == top for strip in job.alongside)
    return title if top is None or named or not several else f"{title}, {top_words(job, top)}"


def everything(job: Job) -> tuple[Subject, ...]:
    """Return all that can be chosen, with edges and corners of tops, and readings."""
    round_tops = [one for top in tops(job) for one in walk(job, top.top.id)]
    read = [Subject("reading", reading.id) for reading in job.room.readings]
    return (*listed_subjects(job), *round_tops, *read)


_REMOVED_BY: dict[str, Callable[[Id], edits.Edit]] = {
    "corner": edits.RemoveCorner,
    "wall": edits.RemoveWall,
    "reading": edits.RemoveReading,
    "mark": edits.RemoveMark,
    "inset": edits.RemoveInset,
    "pin": edits.RemovePin,
    "baseline": edits.RemoveBaseline,
    "cabinet": edits.RemoveCabinet,
    "opening": edits.RemoveOpening,
    "seam": edits.RemoveSeam,
    "island": edits.RemoveIsland,
}


def removal(job: Job, subject: Subject) -> tuple[edits.Edit, ...]:
    """Return the edits that remove a thing; a piece goes with its whole top.

    An edge goes with its leg, as long as its top has others.
    """
    if subject.kind in _REMOVED_BY:
        return (_REMOVED_BY[subject.kind](subject.id),)
    match subject.kind:
        case "piece":
            return (_without_piece(job, subject.id),)
        case "edge" if isinstance(subject.edge, CornerRef):
            return _without_corner(job, subject.edge)
        case "edge" if isinstance(subject.edge, EdgeRef):
            return _without_edge(job, subject.edge)
        case _:
            return ()


def _without_piece(job: Job, name: str) -> edits.Edit:
    """Return the edit that removes the top that a piece is of."""
    island, strip = island_of_piece(job, name), strip_of_piece(job, name)
    if island is not None:
        return edits.RemoveIsland(island)
    if strip is not None:
        return edits.RemoveAlongside(strip.id)
    return edits.RemoveRun(next(p.top for p in pieces(job) if p.name == name))


def _without_edge(job: Job, ref: EdgeRef) -> tuple[edits.Edit, ...]:
    """Return the edits that remove the strip or the leg that an edge is of.

    The last leg of a top goes with its pieces: one chooses a piece for that.
    """
    if any(strip.id == ref.owner for strip in job.alongside):
        return (edits.RemoveAlongside(ref.owner),)
    run = run_of(job, ref.owner)
    return () if run is None or len(run.legs) == 1 else (edits.RemoveLeg(ref.owner),)


def _without_corner(job: Job, ref: CornerRef) -> tuple[edits.Edit, ...]:
    """Return the edits that make a corner square, or take a square one out of a free shape."""
    if shape_of(job, ref) is not None:
        return (edits.ShapeCorner(ref, None),)
    island = next((i for i in job.islands if i.id == ref.a.owner), None)
    start = None if island is None else start_side(island, ref)
    changed = None if island is None or start is None else without_corner(island, start)
    return () if changed is None else (edits.SetIsland(changed),)


def listed_subjects(job: Job) -> tuple[Subject, ...]:
    """Return everything that can be chosen, in the order of a person walking through the job."""
    return (
        *(Subject("corner", c.id) for c in job.room.corners),
        *(Subject("wall", w.id) for w in job.room.walls),
        *(Subject("mark", m.id) for m in job.room.marks),
        *(Subject("baseline", b.id) for b in job.room.baselines),
        *(Subject("cabinet", c.id) for c in job.cabinets),
        *(Subject("piece", p.name) for p in pieces(job)),
        *(Subject("opening", o.id) for o in job.openings),
        *(Subject("inset", one.id) for one in job.insets),
        *(Subject("seam", s.id) for s in job.seams),
        *(Subject("pin", pin.id) for pin in job.pins),
    )
