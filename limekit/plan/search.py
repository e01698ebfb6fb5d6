"""The plan that a person's limits allow: kilns looked over and fired, the best of them, and what each limit costs."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from limekit.edge import edge
from limekit.errors import InputError
from limekit.estimate import shown
from limekit.facts import fact
from limekit.fire.fuel import FuelKind
from limekit.pictures.progress import progress
from limekit.plan.figures import figures
from limekit.plan.parts import people_for
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.things import Thing
from limekit.units import DAY, HOUR, MM, TONNE, Count, CubicMetre, Kilogram, Metre, Money, Second

SIZES, CHIMNEYS = (0.6, 0.8, 1.0), (0.0, 0.5, 1.0)  # of the largest stone, and of the highest chimney, that are allowed
AIRS = (0.6, 0.9, 1.2)  # of spare air: from as little as a minded fire holds to that of a cool one
LAYS = ("by hand", "with flues")
ROUNDS, RIVALS = 3, 3
SMALLER = (0.75, 0.5, 0.35, 0.25, 0.15)  # of the burn that was wanted
EASED = {"chimney_height": (1.0, 2.0, 4.0), "largest_stone": (0.02, 0.04)}  # m, by which a lever's end is moved
MORE = {
    "chimney_height": lambda step: f"{step:.0f} m more of chimney",
    "largest_stone": lambda step: f"stone {MM * step:.0f} mm larger",
}
NEVER = 1e9  # by which a charge that is never done passes its limits


@dataclass(frozen=True)
class Limit:
    """What there is of a thing: how much, what a plan wants of it, a step, and so much more of it in words."""

    name: str
    most: float
    wants: Callable[[Worked], float]
    step: float
    more: Callable[[float], str]

    def over(self, plan: Worked) -> float:
        """Return by what share a plan wants more than there is; nought where it does not."""
        wanted = self.wants(plan)
        return max(wanted - self.most, 0.0) / max(self.most, self.step)

    @property
    def eased(self) -> Limit:
        """The same with a step more of it."""
        return replace(self, most=self.most + self.step)


@dataclass(frozen=True)
class Cost:
    """What a limit costs: how it is eased by a step, and what becomes of hours and fuel then."""

    limit: str
    eased: str
    words: str

    def __str__(self) -> str:
        return f"{self.eased}: {self.words}"


@dataclass(frozen=True)
class Found:
    """What a search found.

    `plan` is the best that keeps to every limit, None where none does, and `rivals` are the nearest to it; `limits`
    tell what each costs. Where there is no plan, `change` is the smallest that would make one possible, and `smaller`
    the largest burn of those tried that the limits allow.
    """

    plan: Plan | None
    rivals: tuple[Plan, ...]
    limits: tuple[Cost, ...]
    verdict: str
    change: str = ""
    smaller: Plan | None = None

    def __str__(self) -> str:
        return "\n".join(filter(None, [self.verdict, self.change, *map(str, self.limits)]))


@dataclass
class Search:
    """Plans round a first one, each fired once, held against limits."""

    start: Worked
    limits: tuple[Limit, ...]
    levers: dict[str, tuple]
    tell: Callable[[float], None]
    tried: dict[tuple, Worked] = field(default_factory=dict)

    def fire(self, **changed) -> Worked:
        """Return one plan, fired; once fired it is not fired again."""
        key = tuple(sorted(changed.items()))
        if key not in self.tried:
            self.tried[key] = self.start.but(**changed)
            most = 1 + 2 * sum(len(values) - 1 for values in self.levers.values())
            self.tell(min(len(self.tried) / most, 1.0))
        return self.tried[key]

    def rank(self, plan: Worked, limits: tuple[Limit, ...] | None = None) -> tuple[float, float]:
        """Return how good a plan is, the less the better: what it passes its limits by, then its fuel."""
        try:
            firing = plan.firing
        except InputError:
            return math.inf, math.inf
        over = NEVER if firing.finish is None else sum(limit.over(plan) for limit in limits or self.limits)
        return over, plan.fuel_fed

    def best(self) -> dict[str, object]:
        """Return where the levers stand at the best: each moved in turn, from its middle, until none betters it."""
        at = {name: values[len(values) // 2] for name, values in self.levers.items()}
        for _ in range(ROUNDS):
            before = dict(at)
            for name, values in self.levers.items():
                at[name] = min(values, key=lambda value: self.rank(self.fire(**at | {name: value})))
            if at == before:
                break
        return at

    def costs(self, at: dict[str, object]) -> tuple[Cost, ...]:
        """Return what each limit, and each lever's end, costs the best plan."""
        plan, found = self.fire(**at), []
        for limit in self.limits[1:]:
            others = tuple(one.eased if one is limit else one for one in self.limits)
            better = min(self.tried.values(), key=lambda one: self.rank(one, others))
            found.append(Cost(limit.name, limit.more(limit.step), _became(plan, better)))
        for name, (step, *_) in EASED.items():
            eased = self.fire(**at | {name: self.levers[name][-1] + step})
            words = _became(plan, eased) if self.rank(eased) < self.rank(plan) else "nothing gained"
            found.append(Cost(name, MORE[name](step), words))
        return tuple(found)

    def change(self, at: dict[str, object]) -> str:
        """Say the smallest change of one thing that makes a plan possible, or that none of them does."""
        ways = []
        for limit in self.limits[1:]:
            others = tuple(one for one in self.limits if one is not limit)
            if fits := [plan for plan in self.tried.values() if self.rank(plan, others)[0] == 0.0]:
                least = min(fits, key=limit.over)
                ways.append((limit.over(least), limit.more(limit.wants(least) - limit.most)))
        for name, steps in EASED.items():
            for step in steps:
                if self.rank(self.fire(**at | {name: self.levers[name][-1] + step}))[0] == 0.0:
                    ways.append((step / self.levers[name][-1], MORE[name](step)))
                    break
        none = "No more of any one thing would do: not with this stone, at this size."
        return f"It would do with {min(ways)[1]}." if ways else none


