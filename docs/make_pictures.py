"""Make the pictures of the docs and the keyboard sheet with the program's own code.

Run by hand, in the project's environment, after the window or the drawings have changed:

    .venv/bin/python docs/make_pictures.py

Everything is drawn off the screen; the samples are the program's own, the job of the walkthrough is
drawn from nothing by the clicks and keys that docs/walkthrough.md tells.
"""

import os
import sys
import tempfile
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

ROOT = Path(__file__).resolve().parents[1]
DOCS = ROOT / "docs"
PICTURES = DOCS / "pictures"
SIZE = (1280, 800)
COLORS = 96
PAPERS_MS = 8000
"""Small pictures of the papers are made beside the window, for so long."""

STRIP_PX = 4400
"""A scribe strip is drawn so wide, and shown from its left end."""

TODAY = date(2026, 1, 15)
"""What the pictures of stamped pages are dated, so that they stay the same."""

if TYPE_CHECKING:
    from PySide6.QtCore import QPoint
    from PySide6.QtGui import QImage
    from PySide6.QtWidgets import QApplication, QWidget

    from app.workbench import Workbench
    from geometry.points import Point
    from shop.job import Job
    from shop.readings import Reading


def main() -> None:
    """Make everything."""
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    os.environ["LC_ALL"] = "C.UTF-8"
    sys.path.insert(0, str(ROOT))
    PICTURES.mkdir(exist_ok=True)
    (DOCS / "keyboard.md").write_text(keyboard_page(), encoding="utf-8")

    from PySide6.QtCore import QLocale
    from PySide6.QtWidgets import QApplication

    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedStates))
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    with tempfile.TemporaryDirectory() as folder:
        drawings()
        papers()
        stages(application, Path(folder))
        measuring(application, Path(folder))
        drafting(application, Path(folder))
        molding(application, Path(folder))
        walkthrough(application, Path(folder))
    heavy = sum(path.stat().st_size for path in PICTURES.iterdir())
    sys.stdout.write(f"{len(list(PICTURES.iterdir()))} pictures, {heavy // 1024} kB in all\n")


def keyboard_page() -> str:
    """Return docs/keyboard.md, made from the records in app/actions.py."""
    from app.actions import ACTIONS, ALWAYS_KEYS, MENUS

    lines = [
        "# Keys",
        "",
        "Made from the actions in `app/actions.py` by `docs/make_pictures.py`: change it there.",
        "Plain letters work while the drawing has the focus; in a box they are letters.",
        "In the program, F1 shows this sheet.",
    ]
    for menu in MENUS:
        actions = [action for action in ACTIONS if action.menu == menu]
        staged = any(action.stage for action in actions)
        lines += ["", f"## {menu}", ""]
        lines += ["| key | action | stage | then |" if staged else "| key | action |"]
        lines += ["|---|---|---|---|" if staged else "|---|---|"]
        for action in actions:
            keys = filter(None, (action.shortcut, action.other_key))
            key = " or ".join(f"`{one}`" for one in keys) or "from the menu"
            title = action.title.removesuffix(" ...")
            end = f" {action.stage or ''} | {action.hint} |" if staged else ""
            lines.append(f"| {key} | {title} |{end}")
    lines += ["", "## Always", "", "| key | what it does |", "|---|---|"]
    lines += [f"| {key} | {words} |" for key, words in ALWAYS_KEYS]
    return "\n".join(lines) + "\n"


# --- drawings: pages and plans, without a window ----------------------------------------------


def drawings() -> None:
    """Draw the plan on both sides of the fold, and a mold's page of the booklet."""
    from export.booklet import booklet_pages
    from export.drawings import face_down, face_up
    from export.paint import picture
    from export.pictures import page_of
    from export.stamp import stamped

    job = sample("corner-with-range")
    keep(picture(page_of(job.name, [face_up(job)]), 1000), "plan-face-up")
    keep(picture(page_of(job.name, [face_down(job)]), 1000), "plan-face-down")
    pages = booklet_pages(job, stamped(job, TODAY))
    mold_page = next(page for page in pages if page.name.startswith("Mold B"))
    keep(picture(mold_page, 900), "booklet-mold")


def papers() -> None:
    """Draw a measuring sheet as it is taken along, and a scribe strip."""
    from msgspec.structs import replace

    from export.measuring_sheet import measuring_sheet
    from export.paint import picture
    from export.rolls import roll_pages
    from export.scribes import scribe_plots
    from export.stamp import stamped

    plain = replace(sample("bay-and-breast"), sample=False)
    drawn = replace(bare(plain), cabinets=(), name="Before the visit")
    keep(picture(measuring_sheet(drawn, stamped(drawn, TODAY))[0], 900), "measure-sheet")
    strip = next(plot for plot in scribe_plots(plain) if plot.sheet.name.endswith("11 to 12"))
    (page,) = roll_pages((strip,), stamped(plain, TODAY), (1.0, 1.0), metric=False)
    strip_drawn = picture(page, STRIP_PX)
    keep(strip_drawn.copy(0, 0, 1000, strip_drawn.height()), "measure-scribe")


