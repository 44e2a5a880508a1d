"""The page of a mold's parts: the mold taken apart, its parts in tables, and what to tick."""

from collections.abc import Iterator, Sequence

from export.bevel_section import SECTION_HIGH_IN, bevel_section
from export.exploded import exploded
from export.flowing import Block, Paper, flowed
from export.marks import AnyMark, Line, Sheet
from export.mold_ticks import mold_ticks, own_height
from export.pages import View, fitted
from export.paragraphs import LEADING, broken, line_of
from export.steelwords import lengths_words, light_words
from export.stripwords import short_end
from export.tick_list import tick_list
from geometry.lengths import LengthStyle, written
from shop import plan
from shop.base_panels import BATTEN_IN, base_panels
from shop.finishes import finish_notes
from shop.inset_words import making_words
from shop.insets import insets_of
from shop.job import Job
from shop.knockouts import Knockout
from shop.measures import volume_words, weight_words
from shop.mitres import bevel_end_words, ripped_words
from shop.mold_choices import mold_choices, slab_thickness
from shop.mold_corners import Diagonal, strip_corners
from shop.molds import Mold
from shop.panel_lengths import panel_lengths
from shop.reinforcement import LICENSED, TIE_EVERY_IN, Steel, reinforcement
from shop.strips import Strip, strip_height
from shop.words import length_style, listed

WORDS_IN = 0.14
HEADING_IN = 0.17
SMALL_IN = 0.11
"""Heights of what is written, of the headings of tables, and of their columns."""

PICTURE_IN = 3.3
"""The mold taken apart is at most so high."""

FACT_IN = 1.35
"""How wide the names of facts are."""


def parts_pages(job: Job, mold: Mold, paper: Paper) -> tuple[tuple[View, ...], ...]:
    """Return what stands on each page of a mold's parts; the words are sheets as wide as paper."""
    picture = exploded(job, mold.piece)
    x0, y0, x1, y1 = picture.box
    room = paper.wide - 2.0 * picture.margin
    high = min(PICTURE_IN, room * (y1 - y0) / (x1 - x0) + 2.0 * picture.margin)
    window = (paper.left, paper.top - high, paper.right, paper.top)
    box = (0.0, 0.0, paper.right + paper.left, paper.top)
    made = [flowed(order, paper, paper.top - high - 0.1) for order in _orders(job, mold, paper)]
    pages = [
        (View(Sheet("parts", marks, box), (1.0, 1.0), (0.0, 0.0)),) for marks in min(made, key=len)
    ]
    return ((fitted(picture, window), *pages[0]), *pages[1:])


def _orders(job: Job, mold: Mold, paper: Paper) -> tuple[tuple[Block, ...], ...]:
    """Return what stands on the pages in the orders it may: what is to be ticked last or not."""
    style = length_style(job)
    tables = (
        *_sidewalls(mold, style, paper),
        *_bevels(mold, style, paper),
        *_panels(job, mold, style, paper),
        *_knockouts(mold, style, paper),
        *_insets(job, mold, paper),
        *_steel(reinforcement(job, mold.piece), style, paper),
    )
    facts, ticks = tuple(_facts(job, mold, paper)), tick_list(mold_ticks(job, mold), paper)
    return (*tables, *facts, ticks), (*tables, ticks, *facts)


# --- Tables --------------------------------------------------------------------------------------


def _table(
    title: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    shares: Sequence[float],
    paper: Paper,
) -> Iterator[Block]:
    """Yield a table: its title with its headings, then its rows, cells broken to their columns."""
    starts = [paper.left + paper.wide * sum(shares[:k]) for k in range(len(shares))]
    rooms = [paper.wide * share - 0.1 for share in shares]
    if not rows:
        return

    def head(y: float) -> list[AnyMark]:
        names = [
            line_of(text, x, y - 0.38, SMALL_IN, room=room)
            for text, x, room in zip(heads, starts, rooms, strict=True)
        ]
        rule = ((paper.left, y - 0.47), (paper.right, y - 0.47))
        return [
            line_of(title, paper.left, y - 0.18, HEADING_IN, bold=True, room=paper.wide),
            *names,
            Line("frame", points=rule, bulges=(0.0,)),
        ]

    yield Block(0.5, head, with_next=True)
    # A table stays on a page as long as it can.
    for row in rows[:-1]:
        yield _row(row, starts, rooms)._replace(with_next=True)
    yield _row(rows[-1], starts, rooms)


def _row(cells: Sequence[str], starts: Sequence[float], rooms: Sequence[float]) -> Block:
    step = WORDS_IN * LEADING
    lines = [
        broken(cell, WORDS_IN, room, bold=k == 0)
        for k, (cell, room) in enumerate(zip(cells, rooms, strict=True))
    ]

    def made(y: float) -> list[AnyMark]:
        return [
            line_of(text, x, y - (n + 0.55) * step, WORDS_IN, bold=k == 0, room=room)
            for k, (cell, x, room) in enumerate(zip(lines, starts, rooms, strict=True))
            for n, text in enumerate(cell)
        ]

    return Block(max(map(len, lines)) * step + 0.03, made)


