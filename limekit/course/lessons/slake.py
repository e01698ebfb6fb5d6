"""Slake: heat, pace and vessel, so that lime and water stay where they belong."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.course.checks import OVER_1000, TIMES_1000, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.edge import give, plain
from limekit.errors import InputError
from limekit.facts import fact
from limekit.frames import frame
from limekit.lime.charges import SlakingCurve, slaking_curve, slaking_plan
from limekit.lime.contents import BOUND
from limekit.lime.reactivity import Reactivity, read_reactivity
from limekit.lime.slaking import Slaking, boil_limit, slake, water_to_slake
from limekit.lime.vessels import filled, slaking_vessel, vessel_names
from limekit.pictures import slaking as pictures
from limekit.plan.plan import Plan
from limekit.records.examples import example_path
from limekit.records.slaking_log import SlakingLog, read_slaking_log
from limekit.units import MINUTE, ZERO_CELSIUS

EXAMPLE = "slaking_log_example.csv"
RATIOS = Slider("water_to_lime", low=water_to_slake.plain(1.0, "dry hydrate")).grid(54)


@dataclass(frozen=True)
class Heated:
    """A kilogram of lime slaked all at once, in the water asked for and in more and less."""

    ratio: float
    chosen: Slaking
    around: tuple[Slaking, ...]
    water_temperature: float


def heat_explorer(plan: Plan) -> Explorer:
    """Slide the water a kilogram of the plan's lime is given; see how hot it gets and how much boils away."""
    slakes = plan.plain.lime.available_lime

    def work(water_to_lime: float, water_temperature: float, available_lime: float) -> Heated:
        def with_water(ratio: float) -> Slaking:
            return slake.plain(1.0, ratio, water_temperature, available_lime)

        return Heated(water_to_lime, with_water(water_to_lime), tuple(map(with_water, RATIOS)), water_temperature)

    return Explorer(
        [
            Slider("water_to_lime", low=0.3),
            Slider("water_temperature"),
            Slider("available_lime", start=slakes, low=0.1),
        ],
        model=work,
        picture=lambda heated: pictures.heat_by_water(RATIOS, heated.around, heated.ratio, heated.chosen),
        words=lambda heated: (
            f"One part of lime into {heated.ratio:.1f} of water at {heated.water_temperature - ZERO_CELSIUS:.0f} °C, "
            f"all at once. {heated.chosen.words}"
        ),
        presets={
            "putty, the usual way": {"water_to_lime": 2.5, "water_temperature": "15 degC"},
            "dry hydrate": {"water_to_lime": 0.7, "water_temperature": "15 degC"},
            "the laboratory's test": {"water_to_lime": 4.0, "water_temperature": "20 degC"},
            "old lime, half spent in the air": {"water_to_lime": 2.5, "available_lime": 0.55},
        },
    )


@dataclass(frozen=True)
class Timed:
    """A log as far as it was kept, and what two standards read in it."""

    times: np.ndarray
    temperatures: np.ndarray
    read: Reactivity


def log_of(plan: Plan) -> SlakingLog:
    """Return a plan's slaking log, or the invented example's where none of its own lime has been tested."""
    if plan.plain.log is not None:
        return give(plan.plain.log, SlakingLog, "")
    print("Until then this lesson reads the invented example's log, which tells nothing of your lime.")
    return read_slaking_log(example_path(EXAMPLE))


def log_explorer(log: SlakingLog) -> Explorer:
    """Put the watch away too soon, and see what the log can no longer tell."""
    known = plain(log)
    since = known.log_times - known.log_times[0]
    last = float(since[-1])

    def until(time_in_water: float) -> Timed:
        kept = since <= time_in_water + 1e-6
        times, temperatures = since[kept], known.log_temperatures[kept]
        return Timed(times, temperatures, read_reactivity.plain(times, temperatures))

    return Explorer(
        [
            Slider(
                "time_in_water",
                start=f"{last / MINUTE} min",
                low=f"{since[1] / MINUTE} min",
                high=f"{last / MINUTE} min",
                step=0.5,
                label="stop reading after",
            )
        ],
        model=until,
        picture=lambda timed: pictures.log_and_classes(timed.times, timed.temperatures, timed.read, last),
        words=_log_words,
        table=_log_table,
    )


