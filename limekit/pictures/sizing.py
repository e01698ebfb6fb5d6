"""A kiln's size: one burn of it drawn up, and kilns side by side."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from limekit.facts import fact
from limekit.kiln.design import KilnDesign
from limekit.kiln.ensemble import FiringRange
from limekit.kiln.shaft.state import LIMITS
from limekit.kiln.shaft.steady import ShaftWindow
from limekit.pictures import looks
from limekit.units import DAY, HOUR, TONNE

ROW, FRAME = 38, 190
PALE = "#c4bcae"
ASIDE = 0.17  # of a row, that the two marks stand apart
GOOD = "burns well"
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


def masses_and_hours(design: KilnDesign):
    """Draw the masses of a burn beside its hours, with their ranges and the ends of the turns.

    A diamond shows the hours in which the fuel burns with the air that the kiln draws.

    Parameters
    ----------
    design : KilnDesign
        In plain SI floats.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    masses = [
        ("stone in", design.stone, looks.MUTED),
        ("fuel in", design.demand.fuel_mass, looks.FIRE),
        ("lime drawn", design.drawn, looks.LIME),
        ("quicklime in it", design.quicklime, looks.LIME),
    ]
    drawn = looks.figure("One burn")
    drawn.add_bar(
        y=[name for name, _, _ in masses],
        x=[span.middle for _, span, _ in masses],
        orientation="h",
        marker={"color": [colour for *_, colour in masses]},
        error_x=_whiskers([span for _, span, _ in masses]),
        hovertemplate="%{y}: %{x:.0f} kg<extra></extra>",
        name="kg",
    )
    start = 0.0
    for name, span, colour, hatch in (
        ("heating up", design.heat_up_time, looks.AIR, "/"),
        ("burning", design.burning_time, looks.FIRE, ""),
        ("soaking", design.soak_time, looks.LIME, "x"),
        ("cooling, closed", design.cooling_time, looks.WATER, "."),
    ):
        drawn.add_bar(
            y=[name],
            x=[span.middle / HOUR],
            base=[start / HOUR],
            orientation="h",
            marker=looks.hatched(colour, hatch),
            error_x=_whiskers([span], HOUR),
            hovertemplate=f"{name}: {span.middle / HOUR:.1f} h<extra></extra>",
            name=name,
            xaxis="x2",
            yaxis="y2",
        )
        start += span.middle
    drawn.add_bar(
        y=["firing in all"],
        x=[design.firing_time.middle / HOUR],
        base=[0.0],
        orientation="h",
        marker={"color": looks.MUTED},
        error_x=_whiskers([design.firing_time], HOUR),
        hovertemplate="firing in all: %{x:.1f} h<extra></extra>",
        name="firing in all",
        xaxis="x2",
        yaxis="y2",
    )
    drawn.add_scatter(
        x=[design.demand.fuel_mass.middle / design.draught.fuel_rate_most / HOUR],
        y=["firing in all"],
        mode="markers",
        marker={"color": looks.INK, "symbol": "diamond", "size": 13},
        hovertemplate="%{x:.1f} h to burn the fuel with the air it draws<extra></extra>",
        name="by the draught",
        xaxis="x2",
        yaxis="y2",
    )
    turn = fact("watch_time") / HOUR
    ends = [turn * number for number in range(1, math.ceil(design.firing_time.middle / HOUR / turn) + 1)]
    drawn.add_scatter(
        x=[place for end in ends for place in (end, end, None)],
        y=[name for _ in ends for name in ("firing in all", "heating up", None)],
        mode="lines",
        line={"color": looks.INK, "dash": "dot", "width": 1.5},
        name="a turn ends",
        xaxis="x2",
        yaxis="y2",
        hoverinfo="skip",
    )
    drawn.update_layout(
        height=400,
        bargap=0.35,
        showlegend=False,
        xaxis={"domain": [0.0, 0.4], "title_text": "mass [kg]", "rangemode": "tozero"},
        yaxis={"autorange": "reversed"},
        xaxis2={
            "domain": [0.58, 1.0],
            "anchor": "y2",
            "title_text": "hours; dotted, where a turn ends; ◆ as it draws",
            "rangemode": "tozero",
        },
        yaxis2={"anchor": "x2", "autorange": "reversed"},
    )
    return drawn


