"""A fire's pictures: its fuel in the yard, its gas, and the draught that feeds it."""

from __future__ import annotations

import re
from collections.abc import Mapping

import numpy as np

from limekit import glossary
from limekit.estimate import Span
from limekit.fire.air_way import PARTS
from limekit.fire.flue import FlueGas
from limekit.pictures import looks
from limekit.pictures.kiln_parts import BODY, PERSON
from limekit.pictures.picture import BESIDE, UNTOLD, Picture
from limekit.units import HOUR, MM, ZERO_CELSIUS

DEEP, HIGH, TOP = 1.0, 1.2, 1.9
LEFT = -1.2
LEAST_SHOWN = 3.2  # m of a stack, to which its picture always runs
ENDS, MOST_ENDS = 0.15, 260
WIDE, TALL = 760.0, 250.0  # pixels of the plot, about
_STEP = re.compile(r"([A-Z])|(-?\d*\.?\d+)")
HOTTEST_SHOWN = 2100.0  # °C of the gas
LEAST_WRITTEN = 4.0  # % of the gas


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
    return {
        "type": "path",
        "path": " ".join(written),
        "fillcolor": looks.GRID,
        "line": {"width": 1, "color": looks.MUTED},
    }


def _ends(length: float) -> tuple[np.ndarray, np.ndarray, float]:
    """Return where the ends of logs lie in a stack, and how far apart."""
    apart = max(ENDS, float(np.sqrt(length * HIGH / MOST_ENDS)))
    rows = int(HIGH / apart)
    across = [np.arange(0.5 + (row % 2) / 2, length / apart - 0.3) * apart for row in range(rows)]
    up = [np.full(len(row), (number + 0.5) * HIGH / rows) for number, row in enumerate(across)]
    return np.concatenate(across), np.concatenate(up), apart


def woodpile(room: Span, is_stacked: bool = True) -> Picture:
    """Draw a stack of split wood, or a bin of lumps, a metre deep: its least (m³), its middle and its most."""
    near, planned, far = (volume / (DEEP * HIGH) for volume in (room.low, room.middle, room.high))
    reach = max(1.05 * far, LEAST_SHOWN)
    drawn = Picture(f"The {'stack' if is_stacked else 'bin'}, {DEEP:.0f} m deep and {HIGH:.1f} m high")
    for name, start, end, opacity, dash in (
        (f"enough at the best: {room.low:.1f} m³", 0.0, near, 0.95, "solid"),
        (f"planned: {room.middle:.1f} m³", near, planned, 0.6, "dash"),
        (f"to have by you: {room.high:.1f} m³", planned, far, 0.25, "dot"),
    ):
        drawn.line(
            name,
            np.array([start, end, end, start, start]),
            np.array([0.0, 0.0, HIGH, HIGH, 0.0]),
            looks.INK,
            dash,
            2,
            fill="toself",
            fillcolor=looks.veil(looks.LOG, opacity),
            hoverinfo="name",
        )
    across, up, apart = _ends(far)
    drawn.marks(
        "ends of logs" if is_stacked else "lumps",
        across,
        up,
        marker={
            "symbol": "circle-open" if is_stacked else "hexagon-open",
            "size": 0.85 * apart * min(WIDE / (reach - LEFT), TALL / TOP),
            "color": looks.MUTED,
            "line": {"width": 1},
        },
        **UNTOLD,
    )
    return drawn.laid(
        height=420,
        shapes=[_person(0.55 * LEFT)],
        xaxis={"range": [LEFT, reach], "constraintoward": "left", "title": "length of the stack [m]"},
        yaxis={"range": [0, TOP], "scaleanchor": "x", "constraintoward": "bottom", "title": "height [m]"},
    )


def _stroke(colour: str, rank: int) -> tuple[str, str, float]:
    """Return colour, dash and width of a line: the first in its colour, those after it in ink and ever thinner."""
    return looks.INK if rank else colour, looks.DASHES[rank], 3 - 0.6 * rank


