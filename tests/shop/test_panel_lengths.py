"""What a panel of a base is laid out by, straight across."""

from msgspec.structs import replace

from geometry.points import distance
from shop import plan
from shop.base_panels import base_panels
from shop.mold_corners import mold_corners
from shop.panel_lengths import joint_ends, panel_lengths
from shop.stock_list import SheetGoods, Stock
from tests.export.jobs import sample
from tests.shop.kitchens import straight
from tests.shop.test_base_findings import ell


def test_a_base_of_one_board_has_no_panels_to_lay_out() -> None:
    job = straight(90.0)
    mold = plan.mold(job, "A")
    assert tuple(panel_lengths(mold, base_panels(job, mold))) == ()


def test_sides_and_diagonals_of_panels_are_those_of_corners_and_joint_ends() -> None:
    job = ell()
    mold = plan.mold(job, "A")
    made = base_panels(job, mold)
    at = {end.name: end.at for end in joint_ends(made)}
    assert list(at) == ["1", "2"]
    at |= {corner.place: corner.at for corner in mold_corners(mold.frame)}
    found = tuple(panel_lengths(mold, made))
    assert [panel.name for panel in found] == [panel.name for panel in made.panels]
    for panel in found:
        for one in (*panel.sides, *panel.diagonals):
            assert abs(distance(at[one.a], at[one.b]) - one.length) < 1e-9
        # n - 3 diagonals fix it, and one more proves it.
        assert len(panel.diagonals) == max(len(panel.sides) - 2, 0)
    joint = {frozenset((one.a, one.b)) for panel in found for one in panel.sides}
    assert frozenset(("1", "2")) in joint


def test_an_end_that_two_joints_share_has_one_number() -> None:
    small = replace(ell(), stock=replace(Stock(), board=SheetGoods("board", 40.0, 30.0)))
    made = base_panels(small, plan.mold(small, "A"))
    ends = joint_ends(made)
    assert len(made.joints) > 1
    assert [end.name for end in ends] == [str(n) for n in range(1, len(ends) + 1)]
    for one in ends:
        assert sum(distance(one.at, other.at) < 1e-6 for other in ends) == 1


def test_a_panel_with_a_rounding_is_taped_to_its_middle() -> None:
    job = sample("corner-with-range")
    low = replace(job, stock=replace(job.stock, board=SheetGoods("board", 60.0, 30.0)))
    mold = plan.mold(low, "A")
    found = tuple(panel_lengths(mold, base_panels(low, mold)))
    assert any("arc a" in (side.a, side.b) for panel in found for side in panel.sides)
