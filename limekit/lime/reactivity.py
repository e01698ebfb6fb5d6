"""How lively a lime is: a slaking log read by the rule of a standard.

EN 459-2 and ASTM C110 rules stand here from memory; soft, medium and hard are the trade's words, which no standard
defines. A log that stops short is
read as far as it goes, and says so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import Fact, fact
from limekit.units import MINUTE, ZERO_CELSIUS, Kelvin, KelvinDifference, Second


@dataclass(frozen=True)
class Reactivity:
    """A slaking log, read by two standards; None where the log does not go so far.

    `time_to_60` is that of EN 459-2, and `en_class` what the trade calls it; `rise_time` (to 40 K above the start),
    `complete_time`, `astm_class` and `complete_class` follow ASTM C110.
    """

    log_start: Kelvin
    peak_temperature: Kelvin
    slaking_rise: KelvinDifference
    time_to_60: Second | None
    en_class: str
    rise_time: Second | None
    astm_class: str
    complete_time: Second | None
    complete_class: str
    words: str
    basis: tuple[Ground, ...] = ()


def _crossing(times: np.ndarray, temperatures: np.ndarray, level: float) -> float | None:
    """Return when the log first reaches a level, on straight lines between its readings."""
    above = np.flatnonzero(temperatures >= level)
    if not above.size:
        return None
    first = above[0]
    if first == 0:
        return float(times[0])
    span = temperatures[first - 1 : first + 1]
    share = (level - span[0]) / (span[1] - span[0])
    return float(times[first - 1] + share * (times[first] - times[first - 1]))


def _complete(times: np.ndarray, temperatures: np.ndarray) -> float | None:
    """Return the first 30 s reading of three in a row that rise by less than half a degree."""
    ticks = np.arange(times[0], times[-1] + 1e-9, fact("astm_complete_interval"))
    small = np.diff(np.interp(ticks, times, temperatures)) < fact("astm_complete_step")
    begun = np.interp(ticks[:-1], times, temperatures) > temperatures[0] + fact("astm_complete_step")
    for first in range(small.size - 2):
        if begun[first] and small[first : first + 3].all():
            return float(ticks[first + 1])
    return None


def _class(time: float | None, quick_most: Fact, slow_least: Fact, words: tuple[str, str, str]) -> str:
    if time is None:
        return "not reached"
    return words[0] if time <= quick_most else words[2] if time > slow_least else words[1]


@edge
def read_reactivity(log_times: Second, log_temperatures: Kelvin) -> Reactivity:
    """Read a slaking log: 150 g of lime in 600 g of water at 20 °C, stirred, in an insulated jar that stays open.

    Parameters
    ----------
    log_times : Second
        Array, rising, the first when the lime goes in. Bare numbers are minutes.
    log_temperatures : Kelvin
        Array of the same length. Bare numbers are °C.

    Returns
    -------
    Reactivity
        Times count from the first reading. In the test of EN 459-2: soft-burnt below 2 min to 60 °C, medium
        2 to 6, hard-burnt above, as the trade says it. ASTM C110: high, medium or low by the 40 K rise (3, 6 min)
        and by the end of slaking (10, 20 min), from memory.

    Raises
    ------
    InputError
        For fewer than two readings, lengths that differ, or times that do not rise.

    Notes
    -----
    Straight lines between readings: t = t1 + (t2 − t1) (T − T1)/(T2 − T1) is when a level T is reached. Slaking
    has ended at the first of three 30 s readings that each rise by less than half a degree, once it has
    begun.

    Examples
    --------
    >>> read = read_reactivity([0, 1, 2, 3], [20, 40, 56, 64])
    >>> print(f"{read.time_to_60:.1f~P}", read.en_class)
    2.5 min medium-burnt
    """
    times, temperatures = np.atleast_1d(log_times), np.atleast_1d(log_temperatures)
    example = "log_times=[0, 1, 2, 3], log_temperatures=[20, 40, 56, 64]"
    if times.ndim != 1 or times.shape != temperatures.shape or times.size < 2:
        got = f"{times.size} times and {temperatures.size} temperatures"
        raise InputError("log_times, log_temperatures", got, "two readings at least, a temperature for each", example)
    if not (np.diff(times) > 0).all():
        row = int(np.flatnonzero(np.diff(times) <= 0)[0]) + 2
        got = f"a time in reading {row} that is not later than the one before"
        raise InputError("log_times", got, "times that rise", example)
    times = times - times[0]
    end, rise = fact("reactivity_end"), fact("astm_rise")
    to_60, rise_time = _crossing(times, temperatures, end), _crossing(times, temperatures, temperatures[0] + rise)
    complete = _complete(times, temperatures)
    grades = ("high", "medium", "low")
    return Reactivity(
        log_start=float(temperatures[0]),
        peak_temperature=float(temperatures.max()),
        slaking_rise=float(temperatures.max() - temperatures[0]),
        time_to_60=to_60,
        en_class=_class(
            to_60,
            fact("reactivity_soft_most"),
            fact("reactivity_hard_least"),
            ("soft-burnt", "medium-burnt", "hard-burnt"),
        ),
        rise_time=rise_time,
        astm_class=_class(rise_time, fact("astm_high_rise_most"), fact("astm_low_rise_least"), grades),
        complete_time=complete,
        complete_class=_class(complete, fact("astm_high_complete_most"), fact("astm_low_complete_least"), grades),
        words=_words(temperatures, to_60, complete),
    )


def _words(temperatures: np.ndarray, to_60: float | None, complete: float | None) -> str:
    standard, slack = fact("reactivity_start"), fact("reactivity_start_slack")
    start, last, end, asked = (
        level - ZERO_CELSIUS for level in (temperatures[0], temperatures[-1], fact("reactivity_end"), standard)
    )
    said = []
    if to_60 is None:
        said.append(f"It never reached {end:.0f} °C; the log stops at {last:.0f} °C.")
    else:
        said.append(f"{end:.0f} °C after {to_60 / MINUTE:.1f} minutes.")
    if complete is None:
        apart = f"{fact('astm_complete_interval'):.0f} s apart"
        said.append(f"The log stops before slaking has ended: read on until three readings {apart} stand still.")
    if abs(temperatures[0] - standard) > slack:
        said.append(
            f"It started at {start:.0f} °C, not {asked:.0f} °C, so the time does not compare with the standard's."
        )
    return " ".join(said)


@dataclass(frozen=True)
class BucketTest:
    """How soon lime in a bucket begins to slake, and how to slake it."""

    bucket_class: str
    how: str
    source: str


@edge
def bucket_test(slaking_starts: Second) -> BucketTest:
    """Judge a lime by the ASTM C5 bucket test: a few lumps dropped in water that covers them, and a watch.

    Parameters
    ----------
    slaking_starts : Second
        From dropping the lumps in to the first that crack and crumble.

    Returns
    -------
    BucketTest
        Quick below 5 min, medium to 30, slow above (the ASTM C5 appendix, as quoted by a trade page). How to
        slake each is the kit's advice: lime into water always, and never little of it.
    """
    quick, slow = fact("bucket_quick_most"), fact("bucket_slow_least")
    if slaking_starts < quick:
        name, how = "quick", "Lime into plenty of water, a little at a time; have cold water ready if it steams."
    elif slaking_starts <= slow:
        name, how = "medium", "Lime into water, in moderate charges; stir, and let it work before the next."
    else:
        name = "slow"
        how = "Lime into warm water, as much as for any other, a small charge at a time; then wait: it starts late."
    return BucketTest(name, how, quick.basis)
