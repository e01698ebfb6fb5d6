"""A burn's log replayed against its plan: what differs, when the charge will be done, and whether to stop."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal, NamedTuple
from weakref import WeakKeyDictionary

import numpy as np

from limekit.edge import Ground, edge, rests_on
from limekit.errors import InputError
from limekit.estimate import Estimate, weighted
from limekit.facts import fact
from limekit.kiln.column.burn import Burn
from limekit.kiln.firing import Firing
from limekit.kiln.followers import BASES, Followers, spread_evenly, told_by_place
from limekit.kiln.lighting import FiringPlan
from limekit.kiln.logged import BurnLog
from limekit.kiln.refit import Refit, refit
from limekit.units import HOUR, Second, Unit

LATELY = 3.0 * HOUR  # over which the stoking's pace is taken
CHUNK, HORIZON = 2.0 * HOUR, 72.0 * HOUR  # steps of looking ahead, and how far
LONG_DONE = 1.4  # times the hour at which half of the kilns are done, to which the others are fired on
MARKS = np.linspace(0.02, 0.995, 40)  # shares burnt by which a kiln's course is told
NEVER = 1e9  # s
DRAWN = 60  # moments of a course that are told
KNOWN = 0.95  # chance that must be done within the horizon for a range to be told
LIES_FROM = 0.8  # chance from which a thermometer is named
LIKELY, SURE = 0.5, 0.8  # chances that the charge is done: from where a piece is drawn, and where signs suffice

FITTED = ("excess_air", "loss_factor", "fuel_quality", "reaction_coefficient")
Verdict = Literal["keep firing", "draw a test piece", "stop"]
WAYS = {
    "keep firing": "Keep firing",
    "draw a test piece": "Draw a test piece from the top, break it and slake it; keep the fire up meanwhile",
    "stop": "Stop: feed no more, let the flames die, close the mouth and then the eyes, and let the kiln cool",
}
TOP_STAYS_RAW = "The top is not burnt through: fire on for its sake, or sort it out and burn it again."


class FinishSign(NamedTuple):
    """A sign of the finish: its name, what was last noted, and what that says: "done", "not yet" or "not noted"."""

    name: str
    noted: str
    says: str

    def __str__(self) -> str:
        return f"{self.name}: {self.noted} ({self.says})" if self.noted else f"{self.name}: {self.says}"


@dataclass(frozen=True, eq=False)
class Band:
    """How something went and is to go on, by times since lighting, in SI: arrays of the 90 % range and the median."""

    times: np.ndarray
    low: np.ndarray
    median: np.ndarray
    high: np.ndarray


@dataclass(frozen=True)
class Replay:
    """What a log says of a burn, up to its last line or the line asked for.

    `finish` counts from lighting to the plan's conversion, with the stoking going on as it went
    lately beside the plan's; it and `hours_left` are None where more than one chance in twenty is
    not done within three days. `conversion` is the mean of the charge now. The next four say how
    the kiln differs from its plan. `lying` names thermometers that tell nothing, `lying_chances`
    how sure that is. `bands` tell gas by place (K) and ``"conversion"``.
    """

    finish: Annotated[Estimate | None, Unit("s")]
    hours_left: Annotated[Estimate | None, Unit("s")]
    conversion: Annotated[Estimate, Unit("")]
    excess_air: Annotated[Estimate, Unit("")]
    loss_factor: Annotated[Estimate, Unit("")]
    fuel_quality: Annotated[Estimate, Unit("")]
    reaction_coefficient: Annotated[Estimate, Unit("m/s")]
    planned_finish: Second | None
    done_chance: float
    lying: tuple[str, ...]
    lying_chances: dict[str, float]
    signs: tuple[FinishSign, ...]
    verdict: Verdict
    words: str
    bands: dict[str, Band] = field(repr=False)
    basis: tuple[Ground, ...] = ()

    def __str__(self) -> str:
        return self.words


@edge
def replay_burn(log: BurnLog, firing: Firing, lines: int | None = None) -> Replay:
    """Replay a burn's log against the firing that was planned, refit what differs, and forecast the finish.

    Parameters
    ----------
    log : BurnLog
        From `limekit.read_burn_log`.
    firing : Firing
        From `limekit.fire_kiln`: kiln, charge, its stone, fuel and stoking as planned.
    lines : int, optional
        Only so many lines of the log, as if the rest were yet to come: 2 to all.

    Raises
    ------
    InputError
        If there are not so many lines, or no fuel was fed in them.

    Notes
    -----
    w ∝ L^τ p/q, with the log's likelihood L in a kiln, its prior p and the law q it was drawn from, over kilns told by
    the forty-eight that follow the log (`limekit.kiln.followers`), the same ones every time. They stay with the
    firing, so that a log with a new line is followed from where it ended before. Readings within three
    hours share their error, and the trust τ is 1, or so much less that a tenth of the kilns stay
    in play. When a kiln comes to a share burnt is then put out by a factor exp(ε √(a² + b² (1 − now/t)²)), as
    invented nights were whose kilns differ otherwise: by how they are laid, rain, a door left open. One thermometer
    at most is taken to lie. Damper and weather are not reckoned with.
    """
    lines = len(log) if lines is None else lines
    if not 2 <= lines <= len(log):
        raise InputError("lines", f"{lines}", f"2 to {len(log)}, the lines of the log", f"lines={len(log)}")
    log, plan = log.first(lines), firing.plan
    if not log.fuel_fed.any():
        raise InputError("log", f"no fuel in {lines} lines", "some fuel", f"lines={len(log)}")
    followers = _followers(firing, log)
    followers.follow(log)
    found = refit(plan, log, followers)
    now, weights, wanted = float(log.times[-1]), found.weights, plan.fire.conversion
    course = _course(followers, found, wanted, _ahead(plan, log), tuple(log.temperatures))
    told_now = weighted(course.burnt(now), weights)
    finishes = course.finishes(wanted)
    done_chance = float(weights[finishes <= now].sum())
    is_seen = weights[finishes <= now + HORIZON].sum() >= KNOWN
    finishes = np.minimum(finishes, now + HORIZON)
    finish = weighted(finishes, weights) if is_seen else None
    left = weighted(np.maximum(finishes - now, 0.0), weights) if is_seen else None
    signs = read_signs(log, plan)
    verdict = stop_or_go(done_chance, signs)
    lying = tuple(place for place, chance in found.lying.items() if chance >= LIES_FROM)
    unknowns = {name: weighted(getattr(found.unknowns, name), weights) for name in FITTED}
    return Replay(
        finish=finish,
        hours_left=left,
        conversion=told_now,
        planned_finish=firing.finish,
        done_chance=done_chance,
        lying=lying,
        lying_chances=found.lying,
        signs=signs,
        verdict=verdict,
        words=_words(verdict, told_now, left, signs, lying),
        bands=course.bands(weights),
        basis=rests_on(
            "replay_error",
            "replay_error_lasts",
            "replay_hours",
            "replay_hours_ahead",
            "loss_factor",
            "fuel_quality",
            "thermometer_wrong",
        ),
        **unknowns,
    )


def _ahead(plan: FiringPlan, log: BurnLog) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the fuel foreseen from the log's end on: as planned, in the measure of the last hours, or as in those."""
    now, since, lately = float(log.times[-1]), _since(log), fed_lately(log)
    times, rates = plan.fire.stoking
    planned = _fed(times, rates, since, now) / (now - since) if times else 0.0
    if not planned or not lately:
        return (now,), (lately,)
    coming = [(time, rate) for time, rate in zip(times, rates, strict=True) if time > now]
    current = rates[np.searchsorted(times, now, side="right") - 1]
    measure = lately / planned
    return (now, *(time for time, _ in coming)), (measure * current, *(measure * rate for _, rate in coming))


