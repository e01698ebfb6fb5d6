"""A shaft kiln run from lighting until it stands still: stone and fuel sink, gas rises.

The shaft is cut into cells through which the stones pass at one pace. A step
lasts as long as a stone takes through one cell: in it every cell's stones take
heat and burn in their gas, fuel burns where it is hot enough and oxygen
reaches it, and then all sinks by one cell. The gas finds its temperatures
along the whole shaft at once, from what it meets: stones, wall, burning fuel,
and the glow that hot lumps pass up and down. The kiln's own way to a steady
fire is thus the iteration; it holds that fire if there is one, and goes out if
there is none. Many draws and fuel ratios run side by side.

All amounts go by the kilogram of dry stone charged. Heat counts from 25 °C
with water as steam; dissociation on the same basis.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass

import numpy as np
from scipy.linalg import solve_banded

from limekit.chemistry import ATMOSPHERE, CARBON_DIOXIDE, WATER
from limekit.facts import fact
from limekit.kiln.column.gas import COLDEST, HOTTEST, SPECIES, heat_and_capacity
from limekit.kiln.column.stoking import AIR_MOLES, BurntFuel
from limekit.stone.front import LAWS, Piece
from limekit.stone.moment import State
from limekit.stone.reduced import Stones

CO2, H2O, O2 = (SPECIES.index(part) for part in ("co2", "h2o", "o2"))
STEAM = float(fact("drying_heat") - fact("water_vaporisation_heat"))  # J/kg, with which a stone's steam joins the gas
LEAST_HEAT = 1000.0  # J/kg, against which heat counts where there is hardly any fuel
STEEPEST = 50.0  # power of e that a pace of burning may change by
STILL = 1e-9  # mol that keep divisions sound where there is no gas
IN_AIR = float(fact("oxygen_in_air"))
ACTIVATION = float(fact("fuel_activation_energy") / LAWS.gas_constant)  # K
STEP_MOST = 300.0  # K, by which gas may change in a step
LIGHTING = ((0.0, 0.08, 0.2, 0.35, 0.6, 1.0), (600.0, 1150.0, 1450.0, 1200.0, 500.0, 300.0))  # K by place, at first
FUEL_LIT = (0.08, 0.3)  # places between which the fuel is taken to burn at first
BALANCED = 1e-5  # of the fuel's heat, that may still go into warming the shaft
GAP = 0.05  # of that, by which the heat of the gas may be out
MOST_TURNS = 16  # times through the whole shaft


@dataclass(frozen=True, eq=False)
class Feed:
    """What is let down a shaft and how fast; arrays of shape (cases, 1), the rest floats in SI.

    Parameters
    ----------
    piece : Piece
        With `diameter` of shape (sizes,).
    shares : ndarray, shape (sizes,)
        Of the stone by mass.
    fuel : BurntFuel
    fuel_ratio : ndarray
        kg of fuel for each of dry stone.
    excess_air : float
    residence : ndarray
        s from top to draw.
    stone_flux : ndarray
        kg of dry stone through a square metre of the shaft in a second.
    height : float
        m.
    wall_loss : ndarray
        J for each kelvin by which the gas is hotter than the air, the whole wall together.
    air_temperature : float
        K; the stone comes in with it too.
    burns_from : float
        K, at which the fuel's own pace and the oxygen's way to it weigh alike.
    burn_out : float
        s, in which a hot lump burns away in pure air.
    """

    piece: Piece
    shares: np.ndarray
    fuel: BurntFuel
    fuel_ratio: np.ndarray
    excess_air: float
    residence: np.ndarray
    stone_flux: np.ndarray
    height: float
    wall_loss: np.ndarray
    air_temperature: float
    burns_from: float
    burn_out: float

    @property
    def air(self) -> np.ndarray:
        """Moles of each part of the air, shape (parts, cases, 1)."""
        return np.multiply.outer(AIR_MOLES * self.fuel.air * (1.0 + self.excess_air), self.fuel_ratio)

    @property
    def fuel_gas(self) -> np.ndarray:
        """What a kilogram of fuel adds to the gas as it burns, less the oxygen it takes; mol, shape (parts, 1, 1)."""
        return (self.fuel.gas - AIR_MOLES * self.fuel.air)[:, None, None]

    @property
    def heating(self) -> np.ndarray:
        """Heat of the fuel; J for each kilogram of dry stone."""
        return self.fuel.heat * self.fuel_ratio

    @property
    def dissociation(self) -> float:
        """Heat that burning all the calcium carbonate takes; J/kg."""
        return self.piece.carbonate / self.piece.density * fact("dissociation_heat_at_25")


@dataclass(frozen=True, eq=False)
class Exchange:
    """What a step moved in each cell, shape (cases, cells), by the kilogram of stone.

    Stones and wall took heat (J) from the gas, and would have taken `response` more (J/K) had it been hotter; carbon
    dioxide and water came from the stone (mol); a share of the fuel burnt.
    """

    stones: np.ndarray
    wall: np.ndarray
    response: np.ndarray
    carbon_dioxide: np.ndarray
    water: np.ndarray
    fuel: np.ndarray


class Sinking:
    """A shaft at work; `run` brings it to a steady fire.

    Attributes
    ----------
    stones : Stones
        Of shape (cases, cells, sizes), as they leave each cell, from the top down.
    gas_temperature : ndarray, shape (cases, cells)
        Of the gas as it leaves each cell; K.
    gas : ndarray, shape (parts, cases, cells + 1)
        Between the cells, flue first and air last; mol.
    fuel_left : ndarray, shape (cases, cells)
        Share of the fuel that leaves each cell.
    exchange : Exchange
        Of the last step.
    warming : ndarray, shape (cases, 1)
        Heat that the shaft and the fuel in it still take up, over the fuel's.
    """

    def __init__(self, feed: Feed, cells: int) -> None:
        self.feed, self.cells = feed, cells
        shape = (len(feed.fuel_ratio), cells)
        self._fresh = Stones(feed.piece, feed.air_temperature, np.zeros((shape[0], 1, len(feed.shares))))
        self.stones = Stones(feed.piece, feed.air_temperature, np.zeros((*shape, len(feed.shares))))
        drying, magnesia = feed.piece.water * fact("drying_heat"), self.stones.warming.magnesia
        self._by_burnt = (drying + magnesia) / feed.piece.density + feed.dissociation
        foot = np.arange(1, cells + 1) / cells
        self.gas_temperature = np.tile(np.interp(foot - 0.5 / cells, *LIGHTING), (shape[0], 1))
        self.fuel_left = np.tile(np.interp(foot, FUEL_LIT, (1.0, 0.0)), (shape[0], 1))
        self._note_gas(self._gas(-np.diff(self.fuel_left, prepend=1.0), np.zeros(shape), np.zeros(shape)))

    def run(self, most_turns: int = MOST_TURNS, balanced: float = BALANCED) -> None:
        """Hold a hot fire until stone has sunk right through it, then let it find its own place.

        It is done when no more than a share `balanced` of the fuel's heat goes into warming the shaft.
        """
        for _ in range(self.cells):
            self._sink()
            self._meet(self.stones, self.gas_temperature)
        for _ in range(most_turns):
            for _ in range(self.cells):
                self._sink()
                self.fuel_left = np.hstack((np.ones_like(self.fuel_left[:, :1]), self.fuel_left[:, :-1]))
                self._step()
            ledger, heat = self.ledger(), self.feed.heating + LEAST_HEAT
            self.warming = ledger["still warming"] / heat
            gap = (self.feed.heating - sum(ledger.values())) / heat
            if np.all(np.abs(self.warming) < balanced) and np.all(np.abs(gap) < GAP * balanced):
                break

    def _sink(self) -> None:
        """Let all stones sink by a cell; the lowest are drawn and fresh ones come on top.

        The pace of burning stays with the place: a stone there is foretold best by the one before it.
        """
        self.stones.state = State(
            *(
                values if "burn" in name else np.concatenate([fresh, values[:, :-1]], axis=1)
                for name, values, fresh in zip(State._fields, self.stones.state, self._fresh.state, strict=True)
            )
        )

    def _step(self) -> None:
        """Let gas and stones find each other while all pass a cell: the gas first, from what the stones would take."""
        foretold = copy.copy(self.stones)
        rise = self._gas_rise(self._meet(foretold, self.gas_temperature))
        burning = 0.5 * (self.stones.burning + foretold.burning)
        self.stones.state = self.stones.state._replace(burning=burning)
        self.gas_temperature = np.clip(self.gas_temperature + np.clip(rise, -STEP_MOST, STEP_MOST), COLDEST, HOTTEST)
        self.exchange = met = self._meet(self.stones, self.gas_temperature)
        self.fuel_left = self.fuel_left - met.fuel
        self._note_gas(self._gas(met.fuel, met.carbon_dioxide, met.water))

    def _meet(self, stones: Stones, level: np.ndarray) -> Exchange:
        """Let stones stand in gas of a temperature while they pass a cell."""
        feed, held = self.feed, self._held(stones)
        seconds = feed.residence / self.cells
        taken = stones.step(seconds[..., None], level[..., None], self._pressure[..., None])
        return Exchange(
            stones=(self._held(stones) - held - STEAM * taken.water) @ feed.shares,
            wall=feed.wall_loss / self.cells * (level - feed.air_temperature),
            response=taken.response @ feed.shares,
            carbon_dioxide=taken.carbon_dioxide @ feed.shares / CARBON_DIOXIDE,
            water=taken.water @ feed.shares / WATER,
            fuel=self._burn(level, seconds),
        )

    def _held(self, stones: Stones) -> np.ndarray:
        """Heat in stones, with what drying and burning took up; J/kg."""
        return stones.heat_held + self._by_burnt * stones.conversion

    def _burn(self, level: np.ndarray, seconds: np.ndarray) -> np.ndarray:
        """Return the share of the fuel that burns in each cell, oxygen coming up from below.

        A lump shrinks at a pace that goes by the oxygen x around it, so its cube root falls evenly:
        d(left^⅓)/dt = −(x/x_air)/(burn_out (1 + slow)), with slow = exp(E/R (1/T − 1/burns_from)).
        """
        feed, left = self.feed, self.fuel_left
        slow = np.exp(np.clip(ACTIVATION * (1.0 / level - 1.0 / feed.burns_from), -STEEPEST, STEEPEST))
        pace = self._oxygen / IN_AIR * seconds / (feed.burn_out * (1.0 + slow))
        by_oxygen = (left - np.maximum(np.cbrt(left) - pace, 0.0) ** 3) / (self._oxygen * self._total)
        takes = by_oxygen * feed.fuel_ratio * feed.fuel.air * AIR_MOLES[O2]
        reaching = feed.air[O2] * np.cumprod(1.0 / (1.0 + takes[:, ::-1]), axis=1)[:, ::-1]
        return np.minimum(by_oxygen * reaching, left)

    def _gas(self, fuel, carbon_dioxide, water) -> np.ndarray:
        """Return the gas between the cells from what joins it in each."""
        gas = self.feed.air + self.feed.fuel_gas * self.feed.fuel_ratio * _upward(fuel)
        gas[CO2] += _upward(carbon_dioxide)
        gas[H2O] += _upward(water)
        return np.maximum(gas, 0.0)

    def _note_gas(self, gas: np.ndarray) -> None:
        """Keep the gas, and what the next step's stones and fuel shall meet of it."""
        self.gas, total = gas, gas.sum(axis=0) + STILL
        share = gas[CO2] / total
        self._pressure = 0.5 * ATMOSPHERE * (share[:, :-1] + share[:, 1:])
        self._total = total[:, :-1]
        self._oxygen = np.maximum(gas[O2, :, :-1] / self._total, STILL)

    def _gas_rise(self, met: Exchange) -> np.ndarray:
        """Return the change of the gas's temperatures that makes the heat of every cell's gas come out even; K.

        One Newton step, all cells together, to H_in − H_out + Q_fuel − Q_stones − Q_wall + Q_glow = 0.
        """
        feed, level = self.feed, self.gas_temperature
        gas = self._gas(met.fuel, met.carbon_dioxide, met.water)
        heats, capacities = heat_and_capacity(self._between)
        heat, capacity = (gas * heats).sum(axis=0), (gas * capacities).sum(axis=0)
        glow = self._glow(capacity[:, 1:-1])
        shone = glow * np.diff(level)
        over = feed.heating * met.fuel - met.stones - met.wall + np.diff(heat)
        over[:, :-1] += shone
        over[:, 1:] -= shone
        own = capacity[:, :-1] + met.response + feed.wall_loss / self.cells
        own[:, :-1] += glow
        own[:, 1:] += glow
        below, above = np.zeros_like(level), np.zeros_like(level)
        below[:, :-1] = -capacity[:, 1:-1] - glow
        above[:, 1:] = -glow
        bands = np.zeros((3, level.size))
        bands[0, 1:], bands[1], bands[2, :-1] = below.ravel()[:-1], own.ravel(), above.ravel()[1:]
        return solve_banded((1, 1), bands, over.ravel()).reshape(level.shape)

    @property
    def _between(self) -> np.ndarray:
        foot = np.full_like(self.gas_temperature[:, :1], self.feed.air_temperature)
        return np.hstack((self.gas_temperature, foot))

    def _glow(self, capacity: np.ndarray) -> np.ndarray:
        """Return the heat that shines from a cell to the one above for each kelvin between them; J/K.

        Glow conducts as λ = 4 σ d T³/(2/ε − 1) between lumps of size d. Cells as such already blur the gas by
        half its capacity; only what glow and stir carry beyond is added.
        """
        feed = self.feed
        lump = feed.shares @ feed.piece.diameter
        level = 0.5 * (self.gas_temperature[:, 1:] + self.gas_temperature[:, :-1])
        conductivity = 4.0 * fact("stefan_boltzmann") * lump * level**3 / (2.0 / fact("stone_emissivity") - 1.0)
        mixing = fact("shaft_mixing") * lump * self.cells / feed.height
        return np.maximum(
            conductivity * self.cells / (feed.height * feed.stone_flux) + 0.5 * capacity * (mixing - 1.0), 0.0
        )

    def ledger(self) -> dict[str, np.ndarray]:
        """Return where the fuel's heat went in the last step; J for each kilogram of stone, shape (cases, 1).

        Heat in lime and gas counts over what stone and air brought in. In a steady shaft nothing
        is still warming.
        """
        feed, met, last = self.feed, self.exchange, (slice(None), -1)
        heats, _ = heat_and_capacity(self._between[:, [0, -1]])
        flue, air = np.moveaxis((self.gas[..., [0, -1]] * heats).sum(axis=0), -1, 0)[..., None]
        drawn, burnt = (self._held(self.stones)[last] - self._held(self._fresh)[last], self.stones.conversion[last])
        drawn, burnt, water, carbon_dioxide = (
            by_size @ feed.shares[:, None] for by_size in (drawn, burnt, *(gone[last] for gone in self.stones.gone))
        )
        magnesium = carbon_dioxide / CARBON_DIOXIDE - burnt * feed.piece.carbonate / feed.piece.density
        dissociation = burnt * feed.dissociation + magnesium * fact("magnesium_dissociation_heat_at_25")
        taken, lit = (by_cell.sum(axis=1, keepdims=True) for by_cell in (met.stones, met.fuel))
        left = self.fuel_left[:, -1:]
        return {
            "dissociation": dissociation,
            "drying": water * fact("water_vaporisation_heat"),
            "lime": drawn - dissociation - water * fact("drying_heat"),
            "top gas": flue - air,
            "wall": met.wall.sum(axis=1, keepdims=True),
            "unburnt fuel": feed.heating * left,
            "still warming": taken - drawn + STEAM * water + feed.heating * (1.0 - left - lit),
        }


def _upward(by_cell: np.ndarray) -> np.ndarray:
    """Return what has joined on the way up, between the cells: all of it at the flue, none at the foot."""
    joined = np.zeros((len(by_cell), by_cell.shape[1] + 1))
    np.cumsum(by_cell[:, ::-1], axis=1, out=joined[:, -2::-1])
    return joined
