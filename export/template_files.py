"""A sink maker's drawing as it comes: a DXF file's bytes, in text or binary, sound or not."""

from collections.abc import Iterator
from contextlib import suppress
from io import BytesIO, StringIO
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias, get_args

if TYPE_CHECKING:
    from ezdxf.document import Drawing

Unit: TypeAlias = Literal["in", "ft", "mm", "cm", "m"]
UNITS: tuple[Unit, ...] = get_args(Unit)
UNIT_NAMES: dict[Unit, str] = {
    "in": "inches",
    "ft": "feet",
    "mm": "millimeters",
    "cm": "centimeters",
    "m": "meters",
}
UNIT_IN: dict[Unit, float] = {
    "in": 1.0,
    "ft": 12.0,
    "mm": 1.0 / 25.4,
    "cm": 1.0 / 2.54,
    "m": 1.0 / 0.0254,
}
"""Inches to a unit; an inch is 25.4 mm by definition."""

INSUNITS: dict[int, Unit] = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""$INSUNITS of the DXF reference; 0 says nothing, and others are no shop's units."""

LARGEST_BYTES = 16_000_000
BINARY = b"AutoCAD Binary DXF\r\n\x1a\x00"
"""What a binary DXF begins with, after the DXF reference."""


class TemplateError(Exception):
    """A file that gives no template; one sentence says why and what to do."""


class TemplateFile(NamedTuple):
    """A drawing that was read: its file's name, what it holds, and its unit if it says one.

    whole tells whether the file reaches its end.
    """

    name: str
    drawing: "Drawing"
    unit: Unit | None
    whole: bool = True


def read_template(path: Path) -> TemplateFile:
    """Return the drawing in a DXF file.

    Raises:
        TemplateError: it cannot be read, is far too large, is no DXF, or is damaged.
    """
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise TemplateError(
                f"{path.name} is too large for a template ({size / 1e6:.1f} MB, at most "
                f"{LARGEST_BYTES / 1e6:.0f}): save the sink's outline alone in a file of its own."
            )
        data = path.read_bytes()
    except (OSError, ValueError) as error:
        raise TemplateError(f"{path.name} cannot be read: open it from another place.") from error
    return template_in(data, path.name)


def template_in(data: bytes, name: str) -> TemplateFile:
    """Return the drawing in the bytes of a DXF file.

    Raises:
        TemplateError: it is no DXF, or it is damaged.
    """
    if not data.strip():
        raise TemplateError(f"{name} is empty: ask for it once more.")
    if data[:2] == b"AC" and data[2:6].isdigit():
        raise TemplateError(f"{name} is a DWG drawing under another name: save it as DXF.")
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        with suppress(UnicodeDecodeError):
            data = data.decode("utf-16").encode()
    if b"SECTION" not in data:
        raise TemplateError(f"{name} is no DXF drawing: ask the sink's maker for one.")
    drawing = next(_opened(data), None)
    if drawing is None:
        raise TemplateError(f"{name} is damaged and cannot be read: ask for it once more.")
    # Where a file says none, the library puts meters.
    code = drawing.header.get("$INSUNITS", 0) if b"$INSUNITS" in data else 0
    unit = INSUNITS.get(code) if isinstance(code, int) else None
    return TemplateFile(name, drawing, unit, b"EOF" in data[-200:])


def _opened(data: bytes) -> "Iterator[Drawing]":
    """Yield the drawing, mended as far as the library can; nothing if it cannot."""
    from ezdxf import recover
    from ezdxf.document import Drawing
    from ezdxf.filemanagement import read
    from ezdxf.lldxf.tagger import binary_tags_loader

    # On values that are not what they should be the library raises whatever comes.
    if data.startswith(BINARY):
        with suppress(Exception):
            yield Drawing.load(binary_tags_loader(data))
        return
    with suppress(Exception):
        yield read(StringIO("\n".join(_text(data).splitlines()) + "\n"))
    with suppress(Exception):
        yield recover.read(BytesIO(data))[0]


def _text(data: bytes) -> str:
    """Return a drawing's text, in the code page that it names if it is not Unicode."""
    with suppress(UnicodeDecodeError):
        return data.decode("utf-8-sig")
    _, found, rest = data.partition(b"$DWGCODEPAGE")
    words = rest[:60].split()
    page = words[1].decode("ascii", "replace").upper() if found and len(words) > 1 else ""
    with suppress(LookupError):
        return data.decode(page.replace("ANSI_", "cp"), errors="replace")
    return data.decode("cp1252", errors="replace")
