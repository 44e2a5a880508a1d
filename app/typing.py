"""Pointer, keys and boxes: how what a hand does reaches the gestures and the session."""

from collections.abc import Callable
from functools import reduce
from itertools import pairwise
from typing import Literal

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from app import things
from app.asking import Answer, AnswerError, Question
from app.canvas.view import Pointer
from app.gestures.drags import nudge
from app.gestures.gesture import Cursor
from app.gestures.places import picked
from app.panels.answer_box import ARROWS
from app.panels.choice_box import strand_by_keys
from app.panels.entry import step_in
from app.reading_rows import key_of
from app.taking import Again, measure, taken, taken_again, taking_title
from app.typing_over import HINT
from app.workbench import Workbench
from export.drawings import up_box
from geometry.naming import Id
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.advice import advice
from shop.applying import applied
from shop.job import Job, fresh_id
from shop.misreading import misread
from shop.readings import (
    DiagonalReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    WallReading,
)
from shop.seam_words import seam_told
from shop.words import length_style, reading_words

PAN_PX = 80.0
"""An arrow key with Alt shifts the paper so far."""


class Typing(QObject):
    """Listens to the drawing, the entry line and the property form of a workbench."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__(bench)
        self.bench, self.session, self.hand = bench, bench.session, bench.hand
        self.canvas, self.entry = bench.canvas, bench.entry
        self.asking_name = False
        self._hows: dict[str, Again] = {}
        self._said = ("", *self._standing())
        hand, canvas, entry = self.hand, self.canvas, self.entry
        hand.started.connect(lambda: self._hold_still(True))
        hand.finished.connect(lambda: self._hold_still(False))
        hand.canceled.connect(lambda: self._hold_still(False))
        canvas.pressed.connect(self._on_pressed)
        canvas.moved.connect(self._on_moved)
        canvas.released.connect(lambda pointer: self._point(hand.release, pointer))
        canvas.departed.connect(self._on_departed)
        session = self.session
        session.hovered_changed.connect(self._on_hovered)
        session.gone_back.connect(self.say)
        entry.typed.connect(self._on_typed)
        entry.misread.connect(self._on_misread)
        entry.taken.connect(self._on_taken)
        entry.left.connect(self._on_left)
        entry.decided.connect(self._on_decided)
        entry.arrowed.connect(self._on_arrowed)
        bench.properties.answered.connect(self._on_answered)
        bench.readings.taken.connect(self._on_reading)
        bench.readings.struck.connect(self._on_struck)
        bench.readings.detail_asked.connect(self._show_detail)
        for view in (canvas.up, canvas.down):
            view.installEventFilter(self)
        bench.window.installEventFilter(self)

    def _hold_still(self, steady: bool) -> None:
        self.canvas.steady = steady

    def _standing(self) -> tuple[object, ...]:
        """Return what changes with whatever is done."""
        session = self.session
        return session.history, session.chosen, session.stage, self.hand.doing

    def say(self, words: str) -> None:
        """Say in the entry line what was undone or done again, until something else is done."""
        self._said = (f"{words}.", *self._standing())
        self.ask()

    def _still_said(self) -> str:
        words, *stood = self._said
        here = all(one is now for one, now in zip(stood, self._standing(), strict=True))
        return str(words) if here else ""

    def ask(self) -> None:
        """Show the boxes of what is at work, else of what is chosen."""
        style = length_style(self.session.job)
        doing = self.hand.doing
        if self.asking_name:
            question = Question("name", "Name of the new job", "words", "")
            self.entry.ask("", (question,), style)
        elif self.bench.over.open:
            self.entry.ask(HINT, (), style)
        elif self.hand.working:
            hint = " ".join(filter(None, (self._still_said(), doing.hint)))
            self.entry.ask(hint, doing.questions, style, doing.at)
        else:
            thing = things.described_all(self.session.job, self.session.chosen)
            asked = tuple(q for q in thing.questions if q.first)[:3]
            hint = self._still_said() or ("" if asked else self._idle_hint())
            self.entry.ask(hint, asked, style)

    def _on_hovered(self) -> None:
        """Say what a seam under the pointer is like, as long as nothing is asked."""
        if self.session.stage == "Seams" and not self.hand.working and not self.session.chosen:
            self._said = ("", *self._standing())
            self.ask()

    def _idle_hint(self) -> str:
        return {
            "Room": self._room_hint(),
            "Counters": "Trace along the walls, or click an edge to change it.",
            "Openings": "Choose an opening above and click where it goes.",
            "Seams": self._seam_hint(),
            "Molds": "Pick a piece: its mold lies opened flat.",
            "Pour": "What there is to mix.",
            "Sheets": "Write the shop files when the list at the right is as you want it.",
        }[self.session.stage]

    def _seam_hint(self) -> str:
        """Return what a hovered seam is like, or what to do."""
        hovered, job = self.session.hovered, self.session.job
        if hovered is None or hovered.kind != "seam":
            return "Press S and click where the top is split, or J for suggestions."
        return seam_told(job, hovered.id) or "A seam that cannot be made."

    def _room_hint(self) -> str:
        wrong = misread(self.session.job)
        if wrong is not None:
            return f"{wrong.words} Enter goes there."
        found = advice(self.session.job)
        if found is None:
            return "Draw walls, then click each wall and type what the tape says."
        return found.words if found.reading is None else f"{found.words} Enter goes there."

    def _go_to_advised(self) -> None:
        """Go to the box of the tape to take next, or again, if there is one."""
        if self.session.stage == "Room" and self._go_to_suspect():
            return
        found = advice(self.session.job) if self.session.stage == "Room" else None
        if found is None or found.reading is None:
            return
        match found.reading:
            case WallReading(wall=wall):
                subject, key = Subject("wall", wall), "taped"
            case DiagonalReading(a=a, b=b):
                subject, key = Subject("corner", a), f"to-{b}"
            case ThreeSidesReading(corner=corner):
                subject, key = Subject("corner", corner), "across"
            case _:
                self.bench.show_wanted(found.reading)
                return
        self.session.choose(subject)
        self.entry.focus_box(key)

    def _go_to_suspect(self) -> bool:
        """Go to what a slip asks to be taken, or taken again first; tell whether there is one."""
        wrong = misread(self.session.job)
        if wrong is None:
            return False
        if wrong.ask is not None:
            self.bench.show_wanted(wrong.ask)
            return True
        self.bench.show_readings()
        return self.bench.readings.begin_at(key_of(wrong.suspects[0].reading))

    def keep_typed(self) -> None:
        """Take what stands typed in the entry line before the hand turns to something else."""
        self.bench.properties.settle()
        if self.hand.working or self.asking_name or not self.entry.sound:
            return
        changed = self._typed_edits()
        if changed:
            self.session.apply(*changed)

    def _typed_edits(self) -> list[edits.Edit]:
        """Return the edits of what was typed into the boxes, which then count as read."""
        self.entry.close_retake()
        changed: list[edits.Edit] = []
        for box in self.entry.boxes:
            # Asked of the job after the boxes before: two new readings have two new ids.
            asked = self._questions(reduce(applied, changed, self.session.job))
            if box.isModified() and box.question.key in asked:
                changed += self._edits_of(asked[box.question.key], box.answer())
        self._hows = {}
        self.session.show_preview(None)
        for box in self.entry.boxes:
            box.setModified(False)
        return changed

    def _edits_of(self, question: Question, answer: Answer) -> tuple[edits.Edit, ...]:
        """Return the edits of an answer; a reading taken again goes as said, else as suggested."""
        again = question.retaken
        if again is None or not isinstance(answer, float):
            return question.edits(answer)
        how = self._hows.get(question.key) or again.suggested(answer)
        return again.averaged(answer) if how == "average" else question.edits(answer)

    def _asks_again(self) -> bool:
        """Ask of a reading that was typed over what becomes of it; tell whether there is one."""
        boxes = (box for box in self.entry.boxes if box.question.key not in self._hows)
        return any(self.entry.ask_again(box) for box in boxes)

    def _on_decided(self, how: Again) -> None:
        """Take what was typed over a reading as was said, and go on if the keys are still here."""
        retake, box = self.entry.retake, self.entry.at_hand
        assert retake is not None
        assert box is not None
        self._hows[box.question.key] = how
        focused = QApplication.focusWidget()
        if focused is not None and retake.isAncestorOf(focused):
            self.entry.close_retake()
            box.setFocus(Qt.FocusReason.OtherFocusReason)
            self._on_taken()
        else:
            self.keep_typed()

    def _on_moved(self, pointer: Pointer) -> None:
        if self.bench.over.point(pointer):
            self.session.hover(None)
        else:
            self._point(self.hand.move, pointer)

    def _on_departed(self) -> None:
        self.session.hover(None)
        self.bench.over.leave_drawing()

    def _on_pressed(self, pointer: Pointer) -> None:
        self.keep_typed()
        if self.bench.over.press(pointer):
            return
        view = self.canvas.up if pointer.side == "up" else self.canvas.down
        view.setFocus(Qt.FocusReason.MouseFocusReason)
        self._point(self.hand.press, pointer)
        if self.hand.working and self.hand.doing.at:
            self.entry.focus_first()

    def _point(self, hand_on: Callable[[Cursor], None], pointer: Pointer) -> None:
        free = not self.hand.working
        stage = self.session.stage
        job, at, tol = self.session.job, pointer.point, pointer.tol_in
        room, seams = stage == "Room", stage == "Seams"
        picks = picked(job, at, tol, in_room=room, in_seams=seams) if free else ()
        hand_on(Cursor(pointer.point, pointer.tol_in, picks, pointer.no_snap, pointer.adding))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the keys of the drawing: arrows nudge, Esc steps back, digits begin a number."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if watched is self.bench.window:
                return self._key_nobody_took(event)
            return self._canvas_key(event, face_down=watched is self.canvas.down)
        return super().eventFilter(watched, event)

    def _canvas_key(self, event: QKeyEvent, *, face_down: bool) -> bool:
        key = event.key()
        way = ARROWS.get(key)
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if way is not None and not held & ~Qt.KeyboardModifier.ShiftModifier:
            far = bool(held & Qt.KeyboardModifier.ShiftModifier)
            self._nudge(_seen(way, face_down=face_down), far=far)
            return True
        if way is not None and held == Qt.KeyboardModifier.AltModifier:
            self.canvas.shift(PAN_PX * _seen(way, face_down=face_down)[0] * -1.0, PAN_PX * way[1])
            return True
        if key == Qt.Key.Key_Escape:
            self.step_back()
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.hand.tool == "tape" and self.entry.focus_choice():
                return True
            if self.hand.working:
                self._enter_tool()
            elif not self.entry.focus_first():
                self._go_to_advised()
            return True
        if event.text() and event.text() in "0123456789.-":
            return self.entry.begin_typing(event.text())
        return False

    def _enter_tool(self, key: str = "") -> None:
        """Hand Enter to the tool; walls that were typed out of sight are brought back into it."""
        walls = self.hand.tool == "walls"
        self.hand.enter(key)
        if self.hand.working:
            self.bench.announce(self.hand.doing.hint)
        if self.hand.working and self.hand.doing.at:
            self.entry.focus_first()
        view = self.canvas.down if self.canvas.sides == "down" else self.canvas.up
        x0, y0, x1, y1 = up_box(self.session.shown_job)
        seen = view.viewport().rect()
        corners = (view.place_of(corner).toPoint() for corner in ((x0, y0), (x1, y1)))
        if walls and not all(map(seen.contains, corners)):
            self.canvas.fit()

    def _key_nobody_took(self, event: QKeyEvent) -> bool:
        """Step back with Esc wherever the focus is, and go back to the drawing."""
        if event.key() != Qt.Key.Key_Escape:
            return False
        self.step_back()
        self.bench.take_keys()
        return True

    def _on_arrowed(self, way: Point) -> None:
        """Hand an arrow key on from a box that is empty."""
        self._nudge(_seen(way, face_down=self.canvas.sides == "down"), far=False)

    def _nudge(self, way: Point, *, far: bool) -> None:
        if self.hand.working:
            self.hand.arrow(way)
            self.bench.announce(self.hand.doing.hint)
            return
        chosen = self.bench.chosen_one()
        if chosen is None:
            return
        step = 1.0 if far else step_in(length_style(self.session.job))
        by, together = (way[0] * step, way[1] * step), self.session.chosen
        moves, moved_title = nudge(self.session.job, chosen, by, together)
        if moves:
            strand = f"nudge {chosen}"
            self.session.apply(*moves, title=moved_title, strand=strand)

    def step_back(self) -> None:
        """Take back the last step of what is under way, leave it, or leave the choice."""
        if self.asking_name:
            self.asking_name = False
            self.ask()
        elif self.hand.working:
            self.hand.back()
        else:
            self.session.show_preview(None)
            self.entry.settle()
            self.session.choose()
            self.bench.job_asked = False
            self.bench.show_described()

    def _questions(self, job: Job) -> dict[str, Question]:
        thing = things.described_all(job, self.session.chosen)
        return {question.key: question for question in thing.questions}

    def _on_typed(self, key: str, answer: Answer) -> None:
        if self.asking_name:
            return
        if self.hand.working:
            self.hand.answer(key, answer)
        elif (question := self._questions(self.session.job).get(key)) is not None:
            if question.kind == "choice":
                self._on_answered(question, answer)
            else:
                self.session.preview(question.edits(answer))

    def _on_misread(self) -> None:
        """Show the job as it is while what stands in a box says nothing."""
        if not self.hand.working:
            self.session.show_preview(None)

    def _on_taken(self) -> None:
        if self.asking_name:
            self._take_name()
            return
        if not self.entry.sound or (self.hand.tool == "tape" and self.entry.focus_choice()):
            return
        if self._asks_again():
            return
        if self.hand.working:
            for key, how in self._hows.items():
                self.hand.said_again(key, how)
            self._hows = {}
            self.entry.settle()
            self._enter_tool(self.entry.key_at_hand)
            self.ask()
            if not self.entry.focus_first():
                self.bench.take_keys()
            return
        changed = self._typed_edits()
        if changed:
            self.session.apply(*changed)
        self.entry.settle()
        if not self._go_on_to_next_wall():
            self._focus_next_box()

    def _go_on_to_next_wall(self) -> bool:
        """From a taped wall go on to the next that is not, in the order of a walk.

        After the last one nothing is chosen, and the entry line says what to tape then.
        """
        chosen, job = self.bench.chosen_one(), self.session.job
        if chosen is None or chosen.kind != "wall":
            return False
        walls = [wall.id for wall in job.room.walls]
        taped = {r.wall for r in job.room.readings if isinstance(r, WallReading)}
        place = walls.index(chosen.id)
        for wall in (*walls[place + 1 :], *walls[:place]):
            if wall not in taped:
                self.session.choose(Subject("wall", wall))
                return self.entry.focus_first()
        self.session.choose()
        return False

    def _focus_next_box(self) -> None:
        boxes = self.entry.boxes
        focused = QApplication.focusWidget()
        for box, after in pairwise(boxes):
            if box is focused:
                after.setFocus(Qt.FocusReason.TabFocusReason)
                return
        self.bench.take_keys()

    def _on_left(self) -> None:
        self._hows = {}
        self.session.show_preview(None)
        self.entry.settle()
        if self.asking_name or self.hand.working:
            self.step_back()
        self.ask()
        self.bench.take_keys()

    def _on_answered(self, question: Question, answer: Answer) -> None:
        strand = strand_by_keys(question.key, self.session.chosen)
        self.session.apply(*question.edits(answer), strand=strand)

    def _on_reading(
        self, reading: Reading, value: float, along: float | None, how: Again | Literal[""]
    ) -> None:
        """Take a reading that was typed into its row, or take it again."""
        job = self.session.job
        known = next((r for r in job.room.readings if r.id == reading.id), None)
        if known is not None and measure(known) == measure(reading):
            edit = taken_again(known, value, how or "replace")
        else:
            fresh = replace(reading, id=fresh_id(job, "reading"), value=value)
            if isinstance(fresh, StationReading) and along is not None:
                fresh = replace(fresh, station=along)
            edit = taken(job, fresh)
        self.session.apply(edit, title=taking_title(job, edit))
        self.bench.show_readings()

    def _on_struck(self, reading: Reading) -> None:
        """Strike a reading, or bring it back; it keeps its row."""
        struck = not reading.struck
        words = reading_words(self.session.job, reading)
        title = f"strike {words}" if struck else f"bring back {words}"
        self.session.apply(edits.SetReading(replace(reading, struck=struck)), title=title)
        self.bench.show_readings()

    def _show_detail(self, reading: Id) -> None:
        """Show all of a reading in the form, and let the keys come to it."""
        self.bench.take_keys()
        self.session.choose(Subject("reading", reading))
        self.bench.properties.boxes[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def type_readings(self) -> None:
        """Let the keys come to the readings, where the next one is to be taken."""
        self.hand.cancel()
        self.session.choose()
        self.bench.show_readings()
        if self.bench.readings.to_take or not self._go_to_suspect():
            self.bench.readings.begin()

    def ask_name(self) -> None:
        """Ask for the name of a new job."""
        self.hand.cancel()
        self.asking_name = True
        self.ask()
        self.entry.focus_first()

    def _take_name(self) -> None:
        try:
            name = str(self.entry.boxes[0].answer())
        except AnswerError as error:
            self.bench.notice.say(str(error))
            return
        self.asking_name = False
        self.bench.files.begin_new(name)
        self.session.go_to("Room")
        self.ask()
        self.bench.window.activateWindow()
        self.bench.take_keys()


def _seen(way: Point, *, face_down: bool) -> Point:
    """Return the way of an arrow key on the board, face up."""
    return (-way[0], way[1]) if face_down else way
