"""How much heat a stone holds before its calcium carbonate burns: its own, the steam's, the magnesia's."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.chemistry import MAGNESIUM_CARBONATE
from limekit.facts import fact

COLD = 298.15  # K, from which heat contents count, as in the kit's heat balances
DRYING_BAND = 10.0  # K either side of boiling over which moisture leaves, so that heat has no jump

BOILING = fact("boiling_temperature")
BANDS = (
    (BOILING - DRYING_BAND, BOILING + DRYING_BAND),
    (float(fact("magnesium_stage_from")), float(fact("magnesium_stage_to"))),
)


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

    @property
    def plain(self) -> bool:
        """Whether the stone holds neither moisture nor magnesium carbonate, so that heat is a straight line."""
        return not np.any(self.drying) and not np.any(self.magnesia)

    def done(self, peak):
        """Return the shares of moisture gone and of magnesium carbonate burnt in stone once as hot as `peak` (K)."""
        return tuple(np.clip((peak - low) / (high - low), 0.0, 1.0) for low, high in BANDS)

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
        dried, burnt = self.done(np.maximum(temperature, peak))
        return sensible + self.drying * dried + self.magnesia * burnt

    def temperature(self, heat, peak=0.0):
        """Return the temperature (K) at a heat content (J/m³), the reverse of `heat`."""
        if self.plain:
            return COLD + heat / self.capacity
        level, held = COLD + np.minimum(heat, 0.0) / self.capacity, 0.0
        for low, high in ((COLD, BANDS[0][0]), BANDS[0], (BANDS[0][1], BANDS[1][0]), BANDS[1]):
            full = self.heat(high)
            level = level + np.clip((heat - held) / (full - held), 0.0, 1.0) * (high - low)
            held = full
        level = level + np.maximum(heat - held, 0.0) / self.capacity
        return np.where(level < peak, peak - (self.heat(peak) - heat) / self.capacity, level)
