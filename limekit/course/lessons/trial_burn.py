"""Your trial burn: what a fire did, told by the stones that were in it."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np

from limekit.course.checks import PERCENT, THE_REST, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.lessons.how_hot_how_long import gas_of
from limekit.estimate import Estimate, tens
from limekit.frames import frame
from limekit.pictures import trial as pictures
from limekit.pictures.glow import glow_picture, glow_words
from limekit.pictures.pages import Table
from limekit.plan.plan import YOURS, Plan
from limekit.records.examples import example_path
from limekit.records.trial_sheet import trial_columns
from limekit.stone.assessment import Assessment, assess_trial
from limekit.stone.glow import COLOURS
from limekit.stone.trial import Trial, conversion_by_core, conversion_by_weight
from limekit.units import HOUR, MM, ZERO_CELSIUS

OWN_SIZES = 8  # of pieces, at fewer of which the band of the model is told: how those burn is known already
EXAMPLE = "trial_example.csv"
SAME = 1e-6  # m, within which a core is taken as the one in the record


@dataclass(frozen=True)
class Told:
    """A trial with one row edited, and what it then tells of a kiln's largest stone, in plain SI floats."""

    trial: Trial
    edited: int
    assessment: Assessment
    diameter: float
    gas_temperature: float
    forecast: Estimate


def with_trial(plan: Plan) -> Plan:
    """Return the plan, or the invented example's where no trial of its own stone has been burnt yet."""
    if plan.plain.trial is not None:
        return plan
    print("Until then this lesson looks at the invented example's trial, and at its stone.")
    return Plan.of(trial=example_path(EXAMPLE))


def noted(trial: Trial) -> Table:
    """Show a trial's sheet as it was read."""
    columns, names = trial_columns(trial), (piece.name for piece in trial.pieces)
    cells = ([_cell(cell) for cell in column] for column in columns.values())
    return Table(("piece", *columns), tuple(zip(names, *cells, strict=True)))


def _cell(cell: str | float | None) -> str:
    if cell is None:
        return "–"
    return cell if isinstance(cell, str) else f"{cell:g}"


