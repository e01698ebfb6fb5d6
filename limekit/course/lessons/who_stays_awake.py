"""Who stays awake: a burn's hours shared out among the people there, and the watch on a kiln that cools."""

from __future__ import annotations

import datetime

from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.lessons.the_workshop import LONGEST_BURN, dated
from limekit.dates import read_time
from limekit.facts import fact
from limekit.frames import frame
from limekit.pictures import workshop as pictures
from limekit.plan.parts import people_for
from limekit.plan.plan import Plan
from limekit.records.roster import Watches, watches
from limekit.units import DAY, HOUR

NAMES = ("Alder", "Birch", "Elm", "Fir", "Hazel", "Holly", "Linden", "Maple", "Oak", "Rowan", "Spruce", "Willow")
MOST_HOURS = 72  # that are slid through, and more where a plan may burn longer


def longest(plan: Plan) -> float:
    """Return the longest that a plan's firing may take, in seconds."""
    hours = plan.plain.forecast.hours
    return plan.plain.firing.firing_time if hours is None else hours.high


def watch_explorer(plan: Plan, lit) -> Explorer:
    """Slide the hours of a burn, lit at a clock time, and who is there; see everybody's turns at the fire.

    It starts at the longest the plan's fire may burn, and at its people; at as many as do, where they are too few.
    """
    first, hours = read_time(lit, "lit"), longest(plan)
    there = people_for(hours, plan.plain.people.people - 1)

    def share(firing_time: float, people: float, watch_time: float, later: int) -> tuple[Watches, tuple[str, ...]]:
        names = NAMES[: round(people)]
        return watches.plain(first + datetime.timedelta(hours=later), firing_time, names, watch_time), names

    return Explorer(
        [
            Slider("firing_time", start=f"{hours} s", low="6 h", high=f"{max(MOST_HOURS, hours / HOUR)} h", step=1),
            Slider(
                "people",
                start=there.people if there.enough else there.needed,
                low=2,
                high=len(NAMES),
                label="people who keep watch",
            ),
            Slider("watch_time", start=f"{there.watch_time} s", low="2 h", high="12 h", step=1),
            Choice("later", {f"{(first.hour + hours) % 24}:00": hours for hours in (0, 6, 12)}, label="lit at"),
        ],
        model=share,
        picture=lambda shared: pictures.turns(*shared),
        words=_watch_words,
        table=_watch_table,
        presets={
            "a small kiln at its longest": {"firing_time": f"{LONGEST_BURN} h", "people": 6, "watch_time": "4 h"},
            "four, in long turns": {"firing_time": "72 h", "people": 4, "watch_time": "8 h"},
            "a long burn": {"firing_time": "72 h", "people": 8, "watch_time": "6 h"},
        },
    )


def _watch_words(shared: tuple[Watches, tuple[str, ...]]) -> str:
    turns, stretch, names = shared[0].turns, shared[0].longest_stretch, shared[1]
    start, end = turns[0].start, turns[-1].end
    nights = (end.date() - start.date()).days
    through = f"{nights} night{'s' if nights > 1 else ''}" if nights else "no night"
    return (
        f"Lit on {dated(start)} at {start:%H:%M} and closed on {dated(end)} at {end:%H:%M}, through {through}: "
        f"{len(names)} people stand {len(turns)} turns of up to {(turns[0].end - start).total_seconds() / HOUR:z.0f} "
        f"hours, {len(turns[0].people)} at each. Nobody is on longer than {stretch / HOUR:.0f} hours on end, and "
        f"everybody has {fact('watch_rest_least') / HOUR:.0f} off on end in every {DAY / HOUR:.0f}, to sleep."
    )


def people_there(plan: Plan) -> str:
    """Say whether a plan's people can keep its fire for as long as it may burn."""
    hours = longest(plan)
    return (
        f"By the plan {plan.people.words} But it may burn {hours / HOUR:.0f} h: "
        f"{people_for(hours, plan.plain.people.people - 1).words}"
    )


def cooling_watch(plan: Plan) -> str:
    """Say how long a plan's kiln is watched after its openings are closed."""
    usual = fact("cooling_time", plan.plain.kind.replace(" ", "_"))
    cools = plan.plain.own_steps.get("cooling", usual)
    return (
        f"The roster ends when the openings are closed, and the watch does not. This kiln cools for "
        f"{cools.low / HOUR:.0f} to {cools.high / HOUR:.0f} hours. All that time it breathes gas and can set its "
        "surroundings alight, and people must be there, in turns, to keep the curious off it: put "
        f"{cools.high / HOUR:.0f} hours more on the list."
    )


def _watch_table(shared: tuple[Watches, tuple[str, ...]]):
    rows = [(f"{turn.start:%a %H:%M}", f"{turn.end:%a %H:%M}", " and ".join(turn.people)) for turn in shared[0].turns]
    return frame(rows, columns=["from", "to", "at the fire"])
