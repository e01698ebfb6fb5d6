"""The edge: where a person's quantities become SI floats, and floats become quantities again.

`edge` reads a function's signature. An argument annotated with an alias of
`limekit.units` may then be given as text (``"60 mm"``) or a pint Quantity, or
as a bare number where the glossary allows it; it is converted, checked
against its plausible band and handed on as a float. The function as written,
floats in and floats out, stays within reach as ``function.plain``.

A thing (`limekit.things`) and its fields are the same to the edge, either way.
Where a parameter is a thing, a keyword that is a field of it goes into it:
``burning_time("60 mm", "1000 degC", lime_conductivity=0.5)`` burns
``Stone(lime_conductivity=0.5)``. Where parameters are fields, a thing given in
their place is spread over them: ``mass_balance(Stone("1 tonne"), conversion=1)``.
"""

from __future__ import annotations

import dataclasses
import difflib
import functools
import inspect
import types
import typing
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from limekit import glossary
from limekit.errors import InputError, not_among, told
from limekit.estimate import shown
from limekit.facts import Fact, fact
from limekit.frames import to_frame
from limekit.kinds import hints_of, refuse_others
from limekit.units import Unit, from_si, plain_number, quantity, to_si

ROUNDING = 1e-9
LEFT_OUT = "left out"  # said of what a model shall not reckon with; data/left_out.csv
DIGITS = 4  # of a figure that a result rests on
MOST_SHOWN = 12  # values of an array written out one by one
PUBLISHED = {"read": "published", "computed": "published", "memory": "from memory", "practice": "common practice"}


@dataclass(frozen=True)
class Words:
    """What an ``Annotated`` alias says of its text: a function that returns the words known."""

    known: Callable[[], Iterable[str]]


@dataclass(frozen=True)
class Fields:
    """What an ``Annotated`` thing says of its fields: only these may be given one by one, beside it."""

    names: tuple[str, ...]


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


def _parts(hint) -> Iterator:
    """Yield an annotation, or the parts of a union."""
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        yield from typing.get_args(hint)
    else:
        yield hint


def allowed_words(hint) -> tuple[str, ...]:
    """Return the words an annotation allows, none where it does not say."""
    for part in _parts(hint):
        if typing.get_origin(part) is typing.Literal:
            return typing.get_args(part)
        for extra in getattr(part, "__metadata__", ()):
            if isinstance(extra, Words):
                return tuple(extra.known())
    return ()


def is_thing(one) -> bool:
    """Whether something is a thing, or the class of one."""
    return hasattr(one, "read_field") or hasattr(type(one), "read_field")


def thing_of(hint) -> tuple[type | None, tuple[str, ...]]:
    """Return the thing inside an annotation, or None, and its fields that may be given beside it."""
    chosen = [extra.names for extra in getattr(hint, "__metadata__", ()) if isinstance(extra, Fields)]
    for thing in _parts(getattr(hint, "__origin__", hint) if chosen else hint):
        if isinstance(thing, type) and is_thing(thing):
            return thing, chosen[0] if chosen else tuple(name for name in thing.defaults if name != thing.word)
    return None, ()


def _show(value, unit: Unit, entry: glossary.Entry) -> str:
    if isinstance(value, float) and value == entry.left_out:
        return LEFT_OUT
    if getattr(value, "size", 1) > MOST_SHOWN:
        ends = " to ".join(_show(end, unit, entry) for end in (value.min(), value.max()))
        return f"{value.size} values, {ends}"
    return shown(from_si(value, unit, entry.unit), DIGITS)


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


_hints = functools.cache(functools.partial(typing.get_type_hints, include_extras=True))  # of a class


def _replaced(value, changed: dict):
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
        hints = _hints(type(value))
        changed = {
            field.name: give(
                getattr(value, field.name), hint if unit else hints[field.name], name if unit else field.name
            )
            for field in dataclasses.fields(value)
            if field.name != "basis"
            and (unit or unit_of(hints[field.name]) or dataclasses.is_dataclass(getattr(value, field.name)))
        }
        return _replaced(value, changed)
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
        if is_thing(given) and field.name not in given.given:
            new = field.default
        if new is not value:
            changed[field.name] = new
    return _replaced(given, changed) if changed else given


