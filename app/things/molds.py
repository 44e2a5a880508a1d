"""What is asked of how molds are built, for the whole job."""

from typing import Any

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import asked_choice, asked_length
from shop import edits
from shop.job import Job

SIDES = (("sides-outside-base", "outside the base"), ("sides-on-base", "on the base"))
"""How sidewalls stand, and what it is called."""


def asked_molds(job: Job) -> tuple[Question, ...]:
    """Return the questions for how molds are built."""
    molds = job.molds

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return (edits.SetMoldChoices(replace(molds, **changes)),)

    on_base = molds.construction == "sides-on-base"
    lip = asked_length(
        "lip",
        "Base beyond the sidewalls by",
        molds.lip,
        lambda v: with_(lip=v),
        least=0.0,
        most=24.0,
    )
    return (
        asked_choice(
            "construction",
            "Sidewalls of molds stand",
            molds.construction,
            SIDES,
            lambda v: with_(construction=v),
        ),
        *((lip,) if on_base else ()),
        asked_length(
            "bead-radius",
            "Radius of beads",
            molds.bead_radius,
            lambda v: with_(bead_radius=v),
            least=0.0,
            most=2.0,
        ),
        _optional(
            "foam",
            "Foam, as measured",
            molds.foam_thickness,
            lambda v: with_(foam_thickness=v),
            ghost="as the slab",
            most=12.0,
        ),
        asked_length(
            "bend",
            "A strip bends to a radius of",
            molds.bend_radius,
            lambda v: with_(bend_radius=v),
            positive=True,
        ),
        _optional(
            "bend-thickness",
            "Bending board, as measured",
            molds.bend_thickness,
            lambda v: with_(bend_thickness=v),
            ghost="as the sidewalls",
            most=4.0,
        ),
        _optional(
            "insert",
            "Corner inserts up to a radius of",
            molds.insert_radius,
            lambda v: with_(insert_radius=v),
            ghost="what no strip bends to",
        ),
        asked_length(
            "blocks",
            "Backing blocks, apart at most",
            molds.block_spacing,
            lambda v: with_(block_spacing=v),
            least=2.0,
            most=48.0,
        ),
        asked_length(
            "strip-stock",
            "Longest strip in one length",
            molds.strip_stock,
            lambda v: with_(strip_stock=v),
            least=12.0,
        ),
    )


def _optional(
    key: str, label: str, value: float | None, change: Any, *, ghost: str, most: float = 2000.0
) -> Question:
    """Return a question for a length that may be left empty."""
    return Question(
        key,
        label,
        "length",
        "" if value is None else value,
        lambda a: change(None if a == "" else a),
        most=most,
        positive=True,
        optional=True,
        ghost=ghost,
    )
