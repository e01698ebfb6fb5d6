"""A burn as it was logged: fuel, temperatures by place, and the signs seen, line by line."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from limekit.errors import InputError, told
from limekit.facts import fact
from limekit.stone.glow import COLOURS
from limekit.stone.trial import SLAKING
from limekit.units import DAY, HOUR

PLACES = ("hearth", "lower", "middle", "upper", "flue")
HEIGHTS = {"lower": 1 / 6, "middle": 1 / 2, "upper": 5 / 6}  # share of the charge's height
FLAMES = ("smoky", "yellow", "clear")
WORDS = {"glow": COLOURS, "flame": FLAMES, "test_piece": SLAKING}


@dataclass(frozen=True, eq=False)
class BurnLog:
    """A log in plain SI arrays, one entry a line; a figure not noted is nan, a word not noted None.

    Parameters
    ----------
    times : ndarray, shape (lines,)
        s since the first line, which is the lighting.
    fuel_fed : ndarray, shape (lines,)
        kg since the line before; on the first line, what lay ready to be lit.
    temperatures : dict of str to ndarray
        By place, K: gas in the hearth, in the lowest, middle and uppermost third of the charge, and
        in the flue. A place without a thermometer is left out.
    sinking : ndarray, shape (lines,)
        m, of the top of the charge.
    glow, flame, test_piece : tuple of str or None
        Words of `WORDS`: the colour of the lowest stones, the flame at the top, and how a piece
        drawn from the top slaked.
    damper : ndarray, shape (lines,)
        Open share; written down, and not reckoned with.
    weather, notes : tuple of str
    remarks : tuple of str
        What was understood as the log was read.
    lit_at : float, optional
        Clock at the first line; s since midnight.
    """

    times: np.ndarray
    fuel_fed: np.ndarray
    temperatures: dict[str, np.ndarray]
    sinking: np.ndarray
    glow: tuple[str | None, ...]
    flame: tuple[str | None, ...]
    test_piece: tuple[str | None, ...]
    damper: np.ndarray
    weather: tuple[str, ...]
    notes: tuple[str, ...]
    remarks: tuple[str, ...] = field(default=())
    lit_at: float | None = None

    def __len__(self) -> int:
        return len(self.times)

    def first(self, lines: int) -> BurnLog:
        """Return the log as it stood after so many lines."""
        cut = {name: getattr(self, name)[:lines] for name in self.__dataclass_fields__ if name not in KEPT_WHOLE}
        return replace(self, temperatures={place: read[:lines] for place, read in self.temperatures.items()}, **cut)

    def stoking(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Return moments (s) and the fuel fed from each on (kg/s), up to the last line."""
        fed = self.fuel_fed[1:].copy()
        fed[0] += self.fuel_fed[0]
        return tuple(self.times[:-1]), tuple(fed / np.diff(self.times))

    def last(self, name: str):
        """Return the last figure or word noted under a name; None if there is none."""
        noted = [one for one in getattr(self, name) if not (one is None or one != one)]
        return noted[-1] if noted else None

    def joined(self, logger: Logged, clock_ahead: float = 0.0) -> BurnLog:
        """Return the log with a logger's readings in it, on its own lines and on lines set between them.

        Parameters
        ----------
        logger : Logged
            From `limekit.read_logger`.
        clock_ahead : float
            By which the logger's clock is ahead of the one the log was kept by; s.

        Returns
        -------
        BurnLog
            Up to the last line written by hand, since what was fed after it nobody has said yet. Each line holds
            the median of what the logger read about it, or what was read by hand where it read nothing. Fuel is
            parted evenly over the lines between two.

        Raises
        ------
        InputError
            If it is no logger's, or no reading lies beside the log.
        """
        if not isinstance(logger, Logged):
            example = 'log.joined(read_logger("logger.csv", places))'
            raise InputError("logger", told(logger), "what read_logger returns", example)
        starts, end, every = self._start_of(logger, clock_ahead), self.times[-1], float(fact("logger_line_every"))
        read_at = starts + logger.times
        between = np.arange(every, end, every)
        apart = np.abs(between[:, None] - self.times).min(axis=1)
        times = np.union1d(self.times, between[apart >= 0.5 * every])
        edges = np.searchsorted(read_at, [times - 0.5 * every, times + 0.5 * every])
        if not np.diff(edges, axis=0).any():
            got = f"readings from {read_at[0] / HOUR:z.1f} to {read_at[-1] / HOUR:z.1f} h after lighting"
            raise InputError("logger", got, f"some within the log's {end / HOUR:.1f} h", "log.joined(logger)")
        by_hand, lines = np.searchsorted(times, self.times), len(times)

        def placed(values, blank) -> np.ndarray:
            """Return what was noted by hand, on its lines, with blanks between."""
            spread = np.full(lines, blank, dtype=np.asarray(values).dtype)
            spread[by_hand] = values
            return spread

        def words(name: str, blank) -> tuple:
            return tuple(placed(np.array(getattr(self, name), dtype=object), blank))

        temperatures = {}
        for place in PLACES:
            read = placed(self.temperatures.get(place, np.full(len(self), np.nan)), np.nan)
            if place in logger.temperatures:
                by_logger = _medians(logger.temperatures[place], *edges)
                read = np.where(np.isfinite(by_logger), by_logger, read)
            if np.isfinite(read).any():
                temperatures[place] = read
        late = read_at[-1] - end
        waits = (
            f"What the logger read in the last {late / HOUR:.1f} h waits for a line of the log." if late > every else ""
        )
        beside = f"The logger's first reading was taken {_since_lighting(starts)}."
        return BurnLog(
            times=times,
            fuel_fed=np.diff(np.interp(times, self.times, np.cumsum(self.fuel_fed)), prepend=0.0),
            temperatures=temperatures,
            sinking=placed(self.sinking, np.nan),
            damper=placed(self.damper, np.nan),
            **{name: words(name, None) for name in WORDS},
            **{name: words(name, "") for name in ("weather", "notes")},
            remarks=(*self.remarks, *logger.remarks, beside, *filter(None, [waits])),
            lit_at=self.lit_at,
        )

    def _start_of(self, logger: Logged, clock_ahead: float) -> float:
        """Return when a logger's first reading was taken, s since lighting; of the days it may be, the best."""
        if logger.clock is None or self.lit_at is None:
            return -clock_ahead
        first = (logger.clock - self.lit_at - clock_ahead) % DAY
        days = np.arange(-np.ceil((first + logger.times[-1]) / DAY), np.ceil(self.times[-1] / DAY) + 1.0)
        starts = first + DAY * days
        shared = np.minimum(starts + logger.times[-1], self.times[-1]) - np.maximum(starts, 0.0)
        return float(min(zip(-shared, np.abs(starts), starts, strict=True))[-1])


