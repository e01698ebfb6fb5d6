"""Stones in steady gas, burnt each at its own pace, in steps that follow how fast its front and core move."""

from __future__ import annotations

import numpy as np

from limekit.compiled import entry, part
from limekit.errors import InputError
from limekit.stone.front import Piece, core_left
from limekit.stone.moment import Make, charged, make_at
from limekit.stone.reduced import FRONT_TOLERANCE, step

FIRST_STEP = 0.02  # of the time in which the stone warms
STEP_SHRINK, STEP_GROWTH = 0.3, 1.5
FRONT_STEP = 0.025  # of the radius, that the front may move in a step
THIN_STEP, FIRST_MOVE = 0.2, 0.003  # the same near face and centre: of the way to them, and of the radius
CORE_STEP = 40.0  # K, that the core's mean may change in a step
MOST_STEPS = 1000


def time_to(piece: Piece, gas_temperature, co2_pressure, start_temperature, conversion):
    """Return the time (s) in which a piece burns to a conversion, by the reduced stone; arrays broadcast.

    The gas is steady (K, and Pa of carbon dioxide), the stone at its start in K.

    Raises
    ------
    InputError
        If a stone never burns so far.
    """
    asked = gas_temperature, co2_pressure, start_temperature, conversion
    shape = np.broadcast_shapes(*map(np.shape, (*asked, *piece.figures.values())))

    def each(figure) -> np.ndarray:
        return (np.zeros(shape) + figure).ravel()

    times = march(Make.of(piece.with_each(each)), *map(each, asked))
    if never := np.count_nonzero(np.isnan(times)):
        got = f"a share burnt that {never} of {times.size} stones do not reach in this gas"
        raise InputError("conversion", got, "gas above the dissociation temperature", 'gas_temperature="1000 degC"')
    return times.reshape(shape) if shape else float(times[0])


@entry
def march(makes, gas_temperatures, co2_pressures, start_temperatures, conversions):
    """Return the times (s) in which stones burn to conversions, nan where one never does; all of shape (stones,)."""
    times = np.empty(len(conversions))
    for at in range(len(times)):
        gas = gas_temperatures[at], co2_pressures[at]
        times[at] = time_of(make_at(makes, at), gas, start_temperatures[at], conversions[at])
    return times


@part
def time_of(make, gas, start_temperature, conversion):
    """Return the time of one stone."""
    state, goal = charged(make, start_temperature), core_left(make.curved, conversion)
    slowness = 1.0 / make.heat_transfer_coefficient + make.radius / ((make.curved + 3) * make.stone_conductivity)
    seconds = FIRST_STEP * make.warming.capacity * make.volume * slowness
    clock, core, pace = 0.0, 1.0, 0.0
    for _ in range(MOST_STEPS):
        if core <= goal:
            return clock
        level = state.core_temperature
        state, _ = step(make, state, seconds, gas[0], gas[1], FRONT_TOLERANCE)
        left = core_left(make.curved, state.conversion)
        moved = core - left if left > 0.0 else max(pace * seconds, core)
        clock += seconds * ((core - goal) / moved if left <= goal else 1.0)
        change = max(
            moved / min(FRONT_STEP, FIRST_MOVE + THIN_STEP * min(1.0 - left, left)),
            abs(state.core_temperature - level) / CORE_STEP,
        )
        core, pace = left, moved / seconds
        seconds *= min(max(1.0 / max(change, 1e-9), STEP_SHRINK), STEP_GROWTH)
    return np.nan
