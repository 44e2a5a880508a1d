"""A sink maker's drawing read in a process beside the window, which begins with little else."""

from multiprocessing.connection import Connection
from pathlib import Path

from export.template_files import TemplateError, read_template
from export.templates import read_units
from geometry.lengths import LengthStyle

OPENED = 0.4
"""So much of the work is done when the file is opened."""


def read_beside(path: str, style: LengthStyle, pipe: Connection) -> None:
    """Read a drawing; down the pipe go shares of the work, then what was read, or a sentence."""

    def tell(share: float) -> None:
        pipe.send(("came", OPENED + (1.0 - OPENED) * share))

    try:
        pipe.send(("done", read_units(read_template(Path(path)), style, tell)))
    except TemplateError as error:
        pipe.send(("failed", str(error)))
    finally:
        pipe.close()
