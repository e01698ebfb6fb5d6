"""Draught: why a kiln draws, what throttles it, and how much fire it can feed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import get_args

import numpy as np

from limekit.course.checks import PERCENT, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.estimate import Span, ranged, shown
from limekit.facts import fact
from limekit.fire.air import GRAVITY
from limekit.fire.air_way import PARTS, AirWay
from limekit.fire.bed import Laid, porosity_with_fines, sauter_diameter
from limekit.fire.draught import Draught, draught_flow, stack_draught
from limekit.fire.fuel import air_demand
from limekit.frames import frame
from limekit.pictures import fire as pictures
from limekit.plan.plan import YOURS, Plan
from limekit.plan.worked import Worked
from limekit.units import HOUR, MM, ZERO_CELSIUS

HEAT = Slider("gas_temperature", start="500 degC", low="100 degC", high="1100 degC")
LEVELS = HEAT.grid(41)
COLD, HOT = 253.15, 313.15
STONES = {"low": "30 mm", "high": "200 mm"}  # past what is charged: small stone chokes, large gains little
SIZES = Slider("largest_stone", **STONES).grid(18)


@dataclass(frozen=True)
class Column:
    """A column of hot gas and what it pulls, in plain SI floats."""

    height: float
    gas_temperature: float
    air_temperature: float
    draught: float
    lines: dict[str, np.ndarray]


def stand(height: float, gas_temperature: float, air_temperature: float, altitude: float) -> Column:
    """Work out a hot column's draught, and that of the same column on a frosty and on a hot day."""
    lines = {
        name: stack_draught.plain(height, LEVELS, outside, altitude)
        for name, outside in (
            (f"air at {air_temperature - ZERO_CELSIUS:z.0f} °C", air_temperature),
            (f"frost, {COLD - ZERO_CELSIUS:.0f} °C", COLD),
            (f"a hot day, {HOT - ZERO_CELSIUS:.0f} °C", HOT),
        )
    }
    pull = stack_draught.plain(height, gas_temperature, air_temperature, altitude)
    return Column(height, gas_temperature, air_temperature, pull, lines)


def column_explorer() -> Explorer:
    """Slide a column's height and heat, the weather and the place; see what it pulls."""
    return Explorer(
        [
            Slider("height", start="2 m"),
            HEAT,
            Slider("air_temperature", start="20 degC", low="-20 degC", high="45 degC", step=1),
            Slider("altitude", start="0 m"),
        ],
        model=stand,
        picture=lambda one: pictures.column(LEVELS, one.lines, one.gas_temperature, one.draught),
        words=_column_words,
        presets={
            "a small kiln just lit": {"height": "1.2 m", "gas_temperature": "100 degC", "air_temperature": "20 degC"},
            "the same at full fire": {"height": "1.2 m", "gas_temperature": "600 degC", "air_temperature": "20 degC"},
            "on a hot afternoon, high in the hills": {
                "height": "1.2 m",
                "gas_temperature": "600 degC",
                "air_temperature": "40 degC",
                "altitude": "2500 m",
            },
        },
    )


def _column_words(one: Column) -> str:
    return (
        f"A column {one.height:.1f} m high at {one.gas_temperature - ZERO_CELSIUS:.0f} °C pulls with "
        f"{one.draught:.1f} Pa, the weight of {MM * one.draught / (fact('water_density') * GRAVITY):.1f} mm of "
        f"water, against air at {one.air_temperature - ZERO_CELSIUS:z.0f} °C."
    )


@dataclass(frozen=True)
class Drawn:
    """A draught of a plan's kiln, and the fuel it could feed with other sizes of stone; plain SI floats."""

    plan: Worked
    draught: Draught
    largest_stone: float
    chimney_height: float
    laid: Laid
    rates: np.ndarray

    @property
    def losses(self) -> dict[str, float]:
        """Pressure that each part of the way takes."""
        taken = asdict(self.draught.pressure_losses)
        return {part: taken[f"{part}_loss"] for part in PARTS}


def _wanted(plan: Worked) -> float:
    """Return the fuel that a plan burns, kg/s, of what is fed."""
    return plan.firing.burnt_share * plan.design.fuel_rate.middle


def _flow_of(plan: Worked) -> Callable[..., Draught]:
    """Return the draught of a plan's kiln, by its stone, its fines, how it is laid, and the state of its air way."""
    kiln, evenness = plan.kiln, plan.kiln.smallest_stone / plan.kiln.largest_stone
    fire = {
        "air_demand": air_demand.plain(plan.fuel.kind, plan.fuel.moisture),
        "excess_air": plan.fire.excess_air,
        "fuel_rate": _wanted(plan),
        "air_temperature": plan.decided.get("air_temperature"),
    }

    def flow(largest: float, charge_fines: float, laid: Laid, **state) -> Draught:
        charge = Counter({float(fact("fines_size")): charge_fines})
        for piece in (largest, evenness * largest):
            charge[piece] += (1.0 - charge_fines) / 2.0
        way = kiln.but(laid=laid).air_way(sauter_diameter.plain(charge))
        way = way.but(bed_porosity=porosity_with_fines.plain(charge_fines, way.bed_porosity))
        return draught_flow.plain(way, **fire, **state)

    return flow


