"""Jobs that the tests of the shop files share: the samples, and samples turned to one purpose."""

from datetime import date
from functools import cache

from msgspec.structs import replace

from geometry.openings import Opening
from shop.job import Job
from shop.jobfile import read_job
from shop.samples import sample_names, sample_path

TODAY = date(2026, 3, 2)
EMPTY = Job("Nothing yet")
ODD_NAME = "=2+3 \"quoted\" 'twice' %%c \\P ^J ½°"


@cache
def sample(name: str) -> Job:
    return read_job(sample_path(name))


def samples() -> tuple[Job, ...]:
    return tuple(map(sample, sample_names()))


def metric(name: str) -> Job:
    return replace(sample(name), display="mm")


def on_base(name: str) -> Job:
    """The sample with its sidewalls standing on the base."""
    job = sample(name)
    return replace(job, molds=replace(job.molds, construction="sides-on-base"))


def oddly_named() -> Job:
    """A job whose names hold what files and spreadsheets might take for their own."""
    job = sample("galley")
    openings = tuple(_named(opening, ODD_NAME) for opening in job.openings)
    return replace(job, name=ODD_NAME, openings=openings)


def _named(opening: Opening, name: str) -> Opening:
    return replace(opening, name=name)


def blocked() -> Job:
    """A sample with its first opening far outside the top: blocking."""
    job = sample("galley")
    first = job.openings[0]
    outside = replace(first, at=replace(first.at, along=900.0))
    return replace(job, openings=(outside, *job.openings[1:]))
