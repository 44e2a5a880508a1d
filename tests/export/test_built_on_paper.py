"""Molds built from their printed pages alone: lengths added up, corners found, sidewalls cut.

What is read is the text of the PDF file, by another library. From the edges and the diagonals to
tape the base is laid out with a compass. From its corners and the thickness of the stock the ends
and lengths of every sidewall follow by the joints of common practice: up to 100 degrees one strip
runs past by t / sin a and covers the other, beyond both are beveled by half. They are held against
what is printed.
"""

import re
from functools import cache
from io import BytesIO
from itertools import combinations
from math import acos, atan2, cos, degrees, pi, radians, sin, tan
from typing import NamedTuple

import pdfplumber
import pytest
from msgspec.structs import replace
from pdfplumber.page import Page

from export.booklet import booklet_pages
from export.paint import pdf
from export.stamp import stamped
from geometry.edges import length
from geometry.lengths import parsed
from geometry.outline import area
from geometry.points import Point, distance
from shop import plan
from shop.base_panels import base_panels
from shop.job import Job
from shop.mold_corners import mold_corners
from shop.molds import Mold
from shop.panel_lengths import joint_ends
from tests.export.jobs import TODAY, sample

SIXTEENTH = 1.0 / 16.0
SIZE = r"(?:\d+' )?(?:\d+(?: \d+/\d+)?|\d+/\d+)"
END = r"([a-z]+): (runs past|square|bevel [\d.]+° ?, (?:back|face) longer)"
STRIP = re.compile(rf"^([A-Z]+\d+) .*?({SIZE}) ({SIZE}) {END} {END} \d+$", re.MULTILINE)
PLACE = r"((?:arc )?[a-z])"
EDGE = re.compile(rf"^([A-Z]+\d+) .+?, (?:{PLACE} to {PLACE}|{PLACE}, radius).*? ({SIZE})$")
DIAGONAL = re.compile(rf"^corner ([a-z]) to (?:the middle of )?{PLACE} ({SIZE})$")
MIDDLES = re.compile(rf"^middles of arcs ([a-z]) and ([a-z]) ({SIZE})$")
ACROSS = re.compile(rf"^([A-Z]+\d+), end to end ({SIZE})$")
PANEL = re.compile(rf"((?:arc )?[a-z]|\d) to ((?:arc )?[a-z]|\d): ({SIZE})")


class Row(NamedTuple):
    """A sidewall as it is printed: its lengths, and the corner and the cut of each end."""

    face: float
    back: float
    left: tuple[str, str]
    right: tuple[str, str]


class Printed(NamedTuple):
    """What a mold's pages say; edges run from corner to corner, left to right inside face up."""

    rows: dict[str, Row]
    edges: dict[str, tuple[str, str, float]]
    diagonals: dict[frozenset[str], float]
    thickness: float


def inches(text: str) -> float:
    value = parsed(text, "in")
    assert value is not None
    return float(value)


def halves(page: Page) -> list[str]:
    """The lines of a page's left half, then those of its right one."""
    half = page.width / 2.0
    return [
        line
        for x in (0.0, half)
        for line in page.crop((x, 0, x + half, page.height))
        .extract_text(x_tolerance=1.5)
        .splitlines()
    ]


@cache
def read(name: str, piece: str) -> Printed:
    """The sidewalls, edges and diagonals from the PDF file."""
    job: Job = replace(sample(name), sample=False)
    pages = [
        page
        for page in booklet_pages(job, stamped(job, TODAY))
        if page.name.startswith(f"Mold {piece}: its parts")
    ]
    rows: dict[str, Row] = {}
    edges: dict[str, tuple[str, str, float]] = {}
    diagonals: dict[frozenset[str], float] = {}
    stock = 0.0
    with pdfplumber.open(BytesIO(pdf(pages, "test"))) as whole:
        for page in whole.pages:
            text = page.extract_text(x_tolerance=1.5)
            for strip, face, back, a, left, b, right in STRIP.findall(text):
                rows[strip] = Row(inches(face), inches(back), (a, left), (b, right))
            if found := re.search(rf"sidewall stock ({SIZE}) thick", text):
                stock = inches(found[1])
            for line in halves(page):
                if match := EDGE.match(line):
                    ends = (match[2] or match[4], match[3] or match[4])
                    edges[match[1]] = (*ends, inches(match[5]))
                if match := DIAGONAL.match(line):
                    diagonals[frozenset((match[1], match[2]))] = inches(match[3])
                if match := MIDDLES.match(line):
                    ends = (f"arc {match[1]}", f"arc {match[2]}")
                    diagonals[frozenset(ends)] = inches(match[3])
                if match := ACROSS.match(line):
                    left, right, _ = edges[match[1]]
                    if left == right:
                        continue
                    diagonals[frozenset((left, right))] = inches(match[2])
    return Printed(rows, edges, diagonals, stock)


