"""History: past, present and future of a job as one immutable value."""

from msgspec import Struct
from msgspec.structs import replace

from shop.job import Issued, Job

DEEPEST = 500
"""So many steps back are kept."""


class Step(Struct, frozen=True):
    """A job and the words for what led to it, such as 'move sink'.

    strand names what successive small steps belong to (nudges of one thing); they count as one.
    """

    job: Job
    title: str = ""
    strand: str = ""


class History(Struct, frozen=True):
    """All steps. saved is the job as it is in the file, or None for one never saved."""

    past: tuple[Step, ...]
    present: Step
    future: tuple[Step, ...]
    saved: Job | None

    @property
    def job(self) -> Job:
        """The job as it is now."""
        return self.present.job

    @property
    def dirty(self) -> bool:
        """Whether the job differs from the one in the file."""
        return self.job is not self.saved

    @property
    def undo_title(self) -> str | None:
        """What undo would take back, or None."""
        return self.present.title if self.past else None

    @property
    def redo_title(self) -> str | None:
        """What redo would bring back, or None."""
        return self.future[-1].title if self.future else None


def begun(job: Job, saved: bool) -> History:
    """Return the history of a job that was just opened or made."""
    return History((), Step(job), (), job if saved else None)


def with_step(history: History, job: Job, title: str, strand: str = "") -> History:
    """Return the history after a change; the very same one when nothing changed.

    A step of the same strand as the one before replaces it; one that leads back to the job before
    the strand takes the strand away.
    """
    if job is history.job:
        return history
    step = Step(job, title, strand)
    if strand and history.past and strand == history.present.strand and not history.future:
        if job == history.past[-1].job:
            return History(history.past[:-1], history.past[-1], (), history.saved)
        return History(history.past, step, (), history.saved)
    past = (*history.past, history.present)[-DEEPEST:]
    return History(past, step, (), history.saved)


def undone(history: History) -> History:
    """Return the history one step back; the same at its beginning."""
    if not history.past:
        return history
    future = (*history.future, history.present)
    return History(history.past[:-1], history.past[-1], future, history.saved)


def redone(history: History) -> History:
    """Return the history one step forward; the same at its end."""
    if not history.future:
        return history
    past = (*history.past, history.present)
    return History(past, history.future[-1], history.future[:-1], history.saved)


def marked_saved(history: History, job: Job) -> History:
    """Return the history with this job being the one in the file."""
    return History(history.past, history.present, history.future, job)


def marked_issued(history: History, issued: Issued) -> History:
    """Return the history with shop files noted in every job of it: paper cannot be undone.

    It is no step. What is in the file lacks the note, so the job is to be saved anew.
    """

    def noted(step: Step) -> Step:
        return replace(step, job=replace(step.job, issued=issued))

    return History(
        tuple(noted(step) for step in history.past),
        noted(history.present),
        tuple(noted(step) for step in history.future),
        history.saved,
    )
