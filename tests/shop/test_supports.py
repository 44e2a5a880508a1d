from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import SquareEnd, WallEnd
from shop import edits
from shop.cabinets import Use, cabinets_on
from shop.job import Job
from shop.supports import beneath, under, unsupported_spans
from tests.shop.cabinetry import cabinet, corner_room, row, wall_of, with_cabinets
from tests.shop.kitchens import after, corner_seam, island, island_seam, run, seam


def counter(*ends: float, job: Job | None = None) -> Job:
    """A top along the wall from one place to another."""
    left, right = ends
    made = run("wall101", left=SquareEnd(left), right=SquareEnd(right))
    return after(wall_of(160.0) if job is None else job, edits.AddRun(made))


def furnished() -> Job:
    """From the left: base 36, dishwasher 24, sink base 36, knee space 24, end panel."""
    job = row(
        wall_of(160.0),
        ("base", 36.0),
        ("dishwasher", 24.0),
        ("sink-base", 36.0),
        ("knee-space", 24.0),
        ("end-panel", 1.0),
    )
    return counter(0.0, 121.0, job=job)


# --- What lies under a place --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("along", "words", "holds"),
    [
        (0.5, "on a cabinet side", True),
        (35.5, "on a cabinet side", True),
        (36.5, "on a cabinet side", True),
        (36.8, "over the dishwasher: nothing under it", False),
        (4.0, "inside the 36 base, 4 from its side", True),
        (86.0, "inside the 36 sink base, 10 from its side", True),
        (100.0, "over the knee space: nothing under it", False),
        (120.5, "on an end panel", True),
        (130.0, "over a gap: nothing under it", False),
    ],
)
def test_what_lies_under_a_place_is_said(along: float, words: str, holds: bool) -> None:
    found = beneath(furnished(), (along, -12.0))
    assert (found.words, found.holds) == (words, holds)


def test_a_post_and_a_wide_panel_hold_all_over() -> None:
    job = with_cabinets(
        wall_of(), cabinet(1, "post", 10.0, 6.0), cabinet(2, "end-panel", 40.0, 6.0)
    )
    assert beneath(job, (13.0, -21.0)).words == "on a post"
    assert beneath(job, (43.0, -12.0)).words == "on an end panel"
    assert not beneath(job, (13.0, -10.0)).holds


def test_nothing_holds_before_the_faces() -> None:
    assert beneath(furnished(), (10.0, -25.0)).words == "over a gap: nothing under it"


# --- Seams --------------------------------------------------------------------------------------


def seams_at(along: float, job: Job | None = None, angle: float = 90.0) -> Job:
    made = seam(along)
    made = replace(made, start=replace(made.start, angle=angle))
    return after(job or furnished(), edits.AddSeam(made))


def test_a_seam_on_a_cabinet_side_is_held_all_along() -> None:
    found = under(seams_at(36.0), "seam500")
    assert found is not None
    assert found.holds
    assert found.words == "on a cabinet side"


def test_a_seam_over_the_dishwasher_is_not_held() -> None:
    found = under(seams_at(48.0), "seam500")
    assert found is not None
    assert not found.holds
    assert found.words == "over the dishwasher: nothing under it"


def test_a_slanted_seam_can_be_held_at_one_end_only() -> None:
    found = under(seams_at(30.0, angle=120.0), "seam500")
    assert found is not None
    assert (found.back.holds, found.front.holds) == (True, False)
    assert found.words.startswith("at the back inside the 36 base, ")
    assert found.words.endswith(", in front over the dishwasher: nothing under it")


def test_a_seam_in_a_corner_is_held_by_what_stands_in_it() -> None:
    job = row(corner_room(), ("base", 100.0), start=20.0)
    job = row(job, ("base", 60.0), wall="wall102", start=24.0)
    job = after(job, edits.AddRun(run("wall101", "wall102", left=SquareEnd(20.0))))
    found = under(after(job, edits.AddSeam(corner_seam())), "seam500")
    assert found is not None
    assert found.back.words == "inside the 100 base, 1 1/8 from its side"
    assert found.front.words.startswith("inside the 100 base, ")
    assert found.holds


def test_nothing_is_said_of_seams_without_cabinets_below() -> None:
    assert under(after(counter(0.0, 120.0), edits.AddSeam(seam(60.0))), "seam500") is None
    other = row(corner_room(), ("base", 60.0), wall="wall102", start=24.0)
    other = after(other, edits.AddRun(run("wall101")), edits.AddSeam(seam(60.0)))
    assert under(other, "seam500") is None
    assert under(after(island(), edits.AddSeam(island_seam(30.0))), "seam500") is None


