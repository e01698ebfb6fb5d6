"""Slaking in charges: the vessel's temperature in time, and how to keep it from boiling over."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.lime.contents import BOILING, BOUND, DATUM, HEAT, Contents, steam_enthalpy
from limekit.lime.slaking import Order, all_at_once, slaking_rise, stiffest_putty
from limekit.lime.vessels import Vessel, check_fill, filled, outside, refusal, slaking_vessel
from limekit.units import MINUTE, ZERO_CELSIUS, Count, CubicMetre, Joule, Kelvin, Kilogram, Second, Share

UNSLAKED = 0.05  # of a charge, when it counts as slaked through
STILL = 0.005  # of the last charge, when no more heat is looked for
STEPS = 60  # between one charge and the next, crowded towards the charge


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
    charges: Count = 1,
    charge_interval: Second = fact("charge_interval"),
    water_temperature: Kelvin = fact("water_temperature"),
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
    water, vessel_volume, available_lime, vessel_kind, order, boiling_temperature
        As for `slake`.
    charges : Count
        A whole number of equal ones, the first at time 0.
    charge_interval : Second
        From one charge to the next. After the last the vessel is followed as long, or until all has slaked.
    water_temperature : Kelvin
        Of the water, the lime and the air.
    time_to_60 : Second
        Of this lime in the EN 459-2 test, which sets its pace; see `read_reactivity`.

    Raises
    ------
    InputError
        As `slake`, or if a lime so poor could never reach 60 °C in the test.

    Notes
    -----
    dm/dt = −k m of the lime m not yet slaked, with k = −ln(1 − 40 K/rise)/time_to_60: the pace that heats the
    EN 459-2 test from 20 to 60 °C in its time, of the `slaking_rise` it would come to. It is the same at any
    temperature, so the share slaked over a step is exact; real lime starts slower and quickens as it
    warms. A well-mixed vessel. Heat goes to the air as h A (T − T_air), by the vessel's loss coefficient
    h (common practice) over the contents' outside A; evaporation below boiling is part of it. The loss
    over a step takes the mean of its two ends.
    """
    if charges < 1 or charges % 1:
        raise InputError("charges", f"{charges:g}", "a whole number, one at least", "charges=4")
    kind = slaking_vessel(vessel_kind)
    start = replace(Contents.lime(lime_charge, available_lime), water=water)
    run = _run(start, vessel_volume, water_temperature, time_to_60, kind, order, boiling_temperature)
    curve = run.follow(int(charges), charge_interval)
    kind.stand(curve.peak_temperature)
    return curve


@dataclass(frozen=True)
class _Run:
    """All the lime and the water it goes into, and what sets pace and loss; SI floats."""

    start: Contents
    around: float
    rate: float
    conductance: float
    boiling: float

    def follow(self, charges: int, interval: float) -> SlakingCurve:
        mix, temperature = Contents(self.start.water, 0.0, 0.0, 0.0), self.around
        charge = Contents(0.0, self.start.quicklime / charges, 0.0, self.start.residue / charges)
        rows, steam, lost = [], 0.0, 0.0
        crowded = (np.arange(STEPS + 1) / STEPS) ** 2
        for number in range(charges):
            start, last = number * interval, number == charges - 1
            ends = (crowded * (max(interval, -math.log(STILL) / self.rate) if last else interval)).tolist()
            heat = mix.enthalpy(temperature) + charge.enthalpy(self.around)
            mix = mix + charge
            temperature = mix.at(heat, self.boiling)[1]
            rows.append((start, temperature, mix.quicklime, mix.water, steam, lost))
            for before, after in pairwise(ends):
                mix = mix.slaked(-math.expm1(-self.rate * (after - before)))
                loss = self._loss(mix, heat, temperature, after - before)
                mix, temperature, gone = mix.at(heat - loss, self.boiling)
                heat, steam, lost = heat - loss - gone * steam_enthalpy(self.boiling), steam + gone, lost + loss
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

    def _loss(self, mix: Contents, heat: float, temperature: float, step: float) -> float:
        """Return the heat lost over a step, h A Δt ((T + T_end)/2 − T_air), where T_end has the loss itself in it."""
        half, warm, holds = 0.5 * self.conductance * step, temperature - self.around, mix.heat_capacity
        uncooled = DATUM + (heat - mix.quicklime * HEAT) / holds - self.around
        end = (uncooled - half * warm / holds) / (1.0 + half / holds)
        return half * (warm + min(end, self.boiling - self.around))


def _run(
    start: Contents,
    vessel_volume: float,
    around: float,
    time_to_60: float,
    kind: Vessel,
    order: Order,
    boiling: float,
) -> _Run:
    lime_charge = start.quicklime + start.residue
    check_fill(lime_charge, start.water, vessel_volume)
    all_at_once(start, around, order, boiling)
    rate = _hydration_rate(time_to_60, start.quicklime / lime_charge)
    return _Run(start, around, rate, kind.loss * outside(filled(lime_charge, start.water), vessel_volume), boiling)


