"""Fuel and air: what a kilo of fuel gives, what it breathes, and how much of it a charge takes."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from limekit.chemistry import dissociation_temperature
from limekit.course.checks import PERCENT, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Slider, fuel_choice
from limekit.course.explorer import Explorer
from limekit.estimate import Span, shown
from limekit.fire.flue import FlueGas, combustion, excess_air_at
from limekit.fire.fuel import fuels, lower_heating_value, wet_basis
from limekit.fire.stacks import LAYS, fuel_mass_in, fuel_volume
from limekit.frames import frame
from limekit.kiln.heat import fuel_demand
from limekit.pictures import fire as pictures
from limekit.plan.plan import YOURS, Plan
from limekit.units import LITRES, MEGA, ZERO_CELSIUS

MOST_EXCESS = 2.0
WET_LINE, DRY_LINE = 0.45, 0.10
POINTS = 25
BAG = 0.040


@dataclass(frozen=True)
class Fire:
    """A fuel burning: a kilogram's heat and gas, and how hot more air or wetter fuel leaves it; plain SI floats."""

    fuel: str
    fuel_moisture: float
    excess_air: float
    heat: float
    gas: FlueGas
    lines: dict[str, tuple[np.ndarray, np.ndarray]]
    burns_from: float
    most_air: float | None


def _line(fuel: str, fuel_moisture: float, heat_loss: float) -> tuple[np.ndarray, np.ndarray]:
    hottest, coolest = (
        combustion.plain(fuel, fuel_moisture, excess, heat_loss=heat_loss).gas_temperature
        for excess in (0.0, MOST_EXCESS)
    )
    levels = np.linspace(hottest, coolest, POINTS)
    return excess_air_at.plain(levels, fuel, fuel_moisture, heat_loss=heat_loss), levels


def burn(fuel: str, fuel_moisture: float, excess_air: float, heat_loss: float) -> Fire:
    """Burn a kilogram of fuel on paper."""
    gas = combustion.plain(fuel, fuel_moisture, excess_air, heat_loss=heat_loss)
    lines = {
        name: _line(fuel, fuel_moisture, heat_loss)
        for name, fuel_moisture in (
            (f"with {100 * fuel_moisture:.0f} % water", fuel_moisture),
            (f"dry, {100 * DRY_LINE:.0f} %", DRY_LINE),
            (f"wet, {100 * WET_LINE:.0f} %", WET_LINE),
        )
    }
    burns_from = dissociation_temperature.plain()
    hottest = next(iter(lines.values()))[1][0]
    most = excess_air_at.plain(burns_from, fuel, fuel_moisture, heat_loss=heat_loss) if hottest > burns_from else None
    heat = lower_heating_value.plain(fuel, fuel_moisture)
    return Fire(fuel, fuel_moisture, excess_air, heat, gas, lines, burns_from, most)


def fire_explorer(plan: Plan) -> Explorer:
    """Slide the wetness, the air and the loss, from a plan's fire; see how hot the gas is and what is in it."""
    fuel, fire = plan.plain.fuel, plan.plain.fire
    return Explorer(
        [
            fuel_choice(fuel.kind),
            Slider("fuel_moisture", start=fuel.moisture, high=0.7),
            Slider("excess_air", start=fire.excess_air, high=MOST_EXCESS),
            Slider("heat_loss", start=0.0),
        ],
        model=burn,
        picture=lambda fire: pictures.flue_gas(fire.lines, fire.gas, fire.excess_air, fire.burns_from),
        words=_fire_words,
        table=_fire_table,
        presets={
            "seasoned oak, a tight fire": {"fuel": "oak", "fuel_moisture": 0.18, "excess_air": 0.3, "heat_loss": 0.2},
            "green poplar, the door open": {
                "fuel": "poplar",
                "fuel_moisture": 0.5,
                "excess_air": 1.2,
                "heat_loss": 0.2,
            },
            "charcoal, a forge's blast": {"fuel": "charcoal", "fuel_moisture": 0.05, "excess_air": 0.2},
            "a mouth nobody closes": {"fuel": "oak", "fuel_moisture": 0.2, "excess_air": 2.0, "heat_loss": 0.2},
        },
        keeps=lambda fire: {"fuel": _fuel_kept(plan, fire) | _air_kept(plan, fire)},
    )