def bare(job: "Job") -> "Job":
    """Return a job with its walls as drawn, before anything was taped."""
    from msgspec.structs import replace

    room = replace(job.room, readings=(), marks=(), baselines=())
    return replace(job, room=room, runs=(), openings=())


def sample(name: str) -> "Job":
    """Return a sample job."""
    from shop.jobfile import read_job
    from shop.samples import sample_path

    return read_job(sample_path(name))


def keep(image: "QImage", name: str) -> None:
    """Write a picture with few colors, so that the repository stays small."""
    from PIL import Image

    path = PICTURES / f"{name}.png"
    if not image.save(str(path)):
        raise OSError(f"{path} was not written.")
    with Image.open(path) as full:
        small = full.convert("RGB").quantize(COLORS, dither=Image.Dither.NONE)
    small.save(path, optimize=True)


# --- windows ----------------------------------------------------------------------------------


class Hands:
    """The hands of a person before a window; places are inches of the model, face up."""

    def __init__(self, bench: "Workbench") -> None:
        self.bench = bench

    def _place(self, point: "Point") -> tuple["QWidget", "QPoint"]:
        view = self.bench.canvas.up
        return view.viewport(), view.place_of(point).toPoint()

    def _focused(self) -> "QWidget":
        from PySide6.QtWidgets import QApplication

        self.bench.window.activateWindow()
        widget = QApplication.focusWidget()
        assert widget is not None
        return widget

    def move(self, point: "Point") -> None:
        """Move the pointer."""
        from PySide6.QtTest import QTest

        QTest.mouseMove(*self._place(point))
        self.settle(0)

    def click(self, point: "Point") -> None:
        """Click with the left button."""
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        self.move(point)
        viewport, at = self._place(point)
        QTest.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=at)
        self.settle(0)

    def type(self, text: str, *, enter: bool = True) -> None:
        """Type letter by letter, as the focus may move with the first one; then press Enter."""
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        for letter in text:
            QTest.keyClicks(self._focused(), letter)
        if enter:
            self.key(Qt.Key.Key_Return)

    def key(self, key: object) -> None:
        """Press a key."""
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        assert isinstance(key, Qt.Key)
        QTest.keyClick(self._focused(), key)
        self.settle(0)

    def settle(self, milliseconds: int = 250) -> None:
        """Let the window catch up; findings follow a moment after a change."""
        from PySide6.QtTest import QTest

        QTest.qWait(milliseconds)

    def shoot(self, name: str) -> None:
        """Take a picture of the window, once remedies have been sought."""
        self.settle(1200)
        keep(self.bench.window.grab().toImage(), name)


def hands_on(application: "QApplication", folder: Path, job: "Job") -> Hands:
    """Return the hands on a window that shows a job."""
    from app.files import Files
    from app.look import DESK, LIGHT
    from app.session import Session
    from app.style import dress, load_fonts
    from app.window import Window
    from app.workbench import Workbench

    load_fonts()
    dress(application, LIGHT, DESK)
    session = Session(job, saved=True)
    files = Files(session, folder / "settings", folder / "state")
    window = Window(LIGHT)
    window.resize(*SIZE)
    window.show()
    window.activateWindow()
    application.processEvents()
    return Hands(Workbench(window, session, files, LIGHT))


def stages(application: "QApplication", folder: Path) -> None:
    """Take a picture of each stage on a sample, at work."""
    from geometry.picking import Subject
    from shop.findings import findings

    job = sample("out-of-square")
    hands = hands_on(application, folder, job)
    bench = hands.bench

    bench.deeds.go_to_stage("Seams")
    bench.session.choose(Subject("seam", job.seams[-1].id))
    hands.shoot("window")
    bench.deeds.go_to_stage("Openings")
    bridge = next(f for f in findings(job) if "cooktop" in f.title and "front" in f.title)
    bench.session.choose(*bridge.about)
    hands.settle()
    bench.deeds.show_finding(bridge)
    hands.shoot("stage-openings")
    bench.deeds.fit()
    bench.deeds.go_to_stage("Molds")
    bench.session.choose(Subject("piece", "B"))
    hands.shoot("stage-molds")
    bench.deeds.go_to_stage("Sheets")
    hands.settle(PAPERS_MS)
    hands.shoot("stage-sheets")
    bench.window.close()

    hands = hands_on(application, folder, sample("double-bowl"))
    bench = hands.bench
    bench.deeds.go_to_stage("Seams")
    bench.session.choose(Subject("seam", bench.session.job.seams[0].id))
    hands.shoot("stage-seams")
    bench.window.close()

    hands = hands_on(application, folder, sample("round-island"))
    bench = hands.bench
    bench.deeds.go_to_stage("Counters")
    bench.session.choose(Subject("island", bench.session.job.islands[0].id))
    hands.shoot("stage-counters")
    bench.window.close()


