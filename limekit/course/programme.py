"""A workshop by the clock: its rows with who is there, the watch at the fire, and what contradicts what."""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from limekit.course.routes import Piece, Route, laid_out, routes
from limekit.dates import shifted
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import fact
from limekit.plan.parts import people_for
from limekit.plan.plan import Plan
from limekit.records.roster import Watch, groups, unrested, watches
from limekit.records.workshop import draw_time
from limekit.records.workshop_file import Workshop
from limekit.units import DAY, HOUR

ROUTES = {"trial only": "weekend"}  # the others are named as what is ready


@dataclass(frozen=True)
class Row:
    """One row of a dated timetable, or a turn at the fire.

    Parameters
    ----------
    what : str
    start, end : datetime
    people : tuple of str
        Who must be there.
    needs : tuple of str
        What must be ready when it begins.
    gives : str
        What it makes ready; empty for nothing.
    hours : float
        From its end until that is ready.
    piece : Piece or None
        What of a route it is.
    teams : tuple of tuple of str
        Who stands at each vessel or fire, the leader first.
    """

    what: str
    start: datetime.datetime
    end: datetime.datetime
    people: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    gives: str = ""
    hours: float = 0.0
    piece: Piece | None = None
    teams: tuple[tuple[str, ...], ...] = ()

    def __str__(self) -> str:
        return f"{self.start:%A} {self.start:%H:%M}, {self.what}"


def contradictions(rows: Sequence[Row], ready: Mapping[str, datetime.datetime]) -> tuple[str, ...]:
    """Return what cannot be in a timetable: a need not met in time, one person at two things, nobody rested.

    Parameters
    ----------
    rows : sequence of Row
    ready : mapping of str to datetime
        What is ready without them, and from when.
    """
    made = dict(ready)
    for row in rows:
        if row.gives:
            done = shifted(row.end, row.hours * HOUR)
            made[row.gives] = min(done, made.get(row.gives, done))
    found = []
    for row in rows:
        for need in row.needs:
            if need not in made:
                found.append(f"{row}: it needs {need}, and nothing here makes it or brings it.")
            elif made[need] > row.start:
                found.append(f"{row}: it needs {need}, and that is ready on {made[need]:%A %d %B at %H:%M}.")
    for one, other in itertools.combinations(rows, 2):
        twice = [name for name in one.people if name in other.people]
        if twice and one.start < other.end and other.start < one.end:
            found.append(f"{' and '.join(twice)}: at two things at once, {one}, and {other}.")
    everybody = dict.fromkeys(name for row in rows for name in row.people)
    by_time = sorted(rows, key=lambda row: row.start)
    found += [f"{name}: {worn.replace('somebody ', '')}." for name in everybody if (worn := unrested(by_time, [name]))]
    return tuple(found)


