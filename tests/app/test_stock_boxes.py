"""The forms of the stock list: each answer is one edit, what cannot be read is refused in words."""

import pytest
from msgspec.structs import replace

from app.asking import AnswerError, Question, understood
from app.things.stock import stock_described
from geometry.lengths import LengthStyle
from shop import edits
from shop.job import Job
from shop.stock_list import (
    BarLengths,
    BarOffcut,
    FoamSheets,
    MeshSheets,
    Offcut,
    Screws,
    SheetGoods,
    Silicone,
    Stock,
    Tape,
    TieWire,
)
from tests.shop.kitchens import after

EMPTY = Job("Test")
OWN = Stock(strip_board=SheetGoods("plywood"))
STYLE = LengthStyle()


def question(job: Job, key: str) -> Question:
    (found,) = (q for each in stock_described(job) for q in each.questions if q.key == key)
    return found


@pytest.mark.parametrize(
    ("key", "typed", "wanted"),
    [
        ("cutting", "any-angle", Stock(cutting="any-angle")),
        ("stock-kerf", "1/16", Stock(kerf=0.0625)),
        ("stock-kept_width", "8", Stock(kept_width=8.0)),
        ("stock-kept_length", "30", Stock(kept_length=30.0)),
        ("board-name", "birch", Stock(board=SheetGoods("birch"))),
        ("board-length", "8'", Stock(board=SheetGoods(length=96.0))),
        ("board-width", "48", Stock(board=SheetGoods(width=48.0))),
        ("board-price", "62.5", Stock(board=SheetGoods(price=62.5))),
        ("board-on-hand", "3", Stock(board=SheetGoods(on_hand=3))),
        (
            "board-offcuts",
            "40 x 20; 9 x 62 1/2;",
            Stock(board=SheetGoods(offcuts=(Offcut(40.0, 20.0), Offcut(62.5, 9.0)))),
        ),
        ("strip-board", "own", Stock(strip_board=SheetGoods("board for strips"))),
        ("foam-layers", "2", Stock(foam=FoamSheets(layers=2))),
        ("foam-price", "20", Stock(foam=FoamSheets(price=20.0))),
        ("mesh-on-hand", "1", Stock(mesh=MeshSheets(on_hand=1))),
        ("bars-price", "9", Stock(bars=BarLengths(price=9.0))),
        ("bars-on-hand", "2", Stock(bars=BarLengths(on_hand=2))),
        ("bars-offcuts", "40; 62", Stock(bars=BarLengths(offcuts=tuple(map(BarOffcut, (40, 62)))))),
        ("fl-oz", "9.8", Stock(silicone=Silicone(fl_oz=9.8))),
        ("silicone-price", "7", Stock(silicone=Silicone(price=7.0))),
        ("tape-length", "50'", Stock(tape=Tape(roll_length=600.0))),
        ("tape-price", "4.5", Stock(tape=Tape(price=4.5))),
        ("tape-on-hand", "2", Stock(tape=Tape(on_hand=2))),
        ("wire-length", "20'", Stock(wire=TieWire(coil_length=240.0))),
        ("wire-price", "9", Stock(wire=TieWire(price=9.0))),
        ("wire-on-hand", "1", Stock(wire=TieWire(on_hand=1))),
        ("short_screws-box", "50", Stock(short_screws=Screws(box_count=50))),
        ("short_screws-price", "6", Stock(short_screws=Screws(price=6.0))),
        ("short_screws-on-hand", "30", Stock(short_screws=Screws(on_hand=30))),
        ("screws-box", "50", Stock(screws=Screws(box_count=50))),
        ("screws-price", "12", Stock(screws=Screws(price=12.0))),
        ("screws-on-hand", "30", Stock(screws=Screws(on_hand=30))),
    ],
)
def test_an_answer_is_one_edit_of_the_stock_list(key: str, typed: str, wanted: Stock) -> None:
    asked = question(EMPTY, key)
    assert asked.edits(understood(asked, typed, STYLE)) == (edits.SetStock(wanted),)
    assert after(EMPTY, edits.SetStock(wanted)).stock == wanted


@pytest.mark.parametrize(
    ("key", "typed"),
    [
        ("strip-board-name", "birch"),
        ("strip-board-width", "40"),
        ("strip-board-price", "5"),
        ("strip-board-offcuts", "30 x 4"),
    ],
)
def test_a_board_of_their_own_has_boxes_of_its_own(key: str, typed: str) -> None:
    own = replace(EMPTY, stock=OWN)
    asked = question(own, key)
    (edit,) = asked.edits(understood(asked, typed, STYLE))
    assert isinstance(edit, edits.SetStock)
    assert edit.stock.strip_board != OWN.strip_board
    assert edit.stock.board == OWN.board
    back = question(own, "strip-board")
    assert back.edits("shared") == (edits.SetStock(Stock()),)


def test_what_other_parts_of_the_job_hold_is_set_there() -> None:
    for key, typed, kind in (
        ("strip-stock", "80", edits.SetMoldChoices),
        ("mesh-length", "96", edits.SetReinforcement),
        ("mesh-width", "48", edits.SetReinforcement),
        ("stock-bar-length", "120", edits.SetReinforcement),
    ):
        asked = question(EMPTY, key)
        (edit,) = asked.edits(understood(asked, typed, STYLE))
        assert isinstance(edit, kind)


def test_a_thin_board_of_their_own_begins_as_the_one_that_is_asked_for() -> None:
    thin = replace(EMPTY, molds=replace(EMPTY.molds, sidewall_thickness=0.5))
    (edit,) = question(thin, "strip-board").edits("own")
    assert edit == edits.SetStock(Stock(strip_board=SheetGoods("board for strips")))


def test_an_empty_box_is_no_price_and_no_offcuts() -> None:
    stock = Stock(board=SheetGoods(price=3.0, offcuts=(Offcut(40.0, 20.0),)))
    job = replace(EMPTY, stock=stock)
    price, offcuts = question(job, "board-price"), question(job, "board-offcuts")
    assert (price.value, offcuts.value) == (3.0, "3' 4 x 20")
    (edit,) = price.edits(understood(price, "", STYLE))
    assert isinstance(edit, edits.SetStock)
    assert edit.stock.board.price is None
    (edit,) = offcuts.edits(understood(offcuts, " ", STYLE))
    assert isinstance(edit, edits.SetStock)
    assert edit.stock.board.offcuts == ()


@pytest.mark.parametrize(
    ("key", "typed", "words"),
    [
        ("board-offcuts", "40", "'40' is no offcut: type it as 40 x 20"),
        ("board-offcuts", "40 x ham", "ham"),
        ("board-offcuts", "40 x 1/2", "too small or too large"),
        ("board-offcuts", "40 x 20;" * 41, "At most 40"),
        ("bars-offcuts", "40 x 20", "type it as 40,"),
        ("board-price", "-1", "at least 0"),
        ("board-on-hand", "201", "at most 200"),
        ("board-length", "0", "at least 1"),
    ],
)
def test_what_cannot_be_is_refused_in_words(key: str, typed: str, words: str) -> None:
    asked = question(EMPTY, key)
    with pytest.raises(AnswerError, match=words):
        understood(asked, typed, STYLE)
