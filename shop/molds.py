"""The mold of one piece: base, sidewalls, knockouts, bead, screws, proof and turning over.

Everything lies face down, x mirrored to -x, as it is built on the bench.
"""

from collections.abc import Iterator
from math import degrees, pi
from typing import Literal

import msgspec

from geometry.alongside import STEPS
from geometry.diagonals import proving_diagonals
from geometry.edges import direction_at, length
from geometry.fitting import is_sprung
from geometry.mitres import Bevel
from geometry.naming import CornerRef, EdgeRef, GeometryError, Kind
from geometry.outline import Outline, interior_angle_rad, mirrored
from geometry.points import Point, mirrored_point
from geometry.splitting import Face
from geometry.tolerances import PARALLEL_RAD
from geometry.turning import (
    landing_deg,
    standing_edge,
    to_the_right,
    turning_edge,
)
from shop.bases import base_of
from shop.beads import silicone_cu_in
from shop.fillings import Filling
from shop.handedness import handedness
from shop.job import EdgeChoice, MoldChoices, PastChoice
from shop.knockouts import Knockout, knockouts
from shop.mitres import bevels_of, mitres_chosen
from shop.moldwords import MoldWords, Notice
from shop.stems import stem_notices
from shop.strips import Strip, sidewalls

NO_TURN_DEG = 2.0
"""A piece that lands within this of as planned, or of half round, is said to land so."""


class Turning(msgspec.Struct, frozen=True, cache_hash=True):
    """How a piece is turned over: about which edge, and how it lands.

    index is the edge's place in the mold's frame. turned_deg is how far the landed piece is
    rotated from the plan, seen from the same side; lands is what that is nearer to.
    """

    edge: EdgeRef | CornerRef
    index: int
    words: str
    lands: Literal["turned", "as planned"]
    turned_deg: float


class Mold(msgspec.Struct, frozen=True, cache_hash=True):
    """A mold, face down.

    outline is the piece; frame the same with opening notches closed, which the strips stand round;
    base what is cut from sheet stock (larger than the frame when the sides stand on it). Strips
    come in the order of their numbers. bead_length_in lies along the base: edges and round the
    knockouts; uprights_length_in is the bead up the corners. tape_length_in is two lines of tape
    beside each bead, and one that seals the seam sides from outside. diagonals prove the frame: two
    points and the length, the last one is the check. turning is None for a piece without an edge to
    turn about. handedness is a sentence to check with a tape. bevels are the mitred edges of the
    frame, whose lines at the slab's underside are short of it.
    """

    piece: str
    outline: Outline
    frame: Outline
    base: Outline
    strips: tuple[Strip, ...]
    knockouts: tuple[Knockout, ...]
    bead_length_in: float
    uprights_length_in: float
    silicone_cu_in: float
    tape_length_in: float
    screw_count: int
    diagonals: tuple[tuple[Point, Point, float], ...]
    turning: Turning | None
    handedness: str
    bevels: tuple[Bevel, ...]
    warnings: tuple[Notice, ...]


def _lands(turned_deg: float) -> tuple[Literal["turned", "as planned"], str]:
    """Return how a piece lands, and in words: what no eye sees is not told in degrees."""
    whole = round(turned_deg) % 360
    lands: Literal["turned", "as planned"] = (
        "turned" if 90.0 <= turned_deg < 270.0 else "as planned"
    )
    if min(turned_deg, 360.0 - turned_deg) <= NO_TURN_DEG:
        return lands, "It lands as in the plan."
    if abs(turned_deg - 180.0) <= NO_TURN_DEG:
        return lands, "It lands turned half round from the plan."
    return lands, f"It lands turned {whole} degrees from the plan."


def _turning(
    frame: Outline, chosen: EdgeRef | None, words: MoldWords
) -> tuple[Turning | None, tuple[Notice, ...]]:
    """Return the turning; a choice that does not hold gives way to the default, with a notice."""
    try:
        index = turning_edge(frame, chosen)
    except GeometryError as error:
        turning, notices = _turning(frame, None, words)
        return turning, (Notice(error.code, str(error)), *notices)
    if index is None:
        text = "It has no straight edge but seams: there is none to turn it over about."
        return None, (Notice("nothing-to-turn-about", text),)
    right = to_the_right(frame, standing_edge(frame))
    turned_deg = landing_deg(direction_at(frame.edges[index], 0.5), right)
    lands, landing = _lands(turned_deg)
    sentence = (
        f"Turn it over about {words.phrase(frame.tags[index])}, on a padded batten blocked against"
        f" sliding. {landing}"
    )
    return Turning(frame.tags[index].ref, index, sentence, lands, turned_deg), ()


