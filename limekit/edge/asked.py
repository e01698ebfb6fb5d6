"""What an annotation asks for: a unit, one of a few words, a thing and those of its fields that may stand beside it."""

from __future__ import annotations

import functools
import types
import typing
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from limekit.units import Unit


@dataclass(frozen=True)
class Words:
    """What an ``Annotated`` alias says of its text: a function that returns the words known."""

    known: Callable[[], Iterable[str]]


@dataclass(frozen=True)
class Fields:
    """What an ``Annotated`` thing says of its fields: only these may be given one by one, beside it."""

    names: tuple[str, ...]


@functools.cache
def field_hints(cls: type) -> dict:
    """Return the annotations of a class's fields."""
    return typing.get_type_hints(cls, include_extras=True)


def unit_of(hint) -> Unit | None:
    """Return the `Unit` inside an annotation, or None where it carries none."""
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        return next((unit for unit in map(unit_of, typing.get_args(hint)) if unit), None)
    return next((extra for extra in getattr(hint, "__metadata__", ()) if isinstance(extra, Unit)), None)


def parts_of(hint) -> Iterator:
    """Yield an annotation, or the parts of a union."""
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        yield from typing.get_args(hint)
    else:
        yield hint


def allowed_words(hint) -> tuple[str, ...]:
    """Return the words an annotation allows, none where it does not say."""
    for part in parts_of(hint):
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
    for thing in parts_of(getattr(hint, "__origin__", hint) if chosen else hint):
        if isinstance(thing, type) and is_thing(thing):
            return thing, chosen[0] if chosen else tuple(name for name in thing.defaults if name != thing.word)
    return None, ()
