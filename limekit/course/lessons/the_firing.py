"""The firing: a kiln burnt hour by hour, where its heat goes, and who feeds it when."""

from __future__ import annotations

import numpy as np

from limekit.balance import mass_balance
from limekit.chemistry import CALCIUM_CARBONATE, CALCIUM_OXIDE
from limekit.course.checks import Exercise, Slip
from limekit.course.controls import Choice
from limekit.course.explorer import Explorer
from limekit.course.moves import Moves
from limekit.estimate import tens
from limekit.frames import frame
from limekit.pictures import firing as pictures
from limekit.pictures import looks
from limekit.pictures.hour_by_hour import OF_TIMES, tide_drawing
from limekit.pictures.pages import Page, Sketch
from limekit.pictures.sheets import stokers_sheet
from limekit.plan.figures import figures
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.units import HOUR, MEGA, MM, ZERO_CELSIUS, quantity

WALLS = {
    "as the record's kiln has it": None,
    "one leaf of firebrick, nothing behind it": (("firebrick", 0.114),),
    "firebrick, 200 mm of wood ash, rubble": (("firebrick", 0.114), ("wood_ash", 0.2), ("rubble", 0.3)),
    "insulating firebrick, then the same": (("insulating_firebrick", 0.114), ("wood_ash", 0.2), ("rubble", 0.3)),
}
HOURLY = (
    "stoking_rate",
    "fuel_moisture",
    "fire_temperature",
    "hours",
    "largest_stone",
    "charge_fines",
    "chimney_height",
    "damper",
)
CUT = ("stoking_rate", "laid")
THRIFT = ("fuel_moisture", "stone_moisture", "fire_temperature", "chimney_height")


def firing_explorer(plan: Plan) -> Explorer:
    """Slide wood, fire, hours, stone, chimney and damper; see heat and burning by height and hour, and play it."""
    moves = Moves(plan, *HOURLY)
    return Explorer(
        [*moves.controls, moves.clock],
        model=moves,
        picture=lambda plan, time: pictures.maps(plan.firing.history, time, plan.firing.finish),
        words=_firing_words,
        table=lambda plan: plan.schedule.table(),
        presets={
            "no chimney": {"chimney_height": "0 m"},
            "wet wood": moves.same_fire | {"fuel_moisture": 0.45},
            "the damper forgotten shut": {"damper": 0.0},
            "its chips left in": {"charge_fines": 0.1},
            "let out while it looks done": {"hours": "20 h"},
            "driven hard": {"fire_temperature": "1300 degC"},
        },
        keeps=moves.kept,
        follows=moves.follows,
    )


def half_explorer(plan: Plan) -> Explorer:
    """Slide the hour, the stoking and how the charge is laid; see the kiln cut in half, its heart and its rim."""
    moves = Moves(plan, *CUT)
    return Explorer(
        [*moves.controls, moves.clock],
        model=moves,
        picture=lambda plan, time: pictures.cut_in_half(plan.kiln, plan.firing.history, time),
        words=_half_words,
        follows=moves.follows,
    )


def tide(plan: Plan) -> Sketch:
    """Show the kiln cut in half as a drawing, stone by stone, from a quarter of its firing to the end."""
    firing = plan.plain.firing
    times = np.multiply(OF_TIMES, firing.firing_time)
    burnt = np.interp(times, firing.history.times, firing.history.burnt)
    told = ", ".join(f"{100 * share:.0f} % at hour {time / HOUR:.0f}" for share, time in zip(burnt, times, strict=True))
    return Sketch(
        tide_drawing(firing),
        f"The fire's tide in the plan's kiln: the glow climbs from the vault, lime follows behind it. Burnt: {told}.",
    )


