"""What a result rests on: each argument and each fact, with the kind of knowledge it is and whence it comes."""

from __future__ import annotations

from dataclasses import dataclass

from limekit import glossary
from limekit.edge.figures import written
from limekit.facts import Fact, fact
from limekit.units import Unit

PUBLISHED = {"read": "published", "computed": "published", "memory": "from memory", "practice": "common practice"}


@dataclass(frozen=True)
class Ground:
    """One thing a result rests on: its name, its value, what kind of knowledge it is, whence."""

    name: str
    value: str
    kind: str
    source: str


def whence(default) -> str:
    """Say where a default comes from."""
    return default.basis if isinstance(default, Fact) else "the kit's default"


def ground_of(name: str, value, given: bool, unit: Unit) -> Ground:
    """Return what an argument, or a field of a thing, adds to what a result rests on."""
    said = written(value, unit, glossary.entry(name))
    if given:
        return Ground(name, said, "given", "")
    return Ground(name, said, PUBLISHED[value.tag] if isinstance(value, Fact) else "assumed", whence(value))


def rests_on(*known: str | Fact) -> tuple[Ground, ...]:
    """Return one `Ground` a fact, given by key or itself, for a result that rests on facts no argument names."""
    facts = (one if isinstance(one, Fact) else fact(one) for one in known)
    return tuple(Ground(one.key.replace("_", " "), one.printed, PUBLISHED[one.tag], one.basis) for one in facts)
