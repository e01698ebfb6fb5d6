"""How hot, how long, how big: from a trial's stones to a kiln's hours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.chemistry import ATMOSPHERE, dissociation_pressure
from limekit.course.box import beside
from limekit.course.cards import say
from limekit.course.checks import PERCENT, THE_REST, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.estimate import Estimate, shown
from limekit.facts import fact
from limekit.frames import frame
from limekit.pictures import stone as pictures
from limekit.pictures.hour_by_hour import stone_drawing
from limekit.pictures.pages import Sketch, Table
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.stone.assessment import Assessment, burning_time_range
from limekit.stone.burning import BurntStone, burn_stone, burning_time
from limekit.stone.overburn import overburn_class, overburn_history
from limekit.units import HOUR, MM, ZERO_CELSIUS

LEVELS = tuple(celsius + ZERO_CELSIUS for celsius in (900.0, 1000.0, 1100.0, 1200.0))
SIZES = np.array((10, 20, 40, 80, 200)) / MM  # worked out; between them times go by a power that changes smoothly
FRONTS = range(820, 1001, 20)  # °C
IN_STEP, WITHIN = 0.1, 0.3  # of a sum's two halves from each other, and of its hours from the kit's


@dataclass(frozen=True)
class Times:
    """Burning times by size and heat, in plain SI floats."""

    by_level: dict[float, np.ndarray]
    chosen: Estimate
    gas_temperature: float
    co2_fraction: float
    diameter: float
    conversion: float
    forecast: Estimate


def times_explorer(plan: Plan) -> Explorer:
    """Slide the kiln's heat and the stone's size; see how long it takes, with the trial's own range.

    It starts at the plan's kiln; without a trial published figures alone speak.
    """
    heard, (level, co2, through) = plan.plain.heard, gas_of(plan.plain)

    def work(gas_temperature: float, co2_fraction: float, diameter: float) -> Times:
        gas = gas_temperature, co2_fraction, through
        chosen, forecast = (Assessment.forecast.plain(heard, asked, *gas) for asked in (SIZES, diameter))
        by_level = heard.posterior.middling_times(SIZES, LEVELS, co2_fraction, through)
        return Times(by_level, chosen, gas_temperature, co2_fraction, diameter, through, forecast)

    return Explorer(
        [
            Slider("gas_temperature", start=f"{level - ZERO_CELSIUS} degC"),
            Slider("diameter", start=f"{MM * plan.plain.decided.get('largest_stone')} mm"),
            Slider("co2_fraction", start=co2, low=0.05, high=0.4),
        ],
        model=work,
        picture=lambda times: pictures.burning_times(
            SIZES, times.by_level, times.chosen, times.gas_temperature, times.diameter, times.forecast
        ),
        words=_words,
        table=_table,
        presets={
            "a stove": {"gas_temperature": "980 degC", "diameter": "40 mm", "co2_fraction": 0.12},
            "a small flare kiln": {"gas_temperature": "1000 degC", "diameter": "80 mm", "co2_fraction": 0.25},
            "the coldest corner": {"gas_temperature": "900 degC", "diameter": "80 mm", "co2_fraction": 0.3},
        },
        keeps=_kept,
    )


def _words(times: Times) -> str:
    middle, low, high = (getattr(times.forecast, end) / HOUR for end in ("median", "low", "high"))
    return (
        f"In gas at {times.gas_temperature - ZERO_CELSIUS:.0f} °C a piece of this stone "
        f"{MM * times.diameter:.0f} mm across is {100 * times.conversion:.0f} % burnt in about {middle:.1f} hours; "
        f"nine times in ten in {low:.1f} to {high:.1f}."
    )


def sizes(plan: Plan, *hours: float) -> str:
    """Say to what size to sort a plan's stone, for so many hours in the gas it is reckoned with."""
    heard, gas = plan.plain.heard, gas_of(plan.plain)
    found = {hour: Assessment.largest_stone.plain(heard, HOUR * hour, *gas) for hour in hours}
    lines = (
        f"- {hour:g} hours at full heat: sort to **{MM * one.low:.0f} mm**, middling {MM * one.median:.0f} mm"
        for hour, one in found.items()
    )
    return "\n".join((f"In gas at {gas[0] - ZERO_CELSIUS:.0f} °C:\n", *lines))


