"""The gas on its way up a kiln: what each level leaves of its heat, and what stones add to it.

A level is met by gas that comes in at one end and goes out at the other. Heat
goes to it in proportion to how far the gas's mean is hotter than the level's
own temperature, and where the mean lies between the ends follows from how well
the level's faces take heat, so that it does not hang on the length of a step.
Level by level this is one straight line from gas coming in to gas going out,
sound from a gale to no flow at all.
"""

from __future__ import annotations

import numpy as np

from limekit.kiln.column.gas import COLDEST, HOTTEST, heat_and_capacity

ALIKE = 0.1  # K, between two places in the gas that share one heat capacity
MOST_UNITS = 50.0  # of heat transfer in a level, past which gas leaves it as hot as the level


def within_table(temperature) -> np.ndarray:
    """Return temperatures (K) kept to where the gas data reach."""
    return np.minimum(np.maximum(temperature, COLDEST), HOTTEST)


class Updraught:
    """The gas between the levels of a kiln; all shapes end on an axis of members.

    Parameters
    ----------
    levels, members : int
        Of the charge; the hearth below it is one level more.
    temperature : float
        At first, K.

    Attributes
    ----------
    between : ndarray, shape (levels + 2, members)
        Of the gas as it comes into the hearth, and as it leaves the hearth and each level; K.
    released : ndarray, shape (4, levels, members)
        What the stones of each level give to the gas; mol/s of each part.
    brought : ndarray, shape (levels, members)
        The heat that comes with it, above 25 °C; W.
    """

    def __init__(self, levels: int, members: int, temperature: float) -> None:
        self.between = np.full((levels + 2, members), temperature)
        self.released = np.zeros((4, levels, members))
        self.brought = np.zeros((levels, members))

    def flowing(self, gas_in) -> np.ndarray:
        """Return the gas between the levels, mol/s of shape (4, levels + 2, members), from that which comes in."""
        gas = np.repeat(gas_in[:, None], len(self.between), axis=1)
        gas[:, 2:] += np.cumsum(self.released, axis=1)
        return gas

    def rise(self, coming, gas_in, takes, own, faces) -> tuple[np.ndarray, np.ndarray]:
        """Find the gas's temperatures on its way past the levels.

        Parameters
        ----------
        coming : ndarray, shape (members,)
            Of the gas as it comes in; K.
        gas_in : ndarray, shape (4, members)
            mol/s of each part.
        takes, own : ndarray, shape (levels + 1, members)
            What each level takes for each kelvin by which the gas's mean is above the level's own
            temperature, W/K, and that temperature, K.
        faces : ndarray, shape (levels + 1, members)
            What its faces would take for each kelvin above their own; W/K.

        Returns
        -------
        gas, capacity : ndarray, shape (levels + 1, members)
            Mean in each level, K, and heat capacity of what comes into it, W/K.
        """
        flowing, below = self.flowing(gas_in), self.between[1:]
        heats, capacities = heat_and_capacity(self.between)
        fallen = self.between[:-1] - below
        alike = np.abs(fallen) < ALIKE
        molar = np.where(alike, capacities[:, :-1], (heats[:, :-1] - heats[:, 1:]) / np.where(alike, 1.0, fallen))
        capacity = (flowing[:, :-1] * molar).sum(axis=0)
        units = faces / capacity
        near = 1.0 / units - 1.0 / np.expm1(np.minimum(units, MOST_UNITS))
        fall = takes / (capacity + takes * (1.0 - near))

        leaving = (flowing[:, 2:] * capacities[:, 2:]).sum(axis=0)
        added = (self.released * capacities[:, 2:]).sum(axis=0) / leaving
        warmth = (self.brought - (self.released * heats[:, 2:]).sum(axis=0)) / leaving
        slope, offset = 1.0 - fall, fall * own
        slope[1:] *= 1.0 - added
        offset[1:] += added * (below[1:] - offset[1:]) + warmth
        between = np.empty_like(self.between)
        between[0] = level = coming
        for number, (share, shift) in enumerate(zip(slope, offset, strict=True)):
            between[number + 1] = level = share * level + shift
        self.between = within_table(between)
        return within_table(own + (self.between[:-1] - own) * fall * capacity / takes), capacity

    def settle(self, gas_in, heats) -> float:
        """Bring the temperatures to the heat the gas truly carries (W), and return the greatest change, K."""
        flowing = self.flowing(gas_in)
        molar, capacities = heat_and_capacity(self.between)
        change = (heats - (flowing * molar).sum(axis=0)) / (flowing * capacities).sum(axis=0)
        settled = within_table(self.between + change)
        shift, self.between = np.abs(settled - self.between).max(), settled
        return float(shift)