def _mean_gas(plan: Worked) -> float:
    return (plan.design.gas_temperature + plan.decided.get("air_temperature")) / 2.0


def chimneys(plan: Plan, *heights: float) -> str:
    """Say what chimneys of several heights (m) make of a plan's kiln."""
    known, kiln = plan.plain, plan.plain.kiln
    state = {"damper": 1.0, "gas_temperature": _mean_gas(known), "altitude": kiln.altitude}
    flow = _flow_of(known)
    flows = {one: flow(kiln.largest_stone, 0.0, kiln.laid, chimney_height=float(one), **state) for one in heights}
    return "\n".join(
        f"- chimney of {height:g} m: {found.stack_pressure:.0f} Pa of pull, fuel for "
        f"**{HOUR * found.fuel_rate_most:.0f} kg/h**, held by {found.throttle}"
        for height, found in flows.items()
    )


def throttle_explorer(plan: Plan) -> Explorer:
    """Slide the stone, its fines, how it is laid, damper and chimney of a plan's kiln; see what throttles it."""
    known, kiln, flow = plan.plain, plan.plain.kiln, _flow_of(plan.plain)

    def draw(largest_stone: float, charge_fines: float, **state) -> Drawn:
        rates = np.array([flow(float(largest), charge_fines, **state).fuel_rate_most for largest in SIZES])
        draught = flow(largest_stone, charge_fines, **state)
        return Drawn(known, draught, largest_stone, state["chimney_height"], state["laid"], rates)

    mean = f"{_mean_gas(known) - ZERO_CELSIUS} degC"
    return Explorer(
        [
            Choice("laid", get_args(Laid), start=kiln.laid, label="the charge is"),
            Slider("largest_stone", start=f"{MM * kiln.largest_stone} mm", **STONES),
            Slider("charge_fines", start=0.0, high=0.4),
            Slider("damper", start=1.0, low=0.0),
            Slider("chimney_height", start=f"{kiln.chimney_height} m"),
            Slider("gas_temperature", mean, "100 degC", "1000 degC", label="gas in the charge, on the mean"),
            Slider("altitude", start=f"{kiln.altitude} m"),
        ],
        model=draw,
        picture=lambda drawn: pictures.throttle(
            drawn.losses,
            SIZES,
            drawn.rates,
            drawn.largest_stone,
            drawn.draught.fuel_rate_most,
            _wanted(known),
            float(fact("draught_spread")),
        ),
        words=_throttle_words,
        table=_throttle_table,
        presets={
            "just lit": {"gas_temperature": "100 degC"},
            "no chimney": {"chimney_height": "0 m"},
            "a chimney of four metres": {"chimney_height": "4 m"},
            "poles set in it that burn out to flues": {"laid": "with flues"},
            "its chips left in": {"charge_fines": 0.1},
            "a chimney, and the damper forgotten at a quarter": {"chimney_height": "4 m", "damper": 0.25},
            "high in the hills": {"altitude": "2500 m"},
        },
        keeps=lambda drawn: _kept(plan, drawn),
    )


def _throttle_words(drawn: Drawn) -> str:
    found, spread = drawn.draught, fact("draught_spread")
    rate, wanted, fuel = HOUR * found.fuel_rate_most, HOUR * _wanted(drawn.plan), drawn.plan.forecast.fuel.middle
    burnt = drawn.plan.firing.burnt_share * fuel
    share = 100.0 * max(drawn.losses.values()) / found.stack_pressure
    takes = "take" if found.throttle.endswith("s") else "takes"
    beside = f"; {100.0 * found.flue_share:.0f} % of the gas goes by the flues" if found.flue_share else ""
    feeds = ranged(Span(rate, rate * (1.0 - spread), rate * (1.0 + spread)), digits=2)
    asked, planned, alone = shown(wanted, 2), shown(burnt / wanted, 2), shown(burnt / rate, 2)
    return (
        f"A draught of {found.stack_pressure:.1f} Pa burns {feeds} kg of fuel an hour where the plan asks for {asked}: "
        f"{shown(burnt, 2)} kg in {planned} h, of {shown(fuel)} kg fed; the rest leaves as smoke and "
        f"embers. This draught alone would do it in {alone} h; {found.throttle} {takes} {share:.0f} % of "
        f"it{beside}."
    )


def _throttle_table(drawn: Drawn):
    rows = [
        (PARTS[part][0], f"{loss:.2f}", f"{100.0 * loss / drawn.draught.stack_pressure:.0f}", PARTS[part][1])
        for part, loss in sorted(drawn.losses.items(), key=lambda one: -one[1])
    ]
    return frame(rows, columns=["part", "takes [Pa]", "share [%]", "what eases it"])


