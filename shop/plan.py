"""What follows from a job: tops, pieces and molds, on demand and cached by value.

Each element (one top, one opening, one split, one mold) is cached by its own geometry, so that a
change redoes only what it touches. A shape that cannot be made is left out with what follows from
it and becomes a fault that shop/findings.py reports; the rest stays live.
"""

from collections.abc import Iterator
from functools import lru_cache
from math import ceil
from typing import Literal, TypeAlias, TypeVar

import msgspec

from geometry.alongside import Alongside, Splash, alongside_top
from geometry.backs import Chain
from geometry.bridges import Bridge, Zone, bridges, zones
from geometry.counters import CornerShape, FromWalls, Island, Run
from geometry.frames import Top, WallLine
from geometry.islands import island_top
from geometry.layout import run_top
from geometry.lengths import LengthStyle
from geometry.mitres import Bevel
from geometry.naming import CornerRef, EdgeRef, GeometryError, Id
from geometry.openings import (
    CircleShape,
    Opening,
    PlacedOpening,
    Shape,
    opening_faults,
    placed,
)
from geometry.outline import Outline, weighed
from geometry.points import Point
from geometry.seams import Seam, SeamPath, seam_path
from geometry.splitting import Face, Split, named, split
from geometry.tolerances import SAME_POINT_IN
from shop import molds as molding
from shop.anchors import host_of, settled
from shop.fillings import fillings, frozen_fillings
from shop.job import EdgeChoice, Job, PieceName
from shop.leg_lines import line_of
from shop.lettering import free_letter
from shop.measures import CU_IN_PER_FL_OZ
from shop.mitres import bevels_of, mitres_chosen, removed_cu_ft
from shop.mold_choices import mold_choices
from shop.molds import Mold
from shop.moldwords import MoldWords
from shop.profiles import followed, surfaces_of
from shop.references import run_of
from shop.slabs import hole_names
from shop.standing import Live, beside, opening_names
from shop.survey import room
from shop.weights import volume_cu_ft, weight_lb
from shop.words import leg_place, length_style, listed, side_words

SQUARE_INCHES_PER_SQUARE_FOOT = 144.0

State: TypeAlias = Literal["drawn", "cut", "poured", "cast"]
"""How far a piece is; from cut on it is frozen."""

SMALL_HOLE_IN = 2.0
"""A round hole up to this wide has the smaller bridge limit; common practice, no source."""


class Fault(msgspec.Struct, frozen=True, cache_hash=True):
    """A shape that cannot be made: a short code, a sentence, and what it is about.

    most_in is the largest size that can be made, if the text leads up to one.
    """

    code: str
    text: str
    about: EdgeRef | CornerRef | str | None
    owner: Id
    most_in: float | None = None

    def said(self, style: LengthStyle) -> str:
        """Return what is wrong, with lengths written as the style says."""
        return GeometryError(self.code, self.text, self.about, self.most_in).said(style)


class TopPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A top with its openings."""

    top: Top
    openings: tuple[PlacedOpening, ...]


class Piece(msgspec.Struct, frozen=True, cache_hash=True):
    """One slab, face up, in the room's coordinates. Its area is that of the concrete's face.

    bevels are its mitred edges; centroid is that of the face.
    """

    name: str
    top: Id
    face: Face
    area_sq_in: float
    volume_cu_ft: float
    weight_lb: float
    centroid: Point
    bridges: tuple[Bridge, ...]
    state: State = "drawn"
    bevels: tuple[Bevel, ...] = ()


class Shapes(msgspec.Struct, frozen=True):
    """The tops that can be made, the faces they are split into, and the faults of the rest.

    strips are those along edges of tops, each as a top of its own. faces are those of each by its
    id, in the order in which they take their names.
    """

    tops: tuple[TopPlan, ...]
    faces: tuple[tuple[Id, tuple[Face, ...]], ...]
    faults: tuple[Fault, ...]
    paths: tuple[SeamPath, ...]
    strips: tuple[TopPlan, ...] = ()


class Layout(msgspec.Struct, frozen=True):
    """The tops that can be made, the pieces they are split into, and the faults of the rest.

    strips are those along edges of tops, each as a top of its own.
    """

    tops: tuple[TopPlan, ...]
    pieces: tuple[Piece, ...]
    faults: tuple[Fault, ...]
    paths: tuple[SeamPath, ...]
    strips: tuple[TopPlan, ...] = ()


class _Cut(msgspec.Struct, frozen=True):
    """One top with its openings, its faces, the faults of the rest, and where its seams run."""

    top: TopPlan
    faces: tuple[Face, ...]
    faults: tuple[Fault, ...]
    paths: tuple[SeamPath, ...]


Made = TypeVar("Made", PlacedOpening, SeamPath)


def _fault(error: GeometryError, owner: Id) -> Fault:
    return Fault(error.code, str(error), error.about, owner, error.most_in)


@lru_cache(maxsize=512)
def _run_top(
    run: Run,
    walls: tuple[WallLine, ...],
    surfaces: tuple[tuple[Id, Chain], ...],
    shapes: tuple[CornerShape, ...],
) -> Top | Fault:
    try:
        return run_top(run, {wall.id: wall for wall in walls}, shapes, dict(surfaces))
    except GeometryError as error:
        return _fault(error, run.id)


@lru_cache(maxsize=512)
def _island_top(
    island: Island, walls: tuple[WallLine, ...], shapes: tuple[CornerShape, ...]
) -> Top | Fault:
    try:
        return island_top(island, {wall.id: wall for wall in walls}, shapes)
    except GeometryError as error:
        return _fault(error, island.id)


@lru_cache(maxsize=2048)
def _placed(opening: Opening, top: Top) -> PlacedOpening | Fault:
    try:
        return placed(opening, top)
    except GeometryError as error:
        return _fault(error, opening.id)


@lru_cache(maxsize=1024)
def _seam_path(seam: Seam, top: Top) -> SeamPath | Fault:
    try:
        return seam_path(seam, top)
    except GeometryError as error:
        return _fault(error, seam.id)


@lru_cache(maxsize=512)
def _inside(top: Top, openings: tuple[PlacedOpening, ...]) -> tuple[Fault, ...]:
    return tuple(_fault(error, str(error.about)) for error in opening_faults(top, openings))


@lru_cache(maxsize=512)
def _split(
    top: Top, openings: tuple[PlacedOpening, ...], paths: tuple[SeamPath, ...]
) -> tuple[Split, tuple[Fault, ...]]:
    """Return the faces of a top; a seam that cannot be is left out and reported."""
    faults: list[Fault] = []
    while True:
        try:
            return split(top.outline, openings, paths), tuple(faults)
        except GeometryError as error:
            owner = str(error.about or top.id)
            faults.append(_fault(error, owner))
            fewer = tuple(path for path in paths if path.id != owner)
            if fewer == paths:
                return Split(()), tuple(faults)
            paths = fewer


@lru_cache(maxsize=2048)
def _bridges(face: Face, limit_in: float) -> tuple[Bridge, ...]:
    return bridges(face.outline, tuple(o.outline for o in face.openings), limit_in)


@lru_cache(maxsize=2048)
def _measured(face: Face) -> tuple[float, Point]:
    """Return the area of a face's concrete and its center."""
    whole, (cx, cy) = _weighed(face.outline)
    x, y = whole * cx, whole * cy
    for opening in face.openings:
        hole, (cx, cy) = _weighed(opening.outline)
        whole, x, y = whole + hole, x + hole * cx, y + hole * cy
    return whole, (x / whole, y / whole)


@lru_cache(maxsize=4096)
def _weighed(outline: Outline) -> tuple[float, Point]:
    return weighed(outline)


@lru_cache(maxsize=64)
def _meeting(walls: tuple[WallLine, ...]) -> dict[Id, tuple[int, ...]]:
    """Return for each wall the places of those that end where it does, itself among them."""
    ends = sorted((end, place) for place, w in enumerate(walls) for end in (w.left, w.right))
    found: list[set[int]] = [{place} for place in range(len(walls))]
    for i, ((x, y), place) in enumerate(ends):
        for (p, q), other in ends[i + 1 :]:
            if p - x > SAME_POINT_IN:
                break
            if abs(q - y) <= SAME_POINT_IN:
                found[place].add(other)
                found[other].add(place)
    return {wall.id: tuple(sorted(near)) for wall, near in zip(walls, found, strict=True)}


