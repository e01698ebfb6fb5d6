"""The gas of a fire: how hot it is against the air let in, and what it is made of."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from limekit import glossary
from limekit.fire.flue import FlueGas
from limekit.pictures import looks
from limekit.units import ZERO_CELSIUS

HOTTEST_SHOWN = 2100.0
LEAST_WRITTEN = 4.0


def heat_and_parts(
    lines: Mapping[str, tuple[np.ndarray, np.ndarray]],
    gas: FlueGas,
    excess_air: float,
    burns_from: float,
):
    """Draw the gas's temperature against excess air, beside the gas's parts at one setting.

    Parameters
    ----------
    lines : mapping of str to (ndarray, ndarray)
        From a name to excess air (share) and gas temperature (K); the first is the fuel chosen.
    gas : FlueGas
        At the setting chosen, in plain SI floats.
    excess_air : float
        At the setting chosen, as a share.
    burns_from : float
        K; where limestone gives way in its own gas.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("How hot the gas, and what is in it")
    most = 100.0 * max(excess.max() for excess, _ in lines.values())
    for rank, (name, (excess, level)) in enumerate(lines.items()):
        drawn.add_scatter(
            x=100.0 * excess,
            y=level - ZERO_CELSIUS,
            mode="lines",
            name=name,
            line={"color": looks.FIRE if rank == 0 else looks.INK, "dash": looks.DASHES[rank], "width": 3 - 0.6 * rank},
        )
    drawn.add_scatter(
        x=[0.0, most],
        y=[burns_from - ZERO_CELSIUS] * 2,
        mode="lines",
        name="limestone in its own gas gives way",
        line={"color": looks.WATER, "dash": "dot", "width": 2},
    )
    drawn.add_scatter(
        x=[100.0 * excess_air],
        y=[gas.gas_temperature - ZERO_CELSIUS],
        mode="markers",
        name="your fire",
        marker=looks.CHOSEN,
    )
    for name, share, colour, hatch in (
        ("carbon dioxide", gas.co2_fraction, looks.GAS, "."),
        ("steam", gas.water_fraction, looks.WATER, "|"),
        ("oxygen to spare", gas.oxygen_fraction, looks.LIME, "x"),
        ("nitrogen", gas.nitrogen_fraction, looks.MUTED, ""),
    ):
        percent = 100.0 * share
        drawn.add_bar(
            x=["gas"],
            y=[percent],
            name=name,
            xaxis="x2",
            yaxis="y2",
            showlegend=False,
            marker=looks.hatched(colour, hatch, size=8, fgopacity=0.4),
            text=f"<b>{name} {percent:.0f} %</b>" if percent >= LEAST_WRITTEN else "",
            textfont={"color": looks.on(colour), "size": 14},
            textposition="inside",
            insidetextanchor="middle",
            textangle=0,
            hovertemplate=f"{name}: %{{y:.1f}} %<extra></extra>",
        )
    drawn.update_layout(
        height=470,
        barmode="stack",
        legend=looks.BELOW,
        margin_b=105,
        xaxis={
            "domain": [0.0, 0.62],
            "range": [0, most],
            "title_text": f"{glossary.entry('excess_air').label}, as a share of the least [%]",
        },
        yaxis={"title_text": "temperature of the gas [°C]", "range": [200, HOTTEST_SHOWN]},
        xaxis2={"domain": [0.73, 1.0], "anchor": "y2", "showticklabels": False, "title_text": "your fire's gas"},
        yaxis2={"anchor": "x2", "title_text": "share of the gas by volume [%]", "range": [0, 100]},
    )
    return drawn
