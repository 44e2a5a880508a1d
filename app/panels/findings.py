"""To look at: findings in words, each with Show and, where one exists, a one-press remedy."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from shop.findings import Finding
from shop.remedies import Remedy


class ToLookAt(QFrame):
    """The list of findings, blocking ones first."""

    show_asked = Signal(object)
    remedy_asked = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("To look at")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 10, 16, 12)
        column.setSpacing(8)
        heading = QLabel("To look at")
        heading.setProperty("look", "heading")
        column.addWidget(heading)
        self._list = QVBoxLayout()
        self._list.setSpacing(10)
        column.addLayout(self._list)
        self._shown: tuple[Finding, ...] | None = None
        self._cards: dict[Finding, QFrame] = {}
        self._offers: dict[Finding, list[QWidget]] = {}
        self.remedies: dict[Finding, list[QPushButton]] = {}

    def show_findings(self, findings: Sequence[Finding]) -> None:
        """Show these findings."""
        listed = tuple(sorted(findings, key=lambda finding: not finding.blocking))
        if listed == self._shown:
            return
        self._shown = listed
        while (item := self._list.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._cards, self._offers, self.remedies = {}, {}, {}
        for finding in listed:
            self._cards[finding] = self._card(finding)
            self._list.addWidget(self._cards[finding])
        if not listed:
            none = QLabel("Nothing found so far.")
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
            button = QPushButton(deed)
            button.setProperty("look", "remedy")
            button.setAccessibleName(f"{remedy.label}: {finding.title}")
            button.clicked.connect(lambda _=False, it=remedy: self.remedy_asked.emit(it))
            column.addWidget(button)
            words = QLabel(outcome)
            words.setProperty("look", "quiet")
            words.setWordWrap(True)
            words.setVisible(bool(outcome))
            column.addWidget(words)
            self._offers.setdefault(finding, []).extend((button, words))
            self.remedies.setdefault(finding, []).append(button)

    def _card(self, finding: Finding) -> QFrame:
        card = QFrame()
        card.setProperty("look", "finding" if finding.blocking else "advice")
        column = QVBoxLayout(card)
        column.setContentsMargins(11, 1, 0, 1)
        column.setSpacing(2)
        title = QLabel(finding.title)
        title.setProperty("look", "value")
        title.setWordWrap(True)
        text = QLabel(finding.text)
        text.setProperty("look", "quiet")
        text.setWordWrap(True)
        for label in (title, text):
            label.setTextFormat(Qt.TextFormat.PlainText)
        show = QPushButton("Show")
        show.setProperty("look", "remedy")
        show.setAccessibleName(f"Show: {finding.title}")
        show.clicked.connect(lambda: self.show_asked.emit(finding))
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(title, 1)
        row.addWidget(show)
        column.addLayout(row)
        column.addWidget(text)
        return card
