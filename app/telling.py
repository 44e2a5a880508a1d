"""What the panels and pages tell of a job, in words."""

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from app.asking import Fact
from app.canvas.camera import Box
from app.panels.mold_faces import Face
from app.session import Session
from app.stages import Stage
from export.exploded import exploded
from export.marks import Sheet
from export.mold_ticks import Tick, mold_ticks
from export.opened import opened_mold
from export.steelwords import height_words
from geometry import edges as exact
from geometry.lengths import written
from geometry.naming import EdgeRef, Kind
from geometry.outline import Outline, bounding_box
from geometry.panelling import leveled
from geometry.picking import Subject
from shop.cabinets import cabinet_plans
from shop.findings import Finding
from shop.job import Job
from shop.measures import (
    area_words,
    density_words,
    distance_words,
    volume_words,
    weight_words,
)
from shop.plan import mold, names_of_edges, pieces, tally, tops, tops_and_strips
from shop.reinforcement import reinforcement
from shop.reinforcement_findings import TITLES
from shop.room_findings import CONTRADICTS, MISREADING
from shop.stock_findings import ABOUT_STOCK
from shop.survey import room
from shop.words import capital, length_style, listed


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def job_line(session: Session) -> tuple[str, ...]:
    """Return what stands under the job's name."""
    job = session.job
    made = _count(len(tops(job)), "top")
    cut = _count(len(pieces(job)), "piece")
    kept = "not saved" if session.dirty else "saved"
    if job.issued is not None:
        kept = f"Revision {job.issued.revision}, {kept}"
    elif job.sample and not session.dirty:
        kept = "A sample"
    return (f"{made}, {cut}", capital(kept))


_STAGE_OF_SUBJECT: dict[str, Stage] = {
    "corner": "Room",
    "wall": "Room",
    "reading": "Room",
    "mark": "Room",
    "pin": "Counters",
    "baseline": "Room",
    "cabinet": "Room",
    "run": "Counters",
    "leg": "Counters",
    "island": "Counters",
    "edge": "Counters",
    "opening": "Openings",
    "inset": "Openings",
    "seam": "Seams",
    "piece": "Seams",
}


_ABOUT_MOLDS = (
    "turned-insert",
    "needs-jig",
    "sidewalls-collide",
    "free-leg",
    "nothing-to-turn-about",
    *TITLES,
)
"""Codes of findings that are seen on the opened mold."""


def stage_of(finding: Finding) -> Stage:
    """Return the stage in which a finding is worked on."""
    if finding.code in ABOUT_STOCK:
        return "Sheets"
    if not finding.about:
        return "Room" if finding.code.startswith(("room", "corner", "misreading")) else "Molds"
    if finding.code == "narrow-bridge":
        return "Openings"
    if finding.code in _ABOUT_MOLDS:
        return "Molds"
    return _STAGE_OF_SUBJECT[finding.about[0].kind]


def stage_counts(found: Iterable[Finding]) -> Counter[Stage]:
    """Return how many findings each stage has."""
    return Counter(stage_of(finding) for finding in found)


def tally_facts(job: Job) -> tuple[Fact, ...]:
    """Return the tally's lines."""
    total = tally(job)
    style = length_style(job)
    high = dict.fromkeys(written(height, style) for height in total.strip_heights_in)
    heights = f" at {listed(high)}" if len(high) == 1 else ""
    several = (Fact("Ripped to", ", ".join(high)),) if len(high) > 1 else ()
    bead = distance_words(total.bead_ft, style.unit)
    return (
        Fact("Face", area_words(total.face_sq_ft, style.unit)),
        Fact("Concrete", volume_words(total.concrete_cu_ft, style.unit)),
        Fact("Weight", weight_words(total.weight_lb, style.unit)),
        Fact("Sidewall strip", f"{distance_words(total.strip_ft, style.unit)}{heights}"),
        *several,
        Fact("Silicone bead", f"{bead}, {_count(total.cartridges, 'cartridge')}"),
    )


def piece_rows(job: Job) -> tuple[tuple[str, str], ...]:
    """Return the letter of each piece with its size and weight."""
    style = length_style(job)
    rows = []
    for piece in pieces(job):
        size = " × ".join(written(side, style) for side in _over_all(piece.face.outline))
        rows.append((piece.name, f"{weight_words(piece.weight_lb, style.unit)}, {size}"))
    return tuple(rows)


@lru_cache(maxsize=256)
def _over_all(outline: Outline) -> tuple[float, float]:
    """Return how large a piece is over all, an edge of it level, in inches."""
    x0, y0, x1, y1 = bounding_box(leveled(outline))
    return x1 - x0, y1 - y0


WASTE = 0.10
"""More is mixed by so much, for what stays in the mixer and is spilled (common practice)."""


