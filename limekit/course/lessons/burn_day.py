"""Burn day: a log replayed against its plan, the finish forecast, and a thermometer that lies."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from limekit.course.checks import Exercise, Slip
from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.course.following import follow
from limekit.edge import plain
from limekit.errors import InputError, not_among
from limekit.estimate import Estimate, ranged, shown
from limekit.frames import frame
from limekit.kiln.firing import Firing, fire_kiln
from limekit.kiln.followers import told_by_place
from limekit.kiln.logged import PLACES, BurnLog
from limekit.kiln.replay import Replay, replay_burn
from limekit.kiln.sizing import size_kiln
from limekit.pictures import burn_day as pictures
from limekit.pictures.pages import Page, Table
from limekit.pictures.progress import progress
from limekit.plan.plan import Plan
from limekit.records.burn_log import read_burn_log
from limekit.records.examples import example_path
from limekit.records.forms import sheet
from limekit.units import HOUR, MM

INVENTED = "burn_log_example.csv"
INVENTED_KILN = {"stone": "500 kg", "largest_stone": "100 mm"}
INVENTED_FIRE = {
    "stoking": [("0 h", "9 kg/h"), ("4 h", "15 kg/h"), ("8 h", "21 kg/h")],
    "chimney_height": "1.5 m",
    "excess_air": 0.6,
}
MOST_REPLAYS = 6
DRAWN_PAST = 1.25  # hours drawn, over those of log and plan
WRITTEN_LATE = 0.75 * HOUR  # from when a line is missed
FITTED = {
    "excess_air": ("air beyond the least", "more air than planned: the fire is cooler", "less air: a hotter fire"),
    "loss_factor": ("losses", "it loses more than its drawing says", "it loses less than its drawing says"),
    "fuel_quality": ("heat of the fuel", "the fuel is better than bought for", "the fuel is wetter or poorer"),
    "reaction_coefficient": ("the stone's willingness [mm/s]", "a willing stone", "an unwilling stone"),
}


@dataclass(eq=False)
class Watch:
    """A burn's log and plan, and what the log said at even steps of the clock and at its end, in plain SI floats.

    `planned` holds by place, and for ``"conversion"``, times and gas or share burnt; `moments` are s since lighting,
    and `lines` so many of the log at each.
    """

    log: BurnLog
    firing: Firing
    planned: dict[str, tuple[np.ndarray, np.ndarray]]
    step: float
    moments: list[float] = field(default_factory=list)
    lines: list[int] = field(default_factory=list)
    replays: list[Replay] = field(default_factory=list)

    def read(self, log: BurnLog) -> None:
        """Take a log that has grown, or was mended, and replay what it says at moments that are new."""
        moments, lines = _moments(log, self.step)
        kept = 0
        while kept < min(len(lines), len(self.lines)) and _same(log, self.log, lines[kept], self.lines[kept]):
            kept += 1
        replays, ahead = self.replays[:kept], lines[kept:]
        with progress("Replaying the log, hour after hour, to see the fire behind it") as tell:
            for done, count in enumerate(ahead, start=1):
                replays.append(replay_burn.plain(log, self.firing, count))
                tell(done / len(ahead))
        self.log, self.moments, self.lines, self.replays = log, moments, lines, replays

    @property
    def last(self) -> Replay:
        """What the whole log says."""
        return self.replays[-1]

    @property
    def end(self) -> float:
        """How far pictures draw the hours, s."""
        return DRAWN_PAST * max(self.moments[-1], self.firing.finish or 0.0)

    def at(self, time: float) -> int:
        """Return which of the moments a time (s) is."""
        return int(np.abs(np.array(self.moments) - time).argmin())

    def log_at(self, now: int) -> BurnLog:
        """Return the log as it stood at one of the moments."""
        return self.log.first(self.lines[now])

    def dated(self, now: int) -> str:
        """Say how far into the burn one of the moments is, and where its last line was written well before."""
        moment, written = self.moments[now], self.log.times[self.lines[now] - 1]
        late = f", by the last line, of hour {shown(written / HOUR)}" if moment - written > WRITTEN_LATE else ""
        return f"{moment / HOUR:.0f} h into the burn{late}"

    def until(self, now: int) -> list[tuple[float, Replay]]:
        """Return the moments up to one of them, each with what the log said then."""
        return list(zip(self.moments, self.replays, strict=True))[: now + 1]

    def slider(self, start: float, **told) -> Slider:
        """Return a slider over the moments, starting near a time (s)."""
        hours = [moment / HOUR for moment in self.moments]
        first = self.moments[self.at(start)] / HOUR
        ends = {"low": hours[0], "high": hours[-1], "step": self.step / HOUR}
        return Slider("firing_time", start=first, label="hours into the burn", **ends, **told)


def planned(plan: Plan, log_file) -> Firing:
    """Return the firing that a log is held beside: the plan's, or for the example's log that of its own small kiln."""
    if Path(log_file) != example_path(INVENTED):
        return plan.firing
    with progress("Firing the kiln that the log is held beside"):
        return fire_kiln(size_kiln(**INVENTED_KILN), stone=plan.record.stone, **INVENTED_FIRE)


def watch(log: BurnLog, firing) -> Watch:
    """Replay a log as it stood at up to six even steps of the clock, a bar telling how far it is.

    `firing` is as planned, from `limekit.fire_kiln`.
    """
    firing, hours = plain(firing), log.times[-1] / HOUR
    burn = firing.burn
    clock = burn.moments.time
    planned = {place: (clock, gas[:, 0]) for place, gas in told_by_place(burn, PLACES).items()}
    planned["conversion"] = clock, burn.moments.burnt[:, 0]
    watched = Watch(log, firing, planned, HOUR * max(math.ceil(hours / MOST_REPLAYS), 1))
    watched.read(log)
    return watched


def _moments(log: BurnLog, step: float) -> tuple[list[float], list[int]]:
    """Return the even steps of the clock at which a log says something new, and its lines at each."""
    moments, lines = [], []
    for moment in step * np.arange(1, math.ceil(log.times[-1] / step - 1e-9) + 1):
        count = int(np.searchsorted(log.times, moment, side="right"))
        if count >= 2 and log.fuel_fed[:count].any() and (not lines or count > lines[-1]):
            moments.append(float(moment))
            lines.append(count)
    return moments, lines


def _same(log: BurnLog, before: BurnLog, lines: int, lines_before: int) -> bool:
    """Whether two logs say the same up to a line."""
    one, other = (str(vars(of.first(count))) for of, count in ((log, lines), (before, lines_before)))
    return lines == lines_before and one == other


def form() -> Page:
    """Return the log's form to print."""
    return Page(sheet("burn log"), "The burn log, to print: a line each half hour, and one at each change.")


