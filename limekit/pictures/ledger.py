"""Own lime beside bought lime, in money and in carbon, and under each what moves the answer most."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from limekit.estimate import Span
from limekit.ledger.carbon import CarbonLedger
from limekit.ledger.money import BreakEven, CostSheet
from limekit.ledger.ranges import Bar
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, Picture

FILLS = (
    (looks.MUTED, "/"),
    (looks.FIRE, ""),
    (looks.WATER, "x"),
    (looks.LIME, "."),
    (looks.GAS, "-"),
    (looks.AIR, "|"),
)
OWN, BOUGHT = "your own", "bought"
LEAST_ROWS = 3
CARBON = {
    "process": ("out of the stone", looks.MUTED, "/"),
    "fossil": ("fossil fuel and lorry", looks.STONE, ""),
    "biogenic": ("wood and charcoal", looks.GAS, "."),
    "re_uptake": ("taken up again by the wall", looks.WATER, "x"),
}


def costs(sheet: CostSheet, beside: BreakEven):
    """Draw a burn's cost lines beside bought lime, and what each line's range does to a litre.

    Parameters
    ----------
    sheet : CostSheet
    beside : BreakEven

    Returns
    -------
    Picture
    """
    money = sheet.currency or "money"
    drawn = Picture("One burn beside the same lime bought")
    for line, (colour, hatch) in zip(sheet.lines, itertools.cycle(FILLS), strict=False):
        _stack(drawn, line.name, {OWN: line.amount.middle}, colour, hatch, money)
    _stack(drawn, "bought lime", {BOUGHT: beside.bought}, looks.STONE, "", money)
    _sum(drawn, [(OWN, sheet.total)], "the burn's range", money)
    _tornado(drawn, sheet.bars, sheet.per_litre.middle, f"{money} a litre of usable putty")
    most = 1.05 * max(sheet.total.high, beside.bought)
    return drawn.laid(barmode="relative", xaxis={"range": [0, most or 1.0], "title": f"{money}, for the burn"})


def carbon(own: CarbonLedger, bought: CarbonLedger, sums: Sequence[Span], bars: Sequence[Bar]):
    """Draw the four lines of own and bought lime, and what moves the sum of one's own.

    Parameters
    ----------
    own, bought : CarbonLedger
    sums : sequence of Span
        What the lines of each come to, kg a kilogram of quicklime.
    bars : sequence of Bar
        On the first of the sums.

    Returns
    -------
    Picture
    """
    drawn = Picture("Carbon dioxide of a kilogram of quicklime")
    for key, (name, colour, hatch) in CARBON.items():
        sign = -1.0 if key == "re_uptake" else 1.0
        lines = {place: sign * one.per_kilogram[key] for place, one in ((OWN, own), (BOUGHT, bought))}
        _stack(drawn, name, lines, colour, hatch, "kg")
    _sum(drawn, list(zip((OWN, BOUGHT), sums, strict=True)), "what it comes to", "kg")
    _tornado(drawn, bars, sums[0].middle, "sum of your own [kg a kg of quicklime]")
    return drawn.laid(barmode="relative", xaxis={"title": "kg a kg of quicklime; below zero, taken up again"})


def _stack(drawn, name: str, lines: dict[str, float], colour: str, hatch: str, unit: str) -> None:
    drawn.bars(
        name,
        list(lines.values()),
        list(lines),
        orientation="h",
        marker=looks.hatched(colour, hatch),
        hovertemplate=f"{name}: %{{x:.3g}} {unit}<extra></extra>",
    )


def _sum(drawn, sums: list[tuple[str, Span]], name: str, unit: str) -> None:
    drawn.marks(
        name,
        [one.middle for _, one in sums],
        [place for place, _ in sums],
        marker={"symbol": "diamond", "size": 13, "color": looks.PAPER, "line": {"width": 2.5, "color": looks.INK}},
        error_x=looks.whiskers(
            *([getattr(one, end) for _, one in sums] for end in ("middle", "low", "high")), color=looks.INK
        ),
        hovertemplate=f"{name}: %{{x:.3g}} {unit}<extra></extra>",
    )


def _tornado(drawn, bars: Sequence[Bar], middle: float, across: str) -> None:
    bars = [bar for bar in bars if bar.swing > 0]
    rows = max(len(bars), LEAST_ROWS)
    for end, colour, hatch in (("low", looks.AIR, ""), ("high", looks.FIRE, "/")):
        reached = [getattr(bar, f"at_{end}") for bar in bars]
        drawn.bars(
            f"what is named, at its {end} end",
            [answer - middle for answer in reached],
            list(range(len(bars))),
            base=[middle] * len(bars),
            orientation="h",
            width=0.5,
            marker=looks.hatched(colour, hatch),
            customdata=reached,
            hovertemplate=f"its {end} end: %{{customdata:.3g}}<extra></extra>",
            **BESIDE,
        )
    drawn.line(
        None, [middle, middle], [-0.6, rows - 0.4], looks.INK, "dot", 1.5, showlegend=False, hoverinfo="skip", **BESIDE
    )
    drawn.note(
        "What moves it most",
        0.0,
        0.5,
        xref="paper",
        yref="paper",
        xanchor="left",
        yanchor="bottom",
        font={"size": looks.FONT_SIZE + 3},
    )
    drawn.laid(
        height=600,
        bargap=0.3,
        legend=looks.BELOW,
        margin={"b": 140},
        yaxis={"domain": [0.74, 1.0], "categoryorder": "array", "categoryarray": [BOUGHT, OWN]},
        xaxis2={"anchor": "y2", "title": across},
        yaxis2={
            "domain": [0.0, 0.48],
            "anchor": "x2",
            "range": [rows - 0.4, -0.6],
            "tickvals": list(range(len(bars))),
            "ticktext": [bar.name for bar in bars],
        },
    )
