"""What a screen reader is told: a name for all, the role it has, what changed; nothing twice.

The tree that is walked is the one that Qt hands to the platform (QAccessibleInterface).
"""

from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent, QAccessibleInterface
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot

from app import things
from app.canvas.view import Side
from app.panels.templates import TemplateSheet
from app.stages import STAGES
from app.telling import MOST_TOLD, findings_told
from export.marks import Line, Region, Spot, Strokes
from export.template_files import template_in
from export.templates import read_units
from geometry.lengths import LengthStyle
from geometry.naming import CornerRef
from geometry.picking import Subject
from shop import edits
from shop.job import Job
from tests.export.drawn import by_hand, polygon
from tests.window.conftest import Desk, desk_on, focused, gone, sample

NAMES = ["bay-and-breast", "bowed-and-free", "peninsula-and-ledge"]
ROLE, NAME = QAccessible.Role, QAccessible.Text.Name


@pytest.fixture(params=NAMES)
def desk(request: pytest.FixtureRequest, dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    made = desk_on(sample(request.param), tmp_path)
    yield made
    gone(made)


def walked(
    widget: QAccessibleInterface, path: str = ""
) -> Iterator[tuple[QAccessibleInterface, str]]:
    """Yield all that is visible in the tree of a window, with the names on the way to it."""
    if widget.state().invisible:
        return
    here = f"{path}/{widget.text(NAME) or widget.role().name}"
    yield widget, here
    for inner in children(widget):
        yield from walked(inner, here)


def children(widget: QAccessibleInterface) -> list[QAccessibleInterface]:
    return [widget.child(place) for place in range(widget.childCount())]


def faults(window: QWidget) -> list[str]:
    """Return what a screen reader could not say of a window, or could not tell apart."""
    found: list[str] = []
    for widget, path in walked(QAccessible.queryAccessibleInterface(window)):
        role, state = widget.role(), widget.state()
        said = widget.text(NAME).strip()
        if role == ROLE.ComboBox:
            # What is chosen is its value; its label stands in relation to it.
            labels = [other.text(NAME) for other, _ in widget.relations()]
            found += [] if any(labels) else [f"a choice without a label: {path}"]
        elif state.focusable and not said:
            found.append(f"without a name: {path}")
        takers = Counter(
            (one.role().name, one.text(NAME))
            for one in children(widget)
            if one.state().focusable and not one.state().invisible and one.role() != ROLE.ComboBox
        )
        twice = [name for (_, name), count in takers.items() if count > 1 and name.strip()]
        found += [f"twice in {path}: {name}" for name in twice]
    return found


def kinds(job: Job) -> list[Subject]:
    """Return one thing of each kind that there is in a job."""
    found: dict[tuple[str, str], Subject] = {}
    for subject in things.everything(job):
        found.setdefault((subject.kind, type(subject.edge).__name__), subject)
    return list(found.values())


def test_everything_has_a_name_in_every_stage(desk: Desk) -> None:
    found: set[str] = set()
    for stage in STAGES:
        desk.session.go_to(stage)
        desk.bench.show_consequences()
        QApplication.processEvents()
        found.update(faults(desk.bench.window))
    assert found == set()


def test_every_form_has_names(desk: Desk) -> None:
    found: set[str] = set()
    for subject in kinds(desk.job):
        desk.session.choose(subject)
        QApplication.processEvents()
        found.update(faults(desk.bench.properties))
        found.update(faults(desk.bench.entry))
        assert desk.bench.properties.heading.accessibleName()
    desk.bench.deeds.show_job()
    QApplication.processEvents()
    found.update(faults(desk.bench.properties))
    assert found == set()


def test_boxes_say_what_they_ask_even_where_one_name_is_used_twice(desk: Desk) -> None:
    for subject in kinds(desk.job):
        desk.session.choose(subject)
        labels = [box.accessibleName() for box in desk.bench.properties.boxes]
        assert all(labels)
        assert len(set(labels)) == len(labels), subject


TOOLS = ("tape", "run", "cabinet", "island", "round", "seam", "dogleg", "note", "copy")


@pytest.mark.parametrize("tool", TOOLS)
def test_what_a_tool_asks_has_names_and_its_hint_is_read_out(
    corner_kitchen: Desk, monkeypatch: pytest.MonkeyPatch, tool: str
) -> None:
    bench = corner_kitchen.bench
    said = announced(monkeypatch)
    if tool == "copy":
        corner_kitchen.session.choose(Subject("opening", corner_kitchen.job.openings[0].id))
        bench.deeds.copy_chosen()
    else:
        bench.deeds.start_tool(tool)
    QApplication.processEvents()
    assert bench.hand.doing.hint in said
    corner_kitchen.key(Qt.Key.Key_Right)
    assert faults(bench.entry) == []


# --- Dialogs and cards ----------------------------------------------------------------------------


def keys(desk: Desk) -> QDialog:
    desk.bench.deeds.show_keys()
    return desk.bench.deeds.key_sheet


def shapes(desk: Desk) -> QDialog:
    desk.bench.deeds.show_shapes()
    sheet = desk.bench.deeds.shapes.sheet
    assert sheet is not None
    return sheet


def paper(desk: Desk) -> QDialog:
    desk.bench.deeds.type_template()
    sheet = desk.bench.deeds.paper.sheet
    assert sheet is not None
    return sheet


def listed(desk: Desk) -> QDialog:
    desk.bench.deeds.find_thing()
    return desk.bench.deeds.list_of_things


def template(desk: Desk) -> QDialog:
    file = template_in(by_hand(polygon((0, 0), (30, 0), (30, 20), (0, 20)), 0), "bowl.dxf")
    read = read_units(file, LengthStyle())
    sheet = TemplateSheet(read, LengthStyle(), desk.bench.look, desk.bench.window)
    sheet.show()
    return sheet


@pytest.mark.parametrize("opened", [keys, shapes, paper, listed, template])
def test_every_dialog_has_names_a_title_and_goes_with_esc(
    corner_kitchen: Desk, opened: Callable[[Desk], QDialog]
) -> None:
    dialog = opened(corner_kitchen)
    gone_by: list[int] = []
    dialog.finished.connect(gone_by.append)
    QApplication.processEvents()
    assert faults(dialog) == []
    assert dialog.windowTitle()
    dialog.activateWindow()
    QApplication.processEvents()
    dialog.reject()
    assert gone_by == [0]


def test_cards_that_come_and_go_have_names(corner_kitchen: Desk, qtbot: QtBot) -> None:
    bench = corner_kitchen.bench
    bench.notice.say("Something happened.", (("Do it", lambda: None),))
    bench.deeds.switch_pad()
    bench.deeds.type_over()
    QApplication.processEvents()
    assert faults(bench.window) == []
    bench.over.close()
    bench.deeds.suggest_seams()
    QApplication.processEvents()
    assert faults(bench.layouts) == []
    qtbot.waitUntil(lambda: bool(bench.layouts.buttons), timeout=60_000)
    assert faults(bench.layouts) == []


def test_cut_plans_and_stock_have_names(galley: Desk, qtbot: QtBot) -> None:
    galley.session.go_to("Sheets")
    galley.bench.sheets.plans.click()
    planning = galley.bench.deeds.planning
    qtbot.waitUntil(lambda: not planning.search.busy, timeout=60_000)
    QApplication.processEvents()
    page = galley.bench.sheets.stock
    found: set[str] = set()
    for button in page.tabs.values():
        button.click()
        QApplication.processEvents()
        found.update(faults(page))
    assert found == set()


def test_roles_are_what_things_are(corner_kitchen: Desk) -> None:
    bench = corner_kitchen.bench
    corner_kitchen.session.go_to("Counters")
    roles = {
        widget.accessibleName(): QAccessible.queryAccessibleInterface(widget).role()
        for widget in (
            *bench.header.tape.buttons.values(), *bench.tools.tools.values(),
            *bench.tools.buttons.values(), *bench.pieces.rows,
        )
    }  # fmt: skip
    assert roles["Stage Counters"] == ROLE.RadioButton
    assert roles["Face up alone"] == ROLE.RadioButton
    assert roles["See all of it"] == ROLE.Button
    assert roles["Propose tops"] == ROLE.Button
    assert roles["Island"] == ROLE.CheckBox


# --- What changes is said -------------------------------------------------------------------------


def announced(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Note all that is handed to the platform to be read out."""
    said: list[str] = []

    def note(event: QAccessibleEvent) -> None:
        said.append(event.message() if hasattr(event, "message") else "")

    monkeypatch.setattr(QAccessible, "updateAccessibility", note)
    return said


def test_edits_stages_notices_and_findings_are_read_out(
    corner_kitchen: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = corner_kitchen.bench
    bench.show_consequences()
    said = announced(monkeypatch)
    sink = corner_kitchen.job.openings[0].id
    corner_kitchen.session.apply(edits.RemoveOpening(sink))
    assert said[-1].startswith("Remove")
    bench.show_consequences()
    assert said[-1].endswith("to look at.")
    assert "no longer" in said[-1]
    corner_kitchen.session.undo()
    bench.show_consequences()
    assert "To look at: " in said[-1]
    corner_kitchen.session.go_to("Seams")
    assert "Stage Seams." in said
    bench.notice.say("Saved.")
    assert said[-1] == "Saved."
    before = list(said)
    bench.announce("")
    assert said == before


def test_many_new_findings_are_told_shortly() -> None:
    now = [f"Mold {letter} needs a jig" for letter in "ABCDE"]
    words = findings_told(frozenset({"It is heavy"}), now)
    assert words.count("To look at: ") == MOST_TOLD
    assert words.endswith("And 2 more. 1 no longer. 5 to look at.")
    assert findings_told(frozenset({"It is heavy"}), []) == "1 no longer. Nothing to look at."


def test_what_is_chosen_is_said_of_the_drawing_in_the_words_of_the_list(desk: Desk) -> None:
    for subject in kinds(desk.job):
        desk.session.choose(subject)
        name = things.called(desk.job, subject)
        for view in (desk.bench.canvas.up, desk.bench.canvas.down):
            told = QAccessible.queryAccessibleInterface(view)
            assert told.text(QAccessible.Text.Description) == f"Chosen: {name}"
        assert desk.bench.properties.heading.accessibleName() == name
        assert name.startswith(desk.bench.properties.heading.text())
    desk.session.choose()
    told = QAccessible.queryAccessibleInterface(desk.bench.canvas.up)
    assert told.text(QAccessible.Text.Description) == "Chosen: nothing"


def test_the_read_back_is_read_and_what_is_wrong_with_a_box_too(corner_kitchen: Desk) -> None:
    bench = corner_kitchen.bench
    corner_kitchen.session.choose(Subject("opening", corner_kitchen.job.openings[0].id))
    bench.entry.focus_first()
    corner_kitchen.type("5 1/2")
    assert bench.entry.echo.accessibleName().startswith("Read back: 5 1/2")
    assert bench.entry.boxes[0].accessibleDescription() == bench.entry.echo.text()
    corner_kitchen.type("x")
    assert bench.entry.echo.accessibleName() == bench.entry.echo.text()
    assert bench.entry.boxes[0].accessibleDescription() == bench.entry.echo.text()


# --- Drawing, list and form mirror each other -----------------------------------------------------


def styled(desk: Desk, side: Side, subject: Subject) -> bool:
    """Tell whether a thing's marks are drawn otherwise when it is lit up than when it is not."""
    scene = desk.bench.canvas.view_of(side).drawing
    items = scene._by_subject.get(subject, [])
    kinds = (Line, Region, Spot, Strokes)
    return any(isinstance(item.mark, kinds) for item in items)


def test_all_kinds_of_things_light_up_on_both_sides_with_list_and_form(desk: Desk) -> None:
    desk.session.go_to("Room")
    for subject in kinds(desk.job):
        desk.session.go_to("Room" if subject.kind in ROOM_KINDS else "Openings")
        desk.session.choose(subject)
        desk.session.hover(subject)
        QApplication.processEvents()
        for view in (desk.bench.canvas.up, desk.bench.canvas.down):
            assert subject in view.drawing._chosen
            assert subject in view.drawing._hovered
        shown = [desk.bench.properties.isVisible(), bool(desk.bench.properties.heading.text())]
        assert shown == [True, True]
        lit = {row.letter for row in desk.bench.pieces.rows if row.property("lit")}
        down = {row.letter for row in desk.bench.pieces.rows if row.isChecked()}
        wanted = {subject.id} if subject.kind == "piece" else set()
        assert (lit, down) == (wanted, wanted)
        if isinstance(subject.edge, CornerRef):
            desk.session.choose()
            assert desk.bench.canvas.up.drawing.overlay
            assert desk.bench.canvas.down.drawing.overlay
        elif subject.kind not in FACE_UP_ONLY:
            assert styled(desk, "up", subject), subject
        if subject.kind in BOTH_SIDES:
            assert styled(desk, "down", subject), subject
        desk.session.hover(None)


ROOM_KINDS = ("corner", "wall", "reading", "mark", "baseline", "cabinet")
FACE_UP_ONLY = ("reading",)
BOTH_SIDES = ("piece", "opening", "seam")


def test_choosing_by_keys_shows_in_list_and_form(corner_kitchen: Desk) -> None:
    corner_kitchen.bench.take_keys()
    titles = set()
    for _ in things.listed_subjects(corner_kitchen.job):
        corner_kitchen.key(Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
        titles.add(corner_kitchen.bench.properties.heading.text())
        chosen = corner_kitchen.session.chosen[0]
        down = [row.letter for row in corner_kitchen.bench.pieces.rows if row.isChecked()]
        assert down == ([chosen.id] if chosen.kind == "piece" else [])
    assert len(titles) == len(things.listed_subjects(corner_kitchen.job))
    assert focused() is corner_kitchen.bench.canvas.up