def _since(log: BurnLog) -> float:
    return max(float(log.times[-1]) - LATELY, 0.0)


def fed_lately(log: BurnLog) -> float:
    """Return the fuel fed over the log's last three hours, or over all of a shorter one, in kg/s."""
    now, since = float(log.times[-1]), _since(log)
    return _fed(*log.stoking(), since, now) / (now - since)


def _fed(times, rates, start: float, end: float) -> float:
    """Return the fuel (kg) that rates from each time on feed between two moments (s)."""
    edges = np.clip([*times, np.inf], start, end)
    return float(np.diff(edges) @ np.array(rates))


_FOLLOWING: WeakKeyDictionary[Burn, Followers] = WeakKeyDictionary()


def _followers(firing: Firing, log: BurnLog) -> Followers:
    """Return the kilns that follow a firing's log: those that stand at an earlier line of it, or new ones."""
    followers = _FOLLOWING.get(firing.burn)
    if followers is None or not followers.may_follow(log):
        followers = _FOLLOWING[firing.burn] = Followers(firing.plan)
    return followers


@dataclass(frozen=True, eq=False)
class Course:
    """How kilns went and are to go on: gas by place (K) at times (s), shape (times, kilns), and shares burnt.

    `when` tells at which time (s) each came to the `marks`, shape (marks, kilns).
    """

    times: np.ndarray
    gas: dict[str, np.ndarray]
    marks: np.ndarray
    when: np.ndarray

    def finishes(self, conversion: float) -> np.ndarray:
        """Return when each comes to one of the marks, s."""
        return self.when[self.marks.searchsorted(conversion)]

    def burnt(self, times) -> np.ndarray:
        """Return the share burnt at some times (s), shape (times, kilns)."""
        return np.array([np.interp(times, column, self.marks, left=0.0) for column in self.when.T]).T

    def bands(self, weights: np.ndarray) -> dict[str, Band]:
        """Return the range of each place's gas, and of the share burnt."""
        of_each = self.gas | {"conversion": self.burnt(self.times)}
        return {name: _band(self.times, of, weights) for name, of in of_each.items()}


