"""How every picture of the kit looks: colours, dashes, markers, fonts, and one plotly template.

The hues are those of Okabe & Ito's set for colour-blind readers ("Color
Universal Design", 2008). Lines must also stand out on white paper and on a
poor projector, so a hue too light for that is darkened, its proportions of
red, green and blue light kept, until it has a contrast of 3 to 1 with the
paper (the WCAG 2.1 rule for graphics). So darkened, the set's orange would
look like its vermilion to a deuteranope, and its yellow is lost: both are
left out of the lines. Lines are told apart by dash and marker as well, never
by colour alone.
"""

from __future__ import annotations

import functools
from collections.abc import Sequence

import numpy as np

PAPER = "#ffffff"
INK = "#1f1d1a"
MUTED = "#625d55"
GRID = "#dedad2"
FONT = "Liberation Sans, Arial, Helvetica, sans-serif"
FONT_SIZE = 14
LEAST_CONTRAST, LEAST_OF_TEXT = 3.0, 4.5

OKABE_ITO = {
    "blue": "#0072b2",
    "vermilion": "#d55e00",
    "green": "#009e73",
    "purple": "#cc79a7",
    "sky": "#56b4e9",
    "black": "#000000",
}
DASHES = ("solid", "dash", "dot", "dashdot", "longdash", "longdashdot")
MARKERS = ("circle", "square", "diamond", "triangle-up", "cross", "triangle-down")


def _light(colour: str) -> list[float]:
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def _hex(light: list[float]) -> str:
    parts = [12.92 * part if part <= 0.0031308 else 1.055 * part ** (1 / 2.4) - 0.055 for part in light]
    return "#" + "".join(f"{int(255 * part):02x}" for part in parts)


def luminance(colour: str) -> float:
    """Return the relative luminance of ``"#rrggbb"``, 0 for black to 1 for white (WCAG 2.1)."""
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), _light(colour), strict=True))


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours, 1 to 21 (WCAG 2.1)."""
    dark, bright = sorted((luminance(one), luminance(other)))
    return (bright + 0.05) / (dark + 0.05)


def on(colour: str) -> str:
    """Return the text colour that stands out more on a colour: black or the paper's."""
    return max((OKABE_ITO["black"], PAPER), key=lambda text: contrast(text, colour))


def readable(colour: str, least: float = LEAST_CONTRAST) -> str:
    """Return a colour darkened, hue kept, until it stands out on the paper."""
    brightest = 1.05 / least - 0.05
    share = min(1.0, brightest / max(luminance(colour), 1e-9))
    return _hex([share * part for part in _light(colour)])


COLOURS = {name: readable(colour) for name, colour in OKABE_ITO.items()}
FIRE, LIME, GAS, WATER, AIR, STONE = (
    COLOURS[name] for name in ("vermilion", "purple", "green", "blue", "sky", "black")
)
FIRE_WORDS = readable(FIRE, LEAST_OF_TEXT)  # for words in the fire's colour
CHOSEN = {"color": INK, "symbol": "diamond", "size": 13}  # what the reader asked after
BELOW = {"yref": "container", "y": 0.0, "yanchor": "bottom", "traceorder": "normal"}  # a legend under the axes
HEAT = ((0.0, "#fbf3dc"), (0.35, "#e69f00"), (0.7, "#a63f00"), (1.0, "#2b0f00"))
GLOWING = tuple((1.0 - place, colour) for place, colour in reversed(HEAT))
STONE_TO_LIME = ((0.0, "#6b665e"), (0.5, "#c2a878"), (0.95, "#f6e4b8"), (1.0, "#fff8e4"))
# of the places on a map, the good ones first
SHADES = ("#f2b233", "#cfe3f2", "#d9d5cc", "#f3ddd0", "#e6d3e2", "#efe9c8", "#c9dccf", "#bfbfbf")


def line(rank: int) -> dict[str, str]:
    """Return colour and dash of the figure's line number `rank`, from 0; past the last they start again."""
    return {"color": list(COLOURS.values())[rank % len(COLOURS)], "dash": DASHES[rank % len(DASHES)]}


def in_steps(colours: Sequence[str]) -> list[tuple[float, str]]:
    """Return a colour map of even steps, one a colour, for a heat map of ranks."""
    return [(end / len(colours), colour) for rank, colour in enumerate(colours) for end in (rank, rank + 1)]


def between(times: np.ndarray, rows: np.ndarray, time: float) -> np.ndarray:
    """Return a history's row at a time, on straight lines between the times that were kept, its ends beyond them."""
    place = np.interp(time, times, np.arange(len(times)))
    before = min(int(place), len(times) - 2)
    part = place - before
    return (1.0 - part) * rows[before] + part * rows[before + 1]


def hatched(colour, hatch, size: int = 6, **pattern) -> dict:
    """Return the marker of bars in one colour or a list of them, with one hatch or a list, in the paper's colour."""
    over = {"shape": hatch, "fgcolor": PAPER, "size": size, "fillmode": "overlay", **pattern}
    return {"color": colour, "pattern": over}


def inside(words, colour: str, size: int) -> dict:
    """Return the look of words, or a list of them, upright in the middle of bars of one colour."""
    place = {"textposition": "inside", "insidetextanchor": "middle", "textangle": 0}
    return {"text": words, "textfont": {"color": on(colour), "size": size}, **place}


def whiskers(middle, low, high, **look) -> dict:
    """Return the error bar of a point or bar, from its middle to the ends of its range (all arrays of one length)."""
    up, down = np.subtract(high, middle), np.subtract(middle, low)
    return {"type": "data", "symmetric": False, "array": up, "arrayminus": down, "thickness": 2.5, "width": 8, **look}


def veil(colour: str, opacity: float = 0.18) -> str:
    """Return a see-through colour for a range drawn as a band, 0 for nothing to 1 for solid."""
    red, green, blue = (int(colour[start : start + 2], 16) for start in (1, 3, 5))
    return f"rgba({red},{green},{blue},{opacity})"


@functools.cache
def template():
    """Return the one plotly template of the kit's figures; plotly is imported at the first call."""
    import plotly.graph_objects as go

    axis = {
        "showline": True,
        "linecolor": INK,
        "mirror": True,
        "ticks": "outside",
        "tickcolor": INK,
        "gridcolor": GRID,
        "zeroline": False,
        "title": {"standoff": 8},
        "automargin": True,
    }
    lines = [
        go.Scatter(line={"width": 2.5, **line(rank)}, marker={"symbol": MARKERS[rank], "size": 9})
        for rank in range(len(COLOURS))
    ]
    return go.layout.Template(
        layout={
            "font": {"family": FONT, "size": FONT_SIZE, "color": INK},
            "title": {"x": 0.0, "xref": "paper", "xanchor": "left", "font": {"size": FONT_SIZE + 3}},
            "paper_bgcolor": PAPER,
            "plot_bgcolor": PAPER,
            "colorway": list(COLOURS.values()),
            "colorscale": {"sequential": [list(step) for step in HEAT]},
            "xaxis": axis,
            "yaxis": axis,
            "margin": {"l": 70, "r": 25, "t": 55, "b": 60},
            "legend": {"orientation": "h", "x": 0, **BELOW},
            "hovermode": "closest",
        },
        data={"scatter": lines},
    )
