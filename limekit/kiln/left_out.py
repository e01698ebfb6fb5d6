"""How forecasts did where they could not know: each real kiln forecast by the firings of all the others.

``data/left_out_kilns.csv`` is written by ``tests/population/fire_and_fit.py``.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from limekit import tables
from limekit.estimate import Span
from limekit.kiln.real_firings import RealFiring, real_firings
from limekit.units import HOUR, TONNE

FORECAST = {"hours": HOUR, "fuel": 1.0, "hours_fed": HOUR, "hours_line": HOUR, "fuel_line": 1.0}  # with their units
CLEARLY = 0.97  # of a plain line's error, below which a forecast does better
SIZES = ((0.0, 1.0), (1.0, 5.0), (5.0, 50.0))  # t of stone, apart from each other in how they are fired


@dataclass(frozen=True)
class LeftOut:
    """A real firing and what the others forecast of it, in SI.

    `hours` and `fuel` are told its stone alone; `hours_fed` its feeding besides, where that is known. `hours_line`
    and `fuel_line` are those of the plain lines through the others.
    """

    firing: RealFiring
    hours: Span
    fuel: Span
    hours_fed: Span | None
    hours_line: Span
    fuel_line: Span


@functools.cache
def left_out() -> tuple[LeftOut, ...]:
    """Return every firing that is counted, forecast by the others."""
    firings = {one.id: one for one in real_firings()}
    found = []
    for row in tables.rows("left_out_kilns"):
        spans = {}
        for name, unit in FORECAST.items():
            ends = [row[f"{name}_{end}"] for end in ("middle", "low", "high")]
            spans[name] = Span(*(float(end) * unit for end in ends)) if all(ends) else None
        found.append(LeftOut(firings[row["id"]], **spans))
    return tuple(found)


@dataclass(frozen=True)
class Judged:
    """How forecasts of a figure did, each kiln once: over real figures, and with natural logarithms.

    `coverage` is the share of the real figures inside the 90 % range, `sigma` the factor of one standard deviation
    about no error, `ratios` the median of forecast over real by size, and `slope` that of ln(forecast/real) over
    ln(stone).
    """

    kilns: int
    coverage: float
    sigma: float
    ratios: dict[tuple[float, float], float]
    slope: float

    def beats(self, line: Judged) -> bool:
        """Whether these forecasts do clearly better than a plain line's."""
        return self.sigma < CLEARLY * line.sigma


def judge(found: Iterable[LeftOut], figure: str, forecast: str = "") -> Judged:
    """Judge forecasts of ``"hours"`` or ``"fuel"``, by themselves or of another name, as ``"hours_line"``."""
    by_kiln: dict[str, list] = {}
    for one in found:
        real, said = getattr(one.firing, figure), getattr(one, forecast or figure)
        if real is not None and said is not None:
            mass = math.log(one.firing.stone.middle / TONNE)
            row = mass, math.log(said.middle / real.middle), said.low <= real.middle <= said.high
            by_kiln.setdefault(one.firing.kiln, []).append(row)
    mass, ratio, inside = np.array([np.mean(rows, axis=0) for rows in by_kiln.values()]).T
    ratios = {}
    for low, high in SIZES:
        these = (np.exp(mass) >= low) & (np.exp(mass) < high)
        if these.any():
            ratios[low, high] = float(np.exp(np.median(ratio[these])))
    return Judged(
        kilns=len(mass),
        coverage=float(inside.mean()),
        sigma=float(np.exp(np.sqrt(np.mean(ratio**2)))),
        ratios=ratios,
        slope=float(np.polyfit(mass, ratio, 1)[0]),
    )
