"""The fire: how much fuel is fed and burns, with how much air, and the gas that comes of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.facts import fact
from limekit.fire.flue import gas_moles
from limekit.fire.fuel import FuelKind, air_demand, lower_heating_value
from limekit.kiln.column.gas import AIR_SHARES, SPECIES, heat_and_capacity, temperature_of
from limekit.kiln.column.run import Feeding

AIR_MOLES = AIR_SHARES / fact("molar_mass_air")  # in a kilogram
FLAME = 1500.0  # K, where the search for a gas temperature starts


@dataclass(frozen=True, eq=False)
class BurntFuel:
    """A fuel as burnt in a kiln, by the kilogram: its lower heating value (J) and the least air (kg) that burns it.

    `gas` are the moles of each part of the gas where no air is left over, shape (4,); `air_heat` is what a kilogram of
    air brings above 25 °C (J).
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
class Stoker:
    """The one who feeds the fire and minds the air door.

    Parameters
    ----------
    fuel : BurntFuel
    excess_air : float or ndarray, optional
        That the air door is set for, in each of the kilns side by side. Without it the door stands open
        and all the air there is comes in.
    unburnt : float
        Share of the fuel's heat that leaves as smoke and embers.
    times, rates : sequence of float
        Fuel fed from each moment on (s, kg/s); none is as much as the draught and the arms can.
    most : float
        Fuel that the arms feed once the fire is full, where no rates are set; kg/s.
    heat_up_time : float
        In which the fire grows steadily from kindling to its full, s.
    quality : float or ndarray
        Factor on the fuel's heat.
    ample : bool
        Whether what is fed does burn, as in a log: then the draught did suffice.
    surplus : float
        Of what burns, the share that is fed besides where arms can spare it; it leaves as smoke and embers too.
    """

    fuel: BurntFuel
    excess_air: float | None
    unburnt: float
    times: tuple[float, ...] = ()
    rates: tuple[float, ...] = ()
    most: float = np.inf
    heat_up_time: float = 0.0
    quality: float = 1.0
    ample: bool = False
    surplus: float = 0.0

    @property
    def least_air(self) -> float:
        """Excess air below which the fire will not go."""
        return float(fact("excess_air").low if self.excess_air is None else self.excess_air)

    def wanted(self, time):
        """Return the fuel (kg/s) that would be fed at a time or times (s); infinite for all that can be."""
        if not self.times:
            return np.full(np.shape(time), np.inf)
        return np.append(0.0, self.rates)[np.searchsorted(self.times, time, side="right")]

    @property
    def last_fed(self) -> float:
        """The moment (s) from which no fuel is fed any more; infinite if none."""
        return self.times[-1] if self.times and not self.rates[-1] else np.inf

    def feeding(self, members: int) -> Feeding:
        """Return all this in numbers, for kilns side by side."""
        fuel, excess = self.fuel, self.least_air if self.excess_air is None else self.excess_air
        return Feeding(
            times=np.array(self.times, dtype=float),
            rates=np.array(self.rates, dtype=float),
            most=float(self.most),
            heat_up_time=float(self.heat_up_time),
            kindling_share=float(fact("kindling_share")),
            heat=float(fuel.heat),
            air=float(fuel.air),
            air_heat=float(fuel.air_heat),
            gas=tuple(fuel.gas.tolist()),
            air_moles=tuple(AIR_MOLES.tolist()),
            unburnt=float(self.unburnt),
            surplus=float(self.surplus),
            open_door=self.excess_air is None,
            ample=self.ample,
            excess_air=np.broadcast_to(np.asarray(excess, dtype=float), members).copy(),
            quality=np.broadcast_to(np.asarray(self.quality, dtype=float), members).copy(),
        )
