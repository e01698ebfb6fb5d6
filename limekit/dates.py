"""Days and clock times of the place, with no time zones, as a person writes them: year first."""

from __future__ import annotations

import datetime

from limekit.errors import InputError, told


def read_date(given, asked: str) -> datetime.date:
    """Return a day from a date, a clock time, or text like "2028-03-04"; what is no such day raises `InputError`."""
    if isinstance(given, datetime.date) and given == given:  # the missing date of pandas is not
        return given.date() if isinstance(given, datetime.datetime) else given
    try:
        return datetime.date.fromisoformat(given)
    except (TypeError, ValueError):
        raise InputError(asked, told(given), "a date, year first", f'{asked}="2026-05-01"') from None


def read_time(given, asked: str) -> datetime.datetime:
    """Return a clock time of no zone from a datetime, or text like "2028-03-04 09:00"; all else raises `InputError`."""
    example = f'{asked}="2028-03-04 09:00"'
    if isinstance(given, str):
        try:
            given = datetime.datetime.fromisoformat(given.strip())
        except ValueError as fault:
            raise InputError(asked, f'"{given}"', "a date and a clock time that exist", example) from fault
    if not isinstance(given, datetime.datetime) or given != given or given.tzinfo:
        raise InputError(asked, told(given), "a clock time of the place, with no time zone", example)
    return given


def shifted(when: datetime.date, seconds: float):
    """Return a date (by whole days) or a clock time moved by so many seconds; past the calendar raise `InputError`."""
    try:
        return when + datetime.timedelta(seconds=float(seconds))
    except OverflowError as fault:
        raise InputError("date", f"{when}, at an end of the calendar", "a date of our time", '"2028-03-04"') from fault
