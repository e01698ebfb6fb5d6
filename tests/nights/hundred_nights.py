"""Invented nights whose kilns differ in ways the refit does not have: does the forecast hold, and is the liar named?

Run with ``python tests/nights/hundred_nights.py [NIGHTS [FIRST]]``; it prints, and takes some seconds a night on one
core. Nights are told apart by their seed, from FIRST on: on 0 to 39 the spreads were set, 40 to 239 were fresh then.

Each night a kiln is planned, and another is fired in its place: its air, losses, wood and stone are drawn from the law
that the refit knows, and besides its stone is of other sizes and laid otherwise, damp has got into stone and wall,
flames are longer or shorter, rain cools cover and wood for some hours, and the air door is left open for a while.
It is fired on a finer grid than the refit's. The one who feeds it is no clock, wood is counted by armfuls,
lines are missed, and thermometers hang a little off their places and are each a little out. The thermometer that
lies has slipped out, stuck, drifted, or touches now and then, from some hour in the first half of what is looked at.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass, replace

import numpy as np

from limekit import fire_kiln, replay_burn, size_kiln
from limekit.kiln.firing import Firing, finish_times
from limekit.kiln.followers import Unknowns
from limekit.kiln.logged import HEIGHTS, BurnLog
from limekit.units import HOUR

PLACES = ("hearth", "lower", "upper", "flue")
KILNS = ((300.0, 0.08), (500.0, 0.1), (1000.0, 0.1), (2000.0, 0.12))
LONGEST = 72.0 * HOUR
STEP = HOUR / 6.0  # of what befalls a kiln
OUTSIDE = 283.0


@dataclass
class Night:
    """A night as planned and as it went: the log of the whole of it, and when the charge was truly done (s)."""

    firing: Firing
    log: BurnLog
    finish: float

    def until(self, share: float) -> BurnLog:
        """Return the log as it stood after a share of the time to the finish."""
        return self.log.first(int(np.searchsorted(self.log.times, share * self.finish, side="right")))


def plan(kiln: int) -> Firing:
    stone, largest = KILNS[kiln]
    return fire_kiln.plain(size_kiln.plain(stone, largest), chimney_height=1.5)


def fired(firing: Firing, dice) -> tuple:
    """Fire what stands in the plan's place, hour by hour; return clock, gas by place, finish, and fuel fed by a time."""
    planned = firing.plan
    deviates = np.clip(dice.normal(0.0, 1.0, (1, 4)), -2.5, 2.5)
    truth = Unknowns.at(deviates, planned)
    kiln = planned.kiln.but(
        laid=str(dice.choice(["poured", "by hand", "with flues"])), wall_moisture=dice.uniform(0.0, 0.08)
    )
    stone = planned.stone.but(
        stone_moisture=dice.uniform(0.0, 0.05),
        reaction_coefficient=float(truth.reaction_coefficient[0]),
        lime_conductivity=float(truth.lime_conductivity[0]),
    )
    size = np.exp(dice.normal(0.0, 0.12))
    other = replace(
        planned,
        kiln=kiln,
        stone=stone,
        fire=planned.fire.but(flame_share=dice.uniform(0.0, 0.4)),
        shares=tuple((one * size, share) for one, share in planned.shares),
        arrangement=str(dice.choice(["mixed", "graded"])),
        rings=3,
    )
    burn = other.light()
    loss, wall = float(truth.loss_factor[0]), burn.column.wall
    wall.face_area = wall.face_area * loss
    burn.mouth, cover = burn.mouth * loss, burn.cover * loss
    clock = np.arange(0.0, LONGEST, STEP)
    usual = np.interp(clock + 0.5 * STEP, firing.history.times, firing.history.fuel_rate)
    slow = np.repeat(dice.normal(0.0, 0.12, len(clock)), 6)[: len(clock)]  # from hour to hour
    rates = usual * np.exp(dice.normal(0.0, 0.15) + slow)
    rain = _while(clock, dice, 0.5, firing.firing_time)
    door = _while(clock, dice, 0.3, firing.firing_time, longest=2.0 * HOUR)
    quality, excess = float(truth.fuel_quality[0]), float(truth.excess_air[0])
    for start, is_wet, is_open, rate in zip(clock, rain, door, rates, strict=True):
        if burn.burnt.min() >= planned.fire.conversion:
            break
        burn.cover = cover * (2.0 if is_wet else 1.0)
        burn.stoker = replace(
            burn.stoker,
            times=(float(start),),
            rates=(float(rate),),
            heat_up_time=0.0,
            excess_air=excess * (2.5 if is_open else 1.0),
            quality=quality * (0.93 if is_wet else 1.0),
            ample=True,
        )
        burn.run(float(start + STEP), planned.fire.conversion)
    moments = burn.moments
    gas, levels = moments.gas_temperature[..., 0], moments.gas_temperature.shape[1] - 1
    told = {"hearth": gas[:, 0], "flue": moments.flue_temperature[:, 0]}
    middles = (np.arange(levels) + 0.5) / levels
    for place, height in HEIGHTS.items():
        hangs = float(np.clip(height + dice.normal(0.0, 0.05), middles[0], middles[-1]))
        told[place] = np.array([np.interp(hangs, middles, row) for row in gas[:, 1:]])
    return moments.time, told, float(finish_times(burn, planned.fire.conversion)[0]), (clock, rates)


