"""Fire the model over what sources leave unsaid, fit how real kilns differ, and leave each kiln out in turn.

Run by hand, some minutes: ``python tests/population/fire_and_fit.py [firings]``. It writes ``fired_surfaces.csv``,
``population.csv``, ``ways.csv`` and ``left_out_kilns.csv`` of `limekit/data`, rounded so that another processor
writes the same, and prints what it found.
"""

from __future__ import annotations

import csv
import itertools
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np
from scipy.optimize import minimize
from scipy.special import ndtri
from scipy.stats import qmc, t

from limekit.estimate import Span
from limekit.fire.fuel import Fuel
from limekit.kiln import population
from limekit.kiln.firing import fire_kiln
from limekit.kiln.left_out import FORECAST, LeftOut, judge
from limekit.kiln.population import Kilns, Surfaces, Ways, doubt, fire_all, unknowns
from limekit.kiln.real_firings import NINE_IN_TEN, known, masses_of, plain_line
from limekit.kiln.sizing import size_kiln
from limekit.limestone import Stone
from limekit.units import HOUR, TONNE

DATA = Path(population.__file__).parents[1] / "data"
FIRINGS, KILNS = 512, 256
MAIN = ("stone", "stoking_rate", "excess_air")  # cubes of these, and squares of the next
NEXT = ("largest_stone", "heat_up_time")
LEAST_KNOWN, WEIGHED = 0.1, 0.1  # one sigma of ln of hours and of wood that were told without a range
LIKELY = Ways(np.log(60.0 / HOUR), 0.3, 0.4, np.log(0.6), 0.3, 0.0, 0.2)  # where the search starts
BEFORE = {
    "stoking_rate": 0.3,
    "exponent": 0.15,
    "excess_air": 0.4,
    "surplus": 0.5,
    "wood": 0.15,
}  # one sigma round that, before any firing is heard
TAILS = 4  # degrees of freedom: now and then a firing goes far wrong
WIDER, HELD = 1.0 + 0.1 * np.arange(11), 0.85  # factors tried, and the share of left-out kilns that ranges must hold
STEP = 0.15  # of the search's first corners
ENDS = ("middle", "low", "high")
SAID = {
    "stoking_rate": "ln of the full feeding at a tonne of stone, kg/s",
    "exponent": "by which power of the tonnes it grows",
    "stoking_spread": "one sigma of its ln between firings",
    "excess_air": "ln of the middle of the excess air",
    "surplus": "fed beyond what the air burns, as a share of that, where arms can spare it",
    "wood": "ln of real heat over the model's, in the middle",
    "wood_spread": "one sigma of that between kilns",
    "wider": "factor on the spread of feeding, so that kilns left out lie in their ranges",
}


def drawn_values(places: np.ndarray) -> dict:
    """Return one firing's values from places of every unknown."""
    values = {name: one.value(place) for (name, one), place in zip(unknowns().items(), places, strict=True)}
    values = {name: str(value) if unknowns()[name].words else float(value) for name, value in values.items()}
    tonnes = values["stone"] / TONNE
    for name, power in population.GROWS_BY.items():
        values[name] *= tonnes**power
    widest = population.widest(values["stone"], values["height_to_diameter"])
    values["largest_stone"] = min(values["largest_stone"], 0.999 * widest)
    return values


def fire(values: dict) -> tuple[float, float] | None:
    """Fire a kiln in the model and return its fuel over its stone and its mean feeding over the full; None if never done."""
    told = dict(values)
    stone, conversion = told.pop("stone"), told.pop("conversion")
    size = {name: told.pop(name) for name in ("largest_stone", "height_to_diameter")}
    made_of = {name: told.pop(name) for name in ("stone_moisture", "calcium_carbonate", "lime_conductivity")}
    fuel = Fuel.plain("hardwood", told.pop("fuel_moisture"))
    fired = fire_kiln.plain(
        size_kiln.plain(stone, **size),
        fuel,
        stone=Stone.plain(**made_of),
        conversion=conversion,
        fuel_surplus=0.0,
        hours=population.LONGEST,
        **told,
    )
    if fired.finish is None:
        return None
    return fired.fuel_used / stone, fired.fuel_used / fired.finish / values["stoking_rate"]


def fire_design(firings: int) -> tuple[list[dict], np.ndarray]:
    """Fire kilns spread evenly over all unknowns; return their values and, a row each, what `fire` says."""
    places = 2.0 * qmc.Sobol(len(unknowns()), rng=1).random(firings) - 1.0
    done, came = [], []
    for place in places:
        values = drawn_values(place)
        result = fire(values)
        if result is not None:
            done.append(values)
            came.append(np.log(result))
    print(f"{firings} fired, {firings - len(done)} never done")
    return done, np.array(came)


