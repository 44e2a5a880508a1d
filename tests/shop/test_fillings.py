"""What leaves an opening: foam, pipe or a rigid block; stems and the counterbores they need."""

from math import pi, radians, tan

import pytest
from msgspec.structs import replace

from geometry.naming import EdgeRef
from geometry.openings import AlongLeg, CircleShape, Opening, PlacedOpening
from geometry.outline import Outline, area
from shop import edits, plan
from shop.fillings import STEM_IN, Filling, fillings, frozen_fillings, made_of, stem_of
from shop.findings import findings
from shop.job import Job
from shop.jobfile import decoded, encoded
from shop.knockouts import Knockout, knockouts
from shop.stems import stem_notices
from tests.shop.kitchens import after, faucet, sink, straight
from tests.shop.mold_shapes import CHOICES, CUT, WORDS, box, counter, face, opening, outline

AT = AlongLeg("leg1", 20.0, 10.0)


def hole(x: float, y: float, size: float = 1.5, owner: str = "faucet1") -> PlacedOpening:
    half = size / 2.0
    return opening(
        outline(((x - half, y), CUT), ((x + half, y), CUT), bulges={0: -1.0, 1: -1.0}), owner
    )


def filled(*chosen: Filling, thickness: float = 2.0) -> tuple[Knockout, ...]:
    holes = (hole(50.0, 20.0), opening(box(12, 5, 40, 18)))
    return knockouts(face(counter(), holes), thickness, CHOICES, WORDS, (), chosen)


def test_a_small_round_hole_is_left_by_a_pipe_and_any_other_by_foam() -> None:
    assert [k.made_of for k in filled()] == ["pipe", "foam"]
    assert made_of(hole(0.0, 0.0, 4.0).outline, None) == "pipe"
    assert made_of(hole(0.0, 0.0, 4.25).outline, None) == "foam"
    chosen = filled(Filling("faucet1", "foam"), Filling("sink1", "rigid"))
    assert [k.made_of for k in chosen] == ["foam", "rigid"]
    pipe, foam = filled()
    assert pipe.hold_down.startswith("Cap it and hold it down")
    assert foam.hold_down.startswith("Hold it down")


def test_only_a_rigid_knockout_has_draft() -> None:
    _, rigid = filled(Filling("sink1", "rigid"))
    assert rigid.draft_in == pytest.approx(2.0 * tan(radians(2.0)))
    assert rigid.fit is None
    assert all(k.draft_in == 0.0 for k in filled())


def test_sides_are_wrapped_all_round() -> None:
    pipe, foam = filled()
    assert pipe.wrap_length_in == pytest.approx(1.5 * pi)
    assert foam.wrap_length_in == pytest.approx(2.0 * (28.0 + 13.0))


def test_only_foam_is_measured_against_the_slab() -> None:
    thick = replace(CHOICES, foam_thickness=2.25)
    holes = (hole(50.0, 20.0), opening(box(12, 5, 40, 18)))
    pipe, foam = knockouts(face(counter(), holes), 2.0, thick, WORDS)
    assert pipe.fit is None
    assert foam.fit == "Measured 2 1/4: plane it down by 1/4."


@pytest.mark.parametrize(
    ("thickness", "stem", "depth"),
    [(2.0, 1.5, 0.5), (2.0, 2.0, None), (1.5, 1.5, None), (1.5, 1.0, 0.5), (2.0, None, None)],
)
def test_a_stem_shorter_than_the_slab_gets_a_counterbore(
    thickness: float, stem: float | None, depth: float | None
) -> None:
    pipe, foam = filled(Filling("faucet1", None, stem), thickness=thickness)
    assert foam.counterbore is None
    if depth is None:
        assert pipe.counterbore is None
        return
    block = pipe.counterbore
    assert block is not None
    assert block.depth_in == pytest.approx(depth)
    assert block.left_in == stem
    assert block.diameter_in == pytest.approx(2.75)
    assert area(block.outline) == pytest.approx(-pi / 4.0 * 2.75**2)
    assert block.depth_in + block.left_in == pytest.approx(thickness)


def test_a_square_hole_has_no_counterbore_whatever_is_said() -> None:
    _, foam = filled(Filling("sink1", None, 0.5))
    assert foam.counterbore is None


def notices(y: float, stem: float) -> list[str]:
    fill = knockouts(
        face(counter(), (hole(50.0, y),)),
        2.0,
        CHOICES,
        WORDS,
        (),
        (Filling("faucet1", None, stem),),
    )
    return [notice.text for notice in stem_notices(counter_down(), fill, WORDS)]


def counter_down() -> Outline:
    from geometry.outline import mirrored

    return mirrored(counter())


