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

LASTS_A_DAY = ("fire at full colour",)  # nobody keeps a trial fire overnight
SLAKES = "boil_over"  # the caution of every work in which lime is slaked
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
            elif need in LASTS_A_DAY and made[need].date() < row.start.date():
                found.append(f"{row}: it needs {need}, and no fire is kept from {made[need]:%A} on: light it that day.")
    for one, other in itertools.combinations(rows, 2):
        twice = [name for name in one.people if name in other.people]
        if twice and _meet(one, other):
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
    today : date, optional
        To be told what lies in the past.
    """

    def __init__(self, workshop: Workshop, plan: Plan, folder: Path | str, today: datetime.date | None = None) -> None:
        self.workshop, self.plan, self.today = workshop, plan, today
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
        """The turns at a kiln until it has surely cooled, from when people are there, and why there are none."""
        if self.workshop.ready == "trial only" or self.lit is None:
            return (), ""
        begins = self.lit if self.workshop.ready == "kiln lit" else max(self.lit, self._slots[0][0])
        long = (self.drawn_from - begins).total_seconds()
        if long <= 0:
            return (), ""
        asleep = (self.workshop.first_aider, self.workshop.driver)
        learn_or_teach = (*self.workshop.people, *self.workshop.teachers[1:])
        crew = self.workshop.stokers or tuple(name for name in learn_or_teach if name not in asleep)
        turn = people_for(long, len(crew) - 1).watch_time
        try:
            return watches.plain(begins, long, crew, turn).turns, ""
        except InputError as fault:
            return (), f"Watch at the kiln: {fault.got}; {fault.wanted}."

    @property
    def watch(self) -> tuple[Watch, ...]:
        """The turns at a kiln that burns or cools while the workshop is there."""
        return self._watched[0]

    @property
    def closed(self) -> datetime.datetime:
        """When the openings are closed at the latest."""
        return shifted(self.lit, self.known["burn"].high)

    def away(self, row: Row) -> tuple[str, ...]:
        """Return who is not at work by hand, since they keep the fire then or must sleep before or after it."""
        at_work = (*self.workshop.teachers, *self.workshop.people)
        return tuple(name for name in at_work if row.piece.work and name not in row.people)

    def elsewhere(self, row: Row) -> Mapping[str, tuple[str, ...]]:
        """Return everybody who stands at no vessel or fire of a row, by where they are."""
        at_kiln = {name for turn in self.watch if _meet(turn, row) for name in turn.people}
        rest = [name for name in self.workshop.everybody if not any(name in team for team in row.teams)]
        off = (*self.away(row), *(self.workshop.stokers if self.watch else ()))
        found = {
            "at the kiln": [name for name in rest if name in at_kiln],
            "asleep": [name for name in rest if name in off and name not in at_kiln],
        }
        placed = {name for names in found.values() for name in names}
        found["at hand"] = [name for name in rest if name not in placed]
        return {where: tuple(names) for where, names in found.items() if names}

    @cached_property
    def beside(self) -> tuple[tuple[str, ...], ...]:
        """Who stays beside each trial fire that burns: one who teaches and one more."""
        row = self.row("light_trial")
        pairs = [team[: int(fact("watch_people_least"))] for team in row.teams] if row else []
        return tuple(pair for pair in pairs if pair[0] in self.workshop.teachers and len(pair) > 1)

    @cached_property
    def by_hand(self) -> tuple[Row, ...]:
        """The rows that are work by hand."""
        return tuple(row for day in self.days for row in day if row.piece and row.piece.work)

    def row(self, name: str) -> Row | None:
        """Return the work by hand of that name; None where there is none."""
        return next((row for row in self.by_hand if row.piece.name == name), None)

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
            return Row(piece.title, start, end, first, gives=f"the lesson {piece.name}", piece=piece)
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
        found = [f"{one} {self.cold_by}" if "it needs cold kiln" in one else one for one in found]
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
        found += self._at_slaking() + self._dates()
        if workshop.driver and workshop.teachers == (workshop.driver,):
            found.append(
                f"{workshop.driver} drives to hospital and is the only one who leads: find another for either."
            )
        return tuple(found)

    def _at_slaking(self) -> list[str]:
        """Tell where lime is slaked and the first-aider is not at hand."""
        aider = self.workshop.first_aider
        found = []
        for row in self.by_hand:
            if aider and SLAKES in row.piece.work.cautions:
                kept = [where for where in ("at the kiln", "asleep") if aider in self.elsewhere(row).get(where, ())]
                found += [f"{row}: lime is slaked, and the first-aider {aider} is {where}." for where in kept]
        return found

    def _dates(self) -> list[str]:
        """Tell of days that cannot be meant."""
        workshop, found = self.workshop, []
        if self.today and workshop.first_day < self.today:
            found.append(f"The first day, {workshop.first_day:%d %B %Y}, is past.")
        if workshop.ready == "kiln burnt" and workshop.lit.date() > workshop.first_day:
            found.append(f"The kiln is burnt, and yet lit on {workshop.lit:%d %B %Y}, after the first day.")
        return found

    @cached_property
    def cold_by(self) -> str:
        """By what sum the kiln is surely cold; empty where there is none."""
        if self.lit is None:
            return ""
        burn, cooling = (self.known[step].high / HOUR for step in ("burn", "cooling"))
        return (
            f"Lit on {self.lit:%A %d %B at %H:%M}, the kiln burns {burn:.0f} h at the longest and cools "
            f"{cooling:.0f} h at the longest: it is surely cold on {self.drawn_from:%A %d %B at %H:%M}."
        )

    @cached_property
    def remarks(self) -> tuple[str, ...]:
        """What is no contradiction and yet wants somebody to settle it."""
        workshop, found = self.workshop, []
        last = self.days[-1][-1].end
        if self.watch and self.watch[-1].end > last:
            found.append(
                f"The watch runs until {self.watch[-1].end:%A %d %B at %H:%M}, and the workshop ends on {last:%A}: who "
                f"stays?{'' if self.row('draw') else ' The draw has nobody in this timetable.'}"
            )
        short: dict[str, list[str]] = {}
        for row in self.by_hand:
            leaders, places = sum(name in row.people for name in workshop.teachers), len(row.teams)
            if not places:
                why = "nobody who learns is left, all keep the kiln or sleep: find stokers."
            elif places > leaders:
                why = f"{places} vessels, fires or tables, and who teach there: {leaders}. No more at a time than that."
            else:
                continue
            short.setdefault(why, []).append(row.piece.name.replace("_", " "))
        found += [f"{', '.join(names)}: {why}" for why, names in short.items()]
        lit = self.row("light_trial")
        if lit and len(self.beside) < len(lit.teams):
            found.append(
                f"{len(self.beside)} of {len(lit.teams)} hearths burn: the others have no two, one who teaches."
            )
        return tuple(found)


def _meet(one, other) -> bool:
    return one.start < other.end and other.start < one.end


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
    if any(_meet(one, row) for one in own):
        return False
    return not unrested(sorted([*own, row], key=lambda one: one.start), [name])
