"""The cut list, the facts, and what is left out of them."""

import csv
import json
from io import StringIO
from math import cos, dist, radians, sin
from pathlib import Path

import pytest
from msgspec.structs import replace

from export.cutlist import HEADINGS, cut_list, harmless_cell
from export.facts import facts, ref_words
from export.sound import left_out, sound_molds, sound_pieces
from export.stamp import stamped
from export.stripwords import both_ends, end_words, length_words, short_end
from geometry.counters import SquareEnd
from geometry.lengths import LengthStyle
from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from geometry.openings import CircleShape
from shop import edits, plan
from shop.base_panels import base_panels
from shop.job import Job
from shop.reinforcement import reinforcement
from shop.samples import sample_names
from shop.strips import StripEnd
from tests.export.jobs import ODD_NAME, TODAY, blocked, oddly_named, sample
from tests.shop.kitchens import after


def rows(job: Job) -> list[list[str]]:
    data = cut_list(job, stamped(job, TODAY))
    return list(csv.reader(StringIO(data.decode("utf-8-sig"), newline="")))


def parts(name: str) -> list[list[str]]:
    return rows(sample(name))[2:]


@pytest.mark.parametrize("name", sample_names())
def test_the_cut_list_has_a_row_for_every_part(name: str) -> None:
    job = sample(name)
    title, headings, *listed = rows(job)
    assert title == [f"{job.name}, revision 1, 2026-03-02, SAMPLE"]
    assert headings == list(HEADINGS)
    molds = plan.molds(job)
    steel = [reinforcement(job, mold.piece) for mold in molds]
    made = [base_panels(job, mold) for mold in molds]
    assert len(listed) == sum(
        len(b.panels)
        + sum(strip.bevel is not None for strip in m.strips)
        + len(b.battens)
        + len(m.strips)
        + sum(bool(strip.blocks) for strip in m.strips)
        + len(m.knockouts)
        + sum(knockout.counterbore is not None for knockout in m.knockouts)
        + len(["tape"])
        + len(s.panels)
        + len(s.bars)
        for m, s, b in zip(molds, steel, made, strict=True)
    )
    assert all(len(row) == len(HEADINGS) for row in listed)
    assert [row[1] for row in listed if row[2].startswith("sidewall")] == [
        strip.name for mold in molds for strip in mold.strips
    ]


def test_a_row_says_lengths_ends_bead_screws_and_what_a_strip_is_made_of() -> None:
    (back,) = (row for row in rows(sample("galley")) if row[1:2] == ["A1"])
    assert back[2] == "sidewall, back"
    assert back[3] == back[5] == "8' 10 3/8"
    assert back[6:] == [
        "square, runs past", "square, runs past", "bead", "14", "spliced from 2 of 4' 5 3/16",
    ]  # fmt: skip
    turned = [row[10] for row in parts("galley") if "insert" in row[10]]
    assert turned == ["insert, turned or cast, radius 1 1/2"]
    bent = [row[10] for row in parts("round-island") if "bendable" in row[10]]
    assert len(bent) == 1


def test_panels_battens_blocks_counterbores_and_tape_have_rows() -> None:
    listed = {row[1]: row for row in parts("galley")}
    assert [name for name in listed if "base" in name] == ["A base 1", "A base 2"]
    assert listed["A base 1"][2] == "panel of the base, melamine face up"
    assert listed["A batten"][2:5] == ["batten, below a joint of the base", "25 3/8", "3 1/2"]
    bore = listed["A faucet counterbore"]
    assert bore[2:4] == ["round block, on top of the pipe", "2 5/8"]
    assert bore[10] == "1/2 thick, flush with the slab's underside; leaves 1 1/2 for the stem"
    assert listed["A faucet"][2] == "knockout, pipe or pipe insulation"
    assert "tape its sides over all of their 2" in listed["A sink"][10]
    assert listed["A tape"][10].startswith("common practice; and ")
    blocks = {row[1]: row for row in parts("round-island")}["A2 blocks"]
    assert blocks[2] == "backing block, plywood: 11 alike"
    assert blocks[10] == "one side cut to a radius of 19 3/4, hollow; shape in sidewalls.dxf"


def test_a_rigid_knockout_is_tapered_and_a_square_one_has_no_bead() -> None:
    job = sample("galley")
    sink = next(o for o in job.openings if o.use == "sink")
    rigid = after(
        job,
        edits.SetOpening(replace(sink, fill="rigid")),
        edits.FinishEdge(EdgeRef(sink.id, "cut"), "square"),
    )
    (row,) = (row for row in rows(rigid) if row[1:2] == ["A sink"])
    assert row[2] == "knockout, rigid block"
    assert row[8] == "square, no bead"
    # 2 in of tan 2 degrees.
    assert "taper its sides: 1/16 wider on each side at the slab's underside" in row[10]