def _whiskers(spans, by: float = 1.0) -> dict:
    ends = ([getattr(span, end) / by for span in spans] for end in ("middle", "low", "high"))
    return looks.whiskers(*ends, thickness=2, width=6, color=looks.INK)


class Bar(NamedTuple):
    """One kiln in the picture; s, kg, and shares. `hours` is how long it was fired, done or not."""

    name: str
    hours: float
    is_done: bool
    quicklime: float
    fuel_ratio: float | None
    raw_at_worst: float
    overburnt: float


def side_by_side(bars: Sequence[Bar], rule: float):
    """Draw hours, wood and weak spots of several kilns, one row each; the last is the one in hand.

    Parameters
    ----------
    bars : sequence of Bar
    rule : float
        Hours that the rules gave for the first, s.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("Hours, wood, and what comes out")
    rows = list(range(len(bars)))
    own = len(bars) - 1
    colours = [looks.FIRE if row == own else PALE for row in rows]
    hours = [bar.hours / HOUR for bar in bars]
    ratios = [bar.fuel_ratio for bar in bars]
    for place, across, texts in (
        ("", hours, [f"{bar.hours / HOUR:.0f} h" if bar.is_done else "not done" for bar in bars]),
        ("2", ratios, [f"{ratio:.2f}" if ratio else "" for ratio in ratios]),
    ):
        drawn.add_bar(
            x=across,
            y=rows,
            orientation="h",
            width=0.62,
            text=texts,
            textposition="outside",
            textangle=0,
            cliponaxis=False,
            showlegend=False,
            marker=looks.hatched(colours, ["" if bar.is_done else "/" for bar in bars], size=8),
            hoverinfo="skip",
            xaxis=f"x{place}",
            yaxis="y",
        )
    for name, shares, aside, symbol, colour in (
        ("still stone, in the rawest place", [bar.raw_at_worst for bar in bars], -ASIDE, "circle-open", looks.WATER),
        ("of the charge, may be dead-burnt", [bar.overburnt for bar in bars], ASIDE, "x", looks.FIRE),
    ):
        drawn.add_scatter(
            x=[100.0 * share for share in shares],
            y=[row + aside for row in rows],
            mode="markers",
            name=name,
            marker={"symbol": symbol, "size": 11, "color": colour, "line": {"width": 2, "color": colour}},
            hovertemplate=f"%{{x:.0f}} % {name}<extra></extra>",
            xaxis="x3",
            yaxis="y",
        )
    drawn.add_scatter(
        x=[rule / HOUR] * 2,
        y=[-0.5, own + 0.5],
        mode="lines",
        name="hours by the rule, as in the record",
        line={"color": looks.INK, "dash": "dash", "width": 2},
        hovertemplate="%{x:.0f} h by the rule<extra></extra>",
        xaxis="x",
        yaxis="y",
    )
    drawn.update_layout(
        height=FRAME + ROW * len(bars),
        legend=looks.BELOW,
        margin_b=110,
        xaxis={"domain": [0.0, 0.36], "range": [0, 1.28 * max(hours)], "title_text": "hours of firing [h]"},
        xaxis2={
            "domain": [0.41, 0.66],
            "anchor": "y",
            "range": [0, 1.3 * max((ratio for ratio in ratios if ratio), default=1.0)],
            "title_text": "fuel a kilo of quicklime [kg]",
        },
        xaxis3={"domain": [0.71, 1.0], "anchor": "y", "range": [-4, 104], "title_text": "share [%]"},
        yaxis={
            "range": [own + 0.5, -0.5],
            "tickvals": rows,
            "ticktext": [f"<b>{bar.name}</b>" if row == own else bar.name for row, bar in enumerate(bars)],
            "showgrid": False,
        },
    )
    return drawn


def chance(ranged: FiringRange, spread: float, sure: float):
    """Draw the chance that a firing is done by an hour, and the hour to be ready for.

    Parameters
    ----------
    ranged : FiringRange
        In plain SI floats.
    spread : float
        Share by which the draught may be out; hours go the other way in the same measure.
    sure : float
        How sure one wants to be, as a share.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("How sure are the hours?", "hours since lighting [h]", "chance that the charge is done [%]")
    order = np.argsort(ranged.finishes)
    known = np.isfinite(ranged.finishes[order])
    ends, chances = ranged.finishes[order][known] / HOUR, 100.0 * np.cumsum(ranged.weights[order])[known]
    least, most = (ends[0], ends[-1]) if known.any() else (0.0, 1.0)
    left, right = 0.9 * least / (1.0 + spread), 1.05 * most / (1.0 - spread)
    for name, pace, line in (
        ("as the model draws", 1.0, {"color": looks.FIRE, "dash": "solid", "width": 3.5}),
        (f"drawing {100 * spread:.0f} % better", 1.0 + spread, {"color": looks.GAS, "dash": "dashdot", "width": 2}),
        (f"drawing {100 * spread:.0f} % worse", 1.0 - spread, {"color": looks.WATER, "dash": "dot", "width": 2}),
    ):
        drawn.add_scatter(
            x=np.concatenate([[left], ends / pace, [right]]),
            y=np.concatenate([[0.0], chances, chances[-1:] if known.any() else [0.0]]),
            mode="lines",
            line={**line, "shape": "hv"},
            name=name,
            hovertemplate="%{y:.0f} % by hour %{x:.1f}<extra></extra>",
        )
    at = min(ranged.finish_by(sure) / HOUR, right)
    drawn.add_scatter(
        x=[left, at, at],
        y=[100.0 * sure, 100.0 * sure, 0.0],
        mode="lines",
        line={"color": looks.INK, "dash": "dash", "width": 2},
        name="as sure as you want to be",
        hoverinfo="skip",
    )
    drawn.update_layout(height=400, xaxis={"range": [left, right]}, yaxis={"range": [0, 104]})
    return drawn