@dataclass(frozen=True, eq=False)
class Logged:
    """What a logger wrote, in plain SI arrays, one entry a row.

    Parameters
    ----------
    times : ndarray, shape (rows,)
        s since the first row, never falling.
    clock : float or None
        Of the first row, s since midnight; None where the file tells no clock.
    temperatures : dict of str to ndarray
        By place, K; nan where nothing was read, or nothing to be trusted.
    remarks : tuple of str
        What was understood, and what was set aside and why.
    """

    times: np.ndarray
    clock: float | None
    temperatures: dict[str, np.ndarray]
    remarks: tuple[str, ...] = field(default=())


def _medians(read: np.ndarray, starts: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """Return the median of what was read in each stretch, nan where nothing was."""
    found = np.full(len(starts), np.nan)
    for line, (start, end) in enumerate(zip(starts, ends, strict=True)):
        seen = read[start:end]
        seen = seen[np.isfinite(seen)]
        if len(seen):
            found[line] = np.median(seen)
    return found


def _since_lighting(starts: float) -> str:
    if not round(starts / HOUR, 1):
        return "at lighting"
    return f"{abs(starts) / HOUR:.1f} h {'after' if starts > 0.0 else 'before'} lighting"


KEPT_WHOLE = {"temperatures", "remarks", "lit_at"}
