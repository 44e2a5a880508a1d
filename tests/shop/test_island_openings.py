"""Openings over the cabinets of an island: centered in one press, and where they then stay."""

import pytest
from msgspec.structs import replace

from geometry.counters import FreeSide, FromWalls, Island
from geometry.openings import InIsland, Opening, OverMiddle, Place, RectangleShape
from geometry.picking import Subject
from shop import edits
from shop.anchors import centers, held, held_words, kept, place_by, with_middles_settled
from shop.applying import applied, applied_all
from shop.cabinet_findings import of_cabinets
from shop.copies import copied
from shop.findings import findings
from shop.job import Job
from shop.jobfile import JobFileError, decoded, encoded
from shop.opening_findings import OVER_DISHWASHER
from shop.remedies import remedies
from tests.shop.kitchens import walls
from tests.shop.test_island_cabinets import ISLE, island, standing, under

SINK = "opening701"


def sink(x: float = 20.0, y: float = 14.0, wide: float = 20.0) -> Opening:
    shape = RectangleShape(wide, 16.0, 2.0)
    return Opening(SINK, "sink", shape, InIsland(ISLE, x, y), use="sink")


def two_rows() -> Job:
    """A sink base from 37 to 73 along side 1, a base beside it, and a shallow row behind them."""
    return standing(
        island(),
        under(801, width=36.0),
        under(802, along=37.0, width=36.0, use="sink-base"),
        under(803, along=1.0, width=30.0, side="far", depth=12.0),
    )


def with_sink(job: Job, opening: Opening | None = None) -> Job:
    return applied(job, edits.AddOpening(sink() if opening is None else opening))


def where(job: Job) -> tuple[float, float]:
    at = place_by(job, SINK)
    assert isinstance(at, InIsland)
    return round(at.x, 6), round(at.y, 6)


def test_a_sink_is_centered_over_its_base_and_stays_over_it() -> None:
    job = with_sink(two_rows())
    first, *others = centers(job, SINK)
    # It stays 14 within side 1: 25 1/2 less that out from the backs.
    assert first == OverMiddle(ISLE, "cabinet802", 11.5)
    assert [at.of for at in others if isinstance(at, OverMiddle)] == ["cabinet801", "cabinet803"]
    assert others[-1] == InIsland(ISLE, 48.0, 14.0)
    job = applied(job, edits.MoveOpening(SINK, first))
    assert where(job) == (55.0, 14.0)
    assert held_words(job, first) == "the 36 sink base"
    moved = applied(job, edits.SetCabinet(replace(job.cabinets[1], along=50.0)))
    assert where(moved) == (68.0, 14.0)
    assert decoded(encoded(job)) == job
    # Without its base it stays where it was.
    gone = applied(moved, edits.RemoveCabinet("cabinet802"))
    assert (where(gone), type(gone.openings[0].at)) == ((68.0, 14.0), InIsland)


def test_anything_else_is_centered_over_the_nearest_cabinet_in_either_row() -> None:
    job = with_sink(two_rows(), replace(sink(80.0, 40.0, 10.0), use="cooktop"))
    first = centers(job, SINK)[0]
    # The far row faces side 3; its base goes from 65 to 95 as side 1 counts.
    assert first == OverMiddle(ISLE, "cabinet803", 14.5)
    assert where(applied(job, edits.MoveOpening(SINK, first))) == (80.0, 40.0)
    aside = edits.MoveOpening(SINK, replace(first, aside=3.0))
    assert where(applied(job, aside)) == (77.0, 40.0)


def test_a_sink_put_over_its_base_is_held_there_and_dragged_out_of_the_row_it_goes() -> None:
    job = two_rows()
    there = InIsland(ISLE, 55.0, 14.0)
    over = OverMiddle(ISLE, "cabinet802", 11.5)
    assert held(job, "sink", there) == over
    assert held(job, "sink", InIsland(ISLE, 52.0, 14.0)) == InIsland(ISLE, 52.0, 14.0)
    assert held(job, "other", there) == there
    job = applied(with_sink(job), edits.MoveOpening(SINK, over))
    assert kept(job, over, InIsland(ISLE, 55.0, 12.0)) == replace(over, back=13.5)
    away: Place = InIsland(ISLE, 57.0, 12.0)
    assert kept(job, over, away) == away
    elsewhere: Place = InIsland("island9", 55.0, 12.0)
    assert kept(job, over, elsewhere) == elsewhere


