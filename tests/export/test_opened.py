"""The opened mold says what a maker needs to cut and set its sidewalls."""

from math import cos, dist, sin

import pytest
from msgspec.structs import replace
from shapely import LineString, Polygon, union_all
from shapely import Point as ShapelyPoint

from export.boxes import Box
from export.knockout_marks import setting_marks
from export.laid_down import polygon
from export.laying_out import laid_out
from export.marks import AnyMark, Line, Region, Spot, Words
from export.opened import mold_sheet, opened_mold
from export.steel_marks import along_edges
from export.typeface import text_width
from export.word_boxes import tag_box, words_box
from geometry.lengths import LengthStyle, written
from geometry.naming import Kind
from geometry.openings import AlongLeg
from geometry.outline import area
from shop import plan
from shop.applying import applied
from shop.base_panels import base_panels
from shop.edits import AddOpening
from shop.job import Job
from shop.reinforcement import reinforcement
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
                text.startswith(f"{strip.name} ") and f" {length}" in text for text in said
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
    assert any(text.startswith("faucet: pipe 1 3/8") for text in said)


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
        lines = [m for m in shown(job, mold.piece) if isinstance(m, Line) and m.role == "ghost"]
        seen = union_all([LineString(m.points) for m in lines if m.subject is None])
        foam = union_all([polygon(knockout.outline) for knockout in mold.knockouts])
        for a, b, length in mold.diagonals:
            assert written(length, length_style(job)) in said
            assert LineString((a, b)).difference(foam).difference(seen.buffer(1e-6)).is_empty
            assert dist(a, b) == pytest.approx(length)


@pytest.mark.parametrize("name", sample_names())
def test_every_knockout_is_drawn_with_the_lengths_that_set_it(name: str) -> None:
    job = sample(name)
    style = length_style(job)
    for mold in plan.molds(job):
        marks = shown(job, mold.piece)
        lines = {m.points for m in marks if isinstance(m, Line) and m.role == "dimension"}
        said = [m.text for m in marks if isinstance(m, Words) and m.role == "dimension"]
        for knockout in mold.knockouts:
            assert knockout.setting is not None
            lengths = [dist(*square) for square in knockout.setting.squares]
            assert set(knockout.setting.squares) <= lines
            if knockout.setting.level is not None:
                lengths.append(dist(*knockout.setting.level))
            for length in lengths:
                assert any(dist(a, b) == pytest.approx(length) for a, b in lines)
                assert written(length, style) in said
            whole = texts(job, mold.piece)
            pipe = f"pipe {written(knockout.size[0], style)}"
            said_so = pipe if knockout.made_of == "pipe" else knockout.size_words
            assert any(said_so in text for text in whole)


def test_a_part_at_a_seam_is_drawn_without_a_length_along_the_edge() -> None:
    job = sample("double-bowl")
    mold = plan.mold(job, "A")
    (part,) = mold.knockouts
    drawn = [m for m in setting_marks(part, mold.frame, length_style(job)) if isinstance(m, Words)]
    assert len(drawn) == 1
    assert not list(setting_marks(replace(part, setting=None), mold.frame, length_style(job)))


@pytest.mark.parametrize("name", sample_names())
def test_an_arrow_crosses_the_edge_to_turn_over_about(name: str) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        marks = shown(job, mold.piece)
        assert mold.turning is not None
        edge = mold.frame.edges[mold.turning.index]
        arrows = [m for m in marks if isinstance(m, Line) and m.role == "title"]
        shaft = next(m for m in arrows if m.bulges[0])
        assert LineString(shaft.points).crosses(LineString((edge.start, edge.end)))
        assert "turn over about this edge" in texts(job, mold.piece)


def test_a_mold_with_nothing_to_turn_about_has_no_arrow() -> None:
    mold = replace(plan.mold(sample("galley"), "A"), turning=None)
    job = sample("galley")
    made = base_panels(job, mold)
    sheet = mold_sheet(mold, reinforcement(job, "A"), 0.4, LengthStyle(), made)
    said = [m.text for m in sheet.marks if isinstance(m, Words)]
    assert "turn over about this edge" not in said


