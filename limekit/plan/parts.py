"""What a plan comes to, part by part, where no part of the science has a result for it already."""

from __future__ import annotations

import functools
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

LEAST = 2  # h that a turn at the fire may last, as far as the kit looks


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
    """Who keeps the fire: people there, turns that wear nobody out, and how few would do with the best of turns."""

    people: int
    enough: bool
    watch_time: Second
    turns: int
    needed: int
    words: str


@functools.cache
def people_for(firing_time: float, helpers: int, longest_watch: float | None = None) -> People:
    """Return how people keep a fire for so long (s), nobody alone and all with sleep, in turns of so long at most."""
    there, usual = 1 + helpers, fact("watch_time")
    most = min(longest_watch or math.inf, float(fact("watch_stretch_most")))
    lengths = [HOUR * hours for hours in range(LEAST, round(most / HOUR) + 1)] or [most]
    wants = {turn: people_to_watch.plain(firing_time, turn) for turn in lengths}
    fits = [turn for turn in lengths if wants[turn] <= there]
    turn = min(fits or lengths, key=lambda turn: (wants[turn] if not fits else 0, abs(turn - usual)))
    turns, needed = math.ceil(firing_time / turn - 1e-9), min(wants.values())
    fire = f"{firing_time / HOUR:.0f} h of fire"
    if not fits:
        words = f"{fire} want {needed} people, two at a time, so that everybody sleeps; here are {there}."
    else:
        words = f"{fire} are {turns} turns of {turn / HOUR:.0f} h, two at a time, for the {there} people here."
    return People(there, bool(fits), turn, turns, needed, words)