def _course(followers: Followers, found: Refit, conversion: float, stoking, places) -> Course:
    """Tell each kiln's course by those that followed the log and are fired on.

    How soon a kiln comes to a share burnt, 1/t, lies on a smooth surface through the others, down to those that
    never do; the share burnt at a time does not.
    """
    burns = followers.burn, _look_ahead(followers, found, conversion, stoking)
    times, burnt = (np.concatenate([getattr(burn.moments, name) for burn in burns]) for name in ("time", "burnt"))
    told = [told_by_place(burn, places) for burn in burns]
    some = np.unique(np.linspace(0, len(times) - 1, DRAWN).round().astype(int))
    gas = {place: np.concatenate([one[place] for one in told])[some] @ found.mix.T for place in places}
    marks = np.union1d(MARKS, conversion)
    soon = 1.0 / _when(times, burnt, marks) @ found.mix.T
    when = _astray(1.0 / np.maximum(soon, 1.0 / NEVER), followers.burn.clock)
    return Course(times[some], gas, marks, np.maximum.accumulate(when))


def _astray(when: np.ndarray, now: float) -> np.ndarray:
    """Return when kilns may come to what the model has them come to then: it is not the kiln, least of all ahead."""
    ahead = fact("replay_hours_ahead") * np.clip(1.0 - now / when, 0.0, 1.0)
    return when * np.exp(np.hypot(fact("replay_hours"), ahead) * spread_evenly(when.shape[1], len(BASES))[:, -1])