def watch_explorer(watched: Watch, follows=None) -> Explorer:
    """Walk through the burn: readings against plan and replay, the liar named, the forecast closing in.

    It goes on by itself when a line is added to the log's file, if that is named in `follows`.
    """
    wanted = watched.firing.plan.fire.conversion

    def draw(now: int):
        return pictures.watched(watched.log_at(now), watched.planned, watched.until(now), wanted, watched.end)

    explorer = Explorer(
        [watched.slider(0.5 * watched.moments[-1], plays=True)],
        model=lambda firing_time: watched.at(firing_time),
        picture=draw,
        words=lambda now: f"{watched.dated(now)}. {watched.replays[now].words}",
        table=lambda now: _table(watched, now),
        keeps=lambda now: {"fuel": {"excess_air": round(watched.replays[now].excess_air.median, 2)}},
    )
    if follows is not None:
        follow(follows, lambda: _go_on(explorer, watched, follows))
    return explorer


def _go_on(explorer: Explorer, watched: Watch, path) -> None:
    """Read the log again, and show its last hour; where it cannot be read, say so and leave what is there."""
    try:
        watched.read(read_burn_log(path))
    except InputError as fault:
        explorer.note(f"Not read again yet. {fault}")
        return
    clock = explorer.controls["firing_time"]
    clock.max = max(watched.moments[-1] / HOUR, clock.min)
    explorer.set(firing_time=f"{watched.moments[-1] / HOUR} h")
    explorer.note(f"Read again: {len(watched.log)} lines.")


def _table(watched: Watch, now: int):
    return frame(
        {
            "hour": f"{moment / HOUR:.0f}",
            "burnt [%]": _percent(one.conversion),
            "done at hour": _done(one, "not in sight"),
            "named as lying": ", ".join(one.lying) or "–",
            "verdict": one.verdict,
        }
        for moment, one in watched.until(now)
    )


def _done(told: Replay, unseen: str = "out of sight") -> str:
    return ranged(told.finish, HOUR) if told.finish else unseen


