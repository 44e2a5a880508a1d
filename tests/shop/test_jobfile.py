import json
import os
import random
import stat
import tempfile
from collections.abc import Callable
from contextlib import suppress
from math import inf, nan
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import Leg, OnBoard, Run, SquareEnd
from shop import jobfile
from shop.job import Corner, Job, Limits, Room, Wall
from shop.jobfile import JobFileError, decoded, encoded, read_job, write_job
from shop.samples import sample_names, sample_path
from shop.stock_list import SheetGoods, Stock
from tests.shop.kitchens import angle, island, straight

BYTES = tuple(sample_path(name).read_bytes() for name in sample_names())
Plain = dict[str, Any]


def plain(job: Job) -> Plain:
    whole: Plain = json.loads(encoded(job))
    return whole


def refusal(whole: object) -> str:
    data = whole if isinstance(whole, bytes) else json.dumps(whole).encode()
    with pytest.raises(JobFileError) as caught:
        decoded(data)
    said = str(caught.value)
    assert said.endswith((".", "…"))
    assert "\n" not in said
    return said


def changed(change: Callable[[Plain], object], job: Job | None = None) -> Plain:
    whole = plain(job or straight())
    change(whole["job"])
    return whole


@pytest.mark.parametrize("name", sample_names())
def test_a_sample_reads_back_byte_for_byte_and_is_readable_text(name: str) -> None:
    job = read_job(sample_path(name))
    assert decoded(encoded(job)) == job
    assert encoded(decoded(encoded(job))) == encoded(job)
    assert max(map(len, encoded(job).decode().splitlines())) < 200


def test_a_byte_order_mark_and_windows_line_ends_are_read() -> None:
    data = encoded(straight())
    assert decoded(b"\xef\xbb\xbf" + data.replace(b"\n", b"\r\n")) == straight()


def test_lengths_may_stand_as_text() -> None:
    def by_hand(job: Plain) -> None:
        job["room"]["corners"][1]["x"] = "10'"
        job["runs"][0]["legs"][0]["overhang"] = "38.1mm"
        job["runs"][0]["legs"][0]["depth_left"] = "24"

    assert decoded(json.dumps(changed(by_hand)).encode()) == straight()


def test_corners_may_be_named_either_way_round() -> None:
    def by_hand(job: Plain) -> None:
        edges = {"a": {"owner": "leg201", "side": "front"}, "b": {"owner": "leg201", "side": "end"}}
        job["corner_shapes"] = [{"type": "round", "corner": edges, "radius": 2}]

    job = decoded(json.dumps(changed(by_hand)).encode())
    assert job.corner_shapes[0].corner.a.side == "end"
    assert decoded(encoded(job)) == job


def test_a_counter_that_lags_is_set_right() -> None:
    def lag(job: Plain) -> None:
        job["next_id"] = 3

    assert decoded(json.dumps(changed(lag)).encode()).next_id == straight().next_id


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "breaks off or is damaged at line 1, column 1."),
        (BYTES[0][:700], "breaks off or is damaged at line"),
        (b'{"a": 1}\xff', "is not text (at byte 8)"),
        (b"[" * 100_000, "nested far too deep"),
        (
            b'{"format": "facedown-job", "version": 1, "job":' + b"[" * 800 + b"]" * 800 + b"}",
            "deep",
        ),
        (b'{"format": 1, "format": 2}', "'format' is given twice in one place"),
        (b'{"a\\u001b": 1, "a\\u001b": 2}', r"'a\x1b' is given twice"),
        (b'{"x": NaN}', "NaN stands where a number is needed."),
        (b'{"x": -Infinity}', "-Infinity stands where a number is needed."),
        (b'{"x": ' + b"1" * 5000 + b"}", "a number with thousands of digits"),
        (b'{"x": "\\ud800"}', "one half of a character"),
        (b"[]", "This is not a Facedown job"),
        (b'{"format": "other"}', "This is not a Facedown job"),
        (b'{"format": "facedown-job"}', 'says no "version"'),
        (b'{"format": "facedown-job", "version": true}', 'says no "version"'),
        (b'{"format": "facedown-job", "version": 0}', 'says no "version"'),
        (
            b'{"format": "facedown-job", "version": 99}',
            "written by a newer Facedown (file version 99",
        ),
        (b'{"format": "facedown-job", "version": 1}', 'The file has no "job".'),
        (b'{"format": "facedown-job", "version": 1, "x\\n": 2}', r"'x\n' does not belong beside"),
    ],
)
def test_what_is_no_job_file_is_refused_with_what_it_is(data: bytes, said: str) -> None:
    assert said in refusal(data)


