"""What holds for every test: Hypothesis measures no time, and the gates give one answer for one tree.

`--hypothesis-profile=searching` draws anew each time, to find what the gates do not draw.
"""

from hypothesis import HealthCheck, settings

settings.register_profile("searching", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("coach", settings.get_profile("searching"), derandomize=True)
settings.load_profile("coach")