class Programme:
    """A workshop laid out: its rows, its watch, and what contradicts what.

    Parameters
    ----------
    workshop : Workshop
    plan : Plan
    folder : path
        Where the lessons lie, whose cards tell their minutes.
    """

    def __init__(self, workshop: Workshop, plan: Plan, folder: Path | str) -> None:
        self.workshop, self.plan = workshop, plan
        self.name = ROUTES.get(workshop.ready, workshop.ready)
        hours = {"start": workshop.start, "end": workshop.end}
        self.route: Route = laid_out(self.name, folder, workshop.leave_out, workshop.swap, **hours)

    def date(self, day: int) -> datetime.date:
        """Return the date of a day counted from 1."""
        return shifted(self.workshop.first_day, (day - 1) * DAY)

    @cached_property
    def known(self) -> Mapping[str, Span]:
        """How long the kiln burns and cools, s: by its plan, or as its kind does."""
        kind = self.plan.plain.kind.replace(" ", "_")
        usual = {"burn": fact("firing_time", kind), "cooling": fact("cooling_time", kind)}
        return usual | self.plan.plain.own_steps

    @cached_property
    def lit(self) -> datetime.datetime | None:
        """When the kiln is lit, or was; None where there is none."""
        if self.workshop.ready == "kiln lit":
            return next((end for start, end, piece in self._slots if piece and piece.name == "light_kiln"), None)
        return self.workshop.lit

    @cached_property
    def ready(self) -> Mapping[str, datetime.datetime]:
        """What is ready without the timetable, and from when."""
        found = dict.fromkeys(self.workshop.brought, datetime.datetime.min)
        if self.workshop.ready == "kiln lit":
            found["loaded kiln"] = datetime.datetime.min
        elif self.workshop.ready == "kiln burnt":
            found["cold kiln"] = self.drawn_from
        return found

    @cached_property
    def drawn_from(self) -> datetime.datetime | None:
        """When the kiln has surely cooled; None where there is none."""
        if self.lit is None:
            return None
        return draw_time(self.lit, self.lit, self.plan.plain.kind, self.known).surely

    @cached_property
    def _watched(self) -> tuple[tuple[Watch, ...], str]:
        """The turns at a kiln lit on the day until it has surely cooled, and why there are none."""
        if self.workshop.ready != "kiln lit" or self.lit is None:
            return (), ""
        crew = self.workshop.stokers or (*self.workshop.people, *self.workshop.teachers[1:])
        long = self.known["burn"].high + self.known["cooling"].high
        turn = people_for(long, len(crew) - 1).watch_time
        try:
            return watches.plain(self.lit, long, crew, turn).turns, ""
        except InputError as fault:
            return (), f"Watch at the kiln: {fault.got}; {fault.wanted}."

    @property
    def watch(self) -> tuple[Watch, ...]:
        """The turns at a kiln lit on the day, the cooling with them."""
        return self._watched[0]

    @property
    def closed(self) -> datetime.datetime:
        """When the openings are closed at the latest."""
        return shifted(self.lit, self.known["burn"].high)

    def away(self, row: Row) -> tuple[str, ...]:
        """Return who is not at work by hand, since they keep the fire then or must sleep before or after it."""
        at_work = (*self.workshop.teachers, *self.workshop.people)
        return tuple(name for name in at_work if row.piece.work and name not in row.people)

    @cached_property
    def _slots(self) -> tuple[tuple[datetime.datetime, datetime.datetime, Piece | None], ...]:
        return tuple(
            (
                datetime.datetime.combine(self.date(slot.day), slot.start),
                datetime.datetime.combine(self.date(slot.day), slot.end),
                self.route.pieces.get(slot.title),
            )
            for slot in self.route.slots
        )

    @cached_property
    def days(self) -> tuple[tuple[Row, ...], ...]:
        """The rows of each day, pauses with them; whom the watch would leave without sleep is let off work by hand."""
        rows, at_fire = [], [Row("at the kiln", turn.start, turn.end, turn.people) for turn in self.watch]
        for slot, (start, end, piece) in zip(self.route.slots, self._slots, strict=True):
            rows.append(self._row(slot.title, start, end, piece, [*at_fire, *rows]))
        return tuple(tuple(day) for _, day in itertools.groupby(rows, key=lambda row: row.start.date()))

    def _row(self, title: str, start, end, piece: Piece | None, taken: Sequence[Row]) -> Row:
        if piece is None:
            return Row(title, start, end)
        first = self.workshop.teachers[:1]
        if piece.work is None:
            return Row(piece.title, start, end, first, piece=piece)
        work = piece.work
        here, leaders = (
            [name for name in names if _is_free(name, Row(title, start, end, (name,)), taken)]
            for names in (self.workshop.people, self.workshop.teachers)
        )
        teams = tuple(_teams(here, leaders))
        people = tuple(dict.fromkeys((*first, *leaders, *here)))
        return Row(work.what, start, end, people, work.needs, work.gives, work.hours, piece, teams)

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """Every row and every turn at the fire."""
        turns = (Row("at the kiln", turn.start, turn.end, turn.people) for turn in self.watch)
        return (*itertools.chain.from_iterable(self.days), *turns)

    @cached_property
    def contradictions(self) -> tuple[str, ...]:
        """What cannot be as it stands."""
        workshop, found = self.workshop, list(contradictions(self.rows, self.ready))
        found += filter(None, [self._watched[1]])
        if workshop.first_aider and workshop.first_aider == workshop.driver:
            found.append(f"{workshop.driver} drives to hospital and is the first-aider: whoever stays has none.")
        found += [
            f"{role} {name} is not among those who teach or learn: see that they are there."
            for role, name in (("First-aider", workshop.first_aider), ("Driver", workshop.driver))
            if name and name not in workshop.everybody
        ]
        if len(self.days) > max(leg.day for leg in routes()[self.name]):
            found.append(f"The rows fill {len(self.days)} days: begin sooner, end later, or leave a lesson out.")
        return tuple(found)


def _teams(here: Sequence[str], leaders: Sequence[str]) -> Iterable[tuple[str, ...]]:
    """Yield the groups, each with the next who leads in front while there are some."""
    if not here:
        return
    at = 0
    for number, size in enumerate(groups(len(here))):
        yield (*leaders[number : number + 1], *here[at : at + size])
        at += size


def _is_free(name: str, row: Row, taken: Sequence[Row]) -> bool:
    """Return whether somebody can be at a row besides what they are at already, and still sleep."""
    own = [one for one in taken if name in one.people]
    if any(one.start < row.end and row.start < one.end for one in own):
        return False
    return not unrested(sorted([*own, row], key=lambda one: one.start), [name])
