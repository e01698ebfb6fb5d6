"""Each lesson as a page, and each printed sheet, in Chromium: whole, offline, readable, nothing grave found by axe-core."""

import html
from pathlib import Path

import contrast
import nbformat
import pytest

from limekit.course import export
from limekit.course.explorer import PLOTLY
from limekit.pictures.pages import FRAMED
from limekit.records import printing
from limekit.records.forms import sheet, sheet_names

pytestmark = pytest.mark.browser

PHONE = {"width": 360, "height": 740}
STILL = 5  # looks at a page that is drawn, all alike
SMALL_WORDS = """[...document.querySelectorAll("p, li, td, th, summary, figcaption")].filter(
    one => one.textContent.trim() && parseFloat(getComputedStyle(one).fontSize) < 14).map(one => one.textContent)"""
# words of a picture that lie outside it, and titles that lie on other words
CROWDED = """() => [...document.querySelectorAll(".js-plotly-plot")].flatMap(plot => {
    const ends = plot.getBoundingClientRect(), words = [...plot.querySelectorAll("text")]
        .filter(one => one.textContent.trim() && one.getBoundingClientRect().width)
        .map(one => ({ text: one.textContent, isTitle: /title/.test(one.getAttribute("class")), box: one.getBoundingClientRect() }));
    const shared = (one, other) => Math.min(one.right, other.right) - Math.max(one.left, other.left) > 1
        && Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 3;
    return words.filter(({ isTitle, box, text }) => box.left < ends.left - 1 || box.right > ends.right + 1
        || box.top < ends.top - 1 || box.bottom > ends.bottom + 1
        || isTitle && words.some(other => other.text !== text && shared(box, other.box))).map(({ text }) => text);
})"""
ALWAYS = "first_kiln"  # the others with the slow tests
NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


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


LESSONS = [
    pytest.param(one, id=one.stem, marks=() if one.stem.endswith(ALWAYS) else pytest.mark.slow) for one in NOTEBOOKS
]


@pytest.mark.parametrize("lesson", LESSONS)
def test_no_word_of_a_picture_is_cut_off_on_a_phone(lesson, lab, browser, tmp_path):
    page = browser.new_page()
    page.set_viewport_size(PHONE)
    (tmp_path / "page.html").write_text(
        export.page_of(nbformat.read(lesson, as_version=4), lesson.name), encoding="utf-8"
    )
    page.goto((tmp_path / "page.html").as_uri())
    seen = []

    def stays():
        seen.append(page.evaluate(CROWDED))
        return len(seen) > STILL and seen[-STILL:] == [seen[-1]] * STILL

    lab.wait(stays, heard=lambda: seen[-1:], pause=lambda: page.wait_for_timeout(100))
    assert seen[-1] == []
    page.close()


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_lesson_as_a_page_is_whole_and_readable(lesson, lab, opened):
    notebook = nbformat.read(lesson, as_version=4)
    page = opened(export.page_of(notebook, lesson.name))
    drawn = page.locator(".js-plotly-plot .main-svg:first-child").all()
    assert len(drawn) == sum(
        PLOTLY in output.get("data", ()) for cell in notebook.cells for output in cell.get("outputs", ())
    )
    for picture in drawn:
        assert not lab.is_blank(page, picture)
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        assert not page.evaluate(contrast.OF_PICTURES, "figure svg text")
        assert not page.evaluate(contrast.OF_WORDS, "body")
        assert not lab.grave(page)
    page.set_viewport_size(PHONE)
    page.wait_for_function("document.querySelector('main').getBoundingClientRect().right <= innerWidth")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert page.evaluate(SMALL_WORDS) == []
    for title, text in framed(notebook).items():
        assert not lab.grave(opened(text)), title


@pytest.mark.parametrize("name", sheet_names())
def test_a_printed_sheet_is_readable(name, lab, opened):
    page = opened(sheet(name))
    assert not lab.grave(page)
    assert not page.evaluate(contrast.OF_PICTURES, "svg text")


def test_a_pale_text_is_found(opened):
    page = opened(
        '<figure><svg width="300" height="40"><rect width="300" height="40" fill="#cc79a7"/>'
        '<text x="5" y="25" fill="#fff">pale</text><text x="150" y="25" fill="#000">plain</text></svg></figure>'
    )
    assert [found.split(":")[0] for found in page.evaluate(contrast.OF_PICTURES, "svg text")] == ["pale"]


def test_pale_words_are_found(opened):
    page = opened(
        '<body style="background:#111"><p style="color:#1f1d1a">pale</p><p style="color:#fff">plain</p></body>'
    )
    assert [found.split(":")[0] for found in page.evaluate(contrast.OF_WORDS, "body")] == ["pale"]


def test_nothing_runs_on_a_page_but_its_own_scripts(browser, tmp_path):
    planted = (
        '<img src="x" onerror="window.hit = 1"><script>window.hit = 2</script><a href="javascript:window.hit=3">a</a>'
    )
    (tmp_path / "page.html").write_text(printing.html_page("a", "", planted, ["window.own = 1"]), encoding="utf-8")
    page = browser.new_page()
    page.goto((tmp_path / "page.html").as_uri())
    page.get_by_text("a").click()
    assert page.evaluate("[window.own, window.hit]") == [1, None]
    page.close()


def test_a_page_says_what_the_lesson_gives_in_its_own_folder(tmp_path):
    lesson = nbformat.v4.new_notebook()
    lesson.cells = [
        nbformat.v4.new_markdown_cell("# Whose stone?\n\n[Next](04_other_folk.ipynb)"),
        nbformat.v4.new_code_cell("print(open('mine.txt').read())"),
    ]
    (tmp_path / "mine.txt").write_text("grey & hard")
    nbformat.write(lesson, tmp_path / "00_own.ipynb")
    (made,) = export.export(tmp_path / "pages", [tmp_path / "00_own.ipynb"])
    said = made.read_text(encoding="utf-8")
    assert (tmp_path / "pages" / export.PLOTTING).exists()
    assert "<pre>grey &amp; hard" in said
    assert "<title>Whose stone?</title>" in said
    assert 'href="04_other_folk.html"' in said


def test_the_page_of_the_burn_leads_to_a_night_to_read(tmp_path, opened):
    lesson = next(path for path in NOTEBOOKS if path.stem.endswith("burn_day"))
    export.export(tmp_path, [lesson])
    (tmp_path / "page.html").unlink(missing_ok=True)
    page = opened((tmp_path / f"{lesson.stem}.html").read_text(encoding="utf-8"))
    page.get_by_role("link", name="What a phone shows").click()
    assert "Nothing here is live" in page.locator("main").inner_text()
    assert page.title() == "A burning night, an example"
