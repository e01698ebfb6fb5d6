"""What a firing was like hour by hour and place by place, in plain arrays for pictures and tables."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import NamedTuple

import numpy as np

from limekit.facts import fact
from limekit.kiln.column.burn import Burn
from limekit.kiln.column.run import Moments
from limekit.kiln.kiln import Kiln
from limekit.stone.overburn import BANDS, SOFT, index_so_far, overburn_class
from limekit.units import MM

PARTS = ("bottom", "middle", "top")
HEART, BY_THE_WALL = " in the heart", " by the wall"
GONE = 1e-12  # share of the charge below which a size does not lie at a level


class Place(NamedTuple):
    """Stones of one size (m) in a third of a ring of the charge: share of it, burnt share, hours (s) of over-burning.

    `heights` are metres above the hearth's floor; `ring` says where across, where the charge is cut into rings.
    """

    part: str
    heights: tuple[float, float]
    size: float
    share: float
    conversion: float
    overburn: float
    ring: str = ""

    def __str__(self) -> str:
        words = overburn_class.plain(self.overburn)
        return f"{self.part}{self.ring}, {MM * self.size:.0f} mm: {100 * self.conversion:.0f} % burnt, {words}"


@dataclass(frozen=True, eq=False)
class FiringHistory:
    """A firing in plain SI arrays; axes are times, levels from the bottom up, sizes from small to large.

    Parameters
    ----------
    times : ndarray, shape (times,)
        s since lighting.
    heights : ndarray, shape (levels,)
        Middle of each level above the hearth's floor, m.
    sizes : ndarray, shape (sizes,)
        m.
    mass : ndarray, shape (levels, sizes)
        Dry stone charged, kg.
    fuel_rate, air_rate : ndarray, shape (times,)
        kg/s.
    hearth_temperature, flue_temperature : ndarray, shape (times,)
        Of the gas below the charge and as it leaves; K.
    gas_temperature : ndarray, shape (times, levels)
        K.
    stone_temperature, conversion, overburn_index : ndarray, shape (times, levels, sizes)
        K of the core or, where it is gone, of the lime; share of the calcium carbonate; s at 1150 °C.
    burnt : ndarray, shape (times,)
        Mean conversion.
    rings : tuple of FiringHistory
        The same of each ring from the heart to the wall, where there are some; the whole is then their mean.
    """

    times: np.ndarray
    heights: np.ndarray
    sizes: np.ndarray
    mass: np.ndarray
    fuel_rate: np.ndarray
    air_rate: np.ndarray
    hearth_temperature: np.ndarray
    flue_temperature: np.ndarray
    gas_temperature: np.ndarray
    stone_temperature: np.ndarray
    conversion: np.ndarray
    overburn_index: np.ndarray
    burnt: np.ndarray
    rings: tuple[FiringHistory, ...] = ()

    @property
    def dead_share(self) -> float:
        """Share of the charge, by mass, that is at risk of dead-burning at the end."""
        if self.rings:
            return float(np.mean([ring.dead_share for ring in self.rings]))
        return float(self.mass[self.overburn_index[-1] >= fact("overburn_dead_from")].sum() / self.mass.sum())

    def fed_by(self, time) -> np.ndarray:
        """Return the fuel fed by a time or times (s) up to the end, kg."""
        clock = np.append(0.0, self.times)
        return np.interp(time, clock, np.append(0.0, np.cumsum(np.diff(clock) * self.fuel_rate)))

    def came_out(self) -> dict[str, float]:
        """Return what the carbonate charged came to, raw and by how hard it is burnt: shares that sum to 1."""
        if self.rings:
            each = [ring.came_out() for ring in self.rings]
            return {word: float(np.mean([one[word] for one in each])) for word in each[0]}
        share = self.mass / self.mass.sum()
        burnt, index = share * self.conversion[-1], self.overburn_index[-1]
        found, below = {}, np.inf
        for word, least in ((word, fact(key)) for key, word in BANDS):
            found[word] = float(burnt[(index >= least) & (index < below)].sum())
            below = least
        found[SOFT] = float(burnt[index < below].sum())
        return {"raw": 1.0 - float(burnt.sum())} | dict(reversed(found.items()))

    def by_level(self, values: np.ndarray) -> np.ndarray:
        """Return the mean of each level by mass, (times, levels), of something of shape (times, levels, sizes)."""
        return np.einsum("tls,ls->tl", values, self.mass) / self.mass.sum(axis=1)

    def places(self) -> tuple[Place, ...]:
        """Return how each size came out in each third, from the heart outward, the bottom up and small to large."""
        if self.rings:
            between = [""] * (len(self.rings) - 2)
            return tuple(
                place._replace(share=place.share / len(self.rings), ring=name)
                for name, ring in zip((HEART, *between, BY_THE_WALL), self.rings, strict=True)
                for place in ring.places()
            )
        levels = len(self.heights)
        half = 0.5 * (self.heights[1] - self.heights[0]) if levels > 1 else self.heights[0]
        found = []
        for part, rows in zip(PARTS, np.array_split(np.arange(levels), len(PARTS)), strict=True):
            for number, size in enumerate(self.sizes):
                mass = self.mass[rows, number]
                if mass.sum() <= GONE * self.mass.sum():
                    continue
                burnt, over = (
                    float(mass @ of[-1, rows, number] / mass.sum()) for of in (self.conversion, self.overburn_index)
                )
                heights = float(self.heights[rows[0]] - half), float(self.heights[rows[-1]] + half)
                found.append(Place(part, heights, float(size), float(mass.sum() / self.mass.sum()), burnt, over))
        return tuple(found)


def history(burn: Burn, size: Kiln) -> FiringHistory:
    """Return the history of a firing in a kiln of some size, of the first where several were fired."""
    charge = burn.column.charge
    levels, rings = len(charge.mass), charge.rings
    heights = size.foot + (np.arange(levels) + 0.5) / levels * size.charge_height
    told = partial(_told, heights=heights, sizes=charge.sizes, mass=charge.mass / rings)
    each = tuple(told(burn.by_column, ring) for ring in range(rings))
    if rings == 1:
        return each[0]
    whole = told(burn.moments, 0)
    return replace(
        whole,
        mass=charge.mass,
        overburn_index=np.mean([ring.overburn_index for ring in each], axis=0),
        rings=each,
    )


def _told(moments: Moments, column: int, *, heights, sizes, mass) -> FiringHistory:
    """Return what moments tell of one kiln, or of one ring of it."""
    gas = moments.gas_temperature[..., column]
    return FiringHistory(
        times=moments.time,
        heights=heights,
        sizes=sizes,
        mass=mass,
        fuel_rate=moments.fed[:, column],
        air_rate=moments.air[:, column],
        hearth_temperature=gas[:, 0],
        flue_temperature=moments.flue_temperature[:, column],
        gas_temperature=gas[:, 1:],
        stone_temperature=moments.stone_temperature[..., column],
        conversion=moments.conversion[..., column],
        overburn_index=index_so_far(moments.time, moments.lime_temperature[..., column]),
        burnt=moments.burnt[:, column],
    )
