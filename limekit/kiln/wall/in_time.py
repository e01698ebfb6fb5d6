"""A wall that warms: conduction through its layers in time, many levels of a kiln at once.

Heat moves through thin cells, finest at the fire. The cells' heat balances
are taken apart into their own modes, each of which decays at its own pace, so
a step of any length is exact for a steady inflow, costs a few array
operations, and closes its energy balance to rounding.

C dT/dt = −K T + q for the cells' warmth T over the air, with capacities C,
links K and the inflow q at the first; da/dt = −p a + f q for each mode, with
its pace p and its share f at the inner face, so that over a step
a(t) = a(0) exp(−p t) + f q (1 − exp(−p t))/p.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from limekit.compiled import choose, part
from limekit.facts import fact
from limekit.kiln.wall.layers import Layer, read_layers
from limekit.kiln.wall.steady import bulk, curvature, faces, over_limit, spread

FIRST_CELL = 0.004
GROWTH = 0.15
SMALL_STEP = 1e-3
STEPS_KEPT = 64


def cell_faces(layers: Sequence[Layer], first_cell: float = FIRST_CELL, growth: float = GROWTH) -> np.ndarray:
    """Return the depths of the cells' faces in metre; cells widen with depth and none straddles two layers.

    Parameters
    ----------
    layers : sequence of Layer
    first_cell : float
        Width of a cell at the inner face, metre.
    growth : float
        How much wider a cell is for every metre of depth.
    """
    depths = faces(layers)
    parts = [depths[:1]]
    for near, far in pairwise(depths):
        ends = np.log(first_cell + growth * np.array([near, far]))
        count = int(np.ceil((ends[1] - ends[0]) / growth))
        parts.append(((np.exp(np.linspace(*ends, count + 1)) - first_cell) / growth)[1:-1])
        parts.append([far])
    return np.concatenate(parts)


class Modes(NamedTuple):
    """The ways in which a wall's warmth decays, finest last.

    Parameters
    ----------
    paces : ndarray
        1/s.
    face, leak : ndarray
        What each adds to the inner face's warmth (K), and to the heat lost outside (W/m²), by its own measure.
    inward : float
        From the face to the middle of the first cell; m²K/W.
    """

    paces: np.ndarray
    face: np.ndarray
    leak: np.ndarray
    inward: float


@part
def mode_over(pace, seconds):
    """Return how a mode fares in a step, whose pace (1/s) may be an array.

    Returns
    -------
    decay : float or ndarray
        Share that is left.
    once, twice : float or ndarray
        What a steady push of 1/s makes of it by the step's end, s, and its sum over the step, s².
    """
    gone = pace * seconds
    once = -np.expm1(-gone) / pace
    series = 0.5 * seconds**2 * (1.0 - gone / 3.0 * (1.0 - gone / 4.0 * (1.0 - gone / 5.0)))
    return np.exp(-gone), once, choose(gone < SMALL_STEP, series, (seconds - once) / pace)


class Wall:
    """The wall of a kiln, level by level, warming or cooling in time. All figures in SI floats.

    Levels exchange no heat with each other: a wall is much thicker than heat creeps upward in a
    firing. Steps may be of any length; one of more than about ten minutes, just after the gas has
    changed at a stroke, takes up to a fifth too much heat and can carry the inner face past the gas
    until the next step.

    Parameters
    ----------
    layers : sequence
        As for `limekit.steady_wall`, from the fire outward.
    face_area : float or ndarray
        Area of the inner face of each level, m².
    kiln_diameter : float, optional
        Inside, metre; without it the wall is flat.
    air_temperature : float
        Outside, kelvin.
    start_temperature : float, optional
        Of the whole wall at first, kelvin; without it, the air's.
    outside_coefficient : float
        From the outer face to the air, W/(m² K), held constant.
    first_cell, growth : float
        As for `cell_faces`.

    Attributes
    ----------
    state : ndarray, shape (levels, modes)
        How far each of the wall's `modes` stands out.
    flux : ndarray, shape (levels,)
        Into the face over the last step; W/m².
    heat_taken, heat_lost : ndarray, shape (levels,)
        Since the start; J.
    """

    def __init__(
        self,
        layers,
        face_area,
        kiln_diameter: float | None = None,
        air_temperature: float = fact("start_temperature"),
        start_temperature: float | None = None,
        outside_coefficient: float = fact("outside_coefficient"),
        first_cell: float = FIRST_CELL,
        growth: float = GROWTH,
    ) -> None:
        self.layers = read_layers(layers)
        self.face_area = np.atleast_1d(np.asarray(face_area, dtype=float))
        self.air_temperature = float(air_temperature)
        curve, edges = curvature(kiln_diameter), cell_faces(self.layers, first_cell, growth)
        self.depths = middles = (edges[:-1] + edges[1:]) / 2.0
        self._first = np.searchsorted(edges, faces(self.layers)[:-1])
        owners = [self.layers[place] for place in np.searchsorted(faces(self.layers), middles) - 1]
        conductivity, density, heat = np.array(
            [(one.material.conductivity, one.material.density, one.material.heat_capacity) for one in owners]
        ).T
        self._capacity = density * heat * bulk(curve, edges[:-1], edges[1:])
        self._inward = spread(curve, edges[:-1], middles) / conductivity
        self._outward = spread(curve, middles, edges[1:]) / conductivity
        links = 1.0 / (self._outward[:-1] + self._inward[1:])
        leak = 1.0 / (self._outward[-1] + 1.0 / (outside_coefficient * (1.0 + curve * edges[-1])))
        exchange = np.diag(np.append(links, leak) + np.append(0.0, links)) - np.diag(links, 1) - np.diag(links, -1)
        root = 1.0 / np.sqrt(self._capacity)
        self._paces, modes = np.linalg.eigh(root[:, None] * exchange * root)
        self._shapes = modes * root[:, None]
        self._leak = leak * self._shapes[-1]
        self._outermost = 1.0 - leak * self._outward[-1]
        warmer = (self.air_temperature if start_temperature is None else start_temperature) - self.air_temperature
        self.state = np.tile(warmer * (self._capacity @ self._shapes), (self.face_area.size, 1))
        self.flux = np.zeros(self.face_area.size)
        self._steps: dict[float, tuple] = {}
        self.heat_taken = np.zeros(self.face_area.size)
        self.heat_lost = np.zeros(self.face_area.size)

    @property
    def modes(self) -> Modes:
        """The ways in which its warmth decays, for compiled loops."""
        return Modes(self._paces, np.ascontiguousarray(self._shapes[0]), self._leak, float(self._inward[0]))

    def _step(self, seconds: float) -> tuple:
        if seconds not in self._steps:
            if len(self._steps) >= STEPS_KEPT:
                self._steps.clear()
            decay, once, twice = mode_over(self._paces, seconds)
            face = self._shapes[0]
            self._steps[seconds] = (
                decay,
                face * once,
                face * once / seconds,
                float(face**2 @ twice) / seconds,
                self._leak * once,
                float(self._leak * face @ twice),
            )
        return self._steps[seconds]

    def offer(self, coefficient, seconds: float) -> tuple[np.ndarray, np.ndarray]:
        """Return what the wall looks like to the gas over the next step.

        Parameters
        ----------
        coefficient : float or ndarray
            From gas to wall in each level, W/(m² K).
        seconds : float
            Length of the step.

        Returns
        -------
        conductance, temperature : ndarray
            W/K and kelvin of each level: the heat it will take is
            ``seconds * conductance * (gas_temperature - temperature)``, its own warming counted.
        """
        _, _, free, own, _, _ = self._step(seconds)
        conductance = self.face_area / (1.0 / coefficient + self._inward[0] + own)
        return conductance, self.air_temperature + self.state @ free

    def absorb(self, heat, seconds: float) -> None:
        """Let each level take a heat in joule, evenly over a step of some seconds."""
        decay, push, _, _, leak, own_leak = self._step(seconds)
        self.flux[:] = heat / (self.face_area * seconds)
        self.heat_taken += heat
        self.heat_lost += self.face_area * (self.state @ leak + own_leak * self.flux)
        self.state *= decay
        self.state += np.multiply.outer(self.flux, push)

    def step(self, gas_temperature, coefficient, seconds: float) -> np.ndarray:
        """Pass a step beside gas of a given temperature and return the heat taken.

        Parameters
        ----------
        gas_temperature, coefficient : float or ndarray
            Of each level: kelvin, held over the step, and W/(m² K).
        seconds : float

        Returns
        -------
        ndarray
            Joule, each level; less than none where the wall gives heat back.
        """
        conductance, temperature = self.offer(coefficient, seconds)
        heat = seconds * conductance * (gas_temperature - temperature)
        self.absorb(heat, seconds)
        return heat

    @property
    def temperatures(self) -> np.ndarray:
        """Kelvin in the middle of each cell, at `depths`: levels by cells."""
        return self.air_temperature + self.state @ self._shapes.T

    @property
    def face_temperature(self) -> np.ndarray:
        """Kelvin at the inner face of each level."""
        return self.air_temperature + self.state @ self._shapes[0] + self.flux * self._inward[0]

    @property
    def outer_temperature(self) -> np.ndarray:
        """Kelvin at the outer face of each level."""
        return self.air_temperature + self._outermost * (self.state @ self._shapes[-1])

    @property
    def heat_stored(self) -> np.ndarray:
        """Joule that each level holds above the air's temperature."""
        return self.face_area * (self.state @ (self._capacity @ self._shapes))

    @property
    def hot_sides(self) -> np.ndarray:
        """Kelvin at the inner side of every layer: levels by layers."""
        inner, cells = self._first[1:], self.temperatures
        before, after = 1.0 / self._outward[inner - 1], 1.0 / self._inward[inner]
        between = (before * cells[:, inner - 1] + after * cells[:, inner]) / (before + after)
        return np.column_stack([self.face_temperature, between])

    def over_limit(self) -> tuple[str, ...]:
        """Return a sentence for every layer that is now hotter, in some level, than its material stands."""
        return over_limit(self.layers, self.hot_sides.max(axis=0))
