"""A kiln's size: one burn of it drawn up, and kilns side by side."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from limekit.estimate import Span
from limekit.kiln.design import KilnDesign
from limekit.kiln.ensemble import FiringRange
from limekit.kiln.shaft.state import LIMITS
from limekit.kiln.shaft.steady import ShaftWindow
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, UNTOLD, Picture
from limekit.units import DAY, HOUR, TONNE

ROW, FRAME = 38, 190
THIN = {"thickness": 2, "width": 6}  # of error bars
ASIDE = 0.17  # of a row, that the two marks stand apart
GOOD = "burns well"
KEY_WIDE = 70  # letters to a line
LETTERS = {  # each limit of a shaft with its letter; what burns well has none
    "": "",
    "out": "o",
    "unburnt fuel": "u",
    "raw core": "c",
    "overburnt": "d",
    "hot lime": "h",
    "hot top": "t",
    "unsettled": "?",
}


def masses_and_hours(
    design: KilnDesign, hours: Span, fuel: Span, cooling_time: float | None, watch_time: float
) -> Picture:
    """Draw the masses of a burn beside its hours, with their ranges and the ends of the turns.

    A small diamond shows the hours by rule of thumb, to hold against the firing. Hours (s) and fuel (kg) are those to
    plan with; the kiln cools closed until the lime can be drawn, `cooling_time` (s), None where that takes longer than
    anybody waits.
    """
    masses = [
        ("stone in", design.stone, looks.STONE),
        ("fuel in", fuel, looks.WOOD),
        ("lime drawn", design.drawn, looks.LIME),
        ("quicklime in it", design.quicklime, looks.LIME),
    ]
    drawn = Picture("One burn")
    drawn.rows(
        "kg",
        [span.middle for _, span, _ in masses],
        [name for name, _, _ in masses],
        marker={"color": [colour for *_, colour in masses]},
        error_x=looks.spanned([span for _, span, _ in masses], **THIN),
        hovertemplate="%{y}: %{x:.0f} kg<extra></extra>",
    )
    lasts_in_all = hours.middle
    slow = min(design.firing.plan.slow_start, lasts_in_all)
    for name, start, lasts, colour, hatch in (
        ("letting the fire grow", 0.0, slow, looks.FIRE, "/"),
        ("full fire", slow, lasts_in_all - slow, looks.FIRE, ""),
        ("cooling, closed", lasts_in_all, cooling_time or 0.0, looks.AIR, "."),
    ):
        drawn.rows(
            name,
            [lasts / HOUR],
            [name],
            base=[start / HOUR],
            marker=looks.hatched(colour, hatch),
            hovertemplate=f"{name}: {lasts / HOUR:.1f} h<extra></extra>",
            **BESIDE,
        )
    drawn.rows(
        "firing in all",
        [lasts_in_all / HOUR],
        ["firing in all"],
        base=[0.0],
        marker={"color": looks.MUTED},
        error_x=looks.spanned([hours], HOUR, **THIN),
        hovertemplate="firing in all: %{x:.1f} h<extra></extra>",
        **BESIDE,
    )
    drawn.marks(
        "by rule of thumb",
        [design.rule_time.middle / HOUR],
        ["firing in all"],
        marker={"color": looks.INK, "symbol": "diamond", "size": 9},
        hovertemplate="%{x:.1f} h by rule of thumb<extra></extra>",
        **BESIDE,
    )
    turn = watch_time / HOUR
    ends = [turn * number for number in range(1, math.ceil(lasts_in_all / HOUR / turn) + 1)]
    drawn.line(
        "a turn ends",
        [place for end in ends for place in (end, end, None)],
        [name for _ in ends for name in ("firing in all", "letting the fire grow", None)],
        looks.INK,
        "dot",
        1.5,
        hoverinfo="skip",
        **BESIDE,
    )
    return drawn.panes(0.36, 0.64).laid(
        height=400,
        bargap=0.35,
        showlegend=False,
        xaxis={"title": "mass [kg]", "rangemode": "tozero"},
        yaxis={"autorange": "reversed"},
        xaxis2={"title": f"hours; ◆ by rule of thumb,<br>dotted: turns of {turn:.0f} h", "rangemode": "tozero"},
        yaxis2={"autorange": "reversed"},
    )


class Bar(NamedTuple):
    """One kiln in the picture; s, kg, and shares. `hours` is how long it was fired, done or not, with its range."""

    name: str
    hours: Span
    is_done: bool
    quicklime: float
    fuel_ratio: float | None
    raw_at_worst: float
    overburnt: float


def side_by_side(bars: Sequence[Bar]) -> Picture:
    """Draw hours, wood and weak spots of several kilns, one row each; the last is the one in hand."""
    drawn = Picture("Hours, wood, and what comes out")
    rows = list(range(len(bars)))
    own = len(bars) - 1
    ratios = [bar.fuel_ratio for bar in bars]
    spread = looks.spanned([bar.hours for bar in bars], HOUR, **THIN)
    told = {"text": [f"{ratio:.2f}" if ratio else "" for ratio in ratios], "textposition": "outside"}
    hatches = ["" if bar.is_done else "/" for bar in bars]
    for place, colour, across, look in (
        ("", looks.FIRE, [bar.hours.middle / HOUR for bar in bars], {"error_x": spread}),
        ("2", looks.WOOD, ratios, told),
    ):
        drawn.rows(
            None,
            across,
            rows,
            width=0.62,
            textangle=0,
            cliponaxis=False,
            marker=looks.hatched([colour if row == own else looks.PALE for row in rows], hatches, size=8),
            **UNTOLD,
            xaxis=f"x{place}",
            yaxis="y",
            **look,
        )
    for name, shares, aside, symbol, colour in (
        ("still stone, in the rawest place", [bar.raw_at_worst for bar in bars], -ASIDE, "circle-open", looks.STONE),
        ("of the charge, may be dead-burnt", [bar.overburnt for bar in bars], ASIDE, "x", looks.FIRE),
    ):
        drawn.marks(
            name,
            [100.0 * share for share in shares],
            [row + aside for row in rows],
            marker={"symbol": symbol, "size": 11, "color": colour, "line": {"width": 2, "color": colour}},
            hovertemplate=f"%{{x:.0f}} % {name}<extra></extra>",
            xaxis="x3",
            yaxis="y",
        )
    return drawn.laid(
        height=FRAME + ROW * len(bars),
        legend=looks.BELOW,
        margin={"b": 110},
        xaxis={
            "domain": [0.0, 0.36],
            "range": [0, 1.05 * max(bar.hours.high for bar in bars) / HOUR],
            "title": "hours of firing [h]",
        },
        xaxis2={
            "domain": [0.41, 0.66],
            "anchor": "y",
            "range": [0, 1.3 * max((ratio for ratio in ratios if ratio), default=1.0)],
            "title": "fuel a kilo of lime [kg]",
        },
        xaxis3={"domain": [0.71, 1.0], "anchor": "y", "range": [-4, 104], "title": "share [%]"},
        yaxis={
            "range": [own + 0.5, -0.5],
            "tickvals": rows,
            "ticktext": [f"<b>{bar.name}</b>" if row == own else bar.name for row, bar in enumerate(bars)],
            "showgrid": False,
        },
    )


def chance(ranged: FiringRange, spread: float, sure: float) -> Picture:
    """Draw the chance that a firing is done by an hour, and the hour to be ready for.

    `spread` is a share by which the draught may be out; hours go the other way in the same measure.
    """
    drawn = Picture("How sure are the hours?", "hours since lighting [h]", "chance that the charge is done [%]")
    order = np.argsort(ranged.finishes)
    known = np.isfinite(ranged.finishes[order])
    ends, chances = ranged.finishes[order][known] / HOUR, 100.0 * np.cumsum(ranged.weights[order])[known]
    least, most = (ends[0], ends[-1]) if known.any() else (0.0, 1.0)
    left, right = 0.9 * least / (1.0 + spread), 1.05 * most / (1.0 - spread)
    for name, pace, line in (
        ("as the model draws", 1.0, (looks.FIRE, "solid", 3.5)),
        (f"drawing {100 * spread:.0f} % better", 1.0 + spread, (looks.FIRE, "dashdot", 2)),
        (f"drawing {100 * spread:.0f} % worse", 1.0 - spread, (looks.FIRE, "dot", 2)),
    ):
        drawn.line(
            name,
            np.concatenate([[left], ends / pace, [right]]),
            np.concatenate([[0.0], chances, chances[-1:] if known.any() else [0.0]]),
            *line,
            shape="hv",
            hovertemplate="%{y:.0f} % by hour %{x:.1f}<extra></extra>",
        )
    at = min(ranged.finish_by(sure) / HOUR, right)
    wanted = [100.0 * sure, 100.0 * sure, 0.0]
    drawn.line("as sure as you want to be", [left, at, at], wanted, looks.INK, "dash", 2, hoverinfo="skip")
    return drawn.laid(height=400, xaxis={"range": [left, right]}, yaxis={"range": [0, 104]})


def shaft_map(window: ShaftWindow, draw_rate: float, fuel_ratio: float) -> Picture:
    """Draw where a shaft burns well, over its draw (kg/s) and its fuel (kg/kg), and what goes wrong elsewhere."""
    names, limits = list(LETTERS), window.limit.T.tolist()
    burnt = [[f"{100 * share:.0f}" for share in row] for row in window.conversion.T]
    drawn = Picture("What a shaft does, by its draw and its fuel")
    drawn.add(
        "heatmap",
        "share burnt [%]",
        DAY / TONNE * window.draw_rates,
        100.0 * window.fuel_ratios,
        z=[[names.index(name) for name in row] for row in limits],
        zmin=-0.5,
        zmax=len(names) - 0.5,
        colorscale=looks.in_steps(looks.SHADES),
        showscale=False,
        xgap=1,
        ygap=1,
        text=[
            [f"{share} {LETTERS[name]}" if name else f"<b>{share}</b>" for share, name in zip(*both, strict=True)]
            for both in zip(burnt, limits, strict=True)
        ],
        texttemplate="%{text}",
        textfont={"size": looks.SMALL, "color": looks.INK},
        customdata=[[LIMITS[name][0] if name else GOOD for name in row] for row in limits],
        hovertemplate="%{x:.1f} t a day, %{y:.1f} kg: %{text} % burnt, %{customdata}<extra></extra>",
    )
    key = [f"{letter}: {LIMITS[name][0]}" for name, letter in LETTERS.items() if name and name in window.limit]
    said = textwrap.wrap("; ".join([f"gold: {GOOD}", *key]), KEY_WIDE)
    drawn.note("<br>".join(said), 0.0, -0.2, xref="paper", yref="paper", xanchor="left", yanchor="top", align="left")
    drawn.marks(
        "looked at",
        [DAY / TONNE * draw_rate],
        [100.0 * fuel_ratio],
        marker={"symbol": "square-open", "size": 30, "color": looks.INK, "line": {"width": 3, "color": looks.INK}},
        hoverinfo="skip",
    )
    return drawn.laid(
        height=520,
        showlegend=False,
        margin={"b": 120},
        xaxis={"type": "log", "title": "lime drawn [t a day]", "showgrid": False},
        yaxis={"title": "fuel to 100 kg of stone [kg]", "showgrid": False},
    )


def within_limits(kilns: Sequence[tuple[float, float, bool]], best: tuple[float, float]) -> Picture:
    """Draw kilns that were fired by their hours and fuel: those that keep to a person's limits, and those beyond.

    Each is its hours of firing (s), its fuel (kg), and whether it keeps to every limit; `best` are hours and fuel of
    the one to build, or of the nearest where none keeps to them.
    """
    drawn = Picture("Kilns for the same lime", "hours of firing", "fuel, kg")
    for name, kept, symbol, colour in (
        ("beyond your limits", False, "circle-open", looks.MUTED),
        ("within them", True, "circle", looks.FIRE),
    ):
        hours, fuel = ([one[place] for one in kilns if one[2] is kept] for place in (0, 1))
        marker = {"symbol": symbol, "size": 11, "color": colour, "line": {"width": 2, "color": colour}}
        drawn.marks(name, [time / HOUR for time in hours], fuel, marker=marker)
    drawn.marks("the thriftiest, or the nearest", [best[0] / HOUR], [best[1]], marker=looks.CHOSEN)
    return drawn.laid(xaxis={"rangemode": "tozero"}, yaxis={"rangemode": "tozero"})
