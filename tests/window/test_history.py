from datetime import date

import pytest

from app.history import DEEPEST, begun, marked_issued, marked_saved, redone, undone, with_step
from app.session import Session
from export.stamp import issued
from shop.edits import SetSlab
from shop.job import Issued, IssuedMold, Job
from shop.jobfile import decoded, encoded
from tests.window.conftest import sample


def named(name: str) -> Job:
    return Job(name=name)


def test_undo_after_a_step_brings_the_very_same_job_back() -> None:
    first = named("A")
    history = with_step(begun(first, saved=True), named("B"), "name it B")
    assert history.undo_title == "name it B"
    assert undone(history).job is first


def test_redo_after_undo_brings_the_later_job_back_with_its_title() -> None:
    later = named("B")
    history = undone(with_step(begun(named("A"), saved=True), later, "name it B"))
    assert history.redo_title == "name it B"
    assert redone(history).job is later
    assert redone(history).redo_title is None


def test_a_new_step_drops_what_could_be_redone() -> None:
    history = undone(with_step(begun(named("A"), saved=True), named("B"), "b"))
    assert with_step(history, named("C"), "c").future == ()


def test_a_step_that_changes_nothing_is_not_pushed() -> None:
    history = begun(named("A"), saved=True)
    assert with_step(history, history.job, "nothing") is history


def test_steps_of_one_strand_count_as_one() -> None:
    first = named("A")
    history = begun(first, saved=True)
    for name in "BCD":
        history = with_step(history, named(name), "nudge", strand="sink")
    assert undone(history).job is first


def test_steps_of_different_strands_stay_apart() -> None:
    history = with_step(begun(named("A"), saved=True), named("B"), "b", strand="sink")
    history = with_step(history, named("C"), "c", strand="seam")
    assert undone(history).job.name == "B"


def test_a_strand_that_leads_back_to_where_it_began_is_no_step() -> None:
    first = named("A")
    history = with_step(begun(first, saved=True), named("B"), "b", strand="sink")
    back = with_step(history, named("A"), "a", strand="sink")
    assert (back.job is first, back.past, back.dirty) == (True, (), False)


@pytest.mark.parametrize("move", [undone, redone])
def test_at_either_end_history_stays(move: object) -> None:
    history = begun(named("A"), saved=False)
    assert callable(move)
    assert move(history) is history


def test_a_job_is_dirty_until_it_is_the_one_in_the_file() -> None:
    history = begun(named("A"), saved=False)
    assert history.dirty
    history = marked_saved(history, history.job)
    assert not history.dirty
    history = with_step(history, named("B"), "b")
    assert history.dirty
    assert not undone(history).dirty


def test_no_more_than_the_deepest_number_of_steps_is_kept() -> None:
    history = begun(named("A"), saved=True)
    for number in range(DEEPEST + 5):
        history = with_step(history, named(str(number)), "step")
    assert len(history.past) == DEEPEST


def test_written_shop_files_are_noted_in_past_present_and_future_without_a_step() -> None:
    note = Issued(1, "2024-02-29")
    history = with_step(begun(named("A"), saved=True), named("B"), "b")
    history = marked_issued(undone(with_step(history, named("C"), "c")), note)
    assert history.undo_title == "b"
    assert history.redo_title == "c"
    assert history.dirty
    found = [undone(history).job, history.job, redone(history).job]
    assert [(job.name, job.issued) for job in found] == [(n, note) for n in "ABC"]


def test_a_revision_number_is_never_used_for_two_shapes_whatever_is_undone() -> None:
    session = Session(sample("galley"))
    numbers: dict[int, tuple[IssuedMold, ...]] = {}

    def write() -> None:
        written = issued(session.job, date(2026, 1, 5))
        assert numbers.setdefault(written.revision, written.molds) == written.molds
        session.mark_issued(written)

    write()
    session.apply(SetSlab(1.5, session.job.density_pcf))
    write()
    session.undo()
    write()
    session.undo()
    session.apply(SetSlab(1.75, session.job.density_pcf))
    write()
    session.undo()
    session.redo()
    write()
    assert sorted(numbers) == [1, 2, 3, 4]
    assert decoded(encoded(session.job)).issued == session.job.issued
