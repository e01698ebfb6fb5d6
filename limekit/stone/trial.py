"""A trial burn as it was written down, and what its weights and its cores say of the share burnt."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from limekit import chemistry
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import Fact, fact
from limekit.limestone import USUAL_STONE, Stone
from limekit.units import GRAMS, MM, Kelvin, Kilogram, Metre, Second, Share

SHAPES = ("lump", "slab", "shell")
SLAKING = ("through", "partly", "not", "not tried")
ROUNDING = 1.0 + 1e-6  # by which one width may pass another that was written in another unit


@dataclass(frozen=True)
class TrialPiece:
    """One piece of a trial burn, in SI floats; None where nothing was written down.

    Parameters
    ----------
    name : str
    largest_size, middle_size, smallest_size : float
        Widths before burning; m.
    time_in_heat : float
        s.
    mass_before, mass_after : float
        kg.
    core_size : float
        Width of the unburnt core along the piece's largest width; m, 0 where there was none.
    gas_temperature : float
        Where a thermometer showed it; K.
    glow : str
        One of `limekit.stone.glow.COLOURS`.
    slaking : str
        How it took water, one of `SLAKING`.
    shape : str
        One of `SHAPES`.
    note : str
    """

    name: str
    largest_size: Metre
    time_in_heat: Second
    mass_before: Kilogram | None = None
    mass_after: Kilogram | None = None
    middle_size: Metre | None = None
    smallest_size: Metre | None = None
    core_size: Metre | None = None
    gas_temperature: Kelvin | None = None
    glow: str | None = None
    slaking: str | None = None
    shape: str | None = None
    note: str = ""

    @property
    def diameter(self) -> float:
        """Of the sphere with as much face to its volume as a box of the sizes known; m.

        A size not measured counts as the largest.
        """
        sizes = (self.largest_size, self.middle_size, self.smallest_size)
        return 3.0 / sum(1.0 / (size or self.largest_size) for size in sizes)

    @property
    def core(self) -> float | None:
        """The core's width, 0 also where none was measured but the piece slaked through; m."""
        return 0.0 if self.core_size is None and self.slaking == "through" else self.core_size


@dataclass(frozen=True)
class Trial:
    """The pieces of one trial burn and the stone they came from, in SI floats; `remarks` say what was assumed."""

    pieces: tuple[TrialPiece, ...]
    stone: Stone = USUAL_STONE
    remarks: tuple[str, ...] = ()

    def __str__(self) -> str:
        return "\n".join([f"trial burn of {len(self.pieces)} pieces", *(f"  {remark}" for remark in self.remarks)])


@dataclass(frozen=True)
class FoundConversion:
    """The share burnt as one way of measuring finds it, with the range its errors leave.

    By weight it is not cut off at 0 and 1: above 1, the stone lost more than its carbonate could.
    """

    conversion: Share
    conversion_low: Share
    conversion_high: Share
    basis: tuple[Ground, ...] = ()

    def __str__(self) -> str:
        middle, low, high = (
            f"{100 * float(share):.0f}" for share in (self.conversion, self.conversion_low, self.conversion_high)
        )
        return f"{middle} % ({low} to {high} %)"


def _with_errors(share: Callable[..., float], **inputs: tuple[float, float, float]) -> FoundConversion:
    """Work out a share and its range from inputs given as middle, low and high, their errors independent."""
    middles = {name: middle for name, (middle, _, _) in inputs.items()}
    found, down, up = share(**middles), 0.0, 0.0
    for name, (_, *ends) in inputs.items():
        changes = [share(**{**middles, name: end}) - found for end in ends]
        down, up = math.hypot(down, min(0.0, *changes)), math.hypot(up, max(0.0, *changes))
    return FoundConversion(found, found - down, found + up)


def _ends(value: float, error: float) -> tuple[float, float]:
    return (value.low, value.high) if isinstance(value, Fact) else (value - error, value + error)


