"""How every picture of the kit looks: what each colour means, type, dashes, markers, and one plotly template.

A colour means one thing in all lessons (`MEANS`), and what is no material (a plan, a rule, a limit, what the reader
chose) is drawn in ink and told by dash and marker. The colours are our own: searched for until no two look alike to
an eye that lacks one kind of cone (distances in CIELAB, tests/test_looks.py), and each stands out on white paper and
on a poor projector by 3 to 1 (the WCAG 2.1 rule for graphics). Colour is never alone: lines differ in dash and marker
as well, bars in hatch, and raw stone and dead-burnt lime keep a hatch of their own (`RAW`, `DEAD`).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

PAPER, INK, MUTED, GRID, BLACK = "#ffffff", "#1f1d1a", "#625d55", "#dedad2", "#000000"
FONT = "Liberation Sans, Arial, Helvetica, sans-serif"
SMALL, FONT_SIZE, LARGE = 12, 14, 17  # px: each 1.2 times the one before
LEAST_CONTRAST, LEAST_OF_TEXT = 3.0, 4.5

MEANS = {
    "stone": ("#66676b", "limestone, charged or still raw; walls, grains of sand"),
    "lime": ("#b06fae", "quicklime, hydrate, putty; the share of a stone that is burnt"),
    "fire": ("#f43a22", "heat and temperature, hours of fire, what has had too much of it"),
    "water": ("#0f5fa6", "water and steam"),
    "air": ("#6f90d8", "air, draught, what is lost to the air outside, cooling"),
    "gas": ("#0f9f74", "carbon dioxide, and what goes up the flue"),
    "wood": ("#70390f", "wood and any other fuel"),
    "money": ("#847a10", "money"),
}
STONE, LIME, FIRE, WATER, AIR, GAS, WOOD, MONEY = (colour for colour, _ in MEANS.values())
RAW, DEAD = (STONE, "x"), (FIRE, "|")  # colour and hatch of stone left raw, and of lime burnt dead
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
    return max((BLACK, PAPER), key=lambda text: contrast(text, colour))


def readable(colour: str, least: float = LEAST_CONTRAST) -> str:
    """Return a colour darkened, hue kept, until it stands out on the paper."""
    brightest = 1.05 / least - 0.05
    share = min(1.0, brightest / max(luminance(colour), 1e-9))
    return _hex([share * part for part in _light(colour)])


FIRE_WORDS = readable(FIRE, LEAST_OF_TEXT)  # for words in the fire's colour
CHOSEN = {"color": INK, "symbol": "diamond", "size": 13}  # what the reader asked after
BELOW = {"yref": "container", "y": 0.0, "yanchor": "bottom", "traceorder": "normal"}  # a legend under the axes
HEAT = ((0.0, "#fbf3dc"), (0.35, "#e69f00"), (0.7, "#a63f00"), (1.0, "#2b0f00"))
GLOWING = tuple((1.0 - place, colour) for place, colour in reversed(HEAT))
STONE_TO_LIME = ((0.0, "#6b665e"), (0.5, "#c2a878"), (0.95, "#f6e4b8"), (1.0, "#fff8e4"))
# of the places on a map, the good ones first
SHADES = ("#f2b233", "#cfe3f2", "#d9d5cc", "#f3ddd0", "#e6d3e2", "#efe9c8", "#c9dccf", "#bfbfbf")
PALE = "#c4bcae"  # of what stands beside the thing in hand
WHITE_LIME = "#f4f1ea"
NIGHT, COLD_STONE = "#1b1917", "#3a3733"  # the dark of a kiln, and what is seen of stone in it before it glows
# of what is drawn to scale, pale, so that words can stand on it
STONES = ("#cfcbc4", "#c1bcb4", "#dcd9d3")
LINING, FILL, OUTER, JAMB, EARTH = "#e6d5c3", "#f6f3ee", "#ece7df", "#f8f5f0", "#e4dfd6"
GLOW, CLAY, SLAB, LOG = "#f7dfc6", "#bdb3a6", "#8f877c", "#b89b7d"


def key_under(left: float) -> dict:
    """Return the look of a legend under one of several panes, from its left edge as a share of the picture's width."""
    return {"orientation": "v", "x": left, "xanchor": "left", "font": {"size": SMALL}, **BELOW}


def bar_under(unit: str) -> dict:
    """Return the look of a colour's scale that lies under its half of a picture."""
    lies = {"orientation": "h", "y": -0.2, "yanchor": "top", "xanchor": "center", "len": 0.44, "thickness": 12}
    return {**lies, "title": {"text": unit, "side": "top"}, "tickfont": {"size": SMALL}}


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


def spanned(spans, unit: float = 1.0, **look) -> dict:
    """Return the error bars of figures with a range, in ink."""
    return whiskers(
        *([getattr(one, end) / unit for one in spans] for end in ("middle", "low", "high")), color=INK, **look
    )


def veil(colour: str, opacity: float = 0.18) -> str:
    """Return a see-through colour for a range drawn as a band, 0 for nothing to 1 for solid."""
    red, green, blue = (int(colour[start : start + 2], 16) for start in (1, 3, 5))
    return f"rgba({red},{green},{blue},{opacity})"


AXIS = {
    "showline": True,
    "linecolor": INK,
    "mirror": True,
    "ticks": "outside",
    "tickcolor": INK,
    "gridcolor": GRID,
    "zeroline": False,
    "title": {"standoff": 8, "font": {"size": FONT_SIZE}},
    "tickfont": {"size": SMALL},
    "automargin": True,
    "tickangle": 0,
    "ticklabeloverflow": "allow",
}
LINES = [
    {"type": "scatter", "line": {"width": 2.5, "color": INK, "dash": dash}, "marker": {"symbol": marker, "size": 9}}
    for dash, marker in zip(DASHES, MARKERS, strict=True)
]
TEMPLATE = {
    "layout": {
        "font": {"family": FONT, "size": FONT_SIZE, "color": INK},
        "title": {"x": 0.0, "xref": "paper", "xanchor": "left", "font": {"size": LARGE}},
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "colorway": [INK, MUTED],
        "colorscale": {"sequential": [list(step) for step in HEAT]},
        "xaxis": AXIS,
        "yaxis": AXIS,
        "margin": {"l": 70, "r": 25, "t": 48, "b": 60},
        "legend": {"orientation": "h", "x": 0, "font": {"size": SMALL}, **BELOW},
        "hovermode": "closest",
    },
    "data": {"scatter": LINES},
}  # of every figure, in plotly's terms
