"""The edges and corners of tops, in the order in which one walks round them."""

from geometry.naming import CornerRef, EdgeRef
from geometry.picking import Subject
from shop.job import Job
from shop.plan import pieces, tops_and_strips
from shop.references import run_of
from shop.top_corners import top_corners


def top_of(job: Job, subject: Subject | None) -> str | None:
    """Return the top that a piece, an island, a run, a leg, an edge or a corner belongs to."""
    if subject is None:
        return None
    if subject.kind == "piece":
        return next((p.top for p in pieces(job) if p.name == subject.id), None)
    run = run_of(job, subject.id)
    owner = subject.id if run is None else run.id
    return owner if any(top.top.id == owner for top in tops_and_strips(job)) else None


def corners_round(job: Job, top: str) -> tuple[Subject, ...]:
    """Return the corners of a top."""
    return tuple(corner_subject(c.ref) for c in top_corners(job) if c.top == top)


def corner_subject(ref: CornerRef) -> Subject:
    """Return what is chosen by a corner, square or shaped."""
    return Subject("edge", ref.a.owner, ref)


def walk(job: Job, top: str) -> tuple[Subject, ...]:
    """Return the edges of a top, each followed by the corner at its end, counter-clockwise."""
    ends = {c.ref: corner_subject(c.ref) for c in top_corners(job) if c.top == top}
    found: dict[Subject, None] = {}
    outline = next(t.top.outline for t in tops_and_strips(job) if t.top.id == top)
    for tag in outline.tags:
        if isinstance(tag.ref, EdgeRef):
            found[Subject("edge", tag.ref.owner, tag.ref)] = None
    sides = list(found)
    walked: list[Subject] = []
    for one, after in zip(sides, [*sides[1:], *sides[:1]], strict=True):
        assert isinstance(one.edge, EdgeRef)
        assert isinstance(after.edge, EdgeRef)
        walked.append(one)
        corner = ends.get(CornerRef(one.edge, after.edge))
        if corner is not None:
            walked.append(corner)
    return tuple(walked)
