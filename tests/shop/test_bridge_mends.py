"""What is offered, and what is said, where no move leaves a bridge wide enough."""

from functools import reduce

import pytest
from msgspec.structs import replace

from geometry.alongside import Splash
from geometry.counters import ClippedCorner
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg, Opening, RectangleShape
from geometry.picking import Subject
from shop import edits, plan
from shop.applying import applied
from shop.bridge_mends import narrow, widths
from shop.findings import Finding, findings
from shop.job import Job
from shop.remedies import Remedy, remedies
from tests.export.jobs import sample
from tests.shop.kitchens import after, faucet, hole, island, seam, sink, straight


def bridges(job: Job) -> list[Finding]:
    return [found for found in findings(job) if found.code == "narrow-bridge"]


def offered(job: Job) -> dict[str, list[str]]:
    return {found.title: [r.label for r in remedies(job, found)] for found in bridges(job)}


def cooktop(back: float, depth: float = 20.0, along: float = 60.0) -> Opening:
    at = AlongLeg("leg201", along, back)
    return Opening("opening400", "cooktop", RectangleShape(30.0, depth, 1.0), at, "cooktop")


def done(job: Job, remedy: Remedy) -> Job:
    return reduce(applied, (remedy.edit, *remedy.also), job)


def test_an_opening_too_deep_is_evened_out_in_honest_words() -> None:
    # The top is 25 3/8 deep: 5 3/8 is left in all, and 6 is wanted.
    job = after(straight(), edits.AddOpening(cooktop(12.875)))
    behind = next(found for found in bridges(job) if "behind" in found.title)
    evened, deeper = remedies(job, behind)
    assert evened.label == (
        "Move cooktop forward 3/16: leaves 2 11/16 behind and 2 11/16 in front, both under 3"
    )
    assert sorted(widths(done(job, evened)).values()) == pytest.approx([2.6875, 2.6875])
    assert deeper.label == (
        "Deepen the top along wall 1 to 2 by 5/8: it hangs over that much more, cooktop"
        " back 1/8; leaves 3 behind and in front"
    )
    assert bridges(done(job, deeper)) == []


def test_the_wider_one_of_two_is_not_widened_at_the_cost_of_the_narrower() -> None:
    job = after(straight(), edits.AddOpening(cooktop(12.875)))
    before = next(found for found in bridges(job) if "in front" in found.title)
    assert [one.label.partition(" by")[0] for one in remedies(job, before)] == [
        "Deepen the top along wall 1 to 2"
    ]


def test_what_would_have_to_change_is_said_with_the_bridge() -> None:
    job = after(straight(), edits.AddOpening(cooktop(12.875)))
    said = {found.title: found.text for found in bridges(job)}
    for title in ("Bridge behind the cooktop", "Bridge in front of the cooktop"):
        assert said[title].endswith(
            "common practice is 3. Front and back together leave 5 3/8: to have 3 on each takes an"
            " opening 5/8 less deep, or a top deeper by that."
        )
    roomy = after(straight(), edits.AddOpening(sink(back=10.625)))
    (found,) = bridges(roomy)
    assert found.text.endswith("common practice is 3.")


def test_the_front_that_has_enough_gives_up_what_it_can_spare_and_no_more() -> None:
    job = after(straight(), edits.AddOpening(cooktop(13.0)))
    (behind,) = bridges(job)
    labels = [one.label for one in remedies(job, behind)]
    assert len(labels) == 1  # to move it forward would only shift what is lacking
    (deeper,) = remedies(job, behind)
    assert "leaves 3 behind and in front" in deeper.label
    assert deeper.also == ()
    assert bridges(done(job, deeper)) == []
    spare = after(straight(), edits.AddOpening(cooktop(13.1875)))
    (behind,) = bridges(spare)
    assert remedies(spare, behind)[0].label == (
        "Move cooktop forward 3/16: leaves 2 3/8 behind, still under 3"
    )


def test_a_top_is_not_deepened_where_that_brings_another_finding() -> None:
    job = sample("twelve-pieces")
    labels = [label for all_of in offered(job).values() for label in all_of]
    assert not any(label.startswith("Deepen") for label in labels)


