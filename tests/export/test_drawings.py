"""Plans face up and face down: what they show, where their words stand, and that they mirror."""

from dataclasses import dataclass
from math import radians

import pytest
from msgspec.structs import replace
from shapely import LineString, Polygon

from export.drawings import (
    BLANK_BOX,
    edge_subject,
    face_down,
    face_down_groups,
    face_up,
    face_up_groups,
    kind_role,
    up_box,
)
from export.laying_out import laid_out, traced
from export.letters import label_places
from export.marks import AnyMark, Dimension, Line, Region, Sheet, Spot, Words
from export.typeface import text_width
from export.word_boxes import upright_angle
from geometry.flattening import ring
from geometry.lengths import written
from geometry.naming import CornerRef, EdgeRef, Kind, Tag, corner_ref
from geometry.openings import CircleShape
from geometry.outline import contains, mirrored, rotated
from geometry.picking import Subject
from geometry.points import mirrored_point
from shop import edits, plan
from shop.readings import WallReading
from shop.samples import sample_names
from shop.words import length_style
from tests.export.jobs import EMPTY, metric, sample
from tests.shop.kitchens import after, sink, straight, walls


@dataclass(frozen=True)
class Shown:
    """The marks of a drawing by kind."""

    marks: tuple[AnyMark, ...]

    def of(self, role: str) -> list[Line]:
        return [m for m in self.marks if isinstance(m, Line) and m.role == role]

    def texts(self) -> list[str]:
        return [m.text for m in self.marks if isinstance(m, Words)]


def test_each_kind_of_edge_has_its_role() -> None:
    assert {kind_role(kind) for kind in Kind} == {kind.value for kind in Kind}