def put(*way: str | int, value: object) -> Callable[[Plain], None]:
    """Put a value into a job at a place."""

    def change(job: Any) -> None:
        for step in way[:-1]:
            job = job[step]
        job[way[-1]] = value

    return change


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (put("name", value=3), "In name: text is needed, not a whole number."),
        (put("name", value=""), "In name: the text may not be empty."),
        (put("name", value="a" * 81), "In name: the text may not be longer than 80 characters."),
        (put("name", value="bell\x07"), "In name: the text has a form that is not allowed there."),
        (put("thickness", value=0), "In thickness: the number must be more than 0."),
        (put("thickness", value=1e308), "In thickness: the number must be 12 or less."),
        (put("thickness", value=[2]), "In thickness: a number is needed, not a list."),
        (put("thickness", value=None), "In thickness: a number is needed, not nothing."),
        (put("density_pcf", value=3), "In density pcf: the number must be 20 or more."),
        (put("density_pcf", value="9 ft"), "In density pcf: a number is needed, not text."),
        (put("display", value="cm"), "In display: 'cm' is none of the choices."),
        (put("colour", value=1), "In the job: 'colour' does not belong there."),
        (put("runs", value=3), "In runs: a list is needed, not a whole number."),
        (put("seams", value=[3]), "In seam 1: a group in braces is needed, not a whole number."),
        (put("runs", 0, "legs", value=[]), "In run 'run200', legs: the list must have 1 or more."),
        (
            put("runs", 0, "legs", 0, "depth_left", value="5 4"),
            "In run 'run200', leg 'leg201', depth left: '5 4' is unclear: write feet and inches",
        ),
        (
            put("runs", 0, "left", "type", value="odd"),
            "In run 'run200', left, type: 'odd' is none of the choices.",
        ),
        (
            put("runs", 0, "left", "type", value=3),
            "In run 'run200', left, type: text is needed, not a whole number.",
        ),
        (
            put("room", "corners", 1, value={"id": "corner1", "number": 2, "x": 1, "y": 1}),
            "The id 'corner1' is used twice: give one of them another number.",
        ),
        (
            put("room", "corners", 1, "number", value=1),
            "Two corners have the number 1: give one of them another one.",
        ),
        (
            put("piece_names", value=[{"name": "A", "top": "run200"}] * 2),
            "Two pieces are called A: give one of them another letter.",
        ),
        (
            put("runs", 0, "legs", 0, "wall", value="wall9"),
            "Leg 'leg201' refers to wall 'wall9', which is not in the job.",
        ),
        (
            put("room", "corners", 0, "id", value={"id": 3}),
            "In room, corner 1, id: text is needed, not a group in braces.",
        ),
        (
            put("corner_shapes", value=[{"type": "round", "radius": 1}]),
            "In corner shape 1: 'corner' is missing.",
        ),
        (put("note", value="x" * 401), "the text may not be longer than 400 characters."),
        (
            put(
                "openings",
                value=[
                    {"id": "opening1", "name": "sink", "shape": {"type": "circle", "diameter": -1}}
                ],
            ),
            "In opening 'sink', shape, diameter: the number must be more than 0.",
        ),
    ],
)
def test_a_wrong_value_is_refused_with_its_place_in_words(
    change: Callable[[Plain], None], said: str
) -> None:
    assert said in refusal(changed(change))


def test_lists_have_an_end() -> None:
    names = [{"name": "A", "top": "run200"}] * 501
    assert "the list may not be longer than 500" in refusal(
        changed(put("piece_names", value=names))
    )
    reading = {"type": "angle", "id": "reading1", "corner": "corner2", "value": 400}
    room = changed(put("room", "readings", value=[reading]), angle())
    assert "reading 'reading1', value: the number must be less than 360." in refusal(room)
    reading["value"] = "90mm"
    assert "value: a number is needed, not text" in refusal(room)


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(BYTES), st.randoms(use_true_random=False), st.integers(1, 12))
def test_damage_is_refused_or_makes_no_difference(
    data: bytes, chance: random.Random, times: int
) -> None:
    broken = bytearray(data)
    for _ in range(times):
        at = chance.randrange(len(broken))
        match chance.randrange(4):
            case 0:
                broken[at] = chance.randrange(256)
            case 1:
                del broken[at : at + chance.randrange(1, 9)]
            case 2:
                broken[at:at] = chance.randbytes(3)
            case _:
                broken[at:at] = broken[: chance.randrange(1, 60)]
    job = None
    with suppress(JobFileError):
        job = decoded(bytes(broken))
    assert job is None or decoded(encoded(job)) == job