def _walls_for_run(run: Run, walls: tuple[WallLine, ...]) -> tuple[WallLine, ...]:
    """Return the walls a run depends on: its legs' and those that meet them."""
    meeting = _meeting(walls)
    own = {leg.wall for leg in run.legs}
    places = {place for wall in own for place in meeting.get(wall, ())}
    return tuple(walls[place] for place in sorted(places))


def _top(
    job: Job, owner: Run | Island, walls: tuple[WallLine, ...]
) -> tuple[Top | None, list[Fault]]:
    """Return a top, without the corner shapes that do not fit, and the faults."""
    ids = {leg.id for leg in owner.legs} if isinstance(owner, Run) else {owner.id}
    shapes = tuple(s for s in job.corner_shapes if {s.corner.a.owner, s.corner.b.owner} <= ids)
    faults: list[Fault] = []
    while True:
        if isinstance(owner, Run):
            near = _walls_for_run(owner, walls)
            bowed = surfaces_of(job, {wall.id for wall in near})
            made = _run_top(followed(job, owner), near, bowed, shapes)
        else:
            at = owner.at
            named = (at.wall_a, at.wall_b) if isinstance(at, FromWalls) else ()
            made = _island_top(owner, tuple(w for w in walls if w.id in named), shapes)
        if isinstance(made, Top):
            return made, faults
        faults.append(made)
        fewer = tuple(s for s in shapes if s.corner != made.about)
        if fewer == shapes:
            return None, faults
        shapes = fewer


def sharp_top(job: Job, owner: Run | Island) -> Top | None:
    """Return the top of a run or an island with all its corners square, if it can be made."""
    return _top(msgspec.structs.replace(job, corner_shapes=()), owner, room(job).walls)[0]


def _openings_of(job: Job) -> dict[Id, tuple[Opening, ...]]:
    """Return the openings of each top that has any, by the top's id."""
    hosts = {leg.id: run.id for run in job.runs for leg in run.legs}
    hosts |= {owner.id: owner.id for owner in (*job.islands, *job.alongside)}
    found: dict[Id, tuple[Opening, ...]] = {}
    for opening in settled(job):
        top = hosts.get(host_of(job, opening), "")
        found[top] = (*found.get(top, ()), opening)
    return found


def _seams_of(job: Job) -> dict[Id, tuple[Seam, ...]]:
    """Return the seams of each top that has any, by the top's id."""
    found: dict[Id, tuple[Seam, ...]] = {}
    for seam in job.seams:
        found[seam.top] = (*found.get(seam.top, ()), seam)
    return found


def _sorted_out(made: list[Made | Fault], kind: type[Made], faults: list[Fault]) -> list[Made]:
    faults.extend(item for item in made if isinstance(item, Fault))
    return [item for item in made if isinstance(item, kind)]


@lru_cache(maxsize=32)
def layout(job: Job) -> Layout:
    """Return tops, pieces and faults of a job; each element is cached by its own geometry."""
    made = shapes(job)
    return Layout(made.tops, _pieces(job), made.faults, made.paths, made.strips)


@lru_cache(maxsize=32)
def shapes(job: Job) -> Shapes:
    """Return what the layout is made of, before pieces are named, weighed and looked at."""
    walls = room(job).walls
    tops: list[TopPlan] = []
    faults: list[Fault] = []
    paths_of: list[SeamPath] = []
    faces: list[tuple[Id, tuple[Face, ...]]] = []
    owners: tuple[Run | Island, ...] = (*job.runs, *job.islands)
    openings, seams = _openings_of(job), _seams_of(job)
    for owner in owners:
        top, top_faults = _top(job, owner, walls)
        faults.extend(top_faults)
        if top is not None:
            cut = _cut(top, openings.get(owner.id, ()), seams.get(owner.id, ()))
            tops.append(cut.top)
            faults.extend(cut.faults)
            paths_of.extend(cut.paths)
            faces.append((owner.id, cut.faces))
    strips: list[TopPlan] = []
    for piece, strip, strip_faults in _strip_tops(job, tuple(tops)):
        faults.extend(strip_faults)
        if strip is not None:
            cut = _cut(strip, openings.get(piece.id, ()), seams.get(piece.id, ()))
            strips.append(cut.top)
            faults.extend(cut.faults)
            paths_of.extend(cut.paths)
            faces.append((piece.id, cut.faces))
    return Shapes(tuple(tops), tuple(faces), tuple(faults), tuple(paths_of), tuple(strips))


