"""What is kept in one lesson is what those after it show, in a real JupyterLab."""

import re

import pytest

from limekit.course.ladder import lesson
from limekit.records.examples import example_path

pytestmark = pytest.mark.browser

SAID = {
    "hours": r"([\d.]+ h)(?: \([\d.]+ to [\d.]+ h\))? (?:of firing|with [\d.]+ kg of fuel|and [\d.]+ kg of fuel)",
    "fuel": r"([\d.]+ kg) of fuel",
}


@pytest.mark.slow
def test_a_kiln_kept_in_the_first_lesson_is_the_same_in_those_after(lab, browser):
    with lab.jupyterlab(lambda folder: None) as (address, token):

        def opened(slug):
            notebook = lab.OpenNotebook(browser, address, token, lesson(slug).notebook)
            notebook.run_all()
            return notebook

        first = opened("first_kiln")
        explorer = first.explorers()[0]
        at_first = explorer.look()["sentence"]
        putty, stone = explorer.sliders()[:2]
        for slider, key in ((putty, "PageDown"), (putty, "PageDown"), (stone, "ArrowRight")):
            explorer.press(slider, key)
        explorer.buttons()["Keep this"].press("Enter")
        first.wait_until(lambda: explorer.look()["note"])
        kept = explorer.look()
        first.close()
        assert kept["sentence"] != at_first
        assert "largest stone 90 mm" in kept["note"]
        told = {name: re.search(sought, kept["sentence"])[1] for name, sought in SAID.items()}
        for slug in ("first_kiln", "sizing", "the_firing", "the_whole_design"):
            again = opened(slug)
            shown = [one.look()["sentence"] for one in again.explorers()[:1] if slug != "the_whole_design"]
            words = " ".join(shown or again.page.locator(lab.RESULTS).all_inner_texts()[1:2])
            assert {name: set(re.findall(sought, words)) for name, sought in SAID.items()} == {
                name: {figure} for name, figure in told.items()
            }, (slug, words)
            again.close()


LINES = 30  # of the example's night, then one more


@pytest.mark.slow
def test_a_log_that_grows_moves_its_lesson_by_itself(lab, browser):
    whole = example_path("burn_log_example.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    folders = []

    def begin(folder):
        folders.append(folder)
        (folder / "my_burn_log.csv").write_text("".join(whole[:LINES]), encoding="utf-8")

    with lab.jupyterlab(begin) as (address, token):
        opened = lab.OpenNotebook(browser, address, token, lesson("burn_day").notebook)
        opened.run_all()
        explorer = opened.explorers()[0]
        before = explorer.look()["sentence"]
        (folders[0] / "my_burn_log.csv").write_text("".join(whole[: LINES + 4]), encoding="utf-8")
        opened.wait_until(lambda: explorer.look()["sentence"] != before)
        assert not opened.faults()
        opened.close()
