"""What the pages of a workshop's pack are made of: tables to fill in, lines to write on, boxes to tick."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import NamedTuple

from limekit.pictures.looks import FONT, GRID, INK, MUTED
from limekit.records.forms import POSTER_STYLE
from limekit.safety import caution_table

BOX = "☐"
STYLE = f"""
@page {{ margin: 12mm 10mm; }}
body {{ font: 11pt/1.3 {FONT}; color: {INK}; background: #fff; max-width: 190mm; margin: 6mm auto; }}
section {{ break-before: page; position: relative; }}
.number {{ position: absolute; top: 0; right: 0; margin: 0; }}
header + section {{ break-before: auto; }}
h1 {{ font-size: 20pt; margin: 0 0 1mm; }}
h2 {{ font-size: 15pt; margin: 0 0 2mm; break-after: avoid; }}
h3 {{ font-size: 11pt; margin: 4mm 0 1mm; break-after: avoid; }}
p {{ margin: 0 0 2mm; }}
ul {{ margin: 0 0 2mm; padding-left: 5mm; }}
table {{ border-collapse: collapse; width: 100%; table-layout: fixed; margin: 0 0 3mm; break-inside: avoid; }}
th, td {{ border: 0.25mm solid {MUTED}; padding: 0.9mm 1.4mm; text-align: left; vertical-align: top; }}
th, td {{ overflow-wrap: anywhere; print-color-adjust: exact; }}
thead th {{ background: {GRID}; font-size: 9.5pt; }}
tbody th {{ font-weight: normal; }}
.tall td, .tall tbody th {{ height: 9mm; vertical-align: middle; }}
.small {{ font-size: 9.5pt; line-height: 1.22; }}
.small td, .small tbody th {{ padding-block: 0.6mm; }}
.clock tbody th {{ white-space: nowrap; }}
.pause td, .pause th {{ background: {GRID}; }}
ol.contents {{ columns: 3; margin: 0 0 2mm; }}
.from {{ font-size: 8pt; color: {MUTED}; }}
.heed {{ border: 0.6mm solid {INK}; padding: 2mm 3mm; margin: 0 0 3mm; break-inside: avoid; }}
.heed > :last-child {{ margin-bottom: 0; }}
.labels {{ display: grid; grid-template-columns: 1fr 1fr; gap: 4mm; }}
.labels > div {{ border: 0.6mm dashed {INK}; padding: 3mm 4mm; break-inside: avoid; }}
.labels b {{ font-size: 14pt; }}
.line {{ display: flex; gap: 2mm; margin: 0 0 2.6mm; }}
.line span:last-child {{ flex: 1; border-bottom: 0.25mm solid {INK}; min-height: 5mm; overflow-wrap: anywhere; }}
svg {{ display: block; width: 100%; max-width: 190mm; height: auto; }}
section:has(.poster) > h2 {{ display: none; }}
section:has(.poster) > .poster {{ padding-top: 5mm; }}
@media print {{ body {{ margin: 0; }} }}
{POSTER_STYLE}"""


class Sheet(NamedTuple):
    """One printed page of the pack: its title, and its body in HTML."""

    title: str
    body: str


class Pause(tuple):
    """A row on grey ground."""


def grid(headings: Sequence[str], rows: Iterable[Sequence[str]], widths: Sequence[int], look: str = "") -> str:
    """Return rows of words as a table; `widths` are parts of its width, empty cells are to be written in."""
    columns = "".join(f'<col style="width: {100 * width / sum(widths):.1f}%">' for width in widths)
    head = "".join(f'<th scope="col">{escape(heading)}</th>' for heading in headings)
    body = ""
    for row in rows:
        first, *rest = row
        cells = "".join(f"<td>{escape(cell)}</td>" for cell in rest)
        mark = ' class="pause"' if isinstance(row, Pause) else ""
        body += f'<tr{mark}><th scope="row">{escape(first)}</th>{cells}</tr>\n'
    head = f"<colgroup>{columns}</colgroup><thead><tr>{head}</tr></thead>"
    return f'<table class="{look}">{head}\n<tbody>{body}</tbody></table>'


def words(text: str) -> str:
    """Return a paragraph."""
    return f"<p>{escape(text)}</p>"


def line(asked: str, told: str = "") -> str:
    """Return a line with what is known written on it, or to write on."""
    return f'<div class="line"><span>{escape(asked)}</span><span>{escape(told)}</span></div>'


def heed(*keys: str) -> str:
    """Return usual cautions in a box, in full."""
    told = (caution_table()[key] for key in keys)
    return (
        '<div class="heed small">'
        + "".join(f"<p><b>{escape(one.title)}.</b> {escape(one.text)}</p>" for one in told)
        + "</div>"
    )


def paged(title, headings, rows: Sequence, widths, most: int, above="", below="", look="small") -> Iterator[Sheet]:
    """Yield a `grid` by the page, so many rows at most, with what stands above and below it on each."""
    count = max(-(-len(rows) // most), 1)
    size = max(-(-len(rows) // count), 1)
    for number in range(count):
        numbered = f"{title}, {number + 1} of {count}" if count > 1 else title
        table = grid(headings, rows[number * size : (number + 1) * size], widths, look)
        yield Sheet(numbered, above + table + below)
