"""The burns of a person's own kiln, one after another, as they are kept in its record under ``[[burns]]``."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields

import numpy as np

from limekit import glossary
from limekit.dates import read_date
from limekit.edge import plain, take_one
from limekit.errors import InputError, told
from limekit.estimate import Estimate, Span, shown
from limekit.kiln.kiln import Kiln
from limekit.kiln.logged import BurnLog
from limekit.records.kiln_keys import near, unit_of_key
from limekit.units import HOUR, from_si

BURNS = "burns"
CHARGED = ("stone", "laid")  # known before the fire
WORDS = ("date", "log", "went_wrong", "note")
FOUND = ("excess_air", "loss_factor", "fuel_quality", "reaction_coefficient")  # by a refit
RANGED = re.compile(r"(\S+) \((\S+) to (\S+)\)(?: (\S+))?")
DIGITS = 3
EXAMPLE = '[[burns]]\ndate = "2028-05-06"\nfiring_time = "27 h"\nfuel_mass = "680 kg"'


@dataclass(frozen=True)
class OwnBurn:
    """One burn as it was written down, in SI floats; None where nothing was.

    Hours and fuel, beside the model's for the stone as it was laid, draw those of the kiln's next plan. All else is
    kept to read: what a refit finds are air, losses, wood and stone that thermometers alone hardly tell apart.

    Parameters
    ----------
    date : str
        Of lighting, as in "2028-05-06"; a burn is known by it.
    stone, firing_time, fuel_mass : float, optional
        Charged, from lighting to closing the kiln, and burnt.
    laid : str, optional
        How the charge lay, as a `Kiln` knows it.
    drawn, raw_stone, overburnt : float, optional
        Drawn in all; picked out of it raw; picked out of it dead.
    excess_air, loss_factor, fuel_quality, reaction_coefficient : Span, optional
        As the log's replay found them, with their 90 % ranges: air beyond the least, losses and the fuel's heat
        beside the plan's, and the stone's willingness, m/s. Written ``"0.48 (0.35 to 0.62)"``.
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
    laid: str | None = None
    drawn: float | None = None
    raw_stone: float | None = None
    overburnt: float | None = None
    excess_air: Span | None = None
    loss_factor: Span | None = None
    fuel_quality: Span | None = None
    reaction_coefficient: Span | None = None
    log: str = ""
    went_wrong: str = ""
    note: str = ""

    @property
    def charged(self) -> dict[str, float | str]:
        """What was told of its charge."""
        return {name: getattr(self, name) for name in CHARGED if getattr(self, name) is not None}


KEYS = tuple(field.name for field in fields(OwnBurn))


def read_burn(given: dict) -> OwnBurn:
    """Return one burn from what a person wrote; refuse a key that is not known, a figure out of band, and no date."""
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
    if name == "laid":
        return Kiln.read_field(name, value)
    try:
        return _read_range(name, value) if name in FOUND else _read_figure(name, value)
    except InputError as fault:
        example = f'{name} = "{glossary.entry(name).example}"'
        raise InputError(f"[[burns]] {name}", fault.got, fault.wanted, example) from fault


def _read_figure(name: str, value) -> float:
    unit = unit_of_key(name)
    return plain(from_si(take_one(value, unit, name), unit, glossary.entry(name).unit))


def _read_range(name: str, value) -> Span:
    """Read a figure with its range, as in "0.48 (0.35 to 0.62)", or alone."""
    ranged = RANGED.fullmatch(value.strip()) if isinstance(value, str) else None
    *figures, unit = ranged.groups(default="") if ranged else (value, value, value, "")
    found = Span(*(_read_figure(name, f"{one} {unit}" if unit else one) for one in figures))
    if not found.low <= found.middle <= found.high:
        raise InputError(name, repr(value), "a figure within its range", f'{name} = "2 (1 to 3)"')
    return found


def tell_burn(burn_log: BurnLog | None, replay) -> dict[str, str]:
    """Return what a burn's log, its hours to the last line with fuel, and its replay tell of it, as a record keeps it.

    Raises `InputError` if one is something else, or the log holds no fuel.
    """
    burn = {}
    if burn_log is not None:
        if not isinstance(burn_log, BurnLog) or not burn_log.fuel_fed.any():
            wanted = "what read_burn_log returns, with some fuel in it"
            raise InputError("burn_log", told(burn_log), wanted, 'burn_log=read_burn_log("my_burn_log.csv")')
        closed = burn_log.times[np.flatnonzero(burn_log.fuel_fed)[-1]]
        burn = {
            "firing_time": f"{shown(closed / HOUR, DIGITS)} h",
            "fuel_mass": f"{shown(burn_log.fuel_fed.sum(), DIGITS)} kg",
        }
    if replay is not None:
        found = {name: getattr(plain(replay), name, None) for name in FOUND}
        if not all(isinstance(one, Estimate) for one in found.values()):
            raise InputError("replay", told(replay), "what replay_burn returns", "replay=replay_burn(log, plan.firing)")
        burn |= {name: _written(name, one) for name, one in found.items()}
    return burn


def _written(name: str, told: Estimate) -> str:
    unit = glossary.entry(name).unit
    middle, low, high = (shown(one, DIGITS) for one in (told.median, told.low, told.high))
    return f"{middle} ({low} to {high}) {unit}".rstrip()


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
