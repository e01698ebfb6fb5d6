"""What a plan left open, refitted from a log: kilns that may be, weighed by how well they fit.

A thousand kilns are spread evenly over the law of what is not known, the same every time. What each would have
had written in the log is told by those that were fired with the logged fuel (`limekit.kiln.followers`). They are
weighed by the readings; then as many new ones are drawn about those that this left likely, and once more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial.distance import cdist
from scipy.special import logsumexp, ndtr

from limekit.facts import fact
from limekit.kiln.followers import UNKNOWNS, Followers, Told, Unknowns, spread_evenly
from limekit.kiln.lighting import FiringPlan
from limekit.kiln.logged import BurnLog
from limekit.stone.glow import glow_spread
from limekit.stone.posterior import NINETY

KILNS, ROUNDS = 1024, 3
FARTHEST = 2.5  # deviations from the plan that are looked at
ENOUGH, LEAST_TRUST = 0.1, 1e-3  # share of the kilns that must still count; of the readings' weight, at least
LESS_TRUST = 0.8  # of what the readings weighed in the turn before
NARROWER, LEAST_SPREAD = 0.5, 0.02  # a heap of the next round beside what one left likely, and never nothing
LEAST_READINGS = 4  # of a thermometer, below which it is not blamed
HEAVY = 10.0  # degrees of freedom of the readings' law: single slips weigh less


def _reading_logs(
    read: np.ndarray, told: np.ndarray, spread: float, times: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Return the log-likelihood of a thermometer's readings for each kiln, and that of one that tells nothing any more.

    The first is a t law's of ν = `HEAVY` degrees of freedom, −(ν + 1)/2 Σ ln(1 + r²/ν), r being each reading's
    miss over its error; as readings share their error, both count for less than their number. The second
    is the mean over the readings from which on it may have told nothing, the last few left out.
    """
    seen = np.isfinite(read)
    if not seen.any():
        return np.zeros(told.shape[1]), np.full(told.shape[1], -np.inf)
    apart = (read[seen, None] - told[seen]) / spread
    alike = min(1.0, (1.0 + (times[seen][-1] - times[seen][0]) / fact("replay_error_lasts")) / seen.sum())
    good = -0.5 * (HEAVY + 1.0) * np.log1p(apart**2 / HEAVY)
    narrow = spread / fact("thermometer_astray")
    wide = np.log(narrow) - 0.5 * np.min(apart**2, axis=1) * narrow**2
    before = np.cumsum(good, axis=0) - good
    after = np.cumsum(wide[::-1])[::-1]
    from_each = alike * (before + after[:, None])[: 1 - LEAST_READINGS]
    lost = logsumexp(from_each, axis=0) - np.log(len(from_each)) if len(from_each) else np.full(len(good[0]), -np.inf)
    return alike * good.sum(axis=0), lost


@dataclass(frozen=True, eq=False)
class Weighed:
    """Kilns with the log-likelihood of all that was noted under each, shape (kilns,).

    `lying` is, by place, the chance for each kiln that its thermometer tells nothing.
    """

    logs: np.ndarray
    lying: dict[str, np.ndarray]


def weigh(told: Told, log: BurnLog, plan: FiringPlan) -> Weighed:
    """Weigh kilns by a log up to its last line.

    One thermometer at most is taken to lie, and none of fewer readings than it takes to blame one. What was
    read as the fire was lit tells of a cold kiln, and the model begins with a fire: it does not count.
    """
    spread = float(np.hypot(fact("thermometer_error") / NINETY, fact("replay_error") / NINETY))
    good, lost = {}, {}
    for place, read in log.temperatures.items():
        read = np.where(log.times > 0.0, read, np.nan)
        good[place], lost[place] = _reading_logs(read, told.gas[place], spread, log.times)
    wrong = fact("thermometer_wrong") / max(len(good), 1)
    together = sum(good.values()) + np.zeros(len(told.burnt))
    options = {"": together + np.log1p(-fact("thermometer_wrong"))}
    judged = good if len(good) > 1 else ()
    options |= {place: together - good[place] + lost[place] + np.log(wrong) for place in judged}
    stacked = np.array(list(options.values()))
    logs = logsumexp(stacked, axis=0)
    lying = {place: np.exp(options[place] - logs) for place in judged}
    return Weighed(logs + _glow_logs(told, log) + _sign_logs(told, log, plan), lying)


