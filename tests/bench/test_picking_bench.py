"""Asking what lies under the pointer."""

from itertools import cycle
from random import Random

from shapely import STRtree, box

from app.gestures.places import picked
from geometry.outline import bounding_box
from shop.job import Job
from shop.plan import layout
from tests.bench.conftest import Note, Repeat
from tests.bench.figures import stopwatch, timed

TOL_IN = 2.0
QUERIES = 400


def test_what_lies_under_the_pointer_is_known_at_once(
    job: Job, size: str, repeat: Repeat, note: Note
) -> None:
    boxes = [bounding_box(piece.face.outline) for piece in layout(job).pieces]
    dice = Random(1)
    spots = [
        (dice.uniform(x0, x1), dice.uniform(y0, y1))
        for x0, y0, x1, y1 in boxes
        for _ in range(QUERIES // len(boxes) + 1)
    ]
    assert any(picked(job, spot, TOL_IN) for spot in spots)
    places = cycle(spots)
    watch = stopwatch(lambda: picked(job, next(places), TOL_IN))
    repeat(watch, QUERIES, lambda: None)

    tree = STRtree([box(*each) for each in boxes])
    windows = cycle([box(x - TOL_IN, y - TOL_IN, x + TOL_IN, y + TOL_IN) for x, y in spots])
    note(
        f"what lies under the pointer, {size}",
        watch.timed,
        "boxes in a tree asked",
        timed(lambda: tree.query(next(windows)), QUERIES),
        "none",
    )