@pytest.mark.parametrize(
    "job",
    [
        replace(straight(), thickness=nan),
        replace(straight(), thickness=inf),
        replace(straight(), thickness=-1.0),
        replace(straight(), name="\ud800"),
        replace(straight(), name="two\nlines"),
        replace(straight(), note=b"bytes"),
        replace(straight(), note=object()),
        replace(straight(), room=replace(straight().room, walls=())),
        replace(island(), islands=(replace(island().islands[0], at=OnBoard(1e9, 0.0)),)),
    ],
)
def test_a_job_that_would_not_read_back_is_not_written(job: Job, tmp_path: Path) -> None:
    with pytest.raises(JobFileError, match=r"The job (cannot be saved|does not read back)"):
        write_job(job, tmp_path / "a.facedown")
    assert list(tmp_path.iterdir()) == []


def test_a_job_whose_counter_lags_does_not_read_back_as_it_is() -> None:
    with pytest.raises(JobFileError, match="does not read back"):
        encoded(replace(straight(), next_id=1))


def test_older_files_are_migrated_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    def renamed(whole: Plain) -> Plain:
        return {**whole, "job": {"name": whole["job"]["title"]}}

    monkeypatch.setattr(jobfile, "VERSION", 3)
    monkeypatch.setattr(jobfile, "MIGRATIONS", {1: renamed, 2: lambda whole: whole})
    old = {"format": "facedown-job", "version": 1, "job": {"title": "Old"}}
    assert decoded(json.dumps(old).encode()) == Job("Old")


@pytest.mark.parametrize(
    ("limits", "wanted"),
    [
        ({"sheet_length": 120, "span": 20}, Job("Old", limits=Limits(span=20.0))),
        ({"sheet_length": "8'", "sheet_width": 48}, Job("Old")),
        ({}, Job("Old")),
    ],
)
def test_the_sheet_of_an_older_file_is_that_of_the_stock_list(limits: Plain, wanted: Job) -> None:
    job = {"name": "Old", "limits": limits}
    old = {"format": "facedown-job", "version": 1, "job": job}
    length = {120: 120.0, "8'": 96.0}.get(limits.get("sheet_length", 0), 97.0)
    board = SheetGoods(length=length, width=limits.get("sheet_width", 49.0))
    assert decoded(json.dumps(old).encode()) == replace(wanted, stock=Stock(board=board))


def test_an_older_file_without_limits_or_a_job_is_told_what_is_wrong_with_it() -> None:
    old = b'{"format": "facedown-job", "version": 2, "job": %s}'
    assert decoded(old % b'{"name": "Old"}') == Job("Old")
    with pytest.raises(JobFileError, match="limits"):
        decoded(old % b'{"name": "Old", "limits": 3}')
    with pytest.raises(JobFileError):
        decoded(old % b"[]")


def test_prices_and_volumes_are_no_lengths() -> None:
    job = b'{"format": "facedown-job", "version": 3, "job": {"name": "A", "stock": {"board": %s}}}'
    whole = job % b'{"length": "8 ft", "price": 40}'
    assert decoded(whole).stock.board == SheetGoods(length=96.0, price=40.0)
    with pytest.raises(JobFileError, match="price"):
        decoded(job % b'{"price": "40"}')


# --- On the disk ------------------------------------------------------------------------------


def test_a_job_is_written_and_read(tmp_path: Path) -> None:
    path = tmp_path / "a.facedown"
    write_job(straight(), path)
    assert read_job(path) == straight()
    assert [item.name for item in tmp_path.iterdir()] == ["a.facedown"]


def test_the_mode_and_a_link_are_kept(tmp_path: Path) -> None:
    path, link = tmp_path / "a.facedown", tmp_path / "link.facedown"
    write_job(straight(), path)
    path.chmod(0o600)
    link.symlink_to(path)
    write_job(angle(), link)
    assert link.is_symlink()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert read_job(path) == angle()


def test_the_file_is_named_when_its_content_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.facedown"
    path.write_bytes(b"{")
    with pytest.raises(JobFileError, match=r"^a\.facedown: The file breaks off"):
        read_job(path)


