"""A picture saved by itself, to share: as SVG, or as PNG by a Chromium that is on the machine."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import unquote

from limekit.errors import InputError
from limekit.pictures.svg import PAGE
from limekit.records import files, printing

WIDE, TALL = 900, 640  # px of a plotly figure that names no size
SHARP = 2  # pixels of a PNG to one of the page
HEIGHT_OVER_WIDTH = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
DRAWN = re.compile(r"data:image/svg\+xml,([^<\"]+)")
DRAW = """const drawn = {};
Plotly.newPlot("here", drawn.data, drawn.layout)
    .then((here) => Plotly.toImage(here, {{ format: "svg", width: {}, height: {} }}))
    .then((told) => {{ document.body.textContent = told; }});"""


def save_picture(picture, path) -> Path:
    """Write a picture to a file of its own; the file it replaces is kept beside it.

    Parameters
    ----------
    picture : str or plotly.graph_objects.Figure
        What a drawing returns, as `limekit.tide_drawing`, or a chart, as `limekit.firings_chart`.
    path : str or path-like
        That ends in ``.svg``, or in ``.png`` for an image twice as fine as the page. An SVG drawing is written as it
        is; the rest wants Chromium or a browser of its kind on this machine.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If the name ends otherwise, the folder refuses, or no browser is there where one is wanted.

    Examples
    --------
    >>> from limekit import burn_stone, stone_drawing
    >>> save_picture(stone_drawing(burn_stone("80 mm", "1000 degC", "6 h")), "stone.svg")  # doctest: +SKIP
    PosixPath('stone.svg')
    """
    path = files.as_path(path)
    ending = path.suffix.lower()
    if ending not in (".svg", ".png"):
        raise InputError("path", str(path), "a name that ends in .svg or .png", 'save_picture(drawing, "tide.png")')
    svg = picture if isinstance(picture, str) else _drawn(picture)
    files.write_whole(path, svg.encode() if ending == ".svg" else _pixels(svg))
    return path


def _drawn(figure) -> str:
    """Return a plotly figure as SVG, as its own page code draws it."""
    from plotly.offline import get_plotlyjs

    layout = figure.layout
    size = layout.width or WIDE, layout.height or TALL
    told = figure.to_json().replace("</", "<\\/")
    page = printing.html_page("", "", '<div id="here"></div>', [get_plotlyjs(), DRAW.format(told, *size)])
    found = DRAWN.search(printing.browse(page, "a figure", "--dump-dom", "--virtual-time-budget=20000").decode())
    return unquote(found[1])


def _pixels(svg: str) -> bytes:
    wide, high = map(float, HEIGHT_OVER_WIDTH.search(svg).groups())
    size = f"{PAGE},{PAGE * high / wide:.0f}"
    asked = f"--window-size={size}", f"--force-device-scale-factor={SHARP}", "--hide-scrollbars"
    page = printing.html_page("", "body { margin: 0; } svg { display: block; width: 100%; height: auto; }", svg)
    return printing.browse(page, "a picture", *asked, "--screenshot={}/made.png")
