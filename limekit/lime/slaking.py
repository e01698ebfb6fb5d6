"""Slaking: heat, water and steam, and how much lime a vessel can take at a time.

CaO + H2O → Ca(OH)2 in a well-mixed vessel. Heat stays in the mix until it
boils, then makes steam, and only when no free water is left does the hydrate
grow hotter than boiling. Enthalpies count from 25 °C with heat capacities
held constant, so that heat and mass close to round-off.
"""

from __future__ import annotations

import csv
import difflib
import functools
import math
from dataclasses import dataclass, replace
from importlib import resources
from itertools import pairwise
from typing import Literal

import numpy as np

from limekit import balance
from limekit.chemistry import CALCIUM_OXIDE, WATER
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import (
    CubicMetre,
    Joule,
    Kelvin,
    KelvinDifference,
    Kilogram,
    KilogramPerCubicMetre,
    Second,
    Share,
)

BOUND = WATER / CALCIUM_OXIDE  # kg of water a kg of CaO takes up
HEAT = fact("hydration_heat_calcium") / CALCIUM_OXIDE
DATUM = fact("standard_temperature")
BOILING = fact("water_boiling_temperature")
VAPORISATION = fact("water_vaporisation_heat", "at_100")

Product = Literal["putty", "dry hydrate"]
Order = Literal["lime into water", "water onto lime"]
Age = Literal["fresh", "unknown"]

UNSLAKED = 0.05  # of a charge, when it counts as slaked through
STEPS = 60  # between one charge and the next, crowded towards the charge


@dataclass(frozen=True)
class Vessel:
    """Something to slake in, or not to.

    Parameters
    ----------
    name, note : str
    loss : float
        Heat given to the air by its outside and the open top, W/m²K.
    temperature_most : float
        Hottest it stands, in kelvin; infinite where boiling does no harm.
    """

    name: str
    loss: float
    temperature_most: float
    note: str


@functools.cache
def _vessel_rows() -> dict[str, dict[str, str]]:
    text = resources.files("limekit").joinpath("data/vessels.csv").read_text(encoding="utf-8")
    return {row["vessel"]: row for row in csv.DictReader(text.splitlines())}


@functools.cache
def _caution() -> str:
    text = resources.files("limekit").joinpath("data/cautions.csv").read_text(encoding="utf-8")
    return next(row["text"] for row in csv.DictReader(text.splitlines()) if row["key"] == "boil_over")


def _refuse(asked: str, got: str, wanted: str, example: str) -> InputError:
    return InputError(asked, got, f"{wanted}. Caution: {_caution()}", example)


def slaking_vessel(name: str) -> Vessel:
    """Return a vessel to slake in, by its name.

    Parameters
    ----------
    name : str
        A row of ``data/vessels.csv``.

    Returns
    -------
    Vessel

    Raises
    ------
    InputError
        If there is no such vessel, or it is not safe to slake in.
    """
    rows = _vessel_rows()
    safe = [row["vessel"] for row in rows.values() if row["use"] == "yes"]
    if name not in rows:
        near = difflib.get_close_matches(str(name), safe, n=1) or safe
        raise InputError("vessel", repr(name), f"one of {', '.join(safe)}", f'vessel="{near[0]}"')
    row = rows[name]
    if name not in safe:
        raise _refuse("vessel", f"a {name}. {row['note']}", f"one of {', '.join(safe)}", f'vessel="{safe[0]}"')
    most = float(row["temperature_most"]) + 273.15 if row["temperature_most"] else math.inf
    return Vessel(name, float(row["loss"]), most, row["note"])


@dataclass(frozen=True)
class _Mix:
    """Kilograms in the vessel: free water, lime yet to slake, hydrate, and what never slakes."""

    water: float
    quicklime: float
    hydrate: float
    residue: float

    @property
    def heat_capacity(self) -> float:
        return (
            self.water * fact("water_heat_capacity")
            + self.quicklime * fact("lime_heat_capacity", "at_25")
            + self.hydrate * fact("hydrate_heat_capacity")
            + self.residue * fact("stone_heat_capacity", "at_25")
        )

    def enthalpy(self, temperature: float) -> float:
        return self.heat_capacity * (temperature - DATUM) + self.quicklime * HEAT

    def slaked(self, share: float) -> _Mix:
        """Slake a share of the lime, as far as the water goes."""
        lime = min(self.quicklime * share, self.water / BOUND)
        return replace(
            self,
            water=max(self.water - lime * BOUND, 0.0),
            quicklime=self.quicklime - lime,
            hydrate=self.hydrate + lime * (1.0 + BOUND),
        )

    def at(self, enthalpy: float, boiling: float) -> tuple[_Mix, float, float]:
        """Return what is left, its temperature and the steam gone, for the heat it holds."""

        def level(mix: _Mix, heat: float) -> float:
            return DATUM + (heat - mix.quicklime * HEAT) / mix.heat_capacity

        if level(self, enthalpy) <= boiling:
            return self, level(self, enthalpy), 0.0
        steam = min((enthalpy - self.enthalpy(boiling)) / VAPORISATION, self.water)
        left = replace(self, water=self.water - steam)
        hotter = level(left, enthalpy - steam * _steam_enthalpy(boiling))
        return left, hotter if left.water == 0.0 else boiling, steam


