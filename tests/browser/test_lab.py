"""Each notebook, run in a real JupyterLab, every slider moved by keyboard from end to end."""

import os
from pathlib import Path

import pytest

pytestmark = pytest.mark.browser

NOTEBOOKS = sorted(path.stem for path in (Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
PICTURES_TO = os.environ.get("LIMEKIT_SCREENSHOTS")
LEAST_HEIGHT = 50


@pytest.fixture(scope="session")
def open_notebook():
    lab = pytest.importorskip("lab", reason="Playwright is not installed")
    if not lab.chromium():
        pytest.skip("no Chromium on this machine")
    with lab.jupyterlab() as (address, token), lab.browser() as browser:
        yield lambda name: lab.OpenNotebook(browser, address, token, name)


@pytest.fixture(params=NOTEBOOKS)
def notebook(open_notebook, request):
    opened = open_notebook(request.param)
    opened.run_all()
    yield opened
    if PICTURES_TO:
        opened.page.screenshot(path=Path(PICTURES_TO) / f"{request.param}.png")
    opened.close()


def test_runs_and_every_slider_moves_picture_and_sentence(notebook):
    assert not notebook.faults()
    for plot in notebook.plots():
        assert plot["height"] > LEAST_HEIGHT
        assert plot["points"]
    for explorer in notebook.explorers():
        for slider in explorer.sliders():
            drive(explorer, slider)
            explorer.reset()
        for dropdown in explorer.dropdowns():
            choose_each(explorer, dropdown)
            explorer.reset()
    assert not notebook.faults()


def drive(explorer, slider):
    named = slider.get_attribute("aria-label")
    assert named, "a slider without an accessible name"
    seen = [explorer.look(), *(explorer.press(slider, key) for key in ("Home", "ArrowRight", "End", "ArrowLeft"))]
    for look in seen:
        assert "fault in the kit" not in look["alert"], f"{named}: {look['alert']}"
        assert look["name"] == look["sentence"], f"{named}: the picture's name is not the sentence"
    assert len({look["sentence"] for look in seen}) > 1, f"{named} moves no word"
    assert len({look["picture"] for look in seen}) > 1, f"{named} moves no line"
    assert seen[1] != seen[2] or seen[3] != seen[4], f"{named}: the arrow keys move nothing"


def choose_each(explorer, dropdown):
    options = dropdown.locator("option").all()
    are_cases = any(option.text_content() == "choose a case" for option in options)
    for option in options:
        alert = explorer.choose(dropdown, option.get_attribute("value"))["alert"]
        assert "fault in the kit" not in alert, alert
        assert not (are_cases and alert), f"a case without an answer: {alert}"
