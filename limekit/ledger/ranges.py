"""How far an answer moves when its inputs do: one at a time, and all together."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from limekit.errors import InputError
from limekit.estimate import Span


@dataclass(frozen=True)
class Bar:
    """What one input's range, from `low` to `high`, does to the answer while the others stay in the middle."""

    name: str
    low: float
    high: float
    at_low: float
    at_high: float

    @property
    def swing(self) -> float:
        """How far the answer moves between the two ends."""
        return abs(self.at_high - self.at_low)


def span(name: str, middle: float, low: float | None, high: float | None) -> Span:
    """Return a figure with its range; an end left out is the figure itself; one that does not hold it is refused."""
    low, high = (middle if end is None else end for end in (low, high))
    if not low <= middle <= high:
        got = f"{low:g} to {high:g} for {middle:g}"
        raise InputError(f"range of {name}", got, "a range that holds its figure", "120, from 90 to 180")
    return Span(middle, low, high)


def one_at_a_time(model: Callable[[dict[str, float]], float], inputs: Mapping[str, Span]) -> tuple[Bar, ...]:
    """Return what each input that has a range does to the answer of a model, widest first.

    The model takes a dict of every input's value.
    """
    middle = {name: one.middle for name, one in inputs.items()}
    bars = [
        Bar(name, one.low, one.high, *(model({**middle, name: end}) for end in (one.low, one.high)))
        for name, one in inputs.items()
        if one.low < one.high
    ]
    return tuple(sorted(bars, key=lambda bar: -bar.swing))


def carried(model: Callable[[dict[str, float]], float], inputs: Mapping[str, Span]) -> Span:
    """Return a model's answer with its inputs' ranges, taken as independent, carried through.

    The ends are root sums of squares of what each input does alone, upward and downward apart: exact for a sum, near
    for a quotient whose ranges are well under its figure.
    """
    middle = model({name: one.middle for name, one in inputs.items()})
    return around(middle, one_at_a_time(model, inputs))


def around(middle: float, bars: Iterable[Bar]) -> Span:
    """Return an answer with the range that its bars make together, as root sums of squares."""
    bars = tuple(bars)
    down = math.hypot(*(max(0.0, middle - min(bar.at_low, bar.at_high)) for bar in bars))
    up = math.hypot(*(max(0.0, max(bar.at_low, bar.at_high) - middle) for bar in bars))
    return Span(middle, middle - down, middle + up)
