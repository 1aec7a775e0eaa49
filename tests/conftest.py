"""What holds for every test: Hypothesis measures no time, for the machine of the gates is slow and shared."""

from hypothesis import HealthCheck, settings

settings.register_profile("coach", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("coach")
