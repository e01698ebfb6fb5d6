"""What a firing was like hour by hour and place by place, in plain arrays for pictures and tables."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from limekit.facts import fact
from limekit.kiln.column.burn import Burn
from limekit.kiln.sizing import Kiln
from limekit.stone.overburn import BANDS, SOFT, index_so_far, overburn_class
from limekit.units import MM

PARTS = ("bottom", "middle", "top")
GONE = 1e-12  # share of the charge below which a size does not lie at a level


class Place(NamedTuple):
    """Stones of one size (m) in a third of the charge: share of it, burnt share, hours (s) of over-burning.

    `heights` are metres above the hearth's floor.
    """

    part: str
    heights: tuple[float, float]
    size: float
    share: float
    conversion: float
    overburn: float

    def __str__(self) -> str:
        words = overburn_class.plain(self.overburn)
        return f"{self.part}, {MM * self.size:.0f} mm: {100 * self.conversion:.0f} % burnt, {words}"


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

    @property
    def dead_share(self) -> float:
        """Share of the charge, by mass, that is at risk of dead-burning at the end."""
        return float(self.mass[self.overburn_index[-1] >= fact("overburn_dead_from")].sum() / self.mass.sum())

    def fed_by(self, time) -> np.ndarray:
        """Return the fuel fed by a time or times (s) up to the end, kg."""
        clock = np.append(0.0, self.times)
        return np.interp(time, clock, np.append(0.0, np.cumsum(np.diff(clock) * self.fuel_rate)))

    def came_out(self) -> dict[str, float]:
        """Return what the carbonate charged came to, raw and by how hard it is burnt: shares that sum to 1."""
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
        """Return how each size came out in each third of the charge, from the bottom up and small to large."""
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


def history(burn: Burn, size: Kiln, member: int = 0) -> FiringHistory:
    """Return one member's history of a firing in a kiln of some size."""
    moments, charge = burn.moments, burn.column.charge
    levels = len(charge.mass)
    gas = moments.gas_temperature[..., member]
    return FiringHistory(
        times=moments.time,
        heights=size.foot + (np.arange(levels) + 0.5) / levels * size.charge_height,
        sizes=charge.sizes,
        mass=charge.mass,
        fuel_rate=moments.fed[:, member],
        air_rate=moments.air[:, member],
        hearth_temperature=gas[:, 0],
        flue_temperature=moments.flue_temperature[:, member],
        gas_temperature=gas[:, 1:],
        stone_temperature=moments.stone_temperature[..., member],
        conversion=moments.conversion[..., member],
        overburn_index=index_so_far(moments.time, moments.lime_temperature[..., member]),
        burnt=moments.burnt[:, member],
    )
