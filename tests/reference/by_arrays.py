"""A flare kiln's column, its gas and its run by whole arrays: slow, and what the kit's compiled loops are held against.

It shares with them the stone's own step (`limekit.stone.reduced`, one text for both), the wall, the air way and
the gas's table, and nothing else.
"""

from __future__ import annotations

import copy
import math
from bisect import bisect_right
from dataclasses import dataclass

import numpy as np

from limekit.chemistry import CARBON_DIOXIDE, WATER
from limekit.facts import fact
from limekit.fire.air_way import AirWay, Breath
from limekit.kiln.column.charge import Charge
from limekit.kiln.column.gas import AIR_SHARES, COLDEST, HOTTEST, MASSES, heat_and_capacity
from limekit.kiln.column.stoking import AIR_MOLES, Stoker
from limekit.kiln.wall.in_time import Wall
from limekit.stone.front import LAWS
from limekit.stone.reduced import FRONT_TOLERANCE, Stones, Taken

MOST_TURNS = 6
FARTHEST = 2.0
LEAST = 1e-12
STILL = 1e-9
ALIKE = 0.1
MOST_UNITS = 50.0
SHORTEST, LONGEST, LADDER = 15.0, 1200.0, 2.0**0.25
LEAST_STEP = 1.0
GAS_CHANGE, STONE_CHANGE, FRONT_CHANGE = 12.0, 20.0, 0.04
GROWTH, SHRINK = 2.0, 0.3
HEAT_TURNS = 50


def temperature_of(gas, heat, guess, close):
    """Return the temperature (K) at which a gas carries a heat above 25 °C."""
    level, still = guess, gas.sum(axis=0) <= 0.0
    for _ in range(HEAT_TURNS):
        heats, capacities = heat_and_capacity(level)
        capacity = (gas * capacities).sum(axis=0)
        change = np.where(still, 0.0, (heat - (gas * heats).sum(axis=0)) / np.where(still, 1.0, capacity))
        level = np.clip(level + change, COLDEST, HOTTEST)
        if np.max(np.abs(change)) < close:
            break
    return level


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
    """Stones, wall and gas of a kiln, moved on by `step`; made as `limekit.kiln.column.column.Column`."""

    def __init__(
        self,
        charge: Charge,
        wall: Wall,
        air_temperature: float,
        start_temperature: float,
        air_pressure: float,
        coefficient: float = fact("heat_transfer_coefficient"),
        close=(0.5, 0.01, FRONT_TOLERANCE),
    ) -> None:
        self.close, self.front_close = close[:2], close[2]
        self.charge, self.wall, self.coefficient = charge, wall, coefficient
        self.air_temperature, self.air_pressure = air_temperature, air_pressure
        self.stones = Stones(charge.piece, start_temperature, charge.like)
        levels, members, piece = len(charge.mass), charge.members, charge.piece
        self.gas = Updraught(levels, members, start_temperature)
        self.gas_temperature = np.full((levels + 1, members), start_temperature)
        self._co2_pressure = np.zeros((levels, members))
        porosity = charge.porosity
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
        shape, before, held = self.gas_temperature.shape, self.stones.state, self._heat_held
        wall_takes, wall_own = (part.reshape(shape) for part in self.wall.offer(self.coefficient, seconds))
        total = wall_takes + leak
        drawn = wall_takes * wall_own + leak * self.air_temperature
        coming = temperature_of(gas_in, fire_heat, self.gas.between[0], self.close[1])
        takes, own = self._foretell(seconds)
        for turn in range(MOST_TURNS):
            if turn:
                self.stones.state = before
            with_stones, drawn_by_all = total.copy(), drawn.copy()
            with_stones[1:] += takes
            drawn_by_all[1:] += takes * own
            level = drawn_by_all / with_stones
            gas, capacity = self.gas.rise(coming, gas_in, with_stones, level, self._faces + leak)
            taken = self.stones.step(seconds, gas[1:, None], self._co2_pressure[:, None], self.front_close)
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
            if max(np.max(np.abs(astray) / grip), shift) < self.close[0]:
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
        lying = self.air_pressure * self._gaps / (LAWS.gas_constant * self.gas_temperature[1:])
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


