from pathlib import Path

import pytest

from export.facts import facts
from shop import edits
from shop.job import Job
from tests.shop.cabinetry import row, wall_of
from tests.shop.kitchens import after, island, island_seam, run, seam


def kitchen() -> Job:
    job = row(wall_of(), ("base", 36.0), ("dishwasher", 24.0), ("range", 30.0))
    return after(job, edits.AddRun(run("wall101")), edits.AddSeam(seam(48.0)))


def test_facts_say_where_cabinets_stand_and_what_they_do_for_a_top() -> None:
    base, washer, stove = facts(kitchen())["cabinets"]
    assert base["box"] == [[0.0, -24.0], [36.0, -24.0], [36.0, 0.0], [0.0, 0.0]]
    assert (washer["use"], washer["along"], washer["width"]) == ("dishwasher", 36.0, 24.0)
    assert [c["carries"] for c in (base, washer, stove)] == [True, False, False]
    assert [c["takes_top"] for c in (base, washer, stove)] == [True, True, False]


def test_facts_say_what_lies_under_a_seam() -> None:
    (found,) = facts(kitchen())["seams"]
    assert found["seam"] == "seam500"
    below = {"words": "over the dishwasher: nothing under it", "holds": False}
    assert found["under_back"] == found["under_front"] == below
    assert facts(after(island(), edits.AddSeam(island_seam(30.0))))["seams"] == []


@pytest.mark.parametrize("key", ["cabinets", "seams"])
def test_every_key_is_documented(key: str) -> None:
    text = (Path(__file__).resolve().parents[2] / "docs" / "facts.md").read_text()
    assert not [name for name in facts(kitchen())[key][0] if f"`{name}" not in text]
