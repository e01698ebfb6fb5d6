"""A kiln fired from lighting on: draught, stoking and column, in steps that lengthen as things settle."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from limekit.facts import fact
from limekit.fire.draught import AirWay, Breath
from limekit.kiln.column.column import Column, Flows
from limekit.kiln.column.gas import MASSES
from limekit.kiln.column.stoking import Blaze, Stoker

SHORTEST, LONGEST, LADDER = 15.0, 1200.0, 2.0**0.25  # s, and from one length of step to the next
LEAST = 1.0  # s, of a step that lands on a conversion
GAS_CHANGE, STONE_CHANGE, FRONT_CHANGE = 12.0, 20.0, 0.04  # K, K and shares of the radius: root mean square of a step
GROWTH, SHRINK = 2.0, 0.3


@dataclass(frozen=True, eq=False)
class Moment:
    """A kiln at the end of a step; arrays end on an axis of members.

    Parameters
    ----------
    time : float
        s since lighting.
    fire : Blaze
    flows : Flows
        Both during the step.
    gas_temperature : ndarray, shape (levels + 1, members)
        Mean in the hearth and in each level; K.
    flue_temperature : ndarray, shape (members,)
        Of the gas as it leaves; K.
    stone_temperature, lime_temperature, conversion : ndarray, shape (levels, sizes, members)
        K, K and share of the calcium carbonate.
    burnt : ndarray, shape (members,)
        Mean conversion.
    """

    time: float
    fire: Blaze
    flows: Flows
    gas_temperature: np.ndarray
    flue_temperature: np.ndarray
    stone_temperature: np.ndarray
    lime_temperature: np.ndarray
    conversion: np.ndarray
    burnt: np.ndarray


class Burn:
    """A kiln with its fire lit, moved on by `run`.

    Parameters
    ----------
    column : Column
    way : AirWay
    stoker : Stoker
    damper : float
        Open share of the flue.
    mouth : float
        Area through which the hearth shines on the world outside, m².
    cover : float
        From the gas below the cover to the air outside, W/K.
    pace : float
        Factor on the change that a step may bring; below 1 for shorter steps.

    Attributes
    ----------
    moments : list of Moment
    seconds : float
        Length of the next step.
    burnt : ndarray, shape (members,)
        Mean conversion.
    pace_of_burning : float
        Of the slowest member over the last step; 1/s.
    """

    def __init__(
        self,
        column: Column,
        way: AirWay,
        stoker: Stoker,
        damper: float = 1.0,
        mouth: float = 0.0,
        cover: float = 0.0,
        pace: float = 1.0,
    ) -> None:
        self.column, self.way, self.stoker = column, way, stoker
        self.damper, self.mouth, self.cover, self.pace = damper, mouth, cover, pace
        self.clock, self.seconds = 0.0, SHORTEST
        self.moments: list[Moment] = []
        self.burnt = column.charge.mean(column.stones.conversion)
        self.pace_of_burning = 0.0
        self._hearth = np.maximum(column.gas_temperature[0], fact("flare_gas_temperature"))
        self._gas_to_air = 1.0
        self._last = self._before_last = SHORTEST
        self._drawn = self.breathe().mass_flux * way.kiln_area

    def breathe(self) -> Breath:
        """Return the air that the kiln could draw as it is, and what holds it back."""
        column, state = self.column, (self._gas_to_air, self.damper, self._hearth)
        return self.way.breathe(column.gas_temperature[1:], column.gas.between[-1], column.air_temperature, *state)

    def run(self, until: float, conversion: float = np.inf, after_step: Callable | None = None) -> None:
        """Go on until a time (s since lighting), or until the slowest member has burnt to a mean conversion.

        Parameters
        ----------
        until, conversion : float
        after_step : callable, optional
            Called with no arguments after every step.
        """
        while self.clock < until and self.burnt.min() < conversion:
            left = (conversion - self.burnt.min()) / self.pace_of_burning if self.pace_of_burning > 0.0 else np.inf
            change = min(until, self.stoker.next_change(self.clock)) - self.clock
            self._step(min(self.seconds, max(left, LEAST), change))
            if after_step:
                after_step()

    def _leak(self) -> np.ndarray:
        """From the gas past the wall to the air outside; W/K, shape (levels + 1, members)."""
        gas, air = self.column.gas_temperature, self.column.air_temperature
        leak = np.zeros_like(gas)
        leak[0] = fact("stefan_boltzmann") * self.mouth * (gas[0] ** 2 + air**2) * (gas[0] + air)
        leak[-1] += self.cover
        return leak

    def _draught(self, seconds: float) -> np.ndarray:
        """Return the air drawn over a step, kg/s: as the kiln is, and as it has been changing."""
        now = self.breathe().mass_flux * self.way.kiln_area
        trend = np.clip((now - self._drawn) * (seconds + self._last) / (self._last + self._before_last), -now, now)
        self._before_last, self._last, self._drawn = self._last, seconds, now
        return now + trend

    def _step(self, seconds: float) -> None:
        column, stones = self.column, self.column.stones
        gas, stone, front = column.gas_temperature, stones.core_temperature, stones.piece.core_left(stones.conversion)
        fire = self.stoker.stoke(self.clock + 0.5 * seconds, self._draught(seconds))
        flows = column.step(seconds, fire.gas, fire.heat, self._leak())
        self.clock += seconds
        self._note(fire, flows, seconds)
        front = front - stones.piece.core_left(stones.conversion)
        change = max(
            np.sqrt(np.mean((column.gas_temperature - gas) ** 2, axis=0).max()) / GAS_CHANGE,
            np.sqrt(column.charge.mean((stones.core_temperature - stone) ** 2).max()) / STONE_CHANGE,
            np.sqrt(column.charge.mean(front**2).max()) / FRONT_CHANGE,
            1e-9,
        )
        wanted = seconds * min(GROWTH, max(SHRINK, self.pace / change))
        rung = math.floor(math.log(max(wanted / SHORTEST, 1.0), LADDER) + 1e-9)
        self.seconds = min(SHORTEST * LADDER**rung, LONGEST)

    def _note(self, fire: Blaze, flows: Flows, seconds: float) -> None:
        column, stones = self.column, self.column.stones
        burnt = column.charge.mean(stones.conversion)
        self.pace_of_burning = float((burnt - self.burnt).min()) / seconds
        self.burnt, self._hearth = burnt, column.gas_temperature[0]
        mass = 0.5 * (MASSES @ (flows.gas_in + flows.gas_out))
        self._gas_to_air = np.where(fire.air > 0.0, mass / np.maximum(fire.air, 1e-12), 1.0)
        self.moments.append(
            Moment(
                time=self.clock,
                fire=fire,
                flows=flows,
                gas_temperature=column.gas_temperature,
                flue_temperature=column.gas.between[-1],
                stone_temperature=stones.core_temperature,
                lime_temperature=stones.lime_temperature,
                conversion=stones.conversion,
                burnt=burnt,
            )
        )
