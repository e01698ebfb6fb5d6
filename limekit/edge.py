"""The edge: where a person's quantities become SI floats, and floats become quantities again.

`edge` reads a function's signature. An argument annotated with an alias of
`limekit.units` may then be given as text (``"60 mm"``) or a pint Quantity, or
as a bare number where the glossary allows it; it is converted, checked
against its plausible band and handed on as a float. The function as written,
floats in and floats out, stays within reach as ``function.plain``.
"""

from __future__ import annotations

import dataclasses
import difflib
import functools
import inspect
import types
import typing
from dataclasses import dataclass

import numpy as np

from limekit import glossary
from limekit.errors import InputError, told
from limekit.facts import Fact, fact
from limekit.kinds import hints_of, refuse_others
from limekit.units import Unit, from_si, plain_number, quantity, to_si

ROUNDING = 1e-9
LEFT_OUT = "left out"  # said of what a model shall not reckon with; data/left_out.csv
MOST_SHOWN = 12  # values of an array written out one by one
PUBLISHED = {"read": "published", "computed": "published", "memory": "from memory", "practice": "common practice"}


@dataclass(frozen=True)
class Ground:
    """One thing a result rests on: its name, its value, what kind of knowledge it is, whence."""

    name: str
    value: str
    kind: str
    source: str


def unit_of(hint) -> Unit | None:
    """Return the `Unit` inside an annotation, or None where it carries none."""
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        return next((unit for unit in map(unit_of, typing.get_args(hint)) if unit), None)
    return next((extra for extra in getattr(hint, "__metadata__", ()) if isinstance(extra, Unit)), None)


def _show(value, unit: Unit, entry: glossary.Entry) -> str:
    if isinstance(value, float) and value == entry.left_out:
        return LEFT_OUT
    if getattr(value, "size", 1) > MOST_SHOWN:
        ends = " to ".join(_show(end, unit, entry) for end in (value.min(), value.max()))
        return f"{value.size} values, {ends}"
    return f"{from_si(value, unit, entry.unit)}"


@functools.cache
def band(unit: Unit, name: str) -> tuple[float, float, str]:
    """Return the ends of a quantity's plausible band in SI, with room for rounding, and the band in words."""
    entry = glossary.entry(name)
    low, high = (to_si(quantity(end, entry.unit), unit, name, entry.written) for end in (entry.low, entry.high))
    words = f"{_show(low, unit, entry)} to {_show(high, unit, entry)}"
    words = words if entry.left_out is None else f'{words}, or "{LEFT_OUT}"'
    return low - ROUNDING * abs(low), high + ROUNDING * abs(high), words


def take(given, unit: Unit, name: str):
    """Convert one argument to SI and check that it is finite and plausible.

    Parameters
    ----------
    given : str, float, array_like or pint.Quantity
        Several together as a list, an array, a pandas column, or a Quantity of one. ``"left out"`` where
        the glossary knows what leaves the quantity out of a model.
    unit : Unit
        The unit the function wants.
    name : str
        The argument's name in the glossary.

    Returns
    -------
    float or ndarray

    Raises
    ------
    InputError
        With the argument's name, what came, what is wanted, and an example.
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


def give(value, hint, name: str):
    """Wrap a result: floats become Quantities in the glossary's unit, field by field in a dataclass."""
    unit = unit_of(hint)
    if value is None:
        return None
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        hints = typing.get_type_hints(type(value), include_extras=True)
        changed = {
            field.name: give(
                getattr(value, field.name), hint if unit else hints[field.name], name if unit else field.name
            )
            for field in dataclasses.fields(value)
            if field.name != "basis"
            and (unit or unit_of(hints[field.name]) or dataclasses.is_dataclass(getattr(value, field.name)))
        }
        return dataclasses.replace(value, **changed)
    if unit is None or unit.kind == "money":
        return value
    return from_si(value, unit, glossary.entry(name).unit)


def plain(given):
    """Return what `give` was given: a Quantity as an SI float, a result with its quantities as SI floats.

    Parameters
    ----------
    given : object
        A Quantity, a result, a list or tuple of results, or anything else, which passes through.

    Returns
    -------
    object
    """
    return given.to_base_units().magnitude if hasattr(given, "to_base_units") else _plain_results(given)


