"""A maker's template in a job: exact in everything that follows from it."""

from io import StringIO
from math import pi, tan

import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read
from msgspec.structs import replace

from export.dxf import knockouts as knockout_file
from export.stamp import stamped
from geometry.edges import Edge, is_line, radius
from geometry.naming import Kind
from geometry.openings import AlongLeg, Opening
from geometry.outline import Outline, area
from geometry.templates import TemplateEdge, TemplateShape, template_of
from shop import edits, plan
from shop.findings import findings
from shop.job import Job
from shop.jobfile import JobFileError, decoded, encoded
from shop.unmade import unmade
from tests.export.jobs import TODAY
from tests.shop.kitchens import after, seam, straight

QUARTER = tan(pi / 8.0)
BOWL = (
    Edge((-12.0, -8.0), (12.0, -8.0)),
    Edge((12.0, -8.0), (15.0, -5.0), QUARTER),
    Edge((15.0, -5.0), (15.0, 6.0)),
    Edge((15.0, 6.0), (13.0, 8.0), QUARTER),
    Edge((13.0, 8.0), (2.0, 8.0)),
    Edge((2.0, 8.0), (-2.0, 8.0), -0.5),
    Edge((-2.0, 8.0), (-13.0, 8.0)),
    Edge((-13.0, 8.0), (-15.0, 6.0), QUARTER),
    Edge((-15.0, 6.0), (-15.0, -5.0)),
    Edge((-15.0, -5.0), (-12.0, -8.0), QUARTER),
)
"""A bowl with two radii and a bite for a tap, about a point that is not its middle."""

BITE_RADIUS = 2.5
"""Chord 4, rise 1: r = (c^2 / 4 + s^2) / (2 s)."""

ANCHOR = (0.0, 2.0)


def bowl(reveal: float = 0.0, shape: TemplateShape | None = None) -> Opening:
    shape = shape or template_of(BOWL, ANCHOR, 0, "bowl 33.dxf")
    at = AlongLeg("leg201", 60.0, 15.0)
    return Opening("opening400", "sink", shape, at, "sink", reveal)


def kitchen(opening: Opening | None = None) -> Job:
    return after(straight(), edits.AddOpening(opening or bowl()))


def own_area() -> float:
    rounded = 2.0 * (1.0 - pi / 4.0) * (9.0 + 4.0)
    sector = BITE_RADIUS**2 * (4.0 * 0.4636476090008061 - 24.0 / 25.0) / 2.0
    # The bite turns 4 atan(1/2); its sine is 24 / 25.
    return 30.0 * 16.0 - rounded - sector


def hole(job: Job) -> Outline:
    ((found,),) = (top.openings for top in plan.tops(job))
    return found.outline


def test_the_hole_has_the_template_s_area_and_the_same_bulges() -> None:
    cut = hole(kitchen())
    assert -area(cut) == pytest.approx(own_area(), rel=1e-12)
    assert sorted(cut.bulges) == sorted(-edge.bulge for edge in BOWL)


def test_a_job_with_a_template_reads_back_to_the_last_bit() -> None:
    job = kitchen(bowl(0.125))
    assert decoded(encoded(job)) == job
    assert b'"file": "bowl 33.dxf"' in encoded(job)


def test_a_template_with_too_many_edges_or_one_is_refused_by_the_file() -> None:
    for count, said in ((1, "2 or more"), (501, "longer than 500")):
        shape = TemplateShape((TemplateEdge(0.0, 0.0),) * count, "x.dxf")
        job = kitchen()
        job = replace(job, openings=(replace(job.openings[0], shape=shape),))
        with pytest.raises(JobFileError, match=said):
            encoded(job)


def test_the_knockout_is_the_hole_mirrored_and_says_that_it_is_as_drawn() -> None:
    (mold,) = plan.molds(kitchen())
    (knockout,) = mold.knockouts
    assert -area(knockout.outline) == pytest.approx(own_area(), rel=1e-12)
    assert knockout.size_words == "30 x 16, as drawn"


