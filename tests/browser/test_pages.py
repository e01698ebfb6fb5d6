"""Each lesson as a page, and each printed sheet, in Chromium: whole, offline, readable, nothing grave found by axe-core."""

import html
from pathlib import Path

import nbformat
import pytest

from limekit.course import export
from limekit.course.explorer import PLOTLY
from limekit.course.pages import FRAMED
from limekit.records.forms import sheet, sheet_names

pytestmark = pytest.mark.browser

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
LEAST_CONTRAST = 4.5
# svg texts on one even colour that stand out too little: what is painted under a text's middle is asked of the page
PALE_TEXTS = """() => {
    const parts = colour => (colour.match(/[\\d.]+/g) ?? []).map(Number);
    const light = ([r, g, b]) => [r, g, b]
        .map(part => part / 255).map(part => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)
        .reduce((sum, part, n) => sum + part * [0.2126, 0.7152, 0.0722][n], 0);
    const over = (top, below, share) => top.slice(0, 3).map((part, n) => share * part + (1 - share) * below[n]);
    const style = document.createElement("style");
    style.textContent = "* { pointer-events: visiblePainted !important } .modebar, .draglayer, .hoverlayer { display: none }";
    document.head.append(style);
    const opacity = one => one && one instanceof SVGElement
        ? Number(getComputedStyle(one).opacity) * opacity(one.parentElement) : 1;
    const pale = [];
    for (const text of document.querySelectorAll("figure svg text")) {
        if (!text.textContent.trim() || !text.getClientRects().length) continue;
        text.scrollIntoView({ block: "center" });
        const box = text.getBoundingClientRect();
        const under = document.elementsFromPoint(box.x + box.width / 2, box.y + box.height / 2)
            .filter(one => !one.closest("text") && one instanceof SVGElement);
        let paper = [255, 255, 255];
        if (under.some(one => one.localName === "image" || getComputedStyle(one).fill.startsWith("url"))) continue;
        for (const one of under.reverse()) {
            const look = getComputedStyle(one), fill = parts(look.fill);
            const { width, height } = one.getBBox();
            if (fill.length < 3 || ["svg", "g"].includes(one.localName) || !width || !height) continue;
            paper = over(fill, paper, (fill[3] ?? 1) * Number(look.fillOpacity) * opacity(one));
        }
        const look = getComputedStyle(text), ink = parts(look.fill);
        const shown = over(ink, paper, (ink[3] ?? 1) * Number(look.fillOpacity) * opacity(text));
        const [dark, bright] = [light(shown), light(paper)].sort((one, other) => one - other);
        const contrast = (bright + 0.05) / (dark + 0.05);
        if (contrast < LEAST) pale.push(`${text.textContent}: ${look.fill} on ${paper.map(Math.round)}, ${contrast.toFixed(1)}`);
    }
    style.remove();
    return pale;
}""".replace("LEAST", str(LEAST_CONTRAST))


@pytest.fixture
def opened(browser, tmp_path):
    page, complaints = browser.new_page(), []
    page.on("console", lambda message: message.type == "error" and complaints.append(message.text))
    page.on("pageerror", lambda fault: complaints.append(str(fault)))

    def show(text):
        (tmp_path / "page.html").write_text(text, encoding="utf-8")
        page.goto((tmp_path / "page.html").as_uri())
        return page

    yield show
    page.close()
    assert not complaints
    assert not browser.outside.asked


def framed(notebook):
    """Return the whole pages shown within a lesson, by title."""
    outputs = [output.data for cell in notebook.cells for output in cell.get("outputs", ()) if "data" in output]
    found = [FRAMED.findall(data.get("text/html", "")) for data in outputs]
    return {html.unescape(title): html.unescape(page) for several in found for title, page in several}


@pytest.mark.parametrize("lesson", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_lesson_as_a_page_is_whole_and_readable(lesson, lab, opened):
    notebook = nbformat.read(lesson, as_version=4)
    page = opened(export.page_of(notebook, lesson.name))
    drawn = page.locator(".js-plotly-plot .main-svg:first-child").all()
    assert len(drawn) == sum(
        PLOTLY in output.get("data", ()) for cell in notebook.cells for output in cell.get("outputs", ())
    )
    for picture in drawn:
        assert not lab.is_blank(page, picture)
    assert not page.evaluate(PALE_TEXTS)
    assert not lab.grave(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    for title, text in framed(notebook).items():
        assert not lab.grave(opened(text)), title


@pytest.mark.parametrize("name", sheet_names())
def test_a_printed_sheet_is_readable(name, lab, opened):
    page = opened(sheet(name))
    assert not lab.grave(page)
    assert not page.evaluate(PALE_TEXTS.replace("figure svg", "svg"))


def test_a_pale_text_is_found(opened):
    page = opened(
        '<figure><svg width="300" height="40"><rect width="300" height="40" fill="#cc79a7"/>'
        '<text x="5" y="25" fill="#fff">pale</text><text x="150" y="25" fill="#000">plain</text></svg></figure>'
    )
    assert [found.split(":")[0] for found in page.evaluate(PALE_TEXTS)] == ["pale"]


def test_a_page_says_what_the_lesson_gives_in_its_own_folder(tmp_path):
    lesson = nbformat.v4.new_notebook()
    lesson.cells = [
        nbformat.v4.new_markdown_cell("# Whose stone?\n\n[Next](04_how_hot_how_long.ipynb)"),
        nbformat.v4.new_code_cell("print(open('mine.txt').read())"),
    ]
    (tmp_path / "mine.txt").write_text("grey & hard")
    nbformat.write(lesson, tmp_path / "00_own.ipynb")
    (made,) = export.export(tmp_path / "pages", [tmp_path / "00_own.ipynb"])
    said = made.read_text(encoding="utf-8")
    assert "<pre>grey &amp; hard" in said
    assert "<title>Whose stone?</title>" in said
    assert 'href="04_how_hot_how_long.html"' in said
