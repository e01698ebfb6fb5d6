"""Slaking: heat, water and steam when lime and water meet all at once.

CaO + H2O → Ca(OH)2 in a well-mixed vessel. Heat stays in the mix until it
boils, then makes steam, and only when no free water is left does the hydrate
grow hotter than boiling.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from limekit import balance
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.lime.contents import BOILING, BOUND, DATUM, WATER_HELD, Contents
from limekit.lime.vessels import check_fill, refusal, slaking_vessel
from limekit.units import (
    GRAMS,
    MM,
    ZERO_CELSIUS,
    CubicMetre,
    Kelvin,
    KelvinDifference,
    Kilogram,
    KilogramPerCubicMetre,
    Share,
)

Product = Literal["putty", "dry hydrate"]
Order = Literal["lime into water", "water onto lime"]
Age = Literal["fresh", "unknown"]


def stiffest_putty() -> float:
    """Return the free water in the stiffest putty, as a share of its hydrate by mass."""
    return 1.0 / balance.putty_solids.plain(fact("putty_density").high) - 1.0


def check(lime_charge: float, water: float, available_lime: float) -> None:
    """Raise `InputError`, with the caution, for less water than the lime binds."""
    least, usual = lime_charge * available_lime * BOUND, fact("water_for_putty")
    if water < least:
        for_putty = f"{usual.low:g} to {usual.high:g} times its weight for putty"
        wanted = f"more than {least:.3g} kg, which the lime binds; {for_putty}"
        raise refusal("water", f"{water:.3g} kg for {lime_charge:.3g} kg of lime", wanted, _enough(lime_charge))


def _check_cold(water_temperature: float, boiling_temperature: float) -> None:
    if water_temperature >= boiling_temperature:
        level, boils = (kelvin - ZERO_CELSIUS for kelvin in (water_temperature, boiling_temperature))
        got = f"{level:.0f} °C where water boils at {boils:.0f} °C"
        wanted = "water colder than boiling, cold from the tap for choice"
        raise refusal("water_temperature", got, wanted, 'water_temperature="15 degC"')


def _enough(lime_charge: float) -> str:
    return f'water="{water_to_slake.plain(lime_charge):.3g} kg"'


def all_at_once(
    start: Contents, water_temperature: float, order: Order, boiling_temperature: float
) -> tuple[Contents, float, float]:
    """Return what is left, its temperature and the steam when all slakes with no heat lost.

    Raises `InputError` with the caution: water poured onto lime, or boiling already, or less than dry hydrate is given,
    which leaves nothing to cool the lime.
    """
    if order == "water onto lime":
        raise refusal("order", '"water onto lime"', "lime into water, a little at a time", 'order="lime into water"')
    _check_cold(water_temperature, boiling_temperature)
    lime_charge = start.quicklime + start.residue
    check(lime_charge, start.water, start.quicklime / lime_charge)
    least = water_to_slake.plain(lime_charge, "dry hydrate")
    if start.water < least * (1.0 - 1e-9):
        wanted = f"{least:.3g} kg at least, or the lime burns in its own heat"
        raise refusal("water", f"{start.water:.3g} kg for {lime_charge:.3g} kg of lime", wanted, _enough(lime_charge))
    return start.slaked(1.0).at(start.enthalpy(water_temperature), boiling_temperature)


@edge
def water_to_slake(lime_charge: Kilogram, product: Product = "putty") -> Kilogram:
    """Return the water usually given to a weight of lime.

    Parameters
    ----------
    lime_charge : Kilogram
        Lime as sorted.
    product : {"putty", "dry hydrate"}
        Putty takes 2 to 3 times the lime's weight (civil-engineering handbook page, 2011), dry hydrate
        0.6 to 0.8 (common practice): more than it binds, for the rest leaves as steam.

    Notes
    -----
    water = r · lime_charge, with the fact ``water_for_putty`` or ``water_for_hydrate`` r.
    """
    return lime_charge * fact("water_for_putty" if product == "putty" else "water_for_hydrate")


@edge
def slaking_rise(
    water_to_lime: Share,
    available_lime: Share = fact("available_lime"),
    water_temperature: Kelvin = fact("water_temperature"),
) -> KelvinDifference:
    """Return how far slaking heats the mix if no heat is lost and nothing boils.

    Parameters
    ----------
    water_to_lime : Share
        Water over lime, by mass.
    available_lime, water_temperature
        As for `slake`.

    Raises
    ------
    InputError
        If there is too little water to slake the lime.

    Notes
    -----
    Σ m c (T − 25 °C) + m_CaO q is the same before and after, when m_CaO = 0; with the heat capacities c and
    the heat q of hydration of a kilogram.

    Examples
    --------
    >>> print(f"{slaking_rise(water_to_lime=4, available_lime=1).magnitude:.0f} K")
    68 K
    """
    check(1.0, water_to_lime, available_lime)
    start = replace(Contents.lime(1.0, available_lime), water=water_to_lime)
    return start.slaked(1.0).at(start.enthalpy(water_temperature), math.inf)[1] - water_temperature


@edge
def boil_limit(
    water_temperature: Kelvin = fact("water_temperature"),
    available_lime: Share = fact("available_lime"),
    boiling_temperature: Kelvin = BOILING,
) -> Share:
    """Return the water:lime by mass below which slaking can boil.

    Parameters
    ----------
    water_temperature, available_lime, boiling_temperature
        As for `slake`.

    Returns
    -------
    Share
        At least what the lime binds.

    Raises
    ------
    InputError
        With the caution, if the water boils before the lime is in it.

    Notes
    -----
    water = b + (H0 − H1)/(c (T_boil − T_water)), with the water b that the lime binds, the enthalpy of both
    before, at the water's temperature, H0 and of the hydrate at boiling H1, and the heat capacity c of
    water: both sides are linear in the water.
    """
    _check_cold(water_temperature, boiling_temperature)
    lime, cold = Contents.lime(1.0, available_lime), WATER_HELD * (water_temperature - DATUM)
    bound = replace(lime, water=lime.quicklime * BOUND)
    excess = lime.enthalpy(water_temperature) + bound.water * cold - bound.slaked(1.0).enthalpy(boiling_temperature)
    per_water = WATER_HELD * (boiling_temperature - water_temperature)
    return bound.water + max(excess / per_water, 0.0)


@dataclass(frozen=True)
class Slaking:
    """What slaking all at once comes to, no heat lost.

    ``lime_charge + water = hydrate + free_water + steam + residue``. `water_to_add` brings the hydrate
    to the putty asked for; `water_over` is what stands above that putty instead.
    """

    lime_charge: Kilogram
    water: Kilogram
    quicklime: Kilogram
    hydrate: Kilogram
    residue: Kilogram
    free_water: Kilogram
    steam: Kilogram
    slaking_rise: KelvinDifference
    end_temperature: Kelvin
    boil_limit: Share
    boils: bool
    boils_dry: bool
    water_not_to_boil: Kilogram
    water_to_add: Kilogram
    water_over: Kilogram
    product: str
    words: str
    basis: tuple[Ground, ...] = ()


@edge
def slake(
    lime_charge: Kilogram,
    water: Kilogram,
    water_temperature: Kelvin = fact("water_temperature"),
    available_lime: Share = fact("available_lime"),
    vessel_volume: CubicMetre | None = None,
    vessel_kind: str = "open steel drum",
    order: Order = "lime into water",
    lime_age: Age = "fresh",
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
    boiling_temperature: Kelvin = BOILING,
) -> Slaking:
    """Balance heat and water for lime slaked all at once, with no heat lost: the hottest it can get.

    Parameters
    ----------
    lime_charge : Kilogram
        Lime as sorted, put in the water.
    water : Kilogram
        In the vessel before the lime; 1 L is 1 kg.
    water_temperature : Kelvin
        Of the water and the lime.
    available_lime : Share
        CaO that slakes, as a share of the lime.
    vessel_volume : CubicMetre, optional
        Filled to its brim.
    vessel_kind : str
        A row of ``data/vessels.csv``.
    order : {"lime into water", "water onto lime"}
        The second is refused.
    lime_age : {"fresh", "unknown"}
        Lime of unknown age may be half slaked by the air, or fierce: the result then says to test.
    putty_density : KilogramPerCubicMetre
        Of the putty wanted.
    boiling_temperature : Kelvin
        Falls by about 1 K for each 300 m of height.

    Returns
    -------
    Slaking
        `product` is "putty", "damp hydrate" where it is stiffer than any putty, or "dry hydrate" where
        steam has taken nearly all the free water.

    Raises
    ------
    InputError
        With the caution: water onto lime, water that boils already, an unfit vessel, one more than half
        full or that would soften, or less water than dry hydrate is given.

    Notes
    -----
    steam = (H − H_boil)/r where the mix would pass boiling, and no more than its free water, with its heat
    H as in `slaking_rise`, what it holds at boiling and the heat of vaporisation there r. Hydration of
    magnesia is slow and is not counted. For the usual water see `water_to_slake`.

    Examples
    --------
    >>> done = slake(lime_charge="10 kg", water="25 kg", vessel_volume="100 L")
    >>> print(done.boils, f"{done.steam:.2g~P}")
    True 0.73 kg
    """
    if vessel_volume is not None:
        check_fill(lime_charge, water, vessel_volume)
    limit = boil_limit.plain(water_temperature, available_lime, boiling_temperature)
    start = replace(Contents.lime(lime_charge, available_lime), water=water)
    left, end, steam = all_at_once(start, water_temperature, order, boiling_temperature)
    slaking_vessel(vessel_kind).stand(end)
    boils_dry = left.water == 0.0 and steam > 0.0
    dry = left.water <= fact("hydrate_moisture_most") * left.hydrate
    thick = "dry hydrate" if dry else "damp hydrate"
    product = "putty" if left.water >= stiffest_putty() * left.hydrate else thick
    solids = balance.putty_solids.plain(putty_density)
    short = left.hydrate * (1.0 / solids - 1.0) - left.water
    return Slaking(
        lime_charge=lime_charge,
        water=water,
        quicklime=start.quicklime,
        hydrate=left.hydrate,
        residue=left.residue,
        free_water=left.water,
        steam=steam,
        slaking_rise=slaking_rise.plain(water / lime_charge, available_lime, water_temperature),
        end_temperature=end,
        boil_limit=limit,
        boils=steam > 0.0,
        boils_dry=boils_dry,
        water_not_to_boil=limit * lime_charge,
        water_to_add=max(short, 0.0),
        water_over=max(-short, 0.0),
        product=product,
        words=_words(product, steam, end, _to_stay_quiet(water_temperature, available_lime), lime_age),
    )


def _to_stay_quiet(water_temperature: float, available_lime: float) -> str:
    most = fact("slaking_temperature_most")
    if water_temperature >= most:
        return "Start with colder water."
    ratio = boil_limit.plain(water_temperature, available_lime, most)
    return f"{ratio:.1f} kg of water a kg of lime would keep it below {most - ZERO_CELSIUS:.0f} °C."


def _words(product: str, steam: float, end: float, to_stay_quiet: str, lime_age: Age) -> str:
    celsius, most = end - ZERO_CELSIUS, fact("slaking_temperature_most")
    said = []
    if lime_age == "unknown":
        lime, water, start = (fact(f"reactivity_{name}") for name in ("test_lime", "test_water", "start"))
        test = f"{GRAMS * lime:.0f} g in {GRAMS * water:.0f} g of water at {start - ZERO_CELSIUS:.0f} °C"
        said.append(f"Age unknown: test first, {test}.")
    if product == "dry hydrate":
        said.append(f"Nearly all the free water boils off, and dry hydrate is left at {celsius:.0f} °C.")
    elif steam > 0.0:
        said.append(
            f"It boils: {steam:.2g} kg of steam. {to_stay_quiet} Nobody sieves it before it is still and cooler."
        )
    elif end > most:
        said.append(f"It reaches {celsius:.0f} °C, too near boiling. {to_stay_quiet}")
    else:
        said.append(f"It reaches {celsius:.0f} °C and stays quiet.")
    if product == "putty" and end <= most:
        mesh = fact("sieve_hot")
        said.append(f"When it is still, sieve it warm through {MM * mesh.low:.0f} to {MM * mesh.high:.0f} mm.")
    return " ".join(said)


@dataclass(frozen=True)
class Residue:
    """What stayed on the sieve, and whether it is too much."""

    residue_share: Share
    within: bool
    source: str


@edge
def sieve_residue(lime_charge: Kilogram, residue: Kilogram) -> Residue:
    """Judge what will not slake by its share of the lime.

    Parameters
    ----------
    lime_charge : Kilogram
        Lime slaked.
    residue : Kilogram
        What the sieve held back, washed and dried: core, over-burnt pieces, clay.

    Returns
    -------
    Residue
        Within the limit of ASTM C5-03 or not.

    Raises
    ------
    InputError
        If more stayed behind than was slaked.

    Notes
    -----
    residue_share = residue/lime_charge, held against the fact ``slaking_residue_most``.
    """
    if residue > lime_charge:
        wanted = "less than the lime slaked; wash and dry it first"
        raise InputError("residue", f"{residue:.3g} kg from {lime_charge:.3g} kg of lime", wanted, 'residue="0.4 kg"')
    most = fact("slaking_residue_most")
    return Residue(residue / lime_charge, residue <= most * lime_charge, most.basis)
