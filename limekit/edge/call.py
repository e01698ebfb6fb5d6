"""A call at the edge: arguments put in their places, fields in their things, and the function run on SI floats."""

from __future__ import annotations

import dataclasses
import difflib
import functools
import inspect
from collections import Counter
from collections.abc import Iterator

import numpy as np

from limekit import glossary
from limekit.edge.asked import allowed_words, field_hints, is_thing, parts_of, thing_of, unit_of
from limekit.edge.figures import give, plain, plain_results, replaced, take
from limekit.edge.grounds import Ground, ground_of
from limekit.errors import InputError, not_among
from limekit.frames import to_frame
from limekit.kinds import hints_of, refuse_others


class Call:
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
                yield ground_of(name, value, name in given, self.units[name])
            elif name in self.things and value is not None:
                hints = field_hints(type(value))
                for field in type(value).defaults:
                    inside, unit = getattr(value, field), unit_of(hints[field])
                    if unit and inside is not None and (field in self.homes or field == value.word):
                        yield ground_of(name if field == value.word else field, inside, field in value.given, unit)


def _run(function, bound: inspect.BoundArguments, call: Call):
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

    Its arguments and result are annotated with aliases of `limekit.units`, `Literal` choices, things, results of other
    such functions, or anything else, which passes through. Defaults are SI floats, best a `Fact`. With it comes
    ``.plain``, the function as written, which also takes things field by field. A dataclass it returns gets
    `limekit.frames.to_frame`; a result with a field ``basis`` has it filled with one `Ground` an argument, and one a
    field of a thing.
    """
    call = Call(function)
    for made in parts_of(getattr(call.returned, "__origin__", call.returned)):
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
                bound.arguments[name] = plain_results(value)
        bound.apply_defaults()
        result = _run(function, bound, call)
        if dataclasses.is_dataclass(result) and hasattr(result, "basis"):
            result = replaced(result, {"basis": result.basis + tuple(call.grounds(bound.arguments, given))})
        return give(result, call.returned, function.__name__)

    at_edge.plain = call.plainly(function) if call.things else function
    return at_edge
