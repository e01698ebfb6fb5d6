"""Walls: where heat goes through a wall, what each layer buys, and which wall to build."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from limekit.course.checks import Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.estimate import Span, ranged, shown
from limekit.facts import fact
from limekit.frames import frame
from limekit.kiln.wall.buildup import WallChoices, wall_buildup
from limekit.kiln.wall.fired import FiredWall, fire_wall
from limekit.kiln.wall.layers import Layer, brick_count, brick_leaf, material, read_layers
from limekit.kiln.wall.steady import steady_wall
from limekit.pictures import wall as pictures
from limekit.plan.plan import Plan
from limekit.units import HOUR, MEGA, MM, ZERO_CELSIUS

MOST_HOURS = 72  # that are shown, and more where a plan fires longer
WATCHED = MOST_HOURS * HOUR
NEARLY = 1.05

LININGS = {
    "one leaf of firebrick": (("firebrick", brick_leaf("firebrick", 1)),),
    "two leaves of firebrick": (("firebrick", brick_leaf("firebrick", 2)),),
    "one leaf of insulating brick": (("insulating_firebrick", brick_leaf("firebrick", 1)),),
    "none: the wall faces the fire": (),
}
FILLS = {
    "none": (),
    "100 mm of dry sand": (("dry_sand", 0.100),),
    "100 mm of wood ash": (("wood_ash", 0.100),),
    "200 mm of wood ash": (("wood_ash", 0.200),),
    "100 mm of mineral wool": (("mineral_wool", 0.100),),
}
OUTERS = {
    "300 mm of limestone rubble": (("rubble", 0.300),),
    "600 mm of limestone rubble": (("rubble", 0.600),),
    "two leaves of common brick": (("common_brick", brick_leaf("common_brick", 2)),),
    "500 mm of rammed earth": (("earth", 0.500),),
}


@dataclass(frozen=True)
class Watched:
    """A wall fired and watched while it cools, in plain SI floats."""

    layers: tuple[Layer, ...]
    fired: FiredWall
    settled: np.ndarray
    firing_time: float
    heating_value: float


@dataclass(frozen=True)
class Asked:
    """What a plan asks of its wall: round what room, for how long, in what gas and air; plain SI floats."""

    inside: tuple[float, float]
    firing_time: float
    gas_temperature: float
    air_temperature: float
    heating_value: float

    @classmethod
    def of(cls, plan: Plan) -> Asked:
        """Read it from a plan."""
        known = plan.plain
        return cls(
            (known.kiln.kiln_diameter, known.kiln.kiln_height),
            known.firing.firing_time,
            known.design.gas_temperature,
            known.decided.get("air_temperature"),
            known.design.demand.lower_heating_value,
        )


def wall_explorer(plan: Plan) -> Explorer:
    """Build a wall round a plan's kiln, fire it, and run it in time; see the heat soak in and where it goes."""
    asked = Asked.of(plan)
    inside, air, hours = asked.inside, {"air_temperature": asked.air_temperature}, asked.firing_time / HOUR
    at = {"start": f"{hours} h", "high": f"{max(MOST_HOURS, math.ceil(hours))} h", "step": 1}

    def watch(lining: tuple, fill: tuple, outer: tuple, firing_time: float, gas_temperature: float) -> Watched:
        layers = read_layers([*lining, *fill, *outer])
        fired = fire_wall.plain(
            layers, *inside, firing_time, gas_temperature, cooling_time=max(WATCHED - firing_time, HOUR), **air
        )
        settled = steady_wall.plain(layers, gas_temperature, inside[0], **air).interface_temperatures
        return Watched(layers, fired, settled, firing_time, asked.heating_value)

    return Explorer(
        [
            Choice("lining", LININGS, label="lining, to the fire"),
            Choice("fill", FILLS, start=FILLS["100 mm of dry sand"], label="fill behind it"),
            Choice("outer", OUTERS, start=OUTERS["two leaves of common brick"], label="outer wall"),
            Slider("firing_time", low="6 h", **at),
            Slider("gas_temperature", start=f"{asked.gas_temperature - ZERO_CELSIUS} degC"),
            Slider("time", low="0 h", **at, plays=True, looks=True, label="time shown"),
        ],
        model=watch,
        picture=lambda one, time: pictures.at_time(one.layers, one.fired.history, one.settled, one.firing_time, time),
        words=_wall_words,
        table=_wall_table,
        presets={
            "brick and rubble": _wall("one leaf of firebrick", "none", "300 mm of limestone rubble"),
            "a second leaf of brick": _wall("two leaves of firebrick", "none", "300 mm of limestone rubble"),
            "ash in place of the second leaf": _wall(
                "one leaf of firebrick", "100 mm of wood ash", "300 mm of limestone rubble"
            ),
            "insulating brick to the fire": _wall("one leaf of insulating brick", "none", "300 mm of limestone rubble"),
            "rubble alone": _wall("none: the wall faces the fire", "none", "600 mm of limestone rubble"),
            "wool behind one leaf": _wall(
                "one leaf of firebrick", "100 mm of mineral wool", "300 mm of limestone rubble"
            ),
        },
    )


