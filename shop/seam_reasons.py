"""Seam layouts in words: what speaks for one, how two differ, and which limit none keeps."""

from collections.abc import Mapping

from geometry.lengths import written
from geometry.outline import area
from geometry.tolerances import SAME_POINT_IN
from shop.measures import weight_words
from shop.seam_candidates import FAR_IN, Candidate, clearance
from shop.seam_layouts import LIMITS, Layout, Limit, Search, inches_near
from shop.seam_row import mitred_sq_in, pounds
from shop.weights import weight_shown
from shop.words import length_style, listed, opening_words

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _counted(number: int) -> str:
    return NUMBERS[number] if number < len(NUMBERS) else str(number)


MOST_NUMBERS = 3
"""So many seams that differ are told by their number from the left, more are counted."""


def moved_words(search: Search, layout: Layout, other: Layout) -> str:
    """Return which seams lie elsewhere than those of another layout of as many."""
    alike = search.alike(other.places)
    moved = [k + 1 for k, place in enumerate(layout.places[1:-1]) if not alike[place, k]]
    if len(alike[0]) == 1:
        return "the seam"
    if len(moved) > MOST_NUMBERS:
        return f"{_counted(len(moved))} seams"
    return f"seam{'s' if moved[1:] else ''} {listed(map(str, moved))} from the left"


def layout_words(search: Search, layout: Layout, chosen: list[Candidate]) -> str:
    """Return what a layout is like: 'two seams, both on cabinet sides; heaviest piece 182 lb'."""
    job = search.row.job
    weights = sorted(_weights(search, layout))
    lightest, heaviest = (weight_words(weights[k], job.display) for k in (0, -1))
    if not chosen:
        return f"no seam: one piece of {heaviest}"
    seams = _seam_words(search, layout, chosen)
    said = [f"{seams}; heaviest piece {heaviest}, lightest {lightest}"]
    clear, name = min(_nearest(search, seam) for seam in chosen)
    if clear > 0.0 and inches_near(clear):
        said.append(f"{written(clear, length_style(job))} from a seam to the {name}")
    bridges = layout.score.bridges
    if bridges:
        said.append(f"{_counted(bridges)} narrow bridge{'s' if bridges > 1 else ''}")
    return "; ".join(said)


def _weights(search: Search, layout: Layout) -> list[float]:
    """Return what the pieces of a layout weigh, the knockouts' places included."""
    job, top = search.row.job, search.row.top.top.id
    return [
        pounds(
            job,
            top,
            area(made.face.outline)
            + sum(area(o.outline) for o in made.face.openings)
            - mitred_sq_in(job, top, made.face.outline),
        )
        for made in layout.pieces
    ]


def _nearest(search: Search, seam: Candidate) -> tuple[float, str]:
    row = search.row
    front, back = seam.front, seam.back
    near = ((clearance(front, back, o), opening_words(row.job, o.id)) for o in row.top.openings)
    return min(near, default=(FAR_IN, ""))


def _seam_words(search: Search, layout: Layout, chosen: list[Candidate]) -> str:
    kinds = [
        _kind(search, place, seam) for place, seam in zip(layout.places[1:-1], chosen, strict=True)
    ]
    many = len(kinds)
    count = f"{_counted(many)} seam{'s' if many > 1 else ''}"
    told = {kind: kinds.count(kind) for kind in dict.fromkeys(kinds) if kind != ("", "")}
    if not told:
        return count
    if len(set(kinds)) == 1:
        one, several = kinds[0]
        every = "both " if many == 2 else "all "
        return f"{count}, {one}" if many == 1 else f"{count}, {every}{several}"
    parts = [
        f"{_counted(number)} {one if number == 1 else several}"
        for (one, several), number in told.items()
    ]
    return f"{count}, {listed(parts)}"


def _kind(search: Search, place: int, seam: Candidate) -> tuple[str, str]:
    """Return where a seam is, of one and of several; nothing if there is nothing to say."""
    if seam.sink is not None:
        return ("in the middle of the sink", "in the middle of sinks")
    if seam.why == "in line":
        return ("in line with the top's", "in line with the top's")
    below = search.under(place)
    if below is not None and not below.holds:
        return ("with nothing under an end", "with nothing under an end")
    if seam.why == "corner":
        return ("in a corner", "in corners")
    if below is None:
        return ("", "")
    if below.on_sides:
        return ("on a cabinet side", "on cabinet sides")
    return ("within a cabinet", "within cabinets")


# --- When no layout keeps the limits ------------------------------------------------------------


def none_words(search: Search, given: Mapping[Limit, float], nearest: Layout) -> str:
    """Return which limit no layout keeps, and by how much the nearest one is over it."""
    over = over_words(search, nearest)
    if len(given) == 1:
        (limit,) = given
        kept = _kept_words(search, limit)
        return f"No layout of seams keeps {kept}. The nearest: {over}. Change it, or take that one."
    return (
        "No layout of seams keeps the limits of weight, doorway, length and sheet together. The"
        f" nearest: {over}. Change them, or take that one."
    )


def over_words(search: Search, layout: Layout) -> str:
    """Return by how much a layout is over the limits: '12 lb over what one carry takes'."""
    job, over = search.row.job, search.over(layout)
    style = length_style(job)
    heaviest = weight_shown(max(_weights(search, layout)))
    heavier = max(heaviest - job.limits.carry_lb, min(over["carry"], 1.0))
    said = {
        "carry": f"{weight_words(heavier, job.display)} over what one carry takes",
        "doorway": f"{written(over['doorway'], style)} too high for the doorway",
        "length": f"{written(over['length'], style)} over the longest piece",
        "sheet": f"a base {written(over['sheet'], style)} too large for a sheet",
    }
    return listed(said[limit] for limit in LIMITS if over[limit] > SAME_POINT_IN)


def _kept_words(search: Search, limit: Limit) -> str:
    job, limits, board = search.row.job, search.limits, search.board
    style = length_style(job)
    long, wide = written(board.length, style), written(board.width, style)
    words: Mapping[Limit, str] = {
        "carry": f"every piece at {weight_words(limits.carry_lb, job.display)} or less",
        "doorway": f"every piece low enough for a doorway of {written(limits.doorway, style)}",
        "length": f"every piece at {written(limits.piece_length, style)} long or less",
        "sheet": f"every base on a sheet of {long} by {wide}",
    }
    return words[limit]
