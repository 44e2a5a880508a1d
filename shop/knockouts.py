"""Knockouts: the foam that leaves an opening, how it fits, and how it floats."""

from collections.abc import Iterator
from math import atan2, pi, radians, tan

import msgspec

from geometry.edges import direction_at, is_line, length, radius
from geometry.naming import Id, Kind
from geometry.notches import OpeningPart
from geometry.openings import ApronShape, Opening, PlacedOpening, RectangleShape
from geometry.outline import (
    Outline,
    area,
    bounding_box,
    mirrored,
    rotated,
)
from geometry.splitting import Face
from geometry.tolerances import SAME_POINT_IN
from shop.beads import bead_radius
from shop.counterbores import Counterbore, counterbore_of
from shop.fillings import Filling, MadeOf, made_of
from shop.finishes import finish_of
from shop.job import EdgeChoice, Finish, MoldChoices
from shop.measures import weight_words
from shop.moldwords import MoldWords, Notice
from shop.settings import Setting, setting
from shop.weights import FRESH_CONCRETE_PCF, volume_cu_ft, weight_lb

DRAFT_DEG = 2.0
"""The sides of a rigid knockout taper by so much, or it does not come out of the slab."""


class Knockout(msgspec.Struct, frozen=True, cache_hash=True):
    """One knockout, face down.

    A partial one stands in the edge of the piece: the part of an opening on this piece's side of a
    seam (at_seam), or one that is open to the front; its closing edge is flush with the sidewall
    there and has no bead; bead_radius_in is None if it has none at all. size is its extent along
    and across the opening's own axes, however it is turned, and size_words say it with its corners.
    fit says what to do when the foam as measured is not as thick as the slab. Its sides are wrapped
    with tape over their whole height, wrap_length_in around. draft_in is what a rigid one is wider
    by at the underside on each side, 0 for another. uplift_lb is what fresh concrete lifts it with.
    setting is how it is set with a tape, None where no sidewall lies square to it. reveal_words say
    how it differs from the bowl that stands in it, if it does. finish is the one chosen for the
    edge it leaves, None where the job's default holds.
    """

    opening: Id
    name: str
    outline: Outline
    partial: bool
    at_seam: bool
    size: tuple[float, float]
    size_words: str
    setting: Setting | None
    thickness_in: float
    uplift_lb: float
    bead_length_in: float
    bead_radius_in: float | None
    fit: str | None
    hold_down: str
    made_of: MadeOf
    wrap_length_in: float
    draft_in: float
    counterbore: Counterbore | None
    reveal_words: str
    finish: Finish | None

    @property
    def edge_name(self) -> str:
        """The name of the edge that it leaves: the opening's."""
        return self.name


def _fit(thickness: float, foam: float | None, words: MoldWords) -> str | None:
    if foam is None or words.length(foam) == words.length(thickness):
        return None
    off = words.length(abs(foam - thickness))
    if foam > thickness:
        return f"Measured {words.length(foam)}: plane it down by {off}."
    return (
        f"Measured {words.length(foam)}: shim it by {off} on top (the slab's underside),"
        " never below."
    )


def _own_axis_rad(opening: PlacedOpening | OpeningPart) -> float:
    """Return the direction of an opening's own x axis; of a slot, which may be turned, its length.

    A slot is what has two half circles, or one beside a seam, and straight sides.
    """
    sides = zip(opening.outline.edges, opening.outline.tags, strict=True)
    own = [edge for edge, tag in sides if tag.kind is Kind.OPENING]
    ways = [direction_at(edge, 0.5) for edge in own if is_line(edge)]
    bulges = [abs(edge.bulge) for edge in own if not is_line(edge)]
    if not (ways and bulges and all(abs(bulge - 1.0) <= SAME_POINT_IN for bulge in bulges)):
        return opening.angle_rad
    turn = atan2(ways[0][1], ways[0][0]) - opening.angle_rad
    # Its length runs rather along the axis of its place than against it.
    return opening.angle_rad + (turn + pi / 2.0) % pi - pi / 2.0


def _size(outline: Outline, angle_rad: float) -> tuple[float, float]:
    """Return the extent of a mirrored opening along and across its own axes.

    Mirrored, its own x axis lies as far to the other side; turned back by it, it lies level.
    """
    x0, y0, x1, y1 = bounding_box(rotated(outline, angle_rad))
    return x1 - x0, y1 - y0


