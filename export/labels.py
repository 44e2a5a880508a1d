"""Labels to cut out and stick on: one for each piece, each sidewall and each knockout."""

from collections.abc import Iterator
from typing import NamedTuple

from export.marks import AnyMark, Line, Role, Sheet, Words
from export.mold_ticks import own_height
from export.pages import A4, LETTER, Page, View
from export.paragraphs import LEADING, broken, line_of
from export.sound import sound_molds
from export.stamp import Stamp, sample_view
from export.stripwords import short_end
from export.typeface import text_width
from geometry.lengths import LengthStyle, written
from geometry.naming import Kind
from shop.job import Job
from shop.knockouts import Knockout
from shop.measures import weight_words
from shop.mitres import BevelStrip, bevel_end_words, ripped_words
from shop.mold_corners import strip_corners
from shop.molds import Mold
from shop.strips import Strip
from shop.words import capital, length_style, listed

TITLE = "Labels"
NOTHING = "Nothing to label yet: no piece can be made as drawn."

ACROSS, DOWN = 2, 5
EDGE_IN = (0.25, 0.5)
"""So many labels lie on a page, and so much of it stays free at the sides, and above and below."""

PAD_IN = 0.14
NAME_IN = 0.4
FLAG_IN = 0.17
WHAT_IN = 0.14
TEXT_IN = (0.125, 0.115, 0.1, 0.085)
STAMP_IN = 0.085
"""Heights of a label's words; its sentences are smaller where they need the room."""

FACE_DOWN = "FACE DOWN"


class Label(NamedTuple):
    """What stands on a label: its name large, a word of which way it lies, and sentences.

    seam says that it belongs to a seam side; it is drawn as such.
    """

    name: str
    flag: str
    what: str
    sentences: tuple[str, ...]
    seam: bool = False


def labels(job: Job) -> tuple[Label, ...]:
    """Return the labels of a job, mold by mold: the piece, its sidewalls, its knockouts."""
    style = length_style(job)
    return tuple(label for mold in sound_molds(job) for label in of_mold(mold, style))


def of_mold(mold: Mold, style: LengthStyle) -> Iterator[Label]:
    """Yield the labels of one mold: the piece's, its sidewalls', its knockouts'."""
    seams = [strip for strip in mold.strips if strip.tag.kind is Kind.SEAM]
    sides = listed([f"{strip.edge_name} ({strip.name})" for strip in seams])
    what = f"SEAM SIDE: {sides}" if seams else "no seam side"
    mitres = [f"{s.edge_name.partition(',')[0]} ({s.name})" for s in mold.strips if s.bevel]
    thin = (f"Mitred: {listed(mitres)}. Pad the thin edge.",) if mitres else ()
    yield Label(mold.piece, FACE_DOWN, what, (*thin, mold.handedness), bool(seams))
    for strip in mold.strips:
        yield _of_strip(mold, strip, style)
        if strip.bevel is not None:
            yield _of_bevel(mold, strip, strip.bevel, style)
    for knockout in mold.knockouts:
        yield _of_knockout(mold, knockout, style)


def _of_strip(mold: Mold, strip: Strip, style: LengthStyle) -> Label:
    seam = strip.tag.kind is Kind.SEAM
    left, right = strip_corners(mold, strip)
    face, back, high = (
        written(size, style)
        for size in (strip.face_length_in, strip.back_length_in, strip.height_in)
    )
    lengths = f"face {face}" if face == back else f"face {face}, back {back}"
    at_right, at_left = map(short_end, strip.ends)
    ends = f"left end at {left}, {at_left}; right end at {right}, {at_right}"
    made = "Square, no bead, sealed from outside" if seam else "Bead along it"
    if not seam and not strip.bead:
        made = "Square, no bead" if strip.bevel is None else f"{strip.bevel.name} inside it"
    return Label(
        strip.name,
        f"{mold.piece} {FACE_DOWN}",
        f"SEAM SIDE: {strip.edge_name}" if seam else strip.edge_name,
        (
            f"{made}; {lengths}; {high} high.",
            f"Inside face up: {ends}.",
            mold.handedness,
        ),
        seam,
    )


def _of_bevel(mold: Mold, strip: Strip, bevel: BevelStrip, style: LengthStyle) -> Label:
    right, left = (bevel_end_words(end, style) for end in bevel.ends)
    at_wall, tip = (written(size, style) for size in (bevel.long_in, bevel.short_in))
    return Label(
        bevel.name,
        f"{mold.piece} {FACE_DOWN}",
        f"bevel strip, {strip.edge_name}",
        (
            f"{at_wall} at its sidewall, {tip} at its tip; {ripped_words(bevel, style)}.",
            f"Inside face up: left end {left}; right end {right}.",
            f"Glued and screwed to {strip.name}, sharp edge down at the base.",
            mold.handedness,
        ),
    )


