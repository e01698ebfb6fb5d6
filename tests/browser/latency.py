"""How long a learner waits: a key pressed on a slider, until the changed picture is on the screen.

``python tests/browser/latency.py`` moves every slider of every lesson in
JupyterLab and prints, for each, the median and the longest wait; with names
only those lessons: ``python tests/browser/latency.py the_firing``. Times
are taken in the page, from the key to the first frame after both the last
drawing of the picture and the sentence, and told in yardsticks too, since one
machine is slower than another and any of them at times. What is over its
bound in yardsticks is marked; nothing is asserted. Before them stands how long
the first picture takes from Run All, where a new kernel has come to rest, as
it has for whoever reads the page before running it.
"""

import statistics
import sys

import lab
from yardstick import yardstick

from limekit.course.ladder import ladder, lesson

STONE, KILN, LONGEST = 7.5, 12.5, 25.0  # yardsticks: 120, 200 and 400 ms where one takes 16 ms, as on an old laptop
# where a kiln, not a stone, is worked out anew
KILN_LESSONS = (
    "first_kiln",
    "fuel_and_air",
    "draught",
    "walls",
    "sizing",
    "the_firing",
    "burn_day",
    "the_whole_design",
)
KEYS = ("ArrowRight", "ArrowRight", "ArrowRight", "Home", "ArrowRight", "ArrowRight", "End", "ArrowLeft", "ArrowLeft")
AT_REST_MS = 300  # with no further answer or drawing, until which a move is waited for
WATCH = """explorer => {
    const mark = () => requestAnimationFrame(() => {
        if (explorer.dataset.answers === explorer.answeredBefore) return;
        const waited = performance.now() - explorer.pressed;
        clearTimeout(explorer.resting);
        explorer.resting = setTimeout(() => explorer.rested(waited), AT_REST_MS);
    });
    explorer.addEventListener("keydown", () => { explorer.pressed = performance.now(); }, true);
    for (const plot of explorer.querySelectorAll(".js-plotly-plot")) plot.on("plotly_afterplot", mark);
    new MutationObserver(mark).observe(explorer, { attributes: true, attributeFilter: ["data-answers"] });
}""".replace("AT_REST_MS", str(AT_REST_MS))
FIRST = """document.addEventListener("limekit-drawn", () => { window.firstDrawn ??= performance.now(); })"""
RESTS = "() => window.jupyterapp.shell.currentWidget.sessionContext.session?.kernel?.status === 'idle'"
ASK = "() => { window.asked = performance.now(); }"
SHOWN = "() => (window.firstDrawn - window.asked) / 1000"
READY = """explorer => {
    explorer.answeredBefore = explorer.dataset.answers;
    explorer.atRest = new Promise(done => { explorer.rested = done; });
}"""


def waits(explorer, slider):
    """Return the milliseconds each move of a slider took; a key at its end moves nothing and is left out.

    The page is asked for nothing meanwhile, which would take of its time.
    """
    taken, root, handle = [], explorer.root.element_handle(), slider.element_handle()
    for key in KEYS:
        stood = handle.get_attribute("aria-valuetext")
        root.evaluate(READY)
        handle.press(key)
        if handle.get_attribute("aria-valuetext") != stood:
            taken.append(root.evaluate("explorer => explorer.atRest"))
    return taken


def measure(notebook):
    """Yield each explorer's number, each of its sliders' names, and the waits."""
    for number, explorer in enumerate(notebook.explorers(), 1):
        explorer.root.evaluate(WATCH)
        for slider in explorer.sliders():
            yield number, explorer.name_of(slider), waits(explorer, slider)
            explorer.reset()


def main(names):
    """Print the waits of the lessons named, or of all."""
    everything = {STONE: [], KILN: []}
    with lab.jupyterlab() as (address, token), lab.browser() as browser:
        for slug in [lesson(name).slug for name in names] or ladder():
            bound = KILN if slug in KILN_LESSONS else STONE
            name = lesson(slug).notebook
            notebook = lab.OpenNotebook(browser, address, token, name, first=FIRST)
            notebook.page.wait_for_function(RESTS)
            notebook.page.evaluate(ASK)
            notebook.run_all()
            print(f"{name:22} first picture {notebook.page.evaluate(SHOWN):.1f} s after Run All", flush=True)
            now = yardstick()
            for number, slider, taken in measure(notebook):
                before, now = now, yardstick()
                unit = 500.0 * (before + now)
                everything[bound] += [one / unit for one in taken]
                middle, longest = statistics.median(taken), max(taken)
                over = "  over" if middle > bound * unit else "  once over" if longest > LONGEST * unit else ""
                print(
                    f"{name:22} {number} {slider:48.48} {middle:5.0f} {longest:5.0f} ms "
                    f"{middle / unit:5.1f} {longest / unit:5.1f} Y{over}",
                    flush=True,
                )
            notebook.close()
    for bound, taken in everything.items():
        if taken:
            middle, longest = statistics.median(taken), max(taken)
            print(f"bound {bound} Y: median {middle:.1f}, longest {longest:.1f} Y, {len(taken)} moves")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