def test_an_opening_too_large_for_an_island_is_said_by_its_two_sides() -> None:
    bowl = replace(hole(36.0, 18.0), shape=RectangleShape(20.0, 31.0, 2.0))
    job = after(island(), edits.AddOpening(bowl))
    texts = {found.text.partition(". ")[2] for found in bridges(job)}
    said = "Both sides together leave 5: to have 3 on each takes an opening 1 smaller that way"
    assert texts == {f"{said}, or a top larger by that."}
    assert all(labels == [] for labels in offered(job).values())


def test_on_an_island_the_nearer_side_is_evened_out() -> None:
    bowl = replace(hole(36.0, 17.3125), shape=RectangleShape(20.0, 30.75, 2.0))
    job = after(island(), edits.AddOpening(bowl))
    labels = [label for all_of in offered(job).values() for label in all_of]
    assert labels == ["Move bar sink toward side 3 5/16: leaves 2 1/4, still under 3"]


def test_between_two_openings_or_beside_a_seam_nothing_is_said_of_the_top() -> None:
    two = after(straight(), edits.AddOpening(sink()), edits.AddOpening(faucet(back=22.0)))
    (found,) = bridges(two)
    assert "together" not in found.text
    beside = after(straight(), edits.AddOpening(sink()), edits.AddSeam(seam(76.0)))
    assert all("together" not in found.text for found in bridges(beside))
    ends = replace(cooktop(13.0, 12.0), shape=RectangleShape(116.0, 12.0, 1.0))
    wide = after(straight(), edits.AddOpening(ends))
    assert any("smaller that way" in found.text for found in bridges(wide))


def test_of_a_strip_its_two_sides_are_meant() -> None:
    back = EdgeRef("leg201", "back")
    strip = Splash("splash600", back, height=6.0)
    outlet = Opening(
        "opening401", "outlet", RectangleShape(3.0, 4.5, 0.5), AlongLeg("splash600", 40.0, 3.0)
    )
    job = after(straight(), edits.AddAlongside(strip), edits.AddOpening(outlet))
    texts = [found.text for found in bridges(job)]
    assert texts
    assert all("or a strip larger by that" in text for text in texts)


def test_on_a_peninsula_the_front_is_not_brought_forward() -> None:
    job = sample("peninsula-and-ledge")
    leg = next(leg for run in job.runs for leg in run.legs if leg.peninsula is not None)
    wide = Opening(
        "opening400", "cooktop", RectangleShape(6.0, 21.0, 1.0), AlongLeg(leg.id, 44.0, 12.75)
    )
    narrow_there = after(job, edits.AddOpening(wide))
    labels = [label for all_of in offered(narrow_there).values() for label in all_of]
    assert bridges(narrow_there)
    assert not any(label.startswith("Deepen") for label in labels)


def test_a_bridge_that_is_gone_has_no_remedy() -> None:
    job = after(straight(), edits.AddOpening(cooktop(12.875)))
    behind = bridges(job)[0]
    assert narrow(job, replace(behind, at=(0.0, 0.0))) is None
    assert remedies(job, replace(behind, at=(0.0, 0.0))) == ()
    assert Subject("piece", plan.pieces(job)[0].name) in behind.about


def test_of_a_piece_that_is_cut_nothing_is_offered_and_its_opening_may_be_gone() -> None:
    job = after(straight(), edits.AddOpening(cooktop(12.875)), edits.MarkPiece("A", "cut"))
    gone = after(job, edits.RemoveOpening("opening400"))
    without_top = after(gone, edits.RemoveRun("run200"))
    for state in (job, gone, without_top):
        assert bridges(state)
        assert all("together" not in found.text for found in bridges(state))
        assert all(labels == [] for labels in offered(state).values())


def test_of_a_bridge_to_a_clipped_corner_nothing_is_said_of_the_top() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    clipped = edits.ShapeCorner(corner, ClippedCorner(corner, 12.0))
    job = after(straight(), edits.AddOpening(cooktop(12.75, 16.0, along=95.75)), clipped)
    (found,) = bridges(job)
    assert "corner" in found.title
    assert "together" not in found.text
