"""Whether a top slides in between two walls, as a fact of its edges and its pieces."""

from app.asking import Fact
from geometry.naming import Id
from shop.alcoves import alcove_fits
from shop.fit_findings import slides_in_words
from shop.job import Job


def slides_in_facts(job: Job, *owners: Id) -> tuple[Fact, ...]:
    """Return whether these legs, or those of these tops, slide in between two walls."""
    return tuple(
        Fact("Slides in between its walls", slides_in_words(job, found))
        for found in alcove_fits(job)
        if found.leg in owners or found.run in owners
    )
