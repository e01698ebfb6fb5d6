import pytest


@pytest.fixture(scope="session")
def lab():
    lab = pytest.importorskip("lab", reason="Playwright is not installed")
    if not lab.chromium():
        pytest.skip("no Chromium on this machine")
    with lab.jupyterlab() as (address, token), lab.browser() as browser:
        yield lambda name, **window: lab.OpenNotebook(browser, address, token, name, **window)
