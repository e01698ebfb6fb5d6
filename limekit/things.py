"""The things a person knows by name, a stone, a fuel, a kiln: many quantities in one object.

A `Thing` is a frozen dataclass that goes through the edge:
``Stone(calcium_carbonate="92 %")`` is checked and reads as quantities, and
``Stone.plain(calcium_carbonate=0.92)`` holds SI floats as they are. A
parameter annotated with one may be given as the object, as the word or the
quantity that stands for it, or field by field (`limekit.edge`).
"""

from __future__ import annotations

import dataclasses
import difflib
import functools
from collections.abc import Mapping
from html import escape

from limekit import glossary
from limekit.edge import give, plain, take, unit_of
from limekit.edge.asked import allowed_words, field_hints
from limekit.edge.figures import DIGITS
from limekit.edge.grounds import whence
from limekit.errors import InputError, not_among, told
from limekit.estimate import shown


@functools.cache
def _defaults(cls) -> dict[str, object]:
    return {field.name: field.default for field in dataclasses.fields(cls)}


class Kind(type):
    """The class of things: `plain` makes one of SI floats, and a call takes what a person writes."""

    def __call__(cls, *args, **given):
        """Return a thing from what a person writes, its quantities read and checked."""
        return give(cls.plain(**cls.read(*args, **given)), cls, "")

    def plain(cls, *args, **given):
        """Return a thing of SI floats as they are; `given` tells which fields were."""
        fields = dict(zip(cls.defaults, args, strict=False)) | given
        lacking = [name for name, default in cls.defaults.items() if default is dataclasses.MISSING]
        if any(name not in fields for name in lacking):
            got = f"no {', no '.join(name for name in lacking if name not in fields)}"
            example = f"{cls.__name__}({', '.join(map(glossary.written, lacking))})"
            raise InputError(f"{cls.__name__}()", got, f"{', '.join(lacking)} at least", example)
        made = super().__call__(**fields)
        made.__dict__["given"] = frozenset(fields)
        return made

    @property
    def defaults(cls) -> dict[str, object]:
        """What each field is where nothing is said."""
        return _defaults(cls)

    def read(cls, *args, **given) -> dict[str, object]:
        """Return fields as a person writes them as SI floats; refuse what is not known, given twice, or out of band."""
        known = list(cls.defaults)
        if len(args) > len(known):
            raise InputError(f"{cls.__name__}()", f"{len(args)} values", ", ".join(known))
        for name, value in zip(known, args, strict=False):
            if name in given:
                raise InputError(f"{cls.__name__}()", f"{name} twice", "it once", glossary.written(name))
            given[name] = value
        for name in given:
            if name not in known:
                near = difflib.get_close_matches(name, known, n=1)
                example = glossary.written(near[0]) if near else ""
                raise InputError(f"{cls.__name__}()", f'a field "{name}"', ", ".join(known), example)
        return {name: cls.read_field(name, value) for name, value in given.items()}

    def read_field(cls, name: str, value):
        """Return one field as a person writes it as an SI float, a word among those allowed, or as it is."""
        if value is cls.defaults[name]:
            return value
        hint = field_hints(cls)[name]
        words, unit = allowed_words(hint), unit_of(hint)
        if words and (not isinstance(value, str) or value not in words):
            raise not_among(words, name, value)
        return take(value, unit, name) if unit else plain(value)

    def of(cls, given, asked: str, read: bool = True):
        """Return, in SI floats, the thing that an object, a mapping of its fields, or the value of its `word` is.

        What is to be `read` is as a person writes it, and not in SI floats. Raises `InputError`, which names it as
        `asked`, if it is none of these.
        """
        if isinstance(given, cls):
            return plain(given) if read else given
        if cls.word and (isinstance(given, str | int | float) or hasattr(given, "units")):
            given = {cls.word: given}
        if isinstance(given, Mapping):
            return cls.plain(**(cls.read(**given) if read else given))
        name = cls.word or next(iter(cls.defaults))
        wanted = f"a {cls.__name__}, or its {glossary.label(name)}" if cls.word else f"a {cls.__name__}"
        raise InputError(asked, told(given), wanted, f"{cls.__name__}({glossary.written(name)})")


class Thing(metaclass=Kind):
    """What every thing can do.

    Attributes
    ----------
    word : str or None
        The field that stands for the whole thing where it is given by itself.
    given : frozenset of str
        The fields that somebody gave.
    """

    word = None
    given: frozenset[str]

    def but(self, **fields):
        """Return another with some fields changed, in SI floats as this one."""
        made = object.__new__(type(self))
        known = {name: getattr(self, name) for name in type(self).defaults}
        made.__dict__.update(known | fields, given=self.given | fields.keys())
        return made

    def with_(self, **fields):
        """Return another with some fields changed, given as a person writes them."""
        cls = type(self)
        return give(plain(self).but(**cls.read(**fields)), cls, "")

    def __repr__(self) -> str:
        told = (f"{name}={_told(getattr(self, name))}" for name in type(self).defaults if name in self.given)
        return f"{type(self).__name__}({', '.join(told)})"

    def _repr_html_(self) -> str:
        held = give(plain(self), type(self), "")
        cell = "text-align:left;padding:2px 14px 2px 0"
        rows = "".join(
            f'<tr><th scope="row" style="{cell};font-weight:normal">{escape(glossary.label(name))}</th>'
            f'<td style="{cell}">{escape(_text(getattr(held, name)))}</td>'
            f'<td style="{cell}">{escape("given" if name in self.given else whence(default))}</td></tr>'
            for name, default in type(self).defaults.items()
            if name != "basis" and _is_told(getattr(held, name))
        )
        table = f"<table><caption>{type(self).__name__}</caption><tbody>{rows}</tbody></table>"
        return f'<div class="mathjax_ignore">{table}</div>'


def _is_told(value) -> bool:
    return value is not None and not (isinstance(value, tuple) and not value)


def _text(value) -> str:
    return shown(value, DIGITS) if hasattr(value, "units") else str(value)


def _told(value) -> str:
    if not hasattr(value, "units"):
        return repr(value)
    return f"{value.magnitude:.6g}" if value.dimensionless else f'"{value:.6g~D}"'
