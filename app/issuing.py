"""What writing the shop files would replace: which are new, which changed, what paper is void."""

from datetime import date
from typing import NamedTuple

from export.shopfiles import SHOP_FILES
from export.sound import left_out
from export.stamp import digests, stamped
from shop.job import Job
from shop.words import listed


class FileState(NamedTuple):
    """A shop file: its name, what it is for, and how it stands to what was last written."""

    name: str
    what: str
    state: str
    changed: bool


class SheetsTold(NamedTuple):
    """What the stage of sheets says: the revision, what is left out or void, each file, changes."""

    revision: str
    void: str
    files: tuple[FileState, ...]
    changed: frozenset[str]


def _molds(names: tuple[str, ...]) -> str:
    return f"mold{'' if len(names) == 1 else 's'} {listed(names)}"


def _missing(job: Job) -> str:
    out = left_out(job)
    return f"Left out until what is blocking is mended: {listed(out)}." if out else ""


def _void(pieces: tuple[str, ...], revision: int) -> str:
    if not pieces:
        return ""
    return f"Void: what was printed or cut for {_molds(pieces)} as revision {revision} or before."


def sheets_told(job: Job, today: date) -> SheetsTold:
    """Return what would be written today, set against what was last written."""
    stamp = stamped(job, today)
    last = job.issued
    if last is None:
        files = tuple(FileState(f.name, f.what, "new", changed=True) for f in SHOP_FILES)
        return SheetsTold("Revision 1, not written yet", _missing(job), files, frozenset())
    before = {mold.piece: mold.digest for mold in last.molds}
    after = {mold.piece: mold.digest for mold in digests(job)}
    changed = tuple(sorted(p for p, digest in after.items() if before.get(p) != digest))
    gone = tuple(sorted(before.keys() - after.keys()))
    if not changed and not gone:
        state = f"as written {last.date}"
        files = tuple(FileState(f.name, f.what, state, changed=False) for f in SHOP_FILES)
        words = f"Revision {last.revision}, written {last.date}; no mold has changed since"
        return SheetsTold(words, _missing(job), files, frozenset())
    void = tuple(sorted({*changed, *gone} & before.keys()))
    said = [f"changed: {_molds(changed)}"] if changed else []
    said += [f"gone: {_molds(gone)}"] if gone else []
    files = tuple(FileState(f.name, f.what, ", ".join(said), changed=True) for f in SHOP_FILES)
    return SheetsTold(
        f"Revision {stamp.revision}, not written yet: {stamp.replaces}",
        " ".join(part for part in (_missing(job), _void(void, last.revision)) if part),
        files,
        frozenset(changed),
    )
