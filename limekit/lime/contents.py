"""What stands in a slaking vessel: its mass, its heat, and what of it boils away.

Enthalpies count from 25 °C with heat capacities held constant, so that heat
and mass close to round-off.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass, replace

from limekit.chemistry import CALCIUM_OXIDE, WATER
from limekit.facts import fact

BOUND = WATER / CALCIUM_OXIDE  # kg of water a kg of CaO takes up
HEAT = fact("hydration_heat_calcium") / CALCIUM_OXIDE
DATUM = float(fact("standard_temperature"))
BOILING = fact("water_boiling_temperature")
VAPORISATION = float(fact("water_vaporisation_heat", "at_100"))
WATER_HELD, LIME_HELD, HYDRATE_HELD, RESIDUE_HELD = (
    float(fact(name, variant))
    for name, variant in (
        ("water_heat_capacity", None),
        ("lime_heat_capacity", "at_25"),
        ("hydrate_heat_capacity", None),
        ("stone_heat_capacity", "at_25"),
    )
)


@dataclass(frozen=True)
class Contents:
    """Kilograms in the vessel: free water, lime yet to slake, hydrate, and what never slakes."""

    water: float
    quicklime: float
    hydrate: float
    residue: float

    @property
    def heat_capacity(self) -> float:
        """In J/K, at 25 °C."""
        return (
            self.water * WATER_HELD
            + self.quicklime * LIME_HELD
            + self.hydrate * HYDRATE_HELD
            + self.residue * RESIDUE_HELD
        )

    @classmethod
    def lime(cls, lime_charge: float, available_lime: float) -> Contents:
        """Return dry lime, by the share of it that slakes."""
        quicklime = lime_charge * available_lime
        return cls(water=0.0, quicklime=quicklime, hydrate=0.0, residue=lime_charge - quicklime)

    def __add__(self, other: Contents) -> Contents:
        return Contents(*(mine + theirs for mine, theirs in zip(astuple(self), astuple(other), strict=True)))

    def enthalpy(self, temperature: float) -> float:
        """Return the heat it holds above 25 °C, with what slaking has still to give."""
        return self.heat_capacity * (temperature - DATUM) + self.quicklime * HEAT

    def level(self, enthalpy: float) -> float:
        """Return its temperature for the heat it holds, were nothing to boil; the reverse of `enthalpy`."""
        return DATUM + (enthalpy - self.quicklime * HEAT) / self.heat_capacity

    def slaked(self, share: float) -> Contents:
        """Slake a share of the lime, as far as the water goes."""
        lime = min(self.quicklime * share, self.water / BOUND)
        return Contents(
            water=max(self.water - lime * BOUND, 0.0),
            quicklime=self.quicklime - lime,
            hydrate=self.hydrate + lime * (1.0 + BOUND),
            residue=self.residue,
        )

    def at(self, enthalpy: float, boiling: float) -> tuple[Contents, float, float]:
        """Return what is left, its temperature and the steam gone, for the heat it holds."""
        temperature = self.level(enthalpy)
        if temperature <= boiling:
            return self, temperature, 0.0
        steam = min((enthalpy - self.enthalpy(boiling)) / VAPORISATION, self.water)
        left = replace(self, water=self.water - steam)
        hotter = left.level(enthalpy - steam * steam_enthalpy(boiling))
        return left, hotter if left.water == 0.0 else boiling, steam


def steam_enthalpy(boiling: float) -> float:
    """Return the heat a kilogram of steam carries away above water at 25 °C."""
    return WATER_HELD * (boiling - DATUM) + VAPORISATION
