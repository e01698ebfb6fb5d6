"""What a shaft kiln is, and what is let down it, read from what a person gives."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from limekit.chemistry import loss_on_ignition
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.fuel import Fuel, fuels
from limekit.kiln.column.charge import read_sizes
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.kiln import Kiln
from limekit.kiln.shaft.counterflow import Feed
from limekit.kiln.wall.steady import steady_wall
from limekit.limestone import Stone
from limekit.stone.front import Piece


@dataclass(frozen=True)
class Shaft:
    """A shaft's inside, what stands in it, and its wall; SI floats."""

    diameter: float
    height: float
    density: float
    eye_area: float
    layers: tuple
    sizes: dict[float, float]
    altitude: float

    @property
    def area(self) -> float:
        """Inside section, m²."""
        return math.pi / 4.0 * self.diameter**2


def read_shaft(kiln: Kiln | None, stone_size: float | None) -> Shaft:
    """Return a shaft from a kiln of `size_kiln`, or from one of which no more than its inside is told.

    Raises `InputError` if it is no shaft, or neither a kiln nor all of the measures are there.
    """
    kiln = kiln or Kiln.plain()
    sizes = {stone_size: 1.0} if stone_size else None
    example = (
        'run_shaft(size_kiln(stone="30 tonne", largest_stone="80 mm", kind="shaft"), draw_rate="8 tonne/day", ...)'
    )
    if kiln.kind == "flare":
        got = "a flare kiln, which is emptied after each burn"
        raise InputError("kiln", got, "a shaft kiln from size_kiln", example)
    bare = kiln.kind is None
    if bare and None in (kiln.kiln_diameter, kiln.kiln_height, stone_size):
        wanted = "a kiln from size_kiln, or kiln_diameter, kiln_height and stone_size together"
        raise InputError("kiln", "none", wanted, example)
    return Shaft(
        diameter=kiln.kiln_diameter,
        height=kiln.kiln_height,
        density=fact("shaft_charge_density") if bare else kiln.stone / kiln.kiln_volume,
        eye_area=fact("mouth_share") * math.pi / 4.0 * kiln.kiln_diameter**2 if bare else kiln.eye_area,
        layers=kiln.wall,
        sizes=sizes or read_sizes(None, kiln.smallest_stone, kiln.largest_stone),
        altitude=kiln.altitude,
    )


def feed_for(
    shaft: Shaft,
    draw_rate,
    fuel_ratio,
    fuel: Fuel,
    stone: Stone,
    excess_air: float | None,
    air_temperature: float,
) -> Feed:
    """Return what goes down the shaft; `draw_rate` and `fuel_ratio` of shape (cases, 1)."""
    moisture = stone.stone_moisture
    dry = draw_rate / (1.0 - loss_on_ignition.plain(stone.calcium_carbonate, stone.magnesium_carbonate))
    kind = fuels()[fuel.kind].counts_as
    hot = fact("charge_temperature")
    loss = steady_wall.plain(shaft.layers, hot, shaft.diameter, air_temperature).heat_flux / (hot - air_temperature)
    return Feed(
        piece=Piece.of(stone, np.array(list(shaft.sizes))),
        shares=np.array(list(shaft.sizes.values())),
        fuel=BurntFuel.of(fuel.kind, fuel.moisture, air_temperature),
        fuel_ratio=fuel_ratio / (1.0 - moisture),
        excess_air=fact("excess_air", "mixed_feed") if excess_air is None else excess_air,
        residence=shaft.density * (1.0 - moisture) * shaft.area * shaft.height / dry,
        stone_flux=dry / shaft.area,
        height=shaft.height,
        wall_loss=loss * math.pi * shaft.diameter * shaft.height / dry,
        air_temperature=air_temperature,
        burns_from=float(fact("fuel_burns_from", kind)),
        burn_out=float(fact("fuel_burn_out", kind)),
    )
