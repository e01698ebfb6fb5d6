"""The heat a charge of stone needs, and the fuel a kiln takes to give it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from limekit.balance import mass_balance
from limekit.chemistry import CALCIUM_OXIDE, MAGNESIUM_OXIDE
from limekit.edge import Ground, edge, rests_on
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import fact
from limekit.fire.fuel import FuelKind, grounds, lower_heating_value
from limekit.fire.gases import STANDARD, sensible_heat
from limekit.units import Joule, JoulePerKilogram, Kelvin, Kilogram, Share, Unit

KilnKind = Literal["flare", "shaft"]


@dataclass(frozen=True)
class HeatNeed:
    """Where the heat in a charge goes; ``heat_need`` is the other four together.

    Heat of reaction on the basis of 25 °C, the rest as heat content above 25 °C.
    """

    dissociation_heat: Joule
    solid_heat: Joule
    gas_heat: Joule
    drying_heat: Joule
    heat_need: Joule
    basis: tuple[Ground, ...] = ()


@dataclass(frozen=True)
class FuelDemand:
    """The fuel for a charge, at the kiln's likely efficiency and at the ends of its range."""

    fuel_mass: Annotated[Span, Unit("kg")]
    fuel_per_quicklime: Annotated[Span, Unit("")]
    efficiency: Annotated[Span, Unit("")]
    lower_heating_value: JoulePerKilogram
    dissociation_heat: Joule
    basis: tuple[Ground, ...] = ()


def _dissociation_heat(quicklime: float, magnesia: float) -> float:
    return quicklime / CALCIUM_OXIDE * fact("dissociation_heat_at_25") + magnesia / MAGNESIUM_OXIDE * fact(
        "magnesium_dissociation_heat_at_25"
    )


@edge
def stone_heat(
    stone: Kilogram,
    calcium_carbonate: Share,
    conversion: Share,
    magnesium_carbonate: Share = 0.0,
    conversion_of_magnesium: Share = 1.0,
    stone_moisture: Share = fact("stone_moisture"),
    charge_temperature: Kelvin = fact("charge_temperature"),
) -> HeatNeed:
    """Return the heat a charge of stone takes up on its way to lime.

    Parameters
    ----------
    stone, calcium_carbonate, conversion, magnesium_carbonate, conversion_of_magnesium, stone_moisture
        As for `mass_balance`.
    charge_temperature : Kelvin
        Level to which the charge is brought.

    Returns
    -------
    HeatNeed
        Some of `solid_heat` and `gas_heat` is won back where air meets hot lime and gas meets
        cold stone, so a kiln may need less; walls and chimney take more, so it needs more fuel.

    Notes
    -----
    heat_need = Σ n ΔH + (m_lime h_lime + m_core h_stone) (T − T0)/(T1 − T0) + m_CO2 h_CO2(T) + m_water r,
    with the moles burnt n and their heats of dissociation ΔH. The solids' heat contents h, from NASA's
    polynomials between T0 = 25 °C and the fact ``charge_temperature`` T1, are taken as even over that
    range. Inert matter counts as lime. The stone's steam is taken to leave cool.

    Examples
    --------
    >>> need = stone_heat(stone="1000 kg", calcium_carbonate=1.0, conversion=0.95)
    >>> print(f"{need.dissociation_heat:.0f~P} of {need.heat_need:.0f~P}")
    1692 MJ of 2573 MJ
    """
    balance = mass_balance.plain(
        stone,
        calcium_carbonate,
        conversion,
        magnesium_carbonate=magnesium_carbonate,
        conversion_of_magnesium=conversion_of_magnesium,
        stone_moisture=stone_moisture,
    )
    rise = (charge_temperature - STANDARD) / (fact("charge_temperature") - STANDARD)
    burnt = balance.quicklime + balance.magnesia + balance.inert_mass
    parts = {
        "dissociation_heat": _dissociation_heat(balance.quicklime, balance.magnesia),
        "solid_heat": rise * (burnt * fact("sensible_heat_lime") + balance.core * fact("sensible_heat_limestone")),
        "gas_heat": balance.carbon_dioxide * sensible_heat.plain("co2", charge_temperature),
        "drying_heat": balance.water_driven_off * fact("water_vaporisation_heat"),
    }
    return HeatNeed(**parts, heat_need=sum(parts.values()), basis=rests_on("dissociation_heat_at_25"))


