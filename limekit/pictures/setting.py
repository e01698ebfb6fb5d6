"""A coat of lime setting from its face inward, through the years' weather."""

from __future__ import annotations

import datetime

import numpy as np

from limekit.facts import fact
from limekit.pictures import looks
from limekit.units import MM


def depth_in_time(
    applied_on: datetime.date, aged: np.ndarray, cold: np.ndarray, coat_thickness: float, carbonation_rate: float
):
    """Draw set depth against the date, with its range, the coat and the cold months.

    Parameters
    ----------
    applied_on : datetime.date
    aged : ndarray, shape (days,)
        Seconds of the best weather that would have set as much, by each morning.
    cold : ndarray of bool, shape (days,)
    coat_thickness : float
        m.
    carbonation_rate : float
        m/s^0.5.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    rule = fact("carbonation_rate")
    days = np.arange(0, aged.size, 7)
    dates = [(applied_on + datetime.timedelta(days=int(day))).isoformat() for day in days]
    depth = MM * carbonation_rate * np.sqrt(aged[days])
    coat = MM * coat_thickness
    top = 1.6 * coat
    drawn = looks.figure("How deep it has set", "", "from the face inward [mm]")
    drawn.add_scatter(
        x=dates,
        y=np.where(cold[days], top, 0.0),
        mode="lines",
        line={"width": 0, "color": looks.WATER, "shape": "hv"},
        fill="tozeroy",
        fillcolor=looks.veil(looks.WATER, 0.2),
        name="months too cold to set",
        hoverinfo="skip",
    )
    slow, quick = rule.low / rule, rule.high / rule
    name = f"{slow:.2g} to {quick:.2g} times the rule"
    drawn.add_scatter(**looks.band(dates, slow * depth, quick * depth, looks.FIRE, name))
    drawn.add_scatter(
        x=dates, y=depth, mode="lines", line={"color": looks.FIRE, "dash": "solid"}, name="by the rule of thumb"
    )
    drawn.add_scatter(
        x=[dates[0], dates[-1]],
        y=[coat, coat],
        mode="lines",
        line={"color": looks.INK, "dash": "dash"},
        name="the back of the coat",
        hoverinfo="skip",
    )
    drawn.update_layout(height=430, yaxis_range=[top, 0], xaxis={"type": "date", "range": [dates[0], dates[-1]]})
    return drawn
