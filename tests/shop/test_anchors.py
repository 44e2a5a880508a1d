"""Openings that lie by a cabinet, a mark or another opening: they move with it."""

import pytest
from msgspec.structs import replace

from geometry.counters import Peninsula
from geometry.openings import (
    AlongLeg,
    Anchor,
    ApronShape,
    BesideOpening,
    CircleShape,
    InIsland,
    Opening,
    OverMiddle,
)
from geometry.picking import Subject
from shop import edits
from shop.anchors import (
    beside,
    center_words,
    centers,
    held,
    held_words,
    host_of,
    kept,
    middle_of,
    place_by,
    settled,
)
from shop.applying import applied
from shop.clearances import behind
from shop.findings import findings
from shop.job import Cabinet, Corner, Job, Mark
from shop.jobfile import JobFileError, decoded, encoded
from shop.legs import lone_peninsula
from shop.places import place_of
from shop.plan import tops
from shop.unmade import unmade
from tests.export.jobs import sample
from tests.shop.kitchens import after, faucet, hole, island, sink, straight, walls

BASE = Cabinet("cabinet600", "wall101", "sink-base", 42.0, 36.0)
DRAWERS = Cabinet("cabinet601", "wall101", "base", 0.0, 42.0)
WINDOW = Mark("mark700", "window", 70.0, 0.0, "window")
OVER = OverMiddle("leg201", "cabinet600", 13.0)
BEHIND = BesideOpening("opening400", 4.0, 2.5)


def kitchen(at: Anchor = OVER, tap: Anchor = BEHIND) -> Job:
    return after(
        straight(),
        edits.AddCabinet(DRAWERS),
        edits.AddCabinet(BASE),
        edits.AddMark(WINDOW),
        edits.AddOpening(replace(sink(), at=at)),
        edits.AddOpening(replace(faucet(), at=tap)),
    )


def place(job: Job, opening: str = "opening400") -> AlongLeg:
    found = place_by(job, opening)
    assert isinstance(found, AlongLeg)
    return found


def test_a_sink_over_its_base_goes_where_the_base_goes() -> None:
    job = kitchen()
    assert place(job) == AlongLeg("leg201", 60.0, 13.0)
    moved = after(job, edits.SetCabinet(replace(BASE, along=50.0)))
    assert place(moved).along == pytest.approx(68.0)
    aside = after(job, edits.MoveOpening("opening400", replace(OVER, aside=-2.0)))
    assert place(aside).along == pytest.approx(58.0)


def test_a_faucet_goes_with_its_sink_and_with_the_size_of_it() -> None:
    job = kitchen()
    # The sink's middle is 13 behind the front, its rim 8 further back.
    assert place(job, "opening401") == AlongLeg("leg201", 64.0, 23.5)
    grown = after(job, edits.SetOpening(replace(job.openings[0], reveal=0.25)))
    assert place(grown, "opening401").back == pytest.approx(23.75)
    moved = after(job, edits.MoveOpening("opening400", AlongLeg("leg201", 30.0, 12.0, "right")))
    # From the right corner to the left: the sink stands at 90, the faucet right of it.
    assert place(moved, "opening401") == AlongLeg("leg201", 26.0, 22.5, "right")
    apron = replace(job.openings[0], shape=ApronShape(30.0, 20.0, 1.0), at=replace(OVER, back=0.0))
    assert place(after(job, edits.SetOpening(apron)), "opening401").back == pytest.approx(22.5)


def test_on_an_island_it_goes_with_its_sink_too() -> None:
    job = after(
        island(),
        edits.AddOpening(hole()),
        edits.AddOpening(replace(faucet(), at=BesideOpening("opening402", 1.0, 2.0))),
    )
    assert place_by(job, "opening401") == InIsland("island300", 21.0, 26.0)
    assert host_of(job, job.openings[1]) == "island300"
    assert behind(job, "opening401") is None
    assert beside(job, job.openings[0], InIsland("island9", 1.0, 1.0)) is None
    sinks = after(job, edits.SetOpening(replace(job.openings[0], use="sink")))
    assert held(sinks, "faucet", InIsland("island300", 22.0, 26.0)) == BesideOpening(
        "opening402", 2.0, 2.0
    )
    assert centers(sinks, "opening401") == (
        BesideOpening("opening402", 0.0, 2.0),
        InIsland("island300", 36.0, 26.0),
    )


