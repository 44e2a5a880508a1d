"""Cut plans and the shopping list as pages of the booklet, upright, one thing under the other."""

from collections.abc import Iterator, Sequence

from export.cut_plan_marks import cut_sheet
from export.cut_plan_words import bar_lines, heading, sheet_lines
from export.marks import AnyMark, Line, Sheet, Words
from export.pages import Page, View, fitted
from export.paragraphs import LEADING, broken, line_of, paragraph
from export.planned import planned, to_buy
from export.stamp import Stamp, check_bars, sample_view
from geometry.lengths import LengthStyle
from shop.cut_plans import CutPlan, CutPlans
from shop.job import Job
from shop.shopping import Item, ShoppingList, money
from shop.words import length_style

MARGIN_IN = 0.5
TITLE_IN = 0.24
HEADING_IN = 0.17
WORDS_IN = 0.14
TOP_IN = 1.0
FOOT_IN = 1.15
BESIDE_BARS_IN = 2.0

DRAWN_IN = {"board": 7.4, "strip board": 7.4}
SMALLER_IN = 4.2
"""How wide a sheet is drawn; foam and mesh are cut in few steps, so two find room on a page."""

BETWEEN_IN = 0.3
"""Between what stands under each other."""

STEP_IN = 0.32
"""How far the words of a step stand in from its number."""

COLUMNS = (
    ("to buy", 0.0, "left"),
    ("what", 1.1, "left"),
    ("size", 2.95, "left"),
    ("needed", 5.05, "right"),
    ("in the shop", 5.85, "right"),
    ("price", 6.55, "right"),
    ("cost", 7.25, "right"),
)
"""The columns of the shopping list and where they stand, from the margin."""

ROW_IN = 0.29


def cut_plan_pages(
    job: Job, stamp: Stamp, size: tuple[float, float], *, metric: bool
) -> Iterator[Page]:
    """Yield the pages of the cut plans, then that of the shopping list; none for nothing."""
    plans, style = planned(job), length_style(job)
    flow = _Flow(stamp, size, "Cut plans", metric=metric)
    found = to_buy(job, plans)
    for cut in plans.sheets:
        _add_plan(flow, job, cut, style)
    _add_bars(flow, plans, style)
    if plans.sheets or plans.bars is not None:
        yield from flow.pages()
    if found.items:
        flow = _Flow(stamp, size, "Shopping list", metric=metric)
        _add_shopping(flow, found)
        yield from flow.pages()


class _Flow:
    """Pages being filled from the top down."""

    def __init__(
        self, stamp: Stamp, size: tuple[float, float], title: str, *, metric: bool
    ) -> None:
        self._stamp, self._size, self._title, self._metric = stamp, size, title, metric
        self._made: list[tuple[list[AnyMark], list[View]]] = []
        self._break()

    @property
    def room(self) -> float:
        """How wide the words may be."""
        return self._size[0] - 2.0 * MARGIN_IN

    def _break(self) -> None:
        self._made.append(([], []))
        self._y = self._size[1] - TOP_IN

    def keep(self, high: float) -> None:
        """Begin a new page if there is less room than that, and more on a new one."""
        if self._y - high < FOOT_IN and self._y < self._size[1] - TOP_IN:
            self._break()

    def drawing(self, sheet: Sheet, wide: float) -> None:
        """Add a drawing so wide, from the left."""
        x0, y0, x1, y1 = sheet.box
        room = 2.0 * sheet.margin
        high = (wide - room) * (y1 - y0) / (x1 - x0) + room
        low = self._y - high + WORDS_IN
        self._made[-1][1].append(
            fitted(sheet, (MARGIN_IN, low, MARGIN_IN + wide, self._y + WORDS_IN))
        )
        self._y = low - WORDS_IN

    def heading(self, text: str) -> None:
        """Add a heading."""
        words, y = paragraph(text, MARGIN_IN, self._y, HEADING_IN, self.room, bold=True)
        self._add(words, y - 0.03)

    def words(self, text: str, number: str = "", *, bold: bool = False) -> None:
        """Add a paragraph, or a numbered step."""
        indent = STEP_IN if number else 0.0
        lines = broken(text, WORDS_IN, self.room - indent, bold=bold)
        self.keep(len(lines) * WORDS_IN * LEADING)
        words, y = paragraph(
            text, MARGIN_IN + indent, self._y, WORDS_IN, self.room - indent, bold=bold
        )
        first = (line_of(number, MARGIN_IN, self._y, WORDS_IN, bold=True),) if number else ()
        self._add((*first, *words), y)

    def row(self, cells: Sequence[Words], *, ruled: bool) -> None:
        """Add cells beside each other, made for a line at 0, with a rule over them or not."""
        self.keep(ROW_IN)
        at = [
            Words(
                cell.role,
                text=cell.text,
                at=(cell.at[0] + MARGIN_IN, self._y),
                anchor=cell.anchor,
                height=cell.height,
                bold=cell.bold,
                max_width=cell.max_width,
            )
            for cell in cells
        ]
        if ruled:
            self.rule()
        self._add(at, self._y - ROW_IN)

    def rule(self) -> None:
        """Add a rule over what comes next."""
        y = self._y + ROW_IN / 2.0
        ends = ((MARGIN_IN, y), (self._size[0] - MARGIN_IN, y))
        self._made[-1][0].append(Line("frame", points=ends, bulges=(0.0,)))

    def space(self) -> None:
        """Leave some room."""
        self._y -= BETWEEN_IN

    def _add(self, words: Sequence[Words], y: float) -> None:
        self._made[-1][0].extend(words)
        self._y = y

    def pages(self) -> Iterator[Page]:
        """Yield the pages with what stands on each of them."""
        wide, high = self._size
        for number, (marks, views) in enumerate(self._made):
            title = self._title + (" (continued)" if number else "")
            head, _ = paragraph(title, MARGIN_IN, high - 0.62, TITLE_IN, self.room, bold=True)
            bars = check_bars((MARGIN_IN, 0.4), metric=self._metric, part=0.25)
            beside = self._size[0] - MARGIN_IN - BESIDE_BARS_IN
            foot, _ = paragraph(self._stamp.line, BESIDE_BARS_IN, 0.62, 0.14, beside)
            sheet = Sheet("words", (*head, *marks, *bars, *foot), (0, 0, wide, high))
            behind = (sample_view(wide, high),) if self._stamp.sample else ()
            whole = (*behind, *views, View(sheet, (1.0, 1.0), (0.0, 0.0)))
            yield Page(title, wide, high, whole)