def _became(before: Worked, after: Worked) -> str:
    hours, fuel = (after.firing_time - before.firing_time) / HOUR, after.fuel_fed - before.fuel_fed
    if round(hours) == 0 and abs(fuel) < 1.0:
        return "nothing gained"
    longer = f"{abs(hours):.0f} h {'shorter' if hours < 0 else 'longer'}"
    return f"{longer}, {abs(fuel):.0f} kg of fuel {'less' if fuel < 0 else 'more'}"


@dataclass(frozen=True, repr=False)
class Means(Thing):
    """What a person has to do it with.

    Parameters
    ----------
    helpers : Count, optional
        Who keep the fire with you, two at a time, so that everybody sleeps. Without it, the record's.
    longest_watch : Second, optional
        That the same people stay on.
    highest_chimney, largest_stone : Metre, optional
        That can be put up, and that will be burnt unbroken. Without them, the record's.
    wood : Kilogram, optional
        At hand.
    time_at_hand : Second, optional
        From lighting until the lime is drawn.
    money, fuel_price : Money, optional
        For fuel, and the price of a tonne of it, in one currency; both or neither.
    """

    helpers: Count | None = None
    longest_watch: Second | None = None
    highest_chimney: Metre | None = None
    largest_stone: Metre | None = None
    wood: Kilogram | None = None
    time_at_hand: Second | None = None
    money: Money | None = None
    fuel_price: Money | None = None


def limits_on(means: Means) -> tuple[Limit, ...]:
    """Return what a plan is held against: its lime, its people, and what else a person named."""
    if (means.money is None) is not (means.fuel_price is None):
        got = "one without the other"
        raise InputError("money, fuel_price", got, "both, in one currency", "money=150, fuel_price=110")
    dead, price, helpers = fact("dead_share_allowed"), (means.fuel_price or 0.0) / TONNE, means.helpers
    known = (
        Limit("wood", means.wood, lambda plan: plan.fuel_fed, 50.0, lambda by: f"{by:.0f} kg more of fuel"),
        Limit(
            "time_at_hand",
            means.time_at_hand,
            lambda plan: plan.firing_time + (plan.cooling.cooling_time or math.inf),
            DAY,
            lambda by: f"{shown(by / DAY, 2)} days more",
        ),
        Limit(
            "money",
            means.money,
            lambda plan: price * plan.fuel_fed,
            50.0 * price,
            lambda by: f"{shown(by, 2)} more of money",
        ),
    )
    return (
        Limit(
            "dead",
            float(dead),
            lambda plan: plan.firing.overburnt_share,
            0.01,
            lambda by: f"{100 * by:.0f} % more dead",
        ),
        Limit(
            "helpers",
            helpers,
            lambda plan: people_for(plan.firing_time, round(helpers), means.longest_watch).needed - 1.0,
            1.0,
            lambda by: f"{by:.0f} more helper{'s' if by > 1.0 else ''}",
        ),
        *(limit for limit in known if limit.most is not None),
    )


