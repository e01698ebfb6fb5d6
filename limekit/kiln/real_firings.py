"""Flare kilns that were fired and reported (``data/firings.csv``), and the plain line through them."""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from limekit import tables
from limekit.estimate import Span
from limekit.facts import refuse_unsourced
from limekit.fire.stacks import fuel_mass_in
from limekit.units import HOUR, MM, TONNE

EITHER_WOOD = ("softwood", "hardwood")  # where the wood is not named
NINE_IN_TEN = NormalDist().inv_cdf(0.95)  # standard deviations either way


@dataclass(frozen=True)
class RealFiring:
    """One firing, or the usual practice at one kiln, in SI floats; None where its source is silent.

    `kiln` is one name for all that was reported of a kiln. `set_aside` says why the figures are not
    counted, and is empty where they are. Fuel told in cubic metres is weighed by `limekit.fuel_mass_in`,
    with its range.
    """

    id: str
    kiln: str
    name: str
    country: str
    year: str
    record: str
    stone: Span | None
    stone_from: str
    smallest_stone: float | None
    largest_stone: float | None
    wall: str
    fuel: Span | None
    hours: Span | None
    slow_start: float | None
    lime: Span | None
    stokers: str
    set_aside: str
    tag: str
    source: str
    place: str
    note: str


def _number(cell: str, unit: float = 1.0) -> float | None:
    return float(cell) * unit if cell else None


def _span(middle: str, low: str, high: str, unit: float = 1.0) -> Span | None:
    if not middle:
        return None
    return Span(*(float(cell or middle) * unit for cell in (middle, low, high)))


def _fuel(row: dict[str, str]) -> Span | None:
    if row["fuel_kg"]:
        return _span(row["fuel_kg"], "", "")
    volume = _number(row["fuel_stacked_m3"] or row["fuel_solid_m3"])
    if volume is None:
        return None
    solid = None if row["fuel_stacked_m3"] else 1.0
    woods = (row["fuel"],) if row["fuel"] else EITHER_WOOD
    masses = [fuel_mass_in.plain(volume, wood, solid_fraction=solid) for wood in woods]
    middle = sum(mass.middle for mass in masses) / len(masses)
    return Span(middle, min(mass.low for mass in masses), max(mass.high for mass in masses))


def _firing(row: dict[str, str]) -> RealFiring:
    refuse_unsourced(row, f"firings, {row['id']}")
    read = {
        "stone": _span(row["stone_kg"], row["stone_low_kg"], row["stone_high_kg"]),
        "smallest_stone": _number(row["smallest_stone_mm"], 1.0 / MM),
        "largest_stone": _number(row["largest_stone_mm"], 1.0 / MM),
        "fuel": _fuel(row),
        "hours": _span(row["hours"], row["hours_low"], row["hours_high"], HOUR),
        "slow_start": _number(row["slow_start_h"], HOUR),
        "lime": _span(row["lime_kg"], row["lime_low_kg"], row["lime_high_kg"]),
    }
    words = RealFiring.__dataclass_fields__.keys() - read.keys()
    return RealFiring(**{name: row[name] for name in words}, **read)


@functools.cache
def real_firings() -> tuple[RealFiring, ...]:
    """Return every firing of the table."""
    return tuple(map(_firing, tables.rows("firings")))


def known(figure: str) -> tuple[RealFiring, ...]:
    """Return the firings counted whose stone is known and a figure besides, ``"hours"`` or ``"fuel"``."""
    return tuple(
        one
        for one in real_firings()
        if not one.set_aside and one.stone is not None and getattr(one, figure) is not None
    )


def masses_of(firings: Iterable[RealFiring]) -> list[float]:
    """Return the stone of each kiln, kg; of several burns the mean."""
    by_kiln: dict[str, list[float]] = {}
    for one in firings:
        by_kiln.setdefault(one.kiln, []).append(one.stone.middle)
    return [sum(masses) / len(masses) for masses in by_kiln.values()]


class PlainLine(NamedTuple):
    """A figure as a power of the stone's mass: in SI at a tonne, the exponent, and the factor of one sigma."""

    at_a_tonne: float
    exponent: float
    scatter: float
    firings: int
    kilns: int

    def at(self, stone: float) -> Span:
        """Return the figure for a mass of stone (kg), with its 90 % range."""
        middle = self.at_a_tonne * (stone / TONNE) ** self.exponent
        either_way = self.scatter**NINE_IN_TEN
        return Span(middle, middle / either_way, middle * either_way)


def plain_line(firings: tuple[RealFiring, ...], figure: str) -> PlainLine:
    """Draw the line through a figure of firings, ``"hours"`` or ``"fuel"``, over their stone; a kiln counts once.

    Notes
    -----
    ln figure = ln a + b ln(stone/1 t) by least squares, each firing weighing 1 over the number of its kiln's
    firings; scatter = exp √(Σ w r²/(Σ w − 2)).
    """
    of_a_kiln = Counter(one.kiln for one in firings)
    weights = np.array([1.0 / of_a_kiln[one.kiln] for one in firings])
    masses, figures = np.log([(one.stone.middle / TONNE, getattr(one, figure).middle) for one in firings]).T
    exponent, at_a_tonne = np.polyfit(masses, figures, 1, w=np.sqrt(weights))
    rest = figures - at_a_tonne - exponent * masses
    scatter = np.exp(np.sqrt(weights @ rest**2 / (weights.sum() - 2.0)))
    return PlainLine(float(np.exp(at_a_tonne)), float(exponent), float(scatter), len(firings), len(of_a_kiln))
