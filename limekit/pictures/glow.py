"""The light of a hot body, the nearest a screen can come to it, and four tables' names for it.

Planck's law times the eye's three colour-matching functions gives the light's
colour and brightness (CIE X, Y, Z), and from it a screen's red, green and blue.
There the truth ends. From a glow just visible to white heat the brightness grows
two million times, and a screen has a thousandth of that; and a glow's red is more
vivid than a screen's lamps. So the picture is exposed as film is: red, green and
blue, what is negative of green and blue cut to nought, are scaled to the square root of the
brightness, a veil of glare is laid on all three, and each saturates smoothly. As
in a photograph, and much as to the eye, a brighter red turns orange, yellow and
at last nearly white.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from limekit import glossary, tables
from limekit.edge import edge
from limekit.facts import fact
from limekit.pictures import looks
from limekit.pictures.picture import Picture
from limekit.stone import glow
from limekit.units import ZERO_CELSIUS, Kelvin

FAINTEST = 0.02
COMPRESSION = 0.5
VEIL = 0.03
NANOMETRE = 1e-9
COLDEST, HOTTEST, STEP = 450.0, 1350.0, 10.0
SHORT = dict(zip(glow.SOURCES, ("Stirling 1905", "Howe", "White & Taylor 1899", "Chapman 1972"), strict=True))


def _table(name: str) -> np.ndarray:
    return np.loadtxt(tables.lines(name), delimiter=",", skiprows=3)


@functools.cache
def observer() -> tuple[np.ndarray, np.ndarray]:
    """Return the CIE 1931 2° observer: wavelengths in metres (n,), and x̄, ȳ, z̄ there (n, 3)."""
    table = _table("cie_1931")
    return table[:, 0] * NANOMETRE, table[:, 1:]


@functools.cache
def screen() -> np.ndarray:
    """Return the matrix from X, Y, Z to a screen's linear red, green and blue."""
    lights = np.array([(x / y, 1.0, (1.0 - x - y) / y) for x, y in _table("screen")]).T
    primaries, white = lights[:, :3], lights[:, 3]
    return np.linalg.inv(primaries * np.linalg.solve(primaries, white))


def tristimulus(kelvin: float) -> np.ndarray:
    """Return X, Y and Z of a black body's light, in one arbitrary unit at every temperature."""
    wavelength, sensitivity = observer()
    radiance = wavelength**-5.0 / np.expm1(fact("second_radiation_constant") / (wavelength * kelvin))
    return radiance @ sensitivity


@dataclass(frozen=True)
class Chromaticity:
    """A light's colour without its brightness: x and y of CIE 1931, each 0 to 1."""

    x: float
    y: float


@edge
def glow_chromaticity(temperature: Kelvin) -> Chromaticity:
    """Return the CIE 1931 chromaticity of a black body's light.

    Parameters
    ----------
    temperature : Kelvin
        Of the glowing body.

    Returns
    -------
    Chromaticity

    Notes
    -----
    Planck's law summed over the CIE 1931 2° observer every 10 nm, 380 to 780 nm. A gap among
    hot stones shines like a black body; a single lump of lime, pale, shines less.

    Examples
    --------
    >>> print(f"{glow_chromaticity('900 degC').x:.3f}")
    0.629
    """
    light = tristimulus(temperature)
    return Chromaticity(float(light[0] / light.sum()), float(light[1] / light.sum()))


def exposure(kelvin: float) -> float:
    """Return how brightly a glow is shown: `FAINTEST` where just visible, then by the root of its brightness."""
    brighter = tristimulus(kelvin)[1] / tristimulus(fact("glow_just_visible"))[1]
    return FAINTEST * brighter**COMPRESSION


@edge
def glow_swatch(temperature: Kelvin) -> str:
    """Return the nearest a screen can come to a glow, as ``"#rrggbb"``.

    Parameters
    ----------
    temperature : Kelvin
        Of the glowing body.

    Returns
    -------
    str
        sRGB, for a dark surround; how it is exposed stands at the head of this module.

    Examples
    --------
    >>> glow_swatch("900 degC")
    '#f36f47'
    """
    lights = np.clip(screen() @ tristimulus(temperature), 0.0, None)
    shown = 1.0 - np.exp(-exposure(temperature) * (lights / lights.max() + VEIL))
    coded = np.where(shown <= 0.0031308, 12.92 * shown, 1.055 * shown ** (1.0 / 2.4) - 0.055)
    return "#" + "".join(f"{round(255.0 * part):02x}" for part in coded)


