"""Who does what and when: groups, the day's timetable, and watches at the fire."""

from __future__ import annotations

import datetime
import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from limekit.dates import read_time, shifted
from limekit.edge import edge
from limekit.errors import InputError, told
from limekit.facts import fact
from limekit.units import DAY, HOUR, Second

MOST = 10_000  # people, or minutes
LUNCH_EARLY = 60  # minutes before its hour that lunch may begin, rather than cut a piece in two
LUNCH_LATE = 30  # minutes past its hour that a piece may run before lunch comes first

EXAMPLE = 'watches(lit="2028-03-04 06:00", firing_time="24 h", people=["Ash", "Fern", "Rowan", "Hazel", "Elm", "Oak"])'


def groups(people: int, most: int = int(fact("group_size_most"))) -> tuple[int, ...]:
    """Split people into as few groups as will do, as even as can be.

    Parameters
    ----------
    people : int
        1 or more.
    most : int
        People in a group; one vessel or one fire each.

    Returns
    -------
    tuple of int
        Sizes, largest first.

    Raises
    ------
    InputError
        If either is not a whole number of 1 or more.

    Examples
    --------
    >>> groups(14)
    (4, 4, 3, 3)
    """
    for asked, given in (("people", people), ("most", most)):
        whole_number(asked, given, example=f"{asked}=12")
    count = math.ceil(people / most)
    small, larger = divmod(people, count)
    return (small + 1,) * larger + (small,) * (count - larger)


def whole_number(asked: str, given, least: int = 1, example: str = "12") -> None:
    """Refuse what is not a whole number of `least` or more, or is past all reason."""
    if isinstance(given, bool) or not isinstance(given, int) or not least <= given <= MOST:
        raise InputError(asked, told(given), f"a whole number, {least} or more, and {MOST} at most", example)


@dataclass(frozen=True)
class Slot:
    """One line of a timetable: the day counted from 1, clock times, and what is done."""

    day: int
    start: datetime.time
    end: datetime.time
    title: str

    def __str__(self) -> str:
        return f"day {self.day}, {self.start:%H:%M} to {self.end:%H:%M}: {self.title}"


def timetable(
    pieces: Iterable[tuple[str, int]],
    start: str = "09:00",
    end: str = "17:00",
    lunch: str = "12:30",
    lunch_minutes: int = 60,
    break_after: int = 90,
    break_minutes: int = 15,
) -> tuple[Slot, ...]:
    """Lay lessons out over as many days as they need.

    Parameters
    ----------
    pieces : iterable of (str, int)
        Titles and minutes, in order; a lesson is never cut in two.
    start, end : str
        Clock times between which each day's lessons lie.
    lunch : str
        Its hour; it may begin an hour sooner, or when the lesson before it ends.
    lunch_minutes, break_after, break_minutes : int
        A break comes before a lesson that would make a stretch longer than `break_after`.

    Returns
    -------
    tuple of Slot
        Lessons, breaks and lunches in order of time; a day never ends on a pause.

    Raises
    ------
    InputError
        If a clock time cannot be read, a day ends before it starts, a lesson has no minutes, or one is
        longer than a day.

    Examples
    --------
    >>> for slot in timetable([("what fire does", 60), ("your trial", 90)], start="10:00"):
    ...     print(slot)
    day 1, 10:00 to 11:00: what fire does
    day 1, 11:00 to 11:15: break
    day 1, 11:15 to 12:45: your trial
    """
    opens, closes, noon = (
        clock_minutes(text, asked) for asked, text in (("start", start), ("end", end), ("lunch", lunch))
    )
    for asked, given in (
        ("lunch_minutes", lunch_minutes),
        ("break_after", break_after),
        ("break_minutes", break_minutes),
    ):
        whole_number(asked, given, least=0, example=f"{asked}=15")
    if closes <= opens:
        raise InputError("end", f'"{end}" for a day that starts at "{start}"', "a later clock time", 'end="17:00"')
    slots: list[Slot] = []
    day, now, stretch, eaten = 1, opens, 0, opens >= noon
    for title, minutes in _pairs(pieces):
        asked = f'minutes of "{title}"'
        whole_number(asked, minutes, example="60")
        if minutes > closes - opens:
            raise InputError(asked, f"{minutes}, longer than a day of {closes - opens}", "a shorter piece", "60")
        is_lunch = not eaten and now > opens and now >= noon - LUNCH_EARLY and now + minutes > noon + LUNCH_LATE
        pause = lunch_minutes if is_lunch else break_minutes if stretch and stretch + minutes > break_after else 0
        if now + pause + minutes > closes:
            day, now, stretch, eaten, pause = day + 1, opens, 0, opens >= noon, 0
        elif pause:
            slots.append(_slot(day, now, pause, "lunch" if is_lunch else "break"))
            now, stretch, eaten = now + pause, 0, eaten or is_lunch
        slots.append(_slot(day, now, minutes, title))
        now, stretch = now + minutes, stretch + minutes
    return tuple(slots)


