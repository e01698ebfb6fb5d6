"""The workshop: a weekend planned backward from its Saturday, and what to bring to it."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from limekit.course.checks import OVER_1000, TIMES_1000, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.routes import Route, handwork, laid_out
from limekit.dates import read_date
from limekit.facts import fact
from limekit.frames import frame
from limekit.lime.putty import PuttyUse
from limekit.pictures import workshop as pictures
from limekit.pictures.pages import Page, Sheaf, Table
from limekit.plan.plan import Plan
from limekit.records.forms import sheet, sheet_names
from limekit.records.supplies import burn_checks, group_slaking, materials, power_check, tools
from limekit.records.workshop import Calendar, KilnKind, Step, draw_time, plan_back
from limekit.units import DAY, HOUR, LITRES, MINUTE

DONE = {
    "nothing yet": (),
    "the wood is dry": ("wood",),
    "wood and stone are dry": ("wood", "stone"),
    "lime already burnt": ("drawing",),
    "lime already slaked": ("slaking",),
}
USES = ("mortar", "plaster", "limewash")
KILNS = {"the plan's kiln": "", "another small flare kiln": "small flare", "another large flare kiln": "large flare"}
COUNTED = {
    "everybody": "each person and you",
    "person": "each person and you",
    "group": "each group",
    "course": "everybody together",
}
LONGEST_BURN = fact("firing_time", "small_flare").high / HOUR
SATURDAY = 5  # of the week's days, counted from Monday at 0


def dated(day: datetime.date) -> str:
    """Write a date out: ``Saturday 3 June 2028``."""
    return f"{day:%A} {day.day} {day:%B %Y}"


def weeks_before(day, weeks: int) -> datetime.date:
    """Return the day so many weeks before another."""
    return read_date(day, "day") - datetime.timedelta(weeks=weeks)


def weekend_end(weekend) -> datetime.date:
    """Return the day after a weekend's first."""
    return read_date(weekend, "weekend") + datetime.timedelta(days=1)


def calendar_of(plan: Plan, use: PuttyUse = "plaster", kiln: KilnKind | str = "", **told) -> Calendar:
    """Return the way to the day a plan's putty is wanted for a use, with its own kiln or another kind.

    The rest is as for `limekit.plan_back`; without `kiln` it goes by the plan's own hours.
    """
    known, day = plan.plain, plan.calendar.weekend
    if kiln:
        return plan_back(day, use, kiln, **told)
    return plan_back(day, use, known.kind, known=known.own_steps, **told)


def burn_before(plan: Plan, use: PuttyUse = "plaster") -> datetime.date:
    """Return the last Saturday on which a plan's kiln can be lit in time for its putty, at the usual pace."""
    burn = next(step.start for step in calendar_of(plan, use).steps if step.name == "burn")
    return burn - datetime.timedelta(days=(burn.weekday() - SATURDAY) % 7)


def dates(weekend, today, burn_day) -> str:
    """Say the three dates a workshop hangs on, each a date or how one is written, and what is odd about them."""
    weekend, today, burn_day = (
        read_date(day, asked) for asked, day in (("weekend", weekend), ("today", today), ("burn_day", burn_day))
    )
    said = [
        f"The weekend begins on **{dated(weekend)}**, the real burn is lit on **{dated(burn_day)}**, and the page is "
        f"read on **{dated(today)}**."
    ]
    if weekend.weekday() != SATURDAY:
        said.append(f"Mind: a {weekend:%A} is no Saturday; the hours below are laid on it and the day after.")
    if weekend <= today:
        said.append("Mind: that weekend is not ahead of you; put the day you read this in as today.")
    if burn_day <= today:
        said.append("Mind: that burn is not ahead of you; bring lime already burnt, or move the weekend.")
    return " ".join(said)


@dataclass(frozen=True)
class Planned:
    """A plan, and the day it is looked at."""

    plan: Calendar
    today: datetime.date

    @property
    def late(self) -> list[tuple[Step, int]]:
        """The steps that can no longer begin in time, each with its days."""
        return [(step, (self.today - step.last).days) for step in self.plan.steps if step.last < self.today]

    @property
    def hurried(self) -> list[Step]:
        """The steps past their usual beginning that can still be done."""
        return [step for step in self.plan.steps if step.start < self.today <= step.last]


