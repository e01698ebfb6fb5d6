"""A first kiln: from the putty wanted to stone, size, hours, wood and a drawing."""

from __future__ import annotations

import math

import pandas as pd

from limekit import balance
from limekit.course.checks import Exercise, Slip
from limekit.course.controls import Slider, fuel_choice
from limekit.course.explorer import Explorer
from limekit.course.pages import Page, Sketch
from limekit.course.recorded import design_of, verdict_of
from limekit.edge import plain
from limekit.estimate import shown
from limekit.facts import fact
from limekit.fire.fuel import fuels
from limekit.kiln.design import KilnDesign
from limekit.kiln.firing import beside_others
from limekit.kiln.keeping import usual_stoking_rate
from limekit.kiln.sizing import size_kiln, stone_for_putty
from limekit.pictures import sizing as pictures
from limekit.pictures.ground_plan import ground_plan_drawing
from limekit.pictures.section import section_drawing
from limekit.pictures.sheets import design_sheet
from limekit.records.kiln_record import Record
from limekit.stone.assessment import Assessment
from limekit.units import HOUR, MM, TONNE, ZERO_CELSIUS


def kiln_explorer(record: Record, assessment: Assessment) -> Explorer:
    """Slide the putty wanted, the stone, the heat, the wood and the chimney; see the kiln that follows.

    Where the record's stone may not be kept as putty, the stone charged is slid in its place.

    Parameters
    ----------
    record : Record
        Where the sliders start, and everything they do not slide.
    assessment : Assessment
        Of the trial, from `limekit.assess_trial`.
    """
    assessment = plain(assessment)
    graded = plain(record.quantity("kiln.smallest_stone")) / plain(record.quantity("kiln.largest_stone"))

    def draw_up(largest_stone: float, **wanted) -> KilnDesign:
        return design_of(
            record, assessment, largest_stone=largest_stone, smallest_stone=graded * largest_stone, **wanted
        )

    def started(name: str, key: str, low: str, high: str, step: float | None = None) -> Slider:
        return Slider(name, start=record.quantity(key), low=low, high=high, step=step)

    design, as_putty = design_of(record, assessment), verdict_of(record).keeping.as_putty
    presets = {"wet wood": {"fuel_moisture": 0.45}, "a chimney": {"chimney_height": "4 m"}}
    if as_putty:
        presets = {
            "a wall's worth": {"putty_volume": "300 L", "largest_stone": "60 mm"},
            "a house's worth": {"putty_volume": "2500 L", "largest_stone": "100 mm"},
        } | presets
    return Explorer(
        [
            started("putty_volume", "lime.putty_volume", "100 L", "3000 L", 10)
            if as_putty
            else started("stone", "kiln.stone", "250 kg", "3000 kg", 10),
            Slider("largest_stone", start=record.quantity("kiln.largest_stone")),
            Slider(
                "stoking_rate", start=f"{HOUR * usual_stoking_rate(plain(design.stone).middle):.0f} kg/h", low="5 kg/h"
            ),
            fuel_choice(record.fuel.kind),
            Slider("fuel_moisture", start=record.quantity("fuel.fuel_moisture"), low=0.1, high=0.5),
            started("chimney_height", "kiln.chimney_height", "0 m", "8 m"),
        ],
        model=draw_up,
        picture=pictures.masses_and_hours,
        words=words,
        table=lambda design: pd.DataFrame(design.rows(), columns=["what", "figure", "may turn out", "rests on"]),
        presets=presets,
        keeps=_kept,
    )


def words(design: KilnDesign) -> str:
    """Say a design in one sentence (plain SI floats)."""
    firing, wood, stone = design.firing_time, design.fuel_mass, f"{design.stone.middle:.0f} kg of stone"
    asked = (
        f"{design.putty_volume.middle * 1000:.0f} L of putty ask for {stone}"
        if design.keeping.as_putty
        else f"{design.quicklime.middle:.0f} kg of quicklime, and no putty, come of {stone}"
    )
    return (
        f"{asked} in a kiln {design.kiln_diameter.middle:.2f} m across and {design.kiln_height.middle:.2f} m high "
        f"inside, {wood.middle:.0f} kg of fuel ({wood.low:.0f} to {wood.high:.0f}), and {firing.middle / HOUR:.0f} "
        f"hours of firing ({firing.low / HOUR:.0f} to {firing.high / HOUR:.0f}{_if_fed(design)}). {_pace(design)}"
    )


def _if_fed(design: KilnDesign) -> str:
    """Say of a range of hours that it is so narrow for a feeding held to, and how wide it is for any other."""
    rate, finish = design.firing.plan.fire.stoking_rate, design.firing.finish
    if rate is None or finish is None:
        return ""
    other = beside_others(finish, "hours")
    return f" if up to {HOUR * rate:.0f} kg/h are fed, else {other.low / HOUR:.0f} to {other.high / HOUR:.0f}"