def _half_words(plan: Worked, time: float) -> str:
    firing = plan.firing
    at, rawest = min(time, firing.firing_time), firing.rawest
    rings = firing.history.rings or (firing.history,)
    heart, rim = (100 * float(np.interp(at, one.times, one.burnt)) for one in (rings[0], rings[-1]))
    pace = firing.limits[-1].hit if firing.limits else ""
    return (
        f"At hour {at / HOUR:.0f} the heart is {heart:.0f} % burnt and the stone by the wall {rim:.0f} %. When the "
        f"fire is let out, {ended(plan)}, the rawest lies at the {rawest.part}{rawest.ring}: the "
        f"{MM * rawest.size:.0f} mm stones are {100 * rawest.conversion:.0f} % burnt. {pace}"
    )


def ended(plan: Worked) -> str:
    """Say after how long, and with how much fuel, the fire is let out."""
    told = figures(plan, "hours", "fuel")
    modelled = f"{plan.firing.firing_time / HOUR:.0f} h"
    hours = told["hours"].words if plan.firing.finish else modelled
    own = f", by your own burns ({modelled} in the model)" if plan.learnt_hours.factor != 1.0 else ""
    return f"after {hours} and {told['fuel'].words} of fuel{own}"


def _firing_words(plan: Worked, time: float) -> str:
    firing, history = plan.firing, plan.firing.history
    at = min(time, firing.firing_time)
    stone, burnt = (
        looks.between(history.times, history.by_level(part), at)
        for part in (history.stone_temperature, history.conversion)
    )
    now = "When the fire is let out" if time >= firing.firing_time else f"At hour {time / HOUR:.0f}"
    state = (
        f"{now} the lowest stones are at {tens(stone[0] - ZERO_CELSIUS)} °C and {100 * burnt[0]:.0f} % burnt, the "
        f"topmost at {tens(stone[-1] - ZERO_CELSIUS)} °C and {100 * burnt[-1]:.0f} %"
    )
    if firing.finish:
        return (
            f"{state}; the charge is done {ended(plan)}, with {figures(plan, 'quicklime')['quicklime'].words} of "
            f"quicklime, {firing.raw_stone:.0f} kg of stone left raw and {100 * firing.overburnt_share:.0f} % of the "
            "charge at risk of dead-burning."
        )
    return f"{state}. Not done: {firing.limits[0]}"


def heat_explorer(plan: Plan) -> Explorer:
    """Slide wood, rain, fire, chimney and wall; see where the heat went, beside the plan's own firing."""
    moves = Moves(plan, *THRIFT)

    def both(changed: Worked) -> dict[str, Worked]:
        return {"as in the record": plan.plain, "as you set it": changed}

    return Explorer(
        [*moves.controls, Choice("wall", list(WALLS))],
        model=lambda wall, stone_moisture=None, **moved: moves(
            layers=WALLS[wall], **moves.rained_on(stone_moisture), **moved
        ),
        picture=lambda changed: pictures.budgets(
            {
                f"{who},<br>{figures(one, 'fuel')['fuel'].words} of fuel": one.firing.heat_budget
                for who, one in both(changed).items()
            }
        ),
        words=lambda changed: _spent_words(plan.plain, changed),
        table=lambda changed: _spent_table(both(changed)),
        presets={
            "no chimney": {"chimney_height": "0 m"},
            "wood just felled": moves.same_fire | {"fuel_moisture": 0.45},
            "stone left out in the rain": {"stone_moisture": 0.05},
            "a wall that keeps little heat": {"wall": list(WALLS)[-1]},
            "a cool fire": {"fire_temperature": "1000 degC"},
        },
        follows=moves.follows,
    )


