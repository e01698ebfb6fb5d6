"""Lesson 0, start here: how a quantity is written, so that no unit is ever guessed."""

from __future__ import annotations

from limekit.course.checks import KELVIN_AS_CELSIUS, OVER_1000, TIMES_1000, Exercise, Slip
from limekit.units import quantity

HEAP, HEAT = "0.4 tonne", "1800 degF"

stone_in_kilograms = Exercise(
    question=f"A heap of stone is {HEAP}. How many kilograms is that?",
    answer=lambda: quantity(HEAP),
    unit="kg",
    slips=(OVER_1000, TIMES_1000),
    hint="A tonne is a thousand kilograms.",
)

fire_in_celsius = Exercise(
    question=f"An old potter's note gives a fire as {HEAT.replace(' degF', ' °F')}. What is that in °C?",
    answer=lambda: quantity(HEAT),
    unit="degC",
    tolerance=0.005,
    shown=".0f",
    slips=(
        KELVIN_AS_CELSIUS,
        Slip("32 comes off before the five ninths, not after", lambda _: quantity(HEAT).magnitude * 5 / 9 - 32),
        Slip("the 32 was left on: take it off first", lambda _: quantity(HEAT).magnitude * 5 / 9),
    ),
    hint="Take 32 away, then five ninths of the rest; or let limekit.quantity do it.",
)
