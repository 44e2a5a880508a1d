"""What holds an island up: overhangs on all its sides, seams over its cabinets, what mends them.

The limits (10 in free, 24 in between) are the job's, common practice, no source.
"""

from itertools import pairwise

import pytest
from msgspec.structs import replace

from geometry.counters import BackLine, ClippedCorner, FreeSide
from geometry.naming import EdgeRef, corner_ref
from geometry.seams import Seam, SeamOnIsland
from shop import edits
from shop.applying import applied, applied_all
from shop.cabinet_lines import row_facing
from shop.cabinet_mends import cabinet_mends
from shop.cabinets import cabinet_plans
from shop.far_sides import FREE, STANDS_OUT
from shop.finding import Finding
from shop.findings import findings
from shop.island_findings import SPANS, brackets_under_seam, island_mends
from shop.island_rows import carrying_sides
from shop.job import Job
from shop.plan import tops
from shop.remedies import remedies
from shop.seam_candidates import candidates
from shop.seam_proposals import seam_proposals
from shop.supports import under
from tests.shop.test_island_cabinets import ISLE, island, standing
from tests.shop.test_island_cabinets import under as stand


def said(job: Job, code: str) -> list[Finding]:
    return [found for found in findings(job) if found.code == code]


def along(job: Job) -> dict[str, Finding]:
    """What hangs far out, by the side of the island that it is about."""
    found = [(f.about[0].edge, f) for f in said(job, FREE)]
    return {ref.side: finding for ref, finding in found if isinstance(ref, EdgeRef)}


def one_row(*widths: float) -> Job:
    """An island of 8 ft by 4 ft with bases side by side along side 1, from 1 in within side 4."""
    job, at = island(), 1.0
    for number, width in enumerate(widths, 801):
        job, at = standing(job, stand(number, along=at, width=width)), at + width
    return job


def test_seating_beyond_one_row_hangs_far_out_and_one_press_sets_brackets() -> None:
    job = one_row(47.0, 47.0)
    (found,) = said(job, FREE)
    assert found.title == "Side 3 of the island hangs far out"
    # The backs stand 25 1/2 within side 1 of a top of 48.
    assert found.text.startswith(
        "22 1/2 over what stands under it, where common practice is 10: plan brackets"
    )
    assert found.at == (48.0, 48.0)
    assert said(island(), FREE) == []
    remedy = remedies(job, found)[0]
    assert remedy.label == "Set 5 brackets under it"
    held = applied_all(job, (remedy.edit, *remedy.also))
    assert said(held, FREE) == []
    brackets = [p for p in cabinet_plans(held) if p.cabinet.use == "bracket"]
    # They reach from the cabinets' backs to 2 within the edge, no further apart than 24.
    assert {(p.corners[0][1], p.corners[3][1]) for p in brackets} == {(46.0, 25.5)}
    middles = sorted(p.middle[0] for p in brackets)
    assert max(b - a for a, b in pairwise(middles)) <= 24.0


def test_two_rows_hold_all_sides() -> None:
    job = standing(one_row(94.0), stand(802, width=94.0, side="far", depth=21.0))
    assert [f for f in findings(job) if f.code in (FREE, SPANS, STANDS_OUT)] == []
    # A far row of 12 leaves 10 1/2 of seating; the same limit as ever, one job's own is said.
    shallow = applied(job, edits.SetCabinet(replace(job.cabinets[1], depth=12.0)))
    (found,) = said(shallow, FREE)
    assert "10 1/2 over what stands under it" in found.text
    own = applied(shallow, edits.SetLimits(replace(job.limits, cantilever=9.0)))
    assert "your limit is 9" in said(own, FREE)[0].text


def test_an_end_that_hangs_over_far_gets_brackets_or_a_panel() -> None:
    job = standing(one_row(80.0), stand(802, along=14.0, width=81.0, side="far", depth=21.0))
    (found,) = said(job, FREE)
    # The rows end 15 and 14 1/4 before side 2; the panel stands in line with neither of them.
    assert found.title == "Side 2 of the island hangs far out"
    assert "15 over" in found.text
    remedy = remedies(job, found)[0]
    held = applied_all(job, (remedy.edit, *remedy.also))
    assert said(held, FREE) == []
    assert {c.island_side for c in held.cabinets if c.use == "bracket"} == {"2"}
    assert held.islands[0].backs == (BackLine("2", 14.0),)