def _add_plan(flow: _Flow, job: Job, cut: CutPlan, style: LengthStyle) -> None:
    """Add the sheets of a plan, each with its steps."""
    title, said = heading(job, cut, style)
    wide = DRAWN_IN.get(cut.need.material, SMALLER_IN)
    for number in range(len(cut.plan.used)):
        sheet = cut_sheet(cut, number, style)
        name, steps = sheet_lines(cut, number, style)
        lines = sum(len(broken(step, WORDS_IN, flow.room - STEP_IN)) for step in steps)
        drawn = (wide - 2.0 * sheet.margin) / 2.0 + 2.0 * sheet.margin
        flow.keep(drawn + (lines + 4) * WORDS_IN * LEADING)
        if not number:
            flow.heading(title)
            flow.words(said)
        flow.words(name, bold=True)
        flow.drawing(sheet, min(wide, flow.room))
        for step, words in enumerate(steps, start=1):
            flow.words(words, f"{step}.")
        flow.space()
    if not cut.plan.used:
        flow.heading(title)
    for trouble in cut.troubles:
        flow.words(trouble)
    if cut.troubles:
        flow.space()


def _add_bars(flow: _Flow, plans: CutPlans, style: LengthStyle) -> None:
    if plans.bars is None:
        return
    title, said, lines = bar_lines(plans.bars, style)
    flow.keep((len(lines) + 4) * WORDS_IN * LEADING)
    flow.heading(title)
    flow.words(said)
    for line in lines:
        flow.words(line)
    for trouble in plans.bars.troubles:
        flow.words(trouble)


def _add_shopping(flow: _Flow, found: ShoppingList) -> None:
    heads = [_cell(place, name, bold=True) for place, (name, _, _) in enumerate(COLUMNS)]
    flow.row(heads, ruled=False)
    for item in found.items:
        flow.row([_cell(place, text) for place, text in enumerate(_cells(item))], ruled=True)
    flow.rule()
    flow.words(found.total_words, bold=True)
    _add_besides(flow, found)


def _add_besides(flow: _Flow, found: ShoppingList) -> None:
    if found.besides:
        flow.space()
        flow.heading("Besides, without a line of their own")
        for text in found.besides:
            flow.words(f"{text}.")
    flow.space()
    flow.words(
        "Board and foam are counted for molds that are not cut yet, all else for slabs that are not"
        " poured yet. Prices are those of the stock list, in your own money."
    )


def _cells(item: Item) -> tuple[str, ...]:
    units = item.unit if item.buy == 1 else f"{item.unit}{'es' if item.unit == 'box' else 's'}"
    return (
        f"{item.buy} {units}" if item.buy else "none",
        item.name,
        item.size,
        str(item.needed),
        str(item.in_shop),
        "no price" if item.price is None else money(item.price),
        "" if item.cost is None else money(item.cost),
    )


def _cell(place: int, text: str, *, bold: bool = False) -> Words:
    _, x, anchor = COLUMNS[place]
    return Words(
        "words",
        text=text,
        at=(x, 0.0),
        anchor="left" if anchor == "left" else "right",
        height=WORDS_IN,
        bold=bold,
    )
