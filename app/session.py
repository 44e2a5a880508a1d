"""The session: one open job, its history, what is chosen and hovered, and the stage at hand.

Everything on screen listens to a Session; nothing else holds a job. A preview is a job that is
shown while something is being dragged or typed, and never enters the history.
"""

from collections.abc import Iterable
from functools import reduce
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from app import history as steps
from app.history import History
from app.stages import Stage
from geometry.naming import EdgeRef
from geometry.picking import Subject
from shop.applying import applied, applied_all
from shop.describing import described_all
from shop.edits import Edit
from shop.job import Issued, Job
from shop.plan import pieces
from shop.references import run_of, sides_of
from shop.words import capital


class Session(QObject):
    """One open job. Signals say what changed; the values are read from the properties."""

    changed = Signal()
    shown = Signal()
    chosen_changed = Signal()
    hovered_changed = Signal()
    stage_changed = Signal()
    file_changed = Signal()
    announced = Signal(str)
    gone_back = Signal(str)

    def __init__(self, job: Job, path: Path | None = None, *, saved: bool = False) -> None:
        super().__init__()
        self._history = steps.begun(job, saved)
        self._preview: Job | None = None
        self._path = path
        self._stage = _first_stage(job)
        self._chosen: tuple[Subject, ...] = ()
        self._hovered: Subject | None = None

    @property
    def history(self) -> History:
        """All steps so far."""
        return self._history

    @property
    def job(self) -> Job:
        """The job as it is, whatever is being tried out."""
        return self._history.job

    @property
    def shown_job(self) -> Job:
        """The job on screen: the preview while there is one."""
        return self._preview or self._history.job

    @property
    def path(self) -> Path | None:
        """The job's file, or None while it has none."""
        return self._path

    @property
    def dirty(self) -> bool:
        """Whether the job differs from its file."""
        return self._history.dirty

    @property
    def stage(self) -> Stage:
        """The stage of the work order at hand."""
        return self._stage

    @property
    def chosen(self) -> tuple[Subject, ...]:
        """What is chosen, in the order of choosing."""
        return self._chosen

    @property
    def hovered(self) -> Subject | None:
        """What lies under the cursor."""
        return self._hovered

    def open(self, job: Job, path: Path | None, *, saved: bool) -> None:
        """Put another job in place of this one."""
        self._history = steps.begun(job, saved)
        self._path = path
        self._preview = None
        self._chosen = ()
        self._hovered = None
        self._tell_all()
        self.file_changed.emit()
        if _first_stage(job) == "Room":
            self.go_to("Room")

    def preview(self, edits: Iterable[Edit]) -> Job:
        """Show the job as it would be after these edits; return it."""
        tried = applied_all(self.job, tuple(edits))
        self.show_preview(None if tried is self.job else tried)
        return tried

    def show_preview(self, job: Job | None) -> None:
        """Show this job for the moment; None shows the present one again."""
        if job is not self._preview:
            self._preview = job
            self.shown.emit()

    def apply(self, *edits: Edit, title: str = "", strand: str = "") -> bool:
        """Carry out edits as one step; return whether anything changed."""
        before = self.job
        after = reduce(applied, edits, before)
        self._preview = None
        if after is before:
            self.shown.emit()
            return False
        said = title or described_all(before, edits, after)
        self._history = steps.with_step(self._history, after, said, strand)
        self._tell_all()
        self.announced.emit(capital(said))
        return True

    def undo(self) -> None:
        """Go one step back."""
        self._go(steps.undone(self._history), f"Undone: {self._history.undo_title}")

    def redo(self) -> None:
        """Go one step forward."""
        self._go(steps.redone(self._history), f"Done again: {self._history.redo_title}")

    def _go(self, history: History, said: str) -> None:
        self._preview = None
        if history is self._history:
            self.shown.emit()
            return
        self._history = history
        self._tell_all()
        self.announced.emit(said)
        self.gone_back.emit(said)

    def mark_saved(self, job: Job, path: Path) -> None:
        """Note that this job is what the file now holds."""
        self._history = steps.marked_saved(self._history, job)
        self._path = path
        self.file_changed.emit()

    def mark_issued(self, issued: Issued) -> None:
        """Note what shop files were written; undo does not take it back."""
        self._history = steps.marked_issued(self._history, issued)
        self._tell_all()

    def choose(self, *subjects: Subject) -> None:
        """Make these the chosen things."""
        if subjects != self._chosen:
            self._chosen = subjects
            self.chosen_changed.emit()

    def hover(self, subject: Subject | None) -> None:
        """Say what lies under the cursor."""
        if subject != self._hovered:
            self._hovered = subject
            self.hovered_changed.emit()

    def go_to(self, stage: Stage) -> None:
        """Turn to a stage of the work order."""
        if stage != self._stage:
            self._stage = stage
            self.stage_changed.emit()

    def _tell_all(self) -> None:
        before = self._chosen
        kept = (followed(self.job, one) for one in before if present_in(self.job, one))
        self._chosen = tuple(kept)
        self.changed.emit()
        self.shown.emit()
        if self._chosen != before:
            self.chosen_changed.emit()


def _first_stage(job: Job) -> Stage:
    """Return the stage that a job opens in: the room until there are tops."""
    return "Counters" if job.runs or job.islands else "Room"


def followed(job: Job, subject: Subject) -> Subject:
    """Return a run's end on the leg that it is on now, where legs came or went; else the same."""
    ref = subject.edge
    if not isinstance(ref, EdgeRef) or ref.side not in ("start", "end"):
        return subject
    run = run_of(job, ref.owner)
    if run is None:
        return subject
    leg = run.legs[0 if ref.side == "start" else -1].id
    return subject if leg == ref.owner else Subject("edge", leg, EdgeRef(leg, ref.side))


def present_in(job: Job, subject: Subject) -> bool:
    """Tell whether the job still has what a subject names; of an edge, what it is an edge of."""
    if subject.kind == "piece":
        return any(piece.name == subject.id for piece in pieces(job))
    ids: dict[str, Iterable[str]] = {
        "corner": (c.id for c in job.room.corners),
        "wall": (w.id for w in job.room.walls),
        "reading": (r.id for r in job.room.readings),
        "mark": (m.id for m in job.room.marks),
        "pin": (pin.id for pin in job.pins),
        "baseline": (b.id for b in job.room.baselines),
        "cabinet": (c.id for c in job.cabinets),
        "run": (r.id for r in job.runs),
        "leg": (leg.id for r in job.runs for leg in r.legs),
        "island": (i.id for i in job.islands),
        "opening": (o.id for o in job.openings),
        "inset": (one.id for one in job.insets),
        "seam": (s.id for s in job.seams),
    }
    if subject.kind == "edge":
        return subject.id in sides_of(job)
    return subject.kind not in ids or subject.id in ids[subject.kind]
