"""The whole job, described: its name and what is set for all of it."""

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import FARTHEST_IN, NARROWEST_IN, Described, LengthField, asked_fields
from app.things.molds import asked_molds
from app.things.reinforcement import asked_reinforcement
from shop import edits
from shop.job import Job
from shop.measures import KG_PER_CU_M_PER_PCF, KG_PER_LB

FINEST_IN, COARSEST_IN, FINEST_DEG = 0.001, 12.0, 0.001
"""What a job's file holds of how well tools read."""


SLAB = (LengthField("thickness", "Slab thickness", "thickness", 0.5, 12.0),)
BOARDS = (
    LengthField("base", "Base board, as measured", "base_thickness", 0.125, 4.0),
    LengthField("sidewall", "Sidewall board, as measured", "sidewall_thickness", 0.125, 4.0),
)
NEW_COUNTERS = (
    LengthField("depth", "Cabinet depth to start with", "depth", NARROWEST_IN),
    LengthField("overhang", "Overhang to start with", "overhang", 0.0, FARTHEST_IN),
)
LIMITS = (
    LengthField("inset-margin", "Concrete beside what is set in", "inset_margin"),
    LengthField("inset-under", "Concrete under what is set in", "inset_under"),
    LengthField("drain-fall", "Least fall of grooves and slopes, a foot", "drain_fall"),
    *(
        LengthField(field.replace("_", "-"), label, field, 0.0, FARTHEST_IN)
        for field, label in (
            ("bridge", "Narrowest bridge"),
            ("span", "Longest span over nothing"),
            ("cantilever", "Longest overhang without brackets"),
            ("sink_margin", "Sink base wider than its sink by"),
            ("wall_gap", "Gap behind a straight back, at most"),
            ("inside_radius", "Inside corners, smallest radius"),
            ("handle_room", "Faucet's middle to the back, at least"),
            ("dishwasher_room", "Opening to a dishwasher's side, at least"),
        )
    ),
)
PIECES = (LengthField("piece-length", "Longest piece", "piece_length", NARROWEST_IN),)
SHEET = (
    LengthField("sheet-length", "Sheet for bases, long", "length", NARROWEST_IN),
    LengthField("sheet-width", "Sheet for bases, wide", "width", NARROWEST_IN),
)
DOORWAY = (
    LengthField("doorway", "Doorway, high: pieces go through on edge", "doorway", NARROWEST_IN),
)
TAPES = (
    LengthField("tape-sd", "A tape reads to, ±", "tape_sd", FINEST_IN, COARSEST_IN),
    LengthField("laser-sd", "A laser reads to, ±", "laser_sd", FINEST_IN, COARSEST_IN),
)
SLABS = (LengthField("slab-sd", "A slab comes out true to, ±", "slab_sd", FINEST_IN, COARSEST_IN),)


def whole_job(job: Job) -> Described:
    """Return what is set for the whole job."""
    slab = edits.SetSlab(job.thickness, job.density_pcf)
    questions = (
        Question("name", "Name", "words", job.name, lambda a: (edits.SetJobName(str(a)),)),
        *asked_fields(slab, lambda edit: edit, *SLAB),
        _density(job, slab),
        *asked_fields(job.molds, edits.SetMoldChoices, *BOARDS),
        *asked_molds(job),
        *asked_fields(job.defaults, edits.SetDefaults, *NEW_COUNTERS),
        *asked_fields(job.limits, edits.SetLimits, *LIMITS),
        _carry(job),
        *asked_fields(job.limits, edits.SetLimits, *PIECES),
        *asked_fields(
            job.stock.board, lambda board: edits.SetStock(replace(job.stock, board=board)), *SHEET
        ),
        *asked_fields(job.limits, edits.SetLimits, *DOORWAY),
        *asked_reinforcement(job),
        *_deviations(job),
    )
    return Described("The whole job", (), questions)


def _deviations(job: Job) -> tuple[Question, ...]:
    """Return the questions for how well a single take of each tool reads."""
    room = job.room
    now = edits.SetDeviations(room.tape_sd, room.laser_sd, room.angle_sd)
    angle = Question(
        "angle-sd",
        "An angle finder reads to, ±",
        "angle",
        room.angle_sd,
        lambda a: (replace(now, angle_sd=float(a)),),
        least=FINEST_DEG,
        most=20.0,
    )
    return (
        *asked_fields(now, lambda edit: edit, *TAPES),
        *asked_fields(job.limits, edits.SetLimits, *SLABS),
        angle,
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