@edge
def conversion_by_weight(
    mass_before: Kilogram,
    mass_after: Kilogram,
    calcium_carbonate: Share = fact("calcium_carbonate"),
    magnesium_carbonate: Share = 0.0,
    stone_moisture: Share = fact("stone_moisture"),
    balance_error: Kilogram = fact("balance_error"),
) -> FoundConversion:
    """Return the share of a piece's calcium carbonate that has burnt, from its two weights.

    Parameters
    ----------
    mass_before, mass_after : Kilogram
        The piece before the fire, and all of it after.
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone. Without an analysis the first is assumed, with a wide range.
    stone_moisture : Share
        Water as a share of `mass_before`; assumed air-dry where not given.
    balance_error : Kilogram
        Either way, on each weighing.

    Returns
    -------
    FoundConversion
        The range adds up, as independent errors do, those of both weighings, of the carbonate
        share and of the moisture.

    Raises
    ------
    InputError
        If the piece gained weight, or has too little calcium carbonate to reckon with.

    Notes
    -----
    ``mass_after = mass_before (1 − stone_moisture) (1 − loss of MgCO3 − conversion · loss of CaCO3)``:
    the magnesium carbonate is taken to have burnt wholly, since it does so first.

    Examples
    --------
    >>> print(conversion_by_weight("1200 g", "720 g", calcium_carbonate=0.95, stone_moisture=0.01))
    94 % (93 to 96 %)
    """
    if mass_after > mass_before + balance_error:
        got = f"{GRAMS * mass_after:.4g} g, more than the {GRAMS * mass_before:.4g} g before burning"
        wanted = "a piece that lost weight; lime left lying gains it back, so weigh it as soon as it is cool"
        raise InputError("mass_after (weight after burning)", got, wanted, 'mass_before="1200 g", mass_after="720 g"')
    if calcium_carbonate <= 2.0 * fact("carbonate_error"):
        wanted = "a stone with calcium carbonate in it"
        raise InputError("calcium_carbonate", f"{calcium_carbonate:.2g}", wanted, "0.95")
    chemistry.inert.plain(calcium_carbonate, magnesium_carbonate)

    of_calcium = chemistry.loss_on_ignition.plain(1.0)
    of_magnesium = chemistry.loss_on_ignition.plain(0.0, magnesium_carbonate)

    def share(before, after, calcium, water):
        return (1.0 - after / (before * (1.0 - water)) - of_magnesium) / (of_calcium * calcium)

    driest, wettest = _ends(stone_moisture, fact("moisture_error"))
    poorest, richest = _ends(calcium_carbonate, fact("carbonate_error"))
    return _with_errors(
        share,
        before=(mass_before, max(mass_before - balance_error, 0.5 * mass_before), mass_before + balance_error),
        after=(mass_after, max(mass_after - balance_error, 0.0), mass_after + balance_error),
        calcium=(calcium_carbonate, poorest, min(richest, 1.0 - magnesium_carbonate)),
        water=(stone_moisture, max(driest, 0.0), wettest),
    )


@edge
def conversion_by_core(
    largest_size: Metre,
    core_size: Metre,
    middle_size: Metre | None = None,
    smallest_size: Metre | None = None,
    ruler_error: Metre = fact("ruler_error"),
    core_error: Metre = fact("core_error"),
) -> FoundConversion:
    """Return the share of a piece that has burnt, from the size of its unburnt core.

    Parameters
    ----------
    largest_size : Metre
        The piece's largest width before burning.
    core_size : Metre
        The core's width along the same line; 0 where there is none.
    middle_size, smallest_size : Metre, optional
        The piece's other two widths. A piece known by its largest width alone is taken as round,
        and the range then reaches up to what a broken stone of the usual flatness would have burnt.
    ruler_error, core_error : Metre
        Either way, on each width of the stone and on the core's.

    Raises
    ------
    InputError
        If the core is larger than the piece or the widths are not in order.

    Notes
    -----
    A core with the piece's own proportions says conversion = 1 − (core_size/largest_size)³. Under a
    lime shell equally thick on every side it is thinner than that, and
    conversion = 1 − Π (width − largest_size + core_size)/width. Cores lie between: the middle is
    returned and the range holds both. The two agree for a round piece.

    Examples
    --------
    >>> print(conversion_by_core("80 mm", "30 mm"))
    95 % (94 to 98 %)
    """
    middle = middle_size or largest_size
    smallest = smallest_size or middle
    if smallest > middle * ROUNDING or middle > largest_size * ROUNDING:
        got = ", ".join(f"{MM * size:.4g} mm" for size in (largest_size, middle, smallest))
        wanted = "the largest, the middle and the smallest width, in this order"
        example = 'largest_size="80 mm", middle_size="60 mm", smallest_size="50 mm"'
        raise InputError("widths of the piece", got, wanted, example)
    if core_size > largest_size * ROUNDING:
        got = f"{MM * core_size:.4g} mm in a piece of {MM * largest_size:.4g} mm"
        example = 'largest_size="80 mm", core_size="30 mm"'
        raise InputError("core_size (largest width of the core)", got, "a core no larger than its piece", example)

    def share(largest, middle, smallest, core, evenness):
        alike = 1.0 - (core / largest) ** 3
        even = 1.0 - math.prod(max(width - largest + core, 0.0) / width for width in (largest, middle, smallest))
        return max(alike + evenness * (even - alike), 0.0)

    def width(size, guess, share_of_largest):
        if size is None:
            return guess, min(guess, share_of_largest * largest_size), guess
        return size, max(size - ruler_error, 0.5 * size), size + ruler_error

    found = _with_errors(
        share,
        largest=width(largest_size, None, 1.0),
        middle=width(middle_size, middle, fact("stone_middle_share")),
        smallest=width(smallest_size, smallest, fact("stone_thickness_share")),
        core=(core_size, max(core_size - core_error, 0.0), core_size + core_error),
        evenness=(0.5, 0.0, 1.0),
    )
    return FoundConversion(found.conversion, max(found.conversion_low, 0.0), min(found.conversion_high, 1.0))
