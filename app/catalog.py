"""The catalog of shapes that openings start with: plain trade shapes, and a person's own.

Sizes are common practice, no source, all editable. What a person changes or adds lies in a file in
the platform's folder for settings, for every job.
"""

from pathlib import Path
from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta
from msgspec.structs import replace

from geometry.naming import Name, Value
from geometry.openings import (
    ApronShape,
    CircleShape,
    Opening,
    RectangleShape,
    Shape,
    SlotShape,
)
from shop.words import capital

FILE = "shapes.json"
UNREADABLE = "shapes.unreadable.json"
MOST = 200
"""A catalog of more shapes is not one that a person made."""

Use: TypeAlias = Literal["sink", "cooktop", "faucet", "dispenser", "other"]


class CatalogEntry(Value, frozen=True):
    """A kind of opening: its name in the catalog, and what an opening of it starts with.

    called is the opening's own name. own tells whether a person added it.
    """

    id: Annotated[str, Meta(pattern=r"^[a-z0-9-]{1,40}$")]
    name: Name
    called: Name
    use: Use
    shape: Shape
    reveal: Annotated[float, Meta(ge=-6.0, le=6.0)] = 0.0
    own: bool = False


PLAIN: tuple[CatalogEntry, ...] = (
    CatalogEntry("single-bowl", "Single bowl", "sink", "sink", RectangleShape(30.0, 16.0, 1.0)),
    CatalogEntry(
        "double-bowl", "Double bowl", "double sink", "sink", RectangleShape(33.0, 18.0, 1.0)
    ),
    CatalogEntry("round-bowl", "Round bowl", "round sink", "sink", CircleShape(16.0)),
    CatalogEntry("apron", "Apron front", "apron sink", "sink", ApronShape(30.0, 20.0, 0.75)),
    CatalogEntry("cooktop", "Cooktop", "cooktop", "cooktop", RectangleShape(28.5, 19.25, 0.375)),
    CatalogEntry("faucet", "Faucet hole", "faucet", "faucet", CircleShape(1.375)),
    CatalogEntry("dispenser", "Dispenser", "dispenser", "dispenser", CircleShape(1.25)),
    CatalogEntry(
        "wall-outlet", "Wall outlet", "outlet", "other", RectangleShape(3.75, 2.25, 0.375)
    ),
    CatalogEntry("outlet", "Outlet", "outlet", "other", CircleShape(3.5)),
    CatalogEntry("trash-chute", "Trash chute", "trash chute", "other", CircleShape(8.0)),
    CatalogEntry("slot", "Slot", "slot", "other", SlotShape(12.0, 1.5)),
)


class Catalog(msgspec.Struct, frozen=True):
    """The shapes to choose from, plain ones first, and what is wrong with the file, if anything."""

    entries: tuple[CatalogEntry, ...] = PLAIN
    problem: str = ""

    def entry(self, entry_id: str) -> CatalogEntry:
        """Return the entry of an id.

        Raises:
            KeyError: there is none.
        """
        for entry in self.entries:
            if entry.id == entry_id:
                return entry
        raise KeyError(entry_id)


def read_catalog(folder: Path) -> Catalog:
    """Return the catalog as it was last kept; the plain one where its file cannot be read."""
    path = folder / FILE
    try:
        kept = msgspec.json.decode(path.read_bytes(), type=tuple[CatalogEntry, ...])
    except FileNotFoundError:
        return Catalog()
    except (OSError, ValueError, RecursionError):
        return Catalog(
            problem=f"Your own shapes in {path} cannot be read, so the plain ones are shown. "
            f"The next shape you keep starts a new file, and the old one stays as {UNREADABLE}."
        )
    changed = {entry.id: entry for entry in kept}
    plain = tuple(replace(changed.get(entry.id, entry), own=False) for entry in PLAIN)
    known = {entry.id for entry in PLAIN}
    own = {entry.id: replace(entry, own=True) for entry in kept if entry.id not in known}
    return Catalog((*plain, *own.values())[:MOST])


def kept_when(folder: Path) -> tuple[int, int] | None:
    """Return what tells whether another window kept shapes since; None where there is no file."""
    try:
        known = (folder / FILE).stat()
    except OSError:
        return None
    return known.st_mtime_ns, known.st_size


def carried_over(before: Catalog, after: Catalog, fresh: Catalog) -> Catalog:
    """Return a fresh catalog with what was changed, added and removed between two others."""
    known = {entry.id: entry for entry in before.entries}
    left = {entry.id for entry in after.entries}
    for entry in after.entries:
        if known.get(entry.id) != entry:
            fresh = with_entry(fresh, entry)
    for entry_id in known.keys() - left:
        fresh = without_entry(fresh, entry_id)
    return fresh


def keep_catalog(folder: Path, catalog: Catalog) -> Catalog:
    """Write what differs from the plain catalog, whole or not at all; say what was in the way."""
    path = folder / FILE
    kept = tuple(entry for entry in catalog.entries if entry not in PLAIN)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if catalog.problem and path.exists():
            path.replace(folder / UNREADABLE)
        fresh = folder / f"{FILE}.new"
        fresh.write_bytes(msgspec.json.format(msgspec.json.encode(kept)))
        fresh.replace(path)
    except OSError as error:
        words = f"Your shapes could not be kept in {folder}: {error.strerror or error}."
        return Catalog(catalog.entries, words)
    return Catalog(catalog.entries)


def with_entry(catalog: Catalog, entry: CatalogEntry) -> Catalog:
    """Return the catalog with a shape changed, or added at its end."""
    known = [one.id for one in catalog.entries]
    if entry.id not in known:
        return replace(catalog, entries=(*catalog.entries, entry)[:MOST])
    entries = tuple(entry if one.id == entry.id else one for one in catalog.entries)
    return replace(catalog, entries=entries)


def without_entry(catalog: Catalog, entry_id: str) -> Catalog:
    """Return the catalog without a person's own shape, or with a plain one as it was."""
    plain = {entry.id: entry for entry in PLAIN}
    entries = tuple(
        plain.get(entry.id, entry) if entry.id == entry_id else entry
        for entry in catalog.entries
        if entry.id != entry_id or entry.id in plain
    )
    return replace(catalog, entries=entries)


def entry_of(opening: Opening, catalog: Catalog) -> CatalogEntry:
    """Return an opening as a shape of a person's own, with an id and a name that are not taken."""
    ids, names = ({getattr(k, a) for k in catalog.entries} for a in ("id", "name"))
    number = next(n for n in range(1, MOST + 2) if f"own-{n}" not in ids)
    name = title = capital(opening.name)
    more = 2
    while name in names:
        name, more = f"{title} {more}", more + 1
    return CatalogEntry(
        f"own-{number}",
        name,
        opening.name,
        opening.use,
        opening.shape,
        opening.reveal,
        own=True,
    )


def is_changed(entry: CatalogEntry) -> bool:
    """Tell whether a plain entry has other sizes than it came with."""
    return not entry.own and entry not in PLAIN