def _plain_results(given):
    """As `plain`, but a Quantity by itself passes through: the function it is given to knows its unit."""
    if type(given) in (list, tuple):
        made = type(given)(map(_plain_results, given))
        return given if all(new is old for new, old in zip(made, given, strict=True)) else made
    if not dataclasses.is_dataclass(given) or isinstance(given, type):
        return given
    changed = {}
    for field in dataclasses.fields(given):
        value = getattr(given, field.name)
        new = plain(value)
        if new is not value:
            changed[field.name] = new
    return dataclasses.replace(given, **changed) if changed else given


def _ground(name: str, value, given: bool, unit: Unit) -> Ground:
    shown = _show(value, unit, glossary.entry(name))
    if given:
        return Ground(name, shown, "given", "")
    if isinstance(value, Fact):
        return Ground(name, shown, PUBLISHED[value.tag], value.basis)
    return Ground(name, shown, "assumed", "the kit's default")


def rests_on(*known: str | Fact) -> tuple[Ground, ...]:
    """Return one `Ground` a fact, given by key or itself, for a result that rests on facts no argument names."""
    facts = (one if isinstance(one, Fact) else fact(one) for one in known)
    return tuple(Ground(one.key.replace("_", " "), one.printed, PUBLISHED[one.tag], one.basis) for one in facts)


def _bind(signature: inspect.Signature, name: str, args: tuple, kwargs: dict) -> inspect.BoundArguments:
    known = [p for p in signature.parameters if p != "self"]
    for word in kwargs:
        if word not in known:
            near = difflib.get_close_matches(word, known, n=1)
            example = _written(near[0]) if near else ""
            raise InputError(f"{name}()", f'an argument "{word}"', ", ".join(known), example)
    try:
        return signature.bind(*args, **kwargs)
    except TypeError as fault:
        needed = [_written(p) for p in known if signature.parameters[p].default is inspect.Parameter.empty]
        got, example = f"arguments that do not fit ({fault})", f"{name}({', '.join(needed)})"
        raise InputError(f"{name}()", got, ", ".join(known), example) from None


def _run(function, bound: inspect.BoundArguments, quantities: list[str]):
    """Call a function, and refuse lists of different lengths, or where it takes but one value."""
    lists = {name: bound.arguments[name] for name in quantities if isinstance(bound.arguments[name], np.ndarray)}
    if not lists:
        return function(*bound.args, **bound.kwargs)
    asked, example = f"{function.__name__}()", glossary.entry(next(iter(lists))).written
    got = ", ".join(f"{' × '.join(map(str, values.shape))} values of {name}" for name, values in lists.items())
    try:
        np.broadcast_shapes(*(values.shape for values in lists.values()))
    except ValueError as fault:
        raise InputError(asked, got, "lists of one length, or one value for all", example) from fault
    try:
        return function(*bound.args, **bound.kwargs)
    except InputError:
        raise
    except (TypeError, ValueError) as fault:
        raise InputError(asked, got, "one value at a time", example) from fault


def _written(name: str) -> str:
    known = glossary.entries()
    return known[name].written if name in known else f"{name}=..."


def edge(function):
    """Give a function of SI floats an edge that takes and returns quantities.

    Parameters
    ----------
    function : callable
        Its arguments and result annotated with aliases of `limekit.units`, `Literal` choices,
        results of other such functions, or anything else, which passes through. Defaults are SI floats, best a `Fact`.

    Returns
    -------
    callable
        With ``.plain``, the function as written. A result with a field ``basis`` has it filled
        with one `Ground` an argument.
    """
    signature = inspect.signature(function)
    hints = hints_of(function)
    units = {name: unit_of(hints.get(name)) for name in signature.parameters}

    @functools.wraps(function)
    def at_edge(*args, **kwargs):
        bound = _bind(signature, function.__name__, args, kwargs)
        given = [name for name, value in bound.arguments.items() if value is not signature.parameters[name].default]
        refuse_others({name: bound.arguments[name] for name in given if not units[name]}, hints)
        for name in given:
            if units[name]:
                bound.arguments[name] = take(bound.arguments[name], units[name], name)
            else:
                bound.arguments[name] = _plain_results(bound.arguments[name])
        bound.apply_defaults()
        result = _run(function, bound, [name for name in units if units[name]])
        if dataclasses.is_dataclass(result) and hasattr(result, "basis"):
            grounds = tuple(
                _ground(name, value, name in given, units[name])
                for name, value in bound.arguments.items()
                if units[name] and value is not None
            )
            result = dataclasses.replace(result, basis=result.basis + grounds)
        return give(result, hints.get("return"), function.__name__)

    at_edge.plain = function
    return at_edge
