"""Backsplash strips and ledges: pieces of their own, with letters, weights and molds."""

import pytest
from msgspec.structs import replace

from export.booklet import booklet_pages
from export.facts import facts
from export.sound import left_out, sound_pieces
from export.stamp import Stamp
from geometry.alongside import Ledge, Splash
from geometry.counters import Peninsula, SquareEnd, WallEnd
from geometry.naming import EdgeRef
from geometry.outline import area
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.applying import applied
from shop.describing import described
from shop.findings import findings
from shop.job import Job, Mark, MoldChoices
from shop.jobfile import JobFileError, decoded, encoded
from shop.legs import peninsula
from shop.mold_choices import slab_thickness
from shop.plan import layout, mold, molds, names_of_edges, piece, pieces, thickness_of
from shop.reinforcement import reinforcement
from shop.strip_places import Kind, new_strip, strips_along, takes
from shop.words import edge_words, top_words
from tests.shop import kitchens
from tests.shop.kitchens import after

BACK, OTHER = EdgeRef("leg201", "back"), EdgeRef("leg202", "back")


def splashed() -> Job:
    """Two legs round a corner, each with its backsplash: pieces A, B and C."""
    job = kitchens.angle()
    for ref in (BACK, OTHER):
        job = after(job, edits.AddAlongside(new_strip(job, ref, "splash")))
    return job


def test_a_backsplash_is_a_piece_with_a_letter_a_weight_and_a_mold_of_its_thickness() -> None:
    job = splashed()
    assert [(p.name, top_words(job, p.top)) for p in pieces(job)] == [
        ("A", "the top along wall 1 to 2 and wall 2 to 3"),
        ("B", "backsplash 1"),
        ("C", "backsplash 2"),
    ]
    strip = piece(job, "B")
    # 4 x 119 7/8 x 3/4 in at 150 lb/cu ft.
    assert area(strip.face.outline) == pytest.approx(4.0 * 119.875)
    assert strip.weight_lb == pytest.approx(4.0 * 119.875 * 0.75 / 1728.0 * 150.0)
    assert thickness_of(job, strip.top) == slab_thickness(job, "B") == 0.75
    assert slab_thickness(job, "A") == 2.0
    assert mold(job, "B").strips[0].height_in < mold(job, "A").strips[0].height_in
    assert dict(names_of_edges(job, "B")) == {
        EdgeRef(strip.top, side): words
        for side, words in (
            ("bottom", "bottom"),
            ("end", "right end"),
            ("top", "top"),
            ("start", "left end"),
        )
    }
    assert reinforcement(job, "B").weight_lb == 0.0
    assert reinforcement(job, "A").weight_lb > 0.0
    assert len(layout(job).strips) == 2


@pytest.mark.parametrize("construction", ["sides-outside-base", "sides-on-base"])
def test_both_kinds_of_molds_take_strips(construction: str) -> None:
    choices = MoldChoices(construction=construction)  # type: ignore[arg-type]
    job = applied(splashed(), edits.SetMoldChoices(choices))
    assert len(molds(job)) == 3
    assert not any(n.blocking for form in molds(job) for n in form.warnings)


def test_in_an_inside_corner_the_later_backsplash_butts_against_the_earlier_one() -> None:
    job = splashed()
    first, second = job.alongside
    assert (first.left, first.right, second.left, second.right) == (0.0, 0.0, 0.75, 0.0)
    room = kitchens.walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0))
    ending = kitchens.run("wall102", left=WallEnd(0.25), right=SquareEnd(0.0, "right"))
    job = after(room, edits.AddRun(ending))
    start = EdgeRef("leg201", "start")
    assert takes(job, start, "splash")
    assert not takes(job, start, "ledge")
    assert not takes(job, EdgeRef("leg201", "end"), "splash")
    assert not takes(job, EdgeRef("leg999", "back"), "splash")
    job = after(job, edits.AddAlongside(new_strip(job, start, "splash")))
    assert new_strip(job, BACK, "splash").left == 0.75
    assert new_strip(job, EdgeRef("leg999", "back"), "splash").left == 0.0
    assert strips_along(job, start) == (job.alongside[0].id,)


def test_a_ledge_lies_along_the_far_side_of_a_peninsula() -> None:
    job = kitchens.straight(160.0)
    arm, free = peninsula(job, "wall101", Peninsula("right", 110.0, overhang=0.0))
    job = after(job, edits.ExtendRun("run200", "right", arm, free))
    far = EdgeRef(arm.id, "far")
    assert takes(job, far, "ledge")
    assert not takes(job, far, "splash")
    ledge = new_strip(job, far, "ledge")
    job = after(job, edits.AddAlongside(ledge))
    assert top_words(job, ledge.id) == "the ledge"
    assert edge_words(job, EdgeRef(ledge.id, "inner")) == "inner side"
    assert piece(job, "B").weight_lb == pytest.approx(12.0 * 60.875 * 1.5 / 1728.0 * 150.0)
    assert pieces(job)[1].top == ledge.id


