"""A kiln drawn up: what goes in and comes out, and the hours one after another."""

from __future__ import annotations

import math

from limekit.facts import fact
from limekit.kiln.design import KilnDesign
from limekit.pictures import looks
from limekit.units import HOUR


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
