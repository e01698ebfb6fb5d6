"""Putty in its tank, what sand and wall take of it, and how deep a wall has set."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence

import numpy as np

from limekit.facts import fact
from limekit.lime.mixes import mortar_volume
from limekit.lime.putty import PuttyStore, ReadyDate
from limekit.lime.tanks import Tank
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, UNTOLD, Picture
from limekit.units import LITRES, MM

MOST_LAYERS = 4
HATCHED = (0.25, 0.45)
SLICES = 40


def half_width(tank: Tank, level: float) -> float:
    """Return half of what one sees of a tank's inside at a level, from the side or its round end; m."""
    radius = tank.diameter / 2.0
    if tank.shape in ("box", "cube container"):
        return tank.length / 2.0
    if tank.shape == "lying cylinder":
        return max(radius**2 - (level - radius) ** 2, 0.0) ** 0.5
    if level >= tank.dish_depth:
        return radius
    sphere = (radius**2 + tank.dish_depth**2) / (2.0 * tank.dish_depth)
    return max(sphere**2 - (sphere - level) ** 2, 0.0) ** 0.5


def _side(tank: Tank, low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    levels = low + (high - low) * np.linspace(0.0, 1.0, SLICES) ** 2
    halves = np.array([half_width(tank, level) for level in levels])
    return MM * np.concatenate([-halves[::-1], halves]), MM * np.concatenate([levels[::-1], levels])


def _fill(drawn: Picture, name: str, across, up, colour: str, opacity: float) -> None:
    drawn.line(name, across, up, colour, "solid", 1, fill="toself", fillcolor=looks.veil(colour, opacity), **UNTOLD)


def tank_and_dates(
    tank: Tank, store: PuttyStore, film_depth: float, ready: Mapping[str, Sequence[ReadyDate]], use: str
) -> Picture:
    """Draw the tank from the side with its layers, beside how long putty should lie for each use.

    Up to four layers are drawn, with m of water over them; of the dates for a use the kit's own comes first.
    """
    drawn = Picture("The tank, and how long putty should lie")
    levels = [0.0, *store.layer_tops]
    for layer in range(MOST_LAYERS):
        there = layer < len(levels) - 1
        across, up = _side(tank, levels[layer], levels[layer + 1]) if there else ([None], [None])
        _fill(drawn, f"burn {layer + 1}", across, up, looks.LIME, HATCHED[layer % 2])
        if there:
            drawn.note(f"burn {layer + 1}", 0.0, MM * (levels[layer] + levels[layer + 1]) / 2)
    across, up = _side(tank, store.putty_level, store.putty_level + film_depth)
    _fill(drawn, "water over it", across, up, looks.WATER, 0.4)
    drawn.note("water over it", 0.0, MM * (store.putty_level + film_depth), yanchor="bottom")
    across, up = _side(tank, 0.0, tank.height)
    drawn.line("tank", across, up, looks.INK, "solid", 4, **UNTOLD)
    for name, is_default, symbol in (("other sources", False, "circle-open"), ("the kit's own", True, "diamond")):
        shown = [(purpose, one) for purpose, dates in ready.items() for one in dates if one.is_default is is_default]
        drawn.marks(
            name,
            [one.days for _, one in shown],
            [purpose for purpose, _ in shown],
            mode="markers+text",
            text=[f"{one.days}" if is_default else "" for _, one in shown],
            textposition="top center",
            hovertext=[f"{one.date:%d %B %Y}: {one.source}" for _, one in shown],
            hoverinfo="text",
            marker={
                "symbol": symbol,
                "opacity": 1.0,
                "size": [16 if purpose == use else 10 for purpose, _ in shown],
                "color": looks.LIME if is_default else looks.INK,
                "line": {"width": 2, "color": looks.LIME if is_default else looks.INK},
            },
            **BESIDE,
        )
    most = max(one.days for dates in ready.values() for one in dates)
    return drawn.panes(0.42, 0.6).laid(
        height=450,
        xaxis={"title": "mm"},
        yaxis={"title": "mm from the lowest point", "scaleanchor": "x", "constrain": "domain"},
        xaxis2={"title": "days from slaking", "range": [-8, 1.06 * most]},
        yaxis2={"type": "category", "categoryarray": list(ready)[::-1], "range": [-0.6, len(ready) - 0.4]},
    )


def sand_and_wall(sand_voids: float, sand_parts: float, putty: Mapping[str, float], in_the_tank: float) -> Picture:
    """Draw one measure of sand with its putty, beside the putty (m³) that each work on the wall takes.

    Of sand there are so many parts by volume to one of putty; voids are a share of its room.
    """
    drawn = Picture("One bucket of sand, and the wall")
    given = 1.0 / sand_parts
    bars = ("sand", "putty", "mortar")
    made = mortar_volume.plain(given, 1.0, sand_voids)
    for name, parts, colour, hatch in (
        ("grains", (1.0 - sand_voids, 0.0, 1.0 - sand_voids), looks.STONE, "."),
        ("voids, as yet empty", (sand_voids, 0.0, max(sand_voids - given, 0.0)), looks.AIR, "x"),
        ("putty", (0.0, given, min(given, made - 1.0 + sand_voids)), looks.LIME, ""),
    ):
        drawn.bars(
            name,
            list(bars),
            list(parts),
            marker=looks.hatched(colour, hatch),
            hovertemplate=f"{name}: %{{y:.2f}} bucket<extra></extra>",
        )
    works = {**putty, "all together": sum(putty.values())}
    litres, rows = [LITRES * volume for volume in works.values()], list(range(len(works)))
    told = {"text": [f"{volume:.0f} L" for volume in litres], "textposition": "outside", "cliponaxis": False}
    drawn.rows(None, litres, rows, marker={"color": looks.LIME}, **told, **UNTOLD, **BESIDE)
    drawn.line("putty in your tank", [LITRES * in_the_tank] * 2, [-0.5, len(works) - 0.5], looks.INK, "dash", **BESIDE)
    return drawn.panes(0.32, 0.56).laid(
        barmode="stack",
        height=430,
        xaxis={"type": "category"},
        yaxis={"title": "buckets", "range": [0, max(1.08, 1.08 * made)]},
        xaxis2={"title": "putty it takes [L]", "range": [0, 1.2 * max(*litres, LITRES * in_the_tank)]},
        yaxis2={"range": [len(works) - 0.5, -0.5], "tickvals": rows, "ticktext": list(works)},
    )


def depth_in_time(
    applied_on: datetime.date, aged: np.ndarray, cold: np.ndarray, coat_thickness: float, carbonation_rate: float
) -> Picture:
    """Draw set depth against the date, with its range, the coat (m) and the cold months.

    `aged` (days,) are seconds of the best weather that would have set as much, by each morning; the rate is in m/s^0.5.
    """
    rule = fact("carbonation_rate")
    days = np.arange(0, aged.size, 7)
    dates = [(applied_on + datetime.timedelta(days=int(day))).isoformat() for day in days]
    depth = MM * carbonation_rate * np.sqrt(aged[days])
    coat = MM * coat_thickness
    top = 1.6 * coat
    drawn = Picture("How deep it has set", "", "from the face inward [mm]")
    drawn.add(
        "scatter",
        "months too cold to set",
        dates,
        np.where(cold[days], top, 0.0),
        mode="lines",
        line={"width": 0, "color": looks.AIR, "shape": "hv"},
        fill="tozeroy",
        fillcolor=looks.veil(looks.AIR, 0.25),
        hoverinfo="skip",
    )
    slow, quick = rule.low / rule, rule.high / rule
    name = f"{slow:.2g} to {quick:.2g} times the rule"
    drawn.band(name, dates, slow * depth, quick * depth, looks.STONE)
    drawn.line("by the rule of thumb", dates, depth, looks.STONE)
    drawn.line("the back of the coat", [dates[0], dates[-1]], [coat, coat], looks.INK, "dash", hoverinfo="skip")
    return drawn.laid(height=430, yaxis={"range": [top, 0]}, xaxis={"type": "date", "range": [dates[0], dates[-1]]})
