"""The firing: a kiln burnt hour by hour, where its heat goes, and who feeds it when."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
import pandas as pd

from limekit.balance import mass_balance
from limekit.chemistry import CALCIUM_CARBONATE, CALCIUM_OXIDE
from limekit.course.checks import Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.recorded import design_of, firing_of
from limekit.estimate import tens
from limekit.facts import fact
from limekit.kiln.column.charge import read_sizes
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.firing import Firing, fire_kiln
from limekit.kiln.keeping import usual_stoking_rate
from limekit.kiln.lighting import BESIDE
from limekit.kiln.schedule import stoking_schedule
from limekit.kiln.sizing import size_kiln
from limekit.pictures import firing as pictures
from limekit.pictures import looks
from limekit.pictures.pages import Page
from limekit.pictures.sheets import stokers_sheet
from limekit.records.kiln_record import Record
from limekit.records.roster import people_to_watch
from limekit.stone.assessment import Assessment
from limekit.units import DAY, HOUR, MEGA, MM, ZERO_CELSIUS

LONGEST = 5.0 * DAY
REMEMBERED = 3
PATIENCE = 72.0  # h, at which the hours start
WALLS = {
    "as the record's kiln has it": None,
    "one leaf of firebrick, nothing behind it": (("firebrick", 0.114),),
    "firebrick, 200 mm of wood ash, rubble": (("firebrick", 0.114), ("wood_ash", 0.2), ("rubble", 0.3)),
    "insulating firebrick, then the same": (("insulating_firebrick", 0.114), ("wood_ash", 0.2), ("rubble", 0.3)),
}
ENDS = {
    "fuel_moisture": {"low": 0.1, "high": 0.6},
    "fire_temperature": {"low": "1000 degC", "high": "1300 degC"},
    "chimney_height": {"high": "6 m"},
    "hours": {"low": "6 h", "high": "96 h"},
    "stoking_rate": {"low": "5 kg/h"},
    "damper": {"low": 0.0},
    "charge_fines": {"high": 0.2},
    "stone_moisture": {"high": 0.06},
    "conversion": {"low": 0.7, "high": 0.99},
}
LOOK_AT = Slider("time", start="96 h", low="0 h", high="96 h", step=2, label="look at hour", plays=True, looks=True)


class OwnKiln:
    """A record's kiln, to be fired again and again with something changed.

    ``fire`` takes what is changed, as `limekit.fire_kiln` does, and largest_stone, charge_fines and
    fuel_moisture; it remembers the last firings.
    """

    def __init__(self, record: Record, assessment: Assessment) -> None:
        self.fire = functools.lru_cache(REMEMBERED)(self._fire)
        self.burning, self.size = firing_of(record, assessment), design_of(record, assessment).size
        self.start = {
            "fuel_moisture": self.burning["fuel"].moisture,
            "fire_temperature": f"{self.burning['fire'].fire_temperature - ZERO_CELSIUS} degC",
            "largest_stone": f"{MM * self.size.largest_stone} mm",
            "chimney_height": f"{self.size.chimney_height} m",
            "hours": f"{PATIENCE} h",
            "stoking_rate": f"{HOUR * usual_stoking_rate(self.size.stone):.0f} kg/h",
            "damper": 1.0,
            "charge_fines": 0.0,
            "stone_moisture": self.burning["stone"].stone_moisture,
            "conversion": self.burning["fire"].conversion,
        }

    def sliders(self, *names: str) -> list[Slider]:
        """Return sliders that start where the record is."""
        return [Slider(name, start=self.start[name], **ENDS.get(name, {})) for name in names]

    def cases(self, names: tuple[str, ...], changes: dict[str, dict], **others) -> dict[str, dict]:
        """Return cases for an explorer: its sliders of these names, and `others`, at their start but for a change."""
        start = {name: self.start[name] for name in names} | others
        return {case: start | changed for case, changed in changes.items()}

    def _fire(self, largest_stone=None, charge_fines: float = 0.0, hours: float = LONGEST, **changed) -> Firing:
        largest = largest_stone or self.size.largest_stone
        smallest = largest * self.size.smallest_stone / self.size.largest_stone
        size = size_kiln.plain(
            self.size.stone, largest, smallest_stone=smallest, height_to_diameter=self.size.height_to_diameter
        )
        dry = 1.0 - self.burning["stone"].stone_moisture
        size = size.but(
            **{name: getattr(self.size, name) for name in BESIDE},
            stone=size.stone * dry / (1.0 - changed.get("stone_moisture", 1.0 - dry)),
        )
        sizes = read_sizes(None, smallest, largest)
        if charge_fines:
            clean = 1.0 - charge_fines
            sizes = {float(fact("fines_size")): charge_fines} | {one: clean * share for one, share in sizes.items()}
        return fire_kiln.plain(size, hours=hours, stone_sizes=sizes, **(self.burning | changed))

    def kept(self, firing: Firing) -> dict:
        """Return what of a firing goes into the record."""
        plan = firing.plan
        return {
            "kiln": {
                "largest_stone": f"{MM * plan.kiln.largest_stone:.0f} mm",
                "smallest_stone": f"{MM * plan.kiln.smallest_stone:.0f} mm",
                "chimney_height": f"{plan.kiln.chimney_height:.2f} m",
                "efficiency": float(f"{firing.efficiency:.2g}"),
            },
            "fuel": {
                "fuel_moisture": plan.fuel.fuel_moisture,
                "excess_air": float(f"{plan.fire.excess_air:.2g}"),
                "fuel_mass": f"{firing.fuel_used:.0f} kg",
            },
        }

    def fuel_at(self, fuel_moisture: float) -> BurntFuel:
        """Return its fuel at some moisture."""
        return BurntFuel.of(self.burning["fuel"].kind, fuel_moisture, self.burning["air_temperature"])


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


def firing_explorer(record: Record, assessment: Assessment) -> Explorer:
    """Slide wood, fire, hours, stone, chimney and damper; see heat and burning by height and hour, and play it.

    Parameters
    ----------
    record : Record
        Its kiln is fired.
    assessment : Assessment
        Of the trial; its stone is burnt.
    """
    kiln = OwnKiln(record, assessment)
    return Explorer(
        [*kiln.sliders(*HOURLY), LOOK_AT],
        model=kiln.fire,
        picture=lambda firing, time: pictures.maps(firing.history, time, firing.finish),
        words=_firing_words,
        table=lambda firing: stoking_schedule.plain(firing).table(),
        presets=kiln.cases(
            HOURLY,
            {
                "no chimney": {"chimney_height": "0 m"},
                "wet wood": {"fuel_moisture": 0.45},
                "the damper forgotten shut": {"damper": 0.0},
                "its chips left in": {"charge_fines": 0.1},
                "let out while it looks done": {"hours": "20 h"},
                "driven hard": {"fire_temperature": "1300 degC"},
            },
        ),
        keeps=kiln.kept,
    )


LAID = {"by hand, on a vault": "by hand", "by hand, with flues": "with flues", "poured on a grate": "poured"}


def half_explorer(record: Record, assessment: Assessment) -> Explorer:
    """Slide the hour, the stoking and how the charge is laid; see the kiln cut in half, its heart and its rim.

    Parameters
    ----------
    record : Record
        Its kiln is fired.
    assessment : Assessment
        Of the trial; its stone is burnt.
    """
    kiln = OwnKiln(record, assessment)
    return Explorer(
        [
            *kiln.sliders("stoking_rate", "conversion"),
            Choice("laid", LAID, label="how the charge is laid"),
            LOOK_AT,
        ],
        model=kiln.fire,
        picture=lambda firing, time: pictures.cut_in_half(firing.plan.kiln, firing.history, time),
        words=_half_words,
    )


def _half_words(firing: Firing, time: float) -> str:
    at = min(time, firing.firing_time)
    rings = firing.history.rings or (firing.history,)
    heart, rim = (100 * float(np.interp(at, one.times, one.burnt)) for one in (rings[0], rings[-1]))
    rawest = min(firing.places, key=lambda place: place.conversion)
    pace = firing.limits[-1].hit if firing.limits else ""
    out, burnt = f"after {firing.firing_time / HOUR:.0f} h and {firing.fuel_used:.0f} kg of fuel", rawest.conversion
    return (
        f"At hour {at / HOUR:.0f} the heart is {heart:.0f} % burnt and the stone by the wall {rim:.0f} %. When the "
        f"fire is let out, {out}, the rawest lies at the {rawest.part}{rawest.ring}: the {MM * rawest.size:.0f} mm "
        f"stones are {100 * burnt:.0f} % burnt. {pace}"
    )


def _firing_words(firing: Firing, time: float) -> str:
    history, at = firing.history, min(time, firing.firing_time)
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
            f"{state}; the charge is done after {firing.finish / HOUR:.0f} h and {firing.fuel_used:.0f} kg of fuel, "
            f"with {firing.quicklime:.0f} kg of quicklime, {firing.raw_stone:.0f} kg of stone left raw and "
            f"{100 * firing.overburnt_share:.0f} % of the charge at risk of dead-burning."
        )
    return f"{state}. Not done: {firing.limits[0]}"


@dataclass(frozen=True)
class Spent:
    """The heat of two firings, the kiln's own and a changed one, in plain SI floats."""

    planned: Firing
    changed: Firing


