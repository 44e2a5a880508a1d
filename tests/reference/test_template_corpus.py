"""Templates by three independent writers of DXF: ezdxf, GDAL (by pyogrio), and pages by hand.

Each is read back with its area in closed form to 1e-6, and with its arcs as arcs where the writer
keeps them; what is damaged by chance ends in a sentence, never in a crash or without end.
"""

import random
import signal
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from math import pi
from types import FrameType

import pytest

from export.template_files import TemplateError, template_in
from export.templates import outlines
from geometry.edges import is_line
from geometry.lengths import LengthStyle
from tests.export.drawn import Case, corpus

LIMIT_S = 10
"""A file of the corpus takes hundredths of a second; this is for a machine with much else to do."""

MUTATED = 500


@pytest.fixture(scope="module")
def drawings(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Case]:
    return corpus(tmp_path_factory.mktemp("drawn"))


def test_the_corpus_has_thirty_files_of_three_writers(drawings: dict[str, Case]) -> None:
    writers = Counter(name.split()[0] for name in drawings)
    assert len(drawings) >= 30
    assert set(writers) == {"ezdxf", "gdal", "hand"}
    assert min(writers.values()) >= 5


def test_every_drawing_reads_back_with_its_area_its_arcs_and_its_unit(
    drawings: dict[str, Case],
) -> None:
    for name, case in drawings.items():
        file = template_in(case.data, name)
        assert (file.unit or "") == case.unit, name
        # R12 and pages without a header say no unit; those here are in inches.
        largest = outlines(file, file.unit or "in", LengthStyle()).candidates[0]
        assert largest.area_sq_in == pytest.approx(case.area, rel=1e-6), name
        arcs = sum(not is_line(edge) for edge in largest.outline.edges)
        assert case.arcs in {-1, arcs}, name


def test_a_circle_keeps_its_radius_to_the_last_digits(drawings: dict[str, Case]) -> None:
    file = template_in(drawings["ezdxf a_circle"].data, "circle")
    (found,) = outlines(file, "in", LengthStyle()).candidates
    assert found.area_sq_in == pytest.approx(pi * 8.25**2, rel=1e-14)
    assert found.size == pytest.approx((16.5, 16.5), rel=1e-14)


# --- Damaged by chance ------------------------------------------------------------------------


def _lines(data: bytes, chance: random.Random) -> tuple[list[bytes], int]:
    rows = data.split(b"\n")
    # Entities come last: most damage is done where they are.
    start = max(0, len(rows) - 400) if chance.random() < 0.7 else 0
    return rows, chance.randrange(start, len(rows))


def _dropped(data: bytes, chance: random.Random) -> bytes:
    rows, at = _lines(data, chance)
    return b"\n".join(rows[:at] + rows[at + chance.randint(1, 4) :])


def _doubled(data: bytes, chance: random.Random) -> bytes:
    rows, at = _lines(data, chance)
    part = rows[at : at + chance.randint(1, 40)]
    return b"\n".join(rows[:at] + part * chance.randint(2, 30) + rows[at:])


def _swapped(data: bytes, chance: random.Random) -> bytes:
    rows, at = _lines(data, chance)
    other = _lines(data, chance)[1]
    rows[at], rows[other] = rows[other], rows[at]
    return b"\n".join(rows)


STRANGE = (
    b"nan", b"inf", b"-1e308", b"1e400", b"99999999999", b"-1", b"0", b"", b"LINE", b"INSERT",
    b"SPLINE", b"\xff\xfe", b"32767", b"ENDSEC", b"10", b"1e-320", b"BOWL", b"INNER", b"OUTER",
)  # fmt: skip


def _strange(data: bytes, chance: random.Random) -> bytes:
    rows, _ = _lines(data, chance)
    for _ in range(chance.randint(1, 6)):
        rows[_lines(data, chance)[1]] = chance.choice(STRANGE)
    return b"\n".join(rows)


def _broken_off(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(len(data))]


def _scratched(data: bytes, chance: random.Random) -> bytes:
    made = bytearray(data)
    for _ in range(chance.randint(1, 50)):
        made[chance.randrange(len(made))] = chance.randrange(256)
    return bytes(made)


WAYS: tuple[Callable[[bytes, random.Random], bytes], ...] = (
    _dropped,
    _doubled,
    _swapped,
    _strange,
    _broken_off,
    _scratched,
)


@contextmanager
def _within(seconds: int) -> Iterator[None]:
    """Break off what takes longer."""

    def broken_off(number: int, frame: FrameType | None) -> None:
        pytest.fail(f"A file took longer than {seconds} s")

    before = signal.signal(signal.SIGALRM, broken_off)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def _read(data: bytes) -> tuple[list[float], str]:
    """The areas of the outlines in a file, or what is said of it."""
    try:
        found = outlines(template_in(data, "x.dxf"), "in", LengthStyle())
    except TemplateError as error:
        return [], str(error)
    return [one.area_sq_in for one in found.candidates], ""


@pytest.mark.parametrize("part", range(10))
def test_damaged_files_end_in_outlines_or_one_sentence(
    drawings: dict[str, Case], part: int
) -> None:
    names = sorted(drawings)
    ends: Counter[str] = Counter()
    for number in range(part, MUTATED, 10):
        chance = random.Random(number)
        case = drawings[names[number % len(names)]]
        data = WAYS[number % len(WAYS)](case.data, chance)
        with _within(LIMIT_S):
            areas, said = _read(data)
        ends["said" if said else "found"] += 1
        # One sentence, or outlines with an area.
        assert said.endswith(".") if said else min(areas) > 0.0
        assert ". " not in said
    # Damage that changes nothing everywhere would try nothing.
    assert min(ends["said"], ends["found"]) > 0
