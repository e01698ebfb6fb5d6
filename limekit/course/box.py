"""A sum done by hand beside the kit's answer, so that a reader sees what the kit does and what it adds."""

from __future__ import annotations

from limekit.course.cards import say
from limekit.errors import InputError
from limekit.estimate import shown

DIGITS = 3


def beside(by_hand: float, kit, within: float, why: str) -> None:
    """Show a sum done by hand beside the kit's answer, how far they lie apart, and why.

    Parameters
    ----------
    by_hand : float
        In the unit of `kit`.
    kit : pint.Quantity or float
    within : float
        Share of the kit's answer within which a plain sum is to agree.
    why : str
        What the kit counts and the sum does not.

    Raises
    ------
    InputError
        If the kit's answer is nought, to which nothing lies near.
    """
    answer = float(getattr(kit, "magnitude", kit))
    if not answer:
        raise InputError("kit", "nought", "an answer to hold a sum against", "another number in the sum")
    apart = abs(by_hand / answer - 1.0)
    unit = getattr(kit, "units", "")
    by_hand = by_hand * unit if unit else by_hand
    far = f"{100 * apart:.0f} % apart" if apart >= 0.005 else "hardly apart"
    margin = f"{100 * within:.2g} %"
    agree = f"where so plain a sum may be out by {margin}"
    if apart > within:
        agree = f"and more than {margin} wants a reason"
    say(f"By hand **{shown(by_hand, DIGITS)}**, by the kit **{shown(kit, DIGITS)}**: {far}, {agree}. {why}")
