"""Kiln, charge, wall and stoker put together, ready to be lit."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from limekit.edge import take
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.air import air_pressure
from limekit.fire.bed import sauter_diameter
from limekit.fire.fuel import Fuel
from limekit.kiln.column.burn import Burn, Lid
from limekit.kiln.column.charge import STRAIGHT, Arrangement, Lays, make_charge
from limekit.kiln.column.column import Column
from limekit.kiln.column.rings import Rings
from limekit.kiln.column.stoking import BurntFuel, Stoker
from limekit.kiln.cover import cover_conductance
from limekit.kiln.keeping import Fire, usual_slow_start, usual_stoking_rate
from limekit.kiln.kiln import Kiln
from limekit.kiln.sizing import size_kiln
from limekit.kiln.wall.in_time import Wall
from limekit.kiln.wall.layers import damp, read_layers
from limekit.limestone import Stone
from limekit.units import Unit

BESIDE = (  # of a kiln, that no rule of size works out
    "altitude",
    "chimney_height",
    "layers",
    "wall_kind",
    "wall_moisture",
    "cover",
    "laid",
    "flues",
    "flue_width",
)
STOKING = 'stoking=[("0 h", "8 kg/h"), ("6 h", "14 kg/h")]'


def flare_kiln(kiln: Kiln) -> Kiln:
    """Return a flare kiln with all its measures, worked out where only its stone and largest stone are told.

    Raises `InputError` if too little is told of it, or it is not one that is burnt and emptied in turn.
    """
    example = 'fire_kiln(size_kiln(stone="500 kg", largest_stone="80 mm"))'
    if kiln.kind == "shaft":
        raise InputError("kiln", "a shaft kiln, which burns without end", "a flare kiln", example)
    if kiln.bed_height is not None:
        return kiln
    if kiln.stone is None or kiln.largest_stone is None:
        raise InputError("kiln", f"{kiln}, without its measures", "what size_kiln or design_kiln returns", example)
    told = {"smallest_stone": kiln.smallest_stone, "height_to_diameter": kiln.height_to_diameter}
    sized = size_kiln.plain(kiln.stone, kiln.largest_stone, **told)
    return sized.but(**{name: getattr(kiln, name) for name in BESIDE})


def read_stoking(stoking) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return moments (s) and the fuel fed from each on (kg/s), from one rate, from pairs, or from None for neither.

    Raises `InputError` if a pair cannot be read, the times do not rise, or no fuel is ever fed.
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


@dataclass(frozen=True)
class FiringPlan:
    """A firing as it is meant to be, in SI floats; fields as the arguments of `limekit.fire_kiln`.

    `rings` are those a kiln is cut into, `shares` are sizes in metre, each with its share of the
    stone; of the fire, `stoking` is times and rates, and `excess_air` what is held, None where the
    door stands open.
    """

    kiln: Kiln
    fuel: Fuel
    stone: Stone
    fire: Fire
    shares: tuple[tuple[float, float], ...]
    arrangement: Arrangement
    air_temperature: float
    wind_pressure: float
    levels: int
    rings: int

    @property
    def stoking_rate(self) -> float:
        """Fuel that is fed at most, where no rates are set; kg/s."""
        told = self.fire.stoking_rate
        return float(usual_stoking_rate(self.kiln.stone) if told is None else told)

    @property
    def slow_start(self) -> float:
        """In which the fire is let grow; s."""
        told, times = self.fire.heat_up_time, self.fire.stoking[0]
        return float(told if told is not None else 0.0 if times else usual_slow_start(self.kiln.stone))

    def light(self, stone: Stone | None = None, lays: Lays = STRAIGHT, pace: float = 1.0) -> Burn:
        """Return the kiln with its fire lit, over the plan's stone or another, as for `make_charge`."""
        kiln, fire, air = self.kiln, self.fire, self.air_temperature
        stones = sauter_diameter.plain(dict(self.shares))
        way = kiln.air_way(stones, wind_pressure=self.wind_pressure)
        by_level = (dict(self.shares), self.levels, self.arrangement)
        charge = make_charge(kiln.stone, *by_level, stone or self.stone, lays, way.bed_porosity, self.rings)
        rings = Rings.of(self.rings, kiln.kiln_diameter, way.bed_height, stones, self.levels, fire.flame_share)
        around = math.pi * kiln.kiln_diameter
        faces = np.zeros((self.levels + 1, charge.members, charge.rings))
        faces[0] = (around * kiln.hearth_height + way.kiln_area) / charge.rings
        faces[1:, :, -1] = around * kiln.bed_height / self.levels
        wall = Wall(damp(read_layers(kiln.wall), kiln.wall_moisture), faces.ravel(), kiln.kiln_diameter, air)
        column = Column(charge, wall, air, air, air_pressure.plain(kiln.altitude))
        burnt = BurntFuel.of(self.fuel.kind, self.fuel.moisture, air)
        fed = *fire.stoking, self.stoking_rate, self.slow_start
        stoker = Stoker(burnt, fire.excess_air, fire.fuel_unburnt, *fed, surplus=fire.fuel_surplus)
        mouth = fact("mouth_open_share") * kiln.air_opening_area
        cover, lid = cover_conductance(way.kiln_area, kiln.cover), None
        if kiln.cover == "closed in time":
            under = kiln.but(cover="slabs").air_way(stones, wind_pressure=self.wind_pressure)
            lid = Lid(float(fact("lid_laid_at")), under, cover_conductance(way.kiln_area, "slabs"))
        return Burn(column, way, stoker, rings, mouth, cover, fire.damper, pace, lid)