def trial_explorer(plan: Plan) -> Explorer:
    """Edit one row of a plan's trial and hear what the stones then say; nothing in the plan is changed.

    A core that is edited stands alone: the piece's weight is set aside with it.
    """
    trial, diameter, gas = plan.plain.tried, plan.plain.decided.get("largest_stone"), gas_of(plan.plain)
    places = {piece.name: place for place, piece in enumerate(trial.pieces)}
    cored = [place for place, piece in enumerate(trial.pieces) if piece.core]
    first = cored[len(cored) // 2] if cored else 0
    middling = float(np.median([piece.time_in_heat for piece in trial.pieces]))

    def core_of(place: int) -> str:
        return f"{1000 * (trial.pieces[place].core or 0.0)} mm"

    def edited(piece: int, core_size: float, time_in_heat: float, glow: str) -> Told:
        pieces = [
            dataclasses.replace(
                one, glow=one.glow and (glow or one.glow), time_in_heat=one.time_in_heat * time_in_heat / middling
            )
            for one in trial.pieces
        ]
        core = min(core_size, pieces[piece].largest_size)
        if abs(core - (pieces[piece].core or 0.0)) > SAME:
            pieces[piece] = dataclasses.replace(pieces[piece], core_size=core, mass_after=None)
        then = dataclasses.replace(trial, pieces=tuple(pieces))
        assessment = assess_trial.plain(then)
        forecast = Assessment.forecast.plain(assessment, diameter, *gas)
        return Told(then, piece, assessment, diameter, gas[0], forecast)

    explorer = Explorer(
        [
            Choice("piece", places, start=first, label="piece to edit"),
            Slider("core_size", start=core_of(first), low="0 mm", high="100 mm", step=1, label="its core"),
            Slider("time_in_heat", start=f"{middling / 60} min", low="15 min", high="180 min", step=5),
            Choice("glow", {"as in the table": "", **{colour: colour for colour in COLOURS}}, label="glow you saw"),
        ],
        model=edited,
        picture=_picture,
        words=_words,
        table=_table,
    )
    explorer.controls["piece"].observe(lambda change: explorer.set(core_size=core_of(change["new"])), "value")
    return explorer


def _picture(told: Told):
    pieces, known = told.trial.pieces, told.assessment.posterior
    own, time = np.unique([piece.diameter for piece in pieces]), float(np.median([one.time_in_heat for one in pieces]))
    sizes = np.array([0.8 * own[0], *own[:: 1 + len(own) // OWN_SIZES], 1.1 * own[-1]])
    burnt = [known.burnt(float(size), time) for size in sizes]
    chances = known.levels, known.prior, known.by_level
    return pictures.burnt_and_heat(pieces, told.assessment.comparisons, told.edited, sizes, burnt, *chances)


def _words(told: Told) -> str:
    fire, hours = told.assessment.gas_temperature, told.forecast
    level, low, high = (tens(figure - ZERO_CELSIUS) for figure in (fire.median, fire.low, fire.high))
    middle, least, most = (figure / HOUR for figure in (hours.median, hours.low, hours.high))
    piece = told.trial.pieces[told.edited]
    core = f"a core of {1000 * piece.core:.0f} mm" if piece.core else "no core"
    return (
        f"With {core} in piece {piece.name}, your fire stood at about {level} °C (nine times in ten {low} to "
        f"{high} °C); in a kiln at {told.gas_temperature - ZERO_CELSIUS:.0f} °C a stone of {MM * told.diameter:.0f} mm "
        f"of the same kind would want about {middle:.1f} hours in the heat ({least:.1f} to {most:.1f})."
    )


def _table(told: Told):
    rows = [
        (piece.name, f"{1000 * piece.diameter:.0f}", compared.by_weight or "–", compared.by_core or "–", compared.cause)
        for piece, compared in zip(told.trial.pieces, told.assessment.comparisons, strict=True)
    ]
    return frame(rows, columns=["piece", "burns like a ball of [mm]", "by weight", "by core", "likely cause"])


def remarks(plan: Plan) -> str:
    """Say what was assumed in reading a plan's trial, and what is odd about it."""
    whose = "as you kept it" if plan.whose("calcium_carbonate") == YOURS else "as the example is"
    stone = f"Its stone is taken as {100 * plan.plain.tried.stone.calcium_carbonate:.1f} % calcium carbonate, {whose}."
    return "\n\n".join(f"- {remark}" for remark in (stone, *plan.assessment.remarks))


def fire_and_next(plan: Plan) -> str:
    """Say how hot a plan's trial was, and what to measure next to know its kiln's hours better."""
    known, fire = plan.plain.assessment, plan.plain.assessment.gas_temperature
    level, low, high = (f"{figure - ZERO_CELSIUS:.0f} °C" for figure in (fire.median, fire.low, fire.high))
    ranked = Assessment.next_measurement.plain(known, plan.plain.decided.get("largest_stone"), *gas_of(plan.plain)[:2])
    return (
        f"By its stones, this fire stood at **{level}** (nine times in ten between {low} and {high}). To know better "
        f"how long a kiln needs, the most telling thing to do next is {ranked[0]}."
    )


def glow_explorer() -> Explorer:
    """Slide a stone's temperature; see its colour, and how four tables would name it."""
    return Explorer(
        [Slider("temperature", start="900 degC", low="500 degC", high="1300 degC", label="temperature of the stone")],
        model=lambda temperature: temperature,
        picture=glow_picture,
        words=glow_words,
    )


BEFORE, AFTER, CARBONATE = 0.420, 0.287, 0.95
WIDTH, CORE = 0.060, 0.030

burnt_by_weight = Exercise(
    question=(
        f"A dry piece of {1000 * BEFORE:.0f} g came out at {1000 * AFTER:.0f} g. Its stone is "
        f"{100 * CARBONATE:.0f} % calcium carbonate. What share of that carbonate has burnt?"
    ),
    answer=lambda: conversion_by_weight.plain(BEFORE, AFTER, CARBONATE, stone_moisture=0.0).conversion,
    tolerance=0.01,
    slips=(
        Slip(
            "that is the weight it lost, not the share burnt: a full burn loses less than half",
            lambda _: 1 - AFTER / BEFORE,
        ),
        Slip(
            "that takes the stone for pure: its clay loses nothing",
            lambda _: conversion_by_weight.plain(BEFORE, AFTER, 1.0, stone_moisture=0.0).conversion,
        ),
        Slip(
            "you divided by the burnt weight: the loss is a share of the dry stone",
            lambda right: right * BEFORE / AFTER,
        ),
        PERCENT,
        THE_REST,
    ),
    hint="Divide the share of weight it lost by the share a full burn would have lost.",
)

burnt_by_core = Exercise(
    question=(
        f"A round piece of {1000 * WIDTH:.0f} mm broke open on a grey core of {1000 * CORE:.0f} mm. "
        "What share of it has burnt?"
    ),
    answer=lambda: conversion_by_core.plain(WIDTH, CORE).conversion,
    tolerance=0.01,
    slips=(
        Slip("you compared widths: a piece is a solid, so the core counts by its cube", lambda _: 1 - CORE / WIDTH),
        Slip(
            "you compared areas: a piece is a solid, so the core counts by its cube", lambda _: 1 - (CORE / WIDTH) ** 2
        ),
        PERCENT,
        THE_REST,
    ),
    hint="Half as wide is an eighth of the stone.",
)

LOST = 0.35


def _core(raw: float, power: float = 1 / 3) -> float:
    return 1000 * WIDTH * raw**power


def _raw() -> float:
    return 1.0 - conversion_by_weight.plain(BEFORE, BEFORE * (1.0 - LOST), CARBONATE, stone_moisture=0.0).conversion


core_to_expect = Exercise(
    question=(
        f"A dry, round piece {1000 * WIDTH:.0f} mm across, its stone {100 * CARBONATE:.0f} % calcium carbonate, has "
        f"lost {100 * LOST:.0f} % of its weight. How wide a grey core should you find when you break it?"
    ),
    answer=lambda: f"{_core(_raw())} mm",
    unit="mm",
    shown=".0f",
    slips=(
        Slip(
            "you shrank the width by the share burnt: a piece is a solid, so take the cube root",
            lambda _: _core(_raw(), 1),
        ),
        Slip("you took the square root: a piece is a solid, so take the cube root", lambda _: _core(_raw(), 1 / 2)),
        Slip("that is from the middle to the front; a core is measured right across", lambda right: right / 2),
        Slip("that is the lime on both sides of it, not the core", lambda right: 1000 * WIDTH - right),
        Slip(
            "you took the weight it lost for the share burnt: a full burn loses less than half",
            lambda _: _core(1 - LOST),
        ),
        Slip("that is the core if what has burnt were still stone", lambda _: _core(1.0 - _raw())),
    ),
    hint="First the share burnt, by weight; what is left of one, its cube root, times the width.",
)
