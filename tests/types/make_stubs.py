"""Write the stub of the public functions, `limekit/__init__.pyi`, out of their signatures: python tests/types/make_stubs.py.

At the edge an argument is text or a quantity, a bare number only where the glossary allows it, and a result's
figures are quantities; in ``.plain`` both are floats. One class serves both, so the stub has a second of the same
name, for the one of quantities; it is a kind of the first, as it is when the kit runs.
"""

from __future__ import annotations

import collections.abc
import dataclasses
import functools
import inspect
import pkgutil
import subprocess
import sys
import types
import typing
from pathlib import Path

import limekit
from limekit import glossary
from limekit.edge import unit_of
from limekit.edge.asked import is_thing, thing_of
from limekit.edge.call import Call
from limekit.estimate import Estimate, Span
from limekit.fire.fuel import Fuel
from limekit.kiln.design import KilnDesign
from limekit.kiln.kiln import Kiln
from limekit.limestone import Stone

STUB = Path(limekit.__file__).with_name("__init__.pyi")
SPREAD = {"stone": Stone, "fuel": Fuel, "kiln": Kiln}  # things by the word they are given by
PATH, DAY, HOUR = "str | os.PathLike[str]", "datetime.date | str", "datetime.datetime | str"
UNSAID = {"path": PATH, "burn_day": DAY, "lit": HOUR, "slaked": HOUR, "weekend": DAY, "today": f"{DAY} | None"}
UNSAID |= {"trial_table": "pandas.DataFrame"}
TABLES = ("read_trial", "read_burn_log", "read_slaking_log", "read_logger")  # which take a path or a table in memory
ALSO = {Kiln: (KilnDesign,)}  # what stands for a thing besides
EMPTY = inspect.Parameter.empty
UNTYPED = "Any"

HEAD = '''"""What a person gives and gets. Made by tests/types/make_stubs.py: do not write here."""
# ruff: noqa
# mypy: disable-error-code="assignment, override, misc"
# pyright: reportIncompatibleVariableOverride=false, reportIncompatibleMethodOverride=false
'''
ALIASES = """
Quantity: TypeAlias = pint.Quantity[Any]
# A quantity as a person writes it: text, a Quantity, or several. A Number may also come bare.
Amount: TypeAlias = str | Quantity | Sequence[str | Quantity] | pandas.Series[Any]
Number: TypeAlias = Amount | float | Sequence[str | Quantity | float] | NDArray[Any]
"""


@functools.cache
def hints_of(one) -> dict:
    """Return annotations, those of no meaning at run time as none."""
    return typing.get_type_hints(one, include_extras=True)


def is_result(hint) -> bool:
    """Whether an annotation is a dataclass."""
    return isinstance(hint, type) and dataclasses.is_dataclass(hint)


def bare(hint):
    """Return an annotation without what `Annotated` says besides."""
    return getattr(hint, "__origin__", hint) if hasattr(hint, "__metadata__") else hint


def parts(hint) -> tuple:
    """Return the parts of a union, or the annotation itself."""
    return typing.get_args(hint) if typing.get_origin(hint) in (typing.Union, types.UnionType) else (hint,)