BY_THE_RECORD = Means.plain()


@edge
def find_plan(
    record=None,
    trial=None,
    *,
    putty_volume: CubicMetre | None = None,
    fuel: FuelKind | None = None,
    altitude: Metre | None = None,
    means: Means = BY_THE_RECORD,
) -> Found:
    """Look for the plan that gives the putty wanted with what a person can do.

    Parameters
    ----------
    record, trial
        As for `limekit.Plan.of`: the stone, and everything that is not asked for here.
    putty_volume : CubicMetre, optional
        Wanted. Without it, what the record's plan gives.
    fuel : FuelKind, optional
        Without it, the record's.
    altitude : Metre, optional
        Of the ground. Without it, the record's.
    means : Means
        Who and what there is, or its fields one by one: ``helpers=2, highest_chimney="3 m", wood="900 kg"``.

    Returns
    -------
    Found
        The plan that burns least fuel among those that keep to every limit and are at no risk of burning more than
        the fact ``dead_share_allowed`` of the charge dead. Hours and fuel are held against limits by their middle
        figure: their range is wider than what a search can tell.

    Raises
    ------
    InputError
        If the record's stone is not kept as putty and putty is asked for.

    Notes
    -----
    Size of stone, chimney, spare air and laying are moved in turn, each to its best while the others stand, until none
    betters the plan; every plan is fired once in the model. That finds a good plan, not surely the best of all.

    Examples
    --------
    >>> found = find_plan(putty_volume="800 L", helpers=4, highest_chimney="2 m")
    >>> found.plan is not None
    True
    """
    first = Plan.of(record, trial)
    asked = {"putty_volume": putty_volume, "fuel": fuel, "helpers": means.helpers, "altitude": altitude}
    start = first.plain.but(**{name: value for name, value in asked.items() if value is not None})
    if putty_volume is not None and not start.verdict.keeping.as_putty:
        raise InputError("putty_volume", f"putty of a stone of which {start.verdict.keeping.words}", "stone", "")
    largest = means.largest_stone or start.decided.get("largest_stone")
    highest = start.decided.get("chimney_height") if means.highest_chimney is None else means.highest_chimney
    means = means.but(helpers=start.decided.get("helpers"))
    levers = {
        "largest_stone": tuple(share * largest for share in SIZES),
        "chimney_height": tuple(dict.fromkeys(share * highest for share in CHIMNEYS)),
        "excess_air": AIRS,
        "laid": LAYS,
    }
    with progress("Firing the kilns that these limits allow") as tell:
        return _found(first, Search(start, limits_on(means), levers, tell))


def _found(first: Plan, search: Search) -> Found:
    at = search.best()
    best = search.fire(**at)
    ranked = sorted(search.tried.values(), key=search.rank)
    others = tuple(Plan(first.record, one) for one in ranked[1 : 1 + RIVALS] if search.rank(one)[0] < NEVER)
    told = figures(best, "putty_volume", "hours", "fuel")
    if search.rank(best)[0] == 0.0:
        said = f"{told['putty_volume'].words} of putty in {told['hours']} with {told['fuel']} of fuel."
        return Found(Plan(first.record, best), others, search.costs(at), said)
    change = search.change(at)
    smaller = _smaller(search, at)
    burn = "" if smaller is None else f" A burn of {figures(smaller, 'stone')['stone'].words} of stone would do."
    said = f"Not with these limits: {_passed(search, best)}{burn}"
    return Found(None, others, (), said, change, smaller and Plan(first.record, smaller))


def _passed(search: Search, best: Worked) -> str:
    if search.rank(best)[0] >= NEVER:
        return "the charge is never done, or there is no such kiln."
    passed = [limit.more(limit.wants(best) - limit.most) for limit in search.limits if limit.over(best)]
    return f"the nearest wants {', and '.join(passed)}."


def _smaller(search: Search, at: dict[str, object]) -> Worked | None:
    charge = search.start.design.stone.middle
    burns = (search.fire(**at, stone=share * charge) for share in SMALLER)
    return next((burn for burn in burns if search.rank(burn)[0] == 0.0), None)