THRIFT = ("fuel_moisture", "stone_moisture", "fire_temperature", "chimney_height")


def heat_explorer(record: Record, assessment: Assessment) -> Explorer:
    """Slide wood, rain, fire, chimney and wall; see where the heat went, beside the record's own firing.

    Parameters
    ----------
    record : Record
        Its kiln is fired.
    assessment : Assessment
        Of the trial; its stone is burnt.
    """
    kiln = OwnKiln(record, assessment)
    planned = kiln.fire()
    return Explorer(
        [*kiln.sliders(*THRIFT), Choice("wall", {name: name for name in WALLS})],
        model=lambda wall, **changed: Spent(planned, kiln.fire(layers=WALLS[wall], **changed)),
        picture=lambda spent: pictures.budgets(
            {
                f"{who},<br>{firing.fuel_used:.0f} kg of fuel": firing.heat_budget
                for who, firing in (("as in the record", spent.planned), ("as you set it", spent.changed))
            }
        ),
        words=_spent_words,
        table=_spent_table,
        presets=kiln.cases(
            THRIFT,
            {
                "no chimney": {"chimney_height": "0 m"},
                "wood just felled": {"fuel_moisture": 0.45},
                "stone left out in the rain": {"stone_moisture": 0.05},
                "a wall that keeps little heat": {"wall": list(WALLS)[-1]},
                "a cool fire": {"fire_temperature": "1000 degC"},
            },
            wall=next(iter(WALLS)),
        ),
    )