def _size_words(outline: Outline, size: tuple[float, float], words: MoldWords) -> str:
    """Return a size with what the corners are: '30 x 16, corners 1', '9 x 3, round ends'.

    What no words say is as its template was drawn.
    """
    sides = list(zip(outline.edges, outline.tags, strict=True))
    own = [edge for edge, tag in sides if tag.kind is Kind.OPENING]
    arcs = [edge for edge in own if not is_line(edge)]
    along, across = map(words.length, size)
    if not arcs:
        return f"{along} x {across}" + (", as drawn" if len(own) > 4 else "")
    corner = radius(arcs[0])
    if any(abs(radius(arc) - corner) > SAME_POINT_IN for arc in arcs):
        return f"{along} x {across}, as drawn"
    if len(arcs) == len(sides):
        circle = abs(size[0] - size[1]) <= SAME_POINT_IN
        return f"{along} across" if circle else f"{along} x {across}, as drawn"
    if len(arcs) == len(own):
        return f"{along} x {across}, part of a circle of radius {words.length(corner)}"
    if abs(2.0 * corner - min(size)) <= SAME_POINT_IN:
        return f"{along} x {across}, round ends"
    return f"{along} x {across}, corners {words.length(corner)}"


def _knockout(
    opening: PlacedOpening | OpeningPart,
    frame: Outline,
    thickness: float,
    choices: MoldChoices,
    words: MoldWords,
    finishes: tuple[EdgeChoice, ...],
    filling: Filling | None,
) -> Knockout:
    outline = mirrored(opening.outline)
    volume = volume_cu_ft(abs(area(outline)), thickness)
    uplift = weight_lb(volume, FRESH_CONCRETE_PCF)
    size = _size(outline, _own_axis_rad(opening))
    at_seam = any(tag.kind is Kind.SEAM for tag in outline.tags)
    own = [
        (edge, tag)
        for edge, tag in zip(outline.edges, outline.tags, strict=True)
        if tag.kind is Kind.OPENING
    ]
    bead = bead_radius(own[0][1], finishes, choices.bead_radius)
    made = made_of(outline, filling.made_of if filling else None)
    foam = choices.foam_thickness if made == "foam" else None
    return Knockout(
        opening=opening.id,
        name=words.opening(opening.id),
        outline=outline,
        partial=isinstance(opening, OpeningPart),
        at_seam=at_seam,
        size=size,
        size_words=_size_words(outline, size, words),
        setting=setting(frame, outline, words, partial=at_seam),
        thickness_in=thickness,
        uplift_lb=uplift,
        bead_length_in=0.0 if bead is None else sum(length(edge) for edge, _ in own),
        bead_radius_in=bead,
        fit=_fit(thickness, foam, words),
        hold_down=f"{'Cap it and hold it' if made == 'pipe' else 'Hold it'} down: fresh concrete"
        f" lifts it with {weight_words(uplift, words.style.unit)}.",
        made_of=made,
        wrap_length_in=sum(length(edge) for edge, _ in own),
        draft_in=thickness * tan(radians(DRAFT_DEG)) if made == "rigid" else 0.0,
        counterbore=counterbore_of(outline, thickness, filling.stem_in if filling else None),
        reveal_words=words.reveal(opening.id),
        finish=finish_of(own[0][1], finishes),
    )


def knockouts(
    face: Face,
    thickness: float,
    choices: MoldChoices,
    words: MoldWords,
    finishes: tuple[EdgeChoice, ...] = (),
    chosen: tuple[Filling, ...] = (),
) -> tuple[Knockout, ...]:
    """Return the knockouts of a face: its openings, then the parts of openings at its seams.

    thickness is the slab's.
    """
    frame = mirrored(face.base_outline)
    known = {filling.opening: filling for filling in chosen}
    holes: tuple[PlacedOpening | OpeningPart, ...] = (*face.openings, *face.parts)
    return tuple(
        _knockout(hole, frame, thickness, choices, words, finishes, known.get(hole.id))
        for hole in holes
    )


def reveal_notices(opening: Opening, words: MoldWords) -> Iterator[Notice]:
    """Yield a notice when an opening's reveal leaves its corners without a radius.

    A reveal inside the bowl makes the corner radius smaller by as much; concrete cracks from a
    sharp inside corner.
    """
    shape = opening.shape
    if isinstance(shape, RectangleShape | ApronShape) and -opening.reveal > shape.radius:
        yield Notice(
            "reveal-over-radius",
            f"Opening {opening.name}: its reveal of {words.length(-opening.reveal)} inside the bowl"
            f" is larger than the corner radius of {words.length(shape.radius)}, which leaves sharp"
            " corners. Take a smaller reveal or a larger radius.",
            None,
        )
