"""What draws a kiln and what holds it back."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from limekit import glossary
from limekit.fire.draught import PARTS
from limekit.pictures import looks
from limekit.units import HOUR, MM, ZERO_CELSIUS


def column(levels: np.ndarray, lines: Mapping[str, np.ndarray], level: float, draught: float):
    """Draw the draught of a hot column against the temperature of its gas.

    Parameters
    ----------
    levels : ndarray
        Gas temperatures, K.
    lines : mapping of str to ndarray
        From a name to draughts, Pa; the first is the column chosen.
    level, draught : float
        K and Pa of the column chosen.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("What the hot column pulls", "temperature of the gas in the column [°C]", "draught [Pa]")
    for rank, (name, pull) in enumerate(lines.items()):
        drawn.add_scatter(
            x=levels - ZERO_CELSIUS,
            y=pull,
            mode="lines",
            name=name,
            line={"color": looks.FIRE if rank == 0 else looks.INK, "dash": looks.DASHES[rank], "width": 3 - 0.6 * rank},
        )
    drawn.add_scatter(
        x=[level - ZERO_CELSIUS],
        y=[draught],
        mode="markers",
        name="your column",
        marker=looks.CHOSEN,
    )
    drawn.update_layout(height=420)
    drawn.update_yaxes(rangemode="tozero")
    return drawn


def throttle(
    losses: Mapping[str, float],
    sizes: np.ndarray,
    rates: np.ndarray,
    size: float,
    rate: float,
    wanted: float,
    spread: float,
):
    """Draw what takes the draught, beside the fuel it can feed against the size of the stone.

    Parameters
    ----------
    losses : mapping of str to float
        From a part of the air's way to the pressure it takes, Pa.
    sizes, rates : ndarray, shape (sizes,)
        Largest stone, m, and most fuel, kg/s.
    size, rate : float
        Of the kiln chosen.
    wanted : float
        Fuel the charge's hours ask for, kg/s.
    spread : float
        How far `rates` may be out either way, as a share.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("What takes the draught, and what is left for the fire")
    taken = list(losses.values())
    most = max(losses, key=losses.get)
    drawn.add_bar(
        x=taken,
        y=[PARTS[part][0].removeprefix("the ") for part in losses],
        orientation="h",
        name="pressure taken",
        showlegend=False,
        marker=looks.hatched(
            [looks.FIRE if part == most else looks.MUTED for part in losses],
            ["/" if part == most else "" for part in losses],
            size=8,
            fgopacity=0.5,
        ),
        text=[f"{one:.1f}" for one in taken],
        textposition="outside",
        cliponaxis=False,
        hovertemplate="%{y}: %{x:.2f} Pa<extra></extra>",
    )
    across, kilos = MM * sizes, HOUR * rates
    ends = (1.0 - spread) * kilos, (1.0 + spread) * kilos
    drawn.add_scatter(
        **looks.band(across, *ends, looks.FIRE, f"give or take {100 * spread:.0f} %"), xaxis="x2", yaxis="y2"
    )
    for name, x, y, look in (
        ("fuel the draught can feed", across, kilos, {"mode": "lines", "line": {"color": looks.FIRE, "dash": "solid"}}),
        (
            "fuel the charge asks for",
            across[[0, -1]],
            [HOUR * wanted] * 2,
            {"mode": "lines", "line": {"color": looks.WATER, "dash": "dash", "width": 2}},
        ),
        (
            "your kiln",
            [MM * size],
            [HOUR * rate],
            {"mode": "markers", "marker": looks.CHOSEN},
        ),
    ):
        drawn.add_scatter(x=x, y=y, name=name, xaxis="x2", yaxis="y2", **look)
    drawn.update_layout(
        height=470,
        legend=looks.BELOW,
        margin_b=105,
        xaxis={
            "domain": [0.0, 0.33],
            "title_text": "pressure taken [Pa]",
            "range": [0, 1.25 * max(taken)],
        },
        yaxis={"autorange": "reversed"},
        xaxis2={"domain": [0.48, 1.0], "anchor": "y2", "title_text": glossary.entry("largest_stone").axis},
        yaxis2={"anchor": "x2", "title_text": "fuel an hour [kg/h]", "rangemode": "tozero"},
    )
    return drawn
