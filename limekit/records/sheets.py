"""Blank sheets to print or to open in a spreadsheet, made from the columns that are read back."""

from __future__ import annotations

import csv
import html
import io
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from limekit.errors import InputError, not_among
from limekit.kinds import guarded
from limekit.records import files
from limekit.records.columns import Column
from limekit.records.printing import PrintedPage, html_page
from limekit.records.trial_sheet import COLUMNS
from limekit.safety import DEFER, Caution

Separator = Literal[",", ";", "tab"]
SEPARATORS = {",": ",", ";": ";", "tab": "\t"}
CAUTION = (
    "Hot lime burns skin and blinds: gloves, closed boots and tight goggles. "
    "Fire and kiln give off carbon monoxide, which has no smell: outdoors, or a stove with a sound flue and an alarm. "
    "A headache or dizziness: everybody out, and call for help. "
    "Add lime to plenty of water, never water to lime."
)
PLACE = '<p class="place">Place: ____________________ Date: ____________________ Written by: ____________________</p>'
STYLE = """
@page { size: A4 landscape; margin: 10mm; }
body { font: 10pt/1.3 sans-serif; color: #000; background: #fff; margin: 1rem; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; }
h1 { font-size: 15pt; margin: 0 0 2mm; }
h1, h2, .place, dl { break-after: avoid; }
.leaf { break-before: page; }
.leaf table { break-inside: avoid; }
body:has(.leaf) > :is(dl, .usual) { font-size: 11pt; line-height: 1.3; }
p { margin: 2mm 0; }
h1:has(+ .place), h2:has(+ .place), .place { display: inline-block; margin: 0 8mm 1mm 0; }
th, td { border: 0.3mm solid #444; padding: 1mm; vertical-align: top; overflow-wrap: break-word; hyphens: auto; }
thead { display: table-header-group; }
thead th { font-size: 8.5pt; text-align: left; }
tbody th { font-weight: normal; text-align: right; }
tbody tr { break-inside: avoid; }
dl { columns: 2; font-size: 8.5pt; break-inside: avoid; margin: 2mm 0; }
dt { font-weight: bold; display: inline; }
dd { display: inline; margin: 0; }
dd::after { content: ""; display: block; }
.usual { columns: 70mm; column-gap: 7mm; font: 8pt/1.2 sans-serif; margin: 2mm 0; padding-left: 4mm; }
.usual li { break-inside: avoid; }
.caution { border: 0.6mm solid #000; padding: 1.5mm; font-weight: bold; }
@media print { body { margin: 0; } }
"""


