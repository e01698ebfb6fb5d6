"""The gas on its way up a kiln: what each level leaves of its heat, and what stones add to it.

A level is met by gas that comes in at one end and goes out at the other. Heat
goes to it in proportion to how far the gas's mean is hotter than the level's
own temperature, and where the mean lies between the ends follows from how well
the level's faces take heat, so that it does not hang on the length of a step.
Level by level this is one straight line from gas coming in to gas going out,
sound from a gale to no flow at all.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from limekit.compiled import part
from limekit.kiln.column.gas import Table, carried, within_table

ALIKE = 0.1  # K, between two places in the gas that share one heat capacity
MOST_UNITS = 50.0  # of heat transfer in a level, past which gas leaves it as hot as the level


class Updraught(NamedTuple):
    """The gas between the levels of one kiln, as the last step left it.

    Parameters
    ----------
    between : ndarray, shape (levels + 2,)
        Of the gas as it comes into the hearth, and as it leaves the hearth and each level; K.
    co2, h2o : ndarray, shape (levels,)
        What the stones of each level give to the gas; mol/s.
    brought : ndarray, shape (levels,)
        The heat that comes with it, above 25 °C; W.
    """

    between: np.ndarray
    co2: np.ndarray
    h2o: np.ndarray
    brought: np.ndarray


@part
def joined(gas, co2, h2o):
    """Return a gas (mol/s of each part) with what a level's stones give to it."""
    return gas[0] + co2, gas[1] + h2o, gas[2], gas[3]


@part
def rise(table: Table, up: Updraught, coming, gas_in, takes, own, faces, mean, capacity):
    """Find the gas's temperatures on its way past hearth and levels.

    Parameters
    ----------
    table : Table
        Of the gas's heat.
    up : Updraught
        Its `between` is brought up to date.
    coming : float
        Of the gas as it comes in; K.
    gas_in : tuple of float
        mol/s of each part.
    takes, own : ndarray, shape (levels + 1,)
        What each level takes for each kelvin by which the gas's mean is above the level's own
        temperature, W/K, and that temperature, K.
    faces : ndarray, shape (levels + 1,)
        What its faces would take for each kelvin above their own; W/K.
    mean, capacity : ndarray, shape (levels + 1,)
        Found: mean in each level, K, and heat capacity of what comes into it, W/K.

    Notes
    -----
    With ``units = faces/capacity``, the gas's mean lies ``near = 1/units − 1/(exp(units) − 1)`` of the way
    from its end to its beginning, as in a heat exchanger whose other side is of one temperature; of what
    it is hotter at the beginning it leaves ``fall = takes/(capacity + takes (1 − near))``.
    """
    gas, was, level = gas_in, up.between[0], coming
    up.between[0] = within_table(coming)
    for place in range(len(takes)):
        entering, will = up.between[place], up.between[place + 1]
        held, capacity[place] = carried(table, gas, was)
        if abs(was - will) >= ALIKE:
            capacity[place] = (held - carried(table, gas, will)[0]) / (was - will)
        units = faces[place] / capacity[place]
        near = 1.0 / units - 1.0 / np.expm1(min(units, MOST_UNITS))
        fall = takes[place] / (capacity[place] + takes[place] * (1.0 - near))
        slope, offset = 1.0 - fall, fall * own[place]
        if place:
            given = (up.co2[place - 1], up.h2o[place - 1], 0.0, 0.0)
            gas = joined(gas, given[0], given[1])
            leaving = carried(table, gas, will)[1]
            heat, share = carried(table, given, will)
            share /= leaving
            slope *= 1.0 - share
            offset += share * (will - offset) + (up.brought[place - 1] - heat) / leaving
        level = slope * level + offset
        up.between[place + 1], was = within_table(level), will
        mean[place] = within_table(own[place] + (entering - own[place]) * fall * capacity[place] / takes[place])


@part
def settle(table: Table, up: Updraught, gas_in, heat, lost):
    """Bring the temperatures to the heat the gas truly carries.

    Parameters
    ----------
    table, up, gas_in
        As for `rise`.
    heat : float
        That the gas brings in; W.
    lost : ndarray, shape (levels + 1,)
        By it in hearth and levels, W.

    Returns
    -------
    shift : float
        Greatest change, K.
    heat : float
        That the gas takes out; W.
    gas : tuple of float
        As it goes out; mol/s of each part.
    """
    gas, shift = gas_in, 0.0
    for place in range(len(up.between)):
        if place:
            heat -= lost[place - 1]
        if place > 1:
            gas = joined(gas, up.co2[place - 2], up.h2o[place - 2])
        held, capacity = carried(table, gas, up.between[place])
        settled = within_table(up.between[place] + (heat - held) / capacity)
        shift = max(shift, abs(settled - up.between[place]))
        up.between[place] = settled
    return shift, heat, gas
