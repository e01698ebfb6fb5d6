"""A kiln's wall: heat through its layers in time, and walls compared by fuel and thickness."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from limekit.kiln.wall.buildup import WallChoice
from limekit.kiln.wall.fired import WallHistory
from limekit.kiln.wall.layers import Layer
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, Picture
from limekit.units import HOUR, MEGA, MM, ZERO_CELSIUS

TOP, HOTTEST, TICKS = 1800.0, 1400.0, 200.0
NARROW, LINE = 0.2, 14
BEYOND = 0.06  # of the most fuel, that the picture goes on over the walls
APART = 0.07  # of the picture's height, between two names
GROUNDS = (looks.LINING, looks.FILL, looks.OUTER)


def at_time(
    layers: Sequence[Layer], history: WallHistory, settled: np.ndarray, firing_time: float, time: float
) -> Picture:
    """Draw the temperature through a wall at a time, beside the heat it has taken up to then and after.

    Parameters
    ----------
    layers : sequence of Layer
        From the fire outward.
    history : WallHistory
    settled : ndarray, shape (layers + 1,)
        Temperatures of the layers' faces, K, if the fire burned for ever.
    firing_time, time : float
        When the kiln was closed, and the moment shown, s.
    """
    drawn = Picture("Through the wall, and where its heat is")
    edges = MM * np.concatenate([[0.0], np.cumsum([layer.thickness for layer in layers])])
    depths, closed = MM * history.depths, looks.between(history.times, history.temperatures, firing_time)
    now = looks.between(history.times, history.temperatures, time)
    for name, across, levels, line in (
        ("now", depths, now, (looks.FIRE, "solid", 3.5)),
        ("when the kiln was closed", depths, closed, (looks.INK, "dash", 2)),
        ("if it burned for ever", edges, settled, (looks.INK, "dot", 1.8)),
    ):
        drawn.line(name, across, levels - ZERO_CELSIUS, *line)
    stands = [layer.material.limit - ZERO_CELSIUS for layer in layers]
    drawn.line(
        "what each layer stands",
        [part for pair in pairwise(edges.tolist()) for part in (*pair, None)],
        [part for limit in stands for part in (min(limit, HOTTEST), min(limit, HOTTEST), None)],
        looks.STONE,
        "longdashdot",
        3,
    )
    for name, column, line in (
        ("heat taken from the fire", history.taken, (looks.FIRE, "solid")),
        ("still in the wall", history.stored, (looks.STONE, "dash")),
        ("gone to the air outside", history.lost, (looks.AIR, "dot")),
    ):
        drawn.line(name, history.times / HOUR, column / MEGA, *line, legend="legend2", **BESIDE)
    drawn.marks(
        "now",
        [time / HOUR] * 2,
        [np.interp(time, history.times, column) / MEGA for column in (history.stored, history.lost)],
        showlegend=False,
        marker=looks.CHOSEN,
        **BESIDE,
    )
    for place, ((left, right), layer) in enumerate(zip(pairwise(edges.tolist()), layers, strict=True)):
        edge = {"yref": "y domain", "line": {"width": 1, "color": looks.MUTED}}
        drawn.block(left, right, 0, 1, GROUNDS[place % len(GROUNDS)], **edge)
        look = {"textangle": -90 if right - left < NARROW * edges[-1] else 0, "yref": "y domain", "yanchor": "top"}
        words = "<br>".join(textwrap.wrap(layer.material.label, LINE))
        drawn.note(words, (left + right) / 2, 0.99, font={"size": looks.SMALL, "color": looks.INK}, **look)
    return drawn.panes(0.56, 0.68).laid(
        height=520,
        legend=looks.key_under(0.0),
        legend2=looks.key_under(0.68),
        margin={"b": 130},
        xaxis={"range": [0, edges[-1]], "title": "depth behind the inner face [mm]"},
        yaxis={"title": "temperature [°C]", "range": [0, TOP], "tickvals": np.arange(0.0, HOTTEST + 1.0, TICKS)},
        xaxis2={"title": "time since lighting [h]", "rangemode": "tozero"},
        yaxis2={"title": "heat [MJ]", "rangemode": "tozero"},
    )


def _rows(candidates: Sequence[WallChoice], apart: float) -> list[list[WallChoice]]:
    """Return the slimmest wall of each fill, those together whose fuel is too near for a name of its own each."""
    slimmest = {one.layers[1:-1]: one for one in sorted(candidates, key=lambda one: -one.wall_thickness)}
    rows: list[list[WallChoice]] = []
    for one in sorted(slimmest.values(), key=lambda one: one.wall_fuel):
        if rows and one.wall_fuel - rows[-1][-1].wall_fuel < apart:
            rows[-1].append(one)
        else:
            rows.append([one])
    return rows


def compared(candidates: Sequence[WallChoice], thickness_most: float) -> Picture:
    """Draw walls, the best first, by how thick they are and what fuel they take, those within the limits filled.

    `thickness_most` is the room there is, m.
    """
    drawn = Picture("Every likely wall: how thick, and what it eats", "wall, all layers [mm]", "fuel [kg]")
    for name, is_fit, symbol in (("within the limits", True, "square"), ("breaks a limit", False, "square-open")):
        shown = [one for one in candidates if (not one.refused) is is_fit]
        drawn.marks(
            name,
            np.array([MM * one.wall_thickness for one in shown]),
            np.array([one.wall_fuel for one in shown]),
            text=[f"{one.words}<br>{'; '.join(one.refused)}" for one in shown],
            hovertemplate="%{text}<extra></extra>",
            marker={"symbol": symbol, "color": looks.STONE, "size": 10, "line": {"width": 1.5, "color": looks.STONE}},
        )
    best = candidates[0]
    drawn.marks(
        "least fuel within the limits",
        [MM * best.wall_thickness],
        [best.wall_fuel],
        marker={"symbol": "circle-open", "color": looks.FIRE, "size": 24, "line": {"width": 3}},
        hoverinfo="skip",
    )
    thickest, fuels = MM * max(one.wall_thickness for one in candidates), [one.wall_fuel for one in candidates]
    ends = [min(fuels) - BEYOND * max(fuels), (1.0 + BEYOND) * max(fuels)]
    for row in _rows(candidates, APART * (ends[1] - ends[0])):
        first, *others = sorted({round(MM * sum(thick for _, thick in one.layers[1:-1])) for one in row})
        words = f"{first}{f' to {others[-1]}' if others else ''} mm of fill" if first or others else "no fill"
        slimmest = min(row, key=lambda one: one.wall_thickness)
        drawn.note(words, MM * slimmest.wall_thickness, slimmest.wall_fuel, xanchor="right", xshift=-14)
    drawn.line("room there is", [MM * thickness_most] * 2, ends, looks.INK, "dash", 2)
    return drawn.laid(height=490, xaxis={"range": [0, 1.05 * thickest]}, yaxis={"range": ends})