class PourTold(NamedTuple):
    """The table of what there is to pour: its head, a row for each piece, the sum, a note."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    foot: tuple[str, ...]
    note: str


def pour_told(job: Job) -> PourTold:
    """Return what there is to pour, piece by piece."""
    total, unit = tally(job), length_style(job).unit

    def row(name: str, cu_ft: float, pounds: float) -> tuple[str, ...]:
        more = volume_words(cu_ft * (1.0 + WASTE), unit)
        return (name, volume_words(cu_ft, unit), more, weight_words(pounds, unit))

    return PourTold(
        ("", "In the mold", f"To mix, {100.0 * WASTE:.0f} % more", "Weight, rounded up"),
        tuple(row(f"Piece {p.name}", p.volume_cu_ft, p.weight_lb) for p in pieces(job)),
        row("In all", total.concrete_cu_ft, total.weight_lb),
        f"Knockouts are taken off. {100.0 * WASTE:.0f} % more for what stays in the mixer and is"
        f" spilled is common practice, no rule. Weight at {density_words(job.density_pcf, unit)}.",
    )


MOST_TOLD = 3
"""So many new findings are read out by name."""

CLOSE_IN = 12.0
"""Show goes so close to a place that a finding is about."""

_ABOUT_A_PLACE = ("narrow-bridge", "sharp-corner", "short-edge")
"""Findings that are about one place rather than all of a thing."""


def finding_box(job: Job, finding: Finding) -> Box | None:
    """Return the part of the plan a finding is about, or None for the whole job."""
    if finding.code in (CONTRADICTS, MISREADING):
        return around(
            box for wall in room(job).walls for box in _boxes(job, Subject("wall", wall.id))
        )
    if finding.at is None or finding.code not in _ABOUT_A_PLACE:
        boxes = [box for subject in finding.about for box in _boxes(job, subject)]
        if boxes or finding.at is None:
            return around(boxes)
    x, y = finding.at
    return (x - CLOSE_IN, y - CLOSE_IN, x + CLOSE_IN, y + CLOSE_IN)


def findings_told(before: frozenset[str], now: Sequence[str]) -> str:
    """Return in words what there is to look at now that was not before, and how much went."""
    fresh = [title for title in dict.fromkeys(now) if title not in before]
    gone = len(before.difference(now))
    said = [f"To look at: {title}." for title in fresh[:MOST_TOLD]]
    if len(fresh) > MOST_TOLD:
        said.append(f"And {len(fresh) - MOST_TOLD} more.")
    if gone:
        said.append(f"{gone} no longer.")
    return " ".join((*said, f"{len(now)} to look at." if now else "Nothing to look at."))


def around(boxes: Iterable[Box | None]) -> Box | None:
    """Return the box around boxes, or None round nothing."""
    found = [box for box in boxes if box is not None]
    if not found:
        return None
    return (
        min(b[0] for b in found),
        min(b[1] for b in found),
        max(b[2] for b in found),
        max(b[3] for b in found),
    )


def _boxes(job: Job, subject: Subject) -> list[Box]:
    if subject.kind == "corner":
        x, y = room(job).corner(subject.id).point
        return [(x - 20.0, y - 20.0, x + 20.0, y + 20.0)]
    if subject.kind == "wall":
        line = room(job).wall(subject.id)
        (ax, ay), (bx, by) = line.left, line.right
        return [(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))]
    if subject.kind == "cabinet":
        return [
            (min(a, c), min(b, d), max(a, c), max(b, d))
            for p in cabinet_plans(job)
            if p.cabinet.id == subject.id
            for (a, b), (c, d) in ((p.corners[0], p.corners[2]), (p.corners[1], p.corners[3]))
        ]
    if subject.kind == "piece":
        return [bounding_box(p.face.outline) for p in pieces(job) if p.name == subject.id]
    if subject.kind == "opening":
        return [
            bounding_box(o.outline)
            for t in tops_and_strips(job)
            for o in t.openings
            if o.id == subject.id
        ]
    found = []
    for piece in pieces(job):
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            same = tag.ref == subject.edge or (
                isinstance(tag.ref, EdgeRef) and tag.ref.owner == subject.id
            )
            if same:
                found.append(exact.bounds(edge))
    return found


class MoldTold(NamedTuple):
    """An opened mold with its words, and the edges that its piece may be turned about."""

    sheet: Sheet | None
    title: str
    sentence: str
    note: str
    edges: tuple[tuple[str, object], ...]
    turning: object
    turning_words: str
    ticks: tuple[Tick, ...] = ()


FACE_TITLES: dict[Face, str] = {
    "opened": "inside faces up",
    "apart": "as you stand before it",
    "ticks": "before you pour",
}


def described_mold(job: Job, name: str, face: Face = "opened") -> MoldTold:
    """Return a piece's mold as it is looked at, in words; an empty page for no piece."""
    if not name:
        return MoldTold(
            None, "No pieces yet", "Trace a run or draw an island first.", "", (), "", ""
        )
    made, style = mold(job, name), length_style(job)
    words = dict(names_of_edges(job, name))
    proofs = [written(size, style) for _, _, size in made.diagonals]
    square = f"True when the diagonals read {listed(proofs)}. " if proofs else ""
    height = made.strips[0].height_in if made.strips else 0.0
    ripped = f"Strips are ripped {written(height, style)} high at one fence setting."
    steel = height_words(reinforcement(job, name), style)
    edges = tuple(
        (words[tag.ref], tag.ref)
        for edge, tag in zip(made.frame.edges, made.frame.tags, strict=True)
        if exact.is_line(edge) and tag.kind in (Kind.BACK, Kind.FRONT, Kind.END)
    )
    unique = tuple(dict.fromkeys(edges))
    turning = made.turning
    return MoldTold(
        exploded(job, name) if face == "apart" else opened_mold(job, name),
        f"Mold {name}, {FACE_TITLES[face]}",
        made.handedness,
        f"{square}{ripped} {steel}".rstrip(),
        unique,
        turning.edge if turning else "",
        turning.words if turning else "",
        mold_ticks(job, made) if face == "ticks" else (),
    )