def _strip_tops(
    job: Job, made: tuple[TopPlan, ...], *, sharp: bool = False
) -> Iterator[tuple[Alongside, Top | None, list[Fault]]]:
    """Yield each strip whose counter is made with its top, if it can be made, and the faults.

    Corner shapes that do not fit are left out, or all of them where sharp.
    """
    outlines = {found.top.id: found.top.outline for found in made}
    marks = {mark.id: mark.point for mark in room(job).marks} if job.alongside else {}
    for piece in job.alongside:
        run = run_of(job, piece.edge.owner)
        outline = outlines.get(piece.edge.owner if run is None else run.id)
        if outline is None:
            continue
        at = (piece.left_at, piece.right_at) if isinstance(piece, Splash) else ()
        own = tuple((mark, marks[mark]) for mark in at if mark in marks)
        line = WallLine(piece.id, (0.0, 0.0), (1.0, 0.0)) if run is None else line_of(job, piece.id)
        shapes = tuple(s for s in job.corner_shapes if not sharp and s.corner.a.owner == piece.id)
        faults: list[Fault] = []
        while True:
            strip = _alongside(piece, outline, own, line, shapes)
            if isinstance(strip, Top):
                yield piece, strip, faults
                break
            faults.append(strip)
            fewer = tuple(s for s in shapes if s.corner != strip.about)
            if fewer == shapes:
                yield piece, None, faults
                break
            shapes = fewer


def sharp_strips(job: Job) -> tuple[Top, ...]:
    """Return the strips along edges of tops with all their corners square, as tops."""
    found = _strip_tops(job, shapes(job).tops, sharp=True)
    return tuple(strip for _, strip, _ in found if strip is not None)


@lru_cache(maxsize=512)
def _alongside(
    piece: Alongside,
    outline: Outline,
    marks: tuple[tuple[Id, Point], ...],
    line: WallLine,
    shapes: tuple[CornerShape, ...],
) -> Top | Fault:
    """Return a strip along an edge of a top's outline as a top of its own."""
    try:
        return alongside_top(piece, outline, dict(marks), line, shapes)
    except GeometryError as error:
        return _fault(error, piece.id)


def thickness_of(job: Job, top: Id) -> float:
    """Return how thick the pieces of a top are drawn: the job's slab, or a strip's own."""
    return next((piece.thickness for piece in job.alongside if piece.id == top), job.thickness)


@lru_cache(maxsize=512)
def _cut(top: Top, drawn: tuple[Opening, ...], seams: tuple[Seam, ...]) -> _Cut:
    """Return a top with its openings, and what its seams make of it."""
    faults: list[Fault] = []
    openings = _sorted_out([_placed(opening, top) for opening in drawn], PlacedOpening, faults)
    outside = _inside(top, tuple(openings))
    faults.extend(outside)
    bad = {fault.about for fault in outside}
    kept = tuple(o for o in openings if o.id not in bad)
    paths = _sorted_out([_seam_path(seam, top) for seam in seams], SeamPath, faults)
    result, split_faults = _split(top, kept, tuple(paths))
    faults.extend(split_faults)
    failed = {fault.owner for fault in split_faults}
    return _Cut(
        TopPlan(top, tuple(openings)),
        result.faces,
        tuple(faults),
        tuple(path for path in paths if path.id not in failed),
    )


@lru_cache(maxsize=32)
def live_pieces(job: Job) -> tuple[Live, ...]:
    """Return the faces of all tops by today's readings and edits, whatever is frozen.

    They are named by the job's rows; the rest take letters that neither a row nor a slab has.
    """
    found: list[Live] = []
    faces = shapes(job).faces
    rows = _rows_by_top(job.piece_names)
    lettered = [(top, _named(top_faces, rows.get(top, ())), top_faces) for top, top_faces in faces]
    used = [name for _, names, _ in lettered for name in names if name is not None]
    used += [slab.piece for slab in job.slabs]
    for top, names, top_faces in lettered:
        for name, face in zip(names, top_faces, strict=True):
            letter = name or free_letter(job.piece_names, used)
            used.append(letter)
            found.append(Live(letter, top, face))
    return tuple(found)