def _of_knockout(mold: Mold, knockout: Knockout, style: LengthStyle) -> Label:
    part = "part of the " if knockout.at_seam else ""
    sentences = [
        f"{knockout.size_words}; {knockout.made_of}, {written(own_height(knockout), style)} high.",
        f"Hold it down: it floats with {weight_words(knockout.uplift_lb, style.unit)}.",
        mold.handedness,
    ]
    if knockout.reveal_words:
        sentences.insert(1, f"It is {knockout.reveal_words}.")
    if knockout.fit:
        sentences.insert(1, knockout.fit)
    if knockout.setting is not None:
        words = knockout.setting.words
        sentences.insert(0, f"{capital(words)}.")
    name = f"{mold.piece} {part}{knockout.name}"
    return Label(name, FACE_DOWN, "knockout", tuple(sentences))


# --- Pages ---------------------------------------------------------------------------------------


def label_pages(job: Job, stamp: Stamp) -> tuple[Page, ...]:
    """Return the labels on Letter paper, or on A4 for a metric job, with lines to cut along."""
    size = A4 if job.display == "mm" else LETTER
    found = labels(job)
    each = ACROSS * DOWN
    shares = [found[k : k + each] for k in range(0, len(found), each)] or [()]
    return tuple(
        _page(share, stamp, size, f"{TITLE} {number}")
        for number, share in enumerate(shares, start=1)
    )


def _page(share: tuple[Label, ...], stamp: Stamp, size: tuple[float, float], name: str) -> Page:
    wide, high = size
    cell = ((wide - 2.0 * EDGE_IN[0]) / ACROSS, (high - 2.0 * EDGE_IN[1]) / DOWN)
    marks: list[AnyMark] = []
    for place, label in enumerate(share):
        row, column = divmod(place, ACROSS)
        left = EDGE_IN[0] + column * cell[0]
        top = high - EDGE_IN[1] - row * cell[1]
        marks += _label(label, stamp, (left, top - cell[1], left + cell[0], top))
    if not share:
        marks.append(line_of(NOTHING, 0.5, high - 0.8, FLAG_IN, bold=True, room=wide - 1.0))
        marks.append(line_of(stamp.line, 0.5, high - 1.1, WHAT_IN, room=wide - 1.0))
    views = [View(Sheet("words", tuple(marks), (0.0, 0.0, wide, high)), (1.0, 1.0), (0.0, 0.0))]
    if stamp.sample:
        views.insert(0, sample_view(wide, high))
    return Page(name, wide, high, tuple(views))


def _label(label: Label, stamp: Stamp, box: tuple[float, float, float, float]) -> Iterator[AnyMark]:
    west, south, east, north = box
    around = ((west, south), (east, south), (east, north), (west, north), (west, south))
    yield Line("frame", points=around, bulges=(0.0,) * 4)
    left, right = west + PAD_IN, east - PAD_IN
    room = right - left
    beside = text_width(label.flag, FLAG_IN, bold=True) + 0.2
    y = north - 0.34
    yield line_of(label.name, left, y, NAME_IN, bold=True, room=room - beside)
    yield Words("title", text=label.flag, at=(right, y), anchor="right", height=FLAG_IN, bold=True)
    role: Role = "seam" if label.seam else "words"
    at = north - 0.68
    yield Words(
        role,
        text=label.what,
        at=(left, at),
        anchor="left",
        height=WHAT_IN,
        bold=True,
        max_width=room,
    )
    if label.seam:
        yield Line("seam", points=((left, at - 0.11), (right, at - 0.11)), bulges=(0.0,))
    below = 0.27 if label.seam else 0.22
    yield from _sentences(label.sentences, left, (south + 0.26, at - below), room)
    yield line_of(stamp.line, left, south + 0.13, STAMP_IN, room=room)


def _sentences(
    sentences: tuple[str, ...], left: float, span: tuple[float, float], room: float
) -> Iterator[AnyMark]:
    """Write sentences from the top of a span down, as large as they fit."""
    low, top = span
    tried = [
        (height, [line for text in sentences for line in broken(text, height, room)])
        for height in TEXT_IN
    ]
    fitting = (one for one in tried if len(one[1]) * one[0] * LEADING <= top - low + 0.05)
    height, lines = next(fitting, tried[-1])
    for k, line in enumerate(lines):
        yield line_of(line, left, top - k * height * LEADING, height, room=room)
