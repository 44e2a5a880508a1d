"""The cut plans and the shopping list of what is built, as all files of a job show them."""

from export.sound import sound_pieces
from shop.cut_plans import CutPlans, quick_cut_plans
from shop.job import Job
from shop.material_needs import Needs, needs
from shop.shopping import ShoppingList, shopping_list


def needed(job: Job) -> Needs:
    """Return what the pieces that can be built need of each material."""
    return needs(job, _names(job))


def planned(job: Job) -> CutPlans:
    """Return the cut plans of the pieces that can be built."""
    return quick_cut_plans(needed(job))


def to_buy(job: Job, plans: CutPlans) -> ShoppingList:
    """Return what is to be bought for the pieces that can be built."""
    return shopping_list(job, _names(job), plans)


def _names(job: Job) -> tuple[str, ...]:
    return tuple(piece.name for piece in sound_pieces(job))