@pytest.mark.parametrize(
    ("tag", "subject"),
    [
        (Tag(Kind.SEAM, EdgeRef("seam1", "left")), Subject("seam", "seam1")),
        (Tag(Kind.OPENING, EdgeRef("sink1", "cut")), Subject("opening", "sink1")),
        (
            Tag(Kind.FRONT, EdgeRef("leg1", "front"), 1),
            Subject("edge", "leg1", EdgeRef("leg1", "front"), 1),
        ),
        (
            Tag(Kind.CORNER, corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg1", "end"))),
            Subject("edge", "leg1", CornerRef(EdgeRef("leg1", "end"), EdgeRef("leg1", "front"))),
        ),
    ],
)
def test_an_edge_is_pointed_at_as_what_it_is(tag: Tag, subject: Subject) -> None:
    assert edge_subject(tag) == subject


@pytest.mark.parametrize(
    ("way", "angle"),
    [
        ((1.0, 0.0), 0.0),
        ((-1.0, 0.0), 0.0),
        ((0.0, 1.0), 1.5707963),
        ((0.0, -1.0), 1.5707963),
        ((-1.0, -1.0), 0.7853982),
    ],
)
def test_words_never_stand_on_their_heads(way: tuple[float, float], angle: float) -> None:
    assert upright_angle(way) == pytest.approx(angle)


@pytest.mark.parametrize("name", sample_names())
def test_the_groups_come_back_identical_when_nothing_changed(name: str) -> None:
    job = sample(name)
    again = replace(job, note="changed")
    for groups in (face_up_groups, face_down_groups):
        assert all(a.marks is b.marks for a, b in zip(groups(job), groups(again), strict=True))


@pytest.mark.parametrize("name", sample_names())
def test_face_down_is_face_up_mirrored(name: str) -> None:
    job = sample(name)
    up, down = face_up(job), face_down(job)

    def slabs(sheet: Sheet) -> list[object]:
        return [m.loops[0] for m in sheet.marks if isinstance(m, Region) and m.role == "slab"]

    pieces = plan.pieces(job)
    assert slabs(up) == [piece.face.outline for piece in pieces]
    assert slabs(down) == [mirrored(piece.face.outline) for piece in pieces]


def test_a_letter_stands_at_mirrored_places() -> None:
    job = sample("out-of-square")
    up = {m.text: m.at for m in face_up(job).marks if isinstance(m, Words) and m.height > 0.3}
    down = {m.text: m.at for m in face_down(job).marks if isinstance(m, Words) and m.height > 0.3}
    assert set(up) == {"A", "B", "C"}
    assert {name: mirrored_point(at) for name, at in up.items()} == down


@pytest.mark.parametrize("name", sample_names())
def test_a_piece_s_letter_stands_on_its_concrete(name: str) -> None:
    for piece in plan.pieces(sample(name)):
        at, free = label_places(piece.face)[0]
        assert free > 1.0
        assert contains(piece.face.outline, at)
        assert not any(contains(opening.outline, at) for opening in piece.face.openings)


def test_every_seam_is_without_bead_face_down_and_every_other_edge_has_one() -> None:
    job = sample("corner-with-range")
    shown = Shown(face_down(job).marks)
    kinds = [tag.kind for piece in plan.pieces(job) for tag in piece.face.outline.tags]
    assert len(shown.of("seam")) == kinds.count(Kind.SEAM)
    assert len(shown.of("bead")) == len(kinds) - kinds.count(Kind.SEAM) - kinds.count(Kind.OPENING)
    assert shown.texts().count("seam, no bead") == 2


def test_edges_are_named_face_down_each_once() -> None:
    texts = Shown(face_down(sample("galley")).marks).texts()
    for name in ("BACK", "FRONT", "LEFT END", "RIGHT END"):
        assert texts.count(name) == 1


def test_walls_edges_and_seams_are_measured_face_up() -> None:
    job = sample("galley")
    texts = {m.text for m in face_up(job).marks if isinstance(m, Dimension)}
    assert {"8' 8 7/8", "25 3/8"} & texts
    seams = sample("out-of-square")
    roles = [m.role for m in face_up(seams).marks if isinstance(m, Words) and "1/2" in m.text]
    assert roles.count("seam") == 2


def test_a_metric_job_is_measured_in_millimeters() -> None:
    texts = {m.text for m in face_up(metric("galley")).marks if isinstance(m, Dimension)}
    assert all("'" not in text and "/" not in text for text in texts)


def test_a_wall_s_length_and_an_edge_s_run_at_different_distances() -> None:
    marks = [m for m in face_up(sample("galley")).marks if isinstance(m, Dimension)]
    offsets = {round(abs(m.offset), 3) for m in marks}
    assert len(offsets) == 2


def test_a_bridge_is_shaded_and_its_width_stands_beside_it() -> None:
    job = sample("out-of-square")
    sheet = face_up(job)
    bridges = [b for piece in plan.pieces(job) for b in plan.weak_bridges(job, piece)]
    zones = [m for m in sheet.marks if isinstance(m, Region) and m.role == "bridge"]
    shaded = [
        zone for piece in plan.pieces(job) for zone in plan.shading(piece, plan.bridge_limits(job))
    ]
    assert len(shaded) == len(bridges)
    assert len(zones) == sum(len(zone) for zone in shaded)
    labels = [m for m in laid_out(sheet, 0.06) if isinstance(m, Words) and "bridge" in m.text]
    assert len(labels) == len(bridges)
    openings = [o.outline for piece in plan.pieces(job) for o in piece.face.openings]
    assert not any(contains(outline, label.at) for outline in openings for label in labels)


def test_a_small_opening_has_no_name_inside_it() -> None:
    job = sample("galley")
    small = [o.name for o in job.openings if isinstance(o.shape, CircleShape)]
    assert small
    assert not set(small) & set(Shown(face_up(job).marks).texts())


def test_parts_of_an_opening_at_a_seam_are_drawn_on_both_sides_of_the_fold() -> None:
    job = sample("double-bowl")
    parts = [part.outline for piece in plan.pieces(job) for part in piece.face.parts]
    assert parts
    up = [m.loops[0] for m in face_up(job).marks if isinstance(m, Region) and m.role == "opening"]
    down = [m.loops[0] for m in face_down(job).marks if isinstance(m, Region) and m.role == "foam"]
    assert all(part in up and mirrored(part) in down for part in parts)


def test_corners_are_numbered() -> None:
    tags = [m.text for m in face_up(sample("galley")).marks if isinstance(m, Spot)]
    assert tags == ["1", "2", "3", "4"][: len(tags)]
    assert tags


def test_a_job_with_nothing_in_it_shows_a_blank_board() -> None:
    for sheet in (face_up(EMPTY), face_down(EMPTY)):
        assert sheet.marks == ()
        assert sheet.box[0] <= BLANK_BOX[0]


def test_what_cannot_be_made_is_outlined_on_both_sides_of_the_fold() -> None:
    job = after(straight(), edits.AddOpening(sink(along=5.0)))
    up, down = (
        next(g for g in groups if g.key == "fault 0")
        for groups in (face_up_groups(job), face_down_groups(job))
    )
    assert {mark.subject for mark in up.marks} == {Subject("opening", "opening400")}
    xs = [p[0] for mark in up.marks if isinstance(mark, Line) for p in mark.points]
    mirrored = [p[0] for mark in down.marks if isinstance(mark, Line) for p in mark.points]
    assert (min(xs), max(xs)) == pytest.approx((-10.0, 20.0))
    assert (min(mirrored), max(mirrored)) == pytest.approx((-20.0, 10.0))
    assert up_box(job)[0] == pytest.approx(-24.0)


@pytest.mark.parametrize("scale", [0.02, 0.035, 0.06, 0.12])
@pytest.mark.parametrize("name", sample_names())
def test_a_piece_s_letter_keeps_off_the_edges_at_any_scale(name: str, scale: float) -> None:
    """The middle of the letter and its height above and below it lie on the concrete."""
    job = sample(name)
    faces = {piece.name: piece.face.outline for piece in plan.pieces(job)}
    letters = [
        m
        for m in laid_out(face_up(job), scale)
        if isinstance(m, Words) and m.bold and m.text in faces and m.max_width is not None
    ]
    assert {m.text for m in letters} == set(faces)
    for letter in letters:
        size = min(
            letter.height / scale,
            letter.height
            / scale
            * (letter.max_width or 0.0)
            / text_width(letter.text, letter.height / scale, bold=True),
        )
        for by in (-size / 2.0, 0.0, size / 2.0):
            assert contains(faces[letter.text], (letter.at[0], letter.at[1] + by))


def test_an_island_with_a_round_end_has_its_size_over_all_and_names_its_sides() -> None:
    job = sample("round-island")
    (group,) = (g for g in face_up_groups(job) if g.key.startswith("island"))
    (top,) = (t.top for t in plan.tops(job) if t.top.id == job.islands[0].id)
    island = job.islands[0]
    over_all = {m.text for m in group.marks if isinstance(m, Dimension)}
    style = length_style(job)
    x0, y0, x1, y1 = Polygon(
        ring(rotated(top.outline, -radians(job.islands[0].angle)), 1e-4)
    ).bounds
    assert over_all == {written(x1 - x0, style), written(y1 - y0, style)}
    assert island.id == group.key.split()[1]
    names = {m.text for m in group.marks if isinstance(m, Words)}
    assert names == {"side 1", "side 2", "side 3", "side 4"}


def test_an_island_whose_sides_say_its_size_has_none_over_all() -> None:
    job = sample("round-island")
    plain = replace(
        job, corner_shapes=(), openings=(), islands=(replace(job.islands[0], round_sides=()),)
    )
    (group,) = (g for g in face_up_groups(plain) if g.key.startswith("island"))
    assert not [m for m in group.marks if isinstance(m, Dimension)]


@pytest.mark.parametrize("name", sample_names())
@pytest.mark.parametrize("scale", [0.03, 0.06])
def test_no_dimension_of_an_edge_crosses_another_piece(name: str, scale: float) -> None:
    job = sample(name)
    slabs = [Polygon(ring(piece.face.base_outline, 1e-3)) for piece in plan.pieces(job)]
    plan_up = face_up(job)
    for place, mark in traced(plan_up, scale):
        of = plan_up.marks[place]
        if not (isinstance(of, Dimension) and of.subject and of.subject.kind == "edge"):
            continue
        edge = LineString((of.a, of.b))
        if isinstance(mark, Line) and LineString(mark.points).length > 0.9 * edge.length:
            others = (slab for slab in slabs if not slab.buffer(0.1).covers(edge))
            assert not any(LineString(mark.points).crosses(s.buffer(-0.5)) for s in others)


def test_a_wall_that_nobody_taped_is_about_as_long_as_it_is_drawn() -> None:
    bare = after(
        walls((0.0, 0.0), (120.0, 0.0), (120.0, -90.0)),
        edits.AddReading(WallReading("reading1", "wall101", 120.5)),
    )
    said = {
        mark.subject.id: (mark.role, mark.text)
        for group in face_up_groups(bare)
        for mark in group.marks
        if isinstance(mark, Dimension) and mark.subject is not None
    }
    assert said["wall101"] == ("dimension", "10' 1/2")
    assert said["wall102"] == ("quiet", "about 7' 6")
