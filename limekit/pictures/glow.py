"""The colours of hot stone in a row, and under them how far four tables differ in naming them."""

from __future__ import annotations

import numpy as np

from limekit import glossary
from limekit.edge import edge
from limekit.pictures import looks
from limekit.pictures.blackbody import glow_swatch
from limekit.stone import glow
from limekit.units import ZERO_CELSIUS, Kelvin

COLDEST, HOTTEST, STEP = 450.0, 1350.0, 10.0
SHORT = dict(zip(glow.SOURCES, ("Stirling 1905", "Howe", "White & Taylor 1899", "Chapman 1972"), strict=True))


def glow_words(temperature: float) -> str:
    """Return one sentence on the names four tables give to a glow, from its temperature in kelvin."""
    named = glow.glow_colour.plain(temperature)
    names = "; ".join(f"{name} by {SHORT[source]}" for source, name in named.items())
    return f"Stone at {temperature - ZERO_CELSIUS:.0f} °C, seen in shade, is {names}."


def _patches(drawn) -> None:
    middles = np.arange(COLDEST, HOTTEST, STEP) + STEP / 2.0
    swatches = [glow_swatch.plain(celsius + ZERO_CELSIUS) for celsius in middles]
    drawn.add_bar(
        x=middles,
        y=np.ones(len(middles)),
        width=1.3 * STEP,
        marker={"color": swatches, "line": {"width": 0}},
        customdata=swatches,
        hovertemplate="%{x:.0f} °C: %{customdata} on a screen<extra></extra>",
        name="computed colour",
        showlegend=False,
        yaxis="y2",
    )


def _spans(drawn) -> None:
    ends = [
        (min(level.low for level in every) - ZERO_CELSIUS, max(level.high for level in every) - ZERO_CELSIUS)
        for every in map(glow.levels, glow.COLOURS)
    ]
    drawn.add_bar(
        x=[high - low for low, high in ends],
        base=[low for low, _ in ends],
        y=list(glow.COLOURS),
        orientation="h",
        width=0.62,
        marker={"color": looks.GRID},
        text=[f"{low:.0f} to {high:.0f}" for low, high in ends],
        textposition="none",
        hovertemplate="%{y}: %{text} °C over the tables<extra></extra>",
        name="range over the tables",
    )
    for colour, (low, high) in zip(glow.COLOURS, ends, strict=True):
        room_right = HOTTEST - high > low - COLDEST
        drawn.add_annotation(
            x=high if room_right else low,
            y=colour,
            text=f"{high - low:z.0f} °C apart",
            xanchor="left" if room_right else "right",
            xshift=9 if room_right else -9,
            font={"color": looks.MUTED},
        )


def _tables(drawn) -> None:
    for rank, (source, short) in enumerate(SHORT.items()):
        found = [(colour, level) for colour in glow.COLOURS for level in glow.levels(colour) if level.variant == source]
        drawn.add_scatter(
            x=[level - ZERO_CELSIUS for _, level in found],
            y=[colour for colour, _ in found],
            error_x={
                "type": "data",
                "symmetric": True,
                "array": [(level.high - level.low) / 2.0 for _, level in found],
                "thickness": 2.5,
                "width": 5,
            },
            mode="markers",
            marker={"color": looks.line(rank)["color"], "symbol": looks.MARKERS[rank], "size": 10},
            hovertemplate=f"%{{y}}: %{{x:.0f}} °C<extra>{short}</extra>",
            name=short,
        )


@edge
def glow_strip(temperature: Kelvin | None = None):
    """Draw the computed colours of hot stone, and under them what four tables call by each name.

    Parameters
    ----------
    temperature : Kelvin, optional
        Marked by a line, 450 to 1350 °C.

    Returns
    -------
    plotly.graph_objects.Figure
        The patches are a screen's approximation, exposed as `limekit.pictures.blackbody` says;
        a marker is what a table prints, with a bar where it prints a range, and the grey band
        the range over all tables.
    """
    drawn = looks.figure("The colour of hot stone, and four tables' names for it")
    drawn.add_annotation(
        x=0.0,
        y=0.89,
        xref="paper",
        yref="paper",
        yanchor="middle",
        xanchor="right",
        xshift=-9,
        text="computed<br>colour, as a<br>screen has it",
    )
    _patches(drawn)
    _spans(drawn)
    _tables(drawn)
    if temperature is not None:
        celsius = temperature - ZERO_CELSIUS
        drawn.add_shape(
            type="line",
            x0=celsius,
            x1=celsius,
            y0=0.0,
            y1=1.0,
            yref="paper",
            line={"color": looks.WATER, "width": 2, "dash": "dash"},
        )
        drawn.add_annotation(x=celsius, y=1.0, yref="paper", yanchor="bottom", text=f"{celsius:.0f} °C")
    drawn.update_annotations(showarrow=False)
    drawn.update_xaxes(
        range=[COLDEST, HOTTEST], dtick=100, title_text=f"{glossary.entry('temperature').label} of the stone [°C]"
    )
    drawn.update_layout(
        yaxis={"domain": [0.0, 0.72], "categoryorder": "array", "categoryarray": list(glow.COLOURS)},
        yaxis2={"domain": [0.78, 1.0], "range": [0, 1], "visible": False},
        barmode="overlay",
        height=560,
    )
    return drawn