def plan_explorer(plan: Plan) -> Explorer:
    """Slide how long it is to the day a plan's putty is wanted, and say what is done; see which step comes too late."""
    weekend = plan.calendar.weekend

    def look(time_ahead: float, use: str, kiln: str, done: tuple[str, ...]) -> Planned:
        today = weekend - datetime.timedelta(days=round(time_ahead / DAY))
        return Planned(calendar_of(plan, use, kiln, today=today, done=done), today)

    return Explorer(
        [
            Slider("time_ahead", start="30 week"),
            Choice("use", USES, start="plaster", label="the putty is for"),
            Choice("kiln", KILNS, label="burnt in a"),
            Choice("done", DONE, label="done so far"),
        ],
        model=look,
        picture=lambda planned: pictures.timeline(planned.plan, planned.today),
        words=plan_words,
        table=_plan_table,
        presets={
            "a year and a half ahead": {"time_ahead": "78 week", "done": ()},
            "half a year, with bought wood": {"time_ahead": "26 week", "done": ("wood",)},
            "a month, and nothing done": {"time_ahead": "4 week", "done": ()},
            "a fortnight, with lime already burnt": {"time_ahead": "2 week", "done": ("drawing",)},
        },
    )


def plan_words(planned: Planned) -> str:
    """Say whether the weekend holds, naming every step that is late."""
    plan, today = planned.plan, planned.today
    ahead = f"On {dated(today)}, {(plan.weekend - today).days} days before the weekend of {dated(plan.weekend)}, "
    if planned.late:
        named = "; to ".join(f"{step.what}, {days} day{'s' if days > 1 else ''} late" for step, days in planned.late)
        return (
            f"{ahead}it is too late to {named}. At the very quickest the putty is ready on {dated(plan.earliest)}: "
            "move the weekend, or bring what these steps make."
        )
    usual = _usual(plan)
    if planned.hurried:
        named = " and to ".join(step.what for step in planned.hurried)
        return f"{ahead}it hangs on taking less than the usual time to {named}; {usual}. {plan.young}".strip()
    first = plan.steps[0]
    safe = "today is early enough to be safe" if today <= first.safe else f"to be safe it was {dated(first.safe)}"
    return f"{ahead}there is time: begin by {dated(first.start)} to {first.what}; {safe}; {usual}."


def _usual(plan: Calendar) -> str:
    begun = {step.name: dated(step.start) for step in plan.steps}
    said = {"burn": "the kiln is lit", "maturing": "the putty lies under water"}
    words = " and ".join(f"{what} by {begun[name]}" for name, what in said.items() if name in begun)
    return f"as a rule {words}"


def _plan_table(planned: Planned):
    late = {step.name: days for step, days in planned.late}
    rows = [
        {
            "begin to": step.what,
            "days it takes": f"{step.days.middle} ({step.days.low} to {step.days.high})",
            "to be safe": step.safe,
            "usual": step.start,
            "at the last": step.last,
            "days late": late.get(step.name, 0),
            "rests on": step.basis,
        }
        for step in planned.plan.steps
    ]
    return frame(rows)


def weekend_hours(
    first_day, folder: Path | str = ".", start: str = "09:00", end: str = "17:00", leave_out: Iterable[str] = ()
) -> Table:
    """Return the weekend's timetable, by the minutes that the lessons in a folder say they take.

    Days begin and end by the clock; `leave_out` names lessons by slug or number, as in ``["fuel_and_air"]``, never the
    first or the last.
    """
    first_day = read_date(first_day, "first_day")
    route = laid_out("weekend", folder, leave_out, start=start, end=end)
    return _clocked(route, lambda day: f"{first_day + datetime.timedelta(days=day - 1):%A}")


def evening_hours(folder: Path | str = ".", start: str = "19:00", end: str = "21:00") -> Table:
    """Return the timetable of one who learns alone, evening by evening, each from and to a clock time."""
    return _clocked(laid_out("self-study", folder, start=start, end=end), lambda day: f"evening {day}")


def _clocked(route: Route, named: Callable[[int], str]) -> Table:
    rows = [(f"{named(slot.day)} {slot.start:%H:%M} to {slot.end:%H:%M}", slot.title) for slot in route.slots]
    rows += [("not beside this lesson", name) for name in route.missing]
    return Table(("when", "what"), rows)


