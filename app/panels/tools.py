"""The tool row over the drawing: the stage's tools on the left, what is shown on the right."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QButtonGroup, QHBoxLayout, QPushButton, QWidget

from app.actions import Action
from app.panels.flow import Flow

SIDE_PX, GAP_PX, CLOSE_GAP_PX = 10, 8, 5
"""Beside the row, and between buttons: usually, and where it would be two rows else."""


STAYS = ("start_tool", "pick_template")
"""What is at work until it is put down; all else is done by the press."""


class ToolRow(QWidget):
    """Buttons for the tools of the stage at hand."""

    asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Tools")
        self._rows = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._rows.setContentsMargins(SIDE_PX, 8, SIDE_PX, 2)
        self._tools = Flow(GAP_PX)
        self._rows.addLayout(self._tools, 1)
        row = QHBoxLayout()
        row.addStretch(1)
        self._shown = row
        self._rows.addLayout(row)
        self._rows.setAlignment(row, Qt.AlignmentFlag.AlignTop)
        self.buttons: dict[str, QPushButton] = {}
        self._sides = QButtonGroup(self)
        for action_id, title, name in (
            ("face-up", "Up", "Face up alone"),
            ("fold", "Fold", "Both sides of the fold"),
            ("face-down", "Down", "Face down alone"),
            ("fit", "All", "See all of it"),
        ):
            button = _button(title, name)
            button.setToolTip(name)
            button.clicked.connect(lambda _=False, a=action_id: self.asked.emit(a))
            if action_id != "fit":
                button.setCheckable(True)
                button.setAutoExclusive(True)
                self._sides.addButton(button)
            row.addWidget(button)
            self.buttons[action_id] = button
        self.tools: dict[str, QPushButton] = {}

    def show_tools(self, actions: Sequence[Action]) -> None:
        """Show a button for each tool."""
        if list(self.tools) == [action.id for action in actions]:
            return
        for button in self.tools.values():
            self._tools.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.tools = {}
        for action in actions:
            title = action.title.removesuffix(" ...")
            button = _button(action.short or title, title)
            button.setCheckable(action.callback in STAYS)
            button.setToolTip(f"{action.hint}  ({action.shortcut})")
            button.clicked.connect(lambda _=False, a=action.id: self.asked.emit(a))
            self._tools.addWidget(button)
            self.tools[action.id] = button
            button.show()
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take one row if there is room for it, else as many as it needs."""
        super().resizeEvent(event)
        self._arrange()

    def changeEvent(self, event: QEvent) -> None:
        """Look again when sizes change."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self._arrange()

    def minimumSizeHint(self) -> QSize:
        """Let the row be narrower than its buttons: it then takes two."""
        return QSize(200, super().minimumSizeHint().height())

    def _arrange(self) -> None:
        """Set one row, close together where it must be; else two or more, close if they must be."""
        one = any(self._needed_px(close=close) <= self.width() for close in (False, True))
        if not one:
            self._needed_px(close=False)
            if self._tools.one_row_px() + 2 * SIDE_PX > self.width():
                self._needed_px(close=True)
        self._rows.setDirection(
            QBoxLayout.Direction.LeftToRight if one else QBoxLayout.Direction.TopToBottom
        )

    def _needed_px(self, *, close: bool) -> int:
        """Set the buttons close together or not, and return how wide one row of them is."""
        gap = CLOSE_GAP_PX if close else GAP_PX
        for row in (self._shown, self._rows):
            row.setSpacing(gap)
        self._tools.set_gap(gap)
        for button in (*self.tools.values(), *self.buttons.values()):
            look = "close" if close else ""
            if button.property("look") != look:
                button.setProperty("look", look)
                button.style().unpolish(button)
                button.style().polish(button)
        return self._tools.one_row_px() + self._shown.sizeHint().width() + 2 * SIDE_PX + gap

    def mark(self, tool: str, enabled: dict[str, bool]) -> None:
        """Mark the tool at work, and which ones can be taken up."""
        for action_id, button in self.tools.items():
            button.setChecked(action_id == tool)
            button.setEnabled(enabled.get(action_id, True))

    def mark_sides(self, sides: str) -> None:
        """Mark which sides are shown."""
        action_id = {"both": "fold", "up": "face-up", "down": "face-down"}[sides]
        self.buttons[action_id].setChecked(True)


def _button(title: str, name: str) -> QPushButton:
    """Return a button that leaves the keys where they are when it is pressed with the mouse."""
    button = QPushButton(title)
    button.setAccessibleName(name)
    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return button
