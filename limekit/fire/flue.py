"""The gas a fire makes: how much, how hot, and what it is made of."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit import chemistry
from limekit.chemistry import WATER
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.fuel import FuelKind, air_demand, as_fired, fuels, grounds, lower_heating_value
from limekit.fire.gases import molar_heat
from limekit.units import MEGA, ZERO_CELSIUS, Kelvin, Share

COLDEST = 200.0
HOTTEST = 5000.0
CLOSE = 1e-6
ROUNDING = 1e-3
NITROGEN_TO_OXYGEN = (1.0 - fact("oxygen_in_air")) / fact("oxygen_in_air")


@dataclass(frozen=True)
class FlueGas:
    """The gas of a kilogram of fuel as it lies on the pile, burnt right through.

    The masses are kilograms a kilogram of fuel, the fractions by volume. The gas is wet, with
    the steam in it, unless the name says dry.
    """

    air_mass_ratio: Share
    gas_mass_ratio: Share
    gas_temperature: Kelvin
    co2_fraction: Share
    co2_fraction_dry: Share
    water_fraction: Share
    oxygen_fraction: Share
    nitrogen_fraction: Share
    cautions: tuple[str, ...] = ()
    basis: tuple[Ground, ...] = ()


def gas_moles(fuel: FuelKind, fuel_moisture: float, excess_air: float) -> dict[str, float]:
    """Return the moles of each part of the gas from a kilogram of fuel as it lies on the pile, burnt right through."""
    made_of = fuels()[fuel]
    dry, need = 1.0 - fuel_moisture, made_of.oxygen_need
    atoms, supplied = made_of.moles, need * (1.0 + excess_air)
    return {
        "co2": dry * atoms["carbon"],
        "h2o": dry * atoms["hydrogen"] / 2 + fuel_moisture / WATER,
        "so2": dry * atoms["sulphur"],
        "o2": dry * need * excess_air,
        "n2": dry * (supplied * NITROGEN_TO_OXYGEN + atoms["nitrogen"] / 2),
    }


def heat_content(moles: dict[str, float], temperature):
    """Return the heat above 25 °C in a gas given by the moles of its parts, in joule; arrays pass through."""
    return sum(amount * molar_heat(gas, temperature) for gas, amount in moles.items())


def _air(moles: float) -> dict[str, float]:
    return {"o2": moles, "n2": moles * NITROGEN_TO_OXYGEN}


def temperature_of(moles: dict[str, float], heat: float) -> float:
    """Return the temperature (K) at which a gas, by the moles of its parts, holds a given heat above 25 °C, J.

    A heat less than none, as cold air brings, gives a gas below 25 °C; one hotter than the gas data reach is refused.
    """
    low, high = COLDEST, HOTTEST
    before, now = heat_content(moles, low), heat_content(moles, high)
    if not before <= heat <= now:
        wanted = f"heat that leaves it between {low:.0f} and {high:.0f} K, as far as the gas data reach"
        raise InputError("gas temperature", f"{heat / MEGA:.3g} MJ in the gas of a kilogram of fuel", wanted)
    while abs(high - low) > CLOSE:
        low, high = high, high - (now - heat) * (high - low) / (now - before)
        before, now = now, heat_content(moles, high)
    return float(high)


def _cautions(gas_temperature: float) -> tuple[str, ...]:
    burns_from, falls_apart = chemistry.dissociation_temperature.plain(), fact("gas_dissociation_from")
    if gas_temperature < burns_from:
        return (
            f"At {gas_temperature - ZERO_CELSIUS:.0f} °C this gas can hardly burn limestone, which wants about "
            f"{burns_from - ZERO_CELSIUS:.0f} °C: drier fuel, less air or less loss.",
        )
    if gas_temperature > falls_apart:
        return (
            f"Past {falls_apart - ZERO_CELSIUS:.0f} °C carbon dioxide and steam begin to fall apart and take up heat: "
            "the true temperature is lower than this balance says.",
        )
    return ()


@edge
def combustion(
    fuel: FuelKind,
    fuel_moisture: Share | None = None,
    excess_air: Share = fact("excess_air"),
    air_temperature: Kelvin = fact("start_temperature"),
    heat_loss: Share = 0.0,
) -> FlueGas:
    """Burn a fuel right through and return the gas, from balances of mass and heat.

    Parameters
    ----------
    fuel : FuelKind
        One of `limekit.fuel_names`.
    fuel_moisture : Share, optional
        Water as a share of the wet mass. Without it, what the fuel usually holds: 0.20 for wood.
    excess_air : Share
        Air beyond the least that burns the fuel, as a share of it: 0 for none, 1 for twice the air.
    air_temperature : Kelvin
        Of the air as it reaches the fire; hot where it has cooled burnt lime on its way.
    heat_loss : Share
        Share of the fuel's lower heating value that leaves through walls and mouth before it
        heats the gas.

    Returns
    -------
    FlueGas
        With `gas_temperature` as the gas leaves the fire and before it meets stone.

    Raises
    ------
    InputError
        If the fuel is wetter than keeps its own fire.

    Notes
    -----
    Σ n h(T) = LHV (1 − heat_loss) + Σ n_air h(T_air), with the moles n of each gas and the heat h of a mole
    above 25 °C (`sensible_heat`). The air is dry; argon counts as nitrogen; ash takes no heat; nothing is
    left unburnt. Above about 1700 °C some carbon dioxide and steam fall apart, which takes up heat:
    there the true temperature is lower.

    Examples
    --------
    >>> gas = combustion("oak", fuel_moisture=0.2, excess_air=0.5)
    >>> print(f"{gas.gas_temperature:.0f~P}, {gas.co2_fraction:.3f~P} carbon dioxide")
    1457 °C, 0.120 carbon dioxide
    """
    said, fuel_moisture = grounds(fuel, fuel_moisture), as_fired(fuel, fuel_moisture)
    moles = gas_moles(fuel, fuel_moisture, excess_air)
    air = air_demand.plain(fuel, fuel_moisture) * (1.0 + excess_air)
    air_heat = heat_content(_air(air / fact("molar_mass_air") * fact("oxygen_in_air")), air_temperature)
    heat = lower_heating_value.plain(fuel, fuel_moisture) * (1.0 - heat_loss)
    gas_temperature = temperature_of(moles, heat + air_heat)
    volume = sum(moles.values())
    return FlueGas(
        air_mass_ratio=air,
        gas_mass_ratio=air + 1.0 - (1.0 - fuel_moisture) * fuels()[fuel].ash,
        gas_temperature=gas_temperature,
        co2_fraction=moles["co2"] / volume,
        co2_fraction_dry=moles["co2"] / (volume - moles["h2o"]),
        water_fraction=moles["h2o"] / volume,
        oxygen_fraction=moles["o2"] / volume,
        nitrogen_fraction=moles["n2"] / volume,
        cautions=_cautions(gas_temperature),
        basis=said,
    )


@edge
def excess_air_at(
    gas_temperature: Kelvin,
    fuel: FuelKind,
    fuel_moisture: Share | None = None,
    air_temperature: Kelvin = fact("start_temperature"),
    heat_loss: Share = 0.0,
) -> Share:
    """Return the excess air at which a fuel's gas is just so hot; the reverse of `combustion`.

    Parameters
    ----------
    gas_temperature : Kelvin
        Wanted as the gas leaves the fire. Arrays pass through.
    fuel, fuel_moisture, air_temperature, heat_loss
        As for `combustion`.

    Returns
    -------
    Share
        Air beyond the least that burns the fuel, as a share of it: any more, and the gas is cooler.

    Raises
    ------
    InputError
        If no such gas can be had: the air itself is hotter, or even without spare air the gas is
        cooler than that.

    Notes
    -----
    excess_air = (LHV (1 − heat_loss) + H_air(T_air) − H_gas(T))/(H_air(T) − H_air(T_air)), with the heats H above
    25 °C of the least air and of the gas it makes.

    Examples
    --------
    >>> print(f"{excess_air_at('900 degC', 'oak', fuel_moisture=0.2, heat_loss=0.2):.2f~P}")
    1.20
    """
    fuel_moisture = as_fired(fuel, fuel_moisture)
    hottest = combustion.plain(fuel, fuel_moisture, 0.0, air_temperature, heat_loss).gas_temperature
    if np.min(gas_temperature) <= air_temperature or np.max(gas_temperature) > hottest + ROUNDING:
        least, most = air_temperature - ZERO_CELSIUS, hottest - ZERO_CELSIUS
        asked = f"{np.max(gas_temperature) - ZERO_CELSIUS:.0f} °C from {fuels()[fuel].label}"
        wanted = f"more than the air's {least:.0f} °C and at most {most:.0f} °C, which it gives with no air to spare"
        raise InputError("gas_temperature", asked, wanted, 'gas_temperature="1000 degC"')
    lean, air = gas_moles(fuel, fuel_moisture, 0.0), _air((1.0 - fuel_moisture) * fuels()[fuel].oxygen_need)
    heat = lower_heating_value.plain(fuel, fuel_moisture) * (1.0 - heat_loss) + heat_content(air, air_temperature)
    spare = np.maximum(heat - heat_content(lean, gas_temperature), 0.0)
    return spare / (heat_content(air, gas_temperature) - heat_content(air, air_temperature))


@edge
def co2_max(fuel: FuelKind) -> Share:
    """Return the most carbon dioxide a fuel's dry gas can hold, by volume: that of no excess air.

    Parameters
    ----------
    fuel : FuelKind
        One of `limekit.fuel_names`.

    Returns
    -------
    Share
        Of the fuel alone: burning limestone adds its own.

    Notes
    -----
    co2_max = CO2/(CO2 + SO2 + N2), in moles of what the least air leaves of the dry fuel.

    Examples
    --------
    >>> print(f"{co2_max('oak'):.3f~P}")
    0.206
    """
    return combustion.plain(fuel, fuel_moisture=0.0, excess_air=0.0).co2_fraction_dry
