"""What the kiln record may hold, section by section, and how each value is checked."""

from __future__ import annotations

import difflib
from pathlib import Path

from limekit import glossary
from limekit.chemistry import inert
from limekit.dates import read_date
from limekit.edge import take_one
from limekit.errors import InputError, not_among
from limekit.kiln.kiln import Kiln
from limekit.kiln.logged import PLACES
from limekit.limestone import MADE_OF, stone_kinds
from limekit.units import Unit

QUANTITIES = {
    "stone": ("calcium_carbonate", "magnesium_carbonate", "clay", "stone_moisture", "loss_on_ignition", "density"),
    "trial": ("reaction_coefficient", "lime_conductivity"),
    "burn": ("fire_temperature", "gas_temperature", "co2_fraction", "conversion", "air_temperature", "fuel_mass"),
    "kiln": (
        "stone",
        "kiln_diameter",
        "kiln_height",
        "height_to_diameter",
        "largest_stone",
        "smallest_stone",
        "chimney_height",
        "altitude",
    ),
    "fuel": ("fuel_moisture", "excess_air", "stoking_rate"),
    "lime": ("available_lime", "putty_volume", "putty_density", "putty_in_tank"),
    "people": ("helpers",),
}
RESULTS = {  # that older records kept, and that are worked out anew
    "trial": ("gas_temperature",),
    "burn": ("burning_time",),
    "kiln": ("efficiency", "kiln_efficiency"),
    "fuel": ("fuel_mass",),
}
FORMER = {"stone": {"moisture": "stone_moisture"}}  # once, and now
WORDS = {
    "stone": ("name", "stone_kind", "note"),
    "trial": ("sheet", "note"),
    "burn": ("logger", "logger_places", "note"),
    "kiln": ("kind", "wall", "note"),
    "fuel": ("name", "note"),
    "lime": ("available_lime_from", "putty_ready", "wanted_on", "note"),
    "people": ("note",),
}
DATES = {"lime": ("wanted_on",)}
WHOLE = ("helpers",)
CHOSEN = {"kiln": ("laid", "wall_kind", "cover")}  # words among those that a `Kiln` knows
EITHER = (  # that decide one thing: the later takes the place of the earlier, and of two at once the second counts
    ("putty_volume", "stone"),
    ("fire_temperature", "excess_air"),
    ("height_to_diameter", "kiln_height"),
    ("height_to_diameter", "kiln_diameter"),
)

CARBONATES = ("calcium_carbonate", "magnesium_carbonate")
DIGITS = 12  # that a kept quantity is written with


def unit_of_key(name: str) -> Unit:
    """Return the unit a quantity is kept in, the glossary's, with its kind."""
    shown = glossary.entry(name).unit
    if shown.startswith("delta_"):
        return Unit(shown, "difference")
    return Unit(shown, "level" if shown in ("degC", "degF", "K") else "amount")


def check(section: str, name: str, given) -> float | str:
    """Check a value and return it: a quantity as a float in the glossary's unit, words as they are."""
    asked = f"[{section}] {name}"
    if name in DATES.get(section, ()):
        return str(read_date(given, asked))
    if name in WORDS[section]:
        if not isinstance(given, str) or not given.strip() or not given.isprintable():
            raise InputError(asked, repr(given), "words on one line, in quotation marks", f'{name} = "..."')
        if name == "logger" and Path(given).name != given:
            raise InputError(asked, repr(given), "the name of a file beside this one", 'logger = "logger.csv"')
        if name == "stone_kind" and given not in stone_kinds():
            raise not_among(stone_kinds(), asked, given, 'stone_kind = "{near}"')
        if name == "logger_places":
            places_of(given)
        return given
    if name in CHOSEN.get(section, ()):
        return Kiln.read_field(name, given)
    example = f'{name} = "{glossary.entry(name).example}"'
    try:
        taken = take_one(given, unit_of_key(name), name)
    except InputError as fault:
        raise InputError(asked, fault.got, fault.wanted, example) from fault
    if name in WHOLE and taken != round(taken):
        raise InputError(asked, f"{given}", "a whole number", example)
    return taken


