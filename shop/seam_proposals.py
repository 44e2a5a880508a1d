"""Seam proposals: complete layouts of a top's seams, the best first.

A layout keeps every piece within the job's limits: the weight a carry, the longest piece, the
doorway (a piece goes through on edge: its narrower extent) and the sheet for its base. Extents are
taken square to the front of a leg that the piece has a part of, whichever serves best. Layouts are
ranked by Score, in the order of its fields; ties go to fewer seams off the cabinet sides, then to
pieces more alike in weight. Where none keeps the limits, the nearest are proposed: one limit gives
by the least share of it, or all by the same share where one is not enough.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple, TypeAlias

from msgspec.structs import replace

from geometry.counters import RoundCorner
from geometry.lengths import written
from geometry.naming import Id
from geometry.picking import Subject
from geometry.seams import Seam
from shop import edits, plan
from shop.applying import applied
from shop.findings import Finding, of_mold, without_steel
from shop.job import Job, fresh_id
from shop.piece_rows import with_names
from shop.remedies import remedies
from shop.seam_layouts import Layout, Score, Search
from shop.seam_reasons import layout_words, moved_words, none_words, over_words
from shop.seam_row import row_of
from shop.words import length_style, listed, opening_words


class Proposal(NamedTuple):
    """A layout: its seams from left to right, its score, and what speaks for it, in words.

    also are edits of corners: those without which its molds could not be built, and those that
    leave a corner as it was which another layout changes.
    """

    seams: tuple[Seam, ...]
    score: Score
    words: str
    also: tuple[edits.ShapeCorner, ...] = ()


class Proposals(NamedTuple):
    """The best layouts of a top; none says why there is none, or none that keeps the limits."""

    top: Id
    best: tuple[Proposal, ...]
    none: str = ""


def seam_proposals(job: Job, top: Id, told: Callable[[int], None] = lambda _: None) -> Proposals:
    """Return the best layouts of a top's seams, in place of those it has.

    told is called with how many have been found so far.
    """
    reason = _hindrance(job, top)
    if reason:
        return Proposals(top, (), reason)
    told(0)
    made = next(found for found in plan.tops_and_strips(job) if found.top.id == top)
    search = Search(row_of(job, made))
    layouts = search.layouts({}, told)
    none = ""
    while not layouts:
        given = search.given()
        if not given:
            return Proposals(top, (), "No seam can be made in this top: look at its shape.")
        layouts = search.layouts(given, told)
        none = none_words(search, given, layouts[0]) if layouts else ""
    best = _worded(search, layouts, nearest=bool(none))
    mended = [_mended(job, top, proposal) for proposal in best]
    return Proposals(top, _put_back(job, mended), none)


def layout_edits(job: Job, top: Id, proposal: Proposal) -> tuple[edits.Edit, ...]:
    """Return what puts a layout's seams in place of those that a top has, and what goes with it."""
    gone = (edits.RemoveSeam(seam.id) for seam in job.seams if seam.top == top)
    return (*gone, *map(edits.AddSeam, proposal.seams), *proposal.also)


def _hindrance(job: Job, top: Id) -> str:
    """Return why a top's seams cannot be thought about, or nothing."""
    made = next((found for found in plan.tops_and_strips(job) if found.top.id == top), None)
    if made is None:
        return "The top cannot be made as it is drawn: mend that first, then ask again."
    frozen = [slab.piece for slab in job.slabs if slab.top == top]
    if frozen:
        many = "are" if frozen[1:] else "is"
        pieces = f"Piece{'s' if frozen[1:] else ''} {listed(frozen)}"
        return f"{pieces} of this top {many} cut already, so its seams stay where they are."
    holes = {opening.id for opening in made.openings}
    bad = next((fault.owner for fault in plan.layout(job).faults if fault.owner in holes), None)
    if bad is not None:
        return f"The {opening_words(job, bad)} cannot be cut there: move it first, then ask again."
    return ""


def _worded(search: Search, layouts: Sequence[Layout], *, nearest: bool) -> Iterator[Proposal]:
    """Yield layouts in words; one that sounds like another says which seams differ."""
    job, reasons = search.row.job, list[str]()
    for layout in layouts:
        chosen = [search.row.seams[place - 1] for place in layout.places[1:-1]]
        seams = tuple(
            replace(seam.seam, id=fresh_id(job, "seam", number))
            for number, seam in enumerate(chosen)
        )
        words = reason = layout_words(search, layout, chosen)
        if reason in reasons:
            first = reasons.index(reason)
            moved = moved_words(search, layout, layouts[first])
            words = f"{reason}; {moved} elsewhere than in layout {first + 1}"
        reasons.append(reason)
        if nearest:
            words = f"{over_words(search, layout)}; {words}"
        yield Proposal(seams, layout.score, words)


# --- Corners that a layout changes ----------------------------------------------------------------


def _mended(job: Job, top: Id, made: Proposal) -> Proposal:
    """Return a layout with the corners rounded anew whose sidewalls it leaves no room, in words.

    What else cannot be built then is said.
    """
    before, also = _blocks(_split(job, top, ()), top), list[edits.ShapeCorner]()
    done = _split(job, top, made.seams)
    while fresh := _blocks(done, top) - before:
        colliding = (found for found in without_steel(done) if _notice_of(found) in fresh)
        mends = (one.edit for found in colliding for one in remedies(done, found))
        mend = next((edit for edit in mends if isinstance(edit, edits.ShapeCorner)), None)
        if mend is None:
            break
        also.append(mend)
        done = applied(done, mend)
    said = [made.words, *(_corner_words(job, edit) for edit in also)]
    titles = (found.title for found in without_steel(done) if _notice_of(found) in fresh)
    said += [f"then to look at: {title}" for title in titles]
    return made._replace(words="; ".join(said), also=tuple(also))


def _put_back(job: Job, made: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """Return layouts that each leave as they were the corners which only others change.

    So one that is taken after another is what it was judged as.
    """
    there = {shape.corner: shape for shape in job.corner_shapes}
    changed = dict.fromkeys(edit.corner for one in made for edit in one.also)

    def whole(one: Proposal) -> Proposal:
        own = {edit.corner for edit in one.also}
        back = (edits.ShapeCorner(c, there.get(c)) for c in changed if c not in own)
        return one._replace(also=(*one.also, *back))

    return tuple(map(whole, made))


def _split(job: Job, top: Id, seams: tuple[Seam, ...]) -> Job:
    """Return a job with these seams in place of those that a top has, whatever the letters."""
    others = (seam for seam in job.seams if seam.top != top)
    return with_names(job, replace(job, seams=(*others, *seams)))


_Notice: TypeAlias = tuple[str, frozenset[Subject]]


def _blocks(job: Job, top: Id) -> Counter[_Notice]:
    """Return what keeps the molds of a top from being built, and where, whatever the letters."""
    own = {piece.name for piece in plan.pieces(job) if piece.top == top}
    return Counter(
        _notice_of(found)
        for mold in plan.molds(job)
        if mold.piece in own
        for found in of_mold(job, mold)
        if found.blocking
    )


def _notice_of(finding: Finding) -> _Notice:
    return finding.code, frozenset(s for s in finding.about if s.kind != "piece")


def _corner_words(job: Job, edit: edits.ShapeCorner) -> str:
    if isinstance(edit.shape, RoundCorner):
        radius = written(edit.shape.radius, length_style(job))
        return f"rounds the corner to {radius} as well, for its sidewalls"
    return "leaves the corner square as well, for its sidewalls"
