"""A piece of drawn lime broken open, and where each of its signs points."""

from __future__ import annotations

import numpy as np

from limekit.pictures import looks
from limekit.stone.signs import Diagnosis, burn_signs, unburnt_allowed

COLUMNS = {"under": "too little fire", "right": "right", "over": "too much fire", "check": "look again"}
ROWS = ("plaster", "skin", "slaking", "sound", "heft", "core")
SYMBOLS = {"under": "triangle-down", "right": "circle", "over": "triangle-up", "check": "x"}
RING = np.linspace(0.0, 2.0 * np.pi, 73)


def broken_piece(core_ratio: float, diagnosis: Diagnosis):
    """Draw the broken face with its core, beside the signs seen and what each one means.

    Parameters
    ----------
    core_ratio : float
        Width of the core over the width of the piece.
    diagnosis : Diagnosis

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure(f"It says: {diagnosis.verdict}")
    for name, radius, fill, line in (
        ("lime", 1.0, "#f4f1ea", {"color": looks.INK, "width": 3, "dash": "solid"}),
        ("stone still in it", core_ratio, "#8c867c", {"color": looks.INK, "width": 2, "dash": "solid"}),
        ("widest core CL 90 allows", unburnt_allowed() ** (1 / 3), None, {"color": looks.FIRE, "dash": "dot"}),
    ):
        drawn.add_scatter(
            x=radius * np.cos(RING),
            y=radius * np.sin(RING),
            mode="lines",
            line=line,
            fill="toself" if fill else None,
            fillcolor=fill,
            name=name,
            hoverinfo="skip",
        )
    found = {sign.sign: sign for sign in burn_signs() if sign.sign in diagnosis.signs}
    for means, place in COLUMNS.items():
        here = [sign for sign in found.values() if sign.means == means]
        drawn.add_scatter(
            x=[place for _ in here],
            y=[sign.look for sign in here],
            mode="markers+text",
            text=[sign.seen for sign in here],
            textposition="bottom center",
            hovertext=[sign.sign for sign in here],
            hoverinfo="text",
            marker={"symbol": SYMBOLS[means], "size": 16, "color": looks.LIME if means == "right" else looks.FIRE},
            showlegend=False,
            xaxis="x2",
            yaxis="y2",
        )
    square = {"range": [-1.08, 1.08], "visible": False}
    drawn.update_layout(
        height=420,
        xaxis={"domain": [0.0, 0.36], **square},
        yaxis={"scaleanchor": "x", "constrain": "domain", **square},
        xaxis2={
            "domain": [0.46, 1.0],
            "anchor": "y2",
            "type": "category",
            "categoryarray": list(COLUMNS.values()),
            "range": [-0.5, len(COLUMNS) - 0.5],
        },
        yaxis2={
            "anchor": "x2",
            "type": "category",
            "categoryarray": list(ROWS),
            "range": [-0.6, len(ROWS) - 0.5],
        },
    )
    return drawn
