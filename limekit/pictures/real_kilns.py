"""Real kilns and what is forecast: hours and wood over the stone of a charge, both on scales that multiply."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from limekit.estimate import Span, shown
from limekit.kiln.forecast import Along, FiringForecast
from limekit.kiln.real_firings import PlainLine, RealFiring
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, Picture
from limekit.units import HOUR, TONNE

HEIGHT = 860
STONE_ENDS = (0.08, 110.0)
STONE_TICKS, HOUR_TICKS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 40), (5, 10, 20, 50, 100, 200)
WOOD_TICKS = (0.1, 0.3, 1, 3, 10, 30)
FIGURES = (("hours", HOUR, "h", looks.FIRE, {}), ("fuel", TONNE, "t of wood", looks.WOOD, BESIDE))
PANES = ((0.55, 1.0), (0.0, 0.43))  # of the height, hours above wood
BESIDE_MARK = ("middle right", "middle left", "top center", "bottom center")


def real_kilns(
    firings: Sequence[RealFiring], along: Along, lines: Sequence[PlainLine], stone: float, yours: FiringForecast
) -> Picture:
    """Draw the firings whose figures are counted, the forecast's range, the plain lines, and your own kiln.

    Parameters
    ----------
    firings : sequence of RealFiring
        That are counted.
    along : Along
        The forecast from small charges to large; plain SI floats, as all here.
    lines : sequence of PlainLine
        Of hours and of fuel.
    stone : float
        Of your kiln, kg.
    yours : FiringForecast

    Returns
    -------
    Picture
    """
    drawn = Picture("Real firings, and the forecast")
    masses = along.stone / TONNE
    for line, (figure, unit, told, colour, axes) in zip(lines, FIGURES, strict=True):
        middle, low, high = getattr(along, figure) / unit
        alone = {"showlegend": not axes}
        drawn.band("forecast, nine times in ten", masses, low, high, colour, **alone, **axes)
        drawn.line("its middle", masses, middle, colour, showlegend=False, **axes)
        plain = [line.at(mass).middle / unit for mass in along.stone]
        drawn.line("a plain line through the firings", masses, plain, looks.MUTED, "dash", **alone, **axes)
        real = sorted((one for one in firings if getattr(one, figure) is not None), key=lambda one: one.stone.middle)
        drawn.marks(
            "real firings",
            [one.stone.middle / TONNE for one in real],
            [getattr(one, figure).middle / unit for one in real],
            mode="markers" if axes else "markers+text",
            text=_once([one.kiln for one in real]),
            textposition=_places([one.kiln for one in real]),
            textfont={"size": looks.SMALL, "color": looks.MUTED},
            customdata=[[one.name, one.year, _ends(getattr(one, figure), unit, told)] for one in real],
            hovertemplate="%{customdata[0]}<br>%{customdata[1]}: %{customdata[2]}<extra></extra>",
            marker={"symbol": "circle-open", "size": 9, "color": looks.STONE, "line": {"width": 2}},
            **alone,
            **axes,
        )
        mine = getattr(yours, figure)
        ends = looks.whiskers([mine.middle / unit], [mine.low / unit], [mine.high / unit], color=looks.INK)
        drawn.marks("yours", [stone / TONNE], [mine.middle / unit], marker=looks.CHOSEN, error_y=ends, **alone, **axes)
    scale = {"type": "log", "range": np.log10(STONE_ENDS).tolist()}
    ticks = {"tickvals": STONE_TICKS, "ticktext": [*map(str, STONE_TICKS)]}
    across = {**scale, **ticks, "title": {"text": "stone, tonnes"}}
    return drawn.laid(
        height=HEIGHT,
        xaxis={**across, "anchor": "y", "title": {"text": ""}},
        xaxis2={**across, "anchor": "y2"},
        yaxis={**_upward("hours of firing", HOUR_TICKS, (4.0, 400.0)), "domain": PANES[0]},
        yaxis2={**_upward("wood, tonnes", WOOD_TICKS, (0.08, 60.0)), "anchor": "x2", "domain": PANES[1]},
    )


def _upward(title: str, ticks: Sequence[float], ends: tuple[float, float]) -> dict:
    return {
        "type": "log",
        "range": np.log10(ends).tolist(),
        "tickvals": ticks,
        "ticktext": [*map(str, ticks)],
        "title": {"text": title},
    }


def _once(names: Sequence[str]) -> list[str]:
    """Return names with those that stood before left blank, so that a kiln of many burns is named once."""
    return [name if name not in names[:rank] else "" for rank, name in enumerate(names)]


def _places(names: Sequence[str]) -> list[str]:
    """Return where each name stands beside its mark, each in another place than the one before."""
    rank = {name: place for place, name in enumerate(dict.fromkeys(names))}
    return [BESIDE_MARK[rank[name] % len(BESIDE_MARK)] for name in names]


def _ends(span: Span, unit: float, told: str) -> str:
    if span.low == span.high:
        return f"{shown(span.middle / unit, 3)} {told}"
    return f"{shown(span.middle / unit, 3)} {told} ({shown(span.low / unit, 3)} to {shown(span.high / unit, 3)})"
