"""The page of cut plans: each sheet with its steps, the shopping list, and the stock list."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QGraphicsOpacityEffect,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.canvas.one_sheet import OneSheet
from app.look import Palette
from app.panels.flow import Flow
from app.panels.properties import Properties
from app.plans_told import COLUMNS, MaterialTold
from app.things.boxes import Described
from geometry.lengths import LengthStyle

ROOM_IN = (0.42, 0.3)
"""Room beside and above a sheet for its dimensions, in inches of paper."""

STEPS_PX = 300
STALE = 0.45
"""How strong what is for the layout before is shown."""

NEXT_STRIP, STRIP_BELOW = "; strip ", ";\nstrip "
"""Strips that are cut to length are told under each other."""

SHOPPING, STOCK = "shopping", "stock"
FORMS_ABREAST = 3

NOTHING = "Nothing is to be cut: there are no pieces that are still to be built."
SOUGHT = "The list is made from the cut plans, which are still being looked for."
UNFOUND = "The list is made from the cut plans, and none are found yet: look again."


class StockPage(QWidget):
    """Cut plans sheet by sheet, what is to be bought, and the list of what there is."""

    back_asked = Signal()
    stop_asked = Signal()
    again_asked = Signal()
    answered = Signal(object, object)
    shown = Signal()

    def __init__(self, palette: Palette, dots: float) -> None:
        super().__init__()
        self.setAccessibleName("Cut plans and shopping")
        self.tabs: dict[str, QPushButton] = {}
        self.forms: list[Properties] = []
        self._materials: dict[str, MaterialTold] = {}
        self._tab, self._sheet = "", 0
        self._picked = False
        self._standing, self._stale = UNFOUND, False
        self._tab_group = QButtonGroup(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(22, 14, 22, 12)
        column.setSpacing(8)
        self._above = QWidget()
        above = QVBoxLayout(self._above)
        above.setContentsMargins(0, 0, 0, 0)
        above.setSpacing(8)
        column.addWidget(self._above)
        above.addLayout(self._head())
        self._tab_row = Flow(8)
        above.addLayout(self._tab_row)
        self.title, self.proof = QLabel(), QLabel()
        self.title.setProperty("look", "heading")
        self.proof.setProperty("look", "value")
        for label in (self.title, self.proof):
            label.setWordWrap(True)
            above.addWidget(label)
        self.body = QStackedWidget()
        self.body.addWidget(self._drawing(palette, dots))
        self.table = _Scrolled("Shopping list")
        self.list = _Scrolled("Parts of this material")
        self.stock = _Scrolled("Stock list", keys=False)
        for page in (self.list, self.table, self.stock):
            self.body.addWidget(page)
        column.addWidget(self.body, 1)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(18)
        self._grid.setVerticalSpacing(9)
        self._grid.setColumnStretch(len(COLUMNS), 1)
        self.table.column.addLayout(self._grid)
        self.total, self.besides = QLabel(), QLabel()
        self.total.setProperty("look", "heading")
        self.besides.setProperty("look", "quiet")
        for label in (self.total, self.besides):
            label.setWordWrap(True)
            self.table.column.addWidget(label)
        self.table.column.addStretch(1)
        self.lines = QLabel()
        self.lines.setWordWrap(True)
        self.lines.setTextFormat(Qt.TextFormat.PlainText)
        self.list.column.addWidget(self.lines)
        self.list.column.addStretch(1)
        self._columns = QHBoxLayout()
        self._columns.setSpacing(10)
        self.stock.column.addLayout(self._columns)
        self.stock.column.addStretch(1)
        self._show_tabs()
        self._pick(STOCK)

    def _head(self) -> QHBoxLayout:
        self.back = QPushButton("Back to the files")
        self.back.clicked.connect(self.back_asked)
        self.words = QLabel()
        self.words.setProperty("look", "quiet")
        self.words.setWordWrap(True)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of the search for cut plans")
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(140)
        self.bar.setRange(0, 1000)
        self.stop, self.again = QPushButton("Stop looking"), QPushButton("Look again")
        self.stop.clicked.connect(self.stop_asked)
        self.again.clicked.connect(self.again_asked)
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(self.back)
        row.addWidget(self.words, 1)
        for widget in (self.bar, self.stop, self.again):
            row.addWidget(widget)
            widget.hide()
        return row

    def _drawing(self, palette: Palette, dots: float) -> QWidget:
        page = QWidget()
        row = QHBoxLayout(page)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(14)
        left = QVBoxLayout()
        turning = QHBoxLayout()
        turning.setSpacing(8)
        self.before, self.next = QPushButton("Before"), QPushButton("Next")
        self.before.setAccessibleName("The sheet before")
        self.next.setAccessibleName("The next sheet")
        self.before.clicked.connect(lambda: self._turn(-1))
        self.next.clicked.connect(lambda: self._turn(1))
        self.name = QLabel()
        self.name.setProperty("look", "value")
        self.larger = QPushButton("Larger")
        self.larger.setCheckable(True)
        self.larger.toggled.connect(self._on_larger)
        for widget in (self.before, self.next, self.name):
            turning.addWidget(widget)
        turning.addStretch(1)
        turning.addWidget(self.larger)
        left.addLayout(turning)
        self.view = OneSheet(palette, dots, ROOM_IN)
        for seen in (self.view, self.view.viewport()):
            seen.setAccessibleName("Sheet with its parts")
        left.addWidget(self.view, 1)
        row.addLayout(left, 1)
        self._beside = steps = _Scrolled("Steps of cutting")
        steps.setFixedWidth(STEPS_PX)
        self.steps = QLabel()
        self.steps.setWordWrap(True)
        self.steps.setTextFormat(Qt.TextFormat.PlainText)
        self.steps.setAlignment(Qt.AlignmentFlag.AlignTop)
        steps.column.addWidget(self.steps)
        steps.column.addStretch(1)
        row.addWidget(steps)
        return page

    def dress(self, palette: Palette, dots: float) -> None:
        """Use other colors and sizes."""
        self.view.dress(palette, dots)

    # --- What is shown ---

    def show_plans(self, materials: Sequence[MaterialTold], *, stale: bool) -> None:
        """Show the plans of all materials, gray if they are of the layout before."""
        self._materials, self._stale = {told.key: told for told in materials}, stale
        self._show_tabs()
        known = self._tab in self.tabs and (self._picked or self._tab in self._materials)
        self._pick(self._tab if known else next(iter(self.tabs)))
        for widget in (self.view, self.steps, self.lines):
            effect = QGraphicsOpacityEffect(widget)
            effect.setOpacity(STALE)
            widget.setGraphicsEffect(effect if stale else None)  # type: ignore[arg-type]

    def show_shopping(
        self, rows: Sequence[Sequence[str]], total: str, besides: Sequence[str]
    ) -> None:
        """Show the shopping list."""
        while (item := self._grid.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        for row, cells in enumerate((COLUMNS, *rows)):
            for place, cell in enumerate(cells):
                label = QLabel(cell)
                if cell and row and place:
                    label.setAccessibleName(f"{cells[0]}, {COLUMNS[place]}: {cell}")
                label.setProperty("look", "quiet" if not row else "value" if not place else "")
                right = place in (0, 3, 4, 5, 6)
                side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
                label.setAlignment(side | Qt.AlignmentFlag.AlignVCenter)
                self._grid.addWidget(label, row, place)
        self.total.setText(total)
        said = "".join(f"\n{line}." for line in besides)
        self.besides.setText(f"Besides, without a line of their own:{said}" if besides else "")

    def show_stock(self, described: Sequence[Described], style: LengthStyle) -> None:
        """Show the forms of the stock list."""
        if not self.forms:
            columns = [QVBoxLayout() for _ in range(FORMS_ABREAST)]
            for each in columns:
                each.setSpacing(10)
                self._columns.addLayout(each, 1)
            filled = [0] * FORMS_ABREAST
            for thing in described:
                form = Properties()
                form.answered.connect(self.answered)
                form.left.connect(self.back.setFocus)
                shortest = filled.index(min(filled))
                filled[shortest] += len(thing.questions) + 1
                columns[shortest].addWidget(form)
                self.forms.append(form)
            for each in columns:
                each.addStretch(1)
        for form, thing in zip(self.forms, described, strict=True):
            form.setAccessibleName(thing.title)
            form.show_things(thing.title, thing.facts, thing.questions, style)

    def show_stock_list(self) -> None:
        """Turn to the stock list; the keys go to its first box."""
        self._on_tab(STOCK)
        if self.forms:
            self.forms[0].boxes[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def show_search(self, words: str, share: float | None, *, again: bool) -> None:
        """Say how the search stands; share is how far it is, None when it is over."""
        self.words.setText(words)
        busy = share is not None
        self._standing = SOUGHT if busy else UNFOUND if again or self._stale else NOTHING
        self._tell_proof()
        held = self.stop.hasFocus() or self.again.hasFocus()
        self.bar.setVisible(busy)
        self.stop.setVisible(busy)
        self.again.setVisible(again and not busy)
        if share is not None:
            self.bar.setValue(round(1000 * share))
        if held and not (self.stop.hasFocus() or self.again.hasFocus()):
            (self.stop if busy else self.again if again else self.back).setFocus()

    # --- What is picked ---

    def _show_tabs(self) -> None:
        """Show a button for each material, for the shopping list and for the stock list."""
        wanted = {told.key: _button(told) for told in self._materials.values()}
        wanted |= {SHOPPING: "Shopping list", STOCK: "Stock list"}
        if list(wanted) != list(self.tabs):
            for button in self.tabs.values():
                self._tab_row.removeWidget(button)
                button.hide()
                button.deleteLater()
            self.tabs = {}
            for key in wanted:
                button = QPushButton()
                button.setCheckable(True)
                button.setAutoExclusive(True)
                button.clicked.connect(lambda _=False, it=key: self._on_tab(it))
                self._tab_group.addButton(button)
                self._tab_row.addWidget(button)
                button.show()
                self.tabs[key] = button
        for key, words in wanted.items():
            self.tabs[key].setText(words)
            self.tabs[key].setAccessibleName(words)

    def _on_tab(self, key: str) -> None:
        self._picked = True
        self._pick(key)

    def _pick(self, key: str) -> None:
        """Show a material's plan, the shopping list or the stock list."""
        if key != self._tab:
            self._sheet = 0
        self._tab = key
        self.tabs[key].setChecked(True)
        told = self._materials.get(key)
        if told is None or not told.sheets:
            self.larger.setChecked(False)
        titles = {SHOPPING: "What to buy", STOCK: "What there is, and how it is cut"}
        self.title.setText(told.title if told is not None else titles[key])
        self._tell_proof()
        if told is None:
            self.body.setCurrentWidget(self.table if key == SHOPPING else self.stock)
        elif told.sheets:
            self._show_sheet(told, min(self._sheet, len(told.sheets) - 1))
        else:
            self.lines.setText("\n\n".join(told.lines))
            self.body.setCurrentWidget(self.list)

    def _tell_proof(self) -> None:
        """Say how good a plan is, or why there is none to make the shopping list from."""
        told = self._materials.get(self._tab)
        empty = not self._materials and self._tab == SHOPPING
        self.proof.setText(self._standing if empty else "" if told is None else told.words)
        self.proof.setVisible(bool(self.proof.text()))

    def _on_larger(self, larger: bool) -> None:
        """Give the drawing of a sheet all of the page, or take it back."""
        self.larger.setText("With its steps" if larger else "Larger")
        self._above.setVisible(not larger)
        self._beside.setVisible(not larger)

    def _show_sheet(self, told: MaterialTold, number: int) -> None:
        self._sheet = number
        self.body.setCurrentIndex(0)
        sheet, count = told.sheets[number], len(told.sheets)
        self.name.setText(sheet.name if count == 1 else f"{sheet.name} ({number + 1} of {count})")
        for button, there in ((self.before, number > 0), (self.next, number + 1 < count)):
            button.setVisible(count > 1)
            button.setEnabled(there)
        self.view.show_sheet(sheet.drawing)
        steps = [
            f"{place}.  {step.replace(NEXT_STRIP, STRIP_BELOW)}"
            for place, step in enumerate(sheet.steps, start=1)
        ]
        self.steps.setText("\n\n".join((*steps, *told.lines)))

    def _turn(self, by: int) -> None:
        """Go on to another sheet; the keys stay on a button that can be pressed."""
        buttons = (self.next, self.before) if by > 0 else (self.before, self.next)
        held = any(button.hasFocus() for button in buttons)
        self._show_sheet(self._materials[self._tab], self._sheet + by)
        if held:
            able = next(button for button in buttons if button.isEnabled())
            able.setFocus(Qt.FocusReason.OtherFocusReason)

    def showEvent(self, event: QShowEvent) -> None:
        """Ask for what is to be shown when the page comes up."""
        super().showEvent(event)
        self.shown.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step back with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            if self.larger.isChecked():
                self.larger.setChecked(False)
            else:
                self.back_asked.emit()
        else:
            super().keyPressEvent(event)


class _Scrolled(QScrollArea):
    """A column that scrolls up and down, by keys too where nothing in it takes them."""

    def __init__(self, name: str, *, keys: bool = True) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if keys else Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        self.column = QVBoxLayout(inner)
        self.column.setContentsMargins(0, 0, 8, 8)
        self.column.setSpacing(10)
        self.setWidget(inner)


def _button(told: MaterialTold) -> str:
    """Return what stands on a material's button: its name, and how many sheets it takes."""
    return f"{told.button} ({len(told.sheets)})" if told.sheets else told.button
