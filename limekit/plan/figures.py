"""The figures by which a plan is known, each said in one way wherever it stands: in a lesson, a picture or a sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from limekit.estimate import Span, shown
from limekit.plan.worked import Worked
from limekit.units import HOUR, LITRES, MM, ZERO_CELSIUS

NONE = "none"


@dataclass(frozen=True)
class Figure:
    """One figure of a plan: what it is, in the unit it is shown in, with its ends where it has some."""

    label: str
    middle: float | None
    low: float | None
    high: float | None
    unit: str
    digits: int

    def _told(self, figure: float) -> str:
        return f"{shown(figure, self.digits)} {self.unit}".rstrip()

    @property
    def words(self) -> str:
        """The figure and its unit."""
        return NONE if self.middle is None else self._told(self.middle)

    @property
    def ends(self) -> str:
        """How far it may turn out otherwise; nothing where it is decided or counted."""
        if self.low is None or self.low == self.high:
            return ""
        return f"{shown(self.low, self.digits)} to {self._told(self.high)}"

    def __str__(self) -> str:
        return f"{self.words} ({self.ends})" if self.ends else self.words


@dataclass(frozen=True)
class Told:
    """How a figure is found and shown: SI times `scale`, less `zero`, to so many digits."""

    label: str
    find: Callable[[Worked], Span | float | None]
    unit: str = ""
    scale: float = 1.0
    zero: float = 0.0
    digits: int = 3
    rounded_to: float = 0.0

    def of(self, plan: Worked) -> Figure:
        """Return the figure of one plan."""
        found = self.find(plan)
        ends = (found.middle, found.low, found.high) if isinstance(found, Span) else (found, None, None)
        return Figure(self.label, *map(self._shown, ends), self.unit, self.digits)

    def _shown(self, figure: float | None) -> float | None:
        if figure is None:
            return None
        figure = figure * self.scale - self.zero
        return self.rounded_to * round(figure / self.rounded_to) if self.rounded_to else figure


TOLD = {
    "stone": Told("stone to charge", lambda plan: plan.design.stone, "kg"),
    "largest_stone": Told("largest stone", lambda plan: plan.kiln.largest_stone, "mm", MM),
    "kiln_diameter": Told("inside diameter", lambda plan: plan.kiln.kiln_diameter, "m", digits=2),
    "kiln_height": Told("inside height", lambda plan: plan.kiln.kiln_height, "m", digits=2),
    "chimney_height": Told("chimney", lambda plan: plan.kiln.chimney_height, "m", digits=2),
    "fire_temperature": Told(
        "fire to hold", lambda plan: plan.fire.fire_temperature, "°C", zero=ZERO_CELSIUS, rounded_to=10
    ),
    "hours": Told("firing in all", lambda plan: plan.forecast.hours, "h", 1 / HOUR, digits=2),
    "fuel": Told("fuel", lambda plan: plan.forecast.fuel, "kg"),
    "turns": Told("turns at the fire", lambda plan: float(plan.people.turns)),
    "people": Told("people wanted", lambda plan: float(plan.people.needed)),
    "cooling_time": Told("cooling, closed", lambda plan: plan.cooling.cooling_time, "h", 1 / HOUR, digits=2),
    "quicklime": Told("quicklime", lambda plan: plan.forecast.quicklime, "kg"),
    "putty_volume": Told(
        "putty", lambda plan: plan.putty.putty_volume if plan.putty.keeping.as_putty else 0.0, "L", LITRES
    ),
}


def figures(plan: Worked, *names: str) -> dict[str, Figure]:
    """Return the figures of these names, or all, in the order of a burn."""
    return {name: TOLD[name].of(plan) for name in names or TOLD}