@pytest.mark.parametrize("name", sample_names())
@pytest.mark.parametrize("scale", [0.02, 0.04, 0.09])
def test_the_letter_lies_inside_its_base_clear_of_foam_and_of_diagonals(
    name: str, scale: float
) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        letter = next(
            m for m in shown(job, mold.piece, scale)
            if isinstance(m, Words) and m.text == mold.piece and m.role == "title"
        )  # fmt: skip
        wide = text_width(letter.text, letter.height / scale, bold=True)
        wide = min(wide, letter.max_width or wide)
        x, y = letter.at
        middle = LineString(((x - wide / 2.0, y), (x + wide / 2.0, y)))
        assert polygon(mold.frame).contains(middle)
        for knockout in mold.knockouts:
            assert not polygon(knockout.outline).intersects(middle)


def test_the_strips_and_the_base_are_drawn_at_their_true_sizes() -> None:
    job = sample("round-island")
    mold = plan.mold(job, "A")
    regions = [m for m in shown(job, "A") if isinstance(m, Region)]
    assert next(m for m in regions if m.role == "board").loops == (mold.base,)
    faces = [m.loops[0].edges for m in regions if m.role == "strip" and not any(m.loops[0].bulges)]
    assert sorted(max(dist(e.start, e.end) for e in face) for face in faces) == pytest.approx(
        sorted(max(strip.face_length_in, strip.height_in) for strip in mold.strips)
    )


def test_a_bent_strip_has_its_backing_block_drawn_beyond_it_and_counted() -> None:
    job = sample("round-island")
    (bent,) = [strip for strip in plan.mold(job, "A").strips if strip.blocks]
    (block,) = [
        m.loops[0]
        for m in shown(job, "A")
        if isinstance(m, Region) and m.role == "strip" and any(m.loops[0].bulges)
    ]
    assert area(block) == pytest.approx(area(bent.blocks[0]))
    assert "11 backing blocks for A2, radius 19 3/4" in texts(job, "A")


def test_the_joint_of_a_base_in_panels_is_drawn_with_its_batten() -> None:
    job = sample("galley")
    mold = plan.mold(job, "A")
    (joint,) = base_panels(job, mold).joints
    marks = shown(job, "A")
    assert joint in [m.points for m in marks if isinstance(m, Line) and m.role == "strip"]
    assert "joint, batten below" in texts(job, "A")
    assert "faucet: pipe 1 3/8, on it a block 2 5/8 x 1/2" in texts(job, "A")


def test_blocks_of_counterbores_that_are_the_same_are_told_of_once() -> None:
    job = sample("galley")
    faucet = next(o for o in job.openings if o.use == "faucet")
    assert isinstance(faucet.at, AlongLeg)
    at = replace(faucet.at, along=faucet.at.along + 12.0)
    job = applied(job, AddOpening(replace(faucet, id="opening99", name="dispenser", at=at)))
    said = texts(job, "A")
    assert sorted(text for text in said if "block" in text or "same" in text) == [
        "dispenser: the same",
        "faucet: pipe 1 3/8, on it a block 2 5/8 x 1/2, 2 of these",
    ]


def test_the_ends_of_a_joint_are_numbered() -> None:
    assert {"1", "2"} <= set(texts(sample("corner-with-range"), "B"))
    assert not {"1", "2"} & set(texts(sample("corner-with-range"), "A"))


def test_words_of_a_slanted_strip_run_along_it_beyond_its_block() -> None:
    job = sample("bowed-and-free")
    words = next(
        mark
        for mark in shown(job, "B", 0.09)
        if isinstance(mark, Words) and mark.text.startswith("B3 side 2")
    )
    assert 0.2 < abs(words.angle_rad) < 1.4


def test_an_insert_has_no_words_of_its_square_ends() -> None:
    said = texts(sample("bowed-and-free"), "B")
    assert "B4 corner: face 7/8, back 1 1/8, insert" in said


