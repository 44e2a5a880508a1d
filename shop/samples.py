"""The sample jobs: in the checkout they lie in samples/, installed inside this package."""

from pathlib import Path

_HERE = Path(__file__).resolve().parent
_FOLDERS = (_HERE / "sample_jobs", _HERE.parent / "samples")
_SUFFIX = ".facedown"


class UnknownSampleError(Exception):
    """There is no such sample; one sentence lists those there are."""


def sample_names() -> tuple[str, ...]:
    """Return the names of the samples, sorted as their files are."""
    return tuple(sorted(path.stem for path in _folder().glob(f"*{_SUFFIX}")))


def sample_path(name: str) -> Path:
    """Return the job file of a sample.

    Raises:
        UnknownSampleError: there is no sample of that name.
    """
    names = sample_names()
    if name not in names:
        raise UnknownSampleError(
            f"There is no sample called '{name}'. The samples are {', '.join(names)}."
        )
    return _folder() / f"{name}{_SUFFIX}"


def _folder() -> Path:
    return next(folder for folder in _FOLDERS if folder.is_dir())
