"""The fire: how much fuel is fed and burns, with how much air, and the gas that comes of it."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

import numpy as np

from limekit.facts import fact
from limekit.fire.flue import gas_moles
from limekit.fire.fuel import FuelKind, air_demand, lower_heating_value
from limekit.kiln.column.gas import AIR_SHARES, SPECIES, heat_and_capacity, temperature_of

AIR_MOLES = AIR_SHARES / fact("molar_mass_air")  # in a kilogram
FLAME = 1500.0  # K, where the search for a gas temperature starts


@dataclass(frozen=True, eq=False)
class BurntFuel:
    """A fuel as it is burnt in a kiln, by the kilogram.

    Parameters
    ----------
    heat : float
        Lower heating value, J/kg.
    air : float
        Least air, kg/kg.
    gas : ndarray, shape (4,)
        Moles of each part of the gas where no air is left over.
    air_heat : float
        Heat that a kilogram of air brings, above 25 °C; J/kg.
    """

    heat: float
    air: float
    gas: np.ndarray
    air_heat: float

    @classmethod
    def of(cls, fuel: FuelKind, fuel_moisture: float, air_temperature: float) -> BurntFuel:
        """Return a fuel of some moisture, burnt in air of a temperature (K)."""
        moles = gas_moles(fuel, fuel_moisture, 0.0)
        gas = np.array([moles[part] for part in SPECIES])
        gas[SPECIES.index("n2")] += moles["so2"]
        molar, _ = heat_and_capacity(np.array(air_temperature))
        return cls(
            heat=lower_heating_value.plain(fuel, fuel_moisture),
            air=air_demand.plain(fuel, fuel_moisture),
            gas=gas,
            air_heat=float(AIR_MOLES @ molar),
        )

    def excess_air(self, temperature: float) -> float:
        """Return the excess air with which the gas comes out at a temperature (K); below 0 if it cannot be so hot."""
        molar, _ = heat_and_capacity(np.array(temperature))
        spare = self.heat + self.air * self.air_heat - self.gas @ molar
        return float(spare / (self.air * (AIR_MOLES @ molar - self.air_heat)))

    def temperature(self, excess_air: float) -> float:
        """Return the temperature (K) of the gas with some excess air; the reverse of `excess_air`."""
        heat = self.heat + self.air * (1.0 + excess_air) * self.air_heat
        return float(temperature_of(self.gas + excess_air * self.air * AIR_MOLES, heat, np.array(FLAME)))


@dataclass(frozen=True, eq=False)
class Blaze:
    """What burns in a moment, by member: kg/s of fuel fed and of air, mol/s of gas, W in the gas, W in the fuel."""

    fed: np.ndarray
    air: np.ndarray
    gas: np.ndarray
    heat: np.ndarray
    unburnt: np.ndarray


@dataclass(frozen=True)
class Stoker:
    """The one who feeds the fire and minds the air door.

    Parameters
    ----------
    fuel : BurntFuel
    excess_air : float, optional
        That the air door is set for. Without it the door stands open and all the air there is comes in.
    unburnt : float
        Share of the fuel's heat that leaves as smoke and embers.
    times, rates : sequence of float
        Fuel fed from each moment on (s, kg/s); none is as much as the draught can burn.
    heat_up_time : float
        In which the fire grows steadily from kindling to what the draught can burn, s.
    """

    fuel: BurntFuel
    excess_air: float | None
    unburnt: float
    times: tuple[float, ...] = ()
    rates: tuple[float, ...] = ()
    heat_up_time: float = 0.0

    @property
    def least_air(self) -> float:
        """Excess air below which the fire will not go."""
        return float(fact("excess_air").low if self.excess_air is None else self.excess_air)

    def wanted(self, time: float) -> float:
        """Return the fuel (kg/s) that would be fed at a time (s); infinite for all that can burn."""
        place = bisect_right(self.times, time)
        return self.rates[place - 1] if place else (0.0 if self.times else np.inf)

    @property
    def last_fed(self) -> float:
        """The moment (s) from which no fuel is fed any more; infinite if none."""
        return self.times[-1] if self.times and not self.rates[-1] else np.inf

    def next_change(self, time: float) -> float:
        """Return the next moment (s) after a time at which another rate is fed; infinite if none."""
        place = bisect_right(self.times, time)
        return self.times[place] if place < len(self.times) else np.inf

    def stoke(self, time: float, draught) -> Blaze:
        """Return the fire at a time (s) with so much air at hand, kg/s of shape (members,)."""
        fuel, kept = self.fuel, 1.0 - self.unburnt
        least = fuel.air * (1.0 + self.least_air)
        grown = np.clip(time / self.heat_up_time, fact("kindling_share"), 1.0) if self.heat_up_time else 1.0
        burnt = np.minimum(kept * self.wanted(time), grown * draught / least)
        air = draught if self.excess_air is None else burnt * least
        spare = air - burnt * fuel.air
        return Blaze(
            fed=burnt / kept,
            air=air,
            gas=np.multiply.outer(fuel.gas, burnt) + np.multiply.outer(AIR_MOLES, spare),
            heat=burnt * fuel.heat + air * fuel.air_heat,
            unburnt=burnt / kept * self.unburnt * fuel.heat,
        )
