"""Which of a thermometer's readings are to be trusted: those off the scale, stuck or jumping are set aside, and said.

A wire that is broken reads nothing, or the end of the scale; one that touches now and then jumps; a logger that
has lost it repeats what it last read. A fire never stands still to the last digit, and gas among stones does not
change within minutes as far as a jump does.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from limekit.facts import fact
from limekit.units import MINUTE, ZERO_CELSIUS

STEPS = 5  # of the logger, that what lies about a reading holds at least
LEAST_STUCK = 10  # equal readings in a row


def doubted(times: np.ndarray, read: np.ndarray) -> tuple[np.ndarray, list[str]]:
    """Set aside what is not to be trusted of readings (°C, nan where nothing was) at times (s) that never fall.

    Returned are the readings, nan where one was set aside, and what was set aside, and how much of it, in words.
    """
    scale = (fact(name) - ZERO_CELSIUS for name in ("logger_coldest", "logger_hottest"))
    nothing = ~np.isfinite(read)
    off = ~nothing & ((read < next(scale)) | (read >= next(scale)))
    kept = np.where(off, np.nan, read)
    stuck = _stuck(times, kept)
    kept = np.where(stuck, np.nan, kept)
    jumping = _jumping(times, kept)
    counts = {"none": nothing, "off the scale": off, "stuck": stuck, "jumping": jumping}
    told = [
        f"{of.sum()} {word} (first at {times[of.argmax()] / MINUTE:.0f} min)" for word, of in counts.items() if of.any()
    ]
    said = [f"set aside, of {len(read)} readings: {', '.join(told)}."] if told else []
    return np.where(jumping, np.nan, kept), said


def _stuck(times: np.ndarray, read: np.ndarray) -> np.ndarray:
    """Return which readings of a hot thermometer are the same for longer than any in a fire are."""
    changes = np.append(True, read[1:] != read[:-1])
    starts = np.flatnonzero(changes)
    ends = np.append(starts[1:], len(read)) - 1
    long = (times[ends] - times[starts] >= fact("logger_stuck")) & (ends - starts + 1 >= LEAST_STUCK)
    long &= read[starts] >= fact("logger_stuck_from") - ZERO_CELSIUS
    return np.repeat(long, ends - starts + 1)


def _jumping(times: np.ndarray, read: np.ndarray) -> np.ndarray:
    """Return which readings lie far from those about them; all where a third of those do."""
    steps = np.diff(times)
    usual = float(np.median(steps)) if len(steps) else 0.0
    within = f"{max(float(fact('logger_jump_within')), STEPS * usual):.0f}s"
    about = pd.Series(read, index=pd.to_timedelta(times, unit="s"))
    middle = about.rolling(within, center=True, min_periods=STEPS).median().to_numpy()
    far = np.abs(read - middle) > fact("logger_jump")
    share = pd.Series(far.astype(float), index=about.index).rolling(within, center=True).mean().to_numpy()
    return np.isfinite(read) & (far | (share > fact("logger_jumping_share")))
