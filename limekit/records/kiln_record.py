"""The kiln record: one text file in which a learner keeps every answer of their own kiln."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType

import tomlkit

from limekit import glossary
from limekit.errors import InputError, RecordError
from limekit.fire.fuel import Fuel, fuels
from limekit.limestone import MADE_OF, Stone, StoneKind, stone_kinds
from limekit.records import files
from limekit.records.examples import example_path
from limekit.records.kiln_keys import (
    DIGITS,
    EITHER,
    QUANTITIES,
    check,
    faults_and_unknown,
    instead,
    known_keys,
    near,
    nearest,
    unit_of_key,
)
from limekit.records.kiln_toml import parse, put, put_in, rename_former, same, take_results
from limekit.records.own_burns import BURNS, KEYS, OwnBurn, faults_of_burns, read_burn, tell_burn
from limekit.records.own_burns import WORDS as WORDS_OF_BURNS
from limekit.units import from_si

EXAMPLE = "my_kiln_example.toml"
MOST_BYTES = 200_000
NEAREST_FUEL = "hardwood"  # to a wood whose analysis is not known

HEADER = "# My kiln. Change it by hand as you like: text and units in quotation marks, shares as plain numbers.\n"


def _is_shipped(path: Path) -> bool:
    return os.path.realpath(path) == os.path.realpath(example_path(EXAMPLE))


class Record:
    """What a learner has decided about their kiln, with the invented example where they have not.

    ``record["stone"]["calcium_carbonate"]`` is what the file says; `quantity` makes a Quantity of it.
    Made by `Record.load`. `former_results` are figures of an older record that follow from its decisions and are worked
    out anew: they can still be read there, and are left out when it is next saved.
    """

    def __init__(self, path: Path, raw: bytes | None = None) -> None:
        self.path = path
        self._raw = raw
        self._own, self._document = parse(str(path), HEADER.encode() if raw is None else raw)
        rename_former(self._own, self._document)
        self.former_results = dict(take_results(self._own, self._document))
        of_burns = faults_of_burns(self._own.get(BURNS, []))
        faults, self.unknown = faults_and_unknown({name: said for name, said in self._own.items() if name != BURNS})
        faults += of_burns
        if faults:
            raise RecordError(str(path), faults)
        self._example = tomllib.loads(example_path(EXAMPLE).read_text(encoding="utf-8"))

    @classmethod
    def load(cls, path="my_kiln.toml") -> Record:
        """Read a kiln record; where there is no such file yet, everything comes from the invented example.

        Nothing is half-read: `RecordError` tells every fault in the file, by section and key.
        """
        path = files.as_path(path)
        if not os.path.lexists(path) or _is_shipped(path):
            return cls(path)
        return cls(path, files.read_bytes(path, MOST_BYTES))

    @property
    def is_example(self) -> bool:
        """Whether nothing in it is the learner's own."""
        return not self._own

    def is_own(self, key: str) -> bool:
        """Whether a figure, as in ``"kiln.largest_stone"``, is the learner's own and not invented."""
        section, name = self._split(key)
        return name in self._own.get(section, {})

    def __getitem__(self, section: str) -> Mapping[str, object]:
        if section not in QUANTITIES and section not in self._own:
            meant = near(str(section), QUANTITIES) or "kiln"
            raise InputError("section of the kiln record", repr(section), ", ".join(QUANTITIES), f'record["{meant}"]')
        own, invented = self._own.get(section, {}), self._example.get(section, {})
        if section == "stone":
            invented = instead(own, invented)
        return MappingProxyType({**invented, **own} if isinstance(own, dict) else {"": own})

    def __iter__(self) -> Iterator[str]:
        return iter(QUANTITIES)

    def quantity(self, key: str):
        """Return one figure, by section and name as ``"kiln.largest_stone"``, as a Quantity in the glossary's unit.

        It comes from the invented example where the learner has not decided yet. Raises `InputError` if the record
        knows no such figure, or it is text.
        """
        section, name = self._split(key)
        if name not in QUANTITIES[section]:
            got = f'"{key}", which is words'
            raise InputError("figure of the kiln record", got, "a quantity", f'record["{section}"]')
        if name not in self[section]:
            wanted = "a figure kept before"
            example = f'record.keep("{section}", {glossary.entry(name).written})'
            raise InputError("figure of the kiln record", f'"{key}", not decided yet', wanted, example)
        return from_si(check(section, name, self[section][name]), unit_of_key(name), glossary.entry(name).unit)

    @property
    def stone(self) -> Stone:
        """The stone as it comes to the kiln, with what its trial found.

        A learner's own stone is not taken to hold the example's clay: until it is analysed its clay is not known.
        """
        keys = [f"stone.{name}" for name in (*MADE_OF, "density")]
        keys += [f"trial.{name}" for name in QUANTITIES["trial"] if name in self["trial"]]
        if self.is_own("stone.clay") or not any(map(self.is_own, (*keys[:2], "stone.stone_kind"))):
            keys.append("stone.clay")
        return Stone(**{key.partition(".")[2]: self.quantity(key) for key in keys})

    @property
    def stone_kind(self) -> StoneKind | None:
        """What kind of stone it is; None where the record tells a stone's make-up and not its kind."""
        return stone_kinds().get(self["stone"].get("stone_kind"))

    @property
    def fuel(self) -> Fuel:
        """The fuel that the record's own words name, as "oak" in "red oak, split"; the nearest where they name none."""
        return Fuel(self._named_fuel or NEAREST_FUEL, fuel_moisture=self.quantity("fuel.fuel_moisture"))

    @property
    def _named_fuel(self) -> str | None:
        named = set(re.findall(r"\w+", str(self["fuel"]["name"]).lower())) & fuels().keys()
        return min(named, key=lambda name: (fuels()[name].kind == "wood", list(fuels()).index(name)), default=None)

    @property
    def fuel_remark(self) -> str:
        """Which fuel stands in for one the kit has no analysis of; nothing where it has."""
        if self._named_fuel:
            return ""
        return f'The kit has no analysis of "{self["fuel"]["name"]}" and counts it as {fuels()[NEAREST_FUEL].label}.'

    @property
    def burns(self) -> tuple[OwnBurn, ...]:
        """The kiln's own burns, in the order they were written down."""
        return tuple(map(read_burn, self._own.get(BURNS, [])))

    def keep_burn(self, burn_log=None, replay=None, **told) -> Record:
        """Put a burn of the kiln into the record, and return that; `save` then writes it to the file.

        A burn is known by the day it was lit: what is told of it later, as what was drawn, joins what stands there.

        Parameters
        ----------
        burn_log : BurnLog, optional
            From `limekit.read_burn_log`: hours and fuel are taken from it.
        replay : Replay, optional
            From `limekit.replay_burn`: what its refit found is kept with its ranges.
        **told
            As `limekit.records.own_burns.OwnBurn` has them, given as a person writes them:
            ``date="2028-05-06", firing_time="27 h", fuel_mass="680 kg"``. They come before what log and replay tell.

        Raises
        ------
        InputError
            If a name or a value is refused; then nothing is changed.
        """
        told = tell_burn(burn_log, replay) | told
        written = {name: value if isinstance(value, str) else _as_written(name, value) for name, value in told.items()}
        date = read_burn(written).date
        written = {name: written[name] for name in KEYS if name in written}
        if BURNS not in self._document:
            self._own[BURNS], self._document[BURNS] = [], tomlkit.aot()
        days = [burn.date for burn in self.burns]
        if date not in days:
            self._own[BURNS].append(written)
            self._document[BURNS].append(tomlkit.item(written))
        else:
            self._own[BURNS][days.index(date)].update(written)
            for name, value in written.items():
                put(self._document[BURNS][days.index(date)], name, value)
        return self

    def keep(self, section: str, **values) -> Record:
        """Put answers into the record, and return that; `save` then writes them to the file.

        Parameters
        ----------
        section : str
            One of stone, trial, burn, kiln, fuel, lime, people. Of two answers that decide one thing, as the putty
            wanted and the stone to charge, the later takes the place of the earlier.
        **values
            By glossary name, as text with a unit, a Quantity, or a number where a share is meant.
            Text is kept as it was typed; a Quantity is written in the glossary's unit with twelve digits.

        Raises
        ------
        InputError
            If a name or a value is refused; then nothing is changed.
        """
        written = {}
        for name, given in values.items():
            self._split(f"{section}.{name}")
            taken = check(section, name, given)
            if isinstance(given, str) or isinstance(taken, str):
                written[name] = given.strip() if isinstance(given, str) else taken
            else:
                unit = glossary.entry(name).unit
                written[name] = f"{taken:.{DIGITS}g} {unit}" if unit else float(f"{taken:.{DIGITS}g}")
        faults, _ = faults_and_unknown({section: {**self._own.get(section, {}), **written}})
        if faults:
            raise InputError(f"keeping {', '.join(values)}", faults[0], "figures that fit each other")
        for name, value in written.items():
            for other in {one for pair in EITHER if name in pair for one in pair} - written.keys():
                self._forget(other)
            self._own.setdefault(section, {})[name] = value
            put_in(self._document, section, name, value)
        return self

    def _forget(self, name: str) -> None:
        section = next(one for one in QUANTITIES if name in QUANTITIES[one])
        if name in self._own.get(section, {}):
            del self._own[section][name]
            self._document[section].remove(name)

    def save(self, path=None, even_if_changed: bool = False) -> Path:
        """Write the learner's own part of the record to its file, in one step.

        Comments and keys the kit does not know stay as they are, and the last five versions are
        kept beside it as ``my_kiln.toml.1`` (newest) to ``my_kiln.toml.5``.

        Parameters
        ----------
        path : str or path-like, optional
            Without it, where the record was loaded from.
        even_if_changed : bool
            Write also over a file that is not as this record last read or wrote it.

        Raises
        ------
        InputError
            If the file there was changed since or cannot be read, the folder refuses, or there is
            nothing to save. The file is then as it was.
        """
        path = self.path if path is None else files.as_path(path)
        asked = f"saving {path}"
        if self.is_example:
            wanted = "an answer of yours to save; the invented example is not copied into your file"
            raise InputError(asked, "a record with nothing of yours in it", wanted, 'record.keep("kiln", ...)')
        if _is_shipped(path):
            raise InputError(asked, "the kit's own example", "a file of your own", 'record.save("my_kiln.toml")')
        new = tomlkit.dumps(self._document).encode()
        if not self._is_said_by(new):
            wanted = "a plainer file, one [section] of each name; nothing was written"
            raise InputError(asked, "sections that cannot be written back unchanged", wanted)
        with files.held(path) as file:
            there = file.read(MOST_BYTES)
            is_as_read = there == self._raw and os.path.realpath(path) == os.path.realpath(self.path)
            if there not in (None, new) and not is_as_read:
                self._may_replace(path, there, even_if_changed)
            if there != new:
                file.write(new)
        self.path, self._raw = path, new
        return path

    @staticmethod
    def _may_replace(path: Path, there: bytes, even_if_changed: bool) -> None:
        """Refuse to write over a file this record did not read, unless told to and it can be read."""
        asked = f"saving {path}"
        if not even_if_changed:
            got = "a file that is not as this record read it: changed since, or another one"
            wanted = "to load it afresh and keep your answer again, or to say that it may be replaced"
            raise InputError(asked, got, wanted, "record.save(even_if_changed=True)")
        try:
            Record(path, there)
        except RecordError as fault:
            wanted = "a file that can be read, or another name; nothing is written over what is not understood"
            raise InputError(asked, f"a file with a fault ({fault.faults[0]})", wanted) from fault

    def _is_said_by(self, new: bytes) -> bool:
        try:
            return same(parse(str(self.path), new)[0], self._own)
        except RecordError:
            return False

    @staticmethod
    def _split(key: str) -> tuple[str, str]:
        section, _, name = str(key).partition(".")
        if section not in QUANTITIES or name not in known_keys(section):
            every = [f"{one}.{known}" for one in QUANTITIES for known in known_keys(one)]
            meant = near(str(key), every)
            wanted = f"one of {', '.join(known_keys(section) if section in QUANTITIES else QUANTITIES)}"
            raise InputError("figure of the kiln record", f'"{key}"', wanted, f'"{meant or every[0]}"')
        return section, name

    def __repr__(self) -> str:
        known = [f"{section}.{name}" for section in self for name in self[section] if name in known_keys(section)]
        own = sum(self.is_own(key) for key in known)
        said = f"{own} of {len(known)} answers yours, the rest invented" if own else "an invented example"
        return f"<kiln record {self.path}: {said}>"

    @property
    def remarks(self) -> tuple[str, ...]:
        """What of it the kit does not know, each with the nearest it does, and what it works out anew."""
        strange = (
            f'"{key}" is not known to the kit and left alone; the nearest known is "{nearest(key)}".'
            for key in self.unknown
        )
        anew = (
            f"{key} = {value} followed from other answers; it is worked out anew."
            for key, value in self.former_results.items()
        )
        return (*strange, *anew)

    def __str__(self) -> str:
        lines = [repr(self)]
        for section in self:
            lines.append(f"[{section}]")
            for name, value in self[section].items():
                label = glossary.entry(name).label if name in QUANTITIES[section] else name
                whose = "yours" if name in self._own.get(section, {}) else "invented"
                lines.append(f"  {label}: {value} ({whose})")
        lines += self.remarks
        return "\n".join(lines)


def _as_written(name: str, value) -> str | float:
    unit = "" if name in WORDS_OF_BURNS else glossary.entry(name).unit
    if not hasattr(value, "to"):
        return value if unit == "" and isinstance(value, int | float) else str(value)
    return f"{value.to(unit).magnitude:.{DIGITS}g} {unit}"