def _fire_words(fire: Fire) -> str:
    gas = fire.gas
    limit = (
        "even with no air to spare its gas cannot burn limestone"
        if fire.most_air is None
        else f"past {100 * fire.most_air:.0f} % of spare air it would be too cool for limestone"
    )
    return (
        f"A kilo of {fuels()[fire.fuel].label} with {100 * fire.fuel_moisture:.0f} % water "
        f"gives {fire.heat / MEGA:.1f} MJ, "
        f"breathes {gas.air_mass_ratio:.1f} kg of air and makes gas of {gas.gas_temperature - ZERO_CELSIUS:.0f} °C "
        f"with {100 * gas.co2_fraction:.0f} % carbon dioxide; {limit}."
    )


def _fire_table(fire: Fire):
    rows = [
        ("heat of a kilo as it lies [MJ]", f"{fire.heat / MEGA:.1f}"),
        ("air [kg a kilo]", f"{fire.gas.air_mass_ratio:.1f}"),
        ("gas [kg a kilo]", f"{fire.gas.gas_mass_ratio:.1f}"),
        ("temperature of the gas [°C]", f"{fire.gas.gas_temperature - ZERO_CELSIUS:.0f}"),
        ("carbon dioxide in the gas [%]", f"{100 * fire.gas.co2_fraction:.1f}"),
        ("the same once the steam is out, as a gas tester reads [%]", f"{100 * fire.gas.co2_fraction_dry:.1f}"),
        *(("beware", caution) for caution in fire.gas.cautions),
    ]
    return frame(rows, columns=["what", "how much"])


@dataclass(frozen=True)
class Pile:
    """The fuel for a charge: how many kilograms, and the room they take; plain SI floats.

    `by_rule` is by the rule of thumb: the heat the stone takes, over the share of it that published kilns make use of.
    """

    fuel: str
    fuel_moisture: float
    stone: float
    mass: Span
    by_rule: Span
    room: dict[str, Span]

    @property
    def lay(self) -> str:
        """How it lies in the yard: stacked if it can be."""
        return next(iter(self.room))


def pile_explorer(plan: Plan) -> Explorer:
    """Slide a plan's charge, its fuel and its firing's own thrift; see the stack to have ready, to scale."""
    known, own = plan.plain, plan.plain.forecast.fuel
    less, more = own.low / own.middle, own.high / own.middle
    burnt = known.stone.made_of | {"conversion": known.fire.conversion}
    asked = fuel_demand.plain(known.stone.mass, fuel=known.fuel.kind, fuel_moisture=known.fuel.moisture, **burnt)
    thrift = asked.dissociation_heat / (own.middle * asked.lower_heating_value)

    def pile_up(stone: float, fuel: str, fuel_moisture: float, efficiency: float) -> Pile:
        told = {"fuel": fuel, "fuel_moisture": fuel_moisture, **burnt}
        middle = fuel_demand.plain(stone, efficiency=efficiency, **told).fuel_mass.middle
        mass = Span(middle, less * middle, more * middle)
        room = {
            lay: Span(
                *(fuel_volume.plain(one, fuel, lay, fuel_moisture).middle for one in (mass.middle, mass.low, mass.high))
            )
            for lay in LAYS[fuels()[fuel].comes_as]
        }
        return Pile(fuel, fuel_moisture, stone, mass, fuel_demand.plain(stone, **told).fuel_mass, room)

    return Explorer(
        [
            Slider("stone", start=f"{known.stone.mass} kg"),
            fuel_choice(known.fuel.kind),
            Slider("fuel_moisture", start=known.fuel.moisture),
            Slider("efficiency", start=thrift, low=min(0.05, thrift), high=max(0.5, thrift)),
        ],
        model=pile_up,
        picture=lambda pile: pictures.woodpile(pile.room[pile.lay], pile.lay == "stacked"),
        words=_pile_words,
        table=_pile_table,
        presets={
            "green wood, a first kiln": {"fuel": "oak", "fuel_moisture": 0.45, "efficiency": 0.1},
            "light wood": {"fuel": "poplar", "fuel_moisture": 0.2, "efficiency": 0.15},
            "charcoal in place of wood": {"fuel": "charcoal", "fuel_moisture": 0.05, "efficiency": 0.15},
        },
        keeps=lambda pile: {"fuel": _fuel_kept(plan, pile)},
    )


