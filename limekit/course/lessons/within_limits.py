"""What limits allow: kilns for one and the same putty, fired once, and which of them a person can build and keep."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from functools import cached_property

from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.errors import InputError
from limekit.pictures import sizing as pictures
from limekit.pictures.progress import progress
from limekit.plan.figures import figures
from limekit.plan.plan import Plan
from limekit.plan.search import MORE, Limit, Means, limits_on
from limekit.plan.worked import Worked
from limekit.units import MM

STONES, CHIMNEYS, AIRS = (0.6, 1.0, 1.5), (0.0, 2.0, 4.0), (0.6, 0.9, 1.2)  # times the plan's, m, and of spare air


@dataclass(frozen=True)
class Allowed:
    """Kilns that were fired, what they were held against, and the one that burns least of those that keep to it."""

    kilns: tuple[Worked, ...]
    limits: tuple[Limit, ...]

    def over(self, kiln: Worked) -> float:
        """Return by what share a kiln passes its limits, all together."""
        return sum(limit.over(kiln) for limit in self.limits)

    @cached_property
    def best(self) -> Worked:
        """The one that passes its limits least, and of several the one that burns least."""
        return min(self.kilns, key=lambda kiln: (self.over(kiln), kiln.fuel_fed))

    @cached_property
    def within(self) -> tuple[Worked, ...]:
        """Those that keep to every limit."""
        return tuple(kiln for kiln in self.kilns if not self.over(kiln))


def limits_explorer(plan: Plan) -> Explorer:
    """Slide helpers, chimney, stone and wood; see which kilns for the plan's putty they allow.

    The plan's charge is kept; stone, chimney and air are moved, and every kiln is fired once.
    """
    start, fired = plan.plain, []
    tried = list(itertools.product(STONES, CHIMNEYS, AIRS))
    with progress("Firing the kilns that might be built") as tell:
        for number, (stone, chimney, air) in enumerate(tried, start=1):
            kiln = start.but(largest_stone=stone * start.kiln.largest_stone, chimney_height=chimney, excess_air=air)
            if _is_done(kiln):
                fired.append(kiln)
            tell(number / len(tried))
    kilns = tuple(fired)
    most = max(kiln.fuel_fed for kiln in kilns)

    def held(helpers: float, highest_chimney: float, largest_stone: float, wood: float) -> Allowed:
        return Allowed(
            kilns,
            (
                *limits_on(Means.plain(helpers=helpers, wood=wood)),
                Limit("chimney", highest_chimney, lambda kiln: kiln.kiln.chimney_height, 1.0, MORE["chimney_height"]),
                Limit("stone", largest_stone, lambda kiln: kiln.kiln.largest_stone, 0.02, MORE["largest_stone"]),
            ),
        )

    return Explorer(
        [
            Slider("helpers", start=round(start.decided.get("helpers"))),
            Slider("highest_chimney", start=f"{start.kiln.chimney_height} m", high="4 m"),
            Slider("largest_stone", start=f"{MM * start.kiln.largest_stone} mm", label="largest stone you will burn"),
            Slider("wood", start=f"{10 * round(most / 10)} kg", high=f"{10 * round(most / 10)} kg", step=10),
        ],
        model=held,
        picture=lambda allowed: pictures.within_limits(
            [(kiln.firing_time, kiln.fuel_fed, allowed.over(kiln) == 0.0) for kiln in allowed.kilns],
            (allowed.best.firing_time, allowed.best.fuel_fed),
        ),
        words=_words,
        presets={
            "alone with one helper": {"helpers": 1},
            "no chimney": {"highest_chimney": "0 m"},
            "small stone only": {"largest_stone": f"{MM * STONES[0] * start.kiln.largest_stone} mm"},
        },
    )


def _is_done(kiln: Worked) -> bool:
    try:
        return kiln.firing.finish is not None
    except InputError:
        return False


def _words(allowed: Allowed) -> str:
    best, within = allowed.best, allowed.within
    told, kiln = figures(best, "hours", "fuel"), best.kiln
    air = best.fire.excess_air
    made = (
        f"stone to {MM * kiln.largest_stone:.0f} mm, {kiln.chimney_height:.1f} m of chimney, {air:.1f} of spare air: "
        f"{told['hours']} and {told['fuel']} of fuel"
    )
    if within:
        return f"{len(within)} of the {len(allowed.kilns)} kilns keep to these limits; the thriftiest has {made}."
    wants = ", and ".join(limit.more(limit.wants(best) - limit.most) for limit in allowed.limits if limit.over(best))
    return f"None of the {len(allowed.kilns)} kilns keeps to these limits. The nearest has {made}; it wants {wants}."
