"""Drawn lime sorted into heaps, and its faults held against what may be in it."""

from __future__ import annotations

from limekit.facts import fact
from limekit.lime.drawing import Draw
from limekit.pictures import looks

LEAST_WRITTEN = 0.04
LEAST_SHOWN = 20.0  # % to which the lower scale always runs
ROWS = {
    "fines": (("usual at most", "drawing_fines_most"),),
    "with a core": (("usual at most", "drawing_cored_most"),),
    "over-burnt": (("most for plaster", "drawing_overburnt_most"),),
    "CO₂ left": tuple((f"CL {grade}", f"cl{grade}_carbon_dioxide_most") for grade in (90, 80, 70)),
}


def sorted_heaps(draw: Draw):
    """Draw the heaps as one bar, and below it gas, over-burnt and cored pieces and fines beside their limits.

    Parameters
    ----------
    draw : Draw
        In plain SI floats.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("A hundred kilos drawn")
    whole = 1.0 - draw.good_share - draw.overburnt_share - draw.fines_share
    core = draw.core / draw.drawn
    for name, share, colour, hatch in (
        ("good lime", draw.good_share, looks.LIME, ""),
        ("lime round a core", whole - core, looks.WATER, "/"),
        ("core, still stone", core, looks.STONE, "x"),
        ("over-burnt", draw.overburnt_share, looks.FIRE, "|"),
        ("fines", draw.fines_share, looks.GAS, "."),
    ):
        drawn.add_bar(
            x=[100.0 * share],
            y=["heaps"],
            name=name,
            orientation="h",
            marker=looks.hatched(colour, hatch),
            text=f"{100 * share:.0f}" if share >= LEAST_WRITTEN else "",
            textfont={"color": looks.on(colour), "size": 18},
            textposition="inside",
            insidetextanchor="middle",
            textangle=0,
            hovertemplate=f"{name}: %{{x:.1f}} %<extra></extra>",
        )
    found = [
        100.0 * share for share in (draw.fines_share, draw.cored_share, draw.overburnt_share, draw.carbon_dioxide_left)
    ]
    drawn.add_bar(
        x=found,
        y=list(range(len(ROWS))),
        orientation="h",
        width=0.45,
        marker={"color": looks.MUTED},
        showlegend=False,
        hoverinfo="skip",
        xaxis="x2",
        yaxis="y2",
    )
    limits = [(row, name, 100.0 * fact(key)) for row, kept in enumerate(ROWS.values()) for name, key in kept]
    drawn.add_scatter(
        x=[percent for *_, percent in limits],
        y=[row for row, *_ in limits],
        mode="markers+text",
        text=[name for _, name, _ in limits],
        textposition="top center",
        marker={"symbol": "line-ns", "size": 28, "line": {"width": 3, "color": looks.FIRE}},
        name="limit",
        hovertemplate="%{text}: %{x:.0f} %<extra></extra>",
        xaxis="x2",
        yaxis="y2",
    )
    drawn.update_layout(
        barmode="stack",
        height=560,
        xaxis={"range": [0, 100.5], "anchor": "y", "ticksuffix": " %"},
        yaxis={"domain": [0.76, 1.0], "showticklabels": False},
        xaxis2={
            "range": [0, max(LEAST_SHOWN, 1.15 * max(found))],
            "anchor": "y2",
            "title_text": "share of what was drawn [%]",
        },
        yaxis2={
            "domain": [0.0, 0.58],
            "anchor": "x2",
            "range": [-0.5, len(ROWS) - 0.25],
            "tickvals": list(range(len(ROWS))),
            "ticktext": [f"{row} {percent:.1f} %" for row, percent in zip(ROWS, found, strict=True)],
        },
    )
    return drawn