@dataclass(frozen=True, eq=False)
class Fire:
    """What burns in a moment, by member: kg/s of fuel fed and of air, mol/s of gas, W in the gas, W in the fuel."""

    fed: np.ndarray
    air: np.ndarray
    gas: np.ndarray
    heat: np.ndarray
    unburnt: np.ndarray


def wanted(stoker, time: float) -> float:
    """Return the fuel (kg/s) that would be fed at a time (s); infinite for all that can burn."""
    place = bisect_right(stoker.times, time)
    return stoker.rates[place - 1] if place else (0.0 if stoker.times else np.inf)


def next_change(stoker, time: float) -> float:
    """Return the next moment (s) after a time at which another rate is fed; infinite if none."""
    place = bisect_right(stoker.times, time)
    return stoker.times[place] if place < len(stoker.times) else np.inf


def stoke(stoker: Stoker, time: float, draught) -> Fire:
    """Return the fire at a time (s) with so much air at hand, kg/s of shape (members,)."""
    fuel, kept = stoker.fuel, 1.0 - stoker.unburnt
    excess = stoker.least_air if stoker.excess_air is None else stoker.excess_air
    least = fuel.air * (1.0 + excess)
    grown = np.clip(time / stoker.heat_up_time, fact("kindling_share"), 1.0) if stoker.heat_up_time else 1.0
    burnt = kept * wanted(stoker, time) + 0.0 * draught
    if not stoker.ample:
        burnt = np.minimum(burnt, grown * draught / least)
    air = draught if stoker.excess_air is None else burnt * least
    spare = air - burnt * fuel.air
    fed = burnt / kept
    if not stoker.ample:
        fed = np.minimum(fed * (1.0 + stoker.surplus), wanted(stoker, time))
    return Fire(
        fed=fed,
        air=air,
        gas=np.multiply.outer(fuel.gas, burnt) + np.multiply.outer(AIR_MOLES, spare),
        heat=burnt * fuel.heat * stoker.quality + air * fuel.air_heat,
        unburnt=(fed - burnt) * fuel.heat,
    )


@dataclass(frozen=True, eq=False)
class Moment:
    """A kiln at the end of a step, with fire and flows during it; else as `limekit.kiln.column.run.Moments` tells it."""

    time: float
    fire: Fire
    flows: Flows
    gas_temperature: np.ndarray
    flue_temperature: np.ndarray
    stone_temperature: np.ndarray
    lime_temperature: np.ndarray
    conversion: np.ndarray
    burnt: np.ndarray


class Burn:
    """A kiln with its fire lit, moved on by `run`; made as `limekit.kiln.column.burn.Burn`."""

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

    @classmethod
    def like(cls, burn, close=(0.5, 0.01, FRONT_TOLERANCE)) -> Burn:
        """Return kilns as those of `limekit.kiln.column.burn.Burn`, with their fires just lit."""
        was, air = burn.column, burn.column.air_temperature
        column = Column(was.charge, copy.deepcopy(was.wall), air, air, was.air_pressure, was.coefficient, close)
        column._faces = was.kiln.faces.copy()
        column._line = column._faces[1:], column._line[1]
        return cls(column, burn.way, burn.stoker, burn.damper, burn.mouth, burn.cover, burn.pace)

    def breathe(self) -> Breath:
        """Return the air that the kiln could draw as it is, and what holds it back."""
        column, state = self.column, (self._gas_to_air, self.damper, self._hearth)
        return self.way.breathe(column.gas_temperature[1:], column.gas.between[-1], column.air_temperature, *state)

    def run(self, until: float, conversion: float = np.inf) -> None:
        """Go on until a time (s since lighting), or until the slowest member has burnt to a mean conversion.

        Parameters
        ----------
        until, conversion : float
        """
        while self.clock < until and self.burnt.min() < conversion:
            left = (conversion - self.burnt.min()) / self.pace_of_burning if self.pace_of_burning > 0.0 else np.inf
            change = min(until, next_change(self.stoker, self.clock)) - self.clock
            self._step(min(self.seconds, max(left, LEAST_STEP), change))

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
        fire = stoke(self.stoker, self.clock + 0.5 * seconds, self._draught(seconds))
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

    def _note(self, fire: Fire, flows: Flows, seconds: float) -> None:
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
