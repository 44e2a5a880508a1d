"""What cannot be cut from the stock list, as findings."""

from msgspec.structs import replace

from app.telling import stage_of
from shop import edits
from shop.finding import Finding
from shop.findings import findings, without_steel
from shop.job import Job, MoldChoices
from shop.stock_findings import ABOUT_STOCK, of_stock
from shop.stock_list import FoamSheets, SheetGoods, Stock
from tests.shop.kitchens import after, seam, sink, straight


def of(job: Job) -> list[Finding]:
    found = list(of_stock(job))
    assert all(finding.code in ABOUT_STOCK for finding in found)
    assert [f for f in findings(job) if f.code in ABOUT_STOCK] == sorted(
        found, key=lambda f: not f.blocking
    )
    assert not [f for f in without_steel(job) if f.code in ABOUT_STOCK]
    return found


def test_a_base_larger_than_a_sheet_is_cut_in_panels() -> None:
    assert of(straight()) == []


def test_parts_of_one_kind_are_told_together() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)), edits.AddOpening(sink()))
    small = after(job, edits.SetStock(Stock(foam=FoamSheets(length=8.0, width=8.0))))
    (found,) = of(small)
    first, second = found.title.partition(": ")[2].split(" and ")
    assert found.text.startswith(f"'{first}' fits on no sheet")
    assert found.text.endswith(f"So it is with {second}.")


def test_a_knockout_or_strip_that_no_sheet_holds_is_blocking() -> None:
    job = after(straight(84.0), edits.AddOpening(sink(along=42.0)))
    foam = after(job, edits.SetStock(Stock(foam=FoamSheets(length=20.0, width=20.0))))
    (found,) = of(foam)
    assert found.blocking
    assert "'A sink'" in found.text
    assert found.about == ()
    assert found.at is not None
    long = after(job, edits.SetMoldChoices(MoldChoices(strip_stock=200.0)))
    narrow = after(long, edits.SetStock(Stock(board=SheetGoods(length=85.0, width=30.0))))
    (found,) = of(narrow)
    assert found.blocking
    assert found.code == "too-long"
    assert found.text.startswith("'A1' is longer or wider than a new sheet")


def test_a_kerf_larger_than_a_part_is_told() -> None:
    job = after(straight(84.0), edits.SetSlab(0.5, 150.0))
    thin = replace(job, molds=MoldChoices(construction="sides-on-base"), stock=Stock(kerf=0.75))
    found = [f for f in of_stock(thin) if f.code == "kerf-larger"]
    assert len(found) == 1
    assert "The kerf is larger than 'A1'" in found[0].text


def test_a_job_whose_parts_all_fit_has_no_such_finding() -> None:
    assert of(after(straight(84.0), edits.AddOpening(sink(along=42.0)))) == []


def test_they_belong_to_the_sheets() -> None:
    job = after(straight(84.0), edits.AddOpening(sink(along=42.0)))
    small = after(job, edits.SetStock(Stock(foam=FoamSheets(length=8.0, width=8.0))))
    assert {stage_of(found) for found in of(small)} == {"Sheets"}
