"""What is asked of mesh and bars, for the whole job."""

from typing import Any

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import asked_choice, asked_length
from shop import edits
from shop.job import Job
from shop.steel import MESHES


def asked_reinforcement(job: Job) -> tuple[Question, ...]:
    """Return the questions for mesh and bars."""
    steel = job.reinforcement

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return (edits.SetReinforcement(replace(steel, **changes)),)

    meshes = (("none", "no mesh"), *((style, style) for style in MESHES))
    bars = (("none", "no bars"), ("No. 3", "No. 3"))
    return (
        asked_choice("mesh", "Mesh", steel.mesh, meshes, lambda v: with_(mesh=v)),
        asked_length(
            "mesh-inset",
            "Mesh away from edges by",
            steel.mesh_inset,
            lambda v: with_(mesh_inset=v),
            least=0.0,
            most=24.0,
        ),
        asked_length(
            "mesh-height",
            "Mesh above the face, at least",
            steel.mesh_height,
            lambda v: with_(mesh_height=v),
            least=0.0,
            most=12.0,
        ),
        asked_length(
            "mesh-length",
            "Sheet of mesh, long",
            steel.sheet_length,
            lambda v: with_(sheet_length=v),
            least=36.0,
        ),
        asked_length(
            "mesh-width",
            "Sheet of mesh, wide",
            steel.sheet_width,
            lambda v: with_(sheet_width=v),
            least=36.0,
        ),
        asked_choice("bars", "Bars", steel.bars, bars, lambda v: with_(bars=v)),
        asked_length(
            "bar-length",
            "Bars as bought, long",
            steel.bar_length,
            lambda v: with_(bar_length=v),
            least=36.0,
        ),
        asked_length(
            "cover",
            "Concrete around bars",
            steel.cover,
            lambda v: with_(cover=v),
            least=0.0,
            most=6.0,
        ),
    )
