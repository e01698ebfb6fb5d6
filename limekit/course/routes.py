"""The ways through the course, timed by the lessons' own cards: a weekend together, or evenings alone."""

from __future__ import annotations

import functools
import itertools
import json
import math
import operator
import re
from collections.abc import Iterable, Iterator, Mapping
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
    """Return the cards of the lessons in a folder by their notebooks' names, in order.

    A notebook without a card, or that cannot be read, is passed over.
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
class Work:
    """Work with the hands, a row of ``data/handwork.csv``.

    What it `needs` and `gives` is told in the same words, and what it gives is ready so many `hours` after its end.
    `wet` says how it is done where it rains, or, for what is `dry_only`, what is done instead; `cautions` are keys.
    """

    name: str
    what: str
    minutes: int
    needs: tuple[str, ...]
    gives: str
    hours: float
    wet: str
    dry_only: bool
    cautions: tuple[str, ...]


@functools.cache
def handwork() -> Mapping[str, Work]:
    """Return all work by hand, by name."""
    return {
        row["work"]: Work(
            row["work"],
            row["what"],
            int(row["minutes"]),
            tuple(filter(None, row["needs"].split(";"))),
            row["gives"],
            float(row["hours"] or 0),
            row["wet"],
            row["rain"] == "falls out",
            tuple(row["cautions"].split()),
        )
        for row in tables.rows("handwork")
    }


def goes_along(works: Iterable[Work], lost: Iterable[str], ready: Iterable[str] = ()) -> dict[str, str]:
    """Return what cannot be done once something is lost: by the work's name, the need that nothing else meets.

    `works` are still meant to be done; what is `lost` is no longer made ready, and what is `ready` is there without any
    work, in the words of what work gives and needs.
    """
    left, lost, ready, found = list(works), set(lost), set(ready), {}
    while True:
        missed = lost - ready - {work.gives for work in left}
        gone = {work.name: need for work in left for need in work.needs if need in missed}
        if not gone:
            return found
        found |= gone
        lost |= {work.gives for work in left if work.name in gone}
        left = [work for work in left if work.name not in gone]


@dataclass(frozen=True)
class Leg:
    """One lesson on a route: its day (None: after the one before), its minutes' share, the work by hand after it."""

    lesson: Lesson
    day: int | None
    share: float
    by_hand: tuple[Work, ...]


def routes() -> Mapping[str, tuple[Leg, ...]]:
    """Return the legs of every route, by its name: those of ``data/routes.csv``, and every lesson whole, alone."""
    together = {
        name: tuple(
            Leg(
                lesson(row["lesson"]),
                int(row["day"]),
                float(row["share"]),
                tuple(handwork()[work] for work in row["by_hand"].split()),
            )
            for row in legs
        )
        for name, legs in itertools.groupby(tables.rows("routes"), key=lambda row: row["route"])
    }
    return {**together, "self-study": tuple(Leg(one, None, 1.0, ()) for one in ladder().values())}


@dataclass(frozen=True)
class Piece:
    """One row of a timetable that is no pause: its name, its title, its minutes, and its work, if by hand."""

    name: str
    title: str
    minutes: int
    work: Work | None = None


@dataclass(frozen=True)
class Route:
    """A route laid out over its days, with what its slots hold that are no pauses, by title.

    `missing` are notebooks that were not found. `gone` is work by hand of lessons that stay, gone with those left out:
    by its name, what it needed of them.
    """

    slots: tuple[Slot, ...]
    missing: tuple[str, ...]
    pieces: Mapping[str, Piece]
    gone: Mapping[str, str]

    @property
    def days(self) -> int:
        """How many days it takes."""
        return max((slot.day for slot in self.slots), default=0)


def laid_out(
    name: str,
    folder: Path | str = ".",
    leave_out: Iterable[str] = (),
    swap: Iterable[tuple[str, str]] = (),
    brought: Iterable[str] = (),
    **hours,
) -> Route:
    """Lay a route out by the clock, with the minutes that its lessons say they take.

    Parameters
    ----------
    name : {"weekend", "kiln burnt", "kiln lit", "self-study"}
    folder : path
        Where the notebooks lie.
    leave_out : iterable of str
        Slugs of lessons, as in ``["fuel_and_air"]``, or their numbers, as the timetable writes them; the work
        by hand after them goes too, and on any day what cannot be done without lesson or work.
    swap : iterable of (str, str)
        Rows that change places, a lesson by its slug and work by hand by its name.
    brought : iterable of str
        Of what the work needs.
    **hours
        As `timetable` takes them: start, end, lunch, lunch_minutes, break_after, break_minutes.

    Returns
    -------
    Route
        A day too full for its hours runs on into another.

    Raises
    ------
    InputError
        If there is no such route, it has no such lesson or row, the hours do not fit, or the first lesson or the
        last is left out: they hold the safety page and the washing up.
    """
    known = routes()
    if name not in known:
        raise not_among(known, "name of a route", name, 'laid_out("{near}")')
    kept = _without(known[name], leave_out)
    out = [leg for leg in known[name] if leg not in kept]
    lost = {f"the lesson {leg.lesson.slug}" for leg in out} | {work.gives for leg in out for work in leg.by_hand}
    gone = goes_along((work for leg in kept for work in leg.by_hand), lost, brought)
    cards = lesson_cards(folder)
    days, pieces = [], []
    for leg in kept:
        found = [piece for piece in _pieces(leg, cards) if not (piece.work and piece.name in gone)]
        pieces += found
        days += [leg.day] * len(found)
    _exchange(pieces, swap)
    slots: list[Slot] = []
    for _, dated in itertools.groupby(zip(days, pieces, strict=True), key=operator.itemgetter(0)):
        past = slots[-1].day if slots else 0
        laid = timetable([(piece.title, piece.minutes) for _, piece in dated], **hours)
        slots += [replace(slot, day=past + slot.day) for slot in laid]
    missing = tuple(leg.lesson.notebook for leg in kept if leg.lesson.notebook not in cards)
    return Route(tuple(slots), missing, {piece.title: piece for piece in pieces}, gone)


def _exchange(pieces: list[Piece], swap: Iterable[tuple[str, str]]) -> None:
    for pair in swap:
        places = {piece.name: place for place, piece in enumerate(pieces)}
        for given in pair:
            if given not in places:
                raise not_among(places, "swap", given, 'swap = [["{near}", "..."]]')
        one, other = (places[given] for given in pair)
        pieces[one], pieces[other] = pieces[other], pieces[one]


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


def _pieces(leg: Leg, cards: Mapping[str, Card]) -> Iterator[Piece]:
    if card := cards.get(leg.lesson.notebook):
        minutes = STEP * math.ceil(leg.share * card.minutes / STEP - 1e-9)
        yield Piece(leg.lesson.slug, f"{leg.lesson.digits} · {card.title}", minutes)
        yield from (Piece(work.name, f"by hand: {work.what}", work.minutes, work) for work in leg.by_hand)
