"""The charge of a kiln: how much stone of which size lies at which level."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from limekit.edge import take
from limekit.facts import fact
from limekit.fire.bed import sauter_diameter
from limekit.limestone import USUAL_STONE, Stone
from limekit.stone.front import Piece
from limekit.units import Unit

Arrangement = Literal["mixed", "graded"]

MIDDLE = float(fact("middle_stone_share"))
USUAL = {0.0: (1.0 - MIDDLE) / 2.0, 0.5: MIDDLE, 1.0: (1.0 - MIDDLE) / 2.0}  # by place from the smallest to the largest


@dataclass(frozen=True, eq=False)
class Lays:
    """How pieces lie: factors on the pace at which a piece takes heat and burns, with their shares of the pieces.

    Parameters
    ----------
    factors : ndarray, shape (lays, members) or (lays, 1)
    shares : ndarray, shape (lays,)
    """

    factors: np.ndarray
    shares: np.ndarray


STRAIGHT = Lays(np.ones((1, 1)), np.ones(1))  # all alike


@dataclass(frozen=True, eq=False)
class Charge:
    """Stones by level from the bottom up, by size from small to large, and by column.

    Kilns side by side are the members of an ensemble; each is cut into rings of one section, from the
    heart to the rim, and a column is one ring of one kiln: those of the first kiln come first.

    Parameters
    ----------
    sizes : ndarray, shape (sizes,)
        m.
    mass : ndarray, shape (levels, sizes)
        Dry stone of a whole kiln, kg.
    piece : Piece
        Fields that broadcast to (sizes, columns).
    members, rings : int
    porosity : float
        Gaps, as a share of the charge.
    """

    sizes: np.ndarray
    mass: np.ndarray
    piece: Piece
    members: int
    rings: int
    porosity: float

    @property
    def columns(self) -> int:
        """Rings of all kilns."""
        return self.members * self.rings

    @property
    def like(self) -> np.ndarray:
        """Zeros of the full shape, (levels, sizes, columns)."""
        return np.zeros((*self.mass.shape, self.columns))

    def by_ring(self, values) -> np.ndarray:
        """Return something that ends on columns with axes of kilns and of rings in their place."""
        return np.reshape(values, (*np.shape(values)[:-1], self.members, self.rings))

    def mean(self, values) -> np.ndarray:
        """Return the mean by mass of something of the full shape, for each member."""
        by_column = np.einsum("ls,lsc->c", self.mass, values) / self.mass.sum()
        return self.by_ring(by_column).mean(axis=-1)


def read_sizes(stone_sizes: Mapping | None, smallest: float, largest: float) -> dict[float, float]:
    """Return sizes in metre, from small to large, each with its share of the stone.

    They are given as for `limekit.sauter_diameter`; where they are not, a quarter of the stone is of the smallest,
    half of the middle and a quarter of the largest size (m).
    """
    if stone_sizes is None:
        stone_sizes = {smallest + place * (largest - smallest): share for place, share in USUAL.items()}
    sauter_diameter.plain(stone_sizes)
    shares: dict[float, float] = {}
    for size, amount in stone_sizes.items():
        metres = size if isinstance(size, float) else take(size, Unit("m"), "diameter")
        shares[metres] = shares.get(metres, 0.0) + float(amount)
    total = sum(shares.values())
    return {size: amount / total for size, amount in sorted(shares.items()) if amount > 0.0}


def spread_by_level(shares: np.ndarray, levels: int, arrangement: Arrangement) -> np.ndarray:
    """Return each size's share of the whole charge at each level, shape (levels, sizes), from its share of the stone.

    Graded, the largest lie at the bottom and the smallest at the top; mixed, every size at every level.
    """
    if arrangement == "mixed":
        return np.tile(shares / levels, (levels, 1))
    tops = np.arange(1, levels + 1)[:, None] / levels
    ends = np.cumsum(shares[::-1])[::-1]
    starts = ends - shares
    return np.maximum(np.minimum(tops, ends) - np.maximum(tops - 1.0 / levels, starts), 0.0)


def make_charge(
    mass: float,
    shares: Mapping[float, float],
    levels: int,
    arrangement: Arrangement = "mixed",
    stone: Stone = USUAL_STONE,
    lays: Lays = STRAIGHT,
    porosity: float = fact("bed_porosity"),
    rings: int = 1,
) -> Charge:
    """Return a charge of a mass as weighed (kg), with shares from `read_sizes`.

    The stone's reaction coefficient and its lime's conductivity may be of shape (members,). Each size is charged once
    for every way in which pieces lie.

    Raises `InputError` if the carbonates come to more than the stone, or nothing in it burns.
    """
    by_level = spread_by_level(np.array(list(shares.values())), levels, arrangement)
    sizes = np.repeat(list(shares), len(lays.shares))
    factor = np.tile(lays.factors, (len(shares), 1))
    paces = ("lime_conductivity", "stone_conductivity", "co2_diffusivity", "reaction_coefficient")
    members = max(np.shape(factor * getattr(stone, name))[1] for name in paces)

    def by_ring(values) -> np.ndarray:
        """Return values by size and member, or alike in all members, once for every ring."""
        return values if values.shape[1] == 1 else np.repeat(values, rings, axis=1)

    lying = stone.but(**{name: by_ring(factor * getattr(stone, name)) for name in paces})
    piece = Piece.of(
        lying, sizes[:, None], heat_transfer_coefficient=by_ring(factor * fact("heat_transfer_coefficient"))
    )
    return Charge(
        sizes=sizes,
        mass=mass * (1.0 - stone.stone_moisture) * (by_level[..., None] * lays.shares).reshape(levels, -1),
        piece=piece,
        members=members,
        rings=rings,
        porosity=float(porosity),
    )