def slaking_hour() -> str:
    """Say what a group slakes, in what vessel, and how the timetable holds it."""
    slaking = group_slaking()
    minutes = handwork()["slake"].minutes
    return (
        f"A group slakes {slaking.lime_charge:g} kg of quicklime in {slaking.water:g} kg of water, in a vessel of "
        f"{slaking.vessel_volume * LITRES:.0f} L at least: {slaking.plan.words} For a lime nobody has tested that is "
        f"{slaking.plan.slaking_time / MINUTE:.0f} minutes, and the timetable gives {minutes}. Test what you bring: "
        f"a lime that takes more than about {slaking.slowest(minutes * MINUTE) / MINUTE:.1f} minutes to "
        "60 °C in the test is not slaked through by then, and wants a longer afternoon."
    )


def to_bring(people: int) -> Table:
    """Return the tools and materials that so many learners want, and whoever teaches them."""
    return Table(
        ("bring", "in all", "counted for", "why"),
        [
            (item.name, f"{item.amount:g} {item.unit}".strip(), COUNTED[item.each], item.why)
            for item in (*tools(people), *materials(people))
        ],
    )


def to_ask(burn_day, today=None) -> Table:
    """Return what is asked before lighting, with the date to ask it on; a date before today is marked as past."""
    burn_day = read_date(burn_day, "burn_day")
    today = None if today is None else read_date(today, "today")
    past = " (past: ask now)" if today and today <= burn_day else " (past)"
    return Table(
        ("on", "ask", "if the answer is no"),
        [
            (dated(one.on) + (past if today and one.on < today else ""), one.question, one.if_not)
            for one in burn_checks(burn_day)
        ],
    )


def sheets() -> Sheaf:
    """Return every sheet the course prints."""
    return Sheaf({name: Page(sheet(name), f"Sheet to print: {name}.") for name in sheet_names()})


WANTED = datetime.date(2028, 6, 3)


def _slaked_before(use: str = "plaster", when: str = "start") -> int:
    slaking = next(step for step in plan_back(WANTED, use).steps if step.name == "slaking")
    return (WANTED - getattr(slaking, when)).days


days_before = Exercise(
    question=(
        f"Putty for plaster is wanted on {dated(WANTED)}. If slaking and keeping take their usual time, how many days "
        "before must slaking begin?"
    ),
    answer=lambda: f"{_slaked_before()} day",
    unit="day",
    tolerance=0.005,
    slips=(
        Slip("that is how long it is kept; slaking it takes a day as well", lambda right: right - 1),
        Slip("that is for mortar; plaster is kept longer, or it pops", lambda _: _slaked_before("mortar")),
        Slip("that is the quickest anybody claims, not the usual", lambda _: _slaked_before(when="last")),
        Slip("that is the longest, to be safe; the usual is asked for", lambda _: _slaked_before(when="safe")),
    ),
    hint='limekit.plan_back("2028-06-03", use="plaster").steps has the date.',
)

LIT = datetime.datetime(2028, 6, 3, 9)


def _cooled(which: str) -> float:
    found = draw_time(LIT, LIT + datetime.timedelta(days=30))
    return (getattr(found, which) - LIT).total_seconds() / HOUR


hours_to_cool = Exercise(
    question=(
        f"A small kiln is lit on {LIT:%A at %H:%M}. After how many hours has it surely cooled, whatever the burn took?"
    ),
    answer=lambda: f"{_cooled('surely')} h",
    unit="h",
    slips=(
        Slip(
            "that is when it may be cool if everything is quick; surely means the longest", lambda _: _cooled("soonest")
        ),
        Slip("that is cooling alone; it burns first", lambda right: right - LONGEST_BURN),
        Slip("that is the burn alone; it must cool before anybody reaches in", lambda _: LONGEST_BURN),
    ),
    hint="limekit.draw_time(lit=..., slaked=...) tells the soonest and the latest.",
)

MOTOR = 700.0

power_for_a_mixer = Exercise(
    question=(
        f"A mixer's motor draws {MOTOR:.0f} W while it runs. How much must mains or generator give all day to start it "
        "surely?"
    ),
    answer=lambda: f"{power_check.plain(MOTOR, MOTOR).starting_power_high} W",
    unit="W",
    shown=".0f",
    slips=(
        Slip("that runs it; in the moment it starts, a motor asks for several times as much", lambda _: MOTOR),
        Slip(
            "that may start it, if its motor is of the gentle kind; surely wants the upper end",
            lambda _: power_check.plain(MOTOR, MOTOR).starting_power_low,
        ),
        TIMES_1000,
        OVER_1000,
    ),
    hint="limekit.power_check(rated_power=..., motor_power=...) gives both ends.",
)
