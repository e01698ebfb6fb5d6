"""A burn as it was logged: fuel, temperatures by place, and the signs seen, line by line."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from limekit.stone.glow import COLOURS
from limekit.stone.trial import SLAKING

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


KEPT_WHOLE = {"temperatures", "remarks"}
