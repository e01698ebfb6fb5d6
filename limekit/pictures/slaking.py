"""Slaking: a test's log, how hot by how much water, and a vessel's fill and temperature in time."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from limekit import glossary
from limekit.facts import fact
from limekit.lime.charges import SlakingCurve
from limekit.lime.contents import BOILING
from limekit.lime.reactivity import Reactivity
from limekit.lime.slaking import Slaking
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, UNTOLD, Picture
from limekit.units import LITRES, MINUTE, ZERO_CELSIUS

HOTTEST_SHOWN = 130.0
DEGREES = "temperature [°C]"


def log_and_classes(times: np.ndarray, temperatures: np.ndarray, read: Reactivity, last: float) -> Picture:
    """Draw the readings, the level they are timed to, and the minutes of soft-, medium- and hard-burnt lime.

    Times are s from the first reading; the picture runs to the `last` at least.
    """
    drawn = Picture("The test's log", "time since the lime went in [min]", "temperature of the stirred mix [°C]")
    soft, hard, end = (fact(f"reactivity_{name}") for name in ("soft_most", "hard_least", "end"))
    across = max(last, hard * 1.6) / MINUTE
    bounds = [0.0, soft / MINUTE, hard / MINUTE, across]
    bottom, top = 10.0, 105.0
    for rank, (name, (left, right)) in enumerate(zip(("soft", "medium", "hard"), pairwise(bounds), strict=True)):
        drawn.add(
            "scatter",
            f"{name}-burnt, if 60 °C comes here",
            [left, left, right, right],
            [bottom, top, top, bottom],
            mode="lines",
            fill="toself",
            fillcolor=looks.veil(looks.FIRE, 0.05 + 0.09 * rank),
            line={"width": 0, "color": looks.FIRE},
            **UNTOLD,
        )
    middles = [(left + right) / 2 for left, right in pairwise(bounds)]
    drawn.marks(None, middles, [top - 6] * 3, mode="text", text=["soft", "medium", "hard-burnt"], **UNTOLD)
    _level(drawn, (0, across), end, "the level it is timed to", "dot", None)
    drawn.line(
        "readings",
        times / MINUTE,
        temperatures - ZERO_CELSIUS,
        looks.FIRE,
        mode="lines+markers",
        marker={"symbol": "circle", "size": 8},
    )
    for name, moment, symbol in (
        ("60 °C", read.time_to_60, "diamond"),
        ("slaked through", read.complete_time, "square"),
    ):
        drawn.marks(
            name,
            [] if moment is None else [moment / MINUTE],
            [] if moment is None else [float(np.interp(moment, times, temperatures)) - ZERO_CELSIUS],
            marker={"color": looks.INK, "symbol": symbol, "size": 13},
        )
    return drawn.laid(height=440, xaxis={"range": [0, across]}, yaxis={"range": [bottom, top]})


def _level(drawn, ends: tuple, kelvin: float, name: str, dash: str, width: float | None = 1.6, **axes) -> None:
    drawn.line(name, list(ends), [kelvin - ZERO_CELSIUS] * 2, looks.INK, dash, width, hoverinfo="skip", **axes)


def heat_by_water(ratios: np.ndarray, slakings: tuple[Slaking, ...], ratio: float, chosen: Slaking) -> Picture:
    """Draw how hot lime and water get against the water given, all at once and no heat lost.

    There is a slaking of a kilogram of lime for each ratio of water to lime, by mass, and one for the ratio asked
    after.
    """
    across = f"{glossary.entry('water_to_lime').label} [kg a kg]"
    drawn = Picture("All at once: how hot it gets, and what boils away")
    _level(drawn, (0.0, ratios[-1]), BOILING, "boiling", "longdash")
    _level(drawn, (0.0, ratios[-1]), fact("slaking_temperature_most"), "kept below", "dot")
    reached = np.array([one.end_temperature for one in slakings]) - ZERO_CELSIUS
    drawn.line("temperature reached", ratios, reached, looks.FIRE)
    steam = [100.0 * one.steam / one.water for one in slakings]
    drawn.line("water gone as steam", ratios, steam, looks.WATER, fill="tozeroy", showlegend=False, **BESIDE)
    drawn.marks(
        "yours",
        [ratio],
        [min(chosen.end_temperature - ZERO_CELSIUS, HOTTEST_SHOWN)],
        mode="markers+text",
        text=[chosen.product],
        textposition="top center" if chosen.boils else "middle right",
        marker=looks.CHOSEN,
    )
    gone = 100.0 * chosen.steam / chosen.water
    drawn.marks("yours", [ratio], [gone], marker=looks.CHOSEN, showlegend=False, **BESIDE)
    ends = {"range": [0, ratios[-1]]}
    return drawn.laid(
        height=520,
        xaxis={**ends, "anchor": "y", "showticklabels": False},
        yaxis={"domain": [0.42, 1.0], "range": [0, HOTTEST_SHOWN], "title": DEGREES},
        xaxis2={**ends, "anchor": "y2", "title": across},
        yaxis2={"domain": [0.0, 0.34], "anchor": "x2", "rangemode": "tozero", "title": "gone as steam [%]"},
    )


def vessel_in_time(
    curve: SlakingCurve, planned: SlakingCurve | None, fill: float, vessel_volume: float, most: float
) -> Picture:
    """Draw how full the vessel stands (m³ of lime and water, and to its brim) beside its temperature in time.

    It is kept below `most` (K) at all times; where the kit would space the charges otherwise, that is `planned`.
    """
    drawn = Picture("The vessel, and its heat in time")
    brim, level = LITRES * vessel_volume, LITRES * fill
    half = fact("slaking_fill_most") * brim
    for name, x, y, look in (
        ("lime and water", [0, 0, 1, 1, 0], [0, level, level, 0, 0], {"fillcolor": looks.veil(looks.WATER, 0.5)}),
        ("half full, the most", [0, 1], [half, half], {"line": {"color": looks.INK, "dash": "dot"}}),
        ("vessel", [0, 0, 1, 1], [brim, 0, 0, brim], {"line": {"color": looks.INK, "width": 4, "dash": "solid"}}),
    ):
        fill_in = {"fill": "toself", "line": {"width": 0}} if "fillcolor" in look else {"fill": None}
        drawn.add("scatter", name, x, y, mode="lines", hoverinfo="skip", showlegend=False, **{**fill_in, **look})
    for words, up in (("lime and<br>water", 0.0), ("half full,<br>the most", half)):
        drawn.note(words, 0.5, up, yanchor="bottom", font={"size": looks.SMALL})
    end = max(curve.slaking_times[-1], 0.0 if planned is None else planned.slaking_times[-1]) / MINUTE
    for name, run, dash in (("as you give it", curve, "solid"), ("as the kit would", planned, "dash")):
        times = [] if run is None else run.slaking_times / MINUTE
        drawn.line(
            name, times, [] if run is None else run.slaking_temperatures - ZERO_CELSIUS, looks.FIRE, dash, **BESIDE
        )
    _level(drawn, (0.0, end), BOILING, "boiling", "longdash", **BESIDE)
    _level(drawn, (0.0, end), most, "kept below", "dot", **BESIDE)
    return drawn.panes(0.2, 0.32).laid(
        height=450,
        xaxis={"range": [-0.15, 1.15], "visible": False},
        yaxis={"range": [0, 1.04 * brim], "title": "litres", "showline": False, "mirror": False},
        xaxis2={"title": "since the first charge [min]", "range": [0, end]},
        yaxis2={"title": DEGREES, "range": [0, 112]},
    )
