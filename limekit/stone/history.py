"""What the gas around a stone does in time: its temperature and its carbon dioxide."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

from limekit.edge import edge, take_one
from limekit.errors import InputError, told
from limekit.facts import fact
from limekit.units import Kelvin, Second, Share, Unit


@dataclass(frozen=True)
class FireHistory:
    """A fire as a stone feels it: straight lines between moments, steady before the first and after the last.

    Make one with `steady`, `ramp` or `table`.

    Parameters
    ----------
    times : tuple of float
        s, rising from 0.
    temperatures, co2_fractions : tuple of float
        Of the gas at those moments; K, and shares by volume.

    Raises
    ------
    InputError
        If they are not as many finite figures each, or times do not rise from zero.
    """

    times: tuple[float, ...]
    temperatures: tuple[float, ...]
    co2_fractions: tuple[float, ...]

    def __post_init__(self) -> None:
        columns = self.times, self.temperatures, self.co2_fractions
        example = 'FireHistory.table([("0 min", "20 degC"), ("150 min", "900 degC")])'
        if not len(self.times) == len(self.temperatures) == len(self.co2_fractions):
            got = " and ".join(f"{len(column)}" for column in columns)
            wanted = "as many times as temperatures and shares of CO2"
            raise InputError("fire history", f"{got} figures", wanted, example)
        if not all(isinstance(one, (int, float)) and isfinite(one) for column in columns for one in column):
            raise InputError("fire history", told(columns), "finite numbers", example)
        if not self.times or self.times[0] != 0.0 or any(later <= earlier for earlier, later in pairwise(self.times)):
            got = f"moments of {', '.join(f'{moment:g} s' for moment in self.times)}"
            raise InputError("fire history", got, "moments that start at zero and rise from row to row", example)

    @staticmethod
    @edge
    def steady(gas_temperature: Kelvin, co2_fraction: Share = fact("co2_fraction")):
        """Return a fire that never changes.

        Examples
        --------
        >>> FireHistory.steady("1000 degC").at(3600.0)
        (1273.15, 0.25)
        """
        return FireHistory((0.0,), (gas_temperature,), (float(co2_fraction),))

    @staticmethod
    @edge
    def ramp(
        gas_temperature: Kelvin,
        gas_rise_time: Second,
        co2_fraction: Share = fact("co2_fraction"),
        start_temperature: Kelvin = fact("start_temperature"),
    ):
        """Return a fire that rises steadily from a temperature at the start to another and then holds it.

        Parameters
        ----------
        gas_temperature, start_temperature : Kelvin
        gas_rise_time : Second
        co2_fraction : Share
            Of the gas, all along.
        """
        if gas_rise_time <= 0.0:
            return FireHistory.steady.plain(gas_temperature, co2_fraction)
        fraction = float(co2_fraction)
        return FireHistory((0.0, gas_rise_time), (float(start_temperature), gas_temperature), (fraction, fraction))

    @staticmethod
    def table(rows: Iterable[tuple]) -> FireHistory:
        """Return a fire read from moments noted down: time, gas temperature and, where known, carbon dioxide (share).

        They are text or quantities. Raises `InputError` if a row cannot be read, or times do not rise from zero.

        Examples
        --------
        >>> fire = FireHistory.table([("0 min", "20 degC"), ("150 min", "900 degC"), ("270 min", "900 degC")])
        >>> fire.at(200 * 60.0)
        (1173.15, 0.25)
        """
        read = []
        for row in rows:
            if not 2 <= len(row) <= 3:
                wanted = "time, temperature and perhaps CO2 in each row"
                raise InputError("fire history", f"a row of {len(row)}", wanted, "")
            fraction = take_one(row[2], Unit(""), "co2_fraction") if len(row) == 3 else float(fact("co2_fraction"))
            moment = take_one(row[0], Unit("s"), "time")
            read.append((moment, take_one(row[1], Unit("K", "level"), "temperature"), fraction))
        return FireHistory(*(tuple(column) for column in zip(*read, strict=True))) if read else FireHistory((), (), ())

    def at(self, time: float) -> tuple[float, float]:
        """Return the gas temperature (K) and its carbon dioxide (share) at a time (s)."""
        after = bisect_right(self.times, time)
        if after in (0, len(self.times)):
            row = 0 if after == 0 else -1
            return self.temperatures[row], self.co2_fractions[row]
        start, end = self.times[after - 1], self.times[after]
        share = (time - start) / (end - start)
        return tuple(
            column[after - 1] + share * (column[after] - column[after - 1])
            for column in (self.temperatures, self.co2_fractions)
        )
