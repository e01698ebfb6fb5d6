"""What a firing will take, from how others fired: wood first, then hours, each with what its range is made of."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Annotated, NamedTuple

import numpy as np

from limekit.balance import mass_balance
from limekit.edge import PUBLISHED, Ground, edge
from limekit.errors import InputError
from limekit.estimate import Span, shown
from limekit.fire.bed import Laid
from limekit.fire.fuel import FuelKind, fuels, lower_heating_value
from limekit.kiln.heat import KilnKind
from limekit.kiln.left_out import Judged, judge, left_out
from limekit.kiln.population import Fired, doubt, fire_all, fired, kilns, unknowns, ways
from limekit.kiln.real_firings import NINE_IN_TEN, PlainLine, known, masses_of, plain_line
from limekit.limestone import Stone
from limekit.units import HOUR, TONNE, KilogramPerSecond, Metre, Share, Unit

LEAST, MOST = 100.0, 40_000.0  # kg of stone, between which real kilns stand
STONE_TOLD = ("stone_moisture", "calcium_carbonate", "lime_conductivity")
FIRED_WITH = "hardwood"  # what the stored firings burnt
ENDS = (0.5, 0.05, 0.95)
PARTS = {
    "people: how they feed and how slowly they start": ("fed", "heat_up_time", "conversion"),
    "air and wind": ("aired", "wind_pressure"),
    "wood: how wet, and what leaves unburnt": ("fuel_moisture", "fuel_unburnt"),
    "stone: size, water, make-up and pace": (
        "largest_stone",
        "stone_moisture",
        "calcium_carbonate",
        "lime_conductivity",
    ),
    "laying": ("laid",),
    "kiln: shape, wall and cover": ("height_to_diameter", "wall_kind", "wall_moisture", "cover"),
    "other kilns: wood that nothing here explains": ("eats",),
}


class Part(NamedTuple):
    """What one thing that nobody knows makes of a range: as a factor either way, alone."""

    name: str
    hours: float
    fuel: float


@dataclass(frozen=True)
class FiringForecast:
    """What a firing may take; each `Span` has its 90 % range.

    `stoking_rate` is what is fed once the fire is full. `hours_line` and `fuel_line` are the plain lines through the
    same real firings, without any model. `parts` name what the range is made of, widest first, and `verdict` says
    how many kilns it rests on and whether it does better than the line.
    """

    hours: Annotated[Span, Unit("s")]
    fuel: Annotated[Span, Unit("kg")]
    fuel_per_quicklime: Annotated[Span, Unit("")]
    stoking_rate: Annotated[Span, Unit("kg/s")]
    hours_line: Annotated[Span, Unit("s")]
    fuel_line: Annotated[Span, Unit("kg")]
    real_kilns: int
    verdict: str
    parts: tuple[Part, ...]
    basis: tuple[Ground, ...] = ()


class Along(NamedTuple):
    """Forecasts for charges from small to large: stone (kg), and hours (s) and fuel (kg), middle, low and high."""

    stone: np.ndarray
    hours: np.ndarray
    fuel: np.ndarray


def forecast_along(stone: np.ndarray, **given) -> Along:
    """Forecast charges of any mass at once, for a picture; what is told is the same for all, in SI."""
    came = _fire(stone[:, None], given)
    return Along(stone, *(np.quantile(figure, ENDS, axis=1) for figure in (came.hours, came.fuel)))


@functools.cache
def _masses() -> list[float]:
    return masses_of(known("hours"))


@functools.cache
def _line(figure: str) -> PlainLine:
    return plain_line(known(figure), figure)


@functools.cache
def _judged(forecast: str) -> Judged:
    """Return how forecasts of hours did, by their name, as in `judge`."""
    return judge(left_out(), "hours", forecast)


def _fire(stone, given: dict) -> Fired:
    told = {name: value for name, value in given.items() if value is not None}
    return fire_all(stone, told, kilns(), ways(), fired(), doubt(_masses(), stone))


def _span(figures: np.ndarray) -> Span:
    return Span(*(float(end) for end in np.quantile(figures, ENDS)))


def _explained(name: str, place: np.ndarray, logs: np.ndarray) -> float:
    """Return what share of a spread an unknown explains: by its words, or in a straight line."""
    one = unknowns().get(name)
    if one is None or not one.words:
        return np.corrcoef(place, logs)[0, 1] ** 2
    words = one.value(place)
    return (
        sum(
            (words == word).mean() * (logs[words == word].mean() - logs.mean()) ** 2
            for word in dict.fromkeys(one.words)
        )
        / logs.var()
    )


def _parts(came: Fired) -> tuple[Part, ...]:
    many = kilns()
    places = {"fed": many.fed, "aired": many.aired, "eats": many.eats, **many.places}
    logs = np.log(came.hours), np.log(came.fuel)
    found = []
    for name, held in PARTS.items():
        shares = (sum(_explained(one, places[one], figure) for one in held) for figure in logs)
        factors = (
            math.exp(NINE_IN_TEN * math.sqrt(share) * one.std()) for share, one in zip(shares, logs, strict=True)
        )
        found.append(Part(name, *factors))
    return tuple(sorted(found, key=lambda part: -part.hours))


def _verdict(forecast: dict, fuel_kind: str | None, fed: bool) -> str:
    hours, fuel, rate = (forecast[name] for name in ("hours", "fuel", "stoking_rate"))
    ours, line = _judged("hours_fed" if fed else "hours"), _judged("hours_line")
    better = "better than" if ours.beats(line) else "no better than"
    said = [
        f"Stack {shown(fuel.high, 2)} kg of wood, though {shown(fuel.middle, 2)} kg may do: fed "
        f"{shown(rate.middle * HOUR, 2)} kg/h at its full the fire burns {shown(hours.middle / HOUR, 2)} h, nine times "
        f"in ten {shown(hours.low / HOUR, 2)} to {shown(hours.high / HOUR, 2)} h.",
        f"It rests on {forecast['real_kilns']} real kilns. Where the others forecast one of them they are out by a "
        f"factor of {ours.sigma:.2f} two times in three, {better} a plain line through them ({line.sigma:.2f}), which "
        f"says {shown(forecast['hours_line'].middle / HOUR, 2)} h.",
    ]
    if fuel_kind is not None and fuels()[fuel_kind].kind != "wood":
        said.append(f"None of them burnt {fuels()[fuel_kind].label}: its mass is by heat alone.")
    return " ".join(said)


@edge
def forecast_firing(
    stone: Stone,
    largest_stone: Metre | None = None,
    kind: KilnKind = "flare",
    *,
    stoking_rate: KilogramPerSecond | None = None,
    laid: Laid | None = None,
    fuel_kind: FuelKind | None = None,
    fuel_moisture: Share | None = None,
) -> FiringForecast:
    """Forecast wood and hours of a firing by how others fired, before anything of a kiln is drawn.

    Parameters
    ----------
    stone : Stone
        Its mass, ``stone="500 kg"``, from 100 kg to 40 t; what else is given of it narrows the forecast.
    largest_stone : Metre, optional
        Across the largest pieces charged.
    kind : {"flare"}
        A shaft burns without end.
    stoking_rate : KilogramPerSecond, optional
        Fuel that you will feed once the fire is full. It narrows the hours most.
    laid : {"poured", "by hand", "with flues"}, optional
        How the charge will lie.
    fuel_kind : FuelKind, optional
        The wood; of another fuel the mass is by heat alone.
    fuel_moisture : Share, optional
        Water as a share of the wet mass.

    Returns
    -------
    FiringForecast
        What is not told is drawn from the range it has in practice.

    Raises
    ------
    InputError
        If the stone has no mass, or one that no real kiln comes near; or for a shaft.

    Notes
    -----
    hours = fuel/(r(t) φ), with the full feeding r = a t^b of t tonnes of stone and the share φ of it that the fire
    takes on the mean: less for the slow start, and where the draught burns no more. ln(fuel/stone) and ln φ are
    polynomials through some hundred firings of `limekit.fire_kiln` with other values of all that is unsaid; a, b,
    the middle of the air let in, real wood over the model's, and how kilns differ in feeding and in wood are
    fitted to the firings of ``data/firings.csv``, each kiln counting once.

    Examples
    --------
    >>> forecast = forecast_firing(stone="500 kg", largest_stone="100 mm")
    >>> hours = forecast.hours
    >>> print(f"{hours.middle:.0f~P}, nine times in ten {hours.low:.0f~P} to {hours.high:.0f~P}")
    27 h, nine times in ten 12 h to 64 h
    """
    if kind != "flare":
        raise InputError("kind", kind, "a flare kiln, which is fired until it is done", 'kind="flare"')
    if stone.mass is None:
        raise InputError("stone", "a stone without its mass", "a mass of stone", 'stone="500 kg"')
    if not LEAST <= stone.mass <= MOST:
        got = f"{stone.mass:.4g} kg"
        raise InputError("stone", got, f"{LEAST:.0f} kg to {MOST / TONNE:.0f} t, as real kilns hold", 'stone="500 kg"')
    told = {
        "largest_stone": largest_stone,
        "stoking_rate": stoking_rate,
        "laid": laid,
        "fuel_moisture": fuel_moisture,
        **{name: getattr(stone, name) for name in STONE_TOLD if name in stone.given},
    }
    came = _fire(stone.mass, told)
    if fuel_kind is not None:
        heats = (lower_heating_value.plain(one, fuel_moisture) for one in (FIRED_WITH, fuel_kind))
        by_heat = next(heats) / next(heats)
        came = came._replace(fuel=came.fuel * by_heat, hours=came.hours * by_heat)
    made = {name: came.values[name] for name in ("calcium_carbonate", "conversion", "stone_moisture")}
    quicklime = mass_balance.plain(stone.mass, **made).quicklime
    forecast = {
        "hours": _span(came.hours),
        "fuel": _span(came.fuel),
        "fuel_per_quicklime": _span(came.fuel / quicklime),
        "stoking_rate": _span(came.stoking_rate),
        "hours_line": _line("hours").at(stone.mass),
        "fuel_line": _line("fuel").at(stone.mass),
        "real_kilns": len(_masses()),
    }
    verdict = _verdict(forecast, fuel_kind, stoking_rate is not None)
    basis = Ground(
        "real firings", f"{len(_masses())} kilns", PUBLISHED["read"], "data/firings.csv, each with its source"
    )
    return FiringForecast(**forecast, verdict=verdict, parts=_parts(came), basis=(basis,))
