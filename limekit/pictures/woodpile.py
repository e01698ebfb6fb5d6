"""The fuel for a burn as it lies in the yard, to scale, with a person beside it."""

from __future__ import annotations

import re

import numpy as np

from limekit.estimate import Span
from limekit.pictures import looks
from limekit.pictures.kiln_parts import BODY, PERSON, WOOD

DEEP, HIGH, TOP = 1.0, 1.2, 1.9
LEFT = -1.2
LEAST_SHOWN = 3.2
ENDS, MOST_ENDS = 0.15, 260
WIDE, TALL = 760.0, 250.0  # pixels of the plot, about
_STEP = re.compile(r"([A-Z])|(-?\d*\.?\d+)")


def _person(left: float) -> dict:
    """Return a plotly shape of a person who stands on 0 at a place, in metres both ways."""
    written, command, is_across = [], "", True
    for letter, figure in _STEP.findall(BODY):
        if letter:
            command, is_across = letter, letter != "V"
            written.append(letter)
            continue
        written.append(f"{PERSON * float(figure) + (left if is_across else 0.0):.3f}")
        if command not in "HV":
            is_across = not is_across
    return {"type": "path", "path": " ".join(written), "fillcolor": looks.MUTED, "line": {"width": 0}}


def _ends(length: float) -> tuple[np.ndarray, np.ndarray, float]:
    """Return where the ends of logs lie in a stack, and how far apart."""
    apart = max(ENDS, float(np.sqrt(length * HIGH / MOST_ENDS)))
    rows = int(HIGH / apart)
    across = [np.arange(0.5 + (row % 2) / 2, length / apart - 0.3) * apart for row in range(rows)]
    up = [np.full(len(row), (number + 0.5) * HIGH / rows) for number, row in enumerate(across)]
    return np.concatenate(across), np.concatenate(up), apart


def to_scale(room: Span, is_stacked: bool = True):
    """Draw a stack of split wood, or a bin of lumps, a metre deep: its least, its middle and its most.

    Parameters
    ----------
    room : Span
        m³, for the fuel at the kiln's best, as planned and at its worst.
    is_stacked : bool
        Whether it is logs in a stack; else lumps in a bin.

    Returns
    -------
    plotly.graph_objects.Figure
    """
    near, planned, far = (volume / (DEEP * HIGH) for volume in (room.low, room.middle, room.high))
    reach = max(1.05 * far, LEAST_SHOWN)
    drawn = looks.figure(f"The {'stack' if is_stacked else 'bin'}, {DEEP:.0f} m deep and {HIGH:.1f} m high")
    for name, start, end, opacity, dash in (
        (f"enough at the best: {room.low:.1f} m³", 0.0, near, 0.95, "solid"),
        (f"planned: {room.middle:.1f} m³", near, planned, 0.6, "dash"),
        (f"to have by you: {room.high:.1f} m³", planned, far, 0.25, "dot"),
    ):
        drawn.add_scatter(
            x=np.array([start, end, end, start, start]),
            y=np.array([0.0, 0.0, HIGH, HIGH, 0.0]),
            mode="lines",
            fill="toself",
            fillcolor=looks.veil(WOOD, opacity),
            line={"color": looks.INK, "dash": dash, "width": 2},
            name=name,
            hoverinfo="name",
        )
    across, up, apart = _ends(far)
    drawn.add_scatter(
        x=across,
        y=up,
        mode="markers",
        marker={
            "symbol": "circle-open" if is_stacked else "hexagon-open",
            "size": 0.85 * apart * min(WIDE / (reach - LEFT), TALL / TOP),
            "color": looks.MUTED,
            "line": {"width": 1},
        },
        name="ends of logs" if is_stacked else "lumps",
        showlegend=False,
        hoverinfo="skip",
    )
    drawn.update_layout(
        height=420,
        shapes=[_person(0.55 * LEFT)],
        xaxis={"range": [LEFT, reach], "constraintoward": "left", "title_text": "length of the stack [m]"},
        yaxis={"range": [0, TOP], "scaleanchor": "x", "constraintoward": "bottom", "title_text": "height [m]"},
    )
    return drawn