def test_a_sink_beside_its_base_or_too_wide_for_it_is_told_and_mended() -> None:
    job = with_sink(two_rows(), sink(40.0))
    (off,) = [f for f in of_cabinets(job) if f.code == "sink-off-base"]
    remedy = remedies(job, off)[0]
    assert remedy.label == "Move sink to the middle of its base"
    mended = applied_all(job, (remedy.edit, *remedy.also))
    assert where(mended) == (55.0, 14.0)
    assert [f for f in of_cabinets(mended) if f.code == "sink-off-base"] == []
    wide = with_sink(two_rows(), sink(55.0, wide=34.0))
    (found,) = [f for f in of_cabinets(wide) if f.code == "sink-too-wide"]
    assert "34 in a base of 3' 0" in found.text
    assert remedies(wide, found) != ()
    # Without a sink base nothing is known of what is below.
    plain = with_sink(standing(island(), under(801)), sink(40.0))
    assert [f.code for f in of_cabinets(plain) if f.code.startswith("sink")] == []


def test_an_opening_over_a_dishwasher_of_its_own_row_is_told() -> None:
    job = two_rows()
    job = applied(job, edits.SetCabinet(replace(job.cabinets[0], use="dishwasher")))
    near = with_sink(job, replace(sink(40.0), use="cooktop"))
    (found,) = [f for f in findings(near) if f.code == OVER_DISHWASHER]
    assert "7 over the dishwasher" in found.text
    # What lies over the row behind it does not come near it.
    behind = with_sink(
        job, replace(sink(20.0, 35.0), use="other", shape=RectangleShape(20.0, 10.0, 2.0))
    )
    assert [f for f in findings(behind) if f.code == OVER_DISHWASHER] == []


def test_a_remedy_moves_it_off_its_base_toward_a_side() -> None:
    job = with_sink(two_rows())
    job = applied(job, edits.MoveOpening(SINK, OverMiddle(ISLE, "cabinet802", 15.5)))
    (found, *_) = [f for f in findings(job) if f.code == "narrow-bridge"]
    remedy = next(r for r in remedies(job, found) if "toward side 3" in r.label)
    assert isinstance(remedy.edit, edits.MoveOpening)
    assert isinstance(remedy.edit.at, InIsland)


def test_a_copied_island_has_its_sink_over_its_own_base() -> None:
    job = applied(
        with_sink(two_rows()), edits.MoveOpening(SINK, centers(with_sink(two_rows()), SINK)[0])
    )
    twice = applied_all(job, copied(job, Subject("island", ISLE)).edits)
    first, second = twice.openings
    assert isinstance(second.at, OverMiddle)
    assert second.at.of != "cabinet802"
    bases = {c.id: c.wall for c in twice.cabinets}
    assert bases[second.at.of] == second.at.leg != ISLE
    assert first.at == OverMiddle(ISLE, "cabinet802", 11.5)


def test_a_row_askew_in_a_free_shape_and_an_island_from_walls() -> None:
    sides = tuple(
        FreeSide(n, x, y)
        for n, (x, y) in enumerate(((0.0, 0.0), (60.0, 80.0), (20.0, 110.0), (-40.0, 30.0)), 1)
    )
    job = with_sink(standing(island(free=sides), under(801, along=20.0, use="sink-base")))
    over = centers(job, SINK)[0]
    assert isinstance(over, OverMiddle)
    at = applied(job, edits.MoveOpening(SINK, replace(over, back=12.0)))
    # Side 1 goes in the direction (0.6, 0.8): the middle is 38 along it, 13 1/2 within.
    assert where(at) == pytest.approx((38.0 * 0.6 - 13.5 * 0.8, 38.0 * 0.8 + 13.5 * 0.6))
    room = walls((0.0, -200.0), (0.0, 0.0), (200.0, 0.0))
    a, b = (wall.id for wall in room.room.walls)
    job = applied(room, edits.AddIsland(Island(ISLE, 96.0, 48.0, FromWalls(a, 40.0, b, 90.0))))
    job = with_sink(standing(job, under(801, use="sink-base")))
    job = applied(job, edits.MoveOpening(SINK, centers(job, SINK)[0]))
    assert where(job) == (19.0, 14.0)
    # Parting a wall leaves what hangs on islands alone.
    assert with_middles_settled(job, {a}) == job
    assert place_by(applied(job, edits.RemoveWall(b)), SINK) is not None


@pytest.mark.parametrize(("leg", "of"), [(ISLE, "cabinet9"), ("leg9", "cabinet801")])
def test_what_lies_over_nothing_is_refused(leg: str, of: str) -> None:
    job = standing(island(), under(801))
    wrong = replace(job, openings=(replace(sink(), at=OverMiddle(leg, of, 5.0)),))
    with pytest.raises(JobFileError, match="Opening 'sink' refers to"):
        decoded(encoded(wrong))


def test_over_an_island_that_cannot_be_made_nothing_has_a_place() -> None:
    job = applied(
        with_sink(two_rows()), edits.MoveOpening(SINK, OverMiddle(ISLE, "cabinet802", 11.5))
    )
    broken = replace(job, islands=(replace(job.islands[0], round_sides=("1", "2")),))
    assert place_by(broken, SINK) is None
    assert centers(broken, SINK) == ()
    own = replace(broken, openings=(sink(),))
    assert centers(own, SINK) == (InIsland(ISLE, 48.0, 14.0),)
