"""A stone's pictures: what it becomes, where it gives way, how long it burns, and a cut through it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from limekit import chemistry, glossary
from limekit.balance import MassBalance
from limekit.estimate import Estimate
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, Picture
from limekit.stone.burning import BurntStone, StoneHistory
from limekit.units import HOUR, MM, ZERO_CELSIUS

LEAST_NAMED, LEAST_SAID = 22.0, 0.5  # % in which a part's name stands, and from which it is named at all
COLDEST, HOTTEST = 600.0, 1000.0
MOST_SHOWN = 105.0  # % of the gas
MOST_HOURS, FINE = 60.0, 41
SAME_HEAT = 1.0  # K, within which the line of a heat would be drawn over that of the heat chosen
PIXELS = 81
COLDEST_SHOWN = 300.0
RING = np.linspace(0.0, 2.0 * np.pi, 73)


def burnt_through(balance: MassBalance) -> Picture:
    """Draw what leaves a charge of stone as gas and steam beside what is drawn, in per cent of the stone as weighed."""
    parts = [
        ("quicklime", balance.quicklime, "drawn", looks.LIME, ""),
        ("magnesia", balance.magnesia, "drawn", looks.LIME, "x"),
        ("unburnt core", balance.core, "drawn", *looks.RAW),
        ("clay and other inert", balance.inert_mass, "drawn", looks.STONE, "/"),
        ("carbon dioxide", balance.carbon_dioxide, "goes up", looks.GAS, "."),
        ("steam", balance.water_driven_off, "goes up", looks.WATER, "|"),
    ]
    drawn = Picture("What a stone becomes", "share of the stone as weighed [%]")
    ends, beyond = {"drawn": 0.0, "goes up": 0.0}, {"drawn": [], "goes up": []}
    for name, mass, place, colour, hatch in parts:
        percent = 100.0 * mass / balance.stone
        told, is_wide = f"{name} {percent:.0f}", percent >= LEAST_NAMED
        ends[place] += percent
        if percent >= LEAST_SAID and not is_wide:
            beyond[place].append(told)
        drawn.rows(
            name,
            [percent],
            [place],
            marker=looks.hatched(colour, hatch),
            hovertemplate=f"{name}: %{{x:.1f}} %<extra></extra>",
            **looks.inside(f"<b>{told}</b>" if is_wide else "", colour, looks.FONT_SIZE),
        )
    for place, names in beyond.items():
        drawn.note("<br>".join(names), ends[place], place, xanchor="left", xshift=6, align="left")
    return drawn.laid(
        barmode="stack",
        height=330,
        bargap=0.35,
        showlegend=False,
        xaxis={"range": [0, 102]},
        yaxis={"categoryorder": "array", "categoryarray": ["goes up", "drawn"]},
    )


def giving_way(co2_fraction: float, temperature: float) -> Picture:
    """Draw the balance line with one gas marked on it: its carbon dioxide at 1 atm, and where stone gives way (K)."""
    celsius = np.linspace(COLDEST, HOTTEST, 81)
    percent = 100.0 * chemistry.dissociation_pressure.plain(celsius + ZERO_CELSIUS) / chemistry.ATMOSPHERE
    at, share = temperature - ZERO_CELSIUS, 100.0 * co2_fraction
    drawn = Picture(
        "Where limestone gives way",
        f"{glossary.entry('temperature').label} of the stone [°C]",
        f"{glossary.entry('co2_fraction').label} [%]",
    )
    drawn.band("limestone", celsius, percent, np.full_like(celsius, MOST_SHOWN), looks.STONE)
    drawn.line("balance line", celsius, percent, looks.INK, fill="tozeroy", fillcolor=looks.veil(looks.LIME, 0.3))
    drawn.line("your gas", [COLDEST, at, at], [share, share, 0.0], looks.INK, "dot", 2)
    drawn.marks("begins to give way", [at], [share], marker=looks.CHOSEN)
    drawn.note("limestone stays stone", 680, 70)
    drawn.note("limestone<br>becomes lime", 950, 30)
    return drawn.laid(
        xaxis={"range": [COLDEST, HOTTEST]}, yaxis={"range": [0.0, MOST_SHOWN]}, showlegend=False, height=430
    )


def burning_times(
    sizes: np.ndarray,
    by_level: Mapping[float, np.ndarray],
    chosen: Estimate,
    chosen_level: float,
    diameter: float,
    forecast: Estimate,
) -> Picture:
    """Draw burning time against size: a line for each heat, and a band in place of it for the heat chosen.

    Parameters
    ----------
    sizes : ndarray, shape (sizes,)
        m.
    by_level : mapping of float to ndarray
        From a gas temperature (K) to a middling stone's burning times (s); nan where it never burns.
    chosen : Estimate
        Of arrays, the same at the heat chosen, with its range; s.
    chosen_level : float
        K.
    diameter : float
        The stone asked after; m.
    forecast : Estimate
        Its burning time; s.
    """
    fine = np.linspace(sizes[0], sizes[-1], FINE)
    across = MM * fine
    drawn = Picture(
        "How long, how hot, how big", glossary.entry("diameter").axis, f"{glossary.entry('burning_time').label} [h]"
    )
    ends = chosen.low, chosen.high, chosen.median
    low, high, middle = (_between_sizes(fine, sizes, end) / HOUR for end in ends)
    by_level = {level: _between_sizes(fine, sizes, times) for level, times in by_level.items()}
    celsius = chosen_level - ZERO_CELSIUS
    drawn.band(f"{celsius:.0f} °C, nine times in ten", across, low, high, looks.FIRE)
    drawn.line(f"{celsius:.0f} °C, middle", across, middle, looks.FIRE, showlegend=False)
    for rank, (level, times) in enumerate(by_level.items()):
        drawn.line(
            f"{level - ZERO_CELSIUS:.0f} °C",
            across,
            times / HOUR,
            looks.INK,
            looks.DASHES[1 + rank],
            1.6,
            showlegend=False,
            visible=bool(abs(level - chosen_level) > SAME_HEAT),
        )
    yours = [end / HOUR for end in (forecast.median, forecast.low, forecast.high)]
    drawn.marks(
        "your stone",
        [MM * diameter],
        [yours[0]],
        error_y=looks.whiskers(*([end] for end in yours)),
        marker=looks.CHOSEN,
    )
    top = max(min(MOST_HOURS, 1.1 * max(high[-1], yours[2])), 1.1 * yours[0])
    for level, times in by_level.items():
        inside = np.flatnonzero(times / HOUR <= 0.96 * top)
        if inside.size and abs(level - chosen_level) > SAME_HEAT:
            last = inside[-1]
            where = {"xanchor": "left", "xshift": 3} if last == len(across) - 1 else {"xanchor": "right", "xshift": -10}
            drawn.note(f"{level - ZERO_CELSIUS:.0f} °C", across[last], times[last] / HOUR, **where)
    return drawn.laid(xaxis={"range": [0, across[-1]]}, yaxis={"range": [0, top]}, height=500, margin={"r": 65})


def _between_sizes(fine: np.ndarray, sizes: np.ndarray, times) -> np.ndarray:
    """Return burning times of sizes between those they are known for, by a polynomial in the logs of both."""
    through = np.linalg.solve(np.vander(np.log(sizes)), np.log(times))
    return np.exp(np.vander(np.log(fine), len(sizes)) @ through)


@dataclass(frozen=True)
class Moment:
    """A stone at one time: share burnt, m of core, K at skin, centre and along the radius."""

    conversion: float
    core_diameter: float
    surface: float
    centre: float
    temperatures: np.ndarray


def moment(history: StoneHistory, time: float) -> Moment:
    """Return a stone as it was at a time (s), between the moments that were kept; the last one after them."""
    temperatures = looks.between(history.times, history.temperatures, time)
    return Moment(
        float(np.interp(time, history.times, history.conversion)),
        2.0 * float(np.interp(time, history.times, history.core_radius)),
        float(temperatures[-1]),
        float(temperatures[0]),
        temperatures,
    )


def cut_through(burnt: BurntStone, time: float) -> Picture:
    """Draw the section at a time (s) beside the share burnt up to it."""
    history, then = burnt.history, moment(burnt.history, time)
    radius, core = MM * history.radii[-1], 0.5 * MM * then.core_diameter
    across = np.linspace(-radius, radius, PIXELS)
    away = np.hypot(*np.meshgrid(across, across))
    celsius = np.interp(away / MM, history.radii, then.temperatures - ZERO_CELSIUS)
    drawn = Picture("A stone cut through the middle")
    drawn.add(
        "heatmap",
        "heat",
        across,
        across,
        z=np.where(away > radius, None, np.round(celsius)),
        zmin=COLDEST_SHOWN,
        zmax=float(np.ceil((history.gas_temperature.max() - ZERO_CELSIUS) / 100.0) * 100.0),
        colorscale=looks.GLOWING,
        zsmooth="fast",
        colorbar={"title": {"text": "°C", "side": "top"}, "x": 0.43, "thickness": 14, "len": 0.9},
        hovertemplate="%{z:.0f} °C<extra></extra>",
    )
    for name, size, line in (
        ("skin", radius, (looks.INK, "solid", 5)),
        ("front between stone and lime", core, (looks.INK, "dot", 4)),
    ):
        drawn.line(name, size * np.cos(RING), size * np.sin(RING), *line, shape="spline", hoverinfo="skip")
    drawn.line("share burnt", history.times / HOUR, 100.0 * history.conversion, looks.LIME, **BESIDE)
    drawn.marks("now", [min(time, history.times[-1]) / HOUR], [100.0 * then.conversion], marker=looks.CHOSEN, **BESIDE)
    edge = 1.04 * radius
    return drawn.panes(0.42, 0.66).laid(
        height=440,
        xaxis={"range": [-edge, edge], "title": "mm from the middle"},
        yaxis={"range": [-edge, edge], "scaleanchor": "x", "constrain": "domain"},
        xaxis2={"title": "time in the hot gas [h]", "rangemode": "tozero"},
        yaxis2={"title": "share burnt [%]", "range": [-3, 105]},
    )