def _wall(lining: str, fill: str, outer: str) -> dict:
    return {"lining": LININGS[lining], "fill": FILLS[fill], "outer": OUTERS[outer]}


def _wall_words(one: Watched, time: float) -> str:
    then = one.fired.history
    taken, stored, outside = (
        float(np.interp(time, then.times, column)) for column in (then.taken, then.stored, then.temperatures[:, -1])
    )
    held = 100.0 * stored / taken if taken > 0.0 else 100.0
    limits = f"in this firing {one.fired.over_limit[0]}" if one.fired.over_limit else "no layer ever passes its limit"
    return (
        f"After {time / HOUR:.0f} h the wall has taken {taken / MEGA:.0f} MJ, the heat of "
        f"{shown(taken / one.heating_value, 2)} kg of your fuel; {held:.0f} % of it is still in the wall, the outside "
        f"stands at {outside - ZERO_CELSIUS:.0f} °C, and {limits}."
    )


def _wall_table(one: Watched):
    rows = [
        (
            str(layer),
            f"{hottest - ZERO_CELSIUS:.0f}",
            f"{layer.material.limit - ZERO_CELSIUS:.0f}",
            str(Span(layer.material.conductivity, layer.material.conductivity_low, layer.material.conductivity_high)),
        )
        for hottest, layer in zip(one.fired.history.hottest, one.layers, strict=True)
    ]
    return frame(rows, columns=["layer", "gets to [°C]", "stands [°C]", "conducts [W/m/K]"])


BRICK_LEAF, RUBBLE = ("firebrick", brick_leaf("firebrick", 1)), ("rubble", 0.300)
ASH_WALL = "ash in place of the second leaf"
FOUR_WALLS = {
    "one leaf of brick, then rubble": (BRICK_LEAF, RUBBLE),
    "a second leaf of brick": (("firebrick", brick_leaf("firebrick", 2)), RUBBLE),
    ASH_WALL: (BRICK_LEAF, ("wood_ash", 0.100), RUBBLE),
    "insulating brick to the fire": (("insulating_firebrick", brick_leaf("firebrick", 1)), RUBBLE),
}


def _fired(asked: Asked, layers: tuple) -> FiredWall:
    told = (asked.firing_time, asked.gas_temperature)
    return fire_wall.plain(read_layers(layers), *asked.inside, *told, air_temperature=asked.air_temperature)


def each_layer(plan: Plan) -> str:
    """Say what several walls round a plan's kiln take of its firing."""
    asked = Asked.of(plan)
    fired = {name: _fired(asked, layers).heat_taken for name, layers in FOUR_WALLS.items()}
    return "\n".join(
        f"- {name}: {ranged(taken, MEGA, named=' MJ')}, about **{taken.middle / asked.heating_value:.0f} kg** of wood"
        for name, taken in fired.items()
    )


