"""Carbonation: how deep the air has set the lime, and what weather does to it.

Ca(OH)2 + CO2 → CaCO3 + H2O works inward as the square root of time. The
weather factors are a model of our own, made from three things that were read:
fastest near half humidity, slow when very dry or soaked, not below 5 °C. Only
their order is claimed.
"""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass

import numpy as np

from limekit.dates import read_date
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import DAY, ZERO_CELSIUS, Kelvin, Metre, MetrePerRootSecond, Second, Share

HORIZON = 20 * 365  # days a calendar looks ahead


@edge
def weather_factor(humidity: Share, weather_temperature: Kelvin, wet_share: Share = 0.0) -> Share:
    """Return how fast weather lets lime set, beside 20 °C, half humidity and a dry face.

    Parameters
    ----------
    humidity : Share
        Relative humidity of the air.
    weather_temperature : Kelvin
    wet_share : Share
        Share of the time the face stands wet.

    Returns
    -------
    Share
        0 to 1; it multiplies time, not depth.

    Notes
    -----
    f = h (1 − h)/(h0 (1 − h0)) · (T − T0)/(T1 − T0) · (1 − wet_share), with the facts ``carbonation_humidity`` h0,
    ``carbonation_temperature_least`` T0 and ``carbonation_temperature_full`` T1; the second factor stays
    within 0 and 1.
    """
    damp = humidity * (1.0 - humidity) / (fact("carbonation_humidity") * (1.0 - fact("carbonation_humidity")))
    least, full = fact("carbonation_temperature_least"), fact("carbonation_temperature_full")
    warm = min(max((weather_temperature - least) / (full - least), 0.0), 1.0)
    return damp * warm * (1.0 - wet_share)


@dataclass(frozen=True)
class Carbonation:
    """How deep the lime has set, with its range."""

    carbonated_depth: Metre
    depth_low: Metre
    depth_high: Metre
    weather_factor: Share
    basis: tuple[Ground, ...] = ()


@edge
def carbonation_depth(
    time_since: Second,
    humidity: Share = fact("carbonation_humidity"),
    weather_temperature: Kelvin = fact("carbonation_temperature_full"),
    wet_share: Share = 0.0,
    carbonation_rate: MetrePerRootSecond = fact("carbonation_rate"),
) -> Carbonation:
    """Return how deep lime has set after a time.

    Parameters
    ----------
    time_since : Second
        Since the mortar was placed.
    humidity, weather_temperature, wet_share
        As for `weather_factor`.
    carbonation_rate : MetrePerRootSecond
        k in depth = k √t: about 1 mm in the first month, a rule of thumb; dense or thick work is slower.

    Returns
    -------
    Carbonation
        The range is the fact's, from half to four times the rate.

    Notes
    -----
    d = k √(f t), with the pace k and f of `weather_factor`.
    """
    factor = weather_factor.plain(humidity, weather_temperature, wet_share)
    depth = carbonation_rate * math.sqrt(time_since * factor)
    rule = fact("carbonation_rate")
    return Carbonation(depth, depth * rule.low / rule, depth * rule.high / rule, factor)


@edge
def time_to_depth(
    carbonated_depth: Metre,
    humidity: Share = fact("carbonation_humidity"),
    weather_temperature: Kelvin = fact("carbonation_temperature_full"),
    wet_share: Share = 0.0,
    carbonation_rate: MetrePerRootSecond = fact("carbonation_rate"),
) -> Second:
    """Return how long lime takes to set to a depth; the reverse of `carbonation_depth`.

    Parameters
    ----------
    carbonated_depth : Metre
    humidity, weather_temperature, wet_share, carbonation_rate
        As for `carbonation_depth`.

    Raises
    ------
    InputError
        In weather in which it never sets.

    Notes
    -----
    t = (d/k)²/f, as in `carbonation_depth`.
    """
    factor = weather_factor.plain(humidity, weather_temperature, wet_share)
    if factor <= 0.0:
        celsius = weather_temperature - ZERO_CELSIUS
        got = f"{100 * humidity:.0f} % humidity at {celsius:.0f} °C, wet {100 * wet_share:.0f} % of the time"
        wanted = "weather above 5 °C, neither bone dry nor soaked: pure lime does not set in this"
        raise InputError("the weather", got, wanted, 'humidity=0.6, weather_temperature="12 degC"')
    return (carbonated_depth / carbonation_rate) ** 2 / factor


