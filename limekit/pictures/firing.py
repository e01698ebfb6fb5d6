"""A firing by height and hour, where its heat went, what it left raw, and how it cools."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from limekit.kiln.column.budget import HeatBudget
from limekit.kiln.column.history import PARTS, FiringHistory, Place
from limekit.kiln.cooling import Cooling
from limekit.kiln.kiln import Kiln
from limekit.pictures import looks
from limekit.pictures.hour_by_hour import Tide
from limekit.pictures.picture import BESIDE, UNTOLD, Picture
from limekit.stone.overburn import overburn_class
from limekit.units import HOUR, MEGA, MM, ZERO_CELSIUS

COLUMNS, ACROSS, HALF = 73, 13, 50.0
HOTTEST = 1400.0
ISOTHERMS, BURNT_LINES = range(200, 1400, 200), (5, 50, 95)  # °C and %
WHERE_NAMED = (0.15, 0.5, 0.85)  # of a line's length, from one to the next
OUT_OF_THE_KILN = (looks.RAW, (looks.LIME, ""), (looks.LIME, "."), (looks.LIME, "/"), looks.DEAD)  # from raw to dead
PALE_THEN_FULL = (0.45, 1.0)  # of the firing held against, and of the one in hand
PARTS_OF_HEAT = {
    "burning the stone": (("dissociation_heat",), looks.LIME, ""),
    "hot in the lime": (("solid_heat", "drying_heat"), looks.FIRE, "."),
    "left in the wall": (("wall_stored",), looks.STONE, "/"),
    "through wall, cover and mouth": (("wall_lost", "cover_loss", "mouth_loss"), looks.AIR, "x"),
    "up the flue": (("flue_heat",), looks.GAS, "\\"),
    "smoke and embers": (("unburnt_heat",), looks.WOOD, "|"),
}


def maps(history: FiringHistory, time: float, finish: float | None) -> Picture:
    """Draw the stone's heat and the share burnt by height and hour, up to a time (s); what comes after is left blank.

    When the charge is done, if it is, is marked too.
    """
    last = history.times[-1]
    at = min(time, last)
    hours = np.linspace(0.0, last, COLUMNS)
    ahead = hours > max(time, last / COLUMNS) + 1e-6
    heights, (foot, head) = np.round(history.heights, 3), _edges(history)
    drawn = Picture("By height and hour: how hot the stone is, and how far burnt")
    for place, values, scale, lines, unit, most in (
        ("", history.by_level(history.stone_temperature) - ZERO_CELSIUS, looks.GLOWING, ISOTHERMS, "°C", HOTTEST),
        ("2", 100.0 * history.by_level(history.conversion), looks.STONE_TO_LIME, BURNT_LINES, "%", 100.0),
    ):
        axes = {"xaxis": f"x{place}", "yaxis": f"y{place}"}
        shown = np.array([np.interp(hours, history.times, column) for column in values.T])
        drawn.add(
            "heatmap",
            unit,
            hours / HOUR,
            heights,
            z=np.where(ahead, None, np.round(shown, 1)),
            zmin=0.0,
            zmax=most,
            zsmooth="fast",
            colorscale=scale,
            showscale=False,
            hovertemplate=f"hour %{{x:.1f}}, %{{y:.2f}} m: %{{z:.0f}} {unit}<extra></extra>",
            **axes,
        )
        reached = np.array([[_first(history.times, column, level) for column in values.T] for level in lines])
        reached = np.where(reached > at, np.nan, reached) / HOUR
        gap = np.full((len(lines), 1), np.nan)
        drawn.line(
            f"lines of {unit}",
            np.hstack([reached, gap]).ravel(),
            np.tile([*heights, np.nan], len(lines)),
            looks.INK,
            width=1.2,
            **UNTOLD,
            **axes,
        )
        named = [_along(np.isfinite(line), WHERE_NAMED[rank % 3]) for rank, line in enumerate(reached)]
        drawn.marks(
            f"their {unit}",
            reached[range(len(lines)), named],
            heights[named],
            mode="text",
            text=[f"{level}" for level in lines],
            textfont={"size": looks.SMALL, "color": looks.INK, "shadow": "auto"},
            **UNTOLD,
            **axes,
        )
        for name, when, dash in (("now", at, "dot"), ("done", finish, "dash")):
            hour = [None if when is None else when / HOUR] * 2
            drawn.line(name, hour, [foot, head], looks.INK, dash, 3, hoverinfo="skip", **axes)
            if when is not None:
                over = {"xref": f"x{place}", "yref": f"y{place} domain", "yanchor": "bottom"}
                drawn.note(name, when / HOUR, 1.0, font={"size": looks.SMALL}, **over)
    across, upward = {"range": [0, last / HOUR]}, {"range": [foot, head]}
    return drawn.panes(0.47, 0.53).laid(
        height=450,
        showlegend=False,
        xaxis={"title": "hours since lighting; lines in °C", **across},
        yaxis={"title": "height above the hearth's floor [m]", **upward},
        xaxis2={"title": "hours since lighting; lines in % burnt", **across},
        yaxis2={"title": "", "showticklabels": False, **upward},
    )


def _first(times: np.ndarray, values: np.ndarray, level: float) -> float:
    """Return when values first come to a level, on straight lines between the times; nan if they never do."""
    after = int(np.argmax(values >= level))
    if values[after] < level:
        return np.nan
    if not after:
        return float(times[0])
    part = (level - values[after - 1]) / (values[after] - values[after - 1])
    return float(times[after - 1] + part * (times[after] - times[after - 1]))


def _along(there: np.ndarray, share: float) -> int:
    """Return the place so far along those that are there, or the first where none is."""
    places = np.flatnonzero(there)
    return int(places[int(share * len(places))]) if len(places) else 0


def cut_in_half(kiln: Kiln, history: FiringHistory, time: float) -> Picture:
    """Draw a kiln cut in half at an hour (s): on the left how hot its stone is, on the right how far it is burnt."""
    radius, foot, head = 0.5 * kiln.kiln_diameter, *_edges(history)
    tide, across = Tide(history, radius, time), radius * (np.arange(ACROSS) + 0.5) / ACROSS
    heat, burnt = (
        np.array([np.interp(across, tide.middles, level) for level in figure.T])
        for figure in (tide.heat - ZERO_CELSIUS, 100.0 * tide.burnt)
    )
    drawn = Picture("The kiln cut in half: how hot, and how far burnt", "from the middle [m]", "above the floor [m]")
    for side, values, scale, most, unit, place in (
        (-1, heat, looks.GLOWING, HOTTEST, "°C", 0.23),
        (1, burnt, looks.STONE_TO_LIME, 100.0, "% burnt", 0.77),
    ):
        order = slice(None, None, side)
        drawn.add(
            "heatmap",
            unit,
            np.round(side * across[order], 3),
            np.round(history.heights, 3),
            z=np.round(values[:, order], 1),
            zmin=0.0,
            zmax=most,
            zsmooth="best",
            colorscale=scale,
            colorbar={**looks.bar_under(unit), "x": place},
            hovertemplate=f"%{{y:.2f}} m: %{{z:.0f}} {unit}<extra></extra>",
        )
    drawn.add(
        "contour",
        "half burnt",
        np.round(across, 3),
        np.round(history.heights, 3),
        z=np.round(burnt, 1),
        contours={"start": HALF, "end": HALF, "size": 1.0, "coloring": "none", "showlabels": True},
        line={"color": looks.INK, "width": 1.5},
        showscale=False,
        **UNTOLD,
    )
    thick = 0.5 * (kiln.outer_diameter - kiln.kiln_diameter)
    for x0, x1 in ((-radius - thick, -radius), (radius, radius + thick)):
        drawn.block(x0, x1, 0.0, kiln.kiln_height, looks.GRID)
    drawn.block(-radius, radius, 0.0, foot, looks.PAPER)
    drawn.note("the fire", 0.0, 0.5 * foot, font={"color": looks.FIRE_WORDS})
    drawn.line("middle", [0.0, 0.0], [foot, head], looks.PAPER, width=3, **UNTOLD)
    wide = radius + thick
    return drawn.laid(
        height=520,
        showlegend=False,
        xaxis={"range": [-1.05 * wide, 1.05 * wide], "constrain": "domain"},
        yaxis={"range": [0.0, 1.02 * max(head, kiln.kiln_height)], "scaleanchor": "x"},
    )


def _edges(history: FiringHistory) -> tuple[float, float]:
    half = 0.5 * (history.heights[1] - history.heights[0]) if len(history.heights) > 1 else history.heights[0]
    return float(history.heights[0] - half), float(history.heights[-1] + half)


def budgets(named: Mapping[str, HeatBudget]) -> Picture:
    """Draw where the heat of firings went, a bar each, the first at the top."""
    drawn = Picture("Where the heat went", "heat of the fuel [MJ]")
    for (name, budget), opacity in zip(named.items(), PALE_THEN_FULL, strict=True):
        heats = {part: max(sum(budget[line] for line in lines), 0.0) for part, (lines, *_) in PARTS_OF_HEAT.items()}
        whole = max(budget.fuel_heat, 1.0)
        rows = [
            (part, heat / MEGA, f"{100 * heat / whole:.0f} %", *PARTS_OF_HEAT[part][1:]) for part, heat in heats.items()
        ]
        drawn.named_rows(rows, name, opacity=opacity)
    most = max(trace["x"][row] for trace in drawn["data"] for row in range(len(PARTS_OF_HEAT)))
    return drawn.laid(
        height=420,
        bargap=0.25,
        xaxis={"range": [0, 1.15 * most], "tickformat": ".0f"},
        yaxis={"autorange": "reversed"},
    )


def left_raw(places: Sequence[Place], shares: Mapping[str, float]) -> Picture:
    """Draw the share burnt of every size in every third of every ring, beside what the whole came to.

    `shares` are of the carbonate charged, by how it came out, in order from raw to over-burnt.
    """
    drawn = Picture("What is in the kiln when the fire is let out")
    sizes = sorted({place.size for place in places})
    found = {(place.part + place.ring, place.size): place for place in places}
    rows = [part + ring for part in PARTS for ring in dict.fromkeys(place.ring for place in places)]
    grid = [[found.get((row, size)) for size in sizes] for row in rows]
    drawn.add(
        "heatmap",
        "share burnt [%]",
        [f"{MM * size:.0f} mm" for size in sizes],
        rows,
        z=[[None if place is None else 100.0 * place.conversion for place in row] for row in grid],
        zmin=0.0,
        zmax=100.0,
        colorscale=looks.STONE_TO_LIME,
        showscale=False,
        xgap=3,
        ygap=3,
        text=[["" if place is None else _told(place) for place in row] for row in grid],
        texttemplate="%{text}",
        textfont={"size": looks.SMALL, "color": looks.INK},
        hoverinfo="skip",
    )
    came = zip(shares.items(), OUT_OF_THE_KILN, strict=True)
    drawn.named_rows([(name, 100.0 * share, f"{100 * share:.0f} %", *look) for (name, share), look in came], **BESIDE)
    return drawn.panes(0.55, 0.76).laid(
        height=460,
        xaxis={"title": "size of the stone", "type": "category"},
        yaxis={"title": "", "type": "category"},
        xaxis2={"title": "of the carbonate [%]", "range": [0, 130], "tickvals": [0, 50, 100]},
        yaxis2={"autorange": "reversed"},
    )


def _told(place: Place) -> str:
    return f"{100 * place.conversion:.0f} %<br>{overburn_class.plain(place.overburn).replace('-burnt', '')}"


def coolings(named: Mapping[str, Cooling], draw_temperature: float) -> Picture:
    """Draw the hottest lime against the hours since the fire was let out, and where it is drawn (K)."""
    drawn = Picture(
        "How long until it can be drawn", "hours since the fire was let out [h]", "hottest lime in the kiln [°C]"
    )
    for (name, cooling), dash in zip(named.items(), ("solid", "dash"), strict=True):
        drawn.line(name, cooling.times / HOUR, cooling.hottest - ZERO_CELSIUS, looks.FIRE, dash, 3)
    longest = max(float(cooling.times[-1]) for cooling in named.values())
    level = [draw_temperature - ZERO_CELSIUS] * 2
    drawn.line("you draw it at", [0.0, longest / HOUR], level, looks.INK, "dot", 2, hoverinfo="skip")
    return drawn.laid(height=400, yaxis={"rangemode": "tozero"})
