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

    `people` must be there; what it `needs` must be ready when it begins; what it `gives`, if anything, is ready so many
    `hours` after its end.
    """

    what: str
    start: datetime.datetime
    end: datetime.datetime
    people: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    gives: str = ""
    hours: float = 0.0
    piece: Piece | None = None

    def __str__(self) -> str:
        return f"{self.start:%A} {self.start:%H:%M}, {self.what}"


def contradictions(rows: Sequence[Row], ready: Mapping[str, datetime.datetime]) -> tuple[str, ...]:
    """Return what cannot be in a timetable: a need not met in time, one person at two things, nobody rested.

    `ready` tells what is ready without the rows, and from when.
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

    The lessons in `folder` tell their minutes on their cards; who gives `today` is told what lies in the past.
    """

    def __init__(self, workshop: Workshop, plan: Plan, folder: Path | str, today: datetime.date | None = None) -> None:
        self.workshop, self.plan, self.today = workshop, plan, today
        self.name = ROUTES.get(workshop.ready, workshop.ready)
        told = (workshop.leave_out, workshop.swap, workshop.brought)
        self.route: Route = laid_out(self.name, folder, *told, start=workshop.start, end=workshop.end)
        self.to_find = people_to_watch.plain(self.kept[1]) if self.kept[1] and not workshop.stokers else 0
        if self.to_find:
            self.workshop = replace(workshop, stokers=tuple(f"stoker {one + 1}" for one in range(self.to_find)))

    @cached_property
    def known(self) -> Mapping[str, Span]:
        """How long the kiln burns and cools, s: by its plan, or as its kind does."""
        kind = self.plan.plain.kind.replace(" ", "_")
        usual = {"burn": fact("firing_time", kind), "cooling": fact("cooling_time", kind)}
        return usual | self.plan.plain.own_steps

    @cached_property
    def lit(self) -> datetime.datetime | None:
        """When the kiln is lit, or was; None where there is none."""
        if self.workshop.ready == "kiln burnt":
            return self.workshop.lit
        return next((end for *_, end, piece in self._slots if piece and piece.name == "light_kiln"), None)

    @cached_property
    def ready(self) -> Mapping[str, datetime.datetime]:
        """What is ready without the timetable, and from when."""
        found = dict.fromkeys((*self.workshop.brought, "loaded kiln"), datetime.datetime.min)
        return found | ({"cold kiln": self.drawn_from} if self.lit else {})

    @cached_property
    def drawn_from(self) -> datetime.datetime | None:
        """When the kiln has surely cooled; None where there is none."""
        return self._cooled.surely if self._cooled else None

    @cached_property
    def _cooled(self) -> DrawTime | None:
        return None if self.lit is None else draw_time(self.lit, self.lit, self.plan.plain.kind, self.known)

    @cached_property
    def kept(self) -> tuple[datetime.datetime, float]:
        """From when a kiln is watched, and for how long (s) until it has surely cooled."""
        if self.lit is None:
            return datetime.datetime.min, 0.0
        begins = max(self.lit, self._slots[0][1])
        return begins, max((self.drawn_from - begins).total_seconds(), 0.0)

    @cached_property
    def watch(self) -> tuple[Watch, ...]:
        """The turns at a kiln that burns or cools while the workshop is there; none where too few keep it."""
        (begins, long), crew = self.kept, self.workshop.stokers
        try:
            return watches.plain(begins, long, crew, people_for(long, len(crew) - 1).watch_time).turns if long else ()
        except InputError:
            return ()

    def elsewhere(self, row: Row) -> Mapping[str, tuple[str, ...]]:
        """Return everybody who stands at no vessel or fire of a row, by where they are."""
        at_kiln = {name for turn in self.watch if _meet(turn, row) for name in turn.people}
        begun = self.watch and self.watch[0].start < row.end
        off = set(self.workshop.stokers if begun else ()) - at_kiln
        rest = [name for name in self.workshop.everybody if not any(name in team for team in self.teams)]
        where = {name: WHERE[1 if name in at_kiln else 2 if name in off else 0] for name in rest}
        return {place: tuple(name for name in rest if where[name] == place) for place in WHERE}

    @property
    def to_draw(self) -> str:
        """When a kiln can be drawn that the timetable does not draw; empty where there is none."""
        draw = self.row("draw")
        if self.lit is None or (draw and draw.start >= self.drawn_from):
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
        led = self.teams[: len(self.workshop.teachers)] if self.row("light_trial") else ()
        return tuple(team[: int(fact("watch_people_least"))] for team in led)

    @cached_property
    def by_hand(self) -> tuple[Row, ...]:
        """The rows that are work by hand."""
        return tuple(row for day in self.days for row in day if row.piece and row.piece.work)

    def row(self, name: str) -> Row | None:
        """Return the work by hand of that name; None where there is none."""
        return next((row for row in self.by_hand if row.piece.name == name), None)

    @cached_property
    def _slots(self) -> tuple[tuple[str, datetime.datetime, datetime.datetime, Piece | None], ...]:
        days = {slot.day: shifted(self.workshop.first_day, (slot.day - 1) * DAY) for slot in self.route.slots}
        return tuple(
            (
                slot.title,
                *(datetime.datetime.combine(days[slot.day], clock) for clock in (slot.start, slot.end)),
                self.route.pieces.get(slot.title),
            )
            for slot in self.route.slots
        )

    @cached_property
    def days(self) -> tuple[tuple[Row, ...], ...]:
        """The rows of each day, pauses with them."""
        rows = itertools.starmap(self._row, self._slots)
        return tuple(tuple(day) for _, day in itertools.groupby(rows, key=lambda row: row.start.date()))

    def _row(self, title: str, start, end, piece: Piece | None) -> Row:
        if piece is None:
            return Row(title, start, end)
        teachers, work = self.workshop.teachers, piece.work
        if work is None:
            return Row(piece.title, start, end, teachers[:1], gives=f"the lesson {piece.name}", piece=piece)
        everybody = (*teachers, *self.workshop.people)
        return Row(work.what, start, end, everybody, work.needs, work.gives, work.hours, piece)

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
        if self.kept[1] and not self.watch:
            crew, enough = len(workshop.stokers), people_to_watch.plain(self.kept[1])
            found.append(f"Watch at the kiln: {crew} cannot keep it and sleep; {enough} people can. Name more stokers.")
        if workshop.first_aider and workshop.first_aider == workshop.driver:
            found.append(f"{workshop.driver} drives to hospital and is the first-aider: whoever stays has none.")
        found += [
            f"{role} {name} is not among those who teach or learn: see that they are there."
            for role, name in (("First-aider", workshop.first_aider), ("Driver", workshop.driver))
            if name and name not in workshop.everybody
        ]
        if workshop.driver and workshop.teachers == (workshop.driver,):
            found.append(
                f"{workshop.driver} drives to hospital and is the only one who leads: find another for either."
            )
        if workshop.ready == "kiln lit" and self.lit is None:
            found.append("The kiln is to be lit on the first day, and no row here lights it: call it trial only.")
        if len(self.days) > max(leg.day for leg in routes()[self.name]):
            found.append(f"The rows fill {len(self.days)} days: begin sooner, end later, or leave a lesson out.")
        if self.today and workshop.first_day < self.today:
            found.append(f"The first day, {workshop.first_day:%d %B %Y}, is past.")
        if workshop.ready == "kiln burnt" and workshop.lit.date() > workshop.first_day:
            found.append(f"The kiln is burnt, and yet lit on {workshop.lit:%d %B %Y}, after the first day.")
        aider, slaking = workshop.first_aider, [row for row in self.by_hand if SLAKES in row.piece.work.cautions]
        found += [
            f"{row}: lime is slaked, and the first-aider {aider} is {where}."
            for row in slaking
            for where in WHERE[1:]
            if aider in self.elsewhere(row)[where]
        ]
        return tuple(found)

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
                "at a time than that, and no more hearths burn: beside each is one who teaches."
            )
        return tuple(found)


def _meet(one, other) -> bool:
    return one.start < other.end and other.start < one.end