def _steam_enthalpy(boiling: float) -> float:
    return fact("water_heat_capacity") * (boiling - DATUM) + VAPORISATION


def _lime(lime_charge: float, available_lime: float) -> _Mix:
    quicklime = lime_charge * available_lime
    return _Mix(water=0.0, quicklime=quicklime, hydrate=0.0, residue=lime_charge - quicklime)


def _add(mix: _Mix, other: _Mix) -> _Mix:
    return _Mix(*(getattr(mix, part) + getattr(other, part) for part in ("water", "quicklime", "hydrate", "residue")))


def _fill(lime_charge: float, water: float) -> float:
    return water / fact("water_density") + lime_charge / fact("quicklime_density")


def _check(lime_charge: float, water: float, available_lime: float, vessel_volume: float | None, order: str) -> None:
    if order == "water onto lime":
        raise _refuse("order", '"water onto lime"', "lime into water, a little at a time", 'order="lime into water"')
    if water < lime_charge * available_lime * BOUND:
        least = lime_charge * available_lime * BOUND
        wanted = f"more than {least:.3g} kg, which the lime binds; 2 to 3 times its weight for putty"
        raise _refuse("water", f"{water:.3g} kg for {lime_charge:.3g} kg of lime", wanted, 'water="30 kg"')
    most = fact("slaking_fill_most")
    filled = _fill(lime_charge, water)
    if vessel_volume is not None and filled > most * vessel_volume:
        litres, room = 1000.0 * filled, 1000.0 * most * vessel_volume
        got = f"too big a charge: {litres:.0f} L of lime and water in a vessel of {1000 * vessel_volume:.0f} L"
        raise _refuse("vessel_volume", got, f"{room:.0f} L at most, a vessel half full", 'vessel_volume="200 L"')


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

    Returns
    -------
    Kilogram
    """
    return lime_charge * fact("water_for_putty" if product == "putty" else "water_for_hydrate")


@edge
def slaking_rise(
    water_to_lime: Share, available_lime: Share = 1.0, water_temperature: Kelvin = 293.15
) -> KelvinDifference:
    """Return how far slaking heats the mix if no heat is lost and nothing boils.

    Parameters
    ----------
    water_to_lime : Share
        Water over lime, by mass.
    available_lime : Share
        CaO that slakes, as a share of the lime.
    water_temperature : Kelvin
        Of the water and the lime.

    Returns
    -------
    KelvinDifference

    Raises
    ------
    InputError
        If there is too little water to slake the lime.

    Examples
    --------
    >>> print(f"{slaking_rise(water_to_lime=4).magnitude:.0f} K")
    68 K
    """
    _check(1.0, water_to_lime, available_lime, None, "lime into water")
    start = replace(_lime(1.0, available_lime), water=water_to_lime)
    return start.slaked(1.0).at(start.enthalpy(water_temperature), math.inf)[1] - water_temperature


@edge
def boil_limit(
    water_temperature: Kelvin = 293.15, available_lime: Share = 1.0, boiling_temperature: Kelvin = BOILING
) -> Share:
    """Return the water:lime by mass below which slaking can boil.

    Parameters
    ----------
    water_temperature : Kelvin
        Of the water and the lime.
    available_lime : Share
        CaO that slakes, as a share of the lime.
    boiling_temperature : Kelvin
        Falls by about 1 K for each 300 m of height.

    Returns
    -------
    Share
        At least what the lime binds.

    Notes
    -----
    Closed form: the enthalpy before, at the water's temperature, and after, at boiling, are both
    linear in the water.
    """
    if water_temperature >= boiling_temperature:
        wanted = "water colder than boiling, cold from the tap for choice"
        raise _refuse(
            "water_temperature", f"{water_temperature - 273.15:.0f} °C", wanted, 'water_temperature="15 degC"'
        )
    lime = _lime(1.0, available_lime)
    after = _add(lime, _Mix(lime.quicklime * BOUND, 0.0, 0.0, 0.0)).slaked(1.0)
    water = fact("water_heat_capacity")
    bound = lime.quicklime * BOUND
    shortfall = lime.enthalpy(water_temperature) + bound * water * (boiling_temperature - DATUM)
    excess = shortfall - after.enthalpy(boiling_temperature)
    return max(excess / (water * (boiling_temperature - water_temperature)), bound)


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
    water_temperature: Kelvin = 288.15,
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
        `product` is "putty", or "dry hydrate" where the steam has taken all free water.

    Raises
    ------
    InputError
        With the caution: water onto lime, an unfit vessel, one more than half full or that would
        soften, or less water than the lime binds.

    Notes
    -----
    Hydration of magnesia is slow and is not counted. For the usual water see `water_to_slake`.

    Examples
    --------
    >>> done = slake(lime_charge="10 kg", water="25 kg", vessel_volume="100 L")
    >>> print(done.boils, f"{done.steam:.2g~P}")
    True 0.73 kg
    """
    _check(lime_charge, water, available_lime, vessel_volume, order)
    limit = boil_limit.plain(water_temperature, available_lime, boiling_temperature)
    start = _add(_lime(lime_charge, available_lime), _Mix(water, 0.0, 0.0, 0.0))
    left, end, steam = start.slaked(1.0).at(start.enthalpy(water_temperature), boiling_temperature)
    _stand(slaking_vessel(vessel_kind), end)
    boils_dry = left.water == 0.0 and steam > 0.0
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
        product="dry hydrate" if boils_dry else "putty",
        words=_words(steam, end, boils_dry, limit, lime_age),
    )


