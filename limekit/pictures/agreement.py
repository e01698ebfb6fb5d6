"""What the kit makes of published cases, over what their sources say: every case on one scale."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from limekit.pictures import looks
from limekit.pictures.picture import UNTOLD, Picture

ROW, FRAME = 26, 190
LONGEST = 46
TICKS = (0.2, 0.5, 0.8, 1, 1.25, 2, 5)
ENDS = (0.14, 7.0)
MARKS = ("diamond", "x", "circle-open", "square-open")


def agreement(
    names: Sequence[str],
    answers: Sequence[float],
    bands: Sequence[tuple[float, float, float]],
    tags: Sequence[str],
    kinds: Mapping[str, Sequence[int]],
) -> Picture:
    """Draw each answer, and the band its source leaves it, over the source's figure.

    The scale is the same for every case and every topic: half and twice lie as far from the source as each other. A
    band is low, expected and high, in the answer's unit; `tags` tell how each source is known; `kinds` name the places
    of their cases, and each kind has a mark of its own.
    """
    drawn = Picture("Ours, over what the source says", "ours over the source's; grey, its band")
    rows = list(range(len(names)))
    ends = [(low / expected, high / expected) for low, expected, high in bands]
    drawn.add(
        "scatter",
        "the band the source leaves",
        [place for low, high in ends for place in (low, high, None)],
        [place for row in rows for place in (row, row, None)],
        mode="lines",
        line={"color": looks.MUTED, "width": 9},
        opacity=0.35,
        **UNTOLD,
    )
    for (kind, places), mark in zip(kinds.items(), MARKS, strict=True):
        drawn.marks(
            kind,
            [answers[place] / bands[place][1] for place in places],
            list(places),
            marker={"symbol": mark, "size": 11, "color": looks.INK, "line": {"width": 2}},
            text=[f"{names[place]}<br>{tags[place]}" for place in places],
            hovertemplate="%{text}<extra></extra>",
        )
    return drawn.laid(
        height=FRAME + ROW * len(rows),
        xaxis={
            "type": "log",
            "range": [math.log10(end) for end in ENDS],
            "tickvals": TICKS,
            "ticktext": [f"{tick:g}" for tick in TICKS],
        },
        yaxis={
            "range": [len(rows) - 0.4, -0.6],
            "tickvals": rows,
            "ticktext": [name if len(name) <= LONGEST else name[: LONGEST - 1] + "…" for name in names],
            "tickfont": {"size": looks.SMALL},
        },
        legend={"yref": "paper", "y": 1.015, "yanchor": "bottom", "x": 0.0},
        title={"y": 0.97, "yanchor": "top"},
        margin={"t": 115},
    )