def _spent_words(planned: Worked, changed: Worked) -> str:
    firing, budget = changed.firing, changed.firing.heat_budget
    told = figures(changed, "hours", "fuel")
    heat = max(budget.fuel_heat, 1.0)
    shares = {
        name: 100 * sum(budget[part] for part in parts) / heat for name, (parts, *_) in pictures.PARTS_OF_HEAT.items()
    }
    done = f"done after {told['hours'].words}" if firing.finish else f"not done after {firing.firing_time / HOUR:.0f} h"
    more = f"{changed.forecast.fuel.middle - planned.forecast.fuel.middle:+z.0f}"
    beside = "as by the record" if more == "+0" else f"{more} kg against the record's"
    return (
        f"Of the heat in {told['fuel'].words} of fuel ({beside}), {done}, "
        f"{shares['burning the stone']:.0f} % burnt the stone, {shares['up the flue']:.0f} % went up the flue, "
        f"{shares['left in the wall']:.0f} % stays in the wall and {shares['through wall, cover and mouth']:.0f} % "
        f"went through wall, cover and mouth. {shares['smoke and embers']:.0f} % left as smoke and embers: burners "
        "feed more than the air at hand can burn."
    )


def _spent_table(plans: dict[str, Worked]):
    rows = [
        {
            "where": name,
            **{
                f"{who} [MJ]": f"{sum(one.firing.heat_budget[part] for part in parts) / MEGA:z.0f}"
                for who, one in plans.items()
            },
        }
        for name, (parts, *_) in pictures.PARTS_OF_HEAT.items()
    ]
    return frame(rows)


def let_out_after(plan: Plan, hours: str) -> str:
    """Say what becomes of a plan's firing if it is let out so long after lighting, written as ``"24 h"``."""
    return plan.plain.but(hours=quantity(hours, "h").to("s").magnitude).firing.verdict


def watches(plan: Plan) -> Page:
    """Set the firing out as a schedule for those who stoke, on one page to print."""
    schedule, people, told = plan.plain.schedule, plan.plain.people, plan.figures
    most = max(schedule.turns, key=lambda turn: turn.rate)
    return Page(
        stokers_sheet(schedule, plan.record["fuel"]["name"], people.words),
        f"Stokers' schedule: {told['turns'].words} turns of {people.watch_time / HOUR:.0f} hours, "
        f"{told['fuel'].words} of fuel in all, at the most {HOUR * most.rate:.0f} kg an hour. {people.words}",
    )


CHARGED, CARBONATE, REACHED = 800.0, 0.95, 0.80

stone_left_raw = Exercise(
    question=(
        f"{CHARGED:.0f} kg of dry stone, {100 * CARBONATE:.0f} % calcium carbonate, is let out when "
        f"{100 * REACHED:.0f} % of the carbonate has burnt. How many kilos of carbonate are still stone?"
    ),
    answer=lambda: f"{mass_balance.plain(CHARGED, CARBONATE, REACHED).core} kg",
    unit="kg",
    tolerance=0.01,
    shown=".0f",
    slips=(
        Slip("that counts the clay and sand too, which are no carbonate", lambda right: right / CARBONATE),
        Slip("that is the carbonate that has burnt", lambda right: right * REACHED / (1.0 - REACHED)),
        Slip("that is its quicklime, as if it had burnt", lambda right: right * CALCIUM_OXIDE / CALCIUM_CARBONATE),
    ),
    hint="limekit.mass_balance(stone='800 kg', calcium_carbonate=0.95, conversion=0.8).core does the sum.",
)

RATE, ARMFUL = 20.0, 6.0

minutes_an_armful = Exercise(
    question=(
        f"The schedule asks for {RATE:.0f} kg of wood an hour, and an armful of your wood weighs {ARMFUL:.0f} kg. "
        "How many minutes lie between one armful and the next?"
    ),
    answer=lambda: f"{ARMFUL / RATE} h",
    unit="min",
    tolerance=0.03,
    shown=".0f",
    slips=(
        Slip("that is in hours and called minutes", lambda right: right / 60.0),
        Slip("you divided the other way round: that is minutes for each kilo an hour", lambda _: 60.0 * RATE / ARMFUL),
        Slip("that is how many armfuls go in in an hour", lambda _: RATE / ARMFUL),
        Slip("that is the minutes for one kilo", lambda _: 60.0 / RATE),
    ),
    hint="One armful's share of an hour's wood is its share of the hour.",
)
