"""The window: puts header, drawing, entry line and panels together and carries out the actions."""

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QCloseEvent,
    QKeyEvent,
)
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QMainWindow,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app import things
from app.actions import ACTIONS, Action, situation, tools_of
from app.asking import Answer, Question
from app.canvas.camera import Box
from app.canvas.fold import FoldCanvas, Sides
from app.canvas.view import Pointer
from app.files import Files
from app.gestures.drags import chosen_by, nudge
from app.gestures.gesture import Cursor
from app.gestures.hand import Hand
from app.gestures.places import picked
from app.gestures.tools import tool
from app.look import DARK, DESK, LIGHT, SHOP, Palette
from app.menus import Menus
from app.panels.entry import AnswerBox, EntryLine, step_in
from app.panels.findings import ToLookAt
from app.panels.header import Header
from app.panels.molds import MoldPage
from app.panels.notice import Notice
from app.panels.pages import FactsPage, SheetsPage
from app.panels.properties import Properties
from app.panels.tally import PieceList, TallyCard
from app.panels.tools import ToolRow
from app.session import STAGES, Session, Stage
from app.style import dress
from app.telling import (
    described_mold,
    finding_box,
    job_line,
    piece_rows,
    pour_facts,
    sheet_facts,
    stage_counts,
    tally_facts,
)
from export.drawings import face_down_groups, face_up_groups, up_box
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.findings import Finding, findings
from shop.plan import pieces
from shop.words import length_style

DESK_DOTS = 116.0
SHOP_DOTS = 186.0
"""Pixels for an inch of paper: words of dimensions are 0.13 in high on paper, 24 px in the shop."""

QUIET_MS = 120
"""Findings and tally follow so long after the last change."""

BOARD_STAGES = ("Room", "Counters", "Openings", "Seams")


