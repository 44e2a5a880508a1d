"""What all tests share: how hypothesis searches, here and on a build server."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "here", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.register_profile("server", settings.get_profile("here"), derandomize=True, database=None)
settings.load_profile("server" if os.environ.get("CI") else "here")
