"""One Chromium for the tests of a file; without one on the machine they are skipped."""

import pytest


@pytest.fixture(scope="module")
def lab():
    found = pytest.importorskip("lab", reason="Playwright is not installed")
    if not found.chromium():
        pytest.skip("no Chromium on this machine")
    return found


@pytest.fixture(scope="module")
def browser(lab):
    with lab.browser() as started:
        yield started