def _stand(kind: Vessel, end: float) -> None:
    if end > kind.temperature_most:
        got = f"a {kind.name}, with lime and water that reach {end - 273.15:.0f} °C"
        wanted = f"{kind.temperature_most - 273.15:.0f} °C at most: more water or less lime, or a steel vessel"
        raise _refuse("vessel_kind", got, wanted, 'vessel_kind="open steel drum"')


def _words(steam: float, end: float, boils_dry: bool, limit: float, lime_age: str) -> str:
    test = "Age unknown: test first, 150 g in 600 g of water at 20 °C. " if lime_age == "unknown" else ""
    if boils_dry:
        return f"{test}All free water boils off and dry hydrate is left, near {end - 273.15:.0f} °C."
    mesh = fact("sieve_hot")
    sieve = f"Sieve it hot through {1000 * mesh.low:.0f} to {1000 * mesh.high:.0f} mm."
    if steam > 0.0:
        return f"{test}It boils: {steam:.2g} kg of steam. {limit:.1f} kg of water a kg of lime would not. {sieve}"
    return f"{test}It reaches {end - 273.15:.0f} °C and does not boil. {sieve}"


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
    """
    if residue > lime_charge:
        wanted = "less than the lime slaked; wash and dry it first"
        raise InputError("residue", f"{residue:.3g} kg from {lime_charge:.3g} kg of lime", wanted, 'residue="0.4 kg"')
    most = fact("slaking_residue_most")
    return Residue(residue / lime_charge, residue <= most * lime_charge, most.basis)


@dataclass(frozen=True)
class SlakingCurve:
    """Temperature in a vessel, charge by charge.

    Arrays run over `slaking_times`; `heat_lost` went to the air and `steam` left with its own heat.
    """

    slaking_times: Second
    slaking_temperatures: Kelvin
    unslaked: Kilogram
    free_water: Kilogram
    steam: Kilogram
    heat_lost: Joule
    hydrate: Kilogram
    residue: Kilogram
    peak_temperature: Kelvin
    boils: bool
    basis: tuple[Ground, ...] = ()


@edge
def slaking_curve(
    lime_charge: Kilogram,
    water: Kilogram,
    vessel_volume: CubicMetre,
    charges: int = 1,
    charge_interval: Second = 600.0,
    water_temperature: Kelvin = 288.15,
    available_lime: Share = fact("available_lime"),
    time_to_60: Second = fact("reactivity_time"),
    vessel_kind: str = "open steel drum",
    order: Order = "lime into water",
    boiling_temperature: Kelvin = BOILING,
) -> SlakingCurve:
    """Follow the temperature while lime goes into the vessel in equal charges.

    Parameters
    ----------
    lime_charge : Kilogram
        All the lime, before it is divided.
    water : Kilogram
        In the vessel before the lime.
    vessel_volume : CubicMetre
        Filled to its brim.
    charges : int
        Equal ones, the first at time 0.
    charge_interval : Second
        From one charge to the next, and after the last.
    water_temperature : Kelvin
        Of the water, the lime and the air.
    available_lime : Share
        CaO that slakes, as a share of the lime.
    time_to_60 : Second
        Of this lime in the EN 459-2 test, which sets its pace; see `read_reactivity`.
    vessel_kind : str
        A row of ``data/vessels.csv``.
    order : {"lime into water", "water onto lime"}
        The second is refused.
    boiling_temperature : Kelvin
        Falls by about 1 K for each 300 m of height.

    Returns
    -------
    SlakingCurve

    Raises
    ------
    InputError
        As `slake`, or if a lime so poor could never reach 60 °C in the test.

    Notes
    -----
    A well-mixed vessel. Lime slakes at a first-order rate, the same at any temperature, so the share
    slaked over a step is exact; real lime starts slower and quickens as it warms. Heat goes to the
    air by the vessel's loss coefficient (common practice) over the contents' outside; evaporation below
    boiling is part of it. The loss over a step takes the mean of its two ends.
    """
    _check(lime_charge, water, available_lime, vessel_volume, order)
    if charges < 1:
        raise InputError("charges", str(charges), "one at least", "charges=4")
    kind = slaking_vessel(vessel_kind)
    run = _Run(
        lime=_lime(lime_charge / charges, available_lime),
        water=water,
        around=water_temperature,
        rate=_hydration_rate(time_to_60, available_lime),
        conductance=kind.loss * _outside(_fill(lime_charge, water), vessel_volume),
        boiling=boiling_temperature,
    )
    curve = run.follow(charges, charge_interval)
    _stand(kind, curve.peak_temperature)
    return curve


@dataclass(frozen=True)
class _Run:
    """One charge of lime, the water it goes into, and what sets pace and loss; SI floats."""

    lime: _Mix
    water: float
    around: float
    rate: float
    conductance: float
    boiling: float

    def follow(self, charges: int, interval: float) -> SlakingCurve:
        mix, temperature = _Mix(self.water, 0.0, 0.0, 0.0), self.around
        rows, steam, lost = [], 0.0, 0.0
        ends = (interval * (np.arange(STEPS + 1) / STEPS) ** 2).tolist()
        for start in (number * interval for number in range(charges)):
            heat = mix.enthalpy(temperature) + self.lime.enthalpy(self.around)
            mix = _add(mix, self.lime)
            temperature = mix.at(heat, self.boiling)[1]
            rows.append((start, temperature, mix.quicklime, mix.water, steam, lost))
            for before, after in pairwise(ends):
                mix = mix.slaked(-math.expm1(-self.rate * (after - before)))
                loss = self._loss(mix, heat, temperature, after - before)
                mix, temperature, gone = mix.at(heat - loss, self.boiling)
                heat, steam, lost = heat - loss - gone * _steam_enthalpy(self.boiling), steam + gone, lost + loss
                rows.append((start + after, temperature, mix.quicklime, mix.water, steam, lost))
        times, temperatures, unslaked, free_water, steams, losts = np.array(rows).T
        return SlakingCurve(
            slaking_times=times,
            slaking_temperatures=temperatures,
            unslaked=unslaked,
            free_water=free_water,
            steam=steams,
            heat_lost=losts,
            hydrate=mix.hydrate,
            residue=mix.residue,
            peak_temperature=float(temperatures.max()),
            boils=steam > 0.0,
        )

    def _loss(self, mix: _Mix, heat: float, temperature: float, step: float) -> float:
        """Return the heat lost over a step, at the mean of the temperatures it starts and ends with."""
        half, warm = 0.5 * self.conductance * step, temperature - self.around
        uncooled = DATUM + (heat - mix.quicklime * HEAT) / mix.heat_capacity - self.around
        end = (uncooled - half * warm / mix.heat_capacity) / (1.0 + half / mix.heat_capacity)
        return half * (warm + min(end, self.boiling - self.around))


def _hydration_rate(time_to_60: float, available_lime: float) -> float:
    """Return the first-order rate, 1/s, that heats the adiabatic EN 459-2 test to 60 °C in the time given."""
    ratio = fact("reactivity_test_water") / fact("reactivity_test_lime")
    start, end = fact("reactivity_start"), fact("reactivity_end")
    slaked = (end - start) / slaking_rise.plain(ratio, available_lime, start) if available_lime else math.inf
    if slaked >= 1.0:
        wanted = "lime that can warm the test to 60 °C"
        raise InputError("available_lime", f"{100 * available_lime:.0f} %", wanted, "available_lime=0.9")
    return -math.log1p(-slaked) / time_to_60


def _outside(filled: float, vessel_volume: float) -> float:
    """Return the contents' wetted side, bottom and top, in a round vessel as wide as it is tall."""
    width = (4.0 * vessel_volume / math.pi) ** (1.0 / 3.0)
    floor = math.pi * width**2 / 4.0
    return 2.0 * floor + math.pi * width * filled / floor


