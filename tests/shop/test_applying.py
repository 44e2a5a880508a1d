from hypothesis import given, settings
from hypothesis import strategies as st

from shop import plan
from shop.applying import applied
from shop.describing import described
from shop.findings import findings
from shop.job import Job
from shop.jobfile import decoded, encoded
from shop.references import dangling
from tests.strategies import edits_of, sample_jobs


@settings(max_examples=150, deadline=None)
@given(sample_jobs, st.data())
def test_after_any_edits_the_job_hangs_together_reads_back_and_can_be_drawn(
    job: Job, data: st.DataObject
) -> None:
    for _ in range(data.draw(st.integers(1, 6), label="how many")):
        edit = data.draw(edits_of(job), label="edit")
        after = applied(job, edit)
        assert next(dangling(after), None) is None
        assert decoded(encoded(after)) == after
        assert (after == job) == (after is job)
        assert described(job, edit, after)
        plan.molds(after)
        findings(after)
        job = after
