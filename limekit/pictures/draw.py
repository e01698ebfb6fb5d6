"""What is drawn from a kiln: its heaps, and a piece broken open with where each of its signs points."""

from __future__ import annotations

import numpy as np

from limekit.facts import fact
from limekit.lime.drawing import Draw
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, UNTOLD, Picture
from limekit.stone.signs import Diagnosis, burn_signs, unburnt_allowed

LEAST_SHOWN = 20.0  # % to which the lower scale always runs
FAULTS = {
    "fines": (("usual at most", "drawing_fines_most"),),
    "with a core": (("usual at most", "drawing_cored_most"),),
    "over-burnt": (("most for plaster", "drawing_overburnt_most"),),
    "CO₂ left": tuple((f"CL {grade}", f"cl{grade}_carbon_dioxide_most") for grade in (90, 80, 70)),
}
COLUMNS = {"under": "too little fire", "right": "right", "over": "too much fire", "check": "look again"}
ROWS = ("plaster", "skin", "slaking", "sound", "heft", "core")
SYMBOLS = {"under": "triangle-down", "right": "circle", "over": "triangle-up", "check": "x"}
RING = np.linspace(0.0, 2.0 * np.pi, 73)


def sorted_heaps(draw: Draw) -> Picture:
    """Draw the heaps as one bar, and below it gas, over-burnt and cored pieces and fines beside their limits."""
    drawn = Picture("A hundred kilos drawn")
    whole = 1.0 - draw.good_share - draw.overburnt_share - draw.fines_share
    core = draw.core / draw.drawn
    heaps = (
        ("good lime", draw.good_share, looks.LIME, ""),
        ("lime round a core", whole - core, looks.LIME, "/"),
        ("core, still stone", core, *looks.RAW),
        ("over-burnt", draw.overburnt_share, *looks.DEAD),
        ("fines", draw.fines_share, looks.LIME, "."),
    )
    drawn.named_rows([(name, 100.0 * share, f"{100 * share:.0f} %", *look) for name, share, *look in heaps])
    found = [
        100.0 * share for share in (draw.fines_share, draw.cored_share, draw.overburnt_share, draw.carbon_dioxide_left)
    ]
    drawn.rows(None, found, list(range(len(FAULTS))), width=0.45, marker={"color": looks.PALE}, **UNTOLD, **BESIDE)
    limits = [(row, name, 100.0 * fact(key)) for row, kept in enumerate(FAULTS.values()) for name, key in kept]
    drawn.marks(
        "limit",
        [percent for *_, percent in limits],
        [row for row, *_ in limits],
        mode="markers+text",
        text=[name for _, name, _ in limits],
        textposition="middle right",
        textfont={"size": looks.SMALL},
        marker={"symbol": "line-ns", "size": 20, "line": {"width": 3, "color": looks.INK}},
        hovertemplate="%{text}: %{x:.0f} %<extra></extra>",
        **BESIDE,
    )
    return drawn.laid(
        height=560,
        showlegend=False,
        xaxis={"range": [0, 106], "anchor": "y", "title": "of a hundred kilos drawn [kg]"},
        yaxis={"domain": [0.62, 1.0], "autorange": "reversed"},
        xaxis2={
            "range": [0, max(LEAST_SHOWN, 1.15 * max(found))],
            "anchor": "y2",
            "title": "share of what was drawn [%]",
        },
        yaxis2={
            "domain": [0.0, 0.44],
            "anchor": "x2",
            "range": [-0.5, len(FAULTS) - 0.1],
            "tickvals": list(range(len(FAULTS))),
            "ticktext": [f"{row} {percent:.1f} %" for row, percent in zip(FAULTS, found, strict=True)],
        },
    )


def broken_piece(core_ratio: float, diagnosis: Diagnosis) -> Picture:
    """Draw the broken face with its core, a share of its width, beside the signs seen and what each one means."""
    drawn = Picture(f"It says: {diagnosis.verdict}")
    for name, radius, fill, line in (
        ("lime", 1.0, looks.WHITE_LIME, (looks.INK, "solid", 3)),
        ("stone still in it", core_ratio, looks.SLAB, (looks.INK, "solid", 2)),
        ("widest core CL 90 allows", unburnt_allowed() ** (1 / 3), None, (looks.INK, "dot")),
    ):
        drawn.line(
            name,
            radius * np.cos(RING),
            radius * np.sin(RING),
            *line,
            fill="toself" if fill else None,
            fillcolor=fill,
            hoverinfo="skip",
        )
    found = {sign.sign: sign for sign in burn_signs() if sign.sign in diagnosis.signs}
    for means, place in COLUMNS.items():
        here = [sign for sign in found.values() if sign.means == means]
        drawn.marks(
            None,
            [place for _ in here],
            [sign.look for sign in here],
            mode="markers+text",
            text=[sign.seen for sign in here],
            textposition="bottom center",
            hovertext=[sign.sign for sign in here],
            hoverinfo="text",
            marker={"symbol": SYMBOLS[means], "size": 16, "color": looks.LIME if means == "right" else looks.FIRE},
            showlegend=False,
            **BESIDE,
        )
    square = {"range": [-1.08, 1.08], "visible": False}
    columns = {"categoryarray": list(COLUMNS.values()), "range": [-0.5, len(COLUMNS) - 0.5]}
    return drawn.panes(0.36, 0.46).laid(
        height=420,
        xaxis=square,
        yaxis={"scaleanchor": "x", "constrain": "domain", **square},
        xaxis2={"type": "category", **columns},
        yaxis2={"type": "category", "categoryarray": list(ROWS), "range": [-0.6, len(ROWS) - 0.5]},
    )
