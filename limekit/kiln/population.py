"""Flare kilns as others fire them: what nobody told of them, drawn from its range, and what the model makes of it.

The model was fired some hundred times (``tests/population/fire_and_fit.py``) with other values each time of all that
sources leave unsaid. `fired` reads the surfaces that run through those firings; `kilns` are imagined kilns whose
unknowns lie as those of real ones may; `ways` says what the real firings teach of all kilns together: how they
are fed, how much air they get, and by how much one eats more wood than another.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from limekit import tables
from limekit.facts import fact, refuse_unsourced
from limekit.kiln.real_firings import NINE_IN_TEN
from limekit.units import DAY, TONNE, quantity

GROWS_BY = {"stoking_rate": 0.3, "heat_up_time": 0.6}  # powers of the tonnes; their range is that at a tonne
BEYOND = 1.15  # how far past an end of its range, -1 or 1, an unknown may be told
AIR_SPREAD = 0.25  # one sigma of the logarithm of the excess air between kilns
LONGEST = 14 * DAY  # s, that a fire is kept up
HELD = ("stone", "stoking_rate", "excess_air")  # not drawn: asked for, or fitted


class Unknown(NamedTuple):
    """What a source may leave unsaid: its range in SI, even or even in its logarithm, or the words it is one of.

    A word that stands among them twice is twice as likely.
    """

    scale: str
    low: float
    high: float
    words: tuple[str, ...]

    def value(self, place):
        """Return its values at places from -1, its low end, to 1."""
        share = 0.5 * (np.asarray(place) + 1.0)
        if self.words:
            rank = np.minimum(share * len(self.words), len(self.words) - 1).astype(int)
            return np.array(self.words)[rank]
        if self.scale == "log":
            return self.low * (self.high / self.low) ** share
        return self.low + share * (self.high - self.low)

    @property
    def apart(self) -> list[str]:
        """Every word but the first, once."""
        return [word for word in dict.fromkeys(self.words) if word != self.words[0]]

    def columns(self, value) -> list[np.ndarray]:
        """Return what stands for values in a surface: their place, or for each word but one whether it is that."""
        value = np.asarray(value)
        if self.words:
            return [(value == word).astype(float) for word in self.apart]
        if self.scale == "log":
            share = np.log(value / self.low) / math.log(self.high / self.low)
        else:
            share = (value - self.low) / (self.high - self.low)
        return [np.clip(2.0 * share - 1.0, -BEYOND, BEYOND)]


@functools.cache
def unknowns() -> dict[str, Unknown]:
    """Return what the stored firings varied, by name."""
    found = {}
    for row in tables.rows("unknowns"):
        refuse_unsourced(row, f"unknowns, {row['name']}")
        if row["scale"] == "word":
            found[row["name"]] = Unknown("word", 0.0, 1.0, tuple(row["unit"].split("; ")))
            continue
        ends = (float(quantity(f"{row[end]} {row['unit']}").to_base_units().magnitude) for end in ("low", "high"))
        found[row["name"]] = Unknown(row["scale"], *ends, ())
    return found


def columns(values: Mapping) -> dict[str, np.ndarray]:
    """Return what stands in a surface for the values of every unknown, SI as they are, not at a tonne, by name."""
    tonnes, found = values["stone"] / TONNE, {}
    for name, one in unknowns().items():
        told = values[name] / tonnes ** GROWS_BY[name] if name in GROWS_BY else values[name]
        parts = [name] if not one.words else [f"{name} {word}" for word in one.apart]
        found |= dict(zip(parts, one.columns(told), strict=True))
    return dict(zip(found, np.broadcast_arrays(*found.values()), strict=True))


class Surfaces(NamedTuple):
    """Polynomials in the unknowns: by term the coefficients of ln(fuel/stone) and of ln(mean over full feeding).

    `rest` is the root mean square of what each leaves, of firings it was not drawn through.
    """

    terms: tuple[tuple[str, ...], ...]
    fuel: np.ndarray
    feeding: np.ndarray
    rest: tuple[float, float]

    def at(self, values: Mapping) -> tuple[np.ndarray, np.ndarray]:
        """Return the fuel (kg) and the mean feeding over the full for values as of `columns`."""
        parts = columns(values)
        rows = design(parts, self.terms)
        fuel, feeding = np.exp(rows @ self.fuel), np.exp(np.minimum(rows @ self.feeding, 0.0))
        return values["stone"] * fuel, feeding


def design(parts: Mapping[str, np.ndarray], terms) -> np.ndarray:
    """Return the products that terms name, a column each."""
    one = np.ones(np.shape(next(iter(parts.values()))))
    return np.stack([math.prod((parts[name] for name in term), start=one) for term in terms], axis=-1)


@functools.cache
def fired() -> Surfaces:
    """Return the surfaces through the stored firings."""
    rows = tables.rows("fired_surfaces")
    *terms, rest = rows
    numbers = np.array([[float(row["fuel"]), float(row["feeding"])] for row in terms])
    names = tuple(tuple(row["term"].split(" * ")) if row["term"] else () for row in terms)
    return Surfaces(names, *numbers.T, (float(rest["fuel"]), float(rest["feeding"])))


class Ways(NamedTuple):
    """How real kilns are kept and how they differ, in SI and natural logarithms; a spread is one sigma.

    The full feeding (kg/s) is told at a tonne, with its power of the tonnes; of the excess air the middle; of real heat
    what it is over the model's. `surplus` is, of what the air burns, the share that is fed besides where arms can
    spare it, and leaves as smoke and embers. `wider` is the spread of feeding, so that kilns left out lie in their
    ranges.
    """

    stoking_rate: float
    exponent: float
    stoking_spread: float
    excess_air: float
    surplus: float
    wood: float
    wood_spread: float
    wider: float = 1.0


class Kilns(NamedTuple):
    """Imagined kilns: how they are fed, aired and eat wood, in sigmas, and places of what else is unknown."""

    fed: np.ndarray
    aired: np.ndarray
    eats: np.ndarray
    places: Mapping[str, np.ndarray]

    @classmethod
    def of(cls, places: np.ndarray, sigmas: np.ndarray) -> Kilns:
        """Return kilns from places, shape (kilns, unknowns drawn), and sigmas, shape (kilns, 3)."""
        return cls(*sigmas.T, dict(zip(drawn(), places.T, strict=True)))


def drawn() -> list[str]:
    """Return the unknowns that are drawn from their range, by name."""
    return [name for name in unknowns() if name not in HELD]


@functools.cache
def kilns() -> Kilns:
    """Return the stored kilns."""
    rows = tables.rows("population")
    table = {name: np.array([float(row[name]) for row in rows]) for name in rows[0]}
    return Kilns(*(table.pop(name) for name in Kilns._fields[:3]), table)


class Fired(NamedTuple):
    """What came of kilns side by side: hours (s), fuel (kg), full feeding (kg/s), and the values of every unknown."""

    hours: np.ndarray
    fuel: np.ndarray
    stoking_rate: np.ndarray
    values: dict[str, np.ndarray]


def widest(stone, height_to_diameter):
    """Return the largest stone (m) that a kiln for some stone (kg) takes, by the rules of size."""
    volume = stone / fact("flare_charge_density")
    return fact("flare_stone_share") * (4.0 * volume / (math.pi * height_to_diameter)) ** (1.0 / 3.0)


def fire_all(stone, given: Mapping, many: Kilns, ways: Ways, surfaces: Surfaces, doubt=1.0) -> Fired:
    """Fire imagined kilns by the surfaces, all of one stone (kg), and all with what is told, by name in SI.

    Of several masses, shape (masses, 1), what comes is of shape (masses, kilns). `doubt` is a factor on the spread
    of feeding, for how well the ways are known at that mass.
    """
    tonnes, known = stone / TONNE, unknowns()
    values = {name: known[name].value(many.places[name]) for name in many.places}
    for name in GROWS_BY.keys() & values.keys():
        values[name] = values[name] * tonnes ** GROWS_BY[name]
    low = known["largest_stone"].low
    top = np.maximum(np.minimum(known["largest_stone"].high, widest(stone, values["height_to_diameter"])), low)
    values["largest_stone"] = low * (top / low) ** (0.5 * (many.places["largest_stone"] + 1.0))
    full = ways.stoking_rate + ways.exponent * np.log(tonnes) + doubt * ways.wider * ways.stoking_spread * many.fed
    values |= {
        "stone": stone,
        "stoking_rate": np.exp(full),
        "excess_air": np.exp(ways.excess_air + AIR_SPREAD * many.aired),
        **given,
    }
    fuel, feeding = surfaces.at(values)
    burnt = fuel * np.exp(ways.wood + ways.wood_spread * many.eats)
    rate = np.broadcast_to(values["stoking_rate"], burnt.shape)
    hours = np.minimum(burnt / (rate * feeding), LONGEST)
    fed = np.minimum(feeding * (1.0 + ways.surplus), 1.0)
    return Fired(hours, hours * rate * fed, rate, values)


@functools.cache
def ways() -> Ways:
    """Return the stored ways of real kilns."""
    return Ways(*(float(tables.by("way", "ways")[name]["value"]) for name in Ways._fields))


def doubt(masses, stone):
    """Return the factor on a spread between kilns for how few of these masses lie near a stone's, kg.

    Notes
    -----
    (1 + (z² + 1)/(4 (n − 2))) √(1 + 1/n + (x − x̄)²/Σ(x_i − x̄)²) with x = ln stone, as for one more point beside a
    straight line through n: the first part is about Student's law over the normal one at the ends of the 90 % range.
    """
    logs = np.log(masses)
    far = (np.log(stone) - logs.mean()) ** 2 / np.sum((logs - logs.mean()) ** 2)
    few = (NINE_IN_TEN**2 + 1.0) / (4.0 * (len(logs) - 2.0))
    return (1.0 + few) * np.sqrt(1.0 + 1.0 / len(logs) + far)
