"""What the window's tests share: an offscreen window on a sample, with folders of its own."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.canvas.view import Side
from app.files import Files
from app.look import DESK, LIGHT
from app.session import Session
from app.style import dress, load_fonts
from app.window import Window
from app.workbench import Workbench
from geometry.points import Point
from shop.job import Job
from shop.jobfile import read_job
from shop.samples import sample_path


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "tests/window" in item.path.as_posix():
            item.add_marker("gui")


def sample(name: str) -> Job:
    return read_job(sample_path(name))


class Desk:
    """A window and the hands of the person before it; places are given in inches, face up."""

    def __init__(self, bench: Workbench) -> None:
        self.bench = bench
        self.session = bench.session

    @property
    def job(self) -> Job:
        return self.session.job

    def place(self, point: Point, side: Side = "up") -> tuple[QWidget, QPoint]:
        view = self.bench.canvas.up if side == "up" else self.bench.canvas.down
        at = view.place_of(point)
        return view.viewport(), QPoint(round(at.x()), round(at.y()))

    def move(self, point: Point, side: Side = "up") -> None:
        viewport, at = self.place(point, side)
        QTest.mouseMove(viewport, at)
        QApplication.processEvents()

    def press(self, point: Point, side: Side = "up") -> None:
        self.move(point, side)
        viewport, at = self.place(point, side)
        QTest.mousePress(viewport, Qt.MouseButton.LeftButton, pos=at)

    def release(self, point: Point, side: Side = "up") -> None:
        viewport, at = self.place(point, side)
        QTest.mouseRelease(viewport, Qt.MouseButton.LeftButton, pos=at)

    def click(self, point: Point, side: Side = "up") -> None:
        self.press(point, side)
        self.release(point, side)

    def drag(self, start: Point, end: Point, side: Side = "up") -> None:
        self.press(start, side)
        self.move(((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0), side)
        self.move(end, side)
        self.release(end, side)

    def type(self, text: str) -> None:
        for letter in text:
            QTest.keyClicks(focused(), letter)

    def key(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(focused(), key, held)


def focused() -> QWidget:
    widget = QApplication.focusWidget()
    assert widget is not None
    return widget


@pytest.fixture(scope="session")
def dressed(qapp: QApplication) -> QApplication:
    load_fonts()
    dress(qapp, LIGHT, DESK)
    return qapp


def desk_on(job: Job, folder: Path, path: Path | None = None) -> Desk:
    session = Session(job, path, saved=True)
    window = Window(LIGHT)
    window.resize(1280, 720)
    window.show()
    window.activateWindow()
    files = Files(session, folder / "settings", folder / "state")
    bench = Workbench(window, session, files, LIGHT)
    QApplication.processEvents()
    return Desk(bench)


def gone(desk: Desk) -> None:
    desk.bench.window.close()
    desk.bench.window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def galley(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("galley"), tmp_path)
    yield desk
    gone(desk)


@pytest.fixture
def peninsula(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("peninsula-and-ledge"), tmp_path)
    yield desk
    gone(desk)


@pytest.fixture
def blank(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(Job(name="Blank"), tmp_path)
    yield desk
    gone(desk)


@pytest.fixture
def corner_kitchen(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("corner-with-range"), tmp_path)
    yield desk
    gone(desk)