def measuring(application: "QApplication", folder: Path) -> None:
    """Measure the sample that docs/measuring.md is about, and take a picture of its steps."""
    from msgspec.structs import replace

    from geometry.picking import Subject
    from shop import edits
    from shop.findings import findings

    job = sample("bay-and-breast")

    def in_room(shown: "Job") -> Hands:
        hands = hands_on(application, folder, shown)
        hands.bench.deeds.go_to_stage("Room")
        hands.bench.deeds.show_sides("up")
        hands.settle()
        hands.bench.deeds.fit()
        return hands

    few = bare(job)
    few = replace(few, room=replace(few.room, readings=half_taped(job)), cabinets=())
    hands = in_room(few)
    hands.shoot("measure-next")
    hands.bench.window.close()

    short = next(reading for reading in job.room.readings if reading.id == "reading27")
    slip = replace(short, value=short.value - 0.5, taken=1, earlier=())
    readings = tuple(slip if reading is short else reading for reading in job.room.readings)
    hands = in_room(replace(job, room=replace(job.room, readings=readings)))
    hands.shoot("measure-slip")
    hands.bench.window.close()

    hands = in_room(job)
    bench = hands.bench
    for wall, tool, near, name in (
        ("wall14", "straightedge", (-10.0, 60.0, 90.0, 110.0), "measure-straightedge"),
        ("wall20", "baseline", (95.0, 75.0, 205.0, 125.0), "measure-baseline"),
    ):
        bench.session.choose(Subject("wall", wall))
        bench.canvas.show_place(near)
        bench.deeds.start_tool(tool)
        hands.shoot(name)
        bench.hand.cancel()
    bench.window.close()

    hands = in_room(replace(job, cabinets=job.cabinets[:2], runs=(), openings=()))
    bench = hands.bench
    bench.session.choose(Subject("wall", "wall23"))
    bench.deeds.start_tool("cabinet")
    hands.shoot("measure-cabinets")
    bench.window.close()

    hands = hands_on(application, folder, replace(job, runs=(), openings=()))
    hands.bench.deeds.show_sides("up")
    hands.settle()
    hands.bench.deeds.propose_tops()
    hands.shoot("measure-proposed")
    hands.bench.window.close()

    hands = hands_on(application, folder, job)
    bench = hands.bench
    bench.session.apply(edits.MarkPiece("A", "cast"))
    gap = next(reading for reading in job.room.readings if reading.id == "reading63")
    bench.session.apply(edits.SetReading(replace(gap, value=0.75)))
    bench.deeds.go_to_stage("Counters")
    hands.settle()
    differs = next(f for f in findings(bench.session.job) if f.code == "slab-differs")
    bench.deeds.show_finding(differs)
    bench.session.choose(Subject("piece", "A"))
    hands.shoot("measure-cast")
    bench.window.close()


def half_taped(job: "Job") -> "tuple[Reading, ...]":
    """Return the walls and three of the diagonals: what somebody brings home who was in a hurry."""
    from shop.readings import DiagonalReading, WallReading

    kept = ("reading37", "reading38", "reading40")
    return tuple(
        reading
        for reading in job.room.readings
        if isinstance(reading, WallReading)
        or (isinstance(reading, DiagonalReading) and reading.id in kept)
    )


