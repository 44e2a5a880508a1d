"""The side column: the tally always shows, findings fold and scroll by themselves."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, QObject, QPoint, QRect
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from app.grouping import grouped
from app.panels.column import SideColumn, Wish, shares
from app.stages import STAGES, Stage
from app.telling import stage_of
from geometry.picking import Subject
from shop.findings import Finding, findings
from tests.window.conftest import Desk, desk_on, gone, sample


@pytest.fixture
def twelve(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("twelve-pieces"), tmp_path)
    yield desk
    gone(desk)


@pytest.mark.parametrize("stage", STAGES)
def test_the_tally_shows_whole_at_1280_by_720_in_every_stage(twelve: Desk, stage: str) -> None:
    window, tally = twelve.bench.window, twelve.bench.tally
    window.resize(1280, 720)
    twelve.bench.deeds.go_to_stage(stage)  # type: ignore[arg-type]
    twelve.session.choose(Subject("opening", twelve.job.openings[0].id))
    twelve.bench.show_consequences()
    QApplication.processEvents()
    box = QRect(tally.mapTo(window, QPoint(0, 0)), tally.size())
    assert window.rect().contains(box)
    assert tally.height() >= tally.sizeHint().height()
    assert tally.visibleRegion().boundingRect().height() == tally.height()


def test_a_form_that_does_not_show_whole_leaves_the_tally_its_face_and_weight(twelve: Desk) -> None:
    window, tally = twelve.bench.window, twelve.bench.tally
    window.resize(1280, 720)
    twelve.bench.deeds.go_to_stage("Openings")
    twelve.bench.show_consequences()
    QApplication.processEvents()
    whole = tally.height()
    assert not tally.brief.isVisible()
    twelve.session.choose(Subject("opening", twelve.job.openings[0].id))
    QApplication.processEvents()
    said = {label.text(): value.text() for label, value in tally._rows}
    assert tally.brief.isVisible()
    assert tally.brief.text() == f"{said['Face']}, {said['Weight']}"
    assert tally.height() < whole / 2
    twelve.session.choose()
    QApplication.processEvents()
    assert tally.height() == whole


def test_once_its_parts_have_their_room_the_column_rests(
    twelve: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    twelve.bench.window.resize(1280, 720)
    twelve.bench.deeds.go_to_stage("Openings")
    twelve.session.choose(Subject("opening", twelve.job.openings[0].id))
    twelve.bench.show_consequences()
    for _ in range(20):
        QApplication.processEvents()
    assert twelve.bench.tally.brief.isVisible()
    shared: list[int] = []
    arrange = SideColumn._arrange

    def counted(column: SideColumn) -> None:
        shared.append(1)
        arrange(column)

    monkeypatch.setattr(SideColumn, "_arrange", counted)
    for _ in range(20):
        QApplication.processEvents()
    assert len(shared) <= 2


@pytest.mark.parametrize("stage", ["Room", "Counters", "Openings", "Seams"])
@pytest.mark.parametrize("shop", [False, True])
def test_tools_and_sides_share_a_row_at_1280_on_the_desk_and_nothing_of_them_is_cut_off(
    twelve: Desk, stage: Stage, shop: bool
) -> None:
    window, row = twelve.bench.window, twelve.bench.tools
    window.resize(1280, 720)
    twelve.bench.deeds.go_to_stage(stage)
    if shop:
        twelve.bench.deeds.switch_shop_view()
    QApplication.processEvents()
    buttons = [*row.tools.values(), *row.buttons.values()]
    assert {button.y() for button in buttons} == {buttons[0].y()} or shop
    for button in buttons:
        assert row.rect().contains(button.geometry())
        assert button.width() >= max(button.sizeHint().width(), button.height())


def test_many_of_a_kind_are_one_line_that_unfolds(twelve: Desk) -> None:
    panel = twelve.bench.to_look_at
    heavy = [f for f in findings(twelve.job) if f.code == "heavy-piece"]
    group = next(g for g in grouped(findings(twelve.job)) if g.findings[0].code == "heavy-piece")
    assert len(heavy) > 3
    assert set(group.findings) == set(heavy)
    assert group.title == f"{len(heavy)} pieces are heavy"
    members = [panel._cards[finding] for finding in heavy]
    before = [member.isVisible() for member in members]
    panel.folds["heavy-piece"].click()
    assert (any(before), all(member.isVisible() for member in members)) == (False, True)


def test_what_blocks_comes_first_then_bridges_and_nothing_is_lost() -> None:
    found = [
        Finding(
            "heavy-piece", False, "Piece A is heavy", "300 lb: plan.", (Subject("piece", "A"),)
        ),
        Finding("narrow-bridge", False, "Bridge", "2 wide."),
        Finding("seam-misses", True, "A seam cannot be made there", "It misses."),
        Finding(
            "heavy-piece", False, "Piece B is heavy", "310 lb: plan.", (Subject("piece", "B"),)
        ),
    ]
    groups = grouped(found)
    assert [g.findings[0].code for g in groups] == ["seam-misses", "narrow-bridge", "heavy-piece"]
    assert [g.blocking for g in groups] == [True, False, False]
    assert sorted(f.title for g in groups for f in g.findings) == sorted(f.title for f in found)


def test_what_blocks_is_never_folded_away() -> None:
    found = [Finding("needs-jig", True, f"Mold {n}", "No.", (Subject("piece", n),)) for n in "ABC"]
    assert [group.folded for group in grouped(found)] == [False, False, False]


def test_show_of_a_folded_kind_chooses_all_of_it(twelve: Desk) -> None:
    group = next(g for g in grouped(findings(twelve.job)) if g.folded)
    twelve.bench.deeds.show_finding(*group.findings)
    assert set(twelve.session.chosen) == {s for f in group.findings for s in f.about}


def test_what_is_about_a_mold_shows_on_its_opened_mold(twelve: Desk) -> None:
    finding = next(f for f in findings(twelve.job) if f.code == "needs-jig")
    assert stage_of(finding) == "Molds"
    twelve.bench.deeds.show_finding(finding)
    assert twelve.session.stage == "Molds"
    assert f"Mold {finding.about[0].id}," in twelve.bench.molds.title.text()


def test_the_header_goes_from_one_finding_to_the_next_and_round(corner_kitchen: Desk) -> None:
    groups = grouped(findings(corner_kitchen.job))
    seen = []
    for _ in range(len(groups) + 1):
        corner_kitchen.bench.header.findings.click()
        seen.append(set(corner_kitchen.session.chosen))
    assert seen[0] == {s for f in groups[0].findings for s in f.about}
    assert seen[1] == {s for f in groups[1].findings for s in f.about}
    assert seen[-1] == seen[0]


class Watch(QObject):
    """Notes every window of its own that shows."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        shows = event.type() == QEvent.Type.Show
        if shows and isinstance(watched, QWidget) and watched.isWindow():
            self.seen.append(type(watched).__name__)
        return False


