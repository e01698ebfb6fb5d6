"""The constants of the kit, each with how it is known, its range and, where it has one, its source.

A `Fact` is a float in SI that knows where it comes from, so it can stand in
arithmetic and as a default argument. Rivals stand side by side under one key
and one of them is the default.
"""

from __future__ import annotations

import functools
from collections import defaultdict
from collections.abc import Iterable

from limekit import tables
from limekit.errors import InputError, not_among
from limekit.units import quantity

TAGS = {
    "read": "read in the source",
    "memory": "from memory, not read",
    "practice": "common practice",
    "computed": "computed from the source named",
}


def known_by(source: str, tag: str) -> str:
    """Return a source and how it is known, once: ``common practice, no source`` says both by itself."""
    return source if source.startswith(TAGS[tag]) else f"{source} ({TAGS[tag]})"


class Fact(float):
    """A constant in SI units, with its range, unit as printed, tag and source."""

    key: str
    variant: str
    low: float
    high: float
    printed: str
    tag: str
    source: str
    place: str
    note: str

    def __new__(cls, value: float, **known) -> Fact:
        """Make a float that carries what is known of it."""
        made = super().__new__(cls, value)
        made.__dict__.update(known)
        return made

    def __getnewargs_ex__(self):
        return (float(self),), self.__dict__

    @property
    def basis(self) -> str:
        """One line a reader can judge it by: where it was printed and how it is known."""
        return known_by(self.source, self.tag)

    def __repr__(self) -> str:
        return f"<Fact {self.key}/{self.variant}: {self.printed}; {self.basis}>"


def _si(cell: str, unit: str, where: str) -> float:
    given = quantity(f"{cell} {unit}", asked=where)
    if unit.startswith("delta_"):
        return float(given.to("delta_degC").magnitude)
    return float(given.to_base_units().magnitude)


def refuse_unsourced(row: dict[str, str], where: str) -> None:
    """Raise `InputError` for a row of data with no source, no known tag, or read in no place that can be found."""
    if not row["source"].strip():
        raise InputError(where, "no source", "a source", "")
    if row["tag"] not in TAGS:
        raise InputError(where, f'the tag "{row["tag"]}"', f"one of {', '.join(TAGS)}", "")
    if row["tag"] == "read" and not row["place"].strip():
        raise InputError(where, "the tag read and no place", "where in the source it was read", "")


def load(rows: Iterable[dict[str, str]]) -> dict[str, tuple[Fact, ...]]:
    """Read facts from the rows of a table, with columns as in ``data/facts.csv``, the default of each key first.

    Raises `InputError` if a row has no source, no known tag or was read in no place, its range does not hold its value,
    or a key has not exactly one default.
    """
    found: dict[str, list[Fact]] = defaultdict(list)
    defaults: dict[str, int] = defaultdict(int)
    for number, row in enumerate(rows, start=2):
        where = f"facts row {number}, {row['key']}/{row['variant']}"
        refuse_unsourced(row, where)
        value = _si(row["value"], row["unit"], where)
        low = _si(row["low"], row["unit"], where) if row["low"] else value
        high = _si(row["high"], row["unit"], where) if row["high"] else value
        if not low <= value <= high:
            raise InputError(where, f"{row['value']} outside {row['low']} to {row['high']}", "a range around it", "")
        known = {k: row[k] for k in ("key", "variant", "tag", "source", "place", "note")}
        made = Fact(value, low=low, high=high, printed=f"{row['value']} {row['unit']}".strip(), **known)
        is_default = row["default"] == "yes"
        defaults[row["key"]] += is_default
        found[row["key"]].insert(0 if is_default else len(found[row["key"]]), made)
    for key, count in defaults.items():
        if count != 1:
            raise InputError(f"facts, {key}", f"{count} defaults", "exactly one row with default = yes", "")
    return {key: tuple(known) for key, known in found.items()}


@functools.cache
def table() -> dict[str, tuple[Fact, ...]]:
    """Return every fact the kit ships, by key, the default of each first."""
    return load(tables.rows("facts"))


def rivals(key: str) -> tuple[Fact, ...]:
    """Return every variant of a fact, the default first.

    Raises
    ------
    InputError
        If there is no such fact.
    """
    if not isinstance(key, str) or key not in table():
        raise not_among(table(), "key of a fact", key, 'fact("{near}")')
    return table()[key]


def fact(key: str, variant: str | None = None) -> Fact:
    """Return one fact; without a variant, the default.

    Raises
    ------
    InputError
        If the fact or its variant is not there.
    """
    if variant is None:
        return rivals(key)[0]
    for one in rivals(key):
        if isinstance(variant, str) and one.variant == variant:
            return one
    raise not_among((one.variant for one in rivals(key)), f"variant of {key}", variant, 'variant="{near}"')