def test_what_cannot_be_read_says_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(JobFileError, match=r"cannot be read: there is no such file or folder\.$"):
        read_job(tmp_path / "none" / "a.facedown")
    with pytest.raises(JobFileError, match=r"cannot be read: it is no file\.$"):
        read_job(tmp_path)
    with pytest.raises(JobFileError, match=r"that is no path to a file\.$"):
        read_job(Path("a\0b"))
    path = tmp_path / "a.facedown"
    write_job(straight(), path)
    with pytest.raises(JobFileError, match="part of that path is not a folder"):
        read_job(path / "b")
    monkeypatch.setattr(jobfile, "LARGEST_BYTES", 10)
    with pytest.raises(JobFileError, match=r"^a\.facedown is far too large for a job file \("):
        read_job(path)


def refuse(error: OSError) -> Callable[..., Any]:
    def fail(*_: object, **__: object) -> Any:
        raise error

    return fail


@pytest.mark.parametrize(
    ("owner", "name", "error", "said"),
    [
        (os, "fsync", OSError(28, "No space left on device"), "no space left on device"),
        (os, "fsync", OSError(), "the disk failed"),
        (
            tempfile,
            "mkstemp",
            PermissionError(),
            "you may not do that there (it may be read-only)",
        ),
        (Path, "chmod", PermissionError(), "you may not do that there (it may be read-only)"),
        (Path, "replace", OSError(30, "Read-only file system"), "read-only file system"),
        (Path, "read_bytes", OSError(5, "Input/output error"), "input/output error"),
        (Path, "resolve", RuntimeError("Symlink loop"), "that is no path to a file"),
    ],
)
def test_the_old_file_outlives_every_failure_to_write(
    owner: object,
    name: str,
    error: OSError,
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    path = tmp_path / "a.facedown"
    write_job(straight(), path)
    with monkeypatch.context() as patch:
        patch.setattr(owner, name, refuse(error))
        with pytest.raises(JobFileError) as caught:
            write_job(angle(), path)
    assert f"was not saved: {said}. The job is still open" in str(caught.value)
    assert read_job(path) == straight()
    assert [item.name for item in tmp_path.iterdir()] == ["a.facedown"]


def test_a_disk_that_holds_something_else_is_noticed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.facedown"
    write_job(straight(), path)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", lambda _: b"")
        with pytest.raises(JobFileError, match="what the disk holds is not what was written"):
            write_job(angle(), path)
    assert read_job(path) == straight()


def test_a_write_protected_file_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.facedown"
    write_job(straight(), path)
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(JobFileError, match="it may be read-only"):
        write_job(angle(), path)
    assert read_job(path) == straight()


def test_a_missing_folder_and_a_folder_in_the_place_are_refused(tmp_path: Path) -> None:
    with pytest.raises(JobFileError, match="there is no such file or folder"):
        write_job(straight(), tmp_path / "none" / "a.facedown")
    with pytest.raises(JobFileError, match="it is a folder"):
        write_job(straight(), tmp_path)


def test_a_folder_that_cannot_be_settled_is_no_failure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def no_folders(path: Any, flags: int, mode: int = 0o777) -> int:
        if Path(path).is_dir():
            raise PermissionError
        return real(path, flags, mode)

    monkeypatch.setattr(os, "open", no_folders)
    write_job(straight(), tmp_path / "a.facedown")
    assert read_job(tmp_path / "a.facedown") == straight()


def test_corners_beyond_the_board_are_refused() -> None:
    job = straight()
    far = Corner("corner9", 9, 5000.0, 0.0)
    room = replace(job.room, corners=(*job.room.corners, far))
    with pytest.raises(JobFileError, match="corner 'corner9', x: the number must be 4000 or less"):
        encoded(replace(job, room=room))


def test_a_word_that_stands_where_elsewhere_a_length_does_is_kept() -> None:
    leg = Leg("leg1", "wall1", back="scribed", front="faces")
    walls = (Wall("wall1", "corner1", "corner2"),)
    corners = (Corner("corner1", 1, 0.0, 0.0), Corner("corner2", 2, 120.0, 0.0))
    run = Run("run1", (leg,), SquareEnd(10.0), SquareEnd(90.0))
    job = Job("Mill Lane 7", next_id=9, room=Room(corners, walls), runs=(run,))
    assert decoded(encoded(job)) == job
