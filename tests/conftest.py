"""Property tests draw the same examples every time; TOILEWRIGHT_EXPLORE=1 lets them look for new ones."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile("same", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("explore", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("explore" if os.environ.get("TOILEWRIGHT_EXPLORE") else "same")
