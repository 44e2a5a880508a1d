from pathlib import Path

import pytest

from shop import samples
from shop.samples import UnknownSampleError, sample_names, sample_path

CHECKOUT = Path(__file__).resolve().parents[2] / "samples"


def test_every_job_file_in_the_samples_folder_is_a_sample() -> None:
    assert sample_names() == tuple(sorted(p.stem for p in CHECKOUT.glob("*.facedown")))
    assert len(sample_names()) >= 6


def test_each_sample_has_a_file_to_read() -> None:
    assert all(sample_path(name).is_file() for name in sample_names())


def test_an_unknown_sample_is_refused_with_the_names_there_are() -> None:
    with pytest.raises(UnknownSampleError, match="no sample called 'ballroom'") as caught:
        sample_path("ballroom")
    assert all(name in str(caught.value) for name in sample_names())


def test_a_name_cannot_lead_out_of_the_samples_folder() -> None:
    with pytest.raises(UnknownSampleError):
        sample_path("../samples/galley")


def test_an_installed_copy_reads_the_samples_inside_its_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = tmp_path / "sample_jobs"
    inside.mkdir()
    (inside / "only.facedown").write_text("{}", encoding="utf-8")
    monkeypatch.setattr(samples, "_FOLDERS", (inside, CHECKOUT))
    assert sample_names() == ("only",)
    assert sample_path("only") == inside / "only.facedown"
