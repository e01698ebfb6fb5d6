"""What a kiln's own burns tell of its next one, weighed with what real kilns tell of each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from limekit.estimate import Span
from limekit.stone.posterior import NINETY


class Learnt(NamedTuple):
    """By what factor a kiln lies off the model, and one standard deviation of its next burn, as a factor."""

    factor: float
    spread: float

    def forecast(self, figure: float) -> Span:
        """Return what the model says of a burn as this kiln will have it, with its 90 % range."""
        middle, either_way = figure * self.factor, self.spread**NINETY
        return Span(middle, middle / either_way, middle * either_way)


def learn(ratios: Sequence[float], between_kilns: float, between_burns: float) -> Learnt:
    """Return what burns of one kiln tell of the next, by what each took over what the model says of it.

    `between_kilns` and `between_burns` are one standard deviation, as a factor: of any burn of any kiln about the
    model, and of one kiln's burns about their own middle. With no burn the factor is 1 and the spread that between
    kilns.

    Notes
    -----
    Logarithms are normal. With variances σ² between kilns and β² between burns, a kiln's own factor has τ² = σ² − β²
    before any burn. After n burns of mean m its middle is m n/(n + β²/τ²), and the next burn's variance
    β² + 1/(n/β² + 1/τ²).
    """
    whole, own = math.log(between_kilns) ** 2, math.log(between_burns) ** 2
    before = max(whole - own, 0.0)
    if not before or not len(ratios):
        return Learnt(1.0, between_kilns)
    count = len(ratios)
    middle = float(np.mean(np.log(ratios))) * count / (count + own / before)
    return Learnt(math.exp(middle), math.exp(math.sqrt(own + 1.0 / (count / own + 1.0 / before))))
