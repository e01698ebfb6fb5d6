"""The file of a thermometer logger: any delimited table with a column of times and one or more of temperatures.

Each logger writes its own preamble, separator, marks for a missing reading and way of telling the time, so the table
is found by what it must hold: the headings a person names, and rows under them that begin to read as times.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping

import numpy as np
import pandas as pd

from limekit.errors import InputError, RecordError, not_among
from limekit.facts import fact
from limekit.kiln.logged import PLACES, Logged
from limekit.kinds import guarded
from limekit.records import files
from limekit.records.readings import doubted
from limekit.units import DAY, HOUR, MINUTE, ZERO_CELSIUS

MOST_BYTES = 50_000_000
DELIMITERS = ("\t", ";", "|", ",", " ")
PREAMBLE = 200  # lines in which the headings are looked for
LIKE_THE_REST = 0.8  # share of rows that a column's way of writing must fit
LONGEST_NAME, TOLD = 80, 5  # characters of a heading, and headings told
SECONDS = {"ms": 1e-3, "s": 1.0, "sec": 1.0, "second": 1.0, "min": MINUTE, "minute": MINUTE, "h": HOUR, "hr": HOUR}
SECONDS |= {"seconds": 1.0, "minutes": MINUTE, "hours": HOUR, "hour": HOUR, "d": DAY, "day": DAY, "days": DAY}
DEGREES = {"c": (1.0, 0.0), "k": (1.0, -ZERO_CELSIUS), "f": (5.0 / 9.0, -160.0 / 9.0)}  # factor and shift to °C
DAYS = ("%d.%m.%Y", "%d.%m.%y", "%d/%m/%Y", "%m/%d/%Y", "%d/%m/%y", "%m/%d/%y", "%d-%m-%Y", "%m-%d-%Y", "%Y/%m/%d")
CLOCKS = ("%H:%M:%S", "%H:%M", "%H:%M:%S.%f", "%I:%M:%S %p", "%I:%M %p")
STAMPS = ("ISO8601", *(f"{day} {clock}" for day in DAYS for clock in CLOCKS))
SAMPLE = 100  # cells of a column, by which its way of writing is told

_HEADING = re.compile(r"(?P<name>.*?)\s*(?:[\[(]\s*(?P<unit>[^\])]*?)\s*[\])])?\s*")
_ZONE = re.compile(r"(?<=\d)\s*(?:Z|[+-]\d\d:?\d\d)$")
_DEGREE = re.compile(r"(?:deg\.?|degrees?|°|º|\?|\s)*(?P<scale>[ckf])(?:elsius|elvin|ahrenheit)?", re.IGNORECASE)
_CLOCK = re.compile(r"\d{1,3}:[0-5]\d(?::[0-5]\d(?:[.,]\d+)?)?")
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d*)?")
_DATE = re.compile(r"\d{1,4}[./-]\d{1,2}[./-]\d{1,4}")
_STAMP = re.compile(_DATE.pattern + r"[T ].*")
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}(?:\.\d*)?")


@guarded
def read_logger(path, places: Mapping[str, str]) -> Logged:
    """Read what a logger wrote: times, and a thermometer or several.

    Parameters
    ----------
    path : str, path-like or pandas.DataFrame
        A DataFrame, or a text file whose cells are separated by tabs, semicolons, bars, commas or spaces. Lines
        before the table, a line of units under its headings and a last line cut short are passed over.
    places : mapping of str to str
        From the heading of each thermometer that counts, its unit left off, to where it hangs:
        ``{"T1": "flue", "T2": "hearth"}``, one of hearth, lower, middle, upper, flue.

    Returns
    -------
    Logged
        In SI floats. ``remarks`` says how times and units were understood, and how many readings were set aside and
        why: none, off the scale, stuck, jumping.

    Raises
    ------
    RecordError
        If there is no such table, heading, or column of times.
    InputError
        If there is no such place, or two thermometers hang in one.

    Notes
    -----
    Times are stamps of date and clock, a date and a clock in two columns, a clock alone, or a number counted from the
    start, in seconds where its heading names no other unit. Where the clock falls back, or leaps by more than a
    week, it was set or the logger started anew: what follows is counted on from there, with nobody knowing how long the
    pause was. A temperature whose heading names no unit is read as °C. What is set aside is told in
    `limekit.records.readings`.

    Examples
    --------
    >>> import pandas as pd
    >>> table = pd.DataFrame({"seconds": [0, 10, 20], "T1 [degC]": [210.5, 211.0, "open"]})
    >>> readings = read_logger(table, {"T1": "flue"})
    >>> readings.temperatures["flue"].round(2).tolist()
    [483.65, 484.15, nan]
    """
    _check(places)
    if hasattr(path, "itertuples"):
        table = _Table.given(path, places)
    else:
        path = files.as_path(path)
        table = _Table.found(str(path), _whole_lines(files.read_text(path, MOST_BYTES)), places)
    times, clock, said = _times(table)
    temperatures, remarks = {}, list(said)
    for heading, place in places.items():
        read, how = _degrees(table, heading)
        read, doubts = doubted(times, read)
        temperatures[place] = read + ZERO_CELSIUS
        remarks += [f"{heading} ({place}): {words}" for words in (*how, *doubts)]
    return Logged(times, clock, temperatures, (*table.remarks, *remarks))


def _check(places) -> None:
    example = 'places={"T1": "flue", "T2": "hearth"}'
    if not isinstance(places, Mapping) or not places or not all(isinstance(one, str) for one in places):
        wanted = "the heading of each thermometer, and its place"
        raise InputError("places", f"{type(places).__name__}", wanted, example)
    for heading, place in places.items():
        if place not in PLACES:
            raise not_among(PLACES, f'place of "{heading[:LONGEST_NAME]}"', place, '"{near}"')
    if len(set(places.values())) < len(places):
        raise InputError("places", "two thermometers in one place", "one for each", example)


def _whole_lines(text: str) -> str:
    """Return a file's text without a last line that is still being written."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    whole = text.rpartition("\n")[0]
    return f"{whole}\n" if whole.count("\n") > 1 and not text.endswith("\n") else text


