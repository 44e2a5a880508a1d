"""The Sheets stage: small pictures of all that is written, the button that writes it, the plot."""

from PySide6.QtCore import QEvent, QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QKeyEvent, QPainter, QPen, QPixmap
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.issuing import FileState, SheetsTold
from app.look import Palette
from app.panels.correcting import Correcting
from app.panels.flow import Flow
from app.panels.stock import StockPage
from app.small_pictures import SMALL_PX, Picture

BAR_PX = 160
NAME_PX = 190
"""Width of the column of file names."""


class FileRow(QFrame):
    """One file: its name, what it is for, how it stands, and pictures of its pages."""

    picked = Signal(object)

    def __init__(self, file: FileState) -> None:
        super().__init__()
        self.setAccessibleName(file.name)
        self.many = file.name.endswith(".pdf")
        self.booklet = file.name == "booklet.pdf"
        self.setProperty("look", "row")
        self.pictures: list[Picture] = []
        self.buttons: list[QToolButton] = []
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 10, 0, 10)
        row.setSpacing(14)
        holder = QWidget()
        holder.setFixedWidth(NAME_PX)
        words = QVBoxLayout(holder)
        words.setContentsMargins(0, 0, 0, 0)
        words.setSpacing(2)
        name, what = QLabel(file.name), QLabel(file.what)
        name.setProperty("look", "value")
        what.setProperty("look", "quiet")
        self.state = QLabel()
        for label in (name, what, self.state):
            label.setWordWrap(True)
            words.addWidget(label)
        words.addStretch(1)
        row.addWidget(holder)
        pages = QWidget()
        self._flow = Flow(8)
        pages.setLayout(self._flow)
        row.addWidget(pages, 1)
        self.show_state(file)

    def show_state(self, file: FileState) -> None:
        """Say how the file stands to what was last written."""
        self.state.setText(file.state)
        look = "warning" if file.state.startswith(("changed", "gone")) else "value"
        self.state.setProperty("look", look)
        self.state.style().polish(self.state)

    def show_picture(self, place: int, picture: Picture, *, changed: bool) -> None:
        """Show a picture at its place among the file's, in place of an older one."""
        if place == len(self.buttons):
            button = QToolButton()
            button.setProperty("look", "page")
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
            button.setIconSize(QSize(SMALL_PX, SMALL_PX))
            button.clicked.connect(lambda: self.picked.emit(self.pictures[place]))
            self.buttons.append(button)
            self.pictures.append(picture)
            self._flow.addWidget(button)
        button = self.buttons[place]
        self.pictures[place] = picture
        button.setIcon(QIcon(framed(picture.small, marked=changed)))
        words = f"Changed. {picture.caption}" if changed else picture.caption
        button.setText(button.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, 156))
        button.setToolTip(words)
        button.setAccessibleName(f"{picture.file}, {words}. Look at it")

    def keep(self, count: int) -> None:
        """Drop the pictures past a count."""
        while len(self.buttons) > count:
            self.pictures.pop()
            button = self.buttons.pop()
            self._flow.removeWidget(button)
            button.hide()
            button.deleteLater()


def framed(data: bytes, *, marked: bool) -> QPixmap:
    """Return a picture in the middle of a square, with the edge of its paper; marked if void."""
    picture, whole = QPixmap(), QPixmap(SMALL_PX, SMALL_PX)
    picture.loadFromData(data)
    whole.fill(Qt.GlobalColor.transparent)
    painter = QPainter(whole)
    x, y = (SMALL_PX - picture.width()) // 2, (SMALL_PX - picture.height()) // 2
    painter.drawPixmap(x, y, picture)
    wide = 3.0 if marked else 1.0
    painter.setPen(QPen(QColor("#9C3818" if marked else "#857E6D"), wide))
    box = QRectF(x, y, picture.width(), picture.height())
    half = wide / 2.0
    painter.drawRect(box.adjusted(half, half, -half, -half))
    painter.end()
    return whole


