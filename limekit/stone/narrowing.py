"""Which measurement, not yet made, would tell most about how long a stone must burn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.facts import fact
from limekit.stone.posterior import LEVELS, NINETY, SPREADS, WAYS, Posterior, lay_weights, piece_table
from limekit.units import MM

BINS = 15


@dataclass(frozen=True)
class NextMeasurement:
    """A measurement not yet made, and the share of the forecast's spread that would be left after it."""

    what: str
    spread_left: float

    def __str__(self) -> str:
        return f"{self.what}: leaves {100 * self.spread_left:.0f} % of the spread"


def rank_measurements(known: Posterior, diameter, gas_temperature, co2_fraction) -> tuple[NextMeasurement, ...]:
    """Rank measurements by the spread that the log of a burning time is expected to keep after each."""
    goal = np.log(known.times(diameter, gas_temperature, co2_fraction, float(fact("burnt_through"))))
    goals = np.tile(goal, LEVELS)
    points = known.probability.sum(axis=1)
    before = _variance(goals, points)
    hour, small = float(fact("trial_hour")), float(fact("trial_stone"))
    options = {"a thermometer among the stones of the next trial": _thermometer_bins(known.levels)}
    pieces = (small, hour, "an hour"), (2 * small, hour, "an hour"), (2 * small, 2 * hour, "two hours")
    for size, time, words in pieces:
        what = f"a piece of {MM * size:.0f} mm, {words} in the heat, broken to see its core"
        options[what] = _core_bins(known, size, time)
    ranked = []
    for what, bins in options.items():
        joint = bins * points
        after = sum(one.sum() * _variance(goals, one / one.sum()) for one in joint if one.sum() > 0)
        ranked.append(NextMeasurement(what, float(np.sqrt(after / before)) if before > 0 else 1.0))
    return tuple(sorted(ranked, key=lambda one: one.spread_left))


def _variance(values, weights) -> float:
    mean = weights @ values
    return float(weights @ (values - mean) ** 2)


def _thermometer_bins(levels: np.ndarray) -> np.ndarray:
    apart = (levels - levels[:, None]) / (fact("thermometer_error") / NINETY)
    bells = np.exp(-0.5 * apart**2)
    return np.repeat(bells / bells.sum(axis=0), WAYS, axis=1)


def _core_bins(known: Posterior, diameter: float, time: float) -> np.ndarray:
    burnt = piece_table(diameter, time, known.fire)
    cores = np.linspace(0.0, diameter, BINS)
    error = max(float(fact("core_error")) / NINETY, diameter / BINS)
    bells = np.exp(-0.5 * ((diameter * np.cbrt(1.0 - burnt) - cores[:, None, None]) / error) ** 2)
    bells /= bells.sum(axis=0)
    spread = known.probability.sum(axis=0) @ SPREADS
    return np.einsum("bjp,j->bp", bells, lay_weights(np.array([spread]))[:, 0])