def whence(default) -> str:
    """Say where a default comes from."""
    return default.basis if isinstance(default, Fact) else "the kit's default"


def _ground(name: str, value, given: bool, unit: Unit) -> Ground:
    said = _show(value, unit, glossary.entry(name))
    if given:
        return Ground(name, said, "given", "")
    return Ground(name, said, PUBLISHED[value.tag] if isinstance(value, Fact) else "assumed", whence(value))


def rests_on(*known: str | Fact) -> tuple[Ground, ...]:
    """Return one `Ground` a fact, given by key or itself, for a result that rests on facts no argument names."""
    facts = (one if isinstance(one, Fact) else fact(one) for one in known)
    return tuple(Ground(one.key.replace("_", " "), one.printed, PUBLISHED[one.tag], one.basis) for one in facts)


class _Call:
    """How a function may be called: its parameters, which of them are things, and where each thing's fields belong."""

    def __init__(self, function) -> None:
        self.name, self.signature = function.__name__, inspect.signature(function)
        self.defaults = {name: one.default for name, one in self.signature.parameters.items()}
        hints = hints_of(function)
        self.hints = {name: hints.get(name) for name in self.defaults}
        self.returned = hints.get("return")
        self.units = {name: unit_of(hint) for name, hint in self.hints.items()}
        found = {name: thing_of(hint) for name, hint in self.hints.items()}
        self.things = {name: thing for name, (thing, _) in found.items() if thing}
        homes = [(field, name) for name, (_, fields) in found.items() for field in fields if field not in self.defaults]
        several = Counter(field for field, _ in homes)
        self.homes = {field: name for field, name in homes if several[field] == 1}

    def bind(self, args: tuple, kwargs: dict) -> inspect.BoundArguments:
        """Return the arguments in their places, with fields gathered in their things and things spread over fields."""
        return self._fitted(self._gathered(self._spread(self._placed(args, kwargs)), read=True))

    def plainly(self, function):
        """Return a function that takes what `function` does in SI floats, and things field by field too."""

        @functools.wraps(function)
        def plain(*args, **kwargs):
            bound = self._fitted(self._gathered(self._placed(args, kwargs), read=False))
            return function(*bound.args, **bound.kwargs)

        return plain

    def _fitted(self, there: dict) -> inspect.BoundArguments:
        for word in there:
            if word not in self.defaults:
                known = [name for name in (*self.defaults, *self.homes) if name != "self"]
                near = difflib.get_close_matches(glossary.FORMER.get(word, word), known, n=1)
                example = glossary.written(near[0]) if near else ""
                raise InputError(f"{self.name}()", f'an argument "{word}"', ", ".join(known), example)
        try:
            return self.signature.bind(**there)
        except TypeError as fault:
            raise self._misfit(str(fault)) from None

    def _misfit(self, fault: str) -> InputError:
        known = [name for name in self.defaults if name != "self"]
        needed = [glossary.written(name) for name in known if self.defaults[name] is inspect.Parameter.empty]
        got, example = f"arguments that do not fit ({fault})", f"{self.name}({', '.join(needed)})"
        return InputError(f"{self.name}()", got, ", ".join(known), example)

    def _placed(self, args: tuple, kwargs: dict) -> dict:
        places = [one.name for one in self.signature.parameters.values() if one.kind is not one.KEYWORD_ONLY]
        if len(args) > len(places):
            raise self._misfit("too many positional arguments")
        placed = dict(zip(places, args, strict=False))
        for twice in placed.keys() & kwargs.keys():
            raise self._misfit(f"multiple values for argument {twice!r}")
        return placed | kwargs

    def _spread(self, there: dict) -> dict:
        """Return arguments with each thing that is given for plain parameters spread over them."""
        for word, thing in list(there.items()):
            if word in self.things or not is_thing(thing) or isinstance(thing, type):
                continue
            fields = {name: getattr(give(plain(thing), None, ""), name) for name in type(thing).defaults}
            if word not in self.defaults and not fields.keys() & self.defaults.keys():
                continue
            del there[word]
            named = type(thing).word
            if word in self.defaults and named:
                if fields[named] is None:
                    got, wanted = f"a {type(thing).__name__} with no {named}", f"one with its {named}"
                    raise InputError(word, got, wanted, f"{word}.with_({glossary.written(named)})")
                there[word] = fields.pop(named)
            for name, value in fields.items():
                needed = name in thing.given or self.defaults.get(name) is inspect.Parameter.empty
                if name in self.defaults and needed and value is not None:
                    there.setdefault(name, value)
        return there

    def _gathered(self, there: dict, read: bool) -> dict:
        """Return arguments with fields gathered in the things they belong to, each read if it is as a person writes."""
        fields = {name: {} for name in self.things}
        for word in [word for word in there if word in self.homes]:
            fields[self.homes[word]][word] = there.pop(word)
        for name, thing in self.things.items():
            default = self.defaults[name]
            if name in there and there[name] is not default:
                whole = thing.of(there[name], name, read)
            elif fields[name]:
                whole = default if is_thing(default) else None
            else:
                continue
            parts = thing.read(**fields[name]) if read else fields[name]
            there[name] = thing.plain(**parts) if whole is None else whole.but(**parts) if parts else whole
        return there

    def grounds(self, arguments: dict, given: list[str]) -> Iterator[Ground]:
        """Yield what each argument, and each field of a thing, adds to what a result rests on."""
        for name, value in arguments.items():
            if self.units[name] and value is not None:
                yield _ground(name, value, name in given, self.units[name])
            elif name in self.things and value is not None:
                hints = _hints(type(value))
                for field in type(value).defaults:
                    inside, unit = getattr(value, field), unit_of(hints[field])
                    if unit and inside is not None and (field in self.homes or field == value.word):
                        yield _ground(name if field == value.word else field, inside, field in value.given, unit)