@pytest.mark.parametrize(
    ("gone", "opening"),
    [
        (edits.RemoveCabinet("cabinet600"), "opening400"),
        (edits.RemoveOpening("opening400"), "opening401"),
        (edits.RemoveMark("mark700"), "opening402"),
    ],
)
def test_without_what_it_was_measured_from_an_opening_stays_where_it_is(
    gone: edits.Edit, opening: str
) -> None:
    over = OverMiddle("leg201", "mark700", 3.0, 1.0)
    job = after(
        kitchen(), edits.AddOpening(Opening("opening402", "outlet", CircleShape(2.0), over))
    )
    before = place(job, opening)
    done = after(job, gone)
    assert next(o for o in done.openings if o.id == opening).at == before


def test_with_its_counter_everything_on_it_goes() -> None:
    assert after(kitchen(), edits.RemoveRun("run200")).openings == ()


def test_walls_parted_or_joined_leave_it_where_it_is() -> None:
    job = kitchen()
    split = after(job, edits.SplitWall("wall101", Corner("corner800", 9, 100.0, 0.0), "wall801"))
    assert place(split).along == pytest.approx(60.0)
    assert isinstance(split.openings[0].at, AlongLeg)
    joined = after(
        after(
            split,
            edits.MoveOpening("opening400", replace(OVER, leg=host_of(split, split.openings[0]))),
        ),
        edits.RemoveCorner("corner800"),
    )
    assert place(joined).along == pytest.approx(60.0)


def test_a_file_in_which_it_lies_by_nothing_is_refused() -> None:
    job = kitchen()
    sink_, tap = job.openings
    for broken in (
        (replace(sink_, at=replace(OVER, of="cabinet999")), tap),
        (replace(sink_, at=replace(OVER, leg="leg999")), tap),
        (sink_, replace(tap, at=BesideOpening("opening401"))),
        (sink_, replace(tap, at=BesideOpening("opening999"))),
    ):
        with pytest.raises(JobFileError):
            decoded(encoded(replace(job, openings=broken)))
    assert decoded(encoded(kitchen())) == kitchen()


def test_a_drag_keeps_to_what_it_is_measured_from_as_long_as_it_can() -> None:
    job = kitchen()
    assert kept(job, OVER, AlongLeg("leg201", 60.0, 12.0)) == replace(OVER, back=12.0)
    free = AlongLeg("leg201", 60.5, 12.0)
    assert kept(job, OVER, free) == free
    assert kept(job, BEHIND, AlongLeg("leg201", 62.0, 24.0)) == BesideOpening(
        "opening400", 2.0, 3.0
    )
    away = InIsland("island300", 3.0, 3.0)
    assert kept(job, BEHIND, away) == away
    assert kept(job, OVER, away) == away
    assert kept(job, AlongLeg("leg201", 1.0, 1.0), free) == free


def test_what_is_placed_on_the_middle_of_its_base_stays_there() -> None:
    job = after(straight(), edits.AddCabinet(DRAWERS), edits.AddCabinet(BASE))
    there = AlongLeg("leg201", 60.0, 12.0)
    assert held(job, "sink", there) == OverMiddle("leg201", "cabinet600", 12.0)
    assert held(job, "sink", replace(there, along=61.0)) == replace(there, along=61.0)
    assert held(job, "cooktop", there) == there
    assert held(job, "faucet", there) == there
    two = after(
        job,
        edits.AddOpening(sink(along=60.0)),
        edits.AddOpening(replace(sink(along=100.0), id="opening409", name="sink 2")),
    )
    assert held(two, "faucet", replace(there, along=95.0, back=23.0)) == BesideOpening(
        "opening409", -5.0, 2.0
    )


def test_an_opening_is_centered_on_the_likeliest_first() -> None:
    job = kitchen(AlongLeg("leg201", 30.0, 13.0), AlongLeg("leg201", 66.0, 12.0))
    assert centers(job, "opening400") == (
        OVER,
        OverMiddle("leg201", "mark700", 13.0),
        OverMiddle("leg201", "cabinet601", 13.0),
    )
    assert centers(job, "opening401") == (
        BesideOpening("opening400", 0.0, 2.5),
        OverMiddle("leg201", "mark700", 12.0),
        OverMiddle("leg201", "cabinet600", 12.0),
        OverMiddle("leg201", "cabinet601", 12.0),
    )


