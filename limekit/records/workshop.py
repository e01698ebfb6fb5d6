"""From the weekend backward: when to cut the wood, break the stone, light the kiln and slake.

Dates are those of the place, with no time zones; a step takes whole days.
"""

from __future__ import annotations

import datetime
import math
import typing
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from limekit.dates import read_date, read_time, shifted
from limekit.errors import InputError, not_among, told
from limekit.estimate import Span
from limekit.facts import fact
from limekit.lime.putty import PuttyUse
from limekit.units import DAY, HOUR

KilnKind = Literal["small flare", "large flare"]
StepName = Literal["wood", "stone", "loading", "burn", "cooling", "drawing", "slaking", "maturing"]

SMALL_TO, LARGE_FROM = 1000.0, 5000.0  # kg of stone, of the kilns that the durations were read of
BY_KILN = ("loading", "burn", "cooling", "drawing")
FACTS = {"wood": "wood_drying_time", "stone": "stone_drying_time", "burn": "firing_time"}
STEPS: dict[StepName, tuple[str, StepName | None]] = {
    "wood": ("cut, split and stack the wood to dry", "loading"),
    "stone": ("break the stone to size and let it dry", "loading"),
    "loading": ("load the kiln", "burn"),
    "burn": ("burn", "cooling"),
    "cooling": ("close the openings and let it cool", "drawing"),
    "drawing": ("draw and sort", "slaking"),
    "slaking": ("slake", "maturing"),
    "maturing": ("keep the putty under water", None),
}


@dataclass(frozen=True)
class Step:
    """One step of the way to the weekend, with the whole days it takes.

    Begun by `safe`, the weekend holds even if every step from here takes its longest; by `start`, if everything takes
    its usual time. Later than `last` cannot do, even if everything is quick.
    """

    name: StepName
    what: str
    days: Span
    safe: datetime.date
    start: datetime.date
    last: datetime.date
    basis: str


@dataclass(frozen=True)
class Calendar:
    """The way to a weekend, step by step in the order of their dates.

    Parameters
    ----------
    weekend : date
        The day the putty is wanted.
    steps : tuple of Step
    late : Step or None
        The first step that can no longer begin in time.
    days_late : int
        By how many days; 0 where none is late.
    tight : bool
        Whether the weekend now hangs on a step taking less than its usual time.
    earliest : date or None
        The first day the putty could be ready if everything is quick; None without today's date.
    young : str
        A warning where the putty can no longer lie as long as its use asks for; else empty.
    """

    weekend: datetime.date
    steps: tuple[Step, ...]
    late: Step | None
    days_late: int
    tight: bool
    earliest: datetime.date | None
    young: str = ""

    def __str__(self) -> str:
        return f"{self._when()} {self.young}".strip()

    def _when(self) -> str:
        wanted = f"Putty for {self.weekend:%d %B %Y}"
        if self.late:
            days = f"{self.days_late} day{'s' if self.days_late > 1 else ''}"
            return (
                f"{wanted} cannot be met: the first step that is late is to {self.late.what}, by {days}. "
                f"At the very quickest it is ready on {self.earliest:%d %B %Y}; or bring what this step makes."
            )
        if self.tight:
            return f"{wanted} hangs on steps that take less than their usual time."
        if not self.steps:
            return f"{wanted} is ready."
        first = self.steps[0]
        return f"{wanted}: begin on {first.start:%d %B %Y} to {first.what}; by {first.safe:%d %B %Y} to be safe."


def kiln_kind(stone: float) -> KilnKind:
    """Return which of the two kinds, of which durations are known, a kiln for so much stone (kg) is the nearer to."""
    return "small flare" if stone < math.sqrt(SMALL_TO * LARGE_FROM) else "large flare"


def _duration(name: StepName, kiln: KilnKind, use: PuttyUse, known: Mapping[StepName, Span]) -> tuple[Span, str]:
    if name in known:
        ends, basis = vars(known[name]).values(), "this plan's own kiln"
    elif name == "maturing":
        ends = [fact(f"maturing_{use}", variant) for variant in (None, "shortest", "longest")]
        basis = ends[0].basis
    else:
        usual = fact(FACTS.get(name, f"{name}_time"), kiln.replace(" ", "_") if name in BY_KILN else None)
        ends, basis = (usual, usual.low, usual.high), usual.basis
    return Span(*(math.ceil(seconds / DAY) for seconds in ends)), basis


def _told_of(known) -> dict[StepName, Span]:
    """Return what steps are told to take, nothing where nothing is told."""
    if known is None:
        return {}
    if not isinstance(known, Mapping) or not all(isinstance(span, Span) for span in known.values()):
        raise InputError("known", told(known), "steps, each with its Span of seconds", "known=plan.plain.own_steps")
    return {_chosen(name, STEPS, "known"): span for name, span in known.items()}


def _chosen(given: str, choices, asked: str) -> str:
    if isinstance(given, str) and given in choices:
        return given
    raise not_among(choices, asked, given)


