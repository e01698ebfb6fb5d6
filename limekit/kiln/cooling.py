"""The kiln after the fire: how long until the lime can be drawn."""

from __future__ import annotations

import copy
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from limekit.edge import Ground, edge, rests_on
from limekit.facts import fact
from limekit.kiln.column.burn import Burn
from limekit.kiln.column.stoking import Stoker
from limekit.kiln.cover import cover_conductance
from limekit.kiln.firing import Firing
from limekit.units import DAY, HOUR, ZERO_CELSIUS, Kelvin, Second

Openings = Literal["closed", "open"]

LONGEST_COOLING = 30 * DAY  # s
WATCH = HOUR  # s


@dataclass(frozen=True, eq=False)
class Cooling:
    """A kiln cooling; plain SI arrays by hour, from letting the fire out.

    `cooling_time` is until the hottest lime is down to `draw_temperature`; None where it was still too
    hot after a month. `lime_temperature` is the hottest as the fire is let out. Parameters as
    annotated, and: ``times`` (n,) in s, ``hottest`` and ``mean`` (n,) of the stones in K.
    """

    cooling_time: Second | None
    draw_temperature: Kelvin
    lime_temperature: Kelvin
    verdict: str
    times: np.ndarray = field(repr=False)
    hottest: np.ndarray = field(repr=False)
    mean: np.ndarray = field(repr=False)
    basis: tuple[Ground, ...] = ()


def _fire_out(firing: Firing, openings: Openings) -> Burn:
    """Return the kiln with its fire out, its openings as they are or shut under slabs and earth and luted."""
    burn, way, cover = firing.burn, firing.burn.way, firing.burn.cover
    shut = openings == "closed"
    if shut:
        share, eyes = fact("closed_leak_share"), firing.plan.kiln.eye_area or way.eye_area
        way = way.but(air_opening_area=share * way.air_opening_area, eye_area=share * eyes)
        cover = cover_conductance(way.kiln_area)
    nobody = Stoker(burn.stoker.fuel, excess_air=None, unburnt=0.0, times=(0.0,), rates=(0.0,))
    mouth = 0.0 if shut else burn.mouth
    return Burn(copy.deepcopy(burn.column), way, nobody, burn.rings, mouth, cover, pace=burn.pace)


def _verdict(time: float | None, hottest: float, wanted: float) -> str:
    if time is None:
        return (
            f"After {LONGEST_COOLING / DAY:.0f} days the hottest lime is still at {hottest - ZERO_CELSIUS:.0f} °C: "
            "open the draw eyes, or accept hotter lime."
        )
    cooled = f"The hottest lime is at {wanted - ZERO_CELSIUS:.0f} °C after {time / HOUR:.3g} h."
    safe = fact("lime_draw_temperature")
    if wanted > safe:
        return f"{cooled} That is too hot for gloved hands, which want {safe - ZERO_CELSIUS:.0f} °C: nobody reaches in."
    return f"{cooled} Until then nobody reaches in: feel for heat from outside, and keep rain off."


@edge
def cool_kiln(
    firing: Firing,
    openings: Openings = "closed",
    draw_temperature: Kelvin = fact("lime_draw_temperature"),
) -> Cooling:
    """Let a fired kiln cool until its lime can be drawn.

    Parameters
    ----------
    firing : Firing
        From `limekit.fire_kiln`; it is left as it was.
    openings : {"closed", "open"}
        Mouth and draw eyes shut with slabs and clay, so that only what leaks draws through, or
        left open with all their draught.
    draw_temperature : Kelvin
        Of the hottest lime, at which it is drawn.

    Notes
    -----
    The equations of `fire_kiln` with no fuel; the time is that at which max T = draw_temperature over the
    centres of all stones. Air comes in cold by the mouth and leaves by the draw eyes: the lowest lime is
    cool first. Lime takes up no moisture and no carbon dioxide in the model; in the kiln it does, which
    is why it is kept shut.

    Examples
    --------
    >>> from limekit import fire_kiln, size_kiln
    >>> firing = fire_kiln(size_kiln(stone="500 kg", largest_stone="100 mm"), chimney_height="1.5 m")
    >>> shut, airy = (cool_kiln(firing, openings).cooling_time for openings in ("closed", "open"))
    >>> print(f"{shut:.0f~P} shut, {airy:.0f~P} open")
    53 h shut, 27 h open
    """
    kiln = _fire_out(firing, openings)
    charge = kiln.column.charge
    laid = charge.mass > 0.0
    times, hottest, mean = [], [], []
    while not times or (hottest[-1] > draw_temperature and times[-1] < LONGEST_COOLING):
        if times:
            kiln.run(kiln.clock + WATCH)
        stones = kiln.column.stones.core_temperature
        times.append(kiln.clock)
        hottest.append(float(stones[laid].max()))
        mean.append(float(charge.mean(stones)[0]))
    cooled = hottest[-1] <= draw_temperature
    time = float(np.interp(-draw_temperature, -np.array(hottest), times)) if cooled else None
    return Cooling(
        cooling_time=time,
        draw_temperature=draw_temperature,
        lime_temperature=hottest[0],
        verdict=_verdict(time, hottest[-1], draw_temperature),
        times=np.array(times),
        hottest=np.array(hottest),
        mean=np.array(mean),
        basis=rests_on("closed_leak_share", "cover_thickness"),
    )