def settled_or_not(plan: Plan) -> str:
    """Say what the sum for a settled wall makes of the ash wall round a plan's kiln, beside the firing."""
    asked, layers = Asked.of(plan), FOUR_WALLS[ASH_WALL]
    across, tall = asked.inside
    settled = steady_wall.plain(
        read_layers(layers), asked.gas_temperature, across, air_temperature=asked.air_temperature
    )
    through, fired = settled.heat_flux * math.pi * across * tall * asked.firing_time, _fired(asked, layers)
    hours, lost = shown(asked.firing_time / HOUR, 2), shown(fired.heat_lost / MEGA, 2)
    return (
        f"The settled sum gives the ash wall {shown(through / MEGA)} MJ for those {hours} hours. "
        f"Fired from cold it takes {ranged(fired.heat_taken, MEGA, named=' MJ')}, and of that only {lost} "
        "MJ has reached the air when the kiln is closed. A kiln that is fired again while still warm starts with "
        "its tank partly full, which is why the old burners went straight on."
    )


@dataclass(frozen=True)
class Compared:
    """Walls tried, and the room there is for them; plain SI floats."""

    choices: WallChoices
    thickness_most: float


def choice_explorer(plan: Plan) -> Explorer:
    """Choose materials and a budget; see every likely wall of a plan's kiln by thickness and fuel, and the best."""
    asked = Asked.of(plan)

    def compare(lining: str, fill: str | None, outer: str, **limits) -> Compared:
        choices = wall_buildup.plain(
            *asked.inside,
            asked.firing_time,
            asked.gas_temperature,
            lining,
            fill,
            outer,
            heating_value=asked.heating_value,
            air_temperature=asked.air_temperature,
            **limits,
        )
        return Compared(choices, limits["thickness_most"])

    return Explorer(
        [
            Choice("lining", _named("firebrick", "insulating_firebrick", "common_brick", "earth"), label="lining"),
            Choice("fill", _named("wood_ash", "dry_sand", "perlite", "mineral_wool", "earth"), label="fill"),
            Choice("outer", _named("rubble", "common_brick", "earth", "sandstone"), label="outer wall"),
            Slider("thickness_most", start="700 mm"),
            Slider("bricks_most", start=600, low=200, high=1200),
        ],
        model=compare,
        picture=lambda one: pictures.compared(one.choices.candidates, one.thickness_most),
        words=_choice_words,
        table=lambda one: one.choices.table(),
        presets={
            "few bricks": {"bricks_most": 250},
            "little room": {"thickness_most": "450 mm"},
            "a rich builder": {"lining": "insulating_firebrick", "fill": "perlite", "thickness_most": "1000 mm"},
            "earth all through": {"lining": "earth", "outer": "earth", "thickness_most": "1200 mm"},
        },
        keeps=lambda one: {"kiln": {"wall": one.choices.best.words}},
    )


def _named(*names: str) -> dict[str, str]:
    return {material(name).label: name for name in names}


def _choice_words(one: Compared) -> str:
    best, tried = one.choices.best, one.choices.candidates
    fit = [choice for choice in tried if not choice.refused]
    worst = max(choice.wall_fuel for choice in fit)
    slim = min((one for one in fit if one.wall_fuel <= NEARLY * best.wall_fuel), key=lambda one: one.wall_thickness)
    also = f"; one of {MM * slim.wall_thickness:.0f} mm takes {shown(slim.wall_fuel, 2)} kg" if slim != best else ""
    needs = [
        words
        for words, amount in (
            (f"{best.fire_bricks} firebricks", best.fire_bricks),
            (f"{best.common_bricks} common bricks", best.common_bricks),
            (f"{best.fill_volume:.1f} m³ of fill", best.fill_volume),
            (f"{best.stone_volume:.1f} m³ of stone", best.stone_volume),
        )
        if amount
    ]
    return (
        f"Within the limits stand {len(fit)} of {len(tried)} walls; the thriftiest, {best.words}, is "
        f"{MM * best.wall_thickness:.0f} mm thick, takes {shown(best.wall_fuel, 2)} kg of fuel a firing (the greediest "
        f"of them {shown(worst, 2)}) and is built of {', '.join(needs)}{also}."
    )


