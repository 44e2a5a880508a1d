"""The catalog of shapes: a person's own are kept for every job, and a broken file costs nothing."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from app.catalog import (
    FILE,
    PLAIN,
    UNREADABLE,
    Catalog,
    entry_of,
    is_changed,
    keep_catalog,
    read_catalog,
    with_entry,
    without_entry,
)
from app.things.openings import entry_answered, reveal_words
from geometry.counters import Leg, Run, SquareEnd
from geometry.layout import run_top
from geometry.lengths import LengthStyle
from geometry.openings import (
    AlongLeg,
    ApronShape,
    CircleShape,
    Opening,
    RectangleShape,
    opening_faults,
    placed,
)
from tests.strategies import walls_through

OWN = Opening(
    "opening1",
    "bar bowl",
    RectangleShape(13.0, 11.0, 2.0),
    AlongLeg("leg1", 1.0, 1.0),
    "sink",
    0.125,
)


def test_without_a_file_the_plain_shapes_are_there(tmp_path: Path) -> None:
    assert read_catalog(tmp_path / "none") == Catalog()
    assert {entry.id for entry in PLAIN} >= {
        "single-bowl",
        "double-bowl",
        "round-bowl",
        "apron",
        "cooktop",
        "faucet",
        "dispenser",
        "outlet",
        "trash-chute",
    }
    assert Catalog().entry("faucet").shape == CircleShape(1.375)
    with pytest.raises(KeyError):
        Catalog().entry("own-1")


@pytest.mark.parametrize("entry", PLAIN, ids=lambda entry: entry.id)
def test_every_plain_shape_can_be_cut_in_a_plain_counter(entry: object) -> None:
    found = next(one for one in PLAIN if one is entry)
    walls = walls_through([(0.0, 0.0), (100.0, 0.0)])
    ends = (SquareEnd(0.0, "left"), SquareEnd(0.0, "right"))
    top = run_top(Run("run1", (Leg("leg1", "wall1"),), *ends), walls, ())
    back = 0.0 if isinstance(found.shape, ApronShape) else 12.75
    hole = placed(Opening("opening1", found.called, found.shape, AlongLeg("leg1", 50.0, back)), top)
    assert opening_faults(top, (hole,)) == ()


def test_what_is_added_changed_and_removed_is_there_the_next_time(tmp_path: Path) -> None:
    own = entry_of(OWN, Catalog())
    assert (own.id, own.name, own.called, own.own) == ("own-1", "Bar bowl", "bar bowl", True)
    assert (own.shape, own.reveal, own.use) == (OWN.shape, 0.125, "sink")
    catalog = with_entry(Catalog(), own)
    wide = entry_answered(catalog.entry("single-bowl"), "width", 28.0)
    catalog = keep_catalog(tmp_path, with_entry(catalog, wide))
    assert catalog.problem == ""
    again = read_catalog(tmp_path)
    assert again == catalog
    assert is_changed(again.entry("single-bowl"))
    assert not is_changed(again.entry("own-1"))
    second = entry_of(OWN, again)
    assert (second.id, second.name) == ("own-2", "Bar bowl 2")
    less = keep_catalog(tmp_path, without_entry(without_entry(again, "own-1"), "single-bowl"))
    assert read_catalog(tmp_path) == less == Catalog()


def test_an_answer_changes_a_shape_its_reveal_or_its_name() -> None:
    entry = entry_of(OWN, Catalog())
    assert entry_answered(entry, "reveal", -0.25).reveal == -0.25
    named = entry_answered(entry, "name", "Prep bowl")
    assert (named.name, named.called) == ("Prep bowl", "prep bowl")
    apron = Catalog().entry("apron")
    assert entry_answered(apron, "depth", 18.0).shape == ApronShape(30.0, 18.0, 0.75)
    assert entry_answered(apron, "width", 1.0).shape == ApronShape(1.0, 20.0, 0.5)
    assert entry_answered(apron, "radius", 2.0).shape == ApronShape(30.0, 20.0, 2.0)


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"[1, 2]", b'[{"id": "x"}]', b"\xff\xfe", b"[" * 100000, b'"' + b"a" * 10],
)
def test_a_broken_file_is_one_sentence_and_stays_beside_the_new_one(
    tmp_path: Path, content: bytes
) -> None:
    (tmp_path / FILE).write_bytes(content)
    catalog = read_catalog(tmp_path)
    assert catalog.entries == PLAIN
    assert "cannot be read" in catalog.problem
    kept = keep_catalog(tmp_path, with_entry(catalog, entry_of(OWN, catalog)))
    assert kept.problem == ""
    assert read_catalog(tmp_path) == kept
    assert (tmp_path / UNREADABLE).read_bytes() == content


def test_a_folder_that_cannot_be_written_is_said_and_the_shapes_stay(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    catalog = with_entry(Catalog(), entry_of(OWN, Catalog()))
    kept = keep_catalog(tmp_path / "file" / "settings", catalog)
    assert kept.entries == catalog.entries
    assert "could not be kept" in kept.problem
    own = replace(catalog.entry("own-1"), own=False)
    assert with_entry(catalog, own).entry("own-1") == own


def test_a_reveal_has_a_name_of_the_trade() -> None:
    style = LengthStyle()
    assert reveal_words(0.25, style) == "positive: 1/4 of the bowl's rim shows"
    assert reveal_words(0.0, style) == "flush with the bowl"
    assert reveal_words(-0.25, style) == "negative: the counter stands 1/4 over the bowl"
