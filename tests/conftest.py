"""Settings for all tests."""

import os

from hypothesis import HealthCheck, settings

# A loaded machine must not fail a test: timing has no place here. The examples are the same on
# every run, so that a failure is the change's own; WAYFOLD_EXPLORE=1 looks for new ones.
settings.register_profile(
    "wayfold",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize="WAYFOLD_EXPLORE" not in os.environ,
)
settings.load_profile("wayfold")
