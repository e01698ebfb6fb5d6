"""No test asserts a time, so hypothesis sets no deadline either."""

from hypothesis import settings

settings.register_profile("kit", deadline=None)
settings.load_profile("kit")
