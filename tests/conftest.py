"""Settings for all tests."""

from hypothesis import HealthCheck, settings

# A loaded machine must not fail a test: timing has no place here.
settings.register_profile("wayfold", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("wayfold")