class Writer:
    """What has been written so far: the modules named, and the classes of quantities still to write."""

    def __init__(self) -> None:
        self.modules: set[str] = set()
        self.classes: dict[str, type] = {}

    # types

    def name(self, kind: type) -> str:
        """Return a class by its full name, and note its module."""
        if kind.__module__ == "builtins":
            return kind.__name__
        self.modules.add(kind.__module__)
        return f"{kind.__module__}.{kind.__qualname__}"

    @functools.cache  # noqa: B019
    def has_edge(self, kind: type) -> bool:
        """Whether a class holds quantities, by itself or in a field, or has methods that take or give them."""
        if hasattr(kind, "to_frame") or kind.__name__ in limekit.__all__:
            return True
        hints = hints_of(kind) if dataclasses.is_dataclass(kind) else {}
        own = any(unit_of(hint) and unit_of(hint).kind != "money" for hint in hints.values())
        inside = any(is_result(part) and self.has_edge(part) for hint in hints.values() for part in parts(bare(hint)))
        return own or inside or any(hasattr(one, "plain") for one in vars(kind).values())

    def plain(self, hint) -> str:
        """Return an annotation as written, its units away."""
        hint = bare(hint)
        origin, inner = typing.get_origin(hint), typing.get_args(hint)
        if origin in (typing.Union, types.UnionType):
            return " | ".join(dict.fromkeys(map(self.plain, inner)))
        if origin is typing.Literal:
            return f"Literal[{', '.join(map(repr, inner))}]"
        if hint in (None, types.NoneType):
            return "None"
        if hint is Ellipsis:
            return "..."
        if isinstance(hint, list):
            return f"[{', '.join(map(self.plain, hint))}]"
        if origin is collections.abc.Callable:
            return f"Callable[{', '.join(map(self.plain, inner))}]"
        if origin:
            return f"{self.named(origin)}[{', '.join(map(self.plain, inner))}]"
        return self.named(hint) + self.unsaid(hint)

    def named(self, kind) -> str:
        """Return a class by its name, those of the standard library's by their short one."""
        if kind.__module__ in ("collections.abc", "typing"):
            return kind.__name__
        return self.name(kind)

    def unsaid(self, kind) -> str:
        """Return the parameters that a generic class wants and an annotation left out."""
        if kind in (collections.abc.Sequence, collections.abc.Iterable, tuple, list):
            return "[Any, ...]" if kind is tuple else "[Any]"
        return "[Any, Any]" if kind in (collections.abc.Mapping, dict) else ""

    def given(self, hint, name: str) -> str:
        """Return what a person may give for a parameter."""
        unit, optional = unit_of(hint), types.NoneType in parts(bare(hint))
        thing, _ = thing_of(hint)
        if unit:
            number = "str | float" if unit.kind == "money" else "Number" if glossary.entry(name).bare else "Amount"
            return f"{number} | None" if optional else number
        if thing:
            kinds = [thing, *ALSO.get(thing, ())]
            wanted = [*map(self.name, kinds), "Mapping[str, Any]"]
            wanted += (
                [self.given(hints_of(thing)[thing.word], thing.word).removesuffix(" | None")] if thing.word else []
            )
            wanted += ["None"] if optional else []
            return " | ".join(wanted)
        hint = bare(hint)
        if typing.get_origin(hint) is tuple:
            return f"Sequence[{self.plain(typing.get_args(hint)[0])}]"
        return self.plain(hint)

    def got(self, hint) -> str:
        """Return what a result, or a field of one, is at the edge."""
        unit = unit_of(hint)
        if unit and unit.kind == "money" and not is_result(bare(hint)):
            return self.plain(hint)
        found = []
        for part in map(bare, parts(bare(hint))):
            if is_result(part) and (self.has_edge(part) or unit):
                self.classes.setdefault(part.__name__, part)
                assert self.classes[part.__name__] is part, f"two classes are named {part.__name__}"
                found.append(part.__name__)
            elif isinstance(part, type) and part.__name__ in limekit.__all__:
                found.append(part.__name__)
            else:
                found.append("Quantity" if unit and part is not types.NoneType else self.plain(part))
        return " | ".join(dict.fromkeys(found))

    # functions

    def arguments(self, function, read, without: type | None = None, word: str = "") -> str:
        """Return a function's parameters, those that stand in a thing's place too.

        Parameters
        ----------
        function : callable
        read : callable
            From an annotation and a name to the type wanted.
        without : type, optional
            A thing that is given by the name `word`, so that what it holds may be left out.
        """
        call = Call(function)
        written, keyword_only = [], False
        for name, one in call.signature.parameters.items():
            hint = call.hints[name]
            if name in ("self", "cls"):
                written.append(name)
                continue
            if one.kind in (one.VAR_KEYWORD, one.VAR_POSITIONAL):
                stars = "**" if one.kind is one.VAR_KEYWORD else "*"
                written.append(f"{stars}{name}: Any")
                continue
            if (one.kind is one.KEYWORD_ONLY or (without and name != word)) and not keyword_only:
                written.append("*")
                keyword_only = True
            if without and name == word:
                written.append(f"{name}: {self.name(without)}")
                continue
            told = self.unsaid_of(function, name) if hint is None else read(hint, name)
            left = one.default is not EMPTY or (without and name in without.defaults)
            written.append(f"{name}: {told}{' = ...' if left else ''}")
        more = []
        if without and word not in call.defaults:
            more.append(f"{word}: {self.name(without)}")
        for field, home in call.homes.items():
            told = read(hints_of(call.things[home])[field], field)
            more.append(f"{field}: {told} = ...")
        if more and not keyword_only:
            more.insert(0, "*")
        at = next((i for i, one in enumerate(written) if one.startswith("**")), len(written))
        return ", ".join([*written[:at], *more, *written[at:]])

    def unsaid_of(self, function, name: str) -> str:
        """Return the type of a parameter that its function leaves open."""
        told = UNSAID.get(name, UNTYPED)
        return f"{told} | pandas.DataFrame" if name == "path" and function.__name__ in TABLES else told

    def spreads(self, function) -> list[tuple[str, type]]:
        """Return the things that may be given whole where a function asks for their fields."""
        call, found = Call(function), []
        for word, thing in SPREAD.items():
            shared = [name for name in thing.defaults if name in call.defaults and name not in SPREAD]
            alike = word not in call.defaults or (
                thing.word and call.units[word] == unit_of(hints_of(thing)[thing.word])
            )
            if shared and alike and word not in call.things and thing not in call.things.values():
                found.append((word, thing))
        return found

    def returned(self, function, at_edge: bool) -> str:
        """Return what a function returns, at the edge or in plain floats."""
        hint = hints_of(function).get("return", EMPTY)
        if hint is EMPTY:
            return UNSAID.get(function.__name__, UNTYPED)
        return self.got(hint) if at_edge else self.plain(hint)

    def signatures(self, function, name: str, me: str = "self", mark: str = "") -> list[str]:
        """Return the definitions of a function at the edge, one a way of calling it."""
        result, first = self.returned(function, True), f"{me}, " if me else ""
        ways = [self.arguments(function, self.given)]
        ways += [self.arguments(function, self.given, thing, word) for word, thing in self.spreads(function)]
        marks = [mark] if mark else []
        marks = ["@overload", *marks] if len(ways) > 1 else marks
        return [line for way in ways for line in (*marks, f"def {name}({first}{way}) -> {result}: ...")]

    def function(self, name: str, made) -> list[str]:
        """Return the lines of one public function."""
        function = inspect.unwrap(made)
        if name == "quantity":
            return [
                "def quantity(value: Number, unit: str = ..., asked: str = ..., example: str = ...) -> Quantity: ..."
            ]
        if not hasattr(made, "plain"):
            return self.signatures(function, name, me="")
        plainly = self.arguments(function, lambda hint, _: self.plain(hint))
        says = inspect.getdoc(made).splitlines()[0]
        return [
            f"class _{name}(Protocol):",
            *(f"    {line}" for line in self.signatures(function, "__call__")),
            "    @staticmethod",
            f"    def plain({plainly}) -> {self.returned(function, False)}: ...",
            f"{name}: _{name}",
            f'"""{says}"""',
        ]

    # classes

    def of_class(self, kind: type) -> list[str]:
        """Return the lines of a class at the edge: its fields in quantities, and the methods that give such."""
        body = []
        if is_thing(kind):
            fields = ", ".join(f"{name}: {{}} = ..." for name in kind.defaults)
            hints = [hints_of(kind)[name] for name in kind.defaults]
            told = fields.format(*(self.given(hint, name) for name, hint in zip(kind.defaults, hints, strict=True)))
            plainly = fields.format(*map(self.plain, hints))
            body += [f"def __init__(self, {told}) -> None: ..."]
            body += ["@classmethod", f"def plain(cls, {plainly}) -> {self.name(kind)}: ..."]
            body += [f"def with_(self, *, {told}) -> {kind.__name__}: ..."]
        if dataclasses.is_dataclass(kind):
            hints = {field.name: hints_of(kind)[field.name] for field in dataclasses.fields(kind)}
            if kind in (Estimate, Span):
                told = {name: "Quantity" if hint is float else self.plain(hint) for name, hint in hints.items()}
            else:
                told = {name: self.got(hint) for name, hint in hints.items()}
            for name, one in told.items():
                if one != self.plain(hints[name]):
                    body += ["@property", f"def {name}(self) -> {one}: ..."]
        if hasattr(kind, "to_frame"):
            body.append("def to_frame(self) -> pandas.DataFrame: ...")
        for name, one in vars(kind).items():
            if not name.startswith("_") and name != "to_frame" and not (is_thing(kind) and name == "of"):
                body += self.member(kind, name, one)
        return [f"class {kind.__name__}({self.name(kind)}):", *(f"    {line}" for line in body or ["..."])]

    def member(self, kind: type, name: str, one) -> list[str]:
        """Return the lines of a method or property, none where what the class says of it is true as it stands."""
        if isinstance(one, property | functools.cached_property):
            get = one.fget if isinstance(one, property) else one.func
            told = self.returned(get, True)
            alike = told in (UNTYPED, self.returned(get, False))
            return [] if alike else ["@property", f"def {name}(self) -> {told}: ..."]
        mark = {staticmethod: "@staticmethod", classmethod: "@classmethod"}.get(type(one), "")
        function = inspect.unwrap(getattr(one, "__func__", one))
        if not inspect.isfunction(function):
            return []
        hint = hints_of(function).get("return")
        at_edge = hasattr(getattr(one, "__func__", one), "plain")
        if not at_edge and bare(hint) is not kind:
            return []
        made = self.signatures(function, name, me="", mark=mark)
        return [line.replace(f"-> {UNTYPED}:", f"-> {kind.__name__}:") for line in made] if mark else made


