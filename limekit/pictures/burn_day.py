"""A burn as it goes: thermometers against the plan, the share burnt, and the forecast of the finish closing in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from limekit.kiln.logged import BurnLog
from limekit.kiln.replay import Band, Replay
from limekit.pictures import looks
from limekit.pictures.picture import UNTOLD, Picture
from limekit.units import HOUR, ZERO_CELSIUS

POINTS = 60
FULL = 1.25  # of a sign, where its bar ends
BURNT, FINISH = "y11", "y12"  # axes beside those of the thermometers
COLDEST, HOTTEST = -50.0, 1450.0  # °C; what reads higher raises the picture
GAP = 0.03  # of the picture's height, between two thermometers
FARTHEST = 1.5  # hours of forecast shown, over those drawn


def _drawn_band(band: Band, end: float) -> tuple[np.ndarray, ...]:
    """Return hours, low, median and high, no farther than an end (s) and no denser than a picture needs."""
    times = np.linspace(0.0, min(end, band.times[-1]), POINTS)
    return times / HOUR, *(np.interp(times, band.times, getattr(band, name)) for name in ("low", "median", "high"))


def _drawn_line(line: tuple[np.ndarray, np.ndarray], end: float) -> tuple[np.ndarray, np.ndarray]:
    times = np.linspace(0.0, min(end, line[0][-1]), POINTS)
    return times / HOUR, np.interp(times, *line)


def watched(
    log: BurnLog,
    planned: Mapping[str, tuple[np.ndarray, np.ndarray]],
    told: Sequence[tuple[float, Replay]],
    wanted: float,
    end: float,
) -> Picture:
    """Draw each thermometer against plan and replay, beside the share burnt and the forecasts so far.

    Parameters
    ----------
    log : BurnLog
        Up to now.
    planned : mapping of str to pair of ndarray
        By place, and for ``"conversion"``: times (s) and the plan's gas (K) or share burnt.
    told : sequence of (float, Replay)
        Moments (s) and what the log said at each, in plain SI floats; the last is now.
    wanted : float
        Share burnt at which the charge is done.
    end : float
        How far the hours are drawn, s.
    """
    now, replay = told[-1]
    drawn = Picture("The burn beside its plan, and when it will be done")
    places = list(reversed(log.temperatures))
    height = (1.0 + GAP) / max(len(places), 1)
    hottest = np.nanmax([HOTTEST, *(read - ZERO_CELSIUS for place in places for read in log.temperatures[place])])
    axes = {}
    for rank, place in enumerate(places):
        axis = "y" if not rank else f"y{rank + 1}"
        top = 1.0 - rank * height
        lies = place in replay.lying
        axes[axis.replace("y", "yaxis")] = {
            "domain": [max(top - height + GAP, 0.0), top],
            "range": [COLDEST, hottest],
            "tickvals": [0, 500, 1000],
        }
        _thermometer(drawn, log, planned[place], replay.bands[place], place, lies, end, axis, is_first=not rank)
        words = f"<b>{place}</b>" + (": does not fit, check it" if lies else "")
        look = {"font": {"color": looks.FIRE_WORDS if lies else looks.INK}, "bgcolor": looks.veil(looks.PAPER, 0.8)}
        where = {"xref": "x domain", "yref": f"{axis} domain", "xanchor": "right", "yanchor": "bottom"}
        drawn.note(words, 0.985, 0.05, **look, **where)
    _share_burnt(drawn, planned["conversion"], replay.bands["conversion"], end, now, wanted, is_first=not places)
    _forecasts(drawn, told, end)
    hours = {"range": [0.0, end / HOUR], "title": "hours since lighting [h]", "mirror": "all"}
    axes.setdefault("yaxis", {"visible": False})["title"] = "gas [°C]"
    return drawn.laid(
        height=640,
        legend=looks.key_under(0.0),
        legend2=looks.key_under(0.58),
        margin={"b": 135},
        xaxis={
            "domain": [0.0, 0.45],
            "anchor": "y" if len(places) < 2 else f"y{len(places)}",
            "visible": bool(places),
            **hours,
        },
        xaxis2={"domain": [0.58 if places else 0.0, 1.0], "anchor": BURNT, **hours},
        **axes,
        **{
            FINISH.replace("y", "yaxis"): {
                "domain": [0.56, 1.0],
                "anchor": "x2",
                "range": [0.0, FARTHEST * end / HOUR],
                "title": "finish [h]",
            },
            BURNT.replace("y", "yaxis"): {
                "domain": [0.0, 0.47],
                "anchor": "x2",
                "range": [0.0, 102.0],
                "title": "share burnt [%]",
            },
        },
    )


def _thermometer(drawn, log, planned, band, place, lies, end, axis, is_first) -> None:
    hours, low, median, high = _drawn_band(band, end)
    planned_hours, planned_gas = _drawn_line(planned, end)
    where = {"yaxis": axis, "showlegend": is_first}
    edges = (low - ZERO_CELSIUS, high - ZERO_CELSIUS)
    drawn.band("as the log tells it, 90 %", hours, *edges, looks.FIRE, **where)
    drawn.line(
        "as planned",
        planned_hours,
        planned_gas - ZERO_CELSIUS,
        looks.INK,
        "dash",
        2,
        hovertemplate=f"{place} as planned: %{{y:.0f}} °C<extra></extra>",
        **where,
    )
    where["showlegend"], listed = False, where["showlegend"]
    drawn.line("middle of that", hours, median - ZERO_CELSIUS, looks.FIRE, "solid", 2, hoverinfo="skip", **where)
    read = log.temperatures[place]
    seen = np.isfinite(read)
    drawn.marks(
        "read",
        log.times[seen] / HOUR,
        read[seen] - ZERO_CELSIUS,
        marker={"color": looks.INK, "symbol": "x" if lies else "circle", "size": 8 if lies else 6},
        hovertemplate=f"{place} at hour %{{x:.1f}}: %{{y:.0f}} °C<extra></extra>",
        **where | {"showlegend": listed},
    )


def _share_burnt(drawn, planned, band, end, now, wanted, is_first) -> None:
    hours, low, median, high = _drawn_band(band, end)
    planned_hours, planned_share = _drawn_line(planned, end)
    where = {"xaxis": "x2", "yaxis": BURNT, "showlegend": is_first}
    edges = (100.0 * low, 100.0 * high)
    drawn.band("as the log tells it, 90 %", hours, *edges, looks.LIME, **where)
    for name, x, y, look in (
        ("as planned", planned_hours, 100.0 * planned_share, (looks.INK, "dash", 2)),
        ("as the log tells it", hours, 100.0 * median, (looks.LIME, "solid", 2.5)),
        ("wanted", [0.0, end / HOUR], [100.0 * wanted] * 2, (looks.INK, "dashdot", 2)),
        ("now", [now / HOUR] * 2, [0.0, 100.0], (looks.INK, "dot", 2)),
    ):
        shown = where | ({"showlegend": True, "legend": "legend2"} if name in ("wanted", "now") else {})
        drawn.line(name, x, y, *look, hovertemplate=f"{name}: %{{y:.0f}}", **shown)


def _forecasts(drawn, told, end) -> None:
    known = [(moment, one.finish) for moment, one in told if one.finish]
    moments = np.array([moment for moment, _ in known]) / HOUR
    low, median, high = (
        np.array([getattr(one, name) for _, one in known]) / HOUR for name in ("low", "median", "high")
    )
    where, hours = {"xaxis": "x2", "yaxis": FINISH, "legend": "legend2"}, end / HOUR
    planned = told[-1][1].planned_finish
    drawn.band("forecast, 90 %", moments, low, high, looks.FIRE, **where)
    drawn.line(
        "forecast of the finish",
        moments,
        median,
        looks.FIRE,
        "solid",
        2.5,
        mode="lines+markers",
        marker={"symbol": "diamond", "size": 8},
        hovertemplate="at hour %{x:.0f}: done at hour %{y:.1f}<extra></extra>",
        **where,
    )
    drawn.line(
        "the plan's hour",
        [0.0, hours] if planned else [],
        [planned / HOUR] * 2 if planned else [],
        looks.INK,
        "dash",
        2,
        showlegend=False,
        hovertemplate="as planned: hour %{y:.1f}<extra></extra>",
        **where,
    )
    drawn.line("now", [0.0, hours], [0.0, hours], looks.INK, "dot", 2, **UNTOLD, **where)


def enough(
    band: Band, planned: tuple[np.ndarray, np.ndarray], moments: Mapping[str, float | None], wanted: float, end: float
) -> Picture:
    """Draw the share burnt as forecast, with the hours at which wood, people and plan come to their end.

    Moments are s since lighting, None where they never come; `wanted` is the share burnt at which the charge is done,
    and hours are drawn to an `end` (s).
    """
    drawn = Picture("Does the fire last as long as the burn?", "hours since lighting [h]", "share burnt [%]")
    hours, low, median, high = _drawn_band(band, end)
    planned_hours, planned_share = _drawn_line(planned, end)
    drawn.band("forecast, 90 %", hours, 100.0 * low, 100.0 * high, looks.LIME)
    for name, x, y, look in (
        ("forecast", hours, 100.0 * median, (looks.LIME, "solid", 3)),
        ("as planned", planned_hours, 100.0 * planned_share, (looks.INK, "dash", 2)),
        ("wanted", [0.0, end / HOUR], [100.0 * wanted] * 2, (looks.INK, "dashdot", 2)),
    ):
        drawn.line(name, x, y, *look, hovertemplate=f"{name}: %{{y:.0f}} %")
    for (name, moment), symbol in zip(moments.items(), looks.MARKERS, strict=False):
        at = [] if moment is None or moment > end else [moment / HOUR] * 2
        drawn.line(
            name,
            at,
            [0.0, 100.0][: len(at)],
            looks.INK,
            "dot",
            2,
            mode="lines+markers",
            showlegend=False,
            marker={"symbol": symbol, "size": 11},
            hovertemplate=f"{name}: hour %{{x:.1f}}<extra></extra>",
        )
        for place in at[:1]:
            look = {"font": {"size": looks.SMALL}, "bgcolor": looks.PAPER}
            drawn.note(name, place, 50.0, textangle=-90, xanchor="right", **look)
    return drawn.laid(height=460, xaxis={"range": [0.0, end / HOUR]}, yaxis={"range": [0.0, 103.0]})


def signs(rows: Sequence[tuple[str, str, float]], verdict: str) -> Picture:
    """Draw how far each sign of the finish has come, beside where it says done.

    A row is a sign, what was noted, and how far it has come: 1 and above says done.
    """
    names = [f"{name}: {noted}" for name, noted, _ in reversed(rows)]
    shown = [min(one, FULL) for _, _, one in reversed(rows)]
    drawn = Picture(f"What the signs come to: {verdict}")
    drawn.rows(
        "how far it has come",
        shown,
        names,
        marker=looks.hatched(
            [looks.LIME if one >= 1.0 else looks.MUTED for one in shown],
            ["" if one >= 1.0 else "/" for one in shown],
            size=8,
            fgopacity=0.5,
        ),
        **UNTOLD,
    )
    drawn.mark_at(1.0, looks.INK)
    return drawn.laid(
        height=300,
        xaxis={
            "range": [0.0, FULL],
            "tickvals": [0.0, 1.0],
            "ticktext": ["nothing of it", "from here it says done"],
            "showgrid": False,
        },
        yaxis={"type": "category"},
    )