def _look_ahead(followers: Followers, found: Refit, conversion: float, stoking) -> Burn:
    """Fire on until half of what is likely is long done, or the horizon is reached, or it stands still."""
    ahead, burnt, gained = followers.ahead(*stoking), weighted(found.burnt, found.weights).median, 0.0
    horizon = until = ahead.clock + HORIZON
    while ahead.clock < until:
        ahead.run(min(ahead.clock + CHUNK, until))
        gains = weighted(found.mix @ ahead.burnt, found.weights).median - burnt
        burnt += gains
        if burnt >= conversion:
            until = min(until, LONG_DONE * ahead.clock)
        elif gains < gained and burnt + gains * (horizon - ahead.clock) / CHUNK < conversion:
            break
        gained = gains
    return ahead


def _when(times: np.ndarray, burnt: np.ndarray, marks: np.ndarray) -> np.ndarray:
    """Return when each kiln came to some shares burnt, s; where it has not yet, by the pace of its last hours."""
    since = times.searchsorted(times[-1] - CHUNK)
    pace = np.maximum((burnt[-1] - burnt[since]) / (times[-1] - times[since]), 1.0 / NEVER)
    last, risen = times[-1] + (1.0 - burnt[-1]) / pace, np.maximum.accumulate(burnt)
    return np.array(
        [np.interp(marks, [0.0, *column, 1.0], [0.0, *times, end]) for column, end in zip(risen.T, last, strict=True)]
    ).T


def read_signs(log: BurnLog, plan: FiringPlan) -> tuple[FinishSign, ...]:
    """Return the signs of the finish as last noted: test piece, sinking, flame."""
    piece, sunk, flame = (log.last(name) for name in ("test_piece", "sinking", "flame"))
    least = fact("charge_sinking").low
    share = (sunk or 0.0) / plan.kiln.kiln_height
    return (
        FinishSign("test piece", *_said(piece and f"slaked {piece}", piece == "through")),
        FinishSign("sinking", *_said(sunk is not None and f"{share:.2f} of the kiln's height", share >= least)),
        FinishSign("flame", *_said(flame, flame == "clear")),
    )


def _said(noted: str | Literal[False] | None, is_done: bool) -> tuple[str, str]:
    return (str(noted), "done" if is_done else "not yet") if noted else ("", "not noted")


def stop_or_go(done_chance: float, signs: tuple[FinishSign, ...]) -> Verdict:
    """Return what to do; no reckoning alone stops a fire: a sign of `read_signs` at least must bear it out."""
    done = sum(sign.says == "done" for sign in signs)
    if done and done_chance >= SURE:
        return "stop"
    return "draw a test piece" if done_chance >= LIKELY or done >= 2 or signs[0].says == "done" else "keep firing"


def top_stays_raw(verdict: Verdict, signs: tuple[FinishSign, ...]) -> bool:
    """Return whether it is time to stop although a piece drawn from the top did not slake through."""
    return verdict == "stop" and signs[0].says == "not yet"


def _words(verdict: str, burnt: Estimate, left: Estimate | None, signs, lying: tuple[str, ...]) -> str:
    said = [f"{WAYS[verdict]}. {100 * burnt.median:.0f} % is burnt ({100 * burnt.low:.0f} to {100 * burnt.high:.0f} %)"]
    if left is None:
        said[0] += "; as the fire is fed, no finish is in sight within three days."
    elif left.median > 0.0:
        hours = [f"{time / HOUR:.1f}" for time in (left.median, left.low, left.high)]
        said[0] += f"; about {hours[0]} h are left, nine times in ten {hours[1]} to {hours[2]} h."
    else:
        said[0] += "."
    said.append(f"Signs: {'; '.join(map(str, signs))}.")
    if top_stays_raw(verdict, signs):
        said.append(TOP_STAYS_RAW)
    said += [f"The {place} thermometer does not fit the others: check it, and do not steer by it." for place in lying]
    return " ".join(said)


def _band(times: np.ndarray, values: np.ndarray, weights: np.ndarray) -> Band:
    ranges = [weighted(row, weights) for row in values]
    return Band(times, *(np.array([getattr(one, end) for one in ranges]) for end in ("low", "median", "high")))