class Window(QMainWindow):
    """One window on one session."""

    def __init__(self, session: Session, files: Files, palette: Palette = LIGHT) -> None:
        super().__init__()
        self.session, self.files = session, files
        self.palette_, self.scale = palette, DESK
        self.hand = Hand(session, chosen_by)
        self._asking_name = False
        self._mold_piece = ""
        self._job_asked = False
        self._hand_state = (False, "")
        self.setWindowTitle("Facedown")
        self.setMinimumSize(960, 560)
        self._build()
        self.menus = Menus(
            self, self._call, {"sample": files.fill_samples, "recent": files.fill_recent}
        )
        for action in self.menus.canvas_actions():
            self.card.addAction(action)
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(QUIET_MS)
        self._quiet.timeout.connect(self._show_consequences)
        self._connect()
        self._dress()
        self._show_all()
        canvas = self.canvas.up
        canvas.setFocus(Qt.FocusReason.OtherFocusReason)

    # --- building ---------------------------------------------------------------------------

    def _build(self) -> None:
        self.header = Header(self.palette_, self.scale)
        self.tools = ToolRow()
        self.canvas = FoldCanvas(self.palette_, self.scale, DESK_DOTS)
        self.canvas.setProperty("look", "")
        self.molds = MoldPage(self.palette_, DESK_DOTS)
        self.pour = FactsPage(
            "Pour",
            "Volume and weight as drawn. Wear a respirator against silica dust and gloves against "
            "wet cement; two or more people, a cart or a lifter for heavy pieces.",
        )
        self.sheets = SheetsPage()
        self.stack = QStackedWidget()
        board = QWidget()
        column = QVBoxLayout(board)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.tools)
        column.addWidget(self.canvas, 1)
        for page in (board, self.molds, self.pour, self.sheets):
            self.stack.addWidget(page)
        self.card = QFrame()
        self.card.setProperty("look", "paper")
        inside = QVBoxLayout(self.card)
        inside.setContentsMargins(1, 1, 1, 1)
        inside.addWidget(self.stack)
        self.entry = EntryLine(length_style(self.session.job))
        self.properties = Properties()
        self.pieces = PieceList()
        self.to_look_at = ToLookAt()
        self.tally = TallyCard()
        self.notice = Notice(self.card)
        self.column = QScrollArea()
        self.column.setWidgetResizable(True)
        self.column.setFrameShape(QFrame.Shape.NoFrame)
        self.column.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.column.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        stack = QVBoxLayout(inner)
        stack.setContentsMargins(0, 0, 4, 0)
        stack.setSpacing(10)
        for card in (self.properties, self.to_look_at, self.pieces, self.tally):
            stack.addWidget(card)
        stack.addStretch(1)
        self.column.setWidget(inner)
        left = QVBoxLayout()
        left.setSpacing(10)
        left.addWidget(self.card, 1)
        left.addWidget(self.entry)
        body = QHBoxLayout()
        body.setContentsMargins(14, 12, 10, 12)
        body.setSpacing(12)
        body.addLayout(left, 1)
        body.addWidget(self.column)
        whole = QWidget()
        rows = QVBoxLayout(whole)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.header)
        rows.addLayout(body, 1)
        self.setCentralWidget(whole)

    def _connect(self) -> None:
        session, hand, canvas = self.session, self.hand, self.canvas
        session.changed.connect(self._on_changed)
        session.shown.connect(self._show_drawing)
        session.chosen_changed.connect(self._on_chosen)
        session.hovered_changed.connect(self._highlight)
        session.stage_changed.connect(self._on_stage)
        session.file_changed.connect(self._on_file)
        session.announced.connect(self._announce)
        hand.doing_changed.connect(self._on_doing)
        canvas.pressed.connect(lambda p: self._point(self.hand.press, p))
        canvas.moved.connect(lambda p: self._point(self.hand.move, p))
        canvas.released.connect(lambda p: self._point(self.hand.release, p))
        canvas.departed.connect(lambda: session.hover(None))
        self.entry.typed.connect(self._on_typed)
        self.entry.taken.connect(self._on_taken)
        self.entry.left.connect(self._on_left)
        self.properties.answered.connect(self._on_answered)
        self.properties.failed.connect(self.notice.say)
        self.header.stage_asked.connect(session.go_to)
        self.header.findings_asked.connect(self._first_finding)
        self.header.write_asked.connect(self.write_shop_files)
        self.header.job_asked.connect(self.show_job)
        self.tools.asked.connect(self._on_tool_row)
        self.to_look_at.show_asked.connect(self.show_finding)
        self.pieces.chosen.connect(lambda name: session.choose(Subject("piece", name)))
        self.molds.piece_asked.connect(self._on_mold_piece)
        self.molds.turning_asked.connect(self._on_turning)
        self.sheets.write_asked.connect(self.write_shop_files)
        self.sheets.cancel_asked.connect(self.files.stop_writing)
        self.sheets.preview_asked.connect(self.preview_plot)
        self.files.attach(self)
        for view in (canvas.up, canvas.down):
            view.installEventFilter(self)

    # --- showing ----------------------------------------------------------------------------

    def _show_all(self) -> None:
        self._show_names()
        self._show_drawing()
        self._on_chosen()
        self._on_stage()
        self._show_consequences()

    def _on_changed(self) -> None:
        self._show_names()
        self._show_described()
        self._update_actions()
        self._quiet.start()
        self.files.keep()

    def _show_names(self) -> None:
        self.header.show_names(self.session.job.name, job_line(self.session))
        self.setWindowTitle(f"{self.session.job.name}[*] - Facedown")
        self.setWindowModified(self.session.dirty)

    def _show_drawing(self) -> None:
        job = self.session.shown_job
        self.canvas.show_groups(
            face_up_groups(job), face_down_groups(job), lambda: up_box(self.session.shown_job)
        )
        empty = not (job.room.walls or job.runs or job.islands) and not self.hand.working
        words = "An empty board.\nPress W and click where a wall starts." if empty else ""
        self.canvas.empty_words.setText(words)
        self.canvas.empty_words.setVisible(empty)
        if self.session.stage == "Molds":
            self._show_mold()

    def _show_consequences(self) -> None:
        """Show what follows from the job: findings, tally, pieces, and the pages of stages."""
        self._quiet.stop()
        job = self.session.job
        found = findings(job)
        self.header.show_findings(len(found))
        self.to_look_at.show_findings(found)
        counts = stage_counts(found)
        for stage in STAGES:
            self.header.tape.buttons[stage].set_attention(counts.get(stage, 0))
        self.tally.show_facts(tally_facts(job))
        self._show_pieces()
        if self.session.stage == "Pour":
            self.pour.show_facts(pour_facts(job))
        elif self.session.stage == "Sheets":
            self.sheets.show_facts(sheet_facts(self.session))

    def _show_pieces(self) -> None:
        chosen = next((s.id for s in self.session.chosen if s.kind == "piece"), "")
        self.pieces.show_pieces(piece_rows(self.session.job), chosen)

    def _chosen_one(self) -> Subject | None:
        return self.session.chosen[-1] if self.session.chosen else None

    def _show_described(self) -> None:
        job = self.session.job
        chosen = self._chosen_one()
        self.properties.setVisible(chosen is not None or self._job_asked)
        thing = things.described(job, chosen)
        style = length_style(job)
        self.properties.show_things(thing.title, thing.facts, thing.questions, style)
        self._show_entry()

    def _show_entry(self) -> None:
        style = length_style(self.session.job)
        doing = self.hand.doing
        if self._asking_name:
            question = Question("name", "Name of the new job", "words", "")
            self.entry.ask("", (question,), style)
        elif self.hand.working:
            self.entry.ask(doing.hint, doing.questions, style)
        else:
            thing = things.described(self.session.job, self._chosen_one())
            asked = tuple(q for q in thing.questions if q.first)[:3]
            hint = "" if asked else self._idle_hint()
            self.entry.ask(hint, asked, style)

    def _idle_hint(self) -> str:
        return {
            "Room": "Draw walls, then click each wall and type what the tape says.",
            "Counters": "Trace along the walls, or click an edge to change it.",
            "Openings": "Choose an opening above and click where it goes.",
            "Seams": "Press S and click where the top is split.",
            "Molds": "Pick a piece: its mold lies opened flat.",
            "Pour": "What there is to mix.",
            "Sheets": "Write the shop files when the list at the right is as you want it.",
        }[self.session.stage]

    def _show_mold(self) -> None:
        job = self.session.shown_job
        letters = [piece.name for piece in pieces(job)]
        if self._mold_piece not in letters:
            self._mold_piece = letters[0] if letters else ""
        self.molds.show_pieces(letters, self._mold_piece)
        told = described_mold(job, self._mold_piece)
        self.molds.show_mold(told.sheet, told.title, told.sentence, told.note)
        self.molds.show_turning(told.edges, told.turning, told.turning_words)

    def _highlight(self) -> None:
        hovered = frozenset({self.session.hovered} if self.session.hovered else ())
        self.canvas.highlight(hovered, frozenset(self.session.chosen))

    def _on_chosen(self) -> None:
        chosen = self._chosen_one()
        self._job_asked = False
        if chosen is not None and chosen.kind == "piece":
            self._mold_piece = chosen.id
            if self.session.stage == "Molds":
                self._show_mold()
        self._highlight()
        self._show_described()
        self._show_pieces()
        self._update_actions()

    def _on_stage(self) -> None:
        stage = self.session.stage
        self.hand.cancel()
        self.header.tape.show_stage(stage)
        self.tools.show_tools(tools_of(stage))
        self.tools.mark_sides(self.canvas.sides)
        page = 0 if stage in BOARD_STAGES else {"Molds": 1, "Pour": 2, "Sheets": 3}[stage]
        self.stack.setCurrentIndex(page)
        if stage == "Molds":
            self._show_mold()
        self._show_consequences()
        self._show_entry()
        self._update_actions()

    def _on_file(self) -> None:
        self._show_names()
        self.hand.cancel()
        self._update_actions()

    def _on_doing(self) -> None:
        self.canvas.show_overlay(self.hand.overlay)
        self._show_entry()
        if self._hand_state == (self.hand.working, self.hand.tool):
            return
        self._hand_state = (self.hand.working, self.hand.tool)
        self._update_actions()
        cross = self.hand.working and self.hand.tool
        shape = Qt.CursorShape.CrossCursor if cross else Qt.CursorShape.ArrowCursor
        for view in (self.canvas.up, self.canvas.down):
            view.viewport().setCursor(shape)

    def _update_actions(self) -> None:
        now = situation(self.session, working=self.hand.working)
        self.menus.update(now)
        enabled = {a.id: a.enabled(now) for a in ACTIONS}
        self.tools.mark(self.hand.tool, enabled)
        self.menus.actions["display"].setChecked(self.session.job.display == "mm")
        self.menus.actions["shop-view"].setChecked(self.scale is SHOP)
        self.menus.actions["dark"].setChecked(self.palette_ is DARK)

    def _announce(self, words: str) -> None:
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))

    # --- pointer, keys and boxes ------------------------------------------------------------

    def _point(self, hand_on: object, pointer: Pointer) -> None:
        if hand_on == self.hand.press:
            self._focus_view(pointer)
        picks = () if self.hand.working else picked(self.session.job, pointer.point, pointer.tol_in)
        cursor = Cursor(pointer.point, pointer.tol_in, picks, pointer.no_snap, pointer.adding)
        assert callable(hand_on)
        hand_on(cursor)

    def _focus_view(self, pointer: Pointer) -> None:
        view = self.canvas.up if pointer.side == "up" else self.canvas.down
        view.setFocus(Qt.FocusReason.MouseFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the keys of the drawing: arrows nudge, Esc steps back, digits begin a number."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._canvas_key(event, face_down=watched is self.canvas.down)
        return super().eventFilter(watched, event)

    def _canvas_key(self, event: QKeyEvent, *, face_down: bool) -> bool:
        key = event.key()
        way = {
            Qt.Key.Key_Left: (-1.0, 0.0),
            Qt.Key.Key_Right: (1.0, 0.0),
            Qt.Key.Key_Up: (0.0, 1.0),
            Qt.Key.Key_Down: (0.0, -1.0),
        }.get(Qt.Key(key))
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if way is not None and not held & ~Qt.KeyboardModifier.ShiftModifier:
            far = bool(held & Qt.KeyboardModifier.ShiftModifier)
            self._nudge((-way[0] if face_down else way[0], way[1]), far=far)
            return True
        if key == Qt.Key.Key_Escape:
            self.step_back()
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.hand.working:
                self.hand.enter()
            else:
                self.entry.focus_first()
            return True
        if event.text() and event.text() in "0123456789.":
            return self.entry.begin_typing(event.text())
        return False

    def _nudge(self, way: Point, *, far: bool) -> None:
        chosen = self._chosen_one()
        if chosen is None or self.hand.working:
            return
        step = 1.0 if far else step_in(length_style(self.session.job))
        moves, moved_title = nudge(self.session.job, chosen, (way[0] * step, way[1] * step))
        if moves:
            strand = f"nudge {chosen}"
            self.session.apply(*moves, title=moved_title, strand=strand)

    def step_back(self) -> None:
        """Leave what is under way: the tool, else the choice."""
        if self._asking_name:
            self._asking_name = False
            self._show_entry()
        elif self.hand.working:
            self.hand.cancel()
        else:
            self.session.show_preview(None)
            self.entry.settle()
            self.session.choose()

    def _questions(self) -> dict[str, Question]:
        thing = things.described(self.session.job, self._chosen_one())
        return {question.key: question for question in thing.questions}

    def _on_typed(self, key: str, answer: Answer) -> None:
        if self._asking_name:
            return
        if self.hand.working:
            self.hand.answer(key, answer)
        elif (question := self._questions().get(key)) is not None:
            if question.kind == "choice":
                self.session.apply(*question.edits(answer))
            else:
                self.session.preview(question.edits(answer))

    def _on_taken(self) -> None:
        if self._asking_name:
            self._take_name()
            return
        if self.hand.working:
            self.entry.settle()
            self.hand.enter()
            self._show_entry()
            return
        asked = self._questions()
        changed: list[edits.Edit] = []
        for box in self.entry.boxes:
            if box.isModified() and box.question.key in asked:
                from app.asking import AnswerError

                try:
                    changed += asked[box.question.key].edits(box.answer())
                except AnswerError:
                    return
        self.session.show_preview(None)
        for box in self.entry.boxes:
            box.setModified(False)
        if changed:
            self.session.apply(*changed)
        self.entry.settle()
        self._focus_next_box()

    def _focus_next_box(self) -> None:
        boxes = self.entry.boxes
        focused = QApplication.focusWidget()
        for box, after in pairwise(boxes):
            if box is focused:
                after.setFocus(Qt.FocusReason.TabFocusReason)
                return
        self.canvas.up.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_left(self) -> None:
        self.session.show_preview(None)
        self.entry.settle()
        if self._asking_name or self.hand.working:
            self.step_back()
        self._show_entry()
        self.canvas.up.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_answered(self, question: Question, answer: Answer) -> None:
        self.session.apply(*question.edits(answer))

    # --- actions (named in app/actions.py) --------------------------------------------------

    def _call(self, action: Action) -> None:
        callback = getattr(self, action.callback)
        if action.argument:
            callback(action.argument)
        else:
            callback()

    def _on_tool_row(self, action_id: str) -> None:
        self._call(next(action for action in ACTIONS if action.id == action_id))

    def start_tool(self, name: str) -> None:
        """Take up a tool; the one at work is put down by asking for it again."""
        if self.hand.tool == name:
            self.hand.cancel()
            return
        stage = next(a.stage for a in ACTIONS if a.id == name)
        if stage is not None:
            self.session.go_to(stage)
        self.session.choose()
        self.hand.begin(tool(self.session.job, name), name)
        self.canvas.empty_words.hide()
        if self.canvas.sides == "down":
            self.canvas.down.setFocus()
        else:
            self.canvas.up.setFocus()

    def show_job(self) -> None:
        """Show what is set for the whole job."""
        self.session.choose()
        self._job_asked = True
        self._show_described()
        self.column.ensureWidgetVisible(self.properties)
        self.properties.boxes[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def undo(self) -> None:
        """Go one step back; in the middle of a gesture, give it up."""
        if self.hand.working:
            self.hand.cancel()
        else:
            self.session.undo()

    def redo(self) -> None:
        """Go one step forward."""
        self.hand.cancel()
        self.session.redo()

    def remove_chosen(self) -> None:
        """Remove what is chosen."""
        self.hand.cancel()
        job = self.session.job
        gone = [edit for subject in self.session.chosen for edit in things.removal(job, subject)]
        if gone:
            self.session.choose()
            self.session.apply(*gone)

    def choose_next(self) -> None:
        """Choose the thing after the chosen one."""
        self._choose_by(1)

    def choose_previous(self) -> None:
        """Choose the thing before the chosen one."""
        self._choose_by(-1)

    def _choose_by(self, way: int) -> None:
        listed = things.listed_subjects(self.session.job)
        if not listed:
            return
        chosen = self._chosen_one()
        if chosen in listed:
            place = (listed.index(chosen) + way) % len(listed)
        else:
            place = 0 if way > 0 else len(listed) - 1
        self.session.choose(listed[place])
        self._announce(self.properties.heading.text())

    def switch_display(self) -> None:
        """Change between inches and millimeters."""
        job = self.session.job
        other = "in" if job.display == "mm" else "mm"
        self.session.apply(edits.SetDisplay("in" if other == "in" else "mm", job.fraction))

    def fit(self) -> None:
        """Show all of the drawing or of the mold."""
        self.canvas.fit()
        self.molds.fit()

    def zoom_in(self) -> None:
        """Go closer."""
        self.canvas.zoom_middle(1.25)

    def zoom_out(self) -> None:
        """Go farther."""
        self.canvas.zoom_middle(0.8)

    def show_sides(self, sides: Sides) -> None:
        """Show both sides of the fold or one."""
        self.canvas.show_sides(sides)
        self.tools.mark_sides(sides)

    def go_to_stage(self, stage: Stage) -> None:
        """Turn to a stage."""
        self.session.go_to(stage)

    def switch_shop_view(self) -> None:
        """Change between the desk's sizes and the shop's."""
        self.scale = DESK if self.scale is SHOP else SHOP
        self._dress()
        self._update_actions()

    def switch_dark(self) -> None:
        """Change between light and dark."""
        self.palette_ = LIGHT if self.palette_ is DARK else DARK
        self._dress()
        self._update_actions()

    def show_keys(self) -> None:
        """Show the keyboard sheet."""
        from app.panels.keys import KeySheet

        self.key_sheet = KeySheet(self)
        self.key_sheet.show()

    def new_job(self) -> None:
        """Ask for the name of a new job, in the entry line."""
        self.hand.cancel()
        self._asking_name = True
        self._show_entry()
        self.entry.focus_first()

    def _take_name(self) -> None:
        from app.asking import AnswerError

        try:
            name = str(self.entry.boxes[0].answer())
        except AnswerError as error:
            self.notice.say(str(error))
            return
        self._asking_name = False
        self.files.begin_new(name)
        self.session.go_to("Room")
        self._show_entry()
        self.canvas.up.setFocus(Qt.FocusReason.OtherFocusReason)

    def open_job(self) -> None:
        """Open a job file."""
        self.files.ask_and_open()

    def save(self) -> None:
        """Save the job."""
        self._settle_boxes()
        self.files.save()

    def save_as(self) -> None:
        """Save the job in another file."""
        self._settle_boxes()
        self.files.save_as()

    def _settle_boxes(self) -> None:
        focused = QApplication.focusWidget()
        if isinstance(focused, AnswerBox) and focused.isModified():
            focused.clearFocus()

    def write_shop_files(self) -> None:
        """Write every shop file into a folder."""
        self.files.ask_and_write()

    def preview_plot(self) -> None:
        """Look at the full-size plot before it is printed."""
        self.files.preview_plot()

    def print_plot(self) -> None:
        """Print the full-size plot."""
        self.files.print_plot()

    def _first_finding(self) -> None:
        found = findings(self.session.job)
        if found:
            self.show_finding(found[0])

    def show_finding(self, finding: Finding) -> None:
        """Bring what a finding is about before the eyes, and choose it."""
        if self.session.stage not in BOARD_STAGES:
            self.session.go_to("Seams")
        self.session.choose(*finding.about)
        box: Box | None = finding_box(self.session.job, finding)
        if box is not None:
            self.canvas.show_place(box)

    def _on_mold_piece(self, name: str) -> None:
        self._mold_piece = name
        self.session.choose(Subject("piece", name))
        self._show_mold()

    def _on_turning(self, edge: object) -> None:
        from geometry.naming import EdgeRef

        if isinstance(edge, EdgeRef):
            self.session.apply(edits.TurnAbout(self._mold_piece, edge))

    # --- look -------------------------------------------------------------------------------

    def _dress(self) -> None:
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        dress(app, self.palette_, self.scale)
        dots = SHOP_DOTS if self.scale is SHOP else DESK_DOTS
        self.header.dress(self.palette_, self.scale)
        self.canvas.dress(self.palette_, self.scale, dots)
        self.molds.dress(self.palette_, self.scale, dots)
        self.column.setFixedWidth(self.scale.column)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Leave; what is not saved is kept and comes back at the next start."""
        self.hand.cancel()
        self.files.leave()
        event.accept()
