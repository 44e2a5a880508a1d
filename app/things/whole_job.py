"""The whole job, described: its name and what is set for all of it."""

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import Described, asked_length
from shop import edits
from shop.job import (
    Job,
)


def whole_job(job: Job) -> Described:
    """Return what is set for the whole job."""
    slab = edits.SetSlab(job.thickness, job.density_pcf)
    preset, limits, molds = job.defaults, job.limits, job.molds
    questions = (
        Question("name", "Name", "words", job.name, lambda a: (edits.SetJobName(str(a)),)),
        asked_length(
            "thickness",
            "Slab thickness",
            job.thickness,
            lambda v: (replace(slab, thickness=v),),
            positive=True,
            most=12.0,
        ),
        Question(
            "density",
            "Concrete, lb/cu ft",
            "number",
            job.density_pcf,
            lambda a: (replace(slab, density_pcf=float(a)),),
            least=20.0,
            most=400.0,
        ),
        asked_length(
            "base",
            "Base board, as measured",
            molds.base_thickness,
            lambda v: (edits.SetMoldChoices(replace(molds, base_thickness=v)),),
            positive=True,
            most=4.0,
        ),
        asked_length(
            "sidewall",
            "Sidewall board, as measured",
            molds.sidewall_thickness,
            lambda v: (edits.SetMoldChoices(replace(molds, sidewall_thickness=v)),),
            positive=True,
            most=4.0,
        ),
        asked_length(
            "depth",
            "Cabinet depth to start with",
            preset.depth,
            lambda v: (edits.SetDefaults(replace(preset, depth=v)),),
            positive=True,
        ),
        asked_length(
            "overhang",
            "Overhang to start with",
            preset.overhang,
            lambda v: (edits.SetDefaults(replace(preset, overhang=v)),),
            least=0.0,
        ),
        asked_length(
            "bridge",
            "Narrowest bridge",
            limits.bridge,
            lambda v: (edits.SetLimits(replace(limits, bridge=v)),),
            least=0.0,
        ),
    )
    return Described("The whole job", (), questions)
