"""Sizing: kilns that could be built, each fired in the model, side by side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.course.checks import PERCENT, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.course.moves import Moves
from limekit.estimate import Span, shown
from limekit.facts import fact
from limekit.frames import frame
from limekit.kiln.ensemble import FiringRange, fire_range
from limekit.kiln.firing import Firing
from limekit.kiln.sizing import size_kiln
from limekit.pictures import sizing as pictures
from limekit.pictures.progress import progress
from limekit.plan.figures import figures
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.units import HOUR, MM, TONNE

CHIMNEY, LOW = 2.0, 1.2
SMALLER, LARGER = 0.75, 1.25
MEMBERS = 15
MOVED = ("stone", "largest_stone", "height_to_diameter", "chimney_height", "fire_temperature")
TOLD = ("stone", "largest_stone", "kiln_diameter", "kiln_height", "chimney_height", "hours", "fuel", "quicklime")
OWN = "yours, by the sliders"
KIND = {"kind": "flare"}  # of kiln, that the yard is full of


def yard_of(plan: Worked) -> dict[str, Worked]:
    """Return by name the plan's own kiln and seven that differ from it in one thing, or in three."""
    stone, size = plan.design.stone.middle, plan.kiln
    taller, larger = size.chimney_height + CHIMNEY, LARGER * size.largest_stone
    smaller = SMALLER * size.largest_stone
    changes = {
        "the record's kiln": {},
        "half as much stone": {"stone": stone / 2.0},
        "twice as much stone": {"stone": 2.0 * stone},
        f"stone of {MM * smaller:.0f} mm": {"largest_stone": smaller},
        f"stone of {MM * larger:.0f} mm": {"largest_stone": larger},
        "lower and wider": {"height_to_diameter": LOW},
        f"{CHIMNEY:.0f} m more of chimney": {"chimney_height": taller},
        "the last three at once": {"chimney_height": taller, "largest_stone": larger, "height_to_diameter": LOW},
    }
    return {name: plan.but(**changed) if changed else plan for name, changed in changes.items()}


def yard_explorer(plan: Plan) -> Explorer:
    """Slide a kiln of your own, from the plan's, beside the record's and seven that differ from it; all are fired."""
    moves, others = Moves(plan, *MOVED), yard_of(plan.plain)
    with progress("Firing the kilns of the yard") as tell:
        for number, one in enumerate(others.values(), start=1):
            _ = one.firing
            tell(number / len(others))
    return Explorer(
        moves.controls,
        model=moves,
        picture=lambda own: pictures.side_by_side([_bar(*one) for one in (others | {OWN: own}).items()]),
        words=_yard_words,
        table=lambda own: frame([_row(*one) for one in (others | {OWN: own}).items()]),
        presets={
            "no chimney": {"chimney_height": "0 m"},
            "the small one, built with care": {"stone": "400 kg", "chimney_height": "2 m"},
            "a village's kiln": {"stone": "3000 kg", "largest_stone": "120 mm", "chimney_height": "2 m"},
            "driven hard": {"chimney_height": "2 m", "fire_temperature": "1250 degC"},
            "small stone, to be quick": {"largest_stone": "40 mm"},
            "small stone and no chimney": {"largest_stone": "40 mm", "chimney_height": "0 m"},
        },
        keeps=lambda own: (kept := moves.kept(own)) | {"kiln": kept["kiln"] | KIND},
        follows=moves.follows,
    )


def _bar(name: str, plan: Worked) -> pictures.Bar:
    """Return what the picture shows of a kiln."""
    firing = plan.firing
    told = figures(plan, "hours")["hours"].words if firing.finish else "not done"
    return pictures.Bar(
        f"{name}, {told}",
        plan.forecast.hours or Span(*[firing.firing_time] * 3),
        firing.finish is not None,
        firing.quicklime,
        _fuel_a_kilo(plan),
        1.0 - firing.rawest.conversion,
        firing.overburnt_share,
    )


def _fuel_a_kilo(plan: Worked) -> float | None:
    """Return the fuel for a kilo of quicklime; None where there is none."""
    return plan.forecast.fuel.middle / plan.firing.quicklime if plan.firing.quicklime else None


def _row(name: str, plan: Worked) -> dict:
    """Return a kiln's line of the table."""
    told, size, firing = figures(plan, *TOLD), plan.kiln, plan.firing
    return {
        "kiln": name,
        "stone": told["stone"].words,
        "largest stone": told["largest_stone"].words,
        "inside, width × height": f"{told['kiln_diameter'].words} × {told['kiln_height'].words}",
        "outside width [m]": f"{size.outer_diameter:.2f}",
        "bricks, fire + common + arches": f"{size.fire_bricks} + {size.common_bricks} + {size.arch_bricks}",
        "iron ties, flat bar for all [m]": f"{size.ties}, {size.tie_length:.0f}",
        "set in the vault [kg]": f"{size.vault_mass:.0f}",
        "grate bars, where wanted": f"{size.grate_bars} × {size.grate_bar_length:.2f} m",
        "chimney": told["chimney_height"].words,
        "done after": str(told["hours"]) if firing.finish else f"not in {firing.firing_time / HOUR:.0f} h",
        "fuel": str(told["fuel"]),
        "quicklime [kg]": shown(firing.quicklime),
        "rawest place": str(firing.rawest),
        "may be dead-burnt [%]": f"{100 * firing.overburnt_share:.0f}",
        "what held it back, and what lifts it": " ".join(map(str, firing.limits)),
    }


