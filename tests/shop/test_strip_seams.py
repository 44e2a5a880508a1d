"""Seams of strips go along with those of their counter, and are told apart where they do not."""

import pytest
from msgspec.structs import replace

from geometry.alongside import Splash
from geometry.naming import EdgeRef
from geometry.picking import Subject
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.applying import applied
from shop.findings import Finding, findings
from shop.job import Job
from shop.remedies import remedies
from shop.strip_seams import carried, put_in_line
from tests.shop.kitchens import after, angle, corner_seam, island, seam, straight

STRIP = "splash300"


def splashed(along: float = 30.0, own: float = 30.0) -> Job:
    strip = Splash(STRIP, EdgeRef("leg201", "back"))
    return after(
        straight(),
        edits.AddAlongside(strip),
        edits.AddSeam(seam(along)),
        edits.AddSeam(Seam("seam501", STRIP, SeamOnLeg(STRIP, own))),
    )


def at(job: Job, seam_id: str) -> float:
    start = next(s.start for s in job.seams if s.id == seam_id)
    assert isinstance(start, SeamOnLeg)
    return start.along


def moved(job: Job, along: float) -> Job:
    return applied(job, edits.SetSeam(seam(along)))


def off(job: Job) -> Finding | None:
    return next((f for f in findings(job) if f.code == "seam-off-line"), None)


def test_a_strips_seam_in_line_goes_along_with_the_tops() -> None:
    job = moved(splashed(), 52.5)
    assert (at(job, "seam500"), at(job, "seam501")) == (52.5, 52.5)
    assert off(job) is None


def test_one_that_is_elsewhere_or_moved_by_itself_does_not() -> None:
    assert at(moved(splashed(own=80.0), 52.5), "seam501") == 80.0
    own = next(s for s in splashed().seams if s.id == "seam501")
    alone = applied(splashed(), edits.SetSeam(replace(own, start=SeamOnLeg(STRIP, 90.0))))
    assert (at(alone, "seam500"), at(alone, "seam501")) == (30.0, 90.0)
    right = replace(own, start=SeamOnLeg(STRIP, 30.0, "right"))
    other_hook = applied(splashed(), edits.SetSeam(right))
    assert at(moved(other_hook, 52.5), "seam501") == 30.0


def test_it_stays_on_its_strip() -> None:
    short = Splash(STRIP, EdgeRef("leg201", "back"), right=60.0)
    job = applied(splashed(), edits.SetAlongside(short))
    assert at(moved(job, 100.0), "seam501") == 30.0
    gone = replace(job, alongside=(replace(short, left=500.0),))
    assert carried(gone, seam(40.0)) == {}


def test_only_seams_along_the_same_leg_take_others_along() -> None:
    job = splashed()
    assert carried(job, seam(30.0)) == {}
    assert carried(job, replace(seam(40.0), start=SeamOnLeg("leg201", 40.0, "right"))) == {}
    assert carried(job, seam(40.0, number=999)) == {}
    bent = after(angle(), edits.AddSeam(corner_seam()))
    assert carried(bent, corner_seam()) == {}
    assert carried(island(), seam(40.0)) == {}


@pytest.mark.parametrize(
    ("own", "said", "beside"),
    [(30.375, "3/8", 36.0), (28.0, "2", 24.0)],
)
def test_one_nearly_in_line_is_told_and_put_right_in_one_press(
    own: float, said: str, beside: float
) -> None:
    job = splashed(own=own)
    found = off(job)
    assert found is not None
    assert found.title == "A seam of the backsplash is not in line with the top's"
    assert found.text.startswith(f"It lies {said} beside the top's.")
    assert found.about == (Subject("seam", "seam501"),)
    offers = {r.label: at(applied(job, r.edit), "seam501") for r in remedies(job, found)}
    assert offers == {
        "Put it in line": pytest.approx(30.0),
        "Put it 6 beside": pytest.approx(beside),
    }


def test_measured_from_the_right_it_is_put_right_as_well() -> None:
    job = splashed()
    own = next(s for s in job.seams if s.id == "seam501")
    right = replace(own, start=SeamOnLeg(STRIP, 120.0 - 32.0, "right"))
    job = applied(job, edits.SetSeam(right))
    found = off(job)
    assert found is not None
    offers = {r.label: at(applied(job, r.edit), "seam501") for r in remedies(job, found)}
    assert offers["Put it in line"] == pytest.approx(90.0)
    assert offers["Put it 6 beside"] == pytest.approx(84.0)
    assert list(put_in_line(job, replace(found, about=()))) == []


@pytest.mark.parametrize("own", [30.0, 30.02, 36.0, 24.0, 70.0])
def test_in_line_or_well_beside_nothing_is_told(own: float) -> None:
    assert off(splashed(own=own)) is None
