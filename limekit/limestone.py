"""The stone itself: what it is made of, and what a trial burn finds of it."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from limekit import tables
from limekit.facts import fact, known_by, refuse_unsourced
from limekit.things import Thing
from limekit.units import (
    JoulePerKilogramKelvin,
    Kilogram,
    KilogramPerCubicMetre,
    MetrePerSecond,
    Share,
    SquareMetrePerSecond,
    WattPerMetreKelvin,
)

MADE_OF = ("calcium_carbonate", "magnesium_carbonate", "stone_moisture")  # fields that tell a stone's make-up


@dataclass(frozen=True, repr=False)
class Stone(Thing):
    """A limestone: its make-up, and what a trial burn finds of it.

    Parameters
    ----------
    mass : Kilogram, optional
        As weighed, with its moisture, where a charge is meant.
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone, each carbonate alone.
    clay : Share, optional
        Of the dry stone, where an analysis tells it from quartz; see `limekit.judge_stone`.
    stone_moisture : Share
        Water as a share of the wet mass. It leaves first, and takes its heat of drying.
    density : KilogramPerCubicMetre
        Of one dry piece.
    reaction_coefficient : MetrePerSecond
        How readily it burns at the front.
    lime_conductivity, co2_diffusivity
        Of the burnt shell, for heat and for carbon dioxide.
    stone_conductivity, stone_heat_capacity, lime_heat_capacity
        Of the unburnt core, and of core and shell by their own mass; means over the burn.

    Examples
    --------
    >>> Stone("500 kg", calcium_carbonate="92 %")
    Stone(mass="500 kg", calcium_carbonate=0.92)
    """

    word = "mass"

    mass: Kilogram | None = None
    calcium_carbonate: Share = fact("calcium_carbonate")
    magnesium_carbonate: Share = 0.0
    clay: Share | None = None
    stone_moisture: Share = fact("stone_moisture")
    density: KilogramPerCubicMetre = fact("stone_density")
    reaction_coefficient: MetrePerSecond = fact("reaction_coefficient")
    lime_conductivity: WattPerMetreKelvin = fact("lime_conductivity")
    co2_diffusivity: SquareMetrePerSecond = fact("co2_diffusivity")
    stone_conductivity: WattPerMetreKelvin = fact("stone_conductivity")
    stone_heat_capacity: JoulePerKilogramKelvin = fact("stone_heat_capacity")
    lime_heat_capacity: JoulePerKilogramKelvin = fact("lime_heat_capacity")

    @property
    def made_of(self) -> dict[str, float]:
        """The fields that tell its make-up, by name."""
        return {name: getattr(self, name) for name in MADE_OF}


USUAL_STONE = Stone.plain()


@dataclass(frozen=True)
class StoneKind:
    """A kind of stone to burn: what it is likely to be made of, and what to expect of it; a row of ``stone_kinds.csv``.

    Its `figures` are make-up, density, and the share of the charge that crumbles: for want of its owner's own.
    """

    name: str
    figures: dict[str, float]
    in_the_fire: str
    slaking: str
    basis: str

    def says(self, what: str) -> str:
        """Return what to expect of it, such as ``in_the_fire``, with its basis."""
        return f"{self.name.capitalize()}: {getattr(self, what)} [{self.basis}]"


@functools.cache
def stone_kinds() -> dict[str, StoneKind]:
    """Return the kinds of stone that are burnt to lime, by name."""
    found = {}
    for number, row in enumerate(tables.rows("stone_kinds"), start=2):
        refuse_unsourced(row, f"stone_kinds.csv, row {number}")
        figures = {name: float(row[name]) for name in (*MADE_OF, "density", "charge_fines")}
        basis = known_by(row["source"], row["tag"])
        found[row["kind"]] = StoneKind(row["kind"], figures, row["in_the_fire"], row["slaking"], basis)
    return found
