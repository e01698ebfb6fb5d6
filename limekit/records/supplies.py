"""What to bring and what to ask before lighting: tools, materials, a group's slaking, checks, and the mixer's power."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass
from typing import Literal

from limekit import tables
from limekit.dates import read_date, shifted
from limekit.edge import Ground, edge, rests_on
from limekit.facts import fact
from limekit.lime.charges import SlakingPlan, slaking_plan
from limekit.lime.vessels import filled
from limekit.records.roster import groups, whole_number
from limekit.units import DAY, LITRES, MINUTE, Count, Watt


@dataclass(frozen=True)
class Item:
    """One thing to bring: how much in all, its mass about (kg, common practice, no source), for whom, and why.

    `works` are the rows of ``data/handwork.csv`` that want it, none where it is wanted whatever is done; `brought` is
    what of a workshop's file it is, empty for most.
    """

    name: str
    amount: float
    unit: str
    mass: float
    works: frozenset[str]
    brought: str
    each: Literal["everybody", "person", "group", "course", "kiln"]
    why: str
    tag: str

    def __str__(self) -> str:
        return " ".join(part for part in (f"{self.amount:g}", self.unit, self.name) if part)


TOLD = ("each", "why", "tag")
WHO_SHOWS = 1  # mixes and lays a panel too


def _items(file: str, thing: str, people: int, others: int, tins: int = 0) -> tuple[Item, ...]:
    whole_number("people", people, example="people=12")
    whole_number("others", others, least=0, example="others=2")
    times = {
        "everybody": people + others,
        "person": people + WHO_SHOWS,
        "group": len(groups(people)),
        "course": 1,
        "kiln": tins,
    }
    amounts = ((row, float(row["count"]) * times[row["each"]]) for row in tables.rows(file) if times[row["each"]])
    return tuple(
        Item(
            row[thing],
            amount,
            row.get("unit", ""),
            amount * float(row["kg"]),
            frozenset(row["work"].split()),
            row.get("brought", ""),
            *(row[name] for name in TOLD),
        )
        for row, amount in amounts
    )


def tools(people: int, others: int = 1) -> tuple[Item, ...]:
    """Return the tools a workshop wants, counted for its people and its groups (``data/tools.csv``).

    Parameters
    ----------
    people : int
        Who come to learn; what each learner has is counted for one more, who shows it.
    others : int
        Who teach or keep a fire: what guards against lime and fire is counted for everybody.

    Raises
    ------
    InputError
        If either is not a whole number, `people` of 1 or more.
    """
    return _items("tools", "tool", people, others)


def lime_tins(mass: float) -> Item:
    """Return the tins that hold so much drawn lime (kg), as it lies in a measure (``data/tools.csv``)."""
    tin = next(float(row["holds"]) for row in tables.rows("tools") if row["each"] == "kiln") / LITRES
    count = math.ceil(mass / fact("quicklime_bulk_density") / tin)
    return next(item for item in _items("tools", "tool", 1, 0, count) if item.each == "kiln")


def materials(people: int, others: int = 1) -> tuple[Item, ...]:
    """Return the materials a workshop wants, for its people and its groups (``data/materials.csv``).

    Parameters
    ----------
    people, others : int
        As for `tools`.

    Examples
    --------
    >>> print(materials(12)[0])
    65 L lime putty
    """
    return _items("materials", "material", people, others)


@dataclass(frozen=True)
class GroupSlaking:
    """What one group slakes, in SI floats: lime, water, the smallest vessel, and how the kit divides it."""

    lime_charge: float
    water: float
    vessel_volume: float
    plan: SlakingPlan

    def slowest(self, most: float) -> float:
        """Return the longest time to 60 °C of a lime that still slakes through in so many seconds, about."""
        intervals = most / MINUTE // self.plan.charges * MINUTE
        return fact("reactivity_time") * intervals / self.plan.charge_interval


def group_slaking() -> GroupSlaking:
    """Work out one group's slaking from the lime and water of ``data/materials.csv``, for a lime nobody has tested."""
    brought = {row["material"]: float(row["count"]) for row in tables.rows("materials")}
    lime, water = brought["quicklime"], brought["slaking water"]
    vessel = filled(lime, water) / fact("slaking_fill_most")
    return GroupSlaking(lime, water, vessel, slaking_plan.plain(lime, water, vessel))


@dataclass(frozen=True)
class Check:
    """A question with the day to ask it on, and what to do if the answer is no."""

    on: datetime.date
    question: str
    if_not: str
    tag: str


def burn_checks(burn_day) -> tuple[Check, ...]:
    """Return what to ask before lighting, about weather, fire bans, people and place, day by day.

    Parameters
    ----------
    burn_day : datetime.date or str
        As in "2028-03-04".

    Returns
    -------
    tuple of Check
        In order of their days. They are prompts, not a permit: local rules come first.

    Raises
    ------
    InputError
        If the date cannot be read.
    """
    day = read_date(burn_day, "burn_day")
    return tuple(
        Check(shifted(day, -int(row["days_before"]) * DAY), row["question"], row["if_not"], row["tag"])
        for row in tables.rows("burn_checks")
    )


@dataclass(frozen=True)
class PowerCheck:
    """Whether the mains or the generator starts a motor: "starts it", "may start it", "too small"."""

    starting_power_low: Watt
    starting_power_high: Watt
    verdict: str
    basis: tuple[Ground, ...] = ()


@edge
def power_check(rated_power: Watt, motor_power: Watt, starting_factor: Count | None = None) -> PowerCheck:
    """Say whether the mains or the generator starts the mixer.

    Parameters
    ----------
    rated_power : Watt
        What mains or generator may give all day; no short peak is counted on.
    motor_power : Watt
        What the motor draws while it runs; the shaft power on its plate is less.
    starting_factor : Count, optional
        Starting over running power; without it, the range that makers give, 2 to 7.

    Returns
    -------
    PowerCheck
        Start the mixer empty and first, before anything else is plugged in.

    Examples
    --------
    >>> power_check(rated_power="2 kW", motor_power="700 W").verdict
    'may start it'
    """
    usual = fact("motor_starting_factor")
    low, high = (motor_power * (starting_factor or end) for end in (usual.low, usual.high))
    verdict = "starts it" if rated_power >= high else "may start it" if rated_power >= low else "too small"
    return PowerCheck(low, high, verdict, basis=() if starting_factor else rests_on("motor_starting_factor"))