def _hydration_rate(time_to_60: float, available_lime: float) -> float:
    """Return the first-order rate, 1/s, that heats the adiabatic EN 459-2 test to 60 °C in time: −ln(1 − slaked)/t."""
    ratio = fact("reactivity_test_water") / fact("reactivity_test_lime")
    start, end = fact("reactivity_start"), fact("reactivity_end")
    slaked = (end - start) / slaking_rise.plain(ratio, available_lime, start) if available_lime else math.inf
    if slaked >= 1.0:
        wanted = "lime that can warm the test to 60 °C"
        raise InputError("available_lime", f"{100 * available_lime:.0f} %", wanted, "available_lime=0.9")
    return -math.log1p(-slaked) / time_to_60


@dataclass(frozen=True)
class SlakingPlan:
    """Equal charges, and how long to wait between them."""

    charges: Count
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
    water_temperature: Kelvin = fact("water_temperature"),
    available_lime: Share = fact("available_lime"),
    time_to_60: Second = fact("reactivity_time"),
    vessel_kind: str = "open steel drum",
    order: Order = "lime into water",
    slaking_temperature_most: Kelvin = fact("slaking_temperature_most"),
    boiling_temperature: Kelvin = BOILING,
) -> SlakingPlan:
    """Divide the lime into charges, and space them, so that the vessel never boils over.

    Parameters
    ----------
    lime_charge, water, vessel_volume, water_temperature, available_lime, time_to_60, order, boiling_temperature
        As for `slaking_curve`.
    vessel_kind : str
        A row of ``data/vessels.csv``; its own limit counts if lower.
    slaking_temperature_most : Kelvin
        Kept below at all times, as boiling is.

    Returns
    -------
    SlakingPlan
        Each charge warms the vessel by no more than the fact ``slaking_charge_rise``; the interval is
        the fewest whole minutes that keep the limit, and not less than the lime takes to slake through.

    Raises
    ------
    InputError
        As `slaking_curve`, or if the vessel cannot cool enough within a day a charge, or if what is left
        would be too stiff to stir, for then it does not heat evenly.

    Notes
    -----
    charges = ⌈rise/r⌉, with `slaking_rise` and the fact ``slaking_charge_rise`` r; the interval is found by
    `slaking_curve`.
    """
    kind = slaking_vessel(vessel_kind)
    _check_stirs(lime_charge, water, available_lime)
    start = replace(Contents.lime(lime_charge, available_lime), water=water)
    run = _run(start, vessel_volume, water_temperature, time_to_60, kind, order, boiling_temperature)
    most = min(slaking_temperature_most, kind.temperature_most, boiling_temperature)
    rise = slaking_rise.plain(water / lime_charge, available_lime, water_temperature)
    charges = max(math.ceil(rise / fact("slaking_charge_rise")), 1)

    @functools.cache
    def curve(minutes: int) -> SlakingCurve:
        return run.follow(charges, minutes * MINUTE)

    def is_too_hot(minutes: int) -> bool:
        return curve(minutes).boils or curve(minutes).peak_temperature > most

    minutes = too_short = math.ceil(-math.log(UNSLAKED) / run.rate / MINUTE)
    longest = max(minutes, int(fact("slaking_interval_most") / MINUTE))
    why = f"wait for it to cool between charges, to stay below {most - ZERO_CELSIUS:.0f} °C"
    if not is_too_hot(minutes):
        why = f"no longer wait is needed to stay below {most - ZERO_CELSIUS:.0f} °C"
    while is_too_hot(minutes):
        if minutes == longest:
            got = f"too big a charge: {lime_charge:.3g} kg in {water:.3g} kg of water"
            wanted, example = "less lime, more water or a wider vessel", f'lime_charge="{lime_charge / 2:.2g} kg"'
            raise refusal("lime_charge", got, wanted, example)
        too_short, minutes = minutes, min(2 * minutes, longest)
    while minutes - too_short > 1:
        middle = (too_short + minutes) // 2
        too_short, minutes = (middle, minutes) if is_too_hot(middle) else (too_short, middle)
    share = f"{lime_charge / charges:.2g} kg"
    how = f"{share}, all at once" if charges == 1 else f"{charges} charges of {share}, {minutes} minutes apart"
    return SlakingPlan(
        charges=float(charges),
        charge_mass=lime_charge / charges,
        charge_interval=minutes * MINUTE,
        slaking_time=charges * minutes * MINUTE,
        peak_temperature=curve(minutes).peak_temperature,
        words=f"{how}: {why}.",
    )


def _check_stirs(lime_charge: float, water: float, available_lime: float) -> None:
    quicklime = lime_charge * available_lime
    least = quicklime * (BOUND + stiffest_putty() * (1.0 + BOUND))
    if water < least:
        got = f"{water:.3g} kg for {lime_charge:.3g} kg of lime: it ends too stiff to stir"
        raise refusal("water", got, f"{least:.3g} kg at least", f'water="{math.ceil(least)} kg"')
