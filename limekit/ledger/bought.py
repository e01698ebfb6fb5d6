"""Lime from a merchant, counted by the quicklime in it."""

from __future__ import annotations

from typing import Literal

from limekit.balance import putty_solids
from limekit.chemistry import CALCIUM_OXIDE, WATER
from limekit.facts import fact

BoughtAs = Literal["quicklime", "hydrate", "putty"]


def oxide_in(bought_as: BoughtAs) -> float:
    """Return the kilograms of CaO in a kilogram of lime as sold: quicklime, bagged dry hydrate, or putty in a tub.

    It goes by the purity of quicklime as sold (IPCC 2006, from memory), the water bound in hydrate, and the solids of
    a putty of the kit's usual density.
    """
    purity = fact("bought_lime_oxide")
    lime_in_hydrate = purity / (1.0 + purity * WATER / CALCIUM_OXIDE)
    return {
        "quicklime": float(purity),
        "hydrate": lime_in_hydrate,
        "putty": lime_in_hydrate * putty_solids.plain(fact("putty_density")),
    }[bought_as]
