"""Real kilns and what is forecast: hours and wood over the stone of a charge, both on scales that multiply."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from limekit.edge import edge
from limekit.estimate import Span, ranged, shown
from limekit.fire.bed import Laid
from limekit.kiln.forecast import LEAST, MOST, Along, FiringForecast, forecast_along, forecast_firing
from limekit.kiln.real_firings import PlainLine, RealFiring, known, plain_line
from limekit.limestone import Stone
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, Picture
from limekit.units import HOUR, TONNE, KilogramPerSecond, Metre

HEIGHT = 860
MASSES = 13  # points along a forecast's band
STONE_ENDS = (0.06, 110.0)
STONE_TICKS, HOUR_TICKS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 40), (5, 10, 20, 50, 100, 200)
WOOD_TICKS = (0.1, 0.3, 1, 3, 10, 30)
FIGURES = (("hours", HOUR, "h", looks.FIRE, {}), ("fuel", TONNE, "t of wood", looks.WOOD, BESIDE))
ENDS = {"hours": (4.0, 400.0), "fuel": (0.08, 60.0)}  # h and t
PANES = ((0.55, 1.0), (0.0, 0.43))  # of the height, hours above wood
MARK, LETTER, LINE = 0.012, 0.0078, 0.036  # of a pane: half a mark, a letter's width and a line's height


class Among(NamedTuple):
    """A kiln among real ones: its stone (kg), its forecast, and those of charges from small to large; SI floats."""

    stone: float
    yours: FiringForecast
    along: Along


def among_others(stone: Stone, stoking_rate: float | None = None, **told) -> Among:
    """Return the forecast of a charge, and of others of which as much is told but for how they are fed."""
    yours = forecast_firing.plain(stone, stoking_rate=stoking_rate, **told)
    return Among(stone.mass, yours, forecast_along(np.geomspace(LEAST, MOST, MASSES), **told))


@functools.cache
def _counted() -> tuple[tuple[RealFiring, ...], tuple[PlainLine, ...]]:
    lines = tuple(plain_line(known(figure), figure) for figure, *_ in FIGURES)
    return tuple(dict.fromkeys((*known("hours"), *known("fuel")))), lines


def real_kilns(found: Among) -> Picture:
    """Draw the firings whose figures are counted, the forecast's range, the plain lines, and your own kiln."""
    (firings, lines), (stone, yours, along) = _counted(), found
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
        stone_of = np.array([one.stone.middle / TONNE for one in real])
        figure_of = np.array([getattr(one, figure).middle / unit for one in real])
        words, where = _named(
            [one.kiln for one in real], *map(_share, (stone_of, figure_of), (STONE_ENDS, ENDS[figure]))
        )
        drawn.marks(
            "real firings",
            stone_of,
            figure_of,
            mode="markers+text",
            text=words,
            textposition=where,
            textfont={"size": looks.SMALL, "color": looks.MUTED},
            customdata=[[one.name, one.year, _ends(getattr(one, figure), unit, told)] for one in real],
            hovertemplate="%{customdata[0]}<br>%{customdata[1]}: %{customdata[2]}<extra></extra>",
            marker={"symbol": "circle-open", "size": 9, "color": looks.STONE, "line": {"width": 2}},
            **alone,
            **axes,
        )
        mine = getattr(yours, figure)
        ends = looks.spanned([mine], unit)
        drawn.marks("yours", [stone / TONNE], [mine.middle / unit], marker=looks.CHOSEN, error_y=ends, **alone, **axes)
    scale = {"type": "log", "range": np.log10(STONE_ENDS).tolist()}
    ticks = {"tickvals": STONE_TICKS, "ticktext": [*map(str, STONE_TICKS)]}
    across = {**scale, **ticks, "title": {"text": "stone, tonnes"}}
    return drawn.laid(
        height=HEIGHT,
        xaxis={**across, "anchor": "y", "title": {"text": ""}},
        xaxis2={**across, "anchor": "y2"},
        yaxis={**_upward("hours of firing", HOUR_TICKS, ENDS["hours"]), "domain": PANES[0]},
        yaxis2={**_upward("wood, tonnes", WOOD_TICKS, ENDS["fuel"]), "anchor": "x2", "domain": PANES[1]},
    )