def test_each_seam_has_its_own_support() -> None:
    job = after(furnished(), edits.AddSeam(seam(36.0)), edits.AddSeam(seam(60.0, 501)))
    job = after(job, edits.AddSeam(seam(108.0, 502)))
    held = [found.holds for name in (500, 501, 502) if (found := under(job, f"seam{name}"))]
    assert held == [True, True, False]


def test_nothing_is_said_of_seams_that_are_not_made() -> None:
    assert under(seams_at(150.0), "seam500") is None
    assert under(furnished(), "seam1") is None


# --- Spans --------------------------------------------------------------------------------------


def told(job: Job) -> list[tuple[float, float, int, str]]:
    return [(round(s.left, 6), round(s.right, 6), s.held, s.over) for s in unsupported_spans(job)]


def test_what_has_nothing_under_it_is_found_from_end_to_end() -> None:
    assert told(furnished()) == [
        (36.0, 60.0, 2, "the dishwasher"),
        (96.0, 120.0, 2, "the knee space"),
    ]
    assert unsupported_spans(furnished())[0].cabinets == ("cabinet602",)
    assert unsupported_spans(furnished())[0].length == 24.0
    assert unsupported_spans(furnished())[0].at == (48.0, -23.0)


def test_an_end_that_hangs_over_is_held_on_one_side() -> None:
    job = counter(4.0, 60.0, job=with_cabinets(wall_of(), cabinet(1, along=14.0)))
    assert told(job) == [(4.0, 14.0, 1, "a gap"), (50.0, 60.0, 1, "a gap")]


def test_a_top_over_a_dishwasher_alone_is_held_nowhere() -> None:
    job = counter(0.0, 24.0, job=row(wall_of(), ("dishwasher", 24.0)))
    assert told(job) == [(0.0, 24.0, 0, "the dishwasher")]


def test_a_gap_between_cabinets_is_a_span() -> None:
    job = with_cabinets(wall_of(), cabinet(1), cabinet(2, along=70.0))
    assert told(counter(0.0, 106.0, job=job)) == [(36.0, 70.0, 2, "a gap")]


def test_a_top_along_a_wall_without_cabinets_says_nothing() -> None:
    assert unsupported_spans(counter(0.0, 100.0)) == ()
    assert unsupported_spans(island()) == ()


def cornered(first: float, second: float, clear: float) -> Job:
    """Cabinets of these widths round a corner, so far from it, under one top."""
    job = row(corner_room(), ("base", first), start=120.0 - clear - first)
    job = row(job, ("base", second), wall="wall102", start=24.0)
    left = SquareEnd(120.0 - clear - first)
    right = SquareEnd(24.0 + second)
    return after(job, edits.AddRun(run("wall101", "wall102", left=left, right=right)))


def test_a_corner_that_cabinets_fill_is_held() -> None:
    assert unsupported_spans(cornered(80.0, 60.0, 0.125)) == ()


def test_a_corner_that_no_cabinet_fills_is_one_span() -> None:
    assert told(cornered(60.0, 60.0, 24.0)) == [
        (96.0, 119.875, 2, "a corner that no cabinet fills")
    ]


def test_a_dishwasher_in_the_corner_is_said_by_name() -> None:
    job = row(corner_room(), ("base", 60.0), ("dishwasher", 24.0), start=36.0)
    job = row(job, ("base", 60.0), wall="wall102", start=24.0)
    ends = SquareEnd(36.0), SquareEnd(84.0)
    job = after(job, edits.AddRun(run("wall101", "wall102", left=ends[0], right=ends[1])))
    assert told(job)[0] == (96.0, 119.875, 2, "the dishwasher")


def test_the_start_of_a_top_in_a_wall_corner_counts() -> None:
    job = row(corner_room(), ("base", 36.0), wall="wall102", start=20.0)
    made = run("wall102", left=WallEnd(0.125), right=SquareEnd(56.0))
    assert told(after(job, edits.AddRun(made))) == [(0.125, 20.0, 1, "a gap")]


@given(st.lists(st.tuples(st.booleans(), st.integers(3, 40)), min_size=1, max_size=8))
def test_what_holds_and_what_does_not_make_up_the_top(parts: list[tuple[bool, int]]) -> None:
    job, at, held = wall_of(400.0), 0.0, 0.0
    for number, (open_below, width) in enumerate(parts):
        use: Use = "dishwasher" if open_below else "base"
        job = with_cabinets(job, cabinet(601 + number, use, at, float(width)))
        at, held = at + width, held + (0.0 if open_below else width)
    job = counter(0.0, at, job=job)
    spans = unsupported_spans(job)
    assert sum(span.length for span in spans) == pytest.approx(at - held)
    assert all(a.right < b.left for a, b in pairwise(spans))
    named = [cabinet_id for span in spans for cabinet_id in span.cabinets]
    assert named == [p.cabinet.id for p in cabinets_on(job, "wall101") if not p.carries]