def _sharp_corners(outline: Outline, limit_deg: float, words: MoldWords) -> Iterator[Notice]:
    """Yield the corners of the concrete, face down, that are sharp enough to break off."""
    for i, vertex in enumerate(outline.vertices):
        angle = degrees(interior_angle_rad(outline, i))
        if angle < limit_deg - degrees(PARALLEL_RAD):
            one, other = outline.tags[i - 1], outline.tags[i]
            yield Notice(
                "sharp-corner",
                f"The corner of {words.phrase(one)} and {words.phrase(other)} is"
                f" {angle:.0f} degrees: a corner under {limit_deg:g} breaks off easily."
                " Clip it, round it or move the seam.",
                other,
                mirrored_point(vertex),
            )


def _free_leg(frame: Outline, turning: Turning | None) -> Iterator[Notice]:
    """Yield a notice for a piece with an inside corner: a leg of it hangs free in the turn.

    Where a backsplash steps down nothing does.
    """
    for i, vertex in enumerate(frame.vertices):
        angle = interior_angle_rad(frame, i)
        sides = (frame.tags[i - 1].ref, frame.tags[i].ref)
        if any(isinstance(ref, EdgeRef) and ref.side in STEPS for ref in sides):
            continue
        if turning is not None and angle > pi and not is_sprung(angle):
            yield Notice(
                "free-leg",
                "While it is turned over one leg hangs free beside the batten, and the inside"
                " corner takes the strain. Support the leg all the way, or split the piece there.",
                frame.tags[i],
                mirrored_point(vertex),
            )
            return


def _lying_beads(
    strips: tuple[Strip, ...], fill: tuple[Knockout, ...]
) -> Iterator[tuple[float, float]]:
    """Yield the length and the radius of each bead along the base."""
    for strip in strips:
        if strip.bead_radius_in is not None:
            yield strip.edge_length_in, strip.bead_radius_in
    for knockout in fill:
        if knockout.bead_radius_in is not None:
            yield knockout.bead_length_in, knockout.bead_radius_in
        # Foam that stands against a sidewall breaks its bead.
        for edge, tag in zip(knockout.outline.edges, knockout.outline.tags, strict=True):
            for strip in strips:
                radius = strip.bead_radius_in
                if radius is not None and strip.tag.ref == tag.ref:
                    yield -length(edge), radius


def mold(
    piece: str,
    face: Face,
    thickness: float,
    choices: MoldChoices,
    words: MoldWords,
    finishes: tuple[EdgeChoice, ...] = (),
    past: tuple[PastChoice, ...] = (),
    turn: EdgeRef | None = None,
    sharp_corner_deg: float = 60.0,
    chosen: tuple[Filling, ...] = (),
) -> Mold:
    """Return the mold of a piece, from values alone so that it can be cached by them.

    thickness is the slab's in inches, turn the edge chosen to turn it over about.
    """
    outline, frame = mirrored(face.outline), mirrored(face.base_outline)
    walls = sidewalls(piece, frame, thickness, choices, words, finishes, past)
    fill = knockouts(face, thickness, choices, words, finishes, chosen)
    turning, turn_notices = _turning(frame, turn, words)
    lying = tuple(_lying_beads(walls.strips, fill))
    upright = tuple((thickness, radius) for radius in walls.uprights)
    silicone = sum(silicone_cu_in(*bead) for bead in (*lying, *upright))
    return Mold(
        piece=piece,
        outline=outline,
        frame=frame,
        base=base_of(frame, choices),
        strips=walls.strips,
        knockouts=fill,
        bead_length_in=sum(run for run, _ in lying),
        uprights_length_in=sum(run for run, _ in upright),
        silicone_cu_in=silicone,
        tape_length_in=2.0 * sum(run for run, _ in (*lying, *upright))
        + sum(strip.edge_length_in for strip in walls.strips if strip.tag.kind is Kind.SEAM),
        screw_count=sum(len(strip.screws) for strip in walls.strips),
        diagonals=proving_diagonals(frame),
        turning=turning,
        handedness=handedness(frame, fill, words),
        bevels=bevels_of(frame, mitres_chosen(finishes), thickness),
        warnings=(
            *_sharp_corners(outline, sharp_corner_deg, words),
            *walls.notices,
            *stem_notices(outline, fill, words),
            *turn_notices,
            *_free_leg(frame, turning),
        ),
    )