def terms_of(parts) -> tuple[tuple[str, ...], ...]:
    """Return a surface's terms: all by themselves, squares and products of the chief ones, cubes of the first."""
    chief = (*MAIN, *NEXT)
    words = [name for name in parts if name not in unknowns()]
    squares = itertools.combinations_with_replacement(chief, 2)
    by_words = itertools.product(words, MAIN)
    return ((), *((name,) for name in parts), *squares, *by_words, *itertools.combinations_with_replacement(MAIN, 3))


def draw_surfaces(done: list[dict], came: np.ndarray) -> Surfaces:
    """Draw surfaces through firings by least squares; what is left is of each firing when it is left out."""
    rows = [population.columns(values) for values in done]
    parts = {name: np.array([row[name] for row in rows]) for name in rows[0]}
    terms = terms_of(parts)
    matrix = population.design(parts, terms)
    inverse = np.linalg.pinv(matrix)
    coefficients = inverse @ came
    left = (came - matrix @ coefficients) / (1.0 - np.einsum("ij,ji->i", matrix, inverse))[:, None]
    return Surfaces(terms, *coefficients.T, tuple(np.sqrt(np.mean(left**2, axis=0))))


def imagine(count: int) -> Kilns:
    """Return imagined kilns, as they are stored."""
    names = population.drawn()
    even = qmc.Sobol(3 + len(names), rng=2).random(count)
    return Kilns.of(np.round(2.0 * even[:, 3:] - 1.0, 3), np.round(ndtri(even[:, :3]), 3))


def sigma(figure, least: float) -> float:
    """Return one sigma of the logarithm of a figure that was told with or without a range."""
    return np.hypot(least, np.log(figure.high / figure.low) / 2.0 / NINE_IN_TEN)


def log_likelihood(ways: Ways, firings, many: Kilns, surfaces: Surfaces) -> float:
    """Return how likely the firings are, each kiln counting once."""
    came = fire_all(np.array([[one.stone.middle] for one in firings]), {}, many, ways, surfaces)
    by_kiln = defaultdict(list)
    for one, hours, fuel in zip(firings, np.log(came.hours), np.log(came.fuel), strict=True):
        chance = np.zeros(len(many.fed))
        for real, forecast, least in ((one.hours, hours, LEAST_KNOWN), (one.fuel, fuel, WEIGHED)):
            if real is not None:
                chance += t.logpdf(np.log(real.middle) - forecast, TAILS, scale=sigma(real, least))
        by_kiln[one.kiln].append(np.logaddexp.reduce(chance) - np.log(len(chance)))
    return sum(np.mean(chances) for chances in by_kiln.values())


def fit(firings, many: Kilns, surfaces: Surfaces, start: Ways = LIKELY) -> Ways:
    """Return the ways that make firings likeliest, with what was thought likely before."""

    def unlikely(numbers) -> float:
        ways = Ways(*numbers)
        if min(ways.stoking_spread, ways.wood_spread) < 0.02 or ways.surplus < 0.0:
            return 1e6
        before = sum(((getattr(ways, name) - getattr(LIKELY, name)) / one) ** 2 for name, one in BEFORE.items())
        return 0.5 * before - log_likelihood(ways, firings, many, surfaces)

    start = start[:-1]  # what is fitted
    corners = np.array(start) + np.vstack([np.zeros(len(start)), STEP * np.eye(len(start))])
    how = {"xatol": 0.01, "fatol": 0.01, "maxiter": 500, "initial_simplex": corners}
    found = minimize(unlikely, start, method="Nelder-Mead", options=how)
    return Ways(*map(float, found.x))


def span_of(figures: np.ndarray) -> Span:
    """Return the middle and the 90 % range of figures."""
    return Span(*map(float, np.quantile(figures, [0.5, 0.05, 0.95])))


def without_each(firings, many: Kilns, surfaces: Surfaces, ways: Ways) -> dict[str, Ways]:
    """Return the ways of all kilns but one, by the kiln left out."""
    return {
        kiln: fit([one for one in firings if one.kiln != kiln], many, surfaces, ways)
        for kiln in dict.fromkeys(one.kiln for one in firings)
    }