def test_a_gap_in_a_row_is_a_span_and_posts_stand_under_it() -> None:
    job = standing(island(depth=25.5), stand(801, width=20.0), stand(802, along=75.0, width=20.0))
    sides = [f for f in said(job, SPANS) if f.about[0].kind == "edge"]
    assert [f.title for f in sides] == [
        "Side 1 of the island spans a gap: 4' 6",
        "Side 3 of the island spans a gap: 4' 6",
    ]
    assert sides[0].text.startswith("Between what holds it up common practice is 24: plan a post")
    remedy = remedies(job, sides[0])[0]
    assert remedy.label == "Set 2 panels under it"
    held = applied_all(job, (remedy.edit, *remedy.also))
    assert said(held, SPANS) == []
    # One post is enough where each half is no more than the limit.
    closer = applied(job, edits.SetCabinet(replace(job.cabinets[1], along=60.0)))
    assert remedies(closer, said(closer, SPANS)[0])[0].label == "Set a panel under its middle"


def test_beyond_a_row_that_stops_short_of_another_an_end_panel_holds() -> None:
    job = standing(one_row(80.0), stand(802, along=1.0, width=94.0, side="far", depth=21.0))
    found = along(job)["1"]
    assert found.text.startswith("It hangs 25 1/2 over what stands under it, 14 of it beyond what")
    panel = next(r for r in remedies(job, found) if "panel" in r.label)
    held = applied_all(job, (panel.edit, *panel.also))
    assert [c.along for c in held.cabinets if c.use == "end-panel"] == [94.25]
    # From the other side the free end is the left one.
    job = standing(island(), stand(801, along=15.0, width=80.0))
    job = standing(job, stand(802, along=1.0, width=94.0, side="far", depth=21.0))
    found = along(job)["1"]
    panel = next(r for r in remedies(job, found) if "panel" in r.label)
    held = applied_all(job, (panel.edit, *panel.also))
    assert [c.along for c in held.cabinets if c.use == "end-panel"] == [1.0]


def test_a_round_end_is_looked_at_along_its_arc() -> None:
    job = standing(
        island(round_sides=("2",)),
        stand(801, width=71.0),
        stand(802, along=0.0, width=71.0, side="far", depth=21.0),
    )
    (found,) = said(job, FREE)
    assert found.title == "Side 2 of the island hangs far out"
    # The half circle of 24 begins where the cabinets end: its middle is 24 beyond them.
    assert found.text.startswith("It hangs 24 over what stands under it")
    assert found.at == pytest.approx((96.0, 24.0), abs=0.01)
    assert list(island_mends(job, found)) == []
    # A base that reaches into the round part holds more of it.
    further = applied(job, edits.SetCabinet(replace(job.cabinets[0], width=80.0)))
    assert "It hangs 24 over" not in " ".join(f.text for f in said(further, FREE))


def test_a_notch_is_held_by_what_stands_on_its_own_side_only() -> None:
    corners = ((0.0, 0.0), (96.0, 0.0), (96.0, 96.0), (60.0, 96.0), (60.0, 36.0), (0.0, 36.0))
    sides = tuple(FreeSide(n, x, y) for n, (x, y) in enumerate(corners, 1))
    job = standing(island(free=sides), stand(801, width=94.0))
    about = along(job)
    assert set(about) == {"3", "5"}
    # Nothing stands behind side 4 within its length; side 5 is 36 - 25 1/2 beyond the backs.
    assert "10 1/2 over" in about["5"].text


def test_a_skew_side_is_held_as_far_as_the_cabinets_come_near_it() -> None:
    sides = tuple(
        FreeSide(n, x, y)
        for n, (x, y) in enumerate(((0.0, 0.0), (96.0, 0.0), (96.0, 27.0), (0.0, 51.0)), 1)
    )
    job = standing(island(free=sides), stand(801, width=94.0))
    found = along(job)["3"]
    assert "beyond what holds it up" in found.text


