"""How long a learner waits: a key pressed on a slider, until the changed picture is on the screen.

``python tests/browser/latency.py`` moves every slider of every lesson in
JupyterLab and prints, for each, the median and the longest wait; with names
only those lessons: ``python tests/browser/latency.py the_firing``. Times
are taken in the page, from the key to the first frame after both the last
drawing of the picture and the sentence. What is over its bound is marked;
nothing is asserted, for a busy machine is slower.
"""

import statistics
import sys

import lab

from limekit.course.ladder import ladder, lesson

STONE_MS, KILN_MS = 150, 500
# where a kiln, not a stone, is worked out anew
KILN_LESSONS = ("first_kiln", "draught", "walls", "sizing", "the_firing", "burn_day", "the_whole_design")
KEYS = ("ArrowRight", "ArrowRight", "ArrowRight", "Home", "ArrowRight", "ArrowRight", "End", "ArrowLeft", "ArrowLeft")
WATCH = """explorer => {
    const mark = () => requestAnimationFrame(() => {
        if (explorer.dataset.answers !== explorer.answeredBefore) explorer.waited = performance.now() - explorer.pressed;
    });
    explorer.addEventListener("keydown", () => { explorer.pressed = performance.now(); }, true);
    for (const plot of explorer.querySelectorAll(".js-plotly-plot")) plot.on("plotly_afterplot", mark);
    new MutationObserver(mark).observe(explorer, { attributes: true, attributeFilter: ["data-answers"] });
}"""
READY = "explorer => { explorer.answeredBefore = explorer.dataset.answers; explorer.waited = null; }"


def waits(explorer, slider):
    """Return the milliseconds each move of a slider took; a key at its end moves nothing and is left out."""
    taken = []
    for key in KEYS:
        explorer.root.evaluate(READY)
        explorer.press(slider, key)
        taken.append(explorer.root.evaluate("explorer => explorer.waited"))
    return [one for one in taken if one is not None]


def measure(notebook):
    """Yield each explorer's number, each of its sliders' names, and the waits."""
    for number, explorer in enumerate(notebook.explorers(), 1):
        explorer.root.evaluate(WATCH)
        for slider in explorer.sliders():
            yield number, explorer.name_of(slider), waits(explorer, slider)
            explorer.reset()


def main(names):
    """Print the waits of the lessons named, or of all."""
    everything = {STONE_MS: [], KILN_MS: []}
    with lab.jupyterlab() as (address, token), lab.browser() as browser:
        for slug in [lesson(name).slug for name in names] or ladder():
            bound = KILN_MS if slug in KILN_LESSONS else STONE_MS
            name = lesson(slug).notebook
            notebook = lab.OpenNotebook(browser, address, token, name)
            notebook.run_all()
            for number, slider, taken in measure(notebook):
                everything[bound] += taken
                middle, longest = statistics.median(taken), max(taken)
                over = "  over" if middle > bound else "  once over" if longest > bound else ""
                print(f"{name:22} {number} {slider:48.48} {middle:6.0f} {longest:6.0f} ms{over}", flush=True)
            notebook.close()
    for bound, taken in everything.items():
        if taken:
            middle, longest = statistics.median(taken), max(taken)
            print(f"bound {bound} ms: median {middle:.0f}, longest {longest:.0f} ms, {len(taken)} moves")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