def _bare(heading: str) -> tuple[str, str]:
    """Return a heading's name in small letters and its unit."""
    parts = _HEADING.fullmatch(" ".join(heading.split()))
    return parts["name"].strip(' "').casefold(), (parts["unit"] or "").strip()


class _Table:
    """A logger's table: its columns as text, by their headings in small letters, and the unit each names."""

    def __init__(self, path: str, cells: pd.DataFrame, units: dict[str, str], remarks: list[str], asked) -> None:
        self.path, self.cells, self.units, self.remarks = path, cells, units, remarks
        self.others = [name for name in cells.columns if name not in asked]

    def refuse(self, words: str) -> RecordError:
        return RecordError(self.path, [words])

    @classmethod
    def given(cls, table: pd.DataFrame, places) -> _Table:
        """Take a DataFrame, with its index where that tells the time."""
        if isinstance(table.index, pd.DatetimeIndex):
            table = table.reset_index(names="time")
        path, headings = "the table given", [str(one) for one in table.columns]
        asked = {_bare(heading)[0]: heading for heading in places}
        names = [_name(one, asked) for one in headings]
        if not set(asked) <= set(names):
            raise _no_heading(path, asked, headings)
        if table.empty:
            raise RecordError(path, ["no rows under its headings"])
        first = _places_of(names)
        cells = table.iloc[:, list(first.values())].astype(str).set_axis(list(first), axis=1).reset_index(drop=True)
        return cls(path, cells, {name: _unit(headings[place]) for name, place in first.items()}, [], asked)

    @classmethod
    def found(cls, path: str, text: str, places) -> _Table:
        """Find the headings that are asked for, and read what stands under them."""
        lines = text.split("\n")
        asked = {_bare(heading)[0]: heading for heading in places}
        most, nearest = -1, []
        for number, line in enumerate(lines[:PREAMBLE]):
            for delimiter in DELIMITERS:
                headings = _split(line, delimiter)
                names = [_name(one, asked) for one in headings]
                there = len(asked.keys() & set(names))
                if there == len(asked):
                    return cls._read(path, lines[number + 1 :], delimiter, names, headings, asked)
                if there > most and len(names) > 1:
                    most, nearest = there, headings
        raise _no_heading(path, asked, nearest)

    @classmethod
    def _read(cls, path: str, lines: list[str], delimiter: str, names: list[str], headings, asked) -> _Table:
        rows = [line for line in lines if line.strip() and not line.lstrip().startswith("#")]
        under = _split(rows[0], delimiter) if rows else []
        if delimiter == " " and len(under) > len(names):
            names, headings = ["date", *names], ["date", *headings]  # a stamp with a space in it
        names = [*names, *[""] * (len(under) - len(names))]
        first = _places_of(names)
        units = {name: _unit(headings[place]) for name, place in first.items()}
        if under and not any(map(str.isdigit, "".join(under))):
            units |= {name: under[place] for name, place in first.items() if place < len(under) and under[place]}
            rows = rows[1:]
        if not rows:
            raise RecordError(path, ["no rows under its headings"])
        try:
            cells = pd.read_csv(
                io.StringIO("\n".join(rows)),
                sep=r"\s+" if delimiter == " " else delimiter,
                names=range(len(names)),
                usecols=sorted(first.values()),
                dtype=str,
                keep_default_na=False,
                on_bad_lines="skip",
                skipinitialspace=True,
            )
        except ValueError as fault:
            raise RecordError(path, [f"it is no table ({str(fault)[:LONGEST_NAME]})"]) from fault
        cells.columns = [names[place] for place in cells.columns]
        odd = len(rows) - len(cells)
        return cls(
            path,
            cells.fillna("").apply(lambda one: one.str.strip()),
            units,
            [f"Passed over: {odd} rows that do not fit the table."] if odd else [],
            asked,
        )


