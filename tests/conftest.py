"""What all tests share: one application for all that paints, and how hypothesis searches."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from hypothesis import HealthCheck, settings
from PySide6.QtWidgets import QApplication

settings.register_profile(
    "here", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.register_profile(
    "server", settings.get_profile("here"), derandomize=True, database=None, max_examples=75
)
settings.load_profile("server" if os.environ.get("CI") else "here")


@pytest.fixture(scope="session", autouse=True)
def application(qapp: QApplication) -> QApplication:
    """Make the one application of a process the window's kind, whichever test comes first."""
    return qapp