def test_a_counterbore_is_told_and_so_is_too_little_concrete() -> None:
    (told,) = notices(15.0, 1.5)
    assert "The faucet clamps 1 1/2 at most, and the slab is 2" in told
    assert "a round block 2 3/4 across, 1/2 thick, on top of the pipe" in told
    assert notices(15.0, 2.0) == []
    # 25 - 23.25 - 1.375 leave 3/8 beside it; 1/2 of 2 leave little above it.
    assert "leaves 1 1/2 of concrete above it and 3/8 beside it" in notices(23.25, 1.5)[1]
    assert "leaves 1/2 of concrete above it" in notices(15.0, 0.5)[1]


def test_counterbores_that_are_the_same_are_told_of_once_with_their_count() -> None:
    names = replace(WORDS, openings=(("faucet1", "faucet"), ("d2", "dispenser"), ("d3", "tap")))
    holes = (hole(50.0, 15.0), hole(56.0, 15.0, owner="d2"), hole(62.0, 15.0, 1.25, owner="d3"))
    stems = tuple(Filling(o, None, 0.5) for o in ("faucet1", "d2", "d3"))
    fill = knockouts(face(counter(), holes), 2.0, CHOICES, names, (), stems)
    told = dict.fromkeys(n.text for n in stem_notices(counter_down(), fill, names))
    two, one, two_thin, one_thin = sorted(told, key=lambda text: ("leave" in text, text))
    assert two.startswith("2 holes (faucet and dispenser) clamp 1/2 at most, and the slab is 2")
    assert "the mold gets 2 round blocks 2 3/4 across, 1 1/2 thick, on top of the pipes" in two
    assert one.startswith("The tap clamps 1/2 at most")
    assert "a round block 2 1/2 across" in one
    assert two_thin.startswith("2 counterbores (faucet and dispenser) each leave 1/2 of concrete")
    assert one_thin.startswith("The counterbore of the tap leaves 1/2")


def test_faucets_and_dispensers_have_a_stem_and_others_only_if_told() -> None:
    round_hole = Opening("opening1", "hole", CircleShape(1.5), AT)
    assert stem_of(replace(round_hole, use="faucet")) == STEM_IN
    assert stem_of(replace(round_hole, use="dispenser", stem=1.0)) == 1.0
    assert stem_of(round_hole) is None
    assert stem_of(replace(round_hole, stem=1.25)) == 1.25
    assert stem_of(replace(sink(), stem=1.25)) is None


def kitchen() -> Job:
    return after(straight(80.0), edits.AddOpening(sink(along=40.0)), edits.AddOpening(faucet()))


def test_a_job_s_faucet_is_told_with_its_mold() -> None:
    job = kitchen()
    assert fillings(job, {"opening401"}) == (Filling("opening401", None, STEM_IN),)
    found = next(f for f in findings(job) if f.code == "short-stem")
    assert found.title == "Mold A: a hole that needs a counterbore"
    longer = after(job, edits.SetOpening(replace(faucet(), stem=2.0)))
    assert all(f.code != "short-stem" for f in findings(longer))
    assert plan.mold(longer, "A").knockouts[1].counterbore is None


def test_a_job_s_holes_with_counterbores_are_one_finding_with_their_count() -> None:
    spare = replace(faucet(), id="opening402", name="dispenser", at=AlongLeg("leg201", 52.0, 23.0))
    job = after(kitchen(), edits.AddOpening(spare))
    (found,) = (f for f in findings(job) if f.code == "short-stem")
    assert found.title == "Mold A: 2 holes that need counterbores"
    assert found.text.count("round block") == 1
    edges = [one.edge for one in found.about if one.kind == "edge"]
    assert [e.owner for e in edges if isinstance(e, EdgeRef)] == ["opening401", "opening402"]


def test_a_frozen_slab_keeps_what_its_openings_were_made_with() -> None:
    rigid = replace(sink(along=40.0), fill="rigid")
    job = after(
        straight(80.0),
        edits.AddOpening(rigid),
        edits.AddOpening(replace(faucet(), stem=1.0)),
        edits.MarkPiece("A", "cut"),
    )
    later = after(
        job,
        edits.SetOpening(replace(rigid, fill=None)),
        edits.SetOpening(replace(faucet(), stem=2.0)),
    )
    bowl, pipe = plan.mold(later, "A").knockouts
    assert bowl.made_of == "rigid"
    assert pipe.counterbore is not None
    assert pipe.counterbore.depth_in == pytest.approx(1.0)
    again = decoded(encoded(later))
    assert frozen_fillings(again.slabs[0].shape) == frozen_fillings(later.slabs[0].shape)
