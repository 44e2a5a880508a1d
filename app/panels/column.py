"""The side column: a notice, what is chosen, what there is to look at, the tally at the foot.

The middle two scroll each on its own; the notice and the foot always show whole.
"""

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from app.panels.notice import Notice

SPACING_PX = 10
EDGE_PX = 3
FORM_PX = 132
LIST_PX = 72
"""The form and the list are never lower than this, unless all of it is."""


class Part(QFrame):
    """A card whose contents scroll when there is no room for all; as high as they are if there is.

    It steps aside while it has nothing to show.
    """

    def __init__(self, sections: Iterable[QWidget], *, fills: bool) -> None:
        super().__init__()
        self.setProperty("look", "card")
        policy = QSizePolicy.Policy.Expanding if fills else QSizePolicy.Policy.Maximum
        self.setSizePolicy(QSizePolicy.Policy.Preferred, policy)
        self._fills = fills
        self._inner = QWidget()
        self._column = QVBoxLayout(self._inner)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._sections = tuple(sections)
        for section in self._sections:
            section.setProperty("look", "section")
            section.installEventFilter(self)
            self._column.addWidget(section)
        self._column.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(self._inner)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 1, 1, 1)
        whole.addWidget(self.area)
        self._inner.installEventFilter(self)

    def sizeHint(self) -> QSize:
        """Return the size of all its contents at the width there is."""
        high = self._column.totalHeightForWidth(self.area.viewport().width())
        return QSize(0, max(high, self._column.minimumSize().height()) + 2 * EDGE_PX)

    def minimumSizeHint(self) -> QSize:
        """Return room for a heading and a line or two below it."""
        least = LIST_PX if self._fills else FORM_PX
        return QSize(0, min(least, self.sizeHint().height()))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Ask for another height when the contents want one."""
        if watched is self._inner and event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        elif event.type() in (QEvent.Type.HideToParent, QEvent.Type.ShowToParent):
            self.step_aside()
        return super().eventFilter(watched, event)

    def step_aside(self) -> None:
        """Show only while there is something to show."""
        self.setVisible(self._fills or any(not section.isHidden() for section in self._sections))


class SideColumn(QWidget):
    """Notice, form, list and foot."""

    def __init__(self) -> None:
        super().__init__()
        self._whole = QVBoxLayout(self)
        self._whole.setContentsMargins(0, 0, 4, 0)
        self._whole.setSpacing(SPACING_PX)
        self.notice = Notice()
        self._whole.addWidget(self.notice)

    def fill(self, form: Iterable[QWidget], listed: Iterable[QWidget], foot: QWidget) -> None:
        """Put everything into its place."""
        self.form = Part(form, fills=False)
        self._whole.addWidget(self.form)
        self.form.step_aside()
        self._whole.addWidget(Part(listed, fills=True), 1)
        self._whole.addWidget(foot)
