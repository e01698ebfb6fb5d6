"""Putty in its tank, burn by burn, and the days it should lie by every source."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from limekit.lime.putty import PuttyStore, ReadyDate
from limekit.lime.tanks import Tank
from limekit.pictures import looks
from limekit.units import MM

MOST_LAYERS = 4
HATCHED = (0.25, 0.45)
SLICES = 40


def half_width(tank: Tank, level: float) -> float:
    """Return half of what one sees of a tank's inside at a level, from the side or its round end; m."""
    radius = tank.diameter / 2.0
    if tank.shape in ("box", "cube container"):
        return tank.length / 2.0
    if tank.shape == "lying cylinder":
        return max(radius**2 - (level - radius) ** 2, 0.0) ** 0.5
    if level >= tank.dish_depth:
        return radius
    sphere = (radius**2 + tank.dish_depth**2) / (2.0 * tank.dish_depth)
    return max(sphere**2 - (sphere - level) ** 2, 0.0) ** 0.5


def _side(tank: Tank, low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    levels = low + (high - low) * np.linspace(0.0, 1.0, SLICES) ** 2
    halves = np.array([half_width(tank, level) for level in levels])
    return MM * np.concatenate([-halves[::-1], halves]), MM * np.concatenate([levels[::-1], levels])


def tank_and_dates(
    tank: Tank, store: PuttyStore, film_depth: float, ready: Mapping[str, Sequence[ReadyDate]], use: str
):
    """Draw the tank from the side with its layers, beside how long putty should lie for each use.

    Parameters
    ----------
    tank : Tank
    store : PuttyStore
        In plain SI floats; up to four layers are drawn.
    film_depth : float
        m of water over the putty.
    ready : mapping of str to sequence of ReadyDate
        By use; the kit's own first.
    use : str
        The one asked after.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("The tank, and how long putty should lie")
    levels = [0.0, *store.layer_tops]
    for layer in range(MOST_LAYERS):
        there = layer < len(levels) - 1
        across, up = _side(tank, levels[layer], levels[layer + 1]) if there else ([None], [None])
        drawn.add_scatter(
            x=across,
            y=up,
            mode="lines",
            fill="toself",
            fillcolor=looks.veil(looks.LIME, HATCHED[layer % 2]),
            line={"color": looks.LIME, "width": 1, "dash": "solid"},
            name=f"burn {layer + 1}",
            showlegend=there,
            hoverinfo="skip",
        )
    across, up = _side(tank, store.putty_level, store.putty_level + film_depth)
    drawn.add_scatter(
        x=across,
        y=up,
        mode="lines",
        fill="toself",
        fillcolor=looks.veil(looks.WATER, 0.4),
        line={"color": looks.WATER, "width": 1, "dash": "solid"},
        name="water over it",
        hoverinfo="skip",
    )
    across, up = _side(tank, 0.0, tank.height)
    drawn.add_scatter(
        x=across,
        y=up,
        mode="lines",
        line={"color": looks.INK, "width": 4, "dash": "solid"},
        name="tank",
        hoverinfo="skip",
    )
    for name, is_default, symbol in (("other sources", False, "circle-open"), ("the kit's own", True, "diamond")):
        shown = [(purpose, one) for purpose, dates in ready.items() for one in dates if one.is_default is is_default]
        drawn.add_scatter(
            x=[one.days for _, one in shown],
            y=[purpose for purpose, _ in shown],
            mode="markers+text",
            text=[f"{one.days}" if is_default else "" for _, one in shown],
            textposition="top center",
            hovertext=[f"{one.date:%d %B %Y}: {one.source}" for _, one in shown],
            hoverinfo="text",
            marker={
                "symbol": symbol,
                "opacity": 1.0,
                "size": [16 if purpose == use else 10 for purpose, _ in shown],
                "color": looks.FIRE if is_default else looks.INK,
                "line": {"width": 2, "color": looks.FIRE if is_default else looks.INK},
            },
            name=name,
            xaxis="x2",
            yaxis="y2",
        )
    most = max(one.days for dates in ready.values() for one in dates)
    drawn.update_layout(
        height=450,
        xaxis={"domain": [0.0, 0.42], "title_text": "mm"},
        yaxis={"title_text": "mm from the lowest point", "scaleanchor": "x", "constrain": "domain"},
        xaxis2={"domain": [0.6, 1.0], "anchor": "y2", "title_text": "days from slaking", "range": [-8, 1.06 * most]},
        yaxis2={
            "anchor": "x2",
            "type": "category",
            "categoryarray": list(ready)[::-1],
            "range": [-0.6, len(ready) - 0.4],
        },
    )
    return drawn
