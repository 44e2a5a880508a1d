"""To look at: findings in words, each with Show and, where one exists, a one-press remedy."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.grouping import Group, grouped
from app.reading_order import show_whole
from shop.findings import Finding
from shop.remedies import Remedy

BRINGING_MS = 1500
"""A card that was shown is kept in sight for so long; then whoever scrolls has the list."""

ROUND_PX = 22
"""So much of a button's width is its round ends."""


class Deed(QPushButton):
    """A button that says in words what it does, in two lines where one has no room for them."""

    def __init__(self, words: str) -> None:
        super().__init__(words)
        self._words = words
        self.setProperty("look", "remedy")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Break the words in the middle where they are wider than the button."""
        super().resizeEvent(event)
        wide = self.fontMetrics().horizontalAdvance(self._words) > self.width() - ROUND_PX
        spaces = [place for place, letter in enumerate(self._words) if letter == " "]
        half = len(self._words) / 2.0
        at = min(spaces, key=lambda place: abs(place - half), default=0) if wide else 0
        text = f"{self._words[:at]}\n{self._words[at + 1 :]}" if at else self._words
        if text != self.text():
            self.setText(text)


class ToLookAt(QFrame):
    """The list of findings: blocking ones first, many of a kind folded into one.

    show_asked carries the findings to show, one or all of a kind.
    """

    show_asked = Signal(tuple)
    remedy_asked = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("To look at")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 10, 12, 12)
        column.setSpacing(8)
        self.heading = QLabel("To look at")
        self.heading.setProperty("look", "heading")
        column.addWidget(self.heading)
        self._list = QVBoxLayout()
        self._list.setSpacing(10)
        column.addLayout(self._list)
        self._shown: tuple[Group, ...] | None = None
        self._brought: QFrame | None = None
        self._bringing = QTimer(self, singleShot=True, interval=BRINGING_MS)
        self._unfolded: set[str] = set()
        self._cards: dict[Finding, QFrame] = {}
        self._kinds: dict[tuple[Finding, ...], QFrame] = {}
        self._offers: dict[Finding, list[QWidget]] = {}
        self.remedies: dict[Finding, list[QPushButton]] = {}
        self.shows: list[QPushButton] = []
        self.folds: dict[str, QPushButton] = {}

    def show_findings(self, findings: Sequence[Finding]) -> None:
        """Show these findings."""
        groups = grouped(findings)
        if groups == self._shown:
            return
        self._shown = groups
        while (item := self._list.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._brought = None
        self._cards, self._offers, self.remedies, self._kinds = {}, {}, {}, {}
        self.shows, self.folds = [], {}
        for group in groups:
            self._list.addWidget(self._folded(group) if group.folded else self._single(group))
        if not groups:
            none = QLabel("Nothing found so far. Findings are common practice: look yourself, too.")
            none.setWordWrap(True)
            none.setProperty("look", "quiet")
            self._list.addWidget(none)

    def show_remedies(self, finding: Finding, remedies: Sequence[Remedy]) -> None:
        """Offer what makes a finding go, in place of what was offered for it before."""
        self.remedies.pop(finding, None)
        for old in self._offers.pop(finding, []):
            old.hide()
            old.deleteLater()
        card = self._cards.get(finding)
        column = card.layout() if card is not None else None
        if column is None:
            return
        for remedy in remedies:
            deed, _, outcome = remedy.label.partition(": ")
            button = Deed(deed)
            button.setAccessibleName(f"{remedy.label}: {finding.title}")
            button.clicked.connect(lambda _=False, it=remedy: self.remedy_asked.emit(it))
            column.addWidget(button)
            words = QLabel(outcome)
            words.setProperty("look", "quiet")
            words.setWordWrap(True)
            column.addWidget(words)
            words.setVisible(bool(outcome))
            self._offers.setdefault(finding, []).extend((button, words))
            self.remedies.setdefault(finding, []).append(button)

    def mark_shown(self, found: tuple[Finding, ...]) -> None:
        """Mark the card of what is being looked at, and bring it into sight.

        It stays there while the form takes its share of the column, and remedies come to the card.
        """
        self._brought = None
        for group, card in self._kinds.items():
            shown = group == found
            if card.property("shown") != shown:
                card.setProperty("shown", shown)
                card.style().unpolish(card)
                card.style().polish(card)
            if shown:
                self._brought = card
                self._bringing.start()
                for widget in (card, self._seen_of(card)):
                    widget.installEventFilter(self)
                show_whole(card)

    def _seen_of(self, card: QFrame) -> QWidget:
        """Return what is seen of the list that a card is in."""
        area = self.parentWidget()
        while area is not None and not isinstance(area, QScrollArea):
            area = area.parentWidget()
        return card if area is None else area.viewport()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Bring a card that was just shown into sight again when it or its room changes."""
        changes = event.type() in (QEvent.Type.Resize, QEvent.Type.Move)
        if changes and self._bringing.isActive():
            QTimer.singleShot(0, self, self._bring)
        return super().eventFilter(watched, event)

    def _bring(self) -> None:
        if self._brought is not None:
            show_whole(self._brought)

    def _single(self, group: Group) -> QFrame:
        card = self._card(group)
        self._cards[group.findings[0]] = card
        return card

    def _folded(self, group: Group) -> QFrame:
        """Return the card of a kind, with a card for each finding that comes out on demand."""
        code = group.findings[0].code
        card = self._card(group)
        column = card.layout()
        assert isinstance(column, QVBoxLayout)
        inner = QWidget()
        members = QVBoxLayout(inner)
        members.setContentsMargins(0, 4, 0, 0)
        members.setSpacing(8)
        for finding in group.findings:
            one = self._card(Group(finding.title, finding.text, (finding,)), inner=True)
            self._cards[finding] = one
            members.addWidget(one)
        fold = QPushButton()
        fold.setProperty("look", "remedy")
        fold.setCheckable(True)

        def unfold(*, on: bool) -> None:
            inner.setVisible(on)
            fold.setText("Fold them up" if on else f"One by one ({len(group.findings)})")
            fold.setAccessibleName(f"{fold.text()}: {group.title}")
            (self._unfolded.add if on else self._unfolded.discard)(code)

        column.addWidget(fold, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(inner)
        fold.setChecked(code in self._unfolded)
        unfold(on=fold.isChecked())
        fold.toggled.connect(lambda on: unfold(on=on))
        self.folds[code] = fold
        return card

    def _card(self, group: Group, *, inner: bool = False) -> QFrame:
        card = QFrame()
        card.setAccessibleName(group.title)
        if not inner:
            self._kinds[group.findings] = card
            card.setProperty("look", "finding" if group.blocking else "advice")
        column = QVBoxLayout(card)
        column.setContentsMargins(0 if inner else 11, 1, 0, 1)
        column.setSpacing(3)
        title = QLabel(group.title)
        title.setProperty("look", "value")
        title.setWordWrap(True)
        text = QLabel(group.text)
        text.setProperty("look", "quiet")
        text.setWordWrap(True)
        for label in (title, text):
            label.setTextFormat(Qt.TextFormat.PlainText)
        show = QPushButton("Show")
        show.setProperty("look", "remedy")
        show.setAccessibleName(f"Show: {group.title}")
        show.clicked.connect(lambda: self.show_asked.emit(group.findings))
        self.shows.append(show)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(title, 1)
        row.addWidget(show, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(row)
        column.addWidget(text)
        return card
