"""Menus made of the actions: each action becomes one QAction with name, key and state."""

from collections.abc import Callable

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from app.actions import ACTIONS, MENUS, Action, Situation, title


class Menus:
    """The menus of a window, and the QAction of every action.

    Their keys work wherever the focus is, except for those that a box takes as its own text.
    """

    def __init__(
        self,
        window: QMainWindow,
        call: Callable[[Action], None],
        fillers: dict[str, Callable[[QMenu], None]],
    ) -> None:
        self.actions: dict[str, QAction] = {}
        bar = window.menuBar()
        bar.setAccessibleName("Menus")
        for name in MENUS:
            menu = bar.addMenu(f"&{name}")
            stage = None
            for action in (a for a in ACTIONS if a.menu == name):
                if action.gap_before or (action.stage != stage and stage is not None):
                    menu.addSeparator()
                stage = action.stage
                if action.id in fillers:
                    self._add_submenu(menu, action, fillers[action.id])
                else:
                    self._add(window, menu, action, call)

    def _add(
        self, window: QMainWindow, menu: QMenu, action: Action, call: Callable[[Action], None]
    ) -> None:
        made = QAction(action.title, window)
        if action.shortcut:
            keys = filter(None, (action.shortcut, action.other_key))
            made.setShortcuts([QKeySequence(key) for key in keys])
        made.setCheckable(action.checkable)
        made.setStatusTip(action.hint)
        made.triggered.connect(lambda _=False, action=action: call(action))
        menu.addAction(made)
        self.actions[action.id] = made

    def _add_submenu(self, menu: QMenu, action: Action, fill: Callable[[QMenu], None]) -> None:
        submenu = menu.addMenu(action.title)
        submenu.setAccessibleName(action.title)

        def refill() -> None:
            submenu.clear()
            fill(submenu)

        submenu.aboutToShow.connect(refill)
        self.actions[action.id] = submenu.menuAction()

    def update(self, now: Situation) -> None:
        """Enable and name the actions for a situation."""
        for action in ACTIONS:
            made = self.actions[action.id]
            made.setEnabled(action.enabled(now))
            made.setText(title(action, now))