def _glow_logs(told: Told, log: BurnLog) -> np.ndarray:
    """Return the log-likelihood of the colours seen on the lowest stones: one eye, so they count once together."""
    noted = [number for number, colour in enumerate(log.glow) if colour]
    if not noted:
        return np.zeros(len(told.burnt))
    middle, spread = np.array([glow_spread(log.glow[number]) for number in noted]).T[..., None]
    return np.mean(-0.5 * (HEAVY + 1.0) * np.log1p(((told.lowest[noted] - middle) / spread) ** 2 / HEAVY), axis=0)


def _sign_logs(told: Told, log: BurnLog, plan: FiringPlan) -> np.ndarray:
    """Return the log-likelihood of how far the charge has sunk and how the last drawn piece slaked."""
    logs = np.zeros(len(told.burnt))
    sunk = log.last("sinking")
    if sunk is not None:
        seen = sunk / (fact("charge_sinking") * plan.kiln.kiln_height)
        apart = (told.burnt - np.minimum(seen, 1.0)) / fact("sinking_blur")
        logs -= 0.5 * (HEAVY + 1.0) * np.log1p(apart**2 / HEAVY)
    word = log.last("test_piece")
    if word:
        blur, misread = fact("slaking_blur"), fact("misreading_share")
        whole, some = (ndtr((told.top - fact(edge)) / blur) for edge in ("slakes_through_from", "slakes_partly_from"))
        chance = {"through": whole, "partly": some - whole, "not": 1.0 - some}[word]
        logs += np.log((1.0 - misread) * chance + misread / 3.0)
    return logs


@dataclass(frozen=True, eq=False)
class Refit:
    """Kilns that may be, at a log's last line.

    Parameters
    ----------
    mix : ndarray, shape (kilns, members)
        How much each of the kilns that followed the log counts in them.
    unknowns : Unknowns
    burnt : ndarray, shape (kilns,)
        Share of the charge at the last line.
    weights : ndarray, shape (kilns,)
        Summing to 1.
    lying : dict of str to float
        By place, the chance that its thermometer tells nothing.
    """

    mix: np.ndarray
    unknowns: Unknowns
    burnt: np.ndarray
    weights: np.ndarray
    lying: dict[str, float]


def refit(plan: FiringPlan, log: BurnLog, followers: Followers) -> Refit:
    """Refit what a plan left open to a log of two lines or more, which the followers have followed."""
    told, even = followers.told(log), spread_evenly(KILNS)
    deviates, weights = np.clip(even, -FARTHEST, FARTHEST), np.ones(KILNS)
    drawn = -0.5 * (even**2).sum(axis=1)
    for turn in range(ROUNDS):
        if turn:
            deviates, drawn = _drawn_about(deviates, weights, even)
        mix = followers.mix(deviates)
        of_each = told.by(mix)
        weighed = weigh(of_each, log, plan)
        weights = _weights(weighed.logs, -0.5 * (deviates**2).sum(axis=1) - drawn)
    lying = {place: float(weights @ chance) for place, chance in weighed.lying.items()}
    return Refit(mix, Unknowns.at(deviates, plan), of_each.burnt, weights, lying)


def _drawn_about(deviates: np.ndarray, weights: np.ndarray, even: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Draw kilns about those that are likely, as often as they are, and return the log of the law they are drawn by.

    The law is one of heaps, one about each kiln, so that two answers far apart both stay.
    """
    centres = deviates[np.searchsorted(np.cumsum(weights), (np.arange(len(even)) + 0.5) / len(even) * (1.0 - 1e-9))]
    apart = deviates - weights @ deviates
    width = NARROWER * np.linalg.cholesky(apart.T * weights @ apart + LEAST_SPREAD * np.eye(len(UNKNOWNS)))
    drawn = np.clip(centres + even @ width.T, -FARTHEST, FARTHEST)
    unit = np.linalg.inv(width).T
    far = cdist(drawn @ unit, deviates @ unit, "sqeuclidean")
    return drawn, np.log(np.exp(-0.5 * far) @ weights + 1e-300)


def _weights(logs: np.ndarray, correction: np.ndarray) -> np.ndarray:
    """Return weights that sum to 1; readings are trusted only so far as enough kilns still count."""
    trusted = 1.0
    while True:
        found = trusted * logs + correction
        weights = np.exp(found - found.max())
        weights /= weights.sum()
        if 1.0 / np.sum(weights**2) >= ENOUGH * len(weights) or trusted < LEAST_TRUST:
            return weights
        trusted *= LESS_TRUST
