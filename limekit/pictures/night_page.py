"""The page of a burning night: large light words on dark ground, for a phone at the kiln's mouth."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import NamedTuple

from limekit.pictures.looks import FONT
from limekit.records.printing import html_page

GROUND, INK, QUIET, ALARM = "#16120f", "#f7f1e8", "#d9cfc1", "#ffc46b"
LEAST_CONTRAST = 7.0  # of all words with the ground, as WCAG 2.1 asks at its highest level
STYLE = f"""
:root {{ color-scheme: dark; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0; background: {GROUND}; color: {INK}; font: 18px/1.4 {FONT}; }}
main {{ max-width: 40rem; margin: 0 auto; padding: 12px 14px 40px; overflow-wrap: anywhere; }}
h1 {{ font-size: 22px; margin: 0 0 8px; }}
h2 {{ font-size: 20px; margin: 26px 0 6px; color: {QUIET}; }}
p, ul, dl {{ margin: 8px 0; }}
ul {{ padding-left: 22px; }}
.alarm {{ border: 3px solid {ALARM}; color: {ALARM}; font-size: 24px; font-weight: bold; padding: 10px 12px; }}
.notice {{ border: 3px solid {QUIET}; padding: 10px 12px; }}
.do {{ font-size: 24px; font-weight: bold; }}
.figures {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(150px, 1fr)); gap: 6px 16px; }}
dt {{ color: {QUIET}; }}
dd {{ margin: 0; }}
.figure {{ font-size: 40px; font-weight: bold; line-height: 1.15; }}
.range, .quiet {{ color: {QUIET}; }}
"""
AGAIN = "setTimeout(() => location.reload(), {});"  # ms


class BigFigure(NamedTuple):
    """A figure as it is shown: what it is, the figure with its unit, and its range or what it rests on."""

    name: str
    figure: str
    beside: str = ""


class NightPage(NamedTuple):
    """What stands on the page, all in words; first a `notice` of what page it is, where it is not the night's own."""

    title: str
    read_at: str
    do: str
    figures: Sequence[BigFigure]
    signs: Sequence[str]
    cautions: Iterable[tuple[str, str]]
    alarms: Sequence[str] = ()
    notes: Sequence[str] = ()
    notice: str = ""

    def html(self, every: int | None = 60) -> str:
        """Return the page, which asks for itself again each so many seconds, or never."""
        figures = "".join(
            f"<div><dt>{escape(one.name)}</dt><dd><div class=figure>{escape(one.figure)}</div>"
            f"<div class=range>{escape(one.beside)}</div></dd></div>"
            for one in self.figures
        )
        parts = [
            f"<h1>{escape(self.title)}</h1>",
            f"<p class=notice>{escape(self.notice)}</p>" if self.notice else "",
            f"<p class=quiet>{escape(self.read_at)}</p>",
            *(f'<p class=alarm role="alert">{escape(one)}</p>' for one in self.alarms),
            f"<p class=do>{escape(self.do)}</p>",
            f"<dl class=figures>{figures}</dl>",
            f"<h2>The signs</h2>{_list(self.signs)}",
            f"<h2>Read and said</h2>{_list(self.notes)}" if self.notes else "",
            "<h2>Take care</h2>",
            *(f"<p><b>{escape(title)}.</b> {escape(words)}</p>" for title, words in self.cautions),
        ]
        scripts = [AGAIN.format(1000 * every)] if every else ()
        return html_page(self.title, STYLE, f"<main>{''.join(parts)}</main>", scripts)


def _list(lines: Iterable[str]) -> str:
    return f"<ul>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</ul>"
