"""Kilns with their fires lit, and what they have come to."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from limekit.facts import fact
from limekit.fire.air_way import AirWay, Breath
from limekit.kiln.column.column import Column
from limekit.kiln.column.gas import MASSES
from limekit.kiln.column.rings import Rings
from limekit.kiln.column.run import NOW, SHORTEST, Moments, Pulse, Surroundings, run
from limekit.kiln.column.standing import Bench
from limekit.kiln.column.step import Closeness
from limekit.kiln.column.stoking import Stoker

FLOWS = {"fed", "air", "fire", "unburnt", "stones", "wall", "flue", "leaks", "gas_in", "gas_out"}  # summed over rings
ROOM, TOLD = 256, 8  # moments that a run has room for; and that it writes between two calls of `after`


class Lid(NamedTuple):
    """What is laid over an open kiln once its topmost gas is so hot (K): the air's way then, and W/K through it."""

    laid_at: float
    way: AirWay
    cover: float


class Burn:
    """Kilns side by side with their fires lit, moved on by `run`.

    Parameters
    ----------
    column : Column
    way : AirWay
    stoker : Stoker
    rings : Rings
        As many as the column's charge has.
    mouth : float or ndarray
        Area through which the hearth shines on the world outside, m².
    cover : float or ndarray
        From the gas below the cover to the air outside, W/K.
    damper : float
        Open share of the flue.
    pace : float
        Factor on the change that a step may bring; below 1 for shorter steps.
    lid : Lid, optional
        Still to be laid on.
    close : Closeness
        How closely each step is solved.
    """

    def __init__(
        self,
        column: Column,
        way: AirWay,
        stoker: Stoker,
        rings: Rings,
        mouth,
        cover,
        damper: float = 1.0,
        pace: float = 1.0,
        lid: Lid | None = None,
        close: Closeness | None = None,
    ) -> None:
        self.column, self.way, self.stoker = column, way, stoker
        self.rings = rings
        self.damper, self.mouth, self.cover, self.pace = damper, mouth, cover, pace
        self.lid = lid
        self.close = close or Closeness()
        members = column.charge.members
        below = column.charge.by_ring(column.gas_temperature[0]).mean(axis=-1)
        hearth = np.maximum(below, float(fact("flare_gas_temperature")))
        self._pulse = Pulse(
            clock=np.array([0.0, SHORTEST, SHORTEST, SHORTEST, 1.0, 1.0]),
            hearth=hearth,
            gas_to_air=np.ones(members),
            drawn=np.zeros(members),
            burnt=column.charge.mean(column.stones.conversion),
            pace=np.zeros(1),
            passing=np.zeros((members, len(column.charge.mass), column.charge.rings - 1)),
        )
        self._pulse.drawn[:] = self.breathe().mass_flux * way.kiln_area
        self._written, self._moments = 0, self._room(0)
        self._told: Moments | None = None

    @property
    def clock(self) -> float:
        """Time since lighting; s."""
        return float(self._pulse.clock[NOW])

    @property
    def burnt(self) -> np.ndarray:
        """Mean conversion, shape (members,)."""
        return self._pulse.burnt.copy()

    @property
    def pace_of_burning(self) -> float:
        """Of the slowest member over the last step; 1/s."""
        return float(self._pulse.pace[0])

    @property
    def moments(self) -> Moments:
        """The kilns at the end of every step so far, by member: flows together, and the mean of all else."""
        if self._told is None or len(self._told.time) < self._written:
            told, charge = self.by_column, self.column.charge
            weights = {
                name: np.full(charge.rings, 1.0 if name in FLOWS else 1.0 / charge.rings) for name in told._fields
            }
            by_member = (charge.by_ring(getattr(told, name)) @ weights[name] for name in told._fields[1:])
            self._told = told if charge.rings == 1 else Moments(told.time, *by_member)
        return self._told

    @property
    def by_column(self) -> Moments:
        """The kilns at the end of every step so far, ring by ring of each."""
        return Moments(*(one[: self._written] for one in self._moments))

    def breathe(self) -> Breath:
        """Return the air that the kilns could draw as they are, and what holds it back."""
        column, pulse = self.column, self._pulse
        gas, top = (
            column.charge.by_ring(one).mean(axis=-1) for one in (column.gas_temperature[1:], column.flue_temperature)
        )
        state = column.air_temperature, pulse.gas_to_air, self.damper, pulse.hearth
        return self.way.breathe(gas, top, *state)

    def run(self, until: float, conversion: float = np.inf, after: Callable | None = None) -> None:
        """Go on to a time (s), or a mean conversion of the slowest member; call `after` every few steps."""
        column, kiln = self.column, self.column.kiln
        feeding, bench = self.stoker.feeding(column.charge.members), Bench.of(kiln, self.rings.count)
        while self.clock < until and self._pulse.burnt.min() < conversion:
            if self._written == len(self._moments.time):
                more = self._room(max(ROOM, self._written))
                self._moments = Moments(*map(np.concatenate, zip(self._moments, more, strict=True)))
            end = self._written + TOLD if after or self.lid else None
            page = Moments(*(one[self._written : end] for one in self._moments))
            going = kiln, column.now, self._around(), feeding, self._pulse, bench
            self._written += run(*going, page, float(until), float(conversion), float(self.pace), self.close)
            if self.lid and column.gas_temperature[-1].mean() >= self.lid.laid_at:
                _, self.way, self.cover = self.lid
                self.lid = None
            if after:
                after()

    def branch(self) -> Burn:
        """Return the kilns as they stand, to be run on by themselves; their moments begin anew."""
        bare = copy.copy(self)
        bare._written, bare._moments, bare._told = 0, self._room(0), None
        return copy.deepcopy(bare)

    def _around(self) -> Surroundings:
        """Return what lies between gas and air as it is now."""
        members = self.column.charge.members
        return Surroundings(
            rings=self.rings,
            heads=self.way.heads,
            damper=float(self.damper),
            mouth=np.broadcast_to(np.asarray(self.mouth, dtype=float), members).copy(),
            cover=np.broadcast_to(np.asarray(self.cover, dtype=float), members).copy(),
            stefan_boltzmann=float(fact("stefan_boltzmann")),
            masses=tuple(MASSES.tolist()),
        )

    def _room(self, moments: int) -> Moments:
        """Return moments to be written to."""
        levels, sizes = self.column.charge.mass.shape
        columns = self.column.charge.columns
        single, stones = (moments, columns), (moments, levels, sizes, columns)
        shapes = {
            "time": (moments,),
            "leaks": (moments, levels + 1, columns),
            "gas_temperature": (moments, levels + 1, columns),
            "gas_in": (moments, len(MASSES), columns),
            "gas_out": (moments, len(MASSES), columns),
            **dict.fromkeys(("stone_temperature", "lime_temperature", "conversion"), stones),
        }
        return Moments(*(np.empty(shapes.get(name, single)) for name in Moments._fields))
