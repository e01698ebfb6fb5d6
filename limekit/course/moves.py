"""What a reader moves of a plan: controls that stand where it does, the plan they ask for, and what is kept of it."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Mapping

from limekit.course.controls import Choice, Slider, fuel_choice
from limekit.estimate import tens
from limekit.plan.decisions import FUEL
from limekit.plan.plan import Plan
from limekit.plan.worked import MIXED, Worked
from limekit.units import DAY, HOUR, ZERO_CELSIUS

REMEMBERED = 3  # plans, so that a way back is quick
LEAST_REACH, REACH, AT_HALF = 4 * DAY, 1.25, 0.5  # of the hours that are slid: at least, and against a plan's own
FINEST = 10  # parts into which a slider's step is cut, as far as it must to stand where the plan does
CLOCK_STEP = 2.0  # h
ROOM = 1.5  # that a slider leaves above a plan that stands past its end
STANDS: Mapping[str, Callable[[Worked], object]] = {
    "putty_volume": lambda plan: plan.design.putty_volume.middle,
    "stone": lambda plan: plan.design.stone.middle,
    "largest_stone": lambda plan: plan.kiln.largest_stone,
    "height_to_diameter": lambda plan: plan.kiln.height_to_diameter,
    "chimney_height": lambda plan: plan.kiln.chimney_height,
    "laid": lambda plan: plan.kiln.laid,
    FUEL: lambda plan: plan.fuel.kind,
    "fuel_moisture": lambda plan: plan.fuel.moisture,
    "fire_temperature": lambda plan: plan.fire.fire_temperature,
    "stoking_rate": lambda plan: plan.firing.plan.stoking_rate,
    "conversion": lambda plan: plan.firing.plan.fire.conversion,
    "hours": lambda plan: plan.fire.hours or math.inf,
    "damper": lambda plan: plan.fire.damper,
    "charge_fines": lambda plan: plan.decided.get("charge_fines", 0.0),
    "arrangement": lambda plan: plan.decided.get("arrangement", MIXED),
    "stone_moisture": lambda plan: plan.stone.stone_moisture,
}
CHOICES = {
    "laid": (
        {"by hand, on a vault": "by hand", "by hand, with flues": "with flues", "poured on a grate": "poured"},
        "how the charge is laid",
    ),
    "arrangement": ({"all sizes at every height": MIXED, "the largest at the bottom": "graded"}, "how the stone lies"),
}
ENDS = {
    "putty_volume": {"low": "100 L", "high": "3000 L", "step": 10},
    "stone": {"low": "200 kg", "high": "4000 kg", "step": 10},
    "height_to_diameter": {"low": 1.2, "high": 1.6, "step": 0.05},
    "chimney_height": {"high": "6 m"},
    "fuel_moisture": {"low": 0.1, "high": 0.6},
    "fire_temperature": {"low": "1000 degC", "high": "1300 degC", "step": 10},
    "stoking_rate": {"low": "5 kg/h"},
    "conversion": {"low": 0.7, "high": 0.99},
    "hours": {"low": "6 h"},
    "damper": {"low": 0.0},
    "charge_fines": {"high": 0.2},
    "stone_moisture": {"high": 0.06},
}
ROUGH = ("fire_temperature", "stoking_rate", "conversion", "hours")  # which stand at the step that is nearest


class Moves:
    """Decisions of a plan, of `STANDS`, as controls: called with what is moved, it gives the plan that follows."""

    def __init__(self, plan: Plan, *names: str) -> None:
        self.plan, self.names = plan, names
        self.follows = {name: STANDS[name] for name in names}
        self._but = functools.lru_cache(REMEMBERED)(lambda moved: plan.plain.but(**dict(moved)))

    def __call__(self, **moved) -> Worked:
        """Return the plan with what is moved, in SI floats and words; what is None is not moved."""
        moved = {name: value for name, value in moved.items() if value is not None}
        return self._but(tuple(moved.items())) if moved else self.plan.plain

    @property
    def controls(self) -> list[Slider | Choice]:
        """The controls."""
        return [self._control(name) for name in self.names]

    def _control(self, name: str) -> Slider | Choice:
        if name == FUEL:
            return fuel_choice()
        if name in CHOICES:
            options, label = CHOICES[name]
            return Choice(name, options, label=label)
        if name == "hours":
            return Slider(name, **ENDS[name], high=f"{self._reach / HOUR} h")
        slider = Slider(name, **ENDS.get(name, {}))
        (low, high), stands = slider.ends, slider.reads(STANDS[name](self.plan.plain))
        low, high, step = min(low, stands), high if stands <= high else ROOM * stands, slider.step or slider.entry.step
        if name not in ROUGH:
            step *= math.gcd(round(FINEST * (stands - low) / step), FINEST) / FINEST
        return Slider(name, low=low, high=high, step=step)

    @property
    def _reach(self) -> float:
        """How far hours are slid, s: whole days."""
        return max(LEAST_REACH, DAY * math.ceil(REACH * self.plan.plain.firing.firing_time / DAY))

    @property
    def clock(self) -> Slider:
        """The hour that is looked at, at first half way through the firing."""
        half = AT_HALF * self.plan.plain.firing.firing_time / HOUR
        start = CLOCK_STEP * round(half / CLOCK_STEP)
        ends = {"low": "0 h", "high": f"{self._reach / HOUR} h", "step": CLOCK_STEP}
        return Slider("time", start=f"{start} h", **ends, label="look at hour", plays=True, looks=True)

    @property
    def same_fire(self) -> dict[str, str]:
        """The plan's fire, for a case that holds it whatever else becomes of it."""
        return {"fire_temperature": f"{tens(self.plan.plain.fire.fire_temperature - ZERO_CELSIUS)} degC"}

    def rained_on(self, stone_moisture: float | None) -> dict[str, float]:
        """Return what is moved when the same stone is wetter: its water, and what it weighs by it."""
        if stone_moisture is None:
            return {}
        stone = self.plan.plain.stone
        dry = stone.mass * (1.0 - stone.stone_moisture)
        return {"stone_moisture": stone_moisture, "stone": dry / (1.0 - stone_moisture)}

    def kept(self, plan: Worked) -> dict[str, dict]:
        """Return what of a plan goes into the record: what is decided by these controls, and nothing that follows."""
        kept = plan.decided.kept(*self.names)
        if FUEL in self.names and plan.fuel.kind == self.plan.plain.fuel.kind:
            kept["fuel"]["name"] = self.plan.record["fuel"]["name"]
        return kept
