"""The burns of a person's own kiln, one after another, as they are kept in its record under ``[[burns]]``."""

from __future__ import annotations

from dataclasses import dataclass, fields

from limekit import glossary
from limekit.dates import read_date
from limekit.edge import plain, take_one
from limekit.errors import InputError
from limekit.records.kiln_keys import near, unit_of_key
from limekit.units import from_si

BURNS = "burns"
WORDS = ("date", "log", "went_wrong", "note")
EXAMPLE = '[[burns]]\ndate = "2028-05-06"\nfiring_time = "27 h"\nfuel_mass = "680 kg"'


@dataclass(frozen=True)
class OwnBurn:
    """One burn as it was written down, in SI floats; None where nothing was.

    Parameters
    ----------
    date : str
        Of lighting, as in "2028-05-06".
    stone, firing_time, fuel_mass : float, optional
        Charged, from lighting to closing the kiln, and burnt.
    drawn, raw_stone, overburnt : float, optional
        Drawn in all; picked out of it raw; picked out of it dead.
    excess_air : float, optional
        As the log's replay found it.
    log : str
        Name of its log's file.
    went_wrong : str
        What went wrong, in words; such a burn is kept and told, and counts for no forecast.
    note : str
    """

    date: str
    stone: float | None = None
    firing_time: float | None = None
    fuel_mass: float | None = None
    drawn: float | None = None
    raw_stone: float | None = None
    overburnt: float | None = None
    excess_air: float | None = None
    log: str = ""
    went_wrong: str = ""
    note: str = ""


KEYS = tuple(field.name for field in fields(OwnBurn))


def read_burn(given: dict) -> OwnBurn:
    """Return one burn from what a person wrote of it.

    Raises
    ------
    InputError
        For a key that is not known, a figure out of its band, or no date.
    """
    for name in given:
        if name not in KEYS:
            meant = near(str(name), KEYS)
            example = f"{meant} = ..." if meant else EXAMPLE
            raise InputError("[[burns]]", f'"{name}"', f"one of {', '.join(KEYS)}", example)
    if "date" not in given:
        raise InputError("[[burns]]", "a burn with no date", "the day it was lit", EXAMPLE)
    return OwnBurn(**{name: _read(name, value) for name, value in given.items()})


def _read(name: str, value):
    if name == "date":
        return str(read_date(value, "[[burns]] date"))
    if name in WORDS:
        if not isinstance(value, str) or not value.isprintable():
            wanted = "words on one line, in quotation marks"
            raise InputError(f"[[burns]] {name}", repr(value), wanted, f'{name} = "..."')
        return value
    try:
        unit = unit_of_key(name)
        return plain(from_si(take_one(value, unit, name), unit, glossary.entry(name).unit))
    except InputError as fault:
        example = f'{name} = "{glossary.entry(name).example}"'
        raise InputError(f"[[burns]] {name}", fault.got, fault.wanted, example) from fault


def faults_of_burns(given) -> list[str]:
    """Return what is wrong in the burns of a record, a sentence each."""
    if not isinstance(given, list) or not all(isinstance(one, dict) for one in given):
        return [f"[[burns]]: got {given!r:.60}; wanted a table for each burn, for example {EXAMPLE}"]
    faults = []
    for number, one in enumerate(given, start=1):
        try:
            read_burn(one)
        except InputError as fault:
            wanted = f"wanted {fault.wanted}, for example {fault.example}"
            faults.append(f"{fault.asked}, burn {number}: got {fault.got}; {wanted}")
    return faults
