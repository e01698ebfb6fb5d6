"""What is read off a steady shaft: how it burns, where its zones lie, which limits it hits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.facts import fact
from limekit.kiln.shaft.counterflow import Sinking
from limekit.stone.overburn import overburn_class, overburn_history
from limekit.stone.signs import unburnt_allowed
from limekit.units import ZERO_CELSIUS

UNSETTLED = 0.01  # of the fuel's heat still going into the shaft, from which nothing is claimed
ZONE_ENDS = (0.01, 0.99)  # of what burns in all
LIMITS = {
    "out": ("the fire goes out", "more fuel, a slower draw, or drier and smaller fuel"),
    "unburnt fuel": ("fuel is drawn unburnt with the lime", "a slower draw, smaller fuel, or more air"),
    "raw core": (
        "the stone keeps a core",
        "smaller stone, more fuel, or a slower draw unless the fire stands at the top",
    ),
    "overburnt": ("the lime is burnt dead", "less fuel, or larger stone"),
    "hot lime": ("the lime is drawn hot", "a slower draw, or a longer shaft below the fire"),
    "hot top": ("the fire stands at the top", "a faster draw, less air, or less fuel"),
    "unsettled": ("the fire finds no place to stand", "another draw or fuel ratio: here it drifts for weeks"),
}


@dataclass(frozen=True, eq=False)
class ShaftProfile:
    """What is where in a steady shaft, in plain SI arrays of the cells from the top down.

    Parameters
    ----------
    depth : ndarray, shape (cells,)
        m below the top.
    time : ndarray, shape (cells,)
        s since the stone went in.
    sizes : ndarray, shape (sizes,)
        m.
    gas_temperature, fuel_left, co2_fraction, oxygen_fraction : ndarray, shape (cells,)
        K and shares; the gas as it leaves the cell, fuel as a share of what was fed.
    stone_temperature, conversion : ndarray, shape (cells, sizes)
        K, mean of what is unburnt (of the lime where all is burnt), and share of the calcium carbonate.
    """

    depth: np.ndarray
    time: np.ndarray
    sizes: np.ndarray
    gas_temperature: np.ndarray
    fuel_left: np.ndarray
    co2_fraction: np.ndarray
    oxygen_fraction: np.ndarray
    stone_temperature: np.ndarray
    conversion: np.ndarray


class Found:
    """What is read off a steady shaft, case by case; arrays of shape (cases,)."""

    def __init__(self, sinking: Sinking) -> None:
        feed, stones = sinking.feed, sinking.stones
        self.ledger = {part: heat[:, 0] for part, heat in sinking.ledger().items()}
        burnt = stones.conversion[:, -1]
        level = (1.0 - burnt) * stones.core_temperature[:, -1] + burnt * stones.lime_temperature[:, -1]
        self.conversion, self.lime_temperature = burnt @ feed.shares, level @ feed.shares
        self.top_gas_temperature = sinking.gas_temperature[:, 0]
        self.fuel_burnt = np.where(feed.fuel_ratio[:, 0] > 0.0, 1.0 - sinking.fuel_left[:, -1], 0.0)
        self.efficiency = self.ledger["dissociation"] / np.maximum(feed.heating[:, 0], 1e-9)
        self.warming = sinking.warming[:, 0]
        self.lime_class = [_lime_class(sinking, case) for case in range(len(self.conversion))]

    def limits(self, case: int) -> list[tuple[str, str]]:
        """Return the limits hit, by their names in `LIMITS`, each with the figure that tells of it."""
        if self.fuel_burnt[case] < 0.5:
            return [("out", f"{100 * self.fuel_burnt[case]:.0f} % of the fuel burns")]
        lime, top = self.lime_temperature[case], self.top_gas_temperature[case]
        unburnt, raw = 1.0 - self.fuel_burnt[case], 1.0 - self.conversion[case]
        hit = {
            "unburnt fuel": (unburnt > fact("fuel_unburnt_most"), f"{100 * unburnt:.0f} % of it"),
            "raw core": (raw > unburnt_allowed(), f"{100 * raw:.0f} % of the stone is left raw"),
            "overburnt": (self.lime_class[case] == "dead-burnt risk", "dead-burnt risk"),
            "hot lime": (lime > fact("draw_temperature_most"), f"{lime - ZERO_CELSIUS:.0f} °C"),
            "hot top": (top > fact("top_gas_most"), f"its gas has {top - ZERO_CELSIUS:.0f} °C"),
            "unsettled": (abs(self.warming[case]) > UNSETTLED, "not in balance after many turns"),
        }
        return [(name, figure) for name, (is_hit, figure) in hit.items() if is_hit]


def _lime_class(sinking: Sinking, case: int) -> str:
    feed, stones = sinking.feed, sinking.stones
    times = np.arange(1, sinking.cells + 1) / sinking.cells * feed.residence[case, 0]
    lime = np.where(stones.conversion[case] > ZONE_ENDS[0], stones.lime_temperature[case], feed.air_temperature)
    indices = [overburn_history.plain(times, level) for level in lime.T]
    return overburn_class.plain(float(feed.shares @ indices))


def zones(sinking: Sinking) -> np.ndarray:
    """Return the lengths of preheating, burning and cooling, m; without any burning all is preheating."""
    burnt = np.append(0.0, sinking.stones.conversion[0] @ sinking.feed.shares)
    height = sinking.feed.height
    depth = np.linspace(0.0, height, burnt.size)
    if burnt[-1] <= ZONE_ENDS[0]:
        return np.array([height, 0.0, 0.0])
    starts, ends = np.interp(np.array(ZONE_ENDS) * burnt[-1], burnt, depth)
    return np.array([starts, ends - starts, height - ends])


def profile(sinking: Sinking) -> ShaftProfile:
    """Return what is where in the first case of a steady shaft."""
    feed, stones, gas = sinking.feed, sinking.stones, sinking.gas[:, 0, :-1]
    foot = np.arange(1, sinking.cells + 1) / sinking.cells
    co2, _, oxygen, _ = gas / np.maximum(gas.sum(axis=0), 1e-9)
    return ShaftProfile(
        depth=foot * feed.height,
        time=foot * feed.residence[0, 0],
        sizes=feed.piece.diameter,
        gas_temperature=sinking.gas_temperature[0],
        fuel_left=sinking.fuel_left[0],
        co2_fraction=co2,
        oxygen_fraction=oxygen,
        stone_temperature=stones.core_temperature[0],
        conversion=stones.conversion[0],
    )


def in_words(name: str, figure: str) -> str:
    """Return a sentence on a limit of `LIMITS`: what was hit, the figure that tells of it, and what would lift it."""
    what, cure = LIMITS[name]
    return f"{what[0].upper()}{what[1:]} ({figure}). What would lift it: {cure}."
