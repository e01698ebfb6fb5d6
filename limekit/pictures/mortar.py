"""What a measure of sand takes, and where a tank of putty goes on a wall."""

from __future__ import annotations

from collections.abc import Mapping

from limekit.lime.mixes import mortar_volume
from limekit.pictures import looks
from limekit.units import LITRES


def sand_and_wall(sand_voids: float, sand_parts: float, putty: Mapping[str, float], in_the_tank: float):
    """Draw one measure of sand with its putty, beside the putty each work on the wall takes.

    Parameters
    ----------
    sand_voids : float
        Share of the sand's room.
    sand_parts : float
        To one of putty, by volume.
    putty : mapping of str to float
        m³, by work.
    in_the_tank : float
        m³.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("One bucket of sand, and the wall")
    given = 1.0 / sand_parts
    bars = ("sand", "putty", "mortar")
    made = mortar_volume.plain(given, 1.0, sand_voids)
    for name, parts, colour, hatch in (
        ("grains", (1.0 - sand_voids, 0.0, 1.0 - sand_voids), looks.STONE, "."),
        ("voids, as yet empty", (sand_voids, 0.0, max(sand_voids - given, 0.0)), looks.MUTED, "x"),
        ("putty", (0.0, given, min(given, made - 1.0 + sand_voids)), looks.LIME, ""),
    ):
        drawn.add_bar(
            x=list(bars),
            y=list(parts),
            name=name,
            marker=looks.hatched(colour, hatch),
            hovertemplate=f"{name}: %{{y:.2f}} bucket<extra></extra>",
        )
    works = {**putty, "all together": sum(putty.values())}
    litres, rows = [LITRES * volume for volume in works.values()], list(range(len(works)))
    drawn.add_bar(
        x=litres,
        y=rows,
        orientation="h",
        text=[f"{volume:.0f} L" for volume in litres],
        textposition="outside",
        cliponaxis=False,
        marker={"color": looks.LIME},
        showlegend=False,
        hoverinfo="skip",
        xaxis="x2",
        yaxis="y2",
    )
    drawn.add_scatter(
        x=[LITRES * in_the_tank] * 2,
        y=[-0.5, len(works) - 0.5],
        mode="lines",
        name="putty in your tank",
        line={"color": looks.FIRE, "dash": "dash"},
        xaxis="x2",
        yaxis="y2",
    )
    drawn.update_layout(
        barmode="stack",
        height=430,
        xaxis={"domain": [0.0, 0.32], "type": "category"},
        yaxis={"title_text": "buckets", "range": [0, max(1.08, 1.08 * made)]},
        xaxis2={
            "domain": [0.56, 1.0],
            "anchor": "y2",
            "title_text": "putty it takes [L]",
            "range": [0, 1.2 * max(*litres, LITRES * in_the_tank)],
        },
        yaxis2={"anchor": "x2", "range": [len(works) - 0.5, -0.5], "tickvals": rows, "ticktext": list(works)},
    )
    return drawn
