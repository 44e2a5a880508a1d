"""Pieces frozen, measured and freed again.

A frozen slab hangs on nothing: it stays when its seam, its opening or its whole run goes, since a
mold that exists does not vanish; only marking it as drawn takes it away.
"""

from msgspec.structs import replace

from geometry.naming import EdgeRef
from shop import edits, plan
from shop.fillings import fillings, with_fillings
from shop.job import Job, SeamSide, Slab
from shop.mold_choices import mold_choices
from shop.piece_rows import with_names
from shop.slabs import are_measurable, is_sound, shape_of


def with_piece_marked(job: Job, edit: edits.MarkPiece) -> Job:
    """Return the job with a piece frozen as it is, further on, or free again.

    What was measured on a slab goes when it is no longer cast.
    """
    frozen = next((slab for slab in job.slabs if slab.piece == edit.piece), None)
    if edit.state == "drawn":
        return replace(job, slabs=tuple(slab for slab in job.slabs if slab is not frozen))
    if frozen is None:
        return _with_slab(job, edit)
    kept = frozen.came_out, frozen.thickness_out
    came_out, thickness_out = kept if edit.state == "cast" else ((), None)
    marked = replace(frozen, state=edit.state, came_out=came_out, thickness_out=thickness_out)
    return replace(job, slabs=tuple(marked if s is frozen else s for s in job.slabs))


def _with_slab(job: Job, edit: edits.MarkPiece) -> Job:
    named = with_names(job, job)
    found = next((piece for piece in plan.pieces(named) if piece.name == edit.piece), None)
    if found is None or edit.state == "drawn":
        return job
    face = found.face
    holes = {hole.id for hole in face.openings} | {part.id for part in face.parts}
    names = {opening.id: opening.name for opening in job.openings}
    shape = with_fillings(shape_of(face, names), fillings(job, holes))
    if not is_sound(shape):
        return job
    refs = {tag.ref for tag in face.base_outline.tags}
    near = {e for r in refs for e in ((r,) if isinstance(r, EdgeRef) else (r.a, r.b))}
    near |= {EdgeRef(hole, "cut") for hole in holes}
    slab = Slab(
        found.name,
        edit.state,
        found.top,
        plan.thickness_of(job, found.top),
        shape,
        tuple(SeamSide(seam, side) for seam, side in face.sides),
        mold_choices(named, found.name),
        tuple(choice for choice in job.edge_choices if choice.edge in near),
        tuple(p for p in job.past_choices if {p.corner.a, p.corner.b} <= refs),
        reinforcement=job.reinforcement,
    )
    return replace(named, slabs=(*job.slabs, slab))


def with_slab_measured(job: Job, edit: edits.MeasureSlab) -> Job:
    """Return the job with what was measured on a cast slab; on any other nothing can be."""
    slab = next((s for s in job.slabs if s.piece == edit.piece and s.state == "cast"), None)
    if slab is None or not are_measurable(slab.shape, edit.came_out):
        return job
    measured = replace(slab, came_out=edit.came_out, thickness_out=edit.thickness_out)
    return replace(job, slabs=tuple(measured if s is slab else s for s in job.slabs))
