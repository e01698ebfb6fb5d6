"""The line between limestone and lime: how hot it must be for the carbon dioxide around it."""

from __future__ import annotations

import numpy as np

from limekit import chemistry, glossary
from limekit.pictures import looks
from limekit.units import ZERO_CELSIUS

COLDEST, HOTTEST = 600.0, 1000.0


def giving_way(co2_fraction: float, temperature: float):
    """Draw the balance line with one gas marked on it.

    Parameters
    ----------
    co2_fraction : float
        Carbon dioxide in the gas at the stone, share by volume at 1 atm.
    temperature : float
        At which limestone begins to give way in it, in kelvin.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    celsius = np.linspace(COLDEST, HOTTEST, 81)
    percent = 100.0 * chemistry.dissociation_pressure.plain(celsius + ZERO_CELSIUS) / chemistry.ATMOSPHERE
    at, share = temperature - ZERO_CELSIUS, 100.0 * co2_fraction
    drawn = looks.figure(
        "Where limestone gives way",
        f"{glossary.entry('temperature').label} of the stone [°C]",
        f"{glossary.entry('co2_fraction').label} [%]",
    )
    drawn.add_scatter(
        x=celsius, y=percent, name="balance line", mode="lines", line={"color": looks.FIRE}, fill="tozeroy"
    )
    drawn.data[0].fillcolor = looks.veil(looks.FIRE)
    drawn.add_scatter(
        x=[COLDEST, at, at],
        y=[share, share, 0.0],
        name="your gas",
        mode="lines",
        line={"color": looks.INK, "dash": "dot", "width": 2},
    )
    drawn.add_scatter(
        x=[at],
        y=[share],
        name="begins to give way",
        mode="markers",
        marker=looks.CHOSEN,
    )
    drawn.add_annotation(x=680, y=70, text="limestone stays stone", showarrow=False)
    drawn.add_annotation(x=950, y=30, text="limestone<br>becomes lime", showarrow=False)
    drawn.update_xaxes(range=[COLDEST, HOTTEST])
    drawn.update_yaxes(range=[0.0, 105.0])
    drawn.update_layout(showlegend=False, height=430)
    return drawn