def _while(clock, dice, chance, hours, longest=8.0 * HOUR) -> np.ndarray:
    """Return whether something is so at each moment of the night: for a while, or not at all."""
    start, lasts, comes = dice.uniform(0.0, hours), dice.uniform(0.2, 1.0) * longest, dice.random() < chance
    return comes & (clock >= start) & (clock < start + lasts)


def night(seed: int, firing: Firing | None = None) -> Night:
    """Draw a night that is done at last; the same for the same seed."""
    for turn in range(20):
        dice = np.random.default_rng([seed, turn])
        planned = firing or plan(int(dice.integers(len(KILNS))))
        clock, told, finish, (starts, rates) = fired(planned, dice)
        if np.isfinite(finish) and finish > 6.0 * HOUR:
            break
    times = np.arange(0.0, finish + HOUR, HOUR / 2)
    times = times[np.append(True, dice.random(len(times) - 1) > 0.12)]
    so_far = np.interp(times, np.append(starts, LONGEST), np.append(0.0, np.cumsum(rates) * STEP))
    armfuls = np.exp(dice.normal(0.0, 0.03) + dice.normal(0.0, 0.08, len(times)))
    read = {}
    for place in PLACES:
        out = dice.normal(0.0, 12.0) + dice.normal(0.0, 8.0, len(times))
        seen = np.interp(times, clock, told[place]) + out
        seen[0] = OUTSIDE
        read[place] = np.where(dice.random(len(times)) < 0.05, np.nan, 5.0 * np.round(seen / 5.0))
    blank = {name: np.full(len(times), np.nan) for name in ("sinking", "damper")}
    blank |= dict.fromkeys(("glow", "flame", "test_piece"), (None,) * len(times))
    blank |= dict.fromkeys(("weather", "notes"), ("",) * len(times))
    return Night(planned, BurnLog(times, np.diff(so_far, prepend=0.0) * armfuls, read, **blank), finish)


def spoil(log: BurnLog, seed: int) -> tuple[BurnLog, str]:
    """Let one thermometer of a log lie from some hour in its first half on; return the log and which."""
    dice = np.random.default_rng([seed, 99])
    place, how = str(dice.choice(PLACES)), dice.choice(["slipped", "stuck", "drifts", "loose"])
    read, times = log.temperatures[place].copy(), log.times
    since = times - dice.uniform(0.0, 0.5) * times[-1]
    lies = since > 0.0
    if how == "slipped":
        read[lies] = OUTSIDE + dice.uniform(0.4, 0.7) * (read[lies] - OUTSIDE)
    elif how == "stuck":
        read[lies] = dice.choice([OUTSIDE, 450.0, 600.0]) + dice.normal(0.0, 3.0, lies.sum())
    elif how == "drifts":
        read[lies] -= dice.uniform(40.0, 90.0) * since[lies] / HOUR
    else:
        read[lies] = np.where(dice.random(lies.sum()) < 0.7, OUTSIDE + 20.0, read[lies])
    return replace(log, temperatures=log.temperatures | {place: read}), place


@dataclass
class Judged:
    """What was said of one night: whether the forecast at half time held, the liar was named, another accused."""

    held: bool
    named: bool
    accused: bool
    width: float
    out: float


def judge(seed: int, firing: Firing | None = None) -> Judged:
    one = night(seed, firing)
    half = replay_burn.plain(one.until(0.5), one.firing)
    later = one.until(2.0 / 3.0)
    honest = replay_burn.plain(later, one.firing)
    spoilt, liar = spoil(later, seed)
    told = half.finish
    return Judged(
        held=told is not None and told.low <= one.finish <= told.high,
        named=replay_burn.plain(spoilt, one.firing).lying == (liar,),
        accused=bool(half.lying or honest.lying),
        width=(told.high - told.low) / one.finish if told else np.inf,
        out=told.median / one.finish if told else np.inf,
    )


def main(nights: int = 100, first: int = 40) -> None:
    began, judged = time.perf_counter(), []
    for seed in range(first, first + nights):
        judged.append(judge(seed))
        print(seed, judged[-1], flush=True)
    share = {name: 100.0 * np.mean([getattr(one, name) for one in judged]) for name in ("held", "named", "accused")}
    width, out = (np.array([getattr(one, name) for one in judged]) for name in ("width", "out"))
    print(
        f"{nights} nights in {time.perf_counter() - began:.0f} s: the range at half time held {share['held']:.0f} %, and is "
        f"{np.median(width):.2f} of the finish wide (middle out by x{np.exp(np.std(np.log(out[np.isfinite(out)]))):.2f}, "
        f"{np.isinf(out).sum()} with no range); the liar named {share['named']:.0f} %, another accused {share['accused']:.0f} %."
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