@pytest.mark.parametrize(
    ("loop", "said"),
    [
        ([Edge((3, 0), (-3, 0), 0.5), Edge((-3, 0), (3, 0), 0.5)], "6 x 3, as drawn"),
        ([Edge((3, 0), (-3, 0), 1.0), Edge((-3, 0), (3, 0), 1.0)], "6 across"),
        (
            [
                Edge(a, b)
                for a, b in zip(
                    [(3, 0), (1, 2), (-3, 2), (-3, -2), (1, -2)],
                    [(1, 2), (-3, 2), (-3, -2), (1, -2), (3, 0)],
                    strict=True,
                )
            ],
            "6 x 4, as drawn",
        ),
    ],
)
def test_sizes_of_templates_that_no_words_say(loop: list[Edge], said: str) -> None:
    job = kitchen(bowl(shape=template_of(loop, (0.0, 0.0), 0, "x.dxf")))
    assert plan.molds(job)[0].knockouts[0].size_words == said


def test_the_knockout_s_dxf_has_its_arcs_as_bulges() -> None:
    job = kitchen()
    drawing = read(StringIO(knockout_file(job, stamped(job, TODAY)).decode()))
    (line,) = [e for e in drawing.modelspace() if isinstance(e, LWPolyline)]
    bulges = sorted(round(abs(row[0]), 12) for row in line.get_points("b"))
    assert bulges == sorted(round(abs(edge.bulge), 12) for edge in BOWL)


def test_a_bridge_ends_at_the_template_s_own_line() -> None:
    opening = bowl()
    job = kitchen(replace(opening, at=AlongLeg("leg201", 60.0, 17.0)))
    (piece,) = plan.pieces(job)
    # The anchor is 17 behind the front at 25 1/2, the bowl's back 6 more; the back is at 1/8.
    depth = 25.5 - 0.125
    assert min(bridge.width for bridge in piece.bridges) == pytest.approx(depth - 23.0, abs=1e-9)


def test_a_seam_splits_it_exactly() -> None:
    job = after(kitchen(), edits.AddSeam(seam(61.0)))
    pieces = plan.pieces(job)
    assert len(pieces) == 2
    parts = [part for piece in pieces for part in piece.face.parts]
    whole = plan.tops(job)[0].top.outline
    cut = sum(abs(area(part.outline)) for part in parts)
    gap = job.seams[0].gap
    # The seam at 61 is 1 right of the anchor: through the bite, 16 - s deep there.
    x = 1.0
    rise = (BITE_RADIUS**2 - x**2) ** 0.5 - (BITE_RADIUS - 1.0)
    assert cut == pytest.approx(own_area() - gap * (16.0 - rise), abs=1e-3)
    assert area(whole) == pytest.approx(
        sum(piece.area_sq_in for piece in pieces)
        + own_area()
        + gap * (depth_at(whole) - 16.0 + rise),
        abs=1e-3,
    )
    own = {
        round(radius(edge), 9)
        for piece in pieces
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True)
        if tag.kind is Kind.OPENING and not is_line(edge)
    }
    assert own == {3.0, 2.0, BITE_RADIUS}


def depth_at(whole: Outline) -> float:
    ys = [y for _, y in whole.vertices]
    return max(ys) - min(ys)


def test_a_reveal_moves_arcs_and_lines_alike() -> None:
    arcs = [edge for edge in hole(kitchen(bowl(0.25))).edges if not is_line(edge)]
    assert {round(radius(edge), 9) for edge in arcs} == {3.25, 2.25, BITE_RADIUS - 0.25}


def test_a_reveal_that_it_does_not_bear_is_said_and_its_box_is_shown() -> None:
    job = kitchen(bowl(-2.5))
    (found,) = [f for f in findings(job) if f.code == "reveal-too-large"]
    assert found.blocking
    assert "template" in found.text
    (lost,) = unmade(job)
    ys = sorted({round(edge.start[1], 9) for edge in lost.edges})
    assert ys[1] - ys[0] == pytest.approx(16.0)


def test_an_outline_that_crosses_itself_is_a_finding() -> None:
    bow = (TemplateEdge(0, 0), TemplateEdge(9, 9), TemplateEdge(9, 0), TemplateEdge(0, 9))
    job = kitchen(bowl(shape=TemplateShape(bow, "bow.dxf")))
    assert [f.code for f in findings(job) if f.blocking] == ["template-crosses"]