@edge
def firings_chart(
    stone: Stone,
    largest_stone: Metre | None = None,
    *,
    stoking_rate: KilogramPerSecond | None = None,
    laid: Laid | None = None,
):
    """Draw the hours and the wood of real firings, with the forecast for yours among them.

    Parameters
    ----------
    stone, largest_stone, stoking_rate, laid
        As for `limekit.forecast_firing`.

    Returns
    -------
    plotly.graph_objects.Figure
        Over the stone of a charge, both axes by factors; under it what it rests on. `limekit.save_picture` saves it.

    Examples
    --------
    >>> chart = firings_chart("500 kg", "100 mm")
    >>> chart.layout.title.text
    'Real firings, and the forecast'
    """
    import plotly.graph_objects as go

    found = among_others(stone, largest_stone=largest_stone, stoking_rate=stoking_rate, laid=laid)
    drawn = real_kilns(found)
    rests = f"{found.yours.real_kilns} kilns, each with its source in limekit's data/firings.csv"
    look = {"font": {"size": looks.SMALL, "color": looks.MUTED}, "xanchor": "right", "yanchor": "bottom"}
    drawn.note(rests, 1.0, 1.005, xref="paper", yref="paper", **look)
    return go.Figure(drawn).update_layout(width=900)


def _upward(title: str, ticks: Sequence[float], ends: tuple[float, float]) -> dict:
    return {
        "type": "log",
        "range": np.log10(ends).tolist(),
        "tickvals": ticks,
        "ticktext": [*map(str, ticks)],
        "title": {"text": title},
    }


def _named(kilns: Sequence[str], x: np.ndarray, y: np.ndarray) -> tuple[list[str], list[str]]:
    """Return what stands beside each mark and where: a kiln's name once, as clear of marks and names as there is room.

    x and y are places on the page, from 0 to 1 each.
    """
    words, where = [], []
    taken = [(left - MARK, left + MARK, low - MARK, low + MARK) for left, low in zip(x, y, strict=True)]
    taken += [(-1.0, 0.0, -1.0, 2.0), (1.0, 2.0, -1.0, 2.0)]
    for rank, name in enumerate(kilns):
        said = "" if name in kilns[:rank] else name
        wide, high = LETTER * len(said), LINE
        room = {
            "middle right": (x[rank] + MARK, y[rank] - high / 2),
            "middle left": (x[rank] - MARK - wide, y[rank] - high / 2),
            "top center": (x[rank] - wide / 2, y[rank] + MARK),
            "bottom center": (x[rank] - wide / 2, y[rank] - MARK - high),
        }
        boxes = {place: (left, left + wide, low, low + high) for place, (left, low) in room.items()}
        best = min(boxes, key=lambda place: sum(_shared(boxes[place], other) for other in taken))
        words.append(said)
        where.append(best)
        taken += [boxes[best]] if said else []
    return words, where


def _share(values: np.ndarray, ends: tuple[float, float]) -> np.ndarray:
    return np.log(values / ends[0]) / np.log(ends[1] / ends[0])


def _shared(one: tuple, other: tuple) -> float:
    """Return the area that two boxes (left, right, low, high) share."""
    across, upward = (min(one[end + 1], other[end + 1]) - max(one[end], other[end]) for end in (0, 2))
    return max(across, 0.0) * max(upward, 0.0)


def _ends(span: Span, unit: float, told: str) -> str:
    if span.low == span.high:
        return f"{shown(span.middle / unit)} {told}"
    return ranged(span, unit, named=f" {told}")
