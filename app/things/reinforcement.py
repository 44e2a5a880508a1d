"""What is asked of mesh and bars, for the whole job."""

from typing import Any

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import LengthField, asked_choice, asked_fields
from shop import edits
from shop.job import Job
from shop.steel import MESHES

MESH = (
    LengthField("mesh-inset", "Mesh away from edges by", "mesh_inset", 0.0, 24.0),
    LengthField("mesh-height", "Mesh above the face, at least", "mesh_height", 0.0, 12.0),
    LengthField("mesh-length", "Sheet of mesh, long", "sheet_length", 36.0),
    LengthField("mesh-width", "Sheet of mesh, wide", "sheet_width", 36.0),
)
BARS = (
    LengthField("bar-length", "Bars as bought, long", "bar_length", 36.0),
    LengthField("cover", "Concrete around bars", "cover", 0.0, 6.0),
)


def asked_reinforcement(job: Job) -> tuple[Question, ...]:
    """Return the questions for mesh and bars."""
    steel = job.reinforcement

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return (edits.SetReinforcement(replace(steel, **changes)),)

    meshes = (("none", "no mesh"), *((style, style) for style in MESHES))
    bars = (("none", "no bars"), ("No. 3", "No. 3"))
    return (
        asked_choice("mesh", "Mesh", steel.mesh, meshes, lambda v: with_(mesh=v)),
        *asked_fields(steel, edits.SetReinforcement, *MESH),
        asked_choice("bars", "Bars", steel.bars, bars, lambda v: with_(bars=v)),
        *asked_fields(steel, edits.SetReinforcement, *BARS),
    )