@dataclass(frozen=True)
class Curing:
    """When a coat may be left, recoated and trusted to frost.

    `through_on` is None where the air does not set it through within twenty years, as the ends of its range are;
    it is firm by drying long before. `depth_at_frost` is what has set when cold first comes, and `protect` says
    that it comes too soon.
    """

    damp_until: datetime.date
    through_on: datetime.date | None
    through_early: datetime.date | None
    through_late: datetime.date | None
    frost_on: datetime.date | None
    depth_at_frost: Metre | None
    protect: bool
    words: str
    basis: tuple[Ground, ...] = ()


def ageing(
    start: datetime.date, monthly_temperatures: np.ndarray, monthly_humidities: np.ndarray, days: int
) -> tuple[np.ndarray, np.ndarray]:
    """Return each day's month, 0 for January, and the seconds of the best weather that would have set as much by then.

    Both are of shape (days,), from the day the work was placed on; depth is k times the root of the second. The year's
    temperatures (K) and humidities are of shape (12,), January first; others are refused.
    """
    if np.shape(monthly_temperatures) != (12,) or np.shape(monthly_humidities) != (12,):
        got = f"{np.size(monthly_temperatures)} temperatures and {np.size(monthly_humidities)} humidities"
        raise InputError("the year's weather", got, "12 of each, January first", "monthly_humidities=[0.8] * 12")
    factors = [weather_factor.plain(*month) for month in zip(monthly_humidities, monthly_temperatures, strict=True)]
    months = (np.datetime64(start) + np.arange(days)).astype("datetime64[M]").astype(int) % 12
    return months, DAY * np.concatenate([[0.0], np.cumsum(np.array(factors)[months])[:-1]])


@edge
def curing_calendar(
    applied_on: datetime.date,
    coat_thickness: Metre,
    monthly_temperatures: Kelvin,
    monthly_humidities: Share,
    carbonation_rate: MetrePerRootSecond = fact("carbonation_rate"),
) -> Curing:
    """Follow a coat through the year's weather, day by day.

    Parameters
    ----------
    applied_on : datetime.date
        Or text as "2026-05-01".
    coat_thickness : Metre
    monthly_temperatures : Kelvin
        Array of 12, January first: the mean of each month.
    monthly_humidities : Share
        Array of 12, January first.
    carbonation_rate : MetrePerRootSecond
        See `carbonation_depth`.

    Returns
    -------
    Curing
        Cold has come in the first month whose mean lies below 5 °C; single nights freeze earlier. It
        comes too soon within the fact ``frost_free_least`` of the work.

    Raises
    ------
    InputError
        If there are not 12 of each.

    Notes
    -----
    d = k √(Σ f Δt), day by day, with the pace k and each month's `weather_factor` f.
    """
    start = read_date(applied_on, "applied_on")
    months, aged = ageing(start, monthly_temperatures, monthly_humidities, HORIZON)
    cold = np.flatnonzero((np.asarray(monthly_temperatures) < fact("carbonation_temperature_least"))[months])
    rule = fact("carbonation_rate")
    through_on, early, late = (
        _day_set(start, aged, coat_thickness / (carbonation_rate * times))
        for times in (1.0, rule.high / rule, rule.low / rule)
    )
    frost_on = depth_at_frost = None
    first_cold = start + datetime.timedelta(days=int(cold[0])) if cold.size else None
    if first_cold and not (through_on and through_on < first_cold):
        frost_on = first_cold
        depth_at_frost = carbonation_rate * math.sqrt(aged[cold[0]])
    safe_from = start + datetime.timedelta(seconds=float(fact("frost_free_least")))
    protect = frost_on is not None and frost_on < safe_from
    damp_until = start + datetime.timedelta(seconds=float(fact("curing_damp")))
    words = _words(damp_until, (early, through_on, late), frost_on, protect)
    return Curing(damp_until, through_on, early, late, frost_on, depth_at_frost, protect, words)


def _day_set(start: datetime.date, aged: np.ndarray, root_of_time: float) -> datetime.date | None:
    days = np.flatnonzero(aged >= root_of_time**2)
    return start + datetime.timedelta(days=int(days[0])) if days.size else None


def _words(
    damp_until: datetime.date,
    through: tuple[datetime.date | None, ...],
    frost_on: datetime.date | None,
    protect: bool,
) -> str:
    said = [f"Keep it damp and shaded until {damp_until:%d %B %Y}."]
    early, middle, late = (f"{day:%B %Y}" if day else "twenty years and more" for day in through)
    if early == "twenty years and more":
        said.append("Not set through within twenty years.")
    else:
        said.append(
            f"Set through some time from {early} to {late}, by a plasterers' rule near {middle}; nobody knows better."
        )
    if protect:
        said.append(f"Cold comes in {frost_on:%B %Y}, too soon: cover it well all winter, or wait for spring.")
    return " ".join(said)
