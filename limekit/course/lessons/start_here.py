"""Start here: how a quantity is written, so that no unit is ever guessed."""

from __future__ import annotations

from limekit.course.checks import Exercise, Slip
from limekit.units import ZERO_CELSIUS, quantity

HEAP, HEAT, RISE = "0.4 tonne", "1800 degF", "90 delta_degF"

stone_in_kilograms = Exercise(
    question=f"A heap of stone is {HEAP}. How many kilograms is that?",
    answer=lambda: quantity(HEAP),
    unit="kg",
    slips=(
        Slip("a tonne has a thousand kilograms, not a hundred", lambda right: right / 10),
        Slip(
            "that is the American ton of 2000 pounds: the word alone says too little",
            lambda right: right * (quantity("1 short_ton") / quantity("1 tonne")).to("").magnitude,
        ),
    ),
    hint="A tonne is a thousand kilograms.",
)

fire_in_celsius = Exercise(
    question=f"An old potter's note gives a fire as {HEAT.replace(' degF', ' °F')}. What is that in °C?",
    answer=lambda: quantity(HEAT),
    unit="degC",
    tolerance=0.005,
    shown=".0f",
    slips=(
        Slip("32 comes off before the five ninths, not after", lambda _: quantity(HEAT).magnitude * 5 / 9 - 32),
        Slip("the 32 was left on: take it off first", lambda _: quantity(HEAT).magnitude * 5 / 9),
    ),
    hint="Take 32 away, then five ninths of the rest; or let limekit.quantity do it.",
)

rise_in_celsius = Exercise(
    question=f"In an hour the fire has risen by {RISE.replace(' delta_degF', ' °F')}. By how many °C is that?",
    answer=lambda: quantity(RISE),
    unit="delta_degC",
    tolerance=0.01,
    shown=".0f",
    slips=(
        Slip(
            "the 32 counts for a fire's heat and falls out of a rise, which is one heat less another",
            lambda _: (quantity(RISE).magnitude - 32) * 5 / 9,
        ),
        Slip("a rise has no zero to be counted from: leave the 273 out", lambda right: right + ZERO_CELSIUS),
        Slip("you went the wrong way: nine °F are five °C", lambda _: quantity(RISE).magnitude * 9 / 5),
        Slip("those are still °F", lambda _: quantity(RISE).magnitude),
    ),
    hint='limekit.quantity("12 delta_degF").to("delta_degC") does another.',
)
