"""When to stop: the signs that must bear the reckoning out, and whether wood and people last until then."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from limekit.course.checks import PERCENT, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.lessons.burn_day import Watch
from limekit.facts import fact
from limekit.kiln.logged import FLAMES
from limekit.kiln.replay import (
    SURE,
    TOP_STAYS_RAW,
    WAYS,
    FinishSign,
    Replay,
    fed_lately,
    read_signs,
    stop_or_go,
    top_stays_raw,
)
from limekit.pictures import burn_day as pictures
from limekit.stone.trial import SLAKING
from limekit.units import HOUR, MM

AS_LOGGED = "as logged"


def signs_explorer(watched: Watch) -> Explorer:
    """Draw a piece, look at the flame, measure the sinking; hear whether that confirms the reckoning."""
    plan = watched.firing.plan

    def judge(firing_time: float, test_piece: str, flame: str, sinking: float):
        now = watched.at(firing_time)
        log = watched.log_at(now)
        seen = {"sinking": np.full(len(log), sinking)}
        seen |= {
            name: (word,) * len(log)
            for name, word in (("test_piece", test_piece), ("flame", flame))
            if word != AS_LOGGED
        }
        found = read_signs(replace(log, **seen), plan)
        chance = watched.replays[now].done_chance
        return chance, found, stop_or_go(chance, found)

    def draw(judged):
        chance, found, verdict = judged
        rows = [("reckoning", f"{100 * chance:.0f} % sure that it is done", chance / SURE)]
        rows += [(one.name, one.noted or "not noted", _reached(one)) for one in found]
        return pictures.signs(rows, verdict)

    sunk = watched.log.last("sinking") or 0.0
    most = math.ceil(0.3 * MM * plan.kiln.kiln_height / 10) * 10
    return Explorer(
        [
            watched.slider(watched.moments[-1]),
            Choice("test_piece", (AS_LOGGED, *SLAKING), label="a drawn piece slakes"),
            Choice("flame", (AS_LOGGED, *FLAMES), label="flame at the eyes"),
            Slider(
                "sinking",
                start=f"{min(5 * round(MM * sunk / 5), most)} mm",
                low=0.0,
                high=f"{most} mm",
                step=5.0,
                label="the charge has sunk",
            ),
        ],
        model=judge,
        picture=draw,
        words=_judged_words,
    )


def _judged_words(judged) -> str:
    chance, found, verdict = judged
    raw = f" {TOP_STAYS_RAW}" if top_stays_raw(verdict, found) else ""
    return (
        f"{WAYS[verdict]}. The reckoning is {100 * chance:.0f} % sure that the charge is done; "
        f"{'; '.join(map(str, found))}.{raw}"
    )


def _reached(sign: FinishSign) -> float:
    if sign.name == "sinking" and sign.noted:
        return float(sign.noted.split()[0]) / fact("charge_sinking").low
    return {"done": 1.0, "not yet": 0.5, "not noted": 0.0}[sign.says]


@dataclass(frozen=True)
class Left:
    """The log's last line at a moment of the burn, with the wood and the people that are left then.

    `said` tells the moment, and where that line was written well before it.
    """

    said: str
    now: float
    replay: Replay
    pace: float
    wood: float
    people: float

    @property
    def wood_lasts(self) -> float:
        """How long the wood feeds the fire as of late, s; for ever where none was fed."""
        return self.wood / self.pace if self.pace else math.inf

    @property
    def ends(self) -> float:
        """When the fire goes out, s since lighting."""
        return self.now + min(self.wood_lasts, self.people)


def enough_explorer(watched: Watch) -> Explorer:
    """Set the wood and the people that are left against the forecast; see what the charge comes to if they run out."""
    wanted, planned = watched.firing.plan.fire.conversion, watched.firing.finish

    def count(firing_time: float, fuel_mass: float, watch_time: float) -> Left:
        now = watched.at(firing_time)
        log = watched.log_at(now)
        return Left(
            watched.dated(now), float(log.times[-1]), watched.replays[now], fed_lately(log), fuel_mass, watch_time
        )

    def draw(left: Left):
        moments = {
            "the log's last line": left.now,
            "the wood is gone": left.now + left.wood_lasts,
            "the people are gone": left.now + left.people,
            "the plan's hour": planned,
        }
        end = 1.3 * watched.end
        return pictures.enough(left.replay.bands["conversion"], watched.planned["conversion"], moments, wanted, end)

    pace = watched.log.fuel_fed.sum() / watched.log.times[-1]
    most = math.ceil(16 * HOUR * pace / 50) * 50
    middle = watched.moments[-1] * 2 / 3
    return Explorer(
        [
            watched.slider(middle),
            Slider("fuel_mass", start=f"{0.5 * most} kg", low=0.0, high=float(most), step=5.0, label="wood left"),
            Slider("watch_time", start="4 h", low=0.0, high=16.0, step=0.5, label="the people can stay"),
        ],
        model=count,
        picture=draw,
        words=lambda left: enough_words(left, wanted),
        presets=_endings(watched, planned, most),
    )


def _endings(watched: Watch, planned: float | None, most: int) -> dict:
    late = f"{watched.moments[watched.at(2 / 3 * watched.moments[-1])] / HOUR} h"
    cases = {
        "wood for the night, nobody to burn it": {"firing_time": late, "fuel_mass": f"{most} kg", "watch_time": "1 h"},
        "fresh people, an empty stack": {"firing_time": late, "fuel_mass": f"{0.1 * most} kg", "watch_time": "12 h"},
    }
    if planned and watched.moments[0] <= planned <= watched.moments[-1]:
        hour = watched.moments[watched.at(planned)] / HOUR
        cases["stop at the plan's hour"] = {"firing_time": f"{hour} h", "watch_time": "0 h"}
    return cases


def enough_words(left: Left, wanted: float) -> str:
    """Say whether wood and people last, and what to do if they do not."""
    hours, people = left.replay.hours_left, f"the people can stay {left.people / HOUR:.1f} h"
    lasts = (
        f"{left.wood:.0f} kg feed the fire for {left.wood_lasts / HOUR:.1f} h at {left.pace * HOUR:.0f} kg an hour, "
        f"{people}."
        if left.pace
        else f"Nothing was fed of late; {people}."
    )
    if hours is None:
        advice = "No finish is in sight as the fire is fed: find out why before the wood is gone."
    else:
        asked = f"{hours.median / HOUR:.1f} h, {hours.high / HOUR:.1f} h to be sure"
        advice = f"Wanted are {asked}: {_advice(left, hours.high)}."
    return f"{left.said}: {lasts} {advice} {_comes_to(left, wanted)}"


def _advice(left: Left, asked: float) -> str:
    wood, watching = left.pace * asked - left.wood, (asked - left.people) / HOUR
    lacking = [
        words
        for words, short in (
            (f"send for {wood:.0f} kg of dry wood now", wood),
            (f"call fresh people for the last {watching:.1f} h now", watching),
        )
        if short > 0.0
    ]
    return " and ".join(lacking) or "that is enough"


def _comes_to(left: Left, wanted: float) -> str:
    burnt = left.replay.bands["conversion"]
    low, middle, high = (100 * np.interp(left.ends, burnt.times, one) for one in (burnt.low, burnt.median, burnt.high))
    enough = (
        ""
        if middle >= 100 * wanted
        else f" where {100 * wanted:.0f} % is wanted; the raw stone burns in the next charge"
    )
    return f"If the fire ends with the first of them, {middle:.0f} % is burnt ({low:.0f} to {high:.0f} %){enough}."


HEIGHT = 1.2

least_sinking = Exercise(
    question=(
        f"A kiln is {HEIGHT:g} m high inside. How far has the top of the charge sunk at least, by the old rule, "
        "when it is done?"
    ),
    answer=lambda: f"{HEIGHT * fact('charge_sinking').low} m",
    unit="mm",
    tolerance=0.03,
    slips=(
        Slip("that is the far end of the rule; from a sixth on the sign counts", lambda _: 1000 * HEIGHT / 4),
        Slip("that is what is left of the height, not what has gone", lambda _: 1000 * HEIGHT * 5 / 6),
        Slip("you took the tenth of the height; the rule says a sixth to a quarter", lambda _: 1000 * HEIGHT / 10),
    ),
    hint="The rule says a sixth to a quarter of the kiln's height.",
)

PACE, MEDIAN, HIGH, STACKED = 20.0, 4.0, 7.0, 45.0

wood_to_send_for = Exercise(
    question=(
        f"{STACKED:.0f} kg of wood are left and {PACE:.0f} kg go in an hour. The forecast says {MEDIAN:.0f} h "
        f"more, nine times in ten 3 to {HIGH:.0f} h. How much wood do you send for?"
    ),
    answer=lambda: f"{PACE * HIGH - STACKED} kg",
    unit="kg",
    tolerance=0.03,
    slips=(
        Slip(
            "that is for the middle of the forecast; half of all burns take longer", lambda _: PACE * MEDIAN - STACKED
        ),
        Slip("you forgot the wood that is still in the stack", lambda _: PACE * HIGH),
        Slip("that is for the middle of the forecast, and the stack is forgotten", lambda _: PACE * MEDIAN),
        PERCENT,
    ),
    hint="Wood for the long end of the range, less what is in the stack.",
)
