"""The box that stands over a length of the drawing: type over it, and read what moves.

Over a reading it asks what becomes of the old value, as forms and the entry line do.
"""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from app.asking import Answer, AnswerError, Question, read_back
from app.panels.answer_box import AnswerBox
from app.panels.retake import Retake
from geometry.lengths import LengthStyle

NARROW_PX = 200
WIDE_PX = 250
EDGE_PX = 6
"""It keeps so far from the drawing's border."""


class LengthBox(QFrame):
    """One box, what moves with it above, how it is read below; or the words why nothing does.

    typed reports every understood change, misread one that is not. taken: Enter was pressed;
    left: Esc; walked: Tab (1) or Tab with Shift (-1). decided says what becomes of a reading that
    was typed over.
    """

    typed = Signal(object)
    misread = Signal()
    taken = Signal()
    left = Signal()
    walked = Signal(int)
    decided = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setProperty("look", "card")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(10, 6, 10, 8)
        self._column.setSpacing(3)
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.words.setProperty("look", "quiet")
        self.echo = QLabel()
        self.echo.setTextFormat(Qt.TextFormat.PlainText)
        self.echo.setWordWrap(True)
        self.echo.setProperty("look", "echo")
        self._column.addWidget(self.words)
        self._column.addWidget(self.echo)
        self.box: AnswerBox | None = None
        self.retake: Retake | None = None
        self._style: LengthStyle | None = None
        self.hide()

    def open_at(
        self, at: QPoint, words: str, question: Question | None, style: LengthStyle
    ) -> None:
        """Stand over a place of the parent, and take the keys."""
        self.put_away()
        self._style = style
        self.words.setText(words)
        self.setAccessibleName(words)
        self.echo.setVisible(question is not None)
        if question is not None:
            self.box = box = AnswerBox(question, style)
            box.textEdited.connect(self._on_edited)
            box.taken.connect(self.taken)
            box.left.connect(self.left)
            box.stepped.connect(self.step)
            box.installEventFilter(self)
            self._column.insertWidget(1, box)
            self._read_back()
        self.setFixedWidth(NARROW_PX if question is not None else WIDE_PX)
        self.show()
        self.stand_at(at)
        self.raise_()
        if self.box is None:
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.box.show()
            self.box.setFocus(Qt.FocusReason.OtherFocusReason)
            self.box.selectAll()

    def put_away(self) -> None:
        """Go, with what was typed."""
        self._close_retake()
        if self.box is not None:
            self.box.removeEventFilter(self)
            self._column.removeWidget(self.box)
            self.box.hide()
            self.box.deleteLater()
            self.box = None
        self.hide()

    @property
    def answer(self) -> Answer | None:
        """What was typed if it can be understood, else nothing."""
        if self.box is None or not self.box.isModified():
            return None
        try:
            return self.box.answer()
        except AnswerError:
            return None

    @property
    def sound(self) -> bool:
        """Whether nothing was typed, or what can be understood."""
        return self.box is None or not self.box.isModified() or self.answer is not None

    def ask_again(self) -> bool:
        """Ask what becomes of a reading that was typed over; tell whether there is one."""
        box, value = self.box, self.answer
        if box is None or box.question.retaken is None or not isinstance(value, float):
            return False
        self._close_retake()
        self.retake = Retake(box.question.retaken, value)
        self.retake.decided.connect(self.decided)
        self.retake.given_up.connect(self._on_given_up)
        self._column.addWidget(self.retake)
        self.retake.show()
        around = (self.contentsMargins(), self._column.contentsMargins())
        wide = self.retake.sizeHint().width() + sum(m.left() + m.right() for m in around)
        self.setFixedWidth(max(wide, NARROW_PX))
        self.stand_at(self.geometry().center())
        self.retake.begin()
        return True

    def _on_given_up(self) -> None:
        self._close_retake()
        if self.box is not None:
            self.setFixedWidth(NARROW_PX)
            self.stand_at(self.geometry().center())
            self.box.setFocus(Qt.FocusReason.OtherFocusReason)

    def _close_retake(self) -> None:
        if self.retake is not None:
            self._column.removeWidget(self.retake)
            self.retake.close_quietly()
            self.retake = None

    def step(self, way: int) -> None:
        """Make the length a fraction of an inch, or a millimeter, more or less."""
        from app.panels.entry import step_in

        box = self.box
        if box is None or self._style is None:
            return
        try:
            answer = box.answer()
        except AnswerError:
            return
        if isinstance(answer, float):
            box.set_answer(answer + way * step_in(self._style))

    def stand_at(self, at: QPoint) -> None:
        """Stand with the middle at a place, wholly within the parent."""
        self._column.activate()
        size = self.sizeHint()
        size.setWidth(self.width())
        size.setHeight(self._column.heightForWidth(self.width()))
        parent = self.parentWidget()
        assert parent is not None
        room = parent.rect().adjusted(EDGE_PX, EDGE_PX, -EDGE_PX, -EDGE_PX)
        place = QRect(QPoint(0, 0), size)
        place.moveCenter(at)
        place.moveLeft(max(min(place.left(), room.right() - size.width()), room.left()))
        place.moveTop(max(min(place.top(), room.bottom() - size.height()), room.top()))
        self.setGeometry(place)

    def _on_edited(self) -> None:
        self._read_back()
        answer = self.answer
        if answer is None:
            self.misread.emit()
        else:
            self.typed.emit(answer)

    def _read_back(self) -> None:
        """Say how the box is read, or what is wrong with it."""
        assert self.box is not None
        assert self._style is not None
        wrong = False
        try:
            said = read_back(self.box.question, self.box.answer(), self._style)
        except AnswerError as error:
            wrong = self.box.isModified()
            said = str(error) if wrong else ""
        self.echo.setText(said)
        self.echo.setProperty("look", "wrong" if wrong else "echo")
        self.echo.style().unpolish(self.echo)
        self.echo.style().polish(self.echo)
        if self.isVisible():
            self.stand_at(self.geometry().center())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Go on to the next length with Tab."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._walks(event)
        return super().eventFilter(watched, event)

    def event(self, event: QEvent) -> bool:
        """Go on to the next length with Tab where there is no box, too."""
        pressed = event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent)
        if pressed and isinstance(event, QKeyEvent) and self._walks(event):
            return True
        return super().event(event)

    def _walks(self, event: QKeyEvent) -> bool:
        way = {Qt.Key.Key_Tab: 1, Qt.Key.Key_Backtab: -1}.get(Qt.Key(event.key()))
        if way is not None:
            self.walked.emit(way)
        return way is not None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave where there is no box."""
        if event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.left.emit()
        else:
            super().keyPressEvent(event)
