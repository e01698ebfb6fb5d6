"""How long one stone must burn, and what a fire of a given length does to it."""

from __future__ import annotations

from typing import Literal

from limekit.edge import edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.stone import quasi_steady
from limekit.stone.front import Piece, Shape, gas_pressure, threshold
from limekit.units import (
    Kelvin,
    KilogramPerCubicMetre,
    Metre,
    MetrePerSecond,
    Second,
    Share,
    SquareMetrePerSecond,
    Unit,
    WattPerMetreKelvin,
    WattPerSquareMetreKelvin,
    from_si,
)


def _refuse_cold_gas(gas_temperature: float, co2_fraction: float) -> None:
    needed = float(threshold(gas_pressure(co2_fraction)))
    if gas_temperature <= needed:
        shown, level = (from_si(value, Unit("K", "level"), "degC").magnitude for value in (gas_temperature, needed))
        raise InputError(
            "gas_temperature",
            f"{shown:.0f} °C, {needed - gas_temperature:.0f} K below the dissociation temperature "
            f"for gas with {100 * co2_fraction:.0f} % carbon dioxide, so the stone never burns",
            f"gas above {level:.0f} °C, by a hotter fire, or less carbon dioxide, by more air or draught",
            f'gas_temperature="{10 * (level // 10) + 60:.0f} degC"',
        )


@edge
def burning_time(
    diameter: Metre,
    gas_temperature: Kelvin,
    co2_fraction: Share = fact("co2_fraction"),
    conversion: Share = 0.99,
    reaction_coefficient: MetrePerSecond = fact("reaction_coefficient"),
    lime_conductivity: WattPerMetreKelvin = fact("lime_conductivity"),
    co2_diffusivity: SquareMetrePerSecond = fact("co2_diffusivity"),
    heat_transfer_coefficient: WattPerSquareMetreKelvin = fact("heat_transfer_coefficient"),
    density: KilogramPerCubicMetre = fact("stone_density"),
    carbonate_fraction: Share = fact("carbonate_fraction"),
    gas_film_coefficient: MetrePerSecond | None = None,
    shape: Shape = "sphere",
    model: Literal["quasi_steady"] = "quasi_steady",
) -> Second:
    """Return the time a piece needs in hot gas to burn to a conversion."""
    _refuse_cold_gas(gas_temperature, co2_fraction)
    piece = Piece(
        diameter=diameter,
        heat_transfer_coefficient=heat_transfer_coefficient,
        lime_conductivity=lime_conductivity,
        co2_diffusivity=co2_diffusivity,
        reaction_coefficient=reaction_coefficient,
        gas_film_coefficient=gas_film_coefficient or float("inf"),
        density=density,
        carbonate_fraction=carbonate_fraction,
        shape=shape,
    )
    return quasi_steady.time_to(piece, gas_temperature, gas_pressure(co2_fraction), conversion)