def test_nothing_flashes_up_as_a_window_of_its_own(corner_kitchen: Desk, qtbot: QtBot) -> None:
    watch = Watch()
    app = QApplication.instance()
    assert app is not None
    app.installEventFilter(watch)
    panel = corner_kitchen.bench.to_look_at
    for stage in STAGES:
        corner_kitchen.session.go_to(stage)
    corner_kitchen.session.choose(Subject("wall", corner_kitchen.job.room.walls[0].id))
    qtbot.waitUntil(lambda: bool(panel.remedies), timeout=5000)
    app.removeEventFilter(watch)
    assert watch.seen == []


WISHES = st.builds(
    lambda wanted, least: Wish(wanted, min(wanted, least)), st.integers(0, 900), st.integers(0, 140)
)


@given(st.integers(430, 1200), st.one_of(st.none(), WISHES), st.one_of(st.none(), WISHES), WISHES)
def test_every_part_of_the_column_gets_its_least_and_all_of_the_room_is_used(
    room_px: int, readings: Wish | None, form: Wish | None, listed: Wish
) -> None:
    highs = shares(room_px, readings, form, listed)
    assert sum(highs) == room_px
    for high, wish in zip(highs, (readings, form, listed), strict=True):
        assert high >= (0 if wish is None else wish.least)
    for high, wish in zip(highs[:2], (readings, form), strict=True):
        assert high <= (0 if wish is None else wish.wanted)


def test_what_there_is_to_look_at_keeps_room_beside_an_open_form(twelve: Desk) -> None:
    twelve.bench.window.resize(1280, 720)
    for stage in STAGES[:2]:
        twelve.session.go_to(stage)
        twelve.session.choose(Subject("wall", twelve.job.room.walls[0].id))
        twelve.bench.show_consequences()
        QApplication.processEvents()
        listed = twelve.bench.window.column.listed
        assert listed.height() >= 112
        show = twelve.bench.to_look_at.shows[0]
        assert show.visibleRegion().boundingRect().height() == show.height()


def test_nothing_in_the_column_is_wider_than_what_is_seen_of_it(twelve: Desk) -> None:
    for area in twelve.bench.window.findChildren(QScrollArea):
        inner = area.widget()
        if inner is not None and inner.isVisible() and area.widgetResizable():
            inner.setMinimumSize(0, 0)
            QApplication.processEvents()
            assert inner.width() <= area.viewport().width()


def test_the_form_of_another_thing_begins_at_its_top(twelve: Desk) -> None:
    bench = twelve.bench
    bench.window.resize(1280, 720)
    bench.deeds.show_job()
    QApplication.processEvents()
    bar = bench.window.column.form.area.verticalScrollBar()
    bar.setValue(bar.maximum())
    assert bar.value() > 0
    bench.session.choose(Subject("opening", twelve.job.openings[0].id))
    QApplication.processEvents()
    assert bar.value() == 0