def is_straight(mold: Mold) -> bool:
    return not any(mold.frame.bulges) and all(len(strip.edges) == 1 for strip in mold.strips)


CASES = [
    (name, mold.piece)
    for name in ("corner-with-range", "twelve-pieces", "bay-and-breast")
    for mold in plan.molds(sample(name))
    if is_straight(mold)
]


def walk(printed: Printed) -> list[str]:
    """The corners counter-clockwise in the mold: a strip goes from right to left that way."""
    after = {right: left for left, right, _ in printed.edges.values()}
    found = [min(after)]
    while after[found[-1]] != found[0]:
        found.append(after[found[-1]])
    return found


def base(printed: Printed) -> dict[str, Point]:
    """The corners of the base, each where two known lengths from two others meet."""
    letters = walk(printed)
    known = {frozenset((a, b)): size for a, b, size in printed.edges.values()} | printed.diagonals
    at: dict[str, Point] = {letters[0]: (0.0, 0.0)}
    at[letters[1]] = (known[frozenset(letters[:2])], 0.0)
    while len(at) < len(letters):
        letter, one, other = next(
            (letter, one, other)
            for letter in letters
            for one, other in combinations(sorted(at, key=letters.index), 2)
            if letter not in at
            and {frozenset((one, letter)), frozenset((other, letter)), frozenset((one, other))}
            <= set(known)
        )
        r, s = known[frozenset((one, letter))], known[frozenset((other, letter))]
        apart = distance(at[one], at[other])
        bend = acos((apart * apart + r * r - s * s) / (2.0 * apart * r))
        way = atan2(at[other][1] - at[one][1], at[other][0] - at[one][0])
        # A triangle between corners of a polygon runs round as the polygon does.
        between = letters.index(one) < letters.index(letter) < letters.index(other)
        turn = -bend if between else bend
        at[letter] = (at[one][0] + r * cos(way + turn), at[one][1] + r * sin(way + turn))
    return at


@pytest.mark.parametrize(("name", "piece"), CASES)
def test_the_base_laid_out_by_its_edges_and_diagonals_is_the_outline(name: str, piece: str) -> None:
    printed, mold = read(name, piece), plan.mold(sample(name), piece)
    at, letters = base(printed), walk(printed)
    assert len(letters) == len(mold.frame.vertices)
    corners = [at[letter] for letter in letters]
    twice = sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    )
    around = sum(size for _, _, size in printed.edges.values())
    assert twice / 2.0 == pytest.approx(area(mold.frame), abs=around * SIXTEENTH)
    # Every distance between two corners, taped or not, is that of the outline.
    true = {corner.letter: corner.at for corner in mold_corners(mold.frame)}
    for a, b in combinations(letters, 2):
        assert distance(at[a], at[b]) == pytest.approx(distance(true[a], true[b]), abs=0.25)
    # All diagonals hold, the one that is a check too.
    for pair, size in printed.diagonals.items():
        a, b = pair
        assert distance(at[a], at[b]) == pytest.approx(size, abs=0.25)


