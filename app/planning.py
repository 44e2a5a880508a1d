"""Cut plans in the window: looked for beside it, kept by what they follow from.

Plans of the layout before stay on the page, gray, until newer ones come; undo brings kept ones
back at once. Nothing is looked for while the page is not shown.
"""

from PySide6.QtCore import QObject

from app.asking import Answer, Question
from app.background import Planner
from app.panels.choice_box import strand_by_keys
from app.panels.stock import StockPage
from app.plans_told import left_words, materials_told, share_of, shopping_rows
from app.things.stock import stock_described
from app.workbench import Workbench
from export.planned import needed, to_buy
from shop.cut_plans import CutPlans
from shop.material_needs import Needs
from shop.words import length_style

KEPT = 8
"""So many plans are kept, so that undo brings them back."""

ENDED = "The search ended before it was done. Look again."


class Planning(QObject):
    """Looks for cut plans and shows them on the page of a workbench."""

    def __init__(self, bench: Workbench, page: StockPage) -> None:
        super().__init__(bench)
        self.bench, self.session, self.page = bench, bench.session, page
        self.search = Planner()
        self._under_way: Needs | None = None
        self._kept: dict[Needs, CutPlans] = {}
        self._given_up: Needs | None = None
        self._shown: CutPlans | None = None
        self._partial: CutPlans | None = None
        self._partial_of: Needs | None = None
        self._trouble = ""
        self.search.progressed.connect(self._on_progress)
        self.search.done.connect(self._on_done)
        self.search.failed.connect(lambda _: self._on_ended(ENDED))
        page.stop_asked.connect(self.stop)
        page.again_asked.connect(self.look_again)
        page.answered.connect(self._on_answered)
        page.shown.connect(self.refresh)
        bench.consequences_shown.connect(self.refresh)
        bench.window.closing.connect(self.search.stop)

    def _on_answered(self, question: Question, answer: Answer) -> None:
        strand = strand_by_keys(question.key, "stock")
        self.session.apply(*question.edits(answer), strand=strand)

    def refresh(self) -> None:
        """Show the plans of the job as it is, or look for them, while the page is shown."""
        if self.session.stage != "Sheets" or not self.page.isVisible():
            self._give_up_quietly()
            return
        job = self.session.job
        needs = needed(job)
        self.page.show_stock(stock_described(job), length_style(job))
        if needs in self._kept:
            self._give_up_quietly()
            self._shown = self._kept[needs]
        elif needs not in (self._under_way, self._given_up):
            self._begin(needs)
        self._show(needs)

    def look_again(self) -> None:
        """Look for the plans of the job as it is."""
        self._given_up = None
        self.refresh()

    def stop(self) -> None:
        """Stop the search; the best plans so far stay."""
        self._given_up = self._under_way
        self.search.stop()
        self._on_ended("Stopped.")

    def _begin(self, needs: Needs) -> None:
        self._under_way, self._given_up, self._trouble = needs, None, ""
        self.search.plan(self.session.job)

    def _give_up_quietly(self) -> None:
        self.search.stop()
        self._under_way = self._given_up = None

    def _show(self, needs: Needs) -> None:
        """Show what is known: fresh plans, those found so far, or those of the layout before."""
        job, plans = self.session.job, self._shown
        fresh = plans is not None and plans is self._kept.get(needs)
        partial = not fresh and plans is self._partial and self._partial_of == needs
        if plans is not None:
            found = to_buy(job, plans)
            self.page.show_plans(materials_told(job, plans), stale=not fresh and not partial)
            self.page.show_shopping(shopping_rows(found), found.total_words, found.besides)
        busy = self._under_way is not None
        if busy:
            words = left_words(needs, plans if partial else None)
        elif self._given_up is not None:
            words = f"{self._trouble} What was found so far is shown." if partial else self._trouble
        else:
            words = self._trouble
        if plans is not None and not fresh and not partial:
            words = f"For the previous layout. {words}"
        share = share_of(needs, plans if partial else None) if busy else None
        self.page.show_search(words, share, again=self._given_up is not None)

    def _on_progress(self, plans: CutPlans) -> None:
        self._partial = self._shown = plans
        self._partial_of = self._under_way
        assert self._under_way is not None
        self._show(self._under_way)

    def _on_done(self, plans: CutPlans) -> None:
        needs = self._under_way
        assert needs is not None
        self._kept[needs] = self._shown = plans
        while len(self._kept) > KEPT:
            del self._kept[next(iter(self._kept))]
        self._on_ended("")
        self.bench.announce("The cut plans are found.")

    def _on_ended(self, trouble: str) -> None:
        needs, self._under_way, self._trouble = self._under_way, None, trouble
        if trouble and needs is not None:
            self._given_up = needs
        if needs is not None:
            self._show(needs)
