"""What a plan left open, refitted from a log: kilns that may be, fired side by side and weighed by how well they fit.

Unknown are the air, the losses, the fuel's quality and how willingly the stone
burns. Each is told by a deviate of a normal law, 0 for the plan's own figure.
Forty-eight kilns are spread evenly over the law, the same every time, fired with
the fuel that was logged, and weighed by the readings; then as many new ones are
spread over what that left likely, and so on for four rounds.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.special import ndtr, ndtri

from limekit.facts import fact
from limekit.kiln.column.burn import Burn
from limekit.kiln.lighting import FiringPlan
from limekit.kiln.logged import HEIGHTS, BurnLog
from limekit.stone.glow import glow_spread
from limekit.stone.posterior import NINETY, lognormal

UNKNOWNS = ("excess_air", "loss_factor", "fuel_quality", "willingness")
MEMBERS, ROUNDS, LEVELS, PACE = 48, 4, 12, 3.0  # pace: steps longer than a firing's own
BASES = (2, 3, 5, 7)
FARTHEST = 3.0  # deviations from the plan that are looked at
ENOUGH, LEAST_TRUST = 0.15, 1e-3  # share of the members that must still count; of the readings' weight, at least
LESS_TRUST = 0.8  # of what the readings weighed in the turn before
WIDER, LEAST_SPREAD = 1.3, 0.02  # the law of the next round is wider than what one left likely, and never nothing
LEAST_READINGS = 4  # of a thermometer, below which it is not blamed
HEAVY = 10.0  # degrees of freedom of the readings' law: single slips weigh less


def spread_evenly(members: int, unknowns: int = len(UNKNOWNS)) -> np.ndarray:
    """Return points spread evenly over a normal law, shape (members, unknowns): Halton's, the same every time."""
    points = np.zeros((members, unknowns))
    for column, base in enumerate(BASES[:unknowns]):
        number, weight = np.arange(1, members + 1), 1.0
        while number.any():
            weight /= base
            points[:, column] += weight * (number % base)
            number //= base
    return ndtri(points)


@dataclass(frozen=True, eq=False)
class Unknowns:
    """What the members hold for true, each of shape (members,): share, factors, m/s and W/mK."""

    excess_air: np.ndarray
    loss_factor: np.ndarray
    fuel_quality: np.ndarray
    reaction_coefficient: np.ndarray
    lime_conductivity: np.ndarray

    @classmethod
    def at(cls, deviates: np.ndarray, plan: FiringPlan | None = None) -> Unknowns:
        """Return what deviates of shape (members, 4) stand for: about a plan's air, where it has one, and its stone."""

        def about(name: str, deviate: np.ndarray) -> np.ndarray:
            usual = fact(name)
            planned = None if plan is None else getattr(plan.fire if name == "excess_air" else plan.stone, name)
            return lognormal(usual, deviate) * (1.0 if planned is None else planned / usual)

        return cls(
            excess_air=about("excess_air", deviates[:, 0]),
            loss_factor=lognormal(fact("loss_factor"), deviates[:, 1]),
            fuel_quality=lognormal(fact("fuel_quality"), deviates[:, 2]),
            reaction_coefficient=about("reaction_coefficient", deviates[:, 3]),
            lime_conductivity=about("lime_conductivity", deviates[:, 3]),
        )


def light_members(plan: FiringPlan, unknowns: Unknowns, stoking) -> Burn:
    """Return kilns as `unknowns` have them, lit, with fuel fed at times (s) and rates (kg/s)."""
    found = {name: getattr(unknowns, name) for name in ("reaction_coefficient", "lime_conductivity")}
    stone = plan.stone.but(**found)
    burn = plan.light(stone, pace=PACE)
    loss, wall = unknowns.loss_factor, burn.column.wall
    wall.face_area = wall.face_area * np.tile(np.repeat(loss, plan.rings), plan.levels + 1)
    burn.mouth, burn.cover = burn.mouth * loss, burn.cover * loss
    burn.stoker = replace(
        burn.stoker,
        times=stoking[0],
        rates=stoking[1],
        heat_up_time=0.0,
        excess_air=unknowns.excess_air,
        quality=unknowns.fuel_quality,
        ample=True,
    )
    return burn


