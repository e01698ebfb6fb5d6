"""Which wall to build: lining, fill and outer wall tried in every likely thickness, judged by the fuel they take."""

from __future__ import annotations

import functools
import math
from collections import Counter
from dataclasses import dataclass, replace
from itertools import product

from limekit import glossary
from limekit.edge import Ground, edge, give
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.fuel import lower_heating_value
from limekit.kiln.wall.fired import fire, refuse_no_fire
from limekit.kiln.wall.in_time import Wall
from limekit.kiln.wall.layers import Layer, brick_count, brick_leaf, grounds, material
from limekit.kiln.wall.steady import bulk, curvature, faces
from limekit.things import Thing
from limekit.units import MEGA, MM, Count, CubicMetre, Joule, JoulePerKilogram, Kelvin, Kilogram, Metre, Second

SEASONED_OAK = lower_heating_value.plain("oak", fact("fuel_moisture"))
LEAVES = (1, 2, 3)
COURSES = (2, 3, 4)
FILLS = (0, 1, 2, 3, 4)
SLACK = 1e-9
REMEMBERED = 256  # walls in a fire
BRICKS = ("firebrick", "common_brick")
FIGURES = ("wall_thickness", "heat_stored", "heat_lost", "wall_fuel", "fill_volume", "stone_volume")
CAUTIONS = ("collapse", "kiln_wall")


@dataclass(frozen=True)
class WallChoice:
    """One wall, what it takes to build, and the heat it takes in a firing.

    ``layers`` goes into `limekit.steady_wall` as it is. ``refused`` names each limit it breaks.
    """

    layers: tuple[tuple[str, float], ...]
    words: str
    wall_thickness: Metre
    heat_stored: Joule
    heat_lost: Joule
    wall_fuel: Kilogram
    fire_bricks: int
    common_bricks: int
    fill_volume: CubicMetre
    stone_volume: CubicMetre
    refused: tuple[str, ...] = ()


@dataclass(frozen=True)
class WallChoices:
    """Every wall tried, the one of least fuel within the limits first.

    `best` stands in units; `candidates` are SI floats, and `table` shows them in units.
    `cautions` are keys of the kit's cautions.
    """

    best: WallChoice
    candidates: tuple[WallChoice, ...]
    verdict: str
    cautions: tuple[str, ...] = CAUTIONS
    basis: tuple[Ground, ...] = ()

    def table(self):
        """Return the candidates as a ``pandas.DataFrame``, a row a wall, with units in the headings."""
        import pandas as pd

        return pd.DataFrame([_row(one) for one in self.candidates])


def _row(choice: WallChoice) -> dict:
    shown = give(choice, WallChoice, "best")
    figures = {glossary.entry(name).axis: round(getattr(shown, name).magnitude, 2) for name in FIGURES}
    counts = {"firebricks": choice.fire_bricks, "common bricks": choice.common_bricks}
    return {"wall, from the fire outward": choice.words, **figures, **counts, "breaks": "; ".join(choice.refused)}


def _thicknesses(name: str, role: str) -> tuple[float, ...]:
    form = material(name).form
    if role == "fill":
        return tuple(count * fact("fill_step") for count in FILLS)
    if form in BRICKS:
        return tuple(brick_leaf(form, leaves) for leaves in LEAVES)
    return tuple(count * fact("wall_stone_course") for count in COURSES)


def _walls(lining: str, fill: str | None, outer: str) -> list[tuple[Layer, ...]]:
    fills = _thicknesses(fill, "fill") if fill else (0.0,)
    names = (lining, fill, outer)
    return [
        tuple(Layer(material(name), float(thick)) for name, thick in zip(names, thicknesses, strict=True) if thick)
        for thicknesses in product(_thicknesses(lining, "lining"), fills, _thicknesses(outer, "outer"))
    ]


@dataclass(frozen=True)
class _Burn:
    kiln_diameter: float
    kiln_height: float
    firing_time: float
    heat_up_time: float | None
    gas_temperature: float
    air_temperature: float
    heating_value: float

    @functools.lru_cache(maxsize=REMEMBERED)  # noqa: B019, the few last walls only
    def judge(self, layers: tuple[Layer, ...]) -> WallChoice:
        """Return a wall as this fire finds it, refused where a layer gets too hot."""
        area, depths = math.pi * self.kiln_diameter * self.kiln_height, faces(layers)
        wall = Wall(layers, area, self.kiln_diameter, self.air_temperature)
        for _ in fire(wall, self.firing_time, self.heat_up_time, self.gas_temperature):
            pass
        volumes, bricks = Counter(), Counter()
        rings = area * bulk(curvature(self.kiln_diameter), depths[:-1], depths[1:])
        for layer, ring in zip(layers, rings.tolist(), strict=True):
            form = layer.material.form
            volumes[form] += ring
            if form in BRICKS:
                bricks[form] += brick_count(form, ring, layer.thickness)
        loose, laid = volumes["fill"] + volumes["insulation"], volumes["stone"] + volumes["mortar"]
        return WallChoice(
            layers=tuple((layer.material.name, layer.thickness) for layer in layers),
            words=" + ".join(map(str, layers)),
            wall_thickness=float(depths[-1]),
            heat_stored=float(wall.heat_stored[0]),
            heat_lost=float(wall.heat_lost[0]),
            wall_fuel=float(wall.heat_taken[0] / self.heating_value),
            fire_bricks=bricks["firebrick"],
            common_bricks=bricks["common_brick"],
            fill_volume=loose * (1.0 + fact("fill_waste")),
            stone_volume=laid * (1.0 + fact("rubble_waste")),
            refused=wall.over_limit(),
        )


