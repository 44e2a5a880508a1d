"""The printer's correction: what the check bars of a plot measure makes the next plot true.

A bar drawn at scale s that should be n long and measures m was stretched by m / (s n), so that
the next plot is drawn at s n / m. Kept among the user's settings: it belongs to the printer.
"""

import json
from pathlib import Path
from typing import NamedTuple

from export.shopfiles import Scale

MOST_OFF = 0.05
"""A printer is off by less; more is a page made to fit the paper (common practice, no source)."""

TRUE: Scale = (1.0, 1.0)

FILE = "printer.json"


class CorrectionError(Exception):
    """What was measured cannot be a check bar; one sentence says why."""


class Correction(NamedTuple):
    """The scale, along x and y, at which the newest plot was drawn, and that of the next one."""

    last: Scale = TRUE
    next: Scale = TRUE


def measured(known: Correction, axis: int, bar_in: float, found_in: float) -> Correction:
    """Return the correction once the newest plot's bar along an axis (0 across, 1 up) is measured.

    Typed again, a measure takes the place of the one before.

    Raises:
        CorrectionError: the bar is off by more than a printer ever is.
    """
    if not abs(found_in / bar_in - 1.0) <= MOST_OFF:
        raise CorrectionError(
            "That is more than 5 % off: the page was made to fit the paper. Print it again at"
            " 100 %, without fitting."
        )
    scale = known.last[axis] * bar_in / found_in
    if not abs(scale - 1.0) <= 2.0 * MOST_OFF:
        raise CorrectionError("The corrections add up to more than 10 %: forget them, plot anew.")
    following = (scale, known.next[1]) if axis == 0 else (known.next[0], scale)
    return known._replace(next=following)


def plotted(known: Correction) -> Correction:
    """Return the correction once a plot was drawn with it."""
    return Correction(known.next, known.next)


def words(known: Correction) -> str:
    """Return in words how the next plot is drawn."""
    said = [
        f"{100.0 * abs(scale - 1.0):.2f} % {'longer' if scale > 1.0 else 'shorter'} {way}"
        for scale, way in zip(known.next, ("across", "up"), strict=True)
        if round(scale, 4) != 1.0
    ]
    return f"The next plot is drawn {' and '.join(said)}." if said else "No correction."


def kept(folder: Path) -> Correction:
    """Return the correction kept in the settings; none if there is none that makes sense."""
    try:
        read = json.loads((folder / FILE).read_text(encoding="utf-8"))
        last, following = ((float(x), float(y)) for x, y in (read["last"], read["next"]))
    except (OSError, ValueError, TypeError, KeyError):
        return Correction()
    if not all(abs(scale - 1.0) <= 2.0 * MOST_OFF for scale in (*last, *following)):
        return Correction()
    return Correction(last, following)


def keep(folder: Path, known: Correction) -> None:
    """Keep a correction; a folder that cannot be written only forgets it."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / FILE).write_text(json.dumps(known._asdict()), encoding="utf-8")
    except OSError:
        return
