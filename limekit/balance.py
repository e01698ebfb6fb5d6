"""From stone to putty, in kilograms: nothing is lost on the way."""

from __future__ import annotations

from dataclasses import dataclass

from limekit import chemistry
from limekit.chemistry import (
    CALCIUM_CARBONATE,
    CALCIUM_HYDROXIDE,
    CALCIUM_OXIDE,
    CARBON_DIOXIDE,
    MAGNESIUM_CARBONATE,
    MAGNESIUM_OXIDE,
)
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import LITRES, CubicMetre, Kilogram, KilogramPerCubicMetre, Share


@edge
def putty_solids(putty_density: KilogramPerCubicMetre) -> Share:
    """Return the hydrate in a putty, by mass, from the putty's density.

    Parameters
    ----------
    putty_density : KilogramPerCubicMetre
        Sieved high-calcium putty; from water's density up to the solid hydrate's.

    Notes
    -----
    1/ρ = w/ρ_hydrate + (1 − w)/ρ_water, without air or sand in the putty.

    Examples
    --------
    >>> print(putty_solids(putty_density="1.35 kg/L"))
    0.4683
    """
    water, hydrate = fact("water_density"), fact("hydrate_density")
    return (1.0 / water - 1.0 / putty_density) / (1.0 / water - 1.0 / hydrate)


@edge
def putty_density(putty_solids: Share) -> KilogramPerCubicMetre:
    """Return a putty's density from the share of hydrate in it; the reverse of `putty_solids`.

    Parameters
    ----------
    putty_solids : Share
        Hydrate over putty, by mass.

    Notes
    -----
    1/ρ = w/ρ_hydrate + (1 − w)/ρ_water, without air or sand in the putty.
    """
    return 1.0 / (putty_solids / fact("hydrate_density") + (1.0 - putty_solids) / fact("water_density"))


@dataclass(frozen=True)
class PuttyYield:
    """The putty that a weight of quicklime makes. ``putty = hydrate + putty_water``."""

    quicklime: Kilogram
    hydrate: Kilogram
    putty: Kilogram
    putty_water: Kilogram
    putty_volume: CubicMetre
    putty_solids: Share
    basis: tuple[Ground, ...] = ()


@edge
def putty_from_quicklime(
    quicklime: Kilogram, putty_density: KilogramPerCubicMetre = fact("putty_density")
) -> PuttyYield:
    """Return the putty that a weight of quicklime makes.

    Parameters
    ----------
    quicklime : Kilogram
        The calcium oxide that slakes; lime times its available share.
    putty_density : KilogramPerCubicMetre
        Of the putty wanted.

    Raises
    ------
    InputError
        If no mix of hydrate and water has that density.

    Notes
    -----
    hydrate = quicklime M(Ca(OH)2)/M(CaO), with molar masses M; putty = hydrate/w, with w of
    `putty_solids`; putty_volume = putty/putty_density.

    Examples
    --------
    >>> made = putty_from_quicklime(quicklime="1 kg", putty_density="1.35 kg/L")
    >>> print(f"{made.putty_volume:.2f~P}")
    2.09 l
    """
    solids = putty_solids.plain(putty_density)
    if not 0.0 < solids <= 1.0:
        got = f"{putty_density / LITRES:.2f} kg/L, which no mix of hydrate and water has"
        wanted = f"between {fact('water_density') / LITRES:.2f} and {fact('hydrate_density') / LITRES:.2f} kg/L"
        raise InputError("putty_density", got, wanted, 'putty_density="1.35 kg/L"')
    hydrate = quicklime * CALCIUM_HYDROXIDE / CALCIUM_OXIDE
    return PuttyYield(
        quicklime=quicklime,
        hydrate=hydrate,
        putty=hydrate / solids,
        putty_water=hydrate / solids - hydrate,
        putty_volume=hydrate / solids / putty_density,
        putty_solids=solids,
    )


