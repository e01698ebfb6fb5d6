"""The light of a hot body, and the nearest a screen can come to it.

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

from limekit import tables
from limekit.edge import edge
from limekit.facts import fact
from limekit.units import Kelvin

FAINTEST = 0.02
COMPRESSION = 0.5
VEIL = 0.03
NANOMETRE = 1e-9


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
