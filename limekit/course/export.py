"""A lesson as one HTML page to read and to print: it fetches nothing, and its pictures are all that still moves."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from html import escape
from pathlib import Path

from limekit.course.burn_watch import invented_night
from limekit.course.canvas import CONFIG, shipped
from limekit.course.explorer import PLOTLY
from limekit.errors import InputError
from limekit.pictures.looks import FONT, MUTED
from limekit.pictures.pages import unframed
from limekit.pictures.shown import colour, own_colours
from limekit.records import files, printing

QUIET = ["--log-level=ERROR"]  # of the kernel: a page is made on this machine, and its wires are nobody's business
PATIENCE = 300  # s, for a cell
OWN, PLOTTING = "my_*.*", "plotting.js"
FOLDED = '<details class="code"><summary>the code</summary><pre>{}</pre></details>'
NOTE = "This page was made from {}, to read and to print. Its sliders move in the notebook alone."
NIGHT, OF_NIGHT = "a_burning_night.html", "burn_day.ipynb"
TO_NIGHT = f'<p class="note"><a href="{NIGHT}">What a phone shows at the kiln\'s mouth</a>, an invented night.</p>'
STYLE = f"""{own_colours()}@page {{ size: A4 portrait; margin: 12mm; }}
body {{ font: 17px/1.5 {FONT}; color: {colour("content-font-color1")}; background: {colour("layout-color0")}; }}
body {{ max-width: 700px; margin: 1em auto; padding: 0 8px; }}
h1, h2, h3 {{ line-height: 1.25; break-after: avoid; }}
pre {{ white-space: pre-wrap; overflow-wrap: anywhere; font-size: 16px; line-height: 1.4; margin: 6px 0; }}
summary {{ font-size: 16px; }}
code {{ overflow-wrap: anywhere; }}
.code pre {{ background: {colour("layout-color2")}; border-left: 4px solid {MUTED}; padding: 6px 10px; }}
figure {{ margin: 10px 0; break-inside: avoid; }}
figcaption, .note {{ font-size: 16px; }}
figure svg {{ max-width: 100%; height: auto; }}
table {{ border-collapse: collapse; font-size: 16px; display: block; overflow-x: auto; max-width: 100%; }}
th, td {{ padding: 3px 10px; text-align: left; vertical-align: top; }}
tr {{ break-inside: avoid; }}
a {{ color: {colour("content-link-color")}; }}
a:focus-visible, summary:focus-visible {{ outline: 3px solid {colour("brand-color1")}; outline-offset: 2px; }}
@media (max-width: 560px) {{
  th[scope="row"] {{ white-space: normal !important; }}
  th, td {{ min-width: 4.5em; }}
  figure:has(> svg) {{ overflow-x: auto; }}
  figure > svg {{ max-width: none; width: 640px; }}
  figcaption {{ position: sticky; left: 0; }}
}}
@media print {{
  table {{ display: table; font-size: 14px; }}
  .code {{ display: none; }}
  body {{ margin: 0; padding: 0; }}
  details::details-content {{ content-visibility: visible; block-size: auto; display: block; }}
}}
"""
DRAWN = 'type="application/json" class="drawn"'
DRAW = shipped("narrow.js")
WIDE = re.compile(r"<(table|figure)\b")  # what is moved sideways on a phone, by keyboard too
OTHER_LESSON = re.compile(r"\((\w+)\.ipynb\)")


def run(lesson: Path):
    """Run a lesson from the top in its own folder, with the files of the reader's that lie there.

    Returns
    -------
    nbformat.NotebookNode
        With its results; the file is left as it is.

    Raises
    ------
    InputError
        If a cell fails.
    """
    import nbformat
    from nbclient import NotebookClient
    from nbclient.exceptions import CellExecutionError

    notebook = nbformat.read(lesson, as_version=4)
    asked = {"timeout": PATIENCE, "resources": {"metadata": {"path": str(lesson.parent)}}, "extra_arguments": QUIET}
    try:
        NotebookClient(notebook, kernel_name="python3", **asked).execute()
    except CellExecutionError as fault:
        wanted = "a lesson that runs to its end in the notebook"
        raise InputError(f"making a page of {lesson.name}", f"a cell that fails: {fault.ename}", wanted) from fault
    return notebook


def page_of(notebook, name: str, beside: str = "") -> str:
    """Return a lesson that has been run as a whole HTML page.

    Beside it lies the file with the plotting code, if one is named in `beside`, and the burning night; else the page
    holds the code. `name` is the notebook's file name.
    """
    cells = [
        _markdown(cell.source, escapes=False) if cell.cell_type == "markdown" else _code(cell)
        for cell in notebook.cells
    ]
    title = next(line for line in notebook.cells[0].source.splitlines() if line.startswith("# ")).removeprefix("# ")
    note = f'<p class="note">{escape(NOTE.format(name))}</p>'
    more = TO_NIGHT if beside and _has_night(name) else ""
    body = "\n".join(["<main>", cells[0], note, more, *cells[1:], "</main>"])
    if DRAWN not in body:
        return printing.html_page(title, STYLE, body)
    return printing.html_page(title, STYLE, body, (DRAW,) if beside else (_plotting(), DRAW), beside)


def _plotting() -> str:
    from plotly.offline import get_plotlyjs

    return get_plotlyjs()


def export(folder, lessons: Iterable[Path]) -> list[Path]:
    """Write lessons as pages, with one copy of the plotting code beside them, and a burning night as a phone shows it.

    The folder is made if it is not there, and what they replace is kept. A lesson is run first where a file of the
    reader's own lies in its folder; elsewhere it shows what is stored in it, as the tests have found it.

    Raises
    ------
    InputError
        If a lesson does not run or the folder refuses.
    """
    folder, lessons = files.folder(folder), list(lessons)
    made = [folder / f"{lesson.stem}.html" for lesson in lessons]
    files.write_whole(folder / PLOTTING, _plotting().encode())
    for lesson, page in zip(lessons, made, strict=True):
        files.write_whole(page, page_of(_shown(lesson), lesson.name, PLOTTING).encode())
        if _has_night(lesson.name):
            files.write_whole(folder / NIGHT, invented_night().html(every=None).encode())
    return made


def _has_night(name: str) -> bool:
    return name.endswith(OF_NIGHT)


def _shown(lesson: Path):
    import nbformat

    stored = nbformat.read(lesson, as_version=4)
    is_stored = all(cell.execution_count for cell in stored.cells if cell.cell_type == "code")
    return stored if is_stored and not any(lesson.parent.glob(OWN)) else run(lesson)


def _markdown(text: str, escapes: bool) -> str:
    import mistune

    return mistune.create_markdown(escape=escapes, plugins=["table"])(OTHER_LESSON.sub(r"(\1.html)", text))


def _code(cell) -> str:
    shown = [FOLDED.format(escape(cell.source))] if cell.source.strip() else []
    return "\n".join([*shown, *map(_output, cell.outputs)])


def _output(output) -> str:
    if output.output_type == "stream":
        return f"<pre>{escape(output.text)}</pre>"
    data = output.data
    if PLOTLY in data:
        return _figure(data[PLOTLY], data["text/plain"])
    if "text/html" in data:
        return WIDE.sub(r'<\1 tabindex="0"', unframed(data["text/html"]))
    if "text/markdown" in data:
        return _markdown(data["text/markdown"], escapes=True)
    return f"<pre>{escape(data['text/plain'])}</pre>"


def _figure(picture: dict, sentence: str) -> str:
    drawn = json.dumps([picture["data"], picture["layout"], CONFIG]).replace("<", r"\u003c")
    words = escape(sentence, quote=True)
    return (
        f'<figure><div role="img" aria-label="{words}"></div><script {DRAWN}>{drawn}</script>'
        f"<figcaption>{words}</figcaption></figure>"
    )
