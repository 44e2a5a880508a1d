"""Openings and seams of backsplashes and ledges: where they lie, what they follow, what is cast."""

from math import ceil

import pytest
from msgspec.structs import replace

from geometry.alongside import Ledge, Splash, Step
from geometry.counters import Peninsula, RoundCorner, WallEnd
from geometry.insets import Inset, Rods
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import (
    AlongLeg,
    BesideOpening,
    Opening,
    OverMiddle,
    RectangleShape,
    extent,
)
from geometry.outline import area, bounding_box
from geometry.picking import Subject
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.aligning import lined_up
from shop.anchors import centers, held, held_words, kept, place_by
from shop.applying import applied
from shop.carrying import Carried, carried
from shop.clearances import behind
from shop.findings import findings
from shop.job import Cabinet, Corner, Job, Mark, Wall
from shop.jobfile import decoded, encoded
from shop.leg_lines import line_of
from shop.legs import peninsula
from shop.mirrored_runs import Way, run_on_wall
from shop.places import place_of
from shop.plan import (
    bridge_limits,
    layout,
    mold,
    piece,
    pieces,
    tops,
    tops_and_strips,
    weak_bridges,
)
from shop.references import sides_of, wall_behind
from shop.remedies import remedies
from shop.seam_proposals import seam_proposals
from shop.seam_words import seam_sentence
from shop.strip_places import new_strip
from shop.strip_seams import BESIDE_IN, seam_at, seams_by_the_top, seams_met
from shop.supports import under
from shop.top_corners import top_corners
from shop.words import behind_words, edge_words, front_words, hook_words
from tests.shop import kitchens
from tests.shop.kitchens import after

BACK = EdgeRef("leg201", "back")
SPLASH = "splash300"
BOX = RectangleShape(3.75, 2.25, 0.375)


def splashed(length: float = 120.0, **changes: object) -> Job:
    """One leg with a backsplash 4 in high along its back: pieces A and B."""
    strip = replace(Splash(SPLASH, BACK), **changes)
    return after(kitchens.straight(length), edits.AddAlongside(strip))


def outlet(along: float = 40.0, up: float = 2.0, number: int = 700) -> Opening:
    return Opening(f"opening{number}", "outlet", BOX, AlongLeg(SPLASH, along, up))


def seam(along: float, number: int = 800, strip: str = SPLASH) -> Seam:
    return Seam(f"seam{number}", strip, SeamOnLeg(strip, along))


def hole_of(job: Job, opening: str = "opening700") -> tuple[float, float]:
    found = [o for t in tops_and_strips(job) for o in t.openings if o.id == opening]
    return found[0].center


def test_an_outlet_is_cut_out_of_its_strip_with_a_knockout_and_less_weight() -> None:
    bare = splashed()
    job = after(bare, edits.AddOpening(outlet()))
    hole = 3.75 * 2.25 - (4.0 - 3.14159265) * 0.375**2
    lost = piece(bare, "B").weight_lb - piece(job, "B").weight_lb
    assert lost == pytest.approx(hole * 0.75 / 1728.0 * 150.0)
    assert piece(job, "A") == piece(bare, "A")
    (knockout,) = mold(job, "B").knockouts
    assert knockout.thickness_in == 0.75
    # The foam that is bought is as thick as the counter.
    assert knockout.fit == "Measured 2: plane it down by 1 1/4."
    thin = after(job, edits.SetMoldChoices(replace(job.molds, foam_thickness=0.75)))
    assert mold(thin, "B").knockouts[0].fit is None
    assert mold(job, "A").knockouts == ()
    # Face down it is mirrored: 40 in from the left corner is 40 in from the right end.
    x0, _, x1, _ = bounding_box(knockout.outline)
    assert (x0 + x1) / 2.0 == pytest.approx(-40.0)
    assert bounding_box(mold(job, "B").base)[2] == pytest.approx(0.0, abs=1.0)
    assert tops(job)[0].openings == ()


def test_a_seam_splits_a_strip_and_letters_and_molds_follow() -> None:
    job = after(splashed(), edits.AddOpening(outlet()), edits.AddSeam(seam(70.0)))
    assert [(p.name, p.top) for p in pieces(job)] == [
        ("A", "run200"),
        ("B", SPLASH),
        ("C", SPLASH),
    ]
    left, right = piece(job, "B"), piece(job, "C")
    gap = 0.0625
    assert area(left.face.outline) == pytest.approx(4.0 * (70.0 - gap / 2.0))
    assert area(right.face.outline) == pytest.approx(4.0 * (50.0 - gap / 2.0))
    assert len(mold(job, "B").knockouts) == 1
    assert mold(job, "C").knockouts == ()
    assert under(job, "seam800") is None
    assert "from the outlet" in seam_sentence(job, "seam800")
    assert decoded(encoded(job)) == job
    whole = after(job, edits.RemoveSeam("seam800"))
    assert [p.name for p in pieces(whole)] == ["A", "B"]
    gone = after(job, edits.RemoveAlongside(SPLASH))
    assert not gone.openings
    assert not gone.seams


