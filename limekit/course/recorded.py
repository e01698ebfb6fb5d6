"""The fuel and the kiln that a learner's record describes, for the lessons that work on them."""

from __future__ import annotations

from limekit.edge import plain
from limekit.fire.fuel import FuelName, fuels
from limekit.kiln.design import KilnDesign, design_kiln
from limekit.records.kiln_record import Record

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
    "burning_time": "burn.burning_time",
    "fuel_moisture": "fuel.fuel_moisture",
    "excess_air": "fuel.excess_air",
}
FIRED = {
    "moisture": "fuel.fuel_moisture",
    "conversion": "burn.conversion",
    "fire_temperature": "burn.fire_temperature",
    "chimney_height": "kiln.chimney_height",
    "calcium_carbonate": "stone.calcium_carbonate",
    "magnesium_carbonate": "stone.magnesium_carbonate",
    "stone_moisture": "stone.moisture",
    "reaction_coefficient": "trial.reaction_coefficient",
    "lime_conductivity": "trial.lime_conductivity",
}


def fuel_named(record: Record) -> FuelName:
    """Return the fuel that the record's own words name, as "oak" in "red oak, split"; oak where they name none."""
    words = str(record["fuel"]["name"]).lower()
    return next((name for name in fuels() if name in words), "oak")


def design_of(record: Record) -> KilnDesign:
    """Draw up the kiln a record describes.

    Parameters
    ----------
    record : Record
        What the learner has not decided comes from the invented example.

    Returns
    -------
    KilnDesign
        In plain SI floats.

    Raises
    ------
    InputError
        If no such kiln can be drawn up.
    """
    known = {name: plain(record.quantity(key)) for name, key in KEYS.items()}
    if record.is_own("kiln.kiln_diameter") and record.is_own("kiln.kiln_height"):
        diameter, height = (plain(record.quantity(f"kiln.{name}")) for name in ("kiln_diameter", "kiln_height"))
        known["height_to_diameter"] = height / diameter
    return design_kiln.plain(**known, fuel=fuel_named(record))


def firing_of(record: Record) -> dict:
    """Return what a record says of fuel, fire and stone, as `limekit.fire_kiln` asks for it, in plain SI floats."""
    return {name: plain(record.quantity(key)) for name, key in FIRED.items()} | {"fuel": fuel_named(record)}