def how_sure(plan: Plan) -> str:
    """Say how long a plan's largest stone takes, and what a trial has told of it."""
    known, gas = plan.plain, gas_of(plan.plain)
    stone = known.decided.get("largest_stone")
    guess = burning_time_range.plain(
        stone, *gas, stone=known.heard.stone, start_temperature=known.decided.get("air_temperature")
    )
    told = (
        f"With no trial the published figures say {guess.median / HOUR:.1f} h for a stone of {MM * stone:.0f} mm, and "
        f"{guess.low / HOUR:.1f} to {guess.high / HOUR:.1f} h. "
    )
    if known.assessment is not None:
        found = Assessment.forecast.plain(known.assessment, stone, *gas)
        middle, low, high = (f"{end / HOUR:.1f}" for end in (found.median, found.low, found.high))
        told += (
            f"This trial makes it **{middle} h**: one time in two between {found.inner_low / HOUR:.1f} and "
            f"{found.inner_high / HOUR:.1f}, nine in ten between {low} and {high}. "
        )
    return (
        f"{told}That is from the moment the gas around the stone is hot until {100 * gas[2]:.0f} % of it has burnt, "
        "which leaves a small core in the largest. The hours of heating the kiln come on top."
    )


def gas_of(plan: Worked) -> tuple[float, float, float]:
    """Return the gas a plan's stone is reckoned with: its heat, its carbon dioxide; and how far the stone burns."""
    return plan.decided.get("gas_temperature"), plan.decided.get("co2_fraction"), plan.fire.conversion


def _table(times: Times):
    rows = [
        (f"{MM * size:.0f}", *(f"{end / HOUR:.1f}" for end in ends))
        for size, *ends in zip(SIZES, times.chosen.low, times.chosen.median, times.chosen.high, strict=True)
    ]
    return frame(rows, columns=["size [mm]", "at the quickest [h]", "middle [h]", "at the slowest [h]"])


def _kept(times: Times) -> dict:
    return {
        "burn": {
            "gas_temperature": f"{times.gas_temperature - ZERO_CELSIUS:.0f} degC",
            "co2_fraction": times.co2_fraction,
        },
        "kiln": {"largest_stone": f"{MM * times.diameter:.0f} mm"},
    }


def section_explorer() -> Explorer:
    """Run a fire in time and look inside the stone: its heat by colour, the front as a ring."""

    def burn(diameter: float, gas_temperature: float) -> BurntStone:
        needed = burning_time.plain(diameter, gas_temperature, model="reduced")
        return burn_stone.plain(diameter, gas_temperature, 1.25 * needed)

    return Explorer(
        [
            Slider("diameter", start="80 mm", low="20 mm", high="150 mm"),
            Slider("gas_temperature"),
            Slider("time", start="1 h", low="0 h", high="16 h", plays=True, looks=True),
        ],
        model=burn,
        picture=pictures.cut_through,
        words=_section_words,
    )


def broken_open() -> Sketch:
    """Show one stone broken open, from a quarter of its burning to the end."""
    whole = burning_time.plain(WATCHED, HEAT, model="reduced")
    burnt = burn_stone.plain(WATCHED, HEAT, whole)
    stone = f"A stone of {MM * WATCHED:.0f} mm in gas of {HEAT - ZERO_CELSIUS:.0f} °C, broken open"
    told = f"lime creeps in from the skin, and after {whole / HOUR:.1f} h the core is all but gone."
    return Sketch(stone_drawing(burnt), f"{stone}: {told}")


def _section_words(burnt: BurntStone, time: float) -> str:
    then = pictures.moment(burnt.history, time)
    if then.conversion >= fact("burnt_through"):
        upto = burnt.history.times <= max(time, burnt.history.times[1])
        index = overburn_history.plain(burnt.history.times[upto], burnt.history.temperatures[upto, -1])
        state = f"is burnt through; its skin by now counts as {overburn_class.plain(index)}"
    elif then.conversion > 0:
        state = f"is {100 * then.conversion:.0f} % burnt, with a core of {MM * then.core_diameter:.0f} mm"
    else:
        state = "is still warming and has not begun to burn"
    return (
        f"After {time / HOUR:.2g} h the stone {state}; skin {then.surface - ZERO_CELSIUS:.0f} °C, "
        f"heart {then.centre - ZERO_CELSIUS:.0f} °C."
    )


