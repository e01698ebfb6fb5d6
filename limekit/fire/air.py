"""Air and gas as they flow: pressure at a height above the sea, density, viscosity."""

from __future__ import annotations

from limekit.edge import edge
from limekit.facts import fact
from limekit.units import Kelvin, KilogramPerCubicMetre, KilogramPerMole, Metre, Pascal, PascalSecond

GAS_CONSTANT = fact("gas_constant")
GRAVITY = fact("standard_gravity")
AIR = fact("molar_mass_air")


@edge
def air_pressure(altitude: Metre = 0.0) -> Pascal:
    """Return the usual pressure of the air at a height above the sea.

    Parameters
    ----------
    altitude : Metre
        Up to 5000 m. Weather moves the pressure by 3 % either way.

    Notes
    -----
    p = p0 (1 − L z/T0)^(g M/(R L)), eq. 33a of the U.S. Standard Atmosphere 1976, with the height z taken
    as geopotential.

    Examples
    --------
    >>> print(f"{air_pressure(altitude='1500 m'):.0f~P}")
    84556 Pa
    """
    lapse, sea_level = fact("standard_lapse"), fact("standard_sea_level_temperature")
    power = GRAVITY * AIR / (GAS_CONSTANT * lapse)
    return fact("standard_atmosphere") * (1.0 - lapse * altitude / sea_level) ** power


@edge
def gas_density(
    temperature: Kelvin, altitude: Metre = 0.0, gas_molar_mass: KilogramPerMole = AIR
) -> KilogramPerCubicMetre:
    """Return the density of a gas at the pressure of the air around.

    Parameters
    ----------
    temperature : Kelvin
        Of the gas. Arrays pass through.
    altitude : Metre
        Above the sea.
    gas_molar_mass : KilogramPerMole
        Air's by default. A kiln's gas with a quarter of carbon dioxide in it is about 8 % heavier.

    Notes
    -----
    ρ = p M/(R T), the ideal gas (eq. 42 of the U.S. Standard Atmosphere 1976), with p of `air_pressure`.

    Examples
    --------
    >>> print(f"{gas_density(temperature='20 degC'):.3f~P}")
    1.204 kg/m³
    """
    return air_pressure.plain(altitude) * gas_molar_mass / (GAS_CONSTANT * temperature)


@edge
def gas_viscosity(temperature: Kelvin) -> PascalSecond:
    """Return the viscosity of air, which stands for a kiln's gas within about 10 %.

    Parameters
    ----------
    temperature : Kelvin
        Arrays pass through.

    Notes
    -----
    μ = β T^1.5/(T + S), Sutherland's formula (eq. 51 of the U.S. Standard Atmosphere 1976), with its facts
    ``sutherland_factor`` β and ``sutherland_temperature`` S.
    """
    return fact("sutherland_factor") * temperature**1.5 / (temperature + fact("sutherland_temperature"))
