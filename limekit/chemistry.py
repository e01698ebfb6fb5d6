"""Limestone, lime and water: proportions, the balance with the gas, heats."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import GRAMS, JoulePerMole, Kelvin, Kilogram, Pascal, Share

CALCIUM, MAGNESIUM = fact("atomic_weight_calcium"), fact("atomic_weight_magnesium")
CARBON, HYDROGEN, OXYGEN = fact("atomic_weight_carbon"), fact("atomic_weight_hydrogen"), fact("atomic_weight_oxygen")

CARBON_DIOXIDE = CARBON + 2 * OXYGEN
WATER = 2 * HYDROGEN + OXYGEN
CALCIUM_OXIDE = CALCIUM + OXYGEN
CALCIUM_CARBONATE = CALCIUM_OXIDE + CARBON_DIOXIDE
CALCIUM_HYDROXIDE = CALCIUM_OXIDE + WATER
MAGNESIUM_OXIDE = MAGNESIUM + OXYGEN
MAGNESIUM_CARBONATE = MAGNESIUM_OXIDE + CARBON_DIOXIDE
ATMOSPHERE = fact("standard_atmosphere")
LEAST_CARBONATE = 0.01  # share of the dry stone below which no burning is reckoned

DissociationSource = Literal["hill_winter_1956", "silcox_1989", "baker_1962"]


@dataclass(frozen=True)
class Composition:
    """What a stone is made of, in shares of its dry mass, with its moisture on the wet mass."""

    calcium_carbonate: Share
    magnesium_carbonate: Share
    inert: Share
    stone_moisture: Share
    loss_on_ignition: Share
    basis: tuple[Ground, ...] = ()


@edge
def inert(calcium_carbonate: Share, magnesium_carbonate: Share = 0.0) -> Share:
    """Return the clay and other inert share of the dry stone.

    Parameters
    ----------
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone, 0 to 1.

    Raises
    ------
    InputError
        If the carbonates come to more than the whole stone.

    Notes
    -----
    inert = 1 − CaCO3 − MgCO3.
    """
    rest = 1.0 - calcium_carbonate - magnesium_carbonate
    if np.min(rest) < -1e-9:
        got = f"carbonates that come to {1.0 - np.min(rest):.3g} of the dry stone"
        wanted = "calcium_carbonate + magnesium_carbonate of 1 at most"
        raise InputError("composition", got, wanted, "calcium_carbonate=0.95, magnesium_carbonate=0.02")
    return max(rest, 0.0) if isinstance(rest, float) else np.maximum(rest, 0.0)


def refuse_unburnable(calcium_carbonate, magnesium_carbonate=0.0) -> None:
    """Raise `InputError` for shares of a dry stone that come to too much, or hardly hold calcium carbonate."""
    inert.plain(calcium_carbonate, magnesium_carbonate)
    if np.min(calcium_carbonate) < LEAST_CARBONATE:
        got = f"{np.min(calcium_carbonate):.3g} of the dry stone"
        wanted = f"a stone that can be burnt to lime, of {LEAST_CARBONATE:g} at least"
        raise InputError("calcium_carbonate", got, wanted, "calcium_carbonate=0.95")


@edge
def loss_on_ignition(calcium_carbonate: Share, magnesium_carbonate: Share = 0.0) -> Share:
    """Return the loss on full burning as a share of the dry stone.

    Parameters
    ----------
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone, 0 to 1.

    Returns
    -------
    Share
        0 to 0.522; carbon dioxide only. Clay also loses a little bound water, which is not counted.

    Raises
    ------
    InputError
        If the carbonates come to more than the whole stone.

    Notes
    -----
    loss = M(CO2) (CaCO3/M(CaCO3) + MgCO3/M(MgCO3)), of shares by mass. The molar masses M are sums of
    the IUPAC/CIAAW standard atomic weights, so every balance closes.

    Examples
    --------
    >>> print(loss_on_ignition(calcium_carbonate=1.0))
    0.4397
    """
    inert.plain(calcium_carbonate, magnesium_carbonate)
    return CARBON_DIOXIDE * (calcium_carbonate / CALCIUM_CARBONATE + magnesium_carbonate / MAGNESIUM_CARBONATE)


@edge
def composition(
    calcium_carbonate: Share, magnesium_carbonate: Share = 0.0, stone_moisture: Share = fact("stone_moisture")
) -> Composition:
    """Return a stone's composition with its inert share and its loss on ignition.

    Parameters
    ----------
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone, 0 to 1.
    stone_moisture : Share
        Water as a share of the wet mass.

    Raises
    ------
    InputError
        If the carbonates come to more than the whole stone.

    Notes
    -----
    inert = 1 − CaCO3 − MgCO3; the loss is that of `loss_on_ignition`.
    """
    return Composition(
        calcium_carbonate=calcium_carbonate,
        magnesium_carbonate=magnesium_carbonate,
        inert=inert.plain(calcium_carbonate, magnesium_carbonate),
        stone_moisture=stone_moisture,
        loss_on_ignition=loss_on_ignition.plain(calcium_carbonate, magnesium_carbonate),
    )


@edge
def composition_from_loss(
    loss_on_ignition: Share, magnesium_carbonate: Share = 0.0, stone_moisture: Share = fact("stone_moisture")
) -> Composition:
    """Return the composition that a weighed loss on ignition points to.

    Parameters
    ----------
    loss_on_ignition : Share
        Mass lost on full burning, as a share of the stone dried at 110 °C.
    magnesium_carbonate : Share
        What is known of it, as a share of the dry stone; without an analysis, 0.
    stone_moisture : Share
        Water as a share of the wet mass.

    Raises
    ------
    InputError
        If no stone of that magnesium carbonate can lose so much, or so little.

    Notes
    -----
    CaCO3 = (loss − MgCO3 M(CO2)/M(MgCO3)) M(CaCO3)/M(CO2), with molar masses M. Moisture left in the
    stone reads as carbonate: 2 % adds about 1.1 points of false loss to a pure stone, so dry it first.
    """
    least = magnesium_carbonate * CARBON_DIOXIDE / MAGNESIUM_CARBONATE
    calcium_carbonate = (loss_on_ignition - least) * CALCIUM_CARBONATE / CARBON_DIOXIDE
    most = 1.0 - magnesium_carbonate
    if not -1e-9 <= calcium_carbonate <= most + 1e-9:
        low, high = 100 * least, 100 * (least + most * CARBON_DIOXIDE / CALCIUM_CARBONATE)
        got = f"{100 * loss_on_ignition:.1f} % from a stone with {100 * magnesium_carbonate:.0f} % magnesium carbonate"
        wanted = f"{low:.1f} to {high:.1f} %; more points to moisture left in the stone or to dolomite"
        raise InputError("loss_on_ignition", got, wanted, "loss_on_ignition=0.43, magnesium_carbonate=0.02")
    return composition.plain(min(max(calcium_carbonate, 0.0), most), magnesium_carbonate, stone_moisture)


@dataclass(frozen=True)
class Weighing:
    """What three weighings of one sample say of a stone."""

    stone_moisture: Share
    loss_on_ignition: Share


@edge
def loss_from_weights(mass_wet: Kilogram, mass_dry: Kilogram, mass_burnt: Kilogram) -> Weighing:
    """Return moisture and loss on ignition from one sample weighed three times.

    Parameters
    ----------
    mass_wet : Kilogram
        As it came.
    mass_dry : Kilogram
        Dried to a steady weight at 110 °C.
    mass_burnt : Kilogram
        Burnt right through, cooled dry and weighed at once; the laboratory burns powder at
        1000 °C for an hour.

    Raises
    ------
    InputError
        If a later weighing is the heavier, or more is gone than the gas of any stone.

    Notes
    -----
    moisture = 1 − dry/wet; loss = 1 − burnt/dry.
    """
    if not mass_wet >= mass_dry >= mass_burnt:
        got = f"{GRAMS * mass_wet:.4g} g wet, {GRAMS * mass_dry:.4g} g dry, {GRAMS * mass_burnt:.4g} g burnt"
        wanted = "each weighing lighter than the one before; burnt lime left in the air grows heavy again"
        raise InputError("weights", got, wanted, 'mass_wet="510 g", mass_dry="500 g", mass_burnt="285 g"')
    loss, most = 1.0 - mass_burnt / mass_dry, CARBON_DIOXIDE / MAGNESIUM_CARBONATE
    if loss > most * (1.0 + 1e-9):
        raise InputError(
            "mass_burnt",
            f"{GRAMS * mass_burnt:.4g} g left of {GRAMS * mass_dry:.4g} g, a loss of {100 * loss:.0f} %",
            f"a loss of {100 * most:.0f} % at most: no stone has more gas in it; weigh again, and look at the units",
            'mass_wet="510 g", mass_dry="500 g", mass_burnt="285 g"',
        )
    return Weighing(stone_moisture=1.0 - mass_dry / mass_wet, loss_on_ignition=loss)


@edge
def dissociation_pressure(temperature: Kelvin, dissociation_source: DissociationSource = "hill_winter_1956") -> Pascal:
    """Return the carbon dioxide pressure at which limestone and lime stand in balance.

    Parameters
    ----------
    temperature : Kelvin
        Of the stone where it burns. Arrays pass through.
    dissociation_source : {"hill_winter_1956", "silcox_1989", "baker_1962"}
        Whose correlation: Hill & Winter measured over 449 to 904 °C (read, the default);
        the other two are from memory and differ from it by up to 5 K at 1 atm.

    Notes
    -----
    p = F exp(−θ/T), with the facts ``dissociation_factor`` F and ``dissociation_slope`` θ. Where a source
    prints log10 p = a − b/T, F = 10^a and θ = b ln 10.
    """
    factor, slope = fact("dissociation_factor", dissociation_source), fact("dissociation_slope", dissociation_source)
    exponential = math.exp if isinstance(temperature, float) else np.exp
    return factor * exponential(-slope / temperature)


@edge
def dissociation_temperature(
    co2_pressure: Pascal = ATMOSPHERE, dissociation_source: DissociationSource = "hill_winter_1956"
) -> Kelvin:
    """Return the temperature above which limestone burns under a given carbon dioxide pressure.

    Parameters
    ----------
    co2_pressure : Pascal
        Partial pressure of carbon dioxide at the stone.
    dissociation_source : {"hill_winter_1956", "silcox_1989", "baker_1962"}
        Whose correlation; see `dissociation_pressure`.

    Notes
    -----
    T = θ/ln(F/p), from the facts of `dissociation_pressure`. At 1 atm the correlations give 895.8, 894.3
    and 900.5 °C, and NASA's polynomials 893.1 °C. The reaction was visible at 907–923 °C on 18
    limestones in 1 bar of carbon dioxide (ZKG International 2010-06, part 2).

    Examples
    --------
    >>> print(f"{dissociation_temperature(co2_pressure='1 atm'):.1f~P}")
    895.8 °C
    """
    factor, slope = fact("dissociation_factor", dissociation_source), fact("dissociation_slope", dissociation_source)
    return slope / math.log(factor / co2_pressure)


@edge
def hydration_heat(magnesia: bool = False) -> JoulePerMole:
    """Return the heat given off when a mole of quicklime (or of magnesia) slakes with liquid water.

    Parameters
    ----------
    magnesia : bool
        For MgO rather than CaO.

    Returns
    -------
    JoulePerMole
        Computed from NASA's polynomials; the CRC handbook gives 64.5 kJ/mol for CaO.
    """
    return fact("hydration_heat_magnesium" if magnesia else "hydration_heat_calcium")


@edge
def carbonation_heat() -> JoulePerMole:
    """Return the heat given off when a mole of hydrate takes up carbon dioxide (NASA's polynomials)."""
    return fact("carbonation_heat")
