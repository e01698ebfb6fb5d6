"""Each notebook, run in a real JupyterLab: nothing asked of the network, no blank picture, everything by keyboard."""

import os
import time
from pathlib import Path

import pytest
from hostile import MARK, write_hostile

from limekit.course.ladder import ladder, lesson

pytestmark = pytest.mark.browser

NOTEBOOKS = [one.notebook for one in ladder().values()]
PICTURES_TO = os.environ.get("LIMEKIT_SCREENSHOTS")
ALWAYS = "how_hot_how_long"  # the others with the slow tests
LEAST_HEIGHT = 50
AT_ONCE = """AbortSignal.timeout = () => {
    const impatient = new AbortController();
    setTimeout(() => impatient.abort());
    return impatient.signal;
}"""  # anywidget's two seconds, over before anything is loaded
OF_JUPYTERLAB = "**/jupyterlab-plotly/static/0*.js*"  # its own copy of plotly's page code
PLAY, STOP = "play or pause", "stop"


@pytest.fixture(scope="module")
def open_notebook(lab, browser):
    with lab.jupyterlab() as (address, token):
        yield lambda name, within=browser, **how: lab.OpenNotebook(within, address, token, name, **how)


@pytest.fixture(
    params=[pytest.param(name, marks=() if name.endswith(ALWAYS) else pytest.mark.slow) for name in NOTEBOOKS]
)
def notebook(open_notebook, request):
    opened = open_notebook(request.param)
    opened.run_all()
    yield opened
    if PICTURES_TO:
        opened.page.screenshot(path=Path(PICTURES_TO) / f"{request.param}.png")
    opened.close()


def test_runs_shows_and_moves_by_keyboard(notebook, lab):
    assert not notebook.faults()
    plots = notebook.plots()
    for plot in plots:
        assert plot["height"] > LEAST_HEIGHT
        assert plot["points"]
    blank, pictures = notebook.blank_pictures()
    assert not blank
    assert pictures >= len(plots)
    assert not notebook.pale(), "too pale in one of the themes"
    for explorer in notebook.explorers():
        assert not explorer.unnamed()
        for slider in explorer.sliders():
            drive(explorer, slider)
            explorer.reset()
        for dropdown in explorer.dropdowns():
            choose_each(explorer, dropdown)
            explorer.reset()
        press_every_button(explorer)
    if notebook.explorers():
        assert not lab.grave(notebook.page, ".limekit-explorer")
    assert not notebook.faults()


def drive(explorer, slider):
    named = explorer.name_of(slider)
    assert explorer.has_focus_ring(slider), f"{named}: focus does not show"
    seen = [explorer.look(), *(explorer.press(slider, key) for key in ("Home", "ArrowRight", "End", "ArrowLeft"))]
    for look in seen:
        assert "fault in the kit" not in look["alert"], f"{named}: {look['alert']}"
        assert look["name"] == look["sentence"], f"{named}: the picture's name is not the sentence"
        assert bool(look["alert"]) == look["refused"], f"{named}: a refusal not tied to its control"
    assert len({look["sentence"] for look in seen}) > 1, f"{named} moves no word"
    assert len({look["picture"] for look in seen}) > 1, f"{named} moves no line"
    assert seen[1] != seen[2] or seen[3] != seen[4], f"{named}: the arrow keys move nothing"


def choose_each(explorer, dropdown):
    options = dropdown.evaluate("one => [...one.options].map(option => option.label.replaceAll('\\u00a0', ' '))")
    are_cases = "choose a case" in options
    for key in ["ArrowUp"] * dropdown.evaluate("one => one.selectedIndex") + ["ArrowDown"] * (len(options) - 1):
        look = explorer.choose(dropdown, key)
        assert "fault in the kit" not in look["alert"], look["alert"]
        assert not (are_cases and look["alert"]), f"a case without an answer: {look['alert']}"
    assert dropdown.evaluate("one => one.selectedIndex") == len(options) - 1, "the arrow keys do not reach every option"