@edge
def kiln_efficiency(
    quicklime: Kilogram, fuel_mass: Kilogram, heating_value: JoulePerKilogram, magnesia: Kilogram = 0.0
) -> Share:
    """Return how well a burn used its fuel: heat of dissociation over the fuel's lower heating value.

    Parameters
    ----------
    quicklime, magnesia : Kilogram
        The oxides made; not the core and inert matter drawn with them.
    fuel_mass : Kilogram
        All the fuel burnt, as it lay on the pile.
    heating_value : JoulePerKilogram
        Its lower heating value as fired.

    Returns
    -------
    Share
        Claims that count sensible heat or drying as useful run 1.1 to 1.3 times higher.

    Raises
    ------
    InputError
        If no fuel was burnt.

    Notes
    -----
    efficiency = Σ n ΔH/(fuel_mass · heating_value), with the moles n of lime and of magnesia made and the
    facts ``dissociation_heat_at_25`` and ``magnesium_dissociation_heat_at_25`` ΔH.

    Examples
    --------
    >>> print(f"{kiln_efficiency('900 kg', fuel_mass='1400 kg', heating_value='15.6 MJ/kg'):.2f~P}")
    0.13
    """
    if np.min(fuel_mass) <= 0.0:
        raise InputError("fuel_mass", "none", "all the fuel burnt", 'fuel_mass="1400 kg"')
    return _dissociation_heat(quicklime, magnesia) / (fuel_mass * heating_value)


@edge
def fuel_mass(
    quicklime: Kilogram, heating_value: JoulePerKilogram, efficiency: Share, magnesia: Kilogram = 0.0
) -> Kilogram:
    """Return the fuel that makes some quicklime at a given efficiency; the reverse of `kiln_efficiency`.

    Parameters
    ----------
    quicklime, magnesia, heating_value
        As for `kiln_efficiency`.
    efficiency : Share
        Heat of dissociation over the fuel's lower heating value.

    Notes
    -----
    fuel_mass = Σ n ΔH/(efficiency · heating_value), as in `kiln_efficiency`.
    """
    return _dissociation_heat(quicklime, magnesia) / (efficiency * heating_value)


def _spread(efficiency: float | None, kind: str) -> Span:
    published = fact(f"{kind}_efficiency")
    middle = published if efficiency is None else efficiency
    return Span(float(middle), min(published.low, middle), max(published.high, middle))


@edge
def fuel_demand(
    stone: Kilogram,
    calcium_carbonate: Share,
    conversion: Share,
    fuel: FuelKind = "oak",
    fuel_moisture: Share | None = None,
    efficiency: Share | None = None,
    kind: KilnKind = "flare",
    magnesium_carbonate: Share = 0.0,
    stone_moisture: Share = fact("stone_moisture"),
    heating_value: JoulePerKilogram | None = None,
) -> FuelDemand:
    """Return the fuel a charge of stone takes, with its range.

    Parameters
    ----------
    stone, calcium_carbonate, conversion, magnesium_carbonate
        As for `mass_balance`; the magnesium carbonate burns wholly.
    fuel : FuelKind
        One of `limekit.fuel_names`.
    fuel_moisture : Share, optional
        Water as a share of the fuel's wet mass. Without it, what the fuel usually holds: 0.20 for wood.
    efficiency : Share, optional
        Heat of dissociation over the fuel's lower heating value. Without one, what published
        kilns of the kind reached; the range is always theirs, widened to hold yours.
    kind : {"flare", "shaft"}
        Flare: fire below, stone above. Shaft: stone and fuel in layers, drawn below.
    stone_moisture : Share
        Water as a share of the stone's wet mass. Drying it is part of what the efficiency pays for.
    heating_value : JoulePerKilogram, optional
        The fuel's lower heating value as fired, where it was measured; it then stands for
        `fuel` and `fuel_moisture`.

    Raises
    ------
    InputError
        If nothing in the stone burns, or the fuel is wetter than keeps its own fire.

    Notes
    -----
    fuel_mass = Σ n ΔH/(efficiency · heating_value), as in `kiln_efficiency`, at each end of the efficiency.

    Examples
    --------
    >>> demand = fuel_demand("1000 kg", calcium_carbonate=1.0, conversion=0.95, heating_value="15.6 MJ/kg")
    >>> print(demand.fuel_mass)
    723 kg (362 kg to 1080 kg)
    """
    burnt_fuel = () if heating_value else grounds(fuel, fuel_moisture)
    if heating_value is None:
        heating_value = lower_heating_value.plain(fuel, fuel_moisture)
    balance = mass_balance.plain(
        stone, calcium_carbonate, conversion, magnesium_carbonate=magnesium_carbonate, stone_moisture=stone_moisture
    )
    if not balance.quicklime:
        raise InputError("stone", "a charge that gives no quicklime", "calcium_carbonate and conversion above 0")
    reached = _spread(efficiency, kind)
    heat = _dissociation_heat(balance.quicklime, balance.magnesia)
    burnt = Span(*(heat / (share * heating_value) for share in (reached.middle, reached.high, reached.low)))
    return FuelDemand(
        fuel_mass=burnt,
        fuel_per_quicklime=Span(*(mass / balance.quicklime for mass in (burnt.middle, burnt.low, burnt.high))),
        efficiency=reached,
        lower_heating_value=heating_value,
        dissociation_heat=heat,
        basis=burnt_fuel + rests_on("dissociation_heat_at_25", f"{kind}_efficiency"),
    )
