"""Words of molds."""

from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from shop.moldwords import MoldWords
from tests.shop.mold_shapes import BACK, FRONT, LEFT, SEAM, WORDS


def test_an_edge_has_its_name_or_that_of_its_kind() -> None:
    assert WORDS.edge(LEFT) == "left end"
    assert WORDS.edge(BACK) == "back"
    corner = corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg1", "start"))
    assert WORDS.edge(Tag(Kind.CORNER, corner)) == "corner"


def test_names_read_well_in_a_sentence() -> None:
    words = MoldWords(((BACK.ref, "back, wall 1 to 2"), *WORDS.edges))
    assert words.phrase(BACK) == "the back edge along wall 1 to 2"
    assert words.phrase(FRONT) == "the front edge"
    assert words.phrase(LEFT) == "the left end"
    assert words.phrase(SEAM) == "the seam to B"
    assert words.phrase(Tag(Kind.FRONT, EdgeRef("island1", "2"))) == "side 2"


def test_an_opening_without_a_name_is_called_an_opening() -> None:
    assert WORDS.opening("sink1") == "sink"
    assert WORDS.opening("other7") == "opening"


def test_a_reveal_says_how_a_hole_differs_from_its_bowl() -> None:
    words = MoldWords(reveals=(("sink1", 0.25), ("sink2", -0.125), ("sink3", 0.001)))
    assert words.reveal("sink1") == "1/4 larger than the bowl on every side"
    assert words.reveal("sink2") == "1/8 smaller than the bowl on every side"
    assert words.reveal("sink3") == ""
    assert words.reveal("sink4") == ""
