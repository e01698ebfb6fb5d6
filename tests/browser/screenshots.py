"""Pictures of the notebooks as a learner sees them, for README and the lessons.

``python tests/browser/screenshots.py`` makes one a notebook in images/, with
names only those: ``python tests/browser/screenshots.py what_fire_does``.
Each shows the first explorer, or the top where there is none, run in
JupyterLab with the shipped example. Without names, the tide in the example's
kiln is drawn too.
"""

import sys
from pathlib import Path

import lab

from limekit import Plan, save_picture, tide_drawing
from limekit.course.ladder import ladder, lesson

IMAGES = Path(__file__).parents[2] / "images"
WIDTH, HEIGHT = 1280, 1300


def shoot(notebook, path):
    """Save a picture of a notebook that has been run; return its size in bytes."""
    explorers = notebook.explorers()
    at = explorers[0].root if explorers else notebook.page.locator(".jp-Notebook")
    at.scroll_into_view_if_needed()
    shown = at.bounding_box()
    area = {"x": shown["x"], "y": max(shown["y"], 0), "width": shown["width"]}
    area["height"] = min(shown["height"], HEIGHT - area["y"])
    notebook.page.screenshot(path=path, clip=area)
    return path.stat().st_size


def main(names):
    """Make the pictures."""
    IMAGES.mkdir(exist_ok=True)
    if not names:
        save_picture(tide_drawing(Plan.of().firing), IMAGES / "tide.svg")
    found = [lesson(name).notebook for name in names or ladder()]
    with lab.jupyterlab() as (address, token), lab.browser() as browser:
        for name in found:
            notebook = lab.OpenNotebook(browser, address, token, name, width=WIDTH, height=HEIGHT)
            notebook.page.evaluate("() => window.jupyterapp.shell.collapseLeft()")
            notebook.run_all()
            print(f"{name}: {shoot(notebook, IMAGES / f'{name}.png') / 1000:.0f} kB")
            notebook.close()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
