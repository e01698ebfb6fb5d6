"""Where the heat of a firing went, part by part, summing to the heat in the fuel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields

import numpy as np

from limekit.chemistry import MAGNESIUM_CARBONATE
from limekit.facts import fact
from limekit.kiln.column.burn import Burn
from limekit.units import Joule


@dataclass(frozen=True)
class HeatBudget(Mapping):
    """Where the lower heating value of the fuel went; read as fields, or as a mapping of the parts.

    Heats of reaction and of drying stand at 25 °C. `solid_heat` is what stone and lime hold when
    the fire goes out, `flue_heat` what the gas took with it beyond what the air had brought.
    """

    dissociation_heat: Joule
    solid_heat: Joule
    drying_heat: Joule
    wall_stored: Joule
    wall_lost: Joule
    mouth_loss: Joule
    cover_loss: Joule
    flue_heat: Joule
    unburnt_heat: Joule

    def __getitem__(self, part: str):
        if part not in set(self):
            raise KeyError(part)
        return getattr(self, part)

    def __iter__(self) -> Iterator[str]:
        return (field.name for field in fields(self))

    def __len__(self) -> int:
        return len(fields(self))

    @property
    def fuel_heat(self):
        """The parts together: the heat in the fuel."""
        return sum(self.values())


def heat_budget(burn: Burn, member: int = 0) -> HeatBudget:
    """Return where the heat of a firing has gone up to now, for one member; floats in joule."""
    column, charge = burn.column, burn.column.charge
    moments = burn.moments
    seconds = np.diff(moments.time, prepend=0.0)

    def together(watts) -> float:
        return float(seconds @ watts)

    piece, mass = charge.piece, charge.mass.sum()
    calcium, magnesium = (float(share[member]) * mass for share in column.burnt)
    dissociation = float(
        calcium * piece.carbonate / piece.density * fact("dissociation_heat_at_25")
        + magnesium * piece.magnesium_carbonate / MAGNESIUM_CARBONATE * fact("magnesium_dissociation_heat_at_25")
    )
    drying = float(charge.mean(column.stones.gone[0])[member] * mass * fact("water_vaporisation_heat"))
    air = burn.stoker.fuel.air_heat
    stored, lost = (
        float(charge.by_ring(part.reshape(column.gas_temperature.shape))[:, member].sum())
        for part in (column.wall.heat_stored, column.wall.heat_lost)
    )
    return HeatBudget(
        dissociation_heat=dissociation,
        solid_heat=together(moments.stones[:, member]) - dissociation - drying,
        drying_heat=drying,
        wall_stored=stored,
        wall_lost=lost,
        mouth_loss=together(moments.leaks[:, 0, member]),
        cover_loss=together(moments.leaks[:, -1, member]),
        flue_heat=together(moments.flue[:, member] - air * moments.air[:, member]),
        unburnt_heat=together(moments.unburnt[:, member]),
    )
