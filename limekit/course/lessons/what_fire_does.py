"""What the fire does: the balance between limestone, lime and the gas around them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from limekit import chemistry
from limekit.course.checks import PERCENT, THE_REST, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.facts import rivals
from limekit.frames import frame
from limekit.pictures import stone as pictures
from limekit.units import ZERO_CELSIUS

SMOKE, STILL = 0.25, 1.0


@dataclass(frozen=True)
class GivingWay:
    """Where limestone begins to give way in one gas: kelvin by each published curve, the default first."""

    co2_fraction: float
    temperatures: dict[str, float]

    @property
    def temperature(self) -> float:
        """By the default curve, in kelvin."""
        return next(iter(self.temperatures.values()))


def giving_way(co2_fraction: float) -> GivingWay:
    """Work out where limestone gives way at 1 atm, by every published curve (share by volume, 0 to 1)."""
    return GivingWay(
        co2_fraction,
        {
            one.source: chemistry.dissociation_temperature.plain(co2_fraction * chemistry.ATMOSPHERE, one.variant)
            for one in rivals("dissociation_slope")
        },
    )


def _words(found: GivingWay) -> str:
    low, high = (end - ZERO_CELSIUS for end in (min(found.temperatures.values()), max(found.temperatures.values())))
    return (
        f"In gas with {100 * found.co2_fraction:.0f} % carbon dioxide limestone begins to give way at about "
        f"{found.temperature - ZERO_CELSIUS:.0f} °C; three published curves put it between {low:.0f} and {high:.0f} °C."
    )


def _table(found: GivingWay):
    return frame(
        [(source, f"{kelvin - ZERO_CELSIUS:.1f}") for source, kelvin in found.temperatures.items()],
        columns=["measured or compiled by", "begins to give way [°C]"],
    )


def giving_way_explorer() -> Explorer:
    """Slide the carbon dioxide in the gas; see how hot the stone must be."""
    return Explorer(
        [Slider("co2_fraction", low=0.01, high=1.0)],
        model=giving_way,
        picture=lambda found: pictures.giving_way(found.co2_fraction, found.temperature),
        words=_words,
        table=_table,
        presets={
            "a breath of wind through the fire": {"co2_fraction": 0.05},
            "smoke of a wood fire, little air to spare": {"co2_fraction": 0.15},
            "fire gas and stone gas together": {"co2_fraction": SMOKE},
            "a stone wrapped in its own gas": {"co2_fraction": STILL},
        },
    )


def _celsius(co2_fraction: float) -> Callable:
    return lambda _: giving_way(co2_fraction).temperature - ZERO_CELSIUS


hotter_by_how_much = Exercise(
    question="How many degrees hotter must a stone be in its own gas alone than in gas with a quarter carbon dioxide?",
    answer=lambda: giving_way(STILL).temperature - giving_way(SMOKE).temperature,
    unit="delta_degC",
    tolerance=0.05,
    shown=".0f",
    slips=(
        Slip("that is the heat in the stone's own gas, not the difference", _celsius(STILL)),
        Slip("that is the heat in the mixed gas, not the difference", _celsius(SMOKE)),
        Slip("a difference has no zero to be counted from: leave the 273 out", lambda right: right + ZERO_CELSIUS),
    ),
    hint="Slide to a quarter, read the temperature, slide to the far right, read again, and subtract.",
)

CORNER = 820.0


def _most_gas(kelvin: float) -> float:
    return chemistry.dissociation_pressure.plain(kelvin) / chemistry.ATMOSPHERE


gas_in_a_corner = Exercise(
    question=(
        f"A corner of the kiln never gets above {CORNER:.0f} °C. What share of the gas there may be carbon dioxide, at "
        "the most, before a stone stops burning?"
    ),
    answer=lambda: _most_gas(CORNER + ZERO_CELSIUS),
    tolerance=0.04,
    shown=".2f",
    slips=(
        PERCENT,
        THE_REST,
        UPSIDE_DOWN,
        Slip("you put °C where the formula wants kelvin: add 273.15", lambda _: _most_gas(CORNER)),
        Slip(
            "that is in pascal; divide by the push of all the gas together", lambda right: right * chemistry.ATMOSPHERE
        ),
    ),
    hint="Slide until the stone gives way at just that heat, and read the share off.",
)

CLAYEY = 0.9

burnt_mass = Exercise(
    question=(
        f"A dry piece of 1000 g is {100 * CLAYEY:.0f} % calcium carbonate and the rest clay, which stays. "
        "What does it weigh when it is burnt right through?"
    ),
    answer=lambda: 1000.0 * (1.0 - chemistry.loss_on_ignition.plain(CLAYEY)),
    unit="g",
    tolerance=0.01,
    slips=(
        Slip("that is the gas that left, not what stays", lambda right: 1000.0 - right),
        Slip(
            "that is a stone with no clay in it: clay loses nothing",
            lambda _: 1000.0 * (1.0 - chemistry.loss_on_ignition.plain(1.0)),
        ),
        Slip("you lost the clay as well: clay stays", lambda right: right - 1000.0 * (1.0 - CLAYEY)),
        Slip("that takes half of the carbonate away; it loses less than half", lambda _: 1000.0 * (1.0 - CLAYEY / 2)),
    ),
    hint="Only the carbonate loses weight, and it loses a little under half.",
)