def _places_of(names: list[str]) -> dict[str, int]:
    """Return in which column each name stands, the first where it stands in several."""
    return {name: names.index(name) for name in names if name}


def _unit(heading: str) -> str:
    return _bare(heading)[1] or heading


def _no_heading(path: str, asked: Mapping[str, str], headings: list[str]) -> RecordError:
    names = [_name(one, asked) for one in headings]
    missing = ", ".join([f'"{heading[:LONGEST_NAME]}"' for name, heading in asked.items() if name not in names][:TOLD])
    seen = ", ".join([one[:LONGEST_NAME] for one in headings if one][:TOLD]) or "none"
    return RecordError(path, [f"no heading {missing} in its first {PREAMBLE} lines; the headings nearest: {seen}"])


def _split(line: str, delimiter: str) -> list[str]:
    if delimiter == " ":
        return line.split()
    try:
        return [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter))]
    except (csv.Error, StopIteration):
        return []


def _name(heading: str, asked: Mapping[str, str]) -> str:
    """Return a heading's name: the one asked for, where the heading is that with a unit after it and no brackets."""
    if len(heading) > LONGEST_NAME:
        return ""
    name, _ = _bare(heading)
    for one in asked:
        if name.startswith(one) and _DEGREE.fullmatch(name[len(one) :].strip(" _,")):
            return one
    return name


def _times(table: _Table) -> tuple[np.ndarray, float | None, list[str]]:
    """Return seconds since the first row, its clock where the file tells one, and what was understood."""
    for name in table.others:
        written = table.cells[name]
        if _fits(written, _DATE) and (
            clock := next((one for one in table.others if _fits(table.cells[one], _CLOCK)), None)
        ):
            return _by_stamps(table, name, written + " " + table.cells[clock])
        if _fits(written, _CLOCK):
            return _by_clock(table, written)
        if _fits(written, _STAMP):
            return _by_stamps(table, name, written)
    for name in table.others:
        unit = _unit_of_time(name, table.units[name])
        counted = _numbers(table.cells[name])
        if (unit or name == table.others[0]) and np.isfinite(counted).mean() >= LIKE_THE_REST:
            said = [] if unit else [f'"{name}" names no unit and is read as seconds.']
            times, more = _running(counted * SECONDS[unit or "s"])
            return times, None, said + more
    raise table.refuse('no column of times: a date and a clock as in 2028-06-03 14:30:00, or "seconds"')


def _fits(written: pd.Series, form: re.Pattern) -> bool:
    return _sample(written).str.fullmatch(form).mean() >= LIKE_THE_REST