def _sidewalls(mold: Mold, style: LengthStyle, paper: Paper) -> Iterator[Block]:
    height = written(mold.strips[0].height_in, style)
    yield from _table(
        f"Sidewalls, ripped {height} high; corner and cut of each end, inside face up",
        ("", "stands along", "face", "back", "left end", "right end", "screws"),
        [_strip_cells(mold, strip, style) for strip in mold.strips],
        (0.06, 0.15, 0.12, 0.12, 0.24, 0.24, 0.07),
        paper,
    )


def _strip_cells(mold: Mold, strip: Strip, style: LengthStyle) -> tuple[str, ...]:
    right, left = strip.ends
    corners = strip_corners(mold, strip)
    along = strip.edge_name.partition(",")[0]
    if strip.arc_radius is not None:
        bent = "insert" if strip.turned_insert else "bent"
        along += f", {bent}, radius {written(abs(strip.arc_radius), style)}"
        if strip.blocks:
            along += f", {len(strip.blocks)} backing blocks"
    if strip.bevel is not None:
        along += ", bevel strip inside"
    if len(strip.pieces) > 1:
        along += f", spliced from {len(strip.pieces)} of {written(strip.pieces[0], style)}"
    return (
        strip.name,
        along,
        written(strip.face_length_in, style),
        written(strip.back_length_in, style),
        f"{corners[0]}: {short_end(left)}",
        f"{corners[1]}: {short_end(right)}",
        str(len(strip.screws)),
    )


def _bevels(mold: Mold, style: LengthStyle, paper: Paper) -> Iterator[Block]:
    """Yield the bevel strips of mitred edges, as they are ripped and cut, with their section."""
    found = [strip for strip in mold.strips if strip.bevel is not None]
    rows = []
    for strip in found:
        assert strip.bevel is not None
        right, left = (bevel_end_words(end, style) for end in strip.bevel.ends)
        rows.append(
            (
                strip.bevel.name,
                f"to {strip.name}, {strip.edge_name.partition(',')[0]}",
                written(strip.bevel.long_in, style),
                written(strip.bevel.short_in, style),
                left,
                right,
                ripped_words(strip.bevel, style),
            )
        )
    yield from _table(
        "Bevel strips of the mitres, sharp edge down at the base; ends inside face up",
        ("", "glued and screwed", "at sidewall", "at tip", "left end", "right end", "ripped"),
        rows,
        (0.11, 0.14, 0.11, 0.11, 0.16, 0.16, 0.21),
        paper,
    )
    if found:
        yield Block(SECTION_HIGH_IN, lambda y: list(bevel_section(found[0], paper.left, y, style)))


def _panels(job: Job, mold: Mold, style: LengthStyle, paper: Paper) -> Iterator[Block]:
    """Yield what each panel of a base is laid out by; numbers are the ends of its joints."""

    def said(lengths: Sequence[Diagonal]) -> str:
        return "; ".join(f"{one.a} to {one.b}: {written(one.length, style)}" for one in lengths)

    rows = [
        (panel.name, said(panel.sides), said(panel.diagonals))
        for panel in panel_lengths(mold, base_panels(job, mold))
    ]
    on_base = mold_choices(job, mold.piece).construction == "sides-on-base"
    title = f"Panels of the base{', by its own corners beyond the sidewalls' if on_base else ''}"
    heads = ("", "sides; numbers are the ends of a joint", "diagonals")
    yield from _table(title, heads, rows, (0.14, 0.5, 0.36), paper)


def _knockouts(mold: Mold, style: LengthStyle, paper: Paper) -> Iterator[Block]:
    rows = [
        (
            f"part of the {knockout.name}" if knockout.at_seam else knockout.name,
            "; ".join(filter(None, (knockout.size_words, knockout.reveal_words))),
            _made_of(knockout, style),
            "" if knockout.setting is None else knockout.setting.words,
            weight_words(knockout.uplift_lb, style.unit),
        )
        for knockout in mold.knockouts
    ]
    heads = ("", "size", "made of, thick", "set with a tape", "hold down against")
    yield from _table("Knockouts", heads, rows, (0.15, 0.2, 0.15, 0.35, 0.15), paper)


def _made_of(knockout: Knockout, style: LengthStyle) -> str:
    """Return what a knockout is made of, how thick, and what to do where it is not as thick."""
    made = f"{knockout.made_of}, {written(own_height(knockout), style)}"
    if knockout.draft_in:
        made += f", wider by {written(knockout.draft_in, style)} each side at the underside"
    if knockout.counterbore is not None:
        across, deep = (
            written(size, style)
            for size in (knockout.counterbore.diameter_in, knockout.counterbore.depth_in)
        )
        made += f", on top a block {across} across, {deep} high"
    return f"{made}. {knockout.fit}" if knockout.fit else made