def _run(function, bound: inspect.BoundArguments, call: _Call):
    """Call a function, and refuse lists of different lengths, or where it takes but one value."""
    named = {name: value for name, value in bound.arguments.items() if call.units[name]}
    for thing in (bound.arguments[name] for name in call.things if bound.arguments[name] is not None):
        named |= {name: getattr(thing, name) for name in type(thing).defaults}
    lists = {name: value for name, value in named.items() if isinstance(value, np.ndarray)}
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
        loop = f"[{function.__name__}({next(iter(lists))}=one, ...) for one in values]"
        raise InputError(asked, got, "one value at a time", loop) from fault


def edge(function):
    """Give a function of SI floats an edge that takes and returns quantities.

    Parameters
    ----------
    function : callable
        Its arguments and result annotated with aliases of `limekit.units`, `Literal` choices, things,
        results of other such functions, or anything else, which passes through. Defaults are SI floats, best a `Fact`.

    Returns
    -------
    callable
        With ``.plain``, the function as written, which also takes things field by field. A dataclass it
        returns gets `limekit.frames.to_frame`. A result
        with a field ``basis`` has it filled with one `Ground` an argument, and one a field of a thing.
    """
    call = _Call(function)
    for made in _parts(getattr(call.returned, "__origin__", call.returned)):
        if dataclasses.is_dataclass(made):
            made.to_frame = to_frame

    @functools.wraps(function)
    def at_edge(*args, **kwargs):
        bound = call.bind(args, kwargs)
        given = [name for name, value in bound.arguments.items() if value is not call.defaults[name]]
        refuse_others({name: bound.arguments[name] for name in given if not call.units[name]}, call.hints)
        for name in given:
            words, value = allowed_words(call.hints[name]), bound.arguments[name]
            if words and (not isinstance(value, str) or value not in words):
                raise not_among(words, name, value)
            if call.units[name]:
                bound.arguments[name] = take(value, call.units[name], name)
            else:
                bound.arguments[name] = _plain_results(value)
        bound.apply_defaults()
        result = _run(function, bound, call)
        if dataclasses.is_dataclass(result) and hasattr(result, "basis"):
            result = _replaced(result, {"basis": result.basis + tuple(call.grounds(bound.arguments, given))})
        return give(result, call.returned, function.__name__)

    at_edge.plain = call.plainly(function) if call.things else function
    return at_edge