def how_it_pushes() -> Table:
    """Show with what pressure a front of some heats pushes its gas out."""
    rows = [
        (f"{celsius}", f"{dissociation_pressure.plain(celsius + ZERO_CELSIUS) / ATMOSPHERE:.2f}") for celsius in FRONTS
    ]
    return Table(("Front [°C]", "It pushes with [atm]"), rows)


def hold(brought: float, given: float, kit) -> None:
    """Say whether heat and front agree in their hours, which is to give, and how far they lie from the kit's."""
    hours = f"Heat wants {shown(brought, 2)} h and the front {shown(given, 2)} h"
    if not given > 0.0 or not brought > 0.0:
        say("With this `front` the sum has no answer: it has to be cooler than the fire and hot enough to push.")
    elif abs(brought / given - 1.0) > IN_STEP:
        say(f"{hours}: **not yet the same**. {'Raise' if given > brought else 'Lower'} `front`.")
    else:
        kits = (
            "the middle of both is the sum's. The kit counts also how the pores of the shell hold back the gas, adds "
            "the hours in which the cold stone warms, and lets the front find its own heat as it goes in; it is done "
            f"at {100 * fact('burnt_through'):.0f} % burnt, the sum at the last of the stone."
        )
        beside(0.5 * (brought + given), kit, within=WITHIN, why=f"{hours}; {kits}")


SMALL, LARGE, HEAT = 0.05, 0.10, 1273.15

NEARLY, WATCHED = 0.9, 0.08

nearly_burnt = Exercise(
    question=(
        f"{100 * NEARLY:.0f} % of a stone of {MM * WATCHED:.0f} mm has burnt, in gas at {HEAT - ZERO_CELSIUS:.0f} °C. "
        "What share of its burning time has passed?"
    ),
    answer=lambda: burning_time.plain(WATCHED, HEAT, conversion=NEARLY) / burning_time.plain(WATCHED, HEAT),
    tolerance=0.06,
    shown=".2f",
    slips=(
        Slip("it does not burn evenly: the front slows as the coat of lime grows", lambda _: NEARLY),
        PERCENT,
        THE_REST,
        UPSIDE_DOWN,
    ),
    hint="Put the stone to that size and heat, slide the time until that share has burnt, then until all has; divide.",
)

twice_the_size = Exercise(
    question=(
        f"A stone twice as wide, {MM * LARGE:.0f} mm in place of {MM * SMALL:.0f} mm, in gas at "
        f"{HEAT - ZERO_CELSIUS:.0f} °C: how many times as long must it burn, by published figures alone "
        "(limekit.burning_time)?"
    ),
    answer=lambda: burning_time.plain(LARGE, HEAT) / burning_time.plain(SMALL, HEAT),
    tolerance=0.06,
    shown=".2g",
    slips=(
        Slip("heat also has to cross a lime shell twice as thick, so it is more than twice", lambda _: 2.0),
        Slip("that would be so if only the shell held things up; skin and front do too, so it is less", lambda _: 4.0),
        Slip("that is how much more stone there is, not how much longer it takes", lambda _: 8.0),
        UPSIDE_DOWN,
    ),
    hint="limekit.burning_time(diameter=..., gas_temperature=...) for each, and divide the longer by the shorter.",
)

BIG, COOL, HOT = 0.08, 1223.15, 1323.15

hotter_by_a_hundred = Exercise(
    question=(
        f"How many hours does a stone of {MM * BIG:.0f} mm save when the gas is "
        f"{HOT - ZERO_CELSIUS:.0f} °C in place of {COOL - ZERO_CELSIUS:.0f} °C, by published figures alone "
        "(limekit.burning_time)?"
    ),
    answer=lambda: f"{(burning_time.plain(BIG, COOL) - burning_time.plain(BIG, HOT)) / HOUR} h",
    unit="h",
    tolerance=0.04,
    shown=".1f",
    slips=(
        Slip("that is how long the hotter one takes, not what it saves", lambda _: burning_time.plain(BIG, HOT) / HOUR),
        Slip(
            "that is how long the cooler one takes, not what is saved", lambda _: burning_time.plain(BIG, COOL) / HOUR
        ),
        Slip("it is in minutes and called hours", lambda right: 60.0 * right),
    ),
    hint="Work out both burning times and subtract.",
)