def _pieces(job: Job) -> tuple[Piece, ...]:
    """Return the pieces as they stand, frozen slabs among them."""
    slabs = {slab.piece: slab for slab in job.slabs}
    limit, density, mitres = job.limits.bridge, job.density_pcf, mitres_chosen(job.edge_choices)
    found: list[Piece] = []
    for name, top, face in beside(job, live_pieces(job)):
        slab = slabs.get(name)
        thick = thickness_of(job, top) if slab is None else slab.thickness
        state: State = "drawn" if slab is None else slab.state
        cut = mitres if slab is None else mitres_chosen(slab.edge_choices)
        if cut:
            cut = tuple(choice for choice in cut if choice.edge in _refs(face.outline))
        found.append(_piece(name, top, face, thick, density, limit, state, cut))
    return tuple(sorted(found, key=lambda piece: (len(piece.name), piece.name)))


@lru_cache(maxsize=2048)
def _piece(
    name: str,
    top: Id,
    face: Face,
    thickness: float,
    density_pcf: float,
    limit_in: float,
    state: State = "drawn",
    mitres: tuple[EdgeChoice, ...] = (),
) -> Piece:
    whole, center = _measured(face)
    cut = bevels_of(face.outline, mitres, thickness) if mitres else ()
    volume = volume_cu_ft(whole, thickness) - removed_cu_ft(cut)
    lines = _bridges(face, limit_in)
    weight = weight_lb(volume, density_pcf)
    return Piece(name, top, face, whole, volume, weight, center, lines, state, cut)


def rows_of(job: Job, top: Id) -> tuple[tuple[str, dict[Id, str]], ...]:
    """Return the naming rows of a top as geometry/splitting.py takes them."""
    return _plain(_rows_by_top(job.piece_names).get(top, ()))


def _plain(rows: tuple[PieceName, ...]) -> tuple[tuple[str, dict[Id, str]], ...]:
    return tuple((row.name, {side.seam: side.side for side in row.sides}) for row in rows)


@lru_cache(maxsize=32)
def _rows_by_top(rows: tuple[PieceName, ...]) -> dict[Id, tuple[PieceName, ...]]:
    found: dict[Id, tuple[PieceName, ...]] = {}
    for row in rows:
        found[row.top] = (*found.get(row.top, ()), row)
    return found


@lru_cache(maxsize=1024)
def _named(faces: tuple[Face, ...], rows: tuple[PieceName, ...]) -> tuple[str | None, ...]:
    return named(faces, _plain(rows))


def molds(job: Job) -> tuple[Mold, ...]:
    """Return the molds in the order of their pieces' letters."""
    return tuple(_mold_of(job, found) for found in pieces(job))


def mold(job: Job, name: str) -> Mold:
    """Return the mold of one piece.

    Raises:
        KeyError: there is no such piece.
    """
    return _mold_of(job, piece(job, name))


def _mold_of(job: Job, found: Piece) -> Mold:
    refs = {tag.ref for tag in found.face.base_outline.tags}
    near = {e for r in refs for e in ((r,) if isinstance(r, EdgeRef) else (r.a, r.b))}
    names = names_of_edges(job, found.name)
    holes = {hole.id for hole in found.face.openings} | {part.id for part in found.face.parts}
    near |= {EdgeRef(hole, "cut") for hole in holes}
    slab = next((slab for slab in job.slabs if slab.piece == found.name), None)
    openings = tuple((o.id, o.name) for o in job.openings if o.id in holes)
    reveals = tuple((o.id, o.reveal) for o in job.openings if o.id in holes and o.reveal)
    chosen = fillings(job, holes)
    turn = next((t.edge for t in job.turn_choices if t.piece == found.name), None)
    made_for = job if slab is None else slab
    if slab is not None:
        openings = hole_names(slab.shape)
        chosen = frozen_fillings(slab.shape)
    return _mold(
        found.name,
        found.face,
        thickness_of(job, found.top) if slab is None else slab.thickness,
        mold_choices(job, found.name),
        MoldWords(names, openings, length_style(job), reveals),
        tuple(c for c in made_for.edge_choices if c.edge in near),
        tuple(p for p in made_for.past_choices if {p.corner.a, p.corner.b} <= refs),
        turn,
        job.limits.sharp_corner_deg,
        chosen,
    )


_mold = lru_cache(maxsize=1024)(molding.mold)