@dataclass(frozen=True)
class MassBalance:
    """Where a charge of stone goes.

    ``stone = drawn + carbon_dioxide + water_driven_off``;
    ``drawn = quicklime + magnesia + core + inert_mass``;
    ``hydrate = quicklime + slaking_water``; ``putty = hydrate + putty_water``.
    """

    stone: Kilogram
    drawn: Kilogram
    quicklime: Kilogram
    magnesia: Kilogram
    core: Kilogram
    inert_mass: Kilogram
    carbon_dioxide: Kilogram
    carbon_dioxide_left: Share
    water_driven_off: Kilogram
    hydrate: Kilogram
    slaking_water: Kilogram
    putty: Kilogram
    putty_water: Kilogram
    putty_volume: CubicMetre
    putty_solids: Share
    basis: tuple[Ground, ...] = ()


@edge
def mass_balance(
    stone: Kilogram,
    calcium_carbonate: Share,
    conversion: Share,
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
    magnesium_carbonate: Share = 0.0,
    conversion_of_magnesium: Share = 1.0,
    stone_moisture: Share = fact("stone_moisture"),
) -> MassBalance:
    """Follow a charge of stone through fire and water.

    Parameters
    ----------
    stone : Kilogram
        As weighed, with its moisture.
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone.
    conversion, conversion_of_magnesium : Share
        Share of each carbonate that has burnt; magnesium carbonate burns first, so wholly.
    putty_density : KilogramPerCubicMetre
        Of the putty wanted.
    stone_moisture : Share
        Water as a share of the wet mass.

    Returns
    -------
    MassBalance
        All the quicklime is taken to slake and reach the putty; core, magnesia and inert matter
        are drawn but sieved out.

    Raises
    ------
    InputError
        If the carbonates come to more than the stone, or the putty would be drier than its hydrate.

    Notes
    -----
    quicklime = stone (1 − stone_moisture) CaCO3 conversion M(CaO)/M(CaCO3), and magnesia likewise; each
    mole burnt gives one of carbon dioxide. Molar masses M from the IUPAC/CIAAW standard atomic weights.

    Examples
    --------
    >>> balance = mass_balance(stone="1000 kg", calcium_carbonate=1.0, conversion=0.95, putty_density="1.35 kg/L")
    >>> print(f"{balance.drawn:.0f~P}, {balance.hydrate:.0f~P}, {balance.putty_volume:.0f~P}")
    582 kg, 703 kg, 1112 l
    """
    dry = stone * (1.0 - stone_moisture)
    inert_mass = dry * chemistry.inert.plain(calcium_carbonate, magnesium_carbonate)
    calcium_burnt = dry * calcium_carbonate * conversion / CALCIUM_CARBONATE
    magnesium_burnt = dry * magnesium_carbonate * conversion_of_magnesium / MAGNESIUM_CARBONATE
    calcium_raw = dry * calcium_carbonate * (1.0 - conversion)
    magnesium_raw = dry * magnesium_carbonate * (1.0 - conversion_of_magnesium)
    quicklime, magnesia = calcium_burnt * CALCIUM_OXIDE, magnesium_burnt * MAGNESIUM_OXIDE
    core = calcium_raw + magnesium_raw
    drawn = quicklime + magnesia + core + inert_mass
    gas_left = chemistry.loss_on_ignition.plain(calcium_raw / drawn, magnesium_raw / drawn)
    made = putty_from_quicklime.plain(quicklime, putty_density)
    return MassBalance(
        stone=stone,
        drawn=drawn,
        quicklime=quicklime,
        magnesia=magnesia,
        core=core,
        inert_mass=inert_mass,
        carbon_dioxide=(calcium_burnt + magnesium_burnt) * CARBON_DIOXIDE,
        carbon_dioxide_left=gas_left,
        water_driven_off=stone * stone_moisture,
        hydrate=made.hydrate,
        slaking_water=made.hydrate - quicklime,
        putty=made.putty,
        putty_water=made.putty_water,
        putty_volume=made.putty_volume,
        putty_solids=made.putty_solids,
    )
