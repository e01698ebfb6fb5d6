"""Every paper in Chromium, on A4 and Letter: as many pages as are meant, nothing that runs over its edge."""

import datetime
import re
from dataclasses import replace
from pathlib import Path

import pytest

import limekit
from limekit.course import pack
from limekit.course.programme import Programme
from limekit.records.examples import example_path
from limekit.records.workshop_file import EXAMPLE, READY, read_workshop

pytestmark = pytest.mark.browser

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
MANY = {"ready": "kiln lit", "people": tuple(f"learner with a longish name {number}" for number in range(1, 27))}
TOLD = {one: {"ready": one} for one in READY} | {"many": MANY}
LIT = datetime.datetime(2028, 5, 20, 6)
WIDE = """() => [...document.querySelectorAll("body *")].filter(one => one.scrollWidth > one.clientWidth + 1
    && one.clientWidth && getComputedStyle(one).display !== "inline" && !one.closest("svg"))
    .map(one => one.outerHTML.slice(0, 90))"""
LOST = """() => [...document.querySelectorAll("svg text")].filter(one => {
    const box = one.getBoundingClientRect(), svg = one.closest("svg").getBoundingClientRect();
    return box.left < svg.left - 1 || box.right > svg.right + 1 || box.bottom > svg.bottom + 1;
}).map(one => one.textContent)"""
PRINTED = 718  # CSS pixels of 190 mm


@pytest.fixture(scope="module")
def plan():
    return limekit.Plan.of()


@pytest.fixture
def printed(browser, tmp_path):
    """Return how many pages a page of HTML comes to on a paper, and what runs over."""

    def count(text, paper, width=PRINTED, landscape=False):
        path, pdf = tmp_path / "paper.html", tmp_path / "paper.pdf"
        path.write_text(text, encoding="utf-8")
        page = browser.new_page()
        page.set_viewport_size({"width": width, "height": 1000})
        page.emulate_media(media="print")
        page.goto(path.as_uri())
        over = page.evaluate(WIDE) + page.evaluate(LOST)
        page.pdf(path=pdf, format=paper, landscape=landscape)
        page.close()
        return len(re.findall(rb"/Type /Page\b", pdf.read_bytes())), over

    return count


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("told", TOLD)
def test_each_sheet_of_a_pack_is_one_page(plan, printed, told, paper):
    workshop = replace(read_workshop(example_path(EXAMPLE)), lit=LIT, **TOLD[told])
    page = pack.pack_page(Programme(workshop, plan, NOTEBOOKS))
    assert printed(page, paper) == (1 + page.count("<section>"), [])
