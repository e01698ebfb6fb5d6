"""Drawings and whole printed pages shown in a lesson, each with one computed sentence."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from html import escape, unescape
from pathlib import Path

from limekit.pictures.looks import INK, PAPER
from limekit.pictures.shown import Shown, colour
from limekit.records import files, printing

FRAMED = re.compile(r'<iframe title="([^"]*)" style="[^"]*" sandbox srcdoc="([^"]*)"></iframe>')
STYLE_AND_BODY = re.compile(r"<style>(.*?)</style>.*?<body>(.*?)</body>", re.DOTALL)
MAIN = re.compile(r"(?<=<)main\b|(?<=</)main\b")  # a page has one, and a page within it none
ON_A_PHONE = "@media (max-width: 560px) { :host { zoom: 1.3; } section { min-width: 480px; } }"
ONTO_PORTRAIT = 0.68  # of a landscape page's width
TABLE = "font-size:15px;border-collapse:collapse;margin:0"
CELL = f"text-align:left;vertical-align:top;padding:3px 14px 3px 0;border-bottom:1px solid {colour('border-color1')}"


class Sketch(Shown):
    """An SVG drawing with its caption, which says it to those who cannot see it and where nothing runs."""

    def __init__(self, svg: str, sentence: str) -> None:
        self.svg, self.sentence = svg, sentence

    def __repr__(self) -> str:
        return self.sentence

    def _html(self) -> str:
        return (
            f'<figure style="margin:0;max-width:900px">{self.svg}'
            f'<figcaption style="font-size:16px">{escape(self.sentence)}</figcaption></figure>'
        )


class Page(Shown):
    """A whole HTML page that fetches nothing, with a sentence on it; a frame of its own keeps its looks inside."""

    def __init__(self, html: str, sentence: str) -> None:
        self.html, self.sentence = html, sentence

    def __repr__(self) -> str:
        return self.sentence

    def _html(self) -> str:
        return printing.framed(self.html, self.sentence)

    def save(self, path: str | Path = "my_kiln_design.html") -> Path:
        """Write the page to a file, as `limekit.records.printing.PrintedPage.save`."""
        return printing.PrintedPage(self.html).save(path)


def unframed(html: str) -> str:
    """Return what `Page` or `Sheaf` shows with its pages out of their frames, for paper; their looks stay inside."""
    return FRAMED.sub(_in_the_open, html)


def _in_the_open(framed: re.Match) -> str:
    title, page = framed.groups()
    style, body = STYLE_AND_BODY.search(unescape(page)).groups()
    width = ONTO_PORTRAIT if "landscape" in style else 1.0
    host = f":host {{ display: block; overflow-x: auto; zoom: {width}; color: {INK}; background: {PAPER}; }}"
    own = re.sub(r"\bbody\b", "section", style) + ON_A_PHONE
    inside = f"<style>{host}{own}</style><section>{MAIN.sub('div', body)}</section>"
    shadow = f'<template shadowrootmode="open">{inside}</template>'
    return f'<div role="region" aria-label="{title}" tabindex="0">{shadow}</div>'


class Table(Shown):
    """A table of words, whole however long they are; the first of each row is what it is about."""

    def __init__(self, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        self.headings, self.rows = tuple(headings), [tuple(row) for row in rows]

    def __repr__(self) -> str:
        return "\n".join(" · ".join(filter(None, row)) for row in (self.headings, *self.rows))

    def _html(self) -> str:
        head = "".join(f'<th scope="col" style="{CELL}">{escape(heading)}</th>' for heading in self.headings)
        body = "".join(
            f'<tr><th scope="row" style="{CELL};font-weight:normal;white-space:nowrap">{escape(first)}</th>'
            + "".join(f'<td style="{CELL}">{escape(each)}</td>' for each in rest)
            + "</tr>"
            for first, *rest in self.rows
        )
        return f'<table style="{TABLE}"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


class Sheaf(Shown):
    """Several printed pages, each folded under its name."""

    def __init__(self, pages: Mapping[str, Page]) -> None:
        self.pages = dict(pages)

    def __repr__(self) -> str:
        return "\n".join(page.sentence for page in self.pages.values())

    def _html(self) -> str:
        return "".join(
            f'<details><summary style="font-size:16px">{escape(name)}</summary>{page._html()}</details>'
            for name, page in self.pages.items()
        )

    def save(self, folder: str | Path = "my_sheets") -> list[Path]:
        """Write every page to a folder, made if need be, to print from a browser; a page it replaces is kept beside it.

        Raises
        ------
        InputError
            If the folder cannot be made or written to.
        """
        folder = files.folder(folder)
        return [page.save(folder / f"{name.replace(' ', '_')}.html") for name, page in self.pages.items()]