def _pairs(pieces) -> list[tuple[str, int]]:
    try:
        return [(str(title), minutes) for title, minutes in pieces]
    except (TypeError, ValueError) as fault:
        example = '[("what fire does", 60), ("your trial", 90)]'
        raise InputError("pieces", told(pieces), "pairs of a title and its minutes", example) from fault


def clock_minutes(text: str, asked: str) -> int:
    """Return a clock time such as "09:00" in minutes of its day; what is none raises `InputError`."""
    try:
        clock = datetime.time.fromisoformat(text)
    except (TypeError, ValueError) as fault:
        raise InputError(asked, repr(text), "a clock time", f'{asked}="09:00"') from fault
    return clock.hour * 60 + clock.minute


def _slot(day: int, now: int, minutes: int, title: str) -> Slot:
    start, end = (datetime.time(*divmod(minute, 60)) for minute in (now, now + minutes))
    return Slot(day, start, end, title)


@dataclass(frozen=True)
class Watch:
    """One turn at the fire: from when to when, and who."""

    start: datetime.datetime
    end: datetime.datetime
    people: tuple[str, ...]


@dataclass(frozen=True)
class Watches:
    """A burn's turns, with the longest that anybody stays on without a turn off."""

    turns: tuple[Watch, ...]
    longest_stretch: Second


@edge
def watches(
    lit: datetime.datetime,
    firing_time: Second,
    people: Sequence[str],
    watch_time: Second = fact("watch_time"),
    together: int = int(fact("watch_people_least")),
) -> Watches:
    """Share a burn's hours out, so that nobody watches alone and everybody sleeps.

    Parameters
    ----------
    lit : datetime.datetime or str
        Clock time of lighting, as in "2028-03-04 06:00".
    firing_time : Second
        From lighting to closing the openings; take the longest it may be.
    people : sequence of str
        Each name once; turns go round them in order.
    watch_time : Second
        One turn.
    together : int
        People on each turn, 2 or more.

    Returns
    -------
    Watches
        No two people's turns differ by more than one.

    Raises
    ------
    InputError
        If anybody would be alone, would stay on past the longest stretch that practice allows, or would
        go without the rest on end that the fact ``watch_rest_least`` asks for in every 24 hours. The
        message says how many people, or what turns, would do.
    """
    lit = read_time(lit, "lit")
    closing = shifted(lit, firing_time)
    names = (people,) if isinstance(people, str) else tuple(people) if isinstance(people, Iterable) else (people,)
    if not all(isinstance(name, str) for name in names):
        raise InputError("people", told(people), "names", EXAMPLE)
    whole_number("together", together, example="together=2")
    least = int(fact("watch_people_least"))
    if together < least or len(set(names)) < together or len(set(names)) < len(names):
        wanted = f"{max(least, together)} or more, each named once: nobody watches a kiln alone"
        raise InputError("people", f"{', '.join(names) or 'nobody'}, {together} together", wanted, EXAMPLE)
    turns = _turns(lit, closing, names, watch_time, together)
    stretch = max(_longest_on(turns, name) for name in names)
    if fault := unrested(turns, names):
        wanted = _would_do(lit, closing, names, watch_time, together)
        raise InputError("people", f"{len(names)}, so that {fault}", wanted, EXAMPLE)
    return Watches(turns, stretch)


