"""Reduced stones burnt each at its own pace, in steps that follow how fast front and core move."""

from __future__ import annotations

import numpy as np

from limekit.errors import InputError
from limekit.stone.reduced import Stones

FIRST_STEP = 0.02  # of the time in which the stone warms
STEP_SHRINK, STEP_GROWTH = 0.3, 1.5
FRONT_STEP = 0.025  # of the radius, that the front may move in a step
THIN_STEP, FIRST_MOVE = 0.2, 0.003  # the same near face and centre: of the way to them, and of the radius
CORE_STEP = 40.0  # K, that the core's mean may change in a step
MOST_STEPS = 1000


def march(piece, gas, start_temperature, until=np.inf, conversion=np.inf):
    """Burn stones each at its own pace until a time (s) or a conversion, whichever comes first; return time and stones.

    Parameters
    ----------
    piece : Piece
        Its fields may be arrays that broadcast, as may all that follows.
    gas : callable
        From time (s, an array over the stones) to gas temperature (K) and carbon dioxide pressure (Pa).

    Returns
    -------
    time : ndarray
        s; where the conversion came first, the moment it was reached.
    stones : Stones
        As they stood at the end of that step.

    Raises
    ------
    InputError
        If a stone never reaches its conversion and no time ends its march.
    """
    like = np.zeros(np.broadcast_shapes(*map(np.shape, (until, conversion, *gas(0.0)))))
    stones = Stones(piece, start_temperature, like)
    clock = np.zeros_like(stones.conversion)
    warm = stones.warming.capacity * piece.volume_by_face
    slowness = 1.0 / piece.heat_transfer_coefficient + piece.radius / ((piece.curved + 3) * piece.stone_conductivity)
    seconds = FIRST_STEP * warm * slowness + clock
    goal = np.where(np.less_equal(conversion, 1.0), piece.core_left(np.minimum(conversion, 1.0)), -1.0)
    place, pace = piece.core_left(stones.conversion), clock
    going = (clock < until) & (place > goal)
    for _ in range(MOST_STEPS):
        seconds = np.where(going, np.minimum(seconds, until - clock), 0.0)
        level = stones.core_temperature
        stones.step(seconds, *gas(clock + 0.5 * seconds))
        now = piece.core_left(stones.conversion)
        moved = np.where((now > 0.0) | (place == 0.0), place - now, np.maximum(pace * seconds, place))
        hit = going & (now <= goal)
        clock = clock + np.where(hit, (place - goal) / np.where(hit, moved, 1.0), 1.0) * seconds
        going &= ~hit & (clock < until)
        if not going.any():
            break
        change = np.maximum(
            moved / np.minimum(FRONT_STEP, FIRST_MOVE + THIN_STEP * np.minimum(1.0 - now, now)),
            np.abs(stones.core_temperature - level) / CORE_STEP,
        )
        place, pace = now, moved / np.maximum(seconds, 1e-9)
        seconds = seconds * np.clip(1.0 / np.maximum(change, 1e-9), STEP_SHRINK, STEP_GROWTH)
    else:
        got = f"a share burnt that {np.count_nonzero(going)} of {going.size} stones do not reach in this gas"
        wanted = "gas above the dissociation temperature, or a time at which to stop"
        raise InputError("conversion", got, wanted, "until=7200.0")
    return clock, stones
