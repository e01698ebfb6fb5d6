"""What the kit makes of published cases, beside what their sources say."""

from __future__ import annotations

from collections.abc import Sequence

from limekit.pictures import looks

ROW, FRAME = 26, 170
LONGEST = 46


def agreement(names: Sequence[str], answers: Sequence[float], bands: Sequence[tuple[float, float, float]], tags):
    """Draw each answer in the band its source leaves it, bands drawn to one width.

    Parameters
    ----------
    names : sequence of str
    answers : sequence of float
    bands : sequence of tuple
        Low, expected and high of each, in the answer's unit.
    tags : sequence of str
        How each source is known.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    drawn = looks.figure("Ours, in the band the source leaves", "place in the band: 0 and 1 are its ends")
    places = [_place(answer, low, high) for answer, (low, _, high) in zip(answers, bands, strict=True)]
    middles = [_place(expected, low, high) for low, expected, high in bands]
    rows = list(range(len(names)))
    drawn.add_bar(
        x=[1.0] * len(rows),
        y=rows,
        orientation="h",
        width=0.5,
        marker={"color": looks.GRID},
        name="band",
        hoverinfo="skip",
    )
    drawn.add_scatter(
        x=middles,
        y=rows,
        mode="markers",
        name="what the source says",
        marker={"symbol": "line-ns-open", "size": 16, "color": looks.INK, "line": {"width": 3}},
        hoverinfo="skip",
    )
    drawn.add_scatter(
        x=places,
        y=rows,
        mode="markers",
        name="what the kit makes it",
        marker={"symbol": "diamond", "size": 11, "color": looks.FIRE},
        text=[f"{name}<br>{tag}" for name, tag in zip(names, tags, strict=True)],
        hovertemplate="%{text}<extra></extra>",
    )
    drawn.update_layout(
        height=FRAME + ROW * len(rows),
        bargap=0.4,
        xaxis={"range": [-0.15, 1.15], "tickvals": [0, 0.5, 1]},
        yaxis={
            "range": [len(rows) - 0.4, -0.6],
            "tickvals": rows,
            "ticktext": [name if len(name) <= LONGEST else name[: LONGEST - 1] + "…" for name in names],
            "tickfont": {"size": 13},
        },
        legend={"yref": "paper", "y": 1.015, "yanchor": "bottom", "x": 0.0},
        title={"y": 0.995, "yanchor": "top"},
        margin={"t": 95},
    )
    return drawn


def _place(value: float, low: float, high: float) -> float:
    return (value - low) / (high - low) if high > low else 0.5
