"""A flare kiln as a column: hearth and levels of stone, gas rising past them, a wall around them.

In a step each level's stones and wall take heat in proportion to how far the
gas is hotter than a temperature of their own, and the gas's way up past them
is a closed formula (`limekit.kiln.column.updraught`). The stones then take a step of
their own in that gas. Where they took another heat than their line said, line
and gas are put right once or twice, and the little that is then left over is
booked to gas and wall. So heat, carbon dioxide and water close to rounding at
every step.

Heat counts from 25 °C with water as steam, in joule; the gas itself stores none.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.chemistry import CARBON_DIOXIDE, MAGNESIUM_CARBONATE, WATER
from limekit.facts import fact
from limekit.kiln.column.charge import Charge
from limekit.kiln.column.gas import AIR_SHARES, temperature_of
from limekit.kiln.column.updraught import Updraught
from limekit.kiln.wall.in_time import Wall
from limekit.stone.front import GAS_CONSTANT
from limekit.stone.reduced import Stones, Taken

CLOSE = 0.5  # K, by which gas that pays the stones' true heat may miss the gas they took it from
MOST_TURNS = 6
FARTHEST = 2.0  # times the last change, that a line is foretold ahead
LEAST = 1e-12  # W/K, that keeps divisions sound where there is no stone and no wall
STILL = 1e-9  # mol/s of air that do so where nothing flows


@dataclass(frozen=True, eq=False)
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
    gas : Updraught
    gas_temperature : ndarray, shape (levels + 1, members)
        Mean in the hearth and in each level over the last step; K.
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
        levels, members, piece = len(charge.mass), charge.members, charge.piece
        self.gas = Updraught(levels, members, start_temperature)
        self.gas_temperature = np.full((levels + 1, members), start_temperature)
        self._co2_pressure = np.zeros((levels, members))
        porosity = fact("bed_porosity")
        self._gaps = (charge.mass.sum(axis=1) / piece.density * porosity / (1.0 - porosity))[:, None]
        areas = charge.mass[:, :, None] / (piece.density * piece.volume_by_face)
        self._faces = (wall.face_area * coefficient).reshape(levels + 1, members)
        self._faces[1:] += (areas * piece.heat_transfer_coefficient).sum(axis=1)
        latent = piece.water * fact("drying_heat") + self.stones.warming.magnesia
        self._by_burnt = (latent + piece.carbonate * fact("dissociation_heat_at_25")) / piece.density
        self._by_water = float(fact("drying_heat") - fact("water_vaporisation_heat"))
        self._line = self._faces[1:], np.full((levels, members), start_temperature)
        self._own_before = self._line[1]
        self._seconds = self._seconds_before = 1.0

    @property
    def stones_heat(self) -> np.ndarray:
        """Heat in the stones, with what burning and drying took up; J, shape (members,)."""
        water, _ = self.stones.gone
        return np.einsum("ls,lsm->m", self.charge.mass, self._heat_held - self._by_water * water)

    @property
    def burnt(self) -> tuple[np.ndarray, np.ndarray]:
        """Mean shares of the calcium carbonate and of the magnesium carbonate that have burnt, each (members,)."""
        piece, calcium = self.charge.piece, self.charge.mean(self.stones.conversion)
        gone = self.charge.mean(self.stones.gone[1]) - calcium * piece.carbonate / piece.density * CARBON_DIOXIDE
        magnesium = piece.magnesium_carbonate * CARBON_DIOXIDE / MAGNESIUM_CARBONATE
        return calcium, np.clip(gone / magnesium, 0.0, 1.0) if magnesium else np.ones_like(calcium)

    @property
    def _heat_held(self) -> np.ndarray:
        """As `Stones.heat_held`, with what burning took up, but for the warmth that steam carried off."""
        return self.stones.heat_held + self._by_burnt * self.stones.conversion

    def _by_level(self, values) -> np.ndarray:
        return np.einsum("ls,lsm->lm", self.charge.mass, values)

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
        gas_in, leak = gas_in + STILL * AIR_SHARES[:, None], leak + LEAST
        shape, before, held = self.gas_temperature.shape, vars(self.stones).copy(), self._heat_held
        wall_takes, wall_own = (part.reshape(shape) for part in self.wall.offer(self.coefficient, seconds))
        total = wall_takes + leak
        drawn = wall_takes * wall_own + leak * self.air_temperature
        coming = temperature_of(gas_in, fire_heat, self.gas.between[0])
        takes, own = self._foretell(seconds)
        for turn in range(MOST_TURNS):
            if turn:
                vars(self.stones).update(before)
            with_stones, drawn_by_all = total.copy(), drawn.copy()
            with_stones[1:] += takes
            drawn_by_all[1:] += takes * own
            level = drawn_by_all / with_stones
            gas, capacity = self.gas.rise(coming, gas_in, with_stones, level, self._faces + leak)
            taken = self.stones.step(seconds, gas[1:, None], self._co2_pressure[:, None])
            heat = self._by_level(taken.heat) / seconds
            astray = heat - takes * (gas[1:] - own)
            takes = np.maximum(self._by_level(taken.response) / seconds, LEAST)
            own = gas[1:] - heat / takes
            stones = self._release(held, taken, heat, seconds)

            grip = wall_takes[1:] + capacity[1:]
            wall, leaks = wall_takes * (gas - wall_own), leak * (gas - self.air_temperature)
            wall[1:] -= astray * wall_takes[1:] / grip
            lost = wall + leaks
            lost[1:] += stones
            heats = np.concatenate([fire_heat[None], fire_heat - np.cumsum(lost, axis=0)])
            shift = self.gas.settle(gas_in, heats)
            if max(np.max(np.abs(astray) / grip), shift) < CLOSE:
                break
        self.wall.absorb(wall.ravel() * seconds, seconds)
        self.gas_temperature = gas
        self._own_before, self._line = self._line[1], (takes, own)
        self._seconds_before, self._seconds = self._seconds, seconds
        flowing = self.gas.flowing(gas_in)
        self._freshen(flowing, seconds)
        return Flows(fire_heat, heats[-1], stones.sum(axis=0), wall.sum(axis=0), leaks, gas_in, flowing[:, -1])

    def _foretell(self, seconds: float) -> tuple[np.ndarray, np.ndarray]:
        """Return the stones' line over the next step, W/K and K, as the last two foretell it."""
        takes, own = self._line
        ahead = min((seconds + self._seconds) / (self._seconds + self._seconds_before), FARTHEST)
        return takes, own + ahead * (own - self._own_before)

    def _freshen(self, flowing, seconds: float) -> None:
        """Let the gas that flowed take the place of what lay in the gaps; in still gas the stones' own stays."""
        passed = flowing[:, 1:].sum(axis=0)
        share = flowing[0, 1:] / passed
        lying = self.air_pressure * self._gaps / (GAS_CONSTANT * self.gas_temperature[1:])
        kept = np.exp(-seconds * passed[1:] / np.maximum(lying, LEAST))
        fresh = 0.5 * self.air_pressure * (share[:-1] + share[1:])
        self._co2_pressure = fresh + kept * (self._co2_pressure - fresh)

    def _release(self, held, taken: Taken, heat, seconds: float) -> np.ndarray:
        """Give to the gas what the stones gave off, with its heat, and return what they kept of theirs; W."""
        kept = self._by_level(self._heat_held - held - self._by_water * taken.water) / seconds
        self.gas.brought = heat - kept
        self.gas.released[0] = self._by_level(taken.carbon_dioxide) / (CARBON_DIOXIDE * seconds)
        self.gas.released[1] = self._by_level(taken.water) / (WATER * seconds)
        return kept
