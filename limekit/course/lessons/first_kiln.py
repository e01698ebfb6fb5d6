"""Lesson 5, a first kiln: from the putty wanted to stone, size, hours, wood and a drawing."""

from __future__ import annotations

import pandas as pd

from limekit import balance
from limekit.course.checks import OVER_1000, TIMES_1000, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.pages import Page, Sketch
from limekit.edge import plain
from limekit.estimate import Estimate, shown
from limekit.facts import fact
from limekit.fire.fuel import fuels
from limekit.kiln.design import KilnDesign, design_kiln
from limekit.kiln.sizing import stone_for_putty
from limekit.pictures import plan
from limekit.pictures.design_sheet import design_sheet
from limekit.pictures.section import section_drawing
from limekit.stone.assessment import Assessment
from limekit.units import HOUR


def _drawn_up(
    assessment: Assessment, stone: dict, largest_stone: float, gas_temperature: float, **wanted
) -> KilnDesign:
    hours: Estimate = Assessment.forecast.plain(assessment, largest_stone, gas_temperature)
    return design_kiln.plain(
        largest_stone=largest_stone,
        gas_temperature=gas_temperature,
        burning_time=hours.median,
        burning_time_low=hours.low,
        burning_time_high=hours.high,
        **stone,
        **wanted,
    )


def kiln_explorer(assessment: Assessment, **stone) -> Explorer:
    """Slide the putty wanted, the largest stone, the heat and the wood; see the kiln that follows.

    Parameters
    ----------
    assessment : Assessment
        From `limekit.assess_trial`.
    **stone
        calcium_carbonate, magnesium_carbonate and moisture, as shares or Quantities.
    """
    stone = {name: float(share) for name, share in stone.items()}

    def draw_up(putty_volume: float, largest_stone: float, gas_temperature: float, fuel: str, fuel_moisture: float):
        return _drawn_up(
            assessment,
            stone,
            largest_stone,
            gas_temperature,
            putty_volume=putty_volume,
            fuel=fuel,
            fuel_moisture=fuel_moisture,
        )

    return Explorer(
        [
            Slider("putty_volume", start="800 L", low="200 L", high="3000 L", step=50),
            Slider("largest_stone", start="80 mm", low="40 mm", high="150 mm"),
            Slider("gas_temperature", low="900 degC", high="1150 degC"),
            Choice("fuel", {one.label: name for name, one in fuels().items()}, start="oak", label="fuel"),
            Slider("fuel_moisture", low=0.1, high=0.5),
        ],
        model=draw_up,
        picture=plan.masses_and_hours,
        words=words,
        table=lambda design: pd.DataFrame(design.rows(), columns=["what", "figure", "may turn out", "rests on"]),
        presets={
            "a wall's worth": {"putty_volume": "300 L", "largest_stone": "60 mm"},
            "a house's worth": {"putty_volume": "2500 L", "largest_stone": "100 mm"},
            "wet wood": {"putty_volume": "800 L", "fuel_moisture": 0.45},
        },
        keeps=("kiln", _kept),
    )


def words(design: KilnDesign) -> str:
    """Say a design in one sentence (plain SI floats)."""
    firing, wood = design.firing_time, design.demand.fuel_mass
    return (
        f"{design.putty_volume.middle * 1000:.0f} L of putty ask for {design.stone.middle:.0f} kg of stone in a kiln "
        f"{design.kiln_diameter.middle:.2f} m across and {design.kiln_height.middle:.2f} m high inside, "
        f"{firing.middle / HOUR:.0f} hours of firing ({firing.low / HOUR:.0f} to {firing.high / HOUR:.0f}), "
        f"and {wood.middle:.0f} kg of fuel ({wood.low:.0f} to {wood.high:.0f})."
    )


def _kept(design: KilnDesign) -> dict:
    return {
        "kind": "flare",
        "stone": f"{design.stone.middle:.0f} kg",
        "kiln_diameter": f"{design.kiln_diameter.middle:.2f} m",
        "kiln_height": f"{design.kiln_height.middle:.2f} m",
        "largest_stone": f"{1000 * design.size.largest_stone:.0f} mm",
        "smallest_stone": f"{1000 * design.size.smallest_stone:.0f} mm",
    }


def section(design: KilnDesign) -> Sketch:
    """Draw a designed kiln's section to scale."""
    size = plain(design.size)
    return Sketch(
        section_drawing(size),
        f"Section to scale: {size.kiln_diameter:.2f} m across and {size.kiln_height:.2f} m high inside, "
        f"{size.outer_diameter:.2f} m across outside, with {size.mouths} firing mouth"
        f"{'s' if size.mouths > 1 else ''} and {size.draw_eyes} draw eyes.",
    )


def sheet(design: KilnDesign) -> Page:
    """Set out a design on one page to print."""
    return Page(design_sheet(design), f"Design sheet: {words(plain(design))}")


WANTED = 0.6

stone_for_a_tank = Exercise(
    question=(
        f"You want {1000 * WANTED:.0f} L of putty at {shown(fact('putty_density') / 1000, 3)} kg/L, from a pure stone "
        f"of which {100 * fact('flare_conversion'):.0f} % burns. How much stone is that?"
    ),
    answer=lambda: f"{_stone_for(WANTED)} kg",
    unit="kg",
    slips=(
        Slip("that takes every bit of stone as burnt", lambda _: _stone_for(WANTED, 1.0)),
        Slip("that is the quicklime in it; stone weighs nearly twice as much", lambda right: _quicklime_of(right)),
        TIMES_1000,
        OVER_1000,
    ),
    hint="limekit.stone_for_putty(putty_volume=..., calcium_carbonate=1, conversion=...) does it.",
)

wood_when_wet = Exercise(
    question=(
        "Oak at 45 % moisture in place of 20 %: how many times as much must you stack, by weight, for the same heat?"
    ),
    answer=lambda: _heat(0.20) / _heat(0.45),
    tolerance=0.03,
    shown=".2f",
    slips=(
        Slip("it stands upside down: wet wood gives less, so you need more", lambda right: 1 / right),
        Slip("you counted the dry wood only; the water must be boiled off too", lambda _: 0.80 / 0.55),
    ),
    hint="limekit.lower_heating_value(fuel='oak', moisture=...) for both, and divide.",
)


def _stone_for(volume: float, conversion: float | None = None) -> float:
    conversion = fact("flare_conversion") if conversion is None else conversion
    return stone_for_putty.plain(volume, calcium_carbonate=1.0, conversion=conversion)


def _quicklime_of(stone: float) -> float:
    return balance.mass_balance.plain(stone, 1.0, fact("flare_conversion")).quicklime


def _heat(moisture: float) -> float:
    from limekit.fire.fuel import lower_heating_value

    return lower_heating_value.plain("oak", moisture)