def names_of_edges(job: Job, name: str) -> tuple[tuple[EdgeRef | CornerRef, str], ...]:
    """Return what the edges of a piece are called, by edge, in the order of its outline.

    A seam is called by the piece on its other side; several backs or fronts by their walls.

    Raises:
        KeyError: there is no such piece.
    """
    return names_within(piece(job, name), naming(job))


class Naming(msgspec.Struct, frozen=True, cache_hash=True):
    """What of a job the names of edges hang on.

    That are the places of legs where a run has several, the names of openings, and the named edges
    of each piece.
    """

    legs: tuple[tuple[Id, str], ...]
    openings: tuple[tuple[Id, str], ...]
    pieces: tuple[tuple[str, frozenset[EdgeRef | CornerRef]], ...]


@lru_cache(maxsize=32)
def naming(job: Job) -> Naming:
    """Return what the names of edges hang on, the same object as long as it is the same."""
    several = (run for run in job.runs if len(run.legs) > 1)
    legs = tuple((leg.id, leg_place(job, leg.id)) for run in several for leg in run.legs)
    openings = opening_names(job)
    named_edges = tuple((found.name, _refs(found.face.outline)) for found in pieces(job))
    return _same_naming(Naming(legs, openings, named_edges))


@lru_cache(maxsize=32)
def _same_naming(found: Naming) -> Naming:
    return found


@lru_cache(maxsize=4096)
def _refs(outline: Outline) -> frozenset[EdgeRef | CornerRef]:
    return frozenset(tag.ref for tag in outline.tags)


@lru_cache(maxsize=2048)
def names_within(found: Piece, known: Naming) -> tuple[tuple[EdgeRef | CornerRef, str], ...]:
    """Return what the edges of a piece are called, as names_of_edges does."""
    beside, openings, legs = _pieces_by_edge(known), dict(known.openings), dict(known.legs)
    names: list[tuple[EdgeRef | CornerRef, str]] = []
    for ref, alone in _edges_of(found.face.outline):
        if isinstance(ref, EdgeRef) and ref.side in ("left", "right"):
            across = EdgeRef(ref.owner, "right" if ref.side == "left" else "left")
            beyond = beside.get(across, ())
            names.append((ref, f"seam to {listed(beyond)}" if beyond else "seam"))
        elif isinstance(ref, EdgeRef) and ref.owner in openings:
            names.append((ref, openings[ref.owner]))
        elif isinstance(ref, EdgeRef) and not alone:
            names.append((ref, side_words(ref, legs.get(ref.owner, ""))))
        else:
            names.append((ref, side_words(ref, "")))
    return tuple(names)


@lru_cache(maxsize=2048)
def _edges_of(outline: Outline) -> tuple[tuple[EdgeRef | CornerRef, bool], ...]:
    """Return the named edges of an outline in order, and which have a side of their own."""
    refs = tuple(dict.fromkeys(tag.ref for tag in outline.tags))
    sides = [ref.side for ref in refs if isinstance(ref, EdgeRef)]
    return tuple(
        (ref, isinstance(ref, EdgeRef) and ref.side != "cut" and sides.count(ref.side) == 1)
        for ref in refs
    )


@lru_cache(maxsize=32)
def _pieces_by_edge(known: Naming) -> dict[EdgeRef | CornerRef, tuple[str, ...]]:
    """Return the names of the pieces that have a named edge or a part of it."""
    names: dict[EdgeRef | CornerRef, tuple[str, ...]] = {}
    for name, refs in known.pieces:
        for ref in refs:
            names[ref] = (*names.get(ref, ()), name)
    return names


class Tally(msgspec.Struct, frozen=True, cache_hash=True):
    """What a job adds up to; strip_heights_in are what sidewalls are ripped to, highest first."""

    face_sq_ft: float
    concrete_cu_ft: float
    weight_lb: float
    bead_ft: float
    strip_ft: float
    strip_heights_in: tuple[float, ...]
    cartridges: int
    pieces: int