def _within(budget: dict[str, float], choice: WallChoice) -> WallChoice:
    broken = tuple(name for name, most in budget.items() if _of(choice, name) > most * (1.0 + SLACK))
    return replace(choice, refused=broken + choice.refused)


def _of(choice: WallChoice, limit: str) -> float:
    return {
        "thickness_most": choice.wall_thickness,
        "bricks_most": choice.fire_bricks + choice.common_bricks,
        "fuel_most": choice.wall_fuel,
    }[limit]


def _written(limit: str, value: float) -> str:
    if limit == "bricks_most":
        return f"{limit}={math.ceil(value)}"
    return f'{limit}="{math.ceil(MM * value)} mm"' if limit == "thickness_most" else f'{limit}="{math.ceil(value)} kg"'


def _refuse(tried: list[WallChoice], budget: dict[str, float]) -> None:
    lifts = [
        _written(limit, min(_of(choice, limit) for choice in alone))
        for limit in budget
        if (alone := [choice for choice in tried if choice.refused == (limit,)])
    ]
    near = min(tried, key=lambda choice: (len(choice.refused), choice.wall_thickness))
    wanted = " or ".join(lifts) or f"more than one limit lifted, or other materials: {near.words} comes nearest"
    reasons = sorted({why for one in tried for why in one.refused if why in budget}) if lifts else near.refused
    got = f"{len(tried)} walls, none of which keeps within all limits ({'; '.join(reasons)})"
    raise InputError("wall within the limits", got, wanted, lifts[0] if lifts else 'fill="dry_sand"')


@dataclass(frozen=True, repr=False)
class WallLimits(Thing):
    """What there is room, brick and fuel for; the fuel for the wall alone."""

    thickness_most: Metre | None = None
    bricks_most: Count | None = None
    fuel_most: Kilogram | None = None


NO_LIMITS = WallLimits.plain()


@edge
def wall_buildup(
    kiln_diameter: Metre,
    kiln_height: Metre,
    firing_time: Second,
    gas_temperature: Kelvin,
    lining: str = "firebrick",
    fill: str | None = "wood_ash",
    outer: str = "rubble",
    *,
    limits: WallLimits = NO_LIMITS,
    heat_up_time: Second | None = None,
    air_temperature: Kelvin = fact("start_temperature"),
    heating_value: JoulePerKilogram | None = None,
) -> WallChoices:
    """Try every likely thickness of lining, fill and outer wall, and rank them by the fuel they take.

    Parameters
    ----------
    kiln_diameter, kiln_height, firing_time, gas_temperature, heat_up_time, air_temperature
        As for `fire_wall`.
    lining, outer : str
        Materials of ``data/wall_materials.csv``. Brick comes in one to three leaves, anything
        else in two to four courses of 150 mm.
    fill : str, optional
        Loose or insulating layer between them, none or up to 200 mm; None for no fill at all.
    limits : WallLimits
        What there is room, brick and fuel for, or that one by one: ``thickness_most="700 mm"``.
    heating_value : JoulePerKilogram, optional
        Lower heating value of the fuel as fired; without one, seasoned oak's.

    Returns
    -------
    WallChoices
        A wall that breaks a limit, or has a layer hotter than its material stands at the end of
        the firing, comes last and says so. Openings are not taken off, and floor and cover not
        counted. Thickness here is for heat alone: see the cautions.

    Raises
    ------
    InputError
        If no wall keeps within the limits: which limit was hit, and how far it must be lifted.
        Also if there is no firing: no time, or gas no hotter than the air.

    Notes
    -----
    wall_fuel = (heat_stored + heat_lost)/heating_value: the least it can be, for the flue takes its share
    too. Each wall is fired as in `fire_wall`, dry and from cold. A damp wall takes 2.4 MJ more for every
    kilogram of water in it.

    Examples
    --------
    >>> found = wall_buildup("1.2 m", "1.7 m", "24 h", "1000 degC", thickness_most="700 mm", bricks_most=500)
    >>> print(found.best.words)
    114 mm dense fireclay brick + 200 mm dry sifted wood ash + 300 mm limestone rubble laid in lime or earth
    """
    heating_value = SEASONED_OAK if heating_value is None else heating_value
    refuse_no_fire(firing_time, gas_temperature, air_temperature)
    burn = _Burn(kiln_diameter, kiln_height, firing_time, heat_up_time, gas_temperature, air_temperature, heating_value)
    budget = {name: getattr(limits, name) for name in WallLimits.defaults if getattr(limits, name) is not None}
    walls = _walls(lining, fill, outer)
    judged = (_within(budget, burn.judge(wall)) for wall in walls)
    tried = sorted(judged, key=lambda one: (bool(one.refused), round(one.wall_fuel, 1), one.wall_thickness))
    if tried[0].refused:
        _refuse(tried, budget)
    return WallChoices(tried[0], tuple(tried), _verdict(tried), basis=grounds(walls[-1]))


def _verdict(tried: list[WallChoice]) -> str:
    best, fit = tried[0], sum(not one.refused for one in tried)
    heat = best.heat_stored + best.heat_lost
    return (
        f"{fit} of {len(tried)} walls keep within the limits. The one of least fuel, {best.words}, takes "
        f"{heat / MEGA:.0f} MJ in a firing, at least {best.wall_fuel:.0f} kg of fuel; "
        f"{100 * best.heat_stored / heat:.0f} % of it stays in the wall and is lost as it cools."
    )
