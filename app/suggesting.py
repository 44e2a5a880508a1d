"""Suggested seams in the window: asked for beside it, kept by what they follow from, taken.

What was found is kept when the drawing changes, out of sight as for the previous layout, until
it is asked again or undone.
"""

from functools import reduce
from typing import TYPE_CHECKING, NamedTuple

from msgspec.structs import replace
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from app.background import Suggester
from app.panels.seam_layouts import LayoutTold, SeamLayouts
from app.workbench import Workbench
from geometry.naming import Id
from geometry.picking import Subject
from shop.anchors import host_of
from shop.applying import applied
from shop.job import Job, fresh_id
from shop.plan import pieces
from shop.references import top_ids
from shop.seam_layouts import MOST
from shop.seam_proposals import Proposal, layout_edits
from shop.stock_list import SheetGoods, Stock
from shop.words import capital, top_words

if TYPE_CHECKING:
    from app.seam_pictures import Suggested

KEPT = 8
"""So many results are kept, so that undo brings them back."""


class _Asked(NamedTuple):
    """What a search follows from: the top, and the job without what it does not look at."""

    top: Id
    job: Job


def _asked(job: Job, top: Id) -> _Asked:
    bare = replace(
        job,
        name="",
        note="",
        next_id=1,
        seams=(),
        piece_names=(),
        edge_choices=(),
        turn_choices=(),
        past_choices=(),
        mold_choices=(),
        stock=Stock(SheetGoods(length=job.stock.board.length, width=job.stock.board.width)),
        issued=None,
    )
    return _Asked(top, bare)


class Suggesting(QObject):
    """Asks for seam layouts and shows them on the card of a workbench."""

    def __init__(self, bench: Workbench, card: SeamLayouts) -> None:
        super().__init__(bench)
        self.bench, self.session, self.card = bench, bench.session, card
        self.search = Suggester()
        self._top: Id = ""
        self._under_way: _Asked | None = None
        self._found = 0
        self._kept: dict[_Asked, Suggested] = {}
        self._shown: Suggested | None = None
        self._trouble = ""
        self.search.progressed.connect(self._on_progress)
        self.search.done.connect(self._on_done)
        self.search.failed.connect(
            lambda _: self._on_ended("The search ended before it was done. Ask again.")
        )
        card.taken.connect(self._take)
        card.again.connect(self.suggest)
        card.stop_asked.connect(self.stop)
        card.closed.connect(self._close)
        self.session.changed.connect(self.refresh)
        self.session.stage_changed.connect(self.refresh)
        bench.window.closing.connect(self.search.stop)

    def suggest(self) -> None:
        """Look for layouts of the top at hand, or show what is known of it."""
        job = self.session.job
        top = self._at_hand()
        if top != self._top:
            self._shown = None
        self._top, self._trouble = top, ""
        asked = _asked(job, top)
        self.search.stop()
        self._under_way = None
        if asked not in self._kept:
            self._under_way, self._found = asked, 0
            self.search.suggest(job, top)
        self.refresh()
        self.card.focus_first()

    def stop(self) -> None:
        """Stop the search."""
        self.search.stop()
        self._on_ended("Stopped before anything was found.")

    def refresh(self) -> None:
        """Show what is known of the drawing as it is."""
        job = self.session.job
        if not self._top or self._top not in top_ids(job):
            self._close()
        elif self.session.stage != "Seams":
            self.card.hide()
        elif self._under_way is not None:
            share = (self._found + 0.5) / (MOST + 1)
            self.card.show_search(f"Looking for seams in {top_words(job, self._top)}.", share)
        else:
            self._show_known(job)

    def _show_known(self, job: Job) -> None:
        fresh = self._kept.get(_asked(job, self._top))
        self._shown = shown = fresh or self._shown
        if shown is None:
            self.card.show_layouts(self._trouble, (), stale=True)
            return
        dark = self.bench.look.name == "dark"
        told = [
            LayoutTold(_told(layout.words), picture, taken=_is_there(job, self._top, layout))
            for layout, drawn in zip(shown.proposals.best, shown.pictures, strict=True)
            for picture in (drawn.dark if dark else drawn.light,)
        ]
        name = top_words(job, self._top)
        if fresh is None:
            words = f"For the previous layout of {name}."
        else:
            words = shown.proposals.none or f"For {name}, the best first. Press one to take it."
        self.card.show_layouts(words, told, stale=fresh is None)

    def _on_progress(self, found: int) -> None:
        self._found = found
        self.refresh()

    def _on_done(self, suggested: "Suggested") -> None:
        assert self._under_way is not None
        self._keep(self._under_way, suggested)
        self._shown = suggested
        self._on_ended("")
        self.bench.announce(suggested.proposals.none or "Seams are suggested.")

    def _keep(self, asked: _Asked, suggested: "Suggested") -> None:
        self._kept[asked] = suggested
        while len(self._kept) > KEPT:
            del self._kept[next(iter(self._kept))]

    def _on_ended(self, trouble: str) -> None:
        """Show what there is after a search; the keys stay on the card if they were there."""
        held = self.card.isAncestorOf(QApplication.focusWidget() or self.bench.window)
        self._under_way, self._trouble = None, trouble
        self.refresh()
        if held:
            self.card.focus_first()

    def _take(self, number: int) -> None:
        """Put a layout's seams in place of those that the top has, as one step."""
        assert self._shown is not None
        job, layout = self.session.job, self._shown.proposals.best[number]
        seams = tuple(
            replace(seam, id=fresh_id(job, "seam", ahead))
            for ahead, seam in enumerate(layout.seams)
        )
        self.session.choose()
        title = f"split {top_words(job, self._top)} as suggested"
        steps = layout_edits(job, self._top, layout._replace(seams=seams))
        # A corner that goes with the seams is no new drawing to think about.
        self._keep(_asked(reduce(applied, steps, job), self._top), self._shown)
        self.session.apply(*steps, title=title)

    def _close(self) -> None:
        """Put the card away; the keys go back to the drawing if they were on it."""
        self.search.stop()
        held = self.card.isAncestorOf(QApplication.focusWidget() or self.bench.window)
        self._top, self._under_way, self._shown = "", None, None
        self.card.hide()
        if held:
            self.bench.take_keys()

    def _at_hand(self) -> Id:
        """Return the top that is chosen, or that of the heaviest piece."""
        job = self.session.job
        subject = self.bench.chosen_one()
        if subject is not None:
            found = _top_of(job, subject)
            if found:
                return found
        heaviest = max(pieces(job), key=lambda piece: piece.weight_lb, default=None)
        return top_ids(job)[0] if heaviest is None else heaviest.top


def _told(words: str) -> str:
    """Return what is said of a layout as a sentence of its own."""
    return f"{capital(words)}."


def _is_there(job: Job, top: Id, layout: Proposal) -> bool:
    """Tell whether a top is split by just these seams, and its corners are as they are to be."""
    there = {seam.start for seam in job.seams if seam.top == top}
    return there == {seam.start for seam in layout.seams} and all(
        applied(job, edit) == job for edit in layout.also
    )


def _top_of(job: Job, subject: Subject) -> Id:
    """Return the top that something belongs to, or nothing."""
    known = {piece.name: piece.top for piece in pieces(job)} if subject.kind == "piece" else {}
    known |= {top: top for top in top_ids(job)}
    known |= {leg.id: run.id for run in job.runs for leg in run.legs}
    known |= {seam.id: seam.top for seam in job.seams}
    for opening in job.openings:
        known[opening.id] = known[host_of(job, opening)]
    return known.get(subject.id, "")
