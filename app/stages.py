"""The seven stages of the work order."""

from typing import Literal, TypeAlias, get_args

Stage: TypeAlias = Literal["Room", "Counters", "Openings", "Seams", "Molds", "Pour", "Sheets"]
STAGES: tuple[Stage, ...] = get_args(Stage)
