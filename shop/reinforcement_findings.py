"""Findings about mesh and bars: cover, crossings, where none fits. They are advice, never proof."""

from collections.abc import Iterator

from geometry.picking import Subject
from shop import plan
from shop.finding import Finding
from shop.job import Job
from shop.reinforcement import reinforcement

TITLES = {
    "bar-cover": "little concrete around its bars",
    "bar-no-room": "no room for a bar",
    "crossing-bars": "bars cross",
    "mesh-cover": "little concrete over its mesh",
    "mesh-near-face": "mesh close to the face",
    "mesh-no-room": "no room for mesh",
}
"""What the findings of each code say of a mold."""


def of_reinforcement(job: Job) -> Iterator[Finding]:
    """Yield at most one finding for each code and each piece that is not poured yet."""
    for piece in plan.pieces(job):
        if piece.state in ("poured", "cast"):
            continue
        notices = reinforcement(job, piece.name).notices
        for code in dict.fromkeys(notice.code for notice in notices):
            own = [notice for notice in notices if notice.code == code]
            yield Finding(
                code,
                False,
                f"Mold {piece.name}: {TITLES[code]}",
                " ".join(dict.fromkeys(notice.text for notice in own)),
                (Subject("piece", piece.name),),
                next((notice.at for notice in own if notice.at is not None), piece.centroid),
            )
