"""One wall over a firing and the hours after it: how heat soaks in, and where it has gone when the fire is out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import fact
from limekit.kiln.wall.in_time import Wall
from limekit.kiln.wall.layers import Layer, grounds, read_layers
from limekit.kiln.wall.steady import faces, over_limit
from limekit.units import HOUR, ZERO_CELSIUS, Joule, Kelvin, Metre, Second, Unit

STEPS = 48
COOLING_STEPS = 36
ENDS = ("conductivity_low", "conductivity_high")


def fire(
    wall: Wall, firing_time: float, heat_up_time: float | None, gas_temperature: float, steps: int = STEPS
) -> Iterator[float]:
    """Fire a cold wall in equal steps from lighting to closing and yield the time after each; all in SI.

    The gas climbs steadily to full fire in the heat-up time, or in the usual share of the firing; the wall is changed
    as it warms.
    """
    seconds = firing_time / steps
    climb = fact("heating_up_share") * firing_time if heat_up_time is None else heat_up_time
    for step in range(steps):
        climbed = min(1.0, (step + 0.5) * seconds / max(climb, seconds))
        gas = wall.air_temperature + climbed * (gas_temperature - wall.air_temperature)
        wall.step(gas, fact("heat_transfer_coefficient"), seconds)
        yield (step + 1) * seconds


def refuse_no_fire(firing_time: float, gas_temperature: float, air_temperature: float) -> None:
    """Raise `InputError` where there is no firing: no time, or gas no hotter than the air."""
    if firing_time <= 0.0 or gas_temperature <= air_temperature:
        gas, air = (f"{level - ZERO_CELSIUS:.0f} °C" for level in (gas_temperature, air_temperature))
        got = f"{firing_time / HOUR:.0f} h of gas at {gas} in air at {air}"
        raise InputError("firing", got, "some hours of gas hotter than the air", 'firing_time="24 h"')


@dataclass(frozen=True, eq=False)
class WallHistory:
    """A wall moment by moment, in plain SI floats.

    ``temperatures`` are moments by ``depths``, from the inner face to the outer one, and
    ``hottest`` the most that each layer's inner side ever came to; heats are counted from
    lighting, ``lost`` to the air outside.
    """

    times: np.ndarray
    depths: np.ndarray
    temperatures: np.ndarray
    hottest: np.ndarray
    taken: np.ndarray
    stored: np.ndarray
    lost: np.ndarray


@dataclass(frozen=True)
class FiredWall:
    """What a firing does to a wall: heat taken, kept and lost when the kiln is closed, and the heat it stands.

    The span of ``heat_taken`` is that of the materials' conductivities, all low or all high.
    ``face_hottest`` is the outer face's highest level, often long after the fire is out, and
    ``over_limit`` names each layer that was ever hotter than its material stands.
    """

    heat_taken: Annotated[Span, Unit("J")]
    heat_stored: Joule
    heat_lost: Joule
    face_temperature: Kelvin
    face_hottest: Kelvin
    over_limit: tuple[str, ...]
    history: WallHistory
    basis: tuple[Ground, ...] = ()


@edge
def fire_wall(
    layers: Sequence,
    kiln_diameter: Metre,
    kiln_height: Metre,
    firing_time: Second,
    gas_temperature: Kelvin,
    heat_up_time: Second | None = None,
    cooling_time: Second = fact("cooling_time"),
    air_temperature: Kelvin = fact("start_temperature"),
) -> FiredWall:
    """Fire a wall from cold and leave it closed to cool.

    Parameters
    ----------
    layers : sequence
        Pairs of material and thickness from the fire outward, as for `steady_wall`.
    kiln_diameter, kiln_height : Metre
        Inside.
    firing_time : Second
        From lighting to closing.
    gas_temperature : Kelvin
        Of the gas at full fire, as the wall sees it.
    heat_up_time : Second, optional
        In which the gas climbs to full fire; without it, half the firing.
    cooling_time : Second
        How long it is followed once it is closed.
    air_temperature : Kelvin
        Outside, and of the wall at first.

    Returns
    -------
    FiredWall
        With the whole `history`.

    Raises
    ------
    InputError
        If there is no firing: no time, or gas no hotter than the air.

    Notes
    -----
    ρ c ∂T/∂t = (1/r) ∂(λ r ∂T/∂r)/∂r, with h (T_gas − T) coming in by the inner face. Dry; openings not taken
    off, floor and cover not counted. Closed, the inner face is taken to give and take nothing: the charge
    cools with it, and feeds it a little longer in truth.

    Examples
    --------
    >>> fired = fire_wall([("firebrick", "114 mm"), ("wood_ash", "100 mm"), ("rubble", "300 mm")], "0.8 m", "1.2 m",
    ...                   firing_time="18 h", gas_temperature="1000 degC")
    >>> print(f"{fired.heat_taken} taken, {fired.heat_lost:.0f~P} lost; outside {fired.face_temperature:.0f~P}")
    954 MJ (900 MJ to 1010 MJ) taken, 9 MJ lost; outside 28 °C
    """
    refuse_no_fire(firing_time, gas_temperature, air_temperature)
    layers = read_layers(layers)
    inside = math.pi * kiln_diameter * kiln_height, kiln_diameter, air_temperature
    firing = firing_time, heat_up_time, gas_temperature
    wall = Wall(layers, *inside)
    edges = faces(layers)
    depths = np.concatenate([edges, wall.depths])
    outward = np.argsort(depths)
    moments, hottest = [_moment(wall, 0.0)], wall.hot_sides[0]
    for time in _through(wall, *firing, cooling_time):
        moments.append(_moment(wall, time))
        hottest = np.maximum(hottest, wall.hot_sides[0])
    times, temperatures, taken, stored, lost = (np.array(column) for column in zip(*moments, strict=True))
    history = WallHistory(times, depths[outward], temperatures[:, outward], hottest, taken, stored, lost)
    return FiredWall(
        heat_taken=Span(float(taken[STEPS]), *(_taken(Wall(_ends(layers, end), *inside), firing) for end in ENDS)),
        heat_stored=float(stored[STEPS]),
        heat_lost=float(lost[STEPS]),
        face_temperature=float(history.temperatures[STEPS, -1]),
        face_hottest=float(history.temperatures[:, -1].max()),
        over_limit=over_limit(wall.layers, hottest),
        history=history,
        basis=grounds(wall.layers),
    )


def _through(wall: Wall, firing_time: float, heat_up_time, gas_temperature: float, cooling_time: float):
    yield from fire(wall, firing_time, heat_up_time, gas_temperature)
    seconds = cooling_time / COOLING_STEPS
    for step in range(COOLING_STEPS if cooling_time else 0):
        wall.absorb(np.zeros(1), seconds)
        yield firing_time + (step + 1) * seconds


def _ends(layers: Sequence[Layer], end: str) -> list[Layer]:
    return [
        replace(layer, material=replace(layer.material, conductivity=getattr(layer.material, end))) for layer in layers
    ]


def _taken(wall: Wall, firing: tuple) -> float:
    for _ in fire(wall, *firing):
        pass
    return float(wall.heat_taken[0])


def _moment(wall: Wall, time: float) -> tuple:
    through = *wall.hot_sides[0], wall.outer_temperature[0], *wall.temperatures[0]
    return time, through, wall.heat_taken[0], wall.heat_stored[0], wall.heat_lost[0]
