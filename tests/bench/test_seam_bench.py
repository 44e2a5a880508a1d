"""Seam layouts of every top of the 12-piece sample, its seams removed, in processor time."""

from time import process_time

from msgspec.structs import replace

from shop.jobfile import read_job
from shop.plan import tops
from shop.samples import sample_path
from shop.seam_layouts import MOST
from shop.seam_proposals import seam_proposals
from tests.bench.conftest import Tell

ROUNDS = 7
TARGET_S = 1.0


def test_layouts_of_the_twelve_piece_sample_take_less_than_a_second(tell: Tell) -> None:
    drawn = read_job(sample_path("twelve-pieces"))
    job = replace(drawn, seams=(), piece_names=())
    times = []
    for _ in range(ROUNDS):
        begun = process_time()
        found = {made.top.id: seam_proposals(job, made.top.id) for made in tops(job)}
        times.append(process_time() - begun)
    assert len(found["run14"].best) == MOST
    assert len(found["run14"].best[0].seams) == 15
    times.sort()
    tell(
        f"seam layouts of three tops, 15 seams in the longest: {times[ROUNDS // 2]:.2f} s of"
        f" processor time, at most {times[-1]:.2f} s; promised {TARGET_S:.0f} s"
    )
