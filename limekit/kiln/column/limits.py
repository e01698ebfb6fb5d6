"""What held a firing back: which limit was hit, and what would lift it."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from limekit.estimate import shown, tens
from limekit.facts import fact
from limekit.fire.air_way import PARTS, Breath
from limekit.kiln.column.burn import Burn
from limekit.stone.front import threshold
from limekit.units import HOUR, ZERO_CELSIUS

FELT = 0.01  # share of the fuel wanted that must be turned away before the draught is a limit
NONE = 1e-9  # kg/s of air
HOPELESS = 400.0  # h
OF_THE_HOURS = 0.5  # at a full fire, below which the slow start set the pace
OF_THE_FUEL = 0.1  # under what is fed at the most, from which the draught did
COOLER = 50.0  # K, by which a fire that over-burns is to be cooler


class Limit(NamedTuple):
    """A limit that a firing ran into: its name, what was hit, and what would lift it."""

    name: str
    hit: str
    lift: str

    def __str__(self) -> str:
        return f"{self.hit} {self.lift}"


def throttle(breath: Breath) -> tuple[str, str, float]:
    """Return the part of the kiln that holds the air back most, what would ease it, and its share of the draught."""
    part = max(breath.losses, key=lambda name: float(np.max(breath.losses[name])))
    share = float(np.max(breath.losses[part])) / max(float(np.max(breath.stack_pressure)), 1e-9)
    return *PARTS[part], share


def _no_draught(burn: Burn) -> Limit | None:
    if burn.moments.air.max() > NONE or burn.stoker.wanted(0.0) == 0.0:
        return None
    if burn.damper <= 0.0:
        return Limit("draught", "The damper is shut, so the fire gets no air.", "Open it.")
    return Limit(
        "draught",
        "The kiln does not draw: its column of stone is as cold as the air outside or colder.",
        "A small quick fire under the draw eyes or a chimney starts it, or a cooler hour of the day.",
    )


def _weak_fire(burn: Burn, wanted: float | None) -> Limit | None:
    fuel, least, usual = burn.stoker.fuel, burn.stoker.least_air, fact("flare_gas_temperature")
    hottest = fuel.temperature(least)
    if wanted is not None and fuel.excess_air(wanted) < least:
        hit = (
            f"The fuel cannot give gas of {wanted - ZERO_CELSIUS:.0f} °C: with as little air as burns it well, "
            f"{hottest - ZERO_CELSIUS:.0f} °C."
        )
        return Limit("fire", hit, "Drier fuel, or one that burns hotter.")
    if wanted is None and hottest <= usual:
        hit = (
            f"With this fuel and air the fire's gas is no hotter than {hottest - ZERO_CELSIUS:.0f} °C; "
            f"{usual - ZERO_CELSIUS:.0f} °C and more are usual."
        )
        return Limit("fire", hit, "Drier fuel, or less air to it.")
    return None


def _too_cold(burn: Burn) -> Limit | None:
    lowest = burn.moments.gas_temperature[:, 1].max(axis=-1)
    gas, parts = float(lowest.max()), burn.moments.gas_in[lowest.argmax(), :, 0]
    needed = float(threshold(burn.column.air_pressure * parts[0] / parts.sum()))
    if gas > needed or burn.burnt.max() > FELT:
        return None
    return Limit(
        "temperature",
        f"The gas at the lowest stones never passed {gas - ZERO_CELSIUS:.0f} °C, and in this gas no limestone "
        f"burns below {needed - ZERO_CELSIUS:.0f} °C.",
        "Drier fuel, less air beyond what the fuel needs, a larger fire, or more hours while the wall still warms.",
    )


def _turned_away(burn: Burn) -> Limit | None:
    seconds = np.diff(burn.moments.time, prepend=0.0)
    asked = burn.stoker.wanted(burn.moments.time - 1e-6)
    fed = _fed_to_burn(burn)
    if not np.isfinite(asked).all() or asked @ seconds <= 0.0:
        return None
    short = 1.0 - (fed @ seconds) / (asked @ seconds)
    if short < FELT:
        return None
    name, lift, share = throttle(burn.breathe())
    return Limit(
        "draught",
        f"The draught could not burn {100 * short:.0f} % of the fuel meant to be fed; {name} took {100 * share:.0f} % "
        "of the draught.",
        f"{lift[0].upper()}{lift[1:]} would ease it, and so would a chimney.",
    )


def _unfinished(burn: Burn, conversion: float) -> Limit | None:
    done = float(burn.burnt.min())
    if done >= conversion:
        return None
    said = (
        f"After {burn.clock / HOUR:.3g} h {100 * done:.1f} % of the carbonate has burnt, not {100 * conversion:.1f} %."
    )
    more = (conversion - done) / burn.pace_of_burning / HOUR if burn.pace_of_burning > 0.0 else math.inf
    if more > HOPELESS:
        return Limit("time", f"{said} Hardly anything burns any more.", "A hotter or a larger fire would go on.")
    left = f"At its last pace it would take about {shown(more, 2)} h more; the last stones burn slower."
    return Limit("time", said, left)


def _fed_to_burn(burn: Burn) -> np.ndarray:
    """Return what is fed (kg/s) without what the air at hand cannot burn, by moment."""
    stoker, moments = burn.stoker, burn.moments
    with_air = moments.air / (stoker.fuel.air * (1.0 + stoker.least_air) * (1.0 - stoker.unburnt))
    return np.minimum(moments.fed, with_air).mean(axis=1)


def _pace(burn: Burn) -> Limit | None:
    stoker, seconds = burn.stoker, np.diff(burn.moments.time, prepend=0.0)
    if stoker.times:
        return None
    full = burn.moments.time > stoker.heat_up_time
    if seconds[full].sum() < OF_THE_HOURS * burn.clock:
        return Limit(
            "slow start",
            f"The slow start set the pace: the fire was let grow for {stoker.heat_up_time / HOUR:.3g} h.",
            "Dry stone in a dry kiln bears a quicker one.",
        )
    fed = float(_fed_to_burn(burn)[full] @ seconds[full] / seconds[full].sum())
    name, lift, share = throttle(burn.breathe())
    if fed >= (1.0 - OF_THE_FUEL) * stoker.most:
        return Limit(
            "arms",
            f"What is fed set the pace: {HOUR * fed:.3g} kg an hour once the fire was full.",
            "More hands or another mouth would shorten the firing, as far as the draught goes.",
        )
    return Limit(
        "draught",
        f"Draught set the pace: {name} took {100 * share:.0f} % of it.",
        f"{lift[0].upper()}{lift[1:]}, or a chimney, would shorten the firing.",
    )


def _over_burning(burn: Burn, dead_share: float, wanted: float | None) -> Limit | None:
    if dead_share < FELT:
        return None
    dead = float(fact("dead_burnt_from"))
    cooler = dead if wanted is None or wanted > dead else wanted - COOLER
    hottest = float(burn.moments.gas_temperature[:, 1].max())
    return Limit(
        "heat",
        f"The gas at the lowest stones came to {tens(hottest - ZERO_CELSIUS)} °C, and {100 * dead_share:.0f} % of the "
        "charge was so hot for so long that it may be dead-burnt.",
        f'More air to the fuel keeps it cooler, as with fire_temperature="{tens(cooler - ZERO_CELSIUS)} degC"; it then '
        "takes more hours and more fuel.",
    )


def find_limits(
    burn: Burn, conversion: float, fire_temperature: float | None, dead_share: float = 0.0
) -> tuple[Limit, ...]:
    """Return the limits a firing ran into up to now, the most telling first.

    Beside the conversion wanted stand the temperature wanted of the fire's gas (K), and what share of the charge is
    at risk of dead-burning.
    """
    still = _no_draught(burn)
    if still:
        return (still,)
    found = [
        _weak_fire(burn, fire_temperature),
        _too_cold(burn),
        _turned_away(burn),
        _unfinished(burn, conversion),
        _over_burning(burn, dead_share, fire_temperature),
        _pace(burn),
    ]
    return tuple(limit for limit in found if limit)
