"""What a reader moves: sliders and dropdowns made from the glossary.

A slider stands in the glossary's unit (mm, °C, h); the model behind it is
given the plain SI float. Limits, step, label and unit come from the
glossary, and the start from the fact of the same name or the glossary's
example, unless a lesson says otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import ipywidgets
import numpy as np

from limekit import facts, glossary
from limekit.fire.fuel import fuels
from limekit.units import quantity

PLAY_PAUSE_MS = 400
DIGITS = 12  # of a slider's value; the page sends 6.000000000000001 for 6


@dataclass(frozen=True)
class Slider:
    """A quantity to slide.

    Parameters
    ----------
    name : str
        The argument's name in the glossary.
    start, low, high : str, float or pint.Quantity, optional
        As a person would write them; a bare number is in the glossary's unit.
    step : float, optional
        In the glossary's unit.
    label : str, optional
        In place of the glossary's; its unit follows, unless one in brackets ends the label.
    plays : bool
        Whether a play button can run it from end to end, as for time.
    looks : bool
        Whether it only changes how the result is looked at: the model is not run again, and
        its value goes to the picture and the words instead.
    """

    name: str
    start: object = None
    low: object = None
    high: object = None
    step: float | None = None
    label: str | None = None
    plays: bool = False
    looks: bool = False

    @cached_property
    def entry(self) -> glossary.Entry:
        """The quantity's row in the glossary."""
        return glossary.entry(self.name)

    @cached_property
    def _line(self) -> tuple[float, float]:
        at_zero, at_one = (float(quantity(end, self.entry.unit).to_base_units().magnitude) for end in (0.0, 1.0))
        return at_zero, at_one - at_zero

    def si(self, shown: float) -> float:
        """Return the SI float for a value in the slider's unit, rid of the page's rounding."""
        offset, scale = self._line
        return offset + scale * float(f"{shown:.{DIGITS}g}")

    def reads(self, si: float) -> float:
        """Return the value in the slider's unit for an SI float."""
        offset, scale = self._line
        return (si - offset) / scale

    def nearest(self, si: float, widget: ipywidgets.FloatSlider) -> float:
        """Return the value, of those a slider can stand at, that is nearest to an SI float."""
        inside = min(max(self.reads(si), widget.min), widget.max)
        return min(widget.min + round((inside - widget.min) / widget.step) * widget.step, widget.max)

    def shown(self, given) -> float:
        """Return a value in the slider's unit from what a person wrote: ``"60 mm"``, a Quantity, a number."""
        asked = f"{self.name} ({self.entry.label})"
        return float(quantity(given, self.entry.unit, asked, self.entry.written).to(self.entry.unit).magnitude)

    @property
    def ends(self) -> tuple[float, float]:
        """Where it ends, in its unit."""
        low = self.entry.slide_from if self.low is None else self.shown(self.low)
        high = self.entry.slide_to if self.high is None else self.shown(self.high)
        return low, high

    def grid(self, points: int) -> np.ndarray:
        """Return SI floats evenly from end to end, for the curve that the slider's mark runs along."""
        return np.linspace(*map(self.si, self.ends), points)

    def _first(self) -> float:
        if self.start is not None:
            return self.shown(self.start)
        if self.name in facts.table():
            return self.reads(facts.fact(self.name))
        return self.shown(self.entry.example)

    @property
    def _description(self) -> str:
        if self.label and self.label.endswith("]"):
            return self.label
        return self.entry.axis.replace(self.entry.label, self.label or self.entry.label)

    def widget(self) -> ipywidgets.FloatSlider:
        """Make the slider, with its label, its unit and its value as text."""
        low, high = self.ends
        step = self.step or self.entry.step
        return ipywidgets.FloatSlider(
            value=min(max(self._first(), low), high),
            min=low,
            max=high,
            step=step,
            description=self._description,
            readout_format=_readout(step, is_share=not self.entry.unit and high <= 1),
            tooltip=self.entry.help,
        )


def _readout(step: float, is_share: bool) -> str:
    places = max(0, -math.floor(math.log10(step) + 1e-9)) if step < 1 else 0
    if is_share:
        return f".{max(0, places - 2)}%"
    return f".{places}f" if places < 4 else ".2e"


@dataclass(frozen=True)
class Choice:
    """One of several, in a dropdown.

    Parameters
    ----------
    name : str
        The model's argument.
    options : mapping, or iterable of str
        From the words shown to the value the model is given; words alone are themselves the value.
    start : object, optional
        The value chosen at first; without one, the first.
    label : str, optional
        Without one, the argument's name.
    looks : bool
        As for `Slider`.
    """

    name: str
    options: Mapping | Iterable[str]
    start: object = None
    label: str | None = None
    looks: bool = False
    plays = False

    def si(self, shown):
        """Return the value as it stands."""
        return shown

    def shown(self, given):
        """Return the value as it stands."""
        return given

    def nearest(self, chosen, _widget: ipywidgets.Dropdown):
        """Return what is chosen as it stands."""
        return chosen

    def widget(self) -> ipywidgets.Dropdown:
        """Make the dropdown."""
        by_words = self.options if isinstance(self.options, Mapping) else {word: word for word in self.options}
        start = next(iter(by_words.values())) if self.start is None else self.start
        label = self.label or self.name.replace("_", " ")
        return ipywidgets.Dropdown(options=list(by_words.items()), value=start, description=label)


def fuel_choice(start: str = "oak") -> Choice:
    """Return the choice of a fuel, by the words for it."""
    return Choice("fuel", {one.label: name for name, one in fuels().items()}, start=start)


def player(slider: ipywidgets.FloatSlider) -> ipywidgets.Play:
    """Make a play button that runs a slider step by step from end to end."""
    steps = round((slider.max - slider.min) / slider.step)
    play = ipywidgets.Play(min=0, max=steps, interval=PLAY_PAUSE_MS, show_repeat=False, tooltip="run it in time")

    def place() -> int:
        return round((slider.value - slider.min) / slider.step)

    def follow_play(change):
        if change["new"] != place():
            slider.value = slider.min + change["new"] * slider.step

    def follow_slider(_):
        play.value = place()

    follow_slider(None)
    play.observe(follow_play, "value")
    slider.observe(follow_slider, "value")
    return play