def test_what_stands_out_is_said_and_its_row_goes_further_in() -> None:
    job = standing(island(), stand(801, width=60.0, depth=30.0))
    (found,) = said(job, STANDS_OUT)
    assert found.title == "The 60 base on side 1 of the island stands out"
    assert found.text.startswith("It reaches 4 1/2 further than the top over it")
    ((words, made),) = island_mends(job, found)
    assert words == "Set the backs of its row 31 1/2 within side 1"
    assert said(applied_all(job, made), STANDS_OUT) == []
    assert any(m.label == words for m in cabinet_mends(job, found))
    far = standing(island(), stand(801, width=60.0, depth=30.0, side="far"))
    ((words, made),) = island_mends(far, said(far, STANDS_OUT)[0])
    assert words == "Set the backs of its row 16 1/2 within side 1"
    deep = standing(island(), stand(801, width=60.0, depth=60.0, side="far"))
    assert list(island_mends(deep, said(deep, STANDS_OUT)[0])) == []


def seam_at(along: float, side: str = "1") -> Seam:
    return Seam("seam901", ISLE, SeamOnIsland(ISLE, side, along))


def test_seams_are_judged_by_what_is_under_them_at_both_ends() -> None:
    job = standing(one_row(47.0, 47.0), stand(803, along=11.0, width=36.0, side="far", depth=21.0))

    def told(along: float) -> str:
        found = under(applied(job, edits.AddSeam(seam_at(along))), "seam901")
        assert found is not None
        return found.words

    # The far base goes from 49 to 85 as side 1 counts.
    assert (
        told(48.0) == "at side 1 on a cabinet side, at its other end over a gap: nothing under it"
    )
    assert told(60.0) == (
        "at side 1 inside the 47 base, 12 from its side, at its other end inside the 36 base,"
        " 11 from its side"
    )
    seamed = applied(job, edits.AddSeam(seam_at(46.0)))
    (found,) = said(seamed, "seam-over-nothing")
    assert under(applied(island(), edits.AddSeam(seam_at(46.0))), "seam901") is None
    assert remedies(seamed, found)[0].label == "Move the seam 3 to the right, onto a cabinet's side"
    # Over what holds nothing that is said.
    machine = applied(job, edits.SetCabinet(replace(job.cabinets[0], use="dishwasher")))
    seamed = applied(machine, edits.AddSeam(seam_at(30.0)))
    told_so = under(seamed, "seam901")
    assert told_so is not None
    assert told_so.words.startswith("at side 1 over the dishwasher: nothing under it")


def test_seams_are_proposed_at_the_sides_of_cabinets() -> None:
    job = standing(one_row(44.5, 49.5), stand(803, along=1.0, width=49.5, side="far", depth=21.0))
    (top,) = tops(job)
    sides = [c.seam.start for c in candidates(job, top) if c.why == "cabinet side"]
    assert SeamOnIsland(ISLE, "1", 45.5) in sides
    split = applied(job, edits.SetLimits(replace(job.limits, piece_length=60.0, carry_lb=2000.0)))
    best = seam_proposals(split, ISLE).best[0]
    (seam,) = best.seams
    assert isinstance(seam.start, SeamOnIsland)
    assert seam.start.along == pytest.approx(45.5, abs=0.75)


def test_a_clipped_corner_is_no_side_of_its_own() -> None:
    job = standing(one_row(94.0), stand(802, width=94.0, side="far", depth=21.0))
    corner = corner_ref(EdgeRef(ISLE, "1"), EdgeRef(ISLE, "2"))
    clipped = applied(job, edits.ShapeCorner(corner, ClippedCorner(corner, 0.5)))
    assert along(clipped) == {}
    (out,) = said(applied(job, edits.ShapeCorner(corner, ClippedCorner(corner, 6.0))), STANDS_OUT)
    assert out.about[0].id == "cabinet801"