class OnePage(QWidget):
    """One page as large as it fits."""

    def __init__(self) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(22, 14, 22, 14)
        self.back = QPushButton("Back to all pages")
        self.title = QLabel()
        self.title.setProperty("look", "value")
        row = QHBoxLayout()
        row.setSpacing(14)
        row.addWidget(self.back)
        row.addWidget(self.title, 1)
        column.addLayout(row)
        self.page = QLabel()
        self.page.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.page.setMinimumSize(10, 10)
        column.addWidget(self.page, 1)
        self._whole = QPixmap()
        self.page.installEventFilter(self)

    def show_page(self, picture: Picture) -> None:
        """Show a page."""
        self._whole = QPixmap()
        self._whole.loadFromData(picture.large)
        words = f"{picture.file}: {picture.caption}"
        self.title.setText(words)
        self.page.setAccessibleName(f"Picture of {words}")
        self._fit()

    def _fit(self) -> None:
        room = self.page.size()
        if not self._whole.isNull():
            size = self._whole.size().scaled(room, Qt.AspectRatioMode.KeepAspectRatio)
            size = size.boundedTo(self._whole.size())
            smooth = Qt.TransformationMode.SmoothTransformation
            keep = Qt.AspectRatioMode.KeepAspectRatio
            self.page.setPixmap(self._whole.scaled(size, keep, smooth))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Fit the page anew when there is more or less room."""
        if event.type() == QEvent.Type.Resize:
            self._fit()
        return super().eventFilter(watched, event)


class SheetsPage(QWidget):
    """All that will be written; one button writes it, a bar shows how far it is."""

    write_asked = Signal()
    cancel_asked = Signal()
    preview_asked = Signal()
    print_asked = Signal()
    open_asked = Signal()

    def __init__(self, palette: Palette, dots: float) -> None:
        super().__init__()
        self.setAccessibleName("Sheets")
        self._changed: frozenset[str] = frozenset()
        self._places: dict[str, int] = {}
        self.rows: dict[str, FileRow] = {}
        self.stack = QStackedWidget()
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.stack)
        self._all = QWidget()
        self.one = OnePage()
        self.stack.addWidget(self._all)
        self.stack.addWidget(self.one)
        self.stock = StockPage(palette, dots)
        self.stock.back_asked.connect(self.show_all)
        self.stack.addWidget(self.stock)
        column = QVBoxLayout(self._all)
        column.setContentsMargins(22, 14, 10, 0)
        column.setSpacing(8)
        self.revision = QLabel()
        self.revision.setProperty("look", "heading")
        self.revision.setWordWrap(True)
        self.void = QLabel()
        self.void.setProperty("look", "warning")
        self.void.setWordWrap(True)
        column.addWidget(self.revision)
        column.addWidget(self.void)
        column.addLayout(self._deeds())
        self.correcting = Correcting()
        column.addWidget(self.correcting)
        column.addWidget(self._list(), 1)
        self.one.back.clicked.connect(self.show_all)
        self.show_progress(None, "")

    def _deeds(self) -> Flow:
        self.write = QPushButton("Write shop files")
        self.write.setProperty("look", "strong")
        self.preview = QPushButton("Look at the plot")
        self.print = QPushButton("Print full size")
        self.plans = QPushButton("Cut plans, shopping")
        self.plans.clicked.connect(self.show_plans)
        self.write.clicked.connect(self.write_asked)
        self.preview.clicked.connect(self.preview_asked)
        self.print.clicked.connect(self.print_asked)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of writing")
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(BAR_PX)
        self.step = QLabel()
        self.cancel = QPushButton("Stop writing")
        self.open = QPushButton("Open the folder")
        self.cancel.clicked.connect(self.cancel_asked)
        self.open.clicked.connect(self.open_asked)
        row = Flow(10)
        for button in (self.write, self.preview, self.print, self.plans):
            row.addWidget(button)
        for widget in (self.bar, self.cancel, self.step, self.open):
            row.addWidget(widget)
        return row

    def _list(self) -> QScrollArea:
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        self._rows = QVBoxLayout(inner)
        self._rows.setContentsMargins(0, 0, 8, 12)
        self._rows.setSpacing(0)
        self._single = QGridLayout()
        self._single.setHorizontalSpacing(20)
        for half in (0, 1):
            self._single.setColumnStretch(half, 1)
        self._rows.addLayout(self._single)
        self._rows.addStretch(1)
        area.setWidget(inner)
        return area

    def show_told(self, told: SheetsTold) -> None:
        """Say what would be written; pictures of it follow one by one."""
        self.revision.setText(told.revision)
        self.void.setText(told.void)
        self.void.setVisible(bool(told.void))
        self._changed = told.changed
        self._places = {}
        for file in told.files:
            row = self.rows.get(file.name)
            if row is None:
                self.rows[file.name] = row = FileRow(file)
                row.picked.connect(self._show_one)
                self._place(row)
            row.show_state(file)

    def _place(self, row: FileRow) -> None:
        """Put the booklet first, then what has many pages; drawings and lists two in a row."""
        if row.booklet:
            self._rows.insertWidget(0, row)
        elif row.many:
            # Two are at the foot: the files of one picture, and the stretch.
            self._rows.insertWidget(self._rows.count() - 2, row)
        else:
            place = self._single.count()
            self._single.addWidget(row, place // 2, place % 2)

    def show_picture(self, picture: Picture) -> None:
        """Show the next picture of its file."""
        place = self._places.get(picture.file, 0)
        self._places[picture.file] = place + 1
        changed = picture.piece in self._changed
        self.rows[picture.file].show_picture(place, picture, changed=changed)

    def end_pictures(self) -> None:
        """Drop pictures of pages that are no more."""
        for name, row in self.rows.items():
            row.keep(self._places.get(name, 0))

    def _show_one(self, picture: Picture) -> None:
        self.one.show_page(picture)
        self.stack.setCurrentWidget(self.one)
        self.one.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_all(self) -> None:
        """Go back from one page to all of them."""
        self.stack.setCurrentWidget(self._all)

    def show_plans(self) -> None:
        """Show cut plans, shopping list and stock list."""
        self.stack.setCurrentWidget(self.stock)
        self.stock.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step back with Esc."""
        if event.key() == Qt.Key.Key_Escape and self.stack.currentWidget() is self.one:
            self.show_all()
        else:
            super().keyPressEvent(event)

    def show_progress(self, share: float | None, words: str) -> None:
        """Show how far the writing is, 0 to 1; None when nothing is being written."""
        busy = share is not None
        for widget in (self.bar, self.cancel):
            widget.setVisible(busy)
        self.open.hide()
        self.step.setText(words)
        self.step.setVisible(bool(words))
        self.write.setEnabled(not busy)
        if share is not None:
            self.bar.setRange(0, 1000)
            self.bar.setValue(round(share * 1000))

    def show_written(self, words: str) -> None:
        """Say what was written, with a way to open its folder."""
        self.show_progress(None, words)
        self.open.show()