def _log_words(timed: Timed) -> str:
    read = timed.read
    if read.time_to_60 is None:
        return read.words
    said = f"In the test of EN 459-2 that counts as {read.en_class}"
    return f"{read.words} {said}; by the rise of ASTM C110, {read.astm_class} reactivity."


def _log_table(timed: Timed):
    def minutes(time: float | None) -> str:
        return "not reached" if time is None else f"{time / MINUTE:.1f}"

    read = timed.read
    rows = [
        ("EN 459-2: to 60 °C", minutes(read.time_to_60), read.en_class),
        ("ASTM C110: a rise of 40 °C", minutes(read.rise_time), read.astm_class),
        ("ASTM C110: slaked through", minutes(read.complete_time), read.complete_class),
    ]
    return frame(rows, columns=["rule", "minutes", "class"])


@dataclass(frozen=True)
class Vessel:
    """A vessel slaked in as asked, and the way the kit would."""

    curve: SlakingCurve
    planned: SlakingCurve | None
    advice: str
    fill: float
    volume: float
    most: float
    lime_charge: float
    water: float
    charges: int
    charge_interval: float
    note: str


def vessel_explorer(plan: Plan) -> Explorer:
    """Choose a vessel, water and charges; see whether it boils, and how the kit would space them.

    The plan says how much of its lime slakes, and how fast by its test; a lime nobody has tested takes the kit's
    figure.
    """
    lime = plan.plain.lime
    slakes, tested = lime.available_lime, lime.reactivity and lime.reactivity.time_to_60
    pace = float(fact("reactivity_time")) if tested is None else tested
    drum = {"vessel_volume": "200 L", "lime_charge": "25 kg", "water": "70 kg"}

    def run(order, vessel_kind, vessel_volume, lime_charge, water, charges, charge_interval) -> Vessel:
        of_lime = {"available_lime": slakes, "time_to_60": pace, "vessel_kind": vessel_kind, "order": order}
        all_of_it = (lime_charge, water, vessel_volume)
        curve = slaking_curve.plain(*all_of_it, charges, charge_interval, **of_lime)
        kind = slaking_vessel(vessel_kind)
        try:
            plan = slaking_plan.plain(*all_of_it, **of_lime)
            planned = slaking_curve.plain(*all_of_it, plan.charges, plan.charge_interval, **of_lime)
            advice = f"The kit's way: {plan.words}"
        except InputError as refused:
            planned, advice = None, f"The kit would not do it: {refused.got}."
        return Vessel(
            curve,
            planned,
            advice,
            filled(lime_charge, water),
            vessel_volume,
            min(fact("slaking_temperature_most"), kind.temperature_most),
            lime_charge,
            water,
            int(charges),
            charge_interval,
            kind.note,
        )

    return Explorer(
        [
            Choice("order", ("lime into water", "water onto lime")),
            Choice("vessel_kind", vessel_names(), label="vessel"),
            Slider("vessel_volume", start="100 L"),
            Slider("lime_charge", start="10 kg", label="lime in all"),
            Slider("water", start="30 kg", low="10 kg", label="water in the vessel"),
            Slider("charges", start=3),
            Slider("charge_interval", start="10 min"),
        ],
        model=run,
        picture=lambda vessel: pictures.vessel_in_time(
            vessel.curve, vessel.planned, vessel.fill, vessel.volume, vessel.most
        ),
        words=_vessel_words,
        table=_vessel_table,
        presets={
            "a small tub, all at once": {
                "vessel_volume": "40 L",
                "lime_charge": "5 kg",
                "water": "15 kg",
                "charges": 1,
            },
            "a drum for an afternoon": drum | {"charges": 8, "charge_interval": "20 min"},
            "a hasty hand": drum | {"charges": 5, "charge_interval": "2 min"},
        },
    )


def _vessel_words(vessel: Vessel) -> str:
    peak, one = vessel.curve.peak_temperature - ZERO_CELSIUS, vessel.lime_charge / vessel.charges
    given = (
        "all at once"
        if vessel.charges == 1
        else f"in {vessel.charges} charges of {one:.2g} kg, {vessel.charge_interval / MINUTE:.0f} min apart,"
    )
    if vessel.curve.boils:
        does = f"boils, and {vessel.curve.steam[-1]:.2g} kg of water go up as steam"
    elif vessel.curve.peak_temperature > vessel.most:
        does = f"climbs to {peak:.0f} °C, too near boiling"
    else:
        does = f"climbs to {peak:.0f} °C and stays quiet"
    return f"{vessel.lime_charge:.0f} kg of lime into {vessel.water:.0f} kg of water {given} {does}. {vessel.advice}"