def leave_out(firings, many: Kilns, surfaces: Surfaces, theirs: dict[str, Ways], wider: float) -> list[LeftOut]:
    """Return each firing with what the firings of all other kilns forecast of it."""
    found = []
    for one in firings:
        masses = masses_of(other for other in firings if other.hours and other.kiln != one.kiln)
        ways, stone = theirs[one.kiln]._replace(wider=wider), one.stone.middle
        came = fire_all(stone, {}, many, ways, surfaces, doubt(masses, stone))
        lines = {
            f"{figure}_line": plain_line(tuple(o for o in known(figure) if o.kiln != one.kiln), figure).at(stone)
            for figure in ("hours", "fuel")
        }
        fed = span_of(came.fuel / one.fuel.middle * one.hours.middle) if one.hours and one.fuel else None
        found.append(LeftOut(one, span_of(came.hours), span_of(came.fuel), fed, **lines))
    return found


def widen(firings, *known_by) -> tuple[float, list[LeftOut]]:
    """Return by which factor the spread of feeding must grow for the ranges to hold what they say, and those ranges."""
    for wider in WIDER:
        found = leave_out(firings, *known_by, wider)
        if judge(found, "hours").coverage >= HELD:
            break
    return float(wider), found


def rounded(number: float, digits: int = 4) -> str:
    """Return a number to so many significant digits."""
    return f"{float(f'{number:.{digits}g}'):g}"


def write(name: str, rows: list[dict[str, str]]) -> None:
    """Write a table of the kit's data."""
    with (DATA / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, rows[0], lineterminator="\n")
        table.writeheader()
        table.writerows(rows)


def write_surfaces(surfaces: Surfaces) -> None:
    """Write the surfaces, a term a row, and at last what they leave."""
    numbers = (*zip(surfaces.fuel, surfaces.feeding, strict=True), surfaces.rest)
    terms = (*map(" * ".join, surfaces.terms), "rest")
    rows = zip(terms, numbers, strict=True)
    write("fired_surfaces", [{"term": term, "fuel": rounded(a), "feeding": rounded(b)} for term, (a, b) in rows])


def write_kilns(many: Kilns) -> None:
    """Write the imagined kilns, one a row."""
    columns = {"fed": many.fed, "aired": many.aired, "eats": many.eats, **many.places}
    rows = zip(*columns.values(), strict=True)
    write("population", [dict(zip(columns, map(rounded, row), strict=True)) for row in rows])


def write_ways(ways: Ways) -> None:
    """Write how real kilns are kept, with a word for each."""
    write(
        "ways", [{"way": name, "value": rounded(value), "note": SAID[name]} for name, value in ways._asdict().items()]
    )


def write_left_out(found: list[LeftOut]) -> None:
    """Write what was forecast of each firing by the others."""
    rows = []
    for one in found:
        row = {"id": one.firing.id}
        for name, unit in FORECAST.items():
            span = getattr(one, name)
            row |= {f"{name}_{end}": "" if span is None else rounded(getattr(span, end) / unit, 3) for end in ENDS}
        rows.append(row)
    write("left_out_kilns", rows)


def tell(ways: Ways, surfaces: Surfaces, found: list[LeftOut]) -> None:
    """Print what was found."""
    print(f"surfaces leave {surfaces.rest[0]:.3f} of ln fuel and {surfaces.rest[1]:.3f} of ln feeding")
    print({name: round(value, 3) for name, value in ways._asdict().items()})
    print(f"{np.exp(ways.stoking_rate) * HOUR:.0f} kg/h at a tonne, excess air {np.exp(ways.excess_air):.2f}")
    for figure, forecast in (
        ("hours", ""),
        ("hours", "hours_line"),
        ("hours", "hours_fed"),
        ("fuel", ""),
        ("fuel", "fuel_line"),
    ):
        print(forecast or figure, judge(found, figure, forecast))
    for one in found:
        real = [one.firing.hours and one.firing.hours.middle / HOUR, one.firing.fuel and one.firing.fuel.middle]
        hours = [round(getattr(one.hours, end) / HOUR, 1) for end in ENDS]
        fed = one.hours_fed and round(one.hours_fed.middle / HOUR, 1)
        print(one.firing.id, one.firing.stone.middle, real, hours, fed, [round(getattr(one.fuel, end)) for end in ENDS])


def main() -> None:
    """Fire, fit, leave out, tell and write."""
    firings = int(sys.argv[1]) if len(sys.argv) > 1 else FIRINGS
    surfaces = draw_surfaces(*fire_design(firings))
    many = imagine(KILNS)
    counted = tuple(dict.fromkeys((*known("hours"), *known("fuel"))))
    ways = fit(counted, many, surfaces)
    wider, found = widen(counted, many, surfaces, without_each(counted, many, surfaces, ways))
    ways = ways._replace(wider=wider)
    tell(ways, surfaces, found)
    write_surfaces(surfaces)
    write_kilns(many)
    write_ways(ways)
    write_left_out(found)


if __name__ == "__main__":
    main()
