"""Mesh and bars of a mold: what is cut, where it lies, how high above the face, what it weighs.

It is common practice and promises no strength: structural questions are for a licensed person.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import atan2, ceil

import msgspec
from msgspec.structs import replace
from shapely import LineString

from geometry.bridges import Bridge
from geometry.points import Point, distance, middle, mirrored_point
from geometry.tolerances import SHADING_IN
from shop import plan
from shop.bar_lines import BarLine, bar_lines, concrete_at, main_way
from shop.bar_reach import reach_words
from shop.job import Job, Reinforcement
from shop.mesh import Panel, Sheet, lap_lengths, panels
from shop.molds import Mold
from shop.moldwords import MoldWords, Notice
from shop.standing import opening_names
from shop.steel import MESHES, NO_3, bar_lap_in, mesh_lap_in, stock_lengths
from shop.words import length_style, listed

MESH_FROM_FACE_IN = 1.0
"""Mesh closer to the face than this shows through it; common practice, no source."""

MESH_COVER_IN = 0.375
"""The least concrete over mesh, at the slab's underside: what ACI 318 asks for in thin precast
shells (bars up to No. 5), as printed in tables of cover."""

TIE_EVERY_IN = 12.0
"""From tie to tie along a bar and along a lap; common practice, no source."""

LICENSED = "This is common practice: structural questions are for a licensed person."


class Bar(msgspec.Struct, frozen=True, cache_hash=True):
    """One bar, face down where it lies, from start to end along its middle.

    reach says how far it goes past what it runs beside. height_in is from the face to its
    underside, cover_in the concrete below and above. crosses are the bars that lie over or under
    it. lengths are what it is cut as: several with laps where it is longer than the stock.
    """

    name: str
    where: str
    set_by: str
    reach: str
    start: Point
    end: Point
    length_in: float
    height_in: float
    cover_in: float
    crosses: tuple[str, ...]
    lengths: tuple[float, ...]
    weight_lb: float


class Steel(msgspec.Struct, frozen=True, cache_hash=True):
    """The reinforcement of one mold.

    mesh_height_in is from the face to the mesh's underside, mesh_over_in the concrete over it.
    lap_in is how far its panels lap. ties is how many bind bars and laps.
    """

    piece: str
    style: str
    panels: tuple[Panel, ...]
    mesh_height_in: float
    mesh_over_in: float
    lap_in: float
    bars: tuple[Bar, ...]
    ties: int
    weight_lb: float
    notices: tuple[Notice, ...]


def steel(
    mold: Mold,
    bridges: tuple[Bridge, ...],
    thickness: float,
    choices: Reinforcement,
    words: MoldWords,
) -> Steel:
    """Return the reinforcement of a mold, from values alone so that it can be cached by them.

    bridges are the piece's narrow ones, face up; thickness is the slab's, in inches.
    """
    lines: tuple[BarLine, ...] = ()
    notices: list[Notice] = []
    if choices.bars != "none":
        lines, missing = bar_lines(mold, bridges, choices.cover, words)
        notices += missing
    bars = _bars(mold, lines, thickness, choices.bar_length, words)
    notices += _of_cover(bars, thickness, choices.cover, words)
    found: tuple[Panel, ...] = ()
    height = over = lap = 0.0
    if choices.mesh != "none":
        kind, way = MESHES[choices.mesh], main_way(mold.frame)
        sheet = Sheet(choices.mesh, choices.sheet_length, choices.sheet_width)
        # Mesh is tied on top of the bars.
        height = max(choices.mesh_height, *(bar.height_in + NO_3.diameter for bar in bars), 0.0)
        concrete = concrete_at(mold, height + kind.thickness)
        found = panels(concrete, atan2(way[1], way[0]), choices.mesh_inset, sheet)
        over, lap = thickness - height - kind.thickness, mesh_lap_in(kind)
        notices += _of_mesh(found, height, over, words)
    ties = [*lap_lengths(found), *(bar.length_in for bar in bars if found)]
    return Steel(
        mold.piece,
        choices.mesh,
        found,
        height,
        over,
        lap,
        bars,
        sum(ceil(each / TIE_EVERY_IN) + 1 for each in ties),
        sum(panel.weight_lb for panel in found) + sum(bar.weight_lb for bar in bars),
        tuple(notices),
    )


_steel = lru_cache(maxsize=1024)(steel)


def reinforcement(job: Job, name: str) -> Steel:
    """Return the mesh and bars of one piece's mold; those of a slab as it was made.

    Raises:
        KeyError: there is no such piece.
    """
    piece = plan.piece(job, name)
    slab = next((slab for slab in job.slabs if slab.piece == name), None)
    choices = (job if slab is None else slab).reinforcement
    if any(own.id == piece.top for own in job.alongside):
        # Thin strips are cast plain; common practice, no source.
        choices = replace(choices, mesh="none", bars="none")
    named = opening_names(job)
    return _steel(
        plan.mold(job, name),
        plan.weak_bridges(job, piece),
        plan.thickness_of(job, piece.top) if slab is None else slab.thickness,
        choices,
        MoldWords(plan.names_of_edges(job, name), named, length_style(job)),
    )


# --- Bars -------------------------------------------------------------------------------------


def _bars(
    mold: Mold, lines: Sequence[BarLine], thickness: float, stock: float, words: MoldWords
) -> tuple[Bar, ...]:
    """Return bars in the middle of a slab; those that cross lie on each other about its middle."""
    shapes = [LineString((line.start, line.end)) for line in lines]
    met = [
        [j for j, other in enumerate(shapes) if j != i and _meet(shape, other)]
        for i, shape in enumerate(shapes)
    ]
    layers = _layers(met)
    heaps = {i: max(layers[j] for j in _heap(met, i)) + 1 for i in range(len(lines))}
    lap = bar_lap_in(NO_3)
    found: list[Bar] = []
    for i, line in enumerate(lines):
        cover = (thickness - heaps[i] * NO_3.diameter) / 2.0
        lengths = stock_lengths(distance(line.start, line.end), stock, lap)
        found.append(
            Bar(
                f"bar {i + 1}",
                listed(line.where),
                line.set_by,
                reach_words(mold, line, words),
                line.start,
                line.end,
                distance(line.start, line.end),
                cover + layers[i] * NO_3.diameter,
                cover,
                tuple(f"bar {j + 1}" for j in met[i]),
                lengths,
                sum(lengths) / 12.0 * NO_3.lb_per_ft,
            )
        )
    return tuple(found)


def _meet(one: LineString, other: LineString) -> bool:
    return bool(one.distance(other) < NO_3.diameter - SHADING_IN)


def _layers(met: Sequence[Sequence[int]]) -> list[int]:
    """Return on which layer each bar lies, so that none is in another: the first that is free."""
    layers: list[int] = []
    for i, others in enumerate(met):
        taken = {layers[j] for j in others if j < i}
        layers.append(next(k for k in range(len(met)) if k not in taken))
    return layers


def _heap(met: Sequence[Sequence[int]], first: int) -> set[int]:
    """Return the bars that hang together with one by crossing."""
    heap, new = {first}, [first]
    while new:
        new = [j for i in new for j in met[i] if j not in heap]
        heap.update(new)
    return heap


# --- What to look at --------------------------------------------------------------------------


def _of_cover(
    bars: Sequence[Bar], thickness: float, cover: float, words: MoldWords
) -> list[Notice]:
    """Return where bars have less concrete over and under them than asked for."""
    said: list[Notice] = []
    slab, asked = words.length(thickness), words.length(cover)
    for crossing in (False, True):
        few = [b for b in bars if bool(b.crosses) is crossing and b.cover_in < cover - SHADING_IN]
        if not few:
            continue
        left = _short_of(min(bar.cover_in for bar in few), cover, words)
        if crossing:
            what = f"Where {listed(bar.name for bar in few)} cross, a slab of {slab} leaves {left}"
        else:
            what = f"A No. 3 bar in the middle of {slab} leaves {left}"
        code = "crossing-bars" if crossing else "bar-cover"
        advice = "Leave one of them out" if crossing else "Choose a thicker slab or no bars"
        text = f"{what} of concrete below and above; your cover is {asked}. {advice}. {LICENSED}"
        said.append(Notice(code, text, at=mirrored_point(middle(few[0].start, few[0].end))))
    return said


def _short_of(left: float, least: float, words: MoldWords) -> str:
    """Return a length in words that is less than another also where they are written alike."""
    said = words.length(max(left, 0.0))
    return f"a little less than {said}" if said == words.length(least) else said


def _of_mesh(found: Sequence[Panel], height: float, over: float, words: MoldWords) -> list[Notice]:
    """Return what is wrong with where the mesh lies."""
    if not found:
        text = "No mesh fits: inside its inset less is left than from wire to wire."
        return [Notice("mesh-no-room", text)]
    said: list[Notice] = []
    if height < MESH_FROM_FACE_IN - SHADING_IN:
        text = (
            f"The mesh hangs {words.length(height)} above the face: closer than"
            f" {words.length(MESH_FROM_FACE_IN)} it may show through."
        )
        said.append(Notice("mesh-near-face", text))
    if over < MESH_COVER_IN - SHADING_IN:
        least = words.length(MESH_COVER_IN)
        left = _short_of(over, MESH_COVER_IN, words)
        text = (
            f"The mesh lies {words.length(height)} above the face, which leaves {left} of concrete"
            f" over it; {least} is the least in tables. Choose a thinner mesh, fewer crossing bars"
            f" or a thicker slab. {LICENSED}"
        )
        said.append(Notice("mesh-cover", text))
    return said
