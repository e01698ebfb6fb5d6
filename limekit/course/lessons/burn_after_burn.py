"""Burn after burn: what the plan forecast of each burn of a kiln, what it took, and what that tells of the next."""

from __future__ import annotations

import math
from dataclasses import dataclass
from operator import attrgetter

from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.estimate import Span, ranged, shown
from limekit.frames import frame
from limekit.pictures.burn_after_burn import GUESS, TOOK, WRONG, Column, burn_after_burn
from limekit.plan.burns import Fired, Foretold, foretell, foretold
from limekit.plan.plan import Plan
from limekit.records.examples import example_path
from limekit.records.own_burns import OwnBurn
from limekit.units import HOUR, MM

EXAMPLE, TRIAL = "own_burns_example.toml", "trial_example.csv"
NEXT, AFTER = "the next", "the one after"
REFITTED = {
    "excess_air": ("air beyond the least", 1.0),
    "loss_factor": ("losses", 1.0),
    "fuel_quality": ("heat of the fuel", 1.0),
    "reaction_coefficient": ("the stone's willingness [mm/s]", 1.0 / MM),
}
HOURS, WOOD = (HOUR, 2), (1.0, 3)  # in which unit of SI, and to how many digits, they are told


@dataclass(frozen=True)
class Against:
    """Burns beside what was forecast of them, and the two to come, in SI floats; the first of these is a guess."""

    burns: tuple[Foretold, ...]
    next: Foretold
    after: Foretold
    is_invented: bool

    @property
    def named(self) -> list[tuple[str, Foretold]]:
        """All of them, each with what it is called."""
        return [*((one.burn.date, one) for one in self.burns), (NEXT, self.next), (AFTER, self.after)]


def against_plan(plan: Plan) -> Explorer:
    """Set a kiln's burns beside what its plan forecast of each; guess at the next, and see the one after.

    Where the plan's record keeps no burn yet, an invented kiln's three stand in, and that is said.
    """
    is_invented = not plan.record.burns
    plan = Plan.of(example_path(EXAMPLE), example_path(TRIAL)) if is_invented else plan
    worked = plan.plain
    fired, firing, is_fed = (
        worked.fired(sorted(plan.record.burns, key=attrgetter("date"))),
        worked.firing,
        worked.is_fed,
    )
    burns = foretold(fired, is_fed)

    def guess(firing_time: float, fuel_mass: float) -> Against:
        coming = Fired(OwnBurn("", firing_time=firing_time, fuel_mass=fuel_mass), firing)
        return Against(
            burns,
            foretell(*coming, fired, is_fed),
            foretell(OwnBurn(""), firing, (*fired, coming), is_fed),
            is_invented,
        )

    return Explorer(
        [
            _slider("firing_time", worked.firing_time / HOUR, "h", "suppose the next takes"),
            _slider("fuel_mass", worked.fuel_fed, "kg", "and burns"),
        ],
        model=guess,
        picture=lambda found: burn_after_burn([_column(*one) for one in found.named]),
        words=_words,
        table=_table,
    )


def _slider(name: str, middle: float, unit: str, label: str) -> Slider:
    """Return a slider from half to twice a figure."""
    low, start, high = math.floor(0.5 * middle), round(middle), math.ceil(2.0 * middle)
    return Slider(name, f"{start} {unit}", f"{low} {unit}", f"{high} {unit}", step=1.0, label=label)


def _column(name: str, one: Foretold) -> Column:
    mark = WRONG if one.burn.went_wrong else TOOK if one.burn.date else GUESS
    return Column(name, one.hours, one.fuel, one.burn.firing_time, one.burn.fuel_mass, mark)


def _words(found: Against) -> str:
    well = [one for one in found.burns if not one.burn.went_wrong]
    whose = "An invented kiln, since your record keeps no burn yet" if found.is_invented else "Your kiln"
    said = [f"{whose}: burns kept, {len(found.burns)}; gone well, {len(well)}."]
    said += [
        f"Of {one.burn.date}, by the burns before it alone, the plan says {_forecast(one)}; it took {_taken(one.burn)}."
        for one in well[-1:]
    ]
    said += [
        f"The burn of {one.burn.date} went wrong ({one.burn.went_wrong}) and counts for nothing."
        for one in found.burns
        if one.burn.went_wrong
    ]
    first, hours = found.burns[0].hours, found.next.hours
    narrower = f", the upper end of the hours {_fold(hours)} times the lower" if hours else ""
    was = f", which was {_fold(first)} times before any burn" if hours and first else ""
    said.append(f"The next is forecast at {_forecast(found.next)}{narrower}{was}.")
    said.append(f"Should it take {_taken(found.next.burn)}, the one after is forecast at {_forecast(found.after)}.")
    return " ".join(said)


def _forecast(one: Foretold) -> str:
    hours = f"{_ranged(one.hours, *HOURS)} h" if one.hours else "no end of the fire"
    return f"{hours} and {_ranged(one.fuel, *WOOD)} kg of wood"


def _taken(burn: OwnBurn) -> str:
    taken = ((burn.firing_time, HOURS, "h"), (burn.fuel_mass, WOOD, "kg"))
    return " and ".join(f"{_figure(figure, *told)} {unit}" for figure, told, unit in taken if figure) or "what it took"


def _ranged(told: Span | None, unit: float, digits: int) -> str:
    return "–" if told is None else ranged(told, unit, digits)


def _figure(told: float | None, unit: float, digits: int) -> str:
    return "–" if told is None else shown(told / unit, digits)


def _fold(told: Span) -> str:
    return shown(told.high / told.low, 2)


def _table(found: Against):
    return frame(
        {
            "burn": name,
            "hours forecast": _ranged(one.hours, *HOURS),
            "hours taken": _figure(one.burn.firing_time, *HOURS),
            "wood forecast [kg]": _ranged(one.fuel, *WOOD),
            "wood burnt [kg]": _figure(one.burn.fuel_mass, *WOOD),
            **{label: _ranged(getattr(one.burn, key), unit, 2) for key, (label, unit) in REFITTED.items()},
            "what was noted": "; ".join(filter(None, (one.burn.went_wrong, one.burn.note))) or "–",
        }
        for name, one in found.named
    )
