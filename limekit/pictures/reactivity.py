"""A slaking test's log, with the classes of lime behind it."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from limekit.facts import fact
from limekit.lime.reactivity import Reactivity
from limekit.pictures import looks
from limekit.units import MINUTE, ZERO_CELSIUS


def log_and_classes(times: np.ndarray, temperatures: np.ndarray, read: Reactivity, last: float):
    """Draw the readings, the level they are timed to, and the minutes of soft-, medium- and hard-burnt lime.

    Parameters
    ----------
    times, temperatures : ndarray, shape (readings,)
        s from the first reading, and K.
    read : Reactivity
        In plain SI floats.
    last : float
        s, to which the picture runs at least.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("The test's log", "time since the lime went in [min]", "temperature of the stirred mix [°C]")
    soft, hard, end = (fact(f"reactivity_{name}") for name in ("soft_most", "hard_least", "end"))
    across = max(last, hard * 1.6) / MINUTE
    bounds = [0.0, soft / MINUTE, hard / MINUTE, across]
    bottom, top = 10.0, 105.0
    for rank, (name, (left, right)) in enumerate(zip(("soft", "medium", "hard"), pairwise(bounds), strict=True)):
        drawn.add_scatter(
            x=[left, left, right, right],
            y=[bottom, top, top, bottom],
            mode="lines",
            fill="toself",
            fillcolor=looks.veil(looks.FIRE, 0.05 + 0.09 * rank),
            line={"width": 0, "color": looks.FIRE},
            name=f"{name}-burnt, if 60 °C comes here",
            showlegend=False,
            hoverinfo="skip",
        )
    drawn.add_scatter(
        x=[(left + right) / 2 for left, right in pairwise(bounds)],
        y=[top - 6] * 3,
        mode="text",
        text=["soft", "medium", "hard-burnt"],
        showlegend=False,
        hoverinfo="skip",
    )
    drawn.add_scatter(
        x=[0, across],
        y=[end - ZERO_CELSIUS] * 2,
        mode="lines",
        name="the level it is timed to",
        line={"color": looks.INK, "dash": "dot"},
        hoverinfo="skip",
    )
    drawn.add_scatter(
        x=times / MINUTE,
        y=temperatures - ZERO_CELSIUS,
        mode="lines+markers",
        name="readings",
        line={"color": looks.FIRE, "dash": "solid"},
        marker={"symbol": "circle", "size": 8},
    )
    for name, moment, symbol in (
        ("60 °C", read.time_to_60, "diamond"),
        ("slaked through", read.complete_time, "square"),
    ):
        drawn.add_scatter(
            x=[] if moment is None else [moment / MINUTE],
            y=[] if moment is None else [float(np.interp(moment, times, temperatures)) - ZERO_CELSIUS],
            mode="markers",
            name=name,
            marker={"color": looks.INK, "symbol": symbol, "size": 13},
        )
    drawn.update_layout(height=440, xaxis_range=[0, across], yaxis_range=[bottom, top])
    return drawn