def drafting(application: "QApplication", folder: Path) -> None:
    """Take a picture of what docs/shapes.md, docs/openings.md and docs/seams.md are about."""
    from PySide6.QtCore import Qt

    from geometry.picking import Subject

    hands = hands_on(application, folder, sample("bowed-and-free"))
    bench = hands.bench
    bench.deeds.go_to_stage("Counters")
    bench.session.choose(Subject("island", bench.session.job.islands[0].id))
    hands.shoot("shape-free")
    bench.window.close()

    hands = hands_on(application, folder, sample("peninsula-and-ledge"))
    bench = hands.bench
    bench.deeds.show_sides("up")
    bench.deeds.go_to_stage("Counters")
    hands.settle()
    bench.deeds.fit()
    hands.shoot("run-peninsula")
    bench.deeds.show_sides("both")
    bench.deeds.go_to_stage("Seams")
    hands.settle()
    bench.deeds.fit()
    bent = next(
        seam for seam in bench.session.job.seams if getattr(seam.start, "bend", None) is not None
    )
    bench.session.choose(Subject("seam", bent.id))
    hands.shoot("seam-dogleg")
    bench.window.close()

    hands = hands_on(application, folder, sample("galley"))
    bench = hands.bench
    bench.deeds.go_to_stage("Counters")
    hands.settle()
    bench.deeds.type_over()
    hands.type("9' 1", enter=False)
    hands.shoot("length-typed")
    hands.key(Qt.Key.Key_Escape)
    bench.deeds.show_shapes()
    hands.settle()
    assert bench.deeds.shapes.sheet is not None
    keep(bench.deeds.shapes.sheet.grab().toImage(), "opening-shapes")
    bench.deeds.shapes.sheet.close()
    bench.window.close()


def molding(application: "QApplication", folder: Path) -> None:
    """Take a picture of what docs/molds.md is about: a mold taken apart, its ticks, cut plans."""
    from geometry.picking import Subject

    for name, piece, face, picture in (
        ("round-island", "A", "apart", "mold-apart"),
        ("bowed-and-free", "A", "ticks", "mold-ticks"),
    ):
        hands = hands_on(application, folder, sample(name))
        bench = hands.bench
        bench.deeds.go_to_stage("Molds")
        bench.session.choose(Subject("piece", piece))
        bench.molds.faces.choose(face)
        hands.settle(1500)
        hands.shoot(picture)
        bench.window.close()

    hands = hands_on(application, folder, sample("corner-with-range"))
    bench = hands.bench
    bench.deeds.go_to_stage("Sheets")
    bench.sheets.show_plans()
    while "shopping" in list(bench.sheets.stock.tabs)[:1]:
        hands.settle(200)
    hands.settle(PAPERS_MS)
    for key, picture in ((next(iter(bench.sheets.stock.tabs)), "cut-plan"), ("shopping", "to-buy")):
        bench.sheets.stock.tabs[key].click()
        hands.shoot(picture)
    bench.window.close()


def walkthrough(application: "QApplication", folder: Path) -> None:
    """Do the first job of docs/walkthrough.md and take a picture of its steps."""
    from PySide6.QtCore import Qt

    from geometry.frames import LegFrame
    from geometry.points import middle
    from shop.plan import tops
    from shop.survey import room

    hands = hands_on(application, folder, sample("corner-with-range"))
    bench = hands.bench
    bench.deeds.new_job()
    hands.type("Mill Lane 7")
    if bench.session.job.display == "mm":
        bench.deeds.switch_display()
    hands.shoot("walk-1-new")

    bench.deeds.start_tool("walls")
    hands.click((-95.0, -40.0))
    hands.click((-96.0, 35.0))
    hands.move((-10.0, 36.0))
    hands.shoot("walk-2-walls")
    hands.click((-10.0, 36.0))
    hands.key(Qt.Key.Key_Return)
    bench.deeds.fit()

    bench.deeds.type_readings()
    hands.type("8 4 1/2")
    hands.type("12' 1 3/8")
    hands.type("14 8 1/2", enter=False)
    bench.deeds.fit()
    hands.shoot("walk-3-taped")
    hands.key(Qt.Key.Key_Return)
    hands.type("7' 5 7/8")
    bench.deeds.fit()
    hands.shoot("walk-4-checked")

    first, second = room(bench.session.job).walls
    bench.deeds.start_tool("run")
    hands.click((first.left[0] + 3.0, first.left[1] + 8.0))
    hands.move((second.right[0] - 12.0, second.right[1] - 3.0))
    hands.shoot("walk-5-run")
    hands.click((second.right[0] - 12.0, second.right[1] - 3.0))

    frame = next(
        f
        for f in tops(bench.session.job)[0].top.frames
        if isinstance(f, LegFrame) and f.wall.id == second.id
    )
    center = middle(
        middle(frame.front.start, frame.front.end), middle(frame.back.start, frame.back.end)
    )
    bench.deeds.start_tool("single-bowl")
    hands.click((center[0] + 14.0, center[1]))
    hands.type("3 1/2")
    hands.shoot("walk-6-sink")

    bench.deeds.start_tool("corner-seam")
    hands.click(frame.front.start)
    hands.shoot("walk-7-seam")

    bench.deeds.go_to_stage("Molds")
    hands.shoot("walk-8-mold")

    bench.files.write_into(folder / "Mill Lane 7")
    while not bench.header.write.isEnabled():
        hands.settle(50)
    hands.shoot("walk-9-written")
    bench.window.close()


if __name__ == "__main__":
    main()
