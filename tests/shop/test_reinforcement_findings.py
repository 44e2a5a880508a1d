"""What is told about mesh and bars is advice, and promises nothing."""

from msgspec.structs import replace

from geometry.picking import Subject
from shop import edits
from shop.finding import Finding
from shop.findings import findings
from shop.job import Job, Reinforcement
from shop.reinforcement_findings import TITLES, of_reinforcement
from tests.shop.kitchens import after, sink, straight

SINK = after(straight(), edits.AddOpening(sink()))


def told(job: Job) -> list[Finding]:
    return list(of_reinforcement(job))


def test_a_common_slab_has_nothing_to_tell() -> None:
    assert told(SINK) == []


def test_a_thin_slab_is_told_once_for_each_matter_with_its_piece_and_place() -> None:
    thin = after(SINK, edits.SetSlab(1.5, 150.0))
    found = told(thin)
    assert [(f.code, f.title) for f in found] == [
        ("bar-cover", "Mold A: little concrete around its bars"),
        ("mesh-cover", "Mold A: little concrete over its mesh"),
    ]
    for finding in found:
        assert not finding.blocking
        assert finding.about == (Subject("piece", "A"),)
        assert finding.at is not None
        assert "licensed person" in finding.text
        assert finding in findings(thin)


def test_several_places_without_room_are_one_finding() -> None:
    deep = replace(sink(), shape=replace(sink().shape, depth=22.5))
    tight = after(straight(), edits.AddOpening(replace(deep, at=replace(deep.at, back=12.7))))
    (finding,) = (f for f in told(tight) if f.code == "bar-no-room")
    assert finding.text.count("No bar fits") == 2


def test_what_is_poured_is_not_told_any_more() -> None:
    thin = after(SINK, edits.SetSlab(1.5, 150.0))
    for state in ("poured", "cast"):
        assert told(after(thin, edits.MarkPiece("A", state))) == []
    assert told(after(thin, edits.MarkPiece("A", "cut")))


def test_every_notice_has_a_title() -> None:
    low = after(SINK, edits.SetReinforcement(Reinforcement(mesh_height=0.5, bars="none")))
    assert [finding.code for finding in told(low)] == ["mesh-near-face"]
    assert len(set(TITLES.values())) == len(TITLES) == 6