def test_what_it_is_measured_from_has_a_name() -> None:
    job = kitchen()
    assert held_words(job, BEHIND) == "the sink"
    assert held_words(job, OVER).startswith("the ")
    assert held_words(job, OverMiddle("leg201", "mark700", 1.0)) == "window"
    assert held_words(job, InIsland("island300", 1.0, 1.0)) == "the island's corner"
    assert held_words(job, AlongLeg("leg201", 1.0, 1.0)) == "corner 1"
    assert held_words(job, AlongLeg("leg201", 1.0, 1.0, "middle")) == "the middle of the wall"
    assert middle_of(job, "mark701") is None


def test_one_whose_cabinet_has_no_size_has_no_place_and_says_so() -> None:
    job = kitchen()
    flat = replace(job, cabinets=(replace(BASE, width=0.0000001),))
    assert place_by(flat, "opening400") is None
    assert centers(flat, "opening400") == ()
    assert kept(flat, OVER, AlongLeg("leg201", 1.0, 1.0)) == AlongLeg("leg201", 1.0, 1.0)
    codes = [(f.code, f.about[0].id) for f in findings(flat)]
    assert ("no-place", "opening400") in codes
    assert ("no-place", "opening401") in codes
    assert place_of(flat, Subject("opening", "opening400")) is not None
    assert settled(flat)[1].at == BEHIND
    assert unmade(flat) == ()
    # A sink that stays measured from the cabinet is where it was when the cabinet goes at last.
    assert applied(flat, edits.RemoveCabinet("cabinet600")).openings == ()


def test_a_counter_behind_it_is_read_from_its_edge_and_from_its_middle() -> None:
    job = kitchen()
    found = behind(job, "opening401")
    assert found is not None
    # 24 and 1 1/2 of overhang less 1/8 behind, and the middle is 23 1/2 from the front.
    assert found.middle == pytest.approx(25.375 - 23.5)
    assert found.edge == pytest.approx(25.375 - 23.5 - 1.375 / 2.0)
    assert behind(job, "opening999") is None
    assert tops(job)[0].openings[0].center == pytest.approx((60.0, -12.5))


def test_a_peninsula_has_neither_cabinets_nor_windows_to_center_on() -> None:
    lone = lone_peninsula(kitchen(), "wall101", Peninsula("left", 60.0), 70.0)
    job = after(walls((0.0, 0.0), (120.0, 0.0)), edits.AddMark(WINDOW), edits.AddRun(lone))
    arm = lone.legs[0].id
    there, behind_it = AlongLeg(arm, 35.0, 12.0), AlongLeg(arm, 38.0, 22.5)
    basin = replace(sink(), id="opening409", name="bar sink", at=there)
    tap = replace(faucet(), id="opening410", name="tap", at=behind_it)
    job = after(job, edits.AddOpening(basin), edits.AddOpening(tap))
    assert centers(job, "opening409") == ()
    assert centers(job, "opening410") == (BesideOpening("opening409", 0.0, 2.5),)
    assert held(job, "faucet", behind_it) == BesideOpening("opening409", 3.0, 2.5)
    assert held(job, "sink", there) == there


def test_a_window_whose_sides_are_marked_has_its_middle_between_them() -> None:
    job = sample("peninsula-and-ledge")
    offers = centers(job, "sink19")
    assert [center_words(job, offer) for offer in offers[:2]] == ["the 36 sink base", "the window"]
    at = offers[1]
    assert isinstance(at, OverMiddle)
    # Its sides are 52 and 92 in from the corner; the room as solved moves them by a hair.
    assert at.aside == pytest.approx(20.0, abs=0.05)
    there = after(job, edits.MoveOpening("sink19", at))
    place = place_by(there, "sink19")
    assert isinstance(place, AlongLeg)
    assert place.along == pytest.approx(72.0, abs=0.05)
    # Moved off it, it is measured from the side that is marked.
    assert held_words(there, replace(at, aside=3.0)) == "window, left side"
    # A window of another wall is none to be centered on.
    other = tuple(replace(m, x=-30.0) if m.kind == "window" else m for m in job.room.marks)
    away = replace(job, room=replace(job.room, marks=other))
    assert not any("window" in center_words(away, offer) for offer in centers(away, "sink19"))