def _yard_words(plan: Worked) -> str:
    told, firing = figures(plan, *TOLD), plan.firing
    rawest = firing.rawest
    ended = (
        f"is done after {told['hours']} with {told['fuel'].words} of fuel ({told['fuel'].ends}), "
        f"{_fuel_a_kilo(plan):.2f} kg a kilo of its {told['quicklime'].words} of quicklime"
        if firing.finish
        else f"is not done after {firing.firing_time / HOUR:.0f} h"
    )
    return (
        f"A kiln {told['kiln_diameter'].words} across for {told['stone'].words} of stone up to "
        f"{told['largest_stone'].words}, with {told['chimney_height'].words} of chimney, {ended}; the "
        f"rawest stones ({rawest.part}{rawest.ring}, {MM * rawest.size:.0f} mm) are burnt to "
        f"{100 * rawest.conversion:.0f} %, and {100 * firing.overburnt_share:.0f} % of the charge may be "
        "dead-burnt."
    )


def pace(plan: Plan) -> str:
    """Say what sets the pace of a plan's kiln, and how its hours stand to a rule of thumb."""
    told, rule, limits = plan.figures, plan.plain.design.rule_time, plan.plain.firing.limits
    return (
        f"The record's kiln takes **{told['fuel'].words}** of wood ({told['fuel'].ends}) and "
        f"**{told['hours'].words}** of firing ({told['hours'].ends}). {' '.join(map(str, limits))} "
        "The rule of thumb, heating up and the largest stone and a soak, comes to "
        f"{rule.middle / HOUR:.0f} hours ({rule.low / HOUR:.0f} to {rule.high / HOUR:.0f})."
    )


@dataclass(frozen=True)
class Sure:
    """A firing, and when it is done by what the trial leaves open; in plain SI floats."""

    firing: Firing
    ranged: FiringRange
    is_tried: bool

    def wood(self, time: float) -> float:
        """Return the fuel fed by a time, kg, the last pace going on after the end."""
        history, end = self.firing.history, self.firing.firing_time
        return float(history.fed_by(min(time, end)) + history.fuel_rate[-1] * max(time - end, 0.0))


def sure_explorer(plan: Plan) -> Explorer:
    """Slide how sure you want to be; see the hours to be ready for, by what the trial leaves open.

    The plan's kiln is fired once for every stone that is possible after the trial, or, before one, by published
    figures.
    """
    firing, heard = plan.plain.firing, plan.plain.heard
    with progress("Firing the kiln with every stone that the trial leaves open") as tell:
        known = Sure(firing, fire_range.plain(firing, heard, MEMBERS, tell), plan.plain.assessment is not None)
    spread = float(fact("draught_spread"))
    return Explorer(
        [Slider("done_share", start=0.9, low=0.5, high=0.95, step=0.05, label="how sure you want to be", looks=True)],
        model=lambda: known,
        picture=lambda sure, done_share: pictures.chance(sure.ranged, spread, done_share),
        words=_sure_words,
    )


def _sure_words(sure: Sure, done_share: float) -> str:
    ranged, spread = sure.ranged, fact("draught_spread")
    stone = "the stone goes" if sure.is_tried else "published stones tell, for yours has had no trial"
    hours, middle = ranged.finish_by(done_share), ranged.finish_by(0.5)
    if not np.isfinite(hours):
        return f"To be {100 * done_share:.0f} % sure is not to be had. {ranged.verdict}"
    return (
        f"To be {100 * done_share:.0f} % sure of the charge, as far as {stone}, be ready for {hours / HOUR:.0f} "
        f"hours and {shown(sure.wood(hours), 2)} kg of wood, against {middle / HOUR:.0f} hours in the middle; a "
        f"draught {100 * spread:.0f} % better or worse moves them all to between {hours / (1 + spread) / HOUR:.0f} and "
        f"{hours / (1 - spread) / HOUR:z.0f}."
    )


TIMES = 3.0


def _width(stone: float) -> float:
    return size_kiln.plain(stone, fact("flare_largest_stone")).kiln_diameter


three_times_the_stone = Exercise(
    question=(
        f"Two kilns of one shape; one holds {TIMES:.0f} times as much stone as the other. How many times as wide is it?"
    ),
    answer=lambda: _width(TIMES * TONNE) / _width(TONNE),
    tolerance=0.015,
    shown=".2f",
    slips=(
        Slip("that is how much more it holds; it grows in three directions at once", lambda _: TIMES),
        Slip("that is the square root, right for a floor: a kiln grows upward too", lambda _: TIMES**0.5),
        Slip("that is the growth of floor and wall, not of the width", lambda right: right**2),
        UPSIDE_DOWN,
    ),
    hint="limekit.size_kiln(stone=..., largest_stone=...).diameter for two charges, and divide.",
)

WIDER = 2.0

wall_a_kilo = Exercise(
    question=(
        f"One kiln is {WIDER:.0f} times as wide as another, and of the same shape. How much wall has it inside for "
        "each kilo of stone, as a share of what the smaller has?"
    ),
    answer=lambda: _wall_a_kilo(WIDER**3 * TONNE) / _wall_a_kilo(TONNE),
    tolerance=0.03,
    shown=".2f",
    slips=(
        Slip("that is how many times the wall has grown; the stone has grown too", lambda _: WIDER**2),
        Slip("you let the wall stay as it was while the stone grew", lambda _: WIDER**-3),
        Slip("that is for a floor's worth of stone; it grows upward too, and so does the wall", lambda _: WIDER**-2),
        UPSIDE_DOWN,
        PERCENT,
    ),
    hint="limekit.size_kiln for one tonne and for eight: width times height, over the stone; divide.",
)


def _wall_a_kilo(stone: float) -> float:
    size = size_kiln.plain(stone, fact("flare_largest_stone"))
    return size.kiln_diameter * size.kiln_height / stone