def places_of(given: str) -> dict[str, str]:
    """Return where a logger's thermometers hang, by their headings, from ``"T1: flue, T2: hearth"``."""
    found = {}
    for part in given.split(","):
        heading, _, place = (one.strip() for one in part.rpartition(":"))
        if not heading or place not in PLACES:
            wanted = f"headings, each with its place: {', '.join(PLACES)}"
            raise InputError("[burn] logger_places", repr(given), wanted, 'logger_places = "T1: flue, T2: hearth"')
        found[heading] = place
    return found


def known_keys(section: str) -> tuple[str, ...]:
    """Return every key a section may hold."""
    return (*QUANTITIES[section], *WORDS[section], *CHOSEN.get(section, ()))


def near(word: str, known, likeness: float = 0.8) -> str | None:
    """Return the known word that a misspelt one was meant to be, or None."""
    return next(iter(difflib.get_close_matches(word, known, n=1, cutoff=likeness)), None)


def nearest(word: str) -> str:
    """Return the figure of the record that is spelt most like a word, with its section."""
    every = {name: section for section in QUANTITIES for name in known_keys(section)}
    name = near(word.rpartition(".")[2], every, 0.0)
    return f"{every[name]}.{name}"


def faults_and_unknown(found: dict) -> tuple[list[str], tuple[str, ...]]:
    """Return what is wrong in a record, and what the kit does not know and leaves alone."""
    faults, unknown = [], []
    for section, values in found.items():
        homes = [one for one in QUANTITIES if section in QUANTITIES[one]]
        meant = near(section, QUANTITIES)
        if section in QUANTITIES and not isinstance(values, dict):
            faults.append(f'[{section}]: got {section} = {values!r}; wanted a section of its own, "[{section}]"')
        elif section in QUANTITIES:
            faults += _faults_in(section, values, unknown)
        elif homes and not isinstance(values, dict):
            faults.append(f'{section}: it stands under no section; put it under "[{homes[0]}]"')
        elif meant and meant not in found:
            faults.append(f'[{section}]: no such section; did you mean "[{meant}]"?')
        else:
            unknown.append(section)
    return faults, tuple(unknown)


def _faults_in(section: str, values: dict, unknown: list[str]) -> list[str]:
    faults = []
    for name, value in values.items():
        meant = near(name, known_keys(section))
        if name in known_keys(section):
            try:
                check(section, name, value)
            except InputError as fault:
                faults.append(f"{fault.asked}: got {fault.got}; wanted {fault.wanted}, for example {fault.example}")
        elif elsewhere := next((one for one in QUANTITIES if name in known_keys(one)), None):
            faults.append(f'[{section}] {name}: it does not stand here; put it under "[{elsewhere}]"')
        elif meant and meant not in values:
            faults.append(f'[{section}] {name}: no such key; did you mean "{meant}"?')
        else:
            unknown.append(f"{section}.{name}")
    return faults or (_faults_of_make_up(values) if section == "stone" else [])


def _faults_of_make_up(stone: dict) -> list[str]:
    """Return what is wrong with a stone's carbonates taken together."""
    shares = {name: check("stone", name, stone[name]) for name in CARBONATES if name in stone}
    try:
        inert.plain(*shares.values(), *[0.0] * (len(CARBONATES) - len(shares)))
    except InputError as fault:
        said = " and ".join(f"{name} = {stone[name]}" for name in shares)
        return [f"[stone] {said}: got {fault.got}; wanted {fault.wanted}"]
    return []


def instead(own: dict, invented: dict) -> dict:
    """Return what stands in for a stone's figures that its owner does not tell: of its kind, or of the invented one."""
    if "stone_kind" in own:
        figures = stone_kinds()[own["stone_kind"]].figures
        shares = {name: figures[name] for name in MADE_OF}
        invented = {"name": invented["name"], "density": f"{figures['density']:g} kg/m^3", **shares}
    elif own.keys() & set(CARBONATES):
        invented = {name: figure for name, figure in invented.items() if name != "stone_kind"}
    return _with_room(own, invented)


def _with_room(own: dict, invented: dict) -> dict:
    """Return a stone's invented figures, with no more of one carbonate than the learner's own other one leaves."""
    for mine, other in (CARBONATES, CARBONATES[::-1]):
        if mine in own and other not in own:
            rest = round(1.0 - check("stone", mine, own[mine]), DIGITS)
            invented = {**invented, other: min(check("stone", other, invented[other]), rest)}
    return invented