@guarded
def blank_sheet(
    columns: tuple[Column, ...] = COLUMNS,
    title: str = "Trial burn",
    rows: int = 12,
    caution: str = CAUTION,
    row_height: int = 8,
    upright: bool = False,
    usual: tuple[Caution, ...] = (),
    beside: tuple[str, ...] = (),
    rows_a_page: int = 0,
) -> PrintedPage:
    """Return a blank sheet to print, as one HTML page for A4: the key, then the table.

    Parameters
    ----------
    columns : tuple of Column
        What is written down; without them, a trial burn's.
    title : str
    rows : int
        Blank rows, 1 to 200.
    caution : str
        Stands in a box at the head of the table, on every page it runs to.
    row_height : int
        Millimetres; more where a row holds sentences.
    upright : bool
        Whether the paper stands; without it, it lies on its side.
    usual : tuple of Caution
        Told in full, once, before the table.
    beside : tuple of str
        Names of columns that stand on a second sheet, line by line beside the first.
    rows_a_page : int
        Where given, each sheet is a page of so many rows, after a page with the key.

    Returns
    -------
    PrintedPage
        Text, with headings, units and help from the glossary; no script, and nothing fetched. A notebook shows it
        as the page it is, and its ``save`` writes it to a file.

    Raises
    ------
    InputError
        If there are no columns, or the rows are none or too many to print.

    Examples
    --------
    >>> "largest width of the piece [mm]" in blank_sheet()
    True
    """
    if not columns:
        raise InputError("columns of a sheet", "none", "one or more", "blank_sheet()")
    if isinstance(rows, bool) or not isinstance(rows, int) or not 1 <= rows <= 200:
        raise InputError("rows of a sheet", repr(rows), "a whole number from 1 to 200", "rows=12")
    told = "\n".join(f"<li><b>{html.escape(one.title)}.</b> {html.escape(one.text)}</li>" for one in usual)
    helps = "\n".join(
        f"<dt>{html.escape(column.heading)}</dt> <dd>{html.escape(column.help)}</dd>" for column in columns
    )
    key = f"""<h1>{html.escape(title)}</h1>
{PLACE}
<dl>
{helps}
</dl>
{f'<ul class="usual">{told}<li>{html.escape(DEFER)}</li></ul>' if usual else ""}"""
    if rows_a_page:
        parts = ([one for one in columns if (one.name in beside) is second] for second in (False, True))
        sheets = [part for part in parts if part]
        leaves = "\n".join(
            _leaf(f"{title}, lines {first} to {last}", part, range(first, last + 1), caution, number, len(sheets))
            for first in range(1, rows + 1, rows_a_page)
            for last in [min(first + rows_a_page - 1, rows)]
            for number, part in enumerate(sheets, start=1)
        )
        sheet = f"{key}\n{leaves}"
    else:
        sheet = f"{key}\n{_table(title, columns, range(1, rows + 1), caution)}"
    style = STYLE.replace("landscape", "portrait") if upright else STYLE
    return html_page(title, f"{style}tbody tr {{ height: {row_height}mm; }}", sheet)


def _leaf(title: str, columns: Sequence[Column], lines: range, caution: str, number: int, count: int) -> str:
    """Return a page of lines, and which of how many sheets that lie beside each other it is."""
    which = f", sheet {number} of {count}" if count > 1 else ""
    table = _table(title, columns, lines, caution)
    return f'<section class="leaf"><h2>{html.escape(title)}{which}</h2>\n{PLACE}\n{table}</section>'


def _table(title: str, columns: Sequence[Column], lines: range, caution: str) -> str:
    head = "".join(f'<th scope="col">{html.escape(column.heading)}</th>' for column in columns)
    cells = "<td></td>" * len(columns)
    body = "\n".join(f'<tr><th scope="row">{number}</th>{cells}</tr>' for number in lines)
    return f"""<table aria-label="{html.escape(title)}">
<colgroup><col style="width: 8mm"><col span="{len(columns)}"></colgroup>
<thead>
<tr><td class="caution" colspan="{len(columns) + 1}">{html.escape(caution)}</td></tr>
<tr><th scope="col">line</th>{head}</tr>
</thead>
<tbody>
{body}
</tbody>
</table>"""


@guarded
def write_blank_csv(path, columns: tuple[Column, ...] = COLUMNS, sep: Separator = ",") -> Path:
    """Write a blank table to fill in with a spreadsheet.

    Parameters
    ----------
    path : str or path-like
        A file that is not there yet.
    columns : tuple of Column
        Without them, a trial burn's, as `read_trial` reads them.
    sep : {",", ";", "tab"}
        What parts the cells; ";" where the spreadsheet has all of a row in one cell, as where numbers
        have a decimal comma. `read_trial` takes either.

    Raises
    ------
    InputError
        If there is a file of that name already, or the folder refuses; nothing is ever written over. Or if nothing
        is parted so.
    """
    if not isinstance(sep, str) or sep not in SEPARATORS:
        raise not_among(SEPARATORS, "sep", sep, 'sep="{near}"')
    text = io.StringIO()
    writer = csv.writer(text, delimiter=SEPARATORS[sep])
    writer.writerow([column.header for column in columns])
    writer.writerows([f"# {column.name}: {column.help}"] for column in columns)
    return files.write_new(path, text.getvalue().encode("utf-8-sig"))