@edge
def people_to_watch(
    firing_time: Second,
    watch_time: Second = fact("watch_time"),
    together: int = int(fact("watch_people_least")),
) -> int:
    """Return how few people can watch a burn, so that nobody is alone and everybody sleeps.

    Parameters
    ----------
    firing_time, watch_time, together
        As for `watches`; a turn of 1 to 12 hours.

    Raises
    ------
    InputError
        If turns are longer than anybody may stay on.

    Examples
    --------
    >>> people_to_watch("10 h"), people_to_watch("25 h"), people_to_watch("46 h")
    (2, 5, 5)
    """
    most = fact("watch_stretch_most")
    if not HOUR <= watch_time <= most:
        got = f"{watch_time / HOUR:.3g} h"
        raise InputError("watch_time", got, f"a turn of 1 to {most / HOUR:.0f} hours", 'watch_time="4 h"')
    whole_number("together", together, least=int(fact("watch_people_least")), example="together=2")
    lit = datetime.datetime.min
    return _enough(lit, lit + datetime.timedelta(seconds=firing_time), together, watch_time, together)


def _enough(lit, closing, least: int, watch_time: float, together: int) -> int:
    """Return the fewest people, `least` or more, whom these turns wear out no longer."""
    most = together * (2 + math.ceil(fact("watch_rest_least") / watch_time))
    return next(
        count
        for count in range(least, most + 1)
        if not unrested(_turns(lit, closing, range(count), watch_time, together), range(count))
    )


def _turns(lit, closing, names: Sequence[str], watch_time: float, together: int) -> tuple[Watch, ...]:
    order = itertools.cycle(names)
    count = math.ceil((closing - lit).total_seconds() / watch_time - 1e-9)
    starts = [lit + datetime.timedelta(seconds=number * watch_time) for number in range(count)]
    return tuple(
        Watch(begins, ends, tuple(itertools.islice(order, together)))
        for begins, ends in itertools.pairwise([*starts, closing])
    )


def unrested(turns: Sequence[Watch], names: Sequence[str]) -> str:
    """Say what wears somebody out: too long at it, or no rest long enough to sleep; nothing if nobody is."""
    most, rest = fact("watch_stretch_most"), fact("watch_rest_least")
    stretch = max(_longest_on(turns, name) for name in names)
    if stretch > most * (1 + 1e-9):
        return f"somebody stays at the fire {stretch / HOUR:.0f} hours on end, and {most / HOUR:.0f} is the most"
    awake = max(_longest_on(turns, name, rest) for name in names)
    if awake > (DAY - rest) * (1 + 1e-9):
        return f"somebody goes {awake / HOUR:.0f} hours with no rest of {rest / HOUR:.0f} hours on end to sleep in"
    return ""


def _longest_on(turns: Sequence[Watch], name: str, rest: float = 1.0) -> float:
    """Return the longest time from coming on to going off, in seconds; a pause shorter than `rest` is none."""
    longest, came, went = 0.0, None, None
    for turn in turns:
        if name in turn.people:
            if went is None or (turn.start - went).total_seconds() < rest * (1 - 1e-9):
                came = came or turn.start
            else:
                came = turn.start
            went = turn.end
            longest = max(longest, (went - came).total_seconds())
    return longest


def _would_do(lit, closing, names: Sequence[str], watch_time: float, together: int) -> str:
    """Say how many people would do at these turns, and which turns would do for these people."""
    found = []
    if HOUR <= watch_time <= fact("watch_stretch_most"):
        enough = _enough(lit, closing, len(names) + 1, watch_time, together)
        found.append(f"{enough} people at turns of {watch_time / HOUR:g} h")
    lengths = [
        hours
        for hours in range(2, int(fact("watch_stretch_most") / HOUR) + 1)
        if not unrested(_turns(lit, closing, names, hours * HOUR, together), names)
    ]
    if lengths:
        found.append(f"these people at turns of {min(lengths, key=lambda hours: abs(hours * HOUR - watch_time))} h")
    return ", or ".join(found) or "more people and shorter turns"
