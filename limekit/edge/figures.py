"""Figures on their way in and out: what a person wrote becomes SI floats, and SI floats become quantities again."""

from __future__ import annotations

import dataclasses
import functools

import numpy as np

from limekit import glossary
from limekit.edge.asked import field_hints, is_thing, unit_of
from limekit.errors import InputError, told
from limekit.estimate import shown
from limekit.units import Unit, from_si, plain_number, quantity, to_si

ROUNDING = 1e-9
LEFT_OUT = "left out"  # said of what a model shall not reckon with; data/left_out.csv
DIGITS = 4  # of a figure that is read back to a person
MOST_SHOWN = 12  # values of an array written out one by one


def written(value, unit: Unit, entry: glossary.Entry) -> str:
    """Return a figure, or several, as a person reads it: in the glossary's unit, and never as a power of ten."""
    if isinstance(value, float) and value == entry.left_out:
        return LEFT_OUT
    if getattr(value, "size", 1) > MOST_SHOWN:
        ends = " to ".join(written(end, unit, entry) for end in (value.min(), value.max()))
        return f"{value.size} values, {ends}"
    return shown(from_si(value, unit, entry.unit), DIGITS)


@functools.cache
def band(unit: Unit, name: str) -> tuple[float, float, str]:
    """Return the ends of a quantity's plausible band in SI, with room for rounding, and the band in words."""
    entry = glossary.entry(name)
    low, high = (to_si(quantity(end, entry.unit), unit, name, entry.written) for end in (entry.low, entry.high))
    words = f"{written(low, unit, entry)} to {written(high, unit, entry)}"
    words = words if entry.left_out is None else f'{words}, or "{LEFT_OUT}"'
    return low - ROUNDING * abs(low), high + ROUNDING * abs(high), words


def take(given, unit: Unit, name: str):
    """Convert one argument, by its name in the glossary, to SI and check that it is finite and plausible.

    Several come together as a list, an array, a pandas column, or a Quantity of one; ``"left out"`` stands where the
    glossary knows what leaves the quantity out of a model. Raises `InputError` with the argument's name, what came,
    what is wanted, and an example.
    """
    entry = glossary.entry(name)
    asked, example = f"{name} ({entry.label})", entry.written
    if entry.left_out is not None and isinstance(given, str) and given.strip() == LEFT_OUT:
        return entry.left_out
    is_number = not isinstance(given, str) and not hasattr(given, "units")
    if isinstance(given, (bool, np.bool_)) or given is None:
        raise InputError(asked, repr(given), f"a quantity in {entry.unit}" if entry.unit else "a number", example)
    if hasattr(given, "to_numpy"):
        given = given.to_numpy()
    if isinstance(given, (list, tuple, np.ndarray)):
        several = np.ravel(np.asarray(given, dtype=object))
        if any(isinstance(one, str) or hasattr(one, "units") for one in several):
            return np.array([take(one, unit, name) for one in given])
    if unit.kind == "money":
        given = plain_number(given, asked, example)
    if is_number and not entry.bare:
        raise InputError(asked, f"{told(given)}, a number with no unit", "a number and its unit", example)
    taken = quantity(given, entry.unit if entry.bare else "", asked, example)
    value = to_si(taken, unit, asked, example)
    if getattr(value, "size", 1) == 0:
        raise InputError(asked, "an empty list", "one value at least", example)
    low, high, wanted = band(unit, name)
    smallest, largest = (value, value) if isinstance(value, (int, float)) else (value.min(), value.max())
    if not (low <= smallest and largest <= high):
        raise InputError(asked, f'"{given}"', wanted, example)
    return float(value) if isinstance(value, (int, float)) else value


def take_one(given, unit: Unit, name: str) -> float:
    """Convert as `take` does, and refuse more than one value."""
    if np.asarray(getattr(given, "magnitude", given), dtype=object).ndim:
        entry = glossary.entry(name)
        raise InputError(f"{name} ({entry.label})", told(given), "one quantity", entry.written)
    return take(given, unit, name)


def replaced(value, changed: dict):
    """Return a dataclass with some fields others; a thing is not read anew, and keeps what is known to be given."""
    if not is_thing(value):
        return dataclasses.replace(value, **changed)
    made = value.but(**changed)
    made.__dict__["given"] = value.given
    return made


def give(value, hint, name: str):
    """Wrap a result: floats become Quantities in the glossary's unit, field by field in a dataclass."""
    unit = unit_of(hint)
    if value is None:
        return None
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        hints = field_hints(type(value))
        changed = {
            field.name: give(
                getattr(value, field.name), hint if unit else hints[field.name], name if unit else field.name
            )
            for field in dataclasses.fields(value)
            if field.name != "basis"
            and (unit or unit_of(hints[field.name]) or dataclasses.is_dataclass(getattr(value, field.name)))
        }
        return replaced(value, changed)
    if unit is None or unit.kind == "money":
        return value
    return from_si(value, unit, glossary.entry(name).unit)


def plain(given):
    """Return what `give` was given: Quantities, also those in results, as SI floats; all else passes through."""
    return given.to_base_units().magnitude if hasattr(given, "to_base_units") else plain_results(given)


def plain_results(given):
    """As `plain`, but a Quantity by itself passes through: the function it is given to knows its unit."""
    if type(given) in (list, tuple):
        made = type(given)(map(plain_results, given))
        return given if all(new is old for new, old in zip(made, given, strict=True)) else made
    if not dataclasses.is_dataclass(given) or isinstance(given, type):
        return given
    changed = {}
    for field in dataclasses.fields(given):
        value = getattr(given, field.name)
        new = plain(value)
        if is_thing(given) and field.name not in given.given:
            new = field.default
        if new is not value:
            changed[field.name] = new
    return replaced(given, changed) if changed else given
