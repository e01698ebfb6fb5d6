"""A firing with a trial's doubt carried through: the stones that may be, fired side by side."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from queue import SimpleQueue
from typing import Annotated

import numpy as np

from limekit.balance import mass_balance
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.estimate import Estimate, weighted
from limekit.kiln.column.burn import Burn
from limekit.kiln.column.charge import Lays
from limekit.kiln.firing import Firing, finish_times, keep_up
from limekit.limestone import Stone
from limekit.stone.assessment import Assessment
from limekit.stone.posterior import Posterior
from limekit.units import HOUR, Second, Share, Unit

LAY_NODES, LAY_SHARES = 3**0.5 * np.array([-1.0, 0.0, 1.0]), np.array([1.0, 4.0, 1.0]) / 6.0  # of a normal law
LEAST_MEMBERS, USUAL_MEMBERS, MOST_MEMBERS = 5, 30, 200
ALIKE = (
    8  # stones fired side by side: as they take the same steps, and wait for the slowest, they do best among their like
)
PACE = 2.0  # of their steps: it moves hours and fuel by a part in a thousand
KNOWN = 0.95  # share of the chance that must be done for the range of hours to be told


@dataclass(frozen=True, eq=False)
class FiringRange:
    """What a firing may come to, given what a trial leaves open about the stone.

    `finish` and `fuel_used` are to the conversion wanted, None where more than one chance in twenty
    is never done. `conversion` and `quicklime` are what it has come to after `firing_time`.
    `finishes` (s, infinite where never) and `weights` tell the members one by one.
    """

    finish: Annotated[Estimate | None, Unit("s")]
    fuel_used: Annotated[Estimate | None, Unit("kg")]
    firing_time: Second
    conversion: Annotated[Estimate, Unit("")]
    quicklime: Annotated[Estimate, Unit("kg")]
    done_share: Share
    verdict: str
    finishes: np.ndarray = field(repr=False)
    weights: np.ndarray = field(repr=False)
    basis: tuple[Ground, ...] = ()

    def finish_by(self, chance: float) -> float:
        """Return the time (s) by which it is done with a chance, a share up to 1; infinite where it never is."""
        order = np.argsort(self.finishes)
        reached = np.cumsum(self.weights[order]) >= chance - 1e-9
        return float(self.finishes[order][np.argmax(reached)])


def pick_members(posterior: Posterior, members: int) -> tuple[np.ndarray, np.ndarray, Lays, np.ndarray]:
    """Return stones that stand for a posterior, the same every time: their paces, conductivities, lays and weights.

    They are drawn at even steps of chance, from the slowest to the quickest; one drawn more than once counts so much
    more. Reaction coefficients (m/s), conductivities of the lime (W/mK) and weights, all together 1, are of shape
    (members,). How pieces of each stone lie is a normal law of the log, told by three nodes.
    """
    paces, conductivities, together = posterior.of_stone()
    chances = together.sum(axis=1)
    order = np.argsort(paces * conductivities, kind="stable")
    steps = (np.arange(members) + 0.5) / members
    drawn = order[np.searchsorted(np.cumsum(chances[order]) / chances.sum(), steps)]
    stones, counts = np.unique(drawn, return_counts=True)
    spreads = together[stones] @ posterior.spreads / chances[stones]
    lays = Lays(np.exp(np.multiply.outer(LAY_NODES, spreads)), LAY_SHARES)
    return paces[stones], conductivities[stones], lays, counts / members


def _fuel_by(burn: Burn, times: np.ndarray) -> np.ndarray:
    """Return the fuel each member has burnt by a time of its own, kg."""
    clock = np.append(0.0, burn.moments.time)
    fed = np.diff(clock)[:, None] * burn.moments.fed
    so_far = np.vstack([np.zeros(len(times)), np.cumsum(fed, axis=0)])
    return np.array([np.interp(time, clock, column) for time, column in zip(times, so_far.T, strict=True)])


def _verdict(finish: Estimate | None, done: float, wanted: float) -> str:
    if finish is None:
        return (
            f"{100 * (1.0 - done):z.0f} % of the stones that the trial leaves open are never burnt to "
            f"{100 * wanted:.0f} % in this kiln: see the firing's limits, or burn another trial."
        )
    low, middle, high = (f"{time / HOUR:.3g}" for time in (finish.low, finish.median, finish.high))
    return f"Done after {middle} h, nine times in ten between {low} and {high} h: have fuel and hands for {high} h."


def _fire(firing: Firing, stone: Stone, lays: Lays, tell: Callable[[float], None]) -> Burn:
    """Fire stones that are alike until all are done, telling what share of the time is behind."""
    plan = firing.plan
    burn = plan.light(stone, lays, PACE)

    def after() -> None:
        tell(min(burn.clock / firing.firing_time, 1.0))

    keep_up(burn, None, plan.fire.conversion, after)
    burn.run(min(firing.firing_time, burn.stoker.last_fed), after=after)
    return burn


def _side_by_side(fire: Callable, parts: list, progress: Callable[[float], None] | None) -> list[Burn]:
    """Fire each part in a thread of its own, as many at once as there are processors: loops let one another go on."""
    told, shares = SimpleQueue(), np.zeros(len(parts))

    def one(number: int) -> Burn:
        try:
            return fire(parts[number], lambda share: told.put((number, share)))
        finally:
            told.put((number, 1.0))

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        burns = [pool.submit(one, number) for number in range(len(parts))]
        while shares.min() < 1.0:
            number, shares[number] = told.get()
            if progress:
                progress(float(shares.mean()))
    return [burn.result() for burn in burns]


@edge
def fire_range(
    firing: Firing,
    assessment: Assessment,
    members: int = USUAL_MEMBERS,
    progress: Callable[[float], None] | None = None,
) -> FiringRange:
    """Fire a kiln again with every stone that a trial burn leaves possible, and return the ranges.

    Parameters
    ----------
    firing : Firing
        From `limekit.fire_kiln`: the same kiln, fire and charge, whatever its own stone was.
    assessment : Assessment
        From `limekit.assess_trial`.
    members : int
        Stones drawn, 5 to 200.
    progress : callable, optional
        Told, step by step, about what share of the work is done.

    Returns
    -------
    FiringRange
        Of the stone alone: gaps in the charge, wood and weather vary too.

    Raises
    ------
    InputError
        If there are too few or too many members.

    Notes
    -----
    P(done by t) = Σ w, over the members whose finish is t or earlier. Each has a reaction coefficient, a
    conductivity of the lime and a spread of how its pieces lie, drawn together from the posterior.
    """
    if not LEAST_MEMBERS <= members <= MOST_MEMBERS:
        raise InputError("members", f"{members}", f"{LEAST_MEMBERS} to {MOST_MEMBERS}", "members=30")
    plan = firing.plan
    paces, conductivities, lays, weights = pick_members(assessment.posterior, members)
    parts = np.array_split(np.arange(len(paces)), -(-len(paces) // ALIKE))

    def fire(part: np.ndarray, tell: Callable[[float], None]) -> Burn:
        stone = plan.stone.but(reaction_coefficient=paces[part], lime_conductivity=conductivities[part])
        return _fire(firing, stone, Lays(lays.factors[:, part], lays.shares), tell)

    finishes, fuels, reached = [], [], []
    for burn in _side_by_side(fire, parts, progress):
        finishes.append(finish_times(burn, plan.fire.conversion))
        fuels.append(_fuel_by(burn, finishes[-1]))
        reached += [np.interp(firing.firing_time, burn.moments.time, one) for one in burn.moments.burnt.T]
    finishes, fuels = np.concatenate(finishes), np.concatenate(fuels)
    done = np.isfinite(finishes)
    done_share = float(weights[done].sum())
    finish = fuel_used = None
    if done_share >= KNOWN:
        finish = weighted(finishes[done], weights[done])
        fuel_used = weighted(fuels[done], weights[done])
    all_burnt = mass_balance.plain(plan.kiln.stone, conversion=1.0, **plan.stone.made_of).quicklime
    return FiringRange(
        finish=finish,
        fuel_used=fuel_used,
        firing_time=firing.firing_time,
        conversion=weighted(np.array(reached), weights),
        quicklime=weighted(all_burnt * np.array(reached), weights),
        done_share=done_share,
        verdict=_verdict(finish, done_share, plan.fire.conversion),
        finishes=finishes,
        weights=weights,
    )
