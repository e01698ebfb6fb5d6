"""A kiln's own burns beside its plan: what was forecast of each by those before it, and what they tell of the next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from limekit.estimate import Span
from limekit.facts import fact
from limekit.kiln.firing import Firing
from limekit.kiln.learning import Learnt, learn
from limekit.records.own_burns import OwnBurn


class Fired(NamedTuple):
    """A burn of the kiln's own, and the model's firing of its stone as it was laid."""

    burn: OwnBurn
    firing: Firing


@dataclass(frozen=True)
class Foretold:
    """A burn beside what those before it, and other kilns, let expect of it; s and kg.

    `hours` is None where the model never has it done.
    """

    burn: OwnBurn
    hours: Span | None
    fuel: Span


def learnt_hours(fired: Iterable[Fired], is_fed: bool) -> Learnt:
    """Return by what factor burns that went well took longer than the model has them, and how the next one spreads."""
    between = fact(f"hours{'_where_feeding_is_known' * is_fed}_between_kilns")
    ratios = _over_model(fired, "firing_time", "finish")
    return learn(ratios, between, min(between, fact("hours_between_burns")))


def learnt_fuel(fired: Iterable[Fired]) -> Learnt:
    """Return the same of fuel."""
    return learn(_over_model(fired, "fuel_mass", "fuel_used"), fact("fuel_between_kilns"), fact("fuel_between_burns"))


def _over_model(fired: Iterable[Fired], told: str, figure: str) -> list[float]:
    pairs = ((getattr(burn, told), getattr(firing, figure)) for burn, firing in fired if not burn.went_wrong)
    return [took / said for took, said in pairs if took and said]


def foretold(fired: Sequence[Fired], is_fed: bool) -> tuple[Foretold, ...]:
    """Return each burn, in the order they were burnt, beside what was forecast of it before it was known."""
    return tuple(foretell(*one, fired[:rank], is_fed) for rank, one in enumerate(fired))


def foretell(burn: OwnBurn, firing: Firing, before: Sequence[Fired], is_fed: bool) -> Foretold:
    """Return one burn beside what is forecast of it by those before it."""
    hours = firing.finish and learnt_hours(before, is_fed).forecast(firing.finish)
    return Foretold(burn, hours, learnt_fuel(before).forecast(firing.fuel_used))