def shaft_map(window: ShaftWindow, draw_rate: float, fuel_ratio: float):
    """Draw where a shaft burns well, over its draw and its fuel, and what goes wrong elsewhere.

    Parameters
    ----------
    window : ShaftWindow
    draw_rate, fuel_ratio : float
        Of the place looked at, kg/s and kg/kg.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    names, limits = list(LETTERS), window.limit.T.tolist()
    burnt = [[f"{100 * share:.0f}" for share in row] for row in window.conversion.T]
    drawn = looks.figure("What a shaft does, by its draw and its fuel")
    drawn.add_heatmap(
        x=DAY / TONNE * window.draw_rates,
        y=100.0 * window.fuel_ratios,
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
        textfont={"size": 12, "color": looks.INK},
        customdata=[[LIMITS[name][0] if name else GOOD for name in row] for row in limits],
        hovertemplate="%{x:.1f} t a day, %{y:.1f} kg: %{text} % burnt, %{customdata}<extra></extra>",
        name="share burnt [%]",
    )
    for (name, letter), shade in zip(LETTERS.items(), looks.SHADES, strict=True):
        drawn.add_scatter(
            x=[None],
            y=[None],
            mode="markers",
            name=f"{letter}: {LIMITS[name][0]}" if name else GOOD,
            showlegend=name in window.limit,
            marker={"symbol": "square", "size": 14, "color": shade, "line": {"width": 1, "color": looks.INK}},
        )
    drawn.add_scatter(
        x=[DAY / TONNE * draw_rate],
        y=[100.0 * fuel_ratio],
        mode="markers",
        name="looked at",
        marker={"symbol": "square-open", "size": 30, "color": looks.INK, "line": {"width": 3, "color": looks.INK}},
        hoverinfo="skip",
    )
    drawn.update_layout(
        height=520,
        legend=looks.BELOW,
        margin_b=130,
        xaxis={"type": "log", "title_text": "lime drawn [t a day]", "showgrid": False},
        yaxis={"title_text": "fuel for a hundred kilos of stone [kg]", "showgrid": False},
    )
    return drawn