def test_a_rigid_knockout_says_so() -> None:
    job = sample("galley")
    holes = tuple(replace(o, fill="rigid") for o in job.openings)
    made = replace(job, openings=holes, thickness=1.5)
    assert any(text.startswith("rigid block, ") for text in texts(made, "A"))
    assert any(text.startswith("faucet: rigid, 1 3/8 across, floats") for text in texts(made, "A"))


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


def test_a_tilted_and_narrow_knockout_still_says_how_it_floats() -> None:
    said = texts(sample("out-of-square"), "C", 0.05)
    assert "hold it down:" in said
    assert any(text.startswith("floats with") for text in said)


@pytest.mark.parametrize("name", sample_names())
def test_mesh_and_bars_are_drawn_where_they_lie_and_say_how_high(name: str) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        steel, marks = reinforcement(job, mold.piece), shown(job, mold.piece)
        lines = [m for m in marks if isinstance(m, Line)]
        rings = [ring for panel in steel.panels for ring in panel.rings]
        assert [m.points[:-1] for m in lines if m.role == "mesh"] == rings
        bars = [m.points for m in lines if m.role == "bar" and m.bulges == (0.0,)]
        assert set(bars) >= {(bar.start, bar.end) for bar in steel.bars}
        said = texts(job, mold.piece)
        for bar in steel.bars:
            assert f"{bar.name}, {written(bar.height_in, length_style(job))} up" in said


def test_words_of_mesh_lie_inside_its_panel() -> None:
    job = sample("round-island")
    steel = reinforcement(job, "B")
    (words,) = (m for m in shown(job, "B") if isinstance(m, Words) and m.role == "mesh")
    assert words.text == "mesh 1, 1 up"
    (panel,) = steel.panels
    assert Polygon(panel.rings[0]).contains(ShapelyPoint(words.at))


def test_words_of_mesh_find_a_place_beside_its_edges_where_its_inside_is_full() -> None:
    job = sample("galley")
    (panel,) = reinforcement(job, "A").panels
    for ring in (panel.rings[0], panel.rings[0][::-1]):
        places = along_edges(ring)
        shape = Polygon(ring)
        for place in places[:3]:
            toward = (
                place.at[0] - sin(place.angle_rad) * place.shift[1],
                place.at[1] + cos(place.angle_rad) * place.shift[1],
            )
            assert shape.contains(ShapelyPoint(toward))


@pytest.mark.parametrize("scale", [0.05, 0.075, 0.09])
@pytest.mark.parametrize("name", sample_names())
def test_the_name_of_a_side_never_lies_on_a_sidewall_of_another(name: str, scale: float) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        marks = shown(job, mold.piece, scale)
        strips = union_all(
            [polygon(m.loops[0]) for m in marks if isinstance(m, Region) and m.role == "strip"]
        )
        tags = [mark for mark in marks if isinstance(mark, Spot) and mark.kind == "tag"]
        for tag in tags:
            assert boxed(tag_box(tag, scale)).intersection(strips).area < 0.1, tag.text


@pytest.mark.parametrize("scale", [0.05, 0.075, 0.09])
@pytest.mark.parametrize("name", sample_names())
def test_words_that_say_what_to_turn_over_about_lie_within_the_base_or_are_led_there(
    name: str, scale: float
) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        base = polygon(mold.frame)
        if base.area < ROOMY_IN2:
            continue
        marks = shown(job, mold.piece, scale)
        for words in marks:
            if isinstance(words, Words) and words.text.startswith("turn over"):
                leaders = [m for m in marks if isinstance(m, Line) and m.role == "quiet"]
                led = any(leader.subject == words.subject for leader in leaders)
                assert led or base.buffer(0.3).contains(boxed(words_box(words, scale)))


ROOMY_IN2 = 500.0
"""In a smaller base, such as that of a backsplash, those words have no room."""


def boxed(box: Box) -> Polygon:
    (x, y), (c, s), (half, high) = box.center, box.axis, box.half
    ends = ((-half, -high), (half, -high), (half, high), (-half, high))
    return Polygon([(x + c * a - s * b, y + s * a + c * b) for a, b in ends])