def test_places_on_strips_are_told_as_on_the_wall() -> None:
    job = splashed()
    assert hook_words(job, SPLASH, "left") == "corner 1"
    assert hook_words(job, SPLASH, "right") == "corner 2"
    assert hook_words(job, SPLASH, "middle") == "the middle of the wall"
    assert (front_words(job, SPLASH), behind_words(job, SPLASH)) == ("bottom", "top")
    assert (front_words(job, "leg201"), behind_words(job, "leg201")) == ("front", "back")
    cut = after(job, edits.AddOpening(outlet()), edits.AddSeam(seam(70.0)))
    assert place_of(cut, Subject("opening", "opening700")) == hole_of(cut)
    assert place_of(cut, Subject("seam", "seam800")) is not None
    assert behind(cut, "opening700") is None


def test_strips_at_ends_are_measured_along_the_wall_across() -> None:
    room = kitchens.walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0), (150.0, -120.0))
    across = kitchens.run("wall102", left=WallEnd(0.25), right=WallEnd(0.25))
    job = after(room, edits.AddRun(across))
    for side, corner in (("start", "corner 2"), ("end", "corner 3")):
        strip = new_strip(job, EdgeRef("leg201", side), "splash")
        job = after(job, edits.AddAlongside(strip))
        hook = "right" if side == "start" else "left"
        assert hook_words(job, strip.id, hook) == corner  # type: ignore[arg-type]
        # The wall's near corner, from which the strip is some 25 in long.
        at = AlongLeg(strip.id, 12.0, 2.0, hook)  # type: ignore[arg-type]
        number = f"opening{710 + len(job.alongside)}"
        job = after(job, edits.AddOpening(Opening(number, f"outlet {side}", BOX, at)))
        assert abs(hole_of(job, number)[1] + 12.0) < 0.01
    assert not [f for f in findings(job) if f.blocking]
    # Squared off, no wall lies beside them: they are still measured from the back.
    square = after(job, edits.SetRunEnd("run200", "left", kitchens.LEFT))
    squared = after(square, edits.SetRunEnd("run200", "right", kitchens.RIGHT))
    first, last = squared.alongside
    assert line_of(squared, first.id).right == line_of(squared, "leg201").left
    assert line_of(squared, last.id).left == line_of(squared, "leg201").right
    assert hook_words(squared, first.id, "right") == "the wall"
    assert hook_words(squared, first.id, "left") == "the room"
    assert hook_words(squared, last.id, "left") == "the wall"


def test_a_ledge_on_a_peninsula_takes_a_seam_and_a_rounded_corner() -> None:
    job = kitchens.straight(160.0)
    arm, free = peninsula(job, "wall101", Peninsula("right", 110.0, overhang=0.0))
    job = after(job, edits.ExtendRun("run200", "right", arm, free))
    ledge = Ledge("ledge300", EdgeRef(arm.id, "far"))
    job = after(job, edits.AddAlongside(ledge), edits.AddSeam(seam(30.0, strip="ledge300")))
    assert [p.top for p in pieces(job)] == ["run200", "ledge300", "ledge300"]
    assert hook_words(job, "ledge300", "left") == hook_words(job, arm.id, "left")
    assert (front_words(job, "ledge300"), behind_words(job, "ledge300")) == (
        "inner side",
        "outer side",
    )
    corner = corner_ref(EdgeRef("ledge300", "outer"), EdgeRef("ledge300", "end"))
    assert any(found.ref == corner for found in top_corners(job))
    before = sum(p.area_sq_in for p in pieces(job))
    job = after(job, edits.ShapeCorner(corner, RoundCorner(corner, 2.0)))
    assert before - sum(p.area_sq_in for p in pieces(job)) == pytest.approx(0.8584, abs=1e-3)
    too_large = after(job, edits.ShapeCorner(corner, RoundCorner(corner, 50.0)))
    assert len(pieces(too_large)) == 3
    assert any(f.code == "corner-too-large" for f in findings(too_large))


