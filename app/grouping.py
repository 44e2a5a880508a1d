"""Findings put in order and folded: many of one kind become one line that can be unfolded."""

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from shop.findings import Finding
from shop.words import listed

NO_BREAK = "\N{NO-BREAK SPACE}"


class Group(NamedTuple):
    """What is said at once: one finding, or several of a kind under one title."""

    title: str
    text: str
    findings: tuple[Finding, ...]

    @property
    def blocking(self) -> bool:
        """Whether it keeps something from being made as drawn."""
        return self.findings[0].blocking

    @property
    def folded(self) -> bool:
        """Whether there is something to unfold."""
        return len(self.findings) > 1


def _pieces(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Return the letters of the pieces that findings are about, each once."""
    return tuple(dict.fromkeys(s.id for f in findings for s in f.about if s.kind == "piece"))


def _weights(findings: Sequence[Finding]) -> str:
    """Return the pounds of each heavy piece with what to plan."""
    said = [f.text.partition(": ") for f in findings]
    pounds = (f"{name} {words[0]}" for name, words in zip(_pieces(findings), said, strict=True))
    # The spaces within a weight do not break, so that no line ends between a letter and its pounds.
    return f"{listed(text.replace(' ', NO_BREAK) for text in pounds)}: {said[0][2]}"


def _on_pieces(sentence: str) -> Callable[[Sequence[Finding]], str]:
    return lambda findings: f"On {listed(_pieces(findings))}. {sentence}"


class _Kind(NamedTuple):
    """How several findings of a kind are told; least is how many it takes to fold them."""

    title: Callable[[int], str]
    text: Callable[[Sequence[Finding]], str]
    least: int = 2


_KINDS = {
    "narrow-bridge": _Kind(
        lambda count: f"{count} narrow bridges",
        _on_pieces("Each is narrower than its limit."),
        least=4,
    ),
    "heavy-piece": _Kind(lambda count: f"{count} pieces are heavy", _weights),
    "sharp-corner": _Kind(
        lambda count: f"{count} corners break off easily",
        _on_pieces("Clip each, round it or move the seam."),
    ),
    "turned-insert": _Kind(
        lambda count: f"{count} molds need turned inserts",
        _on_pieces("Their radius is tighter than a strip bends."),
    ),
    "needs-jig": _Kind(
        lambda count: f"{count} molds have ends that need a jig",
        _on_pieces("They are cut more than 45 degrees from square."),
    ),
    "free-leg": _Kind(
        lambda count: f"{count} legs hang free in the turn",
        _on_pieces("Support each all the way, or split the piece there."),
    ),
}

_ORDER = ("narrow-bridge", "room-contradicts", "misreading", "corner-not-fixed", "room-unchecked")
"""Advice that comes first; the rest follows as found."""


def grouped(findings: Iterable[Finding]) -> tuple[Group, ...]:
    """Return findings as they are told: blocking ones first, then bridges, many of a kind as one.

    What blocks is never folded away.
    """
    rows: dict[object, list[Finding]] = {}
    for finding in sorted(findings, key=_place):
        folds = not finding.blocking and finding.code in _KINDS
        rows.setdefault(finding.code if folds else finding, []).append(finding)
    return tuple(group for row in rows.values() for group in _told(row))


def _place(finding: Finding) -> tuple[bool, int]:
    early = _ORDER.index(finding.code) if finding.code in _ORDER else len(_ORDER)
    return (not finding.blocking, early)


def _told(row: list[Finding]) -> tuple[Group, ...]:
    kind = _KINDS.get(row[0].code)
    if kind is None or len(row) < kind.least:
        return tuple(Group(f.title, f.text, (f,)) for f in row)
    return (Group(kind.title(len(row)), kind.text(row), tuple(row)),)