def test_letters_stay_when_a_seam_comes_and_a_strip_goes() -> None:
    job = after(splashed(), edits.AddSeam(Seam("seam900", "run200", SeamOnLeg("leg202", 80.0))))
    assert [p.name for p in pieces(job)] == ["A", "B", "C", "D"]
    assert [p.name for p in pieces(job) if p.top.startswith("splash")] == ["B", "C"]
    gone = edits.RemoveAlongside(job.alongside[0].id)
    fewer = after(job, gone)
    assert [p.name for p in pieces(fewer)] == ["A", "C", "D"]
    assert described(job, gone, fewer) == "remove backsplash 1"


def test_strips_go_with_their_leg_and_their_stops_with_their_marks() -> None:
    job = after(splashed(), edits.AddMark(Mark("mark900", "window", -2.0, -40.0, "window")))
    stopped = replace(job.alongside[0], left_at="mark900", right_at="mark900")
    assert isinstance(stopped, Splash)
    both = after(job, edits.SetAlongside(stopped))
    assert described(job, edits.SetAlongside(stopped), both) == "change backsplash 1"
    left_only = after(both, edits.SetAlongside(replace(stopped, right_at=None)))
    right_only = after(both, edits.SetAlongside(replace(stopped, left_at=None)))
    for before in (both, left_only, right_only):
        free = after(before, edits.RemoveMark("mark900")).alongside[0]
        assert isinstance(free, Splash)
        assert (free.left_at, free.right_at) == (None, None)
    without = after(job, edits.RemoveLeg("leg202"))
    assert [p.edge for p in without.alongside] == [BACK]
    gone = edits.RemoveRun("run200")
    none = after(job, gone)
    assert none.alongside == ()
    assert "backsplash" in described(job, gone, none)


def test_strips_of_strips_and_of_openings_are_none() -> None:
    job = splashed()
    of_strip = Splash("splash950", EdgeRef(job.alongside[0].id, "top"))
    assert applied(job, edits.AddAlongside(of_strip)) is job
    cut = after(kitchens.straight(), edits.AddOpening(kitchens.sink()))
    of_hole = Ledge("ledge950", EdgeRef("opening400", "cut"))
    assert applied(cut, edits.AddAlongside(of_hole)) is cut


def test_a_strip_that_ends_before_it_begins_is_said_and_left_out() -> None:
    job = splashed()
    short = replace(job.alongside[1], left=100.0, right=100.0)
    broken = after(job, edits.SetAlongside(short))
    said = [f for f in findings(broken) if f.code == "no-length"]
    assert len(said) == 1
    assert said[0].blocking
    assert left_out(broken) == ("backsplash 2",)
    assert [p.name for p in sound_pieces(broken)] == ["A", "B"]
    # Without its counter there is no strip, and nothing more to say of it.
    lost = after(job, edits.MoveCorner("corner2", 0.0, -120.0))
    assert all(f.code != "no-edge" for f in findings(lost))


def test_a_frozen_strip_keeps_its_thickness_and_a_change_is_said() -> None:
    job = after(splashed(), edits.MarkPiece("B", "cut"))
    assert job.slabs[0].thickness == 0.75
    thicker = after(job, edits.SetAlongside(replace(job.alongside[0], thickness=1.0)))
    assert slab_thickness(thicker, "B") == 0.75
    assert any("1 thick instead of 3/4" in f.text for f in findings(thicker))


def test_strips_are_in_the_file_the_facts_and_the_booklet() -> None:
    job = splashed()
    assert decoded(encoded(job)) == job
    assert {p["name"] for p in facts(job)["pieces"]} == {"A", "B", "C"}
    stamp = Stamp("Job", 1, "2026-03-02", "", sample=False)
    pages = booklet_pages(job, stamp)
    assert len(pages) > len(booklet_pages(kitchens.angle(), stamp))
    torn = replace(job, alongside=(replace(job.alongside[0], edge=EdgeRef("leg999", "back")),))
    with pytest.raises(JobFileError, match="Strip 'splash"):
        decoded(encoded(torn))


@pytest.mark.parametrize("kind", ["splash", "ledge"])
def test_a_new_strip_has_an_id_of_its_kind(kind: Kind) -> None:
    assert new_strip(kitchens.straight(), BACK, kind).id.startswith(kind)
