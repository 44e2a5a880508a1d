"""Bases larger than a sheet: what their joints do to the face, and a seam there instead."""

from collections.abc import Iterator

from geometry.lengths import written
from geometry.outline import bounding_box
from geometry.panelling import leveled
from geometry.picking import Subject
from geometry.points import Point, distance, middle, mirrored_point
from geometry.seams import SeamAtCorner, SeamOnLeg
from shop import edits, plan
from shop.base_panels import base_panels, sheet_of, takes_panels
from shop.finding import Finding
from shop.job import Job
from shop.molds import Mold
from shop.seam_candidates import Candidate, candidates
from shop.words import hook_words, length_style

JOINT = "joint-prints"
TOO_SMALL = "sheet-too-small"

TRIED = 8
"""So many seams near a joint are tried."""

APART_IN = 6.0
"""Seams that are tried lie so far from each other."""


def of_bases(job: Job) -> Iterator[Finding]:
    """Yield what there is to say of each base that is larger than a sheet."""
    style = length_style(job)
    sheet = " x ".join(written(size, style) for size in sheet_of(job))
    for mold in plan.molds(job):
        if not takes_panels(job, mold):
            continue
        about = (Subject("piece", mold.piece),)
        made = base_panels(job, mold)
        if not made.fits:
            text = f"No panels of {sheet} make it in a sensible number: check the sheet's size."
            title = f"Mold {mold.piece}: a sheet is too small for its base"
            yield Finding(TOO_SMALL, False, title, text, about, _middle(mold))
            continue
        joints = "joints print" if made.joints[1:] else "joint prints"
        text = (
            f"Its base, {_size(mold, job)}, is larger than a sheet ({sheet}): it is cut as"
            f" {len(made.panels)} panels over battens, and their {joints} through the face of the"
            " concrete. Fill and sand the joint flush, or plan a seam instead."
        )
        at = mirrored_point(middle(*made.joints[0]))
        title = f"Mold {mold.piece}: its base takes {len(made.panels)} panels"
        yield Finding(JOINT, False, title, text, about, at)


def _size(mold: Mold, job: Job) -> str:
    x0, y0, x1, y1 = bounding_box(leveled(mold.base))
    style = length_style(job)
    return f"{written(x1 - x0, style)} x {written(y1 - y0, style)}"


def _middle(mold: Mold) -> Point:
    x0, y0, x1, y1 = bounding_box(mold.base)
    return mirrored_point(((x0 + x1) / 2.0, (y0 + y1) / 2.0))


def seams_instead(job: Job, finding: Finding) -> Iterator[tuple[str, edits.Edit]]:
    """Yield seams to try in place of the joint of a base, those nearest to it first."""
    (piece,) = finding.about
    top = plan.piece(job, piece.id).top
    found = next((made for made in plan.tops_and_strips(job) if made.top.id == top), None)
    if found is None:
        return
    joint = finding.at
    assert joint is not None  # a joint has a place

    def off(seam: Candidate) -> float:
        return distance(middle(seam.front, seam.back), joint)

    chosen: list[Candidate] = []
    for seam in sorted(candidates(job, found), key=off):
        middles = (middle(other.front, other.back) for other in chosen)
        here = middle(seam.front, seam.back)
        if all(distance(here, other) >= APART_IN for other in middles):
            chosen.append(seam)
    for seam in chosen[:TRIED]:
        yield f"Put a seam {seam_words(job, seam)}", edits.AddSeam(seam.seam)


def seam_words(job: Job, seam: Candidate) -> str:
    """Return where a seam goes, as one is told to put it there."""
    start = seam.seam.start
    if isinstance(start, SeamAtCorner):
        return "into the corner"
    along = written(start.along, length_style(job))
    if isinstance(start, SeamOnLeg):
        return f"{along} from {hook_words(job, start.leg, start.hook)}"
    return f"{along} along side {start.side}"
