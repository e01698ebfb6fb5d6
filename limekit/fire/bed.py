"""What a charge of stones does to the air that passes through it."""

from __future__ import annotations

import numbers
from collections.abc import Mapping
from typing import Literal

import numpy as np

from limekit.edge import edge, take
from limekit.errors import InputError, told
from limekit.facts import fact
from limekit.units import MM, KilogramPerCubicMetre, Metre, MetrePerSecond, Pascal, PascalSecond, Share, Unit, floats

Laid = Literal["poured", "by hand", "with flues"]


@edge
def sauter_diameter(stone_sizes: Mapping, sphericity: Share = fact("sphericity")) -> Metre:
    """Return the one size of sphere that would hold the air back as a mixed charge does.

    Parameters
    ----------
    stone_sizes : mapping
        From size to how much there is of it, as in ``{"40 mm": 200, "80 mm": 600}``: kilograms
        or shares, in any one measure. A size that is a bare number is in metres.
    sphericity : Share
        How round the pieces are: 1 for balls, about 0.75 for broken stone.

    Returns
    -------
    Metre
        Small pieces count most: they bring the most surface.

    Raises
    ------
    InputError
        If a size is no length, an amount is negative, or there is no stone at all.

    Notes
    -----
    d = φ Σm / Σ(m/d_i), Sauter's mean times the sphericity φ. Mixed sizes also pack closer: lower
    `bed_porosity` for them.

    Examples
    --------
    >>> print(f"{sauter_diameter({'40 mm': 200, '80 mm': 600}):.0f~P}")
    48 mm
    """
    example = 'stone_sizes={"40 mm": 200, "80 mm": 600}'
    if not isinstance(stone_sizes, Mapping):
        raise InputError("stone_sizes", told(stone_sizes), "sizes, each with how much there is of it", example)
    sizes = [size if isinstance(size, float) else take(size, Unit("m"), "diameter") for size in stone_sizes]
    amounts = [floats(amount, "stone_sizes", example) for amount in stone_sizes.values()]
    if np.ndim(amounts) != 1 or not all(amount >= 0.0 for amount in amounts) or not 0.0 < sum(amounts) < np.inf:
        raise InputError("stone_sizes", told(stone_sizes), "amounts of 0 or more, and some stone", example)
    return sphericity * sum(amounts) / sum(amount / size for amount, size in zip(amounts, sizes, strict=True))


@edge
def porosity_with_fines(charge_fines: Share, bed_porosity: Share = fact("bed_porosity")) -> Share:
    """Return the gaps left in a charge once chips and crumbs have run into them.

    Parameters
    ----------
    charge_fines : Share
        Fines over the whole charge by mass: pieces small enough to lie in the gaps of the rest.
    bed_porosity : Share
        Gaps among the clean stones, as a share of the bed.

    Raises
    ------
    InputError
        If there are more fines than the gaps can hold.

    Notes
    -----
    ε_f = ε − (1 − ε) f/(1 − f): the stones keep their places and the fines fill what is between them
    (Furnas 1931, from memory). The gaps are full when the fines in them lie as loosely as the stones
    do, at f = ε/(1 + ε).

    Examples
    --------
    >>> print(f"{porosity_with_fines(charge_fines=0.1):.2f~P}")
    0.36
    """
    solid = 1.0 - bed_porosity
    most = bed_porosity / (1.0 + bed_porosity)
    if charge_fines > most:
        got = f"{100 * charge_fines:.0f} % of the charge, more than the gaps among the stones can hold"
        raise InputError("charge_fines", got, f"{100 * most:.0f} % at most: sieve the rest out", "charge_fines=0.05")
    return bed_porosity - solid * charge_fines / (1.0 - charge_fines)