def test_a_base_that_stands_out_beyond_a_round_end_holds_it() -> None:
    job = standing(island(round_sides=("2",)), stand(801, along=0.0, width=100.0, depth=25.5))
    job = standing(job, stand(802, along=-28.0, width=100.0, depth=22.5, side="far"))
    assert along(job) == {}


def test_several_gaps_get_brackets_all_at_once() -> None:
    job = standing(
        island(), stand(801, width=10.0), stand(802, along=40.0, width=10.0),
        stand(803, along=85.0, width=10.0), stand(804, width=94.0, depth=21.0, side="far"),
    )  # fmt: skip
    found = along(job)["1"]
    assert "35 of it between" in found.text
    ((words, made),) = island_mends(job, found)
    assert words == "Set 2 brackets under it"
    assert "1" not in along(applied_all(job, made))


def test_a_seam_on_a_side_that_is_not_there_has_no_sides_to_go_to() -> None:
    job = one_row(94.0)
    assert carrying_sides(job, SeamOnIsland(ISLE, "1", 10.0)) == [1.0, 95.0]
    assert carrying_sides(job, SeamOnIsland(ISLE, "9", 10.0)) == []
    assert carrying_sides(job, SeamOnIsland("island9", "1", 10.0)) == []


def test_cabinets_that_all_but_touch_hold_a_side_as_one() -> None:
    job = standing(one_row(47.0), stand(802, along=48.0 + 1e-8, width=47.0))
    assert set(along(job)) == {"3"}


def test_beyond_a_shallow_row_brackets_hang_on_its_faces_and_make_no_row_of_their_own() -> None:
    job = standing(one_row(94.0), stand(802, width=94.0, side="far", depth=12.0))
    (found,) = said(job, FREE)
    remedy = remedies(job, found)[0]
    assert remedy.label == "Set 5 brackets under it"
    held = applied_all(job, (remedy.edit, *remedy.also))
    assert said(held, FREE) == []
    brackets = [p for p in cabinet_plans(held) if p.cabinet.use == "bracket"]
    assert {(p.corners[0][1], p.corners[3][1]) for p in brackets} == {(46.0, 37.5)}
    assert row_facing(held, ISLE, "3") == "island1 1 far"
    # Where brackets hang already, from elsewhere, none are added to them.
    deeper = applied(held, edits.SetLimits(replace(held.limits, cantilever=1.0)))
    about = along(deeper)["3"]
    assert list(island_mends(deeper, about)) == []


def test_a_seam_between_the_brackets_of_seating_gets_one_of_its_own() -> None:
    job = standing(one_row(94.0), stand(802, width=94.0, side="far", depth=12.0))
    remedy = remedies(job, said(job, FREE)[0])[0]
    bare = applied(job, edits.AddSeam(seam_at(40.0)))
    assert brackets_under_seam(bare, bare.seams[0]) == ()
    seamed = applied(applied_all(job, (remedy.edit, *remedy.also)), edits.AddSeam(seam_at(40.0)))
    (found,) = said(seamed, "seam-over-nothing")
    mend = next(r for r in remedies(seamed, found) if r.label == "Set a bracket under its end")
    held = applied_all(seamed, (mend.edit, *mend.also))
    below = under(held, "seam901")
    assert below is not None
    assert below.front.words == "on a bracket"
    assert held.cabinets[-1].depth == held.cabinets[-2].depth
    # Seating on both sides: a bracket under each end.
    backs = (BackLine("1", 36.0), BackLine("3", 36.0))
    both = standing(
        island(backs=backs),
        stand(801, width=94.0),
        stand(803, along=6.0, width=2.0, depth=10.0, use="bracket", side="far"),
        stand(804, "3", 6.0, width=2.0, depth=10.0, use="bracket", side="far"),
    )
    both = applied(both, edits.AddSeam(seam_at(50.0)))
    assert len(brackets_under_seam(both, both.seams[0])) == 2
    lone = applied(island(), edits.AddSeam(seam_at(50.0)))
    assert brackets_under_seam(lone, lone.seams[0]) == ()
