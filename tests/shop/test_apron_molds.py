"""The mold of a piece with a cut that is open to its front: foam that stands at the sidewall."""

import pytest
from msgspec.structs import replace

from export.booklet import booklet_pages
from export.knockout_marks import setting_marks
from export.marks import Line
from export.stamp import Stamp
from geometry.edges import length
from geometry.naming import Kind
from geometry.openings import AlongLeg, ApronShape, Opening
from shop import edits
from shop.findings import findings
from shop.job import Job
from shop.plan import mold, pieces
from shop.words import length_style
from tests.shop.kitchens import after, seam, straight

CUT = Opening(
    "opening400",
    "apron sink",
    ApronShape(30.0, 19.0, 1.0),
    AlongLeg("leg201", 50.0, 0.0),
    "sink",
)


def kitchen(cut: Opening = CUT) -> Job:
    return after(straight(), edits.AddOpening(cut))


def test_its_foam_is_one_block_flush_with_the_front_sidewall() -> None:
    job = kitchen()
    made = mold(job, "A")
    (foam,) = made.knockouts
    assert (foam.partial, foam.at_seam, foam.size_words) == (True, False, "30 x 19, corners 1")
    assert foam.setting is not None
    # Face down, what lies 35 from the left end lies so far from the sidewall on the right.
    assert foam.setting.words == (
        "flush with the sidewall at the front; its nearer side 35 from the RIGHT sidewall,"
        " along the front"
    )
    closing = [t.kind for t in foam.outline.tags if t.kind is not Kind.OPENING]
    assert closing == [Kind.FRONT]


def test_the_front_keeps_its_sidewall_whole_and_its_bead_stops_at_the_foam() -> None:
    made, plain = mold(kitchen(), "A"), mold(straight(), "A")
    assert [s.face_length_in for s in made.strips] == [s.face_length_in for s in plain.strips]
    (foam,) = made.knockouts
    round_it = sum(
        length(edge)
        for edge, tag in zip(foam.outline.edges, foam.outline.tags, strict=True)
        if tag.kind is Kind.OPENING
    )
    assert made.bead_length_in == pytest.approx(plain.bead_length_in - 30.0 + round_it)


def test_its_drawing_tapes_only_along_the_front() -> None:
    job = kitchen()
    made = mold(job, "A")
    marks = list(setting_marks(made.knockouts[0], made.frame, length_style(job)))
    taped = [m for m in marks if isinstance(m, Line) and m.role == "dimension"]
    # One length with its two ticks.
    assert len(taped) == 3
    stamp = Stamp("Test", 1, "2026-01-02", "", sample=False)
    assert booklet_pages(job, stamp)


def test_parted_by_a_seam_each_half_stands_at_it() -> None:
    job = after(kitchen(), edits.AddSeam(seam(50.0)))
    assert [piece.name for piece in pieces(job)] == ["A", "B"]
    for piece in pieces(job):
        (foam,) = mold(job, piece.name).knockouts
        assert (foam.partial, foam.at_seam) == (True, True)


def test_a_reveal_that_takes_its_corners_is_told() -> None:
    bare = replace(CUT, shape=ApronShape(30.0, 19.0), reveal=-0.25)
    assert "reveal-over-radius" in [finding.code for finding in findings(kitchen(bare))]