def tally(job: Job) -> Tally:
    """Return what the job adds up to, over all pieces and molds."""
    slabs, forms = pieces(job), molds(job)
    silicone = sum(form.silicone_cu_in for form in forms)
    return Tally(
        face_sq_ft=sum(slab.area_sq_in for slab in slabs) / SQUARE_INCHES_PER_SQUARE_FOOT,
        concrete_cu_ft=sum(slab.volume_cu_ft for slab in slabs),
        weight_lb=sum(slab.weight_lb for slab in slabs),
        bead_ft=sum(form.bead_length_in + form.uprights_length_in for form in forms) / 12.0,
        strip_ft=sum(max(s.face_length_in, s.back_length_in) for f in forms for s in f.strips)
        / 12.0,
        strip_heights_in=tuple(
            sorted({strip.height_in for form in forms for strip in form.strips}, reverse=True)
        ),
        cartridges=ceil(silicone / (job.stock.silicone.fl_oz * CU_IN_PER_FL_OZ)),
        pieces=len(slabs),
    )


def faces_of(job: Job, top: Id) -> tuple[Face, ...]:
    """Return the faces of a top in the order in which they take their names; none if it fails."""
    return dict(shapes(job).faces).get(top, ())


def weak_bridges(job: Job, piece: Piece) -> tuple[Bridge, ...]:
    """Return the bridges to shade and to list: those under the limit that holds for them."""
    return weak_within(piece, bridge_limits(job))


class BridgeLimits(msgspec.Struct, frozen=True, cache_hash=True):
    """The limits of bridges in inches, that beside small holes, and the ids of these."""

    bridge: float
    hole_bridge: float
    small: frozenset[Id]

    def of(self, bridge: Bridge) -> float:
        """Return the limit of a bridge in inches; beside a small hole it is the smaller one."""
        refs = (tag.ref for tag in bridge.between)
        beside = any(isinstance(ref, EdgeRef) and ref.owner in self.small for ref in refs)
        return min(self.hole_bridge, self.bridge) if beside else self.bridge


@lru_cache(maxsize=32)
def bridge_limits(job: Job) -> BridgeLimits:
    """Return the limits of a job's bridges, the same object as long as they are the same."""
    limits, small = job.limits, _small(job.openings)
    splashes = {strip.id for strip in job.alongside if isinstance(strip, Splash)}
    if splashes:
        cut = {found.id for found in job.openings if host_of(job, found) in splashes}
        small = small | splashes | cut
    return _same_limits(BridgeLimits(limits.bridge, limits.hole_bridge, small))


@lru_cache(maxsize=32)
def _small(openings: tuple[Opening, ...]) -> frozenset[Id]:
    return frozenset(opening.id for opening in openings if is_small(opening))


@lru_cache(maxsize=32)
def _same_limits(found: BridgeLimits) -> BridgeLimits:
    return found


@lru_cache(maxsize=2048)
def weak_within(piece: Piece, limits: BridgeLimits) -> tuple[Bridge, ...]:
    """Return the bridges of a piece to shade and to list, as weak_bridges does."""
    return tuple(b for b in piece.bridges if b.width < limits.of(b))


@lru_cache(maxsize=2048)
def shading(piece: Piece, limits: BridgeLimits) -> tuple[Zone, ...]:
    """Return what to shade of each weak bridge of a piece."""
    openings = tuple(opening.outline for opening in piece.face.openings)
    return zones(piece.face.outline, openings, limits.bridge, weak_within(piece, limits))


def bridge_limit(job: Job, bridge: Bridge) -> float:
    """Return the limit of a bridge in inches; beside a small hole it is the smaller one."""
    return bridge_limits(job).of(bridge)


def is_small(opening: Opening) -> bool:
    """Tell whether an opening is a hole such as a faucet's."""
    return is_hole(opening.shape, opening.use)


def is_hole(shape: Shape, use: str) -> bool:
    """Tell whether a shape of such a use is a hole such as a faucet's."""
    round_hole = isinstance(shape, CircleShape) and shape.diameter <= SMALL_HOLE_IN
    return round_hole or use in ("faucet", "dispenser")


def tops(job: Job) -> tuple[TopPlan, ...]:
    """Return the tops that can be made."""
    return layout(job).tops


def tops_and_strips(job: Job) -> tuple[TopPlan, ...]:
    """Return what openings and seams lie on: the tops, then the strips along their edges."""
    made = layout(job)
    return (*made.tops, *made.strips)


def pieces(job: Job) -> tuple[Piece, ...]:
    """Return the pieces in the order of their letters."""
    return layout(job).pieces


def piece(job: Job, name: str) -> Piece:
    """Return one piece.

    Raises:
        KeyError: there is no such piece.
    """
    for found in pieces(job):
        if found.name == name:
            return found
    raise KeyError(name)