def test_a_row_of_mesh_and_of_a_bar_says_size_height_and_weight() -> None:
    listed = {row[1]: row for row in parts("double-bowl")}
    mesh, bar = listed["B mesh 1"], listed["B bar 2"]
    assert mesh[2:5] == ["mesh, 4x4-W1.4xW1.4", "6' 5", "23 1/8"]
    assert mesh[10] == "cut out around openings; 1 3/16 above the face; 1.7 lb"
    assert bar[2:4] == ["bar, No. 3, between the cooktop and the back", "4' 11 5/16"]
    # 59.29 in of a No. 3 bar at 0.376 lb/ft.
    assert bar[10] == (
        "its middle 1 3/16 from the cooktop; 14 3/8 past the cooktop on the LEFT,"
        " 16 7/16 past it on the RIGHT; 13/16 above the face; 1.9 lb"
    )


def test_a_seam_s_sidewall_has_no_bead_and_a_part_of_a_knockout_is_told() -> None:
    listed = rows(sample("double-bowl"))
    assert all(row[8] == "square, no bead" for row in listed if "sidewall, seam" in row[2:3])
    assert sum(row[2:3] == ["part of a knockout, foam"] for row in listed) == 2


def test_a_knockout_s_size_is_along_its_own_axes_however_its_wall_runs() -> None:
    job = sample("galley")
    turn = radians(33.0)
    corners = tuple(
        replace(
            c,
            x=c.x * cos(turn) - c.y * sin(turn),
            y=c.x * sin(turn) + c.y * cos(turn),
        )
        for c in job.room.corners
    )
    tilted = replace(job, room=replace(job.room, corners=corners))
    for made in (job, tilted):
        (sink,) = (row for row in rows(made) if row[1:2] == ["A sink"])
        # 30 x 18 with a reveal of 1/8 inside on each side.
        assert sink[3:5] == ["29 3/4", "17 3/4"]
        assert sink[10].startswith("corners 7/8; ")


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+1", "'+1"),
        ("-1", "'-1"),
        ("@x", "'@x"),
        ("two\nlines\tand tabs", "two lines and tabs"),
        ("25 3/8", "25 3/8"),
        ("", ""),
    ],
)
def test_no_cell_is_taken_for_a_formula(cell: str, written: str) -> None:
    assert harmless_cell(cell) == written


def test_odd_names_come_back_from_the_cut_list() -> None:
    listed = rows(oddly_named())
    assert listed[0] == [f"'{ODD_NAME}, revision 1, 2026-03-02, SAMPLE"]
    assert any(row[1:2] == [f"A {ODD_NAME}"] for row in listed)


@pytest.mark.parametrize(
    ("end", "long", "short"),
    [
        (StripEnd("square", 0.0, 0.0, 0.0), "square", "square"),
        (StripEnd("past", 0.0, 0.75, 0.0), "square, runs past", "runs past"),
        (StripEnd("covered", 0.0, 0.0, 0.0), "square, covered", "square"),
        (
            StripEnd("covered", 4.0, 0.0, 0.1),
            "cut 4.0°, covered, long point on the back",
            "bevel 4.0°, back longer",
        ),
        (
            StripEnd("bevel", -22.5, 0.0, -0.3),
            "bevel 22.5°, long point on the face",
            "bevel 22.5°, face longer",
        ),
    ],
)
def test_an_end_is_described(end: StripEnd, long: str, short: str) -> None:
    assert (end_words(end), short_end(end)) == (long, short)


def test_a_strip_is_named_with_its_length_and_both_its_ends_if_they_are_alike() -> None:
    strips = {strip.name: strip for strip in plan.mold(sample("galley"), "A").strips}
    assert length_words(strips["A1"], LengthStyle()) == "A1 back: 8' 10 3/8"
    assert both_ends(strips["A1"]) == "runs past, both ends"
    assert both_ends(strips["A5"]) == "square ends"
    assert both_ends(strips["A4"]) is None
    assert length_words(strips["A3"], LengthStyle()).endswith(", insert")
    bent = next(
        s
        for s in plan.mold(sample("round-island"), "A").strips
        if s.arc_radius and not s.turned_insert
    )
    assert length_words(bent, LengthStyle()).endswith(", bent")