def stub() -> str:
    """Return the whole stub."""
    writer = Writer()
    public = {name: getattr(limekit, name) for name in limekit.__all__}
    functions, again = [], []
    for name, made in public.items():
        if not isinstance(made, type):
            functions += writer.function(name, made)
        elif writer.has_edge(made) and not issubclass(made, Exception):
            writer.classes[name] = made
        else:
            again.append(f"from {made.__module__} import {name} as {name}")
    classes, done = [], set()
    while left := sorted(writer.classes.keys() - done):
        for name in left:
            classes += writer.of_class(writer.classes[name])
            done.add(name)
    rooms = sorted(one.name for one in pkgutil.iter_modules(limekit.__path__) if not one.name.startswith("_"))
    imports = sorted(f"import {module}" for module in writer.modules)
    lines = [
        HEAD,
        "from collections.abc import Callable, Iterable, Mapping, Sequence",
        "from typing import Any, Literal, Protocol, TypeAlias, overload",
        "import pandas",
        "import pint",
        "from numpy.typing import NDArray",
        "import os",
        *imports,
        *(f"from limekit import {room} as {room}" for room in rooms),
        *again,
        ALIASES,
        "__version__: str",
        *classes,
        *functions,
    ]
    ruff = [
        sys.executable,
        "-m",
        "ruff",
        "format",
        "--line-length",
        "120",
        "--stdin-filename",
        "limekit/__init__.pyi",
        "-",
    ]
    return subprocess.run(ruff, input="\n".join(lines), capture_output=True, text=True, check=True).stdout


if __name__ == "__main__":
    STUB.write_text(stub(), encoding="utf-8")