def glow_words(temperature: float) -> str:
    """Return one sentence on the names four tables give to a glow, from its temperature in kelvin."""
    named = glow.glow_colour.plain(temperature)
    names = "; ".join(f"{name} by {SHORT[source]}" for source, name in named.items())
    return f"Stone at {temperature - ZERO_CELSIUS:.0f} °C, seen in shade, is {names}."


def _patches(drawn: Picture) -> None:
    middles = np.arange(COLDEST, HOTTEST, STEP) + STEP / 2.0
    swatches = [glow_swatch.plain(celsius + ZERO_CELSIUS) for celsius in middles]
    drawn.bars(
        "computed colour",
        middles,
        np.ones(len(middles)),
        width=1.3 * STEP,
        marker={"color": swatches, "line": {"width": 0}},
        customdata=swatches,
        hovertemplate="%{x:.0f} °C: %{customdata} on a screen<extra></extra>",
        showlegend=False,
        yaxis="y2",
    )


def _spans(drawn: Picture) -> None:
    ends = [
        (min(level.low for level in every) - ZERO_CELSIUS, max(level.high for level in every) - ZERO_CELSIUS)
        for every in map(glow.levels, glow.COLOURS)
    ]
    drawn.rows(
        "range over the tables",
        [high - low for low, high in ends],
        list(glow.COLOURS),
        base=[low for low, _ in ends],
        width=0.62,
        marker={"color": looks.GRID},
        text=[f"{low:.0f} to {high:.0f}" for low, high in ends],
        textposition="none",
        showlegend=False,
        hovertemplate="%{y}: %{text} °C over the tables<extra></extra>",
    )
    for colour, (low, high) in zip(glow.COLOURS, ends, strict=True):
        room_right = HOTTEST - high > low - COLDEST
        drawn.note(
            f"{high - low:z.0f} °C apart",
            high if room_right else low,
            colour,
            xanchor="left" if room_right else "right",
            xshift=9 if room_right else -9,
            font={"color": looks.MUTED},
            bgcolor=looks.PAPER,
        )


def _named(drawn: Picture) -> None:
    for rank, (source, short) in enumerate(SHORT.items()):
        found = [(colour, level) for colour in glow.COLOURS for level in glow.levels(colour) if level.variant == source]
        drawn.marks(
            short,
            [level - ZERO_CELSIUS for _, level in found],
            [colour for colour, _ in found],
            error_x={
                "type": "data",
                "symmetric": True,
                "array": [(level.high - level.low) / 2.0 for _, level in found],
                "thickness": 2.5,
                "width": 5,
            },
            marker={"color": looks.INK, "symbol": looks.MARKERS[rank], "size": 10},
            hovertemplate=f"%{{y}}: %{{x:.0f}} °C<extra>{short}</extra>",
        )


def glow_picture(temperature: float | None = None) -> Picture:
    """Return the picture of `glow_strip`, in kelvin."""
    drawn = Picture("The colour of hot stone, and four tables' names for it")
    drawn.note(
        "computed<br>colour, as a<br>screen has it",
        0.0,
        0.89,
        xref="paper",
        yref="paper",
        yanchor="middle",
        xanchor="right",
        xshift=-9,
    )
    _patches(drawn)
    _spans(drawn)
    _named(drawn)
    if temperature is not None:
        celsius = temperature - ZERO_CELSIUS
        drawn.mark_at(celsius, looks.INK)
        drawn.note(f"{celsius:.0f} °C", celsius, 1.0, yref="paper", yanchor="bottom")
    across = f"{glossary.entry('temperature').label} of the stone [°C]"
    return drawn.laid(
        xaxis={"range": [COLDEST, HOTTEST], "dtick": 100, "title": across},
        yaxis={"domain": [0.0, 0.72], "categoryorder": "array", "categoryarray": list(glow.COLOURS)},
        yaxis2={"domain": [0.78, 1.0], "range": [0, 1], "visible": False},
        barmode="overlay",
        height=560,
    )


@edge
def glow_strip(temperature: Kelvin | None = None):
    """Draw the computed colours of hot stone, and under them what four tables call by each name.

    Parameters
    ----------
    temperature : Kelvin, optional
        Marked by a line, 450 to 1350 °C.

    Returns
    -------
    plotly.graph_objects.Figure
        The patches are a screen's approximation, exposed as the head of this module says;
        a marker is what a table prints, with a bar where it prints a range, and the grey band
        the range over all tables.
    """
    import plotly.graph_objects as go

    return go.Figure(glow_picture(temperature))
