"""A stone's pictures: what it becomes, where it gives way, how long it burns, and a cut through it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from limekit import chemistry, glossary
from limekit.balance import MassBalance
from limekit.estimate import Estimate
from limekit.pictures import looks
from limekit.stone.burning import BurntStone, StoneHistory
from limekit.units import HOUR, MM, ZERO_CELSIUS

LEAST_WRITTEN = 0.04
COLDEST, HOTTEST = 600.0, 1000.0
MOST_HOURS = 60.0
SAME_HEAT = 1.0  # K, within which the line of a heat would be drawn over that of the heat chosen
PIXELS = 81
COLDEST_SHOWN = 300.0
RING = np.linspace(0.0, 2.0 * np.pi, 73)


def burnt_through(balance: MassBalance):
    """Draw a charge of stone beside what leaves as gas and steam and what is drawn.

    Parameters
    ----------
    balance : MassBalance
        In plain SI floats.

    Returns
    -------
    plotly.graph_objects.Figure
        Two bars in per cent of the stone as weighed, the parts told apart by name and hatching too.
    """
    parts = [
        ("quicklime", balance.quicklime, "drawn", looks.LIME, ""),
        ("magnesia", balance.magnesia, "drawn", looks.WATER, "x"),
        ("unburnt core", balance.core, "drawn", looks.STONE, "-"),
        ("clay and other inert", balance.inert_mass, "drawn", looks.MUTED, "/"),
        ("carbon dioxide", balance.carbon_dioxide, "goes up", looks.GAS, "."),
        ("steam", balance.water_driven_off, "goes up", looks.AIR, "|"),
    ]
    drawn = looks.figure("What a stone becomes", "share of the stone as weighed [%]")
    for name, mass, place, colour, hatch in parts:
        percent = 100.0 * mass / balance.stone
        drawn.add_bar(
            x=[percent],
            y=[place],
            name=name,
            orientation="h",
            marker=looks.hatched(colour, hatch),
            text=f"{percent:.0f}" if percent >= 100 * LEAST_WRITTEN else "",
            textfont={"color": looks.on(colour), "size": 18},
            textposition="inside",
            insidetextanchor="middle",
            hovertemplate=f"{name}: %{{x:.1f}} %<extra></extra>",
        )
    drawn.update_layout(barmode="stack", height=330, bargap=0.35, legend=looks.BELOW)
    drawn.update_xaxes(range=[0, 102])
    drawn.update_yaxes(categoryorder="array", categoryarray=["goes up", "drawn"])
    return drawn


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


def burning_times(
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
    drawn.update_yaxes(range=[0, max(min(MOST_HOURS, 1.1 * max(high[-1], yours[2])), 1.1 * yours[0])])
    drawn.update_layout(height=500)
    return drawn


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


def cut_through(burnt: BurntStone, time: float):
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
        colorscale=looks.GLOWING,
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
