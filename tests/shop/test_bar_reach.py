"""How far bars go past what they run beside, as a person at the mold reads it off with a tape."""

import re

import pytest
from msgspec.structs import replace

from geometry.flattening import ring
from geometry.lengths import parsed
from geometry.points import dot, minus, unit
from shop import plan
from shop.bar_lines import BarLine
from shop.bar_reach import reach_words
from shop.reinforcement import reinforcement
from shop.samples import sample_names
from tests.export.jobs import sample
from tests.shop.mold_shapes import RIGHT, WORDS, box, counter
from tests.shop.steel_cases import SINK, bars_of, steel_of

SIZES = re.compile(r"((?:\d+' )?[\d /]+?) (past|short of)")


def test_a_bar_that_goes_as_far_past_both_sides_says_so_once() -> None:
    for bar in bars_of(SINK):
        assert bar.reach == "16 7/16 past the sink at both ends"


def test_a_bar_stopped_at_one_end_tells_both_by_the_hands_of_who_stands_there() -> None:
    (front,) = (bar for bar in bars_of(box(20.0, 6.0, 66.0, 20.0)) if "front" in bar.where)
    one, other = front.reach.split(", ")
    assert one.endswith("on the LEFT")
    assert other.endswith("past it on the RIGHT")


def test_across_the_way_one_stands_it_is_toward_and_away() -> None:
    made, _ = steel_of(counter(RIGHT), SINK)
    (sink,) = made.knockouts
    x = sum(p[0] for p in sink.outline.vertices) / len(sink.outline.vertices)
    low, high = (f(p[1] for p in sink.outline.vertices) for f in (min, max))
    line = BarLine((x, high + 2.0), (x, low + 1.0), ("",), "", sink.opening)
    assert reach_words(made, line, WORDS) == (
        "1 short of the sink toward you, 2 past it away from you"
    )
    bare = replace(made, knockouts=())
    assert not reach_words(bare, line, WORDS)


@pytest.mark.parametrize("name", sample_names())
def test_reaches_and_what_they_are_past_make_up_the_bar(name: str) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        for bar in reinforcement(job, mold.piece).bars:
            signed = [
                (1.0 if how == "past" else -1.0) * float(parsed(size, "in") or 0)
                for size, how in SIZES.findall(bar.reach)
            ]
            both = 2.0 * signed[0] if bar.reach.endswith("at both ends") else sum(signed)
            between = 0.0
            if "inside corner" not in bar.reach:
                named = [k for k in mold.knockouts if f"the {k.name} " in f"{bar.reach} "]
                sizes = []
                for knockout in named:
                    way = unit(minus(bar.end, bar.start))
                    along = [dot(p, way) for p in ring(knockout.outline, 0.001)]
                    sizes.append(max(along) - min(along))
                between = min(sizes, key=lambda size: abs(size + both - bar.length_in))
            assert between + both == pytest.approx(bar.length_in, abs=0.2)