def _spent_words(spent: Spent) -> str:
    firing, budget = spent.changed, spent.changed.heat_budget
    heat = max(budget.fuel_heat, 1.0)
    shares = {
        name: 100 * sum(budget[part] for part in parts) / heat for name, (parts, *_) in pictures.PARTS_OF_HEAT.items()
    }
    done = (
        f"done after {firing.finish / HOUR:.0f} h"
        if firing.finish
        else f"not done after {firing.firing_time / HOUR:.0f} h"
    )
    more = f"{firing.fuel_used - spent.planned.fuel_used:+z.0f}"
    beside = "as by the record" if more == "+0" else f"{more} kg against the record's"
    return (
        f"Of the heat in {firing.fuel_used:.0f} kg of fuel ({beside}), {done}, "
        f"{shares['burning the stone']:.0f} % burnt the stone, {shares['up the flue']:.0f} % went up the flue, "
        f"{shares['left in the wall']:.0f} % stays in the wall and {shares['through wall, cover and mouth']:.0f} % "
        "went through wall, cover and mouth."
    )


def _spent_table(spent: Spent) -> pd.DataFrame:
    rows = [
        {
            "where": name,
            **{
                f"{who} [MJ]": f"{sum(budget[part] for part in parts) / MEGA:z.0f}"
                for who, budget in (("record", spent.planned.heat_budget), ("as set", spent.changed.heat_budget))
            },
        }
        for name, (parts, *_) in pictures.PARTS_OF_HEAT.items()
    ]
    return pd.DataFrame(rows)


def watches(record: Record, assessment: Assessment) -> Page:
    """Set the firing out as a schedule for those who stoke, on one page to print.

    Parameters
    ----------
    record : Record
        Its kiln is fired.
    assessment : Assessment
        Of the trial; its stone is burnt.
    """
    kiln = OwnKiln(record, assessment)
    schedule = stoking_schedule.plain(kiln.fire())
    most = max(schedule.turns, key=lambda turn: turn.rate)
    return Page(
        stokers_sheet(schedule, record["fuel"]["name"]),
        f"Stokers' schedule: {len(schedule.turns)} turns of {fact('watch_time') / HOUR:.0f} hours, "
        f"{schedule.fuel_used:.0f} kg of fuel in all, at the most {HOUR * most.rate:.0f} kg an hour. Two at a time, "
        f"that takes {people_to_watch.plain(schedule.firing_time)} people at the least, so that everybody sleeps.",
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
