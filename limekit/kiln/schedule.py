"""A firing cut into turns at the fire: the fuel each is to have by it, and what it should come to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from limekit.edge import edge
from limekit.estimate import tens
from limekit.facts import fact
from limekit.kiln.firing import Firing
from limekit.units import HOUR, ZERO_CELSIUS, Kilogram, Second


class Turn(NamedTuple):
    """One turn at the fire, in SI floats: from when to when (s), its fuel (kg), and the charge at its end.

    `lowest_stone` and `highest_stone` (K) are means of the lowest and the highest level of the charge.
    """

    start: float
    end: float
    fuel: float
    lowest_stone: float
    highest_stone: float
    conversion: float

    @property
    def rate(self) -> float:
        """Fuel fed on the mean, kg/s."""
        return self.fuel / (self.end - self.start)


@dataclass(frozen=True)
class StokingSchedule:
    """A firing turn by turn. `turns` are in SI floats; `table` shows them in units."""

    turns: tuple[Turn, ...]
    fuel_used: Kilogram
    firing_time: Second

    def stretched(self, longer: float, more: float) -> StokingSchedule:
        """Return it for a kiln that takes so many times as long and so many times the fuel (plain SI floats)."""
        turns = (
            one._replace(start=longer * one.start, end=longer * one.end, fuel=more * one.fuel) for one in self.turns
        )
        return StokingSchedule(tuple(turns), more * self.fuel_used, longer * self.firing_time)

    def table(self):
        """Return the turns as a ``pandas.DataFrame``, a row each, with units in the headings."""
        import pandas as pd

        return pd.DataFrame(
            {
                "from hour": f"{turn.start / HOUR:.0f}",
                "to hour": f"{turn.end / HOUR:.3g}",
                "fuel an hour [kg]": f"{turn.rate * HOUR:.3g}",
                "fuel of the turn [kg]": f"{turn.fuel:.0f}",
                "lowest stone [°C]": tens(turn.lowest_stone - ZERO_CELSIUS),
                "highest stone [°C]": tens(turn.highest_stone - ZERO_CELSIUS),
                "burnt [%]": f"{100 * turn.conversion:.0f}",
            }
            for turn in self.turns
        )


@edge
def stoking_schedule(firing: Firing, watch_time: Second = fact("watch_time")) -> StokingSchedule:
    """Cut a firing into turns at the fire.

    Parameters
    ----------
    firing : Firing
        From `limekit.fire_kiln`.
    watch_time : Second
        One turn; the last may be shorter.

    Returns
    -------
    StokingSchedule
        The fuel of its turns comes to what the firing burnt.

    Notes
    -----
    fuel = ∫ fuel_rate dt, from a turn's start to its end.

    Examples
    --------
    >>> from limekit import fire_kiln, size_kiln
    >>> firing = fire_kiln(size_kiln(stone="500 kg", largest_stone="100 mm"), chimney_height="1.5 m")
    >>> schedule = stoking_schedule(firing, "6 h")
    >>> print(f"{len(schedule.turns)} turns, {schedule.fuel_used:.0f~P}")
    3 turns, 620 kg
    """
    history = firing.history
    stone, last = history.by_level(history.stone_temperature), float(history.times[-1])
    starts = watch_time * np.arange(math.ceil(last / watch_time - 1e-9))
    ends = np.append(starts[1:], last)

    def at_end(values: np.ndarray) -> np.ndarray:
        return np.interp(ends, history.times, values)

    columns = (
        starts,
        ends,
        history.fed_by(ends) - history.fed_by(starts),
        at_end(stone[:, 0]),
        at_end(stone[:, -1]),
        at_end(history.burnt),
    )
    turns = tuple(Turn(*row) for row in np.array(columns).T.tolist())
    return StokingSchedule(turns, float(history.fed_by(last)), last)
