"""Names of pieces survive that seams come and go."""

from collections.abc import Sequence
from itertools import count
from random import Random
from string import ascii_uppercase

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geometry.naming import GeometryError
from geometry.piece_names import Row, rows_with_seam, rows_without_seam
from geometry.seams import SeamPath
from geometry.splitting import Face, named, split
from tests.geometry.split_cases import Case, cases, seam, straight

many = settings(
    deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
LETTERS = (*ascii_uppercase, *(f"A{letter}" for letter in ascii_uppercase))


def faces_of(case: Case, paths: Sequence[SeamPath]) -> tuple[Face, ...] | None:
    try:
        return split(case.outline, case.openings, paths).faces
    except GeometryError:
        return None


def by_shape(faces: Sequence[Face], rows: Sequence[Row]) -> dict[object, str | None]:
    names = named(faces, rows)
    return {
        (face.raw.vertices, face.raw.bulges): name for face, name in zip(faces, names, strict=True)
    }


@given(cases(most=5), st.randoms(use_true_random=False))
@settings(many, max_examples=150)
def test_untouched_pieces_keep_their_names_and_all_come_back(case: Case, random: Random) -> None:
    rows: tuple[Row, ...] = (("A", {}),)
    placed: list[SeamPath] = []
    before = faces_of(case, placed)
    assert before is not None
    for path in case.paths:
        after = faces_of(case, [*placed, path])
        if after is None:
            continue
        names_before = by_shape(before, rows)
        new_rows = rows_with_seam(rows, before, after, path.id, LETTERS)
        names_after = by_shape(after, new_rows)
        assert None not in names_after.values()
        assert len(set(names_after.values())) == len(after)
        assert set(names_before.values()) <= set(names_after.values())
        for shape in names_before.keys() & names_after.keys():
            assert names_after[shape] == names_before[shape]
        assert by_shape(before, new_rows) == names_before
        assert by_shape(before, rows_without_seam(new_rows, before, path.id)) == names_before
        rows, before, placed = new_rows, after, [*placed, path]
    if placed:
        gone = random.choice(placed)
        fewer = faces_of(case, [path for path in placed if path is not gone])
        if fewer is not None:
            names_before, names_after = by_shape(before, rows), by_shape(fewer, rows)
            for shape in names_before.keys() & names_after.keys():
                assert names_after[shape] == names_before[shape]
            left = rows_without_seam(rows, fewer, gone.id)
            assert by_shape(fewer, left) == names_after


def along(*places: float) -> list[SeamPath]:
    """Return square seams at those places of a straight counter, right of one another."""
    return [
        seam(f"seam{n}", (x, 25.0), (x, 0.0), facing="against")
        for n, x in zip(count(1), places, strict=False)
    ]


def test_the_side_nearer_the_start_keeps_the_name_and_the_new_piece_takes_the_next_letter() -> None:
    one, two = along(60.0, 20.0)
    whole = split(straight(), [], []).faces
    halves = split(straight(), [], [one]).faces
    thirds = split(straight(), [], [one, two]).faces
    rows = rows_with_seam([("A", {})], whole, halves, "seam1", "ABCD")
    assert rows == (("A", {"seam1": "left"}), ("B", {"seam1": "right"}))
    rows = rows_with_seam(rows, halves, thirds, "seam2", "ABCD")
    assert rows == (
        ("A", {"seam1": "left", "seam2": "left"}),
        ("B", {"seam1": "right", "seam2": "right"}),
        ("C", {"seam1": "left", "seam2": "right"}),
    )


def test_a_removed_seam_leaves_the_rows_that_are_used_without_it() -> None:
    paths = along(20.0, 60.0)
    rows: tuple[Row, ...] = (
        ("A", {"seam1": "left", "seam2": "left"}),
        ("B", {"seam1": "right", "seam2": "left"}),
        ("C", {"seam1": "right", "seam2": "right"}),
    )
    after = split(straight(), [], paths[1:]).faces
    assert rows_without_seam(rows, after, "seam1") == (
        ("A", {"seam2": "left"}),
        ("C", {"seam2": "right"}),
    )


def test_rows_that_wait_for_a_seam_that_is_not_placed_keep_their_letters() -> None:
    (path,) = along(60.0)
    rows: tuple[Row, ...] = (
        ("A", {"seam7": "left"}),
        ("B", {"seam7": "right"}),
        ("C", {}),
    )
    whole = split(straight(), [], []).faces
    halves = split(straight(), [], [path]).faces
    assert rows_with_seam(rows, whole, halves, "seam1", "ABCD") == (
        ("A", {"seam7": "left", "seam1": "left"}),
        ("B", {"seam7": "right"}),
        ("C", {"seam1": "right"}),
    )


def test_a_face_without_a_name_takes_a_free_letter() -> None:
    (path,) = along(60.0)
    whole = split(straight(), [], []).faces
    halves = split(straight(), [], [path]).faces
    assert rows_with_seam([], whole, halves, "seam1", "ABCD") == (
        ("A", {"seam1": "left"}),
        ("B", {"seam1": "right"}),
    )
