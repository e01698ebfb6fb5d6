"""How long a stone must burn against its size, at several heats."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from limekit import glossary
from limekit.estimate import Estimate
from limekit.pictures import looks
from limekit.units import HOUR, MM, ZERO_CELSIUS

MOST_HOURS = 60.0
SAME_HEAT = 1.0  # K, within which the line of a heat would be drawn over that of the heat chosen


def against_size(
    sizes: np.ndarray,
    by_level: Mapping[float, np.ndarray],
    chosen: Sequence[Estimate],
    chosen_level: float,
    diameter: float,
    forecast: Estimate,
):
    """Draw burning time against size: a line for each heat, and a band in place of it for the heat chosen.

    Parameters
    ----------
    sizes : ndarray, shape (sizes,)
        m.
    by_level : mapping of float to ndarray
        From a gas temperature (K) to a middling stone's burning times (s); nan where it never burns.
    chosen : sequence of Estimate
        The same at the heat chosen, with its range; s.
    chosen_level : float
        K.
    diameter : float
        The stone asked after; m.
    forecast : Estimate
        Its burning time; s.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    across = MM * sizes
    drawn = looks.figure(
        "How long, how hot, how big", glossary.entry("diameter").axis, f"{glossary.entry('burning_time').label} [h]"
    )
    low, high, middle = (np.array([getattr(one, end) for one in chosen]) / HOUR for end in ("low", "high", "median"))
    celsius = chosen_level - ZERO_CELSIUS
    drawn.add_scatter(**looks.band(across, low, high, looks.FIRE, f"{celsius:.0f} °C, nine times in ten"))
    drawn.add_scatter(
        x=across, y=middle, mode="lines", name=f"{celsius:.0f} °C, middle", line={"color": looks.FIRE, "dash": "solid"}
    )
    for rank, (level, times) in enumerate(by_level.items()):
        drawn.add_scatter(
            x=across,
            y=times / HOUR,
            mode="lines",
            name=f"{level - ZERO_CELSIUS:.0f} °C",
            line={"color": looks.INK, "dash": looks.DASHES[1 + rank], "width": 1.6},
            visible=bool(abs(level - chosen_level) > SAME_HEAT),
        )
    yours = [end / HOUR for end in (forecast.median, forecast.low, forecast.high)]
    drawn.add_scatter(
        x=[MM * diameter],
        y=[yours[0]],
        error_y=looks.whiskers(*([end] for end in yours)),
        mode="markers",
        name="your stone",
        marker=looks.CHOSEN,
    )
    drawn.update_xaxes(range=[0, 1.02 * across[-1]])
    drawn.update_yaxes(range=[0, min(MOST_HOURS, 1.1 * max(high[-1], yours[2]))])
    drawn.update_layout(height=500)
    return drawn
