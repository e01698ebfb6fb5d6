"""No test asserts a time, so hypothesis sets no deadline either, and a busy machine is no fault."""

from hypothesis import HealthCheck, settings

settings.register_profile("kit", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("kit")
