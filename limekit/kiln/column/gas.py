"""The kiln's gas on its way up: heat against temperature, fast enough for every step of a firing.

Heat contents are those of `limekit.fire.gases`, read from a table of straight
lines. A gas is the moles of its four parts a second, on the first axis of an
array; what little sulphur dioxide there is counts as nitrogen.
"""

from __future__ import annotations

import functools
from typing import NamedTuple

import numpy as np

from limekit.compiled import part
from limekit.facts import fact
from limekit.fire.gases import MOLAR_MASS, molar_heat

SPECIES = ("co2", "h2o", "o2", "n2")
AIR_SHARES = np.array([0.0, 0.0, float(fact("oxygen_in_air")), 1.0 - fact("oxygen_in_air")])
MASSES = np.array([MOLAR_MASS[one] for one in SPECIES])
COLDEST, HOTTEST, SPACING = 200.0, 3500.0, 10.0
CLOSE = 0.01  # K
MOST_TURNS = 50


class Table(NamedTuple):
    """Heat of a mole of each part above 25 °C at every `SPACING` from `COLDEST`, J/mol, and its rise to the next."""

    heats: np.ndarray
    rises: np.ndarray


@functools.cache
def table() -> Table:
    """Return the gas's table, of shapes (4, levels) and (4, levels - 1)."""
    levels = np.arange(COLDEST, HOTTEST + SPACING, SPACING)
    heats = np.array([molar_heat(one, levels) for one in SPECIES])
    return Table(heats, np.diff(heats, axis=1))


def heat_and_capacity(temperature) -> tuple[np.ndarray, np.ndarray]:
    """Return the heat of a mole of each part above 25 °C, and how it rises; J/mol and J/molK, shape (4, ...).

    Parameters
    ----------
    temperature : ndarray
        K; taken to the ends of the table where it lies beyond, 200 to 3500.
    """
    heats, rises = table()
    place = np.clip((temperature - COLDEST) / SPACING, 0.0, rises.shape[1] - 1e-9)
    below = place.astype(np.intp)
    rise = rises[:, below]
    return heats[:, below] + (place - below) * rise, rise / SPACING


@part
def carried(gas, amounts, temperature):
    """Return the heat (W) that a gas carries at a temperature (K), and its heat capacity (W/K).

    Parameters
    ----------
    gas : Table
    amounts : tuple of float
        mol/s of each part.
    temperature : float
    """
    place = min(max((temperature - COLDEST) / SPACING, 0.0), gas.rises.shape[1] - 1e-9)
    below = int(place)
    heat = capacity = 0.0
    for one in range(len(amounts)):
        rise = gas.rises[one, below]
        heat += amounts[one] * (gas.heats[one, below] + (place - below) * rise)
        capacity += amounts[one] * rise / SPACING
    return heat, capacity


@part
def level_of(gas, amounts, heat, level, close):
    """Return the temperature (K) at which a gas carries a heat (W), by Newton's method from a first `level`."""
    if sum(amounts) <= 0.0:
        return level
    for _ in range(MOST_TURNS):
        held, capacity = carried(gas, amounts, level)
        change = (heat - held) / capacity
        level = within_table(level + change)
        if abs(change) < close:
            break
    return level


@part
def within_table(temperature):
    """Return a temperature (K) kept to where the gas data reach."""
    return min(max(temperature, COLDEST), HOTTEST)


def temperature_of(gas, heat, guess):
    """Return the temperature (K) at which a gas carries a heat above 25 °C.

    Parameters
    ----------
    gas : ndarray, shape (4, ...)
        mol/s of each part.
    heat : ndarray
        W.
    guess : ndarray
        K, where to start; the answer where nothing flows.
    """
    level, still = guess, gas.sum(axis=0) <= 0.0
    for _ in range(MOST_TURNS):
        heats, capacities = heat_and_capacity(level)
        capacity = (gas * capacities).sum(axis=0)
        change = np.where(still, 0.0, (heat - (gas * heats).sum(axis=0)) / np.where(still, 1.0, capacity))
        level = np.clip(level + change, COLDEST, HOTTEST)
        if np.max(np.abs(change)) < CLOSE:
            break
    return level
