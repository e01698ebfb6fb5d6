"""Own lime beside bought lime, in money and in carbon, and under each what moves the answer most."""

from __future__ import annotations

from collections.abc import Sequence

from limekit.estimate import Span
from limekit.ledger.carbon import CarbonLedger
from limekit.ledger.money import BreakEven, CostSheet
from limekit.ledger.ranges import Bar
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, UNTOLD, Picture

OWN, BOUGHT = "your own", "bought"
LOWER, A_ROW = 0.4, 0.09  # of the height: the lower pane, and one row of it
CARBON = {
    "process": ("out of the stone", looks.STONE, "/"),
    "fossil": ("fossil fuel and lorry", looks.INK, ""),
    "biogenic": ("wood and charcoal", looks.WOOD, "."),
    "re_uptake": ("taken up again by the wall", looks.LIME, "x"),
}


def costs(sheet: CostSheet, beside: BreakEven) -> Picture:
    """Draw a burn's cost lines beside bought lime, and what each line's range does to a litre."""
    money = sheet.currency or "money"
    drawn = Picture(f"One burn beside the same lime bought, in {money}")
    lines = [(line.name, line.amount, "/") for line in sheet.lines]
    rows = [*lines, (f"<b>{OWN}, in all</b>", sheet.total, ""), (f"<b>{BOUGHT}</b>", Span(*[beside.bought] * 3), "")]
    drawn.named_rows([(name, amount.middle, "", looks.MONEY, hatch) for name, amount, hatch in rows])
    drawn["data"][-1]["error_x"] = looks.spanned([amount for _, amount, _ in rows])
    _tornado(drawn, sheet.bars, sheet.per_litre.middle, f"{money} a litre of usable putty", looks.MONEY)
    most = 1.05 * max(sheet.total.high, beside.bought)
    return drawn.laid(xaxis={"range": [0, most or 1.0]}, yaxis={"domain": [0.58, 1.0], "autorange": "reversed"})


def carbon(own: CarbonLedger, bought: CarbonLedger, sums: Sequence[Span], bars: Sequence[Bar]) -> Picture:
    """Draw the four lines of own and bought lime, and what moves the sum of one's own.

    `sums` are what the lines of each come to, kg a kilogram of quicklime; `bars` are on the first of them.
    """
    drawn = Picture("Carbon dioxide of a kilogram of quicklime")
    for key, (name, colour, hatch) in CARBON.items():
        sign = -1.0 if key == "re_uptake" else 1.0
        drawn.rows(
            name,
            [sign * one.per_kilogram[key] for one in (own, bought)],
            [OWN, BOUGHT],
            marker=looks.hatched(colour, hatch),
            hovertemplate=f"{name}: %{{x:.3g}} kg<extra></extra>",
        )
    drawn.marks(
        None,
        [one.middle for one in sums],
        [OWN, BOUGHT],
        showlegend=False,
        marker={"symbol": "diamond", "size": 13, "color": looks.PAPER, "line": {"width": 2.5, "color": looks.INK}},
        error_x=looks.spanned(sums),
        hovertemplate="what it comes to: %{x:.3g} kg<extra></extra>",
    )
    _tornado(drawn, bars, sums[0].middle, "sum of your own [kg a kg of quicklime]", looks.GAS)
    return drawn.laid(
        barmode="relative",
        xaxis={"title": "kg a kg of quicklime; ◇ what it comes to"},
        yaxis={"domain": [0.7, 1.0], "categoryorder": "array", "categoryarray": [BOUGHT, OWN]},
    )


def _tornado(drawn, bars: Sequence[Bar], middle: float, across: str, colour: str) -> None:
    bars = [bar for bar in bars if bar.swing > 0]
    rows = len(bars)
    for end, hatch in (("low", ""), ("high", "/")):
        reached = [getattr(bar, f"at_{end}") for bar in bars]
        drawn.rows(
            f"what is named, at its {end} end",
            [answer - middle for answer in reached],
            list(range(rows)),
            base=[middle] * rows,
            width=0.5,
            showlegend=False,
            marker=looks.hatched(colour, hatch),
            customdata=reached,
            hovertemplate=f"its {end} end: %{{customdata:.3g}}<extra></extra>",
            **BESIDE,
        )
    drawn.line(None, [middle, middle], [-0.6, rows - 0.4], looks.INK, "dot", 1.5, **UNTOLD, **BESIDE)
    drawn.note(
        "What moves it most: plain at its low end, hatched at its high",
        0.0,
        LOWER + 0.02,
        xref="paper",
        yref="paper",
        xanchor="left",
        yanchor="bottom",
        font={"size": looks.FONT_SIZE},
    )
    drawn.laid(
        height=580,
        bargap=0.3,
        xaxis2={"anchor": "y2", "title": across},
        yaxis2={
            "domain": [LOWER - min(LOWER, A_ROW * max(rows, 1)), LOWER],
            "anchor": "x2",
            "range": [rows - 0.4, -0.6],
            "tickvals": list(range(rows)),
            "ticktext": [bar.name for bar in bars],
        },
    )
