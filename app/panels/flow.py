"""A layout that sets widgets in rows like words, as many in a row as there is room for."""

from PySide6.QtCore import QMargins, QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem


class Flow(QLayout):
    """Widgets in rows from the left, each as large as it wants to be."""

    def __init__(self, gap_px: int) -> None:
        super().__init__()
        self._gap = gap_px
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(QMargins(0, 0, 0, 0))

    def addItem(self, item: QLayoutItem, /) -> None:
        """Set an item after the others."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many items there are."""
        return len(self._items)

    def itemAt(self, index: int, /) -> QLayoutItem | None:
        """Return an item, or None past the last one."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int, /) -> QLayoutItem | None:
        """Take an item out, or None past the last one."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def one_row_px(self) -> int:
        """Return how wide all are in one row."""
        widths = [item.sizeHint().width() for item in self._items if not item.isEmpty()]
        return sum(widths) + self._gap * max(len(widths) - 1, 0)

    def set_gap(self, gap_px: int) -> None:
        """Leave another gap between the widgets."""
        if gap_px != self._gap:
            self._gap = gap_px
            self.invalidate()

    def expandingDirections(self) -> Qt.Orientation:
        """Return nothing: it takes no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Tell that a narrower layout is higher."""
        return True

    def heightForWidth(self, width: int, /) -> int:
        """Return the height of all rows at a width."""
        return self._set(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, box: QRect, /) -> None:
        """Set the items into a box."""
        super().setGeometry(box)
        self._set(box, move=True)

    def sizeHint(self) -> QSize:
        """Return the size of the largest item."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """Return the size of the largest item."""
        size = QSize()
        for item in self._items:
            if not item.isEmpty():
                size = size.expandedTo(item.minimumSize())
        return size

    def _set(self, box: QRect, *, move: bool) -> int:
        y = box.y()
        for row in self._in_rows(box.width()):
            tallest = max(item.sizeHint().height() for item in row)
            x = box.x()
            for item in row:
                size = item.sizeHint().boundedTo(QSize(box.width(), tallest))
                if move:
                    above = (tallest - size.height()) // 2
                    item.setGeometry(QRect(QPoint(x, y + above), size))
                x += size.width() + self._gap
            y += tallest + self._gap
        return max(y - self._gap - box.y(), 0)

    def _in_rows(self, width: int) -> list[list[QLayoutItem]]:
        """Return the items that show, row by row."""
        rows: list[list[QLayoutItem]] = []
        x = width
        for item in self._items:
            if item.isEmpty():
                continue
            wide = item.sizeHint().width()
            if not rows or x + wide > width:
                rows.append([])
                x = 0
            rows[-1].append(item)
            x += wide + self._gap
        return rows
