"""Kinds of things: a word, a whole number, a result of the kit. What is of another kind is refused by name.

An annotation of a public function says which kind it wants. Numbers with a unit
are the business of `limekit.edge`.
"""

from __future__ import annotations

import functools
import inspect
import numbers
import types
import typing
from collections.abc import Callable

from limekit.errors import InputError, not_among, told

PLAIN = {  # what an annotation of a plain kind wants, in words, with an example
    str: ("words in quotation marks", '"..."'),
    int: ("a whole number", "12"),
    bool: ("True or False", "True"),
    types.NoneType: ("nothing", "None"),
    Callable: ("a function", "print"),
}
MAKERS = {"Trial": "read_trial", "BurnLog": "read_burn_log"}  # by kind, the first public function that returns it


def hints_of(function) -> dict:
    """Return a public function's annotations, and note that it makes what it returns."""
    hints = typing.get_type_hints(function, include_extras=True)
    MAKERS.setdefault(getattr(hints.get("return"), "__name__", ""), function.__name__)
    return hints


def _fits(given, hint) -> bool:
    origin, parts = typing.get_origin(hint), typing.get_args(hint)
    if origin in (typing.Union, types.UnionType):
        return any(_fits(given, part) for part in parts)
    if origin is typing.Literal:
        return isinstance(given, str) and given in parts
    if origin is tuple:
        return isinstance(given, (tuple, list)) and all(_fits(one, parts[0]) for one in given)
    if hint is int:
        return isinstance(given, numbers.Integral) and not isinstance(given, bool)
    kind = origin or hint
    ours = isinstance(kind, type) and kind.__module__.startswith("limekit.")
    return not (ours or kind in PLAIN) or isinstance(given, kind)


def _wanted(hint) -> tuple[str, str]:
    """Return in words what an annotation wants, and an example or how to come by one."""
    origin = typing.get_origin(hint)
    if origin is tuple:
        words, example = _wanted(typing.get_args(hint)[0])
        return f"a list, each of it {words}", f"[{example}]"
    if origin in (typing.Union, types.UnionType):
        return _wanted(next(part for part in typing.get_args(hint) if part is not types.NoneType))
    kind = origin or hint
    maker = MAKERS.get(kind.__name__, kind.__name__)
    return PLAIN.get(kind) or (f"what {maker}() returns", f"{maker}(...)")


def refuse_others(given: dict, hints: dict) -> None:
    """Raise `InputError` for a word that is none of the few wanted, and for a thing of another kind than is annotated.

    An annotation that names no kind known here takes all.
    """
    for name, value in given.items():
        hint = hints.get(name)
        if _fits(value, hint):
            continue
        for part in (hint, *typing.get_args(hint)):
            if typing.get_origin(part) is typing.Literal:
                raise not_among(typing.get_args(part), name, value)
        wanted, example = _wanted(hint)
        raise InputError(name, told(value), wanted, f"{name}={example}")


def guarded(function):
    """Give a function of things and words an edge that refuses other kinds, and passes the rest on as it came."""
    signature, hints = inspect.signature(function), hints_of(function)

    @functools.wraps(function)
    def at_edge(*args, **kwargs):
        bound = signature.bind(*args, **kwargs)
        usual = {name: parameter.default for name, parameter in signature.parameters.items()}
        refuse_others({name: value for name, value in bound.arguments.items() if value is not usual[name]}, hints)
        return function(*bound.args, **bound.kwargs)

    return at_edge