def _percent(told: Estimate) -> str:
    return f"{100 * told.median:.0f} ({100 * told.low:.0f} to {100 * told.high:.0f})"


def differences(watched: Watch) -> Table:
    """Return how the kiln differs from its plan, as the whole log tells it, in words."""
    plan, log, hour = watched.firing.plan, watched.log, min(watched.firing.firing_time, watched.log.times[-1])
    fed = float(np.interp(hour, log.times, np.cumsum(log.fuel_fed)))
    meant = float(watched.firing.history.fed_by(hour))
    says = (
        "less fed than planned"
        if fed < 0.95 * meant
        else "more fed than planned"
        if fed > 1.05 * meant
        else "as planned"
    )
    rows = [(f"fuel fed by hour {hour / HOUR:.0f} [kg]", f"{meant:.0f}", f"{fed:.0f}", says)]
    usual = {
        "excess_air": plan.fire.excess_air,
        "loss_factor": 1.0,
        "fuel_quality": 1.0,
        "reaction_coefficient": plan.stone.reaction_coefficient,
    }
    for name, (label, more, less) in FITTED.items():
        told, planned = getattr(watched.last, name), usual[name]
        unit = 1.0 / MM if name == "reaction_coefficient" else 1.0
        was = "–" if planned is None else shown(planned / unit, 2)
        rows.append((label, was, ranged(told, unit, 2), _says(told, planned, more, less)))
    return Table(("What", "As planned", "As the log tells it (90 %)", "Which says"), rows)


def _says(told: Estimate, planned: float | None, more: str, less: str) -> str:
    if planned is None:
        return "the door stood open"
    if told.low > planned:
        return more
    if told.high < planned:
        return less
    if told.inner_low <= planned <= told.inner_high:
        return "as planned, as far as the log can tell"
    return f"perhaps {more if told.median > planned else less}"


def words(watched: Watch) -> str:
    """Say in a sentence how the burn went beside its plan."""
    planned, last = watched.firing.finish, watched.last
    hour = "never has the charge done" if planned is None else f"has the charge done at hour {planned / HOUR:.0f}"
    done = f"hour {ranged(last.finish, HOUR)}" if last.finish else "an hour that is not in sight"
    return (
        f"The plan {hour} with {watched.firing.fuel_used:.0f} kg of fuel. The log "
        f"holds {watched.log.times[-1] / HOUR:.0f} hours and {watched.log.fuel_fed.sum():.0f} kg, and puts the finish "
        f"at **{done}**."
    )


def trusting(watched: Watch, place: str | None = None) -> str:
    """Say what the log would have told, had one thermometer been trusted and the others not looked at.

    Without its place it is the one that most likely lies.
    """
    last, read = watched.last, watched.log.temperatures
    if len(read) < 2:
        return "The log holds fewer than two thermometers: there is nothing to catch one lying by."
    place = max(last.lying_chances, key=last.lying_chances.get) if place is None else place
    if place not in read:
        raise not_among(read, "place of a thermometer", place, 'lesson.trusting(burn, "{near}")')
    alone = replay_burn.plain(replace(watched.log, temperatures={place: read[place]}), watched.firing)
    return (
        f"All thermometers together say {_percent(last.conversion)} % burnt, done at hour {_done(last)}. "
        f"The **{place}** one alone says {_percent(alone.conversion)} %, done at hour {_done(alone)}."
    )


SAW, SEES, APART, DONE = 0.62, 0.74, 3.0, 0.95

hours_to_go = Exercise(
    question=(
        f"At midnight {100 * SAW:.0f} % of a charge was burnt, {APART:.0f} hours later {100 * SEES:.0f} %. If it went "
        f"on at that pace, how many hours more would it take to {100 * DONE:.0f} %?"
    ),
    answer=lambda: f"{(DONE - SEES) * APART / (SEES - SAW)} h",
    unit="h",
    tolerance=0.03,
    slips=(
        Slip("that counts from midnight; three of those hours are gone", lambda right: right + APART),
        Slip("you took what burnt in three hours for what burns in one", lambda right: right / APART),
        Slip("that is to the last crumb, which nobody waits for", lambda _: (1 - SEES) * APART / (SEES - SAW)),
        Slip("that is the time from nothing, not from where it is", lambda _: DONE * APART / (SEES - SAW)),
    ),
    hint="What is still to burn, over what burns in an hour.",
)
