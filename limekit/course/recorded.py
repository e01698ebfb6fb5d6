"""The fuel and the kiln that a learner's record describes, for the lessons that work on them."""

from __future__ import annotations

from limekit.edge import plain
from limekit.grading import StoneVerdict, judge_stone
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.design import KilnDesign, design_kiln
from limekit.kiln.keeping import Fire
from limekit.limestone import MADE_OF
from limekit.records.kiln_keys import CHOSEN
from limekit.records.kiln_record import Record
from limekit.records.trial_sheet import read_trial
from limekit.stone.assessment import Assessment
from limekit.stone.trial import Trial

BURNT = ("calcium_carbonate", "magnesium_carbonate")
DESIGNED = {
    "largest_stone": "kiln.largest_stone",
    "smallest_stone": "kiln.smallest_stone",
    "chimney_height": "kiln.chimney_height",
    "efficiency": "kiln.efficiency",
    "conversion": "burn.conversion",
    "gas_temperature": "burn.gas_temperature",
    "co2_fraction": "burn.co2_fraction",
    "burning_time": "burn.burning_time",
    "excess_air": "fuel.excess_air",
    "putty_density": "lime.putty_density",
}
AROUND = {"altitude": "kiln.altitude", "air_temperature": "burn.air_temperature"}
OF_THINGS = ("kiln.stone", *(f"stone.{name}" for name in MADE_OF), "fuel.name", "fuel.fuel_moisture")
KEYS = (*DESIGNED.values(), *OF_THINGS)  # what a design rests on


def inside_of(record: Record) -> tuple[float, float]:
    """Return the diameter and the height inside of the kiln a record describes, in metres."""
    return plain(record.quantity("kiln.kiln_diameter")), plain(record.quantity("kiln.kiln_height"))


def verdict_of(record: Record) -> StoneVerdict:
    """Return what lime the record's stone gives and how it is kept."""
    stone = plain(record.stone)
    return judge_stone.plain(stone.calcium_carbonate, stone.magnesium_carbonate, stone.clay)


def trial_of(record: Record, path) -> Trial:
    """Read a trial's sheet with the carbonates that the record gives the stone.

    The record's moisture is the stone's as it comes to the kiln. Pieces of a trial are dried first,
    so they are read as dry.

    Parameters
    ----------
    record : Record
    path : path-like
        As for `limekit.read_trial`.

    Returns
    -------
    Trial
    """
    return read_trial(path, **{name: getattr(record.stone, name) for name in BURNT})


def design_of(record: Record, assessment: Assessment | None = None, **changed) -> KilnDesign:
    """Draw up the kiln a record describes.

    Parameters
    ----------
    record : Record
        What the learner has not decided comes from the invented example.
    assessment : Assessment, optional
        Of the trial; with it the burning time is the trial's forecast, not the record's figure.
    **changed
        Arguments of `limekit.design_kiln` that take the place of the record's, in plain SI floats;
        ``putty_volume`` takes the stone's.

    Returns
    -------
    KilnDesign
        In plain SI floats.

    Raises
    ------
    InputError
        If no such kiln can be drawn up.
    """
    known = {name: plain(record.quantity(key)) for name, key in (DESIGNED | AROUND).items()} | standing(record)
    mass = None if "putty_volume" in changed else changed.pop("stone", plain(record.quantity("kiln.stone")))
    known["stone"] = plain(record.stone).but(mass=mass)
    fuel = plain(record.fuel)
    known["fuel"] = fuel.but(kind=changed.pop("fuel", fuel.kind))
    if mass is not None and record.is_own("kiln.kiln_diameter") and record.is_own("kiln.kiln_height"):
        diameter, height = inside_of(record)
        known["height_to_diameter"] = height / diameter
    known |= changed
    if assessment is not None:
        asked = (known[name] for name in ("largest_stone", "gas_temperature", "co2_fraction", "conversion"))
        hours, found = Assessment.forecast.plain(plain(assessment), *asked), plain(assessment).stone
        told = {name: getattr(found, name) for name in ("reaction_coefficient", "lime_conductivity")}
        known["stone"] = known["stone"].but(**told)
        known |= {"burning_time": hours.median, "burning_time_low": hours.low, "burning_time_high": hours.high}
    return design_kiln.plain(**known)


def whose(record: Record) -> str:
    """Say which of the figures a design rests on are the learner's own and which are still invented."""
    words = {True: [], False: []}
    for key in KEYS:
        words[record.is_own(key)].append(key.split(".")[1].replace("_", " "))
    if not words[True]:
        return "Every figure of this design is the invented example's; none is yours yet."
    invented = f" Still the invented example's: {', '.join(words[False])}." if words[False] else ""
    fuel = str(record["fuel"]["name"])
    unknown = "" if record.fuel.kind in fuel.lower() else f' The kit has no analysis of "{fuel}" and counts it as oak.'
    return f"Yours: {', '.join(words[True])}.{invented}{unknown}"


def around(record: Record) -> dict[str, float]:
    """Return where and in what weather the kiln of a record stands: altitude and air temperature, SI floats."""
    return {name: plain(record.quantity(key)) for name, key in AROUND.items()}


def standing(record: Record) -> dict[str, str]:
    """Return what a record says of how its charge is laid, its wall and its cover, where it says so."""
    return {name: record["kiln"][name] for name in CHOSEN["kiln"] if name in record["kiln"]}


def firing_of(record: Record, assessment: Assessment | None = None) -> dict:
    """Return fuel, stone, fire and air of a record, as `limekit.fire_kiln` takes them, in plain SI floats.

    Parameters
    ----------
    record : Record
        Its spare air says how hot the fire is.
    assessment : Assessment, optional
        Of the trial; with it the stone burns as the trial's did, not as the record has it.

    Returns
    -------
    dict
    """
    fuel, stone = plain(record.fuel), plain(record.stone)
    outside = around(record)
    burnt = BurntFuel.of(fuel.kind, fuel.moisture, outside["air_temperature"])
    if assessment is not None:
        found = plain(assessment.stone)
        stone = stone.but(reaction_coefficient=found.reaction_coefficient, lime_conductivity=found.lime_conductivity)
    fire = Fire.plain(
        fire_temperature=burnt.temperature(plain(record.quantity("fuel.excess_air"))),
        conversion=plain(record.quantity("burn.conversion")),
    )
    return {"fuel": fuel, "stone": stone, "fire": fire, **outside, **standing(record)}