def told_by_place(burn: Burn, places) -> dict[str, np.ndarray]:
    """Return what thermometers would have read in each place, K, shape (moments, members)."""
    gas = burn.moments.gas_temperature
    levels = gas.shape[1] - 1
    found = {"hearth": gas[:, 0], "flue": burn.moments.flue_temperature}
    for place, height in HEIGHTS.items():
        at = np.clip(height * levels + 0.5, 1.0, levels)
        below = min(int(at), levels - 1) if levels > 1 else 1
        share = at - below
        found[place] = gas[:, below] * (1.0 - share) + (gas[:, min(below + 1, levels)] * share if share else 0.0)
    return {place: found[place] for place in places}


def _at(times, clock: np.ndarray, told: np.ndarray) -> np.ndarray:
    """Return what was told at some times, each member by straight lines between moments."""
    return np.array([np.interp(times, clock, column) for column in told.T]).T


def _reading_logs(read: np.ndarray, told: np.ndarray, spread: float, times: np.ndarray) -> tuple[np.ndarray, float]:
    """Return the log-likelihood of a thermometer's readings for each member, and that of one telling nothing.

    The first is a t law's of ν = `HEAVY` degrees of freedom, −(ν + 1)/2 Σ ln(1 + r²/ν), r being each
    reading's miss over its error; as readings share their error, both count for less than their number.
    """
    seen = np.isfinite(read)
    if not seen.any():
        return np.zeros(told.shape[1]), 0.0
    apart = (read[seen, None] - told[seen]) / spread
    alike = min(1.0, (1.0 + (times[seen][-1] - times[seen][0]) / fact("replay_error_lasts")) / seen.sum())
    good = -0.5 * (HEAVY + 1.0) * np.log1p(apart**2 / HEAVY).sum(axis=0)
    narrow = spread / fact("thermometer_astray")
    wide = np.sum(np.log(narrow) - 0.5 * np.min(apart**2, axis=1) * narrow**2)
    return alike * good, alike * float(wide)


@dataclass(frozen=True, eq=False)
class Weighed:
    """Members with the likelihood of the log under each.

    Parameters
    ----------
    logs : ndarray, shape (members,)
        Log-likelihood of all that was noted.
    lying : dict of str to ndarray
        By place, the chance for each member that its thermometer tells nothing.
    """

    logs: np.ndarray
    lying: dict[str, np.ndarray]


def weigh(burn: Burn, log: BurnLog, plan: FiringPlan) -> Weighed:
    """Weigh members by a log up to its last line.

    One thermometer at most is taken to lie, and none of fewer readings than it takes to blame one. What was
    read as the fire was lit tells of a cold kiln, and the model begins with a fire: it does not count.
    """
    clock = burn.moments.time
    times = np.clip(log.times, clock[0], None)
    told = told_by_place(burn, log.temperatures)
    spread = float(np.hypot(fact("thermometer_error") / NINETY, fact("replay_error") / NINETY))
    good, lost, readings = {}, {}, {}
    for place, read in log.temperatures.items():
        read = np.where(log.times > 0.0, read, np.nan)
        good[place], lost[place] = _reading_logs(read, _at(times, clock, told[place]), spread, log.times)
        readings[place] = np.isfinite(read).sum()
    wrong = fact("thermometer_wrong") / max(len(good), 1)
    together = sum(good.values()) + np.zeros(burn.column.charge.members)
    options = {"": together + np.log1p(-fact("thermometer_wrong"))}
    judged = good if len(good) > 1 else ()
    for place in judged:
        if readings[place] >= LEAST_READINGS:
            options[place] = together - good[place] + lost[place] + np.log(wrong)
    stacked = np.array(list(options.values()))
    top = stacked.max(axis=0)
    logs = top + np.log(np.exp(stacked - top).sum(axis=0))
    lying = {place: np.exp(options.get(place, -np.inf) - logs) for place in judged}
    return Weighed(logs + _glow_logs(burn, log, times, clock) + _sign_logs(burn, log, plan), lying)


