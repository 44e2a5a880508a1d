"""The workbench: everything in the window that shows a job, and what keeps it up to date."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QApplication, QStackedWidget, QVBoxLayout, QWidget

from app import things
from app.actions import ACTIONS, situation, tools_of
from app.canvas.fold import FoldCanvas, Sides
from app.canvas.mirroring import mirrored_mark
from app.files import Files
from app.gestures.drags import chosen_by
from app.gestures.hand import Hand
from app.gestures.shaping import handle_marks
from app.look import DARK, DESK, LIGHT, SHOP, Palette
from app.panels.entry import EntryLine
from app.panels.findings import ToLookAt
from app.panels.long_hint import LongHint
from app.panels.molds import MoldPage
from app.panels.pour import PourPage
from app.panels.properties import Properties
from app.panels.readings import Readings
from app.panels.seam_layouts import SeamLayouts
from app.panels.sheets import SheetsPage
from app.panels.tally import PieceList, TallyCard
from app.panels.tools import ToolRow
from app.reading_order import read_through, takes_tab
from app.reading_rows import key_of, nexts_told, reading_rows, standing_told
from app.session import Session
from app.stages import STAGES
from app.style import dress
from app.telling import (
    described_mold,
    findings_told,
    job_line,
    piece_rows,
    pour_told,
    stage_counts,
    tally_facts,
)
from app.typing_over import IN_MOLDS, TypingOver
from app.window import Window
from export.booklet import CAUTIONS
from export.cabinet_marks import cabinets_below, cabinets_through
from export.chosen_lengths import chosen_lengths
from export.drawings import (
    face_down_groups,
    face_up_groups,
    lengths_down,
    up_box,
    without_dimensions,
)
from export.marks import Dimension, Group
from export.room_marks import room_groups
from export.short_points import short_points
from geometry.naming import CornerRef
from geometry.picking import Subject
from shop.findings import Finding, findings
from shop.job import Job
from shop.mold_choices import mold_choices
from shop.next_reading import next_readings
from shop.plan import pieces
from shop.readings import Reading
from shop.remedies import remedies
from shop.words import length_style

DESK_DOTS = 116.0
SHOP_DOTS = 186.0
"""Pixels for an inch of paper: words of dimensions are 0.13 in high on paper, 24 px in the shop."""

QUIET_MS = 120
"""Findings follow so long after the last change, figures so long after the drawing rests."""

SEEK_MS = 15
"""A pause between seeking a remedy for one finding and for the next."""

MOST_NEXT = 3
"""So many readings to take next are shown."""

CHOSEN = "lengths of what is chosen"
"""The key of the lengths that a chosen thing brings along."""

BOARD_STAGES = ("Room", "Counters", "Openings", "Seams")


def has_tops(job: Job) -> bool:
    """Tell whether something of a job is cast."""
    return bool(job.runs or job.islands)


class Workbench(QObject):
    """Fills a window with the panels of a session, and shows what changes."""

    consequences_shown = Signal()

    def __init__(self, window: Window, session: Session, files: Files, palette: Palette) -> None:
        super().__init__(window)
        from app.deeds import Deeds
        from app.typing import Typing

        self.window, self.session, self.files = window, session, files
        self.look, self.scale = palette, DESK
        self.hand = Hand(session, lambda job, at: chosen_by(job, at, session.chosen))
        self.mold_piece = ""
        self.job_asked = False
        self._described: Subject | None = None
        self._hand_state: tuple[bool, str, str | None, str | None] = (False, "", None, None)
        self._wanted: Reading | None = None
        self.sides_asked: Sides | None = None
        self._build()
        self.typing = Typing(self)
        self.deeds = Deeds(self)
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(QUIET_MS)
        self._quiet.timeout.connect(self.show_consequences)
        self._resting = QTimer(self)
        self._resting.setSingleShot(True)
        self._resting.setInterval(QUIET_MS)
        self._resting.timeout.connect(self._show_figures)
        self._seeking = QTimer(self)
        self._seeking.setInterval(SEEK_MS)
        self._seeking.timeout.connect(self._seek_remedy)
        self._unsought: list[Finding] = []
        self._told_findings: frozenset[str] | None = None
        self._ringed: tuple[Subject, ...] = ()
        self._connect()
        self.dress()
        self._show_names()
        self.show_drawing()
        self._on_chosen()
        self._on_stage()
        self._begin()
        # Once all of it shows: what of the frame had the keys meanwhile would keep them.
        QTimer.singleShot(0, self, self._begin)

    def _begin(self) -> None:
        """Let the keys come to the drawing, without a ring: nobody has pressed a key yet."""
        if self.window.focusWidget() not in (self.canvas.up, self.canvas.down):
            self.take_keys()
            self.canvas.up.ringed = self.canvas.down.ringed = False

    def _build(self) -> None:
        self.header = self.window.header
        self.tools = ToolRow()
        self.canvas = FoldCanvas(self.look, self.scale, DESK_DOTS)
        self.canvas.setProperty("look", "")
        self.over = TypingOver(self.session, self.hand, self.canvas)
        self.molds = MoldPage(self.look, DESK_DOTS)
        self.pour = PourPage()
        self.sheets = SheetsPage(self.look, DESK_DOTS)
        self.stack = QStackedWidget()
        board = QWidget()
        column = QVBoxLayout(board)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.tools)
        column.addWidget(self.canvas, 1)
        for page in (board, self.molds, self.pour, self.sheets):
            self.stack.addWidget(page)
        inside = QVBoxLayout(self.window.card)
        inside.setContentsMargins(1, 1, 1, 1)
        inside.addWidget(self.stack)
        self.entry = EntryLine(length_style(self.session.job))
        self.long_hint = LongHint(self.canvas)
        self.entry.apart.connect(self.long_hint.say)
        self.layouts = SeamLayouts()
        self.window.left.addWidget(self.entry)
        self.properties = Properties()
        self.to_look_at = ToLookAt()
        self.readings = Readings()
        self.pieces = PieceList()
        self.tally = TallyCard()
        self.window.column.fill(
            self.readings,
            self.layouts,
            (self.properties,),
            (self.to_look_at, self.pieces),
            self.tally,
        )
        self.notice = self.window.column.notice
        self.notice.said.connect(self.announce)

    def _connect(self) -> None:
        session = self.session
        session.changed.connect(self._on_changed)
        session.shown.connect(self.show_drawing)
        session.shown.connect(self._resting.start)
        session.chosen_changed.connect(self._on_chosen)
        session.hovered_changed.connect(self._on_hovered)
        session.stage_changed.connect(self._on_stage)
        session.file_changed.connect(self._on_file)
        session.announced.connect(self.announce)
        self.hand.doing_changed.connect(self._on_doing)
        self.over.told.connect(self._on_length)
        self.molds.view.pressed.connect(lambda _: self.notice.say(IN_MOLDS))
        self.properties.left.connect(self._leave_form)
        self.properties.pressed_through.connect(self.take_keys)
        self.entry.pressed_through.connect(self.take_keys)
        self.entry.emptied.connect(self.take_keys)
        self.properties.emptied.connect(self.take_keys)
        session.changed.connect(self.notice.pass_by)
        session.stage_changed.connect(self.notice.pass_by)
        self.readings.left.connect(self.take_keys)
        self.readings.next_asked.connect(self.show_wanted)
        self.pieces.chosen.connect(self._on_piece)
        self.pieces.hovered.connect(
            lambda name: session.hover(Subject("piece", name) if name else None)
        )
        self.files.attach(self)
        self.window.closing.connect(self.leave)

    def _on_changed(self) -> None:
        self._show_names()
        self.show_described()
        self.update_actions()
        self._quiet.start()
        self.files.keep()

    def _show_names(self) -> None:
        self.header.show_names(self.session.job.name, job_line(self.session))
        self.window.setWindowTitle(f"{self.session.job.name}[*] - Facedown")
        self.window.setWindowModified(self.session.dirty)

    def show_drawing(self) -> None:
        """Show the job on the board, and its mold."""
        job = self.session.shown_job
        self.canvas.show_groups(
            *self._sides(job),
            lambda: up_box(self.session.shown_job),
            passing=job is not self.session.job,
            hasty=job is not self.session.job and self.hand.working,
        )
        empty = not (job.room.walls or job.runs or job.islands) and not self.hand.working
        words = (
            "An empty board.\nPress W, then click where a wall starts, or press Enter and type."
            if empty
            else ""
        )
        self.canvas.empty_words.setText(words)
        self.canvas.empty_words.setVisible(empty)
        if not self.hand.working:
            self._show_overlay()
        if self.session.stage == "Molds":
            self.show_mold()

    def _sides(self, job: Job) -> tuple[tuple[Group, ...], tuple[Group, ...]]:
        """Return the plan face up and face down, with what the chosen thing is measured by."""
        up, down = self._face_up(job), face_down_groups(job)
        if self.session.stage == "Room":
            return up, down
        chosen = self.chosen_one()
        asked: tuple[Dimension, ...] = ()
        if chosen is not None:
            asked = (*chosen_lengths(job, chosen), *short_points(job, chosen))
        turned = tuple(mirrored_mark(mark) for mark in asked)
        return (
            (*up, Group(CHOSEN, asked)),
            (*down, *lengths_down(job), Group(CHOSEN, turned)),
        )

    def _face_up(self, job: Job) -> tuple[Group, ...]:
        """Return the plan with what the stage needs: cabinets strong or thin, and readings."""
        groups, stage = face_up_groups(job), self.session.stage
        if stage in ("Room", "Counters"):
            below, through = cabinets_below(job), cabinets_through(job, words=True)
            if stage == "Counters":
                return (*below, *groups, *through)
            # What swings would only be in the way of the corners that are being put.
            read = () if self.hand.tool == "walls" else room_groups(job)
            return (*below, *map(without_dimensions, groups), *through, *read)
        if stage in ("Openings", "Seams"):
            return (*groups, *cabinets_through(job, words=False))
        return groups

    def show_consequences(self) -> None:
        """Show what follows from the job: findings, tally, pieces, and the pages of stages."""
        self._quiet.stop()
        job = self.session.job
        found = findings(job)
        self.header.show_findings(len(found))
        self._tell_findings(found)
        self.to_look_at.show_findings(found)
        self._unsought = list(found)
        self._seeking.start()
        counts = stage_counts(found)
        for stage in STAGES:
            self.header.tape.buttons[stage].set_attention(counts.get(stage, 0))
        self._show_figures()
        self.window.column.keep_foot(has_tops(job))
        self.show_readings()
        if self.session.stage == "Pour":
            self.pour.show_pour(*pour_told(job))
            self.pour.show_cautions(CAUTIONS)
        self.files.show_sheets()
        self.consequences_shown.emit()

    def _tell_findings(self, found: Sequence[Finding]) -> None:
        """Say to a screen reader what there is to look at since the last change, and what went."""
        titles = frozenset(finding.title for finding in found)
        before, self._told_findings = self._told_findings, titles
        if before is None or before == titles:
            return
        said = findings_told(before, [finding.title for finding in found])
        self.announce(said)

    def _seek_remedy(self) -> None:
        """Seek what makes one finding go: one at a time, between all else, never in a preview."""
        if not self._unsought:
            self._seeking.stop()
        elif not self.hand.working and not self._quiet.isActive():
            finding = self._unsought.pop(0)
            self.to_look_at.show_remedies(finding, remedies(self.session.job, finding))

    def show_readings(self) -> None:
        """Show the readings of the room, taken and to be taken, and what to take next."""
        job = self.session.job
        shown = self.session.stage == "Room" and bool(job.room.walls)
        self.readings.setVisible(shown)
        if shown:
            self.readings.show_readings(reading_rows(job, self._wanted), length_style(job))
            self.readings.show_nexts(nexts_told(job, next_readings(job), MOST_NEXT))
            words, wrong = standing_told(job)
            self.readings.show_standing(words, wrong=wrong)

    def show_wanted(self, reading: Reading) -> None:
        """Give a reading that is to be taken a row, and let the keys come to it."""
        self._wanted = reading
        self.show_readings()
        self.readings.begin_at(key_of(reading))

    def _show_figures(self) -> None:
        """Show the tally and the pieces, of what is being dragged or typed as soon as it rests."""
        self._resting.stop()
        self.tally.show_facts(tally_facts(self.session.shown_job))
        self._show_pieces()

    def _show_pieces(self) -> None:
        self.pieces.show_pieces(piece_rows(self.session.shown_job))
        self._mark_pieces()

    def _mark_pieces(self) -> None:
        """Mark in the list what is chosen and hovered in the drawing."""
        chosen = {subject.id for subject in self.session.chosen if subject.kind == "piece"}
        hovered = self.session.hovered
        lit = hovered.id if hovered is not None and hovered.kind == "piece" else ""
        self.pieces.mark(chosen, lit)

    def _on_piece(self, name: str, also: bool) -> None:
        """Choose a piece in the list, besides others or alone, unless it is only previewed."""
        if all(one.name != name for one in pieces(self.session.job)):
            return
        piece = Subject("piece", name)
        before = self.session.chosen
        others = tuple(s for s in before if s != piece) if also else ()
        self.session.choose(*others, *(() if also and piece in before else (piece,)))
        self._mark_pieces()

    def chosen_one(self) -> Subject | None:
        """Return what was chosen last."""
        return self.session.chosen[-1] if self.session.chosen else None

    def show_described(self) -> None:
        """Show what is chosen in words and boxes."""
        job = self.session.job
        chosen = self.chosen_one()
        self.properties.setVisible(chosen is not None or self.job_asked)
        thing = things.described_all(job, self.session.chosen)
        style = length_style(job)
        self.properties.show_things(thing.title, thing.facts, thing.questions, style)
        if chosen != self._described:
            self._described = chosen
            self.window.column.form.to_top()
        self.typing.ask()

    def _leave_form(self) -> None:
        """Go from a box of the form to the drawing; boxes of the whole job close with it."""
        if self.job_asked and self.chosen_one() is None:
            self.job_asked = False
            self.show_described()
        if not self._back_to_row():
            self.take_keys()

    def take_keys(self) -> None:
        """Let the keys come to the drawing, or to the page of the stage that has none."""
        page = self.stack.currentWidget()
        assert page is not None
        if self.stack.currentIndex() == 0:
            self.canvas.take_keys()
        elif (first := next(filter(takes_tab, (page, *read_through(page))), None)) is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _back_to_row(self) -> bool:
        """Go from the form of a reading back to its row, if it has one."""
        chosen = self.chosen_one()
        if chosen is None or chosen.kind != "reading":
            return False
        reading = next(r for r in self.session.job.room.readings if r.id == chosen.id)
        self.session.choose()
        self.show_readings()
        return self.readings.begin_at(key_of(reading))

    def show_mold(self) -> None:
        """Show the opened mold of the piece at hand."""
        job = self.session.shown_job
        letters = [piece.name for piece in pieces(job)]
        if self.mold_piece not in letters:
            self.mold_piece = letters[0] if letters else ""
        self.molds.show_pieces(letters, self.mold_piece)
        told = described_mold(job, self.mold_piece, self.molds.faces.shown)
        self.molds.show_mold(told.sheet, told.title, told.sentence, told.note)
        self.molds.show_ticks(told.ticks)
        self.molds.show_turning(told.edges, told.turning, told.turning_words)
        free = all(slab.piece != self.mold_piece for slab in job.slabs)
        sides = mold_choices(job, self.mold_piece).construction
        self.molds.show_sides(sides, free=free and bool(self.mold_piece))

    def _highlight(self) -> None:
        hovered = frozenset({self.session.hovered} if self.session.hovered else ())
        chosen = frozenset(self.session.chosen)
        self.canvas.highlight(hovered, chosen, self.over.key, self.over.moves)
        self._mark_pieces()

    def _on_length(self) -> None:
        """Show what the length at hand would move, and how it is typed."""
        self._highlight()
        self.typing.ask()

    def _on_chosen(self) -> None:
        chosen = self.chosen_one()
        self.job_asked = False
        if chosen is not None and chosen.kind == "piece":
            self.mold_piece = chosen.id
            if self.session.stage == "Molds":
                self.show_mold()
        self.show_drawing()
        self._highlight()
        self._show_overlay()
        self.show_described()
        words = self.chosen_words() if chosen is not None else "nothing"
        for view in (self.canvas.up, self.canvas.down):
            view.setAccessibleDescription(f"Chosen: {words}")
        self.properties.heading.setAccessibleName(words if chosen is not None else "")
        self._show_pieces()
        self.update_actions()

    def _on_stage(self) -> None:
        stage = self.session.stage
        self.hand.cancel()
        self.header.tape.show_stage(stage)
        self.tools.show_tools(tools_of(stage))
        self._show_wanted_sides()
        focused = QApplication.focusWidget()
        held = focused is None or self.stack.isAncestorOf(focused)
        page = 0 if stage in BOARD_STAGES else {"Molds": 1, "Pour": 2, "Sheets": 3}[stage]
        self.stack.setCurrentIndex(page)
        self.show_drawing()
        self.show_consequences()
        self.typing.ask()
        self.update_actions()
        self.announce(f"Stage {stage}.")
        if held:
            self.take_keys()

    def _show_wanted_sides(self) -> None:
        """Show the sides that were asked for, else both; a bare room has nothing face down."""
        bare = self.session.stage == "Room" and not has_tops(self.session.job)
        sides = self.sides_asked or ("up" if bare else "both")
        if sides != self.canvas.sides:
            self.canvas.show_sides(sides)
        self.tools.mark_sides(sides)

    def _on_file(self) -> None:
        self._show_names()
        self.hand.cancel()
        self.update_actions()

    def _on_doing(self) -> None:
        self._show_overlay()
        self.typing.ask()
        hand = self.hand
        state = (hand.working, hand.tool, hand.undo_title, hand.redo_title)
        if self._hand_state == state:
            return
        if state[1] and state[1] != self._hand_state[1]:
            self.announce(hand.doing.hint)
        if ("walls" in (state[1], self._hand_state[1])) and state[1] != self._hand_state[1]:
            self.show_drawing()
        self._hand_state = state
        self.update_actions()
        cross = self.hand.working and self.hand.tool
        shape = Qt.CursorShape.CrossCursor if cross else Qt.CursorShape.ArrowCursor
        for view in (self.canvas.up, self.canvas.down):
            view.viewport().setCursor(shape)

    def _show_overlay(self) -> None:
        """Show what the gesture at work draws, or the handles of what is chosen."""
        if self.hand.working or self.session.stage not in BOARD_STAGES:
            self.canvas.show_overlay(self.hand.overlay)
        else:
            lit = (*self.session.chosen, *self._hovered_corner())
            self.canvas.show_overlay(handle_marks(self.session.shown_job, lit))

    def _hovered_corner(self) -> tuple[Subject, ...]:
        """Return the corner under the pointer: a square one has no line of its own to light up."""
        hovered = self.session.hovered
        if hovered is None or not isinstance(hovered.edge, CornerRef):
            return ()
        return () if hovered in self.session.chosen else (hovered,)

    def _on_hovered(self) -> None:
        self._highlight()
        if not self.hand.working and self._ringed != self._hovered_corner():
            self._ringed = self._hovered_corner()
            self._show_overlay()

    def update_actions(self) -> None:
        """Enable and name what can be done now."""
        now = situation(self.session, self.hand)
        self.deeds.menus.update(now)
        enabled = {a.id: a.enabled(now) for a in ACTIONS}
        self.tools.mark(self.hand.tool, enabled)
        self.deeds.menus.actions["display"].setChecked(self.session.job.display == "mm")
        self.deeds.menus.actions["shop-view"].setChecked(self.scale is SHOP)
        self.deeds.menus.actions["pad"].setChecked(not self.window.column.pad.isHidden())
        self.deeds.menus.actions["dark"].setChecked(self.look is DARK)

    def chosen_words(self) -> str:
        """Return what is chosen in words, told apart from all else."""
        chosen = self.chosen_one()
        heading = self.properties.heading.text()
        if chosen is None or len(self.session.chosen) > 1:
            return heading
        return things.called(self.session.job, chosen)

    def announce(self, words: str) -> None:
        """Say something to a screen reader."""
        if not words:
            return
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self.window, words))

    def dress(self) -> None:
        """Give everything its colors and sizes."""
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        dress(app, self.look, self.scale)
        dots = SHOP_DOTS if self.scale is SHOP else DESK_DOTS
        self.header.dress(self.look, self.scale)
        self.canvas.dress(self.look, self.scale, dots)
        self.molds.dress(self.look, self.scale, dots)
        self.sheets.stock.dress(self.look, dots)
        self.window.column.setFixedWidth(self.scale.column)

    def switch_scale(self) -> None:
        """Change between the desk's sizes and the shop's."""
        self.scale = DESK if self.scale is SHOP else SHOP
        self.dress()
        self.update_actions()

    def switch_look(self) -> None:
        """Change between light and dark."""
        self.look = LIGHT if self.look is DARK else DARK
        self.dress()
        self.update_actions()

    def leave(self) -> None:
        """Take what was typed, put down what is at work and keep what is not saved."""
        self.window.setFocus()
        self.hand.cancel()
        self.files.leave()
