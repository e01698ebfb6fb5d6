"""Picture, controls and sentence of every explorer are seen together, on a laptop and on a projector, nothing cut off."""

import pytest

from limekit.course.ladder import ladder

pytestmark = [pytest.mark.browser, pytest.mark.slow]

NOTEBOOKS = [one.notebook for one in ladder().values()]
TALLEST = 680  # of the screen's pixels: what JupyterLab leaves a notebook of a laptop's, and room for a long sentence on a projector
LAPTOP, PROJECTOR = (1280, 800, 1.0), (1280, 720, 1.5)
PARTS = """explorer => {
    const [said, picture, controls] = [".limekit-sentence", ".js-plotly-plot", ".limekit-controls"]
        .map(part => explorer.querySelector(part).getBoundingClientRect());
    const all = [said, picture, controls], room = explorer.closest(".jp-WindowedPanel-outer").clientHeight;
    const words = [...explorer.querySelectorAll(".js-plotly-plot text")].filter(text => text.textContent.trim());
    return {
        tall: Math.max(...all.map(part => part.bottom)) - Math.min(...all.map(part => part.top)),
        room,
        isBeside: controls.left >= picture.right && controls.top < picture.bottom,
        isBelow: controls.top >= picture.bottom,
        hasRoom: explorer.dataset.wide === String(explorer.clientWidth),
        right: explorer.getBoundingClientRect().right,
        cut: words.filter(text => {
            const box = text.getBoundingClientRect();
            return box.width && (box.left < picture.left - 1 || box.right > picture.right + 1
                || box.top < picture.top - 1 || box.bottom > picture.bottom + 1);
        }).map(text => text.textContent),
    };
}"""
CUT = """() => [...document.querySelectorAll(".jp-Notebook .cm-content, .jp-OutputArea-output")]
    .filter(one => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflowX === "hidden"
        || one.getBoundingClientRect().right > one.closest(".jp-Cell").getBoundingClientRect().right + 1)
    .map(one => one.textContent.slice(0, 80))"""
FRAMES = """() => document.documentElement.scrollWidth - document.documentElement.clientWidth"""


@pytest.fixture(scope="module")
def address(lab):
    with lab.jupyterlab() as found:
        yield found


@pytest.fixture(params=[LAPTOP, PROJECTOR], ids=["laptop", "projector"])
def screen(request):
    return request.param


@pytest.fixture
def page_of(lab, browser, address, screen):
    """Open a lesson that has been run, as a screen of so many pixels shows it."""
    width, height, ratio = screen
    size = {"width": int(width / ratio), "height": int(height / ratio)}
    context = lab.beside(browser, device_scale_factor=ratio)

    def opened(name):
        notebook = lab.OpenNotebook(context, *address, name, **size)
        notebook.page.evaluate("() => window.jupyterapp.shell.collapseLeft()")
        notebook.run_all()
        return notebook

    yield opened
    context.close()


def settled(notebook, polls=6):
    """Return what is measured of a lesson's explorers once it stays as it is."""
    seen = []

    def stays():
        seen.append([explorer.root.evaluate(PARTS) for explorer in notebook.explorers()])
        return all(one["hasRoom"] for one in seen[-1]) and seen[-polls:] == [seen[-1]] * polls

    notebook.wait_until(stays)
    return seen[-1]


@pytest.mark.parametrize("name", NOTEBOOKS)
def test_a_lesson_fits_the_screen(name, page_of, screen):
    notebook = page_of(name)
    parts = settled(notebook)
    assert [one["tall"] for one in parts if one["tall"] * screen[2] > TALLEST] == []
    assert [one for one in parts if one["tall"] > one["room"]] == []
    assert all(one["isBeside"] for one in parts)
    assert len({round(one["right"]) for one in parts}) <= 1, "one right edge"
    assert [words for one in parts for words in one["cut"]] == []
    assert notebook.page.evaluate(CUT) == []
    assert [frame.evaluate(FRAMES) for frame in notebook.page.frames[1:] if frame.evaluate(FRAMES) > 0] == []
    notebook.page.set_viewport_size({"width": 560, "height": 800})
    assert all(one["isBelow"] for one in settled(notebook))
    notebook.close()
