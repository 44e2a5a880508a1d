"""Cut plans in words: what a plan comes to, a sheet with its steps, and how bars are cut."""

from itertools import takewhile

from geometry.lengths import LengthStyle, written
from shop.base_panels import BATTEN_IN
from shop.cut_plans import BarPlan, CutPlan, proof_words
from shop.cutting_steps import cutting_steps, sheet_name
from shop.job import Job
from shop.material_needs import BATTEN, SheetNeed, shares_board, strip_goods
from shop.stock.parts import StripLength
from shop.words import capital, listed


def heading(job: Job, cut: CutPlan, style: LengthStyle) -> tuple[str, str]:
    """Return what is cut from what, and how many sheets that takes."""
    stock, molds = job.stock, job.molds
    match cut.need.material:
        case "board":
            shared = shares_board(job)
            what = listed(_of_board(cut, shared=shared))
            goods = f"{stock.board.name}, {written(molds.base_thickness, style)} thick"
        case "strip board":
            what = "Sidewall strips"
            goods = f"{strip_goods(job).name}, {written(molds.sidewall_thickness, style)} thick"
        case "foam":
            thick = job.thickness if molds.foam_thickness is None else molds.foam_thickness
            goods = f"{stock.foam.name}, {written(thick / stock.foam.layers, style)} thick"
            what = of_foam(cut.need)
        case "mesh":
            what, goods = "Mesh", job.reinforcement.mesh
    return f"{what}: {goods}", f"{plan_words(cut)}{_rip_words(cut, style)}"


def of_foam(need: SheetNeed) -> str:
    """Return what is cut from foam: knockouts, and bevel strips of mitres."""
    kinds = (("knockouts", need.parts or not need.strips), ("bevel strips", need.strips))
    return capital(listed(word for word, there in kinds if there))


def _of_board(cut: CutPlan, *, shared: bool) -> list[str]:
    """Return what is cut from the board of the bases."""
    battens = any(map(_is_batten, cut.need.strips))
    rest = [*(["sidewall strips"] if shared else []), *(["battens"] if battens else [])]
    return ["Bases", *rest]


def _is_batten(strip: StripLength) -> bool:
    """Tell a batten from a sidewall by its name, since both may be as wide."""
    return BATTEN in strip.name


def _rip_words(cut: CutPlan, style: LengthStyle) -> str:
    """Return which widths strips are ripped to where there are several, and what for."""
    sides: dict[str, set[str]] = {}
    for strip in sorted(cut.need.strips, key=lambda strip: -strip.width_in):
        if not _is_batten(strip):
            mold = "".join(takewhile(str.isupper, strip.name))
            sides.setdefault(written(strip.width_in, style), set()).add(mold)
    if len(sides) == 1:
        said = [f"{width} for sidewalls" for width in sides]
    else:
        said = [f"{width} ({', '.join(sorted(molds))})" for width, molds in sides.items()]
    if any(map(_is_batten, cut.need.strips)):
        said.append(f"{written(BATTEN_IN, style)} for battens")
    return f" Rip to {listed(said)}." if len(said) > 1 else ""


def plan_words(cut: CutPlan) -> str:
    """Return how many sheets and offcuts a plan takes, and how good it is."""
    offcuts = len(cut.plan.used) - cut.plan.new
    taken = [_counted(cut.plan.new, "sheet")] if cut.plan.new else []
    if offcuts:
        taken.append(f"{_counted(offcuts, 'offcut')} of those in the shop")
    if not taken:
        return "Nothing of it can be cut."
    proof = proof_words(cut.plan, "sheet", through_cuts=cut.need.wishes.through_cuts)
    return f"{listed(taken)}. {proof}"


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def sheet_lines(cut: CutPlan, number: int, style: LengthStyle) -> tuple[str, tuple[str, ...]]:
    """Return a sheet's name with its size, and its steps."""
    used = cut.plan.used[number]
    board = cut.need.sheets.board(used.kind)
    size = f"{written(board.length_in, style)} x {written(board.width_in, style)}"
    steps = tuple(step.words for step in cutting_steps(cut, used, style))
    return f"{sheet_name(cut, number)}, {size}", steps


def bar_lines(bars: BarPlan, style: LengthStyle) -> tuple[str, str, tuple[str, ...]]:
    """Return a title, how many bars it takes, and what is cut from each."""
    need, plan = bars.need, bars.plan
    lines: list[str] = []
    new = 0
    for used in plan.used:
        new += used.kind == 0
        bar = need.bars.on_hand[used.kind - 1] if used.kind else need.bars.new
        name = f"Offcut {used.kind} in the shop" if used.kind else f"Bar {new}"
        cut = [need.lengths[n] for n in used.lengths]
        left = bar.length_in - sum(each.length_in + need.bars.kerf_in for each in cut)
        parts = ", ".join(f"{each.name} {written(each.length_in, style)}" for each in cut)
        rest = f"; {written(left, style)} is left" if left > 0.0 else ""
        lines.append(f"{name}, {written(bar.length_in, style)}: {parts}{rest}.")
    said = f"{_counted(plan.new, 'bar')}. {proof_words(plan, 'bar')}"
    return "Bars", said if lines else "Nothing of it can be cut.", tuple(lines)