@pytest.mark.parametrize("name", sample_names())
def test_facts_are_plain_json_and_fit_together(name: str) -> None:
    said = facts(sample(name))
    assert json.loads(json.dumps(said, allow_nan=False)) == said
    assert [piece["name"] for piece in said["pieces"]] == [mold["piece"] for mold in said["molds"]]
    for piece, mold in zip(said["pieces"], said["molds"], strict=True):
        assert len(piece["edges"]) == len(piece["outline"])
        assert len(mold["edges"]) == len(mold["frame"]) == len(piece["base_outline"])
        n = len(mold["frame"])
        for j, (x, y, bulge) in enumerate(mold["frame"]):
            # docs/facts.md: frame edge j is the mirror of edge (n - 2 - j) mod n.
            start = piece["base_outline"][(n - 1 - j) % n]
            assert (x, y) == pytest.approx((-start[0], start[1]))
            assert bulge == pytest.approx(piece["base_outline"][(n - 2 - j) % n][2])
        assert sum(wall["screws"] for wall in mold["sidewalls"]) == mold["screws"]
        for wall in mold["sidewalls"]:
            assert len(wall["screws_at_in"]) == wall["screws"]
            assert mold["edges"][wall["edge"]]["kind"] == wall["edge_kind"]
        for diagonal in mold["diagonals"]:
            assert dist(diagonal["from"], diagonal["to"]) == pytest.approx(diagonal["length_in"])


def keys(value: object) -> set[str]:
    """Every key anywhere in the facts."""
    if isinstance(value, dict):
        return set(value) | set().union(*map(keys, value.values()), set())
    if isinstance(value, list):
        return set().union(*map(keys, value), set())
    return set()


def test_every_key_of_the_facts_is_documented() -> None:
    text = (Path(__file__).resolve().parents[2] / "docs" / "facts.md").read_text()
    for name in sample_names():
        assert not [key for key in keys(facts(sample(name))) if f"`{key}" not in text]


def test_a_reference_does_not_depend_on_geometry() -> None:
    one, other = EdgeRef("leg1", "front"), EdgeRef("leg1", "end")
    assert ref_words(Tag(Kind.FRONT, one, 2)) == "leg1.front.2"
    assert ref_words(Tag(Kind.CORNER, corner_ref(one, other))) == "leg1.end+leg1.front"


def test_a_sound_job_leaves_nothing_out() -> None:
    job = sample("twelve-pieces")
    assert left_out(job) == ()
    assert sound_pieces(job) == plan.pieces(job)
    assert sound_molds(job) == plan.molds(job)


def test_a_piece_without_its_opening_is_left_out() -> None:
    assert left_out(blocked()) == ("piece A",)
    assert sound_molds(blocked()) == ()


def test_a_bad_opening_in_an_island_leaves_only_the_island_out() -> None:
    job = sample("round-island")
    sink = next(o for o in job.openings if hasattr(o.at, "island"))
    off = replace(sink, at=replace(sink.at, x=900.0))
    others = tuple(o for o in job.openings if o is not sink)
    broken = replace(job, openings=(off, *others))
    assert len(left_out(broken)) == 1
    assert len(sound_pieces(broken)) == len(plan.pieces(job)) - 1


def test_a_bad_opening_leaves_out_only_pieces_along_its_leg() -> None:
    job = sample("out-of-square")
    sink = next(o for o in job.openings if o.name == "sink")
    off = replace(sink, at=replace(sink.at, back=-60.0))
    broken = replace(job, openings=(off, *(o for o in job.openings if o is not sink)))
    assert left_out(broken) == ("piece B", "piece C")
    assert [mold.piece for mold in sound_molds(broken)] == ["A"]


def test_an_opening_over_the_front_leaves_out_only_the_piece_it_meets() -> None:
    job = sample("out-of-square")
    sink = next(o for o in job.openings if o.name == "sink")
    off = replace(sink, at=replace(sink.at, back=1.0))
    broken = replace(job, openings=(off, *(o for o in job.openings if o is not sink)))
    assert left_out(broken) == ("piece B",)


def test_an_opening_inside_another_leaves_out_the_piece_around_it() -> None:
    job = sample("out-of-square")
    sink = next(o for o in job.openings if o.name == "sink")
    inside = replace(sink, id="opening99", name="inner", shape=CircleShape(2.0))
    assert left_out(replace(job, openings=(*job.openings, inside))) == ("piece B",)


def with_seam_at(along: float) -> Job:
    job = sample("double-bowl")
    (seam,) = job.seams
    return replace(job, seams=(replace(seam, start=replace(seam.start, along=along)),))


def test_a_bad_seam_leaves_the_pieces_of_its_top_out() -> None:
    assert left_out(with_seam_at(900.0)) == ("piece A",)


def test_a_piece_with_a_stub_of_an_edge_is_left_out_and_the_other_is_not() -> None:
    job = with_seam_at(0.405)
    assert {piece.name for piece in plan.pieces(job)} == {"A", "B"}
    assert left_out(job) == ("piece A",)
    assert [mold.piece for mold in sound_molds(job)] == ["B"]


def test_a_top_that_cannot_be_made_is_named_by_its_wall() -> None:
    job = sample("galley")
    (run,) = job.runs
    broken = replace(job, runs=(replace(run, left=SquareEnd(800.0)),))
    assert plan.pieces(broken) == ()
    assert left_out(broken) == ("the top along wall 2 to 3",)
