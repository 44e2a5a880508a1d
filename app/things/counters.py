"""Pieces and islands, described."""

from collections.abc import Callable
from typing import Literal, cast

from msgspec.structs import replace

from app.asking import Fact, Question
from app.gestures.drags import island_of_piece
from app.gestures.strips import strip_of_piece
from app.things.alcoves import slides_in_facts
from app.things.boxes import NARROWEST_IN, Described, asked_choice, asked_length
from app.things.slabs import slab_facts, slab_questions
from app.things.strips import strip_questions
from geometry.counters import FromWalls, Island, OnBoard
from geometry.naming import Id
from shop import edits
from shop.free_shapes import freed
from shop.job import (
    Job,
)
from shop.measures import area_words, volume_words, weight_words
from shop.plan import SQUARE_INCHES_PER_SQUARE_FOOT, pieces, sharp_top
from shop.standing import opening_names
from shop.weights import weight_shown
from shop.words import listed, top_words, wall_words


def piece_described(job: Job, name: str) -> Described:
    """Return a piece in words and boxes; an island alone brings its own boxes along."""
    piece = next(p for p in pieces(job) if p.name == name)
    island = island_of_piece(job, name)
    facts: tuple[Fact, ...] = (
        Fact("Weight", weight_words(piece.weight_lb, job.display)),
        Fact("Face", area_words(piece.area_sq_in / SQUARE_INCHES_PER_SQUARE_FOOT, job.display)),
        Fact("Concrete", volume_words(piece.volume_cu_ft, job.display)),
    )
    if len(piece.face.openings):
        names = dict(opening_names(job))
        facts = (*facts, Fact("Openings", listed(names[o.id] for o in piece.face.openings)))
    letter = Question(
        "letter",
        "Letter",
        "words",
        name,
        lambda a: (edits.NamePiece(name, str(a).upper()),),
        most=3,
    )
    asked: tuple[Question, ...] = (letter, *slab_questions(job, piece))
    if island is not None:
        asked = (*asked, *island_described(job, island).questions)
    strip = strip_of_piece(job, name)
    if strip is not None:
        asked = (*asked, *strip_questions(job, strip))
        facts = (Fact("It is", top_words(job, strip.id)), *facts)
    told = (*facts, *slides_in_facts(job, piece.top), *slab_facts(job, name))
    return Described(f"Piece {name}", told, asked)


def island_described(job: Job, island_id: Id) -> Described:
    """Return an island in words and boxes."""
    island = next(i for i in job.islands if i.id == island_id)
    questions = [] if island.free else _sizes(island)
    at = island.at
    if isinstance(at, FromWalls):
        questions += [
            asked_length(
                "distance-a",
                f"From {wall_words(job, at.wall_a)}",
                at.distance_a,
                lambda v: (edits.SetIsland(replace(island, at=replace(at, distance_a=v))),),
            ),
            asked_length(
                "distance-b",
                f"From {wall_words(job, at.wall_b)}",
                at.distance_b,
                lambda v: (edits.SetIsland(replace(island, at=replace(at, distance_b=v))),),
            ),
        ]
    else:
        questions += _board_place(at, lambda place: (edits.SetIsland(replace(island, at=place)),))
    questions.append(
        Question(
            "angle",
            "Turned by, degrees",
            "angle",
            island.angle,
            lambda a: (edits.SetIsland(replace(island, angle=float(a))),),
            least=-360.0,
            most=360.0,
        )
    )
    questions.append(_shape_question(job, island))
    if island.free:
        return Described("Island, free shape", _top_facts(job, island_id), tuple(questions))
    rounds = ",".join(island.round_sides)
    choices: tuple[tuple[str, str], ...] = (
        ("", "none"),
        ("2", "side 2"),
        ("4", "side 4"),
        ("2,4", "sides 2 and 4"),
    )
    if rounds not in dict(choices):
        choices = (*choices, (rounds, f"sides {listed(island.round_sides)}"))

    def ends(answer: str) -> tuple[edits.Edit, ...]:
        sides = cast(
            tuple[Literal["1", "2", "3", "4"], ...], tuple(answer.split(",")) if answer else ()
        )
        return (edits.SetIsland(replace(island, round_sides=sides)),)

    questions.append(asked_choice("rounds", "Round ends", rounds, choices, ends))
    return Described("Island", _top_facts(job, island_id), tuple(questions))


def _sizes(island: Island) -> list[Question]:
    """Return the boxes of a rectangle's width and depth."""
    return [
        asked_length(
            "width",
            "Side 1, width",
            island.width,
            lambda v: (edits.SetIsland(replace(island, width=v)),),
            least=NARROWEST_IN,
            first=True,
        ),
        asked_length(
            "depth",
            "Side 2, depth",
            island.depth,
            lambda v: (edits.SetIsland(replace(island, depth=v)),),
            least=NARROWEST_IN,
            first=True,
        ),
    ]


def _shape_question(job: Job, island: Island) -> Question:
    """Return the choice between a rectangle and a free shape that starts as what is there."""

    def shaped(answer: str) -> tuple[edits.Edit, ...]:
        if answer == "rectangle":
            return (edits.SetIsland(replace(island, free=())),)
        top = sharp_top(job, island)
        free = None if island.free or top is None else freed(island, top)
        return () if free is None else (edits.SetIsland(free),)

    now = "free" if island.free else "rectangle"
    choices = (("rectangle", "rectangle"), ("free", "free shape"))
    return asked_choice("form", "Shape", now, choices, shaped)


def _board_place(at: OnBoard, put: Callable[[OnBoard], tuple[edits.Edit, ...]]) -> list[Question]:
    return [
        asked_length(
            "x",
            "Across, on the board",
            at.x,
            lambda v: put(replace(at, x=v)),
            least=-4000,
            most=4000,
        ),
        asked_length(
            "y", "Up, on the board", at.y, lambda v: put(replace(at, y=v)), least=-4000, most=4000
        ),
    ]


def _top_facts(job: Job, top: Id) -> tuple[Fact, ...]:
    own = [p for p in pieces(job) if p.top == top]
    if not own:
        return ()
    weight = sum(weight_shown(p.weight_lb) for p in own)
    return (
        Fact("Pieces", listed(p.name for p in own)),
        Fact("Weight", weight_words(weight, job.display)),
    )