def _vessel_table(vessel: Vessel):
    rows = [
        ("the vessel", vessel.note),
        ("filled before slaking [L]", f"{1000 * vessel.fill:.0f} of {1000 * vessel.volume:.0f}"),
        ("hottest [°C]", f"{vessel.curve.peak_temperature - ZERO_CELSIUS:.0f}"),
        ("water gone as steam [kg]", f"{vessel.curve.steam[-1]:.2f}"),
        ("lime not yet slaked at the end [kg]", f"{vessel.curve.unslaked[-1]:.2f}"),
        ("hydrate made [kg]", f"{vessel.curve.hydrate:.1f}"),
    ]
    return frame(rows, columns=["what", "found"])


BATCH, COLD, GOOD = 12.0, 288.15, 0.93

water_not_to_boil = Exercise(
    question=(
        f"{BATCH:.0f} kg of lime, {100 * GOOD:.0f} % of which slakes, fall all at once into water at "
        f"{COLD - ZERO_CELSIUS:.0f} °C. How many kilograms of water keep it just below boiling?"
    ),
    answer=lambda: f"{BATCH * boil_limit.plain(COLD, GOOD)} kg",
    unit="kg",
    slips=(
        Slip("that is the usual water for putty, and it boils", lambda _: water_to_slake.plain(BATCH)),
        Slip("that is only what the lime binds; nothing is left to take up its heat", lambda _: BATCH * GOOD * BOUND),
        Slip("that is for one kilogram of lime", lambda right: right / BATCH),
        Slip("you took all of the lime for lime that slakes", lambda _: BATCH * boil_limit.plain(COLD, 1.0)),
    ),
    hint="Slide the water up until the steam is gone, and take it times the lime; or ask limekit.boil_limit.",
)

READ_AT, READINGS = (0.0, 2.0, 4.0, 6.0), (20.0, 38.0, 52.0, 62.0)


def _minutes_to_60() -> float:
    kelvin = np.array(READINGS) + ZERO_CELSIUS
    return read_reactivity.plain(MINUTE * np.array(READ_AT), kelvin).time_to_60 / MINUTE


time_in_the_test = Exercise(
    question=(
        f"A test reads {', '.join(f'{level:.0f}' for level in READINGS)} °C at "
        f"{', '.join(f'{at:.0f}' for at in READ_AT)} minutes. When did it reach 60 °C?"
    ),
    answer=lambda: f"{_minutes_to_60()} min",
    unit="min",
    tolerance=0.015,
    slips=(
        Slip("that is the first reading past it; it was reached between two readings", lambda _: READ_AT[-1]),
        Slip("that is the reading before it; it was reached between two readings", lambda _: READ_AT[-2]),
        Slip("that is half way between the readings, and the level is not", lambda _: (READ_AT[-1] + READ_AT[-2]) / 2),
        Slip("it is in seconds and called minutes", lambda right: 60.0 * right),
    ),
    hint="It lies between the last two readings, as far along as the level lies between their temperatures.",
)

LIME, WATER = 20.0, 60.0

vessel_for_a_batch = Exercise(
    question=f"How many litres must a vessel hold, at the least, for {LIME:.0f} kg of lime in {WATER:.0f} kg of water?",
    answer=lambda: f"{1000 * filled(LIME, WATER) / fact('slaking_fill_most')} L",
    unit="L",
    shown=".0f",
    slips=(
        Slip("that would be full to the brim: half is the most", lambda _: 1000 * filled(LIME, WATER)),
        Slip("you left out the lime, which takes room too", lambda _: 2 * WATER),
        Slip("that is the water alone", lambda _: WATER),
        Slip("a kilogram of lime takes less room than a litre", lambda _: 2 * (LIME + WATER)),
        OVER_1000,
        TIMES_1000,
    ),
    hint="Lime and water together may fill half of it.",
)