def _kept(plan: Plan, drawn: Drawn) -> dict:
    sizes = {"largest_stone": f"{MM * drawn.largest_stone:.0f} mm"}
    if plan.whose("smallest_stone") == YOURS:
        kiln = drawn.plan.kiln
        smallest = kiln.smallest_stone / kiln.largest_stone * drawn.largest_stone
        sizes["smallest_stone"] = f"{MM * smallest:.0f} mm"
    return {"kiln": {**sizes, "chimney_height": f"{drawn.chimney_height:.2f} m", "laid": drawn.laid}}


HIGH, INSIDE, OUTSIDE = 3.0, 773.15, 283.15

pull_of_a_column = Exercise(
    question=(
        f"A kiln holds {HIGH:.0f} m of gas at {INSIDE - ZERO_CELSIUS:.0f} °C on a day of "
        f"{OUTSIDE - ZERO_CELSIUS:.0f} °C, by the sea. With how many pascal does it draw?"
    ),
    answer=lambda: f"{stack_draught.plain(HIGH, INSIDE, OUTSIDE)} Pa",
    unit="Pa",
    shown=".1f",
    slips=(
        Slip(
            "you put °C into the formula where it wants kelvin: add 273.15 to each before you divide",
            lambda _: stack_draught.plain(HIGH, INSIDE - ZERO_CELSIUS, OUTSIDE - ZERO_CELSIUS),
        ),
        Slip("that is the pull of one metre of it", lambda right: right / HIGH),
        Slip("the warm gas is the lighter one: the kiln draws upward", lambda right: -right),
        Slip(
            "you divided by the colder of the two: the pull is the weight of the air less the weight of the gas",
            lambda right: right * INSIDE / OUTSIDE,
        ),
    ),
    hint='limekit.stack_draught(height="3 m", gas_temperature="500 degC", air_temperature="10 degC") does the sum.',
)

BIG, SMALL = 0.080, 0.040
BED, ACROSS, OPEN, WARM = 1.5, 1.0, 0.1, 873.15


def _flow(ball: float, chimney: float = 0.0) -> Draught:
    return draught_flow.plain(AirWay.plain(BED, ACROSS, ball, OPEN, OPEN, chimney_height=chimney), WARM)


def _feeds(ball: float, chimney: float = 0.0) -> float:
    return _flow(ball, chimney).fuel_rate_most


half_the_stone = Exercise(
    question=(
        f"A charge {BED:.1f} m high and {ACROSS:.0f} m across, with {OPEN} m² of openings below and as much of draw "
        f"eyes above, holds gas of {WARM - ZERO_CELSIUS:.0f} °C. You break its stone from {MM * BIG:.0f} to "
        f"{MM * SMALL:.0f} mm, all of one size. What share of its fire is left?"
    ),
    answer=lambda: _feeds(SMALL) / _feeds(BIG),
    shown=".2f",
    slips=(
        Slip(
            "half the size is not half the fire: much of the loss grows with the square of the flow",
            lambda _: SMALL / BIG,
        ),
        Slip(
            "that root is right where all the flow is rough; some of it is smooth, and suffers more",
            lambda _: (SMALL / BIG) ** 0.5,
        ),
        PERCENT,
        Slip("that is the share lost, not the share left", lambda right: 1.0 - right),
        Slip(
            "a quarter would be left if only the slow, smooth flow counted; most of this loss is rough",
            lambda _: (SMALL / BIG) ** 2,
        ),
        UPSIDE_DOWN,
    ),
    hint="limekit.draught_flow(...).fuel_rate_most for each size; divide the smaller by the larger.",
)

CHIMNEY = 3.0


def _pulls(chimney: float) -> float:
    return _flow(BIG, chimney).stack_pressure


a_chimney = Exercise(
    question=(
        f"You set a chimney of {CHIMNEY:.0f} m on the charge {BED:.1f} m high that you met above, its stone left at "
        f"{MM * BIG:.0f} mm. How many times as much fire can it feed as with none?"
    ),
    answer=lambda: _feeds(BIG, CHIMNEY) / _feeds(BIG),
    tolerance=0.025,
    shown=".2f",
    slips=(
        Slip(
            "that is how much harder it pulls; the loss grows faster than the air",
            lambda _: _pulls(CHIMNEY) / _pulls(0.0),
        ),
        Slip("that is the chimney over the charge: count the whole column, and take its root", lambda _: CHIMNEY / BED),
        Slip("that is how much more, not how many times as much", lambda right: right - 1.0),
        Slip(
            "you squared where you should take the root: to double the air you must quadruple the pull",
            lambda _: (_pulls(CHIMNEY) / _pulls(0.0)) ** 2,
        ),
        UPSIDE_DOWN,
    ),
    hint="limekit.draught_flow(..., chimney_height=...).fuel_rate_most with it, over the same without.",
)
