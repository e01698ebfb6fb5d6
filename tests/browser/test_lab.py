"""Each notebook, run in a real JupyterLab, every slider moved by keyboard from end to end."""

import os
from pathlib import Path

import pytest

pytestmark = pytest.mark.browser

NOTEBOOKS = sorted(path.stem for path in (Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
PICTURES_TO = os.environ.get("LIMEKIT_SCREENSHOTS")
LEAST_HEIGHT = 50


@pytest.fixture(params=NOTEBOOKS)
def notebook(lab, request):
    opened = lab(request.param)
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
    assert not notebook.faults()


def drive(explorer, slider):
    named = slider.get_attribute("aria-label")
    assert named, "a slider without an accessible name"
    ends = {}
    for key in ("Home", "End"):
        before = slider.get_attribute("aria-valuetext")
        ends[key] = explorer.press(slider, key)
        assert not ends[key]["alert"], f"{named}, {key}: {ends[key]['alert']}"
        assert before
    assert ends["Home"]["sentence"] != ends["End"]["sentence"], f"{named} moves no word"
    assert ends["Home"]["picture"] != ends["End"]["picture"], f"{named} moves no line"
    stepped = explorer.press(slider, "ArrowLeft")
    assert not stepped["alert"]
    assert (stepped["sentence"], stepped["picture"]) != (ends["End"]["sentence"], ends["End"]["picture"])
    assert stepped["name"] == stepped["sentence"], "the picture's name lags behind the sentence"
