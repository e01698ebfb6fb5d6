"""What a plan comes to, part by part, where no part of the science has a result for it already."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from limekit.edge import Ground
from limekit.estimate import Span
from limekit.facts import fact
from limekit.grading import Keeping
from limekit.lime.mixes import Mix, mortar_mix, mortar_volume
from limekit.lime.reactivity import Reactivity
from limekit.records.roster import people_to_watch
from limekit.units import HOUR, KilogramPerCubicMetre, Second, Share, Unit

LEAST, MOST = 2, 12  # h that a turn at the fire may last


@dataclass(frozen=True)
class Forecast:
    """What a firing will take and give, each with the range in which real kilns lie; `hours` None if never done."""

    hours: Annotated[Span | None, Unit("s")]
    fuel: Annotated[Span, Unit("kg")]
    quicklime: Annotated[Span, Unit("kg")]
    verdict: str
    basis: tuple[Ground, ...] = ()


@dataclass(frozen=True)
class Lime:
    """The lime that will be drawn: how much, what of it slakes, and how lively a sample was, if one was slaked."""

    drawn: Annotated[Span, Unit("kg")]
    quicklime: Annotated[Span, Unit("kg")]
    available_lime: Share
    reactivity: Reactivity | None


@dataclass(frozen=True)
class Putty:
    """The putty it makes, where it may be kept as putty; none otherwise."""

    putty_volume: Annotated[Span, Unit("m^3")]
    putty_density: KilogramPerCubicMetre
    keeping: Keeping

    @property
    def kept(self) -> Span | None:
        """Its volume where it may be kept; None where it is not."""
        return self.putty_volume if self.keeping.as_putty else None


@dataclass(frozen=True)
class Mortar:
    """The bedding mortar that putty makes with the sand it wants, where none of it is laid otherwise."""

    mix: Mix
    sand_volume: Annotated[Span, Unit("m^3")]
    mortar_volume: Annotated[Span, Unit("m^3")]


def mortar_of(putty_volume: Span) -> Mortar:
    """Return the bedding mortar of a volume of putty, m³."""
    mix = mortar_mix.plain()
    ends = [(end * mix.sand_parts / mix.lime_parts, end) for end in vars(putty_volume).values()]
    sand, mortar = zip(*((sand, mortar_volume.plain(end, sand)) for sand, end in ends), strict=True)
    return Mortar(mix, Span(*sand), Span(*mortar))


@dataclass(frozen=True)
class People:
    """Who keeps the fire: people there, turns that wear nobody out, and how few would do at the usual turns."""

    people: int
    enough: bool
    watch_time: Second
    turns: int
    needed: int
    words: str


def people_for(firing_time: float, helpers: int) -> People:
    """Return how people keep a fire for so long, s, nobody alone and everybody with sleep."""
    there, usual = 1 + helpers, fact("watch_time")
    needed = people_to_watch.plain(firing_time)
    lengths = sorted((HOUR * hours for hours in range(LEAST, MOST + 1)), key=lambda turn: abs(turn - usual))
    fits = (turn for turn in lengths if people_to_watch.plain(firing_time, turn) <= there)
    turn = next(fits, None)
    watch = float(usual) if turn is None else turn
    turns = math.ceil(firing_time / watch - 1e-9)
    hours = f"{firing_time / HOUR:.0f} h of fire"
    if turn is None:
        words = f"{hours} want {needed} people, two at a time, so that everybody sleeps; here are {there}."
    else:
        words = f"{hours} are {turns} turns of {watch / HOUR:.0f} h, two at a time, for the {there} people here."
    return People(there, turn is not None, watch, turns, needed, words)