def plan_back(
    weekend,
    use: PuttyUse = "mortar",
    kiln: KilnKind = "small flare",
    today=None,
    done: Iterable[StepName] = (),
    known: Mapping[StepName, Span] | None = None,
) -> Calendar:
    """Plan backward from the day the putty is wanted.

    Parameters
    ----------
    weekend : datetime.date or str
        The first day of the workshop, as in "2028-02-29".
    use : {"mortar", "plaster", "limewash"}
        Sets how long the putty is kept; the sources disagree, from 3 days to 6 months.
    kiln : {"small flare", "large flare"}
        200 kg to under 1 t of stone, or 5 t and more.
    today : datetime.date or str, optional
        To be told what is late.
    done : iterable of str
        Steps already done: "wood", "stone", "loading", "burn", "cooling", "drawing", "slaking",
        "maturing". What leads to a step that is done counts as done.
    known : mapping, optional
        What steps take with a kiln that has been planned, each a `Span` in seconds.

    Raises
    ------
    InputError
        For a date that is not in the calendar, a step or use that is not known, or dates before
        the calendar begins.

    Examples
    --------
    >>> print(plan_back("2028-06-03", today="2028-04-01", done=["wood", "stone"]))
    Putty for 03 June 2028: begin on 28 April 2028 to load the kiln; by 26 November 2027 to be safe.
    """
    weekend, known = read_date(weekend, "weekend"), _told_of(known)
    _chosen(use, typing.get_args(PuttyUse), "use")
    _chosen(kiln, typing.get_args(KilnKind), "kiln")
    done = done if isinstance(done, list | tuple | set | frozenset) else [done]
    done = {_chosen(name, STEPS, "done") for name in done}
    steps: dict[StepName | None, Step] = {}
    for name in reversed(STEPS):
        what, leads_to = STEPS[name]
        if name in done or (leads_to and leads_to not in steps):
            continue
        days, basis = _duration(name, kiln, use, known)
        after = steps[leads_to] if leads_to else None
        safe, start, last = (
            shifted(getattr(after, when, weekend), -number * DAY)
            for when, number in (("safe", days.high), ("start", days.middle), ("last", days.low))
        )
        steps[name] = Step(name, what, days, safe, start, last, basis)
    in_order = tuple(sorted(steps.values(), key=lambda step: (step.start, list(STEPS).index(step.name))))
    if today is None:
        return Calendar(weekend, in_order, None, 0, False, None)
    today = read_date(today, "today")
    late = next((step for step in in_order if step.last < today), None)
    behind = max(((today - step.last).days for step in in_order), default=(today - weekend).days)
    return Calendar(
        weekend=weekend,
        steps=in_order,
        late=late,
        days_late=(today - late.last).days if late else 0,
        tight=late is None and any(step.start < today for step in in_order),
        earliest=shifted(weekend, behind * DAY),
        young=_young(steps["maturing"], -behind, use) if "maturing" in steps and not late else "",
    )


def _young(maturing: Step, spare: int, use: PuttyUse) -> str:
    kept, days = maturing.days.low + spare, maturing.days
    if kept >= days.middle:
        return ""
    return (
        f"But the putty can lie {kept} days at most, and for {use} the rule is {days.middle}; "
        f"{days.low} is the least anybody claims. Bring putty that has lain long enough."
    )


def _on(clock: datetime.datetime) -> str:
    return f"{clock:%A} {clock.day} {clock:%B} at {clock:%H:%M}"


@dataclass(frozen=True)
class DrawTime:
    """When lime from one burn can be drawn and slaked: at the quickest of burn and cooling, and at their longest."""

    lit: datetime.datetime
    slaked: datetime.datetime
    soonest: datetime.datetime
    surely: datetime.datetime

    @property
    def safe(self) -> bool:
        """Whether the kiln has surely cooled by then."""
        return self.slaked >= self.surely

    def __str__(self) -> str:
        lit, soonest, surely, slaked = map(_on, (self.lit, self.soonest, self.surely, self.slaked))
        cooled = f"lit on {lit}, the kiln has cooled by {soonest} at the soonest and {surely} at the latest"
        if self.safe:
            return f"Yes: {cooled}."
        hours = (self.surely - self.slaked).total_seconds() / HOUR
        early = f"Slaking on {slaked} is {hours:.0f} hours too early to be safe."
        return f"No: {cooled}. {early} Bring lime already burnt, or use trial burns."


def draw_time(lit, slaked, kiln: KilnKind = "small flare", known: Mapping[StepName, Span] | None = None) -> DrawTime:
    """Say whether a kiln lit at one hour can be drawn and its lime slaked at another.

    Parameters
    ----------
    lit, slaked : datetime.datetime or str
        Clock times of the place, as in "2028-03-04 09:00".
    kiln : {"small flare", "large flare"}
        A small one burns 10 to 24 hours and then must cool.
    known : mapping, optional
        As in `plan_back`; of burn and cooling.

    Returns
    -------
    DrawTime
        Not safe unless the longest burn and the longest cooling are over.

    Raises
    ------
    InputError
        If a time cannot be read, carries a time zone, or slaking comes before lighting.

    Examples
    --------
    >>> check = draw_time(lit="2028-03-04 09:00", slaked="2028-03-05 14:00")
    >>> print(check.safe, check.surely)
    False 2028-03-08 09:00:00
    """
    lit, slaked = read_time(lit, "lit"), read_time(slaked, "slaked")
    if slaked < lit:
        got = f"{slaked}, before the kiln is lit"
        raise InputError("slaked", got, "a time after lighting", 'slaked="2028-03-08 09:00"')
    variant = _chosen(kiln, typing.get_args(KilnKind), "kiln").replace(" ", "_")
    known = {"burn": fact("firing_time", variant), "cooling": fact("cooling_time", variant)} | _told_of(known)
    firing, cooling = known["burn"], known["cooling"]
    soonest, surely = (shifted(lit, firing.low + cooling.low), shifted(lit, firing.high + cooling.high))
    return DrawTime(lit, slaked, soonest, surely)
