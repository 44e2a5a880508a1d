"""What may make a finding about a leg's depth or overhang go: edits in words, still to be tried."""

from collections.abc import Iterator
from typing import Literal

from msgspec.structs import replace

from geometry.counters import SquareEnd
from geometry.lengths import written
from geometry.naming import EdgeRef
from shop import edits
from shop.far_sides import FREE, STANDS_OUT
from shop.finding import Finding
from shop.job import Defaults, Job
from shop.references import legs_of
from shop.words import length_style

ODD_DEPTH = "odd-depth"

OF_LEGS = frozenset({ODD_DEPTH, STANDS_OUT, FREE})
"""The codes of findings about a leg's depth and overhang."""


def leg_mends(job: Job, finding: Finding) -> Iterator[tuple[str, edits.Edit]]:
    """Yield the usual depth or overhang, or the farthest that needs no brackets."""
    leg, edge = legs_of(job).get(finding.about[0].id), finding.about[0].edge
    if leg is None or not isinstance(edge, EdgeRef):
        return
    style, most = length_style(job), job.limits.cantilever
    if finding.code == ODD_DEPTH:
        usual = max(job.defaults.depth, Defaults().depth)
        deep = replace(leg, depth_left=usual, depth_right=usual)
        yield f"Use a depth of {written(usual, style)}", edits.SetLeg(deep)
    elif finding.code == STANDS_OUT and edge.side == "front":
        usual = job.defaults.overhang - min(leg.rise, 0.0)
        over = replace(leg, overhang=usual)
        yield f"Use an overhang of {written(usual, style)}", edits.SetLeg(over)
    elif finding.code == FREE and edge.side == "front":
        farthest = most - max(leg.rise, 0.0)
        over = replace(leg, overhang=farthest)
        yield f"Use an overhang of {written(farthest, style)}", edits.SetLeg(over)
    elif finding.code == FREE and edge.side in ("start", "end"):
        run = next(run for run in job.runs if leg in run.legs)
        side: Literal["left", "right"] = "left" if edge.side == "start" else "right"
        end = run.left if side == "left" else run.right
        assert isinstance(end, SquareEnd)  # no other one hangs over
        less = edits.SetRunEnd(run.id, side, replace(end, overhang=most))
        yield f"Use an overhang of {written(most, style)}", less
    elif finding.code == FREE and leg.peninsula is not None:
        over = replace(leg, peninsula=replace(leg.peninsula, overhang=most))
        yield f"Use an overhang of {written(most, style)}", edits.SetLeg(over)
