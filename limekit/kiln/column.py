"""A flare kiln as a column: hearth and levels of stone, gas rising past them, a wall around them.

In a step each level's stones and wall take heat in proportion to how far the
gas is hotter than a level of their own. With those lines known, the gas's way
up is a closed formula from level to level, stable however little gas flows.
The stones then take a step of their own in that gas. Where they took another
heat than their line said, line and gas are put right once or twice, and what
is still left over is booked to gas and wall. So heat, carbon dioxide and water
close to rounding at every step.

Heat counts from 25 °C with water as steam, in joule; the gas itself stores none.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.chemistry import CARBON_DIOXIDE, WATER
from limekit.facts import fact
from limekit.kiln.charge import Charge
from limekit.kiln.gas import COLDEST, HOTTEST, heat_and_capacity, temperature_of
from limekit.kiln.wall_in_time import Wall
from limekit.stone.reduced import Stones

CLOSE = 0.1  # K, by which gas that pays the stones' true heat may miss the gas they took it from
MOST_TURNS = 4
MOST_UNITS = 50.0  # of heat transfer in a level, past which gas leaves it as hot as its stones
ALIKE = 0.1  # K, between two places in the gas that share one heat capacity
STILL = 1e-9  # mol/s of air that keep divisions sound where nothing flows
AIR = np.array([0.0, 0.0, float(fact("oxygen_in_air")), 1.0 - fact("oxygen_in_air")])


@dataclass(frozen=True)
class Flows:
    """What a step of some seconds moved, each of shape (members,); W, and mol/s of each part of the gas.

    Parameters
    ----------
    fire, flue : ndarray
        Heat in the gas that came in and that left.
    stones, wall : ndarray
        Heat taken, that of reactions and of drying with it.
    leaks : ndarray, shape (levels + 1, members)
        Heat that left the gas past the wall, by level.
    gas_in, gas_out : ndarray, shape (4, members)
    """

    fire: np.ndarray
    flue: np.ndarray
    stones: np.ndarray
    wall: np.ndarray
    leaks: np.ndarray
    gas_in: np.ndarray
    gas_out: np.ndarray


class Column:
    """Stones, wall and gas of a kiln, moved on by `step`. All figures in SI floats.

    Parameters
    ----------
    charge : Charge
    wall : Wall
        Of ``(levels + 1) × members`` levels, the hearth first, members side by side.
    air_temperature, start_temperature : float
        Outside and of the stone, K.
    air_pressure : float
        Pa.
    coefficient : float
        From gas to wall, W/m²K.

    Attributes
    ----------
    stones : Stones
        Of shape (levels, sizes, members).
    gas_temperature : ndarray, shape (levels + 1, members)
        Mean in the hearth and in each level over the last step; K.
    between : ndarray, shape (levels + 2, members)
        Of the gas as it comes into the hearth, and as it leaves the hearth and each level; K.
    """

    def __init__(
        self,
        charge: Charge,
        wall: Wall,
        air_temperature: float,
        start_temperature: float,
        air_pressure: float,
        coefficient: float = fact("heat_transfer_coefficient"),
    ) -> None:
        self.charge, self.wall, self.coefficient = charge, wall, coefficient
        self.air_temperature, self.air_pressure = air_temperature, air_pressure
        self.stones = Stones(charge.piece, start_temperature, charge.like)
        levels, members = charge.mass.shape[0], charge.members
        piece = charge.piece
        steam = fact("drying_heat") - fact("water_vaporisation_heat")
        faces = charge.mass[:, :, None] / (piece.density * piece.volume_by_face)
        self._films = (wall.face_area * coefficient).reshape(levels + 1, members)
        self._films[1:] += (faces * piece.heat_transfer_coefficient).sum(axis=1)
        latent = piece.water / piece.density * fact("drying_heat") + self.stones.warming.magnesia / piece.density
        self._by_burnt = latent + piece.carbonate / piece.density * fact("dissociation_heat_at_25")
        self._by_water = float(steam)
        self.gas_temperature = np.full((levels + 1, members), start_temperature)
        self.between = np.full((levels + 2, members), start_temperature)
        self._pressure = np.zeros((levels, members))
        self._released = np.zeros((4, levels, members))
        self._rising = np.zeros((levels, members))
        self._taking = np.ones((levels, members)), np.full((levels, members), start_temperature)
        self._taking_before, self._seconds, self._seconds_before = self._taking[1], 1.0, 1.0

    @property
    def stones_heat(self) -> np.ndarray:
        """Heat in the stones, with what burning and drying took up; J, shape (members,)."""
        water, _ = self.stones.gone
        return np.einsum("ls,lsm->m", self.charge.mass, self._heat_held - self._by_water * water)

    @property
    def _heat_held(self) -> np.ndarray:
        """As `Stones.heat_held`, with what burning took up, but for the warmth that steam carried off."""
        return self.stones.heat_held + self._by_burnt * self.stones.conversion

    def step(self, seconds: float, gas_in, fire_heat, leak) -> Flows:
        """Move on by a time in which gas of one make-up and heat comes in at the hearth.

        Parameters
        ----------
        seconds : float
        gas_in : ndarray, shape (4, members)
            mol/s of each part.
        fire_heat : ndarray, shape (members,)
            That the gas brings; W.
        leak : ndarray, shape (levels + 1, members)
            From gas to the air outside past the wall; W/K.

        Returns
        -------
        Flows
        """
        gas_in = gas_in + STILL * AIR[:, None]
        wall_takes, wall_level = (
            part.reshape(self.gas_temperature.shape) for part in self.wall.offer(self.coefficient, seconds)
        )
        takes, level = self._taking
        ahead = (seconds + self._seconds) / (self._seconds + self._seconds_before)
        level = level + ahead * (level - self._taking_before)
        before, held = vars(self.stones).copy(), self._heat_held
        coming = temperature_of(gas_in, fire_heat, self.between[0])
        for turn in range(MOST_TURNS):
            gas, capacity = self._rise(coming, gas_in, wall_takes, wall_level, takes, level, leak)
            taken = self.stones.step(seconds, gas[1:, None, :], self._pressure[:, None, :])
            heat = np.einsum("ls,lsm->lm", self.charge.mass, taken.heat) / seconds
            astray = heat - takes * (gas[1:] - level)
            takes = np.einsum("ls,lsm->lm", self.charge.mass, taken.response) / seconds
            level = gas[1:] - heat / takes
            wall_pays = wall_takes[1:] / (wall_takes[1:] + capacity[1:])
            self._account(held, taken, heat, seconds)
            if turn + 1 == MOST_TURNS or np.max(np.abs(astray) / (wall_takes[1:] + capacity[1:])) < CLOSE:
                break
            vars(self.stones).update(before)
        self._taking_before, self._taking = self._taking[1], (takes, level)
        self._seconds_before, self._seconds = self._seconds, seconds

        wall_heat = wall_takes * (gas - wall_level)
        wall_heat[1:] -= wall_pays * astray
        self.wall.absorb(wall_heat.ravel() * seconds, seconds)
        leaks = leak * (gas - self.air_temperature)
        stones = heat - self._rising
        lost = wall_heat + leaks
        lost[1:] += stones
        heats = np.concatenate([fire_heat[None], fire_heat - np.cumsum(lost, axis=0)])
        self._settle(gas_in, heats)
        self.gas_temperature = gas
        return Flows(fire_heat, heats[-1], stones.sum(axis=0), wall_heat.sum(axis=0), leaks, gas_in, self._gas[:, -1])

    def _rise(self, coming, gas_in, wall_takes, wall_level, takes, level, leak):
        """Return the mean temperature of the gas in hearth and levels, and its heat capacity as it comes into each."""
        gas = self._mixed(gas_in)
        heats, capacities = heat_and_capacity(self.between)
        fallen = self.between[:-1] - self.between[1:]
        alike = np.abs(fallen) < ALIKE
        molar = np.where(alike, capacities[:, :-1], (heats[:, :-1] - heats[:, 1:]) / np.where(alike, 1.0, fallen))
        entering = (gas[:, :-1] * molar).sum(axis=0)
        leaving = (gas[:, 1:] * capacities[:, 1:]).sum(axis=0)
        total = wall_takes + leak
        drawn = wall_takes * wall_level + leak * self.air_temperature
        total[1:] += takes
        drawn[1:] += takes * level
        own = drawn / total
        units = (self._films + leak) / entering
        near = 1.0 / units - 1.0 / np.expm1(np.minimum(units, MOST_UNITS))
        fall = total / (entering + total * (1.0 - near))
        mixed, brought = np.zeros_like(own), np.zeros_like(own)
        mixed[1:] = (self._released * capacities[:, 2:]).sum(axis=0) / leaving[1:]
        brought[1:] = (self._rising - (self._released * heats[:, 2:]).sum(axis=0)) / leaving[1:]
        slope = (1.0 - mixed) * (1.0 - fall)
        offset = (1.0 - mixed) * fall * own + mixed * self.between[1:] + brought
        between = np.empty_like(self.between)
        between[0] = coming
        for number in range(len(slope)):
            between[number + 1] = slope[number] * between[number] + offset[number]
        self.between = np.clip(between, COLDEST, HOTTEST)
        gas = own + (self.between[:-1] - own) * fall * entering / total
        return np.clip(gas, COLDEST, HOTTEST), entering

    def _mixed(self, gas_in) -> np.ndarray:
        gas = np.repeat(gas_in[:, None], len(self.between), axis=1)
        gas[:, 2:] += np.cumsum(self._released, axis=1)
        return gas

    def _account(self, held, taken, heat, seconds: float) -> None:
        """Note what gas the stones gave off, and the heat it carries: what they took and did not keep."""
        mass = self.charge.mass
        kept = self._heat_held - held - self._by_water * taken.water
        self._rising = heat - np.einsum("ls,lsm->lm", mass, kept) / seconds
        self._released[0] = np.einsum("ls,lsm->lm", mass, taken.carbon_dioxide) / (CARBON_DIOXIDE * seconds)
        self._released[1] = np.einsum("ls,lsm->lm", mass, taken.water) / (WATER * seconds)

    def _settle(self, gas_in, heats) -> None:
        """Note the gas between levels as the step left it, and the carbon dioxide the next step is to meet."""
        self._gas = gas = self._mixed(gas_in)
        molar, capacities = heat_and_capacity(self.between)
        change = (heats - (gas * molar).sum(axis=0)) / (gas * capacities).sum(axis=0)
        self.between = np.clip(self.between + change, COLDEST, HOTTEST)
        share = gas[0] / gas.sum(axis=0)
        self._pressure = 0.5 * self.air_pressure * (share[1:-1] + share[2:])
