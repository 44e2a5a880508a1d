"""The opened mold says what a maker needs to cut and set its sidewalls."""

from math import dist

import pytest
from msgspec.structs import replace

from export.laying_out import laid_out
from export.marks import AnyMark, Line, Region, Spot, Words
from export.opened import opened_mold
from geometry.lengths import written
from geometry.naming import Kind
from shop import plan
from shop.job import Job
from shop.samples import sample_names
from shop.words import length_style
from tests.export.jobs import on_base, sample


def shown(job: Job, piece: str, scale: float = 0.09) -> tuple[AnyMark, ...]:
    return laid_out(opened_mold(job, piece), scale)


def texts(job: Job, piece: str, scale: float = 0.09) -> list[str]:
    return [
        mark.text
        for mark in shown(job, piece, scale)
        if isinstance(mark, Words) or (isinstance(mark, Spot) and mark.kind == "tag")
    ]


@pytest.mark.parametrize("name", sample_names())
def test_every_sidewall_is_named_with_its_length_and_every_screw_is_drawn(name: str) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        said = texts(job, mold.piece)
        for strip in mold.strips:
            length = written(strip.face_length_in, length_style(job))
            assert any(
                text.startswith(f"{strip.name} ") and f": {length}" in text for text in said
            ), strip.name
        screws = [m for m in shown(job, mold.piece) if isinstance(m, Spot) and m.kind == "dot"]
        assert len(screws) == mold.screw_count


@pytest.mark.parametrize("name", sample_names())
def test_words_on_a_sidewall_are_never_scaled_down(name: str) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        names = {strip.name for strip in mold.strips}
        for mark in shown(job, mold.piece):
            if isinstance(mark, Words) and mark.text.split()[0] in names:
                assert mark.height >= 0.11


def test_sides_are_named_in_boxes() -> None:
    tags = [m for m in shown(sample("galley"), "A") if isinstance(m, Spot) and m.kind == "tag"]
    assert {tag.text for tag in tags} == {"BACK", "FRONT", "LEFT END", "RIGHT END"}
    tags = [m for m in shown(sample("out-of-square"), "B") if isinstance(m, Spot)]
    assert {"SEAM TO A", "SEAM TO C"} <= {tag.text for tag in tags if tag.role == "seam"}


def test_the_seam_has_no_bead_and_all_other_edges_have() -> None:
    job = sample("corner-with-range")
    mold = plan.mold(job, "B")
    marks = [m for m in shown(job, "B") if isinstance(m, Line) and m.role in ("bead", "seam")]
    for edge, tag in zip(mold.frame.edges, mold.frame.tags, strict=True):
        roles = {m.role for m in marks if m.points == (edge.start, edge.end)}
        assert roles == ({"seam"} if tag.kind is Kind.SEAM else {"bead"})


def test_a_knockout_says_what_it_is_how_thick_and_how_it_floats() -> None:
    job = sample("galley")
    said = texts(job, "A", 0.12)
    assert "sink" in said
    assert "foam, 2 thick" in said
    assert any("floats with" in text for text in said)
    assert any(text.startswith("faucet: 1 3/8 across") for text in said)


def test_foam_of_another_thickness_is_warned_of_where_it_stands() -> None:
    job = sample("galley")
    thick = replace(job, molds=replace(job.molds, foam_thickness=2.0625))
    warned = [m for m in shown(thick, "A", 0.2) if isinstance(m, Words) and m.role == "warning"]
    assert [words.text for words in warned] == ["Measured 2 1/16:", "plane it down by 1/16"]


def test_a_part_of_a_knockout_has_a_bead_but_not_at_its_seam() -> None:
    job = sample("double-bowl")
    mold = next(m for m in plan.molds(job) if any(k.partial for k in m.knockouts))
    partial = next(k for k in mold.knockouts if k.partial)
    lines = [m for m in shown(job, mold.piece) if isinstance(m, Line)]
    for edge, tag in zip(partial.outline.edges, partial.outline.tags, strict=True):
        roles = {m.role for m in lines if m.points == (edge.start, edge.end)}
        assert ("bead" in roles) == (tag.kind is Kind.OPENING)
    assert any(text.startswith("part of the ") for text in texts(job, mold.piece))


def test_diagonals_are_drawn_with_the_lengths_they_are_to_read() -> None:
    job = sample("out-of-square")
    for mold in plan.molds(job):
        said = texts(job, mold.piece)
        lines = [m.points for m in shown(job, mold.piece) if isinstance(m, Line)]
        for a, b, length in mold.diagonals:
            assert written(length, length_style(job)) in said
            assert (a, b) in lines
            assert dist(a, b) == pytest.approx(length)


def test_the_strips_and_the_base_are_drawn_at_their_true_sizes() -> None:
    job = sample("round-island")
    mold = plan.mold(job, "A")
    regions = [m for m in shown(job, "A") if isinstance(m, Region)]
    assert next(m for m in regions if m.role == "board").loops == (mold.base,)
    faces = [m.loops[0].edges for m in regions if m.role == "strip"]
    assert sorted(max(dist(e.start, e.end) for e in face) for face in faces) == pytest.approx(
        sorted(max(strip.face_length_in, strip.height_in) for strip in mold.strips)
    )


def test_screws_of_sides_on_the_base_sit_at_the_edge_they_come_up_through() -> None:
    job = on_base("galley")
    outside = [m for m in shown(sample("galley"), "A") if isinstance(m, Spot) and m.kind == "dot"]
    inside = [m for m in shown(job, "A") if isinstance(m, Spot) and m.kind == "dot"]
    assert len(inside) == len(outside)


def test_the_same_mold_comes_back_as_the_same_sheet() -> None:
    job = sample("galley")
    renamed = replace(job, note="another note")
    assert opened_mold(job, "A") is opened_mold(renamed, "A")


def test_there_is_no_mold_of_a_piece_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        opened_mold(sample("galley"), "Z")