def test_an_outlet_stays_over_the_sink_a_mark_or_a_cabinet() -> None:
    job = after(
        splashed(),
        edits.AddOpening(kitchens.sink(along=60.0)),
        edits.AddMark(Mark("mark600", "outlet by the window", 30.0, 0.0, "outlet")),
        edits.AddMark(Mark("mark601", "far outlet", 30.0, -90.0, "outlet")),
        edits.AddCabinet(Cabinet("cabinet900", "wall101", "base", 0.0, 24.0)),
        edits.AddOpening(outlet(61.0)),
    )
    offered = centers(job, "opening700")
    assert [held_words(job, at) for at in offered] == [
        "the sink",
        "outlet by the window",
        "the 24 base",
    ]
    over = OverMiddle(SPLASH, "opening400", 2.0)
    assert offered[0] == over
    job = after(job, edits.MoveOpening("opening700", over))
    assert hole_of(job)[0] == pytest.approx(60.0)
    moved = after(job, edits.MoveOpening("opening400", AlongLeg("leg201", 50.0, 13.0)))
    assert hole_of(moved)[0] == pytest.approx(50.0)
    on_cabinet = OverMiddle("leg201", "cabinet900", 13.0, 40.0)
    again = after(moved, edits.MoveOpening("opening400", on_cabinet))
    assert hole_of(again)[0] == pytest.approx(52.0)
    assert decoded(encoded(again)) == again
    # What it lies over goes: it stays.
    left = after(again, edits.RemoveOpening("opening400"))
    assert left.openings[0].at == AlongLeg(SPLASH, 52.0, 2.0)
    # Let go near the sink's middle it is held by it, and by nothing farther off.
    assert held(job, "other", AlongLeg(SPLASH, 60.01, 1.5)) == replace(over, back=1.5)
    assert held(job, "other", AlongLeg(SPLASH, 63.0, 1.5)) == AlongLeg(SPLASH, 63.0, 1.5)
    assert kept(job, over, AlongLeg(SPLASH, 60.0, 3.0)) == replace(over, back=3.0)


def test_an_opening_is_over_another_only_from_a_strip_to_its_counter() -> None:
    job = after(splashed(), edits.AddOpening(kitchens.sink()), edits.AddOpening(outlet()))
    of_self = OverMiddle(SPLASH, "opening700", 2.0)
    assert applied(job, edits.MoveOpening("opening700", of_self)) is job
    on_counter = OverMiddle("leg201", "opening700", 2.0)
    assert applied(job, edits.MoveOpening("opening400", on_counter)) is job
    beside = BesideOpening("opening700", 6.0, 0.0)
    by_it = after(job, edits.AddOpening(replace(outlet(number=701), name="second", at=beside)))
    assert hole_of(by_it, "opening701")[0] == pytest.approx(46.0)
    assert place_by(by_it, "opening701") == AlongLeg(SPLASH, 46.0, 2.0 + 1.125)


def test_bridges_above_and_below_an_outlet_have_the_limit_of_small_holes() -> None:
    job = after(splashed(), edits.AddOpening(outlet()))
    assert "opening700" in bridge_limits(job).small
    # 7/8 in is left above it and below it.
    assert [round(b.width, 3) for b in weak_bridges(job, piece(job, "B"))] == [0.875, 0.875]
    free = after(job, edits.SetLimits(replace(job.limits, hole_bridge=0.5)))
    assert weak_bridges(free, piece(free, "B")) == ()
    # One that lies a little high is moved down, where there is room.
    high = after(free, edits.MoveOpening("opening700", AlongLeg(SPLASH, 40.0, 2.6)))
    found = next(f for f in findings(high) if f.code == "narrow-bridge")
    labels = [remedy.label for remedy in remedies(high, found)]
    assert any("down" in label and "below" in label for label in labels)


def test_seams_of_the_counter_are_met_in_line_or_beside() -> None:
    job = after(
        splashed(left=0.75),
        edits.AddSeam(kitchens.seam(50.0)),
        edits.AddSeam(kitchens.seam(1.5, 501)),
    )
    assert list(seams_met(job, SPLASH)) == pytest.approx([49.25])
    (in_line,) = seams_by_the_top(job, SPLASH, "in-line")
    assert in_line.start == seam_at(job, SPLASH, 49.25)
    split = after(job, edits.AddSeam(in_line))
    xs = sorted(
        x for p in pieces(split) if p.top == SPLASH for x, _ in p.face.base_outline.vertices
    )
    assert xs[3] == pytest.approx(50.0 - 0.03125)
    (beside,) = seams_by_the_top(job, SPLASH, "beside")
    assert isinstance(beside.start, SeamOnLeg)
    # On the longer part, unless an outlet lies nearer there.
    assert beside.start.along == pytest.approx(50.0 + BESIDE_IN)
    cut = after(job, edits.AddOpening(outlet(58.0)))
    (other,) = seams_by_the_top(cut, SPLASH, "beside")
    assert isinstance(other.start, SeamOnLeg)
    assert other.start.along == pytest.approx(50.0 - BESIDE_IN)
    assert not seams_met(job, "splash999")
    assert not seams_by_the_top(job, "splash999", "beside")
    lost = after(job, edits.MoveCorner("corner2", 0.0, 0.0))
    assert seams_met(lost, SPLASH) == ()


