"""Cut plans of what molds need: made material by material, and how good they are in words."""

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import count

import msgspec
from msgspec.structs import replace

from shop.material_needs import BarNeed, Material, Needs, SheetNeed
from shop.stock.combined import combined_plan, sheet_errors
from shop.stock.lengths import length_errors, length_plan
from shop.stock.parts import GoOn, StockError, always
from shop.stock.plans import LengthPlan, SheetPlan

MOST_STEPS = 150
"""Where nobody can stop the search for a plan it takes so many steps, then the best so far counts.

They are not seconds, so that a job has the same plan whatever else the machine does.
"""


class CutPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """How one kind of sheet goods is cut; need holds only what can be, troubles say of the rest."""

    need: SheetNeed
    plan: SheetPlan
    troubles: tuple[str, ...]


class BarPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """How bars are cut; need holds only what can be, troubles say of the rest."""

    need: BarNeed
    plan: LengthPlan
    troubles: tuple[str, ...]


class CutPlans(msgspec.Struct, frozen=True, cache_hash=True):
    """The cut plans of all materials, in the order of their needs."""

    sheets: tuple[CutPlan, ...]
    bars: BarPlan | None

    def of(self, material: Material) -> CutPlan | None:
        """Return the plan of a material, if anything is cut from it."""
        return next((plan for plan in self.sheets if plan.need.material == material), None)


def unheard_plans(plans: CutPlans) -> None:
    """Take better plans and do nothing with them."""


def cut_plans(
    needed: Needs,
    *,
    go_on: GoOn = always,
    found: Callable[[CutPlans], None] = unheard_plans,
) -> CutPlans:
    """Return the plans of all materials, each with as few new sheets as could be found.

    go_on is asked again and again; when it says no, the best plans so far are returned. found is
    told what there is after every better plan, the materials that are still to come left out.
    """
    done: list[CutPlan] = []
    bars = None if needed.bars is None else _bar_plan(needed.bars, go_on)
    for need in needed.sheets:
        fit, troubles = _that_fits(need)

        def told(plan: SheetPlan, fit: SheetNeed = fit, said: Sequence[str] = troubles) -> None:
            found(CutPlans((*done, CutPlan(fit, plan, tuple(said))), bars))

        plan = combined_plan(fit.parts, fit.strips, fit.sheets, fit.wishes, go_on=go_on, found=told)
        done.append(CutPlan(fit, plan, tuple(troubles)))
        found(CutPlans(tuple(done), bars))
    return CutPlans(tuple(done), bars)


@lru_cache(maxsize=8)
def quick_cut_plans(needed: Needs) -> CutPlans:
    """Return the plans of all materials, each looked for in so many steps at most."""
    each = [cut_plans(Needs((need,), None), go_on=_counted()) for need in needed.sheets]
    bars = cut_plans(Needs((), needed.bars), go_on=_counted()).bars
    return CutPlans(tuple(plan for plans in each for plan in plans.sheets), bars)


def _counted() -> GoOn:
    """Return a search's leave to go on, for so many steps."""
    asked = count()
    return lambda: next(asked) < MOST_STEPS


def need_errors(needed: Needs) -> tuple[StockError, ...]:
    """Return why parts cannot be cut from the stock, one error a part."""
    bars = needed.bars
    return (
        *(error for need in needed.sheets for error in _errors(need)),
        *(() if bars is None else length_errors(bars.lengths, bars.bars)),
    )


@lru_cache(maxsize=64)
def _errors(need: SheetNeed) -> tuple[StockError, ...]:
    return sheet_errors(need.parts, need.strips, need.sheets, need.wishes)


def _that_fits(need: SheetNeed) -> tuple[SheetNeed, list[str]]:
    """Return a need without what cannot be cut, and why it cannot."""
    errors = _errors(need)
    out = {error.about for error in errors}
    fit = replace(
        need,
        parts=tuple(part for part in need.parts if part.name not in out),
        strips=tuple(strip for strip in need.strips if strip.name not in out),
    )
    return fit, [str(error) for error in errors]


def _bar_plan(need: BarNeed, go_on: GoOn) -> BarPlan:
    errors = length_errors(need.lengths, need.bars)
    out = {error.about for error in errors}
    fit = replace(need, lengths=tuple(each for each in need.lengths if each.name not in out))
    plan = length_plan(fit.lengths, fit.bars, go_on=go_on)
    return BarPlan(fit, plan, tuple(str(error) for error in errors))


# --- In words ---------------------------------------------------------------------------------


def proof_words(plan: SheetPlan | LengthPlan, one: str, *, through_cuts: bool = False) -> str:
    """Return how good a plan is; one is the word for a sheet or bar."""
    if not plan.new:
        return "All of it comes out of what is in the shop."
    if not plan.may_be_off:
        how = "With cuts right through, it" if through_cuts else "It"
        return f"{how} cannot be done with fewer."
    if plan.may_be_off == 1:
        return f"It may be off by at most one {one}."
    return f"It may be off by at most {plan.may_be_off} {one}s."
