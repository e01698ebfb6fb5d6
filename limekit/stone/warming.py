"""How much heat a stone holds before its calcium carbonate burns: its own, the steam's, the magnesia's.

Written for numbers and for arrays of stones alike, and compiled where the kit burns stone by stone.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from limekit.chemistry import MAGNESIUM_CARBONATE
from limekit.compiled import anywhere, part
from limekit.facts import fact

COLD = float(fact("standard_temperature"))  # K, from which heat contents count, as in the kit's heat balances
DRYING_BAND = 10.0  # K either side of boiling over which moisture leaves, so that heat has no jump

BOILING = float(fact("boiling_temperature"))
DRYING = (BOILING - DRYING_BAND, BOILING + DRYING_BAND)
BURNING = (float(fact("magnesium_stage_from")), float(fact("magnesium_stage_to")))


class Warming(NamedTuple):
    """The heat content of unburnt stone against its temperature, a line with two steeper stretches.

    Parameters
    ----------
    capacity : float or ndarray
        Heat capacity of the dry stone; J/m³K.
    drying, magnesia : float or ndarray
        Heat taken by all the moisture leaving, and by all the magnesium carbonate burning; J/m³.
    cold : float
        K, where heat content is nought.
    drying_from, drying_to, burning_from, burning_to : float
        K, over which the moisture leaves and the magnesium carbonate burns.
    """

    capacity: float
    drying: float = 0.0
    magnesia: float = 0.0
    cold: float = COLD
    drying_from: float = DRYING[0]
    drying_to: float = DRYING[1]
    burning_from: float = BURNING[0]
    burning_to: float = BURNING[1]

    @classmethod
    def of(cls, piece) -> Warming:
        """Return the heat content of a `Piece`'s stone."""
        drying = piece.water * fact("drying_heat")
        magnesia = (
            piece.density * piece.magnesium_carbonate / MAGNESIUM_CARBONATE * fact("magnesium_dissociation_heat_at_25")
        )
        return cls(piece.density * piece.stone_heat_capacity, drying, magnesia)


@part
def straight(warming):
    """Whether stone holds neither moisture nor magnesium carbonate, so that its heat is a straight line."""
    return not (anywhere(warming.drying) or anywhere(warming.magnesia))


@part
def share_between(of, low, high):
    """Return how far something lies from low to high, 0 to 1."""
    return np.minimum(np.maximum((of - low) / (high - low), 0.0), 1.0)


@part
def done(warming, peak):
    """Return the shares of moisture gone and of magnesium carbonate burnt in stone once as hot as `peak` (K).

    What the stone has none of counts as still there.
    """
    dried = burnt = 0.0 * peak
    if anywhere(warming.drying):
        dried = share_between(peak, warming.drying_from, warming.drying_to)
    if anywhere(warming.magnesia):
        burnt = share_between(peak, warming.burning_from, warming.burning_to)
    return dried, burnt


@part
def heat_content(warming, temperature, peak):
    """Return the heat content above 25 °C (J/m³) at a temperature, of stone once as hot as `peak` (K).

    What left the stone does not come back.
    """
    sensible = warming.capacity * (temperature - warming.cold)
    if straight(warming):
        return sensible
    dried, burnt = done(warming, np.maximum(temperature, peak))
    return sensible + warming.drying * dried + warming.magnesia * burnt


@part
def climb(warming, heat, level, held, low, high):
    """Go up one straight stretch of the line, as far as the heat reaches; its upper end's heat besides."""
    full = heat_content(warming, high, 0.0)
    return level + share_between(heat, held, full) * (high - low), full


@part
def level_at(warming, heat, peak):
    """Return the temperature (K) at a heat content (J/m³), the reverse of `heat_content`."""
    if straight(warming):
        return warming.cold + heat / warming.capacity
    level, held, low = warming.cold + np.minimum(heat, 0.0) / warming.capacity, 0.0 * warming.capacity, warming.cold
    if anywhere(warming.drying):
        level, held = climb(warming, heat, level, held, low, warming.drying_from)
        level, held = climb(warming, heat, level, held, warming.drying_from, warming.drying_to)
        low = warming.drying_to
    if anywhere(warming.magnesia):
        level, held = climb(warming, heat, level, held, low, warming.burning_from)
        level, held = climb(warming, heat, level, held, warming.burning_from, warming.burning_to)
    level = level + np.maximum(heat - held, 0.0) / warming.capacity
    return np.minimum(level, peak - (heat_content(warming, peak, 0.0) - heat) / warming.capacity)
