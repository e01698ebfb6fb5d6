"""Flare or shaft: a shaft kiln's map of draw and fuel, and where on it the shaft burns well."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.chemistry import loss_on_ignition
from limekit.course.checks import Exercise, Slip
from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.edge import plain
from limekit.fire.fuel import FuelKind, as_fired, fuels
from limekit.frames import frame
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.kiln import Kiln
from limekit.kiln.shaft.state import LIMITS
from limekit.kiln.shaft.steady import ShaftWindow, shaft_window
from limekit.pictures import sizing as pictures
from limekit.plan.plan import Plan
from limekit.units import DAY, HOUR, TONNE, ZERO_CELSIUS

SLOWEST, QUICKEST = 72.0, 12.0  # h that a stone is on its way down a shaft, at the ends of the map
LEANEST, RICHEST = 1.7e6, 2.8e6  # J of fuel for a kilogram of stone
DRAWS, RATIOS = 8, 11


@dataclass(frozen=True)
class Drawn:
    """A shaft's map, the place on it that is looked at, and the lime that one flare burn would give (kg)."""

    window: ShaftWindow
    fuel: FuelKind
    draw: int
    ratio: int
    batch: float

    @property
    def draw_rate(self) -> float:
        """Lime drawn, kg/s."""
        return float(self.window.draw_rates[self.draw])

    @property
    def fuel_ratio(self) -> float:
        """Fuel over stone."""
        return float(self.window.fuel_ratios[self.ratio])


def shaft_explorer(plan: Plan, shaft: Kiln, fuel: FuelKind = "coke") -> Explorer:
    """Slide the draw and the fuel of a shaft kiln; see where it burns well and what goes wrong elsewhere.

    The shaft is from ``limekit.size_kiln(kind="shaft")``; the plan gives its stone, where it stands, and a batch to
    compare with.
    """
    shaft, stone, decided = plain(shaft), plan.plain.stone.but(mass=None), plan.plain.decided
    batch = plan.plain.forecast.quicklime.middle
    lime = 1.0 - loss_on_ignition.plain(stone.calcium_carbonate, stone.magnesium_carbonate)
    draws = np.geomspace(*(lime * shaft.stone / (hours * HOUR) for hours in (SLOWEST, QUICKEST)), DRAWS)
    outside = {name: decided.get(name) for name in ("altitude", "air_temperature")}
    heat = BurntFuel.of(fuel, as_fired(fuel, None), outside["air_temperature"]).heat
    ratios = np.linspace(LEANEST / heat, RICHEST / heat, RATIOS)
    window = shaft_window.plain(shaft, draw_rates=draws, fuel_ratios=ratios, fuel=fuel, stone=stone, **outside)

    def look(draw_rate: float, fuel_ratio: float) -> Drawn:
        draw = int(np.argmin(np.abs(np.log(window.draw_rates / draw_rate))))
        return Drawn(window, fuel, draw, int(np.argmin(np.abs(window.fuel_ratios - fuel_ratio))), batch)

    days, ratios = DAY / TONNE * window.draw_rates, window.fuel_ratios
    return Explorer(
        [
            Slider(
                "draw_rate",
                start=f"{days[DRAWS // 2]} tonne/day",
                low=f"{days[0]} tonne/day",
                high=f"{days[-1]} tonne/day",
                step=0.5,
            ),
            Slider("fuel_ratio", start=ratios[RATIOS // 2], low=ratios[0], high=ratios[-1], step=ratios[1] - ratios[0]),
        ],
        model=look,
        picture=lambda drawn: pictures.shaft_map(drawn.window, drawn.draw_rate, drawn.fuel_ratio),
        words=_shaft_words,
        table=_shaft_table,
    )


def _shaft_words(drawn: Drawn) -> str:
    window, at = drawn.window, (drawn.draw, drawn.ratio)
    limit, fits = window.limit[at], int(window.feasible.sum())
    what, cure = LIMITS.get(limit, ("it burns well", ""))
    told = f"{what}; what would lift it: {cure}" if cure else what
    return (
        f"Drawn at {DAY / TONNE * drawn.draw_rate:.1f} t a day with {100 * drawn.fuel_ratio:.1f} kg of "
        f"{fuels()[drawn.fuel].label} for a hundred of stone, it burns {100 * window.conversion[at]:.0f} % and turns "
        f"{100 * window.efficiency[at]:.0f} % of the fuel's heat into lime: {told}. It gives the record's "
        f"{drawn.batch:.0f} kg of quicklime every {drawn.batch / drawn.draw_rate / HOUR:.1f} hours, and "
        f"{fits} of {window.limit.size} settings burn well."
    )


def _shaft_table(drawn: Drawn):
    window, fits = drawn.window, np.argwhere(drawn.window.feasible)
    rows = [
        {
            "lime drawn [t a day]": f"{DAY / TONNE * window.draw_rates[draw]:.1f}",
            "fuel for a hundred of stone [kg]": f"{100 * window.fuel_ratios[ratio]:.1f}",
            "burnt [%]": f"{100 * window.conversion[draw, ratio]:.0f}",
            "lime at the draw [°C]": f"{window.lime_temperature[draw, ratio] - ZERO_CELSIUS:.0f}",
            "gas at the top [°C]": f"{window.top_gas_temperature[draw, ratio] - ZERO_CELSIUS:.0f}",
            "lime": str(window.lime_class[draw, ratio]),
        }
        for draw, ratio in fits
    ]
    return frame(rows or [{"settings": "none of those tried burns well"}])


HELD, TAKEN = 15.0, 6.0

hours_in_the_shaft = Exercise(
    question=(
        f"A shaft holds {HELD:.0f} t of pure stone. You draw {TAKEN:.0f} t of lime a day, burnt right through, and "
        "fill up at the top. How many hours is a stone on its way?"
    ),
    answer=lambda: f"{24.0 * HELD * (1.0 - loss_on_ignition.plain(1.0)) / TAKEN} h",
    unit="h",
    slips=(
        Slip(
            "lime weighs little more than half of the stone it was: more stone sinks than lime comes out",
            lambda _: 24.0 * HELD / TAKEN,
        ),
        Slip(
            "you went the wrong way: count the lime back to the stone it was, which is more",
            lambda right: (24.0 * HELD / TAKEN) ** 2 / right,
        ),
        Slip("that is in days", lambda right: right / 24.0),
    ),
    hint="limekit.loss_on_ignition(calcium_carbonate=1) is what the stone loses: divide the lime by what is left.",
)