def flue_gas(
    lines: Mapping[str, tuple[np.ndarray, np.ndarray]], gas: FlueGas, excess_air: float, burns_from: float
) -> Picture:
    """Draw the gas's temperature against excess air, beside the gas's parts at one setting.

    A line is excess air, as a share, and gas temperature (K); the first is the fuel chosen, whose gas and air are
    marked. In its own gas limestone gives way from `burns_from` (K).
    """
    drawn = Picture("How hot the gas, and what is in it")
    most = 100.0 * max(excess.max() for excess, _ in lines.values())
    for rank, (name, (excess, level)) in enumerate(lines.items()):
        drawn.line(name, 100.0 * excess, level - ZERO_CELSIUS, *_stroke(looks.FIRE, rank))
    drawn.line(
        "limestone in its own gas gives way", [0.0, most], [burns_from - ZERO_CELSIUS] * 2, looks.STONE, "dashdot", 2
    )
    drawn.marks(
        "your fire",
        [100.0 * excess_air],
        [gas.gas_temperature - ZERO_CELSIUS],
        mode="markers+text",
        text=["your fire"],
        textposition="top right",
        marker=looks.CHOSEN,
        showlegend=False,
    )
    for name, share, colour, hatch in (
        ("carbon dioxide", gas.co2_fraction, looks.GAS, "."),
        ("steam", gas.water_fraction, looks.WATER, "|"),
        ("oxygen to spare", gas.oxygen_fraction, looks.AIR, "x"),
        ("nitrogen", gas.nitrogen_fraction, looks.AIR, ""),
    ):
        percent = 100.0 * share
        drawn.bars(
            name,
            ["gas"],
            [percent],
            showlegend=False,
            marker=looks.hatched(colour, hatch, size=8, fgopacity=0.4),
            hovertemplate=f"{name}: %{{y:.1f}} %<extra></extra>",
            **looks.inside(f"<b>{name} {percent:.0f} %</b>" if percent >= LEAST_WRITTEN else "", colour, 14),
            **BESIDE,
        )
    return drawn.panes(0.58, 0.74).laid(
        height=470,
        barmode="stack",
        legend=looks.BELOW,
        margin={"b": 105},
        xaxis={"range": [0, most], "title": f"{glossary.entry('excess_air').label} [%]"},
        yaxis={"title": "temperature of the gas [°C]", "range": [200, HOTTEST_SHOWN]},
        xaxis2={"showticklabels": False, "title": "your fire's gas"},
        yaxis2={"title": "share by volume [%]", "range": [0, 100]},
    )


def column(levels: np.ndarray, lines: Mapping[str, np.ndarray], level: float, draught: float) -> Picture:
    """Draw the draught (Pa) of columns by the heat of their gas (K); the first is the column chosen, and marked."""
    drawn = Picture("What the hot column pulls", "temperature of the gas in the column [°C]", "draught [Pa]")
    for rank, (name, pull) in enumerate(lines.items()):
        drawn.line(name, levels - ZERO_CELSIUS, pull, *_stroke(looks.AIR, rank))
    drawn.marks("your column", [level - ZERO_CELSIUS], [draught], marker=looks.CHOSEN)
    return drawn.laid(height=420, yaxis={"rangemode": "tozero"})


def throttle(
    losses: Mapping[str, float],
    sizes: np.ndarray,
    rates: np.ndarray,
    size: float,
    rate: float,
    wanted: float,
    spread: float,
) -> Picture:
    """Draw what takes the draught, beside the fuel it can feed against the size of the stone.

    Parameters
    ----------
    losses : mapping of str to float
        From a part of the air's way to the pressure it takes, Pa.
    sizes, rates : ndarray, shape (sizes,)
        Largest stone, m, and most fuel, kg/s.
    size, rate : float
        Of the kiln chosen.
    wanted : float
        Fuel the charge's hours ask for, kg/s.
    spread : float
        How far `rates` may be out either way, as a share.
    """
    drawn = Picture("What takes the draught, and what is left for the fire")
    taken = list(losses.values())
    most = max(losses, key=losses.get)
    drawn.rows(
        "pressure taken",
        taken,
        [PARTS[part][0].removeprefix("the ") for part in losses],
        showlegend=False,
        marker=looks.hatched(looks.AIR, ["/" if part == most else "" for part in losses], size=8, fgopacity=0.5),
        text=[f"{one:.1f}" for one in taken],
        textposition="outside",
        cliponaxis=False,
        hovertemplate="%{y}: %{x:.2f} Pa<extra></extra>",
    )
    across, kilos = MM * sizes, HOUR * rates
    ends = (1.0 - spread) * kilos, (1.0 + spread) * kilos
    drawn.band(f"give or take {100 * spread:.0f} %", across, *ends, looks.WOOD, **BESIDE)
    drawn.line("fuel the draught can burn", across, kilos, looks.WOOD, **BESIDE)
    drawn.line("fuel that the plan burns", across[[0, -1]], [HOUR * wanted] * 2, looks.INK, "dash", 2, **BESIDE)
    drawn.marks("your kiln", [MM * size], [HOUR * rate], marker=looks.CHOSEN, **BESIDE)
    return drawn.panes(0.33, 0.48).laid(
        height=470,
        legend=looks.BELOW,
        margin={"b": 105},
        xaxis={"title": "pressure taken [Pa]", "range": [0, 1.4 * max(taken)]},
        yaxis={"autorange": "reversed"},
        xaxis2={"title": glossary.entry("largest_stone").axis},
        yaxis2={"title": "fuel an hour [kg/h]", "rangemode": "tozero"},
    )