def _pile_words(pile: Pile) -> str:
    mass, room = pile.mass, pile.room[pile.lay]
    return (
        f"For {pile.stone:.0f} kg of stone plan {shown(mass.middle)} kg of {fuels()[pile.fuel].label} "
        f"({shown(mass.low)} to {shown(mass.high)}), about {room.middle:.1f} m³ {pile.lay}, and have "
        f"{room.high:.1f} m³ by you before you light; the rule of thumb says {shown(pile.by_rule.middle, 2)} kg "
        f"({shown(pile.by_rule.low, 2)} to {shown(pile.by_rule.high, 2)})."
    )


def _pile_table(pile: Pile):
    rows = [
        ("weight [kg]", pile.mass, lambda mass: shown(mass, 2)),
        *((f"{lay} [m³]", room, "{:.1f}".format) for lay, room in pile.room.items()),
        (f"bags of {LITRES * BAG:.0f} L", pile.room["bagged"], lambda room: f"{math.ceil(room / BAG)}"),
    ]
    rows = [(what, *map(told, (span.low, span.middle, span.high))) for what, span, told in rows]
    return frame(rows, columns=["as you buy it", "at the best", "planned", "to have by you"])


def _fuel_kept(plan: Plan, one: Fire | Pile) -> dict:
    """Return the fuel to keep, by the words the record has for it where it is the same."""
    same = one.fuel == plan.plain.fuel.kind
    name = plan.record["fuel"]["name"] if same else fuels()[one.fuel].label
    return {"name": name, "fuel_moisture": one.fuel_moisture}


def _air_kept(plan: Plan, fire: Fire) -> dict:
    """Return the air to keep; nothing where it follows from a fire that is decided by its heat."""
    follows = plan.whose("fire_temperature") == YOURS and math.isclose(fire.excess_air, plan.plain.fire.excess_air)
    return {} if follows else {"excess_air": fire.excess_air}


METER = 0.30

meter_reading = Exercise(
    question=(
        f"A moisture meter, which counts water over dry wood, shows {100 * METER:.0f} %. "
        "What share of the wood as it lies is water?"
    ),
    answer=lambda: wet_basis.plain(METER),
    tolerance=0.01,
    slips=(
        Slip(
            "that is the meter's own figure: it divides by the dry wood, and you are asked for the whole",
            lambda _: METER,
        ),
        Slip(
            "you went the wrong way: the share of the whole is smaller than the meter's figure",
            lambda _: METER / (1 - METER),
        ),
        Slip("that is the dry wood, not the water", lambda right: 1 - right),
        PERCENT,
    ),
    hint="Take 100 g of dry wood: the meter's figure is the grams of water it holds, and the two make the whole.",
)

WET, SEASONED = 0.45, 0.20

green_for_seasoned = Exercise(
    question=(
        f"How many kilos of green oak ({100 * WET:.0f} % water) give the heat of one kilo of seasoned oak "
        f"({100 * SEASONED:.0f} %)?"
    ),
    answer=lambda: lower_heating_value.plain("oak", SEASONED) / lower_heating_value.plain("oak", WET),
    tolerance=0.015,
    shown=".2f",
    slips=(
        Slip(
            "you counted the dry wood in each and forgot that the fire must boil the water off too",
            lambda _: (1 - SEASONED) / (1 - WET),
        ),
        Slip("you compared the two waters, not the two heats", lambda _: WET / SEASONED),
        UPSIDE_DOWN,
    ),
    hint="limekit.lower_heating_value(fuel=..., fuel_moisture=...) for each, and divide the larger by the smaller.",
)

LONG, TALL, DEPTH = 3.0, 1.2, 1.0


def _stack(fuel: str = "poplar", **told) -> float:
    return fuel_mass_in.plain(LONG * TALL * DEPTH, fuel, **told).middle


stack_of_poplar = Exercise(
    question=(
        f"A stack of seasoned poplar is {LONG:.0f} m long, {TALL:.1f} m high and {DEPTH:.0f} m deep. "
        "About how many kilos is it?"
    ),
    answer=lambda: f"{_stack()} kg",
    unit="kg",
    tolerance=0.04,
    shown=".0f",
    slips=(
        Slip("you filled the gaps with wood: a third of a stack is air", lambda _: _stack(solid_fraction=1.0)),
        Slip("that is the wood thrown loose, not stacked", lambda _: _stack(lay="loose")),
        Slip("that is oak: poplar is far lighter", lambda _: _stack("oak")),
        Slip(
            "that is its dry wood alone; it holds a fifth of water",
            lambda right: (1 - fuels()["poplar"].fuel_moisture) * right,
        ),
    ),
    hint='limekit.fuel_mass_in(fuel_volume="... m^3", fuel="poplar").middle does the sum.',
)
