"""Reduced stones burnt in any gas, by whole arrays: what the kit's loop in steady gas (`limekit.stone.march`) is held to.

It shares with it the stone's own step and how far one may go.
"""

from __future__ import annotations

import numpy as np

from limekit.stone.march import (
    CORE_STEP,
    FIRST_MOVE,
    FIRST_STEP,
    FRONT_STEP,
    MOST_STEPS,
    STEP_GROWTH,
    STEP_SHRINK,
    THIN_STEP,
)
from limekit.stone.reduced import Stones


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
    assert not going.any()
    return clock, stones