def _insets(job: Job, mold: Mold, paper: Paper) -> Iterator[Block]:
    rows = [(found.inset.name, making_words(job, found)) for found in insets_of(job, mold.piece)]
    yield from _table("Set in, not through", ("", "made so"), rows, (0.2, 0.8), paper)


def _steel(steel: Steel, style: LengthStyle, paper: Paper) -> Iterator[Block]:
    up = written(steel.mesh_height_in, style)
    rows = [
        (
            panel.name,
            f"{written(panel.size[0], style)} x {written(panel.size[1], style)}",
            f"{steel.style}, cut out around openings",
            up,
        )
        for panel in steel.panels
    ]
    rows += [
        (
            bar.name,
            lengths_words(bar.lengths, style),
            f"No. 3, {bar.where}, {bar.set_by}{f'; {bar.reach}' if bar.reach else ''}",
            written(bar.height_in, style),
        )
        for bar in steel.bars
    ]
    heads = ("", "cut to", "what, where", "above the face")
    yield from _table("Mesh and bars", heads, rows, (0.1, 0.2, 0.54, 0.16), paper)


# --- Facts ---------------------------------------------------------------------------------------


def _facts(job: Job, mold: Mold, paper: Paper) -> Iterator[Block]:
    starts = (paper.left, paper.left + FACT_IN)
    rooms = (FACT_IN - 0.1, paper.wide - FACT_IN)

    def head(y: float) -> list[AnyMark]:
        return [line_of("This mold", paper.left, y - 0.18, HEADING_IN, bold=True)]

    yield Block(0.32, head, with_next=True)
    for name, text in facts_of(job, mold):
        yield _row((name, text), starts, rooms)


def _base_words(job: Job, mold: Mold, style: LengthStyle) -> str:
    """Return how large a base is cut, or what panels it is made of."""
    boards = base_panels(job, mold)
    sizes = []
    for panel in boards.panels:
        wide, high = panel.size
        size = f"{written(wide, style)} x {written(high, style)} over all"
        sizes.append(size if len(boards.panels) == 1 else f"{panel.name}: {size}")
    how = "cut by its edges and diagonals"
    choices = mold_choices(job, mold.piece)
    if choices.construction == "sides-on-base":
        reach = written(choices.sidewall_thickness + choices.lip, style)
        how = f"its edges and diagonals are drawn on it, {reach} in from its own all round"
    said = f"{'; '.join(sizes)}; melamine face up, {how}"
    if boards.battens:
        lengths = listed([written(size, style) for size in boards.battens])
        said += f"; under each joint a batten {written(BATTEN_IN, style)} wide, {lengths} long"
    return said


def facts_of(job: Job, mold: Mold) -> Iterator[tuple[str, str]]:
    """Yield what is to be known of a mold beside its parts, each with what it is called."""
    style, unit = length_style(job), job.display
    piece, thickness = plan.piece(job, mold.piece), slab_thickness(job, mold.piece)
    if piece.state != "drawn":
        yield "state", f"Piece {piece.name} is {piece.state}: its mold stays as it was."
    weighs = f"{volume_words(piece.volume_cu_ft, unit)}, {weight_words(piece.weight_lb, unit)}"
    yield "slab", f"{written(thickness, style)} thick, {weighs}"
    choices = mold_choices(job, mold.piece)
    yield "base", _base_words(job, mold, style)
    height = written(strip_height(choices, thickness), style)
    made_of = f"slab {written(thickness, style)}"
    if choices.construction == "sides-outside-base":
        made_of += f", base {written(choices.base_thickness, style)} as measured"
    else:
        made_of += "; they stand on the base, screwed from below"
    yield "sidewalls", f"ripped {height} high at one fence setting ({made_of})"
    stock = f"{written(choices.sidewall_thickness, style)} thick as measured"
    own = choices.bend_thickness
    if own is not None and any(strip.blocks for strip in mold.strips):
        stock += f", {written(own, style)} where strips are bent"
    yield "sidewall stock", f"{stock}; a strip that runs past covers the end of its neighbor"
    bead = written(mold.bead_length_in + mold.uprights_length_in, style)
    yield "silicone", f"{bead} of bead; none along a seam, nor up its corners"
    for note in finish_notes((*mold.strips, *mold.knockouts)):
        yield "finish", note
    steel = reinforcement(job, mold.piece)
    if steel.panels or steel.bars:
        laps = ""
        if len(steel.panels) > 1:
            laps = f"panels that meet lap {written(steel.lap_in, style)}; "
        ties = f"{steel.ties} ties, one every {written(TIE_EVERY_IN, style)}; "
        hung = (
            f"{laps}{ties if steel.ties else ''}hang it from the sidewalls: chairs on the face show"
        )
        yield "steel", f"{hung}. {light_words(steel.weight_lb, unit)} in all. {LICENSED}"
    if mold.turning is not None:
        yield "turning over", mold.turning.words
