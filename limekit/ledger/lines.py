"""What one thing costs one burn: a price, hours of work, or a share of the kiln.

Money is a plain number. Its currency is a label, any text, named once on the
sheet and never converted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from limekit.edge import edge
from limekit.estimate import Span
from limekit.ledger.ranges import span
from limekit.units import HOUR, Count, Money, Second, Unit

NONE = Span(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class CostLine:
    """What one thing costs one burn, in the sheet's currency, with the hours that stand behind it, paid or not.

    The `outlay` is what was paid once, where the line is a share of it.
    """

    name: str
    amount: Span
    work: Annotated[Span, Unit("s")] = NONE
    outlay: Money = 0.0


@edge
def cost_line(name: str, amount: Money, amount_low: Money | None = None, amount_high: Money | None = None) -> CostLine:
    """Return one line of cost: stone, fuel, water, transport, tools, testing, sand.

    Parameters
    ----------
    name : str
        What it is for.
    amount : Money
        For one burn, in the sheet's currency.
    amount_low, amount_high : Money, optional
        Its range.

    Raises
    ------
    InputError
        If the range does not hold the amount.
    """
    return CostLine(name, span(name, amount, amount_low, amount_high))


@edge
def work_line(
    work: Second,
    wage: Money = 0.0,
    work_low: Second | None = None,
    work_high: Second | None = None,
    name: str = "work",
) -> CostLine:
    """Return the line of hours worked; they are counted even where nobody is paid.

    Parameters
    ----------
    work : Second
        Hours of all people together, for one burn.
    wage : Money
        For an hour, in the sheet's currency; may be zero.
    work_low, work_high : Second, optional
        The range of the hours.
    name : str
        What the work is.

    Raises
    ------
    InputError
        If the range does not hold the hours.

    Notes
    -----
    amount = wage · work.
    """
    worked = span(name, work, work_low, work_high)
    paid = Span(*(wage * time / HOUR for time in (worked.middle, worked.low, worked.high)))
    return CostLine(name, paid, work=worked)


@edge
def kiln_line(
    outlay: Money,
    burns: Count,
    burns_low: Count | None = None,
    burns_high: Count | None = None,
    name: str = "kiln materials",
) -> CostLine:
    """Return one burn's share of what was paid once for the kiln.

    Parameters
    ----------
    outlay : Money
        Bricks, iron, lining, in the sheet's currency.
    burns : Count
        How many burns they last.
    burns_low, burns_high : Count, optional
        The range of that.
    name : str
        What was paid for.

    Raises
    ------
    InputError
        If the range does not hold the number of burns.

    Notes
    -----
    amount = outlay/burns.
    """
    lasts = span(name, burns, burns_low, burns_high)
    return CostLine(name, Span(outlay / lasts.middle, outlay / lasts.high, outlay / lasts.low), outlay=outlay)