def press_every_button(explorer):
    for name, button in explorer.buttons().items():
        if name == PLAY:  # from the start, since from near the end it is soon over
            stood = [explorer.press(explorer.sliders()[-1], key) for key in ("Home", "ArrowRight")][-1]["stands"]
        assert explorer.has_focus_ring(button), f"{name}: focus does not show"
        button.press("Enter")
        wait = explorer.notebook.wait_until
        if name == PLAY:
            wait(lambda stood=stood: explorer.look()["stands"] != stood)
            button.press("Enter")
        elif name == "Keep this":
            wait(lambda: explorer.look()["note"])
            assert "my_kiln.toml" in explorer.look()["note"]
        elif name not in ("Reset", STOP):
            wait(lambda: explorer.look()["rows"] > 1)
        assert not explorer.look()["alert"]


def test_what_is_slow_is_waited_for_and_what_is_silent_is_not(lab, monkeypatch):
    monkeypatch.setattr(lab, "SILENCE_S", 0.2)
    began = time.monotonic()
    assert lab.wait(lambda: time.monotonic() - began > 1.0 and "done", heard=time.monotonic) == "done"
    with pytest.raises(TimeoutError):
        lab.wait(lambda: False, heard=lambda: 0)


def test_a_kernel_at_work_is_heard_of(open_notebook):
    opened = open_notebook(NOTEBOOKS[0])
    opened.run_all()
    assert opened.heard > len(NOTEBOOKS)
    opened.close()


@pytest.mark.slow
def test_a_page_too_busy_for_anywidget_still_draws_and_hears(open_notebook):
    opened = open_notebook(lesson(ALWAYS).notebook, first=AT_ONCE)
    opened.run_all()
    explorer = opened.explorers()[0]
    drive(explorer, explorer.sliders()[0])
    opened.close()


@pytest.mark.slow
def test_a_page_that_has_no_drawing_code_is_given_it(lab, open_notebook, browser):
    context = lab.beside(browser)
    context.route(OF_JUPYTERLAB, lambda asked: asked.abort())
    opened = open_notebook(lesson(ALWAYS).notebook, within=context)
    assert opened.page.evaluate("() => typeof Plotly") == "undefined"
    opened.run_all()
    explorer = opened.explorers()[0]
    drive(explorer, explorer.sliders()[0])
    opened.close()


@pytest.mark.slow
@pytest.mark.parametrize("slug", ["your_trial_burn", "first_kiln", "the_firing", "money_and_carbon"])
def test_words_of_a_persons_files_run_nothing(lab, browser, slug):
    with lab.jupyterlab(write_hostile) as (address, token):
        opened = lab.OpenNotebook(browser, address, token, lesson(slug).notebook)
        opened.run_all()
        sheets = opened.page.frames[1:]
        shown = [*opened.page.locator(lab.RESULTS).all(), *(sheet.locator("body") for sheet in sheets)]
        assert any(MARK in one.text_content().lower() for one in shown)
        assert not opened.page.locator(f"{lab.RESULTS} :is(mjx-container, a:not([href$='.ipynb']))").count()
        assert not opened.faults()
        assert all(frame.evaluate("window.hit === undefined") for frame in opened.page.frames)
        opened.close()


def test_what_is_planted_is_found(lab, browser):
    page = browser.new_page()
    page.set_content(
        '<div class="limekit-explorer"><div role="slider" tabindex="0" aria-valuenow="1"></div><select></select>'
        '<button>Reset</button></div><svg width="9" height="9"></svg><img alt="" src="http://outside.test/a.png">'
        '<p style="color:#999">pale</p>'
    )
    assert lab.is_blank(page, page.locator("svg"))
    assert not lab.is_blank(page, page.locator("p"))
    assert len(page.locator(".limekit-explorer").evaluate(lab.UNNAMED)) == 2
    assert {"color-contrast", "select-name"} <= {fault.split()[0] for fault in lab.grave(page)}
    page.evaluate(
        """() => new Promise(done => {
            const worker = new Worker(URL.createObjectURL(new Blob(
                ["fetch('http://worker.test/').then(() => postMessage(0), () => postMessage(0))"])));
            worker.onmessage = done;
        })"""
    )
    assert {"outside.test", "worker.test"} <= {one.split("/")[2] for one in browser.outside.asked}
    browser.outside.asked.clear()
    page.close()