@dataclass(frozen=True)
class SlakingPlan:
    """Equal charges, and how long to wait between them."""

    charges: int
    charge_mass: Kilogram
    charge_interval: Second
    slaking_time: Second
    peak_temperature: Kelvin
    words: str
    basis: tuple[Ground, ...] = ()


@edge
def slaking_plan(
    lime_charge: Kilogram,
    water: Kilogram,
    vessel_volume: CubicMetre,
    water_temperature: Kelvin = 288.15,
    available_lime: Share = fact("available_lime"),
    time_to_60: Second = fact("reactivity_time"),
    vessel_kind: str = "open steel drum",
    order: Order = "lime into water",
    slaking_temperature_most: Kelvin = fact("slaking_temperature_most"),
) -> SlakingPlan:
    """Divide the lime into charges, and space them, so that the vessel never boils over.

    Parameters
    ----------
    lime_charge : Kilogram
        All the lime.
    water : Kilogram
        In the vessel before the lime.
    vessel_volume : CubicMetre
        Filled to its brim.
    water_temperature : Kelvin
        Of the water, the lime and the air.
    available_lime : Share
        CaO that slakes, as a share of the lime.
    time_to_60 : Second
        Of this lime in the EN 459-2 test.
    vessel_kind : str
        A row of ``data/vessels.csv``; its own limit counts if lower.
    order : {"lime into water", "water onto lime"}
        The second is refused.
    slaking_temperature_most : Kelvin
        Kept below at all times.

    Returns
    -------
    SlakingPlan
        Each charge warms the vessel by no more than the fact ``slaking_charge_rise``; the interval is
        the shortest that keeps the limit, and not less than the lime takes to slake through.

    Raises
    ------
    InputError
        As `slaking_curve`, or if the vessel cannot cool enough within a day a charge.
    """
    _check(lime_charge, water, available_lime, vessel_volume, order)
    kind, rate = slaking_vessel(vessel_kind), _hydration_rate(time_to_60, available_lime)
    most = min(slaking_temperature_most, kind.temperature_most, BOILING)
    rise = slaking_rise.plain(water / lime_charge, available_lime, water_temperature)
    charges = max(math.ceil(rise / fact("slaking_charge_rise")), 1)
    slaked_through = -math.log(UNSLAKED) / rate

    run = _Run(
        lime=_lime(lime_charge / charges, available_lime),
        water=water,
        around=water_temperature,
        rate=rate,
        conductance=kind.loss * _outside(_fill(lime_charge, water), vessel_volume),
        boiling=BOILING,
    )

    def peak(interval: float) -> float:
        return run.follow(charges, interval).peak_temperature

    shortest, longest = slaked_through, fact("slaking_interval_most")
    if peak(longest) > most:
        got = f"too big a charge: {lime_charge:.3g} kg in {water:.3g} kg of water"
        raise _refuse("lime_charge", got, "less lime, more water or a wider vessel", 'lime_charge="5 kg"')
    if peak(shortest) > most:
        while longest - shortest > 1.0:
            middle = 0.5 * (shortest + longest)
            shortest, longest = (middle, longest) if peak(middle) > most else (shortest, middle)
        interval, why = longest, f"wait for it to cool between charges, to stay below {most - 273.15:.0f} °C"
    else:
        interval, why = slaked_through, "there is water enough to stay below the limit without waiting to cool"
    return SlakingPlan(
        charges=charges,
        charge_mass=lime_charge / charges,
        charge_interval=interval,
        slaking_time=charges * interval,
        peak_temperature=peak(interval),
        words=f"{charges} charges of {lime_charge / charges:.2g} kg, {interval / 60:.0f} minutes apart: {why}.",
    )
