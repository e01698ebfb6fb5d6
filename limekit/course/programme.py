"""A workshop by the clock: its rows with who is there, the watch at the fire, and what contradicts what."""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from limekit.course.routes import Piece, Route, goes_along, laid_out, routes
from limekit.dates import shifted
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import fact
from limekit.plan.parts import people_for
from limekit.plan.plan import Plan
from limekit.records.roster import Watch, groups, people_to_watch, unrested, watches
from limekit.records.workshop import DrawTime, draw_time
from limekit.records.workshop_file import BROUGHT, Workshop
from limekit.units import DAY, HOUR

LASTS_A_DAY = ("fire at full colour",)  # nobody keeps a trial fire overnight
SLAKES = "boil_over"  # the caution of every work in which lime is slaked
WHERE = ("at hand", "at the kiln", "off or asleep")
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
        told = (workshop.leave_out, workshop.swap, workshop.brought)
        self.route: Route = laid_out(self.name, folder, *told, start=workshop.start, end=workshop.end)
        self.to_find = 0 if workshop.stokers else self._stokers_wanted
        if self.to_find:
            self.workshop = replace(workshop, stokers=tuple(f"stoker {one + 1}" for one in range(self.to_find)))

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
        return self._cooled.surely if self._cooled else None

    @cached_property
    def _cooled(self) -> DrawTime | None:
        return None if self.lit is None else draw_time(self.lit, self.lit, self.plan.plain.kind, self.known)

    @cached_property
    def _watch(self) -> tuple[datetime.datetime, float]:
        """From when a kiln is watched while people are there, and for how long (s) until it has surely cooled."""
        first = self._slots[0][0]
        if self.workshop.ready == "trial only" or self.lit is None:
            return first, 0.0
        begins = self.lit if self.workshop.ready == "kiln lit" else max(self.lit, first)
        return begins, max((self.drawn_from - begins).total_seconds(), 0.0)

    @property
    def _stokers_wanted(self) -> int:
        """How few can keep the kiln in turns of the usual length, and sleep."""
        return people_to_watch.plain(self._watch[1]) if self._watch[1] else 0

    @cached_property
    def _watched(self) -> tuple[tuple[Watch, ...], str]:
        """The turns at a kiln until it has surely cooled, and why there are none."""
        (begins, long), crew = self._watch, self.workshop.stokers
        if not long:
            return (), ""
        try:
            return watches.plain(begins, long, crew, people_for(long, len(crew) - 1).watch_time).turns, ""
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

    def elsewhere(self, row: Row) -> Mapping[str, tuple[str, ...]]:
        """Return everybody who stands at no vessel or fire of a row, by where they are."""
        at_kiln = {name for turn in self.watch if _meet(turn, row) for name in turn.people}
        begun = self.watch and self.watch[0].start < row.end
        off = set(self.workshop.stokers if begun else ()) - at_kiln
        rest = [name for name in self.workshop.everybody if not any(name in team for team in row.teams)]
        where = {name: WHERE[1 if name in at_kiln else 2 if name in off else 0] for name in rest}
        return {place: tuple(name for name in rest if where[name] == place) for place in WHERE}

    @property
    def to_draw(self) -> str:
        """When a kiln can be drawn that the timetable does not draw; empty where there is none."""
        draw = self.row("draw")
        if self.workshop.ready == "trial only" or self.lit is None or (draw and draw.start >= self.drawn_from):
            return ""
        soonest, surely = self._cooled.soonest, self._cooled.surely
        return (
            f"The kiln may be cold on {soonest:%A %d %B at %H:%M}, and surely is on {surely:%A %d %B at %H:%M}. It is "
            "drawn by daylight and by two at the least, of whom one has drawn before."
        )

    def falls_out(self, day: datetime.date) -> Mapping[str, str]:
        """Return the work by hand that a wet day takes, then and later: by name, what is done instead or is wanting."""
        after = [row for row in self.by_hand if row.start.date() >= day]
        wet = {row.piece.name: row.piece.work for row in after if row.piece.work.dry_only and row.start.date() == day}
        left = [row.piece.work for row in after if row.piece.name not in wet]
        missed = goes_along(left, (work.gives for work in wet.values()), self.ready)
        instead = {name: work.wet for name, work in wet.items()}
        return instead | {name: f"for want of {need}; brought, it stays" for name, need in missed.items()}

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
        """The rows of each day, pauses with them."""
        rows = [self._row(slot.title, *told) for slot, told in zip(self.route.slots, self._slots, strict=True)]
        return tuple(tuple(day) for _, day in itertools.groupby(rows, key=lambda row: row.start.date()))

    def _row(self, title: str, start, end, piece: Piece | None) -> Row:
        if piece is None:
            return Row(title, start, end)
        teachers, learners = self.workshop.teachers, self.workshop.people
        if piece.work is None:
            return Row(piece.title, start, end, teachers[:1], gives=f"the lesson {piece.name}", piece=piece)
        work = piece.work
        people = (*teachers, *learners)
        return Row(work.what, start, end, people, work.needs, work.gives, work.hours, piece, self.teams)

    @cached_property
    def teams(self) -> tuple[tuple[str, ...], ...]:
        """Who stands at each vessel, fire or table, the next who leads in front while there are some."""
        learners = iter(self.workshop.people)
        return tuple(
            (*self.workshop.teachers[number : number + 1], *itertools.islice(learners, size))
            for number, size in enumerate(groups(len(self.workshop.people)))
        )

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
        if workshop.ready == "kiln lit" and self.lit is None:
            found.append("The kiln is to be lit on the first day, and no row here lights it: call it trial only.")
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
                kept = [where for where in WHERE[1:] if aider in self.elsewhere(row)[where]]
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
        if self.to_find:
            found.append(
                f"Nobody is named to keep the kiln: find {self.to_find} who do nothing else, and name them as stokers "
                "in my_workshop.toml. Until then no fire is lit."
            )
        if self.to_draw:
            cold = f"{self.drawn_from:%A %d %B at %H:%M}"
            found.append(f"The kiln is surely cold on {cold}: who stays until then and who draws it is to be settled.")
        for work, need in self.route.gone.items():
            found.append(f"{work.replace('_', ' ')} goes with what is left out, for want of {need}.")
        used = {need for row in self.by_hand for need in row.needs}
        found += [
            f"{row}: nothing here uses the {row.gives}. Quicklime is kept dry, in a closed tin."
            for row in self.by_hand
            if row.gives in BROUGHT and row.gives not in used
        ]
        if len(self.teams) > len(workshop.teachers):
            found.append(
                f"{len(self.teams)} vessels, fires or tables, and who teach: {len(workshop.teachers)}. No more work "
                "at a time than that."
            )
        lit = self.row("light_trial")
        if lit and len(self.beside) < len(lit.teams):
            found.append(
                f"{len(self.beside)} of {len(lit.teams)} hearths burn: the others have no two, one who teaches."
            )
        return tuple(found)


def _meet(one, other) -> bool:
    return one.start < other.end and other.start < one.end
