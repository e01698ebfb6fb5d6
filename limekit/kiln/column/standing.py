"""Kilns side by side as steps take them: what stays as it is, what moves on, and where a step is worked out."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from limekit.compiled import part
from limekit.kiln.column.gas import Table
from limekit.kiln.column.updraught import Updraught
from limekit.kiln.wall.in_time import Modes
from limekit.stone.moment import Make, State, lime_temperature, make_at


class Kiln(NamedTuple):
    """What of kilns side by side stays as it is; sizes from small to large, levels from the bottom up.

    Parameters
    ----------
    makes : Make
        Of arrays of shape (sizes, columns).
    mass : ndarray, shape (levels, sizes)
        Dry stone, kg.
    by_burnt : ndarray, shape (sizes, columns)
        What burning all of it takes up, with drying; J/kg.
    by_water : float
        What drying takes beyond making steam of the water; J/kg.
    gaps : ndarray, shape (levels,)
        Between the stones, m³.
    faces : ndarray, shape (levels + 1, columns)
        What stones and wall would take for each kelvin above their faces; W/K.
    wall : Modes
    wall_area : ndarray, shape (levels + 1, columns)
        m².
    coefficient : float
        From gas to wall, W/m²K.
    table : Table
    air_temperature, air_pressure : float
        K, Pa.
    air : tuple of float
        Shares of the parts.
    carbon_dioxide, water : float
        kg/mol.
    """

    makes: Make
    mass: np.ndarray
    by_burnt: np.ndarray
    by_water: float
    gaps: np.ndarray
    faces: np.ndarray
    wall: Modes
    wall_area: np.ndarray
    coefficient: float
    table: Table
    air_temperature: float
    air_pressure: float
    air: tuple
    carbon_dioxide: float
    water: float


class Now(NamedTuple):
    """What of kilns side by side moves on; arrays that a step brings up to date.

    Parameters
    ----------
    stones : State
        Of shape (levels, sizes, columns).
    up : Updraught
        Of shape (columns, …).
    gas : ndarray, shape (columns, levels + 1)
        Mean in hearth and levels over the last step; K.
    co2_pressure : ndarray, shape (columns, levels)
        In the gaps; Pa.
    takes, own, own_before : ndarray, shape (columns, levels)
        The stones' line: W/K, K, and K a step ago.
    wall_modes : ndarray, shape ((levels + 1) · columns, modes)
    wall_flux, wall_taken, wall_lost : ndarray, shape ((levels + 1) · columns,)
        W/m², and J since the start.
    """

    stones: State
    up: Updraught
    gas: np.ndarray
    co2_pressure: np.ndarray
    takes: np.ndarray
    own: np.ndarray
    own_before: np.ndarray
    wall_modes: np.ndarray
    wall_flux: np.ndarray
    wall_taken: np.ndarray
    wall_lost: np.ndarray


class Bench(NamedTuple):
    """Where one kiln's step is worked out: by hearth and level, by level, by level and size, by mode of the wall.

    `means`, `shares`, `capacities`, `side` and the last three are by ring, as `limekit.kiln.column.rings` has them.
    """

    wall_takes: np.ndarray
    wall_own: np.ndarray
    takes_all: np.ndarray
    own_all: np.ndarray
    faces: np.ndarray
    mean: np.ndarray
    capacity: np.ndarray
    wall: np.ndarray
    leaks: np.ndarray
    lost: np.ndarray
    leak: np.ndarray
    takes: np.ndarray
    own: np.ndarray
    heat: np.ndarray
    kept: np.ndarray
    stones: State
    decay: np.ndarray
    once: np.ndarray
    twice: np.ndarray
    side: np.ndarray
    means: np.ndarray
    shares: np.ndarray
    capacities: np.ndarray
    below: np.ndarray
    warmer: np.ndarray
    more: np.ndarray

    @classmethod
    def of(cls, kiln: Kiln, rings: int) -> Bench:
        """Return an empty one."""
        levels, sizes = kiln.mass.shape
        return cls(
            *np.empty((10, levels + 1)),
            np.empty(levels + 1),
            *np.empty((4, levels)),
            State(*np.empty((len(State._fields), levels, sizes))),
            *np.empty((3, len(kiln.wall.paces))),
            np.empty((rings, levels + 1)),
            np.empty((rings, 3)),
            *np.empty((5, rings)),
        )


@part
def state_at(stones, at):
    """Return the state of the stones in one place."""
    return State(
        stones.conversion[at],
        stones.front_temperature[at],
        stones.core_heat[at],
        stones.core_temperature[at],
        stones.core_peak[at],
        stones.shell_heat[at],
        stones.burning[at],
        stones.burnt_before[at],
    )


@part
def set_state(stones, at, state):
    """Set the state of the stones in one place."""
    stones.conversion[at] = state.conversion
    stones.front_temperature[at] = state.front_temperature
    stones.core_heat[at] = state.core_heat
    stones.core_temperature[at] = state.core_temperature
    stones.core_peak[at] = state.core_peak
    stones.shell_heat[at] = state.shell_heat
    stones.burning[at] = state.burning
    stones.burnt_before[at] = state.burnt_before


@part
def burnt_share(kiln, now, column):
    """Return the mean conversion of a kiln's stone."""
    burnt = total = 0.0
    for level in range(kiln.mass.shape[0]):
        for size in range(kiln.mass.shape[1]):
            burnt += kiln.mass[level, size] * now.stones.conversion[level, size, column]
            total += kiln.mass[level, size]
    return burnt / total


@part
def lime_at(kiln, now, level, size, column):
    """Return the lime's temperature in one place; K."""
    return lime_temperature(make_at(kiln.makes, (size, column)), state_at(now.stones, (level, size, column)))