def _glow_logs(burn: Burn, log: BurnLog, times: np.ndarray, clock: np.ndarray) -> np.ndarray:
    """Return the log-likelihood of the colours seen on the lowest stones: one eye, so they count once together."""
    noted = [number for number, colour in enumerate(log.glow) if colour]
    if not noted:
        return np.zeros(burn.column.charge.members)
    lowest = burn.moments.stone_temperature[:, 0].max(axis=1)
    told = _at(times[noted], clock, lowest)
    middle, spread = np.array([glow_spread(log.glow[number]) for number in noted]).T[..., None]
    return np.mean(-0.5 * (HEAVY + 1.0) * np.log1p(((told - middle) / spread) ** 2 / HEAVY), axis=0)


def _sign_logs(burn: Burn, log: BurnLog, plan: FiringPlan) -> np.ndarray:
    """Return the log-likelihood of how far the charge has sunk and how the last drawn piece slaked."""
    logs = np.zeros(burn.column.charge.members)
    sunk = log.last("sinking")
    if sunk is not None:
        seen = sunk / (fact("charge_sinking") * plan.kiln.kiln_height)
        apart = (burn.burnt - np.minimum(seen, 1.0)) / fact("sinking_blur")
        logs -= 0.5 * (HEAVY + 1.0) * np.log1p(apart**2 / HEAVY)
    word = log.last("test_piece")
    if word:
        top = np.average(burn.moments.conversion[-1, -1], axis=0, weights=burn.column.charge.mass[-1])
        blur, misread = fact("slaking_blur"), fact("misreading_share")
        whole, some = (ndtr((top - fact(edge)) / blur) for edge in ("slakes_through_from", "slakes_partly_from"))
        chance = {"through": whole, "partly": some - whole, "not": 1.0 - some}[word]
        logs += np.log((1.0 - misread) * chance + misread / 3.0)
    return logs


@dataclass(frozen=True, eq=False)
class Refit:
    """Kilns that may be, at the log's last line.

    Parameters
    ----------
    burn : Burn
        Its fire is fed on as foreseen, should it be run further.
    unknowns : Unknowns
    weights : ndarray, shape (members,)
        Summing to 1.
    lying : dict of str to float
        By place, the chance that its thermometer tells nothing.
    """

    burn: Burn
    unknowns: Unknowns
    weights: np.ndarray
    lying: dict[str, float]


def refit(plan: FiringPlan, log: BurnLog, ahead=((), ())) -> Refit:
    """Refit what a plan left open to a log.

    Parameters
    ----------
    plan : FiringPlan
    log : BurnLog
        Of two lines or more.
    ahead : pair of sequences
        Fuel foreseen after the log's last line: times (s since lighting) and rates from each on (kg/s).
    """
    plan = replace(plan, levels=min(plan.levels, LEVELS))
    stoking = tuple((*past, *coming) for past, coming in zip(log.stoking(), ahead, strict=True))
    even = spread_evenly(MEMBERS)
    middle, width = np.zeros(len(UNKNOWNS)), np.eye(len(UNKNOWNS))
    for _ in range(ROUNDS):
        deviates = np.clip(middle + even @ width.T, -FARTHEST, FARTHEST)
        unknowns = Unknowns.at(deviates, plan)
        burn = light_members(plan, unknowns, stoking)
        burn.run(float(log.times[-1]))
        weighed = weigh(burn, log, plan)
        prior = -0.5 * (deviates**2).sum(axis=1)
        drawn = -0.5 * (np.linalg.solve(width, (deviates - middle).T) ** 2).sum(axis=0)
        weights = _weights(weighed.logs, prior - drawn)
        middle = weights @ deviates
        spread = (deviates - middle).T * weights @ (deviates - middle)
        width = WIDER * np.linalg.cholesky(spread + LEAST_SPREAD * np.eye(len(UNKNOWNS)))
    lying = {place: float(weights @ chance) for place, chance in weighed.lying.items()}
    return Refit(burn, unknowns, weights, lying)


def _weights(logs: np.ndarray, correction: np.ndarray) -> np.ndarray:
    """Return weights that sum to 1; readings are trusted only so far as enough members still count."""
    trusted = 1.0
    while True:
        found = trusted * logs + correction
        weights = np.exp(found - found.max())
        weights /= weights.sum()
        if 1.0 / np.sum(weights**2) >= ENOUGH * len(weights) or trusted < LEAST_TRUST:
            return weights
        trusted *= LESS_TRUST