def _pace(design: KilnDesign) -> str:
    if design.firing.finish is None:
        return f"Fired so, it is never done: {design.firing.verdict}"
    return " ".join(map(str, design.firing.limits))


def _kept(design: KilnDesign) -> dict:
    size = design.size
    return {
        "kiln": {
            "kind": "flare",
            "stone": f"{design.stone.middle:.0f} kg",
            "kiln_diameter": f"{design.kiln_diameter.middle:.2f} m",
            "kiln_height": f"{design.kiln_height.middle:.2f} m",
            "largest_stone": f"{MM * size.largest_stone:.0f} mm",
            "smallest_stone": f"{MM * size.smallest_stone:.0f} mm",
            "chimney_height": f"{design.chimney_height:.2f} m",
        },
        "burn": {
            "gas_temperature": f"{design.gas_temperature - ZERO_CELSIUS:.0f} degC",
        },
        "fuel": {
            "name": fuels()[design.fuel].label,
            "fuel_moisture": design.fuel_moisture,
            "fuel_mass": f"{design.fuel_mass.middle:.0f} kg",
        },
    } | ({"lime": {"putty_volume": f"{1000 * design.putty_volume.middle:.0f} L"}} if design.keeping.as_putty else {})


def drawings(design: KilnDesign) -> Sketch:
    """Draw a designed kiln in section and in plan, to one scale."""
    size = plain(design.size)
    return Sketch(
        section_drawing(size) + ground_plan_drawing(size),
        f"Section and plan to scale: {size.kiln_diameter:.2f} m across and {size.kiln_height:.2f} m high inside, "
        f"{size.outer_diameter:.2f} m across outside, with {size.mouths} firing mouth"
        f"{'s' if size.mouths > 1 else ''} and {size.draw_eyes} draw eyes, and {size.ties} iron ties round it.",
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
    ),
    hint="limekit.stone_for_putty(putty_volume=..., calcium_carbonate=1, conversion=...) does it.",
)

CHARGE = 1200.0

how_wide = Exercise(
    question=(
        f"A flare kiln takes {fact('flare_charge_density') / TONNE:.1f} t of stone on each cubic metre of its inside "
        f"and is {fact('flare_height_to_diameter'):.1f} times as high as wide. How wide is one for {CHARGE:.0f} kg?"
    ),
    answer=lambda: f"{_wide()} m",
    unit="m",
    slips=(
        Slip("that is the radius, from the middle to the wall", lambda right: right / 2),
        Slip("that is how high it is", lambda right: right * fact("flare_height_to_diameter")),
        Slip("that is a cube of the same room; a kiln is round, and higher than wide", lambda _: _room() ** (1 / 3)),
        Slip(
            "you left out that it is higher than it is wide",
            lambda right: right * fact("flare_height_to_diameter") ** (1 / 3),
        ),
    ),
    hint="limekit.size_kiln(stone=..., largest_stone='80 mm').diameter does it; the room is 0.785 × width² × height.",
)

BANDS, ACROSS = 3, 1.7

iron_to_buy = Exercise(
    question=(
        f"{BANDS} iron ties go round a kiln {ACROSS:g} m across outside, and each wants "
        f"{fact('tie_lap'):g} m more for the bolt that tightens it. How much flat bar do you buy?"
    ),
    answer=lambda: f"{BANDS * (math.pi * ACROSS + fact('tie_lap'))} m",
    unit="m",
    slips=(
        Slip("that is for one tie", lambda right: right / BANDS),
        Slip("the ends for the bolts are missing", lambda _: BANDS * math.pi * ACROSS),
        Slip("you went round with twice the width: round is 3.14 times the width", lambda right: 2 * right),
        Slip("you took the width for the way round", lambda _: BANDS * (ACROSS + fact("tie_lap"))),
    ),
    hint="Round a circle it is 3.14 times the width; then the end for the bolt, then all the ties.",
)


def _room() -> float:
    return CHARGE / fact("flare_charge_density")


def _wide() -> float:
    return size_kiln.plain(CHARGE, fact("flare_largest_stone")).kiln_diameter


def _stone_for(volume: float, conversion: float | None = None) -> float:
    conversion = fact("flare_conversion") if conversion is None else conversion
    return stone_for_putty.plain(volume, calcium_carbonate=1.0, conversion=conversion)


def _quicklime_of(stone: float) -> float:
    return balance.mass_balance.plain(stone, 1.0, fact("flare_conversion")).quicklime
