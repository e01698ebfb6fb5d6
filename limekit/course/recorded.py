"""The fuel and the kiln that a learner's record describes, for the lessons that work on them."""

from __future__ import annotations

from limekit.edge import plain
from limekit.facts import fact
from limekit.fire.fuel import FuelName, fuels
from limekit.grading import StoneVerdict, judge_stone
from limekit.kiln.column.stoking import Fuel
from limekit.kiln.design import KilnDesign, design_kiln
from limekit.records.kiln_record import Record
from limekit.records.trial_sheet import read_trial
from limekit.stone.assessment import Assessment
from limekit.stone.trial import Trial

KEYS = {
    "stone": "kiln.stone",
    "largest_stone": "kiln.largest_stone",
    "smallest_stone": "kiln.smallest_stone",
    "chimney_height": "kiln.chimney_height",
    "efficiency": "kiln.kiln_efficiency",
    "calcium_carbonate": "stone.calcium_carbonate",
    "magnesium_carbonate": "stone.magnesium_carbonate",
    "moisture": "stone.moisture",
    "conversion": "burn.conversion",
    "gas_temperature": "burn.gas_temperature",
    "co2_fraction": "burn.co2_fraction",
    "burning_time": "burn.burning_time",
    "fuel_moisture": "fuel.fuel_moisture",
    "excess_air": "fuel.excess_air",
    "putty_density": "lime.putty_density",
}
FIRED = {
    "moisture": "fuel.fuel_moisture",
    "conversion": "burn.conversion",
    "chimney_height": "kiln.chimney_height",
    "calcium_carbonate": "stone.calcium_carbonate",
    "magnesium_carbonate": "stone.magnesium_carbonate",
    "stone_moisture": "stone.moisture",
    "reaction_coefficient": "trial.reaction_coefficient",
    "lime_conductivity": "trial.lime_conductivity",
}

CARBONATES = ("stone.calcium_carbonate", "stone.magnesium_carbonate")


def fuel_named(record: Record) -> FuelName:
    """Return the fuel that the record's own words name, as "oak" in "red oak, split"; oak where they name none."""
    words = str(record["fuel"]["name"]).lower()
    return next((name for name in fuels() if name in words), "oak")


def inside_of(record: Record) -> tuple[float, float]:
    """Return the diameter and the height inside of the kiln a record describes, in metres."""
    return plain(record.quantity("kiln.kiln_diameter")), plain(record.quantity("kiln.kiln_height"))


def _clay(record: Record) -> float | None:
    """Return the clay in the record's stone; None where the stone is the learner's own and nobody has analysed it."""
    unknown = any(map(record.is_own, CARBONATES)) and not record.is_own("stone.clay")
    return None if unknown else plain(record.quantity("stone.clay"))


def verdict_of(record: Record) -> StoneVerdict:
    """Return what lime the record's stone gives and how it is kept."""
    return judge_stone.plain(*(plain(record.quantity(key)) for key in CARBONATES), _clay(record))


def trial_of(record: Record, path) -> Trial:
    """Read a trial's sheet with the carbonates that the record gives the stone.

    The record's moisture is the stone's as it comes to the kiln. Pieces of a trial are dried first,
    so they are read as air-dry.

    Parameters
    ----------
    record : Record
    path : path-like
        As for `limekit.read_trial`.

    Returns
    -------
    Trial
    """
    return read_trial(path, **{key.removeprefix("stone."): record.quantity(key) for key in CARBONATES})


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
    known = {name: plain(record.quantity(key)) for name, key in KEYS.items()} | {"fuel": fuel_named(record)} | changed
    known["clay"] = _clay(record)
    if "putty_volume" in changed:
        del known["stone"]
    elif record.is_own("kiln.kiln_diameter") and record.is_own("kiln.kiln_height"):
        diameter, height = inside_of(record)
        known["height_to_diameter"] = height / diameter
    if assessment is not None:
        hours = Assessment.forecast.plain(
            plain(assessment),
            known["largest_stone"],
            known["gas_temperature"],
            known["co2_fraction"],
            known["conversion"],
        )
        known |= {
            "burning_time": hours.median,
            "burning_time_low": hours.low,
            "burning_time_high": hours.high,
        }
    return design_kiln.plain(**known)


def whose(record: Record) -> str:
    """Say which of the figures a design rests on are the learner's own and which are still invented."""
    keys = [*KEYS.values(), "fuel.name"]
    words = {True: [], False: []}
    for key in keys:
        words[record.is_own(key)].append(key.split(".")[1].replace("_", " "))
    if not words[True]:
        return "Every figure of this design is the invented example's; none is yours yet."
    invented = f" Still the invented example's: {', '.join(words[False])}." if words[False] else ""
    fuel = str(record["fuel"]["name"])
    unknown = (
        "" if fuel_named(record) in fuel.lower() else f' The kit has no analysis of "{fuel}" and counts it as oak.'
    )
    return f"Yours: {', '.join(words[True])}.{invented}{unknown}"


def firing_of(record: Record, assessment: Assessment | None = None) -> dict:
    """Return what a record says of fuel, fire and stone, as `limekit.fire_kiln` asks for it, in plain SI floats.

    Parameters
    ----------
    record : Record
        Its spare air says how hot the fire is. The fire is kept small for the stokers' first turn.
    assessment : Assessment, optional
        Of the trial; with it the stone burns as the trial's did, not as the record has it.

    Returns
    -------
    dict
    """
    known = {name: plain(record.quantity(key)) for name, key in FIRED.items()} | {"fuel": fuel_named(record)}
    fire = Fuel.of(known["fuel"], known["moisture"], fact("start_temperature"))
    known["fire_temperature"] = fire.temperature(plain(record.quantity("fuel.excess_air")))
    known["heat_up_time"] = fact("watch_time")
    if assessment is not None:
        known |= {
            name: plain(getattr(assessment, name)).median for name in ("reaction_coefficient", "lime_conductivity")
        }
    return known
