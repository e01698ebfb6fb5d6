"""What a shaft kiln is, and what is let down it, read from what a person gives."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from limekit.chemistry import loss_on_ignition, refuse_unburnable
from limekit.errors import InputError, told
from limekit.facts import fact, rivals
from limekit.fire.fuel import FuelName
from limekit.kiln.column.charge import read_sizes
from limekit.kiln.column.stoking import Fuel
from limekit.kiln.shaft.counterflow import Feed
from limekit.kiln.sizing import KilnSize, usual_wall
from limekit.kiln.wall.steady import steady_wall
from limekit.stone.front import Piece

LUMPS = ("charcoal", "coke", "anthracite")


@dataclass(frozen=True)
class Shaft:
    """A shaft's inside, what stands in it, and its wall; SI floats."""

    diameter: float
    height: float
    density: float
    eye_area: float
    layers: tuple
    sizes: dict[float, float]

    @property
    def area(self) -> float:
        """Inside section, m²."""
        return math.pi / 4.0 * self.diameter**2


def read_shaft(kiln, diameter, height, stone_size, layers) -> Shaft:
    """Return a shaft from a kiln of `size_kiln`, from its measures, or from a kiln with some measures changed.

    Raises
    ------
    InputError
        If it is no shaft, or neither a kiln nor all of the measures are there.
    """
    size = getattr(kiln, "size", kiln)
    example = (
        'run_shaft(size_kiln(stone="30 tonne", largest_stone="80 mm", kind="shaft"), draw_rate="8 tonne/day", ...)'
    )
    if size is None:
        if None in (diameter, height, stone_size):
            wanted = "a kiln from size_kiln, or kiln_diameter, kiln_height and stone_size together"
            raise InputError("kiln", "none", wanted, example)
        area = math.pi / 4.0 * diameter**2
        eyes, density = fact("mouth_share") * area, fact("shaft_charge_density")
        layers = layers or usual_wall(diameter)
        return Shaft(diameter, height, density, eyes, layers, {stone_size: 1.0})
    if not isinstance(size, KilnSize) or size.kind != "shaft":
        got = f"a {size.kind} kiln, which is emptied after each burn" if isinstance(size, KilnSize) else told(kiln)
        raise InputError("kiln", got, "a shaft kiln from size_kiln", example)
    sizes = {stone_size: 1.0} if stone_size else read_sizes(None, size.smallest_stone, size.largest_stone)
    return Shaft(
        diameter=diameter or size.kiln_diameter,
        height=height or size.kiln_height,
        density=size.stone / size.kiln_volume,
        eye_area=size.eye_area,
        layers=layers or size.layers,
        sizes=sizes,
    )


def feed_for(
    shaft: Shaft,
    draw_rate,
    fuel_ratio,
    fuel: FuelName,
    fuel_moisture: float | None,
    excess_air: float,
    calcium_carbonate: float,
    magnesium_carbonate: float,
    moisture: float,
    reaction_coefficient: float,
    air_temperature: float,
) -> Feed:
    """Return what goes down the shaft; `draw_rate` and `fuel_ratio` of shape (cases, 1)."""
    refuse_unburnable(calcium_carbonate, magnesium_carbonate)
    dry = draw_rate / (1.0 - loss_on_ignition.plain(calcium_carbonate, magnesium_carbonate))
    kind = fuel if any(one.variant == fuel for one in rivals("fuel_burns_from")) else "wood"
    if fuel_moisture is None:
        fuel_moisture = float(fact("fuel_moisture", "lump") if fuel in LUMPS else fact("fuel_moisture"))
    hot = fact("charge_temperature")
    loss = steady_wall.plain(shaft.layers, hot, shaft.diameter, air_temperature).heat_flux / (hot - air_temperature)
    return Feed(
        piece=Piece(
            diameter=np.array(list(shaft.sizes)),
            reaction_coefficient=reaction_coefficient,
            carbonate_fraction=calcium_carbonate + magnesium_carbonate,
            magnesium_carbonate=magnesium_carbonate,
            moisture=moisture,
        ),
        shares=np.array(list(shaft.sizes.values())),
        fuel=Fuel.of(fuel, fuel_moisture, air_temperature),
        fuel_ratio=fuel_ratio / (1.0 - moisture),
        excess_air=excess_air,
        residence=shaft.density * (1.0 - moisture) * shaft.area * shaft.height / dry,
        stone_flux=dry / shaft.area,
        height=shaft.height,
        wall_loss=loss * math.pi * shaft.diameter * shaft.height / dry,
        air_temperature=air_temperature,
        burns_from=float(fact("fuel_burns_from", kind)),
        burn_out=float(fact("fuel_burn_out", kind)),
    )
