"""Words out of a person's files stay words, whatever is in them: in sentences, tables, pictures, sheets and pages."""

import itertools
import re
import sys
from html.parser import HTMLParser
from pathlib import Path

import nbformat
import pytest
from hostile import MARK, PAYLOADS, write_hostile
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output

from limekit.course import cards, export
from limekit.course.explorer import PLOTLY, Explorer
from limekit.course.ladder import ladder

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
READS = [path for path in NOTEBOOKS if re.search(r"mine\(|my_plan\(", path.read_text(encoding="utf-8"))]
ALWAYS = ladder()["your_trial_burn"].notebook  # the others with the slow tests
# lessons on whose page a word of the files stands
SAYING = ("your_trial_burn", "first_kiln", "the_firing", "burn_day", "the_whole_design")
SHOW = {ladder()[slug].notebook for slug in SAYING}
TAGS = set(
    "a b br code col colgroup dd desc details div dl dt em figure figcaption footer h1 h2 h3 header hr i iframe label "
    "li main ol p pre progress section small span strong style sub summary sup svg table tbody td template tfoot th "
    "thead title tr u ul body head html meta defs g path rect line circle ellipse polygon polyline text tspan pattern "
    "marker linearGradient radialGradient stop clipPath use filter feGaussianBlur".lower().split()
)


class Page(HTMLParser):
    """Reads HTML as a browser would, into its text, and notes what words may not become."""

    def __init__(self, html, scripts=()):
        super().__init__()
        self.text, self.strange, self.inside, self.scripts = "", [], None, scripts
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.inside = tag
        is_data = tag == "script" and dict(attrs).get("type") == "application/json"
        if tag not in TAGS and not is_data and not (tag == "script" and self.scripts):
            self.strange.append(f"<{tag}>")
        for name, value in attrs:
            if name.startswith("on") or name in ("src", "action", "formaction", "xlink:href"):
                self.strange.append(f"{name}={value}")
            if name == "href" and not re.fullmatch(r"\w+\.(ipynb|html)|#[\w-]+", value):
                self.strange.append(f"{name}={value}")
            if name == "srcdoc":
                self.strange += Page(value).strange

    handle_startendtag = handle_starttag

    def handle_endtag(self, tag):
        self.inside = None

    def handle_data(self, data):
        if self.inside == "script" and not data.lstrip().startswith("[") and data not in self.scripts:
            self.strange.append(f"script: {data[:80]}")
        self.text += data


def strings(held):
    """Yield every text in what a picture is made of."""
    if isinstance(held, str):
        yield held
    elif isinstance(held, dict):
        yield from itertools.chain.from_iterable(map(strings, held.values()))
    elif isinstance(held, list | tuple):
        yield from itertools.chain.from_iterable(map(strings, held))


@pytest.fixture
def hostile(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LIMEKIT_RECORD", raising=False)
    monkeypatch.setitem(sys.modules, "__main__", sys.modules["__main__"])  # a shell takes its place for good
    write_hostile(tmp_path)
    return tmp_path


def run(path):
    """Run a lesson here, in the working folder; return it with its results as `nbformat` has them."""
    shell = InteractiveShell.instance()
    shell.reset()
    notebook = nbformat.read(path, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            with shell.display_trap, capture_output() as caught:
                shell.run_cell(cell.source).raise_error()
            cell.outputs = [nbformat.v4.new_output("display_data", dict(one.data)) for one in caught.outputs]
            if caught.stdout:
                cell.outputs.append(nbformat.v4.new_output("stream", text=caught.stdout))
    return notebook


@pytest.mark.parametrize(
    "lesson",
    [pytest.param(path, marks=() if path.stem == ALWAYS else pytest.mark.slow) for path in READS],
    ids=lambda path: path.stem,
)
def test_no_word_of_a_file_becomes_more_than_a_word(lesson, hostile, monkeypatch):
    explorers, make = [], Explorer.__init__

    def remember(self, *args, **kwargs):
        make(self, *args, **kwargs)
        explorers.append(self)

    monkeypatch.setattr(Explorer, "__init__", remember)
    notebook = run(lesson)
    for data in [output.data for cell in notebook.cells for output in cell.get("outputs", ()) if "data" in output]:
        assert "text/markdown" not in data, "say() shows HTML, in which all is escaped"
        shown = data.get("text/html", "")
        assert not Page(shown).strange
        assert MARK not in shown.lower() or shown.startswith('<div class="mathjax_ignore">')
        for text in strings(data.get(PLOTLY, {})):
            assert MARK not in text or "<" not in text, text
    for explorer in explorers:
        explorer._voice.is_open = True
        if explorer.keeps:
            explorer.keep_button.click()
        for shown in (explorer._caption.value, explorer._note.value, explorer._alert.value, explorer._voice.table):
            assert not Page(shown).strange
        assert not any(control.description_allow_html for control in explorer.controls.values())
    page = export.page_of(notebook, lesson.name)
    read = Page(page, scripts=re.findall(r"<script>(.*?)</script>", page, re.DOTALL))
    assert not read.strange
    if lesson.stem in SHOW:
        assert MARK in read.text.lower(), "the files no longer reach the page"


@pytest.mark.parametrize("payload", PAYLOADS)
def test_what_is_said_is_said_to_the_letter(payload):
    page = Page(cards.Said(f"**7 kg** of {payload}\n\n- {payload}")._repr_html_())
    assert not page.strange
    assert page.text == f"7 kg of {payload}{payload}"
