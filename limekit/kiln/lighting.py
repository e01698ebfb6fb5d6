"""Kiln, charge, wall and stoker put together, ready to be lit."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from limekit.edge import plain, take
from limekit.errors import InputError, told
from limekit.facts import fact
from limekit.fire.air import air_pressure
from limekit.fire.bed import sauter_diameter
from limekit.fire.draught import AirWay
from limekit.fire.fuel import FuelName
from limekit.kiln.column.burn import Burn
from limekit.kiln.column.charge import STRAIGHT, Arrangement, Lays, make_charge
from limekit.kiln.column.column import Column
from limekit.kiln.column.stoking import Fuel, Stoker
from limekit.kiln.sizing import KilnSize, size_kiln
from limekit.kiln.wall.in_time import Wall
from limekit.kiln.wall.layers import material
from limekit.units import Unit

COVER = "earth"
STOKING = 'stoking=[("0 h", "8 kg/h"), ("6 h", "14 kg/h")]'


def flare_size(kiln) -> KilnSize:
    """Return the size of a kiln given as such, as a whole design, or as a mapping of what `size_kiln` takes.

    Raises
    ------
    InputError
        If it is no kiln, or not one that is burnt and emptied in turn.
    """
    size = plain(size_kiln(**kiln)) if isinstance(kiln, Mapping) else getattr(kiln, "size", kiln)
    example = 'fire_kiln(size_kiln(stone="500 kg", largest_stone="80 mm"))'
    if not isinstance(size, KilnSize):
        raise InputError("kiln", told(kiln), "what size_kiln or design_kiln returns", example)
    if size.kind != "flare":
        raise InputError("kiln", f"a {size.kind} kiln, which burns without end", "a flare kiln", example)
    return size


def read_stoking(stoking) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return moments (s) and the fuel fed from each on (kg/s), from one rate, from pairs, or from None for neither.

    Raises
    ------
    InputError
        If a pair cannot be read, the times do not rise, or no fuel is ever fed.
    """
    if stoking is None:
        return (), ()
    if isinstance(stoking, str) or not isinstance(stoking, Iterable):
        stoking = [(0.0, stoking)]
    pairs = [tuple(pair) for pair in stoking]
    if not pairs or any(len(pair) != 2 for pair in pairs):
        raise InputError("stoking", repr(stoking), "a rate, or pairs of a time and the rate from then on", STOKING)
    times, rates = (
        tuple(one if type(one) is float else take(one, unit, name) for one in column)
        for column, unit, name in zip(
            zip(*pairs, strict=True), (Unit("s"), Unit("kg/s")), ("time", "stoking_rate"), strict=True
        )
    )
    if any(later <= earlier for earlier, later in pairwise(times)):
        raise InputError("stoking", "times that do not rise", "times in order", STOKING)
    if not any(rates):
        raise InputError("stoking", "no fuel at all", "some fuel at some time", STOKING)
    return times, rates


def cover_conductance(area: float) -> float:
    """Return how readily heat leaves the gas through the cover of earth and slabs, W/K, for its area in m²."""
    held = fact("cover_thickness") / material(COVER).conductivity + 1.0 / fact("outside_coefficient")
    return float(area / held)


@dataclass(frozen=True)
class FiringPlan:
    """A firing as it is meant to be, in SI floats; fields as the arguments of `limekit.fire_kiln`.

    `shares` are sizes in metre, each with its share of the stone; `stoking` times and rates.
    """

    size: KilnSize
    fuel: FuelName
    fuel_moisture: float
    shares: tuple[tuple[float, float], ...]
    arrangement: Arrangement
    calcium_carbonate: float
    magnesium_carbonate: float
    stone_moisture: float
    reaction_coefficient: float
    lime_conductivity: float
    excess_air: float | None
    fuel_unburnt: float
    stoking: tuple[tuple[float, ...], tuple[float, ...]]
    heat_up_time: float
    damper: float
    chimney_height: float
    layers: tuple
    air_temperature: float
    altitude: float
    levels: int
    conversion: float

    def light(self, reaction_coefficient, lime_conductivity, lays: Lays = STRAIGHT, pace: float = 1.0) -> Burn:
        """Return the kiln with its fire lit; its stone is told by the first three, as for `make_charge`."""
        size, altitude, air = self.size, self.altitude, self.air_temperature
        made_of = (self.stone_moisture, self.calcium_carbonate, self.magnesium_carbonate)
        by_level = (dict(self.shares), self.levels, self.arrangement)
        charge = make_charge(size.stone, *by_level, *made_of, reaction_coefficient, lime_conductivity, lays)
        way = AirWay(
            bed_height=size.bed_height,
            kiln_diameter=size.kiln_diameter,
            sauter_diameter=sauter_diameter.plain(dict(self.shares)),
            air_opening_area=size.air_opening_area,
            eye_area=size.eye_area,
            hearth_height=size.hearth_height,
            chimney_height=self.chimney_height,
            chimney_diameter=size.chimney_diameter,
            altitude=altitude,
        )
        ring = math.pi * size.kiln_diameter
        faces = np.full((self.levels + 1, charge.members), ring * size.bed_height / self.levels)
        faces[0] = ring * size.hearth_height + way.kiln_area
        wall = Wall(self.layers, faces.ravel(), size.kiln_diameter, air)
        column = Column(charge, wall, air, air, air_pressure.plain(altitude))
        stoker = Stoker(
            Fuel.of(self.fuel, self.fuel_moisture, air),
            self.excess_air,
            self.fuel_unburnt,
            *self.stoking,
            self.heat_up_time,
        )
        mouth = fact("mouth_open_share") * size.air_opening_area
        return Burn(column, way, stoker, self.damper, mouth, cover_conductance(way.kiln_area), pace)