def test_suggested_seams_of_a_strip_keep_its_own_weight_and_like_the_tops_seams() -> None:
    job = after(splashed(190.0), edits.AddSeam(kitchens.seam(100.0)))
    found = seam_proposals(job, SPLASH)
    best = found.best[0]
    assert len(best.seams) == 1
    start = best.seams[0].start
    assert isinstance(start, SeamOnLeg)
    assert "in line with the top's" in " ".join(p.words for p in found.best)
    split = after(job, edits.AddSeam(best.seams[0]))
    heaviest = max(p.weight_lb for p in pieces(split) if p.top == SPLASH)
    # The words tell what the strip's own thickness weighs, before the gaps.
    assert f"heaviest piece {ceil(heaviest)} lb" in best.words


def test_a_step_down_adds_sides_and_takes_them_along() -> None:
    job = splashed(step_left=Step(20.0, 2.0), height=6.0)
    assert {"leftstep", "lefttop"} <= sides_of(job)[SPLASH]
    assert edge_words(job, EdgeRef(SPLASH, "lefttop")) == "low top at the left"
    inside = corner_ref(EdgeRef(SPLASH, "leftstep"), EdgeRef(SPLASH, "lefttop"))
    assert any(f.code == "sharp-inside-corner" for f in findings(job))
    assert not any(f.code in ("narrow-bridge", "free-leg") for f in findings(job))
    eased = after(job, edits.ShapeCorner(inside, RoundCorner(inside, 0.5)))
    assert not any(f.code == "sharp-inside-corner" for f in findings(eased))
    assert mold(eased, "B").strips
    flat = after(eased, edits.SetAlongside(replace(eased.alongside[0], step_left=None)))
    assert flat.corner_shapes == ()


def test_what_hangs_on_strips_is_copied_with_its_run_and_mirrored() -> None:
    room = after(
        kitchens.walls((0.0, 0.0), (150.0, 0.0)),
        edits.AddWalls(
            (Corner("corner8", 8, 150.0, -120.0), Corner("corner9", 9, 0.0, -120.0)),
            (Wall("wall108", "corner8", "corner9"),),
        ),
    )
    strip = Splash(SPLASH, BACK, left=2.0, step_left=Step(10.0, 2.0))
    job = after(
        room,
        edits.AddRun(kitchens.run("wall101")),
        edits.AddOpening(kitchens.sink(along=40.0)),
        edits.AddAlongside(strip),
        edits.AddOpening(outlet()),
        edits.AddSeam(seam(70.0)),
        edits.FinishEdge(EdgeRef(SPLASH, "lefttop"), "square"),
    )
    over = OverMiddle(SPLASH, "opening400", 2.0)
    job = after(job, edits.MoveOpening("opening700", over))
    for mirrored in (False, True):
        made = after(job, *run_on_wall(job, "leg201", "wall108", Way(mirrored=mirrored)))
        (copy,) = (s for s in made.alongside if s.id != SPLASH)
        assert isinstance(copy, Splash)
        assert (copy.step_right if mirrored else copy.step_left) == Step(10.0, 2.0)
        assert (copy.right if mirrored else copy.left) == 2.0
        cut = next(o for o in made.openings if o.name == "outlet 2")
        assert isinstance(cut.at, OverMiddle)
        assert cut.at.leg == copy.id
        own = next(s for s in made.seams if s.top == copy.id).start
        assert isinstance(own, SeamOnLeg)
        assert (own.hook, own.along) == ("right" if mirrored else "left", 70.0)
        side = "righttop" if mirrored else "lefttop"
        assert any(c.edge == EdgeRef(copy.id, side) for c in made.edge_choices)
        weights = [p.weight_lb for p in pieces(made) if p.top in (SPLASH, copy.id)]
        assert sorted(weights[:2]) == pytest.approx(sorted(weights[2:]), rel=1e-6)
    assert carried(job, Carried({}, mirrored=False, ahead=0), ()) == ()