BRICK, START, END = material("firebrick"), 15.0, 600.0
LEAF = brick_leaf("firebrick", 1)


def _swallowed(warmer: float, thickness: float = LEAF) -> float:
    return BRICK.density * BRICK.heat_capacity * thickness * warmer / MEGA


heat_in_brick = Exercise(
    question=(
        f"Firebrick weighs {BRICK.density:.0f} kg a cubic metre, and a kilo of it takes {BRICK.heat_capacity:.0f} J to "
        f"warm by a degree. A lining of it {MM * LEAF:.0f} mm thick was at {START:.0f} °C when you lit, and is at "
        f"{END:.0f} °C on the mean when the fire goes out. How much heat has each square metre swallowed?"
    ),
    answer=lambda: f"{_swallowed(END - START)} MJ",
    unit="MJ",
    tolerance=0.01,
    shown=".0f",
    slips=(
        Slip("the brick was not at zero when you lit: count from where it started", lambda _: _swallowed(END)),
        Slip("that counts from the true zero; only the warming counts", lambda _: _swallowed(END + ZERO_CELSIUS)),
        Slip(
            "a rise in kelvin is the same as in °C: add nothing to it", lambda _: _swallowed(END - START + ZERO_CELSIUS)
        ),
        Slip("that is a cubic metre of brick, not a square metre of lining", lambda _: _swallowed(END - START, 1.0)),
        Slip("that is two leaves", lambda right: 2 * right),
        Slip("that is what a kilo of it takes up", lambda _: BRICK.heat_capacity * (END - START) / MEGA),
    ),
    hint="Kilos in a square metre, times the joules for a degree, times the degrees; a million joules are a megajoule.",
)

FLUX, AREA, HOURS = 900.0, 4.0, 18.0

heat_through = Exercise(
    question=(
        f"A wall that has settled lets {FLUX:.0f} W through each square metre. How many MJ go through {AREA:.0f} m² of "
        f"it in {HOURS:.0f} hours?"
    ),
    answer=lambda: f"{FLUX * AREA * HOURS * HOUR / MEGA} MJ",
    unit="MJ",
    tolerance=0.01,
    slips=(
        Slip("you multiplied watts by hours: a watt is a joule a second", lambda right: right / HOUR),
        Slip("a kilowatt-hour is not a megajoule: each is worth 3.6 of them", lambda right: right / 3.6),
        Slip("that is one square metre of it", lambda right: right / AREA),
        Slip("that is one hour of it", lambda right: right / HOURS),
    ),
    hint="Watts times square metres times seconds are joules; a million of those are a megajoule.",
)

ACROSS, TALL = 1.0, 1.5


def _bricks_for(around: float) -> int:
    return brick_count("firebrick", math.pi * around * TALL * LEAF, LEAF)


bricks_for_a_lining = Exercise(
    question=(
        f"How many firebricks do you buy for a lining one leaf thick, inside a kiln {ACROSS:.0f} m across and "
        f"{TALL} m high, with the usual waste?"
    ),
    answer=lambda: float(_bricks_for(ACROSS + LEAF)),
    shown=".0f",
    slips=(
        Slip("the leaf is thick: measure round its middle, not round the inside", lambda _: _bricks_for(ACROSS)),
        Slip("you measured round the outside of the leaf", lambda _: _bricks_for(ACROSS + 2 * LEAF)),
        Slip("you bought none to break and cut", lambda right: right / (1.0 + fact("brick_waste"))),
        Slip("you took the radius for the diameter", lambda _: _bricks_for((ACROSS + LEAF) / 2)),
        Slip("that is two leaves", lambda right: 2 * right),
    ),
    hint="Round the middle of the leaf, times the height, over the face of one brick with its joints; then the waste.",
)