@pytest.mark.parametrize(("name", "piece"), CASES)
def test_every_sidewall_follows_from_the_corners_of_the_base(name: str, piece: str) -> None:
    printed = read(name, piece)
    at, letters, t = base(printed), walk(printed), printed.thickness
    assert set(printed.rows) == set(printed.edges)
    angles: dict[str, float] = {}
    for k, letter in enumerate(letters):
        here, before, after = at[letter], at[letters[k - 1]], at[letters[(k + 1) % len(letters)]]
        ahead = atan2(after[1] - here[1], after[0] - here[0])
        behind = atan2(before[1] - here[1], before[0] - here[0])
        angles[letter] = (behind - ahead) % (2.0 * pi)
    for name_of, row in printed.rows.items():
        left, right, edge = printed.edges[name_of]
        assert (row.left[0], row.right[0]) == (left, right)
        face = back = edge
        for letter, cut in (row.left, row.right):
            angle = angles[letter]
            if cut == "runs past":
                assert angle <= radians(101.0)
                face, back = face + t / sin(angle), back + t / sin(angle)
                continue
            off = pi / 2.0 - (angle if angle <= radians(100.0) else angle / 2.0)
            back += t * tan(off)
            told = re.match(r"bevel ([\d.]+)° ?, (back|face)", cut)
            bevel = 0.0 if told is None else float(told[1]) * (1 if told[2] == "back" else -1)
            assert degrees(off) == pytest.approx(bevel, abs=1.0)
        assert row.face == pytest.approx(face, abs=2.0 * SIXTEENTH)
        assert row.back == pytest.approx(back, abs=2.0 * SIXTEENTH)


@pytest.mark.parametrize("name", ["round-island", "out-of-square", "galley", "double-bowl"])
def test_printed_edges_add_up_to_the_outline_roundings_too(name: str) -> None:
    for mold in plan.molds(sample(name)):
        printed = read(name, mold.piece)
        around = sum(map(length, mold.frame.edges))
        sizes = [size for _, _, size in printed.edges.values()]
        assert len(sizes) == len(mold.strips)
        assert sum(sizes) == pytest.approx(around, abs=len(sizes) * SIXTEENTH / 2.0)


CURVED = [
    (name, mold.piece)
    for name in ("corner-with-range", "round-island", "bowed-and-free", "galley")
    for mold in plan.molds(sample(name))
    if any(corner.rounded for corner in mold_corners(mold.frame))
]


@pytest.mark.parametrize(("name", "piece"), CURVED)
def test_a_mold_with_arcs_is_laid_out_by_its_corners_and_the_middles_of_arcs(
    name: str, piece: str
) -> None:
    printed, mold = read(name, piece), plan.mold(sample(name), piece)
    true = {corner.place: corner.at for corner in mold_corners(mold.frame)}
    known = dict(printed.diagonals)
    for left, right, size in printed.edges.values():
        if not left.startswith("arc") and not right.startswith("arc"):
            known.setdefault(frozenset((left, right)), size)
    for pair, size in known.items():
        a, b = pair
        assert size == pytest.approx(distance(true[a], true[b]), abs=SIXTEENTH / 1.9)
    # All sides of the corners, the diagonals that cut them into triangles, and one to check.
    corners = list(true)
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        assert frozenset((a, b)) in known
    assert len(known) == 2 * len(corners) - 2


def test_panels_of_a_base_are_laid_out_by_what_is_printed() -> None:
    job = replace(sample("corner-with-range"), sample=False)
    mold = plan.mold(job, "B")
    made = base_panels(job, mold)
    pages = [
        p for p in booklet_pages(job, stamped(job, TODAY)) if p.name.startswith("Mold B: its parts")
    ]
    with pdfplumber.open(BytesIO(pdf(pages, "test"))) as whole:
        page = next(p for p in whole.pages if "Panels of the base" in p.extract_text())
        columns = [
            page.crop((x0, 0, x1, page.height)).extract_text(x_tolerance=1.5)
            for x0, x1 in ((110.0, 380.0), (380.0, page.width))
        ]
    heads = ("sides; numbers are the ends of a joint", "diagonals")
    table = " ".join(
        " ".join(column.partition(head)[2].partition("set with a tape")[0].split())
        for column, head in zip(columns, heads, strict=True)
    )
    printed = [(frozenset(found[:2]), inches(found[2])) for found in PANEL.findall(table)]
    at = {end.name: end.at for end in joint_ends(made)}
    at |= {corner.place: corner.at for corner in mold_corners(mold.frame)}
    # Five sides and three diagonals of one panel; the other has three corners and needs none.
    assert len(printed) >= 5 + 2 + 3
    for pair, size in printed:
        a, b = pair
        assert size == pytest.approx(distance(at[a], at[b]), abs=SIXTEENTH / 1.9)
