"""A stone cut through the middle at a moment of its burn: heat by colour, the front as a ring."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.pictures import looks
from limekit.stone.burning import BurntStone, StoneHistory
from limekit.units import HOUR, MM, ZERO_CELSIUS

PIXELS = 81
COLDEST_SHOWN = 300.0
RING = np.linspace(0.0, 2.0 * np.pi, 73)


@dataclass(frozen=True)
class Moment:
    """A stone at one time: share burnt, m of core, K at skin, centre and along the radius."""

    conversion: float
    core_diameter: float
    surface: float
    centre: float
    temperatures: np.ndarray


def moment(history: StoneHistory, time: float) -> Moment:
    """Return a stone as it was at a time (s), between the moments that were kept; the last one after them."""
    temperatures = looks.between(history.times, history.temperatures, time)
    return Moment(
        float(np.interp(time, history.times, history.conversion)),
        2.0 * float(np.interp(time, history.times, history.core_radius)),
        float(temperatures[-1]),
        float(temperatures[0]),
        temperatures,
    )


def at_time(burnt: BurntStone, time: float):
    """Draw the section at a time beside the share burnt up to it.

    Parameters
    ----------
    burnt : BurntStone
        In plain SI floats.
    time : float
        s.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    history, then = burnt.history, moment(burnt.history, time)
    radius, core = MM * history.radii[-1], 0.5 * MM * then.core_diameter
    across = np.linspace(-radius, radius, PIXELS)
    away = np.hypot(*np.meshgrid(across, across))
    celsius = np.interp(away / MM, history.radii, then.temperatures - ZERO_CELSIUS)
    drawn = looks.figure("A stone cut through the middle")
    drawn.add_heatmap(
        x=across,
        y=across,
        z=np.where(away > radius, None, np.round(celsius)),
        zmin=COLDEST_SHOWN,
        zmax=float(np.ceil((history.gas_temperature.max() - ZERO_CELSIUS) / 100.0) * 100.0),
        colorscale=[[1.0 - place, colour] for place, colour in reversed(looks.HEAT)],
        zsmooth="best",
        colorbar={"title": {"text": "°C", "side": "top"}, "x": 0.43, "thickness": 14, "len": 0.9},
        hovertemplate="%{z:.0f} °C<extra></extra>",
        name="heat",
    )
    for name, size, line in (
        ("skin", radius, {"color": looks.INK, "width": 5, "dash": "solid"}),
        ("front between stone and lime", core, {"color": looks.WATER, "width": 4, "dash": "dot"}),
    ):
        drawn.add_scatter(
            x=size * np.cos(RING), y=size * np.sin(RING), mode="lines", line=line, name=name, hoverinfo="skip"
        )
    drawn.add_scatter(
        x=history.times / HOUR,
        y=100.0 * history.conversion,
        mode="lines",
        line={"color": looks.FIRE, "dash": "solid"},
        name="share burnt",
        xaxis="x2",
        yaxis="y2",
    )
    drawn.add_scatter(
        x=[min(time, history.times[-1]) / HOUR],
        y=[100.0 * then.conversion],
        mode="markers",
        marker=looks.CHOSEN,
        name="now",
        xaxis="x2",
        yaxis="y2",
    )
    edge = 1.04 * radius
    drawn.update_layout(
        height=440,
        xaxis={"domain": [0.0, 0.42], "range": [-edge, edge], "title_text": "mm from the middle"},
        yaxis={"range": [-edge, edge], "scaleanchor": "x", "constrain": "domain"},
        xaxis2={"domain": [0.66, 1.0], "anchor": "y2", "title_text": "time in the hot gas [h]", "rangemode": "tozero"},
        yaxis2={"anchor": "x2", "title_text": "share burnt [%]", "range": [-3, 105]},
    )
    return drawn
