"""What a plan starts from: every figure and word of a kiln record as an SI float, and whose it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from limekit import glossary
from limekit.chemistry import loss_on_ignition
from limekit.edge import plain
from limekit.errors import InputError
from limekit.estimate import shown
from limekit.fire.fuel import Fuel, fuels
from limekit.records.kiln_keys import CARBONATES, CHOSEN, DATES, EITHER, QUANTITIES, check, near, unit_of_key
from limekit.records.kiln_record import Record
from limekit.units import from_si, quantity

SECTIONS = {
    name: section for known in (QUANTITIES, CHOSEN, DATES) for section, names in known.items() for name in names
}
DIGITS = 4  # of a decision told back
LOSS_APART = 0.01  # of the dry stone, from which a weighed loss and the carbonates are said not to fit
INSIDE = frozenset(("kiln_diameter", "kiln_height"))  # measured of a kiln that stands
OWN_BURNS = "own_burns"  # that count
FUEL = "fuel"  # by which the record's own words for its wood are meant


@dataclass(frozen=True)
class Decisions:
    """Decisions and measurements by name, in SI floats, and which of them are a person's own."""

    values: Mapping[str, object]
    own: frozenset[str] = field(default=frozenset())

    @classmethod
    def of(cls, record: Record) -> Decisions:
        """Read them from a record; where its owner is silent, the invented example speaks."""
        values: dict[str, object] = {}
        for name, section in SECTIONS.items():
            if name in record[section]:
                worded = name not in QUANTITIES[section]
                values[name] = str(record[section][name]) if worded else plain(record.quantity(f"{section}.{name}"))
        if "clay" not in record.stone.given:
            values.pop("clay", None)
        if kind := record.stone_kind:
            values["charge_fines"] = kind.figures["charge_fines"]
        own = {name for name, section in SECTIONS.items() if record.is_own(f"{section}.{name}")}
        if record.is_own("fuel.name"):
            own.add(FUEL)
        if burns := tuple(one for one in record.burns if not one.went_wrong):
            values[OWN_BURNS] = burns
            own.add(OWN_BURNS)
        return cls(MappingProxyType(values | {FUEL: record.fuel.kind}), frozenset(own))

    def get(self, name: str, otherwise=None):
        """Return a decision, or something else where none is known."""
        return self.values.get(name, otherwise)

    def if_own(self, name: str):
        """Return a decision that is a person's own, or None."""
        return self.values[name] if name in self.own else None

    def but(self, **changed) -> Decisions:
        """Return others with some changed, in SI floats; of two that decide one thing the new one counts.

        A charge is sorted as evenly as before: without a word on it, the smallest stone follows the largest.
        """
        evenness = {"largest_stone", "smallest_stone"} & changed.keys()
        if evenness == {"largest_stone"} and "smallest_stone" in self.values:
            by = changed["largest_stone"] / self.values["largest_stone"]
            changed["smallest_stone"] = by * self.values["smallest_stone"]
        unheeded = {other for pair in EITHER for name in pair if name in changed for other in pair} - changed.keys()
        return Decisions(MappingProxyType(self.values | changed), (self.own - unheeded) | changed.keys())

    def heeded(self, name: str) -> str:
        """Return which answer to a question counts: the one of this name, or another that decides the same thing."""
        for first, second in EITHER:
            if name in (first, second):
                return first if first in self.own and second not in self.own else second
        return name

    def kept(self, *names: str) -> dict[str, dict[str, object]]:
        """Return decisions as a record keeps them, by section: those that count of these names, the kit's own left out.

        What is measured of a kiln that stands is nobody's decision; with the largest stone goes the smallest.
        """
        asked = {self.heeded(name) for name in names} | ({"smallest_stone"} if "largest_stone" in names else set())
        kept: dict[str, dict[str, object]] = {}
        for name in sorted(asked - INSIDE & self.values.keys() & SECTIONS.keys(), key=[*SECTIONS].index):
            kept.setdefault(SECTIONS[name], {})[name] = self._written(name)
        if FUEL in names:
            kept.setdefault(FUEL, {})["name"] = fuels()[self.values[FUEL]].label
        return kept

    def told(self, name: str) -> str:
        """Return a decision in words, in the unit a person knows it by."""
        value = self._written(name)
        return value or "–" if value is None or isinstance(value, str) else shown(value, DIGITS)

    def _written(self, name: str):
        """Return a decision as a Quantity in the unit a person knows it by, or the share, word or None that it is."""
        value = self.get(name)
        if isinstance(value, tuple):
            return f"{len(value)}" if value else None
        unit = "" if value is None or isinstance(value, str) else glossary.entry(name).unit
        return quantity(value, str(quantity(1.0, unit).to_base_units().units)).to(unit) if unit else value

    @property
    def remarks(self) -> tuple[str, ...]:
        """Which of two answers to one question is heeded, where both stand in a record, and what does not fit."""
        return (*self._twice, *self._misfits)

    @property
    def _misfits(self) -> tuple[str, ...]:
        """A loss that was weighed, and a make-up that would lose otherwise."""
        if "loss_on_ignition" not in self.own:
            return ()
        made_of = (self.values[name] for name in CARBONATES)
        weighed, reckoned = self.values["loss_on_ignition"], loss_on_ignition.plain(*made_of)
        if abs(weighed - reckoned) < LOSS_APART:
            return ()
        return (
            f"The loss on ignition you kept, {shown(weighed, 3)}, does not fit the carbonates, which would lose "
            f"{shown(reckoned, 3)}: the carbonates are heeded, the loss is not.",
        )

    @property
    def _twice(self) -> tuple[str, ...]:
        return tuple(
            f"{glossary.label(heeded)} and {glossary.label(other)} decide one thing, and both are yours: "
            f"{self.told(heeded)} is heeded, {self.told(other)} is not."
            for other, heeded in EITHER
            if {heeded, other} <= self.own
        )


def read(written: Mapping[str, object]) -> dict[str, object]:
    """Return decisions as a person writes them as SI floats and words, by name; what is neither is refused."""
    return {name: _read(name, value) for name, value in written.items()}


def _read(name: str, value):
    section = SECTIONS.get(name)
    if name == FUEL:
        return Fuel.read_field("kind", value)
    if section is None:
        known = (*SECTIONS, FUEL)
        example = f"{near(name, known) or 'largest_stone'}=..."
        raise InputError("plan", f'"{name}"', f"one of {', '.join(known)}", example)
    taken = check(section, name, value)
    return plain(from_si(taken, unit_of_key(name), glossary.entry(name).unit)) if name in QUANTITIES[section] else taken
