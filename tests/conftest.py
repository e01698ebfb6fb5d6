"""Hypothesis sets no deadline, since no test asserts a time; and two processes find the same tests."""

from hypothesis import HealthCheck, settings

settings.register_profile("kit", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("kit")


def pytest_itemcollected(item):
    assert " at 0x" not in item.nodeid, f"{item.nodeid}: an object's place in memory is no name; give it an id"
