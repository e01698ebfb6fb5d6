"""Kilns that follow a log: fired side by side from lighting on with the fuel that was logged, from line to line.

What a plan leaves open is the air, the losses, the fuel's quality and how willingly the stone burns. Each is told
by a deviate of a normal law, 0 for the plan's own figure. Forty-eight kilns are spread evenly over the law, the
same every time. They stay what they are, so that a new line of the log moves them on from where they stand. Of any
other kiln they tell by where it lies among them: each of them counts so much as makes a smooth surface through all.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace

import numpy as np
from scipy.interpolate import RBFInterpolator
from scipy.special import ndtri

from limekit.facts import fact
from limekit.kiln.column.burn import Burn
from limekit.kiln.lighting import FiringPlan
from limekit.kiln.logged import HEIGHTS, BurnLog
from limekit.stone.posterior import lognormal

UNKNOWNS = ("excess_air", "loss_factor", "fuel_quality", "willingness")
MEMBERS, LEVELS, PACE = 48, 12, 8.0  # pace: steps longer than a firing's own
BASES = (2, 3, 5, 7, 11)
SURFACE = {"kernel": "cubic", "degree": 1}  # of radial basis functions, over a plane


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
    """What kilns hold for true, each of shape (kilns,): share, factors, m/s and W/mK."""

    excess_air: np.ndarray
    loss_factor: np.ndarray
    fuel_quality: np.ndarray
    reaction_coefficient: np.ndarray
    lime_conductivity: np.ndarray

    @classmethod
    def at(cls, deviates: np.ndarray, plan: FiringPlan | None = None) -> Unknowns:
        """Return what deviates of shape (kilns, 4) stand for: about a plan's air, where it has one, and its stone."""

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


def light_members(plan: FiringPlan, unknowns: Unknowns, stoking, pace: float = PACE) -> Burn:
    """Return kilns as `unknowns` have them, lit, with fuel fed at times (s) and rates (kg/s)."""
    found = {name: getattr(unknowns, name) for name in ("reaction_coefficient", "lime_conductivity")}
    stone = plan.stone.but(**found)
    burn = plan.light(stone, pace=pace)
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
    moments = burn.moments
    gas = moments.gas_temperature
    levels = gas.shape[1] - 1
    found = {"hearth": gas[:, 0], "flue": moments.flue_temperature}
    for place, height in HEIGHTS.items():
        at = np.clip(height * levels + 0.5, 1.0, levels)
        below = min(int(at), levels - 1) if levels > 1 else 1
        share = at - below
        found[place] = gas[:, below] * (1.0 - share) + (gas[:, min(below + 1, levels)] * share if share else 0.0)
    return {place: found[place] for place in places}


@dataclass(frozen=True, eq=False)
class Told:
    """What kilns would have let one note, up to a log's last line.

    `gas` by place and the hottest of the `lowest` stones, K, are of shape (lines, kilns); the share burnt at the last
    line, of the whole charge and of its `top`, of shape (kilns,).
    """

    gas: dict[str, np.ndarray]
    lowest: np.ndarray
    burnt: np.ndarray
    top: np.ndarray

    def by(self, mix: np.ndarray) -> Told:
        """Return the same of other kilns, by how much each of these counts in them, shape (others, kilns)."""
        return Told(
            {place: read @ mix.T for place, read in self.gas.items()},
            self.lowest @ mix.T,
            *(np.clip(mix @ share, 0.0, 1.0) for share in (self.burnt, self.top)),
        )


class Followers:
    """Forty-eight kilns that follow a log, each with its own answer to what a plan leaves open.

    `burn` has them as they stand at the last line followed.
    """

    def __init__(self, plan: FiringPlan) -> None:
        self.deviates = spread_evenly(MEMBERS)
        plan = replace(plan, levels=min(plan.levels, LEVELS))
        self.burn = light_members(plan, Unknowns.at(self.deviates, plan), ((), ()))
        self._surface = RBFInterpolator(self.deviates, np.eye(MEMBERS), **SURFACE)
        self._fed: tuple = ()

    def may_follow(self, log: BurnLog) -> bool:
        """Whether a log goes on from the lines that were followed so far."""
        return _fed(log)[: len(self._fed)] == self._fed

    def follow(self, log: BurnLog) -> None:
        """Go on to a log's last line with the fuel that it says was fed."""
        self._fed, (times, rates) = _fed(log), log.stoking()
        self.burn.stoker = replace(self.burn.stoker, times=times, rates=rates)
        self.burn.run(float(log.times[-1]))

    def ahead(self, times, rates) -> Burn:
        """Return the kilns as they stand, to be run on by themselves with fuel from times (s) on (kg/s)."""
        burn = self.burn.branch()
        burn.stoker = replace(burn.stoker, times=times, rates=rates)
        return burn

    def mix(self, deviates: np.ndarray) -> np.ndarray:
        """Return how much each follower counts in kilns of deviates (kilns, 4); shape (kilns, members)."""
        return self._surface(deviates)

    def told(self, log: BurnLog) -> Told:
        """Return what the followers would have let one note on a log's lines."""
        moments, charge = self.burn.moments, self.burn.column.charge
        at = functools.partial(_at, log.times, moments.time)
        return Told(
            gas={place: at(read) for place, read in told_by_place(self.burn, log.temperatures).items()},
            lowest=at(moments.stone_temperature[:, 0].max(axis=1)),
            burnt=self.burn.burnt,
            top=np.average(moments.conversion[-1, -1], axis=0, weights=charge.mass[-1]),
        )


def _fed(log: BurnLog) -> tuple:
    """Return a log's stoking line by line."""
    return tuple(zip(*log.stoking(), log.times[1:].tolist(), strict=True))


def _at(times: np.ndarray, clock: np.ndarray, told: np.ndarray) -> np.ndarray:
    """Return what was told at some times, each kiln's by straight lines between moments."""
    times = np.clip(times, clock[0], None)
    return np.array([np.interp(times, clock, column) for column in told.T]).T