def _sample(written: pd.Series) -> pd.Series:
    return written.iloc[:: max(len(written) // SAMPLE, 1)]


def _unit_of_time(name: str, unit: str) -> str | None:
    """Return the unit of time that a heading names, in brackets or as one of its words."""
    words = [unit.casefold(), *re.findall(r"[a-z]+", name)]
    return next((word for word in words if word in SECONDS), None)


def _by_stamps(table: _Table, name: str, written: pd.Series) -> tuple[np.ndarray, float | None, list[str]]:
    """Read stamps of date and clock; of the ways to write days and months, the one that makes the shortest night."""
    local = written.str.replace(",", ".").str.replace(_ZONE, "", regex=True).str.replace(r"\s+", " ", regex=True)

    def read(some: pd.Series, form: str) -> pd.Series:
        return pd.to_datetime(some, format=form, errors="coerce")

    fit = [read(local, form) for form in STAMPS if read(_sample(local), form).notna().mean() >= LIKE_THE_REST]
    if not fit:
        got = f'"{name}": "{written.iloc[0][:LONGEST_NAME]}" is no stamp'
        raise table.refuse(f"{got}; wanted as in 2028-06-03 14:30:00")
    stamps = min(fit, key=lambda one: one.max() - one.min())
    seconds = (stamps - stamps.min().normalize()).dt.total_seconds().to_numpy()
    times, said = _running(seconds)
    return times, _clock_of(seconds, times), said


def _by_clock(table: _Table, written: pd.Series) -> tuple[np.ndarray, float | None, list[str]]:
    """Read a clock alone, which may pass midnight."""
    parts = (
        written.str.replace(",", ".").str.extract(r"(\d{1,3}):(\d\d)(?::(\d\d(?:\.\d*)?))?").astype(float).to_numpy()
    )
    told = parts[:, :2] @ (HOUR, MINUTE) + np.nan_to_num(parts[:, 2])
    seen = np.isfinite(told)
    falls = np.diff(told[seen], prepend=told[seen][:1])
    told[seen] += DAY * np.cumsum(falls < -0.5 * DAY)
    times, said = _running(told)
    counted = not told[seen][0]  # from nought
    return times, None if counted else _clock_of(told, times), said


def _clock_of(told: np.ndarray, times: np.ndarray) -> float:
    """Return the clock at the first row, by the clock that most of the rows went by; s since midnight."""
    apart = np.round(told - times)
    apart = apart[np.isfinite(apart)]
    values, counts = np.unique(apart, return_counts=True)
    return float(values[counts.argmax()] % DAY)


def _running(told: np.ndarray) -> tuple[np.ndarray, list[str]]:
    """Return times that never fall, s since the first row, and what was done to them; rows without one are between."""
    seen = np.flatnonzero(np.isfinite(told))
    steps = np.diff(told[seen])
    usual = float(np.median(steps[steps > 0.0])) if (steps > 0.0).any() else 0.0
    jumps = (steps < 0.0) | (steps > fact("logger_longest_gap"))
    steps[jumps] = usual
    times = np.interp(np.arange(len(told)), seen, np.append(0.0, np.cumsum(steps)))
    said = [f"A reading each {usual:g} s, over {times[-1] / HOUR:.1f} h."]
    if len(seen) < len(told):
        said.append(f"{len(told) - len(seen)} rows tell no time and are taken to lie evenly between those that do.")
    gaps = (steps > fact("logger_gap")) & (steps > 3.0 * usual)
    if gaps.any():
        said.append(f"{gaps.sum()} gaps in it, the longest of {steps.max() / MINUTE:.0f} min.")
    if jumps.any():
        said.append(
            f"Its clock was set or started over {jumps.sum()} times, first after {jumps.argmax() + 1} readings: what "
            "follows is counted on from there, and how long the pause was nobody knows."
        )
    return times, said


def _numbers(written: pd.Series) -> np.ndarray:
    """Return the numbers in cells, nan where there is none; a comma is a decimal one, unless it parts thousands."""
    has_comma = written.str.contains(",", regex=False)
    if has_comma.any():
        with_it, without = written[has_comma], written[~has_comma]
        if not (with_it.str.fullmatch(_THOUSANDS).all() and _fits(without, _NUMBER)):
            written = written.str.replace(".", "").str.replace(",", ".")
        written = written.str.replace(",", "")
    numbers = pd.to_numeric(written, errors="coerce").to_numpy(float)
    return np.where(np.isfinite(numbers), numbers, np.nan)


def _degrees(table: _Table, heading: str) -> tuple[np.ndarray, list[str]]:
    """Return what a thermometer read, °C, and how its unit was understood."""
    name = _bare(heading)[0]
    unit = _DEGREE.search(table.units[name].casefold().removeprefix(name))
    factor, shift = DEGREES[unit["scale"] if unit else "c"]
    said = [] if unit else ["its heading names no unit and is read as °C."]
    return _numbers(table.cells[name]) * factor + shift, said
