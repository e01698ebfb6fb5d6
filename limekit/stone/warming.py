"""How much heat a stone holds before its calcium carbonate burns: its own, the steam's, the magnesia's."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from limekit.chemistry import MAGNESIUM_CARBONATE
from limekit.facts import fact

COLD = float(fact("standard_temperature"))  # K, from which heat contents count, as in the kit's heat balances
DRYING_BAND = 10.0  # K either side of boiling over which moisture leaves, so that heat has no jump

BOILING = float(fact("boiling_temperature"))
BANDS = (
    (BOILING - DRYING_BAND, BOILING + DRYING_BAND),
    (float(fact("magnesium_stage_from")), float(fact("magnesium_stage_to"))),
)


def _ends(of):
    """Return the lesser-of and greater-of functions for a number or an array; plain floats by the faster way."""
    return (min, max) if isinstance(of, float) else (np.minimum, np.maximum)


def _share(of, low, high):
    """Return how far something lies from low to high, 0 to 1."""
    least, most = _ends(of)
    return least(most((of - low) / (high - low), 0.0), 1.0)


@dataclass(frozen=True)
class Warming:
    """The heat content of unburnt stone against its temperature, a line with two steeper stretches.

    Parameters
    ----------
    capacity : float or ndarray
        Heat capacity of the dry stone; J/m³K.
    drying, magnesia : float or ndarray
        Heat taken by all the moisture leaving, and by all the magnesium carbonate burning; J/m³.
    """

    capacity: float
    drying: float = 0.0
    magnesia: float = 0.0

    @classmethod
    def of(cls, piece) -> Warming:
        """Return the heat content of a `Piece`'s stone."""
        return cls(
            capacity=piece.density * piece.stone_heat_capacity,
            drying=piece.water * fact("drying_heat"),
            magnesia=piece.density
            * piece.magnesium_carbonate
            / MAGNESIUM_CARBONATE
            * fact("magnesium_dissociation_heat_at_25"),
        )

    @cached_property
    def plain(self) -> bool:
        """Whether the stone holds neither moisture nor magnesium carbonate, so that heat is a straight line."""
        return not any(self._has)

    @cached_property
    def _has(self) -> tuple[bool, bool]:
        return bool(np.any(self.drying)), bool(np.any(self.magnesia))

    def done(self, peak):
        """Return the shares of moisture gone and of magnesium carbonate burnt in stone once as hot as `peak` (K).

        What the stone has none of counts as still there.
        """
        return tuple(_share(peak, *band) if has else 0.0 for has, band in zip(self._has, BANDS, strict=True))

    def heat(self, temperature, peak=0.0):
        """Return the heat content above 25 °C; J/m³.

        Parameters
        ----------
        temperature, peak : float or ndarray
            What the stone has, and the highest it has had; K. What left the stone does not come back.
        """
        sensible = self.capacity * (temperature - COLD)
        if self.plain:
            return sensible
        _, most = _ends(temperature)
        dried, burnt = self.done(most(temperature, peak))
        return sensible + self.drying * dried + self.magnesia * burnt

    def temperature(self, heat, peak=0.0):
        """Return the temperature (K) at a heat content (J/m³), the reverse of `heat`."""
        if self.plain:
            return COLD + heat / self.capacity
        least, most = _ends(heat)
        level, held = COLD + least(heat, 0.0) / self.capacity, 0.0
        for low, high, full in self._stretches:
            level = level + _share(heat, held, full) * (high - low)
            held = full
        level = level + most(heat - held, 0.0) / self.capacity
        return least(level, peak - (self.heat(peak) - heat) / self.capacity)

    @cached_property
    def _stretches(self):
        """Both ends of each straight stretch of the line from 25 °C up, and the heat content at the upper."""
        ends = (COLD, *(end for has, band in zip(self._has, BANDS, strict=True) if has for end in band))
        return tuple((low, high, self.heat(high)) for low, high in pairwise(ends))
