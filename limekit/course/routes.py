"""The ways through the course, timed by the lessons' own cards: a weekend together, or evenings alone."""

from __future__ import annotations

import itertools
import json
import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from limekit import tables
from limekit.course.ladder import Lesson, ladder, lesson
from limekit.errors import InputError, not_among
from limekit.records.roster import Slot, timetable

STEP = 5  # minutes that a shortened lesson is rounded up to
_TITLE = re.compile(r"^# (.+)", re.MULTILINE)
_MINUTES = re.compile(r"^- \*\*Time:\*\* (\d+) minutes$", re.MULTILINE)


@dataclass(frozen=True)
class Card:
    """What the card at the top of a lesson says: its title and its minutes."""

    title: str
    minutes: int


def lesson_cards(folder: Path | str = ".") -> dict[str, Card]:
    """Read the cards of the lessons in a folder.

    Parameters
    ----------
    folder : path
        Where the notebooks lie.

    Returns
    -------
    dict of str to Card
        By the notebook's name, in order; a notebook without a card, or that cannot be read, is
        passed over.
    """
    found = {path.stem: _card(path) for path in sorted(Path(folder).glob("*.ipynb"))}
    return {name: card for name, card in found.items() if card}


def _card(path: Path) -> Card | None:
    try:
        first = "".join(json.loads(path.read_text(encoding="utf-8"))["cells"][0]["source"])
    except (OSError, ValueError, KeyError, IndexError, TypeError):
        return None
    title, minutes = _TITLE.search(first), _MINUTES.search(first)
    return Card(title[1].strip(), int(minutes[1])) if title and minutes else None


@dataclass(frozen=True)
class Leg:
    """One lesson on a route.

    Parameters
    ----------
    lesson : Lesson
    day : int or None
        The day it belongs to; None where it follows the one before.
    share : float
        Of the lesson's minutes that are given to it.
    by_hand : int
        Minutes of work with the hands after it; 0 for none.
    what : str
        That work.
    """

    lesson: Lesson
    day: int | None
    share: float
    by_hand: int
    what: str


def routes() -> Mapping[str, tuple[Leg, ...]]:
    """Return the legs of every route, by its name: those of ``data/routes.csv``, and every lesson whole, alone."""
    together = {
        name: tuple(
            Leg(lesson(row["lesson"]), int(row["day"]), float(row["share"]), int(row["by_hand"] or 0), row["what"])
            for row in legs
        )
        for name, legs in itertools.groupby(tables.rows("routes"), key=lambda row: row["route"])
    }
    return {**together, "self-study": tuple(Leg(one, None, 1.0, 0, "") for one in ladder().values())}


@dataclass(frozen=True)
class Route:
    """A route laid out over its days, and the lessons of it that were not found.

    Parameters
    ----------
    slots : tuple of Slot
    missing : tuple of str
        Names of notebooks.
    """

    slots: tuple[Slot, ...]
    missing: tuple[str, ...]

    @property
    def days(self) -> int:
        """How many days it takes."""
        return max((slot.day for slot in self.slots), default=0)


def laid_out(name: str, folder: Path | str = ".", leave_out: Iterable[str] = (), **hours) -> Route:
    """Lay a route out by the clock, with the minutes that its lessons say they take.

    Parameters
    ----------
    name : {"weekend", "self-study"}
    folder : path
        Where the notebooks lie.
    leave_out : iterable of str
        Slugs of lessons, as in ``["fuel_and_air"]``, or their numbers, as the timetable writes them; the work
        by hand after them goes too.
    **hours
        As `timetable` takes them: start, end, lunch, lunch_minutes, break_after, break_minutes.

    Returns
    -------
    Route
        A day too full for its hours runs on into another.

    Raises
    ------
    InputError
        If there is no such route, it has no such lesson, the hours do not fit, or the first lesson or the
        last is left out: they hold the safety page and the washing up.
    """
    known = routes()
    if name not in known:
        raise not_among(known, "name of a route", name, 'laid_out("{near}")')
    kept = _without(known[name], leave_out)
    cards = lesson_cards(folder)
    slots: list[Slot] = []
    for _, legs in itertools.groupby(kept, key=lambda leg: leg.day):
        pieces = [piece for leg in legs for piece in _pieces(leg, cards)]
        past = slots[-1].day if slots else 0
        slots += [replace(slot, day=past + slot.day) for slot in timetable(pieces, **hours)]
    return Route(tuple(slots), tuple(leg.lesson.notebook for leg in kept if leg.lesson.notebook not in cards))


def _without(legs: tuple[Leg, ...], leave_out: Iterable[str]) -> tuple[Leg, ...]:
    asked = [leave_out] if isinstance(leave_out, str) or not isinstance(leave_out, Iterable) else list(leave_out)
    slugs, left_out = [leg.lesson.slug for leg in legs], set()
    for given in asked:
        place = next((place for place, leg in enumerate(legs) if given in (leg.lesson.slug, leg.lesson.digits)), None)
        if place is None:
            raise not_among(slugs, "leave_out", given, 'leave_out=["{near}"]')
        if place in (0, len(legs) - 1):
            wanted = "a lesson between the first and the last, which hold the safety page and the washing up"
            raise InputError("leave_out", slugs[place], wanted, f'leave_out=["{slugs[-2]}"]')
        left_out.add(place)
    return tuple(leg for place, leg in enumerate(legs) if place not in left_out)


def _pieces(leg: Leg, cards: Mapping[str, Card]):
    if card := cards.get(leg.lesson.notebook):
        yield f"{leg.lesson.digits} · {card.title}", STEP * math.ceil(leg.share * card.minutes / STEP - 1e-9)
        if leg.by_hand:
            yield f"by hand: {leg.what}", leg.by_hand
