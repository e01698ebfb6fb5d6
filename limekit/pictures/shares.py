"""Where a kilogram goes: parts of a whole as one bar before and one after."""

from __future__ import annotations

from limekit.balance import MassBalance
from limekit.pictures import looks

LEAST_WRITTEN = 0.04


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
