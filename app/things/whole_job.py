"""The whole job, described: its name and what is set for all of it."""

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import FARTHEST_IN, NARROWEST_IN, Described, asked_length
from app.things.molds import asked_molds
from app.things.reinforcement import asked_reinforcement
from shop import edits
from shop.job import Job
from shop.measures import KG_PER_CU_M_PER_PCF, KG_PER_LB

FINEST_IN, COARSEST_IN, FINEST_DEG = 0.001, 12.0, 0.001
"""What a job's file holds of how well tools read."""


def whole_job(job: Job) -> Described:
    """Return what is set for the whole job."""
    slab = edits.SetSlab(job.thickness, job.density_pcf)
    preset, limits, molds, board = job.defaults, job.limits, job.molds, job.stock.board
    questions = (
        Question("name", "Name", "words", job.name, lambda a: (edits.SetJobName(str(a)),)),
        asked_length(
            "thickness",
            "Slab thickness",
            job.thickness,
            lambda v: (replace(slab, thickness=v),),
            least=0.5,
            most=12.0,
        ),
        _density(job, slab),
        asked_length(
            "base",
            "Base board, as measured",
            molds.base_thickness,
            lambda v: (edits.SetMoldChoices(replace(molds, base_thickness=v)),),
            least=0.125,
            most=4.0,
        ),
        asked_length(
            "sidewall",
            "Sidewall board, as measured",
            molds.sidewall_thickness,
            lambda v: (edits.SetMoldChoices(replace(molds, sidewall_thickness=v)),),
            least=0.125,
            most=4.0,
        ),
        *asked_molds(job),
        asked_length(
            "depth",
            "Cabinet depth to start with",
            preset.depth,
            lambda v: (edits.SetDefaults(replace(preset, depth=v)),),
            least=NARROWEST_IN,
        ),
        asked_length(
            "overhang",
            "Overhang to start with",
            preset.overhang,
            lambda v: (edits.SetDefaults(replace(preset, overhang=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "inset-margin",
            "Concrete beside what is set in",
            limits.inset_margin,
            lambda v: (edits.SetLimits(replace(limits, inset_margin=v)),),
            least=0.0,
        ),
        asked_length(
            "inset-under",
            "Concrete under what is set in",
            limits.inset_under,
            lambda v: (edits.SetLimits(replace(limits, inset_under=v)),),
            least=0.0,
        ),
        asked_length(
            "bridge",
            "Narrowest bridge",
            limits.bridge,
            lambda v: (edits.SetLimits(replace(limits, bridge=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "span",
            "Longest span over nothing",
            limits.span,
            lambda v: (edits.SetLimits(replace(limits, span=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "cantilever",
            "Longest overhang without brackets",
            limits.cantilever,
            lambda v: (edits.SetLimits(replace(limits, cantilever=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "sink-margin",
            "Sink base wider than its sink by",
            limits.sink_margin,
            lambda v: (edits.SetLimits(replace(limits, sink_margin=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "wall-gap",
            "Gap behind a straight back, at most",
            limits.wall_gap,
            lambda v: (edits.SetLimits(replace(limits, wall_gap=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "inside-radius",
            "Inside corners, smallest radius",
            limits.inside_radius,
            lambda v: (edits.SetLimits(replace(limits, inside_radius=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "handle-room",
            "Faucet's middle to the back, at least",
            limits.handle_room,
            lambda v: (edits.SetLimits(replace(limits, handle_room=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        asked_length(
            "dishwasher-room",
            "Opening to a dishwasher's side, at least",
            limits.dishwasher_room,
            lambda v: (edits.SetLimits(replace(limits, dishwasher_room=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
        _carry(job),
        asked_length(
            "piece-length",
            "Longest piece",
            limits.piece_length,
            lambda v: (edits.SetLimits(replace(limits, piece_length=v)),),
            least=NARROWEST_IN,
        ),
        asked_length(
            "sheet-length",
            "Sheet for bases, long",
            board.length,
            lambda v: (edits.SetStock(replace(job.stock, board=replace(board, length=v))),),
            least=NARROWEST_IN,
        ),
        asked_length(
            "sheet-width",
            "Sheet for bases, wide",
            board.width,
            lambda v: (edits.SetStock(replace(job.stock, board=replace(board, width=v))),),
            least=NARROWEST_IN,
        ),
        asked_length(
            "doorway",
            "Doorway, high: pieces go through on edge",
            limits.doorway,
            lambda v: (edits.SetLimits(replace(limits, doorway=v)),),
            least=NARROWEST_IN,
        ),
    )
    steel = asked_reinforcement(job)
    return Described("The whole job", (), (*questions, *steel, *_deviations(job)))


def _deviations(job: Job) -> tuple[Question, ...]:
    """Return the questions for how well a single take of each tool reads."""
    room = job.room
    now = edits.SetDeviations(room.tape_sd, room.laser_sd, room.angle_sd)
    return (
        asked_length(
            "tape-sd",
            "A tape reads to, ±",
            room.tape_sd,
            lambda v: (replace(now, tape_sd=v),),
            least=FINEST_IN,
            most=COARSEST_IN,
        ),
        asked_length(
            "laser-sd",
            "A laser reads to, ±",
            room.laser_sd,
            lambda v: (replace(now, laser_sd=v),),
            least=FINEST_IN,
            most=COARSEST_IN,
        ),
        asked_length(
            "slab-sd",
            "A slab comes out true to, ±",
            job.limits.slab_sd,
            lambda v: (edits.SetLimits(replace(job.limits, slab_sd=v)),),
            least=FINEST_IN,
            most=COARSEST_IN,
        ),
        Question(
            "angle-sd",
            "An angle finder reads to, ±",
            "angle",
            room.angle_sd,
            lambda a: (replace(now, angle_sd=float(a)),),
            least=FINEST_DEG,
            most=20.0,
        ),
    )


def _density(job: Job, slab: edits.SetSlab) -> Question:
    """Return the question for the concrete's density, in the job's own unit."""
    metric = job.display == "mm"
    scale = KG_PER_CU_M_PER_PCF if metric else 1.0
    return Question(
        "density",
        f"Concrete, {'kg/cu m' if metric else 'lb/cu ft'}",
        "number",
        round(job.density_pcf * scale) if metric else job.density_pcf,
        lambda a: (replace(slab, density_pcf=float(a) / scale),),
        least=20.0 * scale,
        most=400.0 * scale,
    )


def _carry(job: Job) -> Question:
    """Return the question for what one carry takes, in the job's own unit."""
    metric = job.display == "mm"
    scale = KG_PER_LB if metric else 1.0
    return Question(
        "carry",
        f"Weight a carry, {'kg' if metric else 'lb'}",
        "number",
        round(job.limits.carry_lb * scale) if metric else job.limits.carry_lb,
        lambda a: (edits.SetLimits(replace(job.limits, carry_lb=float(a) / scale)),),
        least=1.0,
        most=20000.0 * scale,
    )