@pytest.mark.parametrize("right", [True, False])
def test_what_lies_on_strips_stays_when_a_wall_is_split_and_joined(right: bool) -> None:
    ends = ((0.0, 0.0), (120.0, 0.0))
    room = kitchens.walls(*(ends if right else reversed(ends)), right=right)
    job = after(
        room,
        edits.AddRun(kitchens.run("wall101")),
        edits.AddAlongside(Splash(SPLASH, BACK)),
        edits.AddOpening(outlet()),
        edits.AddSeam(seam(70.0)),
    )
    before = hole_of(job)
    split = after(job, edits.SplitWall("wall101", Corner("corner7", 7, 90.0, 0.0), "wall700"))
    assert hole_of(split) == pytest.approx(before)
    joined = after(split, edits.RemoveCorner("corner7"))
    assert hole_of(joined) == pytest.approx(before)
    assert [p.area_sq_in for p in pieces(joined)] == pytest.approx(
        [p.area_sq_in for p in pieces(job)]
    )


def test_what_lies_on_a_strip_stays_when_another_wall_is_split() -> None:
    strip = Splash(SPLASH, EdgeRef("leg202", "back"))
    job = after(kitchens.angle(), edits.AddAlongside(strip), edits.AddOpening(outlet()))
    split = after(job, edits.SplitWall("wall101", Corner("corner7", 7, 0.0, -60.0), "wall700"))
    assert split.openings == job.openings


def test_an_opening_outside_its_strip_is_said_and_its_strip_is_not_built() -> None:
    job = after(splashed(), edits.AddOpening(outlet(up=3.5)))
    (found,) = [f for f in findings(job) if f.code == "opening-outside"]
    assert found.blocking
    assert len(layout(job).strips) == 1
    assert extent(BOX) == (-1.875, -1.125, 1.875, 1.125)


def test_a_strip_beside_an_island_takes_no_seams_and_no_openings() -> None:
    job = after(kitchens.island(), edits.AddAlongside(Splash(SPLASH, EdgeRef("island300", "3"))))
    assert [p.top for p in pieces(job)] == ["island300", SPLASH]
    assert wall_behind(job, job.alongside[0]) is None
    assert not seams_met(job, SPLASH)
    assert applied(job, edits.AddOpening(outlet())) is job
    assert applied(job, edits.AddSeam(seam(20.0))) is job


def test_what_lies_over_a_cabinet_that_is_nowhere_is_not_offered() -> None:
    nowhere = edits.AddWalls(
        (Corner("corner8", 8, 0.0, -90.0), Corner("corner9", 9, 0.0, -90.0)),
        (Wall("wall108", "corner8", "corner9"),),
    )
    job = after(
        splashed(),
        nowhere,
        edits.AddCabinet(Cabinet("cabinet900", "wall108", "base", 0.0, 24.0)),
        edits.AddOpening(kitchens.sink()),
        edits.MoveOpening("opening400", OverMiddle("leg201", "cabinet900", 13.0)),
        edits.AddOpening(outlet()),
    )
    assert OverMiddle(SPLASH, "opening400", 2.0) not in centers(job, "opening700")


def test_a_groove_does_not_go_into_a_strip() -> None:
    grooved = Inset("inset800", "trivet rods", Rods(), AlongLeg(SPLASH, 40.0, 2.0))
    job = splashed()
    assert applied(job, edits.AddInset(grooved)) is job


def test_a_row_of_outlets_is_lined_up_along_a_strip() -> None:
    job = after(
        splashed(),
        edits.AddOpening(outlet(30.0)),
        edits.AddOpening(replace(outlet(60.0, 1.5, 701), name="second")),
    )
    made = after(job, *lined_up(job, ("opening700", "opening701")))
    assert hole_of(made)[1] == pytest.approx(hole_of(made, "opening701")[1])


def test_bridges_of_a_ledge_are_told_by_its_sides_those_of_a_backsplash_by_up_and_down() -> None:
    ledge = Ledge("ledge300", BACK)
    at = AlongLeg("ledge300", 40.0, 12.0 - 2.0)
    job = after(
        kitchens.straight(),
        edits.AddAlongside(ledge),
        edits.AddOpening(Opening("opening700", "outlet", BOX, at)),
    )
    titles = {f.title for f in findings(job) if f.code == "narrow-bridge"}
    assert titles == {"Bridge between the outlet and the outer side"}
    cut = after(splashed(), edits.AddOpening(outlet()))
    titles = {f.title for f in findings(cut) if f.code == "narrow-bridge"}
    assert titles == {"Bridge above the outlet", "Bridge below the outlet"}