@edge
def laid_porosity(laid: Laid, sauter_diameter: Metre, kiln_diameter: Metre) -> Share:
    """Return the gaps in a charge as it is laid in a kiln, between the flues where it has some.

    Parameters
    ----------
    laid : {"poured", "by hand", "with flues"}
        Thrown in as into the vessel in which gaps are measured; set stone by stone; or so round poles
        that burn out to flues.
    sauter_diameter : Metre
        Of the stone; see `sauter_diameter`.
    kiln_diameter : Metre
        Inside.

    Raises
    ------
    InputError
        If the stone is as wide as the kiln.

    Notes
    -----
    Laid by hand, ε = ε_∞ + a/(D/d + b)²: stones cannot close up to a wall, which tells in a kiln of few stones'
    width. a and b are those of spheres (Benyahia and O'Neill 2005, for D/d of 1.5 to 50), and ε_∞, far
    from any wall, is common practice for stone set by hand.

    Examples
    --------
    >>> print([f"{laid_porosity('by hand', '60 mm', across):.2f~P}" for across in ("0.7 m", "3 m")])
    ['0.49', '0.48']
    """
    if sauter_diameter >= kiln_diameter:
        got = f"{MM * sauter_diameter:.0f} mm in a kiln {kiln_diameter:.2f} m across"
        raise InputError("sauter_diameter", got, "stone narrower than the kiln", 'sauter_diameter="60 mm"')
    if laid == "poured":
        return fact("bed_porosity")
    by_the_wall = fact("wall_gaps") / (kiln_diameter / sauter_diameter + fact("wall_gaps_from")) ** 2
    return fact("bed_porosity", "by_hand") + by_the_wall


def flues_share(flues: int, flue_width: float, kiln_diameter: float) -> float:
    """Return the share of a kiln's section (metre) that round flues in its charge take; none may take it all."""
    if isinstance(flues, bool) or not isinstance(flues, numbers.Real) or flues < 0 or flues % 1:
        raise InputError("flues", told(flues), "a whole number, or 0 for none", "flues=3")
    taken = flues * (flue_width / kiln_diameter) ** 2
    if taken >= 1.0:
        held = f"{flues} of {MM * flue_width:.0f} mm in a kiln {kiln_diameter:.2f} m across"
        raise InputError("flues", held, "fewer or narrower, so that there is room for stone", "flues=3")
    return taken


def usual_flues(flue_width: float, kiln_diameter: float) -> int:
    """Return how many poles of a width are set in a charge, metre: by the share of the section that they take."""
    wanted = fact("laid_flue_share") * (kiln_diameter / flue_width) ** 2
    return max(round(wanted), int(fact("laid_flues_least")))


def flue_resistance(flue_width: float, bed_height: float) -> float:
    """Return the pressure lost in a flue through a charge (sizes in metre), over ρ v² of its own gas."""
    return (fact("laid_flue_ends") + fact("laid_flue_friction") * bed_height / flue_width) / 2.0


def bed_resistance(sauter_diameter: float, bed_porosity: float) -> tuple[float, float]:
    """Return Ergun's coefficients, A in 1/m² and B in 1/m, of a bed that takes A μ v + B ρ v² of pressure a metre."""
    stone, gaps = 1.0 - bed_porosity, bed_porosity**3
    viscous = fact("ergun_viscous") * stone**2 / (gaps * sauter_diameter**2)
    inertial = fact("ergun_inertial") * stone / (gaps * sauter_diameter)
    return viscous, inertial


@edge
def bed_pressure_drop(
    superficial_velocity: MetrePerSecond,
    fluid_density: KilogramPerCubicMetre,
    fluid_viscosity: PascalSecond,
    sauter_diameter: Metre,
    bed_height: Metre,
    bed_porosity: Share = fact("bed_porosity"),
) -> Pascal:
    """Return the pressure lost in a bed of stones.

    Parameters
    ----------
    superficial_velocity : MetrePerSecond
        Volume of gas a second over the whole section, as if there were no stones.
    fluid_density : KilogramPerCubicMetre
    fluid_viscosity : PascalSecond
    sauter_diameter : Metre
        See `sauter_diameter` for mixed and rough stone.
    bed_height : Metre
    bed_porosity : Share
        Gaps, as a share of the bed. It weighs by its third power: measure it with a bucket of
        stone filled up with water.

    Notes
    -----
    Ergun 1952: Δp/L = 150 μ (1 − ε)² v/(ε³ d²) + 1.75 ρ (1 − ε) v²/(ε³ d). Good to about 25 %
    for broken stone; near walls and in arches less stands in the way.

    Examples
    --------
    >>> print(f"{bed_pressure_drop('0.5 m/s', '0.28 kg/m^3', '4.9e-5 Pa*s', '50 mm', '1 m'):.1f~P}")
    25.9 Pa
    """
    viscous, inertial = bed_resistance(sauter_diameter, bed_porosity)
    per_metre = viscous * fluid_viscosity * superficial_velocity + inertial * fluid_density * superficial_velocity**2
    return bed_height * per_metre
