"""Hypothesis sets no deadline, since no test asserts a time; two processes find the same tests; loops are compiled
before a notebook is run, so that none says that it waits."""

from hypothesis import HealthCheck, settings
from nbval.plugin import IPyNbCell

from limekit.compiled import prepare

settings.register_profile("kit", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("kit")


def pytest_itemcollected(item):
    assert " at 0x" not in item.nodeid, f"{item.nodeid}: an object's place in memory is no name; give it an id"


def pytest_collection_finish(session):
    if any(isinstance(item, IPyNbCell) for item in session.items):
        prepare(print)
