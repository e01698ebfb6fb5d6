"""A figure with its range, so that no answer claims more than it knows."""

from __future__ import annotations

from dataclasses import dataclass, field, fields

import numpy as np

from limekit.units import unit_told

QUANTILES = np.array([0.5, 0.05, 0.95, 0.25, 0.75])
BUCKETS, MANY = 1000, 10_000  # values, from which they are put in buckets before they are sorted


def shown(figure, digits: int = 3) -> str:
    """Return a figure, or several, rounded to significant digits, never as a power of ten, with its unit if any."""
    magnitudes = np.ravel(getattr(figure, "magnitude", figure))
    number = ", ".join(np.format_float_positional(float(f"{one:.{digits}g}") + 0.0, trim="-") for one in magnitudes)
    if not hasattr(figure, "units"):
        return number
    return f"{number} {unit_told(figure.units)}".rstrip()


def tens(figure: float) -> str:
    """Return a figure to the nearest ten, for what is known no better, such as the temperatures of a fired model."""
    return f"{round(figure, -1):z.0f}"


def _alike(self, other) -> bool:
    """Whether two figures with their ranges are equal in every value, one or many."""
    if type(self) is not type(other):
        return NotImplemented
    return all(
        np.shape(one) == np.shape(theirs) and bool(np.all(one == theirs))
        for one, theirs in (
            (getattr(self, part.name), getattr(other, part.name)) for part in fields(self) if part.compare
        )
    )


@dataclass(frozen=True)
class Estimate:
    """A median with the ranges that hold it nine times in ten and, the inner, one time in two; floats or quantities.

    It has a `basis` where it stands by itself and not in a result with a basis of its own.
    """

    median: float
    low: float
    high: float
    inner_low: float
    inner_high: float
    basis: tuple = field(default=(), repr=False, compare=False)

    __eq__ = _alike

    def __str__(self) -> str:
        middle, low, high = (shown(figure) for figure in (self.median, self.low, self.high))
        return f"{middle} (nine times in ten between {low} and {high})"


@dataclass(frozen=True)
class Span:
    """A figure to plan with, and the ends that published cases and practice leave open; floats or quantities."""

    middle: float
    low: float
    high: float

    __eq__ = _alike

    def __str__(self) -> str:
        middle, low, high = (shown(figure) for figure in (self.middle, self.low, self.high))
        return f"{middle} ({low} to {high})"


def ranged(told: Estimate | Span, unit: float = 1.0, digits: int = 3, named: str = "") -> str:
    """Return a figure in a unit, what that is named, and the ends of its range: ``12 h (9 to 16)``."""
    middle = told.median if isinstance(told, Estimate) else told.middle
    middle, low, high = (shown(end / unit, digits) for end in (middle, told.low, told.high))
    return f"{middle}{named} ({low} to {high})"


def together(estimates, shape: tuple[int, ...]) -> Estimate:
    """Return estimates of one figure each as one of arrays of a shape."""
    names = [part.name for part in fields(Estimate) if part.compare]
    return Estimate(*(np.reshape([getattr(one, name) for one in estimates], shape) for name in names))


def weighted(values, weights) -> Estimate:
    """Return the estimate that values of some shape make, weighted by weights of the same shape and any sum above 0.

    Its quantiles are read between the midpoints of the weights' steps; equal values are one step.
    """
    values, weights = np.ravel(values), np.ravel(weights)
    if values.size > MANY and np.ptp(values):
        values, weights = _near_quantiles(values, weights)
    values, place = np.unique(values, return_inverse=True)
    weights = np.bincount(place, weights)
    level = (np.cumsum(weights) - 0.5 * weights) / np.sum(weights)
    return Estimate(*np.interp(QUANTILES, level, values).tolist())


def _near_quantiles(values, weights) -> tuple[np.ndarray, np.ndarray]:
    """Return fewer values of the same quantiles, so that few need be sorted.

    A quantile is told by the two values next to it, and by how much weighs less. So of even buckets, those that hold
    one and the filled ones beside them keep their values; any other stands as one, with the weight of all in it.
    """
    lowest, width = values.min(), np.ptp(values) / BUCKETS
    bucket = ((values - lowest) / width).astype(int)
    weight, far = np.bincount(bucket, weights), np.bincount(bucket) > 0
    filled = np.flatnonzero(far)
    holds = np.searchsorted(np.cumsum(weight[filled]), QUANTILES * np.sum(weight))
    near = np.zeros_like(far)
    near[filled[np.clip(holds[:, None] + (-1, 0, 1), 0, len(filled) - 1)]] = True
    kept, far = near[bucket], np.flatnonzero(far & ~near)
    return np.append(values[kept], lowest + (far + 0.5) * width), np.append(weights[kept], weight[far])
