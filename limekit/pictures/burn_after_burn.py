"""A kiln against its plan, burn after burn: hours and wood as forecast before each, and as they came."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from limekit.estimate import Span, shown
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, Picture
from limekit.units import HOUR

HEIGHT = 760
PANES = ((0.57, 1.0), (0.0, 0.43))  # of the height, hours above wood
FIGURES = (("hours", HOUR, "h", 2, {}), ("fuel", 1.0, "kg", 3, BESIDE))
TOOK, WRONG, GUESS = "what it took", "went wrong: counts for no forecast", "a guess at the next"
MARKS = {
    TOOK: {"symbol": "circle", "size": 12, "color": looks.INK},
    WRONG: {"symbol": "x", "size": 12, "color": looks.MUTED},
    GUESS: {**looks.CHOSEN, "symbol": "diamond-open", "line": {"width": 2}},
}


class Column(NamedTuple):
    """A burn as it is drawn: its name, what was forecast of it and what it took, s and kg, and its mark of `MARKS`."""

    name: str
    hours: Span | None
    fuel: Span
    hours_taken: float | None
    fuel_taken: float | None
    mark: str


def burn_after_burn(burns: Sequence[Column]) -> Picture:
    """Draw what was forecast of each burn by those before it, and what it took; and of those to come."""
    drawn = Picture("A kiln against its plan")
    for figure, unit, said, digits, axes in FIGURES:
        alone = {"showlegend": not axes, **axes}
        known = [(one.name, getattr(one, figure)) for one in burns if getattr(one, figure)]
        middle, low, high = ([getattr(span, end) / unit for _, span in known] for end in ("middle", "low", "high"))
        drawn.marks(
            "forecast before the burn, nine times in ten",
            [name for name, _ in known],
            middle,
            marker={"symbol": "line-ew-open", "size": 16, "color": looks.FIRE, "line": {"width": 2.5}},
            error_y=looks.whiskers(middle, low, high, color=looks.FIRE),
            customdata=[[shown(end / unit, digits) for end in (span.low, span.high)] for _, span in known],
            hovertemplate=f"%{{x}}: %{{y:.0f}} {said}, %{{customdata[0]}} to %{{customdata[1]}}<extra></extra>",
            **alone,
        )
        for name, look in MARKS.items():
            taken = [(one.name, getattr(one, f"{figure}_taken")) for one in burns if one.mark == name]
            taken = [(day, took / unit) for day, took in taken if took]
            drawn.marks(
                name,
                [day for day, _ in taken],
                [took for _, took in taken],
                marker=look,
                hovertemplate=f"%{{x}}: %{{y:.0f}} {said}<extra></extra>",
                **alone,
            )
    across = {"type": "category", "categoryorder": "array", "categoryarray": [one.name for one in burns]}
    return drawn.laid(
        height=HEIGHT,
        xaxis={**across, "anchor": "y", "showticklabels": False},
        xaxis2={**across, "anchor": "y2"},
        yaxis={"rangemode": "tozero", "title": "hours of firing", "domain": PANES[0]},
        yaxis2={"rangemode": "tozero", "title": {"text": "wood, kg"}, "anchor": "x2", "domain": PANES[1]},
    )
