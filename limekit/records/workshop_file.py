"""The short file of a workshop, ``my_workshop.toml``: when, where, who, and what is ready."""

from __future__ import annotations

import datetime
import re
import tomllib
from dataclasses import dataclass, fields
from pathlib import Path

from limekit.dates import read_date, read_time
from limekit.edge import take_one
from limekit.errors import InputError, RecordError, told
from limekit.facts import fact
from limekit.records import files
from limekit.records.examples import example_path
from limekit.records.kiln_keys import near
from limekit.records.roster import clock_minutes
from limekit.units import Unit

EXAMPLE = "my_workshop_example.toml"
READY = ("trial only", "kiln burnt", "kiln lit")
BROUGHT = ("cold quicklime", "matured putty", "cold trial stones")
MOST_BYTES, MOST_LETTERS, MOST_OF_A_LINE, MOST_PEOPLE = 50_000, 120, 40, 40
ONE_OF = {"people": "learner", "teachers": "teacher", "stokers": "stoker"}
OWN_DAY = re.compile(r'^(first_day = ")[^"]*', re.MULTILINE)


@dataclass(frozen=True)
class Workshop:
    """A workshop as its file tells it.

    Parameters
    ----------
    first_day : date
    place, address, emergency_number, poisons_line, eye_hospital, first_aider, driver : str
        Empty where nothing is told.
    ready : {"trial only", "kiln burnt", "kiln lit"}
    lit : datetime or None
        When a kiln that was burnt before was lit.
    people, teachers, stokers : tuple of str
        Who learn; who lead, the first the days; who keep a kiln's fire and do nothing else.
    brought : tuple of str
        Of what the work by hand needs.
    leave_out : tuple
        Slugs or numbers of lessons.
    swap : tuple of (str, str)
        Rows of the timetable that change places.
    start, end : str
        Clock times of each day.
    van_load : float
        What the van may carry beside who sits in it, kg.
    """

    first_day: datetime.date
    people: tuple[str, ...]
    ready: str = READY[0]
    lit: datetime.datetime | None = None
    place: str = ""
    teachers: tuple[str, ...] = ("you",)
    stokers: tuple[str, ...] = ()
    first_aider: str = ""
    driver: str = ""
    address: str = ""
    emergency_number: str = ""
    poisons_line: str = ""
    eye_hospital: str = ""
    brought: tuple[str, ...] = BROUGHT[:2]
    leave_out: tuple = ()
    swap: tuple[tuple[str, str], ...] = ()
    start: str = "09:00"
    end: str = "17:00"
    van_load: float = fact("van_load")

    @property
    def everybody(self) -> tuple[str, ...]:
        """Who teach, who stoke and who learn."""
        return (*self.teachers, *self.stokers, *self.people)


def _text(given, asked: str, most: int = MOST_LETTERS) -> str:
    if not isinstance(given, str) or not given.isprintable() or len(given) > most:
        wanted = f"text in quotation marks, of one line and {most} letters at most"
        raise InputError(asked, told(given), wanted, f'{asked} = "..."')
    return given.strip()


def _short(given, asked: str) -> str:
    return _text(given, asked, MOST_OF_A_LINE)


def _list(given, asked: str, example: str) -> tuple:
    if not isinstance(given, list) or len(given) > MOST_PEOPLE:
        raise InputError(asked, told(given), f"a list of {MOST_PEOPLE} at most", f"{asked} = {example}")
    return tuple(given)


def _names(given, asked: str) -> tuple[str, ...]:
    if type(given) is int and 1 <= given <= MOST_PEOPLE:
        return tuple(f"{ONE_OF[asked]} {number}" for number in range(1, given + 1))
    found = tuple(_short(name, asked) for name in _list(given, asked, '["Alder", "Birch"]'))
    if not all(found) or len(set(found)) < len(found) or not found:
        raise InputError(asked, told(given), "names, each once", f'{asked} = ["Alder", "Birch"]')
    return found


def _among(known):
    def read(given, asked: str) -> str:
        if given not in known:
            raise InputError(asked, told(given), f"one of {', '.join(known)}", f'{asked} = "{known[0]}"')
        return given

    return read


def _brought(given, asked: str) -> tuple[str, ...]:
    return tuple(_among(BROUGHT)(one, asked) for one in _list(given, asked, '["matured putty"]'))


def _lessons(given, asked: str) -> tuple:
    found = _list(given, asked, '["fuel_and_air"]')
    return tuple(f"{one:02d}" if type(one) is int else _text(one, asked) for one in found)


def _clock(given, asked: str) -> str:
    clock_minutes(given, asked)
    return given


def _pairs(given, asked: str) -> tuple[tuple[str, str], ...]:
    example = '[["first_kiln", "mix"]]'
    found = _list(given, asked, example)
    if not all(isinstance(pair, list) and len(pair) == len(("one", "other")) for pair in found):
        raise InputError(asked, told(given), "pairs of rows", f"{asked} = {example}")
    return tuple((_text(one, asked), _text(other, asked)) for one, other in found)


READERS = {
    **dict.fromkeys((field.name for field in fields(Workshop)), _text),
    **dict.fromkeys(("first_aider", "driver", "emergency_number", "poisons_line", "eye_hospital"), _short),
    "first_day": read_date,
    "lit": read_time,
    "ready": _among(READY),
    **dict.fromkeys(ONE_OF, _names),
    "brought": _brought,
    "leave_out": _lessons,
    "swap": _pairs,
    **dict.fromkeys(("start", "end"), _clock),
    "van_load": lambda given, asked: take_one(given, Unit("kg"), asked),
}


def read_workshop(path) -> Workshop:
    """Read the file of a workshop; nothing is half-read, and `RecordError` tells every fault in it.

    Examples
    --------
    >>> read_workshop(example_path(EXAMPLE)).first_aider
    'Juniper'
    """
    path = files.as_path(path)
    try:
        written = tomllib.loads(files.read_text(path, MOST_BYTES))
    except (tomllib.TOMLDecodeError, RecursionError) as fault:
        raise RecordError(str(path), [f"it is not valid TOML: {str(fault)[:MOST_LETTERS]}"]) from fault
    read, faults = {}, []
    for name, given in written.items():
        if name not in READERS:
            meant = near(name, READERS)
            faults.append(f"{told(name)}: no such key" + (f'; did you mean "{meant}"?' if meant else ""))
            continue
        try:
            read[name] = READERS[name](given, name)
        except InputError as fault:
            faults.append(f"{name}: got {fault.got}; wanted {fault.wanted}, for example {fault.example}")
    missing = [name for name in ("first_day", "people") if name not in written]
    faults += [f"{name}: it is not told" for name in missing]
    if read.get("ready") == "kiln burnt" and "lit" not in written:
        faults.append('lit: it is not told, and a kiln burnt before must have cooled; lit = "2028-05-20 06:00"')
    named = [name for kind in ONE_OF for name in read.get(kind, ())]
    if twice := sorted({name for name in named if named.count(name) > 1}):
        faults.append(f"people, teachers and stokers: {', '.join(twice)} stands twice; each name once")
    if faults:
        raise RecordError(str(path), faults)
    return Workshop(**read)


def write_workshop_example(path, first_day: datetime.date) -> Path:
    """Write the invented example for a day of one's own, to fill in; a file that is there is left and refused."""
    text = example_path(EXAMPLE).read_text(encoding="utf-8")
    return files.write_new(path, OWN_DAY.sub(rf"\g<1>{first_day}", text).encode())
