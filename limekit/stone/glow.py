"""The colour of hot stone: what four published tables make of it, and how far they disagree."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from limekit.edge import PUBLISHED, Ground, edge
from limekit.errors import InputError
from limekit.facts import Fact, fact, rivals
from limekit.units import Kelvin, quantity

COLOURS = ("just visible", "dark red", "dull cherry", "cherry", "bright cherry", "orange", "yellow", "white")
SOURCES = ("stirling_1905", "howe", "white_taylor_1899", "chapman_1972")
WARNING = (
    "Judge it in shade, best in a gap between stones: daylight hides a hundred degrees or more, "
    "and the tables, made on steel, differ by two hundred and more."
)

GlowColour = Literal[COLOURS]
GlowSource = Literal[SOURCES]


def _celsius(kelvin) -> str:
    return f"{quantity(kelvin, 'K').m_as('degC'):.0f}"


@dataclass(frozen=True)
class Glow:
    """What a colour seen says of the temperature: one table's level, and the range over all tables."""

    colour: str
    glow_level: Kelvin
    glow_lowest: Kelvin
    glow_highest: Kelvin
    warning: str = WARNING
    basis: tuple[Ground, ...] = ()

    def __str__(self) -> str:
        level, low, high = (_celsius(figure) for figure in (self.glow_level, self.glow_lowest, self.glow_highest))
        return f"{self.colour}: about {level} °C, and {low} to {high} °C over the tables. {self.warning}"


def levels(colour: str) -> tuple[Fact, ...]:
    """Return what each table gives for one of `COLOURS`, in kelvin, the default table first; refuse any other."""
    if colour not in COLOURS:
        raise InputError("colour of the glow", f'"{colour}"', f"one of {', '.join(COLOURS)}", 'colour="cherry"')
    return rivals("glow_" + colour.replace(" ", "_"))


def _printed(level: Fact) -> str:
    if level.low == level.high:
        return _celsius(float(level))
    return f"{_celsius(level.low)}–{_celsius(level.high)}"


@edge
def glow_temperature(colour: GlowColour, glow_source: GlowSource = "stirling_1905") -> Glow:
    """Return the temperature a glow's colour points to, with the range over all the tables.

    Parameters
    ----------
    colour : str
        One of `COLOURS`, as seen in shade.
    glow_source : {"stirling_1905", "howe", "white_taylor_1899", "chapman_1972"}
        Whose table gives the level; where it prints a range, its middle.

    Raises
    ------
    InputError
        For an unknown colour, or one the table does not have.

    Notes
    -----
    Read as two encyclopaedias reprint them. The tables were made on steel, and for most colours
    they disagree by more than 100 °C. Chapman's white is 1315 °C and above.

    Examples
    --------
    >>> print(glow_temperature("cherry").glow_level)
    900 °C
    """
    every = levels(colour)
    return Glow(
        colour=colour,
        glow_level=fact(every[0].key, glow_source),
        glow_lowest=min(level.low for level in every),
        glow_highest=max(level.high for level in every),
        basis=tuple(
            Ground(level.variant, f"{_printed(level)} °C", PUBLISHED[level.tag], level.basis) for level in every
        ),
    )


@edge
def glow_colour(temperature: Kelvin) -> dict[str, str]:
    """Return the name each table gives to the glow at a temperature.

    Parameters
    ----------
    temperature : Kelvin
        Of the stone's surface.

    Returns
    -------
    dict of str to str
        By source, the colour printed nearest to it; "below …" where it is colder than all a table has.

    Examples
    --------
    >>> glow_colour("900 degC")["white_taylor_1899"]
    'orange'
    """
    names = {}
    for source in SOURCES:
        table = {colour: level for colour in COLOURS for level in levels(colour) if level.variant == source}
        first, coldest = next(iter(table.items()))
        distance = {colour: max(level.low - temperature, temperature - level.high) for colour, level in table.items()}
        names[source] = f"below {first}" if temperature < coldest.low else min(distance, key=distance.get)
    return names


def glow_spread(colour: str) -> tuple[float, float]:
    """Return the mean and the standard deviation of the temperature behind one of `COLOURS`, in kelvin.

    Notes
    -----
    variance = Σ (middle − mean)²/(n − 1) + Σ (high − low)²/(12 n), over the n tables: each counts once, as a
    uniform spread over what it prints. Two to four tables are few, and the eye's own error is not in
    it.
    """
    every = levels(colour)
    mean = sum(every) / len(every)
    between = sum((level - mean) ** 2 for level in every) / (len(every) - 1)
    within = sum((level.high - level.low) ** 2 / 12.0 for level in every) / len(every)
    return mean, math.sqrt(between + within)


def glow_sources() -> list[dict[str, str]]:
    """Return the four tables as rows, one a colour, ready for a notebook's table.

    Beside the colour there is a column a source, in °C as printed; a dash where a table lacks the colour.
    """
    rows = []
    for colour in COLOURS:
        printed = {level.variant: _printed(level) for level in levels(colour)}
        rows.append({"colour": colour} | {source: printed.get(source, "–") for source in SOURCES})
    return rows
