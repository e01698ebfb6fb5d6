"""Days and clock times of the place, with no time zones, as a person writes them: year first."""

from __future__ import annotations

import datetime

from limekit.errors import InputError, told


def read_date(given, asked: str) -> datetime.date:
    """Return a day from a date, a clock time, or text like "2028-03-04".

    Raises `InputError` if it is none of these, or not in the calendar.
    """
    if isinstance(given, datetime.date) and given == given:  # the missing date of pandas is not
        return given.date() if isinstance(given, datetime.datetime) else given
    try:
        return datetime.date.fromisoformat(given)
    except (TypeError, ValueError):
        raise InputError(asked, told(given), "a date, year first", f'{asked}="2026-05-01"') from None


def read_time(given, asked: str) -> datetime.datetime:
    """Return a clock time of the place from a datetime or from text like "2028-03-04 09:00".

    Raises `InputError` if it cannot be read or carries a time zone.
    """
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
    """Return a date or a clock time moved by so many seconds; dates move by whole days.

    Raises `InputError` if that is past an end of the calendar.
    """
    try:
        return when + datetime.timedelta(seconds=float(seconds))
    except OverflowError as fault:
        raise InputError("date", f"{when}, at an end of the calendar", "a date of our time", '"2028-03-04"') from fault
