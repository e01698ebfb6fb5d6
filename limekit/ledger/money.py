"""What a burn costs, its lines added up, and whether bought lime would have been cheaper."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.ledger.bought import BoughtAs, oxide_in
from limekit.ledger.lines import CostLine
from limekit.ledger.ranges import Bar, carried, one_at_a_time
from limekit.units import HOUR, LITRES, CubicMetre, Kilogram, Money, Share, Unit

YIELD, HOURS = "lime and putty out of the kiln", "hours worked"


@dataclass(frozen=True)
class CostSheet:
    """Every cost line of a burn, with what the lime comes to.

    The spans are in `currency`: the burn, a kilogram of quicklime, a litre of usable putty. The
    bars say which line matters most to a litre, widest first.
    """

    lines: tuple[CostLine, ...]
    total: Span
    per_kilogram: Span
    per_litre: Span
    bars: tuple[Bar, ...]
    work: Annotated[Span, Unit("s")]
    quicklime: Kilogram
    putty_volume: CubicMetre
    yield_spread: Share
    currency: str
    basis: tuple[Ground, ...] = ()

    def __str__(self) -> str:
        label = f" {self.currency}".rstrip()
        return f"{self.total}{label} a burn, {self.per_litre}{label} a litre of putty"


@dataclass(frozen=True)
class BreakEven:
    """Own lime beside bought lime of the same CaO.

    Bought, the burn's lime would cost `bought`. `saved` is a burn's, with the kiln's share counted; below zero, bought
    lime is cheaper, as it is below `price` for the mass named. `burns` pay the kiln's materials back, infinitely many
    where none do. `hourly` is what an hour of work earns, once everything but work is paid; None where no hours are
    named.
    """

    bought: float
    saved: Span
    price: float
    burns: Span
    hourly: Span | None
    currency: str
    basis: tuple[Ground, ...] = ()


def _inputs(lines: Sequence[CostLine], yield_spread: float) -> dict[str, Span]:
    amounts = {line.name: line.amount for line in lines}
    return {**amounts, YIELD: Span(1.0, 1.0 - yield_spread, 1.0 + yield_spread)}


def _total(values: dict[str, float], leave_out: frozenset[str] = frozenset()) -> float:
    return math.fsum(value for name, value in values.items() if name not in {YIELD, HOURS} | leave_out)


@edge
def cost_sheet(
    lines: tuple[CostLine, ...],
    quicklime: Kilogram,
    putty_volume: CubicMetre,
    yield_spread: Share = 0.0,
    currency: str = "",
) -> CostSheet:
    """Add up what a burn costs.

    Parameters
    ----------
    lines : sequence of CostLine
        From `cost_line`, `work_line` and `kiln_line`, each with a name of its own.
    quicklime : Kilogram
        The CaO in the lime drawn.
    putty_volume : CubicMetre
        Of usable putty.
    yield_spread : Share
        How far both may come out otherwise, as a share.
    currency : str
        Any label; amounts are never converted.

    Returns
    -------
    CostSheet
        Ranges are carried through one line at a time, as root sums of squares, taking the lines
        as independent.

    Raises
    ------
    InputError
        If two lines share a name, or there is no lime to share the cost among.

    Notes
    -----
    total = Σ amounts; per_litre = total/(y putty_volume) and per_kilogram = total/(y quicklime), with y = 1 ±
    yield_spread. Each end lies √(Σ Δ²) from the middle, with the change Δ that each input makes
    alone.

    Examples
    --------
    >>> from limekit import cost_line, kiln_line
    >>> lines = (cost_line("wood", 120, 90, 180), kiln_line(outlay=800, burns=20))
    >>> print(cost_sheet(lines, quicklime="532 kg", putty_volume="1112 L", currency="EUR"))
    160 (130 to 220) EUR a burn, 0.144 (0.117 to 0.198) EUR a litre of putty
    """
    names = Counter([*(line.name for line in lines), YIELD, HOURS])
    if twice := [name for name, count in names.items() if count > 1]:
        wanted = f'a name of its own for each line; the sheet itself speaks of "{YIELD}" and of "{HOURS}"'
        raise InputError("cost lines", f'"{twice[0]}" twice', wanted, 'cost_line("more wood", 60)')
    if quicklime <= 0 or putty_volume <= 0:
        example = 'quicklime="532 kg", putty_volume="1112 L"'
        raise InputError("quicklime, putty_volume", "no lime", "what one burn gives", example)
    inputs = _inputs(lines, yield_spread)

    def a_litre(values: dict[str, float]) -> float:
        return _total(values) / (values[YIELD] * LITRES * putty_volume)

    return CostSheet(
        lines=tuple(lines),
        total=carried(_total, inputs),
        per_kilogram=carried(lambda values: _total(values) / (values[YIELD] * quicklime), inputs),
        per_litre=carried(a_litre, inputs),
        bars=one_at_a_time(a_litre, inputs),
        work=carried(_total, {line.name: line.work for line in lines}),
        quicklime=quicklime,
        putty_volume=putty_volume,
        yield_spread=yield_spread,
        currency=currency,
    )


@edge
def break_even(sheet: CostSheet, price: Money, per: Kilogram = 1.0, bought_as: BoughtAs = "quicklime") -> BreakEven:
    """Set a burn beside bought lime that holds as much CaO.

    Parameters
    ----------
    sheet : CostSheet
        From `cost_sheet`.
    price : Money
        Of bought lime, in the sheet's currency, brought to where you need it.
    per : Kilogram
        What that price buys: one bag, one kilogram, one tonne.
    bought_as : {"quicklime", "hydrate", "putty"}
        What the merchant sells.

    Notes
    -----
    bought = quicklime · price/(per · CaO in what is bought); saved = y bought − total, as in `cost_sheet`;
    price = total · per · CaO/quicklime; burns = outlay/(saved with the kiln left out); hourly = (saved with
    work left out)/hours.

    Examples
    --------
    >>> from limekit import cost_line, kiln_line, work_line
    >>> lines = (cost_line("wood", 120), kiln_line(outlay=800, burns=20), work_line("40 h"))
    >>> sheet = cost_sheet(lines, quicklime="532 kg", putty_volume="1112 L", currency="EUR")
    >>> beside = break_even(sheet, price=14, per="25 kg", bought_as="hydrate")
    >>> print(f"{beside.bought:.0f}; {beside.burns.middle:.1f} burns; {beside.hourly.middle:.2f} an hour")
    409; 2.8 burns; 6.23 an hour
    """
    oxide = oxide_in(bought_as)
    worth = price / per / oxide * sheet.quicklime
    inputs = _inputs(sheet.lines, sheet.yield_spread)
    outlay = math.fsum(line.outlay for line in sheet.lines)
    paid_once = frozenset(line.name for line in sheet.lines if line.outlay)
    worked = frozenset(line.name for line in sheet.lines if line.work.high)

    def saved(values: dict[str, float], leave_out: frozenset[str] = frozenset()) -> float:
        return worth * values[YIELD] - _total(values, leave_out)

    def an_hour(values: dict[str, float]) -> float:
        return saved(values, worked) / values[HOURS] * HOUR

    a_burn = carried(lambda values: saved(values, paid_once), inputs)
    return BreakEven(
        bought=worth,
        saved=carried(saved, inputs),
        price=sheet.total.middle / sheet.quicklime * oxide * per,
        burns=Span(*(outlay / end if end > 0 else math.inf for end in (a_burn.middle, a_burn.high, a_burn.low))),
        hourly=carried(an_hour, {**inputs, HOURS: sheet.work}) if sheet.work.low else None,
        currency=sheet.currency,
    )
